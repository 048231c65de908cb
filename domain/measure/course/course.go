// Package course says what several visits show: whether readings rise or fall, how
// fast, how far a drying hull has come, when a band of dates puts it at a target, and
// whether it has stopped moving.
//
// Times are days (or any unit: rates come out per that unit), values are scale units,
// or contrasts in scale units. A word such as "trend" is earned: until the number of
// visits can carry it the answer is [CannotTell].
package course

import (
	"fmt"

	"boottop.example/practice/domain/measure"
)

// Verdict is the three-way answer.
type Verdict string

// The answers.
const (
	Rising     Verdict = "rising"
	Falling    Verdict = "falling"
	NoneShown  Verdict = "none-shown"
	CannotTell Verdict = "cannot-tell"
)

// series refuses what is not a series: lengths that differ, too few, not finite.
func series(t, y []float64, least int) error {
	if len(t) != len(y) {
		return &measure.ArgumentError{Argument: "y", Why: fmt.Sprintf("must be as long as t: %d values for %d times", len(y), len(t))}
	}
	if len(t) == 0 {
		return measure.ErrEmpty
	}
	if len(t) < least {
		return &measure.ArgumentError{Argument: "t", Why: fmt.Sprintf("must hold at least %d times, not %d", least, len(t))}
	}
	if err := sized("t", t); err != nil {
		return err
	}
	return sized("y", y)
}

// largest keeps squares and products of arguments finite.
const largest = 1e12

func sized(argument string, xs []float64) error {
	if err := measure.Finite(argument, xs...); err != nil {
		return err
	}
	for i, x := range xs {
		if x > largest || x < -largest {
			return &measure.ArgumentError{Argument: fmt.Sprintf("%s[%d]", argument, i), Why: "must not exceed 1e12"}
		}
	}
	return nil
}
