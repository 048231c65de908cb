package diffusion_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// tables is testdata/measure/drying-depth.json, the tables of the trade notes.
type tables struct {
	Days []unit.Days `json:"days"`
	Rows []struct {
		D  unit.Diffusivity `json:"d_m2_per_s"`
		MM []json.Number    `json:"mm"`
	} `json:"rows"`
	TimeToLose struct {
		Rows []struct {
			MM         unit.Millimetres `json:"mm"`
			Half       json.Number      `json:"half"`
			NineTenths json.Number      `json:"nine_tenths"`
		} `json:"rows"`
	} `json:"time_to_lose"`
	Arrhenius struct {
		Rows []struct {
			C     unit.Celsius `json:"c"`
			Ratio json.Number  `json:"ratio"`
		} `json:"rows"`
	} `json:"arrhenius_40_kj"`
	Sentence struct {
		Days unit.Days    `json:"days"`
		C    unit.Celsius `json:"c"`
		Low  json.Number  `json:"low_mm"`
		High json.Number  `json:"high_mm"`
	} `json:"sentence"`
}

// printed compares to a number as it was printed: to half of its last digit.
func printed(t *testing.T, what string, got float64, want json.Number) {
	t.Helper()
	digits := 0
	if _, after, found := strings.Cut(want.String(), "."); found {
		digits = len(after)
	}
	if math.Abs(got-number(t, want.String())) > 0.5001*math.Pow10(-digits) {
		t.Errorf("%s: got %.4g, printed %s", what, got, want)
	}
}

func TestDryingDepthTable(t *testing.T) {
	t.Parallel()
	for _, r := range load[tables](t, "drying-depth.json").Rows {
		for i, days := range load[tables](t, "drying-depth.json").Days {
			d := diffusion.Range{Low: r.D, Typical: r.D, High: r.D}
			got, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: days, At: 20}}, 0, d)
			if err != nil {
				t.Fatal(err)
			}
			printed(t, fmt.Sprintf("D = %g after %.3g days", float64(r.D), float64(days)), got.Value, r.MM[i])
		}
	}
}

func TestTimeToLoseTable(t *testing.T) {
	t.Parallel()
	for _, r := range load[tables](t, "drying-depth.json").TimeToLose.Rows {
		for part, want := range map[float64]json.Number{0.5: r.Half, 0.9: r.NineTenths} {
			got, err := diffusion.TimeToLose(part, 1e-12, r.MM, diffusion.OneFace)
			if err != nil {
				t.Fatal(err)
			}
			printed(t, fmt.Sprintf("%g mm to lose %g", float64(r.MM), part), float64(got), want)
		}
	}
}

func TestArrheniusTable(t *testing.T) {
	t.Parallel()
	for _, r := range load[tables](t, "drying-depth.json").Arrhenius.Rows {
		got, err := diffusion.Arrhenius(r.C, 20, 40e3)
		if err != nil {
			t.Fatal(err)
		}
		printed(t, fmt.Sprintf("%g °C", float64(r.C)), got, r.Ratio)
	}
	ref := load[reference](t, "diffusion.json").Arrhenius.Example
	for c, want := range map[unit.Celsius]float64{5: ref.D5, 50: ref.D9} {
		got, err := diffusion.Arrhenius(c, 23, ref.E)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("D at %g °C", float64(c)), ref.D*got, want, 1e-11)
	}
}

func TestDryingDepthOfTheDesignsSentence(t *testing.T) {
	t.Parallel()
	s := load[tables](t, "drying-depth.json").Sentence
	e, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: s.Days, At: s.C}}, 0, diffusion.PolyesterLaminate())
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "low", e.Lower, s.Low)
	printed(t, "high", e.Upper, s.High)
	if e.Level != 0 {
		t.Errorf("a band over a guessed range claims a coverage of %v", e.Level)
	}
}

func TestDryingDepthStopsAtTheInnerFace(t *testing.T) {
	t.Parallel()
	course := []diffusion.Stretch{{Days: 400, At: 20}}
	e, err := diffusion.DryingDepth(course, 4, diffusion.PolyesterLaminate())
	if err != nil {
		t.Fatal(err)
	}
	if e.Upper != 4 || !e.Has("through") {
		t.Errorf("got %v mm of a 4 mm wall, notes %v", e.Upper, e.Notes)
	}
	open, err := diffusion.DryingDepth(course, 0, diffusion.PolyesterLaminate())
	if err != nil {
		t.Fatal(err)
	}
	if open.Lower > e.Lower+1e-9 {
		t.Errorf("a sealed face slowed drying outside it: %v mm against %v in a thick wall", e.Lower, open.Lower)
	}
}

func TestWarmerAndLongerNeverDryLess(t *testing.T) {
	t.Parallel()
	depth := func(days unit.Days, at unit.Celsius) float64 {
		e, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: days, At: at}}, 8, diffusion.PolyesterLaminate())
		if err != nil {
			t.Fatal(err)
		}
		if e.Lower > e.Value || e.Value > e.Upper {
			t.Fatalf("band out of order: %+v", e)
		}
		return e.Value
	}
	for days := unit.Days(0); days < 700; days += 7 {
		for at := unit.Celsius(-5); at < 45; at += 5 {
			if depth(days, at) > depth(days+7, at) || depth(days, at) > depth(days, at+5) {
				t.Fatalf("%v days at %v °C", days, at)
			}
		}
	}
}

func TestOrderOfStretchesDoesNotMatter(t *testing.T) {
	t.Parallel()
	a, err := diffusion.EquivalentDays([]diffusion.Stretch{{3, 5}, {10, 18}, {2, 30}}, 40e3)
	if err != nil {
		t.Fatal(err)
	}
	b, err := diffusion.EquivalentDays([]diffusion.Stretch{{2, 30}, {3, 5}, {10, 18}}, 40e3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "equivalent days", float64(a), float64(b), 1e-14)
}

func FuzzDryingDepth(f *testing.F) {
	f.Add(21.0, 11.0, 8.0, 1e-12)
	f.Add(0.0, -40.0, 0.0, 3e-12)
	f.Fuzz(func(t *testing.T, days, at, wall, d float64) {
		r := diffusion.Range{Low: unit.Diffusivity(d), Typical: unit.Diffusivity(d), High: unit.Diffusivity(d), ActivationEnergy: 40e3}
		e, err := diffusion.DryingDepth([]diffusion.Stretch{{unit.Days(days), unit.Celsius(at)}}, unit.Millimetres(wall), r)
		if err == nil && (math.IsNaN(e.Value) || math.IsInf(e.Value, 0) || e.Value < 0) {
			t.Errorf("%v mm after %v days at %v °C in %v mm", e.Value, days, at, wall)
		}
	})
}

func ExampleDryingDepth() {
	e, err := diffusion.DryingDepth(
		[]diffusion.Stretch{{Days: 21, At: 11}}, 0, diffusion.PolyesterLaminate(),
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("about the outer %.1f to %.1f mm: %s\n", e.Lower, e.Upper, e.Assumes[0])
	// Output: about the outer 0.5 to 1.7 mm: bare laminate; less under a coating
}
