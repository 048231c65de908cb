// Package diffusion computes how water moves through the wall of a glass-fibre
// hull by Fick's law: how deep drying has reached, how long a wall takes, what an
// instrument of a given depth would see of it, and what floor the air sets.
//
// Simple walls have series solutions (slab.go); layered walls in changing weather
// have a finite-volume solver (wall.go), which the tests hold against the series.
//
// Nothing here turns a reading into a water content. Material values are defaults
// from memory, wide on purpose, and every answer over them is a band, not a date.
package diffusion

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// GasConstant is R in J/(mol K), the CODATA 2018 value rounded to ten digits.
const GasConstant = 8.314462618

// Reference is the temperature that a Range is stated at.
const Reference unit.Celsius = 20

// Ordinary drying temperatures. Hotter, laboratory ageing of marine laminates
// changed its mechanism (two-stage uptake at 60 °C where 40 °C was Fickian; 50 °C
// judged unsuitable by Gellert and Turley 1998), so an answer carries a note.
const (
	coldest unit.Celsius = 0
	hottest unit.Celsius = 45
)

// Range is what is known of a material's diffusivity at 20 °C: a typical value and
// the spread around it, which is the message. ActivationEnergy, J/mol, carries it
// to other temperatures.
type Range struct {
	Low, Typical, High unit.Diffusivity
	ActivationEnergy   float64
}

// PolyesterLaminate is the default for polyester GRP through its thickness:
// 1e-12 m²/s at 20 °C, 0.3 to 3e-12, 40 kJ/mol. From memory, not confirmed in a
// source; a default that a practice may edit and must see tagged as such.
func PolyesterLaminate() Range {
	return Range{Low: 0.3e-12, Typical: 1e-12, High: 3e-12, ActivationEnergy: 40e3}
}

func (r Range) check() error {
	for _, d := range []struct {
		name string
		d    unit.Diffusivity
	}{{"range.Low", r.Low}, {"range.Typical", r.Typical}, {"range.High", r.High}} {
		if err := diffusivity(d.name, d.d); err != nil {
			return err
		}
	}
	if r.Low > r.Typical || r.Typical > r.High {
		return &measure.ArgumentError{Argument: "range", Why: "must have Low ≤ Typical ≤ High"}
	}
	return notNegative("range.ActivationEnergy", r.ActivationEnergy)
}

// Arrhenius gives by how much diffusion at temperature t outruns that at ref:
//
//	D(t)/D(ref) = exp(−E/R · (1/T − 1/Tref))
//
// with e the activation energy in J/mol. Errors: a temperature at or below
// absolute zero, e negative or not finite.
func Arrhenius(t, ref unit.Celsius, e float64) (float64, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if err := temperature("ref", ref); err != nil {
		return 0, err
	}
	if err := notNegative("e", e); err != nil {
		return 0, err
	}
	return arrhenius(t, ref, e), nil
}

func arrhenius(t, ref unit.Celsius, e float64) float64 {
	return math.Exp(-e / GasConstant * (1/t.Kelvin() - 1/ref.Kelvin()))
}

// temperature refuses what is not finite, or so far from weather that Arrhenius
// overflows: −100 to 200 °C is let through.
func temperature(name string, t unit.Celsius) error {
	if err := measure.Finite(name, float64(t)); err != nil {
		return err
	}
	if t < -100 || t > 200 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between −100 and 200 °C"}
	}
	return nil
}

// diffusivity refuses what cannot be a solid's: most likely it was given in
// another unit.
func diffusivity(name string, d unit.Diffusivity) error {
	if err := measure.Positive(name, float64(d)); err != nil {
		return err
	}
	if d < 1e-20 || d > 1e-6 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 1e-20 and 1e-6 m²/s"}
	}
	return nil
}

// thick refuses a wall that is none: 0.001 mm to 10 m are let through.
func thick(name string, l unit.Millimetres) error {
	if err := measure.Positive(name, float64(l)); err != nil {
		return err
	}
	if l < 1e-3 || l > 1e4 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0.001 and 10 000 mm"}
	}
	return nil
}

// elapsed refuses a time below zero or beyond 2 700 years.
func elapsed(name string, t unit.Days) error {
	if err := notNegative(name, float64(t)); err != nil {
		return err
	}
	if t > 1e6 {
		return &measure.ArgumentError{Argument: name, Why: "must be at most 1 000 000 days"}
	}
	return nil
}

func notNegative(name string, x float64) error {
	if err := measure.Finite(name, x); err != nil {
		return err
	}
	if x < 0 {
		return &measure.ArgumentError{Argument: name, Why: "must not be negative"}
	}
	return nil
}

func share(name string, x float64) error {
	if err := measure.Finite(name, x); err != nil {
		return err
	}
	if x < 0 || x > 1 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0 and 1"}
	}
	return nil
}
