// Package baseline judges the dry places of a pass and sets its readings against
// them. A reading of a relative scale says something only beside this hull's own
// dry topsides, read in the same pass; where those will not carry it, the package
// says every reason why not instead of giving a figure.
package baseline

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Side is the side of the hull a place lies on. The zero Side is not known.
type Side uint8

// The sides of a hull.
const (
	Port Side = iota + 1
	Starboard
	Centre
)

// Place is a reading at a place the plan names as dry.
type Place struct {
	Value     measure.Value
	Side      Side
	Above     int32  // mm above the top of the boot-top, along the skin; below it is negative
	AboveNone bool   // the height was not recorded
	Surface   string // what was read on, e.g. "bare gelcoat"; equal strings are like surfaces
}

// Settings are what a practice may change. Use [Defaults] and alter a field.
type Settings struct {
	Least     int     // dry places needed; 6: design 3.1, trade.md 4 (common practice, no source)
	Clear     int32   // mm above the top of the boot-top a dry place must lie; 250
	Share     float64 // largest scatter as a share of the underbody's contrast; ¼
	Step      float64 // smallest step of the scale, in units; half of it is the least scatter. 0.1
	Level     float64 // coverage asked of the median's interval; 0.95
	Surface   string  // the surface wanted, as last time; "" takes the one most places have
	BothSides bool    // whether port and starboard must both be there; true
}

// Defaults are the practice's starting values. All are common practice, no source.
func Defaults() Settings {
	return Settings{Least: 6, Clear: 250, Share: 0.25, Step: 0.1, Level: 0.95, BothSides: true}
}

// Baseline is the dry level of one pass, or the reasons why it has none. What could
// be computed is filled in either way, so that a person sees what was wrong.
type Baseline struct {
	Median   order.Span       // of the dry places, by order; exact in every valid baseline
	Scatter  float64          // scale units: 1.4826 × MAD, never below half a step of the scale
	Floored  bool             // the MAD was smaller than that, so Scatter is the floor
	Estimate measure.Estimate // the median with its distribution-free interval, scale units
	Surface  string           // the like surface all used places have

	N, Port, Starboard, OnCentre int // places used, and their sides

	Underbody order.Span // median of the underbody, by order
	Contrast  order.Span // of the underbody's median over the dry one

	Reasons []Reason  // why contrasts are void; empty for a valid baseline
	LeftOut []LeftOut // dry places that could not be used, in the order given
}

// Valid tells whether readings may be set against this baseline.
func (b Baseline) Valid() bool { return len(b.Reasons) == 0 && b.N > 0 }

// Of judges the dry places of one pass.
//
//	dry    readings at the places the plan names as dry, first readings only
//	under  readings of the underbody in the same pass, of one group of like surface
//	       and construction; targeted extra places left out
//	s      settings
//
// Median and scatter are order statistics, so a few readings at the scale's end do
// not harm. Scatter is 1.4826 × MAD with half a scale step as its floor. The rules
// are those of design section 3.1; none has a published source.
//
// Nothing being there is no error but a [Reason]. Errors: *measure.ArgumentError
// for a setting or a value that cannot be.
func Of(dry []Place, under []measure.Value, s Settings) (Baseline, error) {
	if err := s.check(); err != nil {
		return Baseline{}, err
	}
	if err := order.CheckValues("under", under); err != nil {
		return Baseline{}, err
	}
	for i, p := range dry {
		if err := order.CheckValues("dry", []measure.Value{p.Value}); err != nil {
			return Baseline{}, &measure.ArgumentError{Argument: fmt.Sprintf("dry[%d]", i), Why: err.(*measure.ArgumentError).Why}
		}
	}
	b := Baseline{Surface: s.Surface}
	if b.Surface == "" {
		b.Surface = commonest(dry)
	}
	used := b.choose(dry, s)
	b.count(s)
	if len(used) > 0 {
		b.level(used, s)
	}
	b.beside(under, s)
	return b, nil
}

