package air_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/unit"
)

const testdata = "../../../testdata/measure"

// reference is testdata/measure/psychrometrics.json; each part names its source.
type reference struct {
	Check struct {
		Ashrae map[string]float64 `json:"ashrae_2017_table_3_pa"`
		Ratio  map[string]float64 `json:"ashrae_2017_table_2_saturation_humidity_ratio_101325"`
	} `json:"check_values"`
	Table []struct {
		T        float64  `json:"t_c"`
		Sonntag  float64  `json:"sonntag_water_pa"`
		HW       float64  `json:"hyland_wexler_ashrae_pa"`
		WP       *float64 `json:"wagner_pruss_1993_pa"`
		Ratio    *float64 `json:"sat_humidity_ratio_hw_101325_kg_kg"`
		Absolute float64  `json:"sat_absolute_humidity_ideal_gas_aerk_g_m3"`
		IceAERK  *float64 `json:"aerk_ice_pa"`
	} `json:"saturation_table"`
	WetBulb struct {
		Cases []struct {
			Dry      float64 `json:"dry_c"`
			Wet      float64 `json:"wet_c"`
			RH       float64 `json:"rh"`
			Pressure float64 `json:"pressure_pa"`
			Ratio    float64 `json:"humidity_ratio"`
		} `json:"cases"`
	} `json:"wet_bulb"`
	Water struct {
		Values map[string]float64 `json:"values"`
	} `json:"maximum_water_content_published"`
	Rule struct {
		Computed []struct {
			Case    string  `json:"case"`
			Air     float64 `json:"air_c"`
			RH      float64 `json:"rh_percent"`
			Surface float64 `json:"surface_c"`
			Dew     float64 `json:"dew_point_c"`
			Margin  float64 `json:"margin_c"`
			AtLeast bool    `json:"margin_at_least_3"`
		} `json:"computed_cases"`
	} `json:"three_degree_rule"`
}

func load(t testing.TB) (r reference) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(testdata, "psychrometrics.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func rows(t testing.TB, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(testdata, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func relative(got, want float64) float64 { return math.Abs(got/want - 1) }

func TestDewPointAgreesWithTheGrid(t *testing.T) {
	t.Parallel()
	for _, r := range rows(t, "dew-point-grid.csv")[1:] {
		temp, rh := unit.Celsius(number(t, r[0])), unit.Humidity(number(t, r[1]))
		got := float64(must[unit.Celsius](t)(air.DewPoint(temp, rh)))
		if math.Abs(got-number(t, r[3])) > 1e-6 {
			t.Errorf("%s °C, %s %%: %.6f, Sonntag %s", r[0], r[1], got, r[3])
		}
		if math.Abs(got-number(t, r[2])) > 0.021 {
			t.Errorf("%s °C, %s %%: %.6f, Alduchov and Eskridge %s", r[0], r[1], got, r[2])
		}
		g := must[float64](t)(air.Absolute(temp, rh))
		if relative(g, number(t, r[5])) > 1e-3 {
			t.Errorf("%s °C, %s %%: %.5f g/m³, grid %s", r[0], r[1], g, r[5])
		}
	}
}

// Worked checks of the trade notes, section 4: 20/60, 10/85, 15/70.
func TestDewPointChecksOfTheTrade(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ t, h, want float64 }{{20, 60, 12.0}, {10, 85, 7.6}, {15, 70, 9.6}} {
		got := must[unit.Celsius](t)(air.DewPoint(unit.Celsius(c.t), unit.Humidity(c.h)))
		if math.Abs(float64(got)-c.want) > 0.05 {
			t.Errorf("%v °C and %v %%: %.3f, want %.1f", c.t, c.h, float64(got), c.want)
		}
	}
}

// A printed building-trade table, 290 entries, frost points below zero. It is
// rounded in places by up to 0.35 °C and misprints 30 °C, 65 %.
func TestDewPointAgreesWithAPrintedTable(t *testing.T) {
	t.Parallel()
	table := rows(t, "dew-point-published-table.csv")
	var n, close int
	for _, r := range table[1:] {
		for i, cell := range r[1:] {
			if cell == "" || (r[0] == "30" && table[0][i+1] == "65") {
				continue
			}
			temp, rh := unit.Celsius(number(t, r[0])), unit.Humidity(number(t, table[0][i+1]))
			got := must[unit.Celsius](t)(air.DewPoint(temp, rh))
			if got < 0 {
				got = must[unit.Celsius](t)(air.FrostPoint(temp, rh))
			}
			off := math.Abs(float64(got) - number(t, cell))
			if off > 0.36 {
				t.Errorf("%s °C, %s %%: %.2f, printed %s", r[0], table[0][i+1], float64(got), cell)
			}
			if n++; off <= 0.1501 {
				close++
			}
		}
	}
	if n != 289 || float64(close)/float64(n) < 0.97 {
		t.Errorf("%d of %d entries within 0.15 °C", close, n)
	}
}

