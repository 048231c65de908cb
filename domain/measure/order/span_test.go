package order_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

func values(at ...measure.Twentieth) []measure.Value {
	vs := make([]measure.Value, len(at))
	for i, a := range at {
		vs[i].At = a
	}
	return vs
}

func TestMediansCarryLimitsByTheirOrder(t *testing.T) {
	t.Parallel()
	below, above := measure.Value{At: 0, Limit: measure.Below}, measure.Value{At: 2000, Limit: measure.Above}
	spoken := measure.Value{At: 350, Limit: measure.Range, Low: 300, High: 400} // "15 to 20"
	for name, c := range map[string]struct {
		vs   []measure.Value
		want order.Span
	}{
		"an even count falls on a fortieth":       {values(706, 707), order.Span{Low: 1413, High: 1413}},
		"a minority off the scale is harmless":    {append(values(100, 120, 140), below, above), order.Span{Low: 240, High: 240}},
		"a majority below leaves it open":         {append(values(100), below, below), order.Span{Low: order.OpenLow, High: 0}},
		"a majority above leaves it open":         {append(values(100), above, above), order.Span{Low: 4000, High: order.OpenHigh}},
		"half below is open downwards":            {append(values(100, 120), below, below), order.Span{Low: order.OpenLow, High: 100}},
		"a range in the middle keeps both ends":   {append(values(100, 500), spoken), order.Span{Low: 600, High: 800}},
		"a range overlapping a number is bounded": {append(values(320, 320), spoken), order.Span{Low: 640, High: 640}},
	} {
		got, err := order.MedianOf(c.vs)
		if err != nil || got != c.want {
			t.Errorf("%s: %v, %v; want %v", name, got, err, c.want)
		}
	}
}

// Whatever the hidden values behind the limits are, median and MAD of them lie in
// the spans given.
func TestSpansHoldEveryValueTheLimitsAllow(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range 3000 {
		n := 1 + r.IntN(9)
		vs, hidden := make([]measure.Value, n), make([]float64, n)
		for i := range vs {
			vs[i], hidden[i] = hide(r)
		}
		m, err := order.MedianOf(vs)
		if err != nil {
			t.Fatal(err)
		}
		spread, err := order.MADOf(vs, m)
		if err != nil {
			t.Fatal(err)
		}
		truth, _ := order.Middle(hidden)
		if truth < m.Low.Units()-1e-9 || truth > m.High.Units()+1e-9 {
			t.Fatalf("median %v of %v outside %v", truth, hidden, m)
		}
		mad, _ := order.MAD(hidden)
		if mad < spread.Low-1e-9 || mad > spread.High+1e-9 {
			t.Fatalf("MAD %v of %v outside %v", mad, hidden, spread)
		}
	}
}

func hide(r *rand.Rand) (measure.Value, float64) {
	at := measure.Twentieth(r.IntN(40)) * 2
	switch r.IntN(5) {
	case 0:
		return measure.Value{At: 10, Limit: measure.Below}, 0.5 - r.Float64()
	case 1:
		return measure.Value{At: 70, Limit: measure.Above}, 3.5 + r.Float64()
	case 2:
		v := measure.Value{At: at, Limit: measure.Range, Low: at - 5, High: at + 5}
		return v, at.Units() + (r.Float64()-0.5)/2
	default:
		return measure.Value{At: at}, at.Units()
	}
}

func TestValuesThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	for name, v := range map[string]measure.Value{
		"a crossed range":     {Limit: measure.Range, Low: 2, High: 1},
		"an unknown flag":     {Limit: 9},
		"a number off charts": {At: math.MaxInt32},
	} {
		if _, err := order.MedianOf([]measure.Value{v}); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	if _, err := order.MedianOf(nil); err != measure.ErrEmpty {
		t.Errorf("no values: %v", err)
	}
}
