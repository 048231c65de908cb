package order

import (
	"math"

	"boottop.example/practice/domain/measure"
)

// Suspect is the value that sticks out most, and whether chance explains it.
type Suspect struct {
	Index    int     // in the values given
	G        float64 // distance from the mean in standard deviations
	Critical float64 // G that chance exceeds with probability alpha
	Outlier  bool    // G above Critical
}

// Tail says which values may be suspected.
type Tail uint8

// The tails of an outlier test.
const (
	Both Tail = iota
	Highest
	Lowest
)

// Grubbs tests the one value that lies furthest out: NIST/SEMATECH e-Handbook
// 1.3.5.17.1. It suits block checks, where one reading may be a slip; it assumes
// that the others are normal, and a second outlier can hide the first: use [ESD].
//
//	x      n ≥ 3 values
//	tail   which side may be suspected
//	alpha  chance of a false alarm, 0 < alpha < 1, e.g. 0.05
//
// Values that do not differ give G = 0 and no outlier.
//
// Errors: *measure.ArgumentError for x or alpha.
func Grubbs(x []float64, tail Tail, alpha float64) (Suspect, error) {
	if len(x) < 3 {
		return Suspect{}, &measure.ArgumentError{Argument: "x", Why: "must have at least 3 values"}
	}
	m, err := MomentsOf(x)
	if err != nil {
		return Suspect{}, err
	}
	if !(alpha > 0 && alpha < 1) {
		return Suspect{}, &measure.ArgumentError{Argument: "alpha", Why: "must lie between 0 and 1"}
	}
	sides := 2.0
	if tail != Both {
		sides = 1
	}
	s := Suspect{Critical: grubbsCritical(float64(len(x)), alpha/sides)}
	s.Index, s.G = furthest(x, m, tail)
	s.Outlier = s.G > s.Critical
	return s, nil
}

// grubbsCritical: e-Handbook 1.3.5.17.1, one tail of probability alpha.
func grubbsCritical(n, alpha float64) float64 {
	t := T(1-alpha/n, n-2)
	return (n - 1) / math.Sqrt(n) * math.Sqrt(t*t/(n-2+t*t))
}

func furthest(x []float64, m Moments, tail Tail) (index int, g float64) {
	if m.SD == 0 {
		return 0, 0
	}
	g = math.Inf(-1)
	for i, v := range x {
		d := (v - m.Mean) / m.SD
		switch tail {
		case Lowest:
			d = -d
		case Both:
			d = math.Abs(d)
		}
		if d > g {
			index, g = i, d
		}
	}
	return index, g
}

// ESD looks for up to most outliers at once: the generalised extreme studentised
// deviate test of Rosner, Technometrics 25 (1983) 165-172, as in NIST/SEMATECH
// e-Handbook 1.3.5.17.3. One outlier does not hide another.
//
//	x      n values, most+2 ≤ n; the critical values are good from n = 25, fair from 15
//	most   largest number of outliers thought possible, ≥ 1
//	alpha  chance of a false alarm
//
// The suspects come in the order in which they were set aside; the first outliers
// of them are outliers, even where a single step did not exceed its critical value.
//
// Errors: *measure.ArgumentError for x, most or alpha.
func ESD(x []float64, most int, alpha float64) (suspects []Suspect, outliers int, err error) {
	switch {
	case most < 1:
		return nil, 0, &measure.ArgumentError{Argument: "most", Why: "must be at least 1"}
	case len(x) < most+2:
		return nil, 0, &measure.ArgumentError{Argument: "x", Why: "must have at least two values more than may be outliers"}
	case !(alpha > 0 && alpha < 1):
		return nil, 0, &measure.ArgumentError{Argument: "alpha", Why: "must lie between 0 and 1"}
	}
	left, at := append([]float64(nil), x...), make([]int, len(x))
	for i := range at {
		at[i] = i
	}
	for range most {
		m, err := MomentsOf(left)
		if err != nil {
			return nil, 0, err
		}
		i, g := furthest(left, m, Both)
		s := Suspect{Index: at[i], G: g, Critical: esdCritical(float64(len(left)), alpha)}
		if s.Outlier = g > s.Critical; s.Outlier {
			outliers = len(suspects) + 1
		}
		suspects = append(suspects, s)
		left, at = append(left[:i], left[i+1:]...), append(at[:i], at[i+1:]...)
	}
	return suspects, outliers, nil
}

// esdCritical is λᵢ of Rosner 1983, written for the n−i+1 values still there.
func esdCritical(n, alpha float64) float64 {
	t := T(1-alpha/(2*n), n-2)
	return (n - 1) * t / math.Sqrt((n-2+t*t)*n)
}
