package where

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Matched joins a place of one set to a place of another.
type Matched struct {
	A, B      int     // indices
	Apart     float64 // distance over the skin, mm
	Ambiguous bool    // another place of either set lies within reach too
}

// Matching is how far two sets of places name the same spots.
type Matching struct {
	Pairs        []Matched // by A
	OnlyA, OnlyB []int     // without a partner
	Notes        []measure.Note
}

// Match pairs places of two grids that lie within reach of each other, nearest first,
// each place once. It is symmetric in a and b but for exact ties.
//
// Errors: places or reach that cannot be used.
func Match(a, b []Place, within unit.Millimetres) (Matching, error) {
	if err := checkPlaces(a); err != nil {
		return Matching{}, fmt.Errorf("a: %w", err)
	}
	if err := checkPlaces(b); err != nil {
		return Matching{}, fmt.Errorf("b: %w", err)
	}
	if err := measure.Positive("within", float64(within)); err != nil {
		return Matching{}, err
	}
	near := closer(a, b, float64(within))
	countA, countB := make([]int, len(a)), make([]int, len(b))
	for _, c := range near {
		countA[c.A]++
		countB[c.B]++
	}
	usedA, usedB := make([]bool, len(a)), make([]bool, len(b))
	var m Matching
	ambiguous := 0
	for _, c := range near {
		if usedA[c.A] || usedB[c.B] {
			continue
		}
		usedA[c.A], usedB[c.B] = true, true
		if c.Ambiguous = countA[c.A] > 1 || countB[c.B] > 1; c.Ambiguous {
			ambiguous++
		}
		m.Pairs = append(m.Pairs, c)
	}
	slices.SortFunc(m.Pairs, func(x, y Matched) int { return x.A - y.A })
	m.OnlyA, m.OnlyB = unused(usedA), unused(usedB)
	if ambiguous > 0 {
		m.Notes = append(m.Notes, measure.Note{Code: "ambiguous", Text: fmt.Sprintf("%d of %d pairs had another place within reach: the positions do not say which was meant.", ambiguous, len(m.Pairs))})
	}
	return m, nil
}

// closer lists the pairs within reach, nearest first.
func closer(a, b []Place, within float64) []Matched {
	across := make([]float64, len(b))
	for j, q := range b {
		across[j] = float64(q.Across())
	}
	near := make([]Matched, 0, len(a))
	for i, p := range a {
		along, down := float64(p.Along), float64(p.Across())
		for j := range b {
			dx := along - float64(b[j].Along)
			if dx > within || dx < -within {
				continue
			}
			if d := math.Hypot(dx, down-across[j]); d <= within {
				near = append(near, Matched{A: i, B: j, Apart: d})
			}
		}
	}
	slices.SortFunc(near, func(x, y Matched) int {
		return cmp.Or(cmp.Compare(x.Apart, y.Apart), cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B))
	})
	return near
}

// WithinFor is the reach in which two records of one spot lie 95 times in 100 when each
// was found again with these position errors (standard deviations along each axis):
// the distance follows Rayleigh's law, 2.4477·√(a² + b²).
func WithinFor(errorA, errorB unit.Millimetres) (unit.Millimetres, error) {
	for k, e := range [...]unit.Millimetres{errorA, errorB} {
		if !(e >= 0 && e <= farthest) {
			return 0, &measure.ArgumentError{Argument: [...]string{"errorA", "errorB"}[k], Why: "must be a distance, not below zero"}
		}
	}
	return unit.Millimetres(math.Sqrt(-2*math.Log(0.05)) * math.Hypot(float64(errorA), float64(errorB))), nil
}

func unused(used []bool) []int {
	var free []int
	for i, u := range used {
		if !u {
			free = append(free, i)
		}
	}
	return free
}
