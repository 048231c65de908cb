package drying

import (
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/salt"
)

// Wash is one wash of the bared laminate. Nil is not known.
type Wash struct {
	Days         float64  // since drying began
	PH           *float64 // of the water that came off
	Conductivity *float64 // of the water that came off, µS/cm
	Supply       *float64 // of the water it was washed with, µS/cm
	Volume       *float64 // of the water tested, mL
	Area         *float64 // of the skin it stood on, mm²
}

// Rise is how much more the water conducted after it stood on the skin, µS/cm; nil where
// one of the two was not measured.
func (w Wash) Rise() *float64 {
	if w.Conductivity == nil || w.Supply == nil {
		return nil
	}
	r := *w.Conductivity - *w.Supply
	return &r
}

// Salts gives soluble salts on the skin in mg/m² (salt.MassPerArea), or nil where volume,
// area or conductivity is missing, or the water was saltier before than after.
func (w Wash) Salts() *measure.Estimate {
	r := w.Rise()
	if r == nil || w.Volume == nil || w.Area == nil {
		return nil
	}
	e, err := salt.MassPerArea(salt.Patch{Volume: *w.Volume, Area: *w.Area, Rise: *r})
	if err != nil {
		return nil
	}
	return &e
}

// Rebound is readings at some places before a wash, or with heat on, and again a fixed
// time after it.
type Rebound struct {
	Days   float64   // since drying began, when it was read
	Hours  float64   // from the end of the wash, or heat off, to the reading
	Before []float64 // scale units, as read
	After  []float64 // at the same places, same instrument
}

// Rises gives what each place rose by.
func (r Rebound) Rises() []float64 {
	out := make([]float64, min(len(r.Before), len(r.After)))
	for k := range out {
		out[k] = r.After[k] - r.Before[k]
	}
	return out
}

// Height is the median rise with its distribution-free interval (order.Median).
//
// Errors: measure.ErrEmpty where nothing was read; *measure.ArgumentError.
func (r Rebound) Height() (measure.Estimate, error) { return order.Median(r.Rises(), Level) }

// Rebounds says how the rebound goes from cycle to cycle.
type Rebounds string

// The answers.
const (
	ReboundFalling  Rebounds = "falling"     // the last rises less than the first
	ReboundSame     Rebounds = "same height" // the last rises, and is not shown to rise less than the first
	ReboundNone     Rebounds = "none shown"  // the last one shows no rise
	ReboundCannot   Rebounds = "cannot tell"
	reboundDelayOff          = 0.25 // how far two delays may differ and count as one: a quarter, our own rule
)

// Compare sets the last rebound against the first by the shift between their rises, with
// the interval of the rank-sum test (order.Shift). Rises read after unlike delays are not
// compared: rebound grows with time.
func Compare(cycles []Rebound) (Rebounds, measure.Estimate) {
	if len(cycles) == 0 {
		return ReboundCannot, measure.Estimate{}
	}
	cycles = inOrder(cycles)
	first, last := cycles[0], cycles[len(cycles)-1]
	height, err := last.Height()
	if err != nil {
		return ReboundCannot, measure.Estimate{}
	}
	if height.Lower <= 0 && height.N >= order.NeededForMedian(Level) {
		return ReboundNone, height
	}
	if len(cycles) < 2 || last.Hours > first.Hours*(1+reboundDelayOff) || last.Hours < first.Hours*(1-reboundDelayOff) {
		return ReboundCannot, height
	}
	less, err := order.Shift(first.Rises(), last.Rises(), Level)
	switch {
	case err != nil:
		return ReboundCannot, height
	case less.Lower > 0:
		return ReboundFalling, less
	case height.Lower > 0:
		return ReboundSame, less
	default:
		return ReboundCannot, less
	}
}

// inOrder lists the rebounds in order of their reading.
func inOrder(list []Rebound) []Rebound {
	return slices.SortedFunc(slices.Values(list), func(a, b Rebound) int {
		switch {
		case a.Days < b.Days:
			return -1
		case a.Days > b.Days:
			return 1
		}
		return 0
	})
}
