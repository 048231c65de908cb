package coverage

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Pictures says where a practice draws the lines between blister classes. Both
// standards draw them by pictures, not by figures; these are figures of ours to be
// set against the pictures that a practice owns, and every class carries that note.
type Pictures struct {
	// Size[i] is the largest typical diameter, mm, of class i+1 of ISO 4628-2's size;
	// above the last it is class 5.
	Size [4]unit.Millimetres
	// Quantity[i] is the largest number in a square decimetre of class i+2 of its
	// quantity; above the last it is class 5. A single blister is class 2.
	Quantity [3]float64
}

// StartingPictures are defaults to be edited. Sizes follow the table of ISO 4628-1
// for defects in general (just visible at 10×, to 0.2, 0.5 and 5 mm), from memory;
// quantities are ours, no source.
func StartingPictures() Pictures {
	return Pictures{Size: [4]unit.Millimetres{0.1, 0.2, 0.5, 5}, Quantity: [3]float64{1, 10, 40}}
}

// Class is how the two paint standards would class what was counted and measured.
// It is derived, never stored instead of the counts, and there is no way back from a
// class to a size.
type Class struct {
	Size, Quantity int    // ISO 4628-2, 0 for none, else 1–5 and 2–5
	ISO            string // as it is written, "3(S2)": quantity, then size; from memory
	// ASTM D714: 10 for none, 8 the smallest easily seen, 6, 4, 2, by rough equivalence
	// S2 8, S3 6, S4 4, S5 2 (from memory); 9 stands for smaller than 8.
	Grade     int
	Frequency string // F few, M medium, MD medium dense, D dense; empty for none
	Notes     []measure.Note
}

// Classify derives the classes from the diameters of all blisters in an area.
//
//	diameters  mm, each above zero; any order; none for none found
//	area       m², above zero
//
// The size is that of the median diameter: where sizes are mixed, ISO 4628-2 wants
// the typical one. Both standards were written for paint.
//
// Errors: *measure.ArgumentError for a diameter, the area or pictures that do not rise.
func Classify(diameters []unit.Millimetres, area float64, p Pictures) (Class, error) {
	return ClassOf(len(diameters), diameters, area, p)
}

// ClassOf is Classify where all blisters were counted and some measured: quantity by
// the count, size by those measured.
//
//	count      at least as many as diameters
//	diameters  mm; of a count above zero at least one
//
// Errors: as Classify; measure.ErrEmpty where none of them was measured.
func ClassOf(count int, diameters []unit.Millimetres, area float64, p Pictures) (Class, error) {
	if err := counted("count", count); err != nil {
		return Class{}, err
	}
	if count < len(diameters) {
		return Class{}, &measure.ArgumentError{Argument: "count", Why: "must be at least as many as were measured"}
	}
	if err := squareMetres("area", area); err != nil {
		return Class{}, err
	}
	if err := p.check(); err != nil {
		return Class{}, err
	}
	for i, d := range diameters {
		if err := size(fmt.Sprintf("diameters[%d]", i), d); err != nil {
			return Class{}, err
		}
	}
	if count == 0 {
		return Class{ISO: "0(S0)", Grade: 10, Notes: []measure.Note{paint}}, nil
	}
	if len(diameters) == 0 {
		return Class{}, measure.ErrEmpty
	}
	c := Class{Notes: []measure.Note{paint, {
		Code: "derived", Text: "derived from counts and diameters; the standards judge by pictures, so say which were used",
	}}}
	c.Size = 1 + above(p.Size[:], typical(diameters))
	c.Quantity = 2 + above(p.Quantity[:], float64(count)/(100*area))
	c.ISO = fmt.Sprintf("%d(S%d)", c.Quantity, c.Size)
	c.Grade = [...]int{9, 8, 6, 4, 2}[c.Size-1]
	c.Frequency = [...]string{"F", "M", "MD", "D"}[c.Quantity-2]
	if c.Size == 1 {
		c.Notes = append(c.Notes, measure.Note{Code: "magnifier", Text: "this size is seen only at 10 times"})
	}
	return c, nil
}

var paint = measure.Note{Code: "for-paint", Text: "both scales were written for paint films, not for laminates"}

func (p Pictures) check() error {
	last := unit.Millimetres(0)
	for _, s := range p.Size {
		if !(s > last) || math.IsInf(float64(s), 1) {
			return &measure.ArgumentError{Argument: "p.Size", Why: "must rise from above zero and be finite"}
		}
		last = s
	}
	before := 0.0
	for _, q := range p.Quantity {
		if !(q > before) || math.IsInf(q, 1) {
			return &measure.ArgumentError{Argument: "p.Quantity", Why: "must rise from above zero and be finite"}
		}
		before = q
	}
	return nil
}

// typical is the median, the lower one of an even number.
func typical(d []unit.Millimetres) unit.Millimetres {
	d = slices.Clone(d)
	slices.Sort(d)
	return d[(len(d)-1)/2]
}

// above counts the limits that x exceeds.
func above[T ~float64](limits []T, x T) (n int) {
	for _, l := range limits {
		if x > l {
			n++
		}
	}
	return n
}
