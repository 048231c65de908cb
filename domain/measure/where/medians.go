package where

import (
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Left is what stands when the ordinary is taken out.
type Left struct {
	Residual []float64 // by place, scale units
	Z        []float64 // residual over the scatter of all residuals
	Scatter  float64   // 1.4826 × MAD of the residuals, at least that of half a step
	Notes    []measure.Note
}

// leastGroup is how many places a row or region needs for its median to mean anything
// but the places themselves. Own default, no source.
const leastGroup = 5

// TakeOut removes region and row medians, hulls being wetter towards the keel and unlike
// from region to region, by two rounds of median polish (Tukey, Exploratory Data
// Analysis, 1977, ch. 11).
//
//	y       value of each place; a reading at a limit enters as the end of the scale, so
//	        that what is left of it is a bound
//	region  of each place: a number for each group of like surface and construction
//	row     of each place: a number for each row down the skin, the same on both sides,
//	        so that a patch on one side does not hide itself
//	step    smallest step of the scale, as in order.Scatter
//
// Rows and regions of fewer than five places are left in, and a note says so.
//
// Errors: lengths that differ, values not finite, a step below zero.
func TakeOut(y []float64, region, row []int, step float64) (Left, error) {
	if len(y) == 0 {
		return Left{}, measure.ErrEmpty
	}
	if err := measure.Finite("y", y...); err != nil {
		return Left{}, err
	}
	if err := checkLength("region", len(region), len(y)); err != nil {
		return Left{}, err
	}
	if err := checkLength("row", len(row), len(y)); err != nil {
		return Left{}, err
	}
	l := Left{Residual: append([]float64(nil), y...)}
	if small := l.polish(grouped(region), grouped(row)); small > 0 {
		l.Notes = append(l.Notes, measure.Note{Code: "small-groups", Text: fmt.Sprintf("%d rows or regions have fewer than %d places; their medians were left in.", small, leastGroup)})
	}
	err := l.standardise(step)
	return l, err
}

// polish takes the medians out in two rounds and counts the groups too small for one.
func (l *Left) polish(regions, rows [][]int) (small int) {
	for round := range 2 {
		for _, groups := range [][][]int{regions, rows} {
			for _, g := range groups {
				switch {
				case len(g) >= leastGroup:
					l.takeMedian(g)
				case round == 0:
					small++
				}
			}
		}
	}
	return small
}

// standardise centres what is left and sets it against its scatter.
func (l *Left) standardise(step float64) error {
	all, err := order.Middle(l.Residual)
	if err != nil {
		return err
	}
	if l.Scatter, err = order.Scatter(l.Residual, step); err != nil {
		return err
	}
	l.Z = make([]float64, len(l.Residual))
	for i := range l.Residual {
		l.Residual[i] -= all
		if l.Scatter > 0 {
			l.Z[i] = l.Residual[i] / l.Scatter
		}
	}
	if l.Scatter == 0 {
		l.Notes = append(l.Notes, measure.Note{Code: "no-scatter", Text: "More than half of the places are equal once rows and regions are out, and no step of the scale was given: nothing can be called unusual."})
	}
	return nil
}

func (l *Left) takeMedian(group []int) {
	xs := make([]float64, len(group))
	for k, i := range group {
		xs[k] = l.Residual[i]
	}
	m, err := order.Middle(xs)
	if err != nil { // the values were finite; a difference may still overflow
		return
	}
	for _, i := range group {
		l.Residual[i] -= m
	}
}

// grouped lists the indices of each group, groups in order of first appearance.
func grouped(of []int) [][]int {
	at := map[int]int{}
	var groups [][]int
	for i, g := range of {
		k, ok := at[g]
		if !ok {
			k = len(groups)
			at[g] = k
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], i)
	}
	return groups
}
