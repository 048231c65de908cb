package drying

import (
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/order"
)

// Pattern is a way in which drying stalls, as the trade lists them.
type Pattern string

// The patterns (a) to (h).
const (
	ClimateFloor Pattern = "climate floor"  // all flat at a level that matches the air
	LocalFlat    Pattern = "local flats"    // a tank, the bilge, a liner, the keel, a cell of residue
	SlowOnly     Pattern = "slow diffusion" // flat, then falling when heated
	Deeper       Pattern = "deeper store"   // rises when the heat goes off
	Hygroscopic  Pattern = "holds water"    // shallow readings rise with the air's humidity
	Solutes      Pattern = "solutes left"   // rises after each wash to the same height
	AllTogether  Pattern = "moved together" // instrument or weather
	OneSide      Pattern = "one side only"  // sun or draught
)

// Points says what the evidence says of a pattern. It names no cause: readings alone
// never do.
type Points string

// The answers.
const (
	Towards Points = "points towards"
	Against Points = "points against"
	Unknown Points = "not known"
)

// Reason is one pattern held against the evidence.
type Reason struct {
	Pattern Pattern
	Points  Points
	Figure  measure.Estimate // what it rests on; which, depends on the pattern
	Slots   []int            // places it speaks of
	N, Of   int              // counts, such as places that rose of places compared
	Side    string           // the side that came down less
}

// Evidence is what the patterns are held against. Nil and empty are not recorded.
type Evidence struct {
	Series  Series
	Places  []Place
	Tent    *Climate
	Washes  []Rebound // after washes
	HeatOff []Rebound // after heat went off
	Shallow *Series   // by a shallow-sensing instrument, over the same time
}

// leastAtOnce is how many places make a pattern: the trade reports no cluster of fewer
// than three.
const leastAtOnce = 3

// together is the share of places that has to move one way for "all together": our own rule.
const together = 0.9

// Reasons holds every pattern against the evidence, in the trade's order.
func Reasons(e Evidence) []Reason {
	return []Reason{e.climateFloor(), e.localFlats(), e.slowOnly(), e.deeper(), e.hygroscopic(), e.solutes(), e.allTogether(), e.oneSide()}
}

// stretch is the index of the visit where the last three begin; false before there are three.
func (e Evidence) stretch() (int, bool) {
	n := len(e.Series.Visits) - 3
	return n, n >= 0 && len(e.Series.Common) > 0
}

func (e Evidence) climateFloor() Reason {
	r := Reason{Pattern: ClimateFloor, Points: Unknown}
	from, ok := e.stretch()
	if !ok {
		return r
	}
	falls := e.Series.Falls(from, len(e.Series.Visits)-1)
	r.Of, r.N = len(falls), len(lowest(falls))
	fall, err := order.Median(falls, Level)
	if err != nil || len(falls) < order.NeededForMedian(Level) {
		return r
	}
	r.Figure = fall
	switch {
	case fall.Lower > 0 || fall.Upper < 0: // what rises is not flat
		r.Points = Against
	case e.Tent != nil && r.N < leastAtOnce:
		r.Points = Towards
	}
	return r
}

// lowest lists the indices of values that lie outliers below the rest (modified z below
// −3.5, Iglewicz & Hoaglin 1993).
func lowest(x []float64) (out []int) {
	z, err := order.ModifiedZ(x, 0.1)
	if err != nil {
		return nil
	}
	for k, v := range z {
		if v < -order.FlagAbove {
			out = append(out, k)
		}
	}
	return out
}

func (e Evidence) localFlats() Reason {
	r := Reason{Pattern: LocalFlat, Points: Unknown, Of: len(e.Series.Common)}
	if len(e.Series.Visits) < 3 || r.Of < 2*leastAtOnce {
		return r
	}
	falls := e.Series.Falls(0, len(e.Series.Visits)-1)
	for _, k := range lowest(falls) {
		r.Slots = append(r.Slots, e.Series.Common[k])
	}
	r.N = len(r.Slots)
	r.Figure, _ = order.Median(falls, Level)
	r.Points = Against
	if r.N >= leastAtOnce {
		r.Points = Towards
	}
	return r
}

// slowOnly looks for a step without a fall before one with heat and a fall.
func (e Evidence) slowOnly() Reason {
	r := Reason{Pattern: SlowOnly, Points: Unknown}
	flat := false
	for k := 1; k < len(e.Series.Visits) && len(e.Series.Common) > 0; k++ {
		heated := e.Series.Visits[k].Heated
		if heated == nil {
			continue
		}
		fall, err := order.Median(e.Series.Falls(k-1, k), Level)
		if err != nil || fall.N < order.NeededForMedian(Level) {
			continue
		}
		falls := fall.Lower > 0
		switch {
		case !*heated:
			flat = flat || !falls
		case flat && falls:
			r.Points, r.Figure = Towards, fall
			return r
		case flat:
			r.Points, r.Figure = Against, fall
		}
	}
	return r
}

