package change_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

// world is a hull, a hand and an instrument, in scale units. The zero of drift is a
// visit effect of ±4 and a gain of ±2 %.
type world struct {
	sr, placing, placeVisit float64
	places, dry             int
	drift, gain             float64
	step                    float64 // scale read in such steps
	tail                    bool    // place × visit with heavy tails instead of normal ones
	sunny                   float64 // an effect of the visit on the underbody alone: what the model denies
	noBlocks                bool
}

func usual() world {
	return world{sr: 1, placing: 0.6, placeVisit: 0.8, places: 60, dry: 8, drift: 4, gain: 0.02, step: 0.1}
}

// visit is one visit's share of every reading.
type visit struct{ zero, gain, sunny float64 }

func (w world) visit(r *rand.Rand) visit {
	return visit{w.drift * r.NormFloat64(), 1 + w.gain*r.NormFloat64(), w.sunny * r.NormFloat64()}
}

// read gives a reading of three placements.
func (w world) read(r *rand.Rand, v visit, truth float64, under bool) measure.Value {
	at := truth + w.placing*r.NormFloat64()
	if w.tail {
		at += w.placeVisit * r.NormFloat64() / math.Sqrt(-math.Log(1-r.Float64())) // t with 2 degrees
	} else {
		at += w.placeVisit * r.NormFloat64()
	}
	if under {
		at += v.sunny
	}
	var three [3]float64
	for i := range three {
		three[i] = w.rounded(v.zero + v.gain*at + w.sr*r.NormFloat64())
	}
	slices.Sort(three[:])
	return measure.Value{At: measure.FromTenths(int32(math.Round(three[1] * 10)))}
}

func (w world) rounded(x float64) float64 { return math.Round(x/w.step) * w.step }

// components are measured as a practice would: 40 re-placements, two like pairs of 20
// places each, six with dry places where sunny matters.
func (w world) components(t testing.TB, r *rand.Rand, pairs int) change.Components {
	places := make([][]float64, 20)
	for i := range places {
		for range 3 {
			places[i] = append(places[i], w.rounded(float64(i)+w.sr*r.NormFloat64()))
		}
	}
	sr, err := repeat.OfPlacements(places, w.step, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	var like []change.LikePair
	for range pairs {
		a, b := w.visit(r), w.visit(r)
		a.gain, b.gain = 1, 1 // the same day
		p := change.LikePair{KBefore: 3, KAfter: 3}
		for i := range 20 {
			p.Differences = append(p.Differences, w.read(r, b, 20+float64(i), true).At.Units()-w.read(r, a, 20+float64(i), true).At.Units())
		}
		for range 8 {
			p.Dry = append(p.Dry, w.read(r, b, 10, false).At.Units()-w.read(r, a, 10, false).At.Units())
		}
		like = append(like, p)
	}
	c, err := change.Measure(sr, nil, like)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// input reads the hull at two visits; changed(i) is what happened to place i between.
func (w world) input(r *rand.Rand, c change.Components, changed func(i int) float64) change.Input {
	a, b := w.visit(r), w.visit(r)
	in := change.Input{Components: c, Rate: 0.05, LeastDry: 6}
	for i := range w.places {
		truth := 20 + 20*r.Float64()
		in.Places = append(in.Places, change.Pair{
			Before: w.read(r, a, truth, true), After: w.read(r, b, truth+changed(i), true), KBefore: 3, KAfter: 3,
			Zone: fmt.Sprintf("zone %d", i*4/w.places),
		})
	}
	for range w.dry {
		truth := 10 + r.NormFloat64()
		in.Dry = append(in.Dry, change.Pair{Before: w.read(r, a, truth, false), After: w.read(r, b, truth, false), KBefore: 3, KAfter: 3})
	}
	if w.noBlocks {
		return in
	}
	block := func(v visit, at float64) float64 { // three placements on a block that is always found
		var three [3]float64
		for i := range three {
			three[i] = w.rounded(v.zero + v.gain*at + w.sr*r.NormFloat64())
		}
		slices.Sort(three[:])
		return three[1]
	}
	in.Blocks = &change.Blocks{LowBefore: block(a, 15), HighBefore: block(a, 75), LowAfter: block(b, 15), HighAfter: block(b, 75), K: 3}
	return in
}

func nothing(int) float64 { return 0 }

func compare(t testing.TB, in change.Input) change.Comparison {
	c, err := change.Compare(in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func has(notes []measure.Note, code string) bool { return measure.Estimate{Notes: notes}.Has(code) }

func anyChanged(vs []change.Verdict) bool {
	return slices.ContainsFunc(vs, func(v change.Verdict) bool { return v.Answer == change.Changed })
}
