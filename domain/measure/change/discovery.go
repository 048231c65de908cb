package change

import (
	"slices"

	"boottop.example/practice/domain/measure"
)

// Discoveries says which of many tests count, and at which rate of false ones.
type Discoveries struct {
	Adjusted []float64 // in the order given; found where ≤ the rate asked for
	Found    []bool
	Count    int
}

// Discover controls the share of false discoveries among many tests: Benjamini &
// Hochberg, J. R. Stat. Soc. B 57 (1995) 289-300, procedure (1); adjusted values as
// their running minimum from the largest down. Where nothing at all is there, the
// chance of any discovery is at most q. Holds for independent and for positively
// dependent tests (Benjamini & Yekutieli 2001).
//
//	p  chances, each 0 ≤ p ≤ 1
//	q  share of false discoveries allowed, 0 < q < 1, e.g. 0.05
//
// Errors: *measure.ArgumentError for p or q.
func Discover(p []float64, q float64) (Discoveries, error) {
	if err := measure.Finite("p", p...); err != nil {
		return Discoveries{}, err
	}
	for _, v := range p {
		if v < 0 || v > 1 {
			return Discoveries{}, &measure.ArgumentError{Argument: "p", Why: "must lie between 0 and 1"}
		}
	}
	if !(q > 0 && q < 1) {
		return Discoveries{}, &measure.ArgumentError{Argument: "q", Why: "must lie between 0 and 1"}
	}
	at := make([]int, len(p))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int {
		switch {
		case p[a] < p[b]:
			return -1
		case p[a] > p[b]:
			return 1
		default:
			return 0
		}
	})
	d := Discoveries{Adjusted: make([]float64, len(p)), Found: make([]bool, len(p))}
	least := 1.0
	for rank := len(at); rank >= 1; rank-- {
		i := at[rank-1]
		least = min(least, p[i]*(float64(len(p))/float64(rank)))
		d.Adjusted[i] = least
		if d.Found[i] = least <= q; d.Found[i] {
			d.Count++
		}
	}
	return d, nil
}
