package air

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Ratio gives kilograms of water to a kilogram of dry air, 0.621945 e/(p − e), with
// Hyland and Wexler's saturation pressure (over ice below 0 °C, as ASHRAE takes it);
// p 50 000 to 120 000 Pa. ASHRAE Fundamentals 2017, ch. 1 eq. 20 (number from memory).
//
// Errors: *measure.ArgumentError for an argument out of range, or air that would be
// mostly steam.
func Ratio(t unit.Celsius, h unit.Humidity, p unit.Pascals) (float64, error) {
	if err := temperature("t", t); err != nil {
		return 0, err
	}
	if err := humidity("h", h); err != nil {
		return 0, err
	}
	if err := pressure("p", p); err != nil {
		return 0, err
	}
	e := saturation(t) * unit.Pascals(h.Fraction())
	if e >= p/2 {
		return 0, &measure.ArgumentError{Argument: "t", Why: "is too hot at this pressure: the air would be mostly steam"}
	}
	return ratio(e, p), nil
}

func ratio(e, p unit.Pascals) float64 { return 0.621945 * float64(e/(p-e)) }

// RatioFromWetBulb gives the humidity ratio from the two thermometers of a sling
// psychrometer, wet ≤ dry, p in Pa. ASHRAE Fundamentals 2017, ch. 1 eq. 33 above
// freezing and 35 with an iced bulb (numbers from memory). Air drier than the
// thermometers can show is an error: wet is then too low to be right.
func RatioFromWetBulb(dry, wet unit.Celsius, p unit.Pascals) (float64, error) {
	if err := temperature("dry", dry); err != nil {
		return 0, err
	}
	if err := temperature("wet", wet); err != nil {
		return 0, err
	}
	if err := pressure("p", p); err != nil {
		return 0, err
	}
	if wet > dry {
		return 0, &measure.ArgumentError{Argument: "wet", Why: "must not be above the dry bulb"}
	}
	if saturation(wet) >= p/2 {
		return 0, &measure.ArgumentError{Argument: "wet", Why: "is too hot at this pressure: the air would be mostly steam"}
	}
	w := fromWetBulb(dry, wet, p)
	if w < 0 {
		return 0, &measure.ArgumentError{Argument: "wet", Why: "is too low for any air at this temperature: check the wick"}
	}
	return w, nil
}

func fromWetBulb(dry, wet unit.Celsius, p unit.Pascals) float64 {
	t, tw, ws := float64(dry), float64(wet), ratio(saturation(wet), p)
	if wet < 0 { // eq. 35
		return ((2830-0.24*tw)*ws - 1.006*(t-tw)) / (2830 + 1.86*t - 2.1*tw)
	}
	return ((2501-2.326*tw)*ws - 1.006*(t-tw)) / (2501 + 1.86*t - 4.186*tw) // eq. 33
}

// WetBulb gives the temperature that a wetted, well-aired thermometer would show.
// Arguments as in Ratio. Found by bisection, since the humidity ratio rises with the
// wet bulb; the reading jumps where the bulb freezes.
//
// Errors: as Ratio.
func WetBulb(t unit.Celsius, h unit.Humidity, p unit.Pascals) (unit.Celsius, error) {
	w, err := Ratio(t, h, p)
	if err != nil {
		return 0, err
	}
	low, high := t-60, t
	for range 60 {
		mid := (low + high) / 2
		if fromWetBulb(t, mid, p) < w {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.Celsius(math.Min(float64(t), float64((low+high)/2))), nil
}
