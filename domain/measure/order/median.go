package order

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// Scale makes a median absolute deviation comparable with a standard deviation:
// 1/Φ⁻¹(¾), rounded as usual in the field (Iglewicz & Hoaglin 1993; R's mad).
const Scale = 1.4826

// Median estimates the middle of readings, with a confidence interval that assumes
// nothing about how they are distributed.
//
//	x      n ≥ 1 values, any unit, any order; left as it was
//	level  coverage asked for, 0 < level < 1, e.g. 0.95
//
// The interval is [x₍ₖ₎, x₍ₙ₊₁₋ₖ₎] with the largest k ≥ 1 whose coverage
// 1 − 2·P(B ≤ k−1), B ~ Binomial(n, ½), reaches level: David & Nagaraja, Order
// Statistics, 3rd ed., §7.1 (from memory; the coverage is checked by simulation).
// Level of the result is the coverage reached, never less than asked. Readings tied
// by a coarse scale make it cover more still, which the note "tied" says. Too few
// readings is no error but the note "too-few", an unbounded interval and Level 0.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x or level.
func Median(x []float64, level float64) (measure.Estimate, error) {
	s, err := sorted("x", x)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	k, reached := medianRank(len(s), level)
	e := measure.Estimate{Value: middle(s), N: len(s)}
	if k == 0 {
		e.Lower, e.Upper = math.Inf(-1), math.Inf(1)
		e.Notes = append(e.Notes, TooFew(len(s), NeededForMedian(level), level))
		return e, nil
	}
	e.Lower, e.Upper, e.Level = s[k-1], s[len(s)-k], reached
	e.Assumes = []string{"the readings are independent and come from one distribution"}
	if tied(s) {
		e.Notes = append(e.Notes, measure.Note{
			Code: "tied",
			Text: "Equal readings on a coarse scale: the interval covers more than stated.",
		})
	}
	return e, nil
}

// Middle is the plain median of n ≥ 1 values, without an interval.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x.
func Middle(x []float64) (float64, error) {
	s, err := sorted("x", x)
	if err != nil {
		return 0, err
	}
	return middle(s), nil
}

// MAD is the median of the absolute deviations from the median, raw, in the unit
// of x. Times [Scale] it estimates the standard deviation of normal readings.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x.
func MAD(x []float64) (float64, error) {
	s, err := sorted("x", x)
	if err != nil {
		return 0, err
	}
	return mad(s, middle(s)), nil
}

// NeededForMedian is the least number of readings with which the median has a
// bounded interval of this level: 1 − 2·(½)ⁿ ≥ level. 0.95 takes 6.
func NeededForMedian(level float64) int {
	return int(math.Ceil(math.Log2(2/(1-level)) - 1e-12))
}

// TooFew is the note that an interval needs more readings than there are.
func TooFew(have, need int, level float64) measure.Note {
	return measure.Note{
		Code: "too-few",
		Text: fmt.Sprintf("%d readings needed for an interval of %s, %d given.", need, Percent(level), have),
	}
}

// Percent writes a coverage for a sentence: 0.95 is "95 %".
func Percent(level float64) string { return fmt.Sprintf("%.3g %%", 100*level) }

// medianRank gives the largest k whose interval reaches level, and what it reaches;
// 0 where not even the extremes do.
func medianRank(n int, level float64) (k int, reached float64) {
	// P(B ≤ k−1) is summed term by term from (½)ⁿ, in logarithms so that it does not
	// underflow at n beyond a thousand.
	logTerm, tail := -float64(n)*math.Ln2, 0.0
	for j := 0; j < (n+1)/2; j++ {
		tail += math.Exp(logTerm)
		cover := 1 - 2*tail
		if cover < level-1e-12 {
			break
		}
		k, reached = j+1, cover
		logTerm += math.Log(float64(n-j)) - math.Log(float64(j+1))
	}
	return k, reached
}

func sorted(argument string, x []float64) ([]float64, error) {
	if len(x) == 0 {
		return nil, measure.ErrEmpty
	}
	if err := measure.Finite(argument, x...); err != nil {
		return nil, err
	}
	s := slices.Clone(x)
	slices.Sort(s)
	return s, nil
}

// middle is the median of sorted values. Halves are added, not the sum halved,
// because the sum of two large values may overflow.
func middle(s []float64) float64 {
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	a, b := s[n/2-1], s[n/2]
	if sum := a + b; !math.IsInf(sum, 0) {
		return sum / 2
	}
	return a/2 + b/2
}

func mad(x []float64, centre float64) float64 {
	d := make([]float64, len(x))
	for i, v := range x {
		d[i] = math.Abs(v - centre)
	}
	slices.Sort(d)
	return middle(d)
}

func tied(s []float64) bool {
	for i := 1; i < len(s); i++ {
		if s[i] == s[i-1] {
			return true
		}
	}
	return false
}
