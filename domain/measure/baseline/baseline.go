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
		unknown := b.leftOutFor(HeightUnknown)
		if unknown > 0 {
			b.because(HeightUnknown, float64(unknown), 0)
		}
		if b.N+unknown < s.Least {
			b.because(TooFew, float64(b.N+unknown), float64(s.Least))
		}
	}
	if s.BothSides && b.N > 0 && (b.Port == 0 || b.Starboard == 0) {
		b.because(OneSide, float64(min(b.Port, b.Starboard)), 1)
	}
}

// leftOutFor counts the dry places that could not be used for one reason.
func (b *Baseline) leftOutFor(why Why) (n int) {
	for _, l := range b.LeftOut {
		if l.Why == why {
			n++
		}
	}
	return n
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
