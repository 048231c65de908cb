package coverage_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
)

// figures is testdata/measure/coverage.json, the figures of the trade notes.
type figures struct {
	Grid []struct {
		Spacing unit.Millimetres `json:"spacing_mm"`
		Flaw    unit.Millimetres `json:"flaw_mm"`
		Chance  json.Number      `json:"chance"`
	} `json:"square_grid"`
	Smallest struct {
		Nine    json.Number `json:"nine_in_ten"`
		Certain json.Number `json:"certain"`
	} `json:"smallest_over_spacing"`
	Zero []struct {
		Area  float64     `json:"area_m2"`
		Upper json.Number `json:"upper_95_per_m2"`
	} `json:"zero_count"`
	Equal []struct {
		First  int         `json:"first"`
		Second int         `json:"second"`
		P      json.Number `json:"p"`
	} `json:"equal_areas"`
}

func load(t testing.TB) (f figures) {
	t.Helper()
	b, err := os.ReadFile("../../../testdata/measure/coverage.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// printed compares to half of the last digit printed.
func printed(t *testing.T, what string, got float64, want json.Number) {
	t.Helper()
	x, err := want.Float64()
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(want.String(), ".")
	if math.Abs(got-x) > 0.5001*math.Pow10(-len(after)) {
		t.Errorf("%s: got %.5g, printed %s", what, got, want)
	}
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

func TestGridChancesOfTheTrade(t *testing.T) {
	t.Parallel()
	f := load(t)
	for _, c := range f.Grid {
		g := coverage.Grid{Along: c.Spacing, Down: c.Spacing}
		printed(t, fmt.Sprintf("%v mm on %v mm", c.Flaw, c.Spacing), must[float64](t)(g.Chance(c.Flaw)), c.Chance)
	}
	g := coverage.Grid{Along: 1, Down: 1}
	printed(t, "nine in ten", float64(must[unit.Millimetres](t)(g.Smallest(0.9))), f.Smallest.Nine)
	printed(t, "certain", float64(must[unit.Millimetres](t)(g.Certain())), f.Smallest.Certain)
}

// The exact chance against throwing flaws on an endless grid.
func TestGridChanceAgreesWithSimulation(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 1))
	for _, g := range []coverage.Grid{{Along: 500, Down: 300}, {Along: 300, Down: 300, Pad: 40}, {Along: 900, Down: 100}} {
		for _, flaw := range []float64{50, 150, 290, 320, 420, 560, 800, 900} {
			const n = 40_000
			met := 0
			for range n {
				// Where the flaw's middle lies in the cell of the grid point nearest to it.
				x, y := float64(g.Along)*(rng.Float64()-0.5), float64(g.Down)*(rng.Float64()-0.5)
				if math.Hypot(x, y) <= (flaw+float64(g.Pad))/2 {
					met++
				}
			}
			e := must[measure.Estimate](t)(coverage.Proportion(met, n, 0.9999))
			if got := must[float64](t)(g.Chance(unit.Millimetres(flaw))); got < e.Lower || got > e.Upper {
				t.Errorf("%+v, %v mm: exact %.4f, simulated %.4f", g, flaw, got, e.Value)
			}
		}
	}
}

func TestSmallestInvertsChance(t *testing.T) {
	t.Parallel()
	for _, g := range []coverage.Grid{{Along: 500, Down: 300}, {Along: 300, Down: 300, Pad: 40}} {
		for _, chance := range []float64{0.1, 0.5, 0.9, 0.999} {
			d := must[unit.Millimetres](t)(g.Smallest(chance))
			if got := must[float64](t)(g.Chance(d)); math.Abs(got-chance) > 1e-9 {
				t.Errorf("%+v: %v mm is met with %.6f, asked %v", g, d, got, chance)
			}
		}
	}
	if d := must[unit.Millimetres](t)(coverage.Grid{Along: 100, Down: 100, Pad: 200}.Smallest(0.9)); d != 0 {
		t.Errorf("a pad wider than the spacing needs a flaw of %v mm", d)
	}
}

func TestChanceGrowsWithTheFlawAndTheGrid(t *testing.T) {
	t.Parallel()
	last := 0.0
	for d := unit.Millimetres(1); d < 800; d += 3 {
		g := must[float64](t)(coverage.Grid{Along: 500, Down: 300}.Chance(d))
		finer := must[float64](t)(coverage.Grid{Along: 400, Down: 300}.Chance(d))
		turned := must[float64](t)(coverage.Grid{Along: 300, Down: 500}.Chance(d))
		if g < last || finer < g || math.Abs(turned-g) > 1e-12 || g > 1 {
			t.Fatalf("%v mm: %v, before %v, finer grid %v, turned %v", d, g, last, finer, turned)
		}
		last = g
	}
}

// side is an underbody's side, laid flat: deeper amidships.
func side() coverage.Outline {
	return coverage.Outline{{0, 0}, {8000, 0}, {7000, 900}, {4000, 1500}, {1000, 900}}
}

func lattice(along, down unit.Millimetres) (w []coverage.Window) {
	for x := along / 2; x < 8000; x += along {
		for y := down / 2; y < 1500; y += down {
			w = append(w, coverage.Window{At: coverage.Point{Along: x, Down: y}})
		}
	}
	return w
}

func TestWindowsApartAreExactAndAgreeWithSimulation(t *testing.T) {
	t.Parallel()
	region := coverage.Outline{{0, 0}, {2000, 0}, {2000, 1000}, {0, 1000}}
	windows := []coverage.Window{{coverage.Point{200, 200}, 100, 100}, {coverage.Point{900, 400}, 150, 60}, {coverage.Point{1500, 700}, 100, 100}}
	exact := must[measure.Estimate](t)(coverage.Chance(region, windows, 80, 0, 1))
	want := (100*100 + 80*200 + math.Pi*1600) + (150*60 + 80*210 + math.Pi*1600) + (100*100 + 80*200 + math.Pi*1600)
	if math.Abs(exact.Value-want/2e6) > 1e-12 || exact.Level != 0 {
		t.Fatalf("got %v, want %v exactly", exact.Value, want/2e6)
	}
	// One corner more makes the same region one that has to be simulated.
	pentagon := append(append(coverage.Outline(nil), region...), coverage.Point{0, 500})
	e := must[measure.Estimate](t)(coverage.Chance(pentagon, windows, 80, 200_000, 1))
	if exact.Value < e.Lower-0.001 || exact.Value > e.Upper+0.001 || e.Level != 0.95 {
		t.Errorf("exact %.5f, simulated %.5f [%.5f, %.5f]", exact.Value, e.Value, e.Lower, e.Upper)
	}
}

func TestARaggedGridMeetsAboutWhatItsSpacingWould(t *testing.T) {
	t.Parallel()
	e := must[measure.Estimate](t)(coverage.Chance(side(), lattice(500, 300), 250, 0, 3))
	want := must[float64](t)(coverage.Grid{Along: 500, Down: 300}.Chance(250))
	if math.Abs(e.Value-want) > 0.03 { // edges apart
		t.Errorf("simulated %.3f, endless grid %.3f", e.Value, want)
	}
	s := must[measure.Estimate](t)(coverage.Smallest(side(), lattice(500, 300), 0.9, 0, 3))
	d := must[unit.Millimetres](t)(coverage.Grid{Along: 500, Down: 300}.Smallest(0.9))
	if math.Abs(s.Value-float64(d)) > 30 || s.Lower > s.Value || s.Upper < s.Value {
		t.Errorf("smallest %.0f [%.0f, %.0f] mm, endless grid %.0f mm", s.Value, s.Lower, s.Upper, float64(d))
	}
	again := must[measure.Estimate](t)(coverage.Chance(side(), lattice(500, 300), 250, 0, 3))
	if again.Value != e.Value {
		t.Error("the same seed gave another answer")
	}
}

// The stated interval of a simulated chance covers the truth as often as it says.
func TestSimulatedChanceCoversItsTruth(t *testing.T) {
	t.Parallel()
	truth := must[measure.Estimate](t)(coverage.Chance(side(), lattice(800, 400), 300, 1_000_000, 99)).Value
	in := 0
	for seed := range uint64(400) {
		e := must[measure.Estimate](t)(coverage.Chance(side(), lattice(800, 400), 300, 1000, seed))
		if e.Lower <= truth && truth <= e.Upper {
			in++
		}
	}
	if in < 370 { // 95 % of 400 is 380; less than 370 has a chance of about 1 %
		t.Errorf("%d of 400 intervals cover the truth", in)
	}
}

func TestWhatCannotBeCountedIsNamed(t *testing.T) {
	t.Parallel()
	line := coverage.Outline{{0, 0}, {100, 0}, {200, 0}}
	for want, call := range map[string]func() error{
		"area":       func() error { _, err := coverage.None(0, 0.95); return err },
		"level":      func() error { _, err := coverage.None(1, 1); return err },
		"count":      func() error { _, err := coverage.Density(-1, 1, 0.95); return err },
		"met":        func() error { _, err := coverage.Proportion(5, 4, 0.95); return err },
		"flaw":       func() error { _, err := coverage.Grid{Along: 1, Down: 1}.Chance(0); return err },
		"grid.Down":  func() error { _, err := coverage.Grid{Along: 1}.Chance(1); return err },
		"region":     func() error { _, err := coverage.Chance(line, lattice(500, 500), 10, 0, 1); return err },
		"p.Size":     func() error { _, err := coverage.Classify(nil, 1, coverage.Pictures{}); return err },
		"windows[0]": func() error { _, err := coverage.Chance(side(), []coverage.Window{{Width: -1}}, 10, 0, 1); return err },
		"first and second": func() error {
			_, err := coverage.Compare(0, 1, 0, 1, 0.95)
			return err
		},
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}

func FuzzGrid(f *testing.F) {
	f.Add(500.0, 300.0, 20.0, 100.0, 0.9)
	f.Fuzz(func(t *testing.T, along, down, pad, flaw, chance float64) {
		g := coverage.Grid{Along: unit.Millimetres(along), Down: unit.Millimetres(down), Pad: unit.Millimetres(pad)}
		if p, err := g.Chance(unit.Millimetres(flaw)); err == nil && !(p >= 0 && p <= 1) {
			t.Errorf("chance %v", p)
		}
		if d, err := g.Smallest(chance); err == nil && !(d >= 0 && d < 2e6) {
			t.Errorf("smallest %v", d)
		}
	})
}

func ExampleGrid_Smallest() {
	g := coverage.Grid{Along: 500, Down: 300, Pad: 30}
	d, err := g.Smallest(0.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the grid meets a round flaw of %.0f mm nine times in ten\n", float64(d))
	// Output: the grid meets a round flaw of 453 mm nine times in ten
}

func BenchmarkRaggedGrid(b *testing.B) {
	windows, region := lattice(400, 150), side()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := coverage.Chance(region, windows, 200, 0, 1); err != nil {
			b.Fatal(err)
		}
	}
}
