// Package measure holds what every subject of the arithmetic shares: how a value
// of a relative scale is written down, how an estimate carries its doubt, and how
// a bad argument is named. Each subject has a package below this one.
//
// Everything here is a pure function of its arguments: no clock, no database, no
// global state. Randomness comes in as a seed.
package measure

import (
	"errors"
	"fmt"
	"math"
)

// Twentieth counts twentieths of a scale unit. Instruments are read to a tenth;
// the median of an even number of placements falls half-way, so twentieths hold
// every reading exactly. 35.3 units are 706 twentieths.
type Twentieth int32

// Units gives the value in scale units.
func (t Twentieth) Units() float64 { return float64(t) / 20 }

// FromTenths turns what was read on an instrument into twentieths.
func FromTenths(tenths int32) Twentieth { return Twentieth(tenths * 2) }

// Limit says how a reading met the end of its instrument's scale. A limit is
// evidence and is carried by order; it is never a number beyond the scale.
type Limit uint8

// The limits a reading can carry.
const (
	Exact Limit = iota // At is what was read
	Below              // under the lower end: At is that end
	Above              // over the upper end: At is that end
	Range              // as written, between Low and High: At is half-way
)

// Value is one reading on a relative scale, with its limit flag. The zero Value
// is an exact reading of zero units.
type Value struct {
	At        Twentieth // what was read, the end met, or the middle of a range: its place in an order
	Limit     Limit
	Low, High Twentieth // set for a Range only
}

// Bounds gives the interval the value is known to lie in, in scale units:
// a point for an exact one, half-open towards infinity beyond a limit.
func (v Value) Bounds() (low, high float64) {
	switch v.Limit {
	case Below:
		return math.Inf(-1), v.At.Units()
	case Above:
		return v.At.Units(), math.Inf(1)
	case Range:
		return v.Low.Units(), v.High.Units()
	default:
		return v.At.Units(), v.At.Units()
	}
}

// Estimate is a figure with what is known of its error. An unbounded side of the
// interval is an infinity; Notes say why.
type Estimate struct {
	Value        float64
	Lower, Upper float64  // interval of coverage Level
	Level        float64  // e.g. 0.95; 0 where no interval was asked for or can be given
	N            int      // how many values stand behind it
	Notes        []Note   // doubt that does not stop the work
	Assumes      []string // what the interval rests on, in words
}

// Note is a doubt said in words, with a code that programs can act on.
type Note struct {
	Code string // lower-case words joined by hyphens, e.g. "too-few"
	Text string // a sentence for a person
}

// Has tells whether the estimate carries a note of this code.
func (e Estimate) Has(code string) bool {
	for _, n := range e.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

// ErrEmpty is returned where at least one value is needed.
var ErrEmpty = errors.New("no values given")

// ArgumentError names the argument that cannot be used and says why.
type ArgumentError struct {
	Argument string // as in the function's documentation
	Why      string // "must be finite", "must lie between 0 and 1"
}

// Error gives the argument and what it must be, as one sentence without its full stop.
func (e *ArgumentError) Error() string { return e.Argument + " " + e.Why }

// Finite refuses NaN and the infinities, naming the argument and its index.
//
// Errors: *ArgumentError.
func Finite(argument string, xs ...float64) error {
	for i, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			name := argument
			if len(xs) > 1 {
				name = fmt.Sprintf("%s[%d]", argument, i)
			}
			return &ArgumentError{Argument: name, Why: "must be finite"}
		}
	}
	return nil
}

// Positive refuses what is not finite or not above zero.
//
// Errors: *ArgumentError.
func Positive(argument string, x float64) error {
	if err := Finite(argument, x); err != nil {
		return err
	}
	if x <= 0 {
		return &ArgumentError{Argument: argument, Why: "must be above zero"}
	}
	return nil
}

// Level refuses a coverage that does not lie strictly between 0 and 1.
//
// Errors: *ArgumentError.
func Level(level float64) error {
	if !(level > 0 && level < 1) {
		return &ArgumentError{Argument: "level", Why: "must lie between 0 and 1"}
	}
	return nil
}
