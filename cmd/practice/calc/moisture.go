package calc

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/salt"
	"boottop.example/practice/domain/measure/unit"
)

func dewPoint(in *input) func() (answer, error) {
	hand := air.HandheldSensors()
	temp := in.need("air", "air temperature, °C", "t")
	rh := in.need("rh", "relative humidity, %", "h")
	surface := in.may("surface", 0, "temperature of the hull's skin, °C", "surface")
	airOff := in.may("air-off", float64(hand.Air), "limit of the air sensor, ± °C", "s.Air")
	rhOff := in.may("rh-off", float64(hand.Humidity), "limit of the humidity sensor, ± %", "s.Humidity")
	surfaceOff := in.may("surface-off", float64(hand.Surface), "limit of the surface sensor, ± °C", "s.Surface")
	return func() (answer, error) {
		t, h := unit.Celsius(temp.value), unit.Humidity(rh.value)
		dew, err := air.DewPoint(t, h)
		if err != nil {
			return answer{}, err
		}
		water, err := air.Absolute(t, h)
		if err != nil {
			return answer{}, err
		}
		a := answer{
			Says:    fmt.Sprintf("Air of %g °C and %g %% has its dew point at %.1f °C.", temp.value, rh.value, float64(dew)),
			Figures: []figure{plain("dew point", float64(dew), "°C", 1), plain("water in the air", water, "g/m³", 1)},
		}
		if dew < 0 {
			frost, err := air.FrostPoint(t, h)
			if err != nil {
				return answer{}, err
			}
			a.Figures = append(a.Figures, plain("frost point", float64(frost), "°C", 1))
		}
		if !surface.set {
			return a, nil
		}
		return a, a.margin(t, h, unit.Celsius(surface.value),
			air.Sensors{Air: unit.Celsius(airOff.value), Humidity: unit.Humidity(rhOff.value), Surface: unit.Celsius(surfaceOff.value)})
	}
}

// margin adds how far the surface stands above the dew point.
func (a *answer) margin(t unit.Celsius, h unit.Humidity, surface unit.Celsius, s air.Sensors) error {
	m, err := air.Margin(t, h, surface, s)
	if err != nil {
		return err
	}
	damp, err := air.AtSurface(t, h, surface)
	if err != nil {
		return err
	}
	standing := air.Compare(m, air.LeastMargin)
	a.Says += fmt.Sprintf(" The surface stands %.1f °C above it (%.1f to %.1f with these sensors); at least %g °C: %s.",
		m.Value, m.Lower, m.Upper, air.LeastMargin, standing)
	a.Figures = append(a.Figures, banded("margin over the dew point", m, "°C", 1), plain("humidity at the surface", float64(damp), "%", 0))
	a.Facts = append(a.Facts, fact{fmt.Sprintf("at least %g °C", air.LeastMargin), string(standing)})
	a.carry(m)
	a.Cautions = append(a.Cautions,
		"the 3 °C rule was written for steel; the coating maker's sheet comes first, and whoever coats decides",
		"measure at the coldest and dampest part of the skin, and again for hours after")
	return nil
}

func dryingDepth(in *input) func() (answer, error) {
	d := diffusion.PolyesterLaminate()
	days := in.need("days", "days ashore", "course[0].Days")
	temp := in.need("temp", "temperature of the wall over that time, °C", "course[0].At")
	wall := in.may("wall", 0, "thickness of the laminate, mm", "wall")
	rh := in.may("rh", 0, "relative humidity of the air over that time, %", "level")
	low := in.may("slow", float64(d.Low)*1e12, "diffusivity at 20 °C, least, 1e-12 m²/s", "range.Low")
	typical := in.may("typical", float64(d.Typical)*1e12, "the same, typical", "range.Typical")
	high := in.may("fast", float64(d.High)*1e12, "the same, greatest", "range.High")
	return func() (answer, error) {
		d.Low, d.Typical, d.High = unit.Diffusivity(low.value*1e-12), unit.Diffusivity(typical.value*1e-12), unit.Diffusivity(high.value*1e-12)
		e, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: unit.Days(days.value), At: unit.Celsius(temp.value)}}, unit.Millimetres(wall.value), d)
		if err != nil {
			return answer{}, err
		}
		a := answer{
			Says: fmt.Sprintf("In %g days at %g °C drying has reached about the outer %s to %s mm (bare laminate; less under coating).",
				days.value, temp.value, depth(e.Lower), depth(e.Upper)),
			Figures: []figure{banded("depth half dried", e, "mm", 2)},
		}
		if e.Upper <= 3 {
			a.Says += " Most of what an instrument senses is as she came out."
		}
		a.carry(e)
		if rh.set {
			if err := a.floor(unit.Humidity(rh.value)); err != nil {
				return answer{}, err
			}
		}
		a.Cautions = append(a.Cautions,
			"a depth of diffusion, not of a reading: no reading speaks for that depth alone",
			"a band and never a date; it does not say that a hull may be coated")
		return a, nil
	}
}

// floor adds what the air allows at best: to first order RH/100 of saturation.
func (a *answer) floor(h unit.Humidity) error {
	if math.IsNaN(float64(h)) || h < 0 || h > 100 {
		return &measure.ArgumentError{Argument: "level", Why: "must lie between 0 and 100 %"}
	}
	a.Figures = append(a.Figures, plain("floor set by this air", h.Fraction(), "of saturation", 2))
	a.Says += fmt.Sprintf(" Air of %g %% lets a laminate fall to about %.2f of what it holds when saturated, however long it stays.", float64(h), h.Fraction())
	a.Assumes = append(a.Assumes, "straight-line sorption: what the air lets a laminate hold is its humidity's share of saturation")
	return nil
}

func depth(mm float64) string {
	if mm < 0.1 {
		return fmt.Sprintf("%.2f", mm)
	}
	return fmt.Sprintf("%.1f", mm)
}

func saltOnSkin(in *input) func() (answer, error) {
	volume := in.need("volume", "water on the patch, mL", "p.Volume")
	rise := in.need("rise", "conductivity after less before, µS/cm", "p.Rise")
	area := in.may("area", salt.PatchArea, "skin under the patch, mm²", "p.Area")
	volumeOff := in.may("volume-off", 0, "limit of the volume, ± mL", "p.VolumeOff")
	riseOff := in.may("rise-off", 0, "limit of the conductivity, ± µS/cm", "p.RiseOff")
	return func() (answer, error) {
		e, err := salt.MassPerArea(salt.Patch{
			Volume: volume.value, Area: area.value, Rise: rise.value, VolumeOff: volumeOff.value, RiseOff: riseOff.value,
		})
		if err != nil {
			return answer{}, err
		}
		f := banded("soluble salts", e, "mg/m²", 1)
		if volumeOff.value == 0 && riseOff.value == 0 {
			f.Lower, f.Upper = nil, nil
		}
		a := answer{
			Says:    fmt.Sprintf("%g mL on %g mm² with a rise of %g µS/cm: %.1f mg/m² of soluble salts.", volume.value, area.value, rise.value, e.Value),
			Figures: []figure{f},
		}
		a.carry(e)
		for _, s := range salt.SteelFigures() {
			a.Facts = append(a.Facts, fact{"for scale, " + fmt.Sprintf("%g mg/m²", s.Mass), s.Use + " (" + s.Source + ")"})
		}
		a.Cautions = append(a.Cautions, "write down the volume and the area with every result")
		return a, nil
	}
}
