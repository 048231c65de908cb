// Package drying follows a hull that was peeled or laid up to dry: the series of her
// passes, the washes and what rebounds after each, the air and the floor it sets, a
// stall and what it may point to, a band of weeks, and the sheet of coating gates with
// the evidence for each.
//
// It gives figures and codes; the words are domain/report's. No figure here is a water
// content, no band is a date, and no sheet says that a hull may be coated: whoever coats
// decides.
package drying

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/order"
)

// Level is the coverage of every interval of this package.
const Level = 0.95

// Visit is one pass of a series.
type Visit struct {
	Days     float64   // since drying began
	Contrast []float64 // by place, scale units above the pass's own dry baseline; NaN where not read or at a limit
	Dry      float64   // median of its dry places as read, scale units
	Humidity *float64  // of the air while it was read, percent
	Heated   *bool     // whether heat was on in the days before
}

// Place says where a slot of the contrasts lies.
type Place struct {
	Side   string // port, starboard, centre
	Mirror int    // slot of its twin, -1 for none
}

// Series is passes that may be held against one another, oldest first, over the places
// that all of them read.
type Series struct {
	Visits []Visit
	Common []int     // slots read at every visit
	Level  []float64 // of each visit: median contrast over Common, scale units
}

// Of puts visits of like standing into a series.
//
//	visits  any number, by Days; contrasts of one length
//
// Errors: *measure.ArgumentError for days out of order or below zero, or contrasts of
// unlike length.
func Of(visits []Visit) (Series, error) {
	s := Series{Visits: visits}
	for k, v := range visits {
		if err := measure.Finite("visits.Days", v.Days); err != nil {
			return Series{}, err
		}
		if v.Days < 0 || k > 0 && v.Days < visits[k-1].Days {
			return Series{}, &measure.ArgumentError{Argument: "visits", Why: "must lie in order, from the day that drying began"}
		}
		if len(v.Contrast) != len(visits[0].Contrast) {
			return Series{}, &measure.ArgumentError{Argument: "visits", Why: "must have contrasts of one length"}
		}
	}
	if len(visits) == 0 {
		return s, nil
	}
	for slot := range visits[0].Contrast {
		if !slices.ContainsFunc(visits, func(v Visit) bool { return math.IsNaN(v.Contrast[slot]) }) {
			s.Common = append(s.Common, slot)
		}
	}
	if len(s.Common) == 0 {
		return s, nil
	}
	for k := range visits {
		m, _ := order.Middle(s.at(k, s.Common)) // finite and not empty
		s.Level = append(s.Level, m)
	}
	return s, nil
}

// at lists the contrasts of a visit at some slots.
func (s Series) at(visit int, slots []int) []float64 {
	out := make([]float64, len(slots))
	for i, slot := range slots {
		out[i] = s.Visits[visit].Contrast[slot]
	}
	return out
}

func (s Series) days() []float64 {
	out := make([]float64, len(s.Visits))
	for k, v := range s.Visits {
		out[k] = v.Days
	}
	return out
}

// Falls gives how far each common place came down from one visit to another.
func (s Series) Falls(from, to int) []float64 {
	a, b := s.at(from, s.Common), s.at(to, s.Common)
	for i := range a {
		a[i] -= b[i]
	}
	return a
}

// Course is the fitted course of a series, and what may be said from it.
type Course struct {
	Fit    *course.Drying // the shape that fits best; nil where too few visits carry one
	Curve  []Sample       // its height with its interval, evenly over the time seen and half as much again
	Motion *course.Stall  // over the last three visits or more, nil before there are enough
	Since  float64        // days: where that stretch begins
	Band   *course.Band   // when it reaches the target asked for; nil where none was, or too few visits
}

// Sample is a point of a fitted curve.
type Sample struct {
	Days   float64
	Height measure.Estimate
}

// leastVisits is what a drying curve of two parameters takes (course.RootTime).
const leastVisits = 4

// samples is how many points a curve is drawn through.
const samples = 25

// Course fits the series. target is a contrast in scale units that somebody asks about,
// nil for none: it is a question about the course and says nothing of the hull's state.
//
// Too few visits is no error: the parts that they cannot carry are nil.
func (s Series) Course(target *float64) (Course, error) {
	var out Course
	if len(s.Level) < leastVisits {
		return out, nil
	}
	t := s.days()
	best, err := bestFit(t, s.Level)
	if err != nil || best == nil {
		return out, err
	}
	out.Fit = best
	if out.Curve, err = drawn(*best, t[len(t)-1]*1.5); err != nil {
		return out, err
	}
	if n := len(t) - 3; n+1 >= leastVisits {
		out.Since = t[n]
		if m, err := course.DetectStall(t, s.Level, t[n], 0, Level); err == nil {
			out.Motion = &m
		}
	}
	if target != nil {
		b, err := course.Forecast(t, s.Level, *target, 0, Level)
		if err != nil {
			return out, err
		}
		out.Band = &b
	}
	return out, nil
}

// bestFit gives the shape with the least sum of squares of those the visits can carry.
func bestFit(t, y []float64) (*course.Drying, error) {
	var best *course.Drying
	for _, shape := range []course.Shape{course.Slab, course.Exponential, course.RootTime} {
		d, err := course.FitDrying(t, y, shape, 0, Level)
		if err != nil { // too few visits, or too many on one day, for this shape
			continue
		}
		if best == nil || d.RSS < best.RSS {
			best = &d
		}
	}
	return best, nil
}

func drawn(d course.Drying, to float64) ([]Sample, error) {
	out := make([]Sample, samples)
	for k := range out {
		days := to * float64(k) / (samples - 1)
		e, err := d.At(days, Level)
		if err != nil {
			return nil, err
		}
		out[k] = Sample{days, e}
	}
	return out, nil
}
