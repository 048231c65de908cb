package measure_test

import (
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// hull is a simulated history: places on both sides and the readings of each pass.
type hull struct {
	places []where.Place
	row    []int
	dry    []baseline.Place
	passes [][]measure.Value
	parts  change.Components
}

func simulated(tb testing.TB, passes int) hull {
	r := rand.New(rand.NewPCG(7, 12))
	var h hull
	for _, side := range []where.Side{where.Port, where.Starboard} {
		for station := range 24 {
			for row := range 6 {
				h.places = append(h.places, where.Place{
					Side: side, Along: unit.Millimetres(500 * station), Down: unit.Millimetres(150 + 300*row), Keel: 2100,
				})
				h.row = append(h.row, row)
			}
		}
	}
	read := func(units float64) measure.Value {
		return measure.Value{At: measure.Twentieth(20*units + 10*r.NormFloat64())}
	}
	for range passes {
		values := make([]measure.Value, len(h.places))
		for i := range values {
			values[i] = read(20 + float64(h.row[i]))
		}
		h.passes = append(h.passes, values)
	}
	for k := range 12 {
		h.dry = append(h.dry, baseline.Place{Value: read(12), Side: baseline.Side(1 + k%2), Above: 400, Surface: "bare gelcoat"})
	}
	h.parts = components(tb, r)
	return h
}

func components(tb testing.TB, r *rand.Rand) change.Components {
	repeats := make([][]float64, 20)
	for i := range repeats {
		for range 3 {
			repeats[i] = append(repeats[i], float64(i)+0.5*r.NormFloat64())
		}
	}
	sr, err := repeat.OfPlacements(repeats, 0.1, 0.95)
	if err != nil {
		tb.Fatal(err)
	}
	pair := change.LikePair{KBefore: 3, KAfter: 3}
	for range 30 {
		pair.Differences = append(pair.Differences, r.NormFloat64())
	}
	for range 8 {
		pair.Dry = append(pair.Dry, 0.5*r.NormFloat64())
	}
	parts, err := change.Measure(sr, nil, []change.LikePair{pair, pair, pair})
	if err != nil {
		tb.Fatal(err)
	}
	return parts
}

// evaluate does for one pass what the service says of it: baseline, every contrast, the
// gate against the pass before, clusters by mass either way, mirror pairs.
func (h hull) evaluate(tb testing.TB, g *where.Graph, pass int) {
	now, before := h.passes[pass], h.passes[max(pass-1, 0)]
	b, err := baseline.Of(h.dry, now, baseline.Defaults())
	if err != nil {
		tb.Fatal(err)
	}
	units := make([]float64, len(now))
	in := change.Input{Components: h.parts, Rate: 0.05, LeastDry: 6, Places: make([]change.Pair, len(now))}
	for i, v := range now {
		c, _ := b.Exact(v)
		units[i] = c.Units()
		in.Places[i] = change.Pair{Before: before[i], After: v, KBefore: 3, KAfter: 3, Zone: zones[i*4/len(now)]}
	}
	for _, d := range h.dry {
		in.Dry = append(in.Dry, change.Pair{Before: d.Value, After: d.Value, KBefore: 3, KAfter: 3})
	}
	if _, err := change.Compare(in); err != nil {
		tb.Fatal(err)
	}
	left, err := where.TakeOut(units, make([]int, len(units)), h.row, 0.1)
	if err != nil {
		tb.Fatal(err)
	}
	s := where.ClusterDefaults(uint64(pass))
	for _, s.Low = range []bool{false, true} {
		if _, err := where.Find(g, left.Z, s); err != nil {
			tb.Fatal(err)
		}
	}
	if _, err := where.Mirrors(h.places, now, 50, 0.1); err != nil {
		tb.Fatal(err)
	}
}

var zones = []string{"port aft", "port forward", "starboard aft", "starboard forward"}

// BenchmarkHistory is a vessel's whole history, 12 passes over 300 places (12 of them
// dry), with everything that is said of it. Aim: under 50 ms on one core.
func BenchmarkHistory(b *testing.B) {
	h := simulated(b, 12)
	g, err := where.Joined(h.places, where.ReachOver(500, 300))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for pass := range h.passes {
			h.evaluate(b, g, pass)
		}
	}
	b.ReportMetric(float64(len(h.passes)*(len(h.places)+len(h.dry))), "readings")
}

// The parts fit together on one hull; their own tests say what they answer.
func TestAWholeHistoryIsEvaluatedFromOneHull(t *testing.T) {
	t.Parallel()
	h := simulated(t, 2)
	g, err := where.Joined(h.places, where.ReachOver(500, 300))
	if err != nil {
		t.Fatal(err)
	}
	h.evaluate(t, g, 1)
	if n := g.Len(); n != len(h.places) {
		t.Errorf("the graph joins %d places of %d", n, len(h.places))
	}
}
