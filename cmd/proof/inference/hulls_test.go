package inference

import (
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure/simulate"
)

// What hulls stand above their baseline is no more than their own walls, afloat for ten
// years and then 28 days ashore, give the same instrument.
func TestHullsStandNoHigherThanOnesThatWereAfloat(t *testing.T) {
	t.Parallel()
	for _, s := range sets {
		r := rand.New(rand.NewPCG(1, uint64(s.mark)))
		h, err := s.hull(r)
		if err != nil {
			t.Fatal(err)
		}
		lift := began.AddDate(10, 0, 0)
		h.Causes, h.Spells = nil, []simulate.Spell{{Until: lift, Afloat: true}, {Until: lift.AddDate(1, 0, 0)}}
		p := s.pass(r, lift.AddDate(0, 0, 28))
		p.Gain = 1
		sheets, err := simulate.Read(h, []simulate.Pass{p})
		if err != nil {
			t.Fatal(err)
		}
		var dry, under []float64
		for _, x := range sheets[0].Read {
			if h.Places[x.Place].Dry {
				dry = append(dry, x.Truth)
			} else {
				under = append(under, x.Truth)
			}
		}
		if natural := medianOf(under) - medianOf(dry); standsAbove > natural || math.Abs(natural-standsAbove) > 8 {
			t.Errorf("%s: such a hull stands %.1f above her baseline, the proof's %d", s.name, natural, standsAbove)
		}
	}
}
