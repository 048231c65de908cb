package baseline_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/measure/order"
)

// units gives exact readings from tenths of a unit.
func units(tenths ...int32) []measure.Value {
	vs := make([]measure.Value, len(tenths))
	for i, t := range tenths {
		vs[i] = measure.Value{At: measure.FromTenths(t)}
	}
	return vs
}

// topsides puts values on port and starboard in turn, 0.4 m above the boot-top.
func topsides(vs []measure.Value) []baseline.Place {
	ps := make([]baseline.Place, len(vs))
	for i, v := range vs {
		ps[i] = baseline.Place{Value: v, Side: baseline.Side(1 + i%2), Above: 400, Surface: "gelcoat"}
	}
	return ps
}

func mustOf(t *testing.T, dry []baseline.Place, under []measure.Value, s baseline.Settings) baseline.Baseline {
	t.Helper()
	b, err := baseline.Of(dry, under, s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestABaselineIsTheMedianOfTheDryPlaces(t *testing.T) {
	t.Parallel()
	// Worked by hand: dry 10.0 10.5 11.0 11.1 12.0 14.0, so the median is 11.05; the
	// deviations are 1.05 0.55 0.05 0.05 0.95 2.95, their median 0.75.
	b := mustOf(t, topsides(units(100, 105, 110, 111, 120, 140)), units(300, 310, 320), baseline.Defaults())
	if !b.Valid() {
		t.Fatalf("not valid: %v", b.Reasons)
	}
	if b.Median != (order.Span{Low: 442, High: 442}) {
		t.Errorf("median %v, want 442 fortieths (11.05 units)", b.Median)
	}
	if want := 1.4826 * 0.75; math.Abs(b.Scatter-want) > 1e-12 {
		t.Errorf("scatter %v, want %v", b.Scatter, want)
	}
	if b.Estimate.Lower != 10 || b.Estimate.Upper != 14 || b.Estimate.Level != 1-2.0/64 {
		t.Errorf("interval [%v, %v] at %v, want the extremes at 0.96875", b.Estimate.Lower, b.Estimate.Upper, b.Estimate.Level)
	}
	if b.Contrast.Low != 31*40-442 || b.Port != 3 || b.Starboard != 3 {
		t.Errorf("contrast %v, sides %d and %d", b.Contrast, b.Port, b.Starboard)
	}
}

func TestEveryReasonWhyThereIsNoBaseline(t *testing.T) {
	t.Parallel()
	good, wet := units(100, 105, 110, 111, 120, 140), units(300, 310, 320)
	below := func(vs []measure.Value, n int) []measure.Value {
		vs = slices.Clone(vs)
		for i := range n {
			vs[i] = measure.Value{At: 0, Limit: measure.Below}
		}
		return vs
	}
	alter := func(f func(i int, p *baseline.Place)) []baseline.Place {
		ps := topsides(good)
		for i := range ps {
			f(i, &ps[i])
		}
		return ps
	}
	for name, c := range map[string]struct {
		dry   []baseline.Place
		under []measure.Value
		want  []baseline.Why
		left  int
	}{
		"nothing read at all":          {nil, nil, []baseline.Why{baseline.TooFew, baseline.NoUnderbody}, 0},
		"five places are too few":      {topsides(good[:5]), wet, []baseline.Why{baseline.TooFew}, 0},
		"one side only":                {alter(func(_ int, p *baseline.Place) { p.Side = baseline.Port }), wet, []baseline.Why{baseline.OneSide}, 0},
		"too near the boot-top":        {alter(func(i int, p *baseline.Place) { p.Above = int32(249 + i) }), wet, []baseline.Why{baseline.TooFew}, 1},
		"height not recorded":          {alter(func(i int, p *baseline.Place) { p.AboveNone = i == 2 }), wet, []baseline.Why{baseline.HeightUnknown}, 1},
		"another surface":              {alter(func(i int, p *baseline.Place) { p.Surface = []string{"gelcoat", "epoxy"}[min(1, i/5)] }), wet, []baseline.Why{baseline.TooFew}, 1},
		"underbody like the topsides":  {topsides(good), good, []baseline.Why{baseline.NotBelow}, 0},
		"underbody drier":              {topsides(good), units(50, 60, 70), []baseline.Why{baseline.NotBelow}, 0},
		"contrast under four scatters": {topsides(good), units(150, 152, 154), []baseline.Why{baseline.TooSpread}, 0},
		"most dry places off scale":    {topsides(below(good, 4)), wet, []baseline.Why{baseline.AtScaleEnd}, 0},
		"no underbody":                 {topsides(good), nil, []baseline.Why{baseline.NoUnderbody}, 0},
		"underbody below the scale":    {topsides(good), below(wet, 3), []baseline.Why{baseline.NotBelow}, 0},
	} {
		b := mustOf(t, c.dry, c.under, baseline.Defaults())
		var got []baseline.Why
		for _, r := range b.Reasons {
			got = append(got, r.Why)
			if r.Sentence() == r.Why.String() {
				t.Errorf("%s: %v has no sentence", name, r.Why)
			}
		}
		if !slices.Equal(got, c.want) || len(b.LeftOut) != c.left || b.Valid() {
			t.Errorf("%s: reasons %v, left out %v, want %v and %d", name, got, b.LeftOut, c.want, c.left)
		}
		if _, err := b.Of(measure.Value{At: 100}); !errors.Is(err, baseline.ErrVoid) {
			t.Errorf("%s: a void baseline gave a contrast (%v)", name, err)
		}
	}
}

func TestAFewReadingsAtTheScalesEndDoNotHarm(t *testing.T) {
	t.Parallel()
	dry := topsides(units(0, 0, 20, 21, 22, 23, 24, 25))
	dry[0].Value.Limit, dry[1].Value.Limit = measure.Below, measure.Below
	under := units(300, 310, 1000)
	under[2].Limit = measure.Above
	b := mustOf(t, dry, under, baseline.Defaults())
	if !b.Valid() || !b.Median.Exact() || b.Median.Low != 86 {
		t.Fatalf("median %v (%v), want exactly 2.15 units", b.Median, b.Reasons)
	}
	if !math.IsInf(b.Estimate.Lower, -1) {
		t.Errorf("interval from %v: the lowest of 8 is below the scale, so it is open", b.Estimate.Lower)
	}
}

func TestAScaleReadInWholeUnitsHasAFloorUnderItsScatter(t *testing.T) {
	t.Parallel()
	s := baseline.Defaults()
	s.Step = 1
	b := mustOf(t, topsides(units(100, 100, 100, 100, 100, 110)), units(300), s)
	if b.Scatter != 0.5 || !b.Floored {
		t.Errorf("scatter %v, floored %v, want half a step", b.Scatter, b.Floored)
	}
}

func TestContrastsCarryLimits(t *testing.T) {
	t.Parallel()
	b := mustOf(t, topsides(units(100, 105, 110, 111, 120, 140)), units(300, 310), baseline.Defaults())
	for name, c := range map[string]struct {
		v         measure.Value
		low, high float64
		note      string
	}{
		"an exact reading":  {measure.Value{At: 600}, 18.95, 18.95, ""},
		"above the scale":   {measure.Value{At: 2000, Limit: measure.Above}, 88.95, math.Inf(1), "at-least"},
		"below the scale":   {measure.Value{At: 0, Limit: measure.Below}, math.Inf(-1), -11.05, "at-most"},
		"a range as spoken": {measure.Value{At: 350, Limit: measure.Range, Low: 300, High: 400}, 3.95, 8.95, "range"},
	} {
		got, err := b.Of(c.v)
		if err != nil {
			t.Fatal(err)
		}
		if got.Span.Low.Units() != c.low || got.Span.High.Units() != c.high {
			t.Errorf("%s: %v to %v, want %v to %v", name, got.Span.Low.Units(), got.Span.High.Units(), c.low, c.high)
		}
		if c.note != "" && !got.Estimate.Has(c.note) {
			t.Errorf("%s: note %q is missing", name, c.note)
		}
		if e := got.Estimate; !(e.Lower <= e.Value && e.Value <= e.Upper) {
			t.Errorf("%s: %v outside [%v, %v]", name, e.Value, e.Lower, e.Upper)
		}
		exact, ok := b.Exact(c.v)
		if ok != (c.v.Limit == measure.Exact) || ok && exact != got.Span.Low {
			t.Errorf("%s: Exact gives %v, %v", name, exact, ok)
		}
	}
}

func TestBadArgumentsAreNamed(t *testing.T) {
	t.Parallel()
	bad := baseline.Defaults()
	bad.Share = math.NaN()
	crossed := measure.Value{Limit: measure.Range, Low: 2, High: 1}
	for want, call := range map[string]func() error{
		"s.Share":  func() error { _, err := baseline.Of(nil, nil, bad); return err },
		"under[0]": func() error { _, err := baseline.Of(nil, []measure.Value{crossed}, baseline.Defaults()); return err },
		"dry[1]": func() error {
			_, err := baseline.Of([]baseline.Place{{}, {Value: crossed}}, nil, baseline.Defaults())
			return err
		},
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}

// Order of places, the sides swapped, a shift of the zero: none may move a contrast.
func TestContrastsDoNotDependOnOrderSideOrZero(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		dry, under := topsides(draw(r, 6+r.IntN(8), 100)), draw(r, 5+r.IntN(10), 300)
		b := mustOf(t, dry, under, baseline.Defaults())
		other := slices.Clone(dry)
		for i := range other {
			other[i].Value.At += 700
			other[i].Side = 3 - other[i].Side
		}
		moved := slices.Clone(under)
		for i := range moved {
			moved[i].At += 700
		}
		r.Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
		c := mustOf(t, other, moved, baseline.Defaults())
		if b.Valid() != c.Valid() || b.Contrast != c.Contrast || b.Scatter != c.Scatter || b.Port != c.Starboard {
			t.Fatalf("%+v became %+v", b, c)
		}
	}
}

func draw(r *rand.Rand, n, centre int) []measure.Value {
	vs := make([]measure.Value, n)
	for i := range vs {
		vs[i].At = measure.Twentieth(centre*2 + int(r.NormFloat64()*40))
	}
	return vs
}

func FuzzOf(f *testing.F) {
	f.Add([]byte{10, 20, 0, 30, 1, 2, 3, 4, 5, 6, 7, 8, 9}, uint8(4))
	f.Fuzz(func(t *testing.T, raw []byte, split uint8) {
		var dry []baseline.Place
		var under []measure.Value
		for i, x := range raw {
			v := measure.Value{At: measure.Twentieth(x), Limit: measure.Limit(x % 4), Low: measure.Twentieth(x) - 3, High: measure.Twentieth(x) + 3}
			if i%17 < int(split%17) {
				dry = append(dry, baseline.Place{Value: v, Side: baseline.Side(x % 4), Above: int32(x) * 4, AboveNone: x%31 == 0})
			} else {
				under = append(under, v)
			}
		}
		b, err := baseline.Of(dry, under, baseline.Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(b.Scatter) || math.IsNaN(b.Estimate.Lower) || math.IsNaN(b.Estimate.Upper) {
			t.Fatalf("NaN in %+v", b)
		}
		if !b.Valid() {
			return
		}
		c, err := b.Of(measure.Value{At: 40})
		if err != nil || math.IsNaN(c.Estimate.Lower) || !c.Span.Exact() {
			t.Fatalf("%+v: %v", c, err)
		}
	})
}

func BenchmarkOf300Places(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 4))
	dry, under := topsides(draw(r, 12, 100)), draw(r, 288, 300)
	b.ReportAllocs()
	for b.Loop() {
		base, err := baseline.Of(dry, under, baseline.Defaults())
		if err != nil {
			b.Fatal(err)
		}
		for _, v := range under {
			base.Exact(v)
		}
	}
}
