package air

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// DewPoint gives the temperature at which air begins to wet a surface:
//
//	t  air temperature, −45 to 80 °C
//	h  relative humidity, 0.1 to 100 %
//
//	γ = ln(h/100) + 17.62 t/(243.12 + t);  dew point = 243.12 γ/(17.62 − γ)
//
// over liquid water, below 0 °C too (see FrostPoint). Sonntag 1990 / WMO-No. 8
// annex 4.B, inverted. Within 0.02 °C of the other usual coefficients (Alduchov and
// Eskridge 1996) from 0 to 40 °C and 10 to 100 %.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func DewPoint(t unit.Celsius, h unit.Humidity) (unit.Celsius, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if err := humidity("h", h); err != nil {
		return 0, err
	}
	return dewPoint(t, h), nil
}

func dewPoint(t unit.Celsius, h unit.Humidity) unit.Celsius {
	g := math.Log(h.Fraction()) + aWater*float64(t)/(bWater+float64(t))
	return unit.Celsius(bWater * g / (aWater - g))
}

// FrostPoint gives the temperature at which hoar begins, at or below 0 °C; above it
// there is none, and the error says so. Arguments as in DewPoint.
func FrostPoint(t unit.Celsius, h unit.Humidity) (unit.Celsius, error) {
	d, err := DewPoint(t, h)
	if err != nil {
		return 0, err
	}
	if d > 0 {
		return 0, &measure.ArgumentError{Argument: "h", Why: "is too high for frost: dew comes first, above 0 °C"}
	}
	g := math.Log(float64(overWater(t)) * h.Fraction() / magnus)
	return unit.Celsius(bIce * g / (aIce - g)), nil
}

// AtSurface gives the relative humidity of the same air where it is at another
// temperature: at a colder skin, or after heating without adding water. Above 100
// it condenses, and the figure says by how much it is too wet. Arguments as in
// DewPoint; surface −45 to 80 °C.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func AtSurface(t unit.Celsius, h unit.Humidity, surface unit.Celsius) (unit.Humidity, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if err := humidity("h", h); err != nil {
		return 0, err
	}
	if err := temperature("surface", surface); err != nil {
		return 0, err
	}
	return h * unit.Humidity(overWater(t)/overWater(surface)), nil
}

// Absolute gives the water in the air in grams a cubic metre, as an ideal gas:
// 1000 e/(461.5 T). Arguments as in DewPoint.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func Absolute(t unit.Celsius, h unit.Humidity) (float64, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if err := humidity("h", h); err != nil {
		return 0, err
	}
	return 1000 * float64(overWater(t)) * h.Fraction() / (gasConstantWater * t.Kelvin()), nil
}