// choose takes the dry places that may be used and notes why others may not.
func (b *Baseline) choose(dry []Place, s Settings) []measure.Value {
	var used []measure.Value
	for i, p := range dry {
		why, out := b.unfit(p, s)
		if out {
			b.LeftOut = append(b.LeftOut, LeftOut{Index: i, Why: why})
			continue
		}
		used = append(used, p.Value)
		b.N++
		switch p.Side {
		case Port:
			b.Port++
		case Starboard:
			b.Starboard++
		default:
			b.OnCentre++
		}
	}
	return used
}

func (b *Baseline) unfit(p Place, s Settings) (Why, bool) {
	switch {
	case p.AboveNone:
		return HeightUnknown, true
	case p.Above < s.Clear:
		return TooLow, true
	case p.Surface != b.Surface:
		return OtherSurface, true
	default:
		return 0, false
	}
}

func (b *Baseline) count(s Settings) {
	if b.N < s.Least {
		b.because(TooFew, float64(b.N), float64(s.Least))
	}
	if s.BothSides && b.N > 0 && (b.Port == 0 || b.Starboard == 0) {
		b.because(OneSide, float64(min(b.Port, b.Starboard)), 1)
	}
}

// level fills in median and scatter of the used values.
func (b *Baseline) level(used []measure.Value, s Settings) {
	// The values have been checked and are not empty, so neither call can fail.
	b.Median, _ = order.MedianOf(used)
	spread, _ := order.MADOf(used, b.Median)
	if !b.Median.Exact() {
		b.because(AtScaleEnd, float64(limited(used)), 0)
		b.Scatter = math.Inf(1)
		return
	}
	b.Scatter = order.Scale * spread.High
	if floor := s.Step / 2; b.Scatter < floor {
		b.Scatter, b.Floored = floor, true
	}
	if math.IsInf(b.Scatter, 1) {
		b.because(AtScaleEnd, float64(limited(used)), 0)
	}
	b.Estimate = medianInterval(used, b.Median, s.Level)
}

// beside sets the dry level against the underbody's.
func (b *Baseline) beside(under []measure.Value, s Settings) {
	if len(under) == 0 {
		b.because(NoUnderbody, 0, 1)
		return
	}
	b.Underbody, _ = order.MedianOf(under)
	if b.N == 0 || !b.Median.Exact() {
		return
	}
	b.Contrast = b.Underbody.Minus(b.Median)
	least := b.Contrast.Low.Units()
	switch {
	case !(least > 0):
		b.because(NotBelow, least, 0)
	case b.Scatter > s.Share*least:
		b.because(TooSpread, b.Scatter, s.Share*least)
	}
}

// medianInterval is order.Median for values with limit flags: the ranks are the
// same, and the open ends sort to the outside.
func medianInterval(vs []measure.Value, m order.Span, level float64) measure.Estimate {
	low, high := make([]float64, len(vs)), make([]float64, len(vs))
	for i, v := range vs {
		s := order.SpanOf(v)
		low[i], high[i] = finite(s.Low), finite(s.High)
	}
	a, _ := order.Median(low, level)
	z, _ := order.Median(high, level)
	e := a
	e.Value, e.Upper = m.Low.Units(), z.Upper
	if e.Lower <= finite(order.OpenLow) {
		e.Lower = math.Inf(-1)
	}
	if e.Upper >= finite(order.OpenHigh) {
		e.Upper = math.Inf(1)
	}
	return e
}

// finite stands for an open end by a number beyond every scale, because order
// statistics take finite values only.
func finite(f order.Fortieth) float64 { return float64(f) / 40 }

func limited(vs []measure.Value) (n int) {
	for _, v := range vs {
		if v.Limit != measure.Exact {
			n++
		}
	}
	return n
}

// commonest gives the surface most places have; of several, the first in the alphabet.
func commonest(dry []Place) string {
	seen, best := map[string]int{}, ""
	for _, p := range dry {
		seen[p.Surface]++
	}
	for surface, n := range seen {
		if n > seen[best] || n == seen[best] && surface < best {
			best = surface
		}
	}
	return best
}

func (s Settings) check() error {
	if s.Least < 1 {
		return &measure.ArgumentError{Argument: "s.Least", Why: "must be at least 1"}
	}
	if err := measure.Positive("s.Share", s.Share); err != nil {
		return err
	}
	if err := measure.Positive("s.Step", s.Step); err != nil {
		return err
	}
	return measure.Level(s.Level)
}
