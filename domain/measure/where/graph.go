package where

import (
	"fmt"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Graph holds which places are neighbours. Neighbours of place i are
// to[start[i]:start[i+1]], ascending.
type Graph struct {
	start []int32
	to    []int32
}

// Reach is how far apart neighbours may lie: the half axes of an ellipse on the skin.
type Reach struct{ Along, Across unit.Millimetres }

// ReachOver is the reach for a grid with these spacings: it takes in the next place in
// each direction and the diagonal ones, not the next but one, and lets places be shifted
// by a fifth of the spacing.
func ReachOver(along, across unit.Millimetres) Reach {
	return Reach{Along: 1.6 * along, Across: 1.6 * across}
}

// Len is the number of places.
func (g *Graph) Len() int { return max(0, len(g.start)-1) }

// Neighbours gives the neighbours of place i, to be left as they are.
func (g *Graph) Neighbours(i int) []int32 { return g.to[g.start[i]:g.start[i+1]] }

// Joined finds the neighbours of every place on the unrolled skin.
//
// Errors: places or a reach that cannot be used.
func Joined(places []Place, reach Reach) (*Graph, error) {
	if err := checkPlaces(places); err != nil {
		return nil, err
	}
	if err := measure.Positive("reach.Along", float64(reach.Along)); err != nil {
		return nil, err
	}
	if err := measure.Positive("reach.Across", float64(reach.Across)); err != nil {
		return nil, err
	}
	n := len(places)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case places[a].Along < places[b].Along:
			return -1
		case places[a].Along > places[b].Along:
			return 1
		}
		return a - b
	})
	lists := make([][]int, n)
	for k, i := range order {
		for _, j := range order[k+1:] {
			da := float64((places[j].Along - places[i].Along) / reach.Along)
			if da > 1 {
				break
			}
			dv := float64((places[j].Across() - places[i].Across()) / reach.Across)
			if da*da+dv*dv <= 1 {
				lists[i] = append(lists[i], j)
				lists[j] = append(lists[j], i)
			}
		}
	}
	return FromLists(lists)
}

// FromLists makes a graph of given lists of neighbours, counted from 0.
//
// Errors: a neighbour that does not exist, is the place itself, or stands twice.
func FromLists(lists [][]int) (*Graph, error) {
	g := &Graph{start: make([]int32, 1, len(lists)+1)}
	for i, list := range lists {
		s := slices.Clone(list)
		slices.Sort(s)
		for k, j := range s {
			if j < 0 || j >= len(lists) || j == i || k > 0 && j == s[k-1] {
				return nil, &measure.ArgumentError{Argument: fmt.Sprintf("lists[%d]", i), Why: fmt.Sprintf("names %d, which is no other place or stands twice", j)}
			}
			g.to = append(g.to, int32(j))
		}
		g.start = append(g.start, int32(len(g.to)))
	}
	return g, nil
}

// lonely counts places without a neighbour.
func (g *Graph) lonely() int {
	n := 0
	for i := range g.Len() {
		if g.start[i] == g.start[i+1] {
			n++
		}
	}
	return n
}
