package diffusion

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Stretch is a time during which the wall was at about one temperature.
type Stretch struct {
	Days unit.Days
	At   unit.Celsius
}

// erfHalf is erf⁻¹(½); a half-space is half dried at 2·erf⁻¹(½)·√(D t) = 0.954 √(D t).
const erfHalf = 0.4769362762044699

// DryingDepth gives how far into bare laminate drying has reached: the depth, in
// mm from the open face, that has lost half of what it held above the air's level.
// Value is for the typical diffusivity, Lower and Upper for the ends of the range.
//
//	course  the stretches ashore, in any order, each with the wall's temperature
//	wall    thickness of the laminate, mm, inner face taken as sealed; 0 if unknown
//	d       diffusivity of the laminate
//
// The band is the range of d and no interval of stated coverage (Level is 0). A
// depth is never more than the wall: the note "through" says when it is all of it.
//
// Source: erf(x/(2√(D t))) = ½ at x = 0.954 √(D t), Crank 1975 §2.4.3, with
// ∫D(T)dt in place of D t; in a wall of known thickness, eq. 4.17 solved for ½.
//
// Errors: measure.ErrEmpty for no stretches; *measure.ArgumentError for one, the wall
// or the range.
func DryingDepth(course []Stretch, wall unit.Millimetres, d Range) (measure.Estimate, error) {
	if err := d.check(); err != nil {
		return measure.Estimate{}, err
	}
	if wall != 0 {
		if err := thick("wall", wall); err != nil {
			return measure.Estimate{}, err
		}
	}
	days, notes, err := atReference(course, d.ActivationEnergy)
	if err != nil {
		return measure.Estimate{}, err
	}
	e := measure.Estimate{
		Value: halfDried(d.Typical, days, wall),
		Lower: halfDried(d.Low, days, wall),
		Upper: halfDried(d.High, days, wall),
		N:     len(course),
		Notes: notes,
		Assumes: []string{
			"bare laminate; less under a coating",
			fmt.Sprintf("diffusivity %s to %s m²/s at 20 °C, from memory", scientific(d.Low), scientific(d.High)),
			"dry outer face throughout; rain and washing start it anew",
			"water leaves by diffusion alone; dissolved matter stays behind",
		},
	}
	if wall > 0 && e.Upper >= float64(wall) {
		e.Notes = append(e.Notes, measure.Note{
			Code: "through",
			Text: fmt.Sprintf("at the fast end of the range the whole %g mm would be half dried", float64(wall)),
		})
	}
	return e, nil
}

// scientific writes a diffusivity as 0.3e-12: always in picosquaremetres, so that
// the ends of a band read alike.
func scientific(d unit.Diffusivity) string { return fmt.Sprintf("%.3ge-12", float64(d)*1e12) }

// halfDried gives the depth in mm after days at the reference temperature.
func halfDried(d unit.Diffusivity, days unit.Days, wall unit.Millimetres) float64 {
	open := 2 * erfHalf * math.Sqrt(float64(d)*days.Seconds()) * 1000
	if wall == 0 {
		return open
	}
	f := fourier(d, 2*wall.Metres(), days)
	if level(0.5, f) <= 0.5 { // even the sealed face is past half
		return float64(wall)
	}
	low, high := 0.0, 0.5
	for range 60 {
		mid := (low + high) / 2
		if level(mid, f) < 0.5 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) * float64(wall) // share of a sheet twice the wall
}

// EquivalentDays gives the days at 20 °C in which diffusion would do what it did
// over the course: Σ days·D(T)/D(20 °C), with e the activation energy in J/mol.
// Errors: no stretches, a negative time, a temperature that is none.
func EquivalentDays(course []Stretch, e float64) (unit.Days, error) {
	if err := notNegative("e", e); err != nil {
		return 0, err
	}
	days, _, err := atReference(course, e)
	return days, err
}

func atReference(course []Stretch, e float64) (days unit.Days, notes []measure.Note, err error) {
	if len(course) == 0 {
		return 0, nil, measure.ErrEmpty
	}
	var cold, hot bool
	for i, s := range course {
		if err := elapsed(fmt.Sprintf("course[%d].Days", i), s.Days); err != nil {
			return 0, nil, err
		}
		if err := temperature(fmt.Sprintf("course[%d].At", i), s.At); err != nil {
			return 0, nil, err
		}
		days += s.Days * unit.Days(arrhenius(s.At, Reference, e))
		cold = cold || s.At < coldest
		hot = hot || s.At > hottest
	}
	return days, temperatureNotes(cold, hot), nil
}

func temperatureNotes(cold, hot bool) (notes []measure.Note) {
	if cold {
		notes = append(notes, measure.Note{
			Code: "below-freezing",
			Text: "part of the time was below 0 °C, where the temperature rule is not known to hold",
		})
	}
	if hot {
		notes = append(notes, measure.Note{
			Code: "too-hot",
			Text: fmt.Sprintf("part of the time was above %g °C, where laminates have been seen to take up water by another mechanism", float64(hottest)),
		})
	}
	return notes
}
