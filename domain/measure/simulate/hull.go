// Package simulate makes the readings of a hull that does not exist: water moves
// through its walls by the diffusion of domain/measure/diffusion, instruments of a
// given depth and scale look at it through noise, and causes can be planted in it.
// What it makes is invented: it feeds tests, whose truth must be known, and the
// demo. The same seed gives the same readings.
//
// The levels of noise and the strengths of causes are choices of this package, no
// source: nobody has published them for hulls.
package simulate

import (
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Side of the hull. In an Area the zero Side means both sides and the centre.
type Side uint8

// Sides of the hull.
const (
	Port Side = iota + 1
	Starboard
	Centre
)

// Place is a spot to be read: how far along forward of the aft perpendicular, and
// how far down the skin below the waterline datum (negative above it). A Dry place
// is a baseline place, which the water never reaches.
type Place struct {
	Side        Side
	Along, Down unit.Millimetres
	Dry         bool
}

// Span is a stretch of the skin in one direction, From ≤ To.
type Span struct{ From, To unit.Millimetres }

// Area is an upright rectangle on the skin of a side, or of both.
type Area struct {
	Side        Side
	Along, Down Span
}

// Everywhere is the whole skin.
func Everywhere() Area {
	far := Span{-1e6, 1e6}
	return Area{Along: far, Down: far}
}

// At is the single spot on the skin: an Area that only fades, around a fitting.
func At(side Side, along, down unit.Millimetres) Area {
	return Area{Side: side, Along: Span{along, along}, Down: Span{down, down}}
}

// away gives how far outside the area a spot lies, in mm; infinite on another side.
func (a Area) away(side Side, along, down float64) float64 {
	if a.Side != 0 && a.Side != side {
		return math.Inf(1)
	}
	out := func(s Span, x float64) float64 {
		return math.Max(0, math.Max(float64(s.From)-x, x-float64(s.To)))
	}
	return math.Hypot(out(a.Along, along), out(a.Down, down))
}

// Region gives the wall of a part of the hull, from the outside in.
type Region struct {
	Name string
	Over Area
	Wall []diffusion.Layer
}

// Spell is a time afloat or ashore; it begins where the one before ended.
type Spell struct {
	Until  time.Time
	Afloat bool
	// Ashore and not in the open: air of a shed or tent, out of the rain.
	Shelter *Shelter
	// At the spell's start the outer Peel mm of the wet skin are taken off, and
	// Coat is laid on it, outermost first.
	Peel unit.Millimetres
	Coat []diffusion.Layer
}

// Shelter is air that somebody keeps.
type Shelter struct {
	At  unit.Celsius
	Air unit.Humidity
}

// Hull is all that happens to a hull and all that is in it.
type Hull struct {
	Places  []Place
	Regions []Region // a place has the wall of the first that covers it; the last must cover all
	Begins  time.Time
	Start   float64 // level of every wall when the first spell begins, 0 to 1
	Spells  []Spell
	Climate Climate
	Texture Texture
	Causes  []Cause
	Seed    uint64
}

// Laminate is a single skin as built in polyester: gelcoat over laminate of this
// thickness, with the default diffusivities of the diffusion package.
func Laminate(thickness unit.Millimetres) []diffusion.Layer {
	r := diffusion.PolyesterLaminate()
	return []diffusion.Layer{
		{Thickness: 0.6, D: 0.8e-12, ActivationEnergy: r.ActivationEnergy},
		{Thickness: thickness, D: r.Typical, ActivationEnergy: r.ActivationEnergy},
	}
}

// Dimensions are what a grid is laid out by.
type Dimensions struct {
	Waterline unit.Millimetres // length of the waterline
	Girth     unit.Millimetres // down the skin amidships, from the datum to the keel
	Every     unit.Millimetres // between stations
	Row       unit.Millimetres // between rows
	DryAt     unit.Millimetres // baseline row above the datum, as a positive figure
}

// Grid lays places out on both sides: stations from the aft perpendicular on, rows
// from half a row down to where the skin ends, which it does sooner at the ends of
// the boat, and a dry baseline place above every other station. Port comes before
// starboard at each place, so that the order is station, row, side.
//
// Errors: *measure.ArgumentError for a length not above zero, or more than 1000
// stations or rows.
func Grid(d Dimensions) ([]Place, error) {
	for _, x := range []struct {
		name string
		l    unit.Millimetres
	}{{"Waterline", d.Waterline}, {"Girth", d.Girth}, {"Every", d.Every}, {"Row", d.Row}, {"DryAt", d.DryAt}} {
		if err := measure.Positive(x.name, float64(x.l)); err != nil {
			return nil, err
		}
	}
	if d.Waterline/d.Every > 1000 || d.Girth/d.Row > 1000 {
		return nil, &measure.ArgumentError{Argument: "Every and Row", Why: "must leave at most 1000 stations and rows"}
	}
	var places []Place
	both := func(along, down unit.Millimetres, dry bool) {
		places = append(places, Place{Port, along, down, dry}, Place{Starboard, along, down, dry})
	}
	for i, along := 0, d.Every/2; along < d.Waterline; i, along = i+1, along+d.Every {
		if i%2 == 0 {
			both(along, -d.DryAt, true)
		}
		x := 2*float64(along/d.Waterline) - 1
		for down := d.Row / 2; down < d.Girth*unit.Millimetres(1-0.6*x*x); down += d.Row {
			both(along, down, false)
		}
	}
	return places, nil
}

func (h Hull) check() error {
	if len(h.Places) == 0 || len(h.Spells) == 0 {
		return fmt.Errorf("a hull has places and spells: %w", measure.ErrEmpty)
	}
	if !(h.Start >= 0 && h.Start <= 1) {
		return &measure.ArgumentError{Argument: "Start", Why: "must lie between 0 and 1"}
	}
	for i, p := range h.Places {
		if err := measure.Finite(fmt.Sprintf("Places[%d]", i), float64(p.Along), float64(p.Down)); err != nil {
			return err
		}
		if h.region(p) < 0 {
			return &measure.ArgumentError{Argument: fmt.Sprintf("Places[%d]", i), Why: "must lie in a region"}
		}
	}
	for i, c := range h.Causes {
		if err := c.check(i); err != nil {
			return err
		}
	}
	if err := measure.Finite("Texture", h.Texture.SD, float64(h.Texture.Reach), h.Texture.Gradient); err != nil {
		return err
	}
	from := h.Begins
	for i, s := range h.Spells {
		if !s.Until.After(from) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("Spells[%d].Until", i), Why: "must come after the spell before it"}
		}
		if err := s.check(fmt.Sprintf("Spells[%d]", i)); err != nil {
			return err
		}
		from = s.Until
	}
	if from.Sub(h.Begins) > 100*365*24*time.Hour {
		return &measure.ArgumentError{Argument: "Spells", Why: "must span at most a hundred years"}
	}
	return h.Climate.check()
}

func (s Spell) check(name string) error {
	if err := measure.Finite(name+".Peel", float64(s.Peel)); err != nil {
		return err
	}
	if s.Peel < 0 {
		return &measure.ArgumentError{Argument: name + ".Peel", Why: "must not be negative"}
	}
	if s.Shelter == nil {
		return nil
	}
	if err := measure.Finite(name+".Shelter", float64(s.Shelter.At), float64(s.Shelter.Air)); err != nil {
		return err
	}
	if s.Shelter.Air < 0 || s.Shelter.Air > 100 {
		return &measure.ArgumentError{Argument: name + ".Shelter", Why: "must have a humidity from 0 to 100 %"}
	}
	return nil
}

func (h Hull) region(p Place) int {
	for i, r := range h.Regions {
		if r.Over.away(p.Side, float64(p.Along), float64(p.Down)) == 0 {
			return i
		}
	}
	return -1
}
