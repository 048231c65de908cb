package diffusion_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

func reach(t testing.TB, w *diffusion.Wall, start, target float64, e diffusion.Exposure) measure.Estimate {
	t.Helper()
	r, err := w.Reach(start, target, e, diffusion.PolyesterLaminate())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func steady(t testing.TB, w *diffusion.Wall, e diffusion.Exposure) float64 {
	t.Helper()
	p, err := w.Steady(e)
	if err != nil {
		t.Fatal(err)
	}
	return mean(t, w, p)
}

// Trade notes, section 3: at 80 % the best possible fall is a fifth; with water inside
// and 70 % outside the steady mean is 85 % of saturation.
func TestFloorsOfTheTrade(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 8, D: 1e-12})
	if got := steady(t, w, diffusion.Exposure{At: 20, Outside: diffusion.Air(80), Inside: diffusion.Sealed()}); math.Abs(got-0.8) > 1e-12 {
		t.Errorf("in air of 80 %% the floor is %v", got)
	}
	if got := steady(t, w, diffusion.Exposure{At: 20, Outside: diffusion.Air(70), Inside: diffusion.Wet()}); math.Abs(got-0.85) > 1e-12 {
		t.Errorf("between bilge water and 70 %% the floor is %v", got)
	}
}

func TestSteadyIsWhereTheSolverEnds(t *testing.T) {
	t.Parallel()
	w := wall(t, threeLayers()...)
	e := diffusion.Exposure{Days: 100_000, At: 15, Outside: diffusion.Air(60), Inside: diffusion.Wet()}
	want, err := w.Steady(e)
	if err != nil {
		t.Fatal(err)
	}
	got := expose(t, w, uniform(t, w, 0.2), e)
	for c := range got {
		if math.Abs(got[c]-want[c]) > 1e-6 {
			t.Fatalf("cell %d ends at %.8f, steady %.8f", c, got[c], want[c])
		}
	}
}

// A single layer in absolutely dry air has a series: 0.197 L²/D to lose half.
func TestReachAgreesWithTheSeries(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 8, D: 1e-12})
	for _, left := range []float64{0.9, 0.5, 0.1} {
		want, err := diffusion.TimeToLose(1-left, 1e-12, 8, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		got := reach(t, w, 1, left, dryAir)
		if math.Abs(got.Value/float64(want)-1) > 0.01 {
			t.Errorf("to %v: %.1f days, series %.1f", left, got.Value, float64(want))
		}
		if math.Abs(got.Lower/got.Value-1.0/3) > 1e-9 || math.Abs(got.Upper/got.Value-1/0.3) > 1e-9 {
			t.Errorf("the band [%v, %v] is not the range of diffusivities", got.Lower, got.Upper)
		}
	}
	// Halfway between saturation and the floor takes as long as to lose half in dry air.
	air := diffusion.Exposure{At: 20, Outside: diffusion.Air(60), Inside: diffusion.Sealed()}
	a, b := reach(t, w, 1, 0.8, air), reach(t, w, 1, 0.5, dryAir)
	if math.Abs(a.Value/b.Value-1) > 1e-3 {
		t.Errorf("%.2f days against %.2f", a.Value, b.Value)
	}
}

func TestAirSetsTheFloor(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 8, D: 1e-12})
	e := diffusion.Exposure{At: 20, Outside: diffusion.Air(75), Inside: diffusion.Sealed()}
	r := reach(t, w, 1, 0.75, e)
	if !math.IsInf(r.Value, 1) || !math.IsInf(r.Lower, 1) || !r.Has("floor") {
		t.Errorf("got %+v", r)
	}
	thick := wall(t, diffusion.Layer{Thickness: 60, D: 1e-14})
	if r := reach(t, thick, 1, 0.1, dryAir); !r.Has("too-far") {
		t.Errorf("got %+v", r)
	}
}

