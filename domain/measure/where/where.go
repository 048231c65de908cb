// Package where answers where on the hull readings stand out: which places touch on
// the skin, which port place mirrors which starboard one, what is left when rows and
// regions are taken out, whether what is left gathers in clusters, and a map between the
// places with its doubt.
//
// The skin is unrolled and wrapped at the keel: a place lies Along forward of the aft
// perpendicular, and Across from the centreline measured over the skin, port negative
// and starboard positive, so that the two garboards are neighbours.
package where

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Side of the hull.
type Side int8

// The sides; the zero Side is the centreline.
const (
	Port      Side = -1
	Centre    Side = 0
	Starboard Side = 1
)

// Place is a spot on the skin.
type Place struct {
	Side  Side
	Along unit.Millimetres // forward of the aft perpendicular
	Down  unit.Millimetres // along the skin, below the datum
	Keel  unit.Millimetres // along the skin from the datum to the centreline, at this station
}

// Across is the distance from the centreline over the skin, port negative.
func (p Place) Across() unit.Millimetres {
	return unit.Millimetres(p.Side) * max(0, p.Keel-p.Down)
}

// Mirrored is the twin of a place on the other side.
func (p Place) Mirrored() Place {
	p.Side = -p.Side
	return p
}

// farthest is beyond any hull, in millimetres; it keeps squares exact enough.
const farthest = 1e6

func checkPlaces(places []Place) error {
	for i, p := range places {
		for k, x := range [...]unit.Millimetres{p.Along, p.Down, p.Keel} {
			if !(math.Abs(float64(x)) <= farthest) {
				return &measure.ArgumentError{Argument: fmt.Sprintf("places[%d].%s", i, [...]string{"Along", "Down", "Keel"}[k]), Why: "must be a number within a kilometre"}
			}
		}
		if p.Side < Port || p.Side > Starboard {
			return &measure.ArgumentError{Argument: fmt.Sprintf("places[%d].Side", i), Why: "must be Port, Centre or Starboard"}
		}
	}
	return nil
}

func checkLength(argument string, got, want int) error {
	if got != want {
		return &measure.ArgumentError{Argument: argument, Why: fmt.Sprintf("must have one value for each place: %d for %d", got, want)}
	}
	return nil
}