func TestSaturationAgreesWithPublishedValues(t *testing.T) {
	t.Parallel()
	ref := load(t)
	for _, r := range ref.Table {
		if r.T > 80 {
			continue
		}
		temp := unit.Celsius(r.T)
		if got := must[unit.Pascals](t)(air.OverWater(temp)); relative(float64(got), r.Sonntag) > 1e-12 {
			t.Errorf("Sonntag at %v °C: %v, want %v", r.T, got, r.Sonntag)
		}
		got := float64(must[unit.Pascals](t)(air.Saturation(temp)))
		if relative(got, r.HW) > 1e-12 {
			t.Errorf("Hyland and Wexler at %v °C: %v, want %v", r.T, got, r.HW)
		}
		if r.WP != nil && relative(got, *r.WP) > 4e-4 { // an independent equation
			t.Errorf("Hyland and Wexler at %v °C: %v, Wagner and Pruss %v", r.T, got, *r.WP)
		}
		if r.Ratio != nil {
			if w := must[float64](t)(air.Ratio(temp, 100, air.Standard)); relative(w, *r.Ratio) > 1e-12 {
				t.Errorf("ratio at %v °C: %v, want %v", r.T, w, *r.Ratio)
			}
		}
		if r.IceAERK != nil && r.T <= 0.01 {
			ice := float64(must[unit.Pascals](t)(air.OverIce(temp)))
			if relative(ice, r.HW) > 1e-3 || relative(ice, *r.IceAERK) > 1.5e-3 {
				t.Errorf("over ice at %v °C: %v, Hyland and Wexler %v", r.T, ice, r.HW)
			}
		}
	}
	for c, want := range ref.Check.Ashrae { // ASHRAE Fundamentals 2017, ch. 1 table 3
		temp := unit.Celsius(number(t, c))
		if temp < -45 || temp > 80 {
			continue
		}
		if got := must[unit.Pascals](t)(air.Saturation(temp)); relative(float64(got), want) > 3e-4 {
			t.Errorf("ASHRAE at %s °C: %v, table %v", c, got, want)
		}
	}
	for c, want := range ref.Check.Ratio { // table 2 carries an enhancement factor of up to 1 %
		got := must[float64](t)(air.Ratio(unit.Celsius(number(t, c)), 100, air.Standard))
		if r := got / want; r > 1 || r < 0.99 {
			t.Errorf("ASHRAE ratio at %s °C: %v, table %v", c, got, want)
		}
	}
	for c, want := range ref.Water.Values { // a paint maker's sheet, to one decimal
		temp := unit.Celsius(number(t, c))
		if got := must[float64](t)(air.Absolute(temp, 100)); math.Abs(got-want) > 0.6 || (temp < 35 && math.Abs(got-want) > 0.16) {
			t.Errorf("%s °C holds %.2f g/m³, sheet %v", c, got, want)
		}
	}
}

func TestWetBulbAgreesWithAnIndependentSheet(t *testing.T) {
	t.Parallel()
	for _, c := range load(t).WetBulb.Cases {
		p := unit.Pascals(c.Pressure)
		if c.RH > 0 {
			got := must[unit.Celsius](t)(air.WetBulb(unit.Celsius(c.Dry), unit.Humidity(100*c.RH), p))
			if math.Abs(float64(got)-c.Wet) > 0.001 {
				t.Errorf("wet bulb %.5f, want %.5f", float64(got), c.Wet)
			}
			continue
		}
		if got := must[float64](t)(air.RatioFromWetBulb(unit.Celsius(c.Dry), unit.Celsius(c.Wet), p)); relative(got, c.Ratio) > 3e-4 {
			t.Errorf("ratio %.8f, want %.8f", got, c.Ratio)
		}
	}
}

// The trade notes: air of 10 °C and 80 % heated without adding water has 42 % at
// 20 °C, 23 % at 30 °C, 13 % at 40 °C.
func TestHeatingDriesTheAir(t *testing.T) {
	t.Parallel()
	for temp, want := range map[unit.Celsius]float64{20: 42, 30: 23, 40: 13} {
		if got := must[unit.Humidity](t)(air.AtSurface(10, 80, temp)); math.Abs(float64(got)-want) > 0.5 {
			t.Errorf("at %v °C: %.2f %%, want %v", temp, float64(got), want)
		}
	}
}

func TestMarginCases(t *testing.T) {
	t.Parallel()
	for _, c := range load(t).Rule.Computed {
		e := must[measure.Estimate](t)(air.Margin(unit.Celsius(c.Air), unit.Humidity(c.RH), unit.Celsius(c.Surface), air.Sensors{}))
		if math.Abs(e.Value-c.Margin) > 0.01 { // the cases use other coefficients
			t.Errorf("%s: margin %.4f, want %.4f", c.Case, e.Value, c.Margin)
		}
		if (air.Compare(e, air.LeastMargin) == air.Met) != c.AtLeast {
			t.Errorf("%s: %s", c.Case, air.Compare(e, air.LeastMargin))
		}
	}
}

