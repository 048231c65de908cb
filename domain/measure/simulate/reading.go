package simulate

import "boottop.example/practice/domain/measure"

// Reading is what was written at one place on one occasion.
type Reading struct {
	Place      int // index into the hull's places
	Occasion   int // 1 for the grid; 2 for a repeat
	Placements []Placement
	NotReached bool
	Truth      float64 // units the instrument would have shown at the very spot without any error
}

// Median is the reading's value: the median of its placements by order, limits
// carried. False when there is none.
func (r Reading) Median() (measure.Value, bool) {
	if len(r.Placements) == 0 {
		return measure.Value{}, false
	}
	s := append([]Placement(nil), r.Placements...)
	for i := range s { // one to five: insertion sort by scale order
		for j := i; j > 0 && before(s[j], s[j-1]); j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
	a, b := s[(len(s)-1)/2], s[len(s)/2]
	if a.Limit != b.Limit { // half-way between a number and an end: a range to that end
		low, high := a.Value().At, b.Value().At
		return measure.Value{At: (low + high) / 2, Limit: measure.Range, Low: low, High: high}, true
	}
	return measure.Value{At: (a.Value().At + b.Value().At) / 2, Limit: a.Limit}, true
}

func before(a, b Placement) bool {
	if a.Limit != b.Limit {
		return a.Limit == measure.Below || b.Limit == measure.Above
	}
	return a.Tenths < b.Tenths
}
