package air

import (
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// LeastMargin is how far above the dew point a surface is wanted before and during
// coating: 3 °C, as widely quoted from ISO 8502-4, which was written for steel.
const LeastMargin = 3.0

// Sensors are how far each sensor may be off, plus or minus, as its maker or its
// last check states it.
type Sensors struct {
	Air, Surface unit.Celsius
	Humidity     unit.Humidity
}

// HandheldSensors are usual limits of hand instruments: ±0.5 °C in air, ±3 %
// relative humidity, ±1 °C on a surface. From memory; an editable default.
func HandheldSensors() Sensors { return Sensors{Air: 0.5, Surface: 1, Humidity: 3} }

// Standing is what a margin with its doubt says about a least margin.
type Standing string

// A least margin is met, not met, or the sensors cannot tell.
const (
	Met        Standing = "met"
	NotMet     Standing = "not met"
	CannotTell Standing = "cannot tell"
)

// Margin gives how far the surface stands above the dew point, in °C, negative when
// water condenses on it.
//
//	t, surface  −45 to 80 °C
//	h           0.1 to 100 %
//	s           limits of the sensors, each 0 or more
//
// Lower and Upper are the least and the greatest margin that sensors within their
// limits could hide; they are bounds, not an interval of stated coverage (Level is
// 0). The margin falls with h and with t and rises with surface, so the bounds are
// its values at the corners. Decide before rounding: see Compare.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func Margin(t unit.Celsius, h unit.Humidity, surface unit.Celsius, s Sensors) (measure.Estimate, error) {
	if err := temperature("t", t); err != nil {
		return measure.Estimate{}, err
	}
	if err := humidity("h", h); err != nil {
		return measure.Estimate{}, err
	}
	if err := temperature("surface", surface); err != nil {
		return measure.Estimate{}, err
	}
	if err := s.check(); err != nil {
		return measure.Estimate{}, err
	}
	margin := func(sign float64) float64 { // sign +1 is the unkind side
		x := unit.Celsius(sign)
		worse := min(100, max(0.1, h+unit.Humidity(sign)*s.Humidity))
		return float64(surface - x*s.Surface - dewPoint(t+x*s.Air, worse))
	}
	e := measure.Estimate{
		Value: margin(0), Lower: margin(1), Upper: margin(-1), N: 1,
		Assumes: []string{
			fmt.Sprintf("sensors within ±%g °C in air, ±%g °C on the surface and ±%g %% relative humidity",
				float64(s.Air), float64(s.Surface), float64(s.Humidity)),
			"air and surface as measured, at this place and time; sun, shade and night change both",
		},
	}
	if surface < 0 {
		e.Notes = append(e.Notes, measure.Note{Code: "below-freezing", Text: "the surface is below 0 °C: frost may lie on it, and no readings are taken on it"})
	}
	if e.Value <= 0 {
		e.Notes = append(e.Notes, measure.Note{Code: "condensing", Text: "the surface is at or below the dew point: water condenses on it"})
	}
	return e, nil
}

func (s Sensors) check() error {
	for _, x := range []struct {
		name string
		off  float64
	}{{"s.Air", float64(s.Air)}, {"s.Surface", float64(s.Surface)}, {"s.Humidity", float64(s.Humidity)}} {
		if err := measure.Finite(x.name, x.off); err != nil {
			return err
		}
		if x.off < 0 || x.off > 20 {
			return &measure.ArgumentError{Argument: x.name, Why: "must lie between 0 and 20"}
		}
	}
	return nil
}

// Compare says whether a margin is at least so much, before any rounding and with
// its doubt: cannot tell when the bounds lie on both sides.
func Compare(margin measure.Estimate, least float64) Standing {
	switch {
	case margin.Lower >= least:
		return Met
	case margin.Upper < least:
		return NotMet
	default:
		return CannotTell
	}
}
