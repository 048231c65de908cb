// Package air computes what the air does to a hull's skin: where dew begins, how
// damp the air is at a cold surface, how much water it carries, and how far a
// surface stands above the dew point, with the doubt of the sensors.
//
// Relative humidity is over liquid water at every temperature, as instruments show
// it and the WMO defines it, below 0 °C too.
package air

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Pressure of the standard atmosphere.
const Standard unit.Pascals = 101325

// temperature refuses what the formulas were not made for.
func temperature(name string, t unit.Celsius) error {
	if err := measure.Finite(name, float64(t)); err != nil {
		return err
	}
	if t < -45 || t > 80 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between −45 and 80 °C"}
	}
	return nil
}

// humidity refuses what is no relative humidity. At 0 % there is no dew point, so
// the least let through is 0.1 %.
func humidity(name string, h unit.Humidity) error {
	if err := measure.Finite(name, float64(h)); err != nil {
		return err
	}
	if h < 0.1 || h > 100 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0.1 and 100 %"}
	}
	return nil
}

func pressure(name string, p unit.Pascals) error {
	if err := measure.Finite(name, float64(p)); err != nil {
		return err
	}
	if p < 50e3 || p > 120e3 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 50 000 and 120 000 Pa"}
	}
	return nil
}

// Magnus coefficients, e = 611.2 exp(a t/(b + t)) Pa: Sonntag 1990, Z. Meteorologie
// 70(5), 340–344, as in WMO-No. 8 annex 4.B. The pair over ice is from memory; a
// test holds it to Hyland and Wexler within 1 in 1000.
const (
	magnus           = 611.2
	aWater, bWater   = 17.62, 243.12
	aIce, bIce       = 22.46, 272.62
	hottestIce       = unit.Celsius(0.01)
	gasConstantWater = 461.5 // J/(kg K)
)

// OverWater gives the saturation pressure over liquid water (supercooled below
// 0 °C), −45 to 80 °C. Sonntag 1990.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func OverWater(t unit.Celsius) (unit.Pascals, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	return overWater(t), nil
}

func overWater(t unit.Celsius) unit.Pascals {
	return unit.Pascals(magnus * math.Exp(aWater*float64(t)/(bWater+float64(t))))
}

// OverIce gives the saturation pressure over ice, −45 to 0.01 °C. Sonntag 1990.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func OverIce(t unit.Celsius) (unit.Pascals, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if t > hottestIce {
		return 0, &measure.ArgumentError{Argument: "t", Why: "must be at most 0.01 °C: there is no ice above"}
	}
	return unit.Pascals(magnus * math.Exp(aIce*float64(t)/(bIce+float64(t)))), nil
}

// Saturation gives the saturation pressure, over ice below 0.01 °C and over water
// from there, −45 to 80 °C. Hyland and Wexler 1983 as in ASHRAE Fundamentals 2017,
// ch. 1 eq. 5 and 6: slower than OverWater and closer, for humidity ratios.
//
// Errors: *measure.ArgumentError for an argument that is no number or out of range.
func Saturation(t unit.Celsius) (unit.Pascals, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	return saturation(t), nil
}

func saturation(t unit.Celsius) unit.Pascals {
	k := t.Kelvin()
	if t < hottestIce { // eq. 5
		return unit.Pascals(math.Exp(-5.6745359e3/k + 6.3925247 - 9.677843e-3*k + 6.2215701e-7*k*k +
			2.0747825e-9*k*k*k - 9.484024e-13*k*k*k*k + 4.1635019*math.Log(k)))
	}
	return unit.Pascals(math.Exp(-5.8002206e3/k + 1.3914993 - 4.8640239e-2*k + 4.1764768e-5*k*k - // eq. 6
		1.4452093e-8*k*k*k + 6.5459673*math.Log(k)))
}
