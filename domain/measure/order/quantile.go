package order

import (
	"math"

	"boottop.example/practice/domain/measure"
)

// Definition numbers the sample quantiles of Hyndman & Fan, The American
// Statistician 50 (1996) 361-365. State it wherever a quantile is shown.
type Definition uint8

// The nine definitions. Type7 is the usual default of statistical programs; Type8 is
// the authors' own recommendation, nearly unbiased for the median.
const (
	Type1 Definition = iota + 1
	Type2
	Type3
	Type4
	Type5
	Type6
	Type7
	Type8
	Type9
)

// Quantile gives the p-th sample quantile of n ≥ 1 values.
//
//	x  any unit, any order; left as it was
//	p  0 ≤ p ≤ 1
//	d  which definition
//
// With j = ⌊np+m⌋ and g = np+m−j it is (1−γ)·x₍ⱼ₎ + γ·x₍ⱼ₊₁₎, where m and γ(g) are the
// definition's: Hyndman & Fan 1996, eq. 1 and table 1.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x, p or d.
func Quantile(x []float64, p float64, d Definition) (float64, error) {
	s, err := sorted("x", x)
	if err != nil {
		return 0, err
	}
	if !(p >= 0 && p <= 1) {
		return 0, &measure.ArgumentError{Argument: "p", Why: "must lie between 0 and 1"}
	}
	if d < Type1 || d > Type9 {
		return 0, &measure.ArgumentError{Argument: "d", Why: "must be one of the nine definitions"}
	}
	at := float64(len(s))*p + d.offset(p)
	// Rounding in n·p must not push a rank over or under a whole number.
	j := math.Floor(at + 4*epsilon*math.Max(1, math.Abs(at)))
	g := at - j
	if math.Abs(g) < 4*epsilon*math.Max(1, math.Abs(at)) {
		g = 0
	}
	a, b := ranked(s, j), ranked(s, j+1)
	switch w := d.weight(j, g); w {
	case 0:
		return a, nil
	case 1:
		return b, nil
	default:
		return (1-w)*a + w*b, nil
	}
}

const epsilon = 0x1p-52

func (d Definition) offset(p float64) float64 {
	switch d {
	case Type3:
		return -0.5
	case Type5:
		return 0.5
	case Type6:
		return p
	case Type7:
		return 1 - p
	case Type8:
		return (p + 1) / 3
	case Type9:
		return p/4 + 3.0/8
	default:
		return 0
	}
}

func (d Definition) weight(j, g float64) float64 {
	switch d {
	case Type1:
		return step(g > 0, 0)
	case Type2:
		return step(g > 0, 0.5)
	case Type3: // the nearer rank; half-way, the even one
		return step(g > 0 || math.Mod(j, 2) != 0, 0)
	default:
		return g
	}
}

func step(up bool, otherwise float64) float64 {
	if up {
		return 1
	}
	return otherwise
}

// ranked gives the j-th value in order, counting from 1, the extremes beyond the ends.
func ranked(s []float64, j float64) float64 {
	return s[int(min(max(j, 1), float64(len(s))))-1]
}

// Fences gives Tukey's fences: quartiles by d, widened by k times their distance.
// k is 1.5 for "outside" and 3 for "far out" (Tukey 1977).
//
// Errors: as [Quantile]; *measure.ArgumentError for k.
func Fences(x []float64, k float64, d Definition) (low, high float64, err error) {
	if err := measure.Positive("k", k); err != nil {
		return 0, 0, err
	}
	q1, err := Quantile(x, 0.25, d)
	if err != nil {
		return 0, 0, err
	}
	q3, err := Quantile(x, 0.75, d)
	return q1 - k*(q3-q1), q3 + k*(q3-q1), err
}
