package diffusion_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

const testdata = "../../../testdata/measure"

// reference is testdata/measure/diffusion.json: Crank 1975 ch. 4, recomputed with
// mpmath at 40 digits and two series that agree.
type reference struct {
	HalfTime struct {
		Exact float64 `json:"exact_Dt_over_h2"`
	} `json:"half_time"`
	Fractions map[string]float64 `json:"Dt_over_h2_for_fraction"`
	Profile   []struct {
		F float64 `json:"Dt_over_h2"`
		Z float64 `json:"depth_over_h"`
		C float64 `json:"relative_concentration"`
	} `json:"profile"`
	Worked struct {
		D         float64            `json:"D_m2_per_s"`
		H         float64            `json:"thickness_m"`
		TwoDays   map[string]float64 `json:"two_sided_days_to"`
		OneDays   map[string]float64 `json:"one_sided_days_to"`
		TwoUptake map[string]float64 `json:"uptake_after_days_two_sided"`
		OneUptake map[string]float64 `json:"uptake_after_days_one_sided"`
	} `json:"worked_example"`
	Slope struct {
		H     float64 `json:"h_m"`
		Mm    float64 `json:"Mm_percent"`
		T1    float64 `json:"t1_s"`
		T2    float64 `json:"t2_s"`
		M1    float64 `json:"M1_percent"`
		M2    float64 `json:"M2_percent"`
		Slope float64 `json:"D_from_slope"`
	} `json:"slope_method"`
	Edge struct {
		Example struct {
			Apparent float64 `json:"D_apparent"`
			H        float64 `json:"h_mm"`
			L        float64 `json:"l_mm"`
			W        float64 `json:"w_mm"`
			D        float64 `json:"D"`
		} `json:"example"`
	} `json:"edge_correction"`
	Arrhenius struct {
		Example struct {
			D  float64 `json:"D_at_296_15K"`
			E  float64 `json:"Ea_J_per_mol"`
			D5 float64 `json:"D_at_278_15K"`
			D9 float64 `json:"D_at_323_15K"`
		} `json:"example"`
	} `json:"arrhenius"`
}

func load[T any](t testing.TB, name string) (v T) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(testdata, name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// near compares to a relative error; the reference is printed to 12 digits.
func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Max(math.Abs(want), 1e-300)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestUptakeAgreesWithTheSeriesAtFortyDigits(t *testing.T) {
	t.Parallel()
	f, err := os.Open(filepath.Join(testdata, "diffusion-uptake.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	// A sheet of 1 mm with D = 1e-12 m²/s reaches F = 1 after 1e6 s.
	for _, r := range rows[1:] {
		days := unit.Days(number(t, r[0]) * 1e6 / unit.SecondsPerDay)
		both, err := diffusion.Lost(1e-12, 1, days, diffusion.BothFaces)
		if err != nil {
			t.Fatal(err)
		}
		one, err := diffusion.Lost(1e-12, 1, days, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "both faces at F = "+r[0], both, number(t, r[1]), 1e-11)
		near(t, "one face at F = "+r[0], one, number(t, r[2]), 1e-11)
	}
	if len(rows) < 20 {
		t.Fatalf("only %d rows of reference values", len(rows))
	}
}

func TestProfileAgreesWithCrank(t *testing.T) {
	t.Parallel()
	for _, p := range load[reference](t, "diffusion.json").Profile {
		days := unit.Days(p.F * 1e6 / unit.SecondsPerDay)
		left, err := diffusion.Level(unit.Millimetres(p.Z), 1e-12, 1, days, diffusion.BothFaces)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(1-left-p.C) > 1e-12 {
			t.Errorf("F = %v, z = %v: got %.12f, want %.12f", p.F, p.Z, 1-left, p.C)
		}
	}
}

func TestWorkedExampleOfASixMillimetreWall(t *testing.T) {
	t.Parallel()
	w := load[reference](t, "diffusion.json").Worked
	d, h := unit.Diffusivity(w.D), unit.Millimetres(w.H*1000)
	for faces, c := range map[diffusion.Faces]struct{ days, uptake map[string]float64 }{
		diffusion.OneFace:   {w.OneDays, w.OneUptake},
		diffusion.BothFaces: {w.TwoDays, w.TwoUptake},
	} {
		for part, want := range c.days {
			got, err := diffusion.TimeToLose(number(t, part), d, h, faces)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "days to "+part, float64(got), want, 1e-11)
		}
		for days, want := range c.uptake {
			got, err := diffusion.Lost(d, h, unit.Days(number(t, days)), faces)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "uptake after "+days, got, want, 1e-11)
		}
	}
}

// The seam between the two exact forms must not show, or a curve drawn across it
// has a step.
func TestNoSeamBetweenShortAndLongTimes(t *testing.T) {
	t.Parallel()
	const sheet = 1.0
	at := func(f float64) (lost, level float64) {
		days := unit.Days(f * 1e6 / unit.SecondsPerDay)
		lost, err := diffusion.Lost(1e-12, sheet, days, diffusion.BothFaces)
		if err != nil {
			t.Fatal(err)
		}
		level, err = diffusion.Level(0.3, 1e-12, sheet, days, diffusion.BothFaces)
		if err != nil {
			t.Fatal(err)
		}
		return lost, level
	}
	l1, p1 := at(0.05 * (1 - 1e-13))
	l2, p2 := at(0.05 * (1 + 1e-13))
	if math.Abs(l2-l1) > 1e-12 || math.Abs(p2-p1) > 1e-12 {
		t.Errorf("a step at the seam: %g in the mean, %g in the profile", l2-l1, p2-p1)
	}
}

func TestSlabLosesMoreWithTimeAndLessWithThickness(t *testing.T) {
	t.Parallel()
	before := -1.0
	for i := range 400 {
		days := unit.Days(math.Pow(10, -3+float64(i)/60))
		got, err := diffusion.Lost(1e-12, 8, days, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		if got < before || got > 1 {
			t.Fatalf("lost %v after %v days, %v just before", got, days, before)
		}
		thicker, err := diffusion.Lost(1e-12, 9, days, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		if thicker > got {
			t.Fatalf("9 mm lost more (%v) than 8 mm (%v) after %v days", thicker, got, days)
		}
		before = got
	}
}

func TestTimeToLoseInvertsLost(t *testing.T) {
	t.Parallel()
	for _, part := range []float64{1e-9, 0.001, 0.02, 0.1, 0.35, 0.5, 0.9, 0.999} {
		days, err := diffusion.TimeToLose(part, 1e-12, 8, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		back, err := diffusion.Lost(1e-12, 8, days, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "there and back", back, part, 1e-10)
	}
}

func TestWhatCannotBeUsedIsNamed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		d    unit.Diffusivity
		h    unit.Millimetres
		t    unit.Days
		f    diffusion.Faces
		want string
	}{
		"a diffusivity that is no number": {unit.Diffusivity(math.NaN()), 8, 1, 1, "d"},
		"a diffusivity in mm²/s":          {1e-3, 8, 1, 1, "d"},
		"no thickness":                    {1e-12, 0, 1, 1, "thickness"},
		"a time before the start":         {1e-12, 8, -1, 1, "t"},
		"an endless time":                 {1e-12, 8, unit.Days(math.Inf(1)), 1, "t"},
		"no faces":                        {1e-12, 8, 1, 0, "faces"},
	} {
		_, err := diffusion.Lost(c.d, c.h, c.t, c.f)
		var arg *measure.ArgumentError
		if !errors.As(err, &arg) || arg.Argument != c.want {
			t.Errorf("%s: got %v, want an error that names %s", name, err, c.want)
		}
	}
}
