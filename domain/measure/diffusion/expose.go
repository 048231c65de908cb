package diffusion

import (
	"cmp"
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Boundary is what a face of the wall meets. The zero Boundary is absolutely dry air.
type Boundary struct {
	level  float64
	sealed bool
}

// Air is a face in air of this humidity. To first order the face then holds RH/100
// of saturation: a straight-line sorption, an assumption of the whole package.
func Air(h unit.Humidity) Boundary { return Boundary{level: h.Fraction()} }

// Wet is a face under water, in rain, or with condensation on it.
func Wet() Boundary { return Boundary{level: 1} }

// Sealed is a face that no water passes.
func Sealed() Boundary { return Boundary{sealed: true} }

func (b Boundary) check(name string) error {
	if err := measure.Finite(name, b.level); err != nil {
		return err
	}
	if b.level < 0 || b.level > 1 {
		return &measure.ArgumentError{Argument: name, Why: "must be a humidity between 0 and 100 %"}
	}
	return nil
}

// Exposure is a time in which the wall is at one temperature and each face meets
// one thing: an hour of weather, a week of rain, a season afloat.
type Exposure struct {
	Days            unit.Days
	At              unit.Celsius
	Outside, Inside Boundary
}

// check names what is wrong by its path in the course. A season is thousands of
// exposures, so no name is made before it is needed.
func (e Exposure) check(i int) error {
	err := cmp.Or(elapsed("Days", e.Days), temperature("At", e.At),
		e.Outside.check("Outside"), e.Inside.check("Inside"))
	if err == nil {
		return nil
	}
	return fmt.Errorf("course[%d]: %w", i, err)
}

// Expose carries a wall through a course of exposures and gives the profile at its
// end; start is left as it was.
//
// Method: finite volumes in space, implicit Euler in time. The matrix of a step is
// an M-matrix, so for steps of any length the level stays between the extremes of
// its start and its faces, and drier air can never leave a wetter wall; that is
// worth more here than a higher order. An exposure of up to an hour is one
// step; a longer one is cut into steps that start at ten minutes, because a face
// has just changed, and grow by 3 % up to a day; where both faces meet much the
// same as in the exposure before, the steps go on as they were. Against the series the water
// content of a 10 mm wall of 48 cells is right to 0.002 of saturation from the
// first day on, and the level in every cell to 0.005 (a test holds it to that).
//
// Errors: a profile that does not belong to the wall, an exposure that is none.
func (w *Wall) Expose(start Profile, course []Exposure) (Profile, error) {
	return w.Follow(start, course, nil)
}

// Follow is Expose that shows the profile after each exposure: see gets the index
// of the exposure and the profile, which it may read but not keep. A nil see is
// not called.
//
// Errors: as Expose.
func (w *Wall) Follow(start Profile, course []Exposure, see func(i int, p Profile)) (Profile, error) {
	if err := w.check(start); err != nil {
		return nil, err
	}
	s := newStepper(w, start)
	for i, e := range course {
		if err := e.check(i); err != nil {
			return nil, err
		}
		s.expose(e)
		if see != nil {
			see(i, s.level)
		}
	}
	return s.level, nil
}
