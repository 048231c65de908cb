package diffusion

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Steady gives the profile that the wall comes to if its faces go on meeting what e
// says for ever (its Days do not matter): the floor that the air sets. The level
// falls from face to face in the measure of each layer's resistance, Crank 1975
// §12.2 (composite media); a wall with one face sealed takes the level of the other.
// With both sealed there is no such profile, and that is an error.
//
// The mean of a single skin with its inner face under water and 70 % outside is
// 0.85: no waiting brings it lower.
func (w *Wall) Steady(e Exposure) (Profile, error) {
	e.Days = 0
	if err := e.check(0); err != nil {
		return nil, err
	}
	if e.Outside.sealed && e.Inside.sealed {
		return nil, &measure.ArgumentError{Argument: "e", Why: "must leave one face open: a sealed wall keeps what it has"}
	}
	if e.Inside.sealed {
		return w.Uniform(e.Outside.level)
	}
	if e.Outside.sealed {
		return w.Uniform(e.Inside.level)
	}
	s := newStepper(w, make(Profile, w.Cells()))
	s.dt, s.at = 1, e.At
	s.conduct()
	through := make([]float64, len(s.cond)) // resistance from the outer face to each cell, then to the inner face
	var r float64
	for i, g := range s.cond {
		r += 1 / g
		through[i] = r
	}
	for i := range s.level {
		s.level[i] = e.Outside.level + (e.Inside.level-e.Outside.level)*through[i]/r
	}
	return s.level, nil
}

// farthest is how long Reach looks ahead: no band of weeks is worth more.
const farthest unit.Days = 36525

// Reach gives the days that a wall, uniform at level start, takes in constant air
// until its mean has fallen to target, both shares of saturation, target < start.
// Value is for the layers as given; Lower and Upper are for all of them faster by
// d.High/d.Typical and slower by d.Low/d.Typical, which scales the time exactly. Of
// e all but Days is used.
//
// It is a band and never a date: the air changes, solutes stay, and the range of d is
// from memory. A target at or below what Steady allows gives +Inf throughout and the
// note "floor"; a time beyond a hundred years gives +Inf and the note "too-far".
//
// Errors: *measure.ArgumentError for start, target, e or d.
func (w *Wall) Reach(start, target float64, e Exposure, d Range) (measure.Estimate, error) {
	if err := d.check(); err != nil {
		return measure.Estimate{}, err
	}
	level, err := w.Uniform(start)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := share("target", target); err != nil {
		return measure.Estimate{}, err
	}
	if target >= start {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "target", Why: "must be below start"}
	}
	steady, err := w.Steady(e)
	if err != nil {
		return measure.Estimate{}, err
	}
	floor, err := w.Mean(steady)
	if err != nil {
		return measure.Estimate{}, err
	}
	out := measure.Estimate{
		Value: math.Inf(1), Lower: math.Inf(1), Upper: math.Inf(1), N: 1,
		Assumes: []string{"the same air and temperature all along", "water leaves by diffusion alone", "the range of diffusivities, from memory"},
	}
	if target <= floor+rounding {
		out.Notes = append(out.Notes, measure.Note{Code: "floor", Text: "this air does not let the wall come so low, however long it stays"})
		return out, nil
	}
	out.Notes = temperatureNotes(e.At < coldest, e.At > hottest)
	days, ok := w.fall(level, target, e)
	if !ok {
		out.Notes = append(out.Notes, measure.Note{Code: "too-far", Text: "it would take more than a hundred years"})
		return out, nil
	}
	out.Value = days
	out.Lower, out.Upper = days*float64(d.Typical/d.High), days*float64(d.Typical/d.Low)
	return out, nil
}

// fall steps through time until the mean has come down to target, steps growing with
// the time passed, and places the crossing within its step by a straight line.
func (w *Wall) fall(level Profile, target float64, e Exposure) (days float64, ok bool) {
	s := newStepper(w, level)
	var full float64
	for _, x := range w.store {
		full += x
	}
	mean := func() (held float64) {
		for i, x := range w.store {
			held += x * s.level[i]
		}
		return held / full
	}
	before, t := mean(), 0.0
	for t < farthest.Seconds() {
		dt := math.Max(firstStep, t*0.005)
		s.take(dt, e)
		now := mean()
		if now <= target {
			return (t + dt*(before-target)/(before-now)) / unit.SecondsPerDay, true
		}
		before, t = now, t+dt
	}
	return 0, false
}
