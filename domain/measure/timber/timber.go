// Package timber computes what wood has to do with the air around it, and reads pin
// readings for what they may say. Timber, unlike glass fibre, has a moisture content
// that a calibrated instrument can give in percent.
package timber

import (
	"cmp"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Percent is a moisture content, percent of the oven-dry mass.
type Percent float64

// Equilibrium gives the moisture content that wood comes to in air of this
// temperature, −1 to 60 °C, and relative humidity, 0 to 98 %: Wood Handbook
// FPL-GTR-282 (2021) eq. 4-5, coefficients for Celsius (Simpson 1998, FPL-RN-0268):
//
//	M = 1800/W · [K h/(1−K h) + (K₁ K h + 2 K₁ K₂ K² h²)/(1 + K₁ K h + K₁ K₂ K² h²)]
//
// An average over species; one species or another lies a point or two off, and wood
// on its way down holds more than wood on its way up.
//
// Errors: *measure.ArgumentError for t or h.
func Equilibrium(t unit.Celsius, h unit.Humidity) (measure.Estimate, error) {
	if err := measure.Finite("t", float64(t)); err != nil {
		return measure.Estimate{}, err
	}
	if t < -1.5 || t > 60 {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "t", Why: "must lie between −1.5 and 60 °C"}
	}
	if err := measure.Finite("h", float64(h)); err != nil {
		return measure.Estimate{}, err
	}
	if h < 0 || h > 98 {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "h", Why: "must lie between 0 and 98 %: nearer saturation wood has no one balance"}
	}
	return measure.Estimate{
		Value: equilibrium(float64(t), h.Fraction()),
		Assumes: []string{
			"an average of species; given long enough to come to balance",
			"clean wood: salt and preservatives hold more water",
		},
	}, nil
}

func equilibrium(t, h float64) float64 {
	w := 349 + 1.29*t + 0.0135*t*t
	k := 0.805 + 0.000736*t - 0.00000273*t*t
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	kh := k * h
	return 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))
}

// Limits of what pins can say, and of decay.
const (
	// FibreSaturation is about where cell walls are full and pins stop following the
	// water: 28 to 30 %, from memory.
	FibreSaturation Percent = 28
	// DecayPossible is above which decay can run; free water from about 25 to 30 %
	// (extracts of US Navy MO-312 and the Wood Handbook, ch. 14).
	DecayPossible Percent = 20
	// PinsFrom is below which pin readings are not trusted: usual scales begin at 5 to
	// 7 %, common practice, no source.
	PinsFrom Percent = 6

	coldForDecay unit.Celsius = 10 // decay is slow below and above these:
	hotForDecay  unit.Celsius = 35 // the same extracts
)

// Band is what a moisture content says about decay. It is about conditions for decay,
// never about whether there is any: that takes a spike, a drill or a laboratory.
type Band string

// Bands of decay risk.
const (
	BelowDecay Band = "below where decay usually runs"
	Possible   Band = "decay can run"
	FreeWater  Band = "free water; decay can run"
)

// Pins is a reading of a resistance instrument on its own timber scale, in percent.
type Pins struct {
	Reading Percent
	At      unit.Celsius // of the wood
	// CalibratedAt is the temperature that its scale was made for, 20 °C for many.
	CalibratedAt unit.Celsius
	Salty        bool // the wood has been in or under sea water
	Corrected    bool // the instrument has already taken temperature and species off
}

// Judge gives the band a pin reading falls in, with every doubt as a note.
//
// It does not correct the reading: the tables for temperature (James 1988, FPL-GTR-6;
// Pfaff and Garrahan 1986) and for species were not to hand, so the notes say in
// which direction the reading errs and by about how much, and no corrected figure is
// offered. Reading 0 to 100 %, wood −20 to 60 °C.
//
// Errors: *measure.ArgumentError for the reading or a temperature.
func Judge(p Pins) (Band, []measure.Note, error) {
	if err := p.check(); err != nil {
		return "", nil, err
	}
	var notes []measure.Note
	note := func(code, text string) { notes = append(notes, measure.Note{Code: code, Text: text}) }
	if p.Reading < PinsFrom {
		note("below-scale", "below about 6 % pins do not follow the water")
	}
	if p.Reading > FibreSaturation {
		note("above-fibre-saturation", "above about 28 to 30 % the figure means wet through and nothing finer")
	}
	if p.Salty {
		note("salt", "wood that has held sea water reads high: salt conducts")
	}
	if !p.Corrected {
		p.temperature(note)
		note("species", "no correction for species was made: none is offered without its source")
	}
	if p.At < coldForDecay {
		note("cold", "decay is slow below about 10 °C; it goes on when the wood warms")
	}
	if p.At > hotForDecay {
		note("hot", "decay is slow above about 35 °C")
	}
	return band(p.Reading), notes, nil
}

func band(reading Percent) Band {
	switch {
	case reading > FibreSaturation:
		return FreeWater
	case reading > DecayPossible:
		return Possible
	default:
		return BelowDecay
	}
}

// temperature says which way the reading errs. The size, about a point for 10 °C near
// 12 to 15 %, is from memory; the direction is read from public pages.
func (p Pins) temperature(note func(code, text string)) {
	switch d := p.At - p.CalibratedAt; {
	case math.Abs(float64(d)) < 5:
	case d > 0:
		note("reads-high", "the wood is warmer than the scale was made for, so it reads high: about a point for each 10 °C near 12 to 15 %")
	default:
		note("reads-low", "the wood is colder than the scale was made for, so it reads low: about a point for each 10 °C near 12 to 15 %")
	}
}

func (p Pins) check() error {
	if err := cmp.Or(measure.Finite("p.Reading", float64(p.Reading)), measure.Finite("p.At", float64(p.At)),
		measure.Finite("p.CalibratedAt", float64(p.CalibratedAt))); err != nil {
		return err
	}
	if p.Reading < 0 || p.Reading > 100 {
		return &measure.ArgumentError{Argument: "p.Reading", Why: "must lie between 0 and 100 %"}
	}
	if p.At < -20 || p.At > 60 || p.CalibratedAt < -20 || p.CalibratedAt > 60 {
		return &measure.ArgumentError{Argument: "p.At and p.CalibratedAt", Why: "must lie between −20 and 60 °C"}
	}
	return nil
}