func TestMarginBoundsAreTheWorstTheSensorsHide(t *testing.T) {
	t.Parallel()
	s := air.HandheldSensors()
	for temp := unit.Celsius(-5); temp <= 35; temp += 5 {
		for rh := unit.Humidity(20); rh <= 100; rh += 10 {
			e := must[measure.Estimate](t)(air.Margin(temp, rh, temp-2, s))
			for i := range 27 {
				step := func(div int) float64 { return float64(i/div%3) - 1 }
				a := temp + unit.Celsius(step(1))*s.Air
				h := min(100, rh+unit.Humidity(step(3))*s.Humidity)
				b := temp - 2 + unit.Celsius(step(9))*s.Surface
				got := must[measure.Estimate](t)(air.Margin(a, h, b, air.Sensors{})).Value
				if got < e.Lower-1e-9 || got > e.Upper+1e-9 {
					t.Fatalf("%v °C, %v %%: margin %.3f outside [%.3f, %.3f]", temp, rh, got, e.Lower, e.Upper)
				}
			}
		}
	}
}

func TestSensorsCannotTellNearTheLimit(t *testing.T) {
	t.Parallel()
	e := must[measure.Estimate](t)(air.Margin(20, 70, 17.4, air.HandheldSensors()))
	if got := air.Compare(e, air.LeastMargin); got != air.CannotTell {
		t.Errorf("a margin of %.2f with hand sensors is %q", e.Value, got)
	}
	wet := must[measure.Estimate](t)(air.Margin(20, 95, 15, air.Sensors{}))
	if !wet.Has("condensing") {
		t.Errorf("no note of condensation at a margin of %.2f", wet.Value)
	}
}

func TestDewPointRisesWithHumidityAndMeetsTheAir(t *testing.T) {
	t.Parallel()
	for temp := unit.Celsius(-40); temp <= 80; temp += 4 {
		last := unit.Celsius(-200)
		for h := unit.Humidity(1); h <= 100; h++ {
			d := must[unit.Celsius](t)(air.DewPoint(temp, h))
			if d <= last || d > temp+1e-9 {
				t.Fatalf("%v °C, %v %%: dew point %v after %v", temp, h, d, last)
			}
			last = d
		}
		if math.Abs(float64(last-temp)) > 1e-9 {
			t.Errorf("saturated air of %v °C has its dew point at %v", temp, last)
		}
	}
}

func TestWhatIsNoAirIsNamed(t *testing.T) {
	t.Parallel()
	for want, call := range map[string]func() error{
		"t":       func() error { _, err := air.DewPoint(unit.Celsius(math.NaN()), 50); return err },
		"h":       func() error { _, err := air.DewPoint(20, 0); return err },
		"surface": func() error { _, err := air.Margin(20, 50, 900, air.Sensors{}); return err },
		"s.Air":   func() error { _, err := air.Margin(20, 50, 15, air.Sensors{Air: -1}); return err },
		"wet":     func() error { _, err := air.RatioFromWetBulb(20, 21, air.Standard); return err },
		"p":       func() error { _, err := air.WetBulb(20, 50, 1013); return err },
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}

func FuzzAir(f *testing.F) {
	f.Add(20.0, 60.0, 15.0, 101325.0)
	f.Add(-45.0, 0.1, 80.0, 50000.0)
	f.Add(80.0, 100.0, -45.0, 50000.0)
	f.Fuzz(func(t *testing.T, temp, rh, surface, p float64) {
		finite := func(what string, x float64, err error) {
			if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("%s is %v", what, x)
			}
		}
		a, h, s := unit.Celsius(temp), unit.Humidity(rh), unit.Celsius(surface)
		d, err := air.DewPoint(a, h)
		finite("dew point", float64(d), err)
		d, err = air.FrostPoint(a, h)
		finite("frost point", float64(d), err)
		d, err = air.WetBulb(a, h, unit.Pascals(p))
		finite("wet bulb", float64(d), err)
		r, err := air.RatioFromWetBulb(a, s, unit.Pascals(p))
		finite("ratio", r, err)
		x, err := air.AtSurface(a, h, s)
		finite("humidity", float64(x), err)
		m, err := air.Margin(a, h, s, air.HandheldSensors())
		finite("margin", m.Value+m.Lower+m.Upper, err)
	})
}

func ExampleMargin() {
	e, err := air.Margin(15, 75, 12, air.HandheldSensors())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f °C above the dew point (%.1f to %.1f): 3 °C %s\n",
		e.Value, e.Lower, e.Upper, air.Compare(e, air.LeastMargin))
	// Output: 1.4 °C above the dew point (-0.7 to 3.5): 3 °C cannot tell
}

func BenchmarkWetBulb(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := air.WetBulb(17, 63, air.Standard); err != nil {
			b.Fatal(err)
		}
	}
}
