package diffusion

import (
	"cmp"
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Water that a hull lies in.
type Water string

// Fresh water is reported to drive blistering harder than salt (J. Mar. Sci. Eng.
// 12:2247, 2024, introduction); no factor was found, so the two are counted apart.
const (
	Salt     Water = "salt"
	Fresh    Water = "fresh"
	Brackish Water = "brackish"
)

// Immersion is a time afloat in water of about one temperature.
type Immersion struct {
	Days unit.Days
	At   unit.Celsius
	In   Water
}

// Clock is time afloat weighted by temperature, days at 20 °C, by water.
type Clock map[Water]measure.Estimate

// ImmersionClock adds up the times afloat, each weighted by how much faster water
// moves at its temperature than at 20 °C, so that boats and visits can be compared.
// Value takes 40 kJ/mol; Lower and Upper are the ends over 30 to 60 kJ/mol (all from
// memory), a band and no interval of stated coverage.
//
// Since a treatment: give the times since then. Errors: no times, one below zero, a
// temperature that is none, a water that is none of the three.
func ImmersionClock(times []Immersion) (Clock, error) {
	if len(times) == 0 {
		return nil, measure.ErrEmpty
	}
	courses := map[Water][]Stretch{}
	for i, t := range times {
		if t.In != Salt && t.In != Fresh && t.In != Brackish {
			return nil, &measure.ArgumentError{Argument: fmt.Sprintf("times[%d].In", i), Why: "must be salt, fresh or brackish"}
		}
		if err := cmp.Or(elapsed(fmt.Sprintf("times[%d].Days", i), t.Days), temperature(fmt.Sprintf("times[%d].At", i), t.At)); err != nil {
			return nil, err
		}
		courses[t.In] = append(courses[t.In], Stretch{t.Days, t.At})
	}
	clock := Clock{}
	for water, course := range courses {
		e, err := weighted(course)
		if err != nil {
			return nil, fmt.Errorf("in %s water: %w", water, err)
		}
		clock[water] = e
	}
	return clock, nil
}

func weighted(course []Stretch) (measure.Estimate, error) {
	days, notes, err := atReference(course, 40e3)
	if err != nil {
		return measure.Estimate{}, err
	}
	slow, _, err := atReference(course, 60e3)
	if err != nil {
		return measure.Estimate{}, err
	}
	fast, _, err := atReference(course, 30e3)
	if err != nil {
		return measure.Estimate{}, err
	}
	return measure.Estimate{
		Value: float64(days), Lower: float64(min(days, slow, fast)), Upper: float64(max(days, slow, fast)),
		N: len(course), Notes: notes,
		Assumes: []string{"activation energy 40 kJ/mol, 30 to 60, from memory"},
	}, nil
}
