package timber_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/timber"
	"boottop.example/practice/domain/measure/unit"
)

func equilibrium(t testing.TB, c unit.Celsius, h unit.Humidity) float64 {
	t.Helper()
	e, err := timber.Equilibrium(c, h)
	if err != nil {
		t.Fatal(err)
	}
	return e.Value
}

// testdata/measure/wood-equilibrium.json: Wood Handbook eq. 4-5, the Celsius and the
// Fahrenheit form, whose coefficients were rounded independently.
func TestEquilibriumAgreesWithBothForms(t *testing.T) {
	t.Parallel()
	var ref struct {
		Grid []struct {
			T float64 `json:"temperature_c"`
			H float64 `json:"rh_percent"`
			C float64 `json:"emc_percent_celsius_form"`
			F float64 `json:"emc_percent_fahrenheit_form"`
		} `json:"grid"`
	}
	b, err := os.ReadFile("../../../testdata/measure/wood-equilibrium.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &ref); err != nil {
		t.Fatal(err)
	}
	if len(ref.Grid) < 50 {
		t.Fatalf("only %d reference values", len(ref.Grid))
	}
	for _, r := range ref.Grid {
		got := equilibrium(t, unit.Celsius(r.T), unit.Humidity(r.H))
		if math.Abs(got-r.C) > 1e-10 || math.Abs(got-r.F) > 0.02 {
			t.Errorf("%v °C, %v %%: %.6f, Celsius form %.6f, Fahrenheit form %.6f", r.T, r.H, got, r.C, r.F)
		}
	}
}

// Wood Handbook table 4-2, from memory; every entry was found within 0.066 of the
// equation, so this stands beside the test above and not alone.
func TestEquilibriumAgreesWithTheHandbookTable(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../../testdata/measure/wood-handbook-table-4-2.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for _, r := range rows[1:] {
		c := (number(r[0]) - 32) / 1.8
		for i, cell := range r[1:] {
			got := equilibrium(t, unit.Celsius(c), unit.Humidity(number(rows[0][i+1])))
			if math.Abs(got-number(cell)) > 0.066 {
				t.Errorf("%s °F, %s %%: %.3f, table %s", r[0], rows[0][i+1], got, cell)
			}
		}
	}
}

func TestDamperAirNeverDriesWood(t *testing.T) {
	t.Parallel()
	for c := unit.Celsius(-1); c <= 60; c++ {
		last := -1.0
		for h := unit.Humidity(0); h <= 98; h++ {
			m := equilibrium(t, c, h)
			if m <= last || m > 30 {
				t.Fatalf("%v °C, %v %%: %v after %v", c, h, m, last)
			}
			last = m
		}
	}
}

func TestReadingsAreJudgedAndNeverCorrected(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		p     timber.Pins
		want  timber.Band
		notes []string
	}{
		"seasoned joinery":      {timber.Pins{Reading: 12, At: 20, CalibratedAt: 20, Corrected: true}, timber.BelowDecay, nil},
		"a cold damp bulkhead":  {timber.Pins{Reading: 23, At: 6, CalibratedAt: 20}, timber.Possible, []string{"reads-low", "species", "cold"}},
		"a soaked salt keelson": {timber.Pins{Reading: 45, At: 18, CalibratedAt: 20, Salty: true, Corrected: true}, timber.FreeWater, []string{"above-fibre-saturation", "salt"}},
		"a hot deck":            {timber.Pins{Reading: 4, At: 44, CalibratedAt: 20}, timber.BelowDecay, []string{"below-scale", "reads-high", "species", "hot"}},
	} {
		band, notes, err := timber.Judge(c.p)
		if err != nil {
			t.Fatal(err)
		}
		var codes []string
		for _, n := range notes {
			codes = append(codes, n.Code)
		}
		if band != c.want || !slices.Equal(codes, c.notes) {
			t.Errorf("%s: %q with %v, want %q with %v", name, band, codes, c.want, c.notes)
		}
	}
}

func TestWhatIsNoWoodIsNamed(t *testing.T) {
	t.Parallel()
	for want, call := range map[string]func() error{
		"t":         func() error { _, err := timber.Equilibrium(90, 50); return err },
		"h":         func() error { _, err := timber.Equilibrium(20, 99.5); return err },
		"p.Reading": func() error { _, _, err := timber.Judge(timber.Pins{Reading: 300}); return err },
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}

func FuzzTimber(f *testing.F) {
	f.Add(20.0, 65.0)
	f.Fuzz(func(t *testing.T, c, h float64) {
		if e, err := timber.Equilibrium(unit.Celsius(c), unit.Humidity(h)); err == nil && !(e.Value >= 0 && e.Value < 40) {
			t.Errorf("%v °C, %v %%: %v", c, h, e.Value)
		}
		_, _, _ = timber.Judge(timber.Pins{Reading: timber.Percent(c), At: unit.Celsius(h)})
	})
}

func ExampleEquilibrium() {
	e, err := timber.Equilibrium(15, 80)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("wood comes to about %.0f %% in air of 15 °C and 80 %%\n", e.Value)
	// Output: wood comes to about 16 % in air of 15 °C and 80 %
}

func ExampleJudge() {
	band, notes, err := timber.Judge(timber.Pins{Reading: 24, At: 8, CalibratedAt: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s; %s\n", band, notes[0].Text)
	// Output: decay can run; the wood is colder than the scale was made for, so it reads low: about a point for each 10 °C near 12 to 15 %
}
