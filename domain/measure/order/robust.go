package order

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// FlagAbove is the modified z beyond which a value is called an outlier:
// Iglewicz & Hoaglin 1993, as in NIST/SEMATECH e-Handbook 1.3.5.17.
const FlagAbove = 3.5

// ModifiedZ gives 0.6745·(x−median)/MAD for each value: Iglewicz & Hoaglin 1993.
//
//	x     n ≥ 1 values of one unit
//	step  smallest step of the scale in that unit, ≥ 0; the MAD never counts as less
//	      than half of it, else a scale read in whole units flags everything that
//	      is not the commonest value
//
// Where both the MAD and step are zero, values unlike the median are ±Inf.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x or step.
func ModifiedZ(x []float64, step float64) ([]float64, error) {
	centre, spread, err := centreAndMAD(x, step)
	if err != nil {
		return nil, err
	}
	z := make([]float64, len(x))
	for i, v := range x {
		if d := v - centre; d != 0 {
			z[i] = 0.6745 * d / spread
		}
	}
	return z, nil
}

// Scatter is 1.4826 × MAD, at least 1.4826 × half a step of the scale: the robust
// standard deviation, in the unit of x. Arguments and errors as [ModifiedZ].
func Scatter(x []float64, step float64) (float64, error) {
	_, spread, err := centreAndMAD(x, step)
	return Scale * spread, err
}

func centreAndMAD(x []float64, step float64) (centre, spread float64, err error) {
	s, err := sorted("x", x)
	if err != nil {
		return 0, 0, err
	}
	if err := measure.Finite("step", step); err != nil {
		return 0, 0, err
	}
	if step < 0 {
		return 0, 0, &measure.ArgumentError{Argument: "step", Why: "must not be below zero"}
	}
	centre = middle(s)
	return centre, max(mad(s, centre), step/2), nil
}

// Huber gives Huber's M-estimate of location with the MAD as scale: values further
// than k·1.4826·MAD from the centre count as if they lay there. Huber 1981 §6.7, by
// reweighting to convergence; k = 1.5 is usual.
//
//	x     n ≥ 1 values
//	k     > 0
//	step  as in [ModifiedZ]
//
// It carries no interval (Level 0): use [Median]'s.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x, k or step.
func Huber(x []float64, k, step float64) (measure.Estimate, error) {
	mu, spread, err := centreAndMAD(x, step)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Positive("k", k); err != nil {
		return measure.Estimate{}, err
	}
	e := measure.Estimate{Value: mu, N: len(x), Notes: []measure.Note{{
		Code: "no-interval", Text: "No interval is offered for this estimate; the median's assumes nothing.",
	}}}
	reach := k * Scale * spread
	if reach == 0 || math.IsInf(reach, 0) {
		return e, nil
	}
	for range 1000 {
		var moved float64
		for _, v := range x {
			moved += min(max(v-mu, -reach), reach) / float64(len(x))
		}
		if mu += moved; math.Abs(moved) <= 1e-14*reach {
			break
		}
	}
	e.Value = mu
	return e, nil
}

// Sn is the scale estimate of Rousseeuw & Croux, J. Am. Stat. Assoc. 88 (1993)
// 1273-1283, eq. 2.1: a low median over i of high medians over j of |xᵢ−xⱼ|, made
// comparable with a standard deviation of normal values. It needs no centre and
// suits skewed values. Constant and small-sample factors: theirs, §2 (from memory;
// reproduced against published software).
//
//	x  2 ≤ n ≤ [LargestN] values
//
// Errors: *measure.ArgumentError for x.
func Sn(x []float64) (float64, error) {
	s, err := pairable(x)
	if err != nil {
		return 0, err
	}
	n := len(s)
	highs, d := make([]float64, n), make([]float64, n)
	for i, v := range s {
		for j, w := range s {
			d[j] = math.Abs(v - w)
		}
		slices.Sort(d)
		highs[i] = d[n/2]
	}
	slices.Sort(highs)
	return 1.1926 * snFactor(n) * highs[(n+1)/2-1], nil
}

func snFactor(n int) float64 {
	small := [...]float64{0.743, 1.851, 0.954, 1.351, 0.993, 1.198, 1.005, 1.131}
	switch {
	case n <= 9:
		return small[n-2]
	case n%2 == 1:
		return float64(n) / (float64(n) - 0.9)
	default:
		return 1
	}
}

// Qn is the other scale estimate of Rousseeuw & Croux 1993, eq. 3.1: the k-th
// smallest |xᵢ−xⱼ|, i < j, k = C(⌊n/2⌋+1, 2). More efficient than the MAD and than
// [Sn]. Constant 2.21914 and small-sample factors as in current statistical software
// (from memory; reproduced).
//
//	x  2 ≤ n ≤ [LargestN] values
//
// Errors: *measure.ArgumentError for x.
func Qn(x []float64) (float64, error) {
	s, err := pairable(x)
	if err != nil {
		return 0, err
	}
	n := len(s)
	d := make([]float64, 0, n*(n-1)/2)
	for i := range s {
		for j := range i {
			d = append(d, s[i]-s[j])
		}
	}
	slices.Sort(d)
	h := n/2 + 1
	return 2.21914 * qnFactor(n) * d[h*(h-1)/2-1], nil
}

func qnFactor(size int) float64 {
	small := [...]float64{0.399356, 0.99365, 0.51321, 0.84401, 0.61220, 0.85877, 0.66993, 0.87344, 0.72014, 0.88906, 0.75743}
	n := float64(size)
	switch {
	case size <= 12:
		return small[size-2]
	case size%2 == 1:
		return 1 / (1 + (1.60188+(-2.1284-5.172/n)/n)/n)
	default:
		return 1 / (1 + (3.67561+(1.9654+(6.987-77/n)/n)/n)/n)
	}
}

// LargestN bounds what works on all pairs of values, so that it ends soon.
const LargestN = 4000

func pairable(x []float64) ([]float64, error) {
	if n := len(x); n < 2 || n > LargestN {
		return nil, &measure.ArgumentError{Argument: "x", Why: "must have between 2 and 4000 values"}
	}
	return sorted("x", x)
}
