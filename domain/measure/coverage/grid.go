// Package coverage computes what a search could have met and what a count of zero
// leaves open: the chance that a grid of readings or a set of windows meets a flaw
// of a given size, the smallest flaw met nine times in ten, exact bounds on counts.
//
// To meet a flaw is to set the instrument down on it, or to bare part of it. That
// an instrument would then show it is another question, which nothing here answers.
package coverage

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Grid is a rectangular grid of readings: Along and Down are its spacings, Pad the
// width of what is set down, taken as round; 0 for a hammer.
type Grid struct{ Along, Down, Pad unit.Millimetres }

func (g Grid) check() error {
	if err := size("grid.Along", g.Along); err != nil {
		return err
	}
	if err := size("grid.Down", g.Down); err != nil {
		return err
	}
	if g.Pad != 0 {
		return size("grid.Pad", g.Pad)
	}
	return nil
}

// size lets 0.01 mm to 1 km through.
func size(name string, l unit.Millimetres) error {
	if err := measure.Positive(name, float64(l)); err != nil {
		return err
	}
	if l < 0.01 || l > 1e6 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0.01 and 1 000 000 mm"}
	}
	return nil
}

// Chance gives the probability, 0 to 1, that the grid meets at least once a round
// flaw of this diameter that lies anywhere with equal chance:
//
//	(disc of radius r ∩ cell) / cell,  r = (flaw + pad)/2
//
// since the cell of a grid point is all that lies nearest to it. For r up to half the
// spacing that is π r²/(along·down). By plane geometry, no source needed; edges of
// the hull are left out.
//
// Errors: *measure.ArgumentError for the grid or flaw, 0.01 mm to 1 km each.
func (g Grid) Chance(flaw unit.Millimetres) (float64, error) {
	if err := g.check(); err != nil {
		return 0, err
	}
	if err := size("flaw", flaw); err != nil {
		return 0, err
	}
	return g.chance(float64(flaw)), nil
}

func (g Grid) chance(flaw float64) float64 {
	a, b, r := float64(g.Along), float64(g.Down), (flaw+float64(g.Pad))/2
	if r >= math.Hypot(a, b)/2 {
		return 1
	}
	disc := math.Pi*r*r - 2*segment(r, a/2) - 2*segment(r, b/2)
	return math.Min(1, disc/(a*b))
}

// segment is the part of a disc of radius r that lies beyond a chord at distance h
// from its centre.
func segment(r, h float64) float64 {
	if h >= r {
		return 0
	}
	return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h)
}

// Smallest gives the diameter in mm of the smallest round flaw that the grid meets
// with this chance, 0 < chance < 1: 1.12 spacings for 0.9 on a square grid without
// a pad. 0 when the pad alone is enough.
//
// Errors: *measure.ArgumentError for the grid or chance.
func (g Grid) Smallest(chance float64) (unit.Millimetres, error) {
	if err := g.check(); err != nil {
		return 0, err
	}
	if !(chance > 0 && chance < 1) {
		return 0, &measure.ArgumentError{Argument: "chance", Why: "must lie between 0 and 1"}
	}
	low, high := 0.0, math.Hypot(float64(g.Along), float64(g.Down))
	for range 60 {
		mid := (low + high) / 2
		if g.chance(mid) < chance {
			low = mid
		} else {
			high = mid
		}
	}
	if high < 1e-9 {
		high = 0
	}
	return unit.Millimetres(high), nil
}

// Certain gives the diameter in mm from which the grid cannot miss a round flaw:
// the diagonal of its cell less the pad.
//
// Errors: *measure.ArgumentError for the grid.
func (g Grid) Certain() (unit.Millimetres, error) {
	if err := g.check(); err != nil {
		return 0, err
	}
	return max(0, unit.Millimetres(math.Hypot(float64(g.Along), float64(g.Down)))-g.Pad), nil
}
