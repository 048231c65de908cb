// Package salt turns the conductivity of water that has stood on a patch of the
// skin into salt a square metre.
//
// No limit exists for glass-fibre hulls; the figures in use were made for steel.
// Conductivity is blind to glycol, which matters most in a blistered hull.
package salt

import (
	"fmt"

	"boottop.example/practice/domain/measure"
)

// Patch is one extraction: an adhesive patch filled with water, or a wiped area.
type Patch struct {
	Volume float64 // of the water, mL
	Area   float64 // of the skin it stood on, mm²; 1250 for the patch of ISO 8502-6
	Rise   float64 // conductivity after less that of the water before, µS/cm
	// How far each may be off, plus or minus; 0 where it is not known.
	VolumeOff, RiseOff float64
}

// PatchArea is the skin under a patch of ISO 8502-6, mm².
const PatchArea = 1250

// perSiemens turns a conductivity into a concentration for the salts usual on steel,
// 5 kg/(m² S): ISO 8502-9, from memory.
const perSiemens = 5

// MassPerArea gives the soluble salts on the skin in mg/m²:
//
//	5 · volume · rise / area, in SI units (ISO 8502-9, from memory)
//
// 15 mL on 1250 mm² make 6 mg/m² of each µS/cm. Volume up to 1000 mL, area 1 mm² to
// 1 m², rise 0 to 100 000 µS/cm. Lower and Upper are what the stated limits of volume
// and conductivity could hide, bounds and no interval of stated coverage (Level 0).
//
// A rise below zero is an error: the water was saltier before than after, so one of
// the two readings, or the water, is not what it is taken for.
func MassPerArea(p Patch) (measure.Estimate, error) {
	if err := p.check(); err != nil {
		return measure.Estimate{}, err
	}
	mass := func(volume, rise float64) float64 { // mL → m³, µS/cm → S/m, mm² → m², kg → mg
		return perSiemens * (volume * 1e-6) * (rise * 1e-4) / (p.Area * 1e-6) * 1e6
	}
	return measure.Estimate{
		Value: mass(p.Volume, p.Rise),
		Lower: mass(max(0, p.Volume-p.VolumeOff), max(0, p.Rise-p.RiseOff)),
		Upper: mass(p.Volume+p.VolumeOff, p.Rise+p.RiseOff),
		N:     1,
		Assumes: []string{
			"mixed salts as on steel, all of what is soluble taken up by the water",
			"both conductivities at one temperature, or corrected to 25 °C",
		},
		Notes: []measure.Note{
			{Code: "no-limit-for-grp", Text: "no limit exists for glass-fibre hulls; figures in use were made for steel"},
			{Code: "blind-to-glycol", Text: "conductivity does not show glycol or other matter that holds water without salt"},
		},
	}, nil
}

func (p Patch) check() error {
	for _, x := range []struct {
		name      string
		v         float64
		low, high float64
		unit      string
	}{
		{"p.Volume", p.Volume, 0.01, 1000, "mL"},
		{"p.Area", p.Area, 1, 1e6, "mm²"},
		{"p.Rise", p.Rise, 0, 1e5, "µS/cm"},
		{"p.VolumeOff", p.VolumeOff, 0, 1000, "mL"},
		{"p.RiseOff", p.RiseOff, 0, 1e5, "µS/cm"},
	} {
		if err := measure.Finite(x.name, x.v); err != nil {
			return err
		}
		if x.v < x.low || x.v > x.high {
			return &measure.ArgumentError{Argument: x.name, Why: fmt.Sprintf("must lie between %g and %g %s", x.low, x.high, x.unit)}
		}
	}
	return nil
}

// Figure is a level that somebody uses, for scale beside a result and never as a limit.
type Figure struct {
	Use    string
	Mass   float64 // mg/m²
	Source string
}

// SteelFigures are levels quoted for steel.
func SteelFigures() []Figure {
	return []Figure{
		{"steel offshore, mixed salts", 20, "a soluble-salt practice sheet, not confirmed in a standard"},
		{"steel linings, mixed salts", 30, "a soluble-salt practice sheet, not confirmed in a standard"},
		{"steel in the atmosphere, mixed salts", 60, "a soluble-salt practice sheet, not confirmed in a standard"},
		{"steel ballast tanks, as sodium chloride", 50, "the same sheet; from memory"},
	}
}
