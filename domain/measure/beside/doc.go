// Package beside sets instruments side by side. Two relative scales have no
// conversion between them: what can be had is a cross-reading set, at least fifteen
// places from wet to dry read with both, a line fitted with errors in both, and the
// band in which a reading of the second must be expected for one of the first. Where
// that band is wider than the effect in question, the instruments are not
// comparable, and that is the answer.
//
// Without a cross-reading set only the position of a reading in its own pass may be
// compared: [Positions].
package beside

import (
	"math"

	"boottop.example/practice/domain/measure"
)

// Least is how many places a cross-reading set needs: design section 3.2 (common
// practice, no source).
const Least = 15

// most bounds what works on all pairs of places.
const most = 2000

// check refuses sets that are not two of one length.
func check(x, y []float64, least int) error {
	if len(x) != len(y) {
		return &measure.ArgumentError{Argument: "y", Why: "must be as long as x"}
	}
	if len(x) < least || len(x) > most {
		return &measure.ArgumentError{Argument: "x", Why: "must hold between 3 and 2000 readings"}
	}
	for _, s := range []struct {
		name string
		v    []float64
	}{{"x", x}, {"y", y}} {
		if err := measure.Finite(s.name, s.v...); err != nil {
			return err
		}
		for _, v := range s.v {
			if math.Abs(v) > 1e100 {
				return &measure.ArgumentError{Argument: s.name, Why: "must hold readings of a scale, below 1e100"}
			}
		}
	}
	return nil
}

// sums are means and sums of squares and products about them.
type sums struct{ n, mx, my, xx, yy, xy float64 }

func sumsOf(x, y []float64) sums {
	s := sums{n: float64(len(x))}
	for i := range x {
		s.mx, s.my = s.mx+x[i]/s.n, s.my+y[i]/s.n
	}
	for i := range x {
		dx, dy := x[i]-s.mx, y[i]-s.my
		s.xx, s.yy, s.xy = s.xx+dx*dx, s.yy+dy*dy, s.xy+dx*dy
	}
	return s
}

// without gives the sums with one pair left out.
func (s sums) without(x, y float64) sums {
	m := s.n - 1
	dx, dy := x-s.mx, y-s.my
	f := s.n / m
	return sums{m, s.mx - dx/m, s.my - dy/m, s.xx - f*dx*dx, s.yy - f*dy*dy, s.xy - f*dx*dy}
}
