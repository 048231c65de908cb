package beside

import (
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Positions gives each reading's place in the order of its own pass, between 0 (lowest)
// and 1 (highest): (rank − ½)/n, mid-ranks for equal ones. It is all that may be
// compared between unlike instruments without a cross-reading set.
//
//	vs  n ≥ 1 readings of one pass; those below the scale come before all others at
//	    its end, those above after; a range counts by its middle
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for vs.
func Positions(vs []measure.Value) ([]float64, error) {
	if len(vs) == 0 {
		return nil, measure.ErrEmpty
	}
	if err := order.CheckValues("vs", vs); err != nil {
		return nil, err
	}
	at := make([]int, len(vs))
	for i := range at {
		at[i] = i
	}
	slices.SortFunc(at, func(i, j int) int { return rank(vs[i], vs[j]) })
	out := make([]float64, len(vs))
	for i := 0; i < len(at); {
		j := i + 1
		for j < len(at) && rank(vs[at[i]], vs[at[j]]) == 0 {
			j++
		}
		mid := float64(i+j) / 2 / float64(len(vs)) // ranks i+1 … j, so mid-rank − ½ is (i+j)/2
		for ; i < j; i++ {
			out[at[i]] = mid
		}
	}
	return out, nil
}

// rank orders two readings, limits beyond the numbers at the same end.
func rank(a, b measure.Value) int {
	if a.At != b.At {
		if a.At < b.At {
			return -1
		}
		return 1
	}
	return side(a) - side(b)
}

func side(v measure.Value) int {
	switch v.Limit {
	case measure.Below:
		return -1
	case measure.Above:
		return 1
	default:
		return 0
	}
}
