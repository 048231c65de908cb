package change

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Parts is a table of places by visits taken apart: every cell present is
// Common + Place + Visit + Left.
type Parts struct {
	Common float64
	Place  []float64   // one a row; their median is 0
	Visit  []float64   // one a column; their median is 0
	Left   [][]float64 // what neither explains; 0 where a cell is missing
	Rounds int         // sweeps it took
	Notes  []measure.Note
}

// Polish parts visit, place and what is left by Tukey's median polish: Exploratory
// Data Analysis (1977) ch. 11. A few changed places do not pull a visit's effect.
//
//	table    table[place][visit], one unit, all rows of one length
//	missing  true where a place was not read; nil where all were
//
// The part of a row or column without any cell is zero, with the note
// "nothing-read". Sweeps stop when the sum of absolute residuals falls by less than
// one part in a million, after 100 at the latest, with the note "not-settled".
//
// Errors: *measure.ArgumentError for table or missing.
func Polish(table [][]float64, missing [][]bool) (Parts, error) {
	if err := checkTable(table, missing); err != nil {
		return Parts{}, err
	}
	p := Parts{Place: make([]float64, len(table)), Visit: make([]float64, len(table[0]))}
	gone := func(i, j int) bool { return missing != nil && missing[i][j] }
	for i, row := range table {
		left := make([]float64, len(row))
		for j, v := range row {
			if !gone(i, j) {
				left[j] = v
			}
		}
		p.Left = append(p.Left, left)
	}
	before := math.Inf(1)
	for p.Rounds = 1; p.Rounds <= 100; p.Rounds++ {
		p.sweep(gone)
		sum := 0.0
		for _, row := range p.Left {
			for _, v := range row {
				sum += math.Abs(v)
			}
		}
		if sum == 0 || before-sum <= 1e-6*sum {
			return p.noted(gone), nil
		}
		before = sum
	}
	p.Notes = append(p.Notes, measure.Note{Code: "not-settled", Text: "The parts were still moving after 100 sweeps."})
	return p.noted(gone), nil
}

// sweep takes row medians into Place, then column medians into Visit, and the
// medians of those into Common.
func (p *Parts) sweep(gone func(i, j int) bool) {
	for i, row := range p.Left {
		m := medianWhere(len(row), func(j int) (float64, bool) { return row[j], !gone(i, j) })
		for j := range row {
			if !gone(i, j) {
				row[j] -= m
			}
		}
		p.Place[i] += m
	}
	p.centre(p.Visit)
	for j := range p.Visit {
		m := medianWhere(len(p.Left), func(i int) (float64, bool) { return p.Left[i][j], !gone(i, j) })
		for i := range p.Left {
			if !gone(i, j) {
				p.Left[i][j] -= m
			}
		}
		p.Visit[j] += m
	}
	p.centre(p.Place)
}

func (p *Parts) centre(part []float64) {
	m := medianWhere(len(part), func(i int) (float64, bool) { return part[i], true })
	for i := range part {
		part[i] -= m
	}
	p.Common += m
}

func medianWhere(n int, at func(int) (float64, bool)) float64 {
	x := make([]float64, 0, n)
	for i := range n {
		if v, ok := at(i); ok {
			x = append(x, v)
		}
	}
	m, err := order.Middle(x)
	if err != nil { // a row or column without a cell
		return 0
	}
	return m
}

// noted centres Visit, which the last sweep may have left off its median, and says
// which rows were never read.
func (p Parts) noted(gone func(i, j int) bool) Parts {
	p.centre(p.Visit)
	for i, row := range p.Left {
		read := 0
		for j := range row {
			if !gone(i, j) {
				read++
			}
		}
		if read == 0 {
			p.Notes = append(p.Notes, measure.Note{Code: "nothing-read", Text: fmt.Sprintf("Row %d was never read; its part says nothing.", i+1)})
		}
	}
	return p
}

func checkTable(table [][]float64, missing [][]bool) error {
	if len(table) == 0 || len(table[0]) == 0 {
		return measure.ErrEmpty
	}
	if missing != nil && len(missing) != len(table) {
		return &measure.ArgumentError{Argument: "missing", Why: "must have the rows of the table"}
	}
	for i, row := range table {
		if len(row) != len(table[0]) || missing != nil && len(missing[i]) != len(row) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("table[%d]", i), Why: "must be as long as the first row, and its missing flags too"}
		}
		for j, v := range row {
			if missing != nil && missing[i][j] {
				continue
			}
			if math.Abs(v) > math.MaxFloat64/8 {
				return &measure.ArgumentError{Argument: fmt.Sprintf("table[%d][%d]", i, j), Why: "is too large"}
			}
			if err := measure.Finite(fmt.Sprintf("table[%d][%d]", i, j), v); err != nil {
				return err
			}
		}
	}
	return nil
}
