package beside

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Why says why two instruments cannot be set side by side, or not at this reading.
type Why uint8

// The reasons.
const (
	TooFewPlaces Why = iota + 1 // fewer than [Least]
	NoRelation                  // the second does not rise with the first: the slope's interval reaches zero
	BeyondSpan                  // outside what the cross-reading set spans
	BandTooWide                 // the band is wider than the effect in question
)

// String gives the code programs use.
func (w Why) String() string {
	return map[Why]string{TooFewPlaces: "too-few-places", NoRelation: "no-relation", BeyondSpan: "beyond-span", BandTooWide: "band-too-wide"}[w]
}

// Crossing is a cross-reading set: places read with two instruments on one day.
type Crossing struct {
	Fit       Demings
	Check     Line    // Passing & Bablok's, which a stray place does not pull
	Low, High float64 // span of the first instrument's readings
	Level     float64
	Why       []Why // why it cannot be used; empty if it can
	Notes     []measure.Note
}

// Cross fits a cross-reading set.
//
//	x, y   readings of the same places, wet to dry, each in its own scale units;
//	       readings at the end of a scale left out; 4 ≤ n ≤ 2000, [Least] to be of use
//	ratio  var(error of x)/var(error of y), from both instruments' s_r
//	level  of band and intervals
//
// A residual that Grubbs' test finds has the note "stray"; lines by the two methods
// that do not meet in their intervals have the note "methods-differ".
//
// Errors: *measure.ArgumentError, as [Deming] and [PassingBablok].
func Cross(x, y []float64, ratio, level float64) (Crossing, error) {
	if err := check(x, y, 4); err != nil {
		return Crossing{}, err
	}
	fit, err := Deming(x, y, ratio, level)
	if err != nil {
		return Crossing{}, err
	}
	c := Crossing{Fit: fit, Low: x[0], High: x[0], Level: level}
	for _, v := range x {
		c.Low, c.High = min(c.Low, v), max(c.High, v)
	}
	if len(x) < Least {
		c.Why = append(c.Why, TooFewPlaces)
	}
	if fit.Slope.Lower <= 0 {
		c.Why = append(c.Why, NoRelation)
		return c, nil
	}
	if c.Check, err = PassingBablok(x, y, level); err != nil {
		c.Why = append(c.Why, NoRelation)
		return c, nil
	}
	c.note(x, y)
	return c, nil
}

func (c *Crossing) note(x, y []float64) {
	r := make([]float64, len(x))
	for i := range x {
		r[i] = y[i] - c.Fit.Intercept.Value - c.Fit.Slope.Value*x[i]
	}
	if s, err := order.Grubbs(r, order.Both, 0.05); err == nil && s.Outlier {
		c.Notes = append(c.Notes, measure.Note{Code: "stray", Text: "One place lies further from the line than chance explains: look at it again."})
	}
	if s, p := c.Fit.Slope, c.Check.Slope; s.Lower > p.Upper || p.Lower > s.Upper {
		c.Notes = append(c.Notes, measure.Note{Code: "methods-differ", Text: "Two ways of fitting do not agree: the relation may not be a line."})
	}
}

// Band gives what the second instrument must be expected to read where the first read
// at: a + b·at ± t·√(s² + var of the line there), n−2 degrees of freedom. It holds for
// single new readings made like those of the set, errors of both included.
//
// why is not empty where the set cannot be used or does not span at; then the band
// is unbounded.
//
// Errors: *measure.ArgumentError for at.
func (c Crossing) Band(at float64) (band measure.Estimate, why []Why, err error) {
	if err := measure.Finite("at", at); err != nil {
		return measure.Estimate{}, nil, err
	}
	why = append(why, c.Why...)
	if at < c.Low || at > c.High {
		why = append(why, BeyondSpan)
	}
	f := c.Fit
	mid := f.Intercept.Value + f.Slope.Value*at
	if len(why) > 0 {
		return measure.Estimate{Value: mid, Lower: math.Inf(-1), Upper: math.Inf(1), N: f.N}, why, nil
	}
	line := f.VarIntercept + 2*at*f.Cov + at*at*f.VarSlope
	half := order.T((1+c.Level)/2, float64(f.N-2)) * math.Sqrt(f.Residual*f.Residual+max(0, line))
	band = around(mid, half, c.Level, f.N)
	band.Notes = append(append([]measure.Note(nil), c.Notes...), measure.Note{
		Code: "leans-on-normal", Text: "The band holds for errors that are about normal; for skewed ones one side is too narrow.",
	})
	return band, nil, nil
}

// Answer is what a cross-reading set lets say of two readings.
type Answer uint8

// The answers. The zero Answer promises nothing.
const (
	NotComparable Answer = iota
	WithinBand           // no change shown
	BeyondBand           // more than the two instruments explain
)

// String gives the answer in words.
func (a Answer) String() string {
	switch a {
	case WithinBand:
		return "within the band"
	case BeyondBand:
		return "beyond the band"
	default:
		return "not comparable"
	}
}

// Verdict is what can be said of one place read with unlike instruments.
type Verdict struct {
	Answer Answer
	Why    []Why            // for not comparable
	Band   measure.Estimate // expected of the second instrument, its scale units
	Beyond float64          // how far the second reading lies outside the band; 0 inside
}

// Judge asks whether a place changed between a reading with the first instrument and
// a later one with the second.
//
//	x       first instrument, its scale units
//	y       second instrument, its own
//	effect  least change that matters, in units of the second, > 0
//
// The instruments are not comparable where half the band exceeds effect. Finding the
// place again and place × visit are in the band only if the set was read so.
//
// Errors: *measure.ArgumentError for x, y or effect.
func (c Crossing) Judge(x, y, effect float64) (Verdict, error) {
	if err := measure.Finite("y", y); err != nil {
		return Verdict{}, err
	}
	if err := measure.Positive("effect", effect); err != nil {
		return Verdict{}, err
	}
	if err := measure.Finite("x", x); err != nil {
		return Verdict{}, err
	}
	band, why, err := c.Band(x)
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Band: band, Why: why}
	if len(why) > 0 {
		return v, nil
	}
	if band.Upper-band.Value > effect {
		v.Why = append(v.Why, BandTooWide)
		return v, nil
	}
	if v.Beyond = max(y-band.Upper, band.Lower-y, 0); v.Beyond > 0 {
		v.Answer = BeyondBand
	} else {
		v.Answer = WithinBand
	}
	return v, nil
}

func tTail(t, df float64) float64 {
	return min(1, 2*distuv.StudentsT{Sigma: 1, Nu: df}.Survival(math.Abs(t)))
}
