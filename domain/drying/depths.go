package drying

import (
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Reached is how deep drying has reached in bare laminate by days ashore, and how long a
// wall of a thickness takes to lose water through one face: by diffusion alone.
type Reached struct {
	Celsius float64 // of the wall
	Days    []float64
	Rows    []ReachedRow // slow, typical and fast
	Lose    []Losing     // at the typical diffusivity
}

// ReachedRow is the half-dried depth, mm, by the days of the table, at one diffusivity.
type ReachedRow struct {
	Diffusivity float64 // m²/s at the wall's temperature
	Depths      []float64
}

// Losing is the days until a wall has lost half and nine tenths of what can leave.
type Losing struct{ Wall, Half, NineTenths float64 }

// The times and thicknesses of the table: trade notes, section 3.
var (
	reachedDays  = []float64{1. / 24, 1, 3, 7, 21, 60, 180}
	reachedWalls = []float64{4, 6, 8, 12, 20}
)

// ReachedAt makes the table for a wall at a temperature, °C: diffusion.DryingDepth and
// diffusion.TimeToLose with the inner face sealed, over the range of diffusivity that is
// carried from memory. Less under a coating; rain starts it anew.
//
// Errors: *measure.ArgumentError for a temperature that cannot be.
func ReachedAt(celsius float64) (Reached, error) {
	d := diffusion.PolyesterLaminate()
	ratio, err := diffusion.Arrhenius(unit.Celsius(celsius), diffusion.Reference, d.ActivationEnergy)
	if err != nil {
		return Reached{}, err
	}
	out := Reached{Celsius: celsius, Days: reachedDays}
	for _, speed := range []unit.Diffusivity{d.Low, d.Typical, d.High} {
		out.Rows = append(out.Rows, ReachedRow{Diffusivity: float64(speed) * ratio, Depths: make([]float64, len(reachedDays))})
	}
	for k, days := range reachedDays {
		e, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: unit.Days(days), At: unit.Celsius(celsius)}}, 0, d)
		if err != nil {
			return Reached{}, err
		}
		out.Rows[0].Depths[k], out.Rows[1].Depths[k], out.Rows[2].Depths[k] = e.Lower, e.Value, e.Upper
	}
	at := d.Typical * unit.Diffusivity(ratio)
	for _, wall := range reachedWalls {
		half, err := diffusion.TimeToLose(0.5, at, unit.Millimetres(wall), diffusion.OneFace)
		if err != nil {
			return Reached{}, err
		}
		most, err := diffusion.TimeToLose(0.9, at, unit.Millimetres(wall), diffusion.OneFace)
		if err != nil {
			return Reached{}, err
		}
		out.Lose = append(out.Lose, Losing{Wall: wall, Half: float64(half), NineTenths: float64(most)})
	}
	return out, nil
}
