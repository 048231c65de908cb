package change

import (
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

// Pair is one place read in both passes.
type Pair struct {
	Before, After   measure.Value
	KBefore, KAfter int    // placements whose median each is, 1 to 5
	Zone            string // the zone it is counted to; "" for none

	// Extra is a further standard deviation of this difference, scale units: of a place
	// matched at some distance, for one. 0 for a place found by its marks.
	Extra float64
}

// Blocks are the checks on two reference blocks, low and high, in both passes:
// medians of k placements, scale units.
type Blocks struct {
	LowBefore, HighBefore, LowAfter, HighAfter float64
	K                                          int
}

// Input is two like passes: one instrument (or, Alike, two of one model), one scale
// and mode, one face, like surface and construction.
type Input struct {
	Places     []Pair  // of the underbody, read in both passes
	Dry        []Pair  // baseline places common to both
	Blocks     *Blocks // nil where they were not read; the gain is then taken as unchanged
	Alike      bool    // two instruments of one model and scale
	Components Components

	Rate     float64 // share of false discoveries allowed, and level of the limits: 0.05
	LeastDry int     // dry places needed: 6
	Matters  float64 // least change that matters, scale units; 0 where that was not said
}

func (in Input) check() error {
	if !(in.Rate > 0 && in.Rate < 1) {
		return &measure.ArgumentError{Argument: "in.Rate", Why: "must lie between 0 and 1"}
	}
	if in.LeastDry < 2 {
		return &measure.ArgumentError{Argument: "in.LeastDry", Why: "must be at least 2"}
	}
	if err := measure.Finite("in.Matters", in.Matters); err != nil {
		return err
	}
	if err := checkPairs("in.Places", in.Places); err != nil {
		return err
	}
	if err := checkPairs("in.Dry", in.Dry); err != nil {
		return err
	}
	if len(in.Dry) > 1000 { // the centre is taken over all pairs of them
		return &measure.ArgumentError{Argument: "in.Dry", Why: "must be at most 1000 places"}
	}
	if b := in.Blocks; b != nil {
		if err := measure.Finite("in.Blocks", b.LowBefore, b.HighBefore, b.LowAfter, b.HighAfter); err != nil {
			return err
		}
		if _, err := repeat.MedianVariance(b.K); err != nil {
			return &measure.ArgumentError{Argument: "in.Blocks.K", Why: "must be 1 to 5 placements"}
		}
		if !(b.HighBefore-b.LowBefore > 0.01) || !(b.HighAfter-b.LowAfter > 0.01) {
			return &measure.ArgumentError{Argument: "in.Blocks", Why: "must read higher on the high block than on the low one, before and after"}
		}
	}
	return nil
}

func checkPairs(argument string, ps []Pair) error {
	for i, p := range ps {
		name := fmt.Sprintf("%s[%d]", argument, i)
		if err := order.CheckValues(name, []measure.Value{p.Before, p.After}); err != nil {
			return err
		}
		if _, err := placements(p.KBefore, p.KAfter); err != nil {
			return &measure.ArgumentError{Argument: name, Why: "must be medians of 1 to 5 placements"}
		}
		if !(p.Extra >= 0 && p.Extra < 1e100) {
			return &measure.ArgumentError{Argument: name + ".Extra", Why: "must be finite and not below zero"}
		}
	}
	return nil
}