func (e Evidence) deeper() Reason {
	r := Reason{Pattern: Deeper, Points: Unknown}
	list := inOrder(e.HeatOff)
	if len(list) == 0 {
		return r
	}
	h, err := list[len(list)-1].Height()
	if err != nil || h.N < order.NeededForMedian(Level) {
		return r
	}
	r.Figure, r.N, r.Points = h, h.N, Against
	if h.Lower > 0 {
		r.Points = Towards
	}
	return r
}

// hygroscopic asks whether shallow readings went the way of the humidity at every step.
// Four steps the same way have a chance of 1 in 16 where they have nothing to do with it.
func (e Evidence) hygroscopic() Reason {
	r := Reason{Pattern: Hygroscopic, Points: Unknown}
	if e.Shallow == nil || len(e.Shallow.Level) == 0 {
		return r
	}
	s := *e.Shallow
	for k := 1; k < len(s.Visits); k++ {
		before, after := s.Visits[k-1].Humidity, s.Visits[k].Humidity
		if before == nil || after == nil || *before == *after {
			continue
		}
		r.Of++
		if *after > *before && s.Level[k] > s.Level[k-1] || *after < *before && s.Level[k] < s.Level[k-1] {
			r.N++
		}
	}
	if r.Of < 4 {
		return r
	}
	r.Points = Against
	if r.N == r.Of {
		r.Points = Towards
	}
	return r
}

func (e Evidence) solutes() Reason {
	r := Reason{Pattern: Solutes, Points: Unknown, N: len(e.Washes)}
	how, figure := Compare(e.Washes)
	r.Figure = figure
	switch how {
	case ReboundSame:
		r.Points = Towards
	case ReboundFalling, ReboundNone:
		r.Points = Against
	}
	return r
}

// allTogether looks for a step in which nearly every place and the dry places rose as
// read. A drying hull falls; what lifts dry and wet alike is the instrument or the air.
func (e Evidence) allTogether() Reason {
	r := Reason{Pattern: AllTogether, Points: Unknown, Of: len(e.Series.Common)}
	if len(e.Series.Visits) < 2 || r.Of < 2*leastAtOnce {
		return r
	}
	r.Points = Against
	for k := 1; k < len(e.Series.Visits); k++ {
		dry := e.Series.Visits[k].Dry - e.Series.Visits[k-1].Dry
		if !(dry > 0) {
			continue
		}
		rose := 0
		for _, fall := range e.Series.Falls(k-1, k) {
			if dry-fall > 0 {
				rose++
			}
		}
		if rose > r.N {
			r.N, r.Figure = rose, measure.Estimate{Value: dry, N: k}
		}
	}
	if float64(r.N) >= together*float64(r.Of) {
		r.Points = Towards
	}
	return r
}

func (e Evidence) oneSide() Reason {
	r := Reason{Pattern: OneSide, Points: Unknown}
	if len(e.Series.Visits) < 2 {
		return r
	}
	by := map[string][]float64{}
	falls := e.Series.Falls(0, len(e.Series.Visits)-1)
	for k, slot := range e.Series.Common {
		side := e.Places[slot].Side
		by[side] = append(by[side], falls[k])
	}
	port, starboard := by["port"], by["starboard"]
	if least := order.NeededForMedian(Level); len(port) < least || len(starboard) < least {
		return r
	}
	more, err := order.Shift(port, starboard, Level)
	if err != nil {
		return r
	}
	r.Figure, r.Points, r.N, r.Of = more, Against, len(port), len(starboard)
	switch {
	case more.Lower > 0:
		r.Points, r.Side = Towards, "starboard"
	case more.Upper < 0:
		r.Points, r.Side = Towards, "port"
	}
	return r
}

// Stalled tells whether a stall has been shown, so that its reasons are worth reading
// out first; before that they are listed all the same.
func (c Course) Stalled() bool {
	return c.Motion != nil && (c.Motion.Motion == course.Stalled || c.Motion.Motion == course.Slower)
}

// Likely lists the patterns that the evidence points towards.
func Likely(all []Reason) []Reason {
	return slices.DeleteFunc(slices.Clone(all), func(r Reason) bool { return r.Points != Towards })
}
