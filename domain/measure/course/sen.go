package course

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Ranks says how the ranks that bound Sen's interval are found.
type Ranks int

// The ways in use. ExactRanks is the one to use; the others are for comparison with
// work that used them.
const (
	ExactRanks        Ranks = iota // from the summed distribution of S: covers at least the level
	InterpolatedRanks              // Gilbert 1987 p. 218: M1 and M2+1, between ranks
	NearestRanks                   // the same, rounded
	OutwardRanks                   // the same, rounded outwards
)

// Sen estimates a rate of change by the median of the slopes between all pairs.
//
//	t, y   n ≥ 2 times and values; at least two times differ
//	level  coverage asked for
//
// The estimate is in units of y per unit of t. Sen 1968; its interval by ranks of the
// sorted slopes. Where n cannot carry the level the interval is unbounded and a note
// says how many visits it takes.
//
// Errors: as for MannKendall; times that are all equal.
func Sen(t, y []float64, level float64, ranks Ranks) (measure.Estimate, error) {
	if err := series(t, y, 2); err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	s := slopes(nil, t, y)
	if len(s) == 0 {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "t", Why: "must hold at least two different times"}
	}
	slices.Sort(s)
	tt := ties(t)
	e := measure.Estimate{Value: medianSorted(s), Level: level, N: len(y), Assumes: []string{"visits independent of one another", "change at a steady rate"}}
	if ranks == ExactRanks && len(tt) == 0 && len(y) <= exactUpTo {
		e.Lower, e.Upper = exactRanks(s, len(y), level)
	} else {
		inY := ties(y)
		if ranks == ExactRanks { // too many, or equal times: as without ties in y, which covers more
			ranks, inY = OutwardRanks, nil
		}
		e.Lower, e.Upper = normalRanks(s, varianceS(len(y), inY, tt), level, ranks)
	}
	if math.IsInf(e.Lower, 0) || math.IsInf(e.Upper, 0) {
		e.Notes = append(e.Notes, measure.Note{Code: "too-few", Text: fmt.Sprintf("%s cannot bound a rate with this certainty; it takes %d.", visits(len(y)), VisitsForTrend(level))})
	}
	return e, nil
}

// slopes appends the slopes between all pairs of different times.
func slopes(s, t, y []float64) []float64 {
	for i := range t {
		for j := range i {
			if dt := t[i] - t[j]; dt != 0 {
				s = append(s, (y[i]-y[j])/dt)
			}
		}
	}
	return s
}

// exactRanks is [s₍ᵣ₎, s₍ₖ₊₁₋ᵣ₎] with the largest r whose coverage 1 − 2·P(S ≥ K−2(r−1))
// reaches level: the true rate lies below s₍ᵣ₎ when fewer than r of the K slopes lie
// below it, which is S of the residuals being at least K − 2(r−1). The distribution is
// the one without ties; with ties the interval covers more.
func exactRanks(s []float64, n int, level float64) (lower, upper float64) {
	ones := make([]int, n)
	for i := range ones {
		ones[i] = 1
	}
	p := inversions(ones)
	r, sum := 0, 0.0
	for r < len(s)/2 && 2*(sum+p[r]) <= 1-level+1e-12 {
		sum += p[r]
		r++
	}
	if r == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	return s[r-1], s[len(s)-r]
}

// normalRanks finds the bounds from C = z·√Var(S): ranks (K−C)/2 and (K+C)/2 + 1,
// Gilbert 1987 eq. 16.6 and p. 218.
func normalRanks(s []float64, v, level float64, ranks Ranks) (lower, upper float64) {
	k := float64(len(s))
	c := distuv.UnitNormal.Quantile((1+level)/2) * math.Sqrt(v)
	lo, hi := (k-c)/2, (k+c)/2+1
	switch ranks {
	case NearestRanks:
		lo, hi = math.RoundToEven(lo), math.RoundToEven(hi)
	case OutwardRanks:
		lo, hi = math.Floor(lo), math.Ceil(hi)
	}
	return atRank(s, lo), atRank(s, hi)
}

// atRank interpolates between sorted values; ranks count from 1, and what lies outside
// is not known.
func atRank(s []float64, rank float64) float64 {
	switch {
	case rank < 1:
		return math.Inf(-1)
	case rank > float64(len(s)):
		return math.Inf(1)
	}
	i := int(rank)
	if i == len(s) {
		return s[i-1]
	}
	return s[i-1] + (rank-float64(i))*(s[i]-s[i-1])
}

func medianSorted(s []float64) float64 {
	m := len(s) / 2
	if len(s)%2 == 1 {
		return s[m]
	}
	return s[m-1]/2 + s[m]/2
}