func TestDrierAirAndWarmthReachSooner(t *testing.T) {
	t.Parallel()
	layers := threeLayers()
	layers[0].ActivationEnergy = 40e3
	w := wall(t, layers...)
	last := 0.0
	for h := unit.Humidity(0); h <= 75; h += 15 {
		r := reach(t, w, 1, 0.8, diffusion.Exposure{At: 15, Outside: diffusion.Air(h), Inside: diffusion.Sealed()})
		if r.Value <= last {
			t.Errorf("at %v %% it takes %v days, in drier air %v", h, r.Value, last)
		}
		last = r.Value
	}
	cold := reach(t, w, 1, 0.8, diffusion.Exposure{At: 5, Outside: diffusion.Air(30), Inside: diffusion.Sealed()})
	warm := reach(t, w, 1, 0.8, diffusion.Exposure{At: 30, Outside: diffusion.Air(30), Inside: diffusion.Sealed()})
	if warm.Value >= cold.Value {
		t.Errorf("warm %v days, cold %v", warm.Value, cold.Value)
	}
}

func TestImmersionClockKeepsWatersApart(t *testing.T) {
	t.Parallel()
	c, err := diffusion.ImmersionClock([]diffusion.Immersion{
		{Days: 180, At: 20, In: diffusion.Salt}, {Days: 185, At: 5, In: diffusion.Salt}, {Days: 30, At: 20, In: diffusion.Fresh},
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := c[diffusion.Fresh]; got.Value != 30 || got.Lower != 30 || got.Upper != 30 {
		t.Errorf("30 days at 20 °C count as %+v", got)
	}
	if got := c[diffusion.Salt]; math.Abs(got.Value-(180+185*0.4127)) > 0.1 || got.Lower >= got.Value || got.Upper <= got.Value {
		t.Errorf("salt: %+v", got)
	}
	_, err = diffusion.ImmersionClock([]diffusion.Immersion{{Days: 1, At: 20, In: "wine"}})
	var arg *measure.ArgumentError
	if !errors.As(err, &arg) {
		t.Errorf("got %v for a hull afloat in wine", err)
	}
}

// The slope method and the edges, as in testdata/measure/diffusion.json.
func TestCoupons(t *testing.T) {
	t.Parallel()
	ref := load[reference](t, "diffusion.json")
	s := ref.Slope
	day := func(seconds float64) unit.Days { return unit.Days(seconds / unit.SecondsPerDay) }
	d, notes, err := diffusion.FromWeighings(unit.Millimetres(s.H*1000),
		diffusion.Weighing{After: day(s.T1), Gain: s.M1}, diffusion.Weighing{After: day(s.T2), Gain: s.M2}, s.Mm)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope method", float64(d), s.Slope, 1e-9)
	if len(notes) != 1 || notes[0].Code != "bent" {
		t.Errorf("0.62 of saturation is beyond the straight part, notes %v", notes)
	}
	x := ref.Edge.Example
	e, err := diffusion.WithoutEdges(unit.Diffusivity(x.Apparent), unit.Millimetres(x.H), unit.Millimetres(x.L), unit.Millimetres(x.W))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "edge correction", float64(e), x.D, 1e-11)
}

func FuzzReach(f *testing.F) {
	f.Add(8.0, 1e-12, 1.0, 0.5, 20.0, 40.0)
	f.Add(0.001, 1e-6, 1.0, 0.9999, 200.0, 99.0)
	f.Fuzz(func(t *testing.T, mm, d, start, target, at, rh float64) {
		w, err := diffusion.NewWall(diffusion.Layer{Thickness: unit.Millimetres(mm), D: unit.Diffusivity(d), ActivationEnergy: 40e3, Cells: 6})
		if err != nil {
			return
		}
		e := diffusion.Exposure{At: unit.Celsius(at), Outside: diffusion.Air(unit.Humidity(rh)), Inside: diffusion.Sealed()}
		r, err := w.Reach(start, target, e, diffusion.PolyesterLaminate())
		if err == nil && (math.IsNaN(r.Value) || r.Lower > r.Value || r.Value > r.Upper || r.Value < 0) {
			t.Errorf("%+v", r)
		}
	})
}

func ExampleWall_Reach() {
	w, err := diffusion.NewWall(diffusion.Layer{Thickness: 8, D: 1e-12, ActivationEnergy: 40e3})
	if err != nil {
		fmt.Println(err)
		return
	}
	tent := diffusion.Exposure{At: 20, Outside: diffusion.Air(45), Inside: diffusion.Sealed()}
	e, err := w.Reach(1, 0.8, tent, diffusion.PolyesterLaminate())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("to four fifths of saturation: about %.0f to %.0f weeks\n", e.Lower/7, e.Upper/7)
	// Output: to four fifths of saturation: about 4 to 37 weeks
}
