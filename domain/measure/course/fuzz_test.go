package course_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
)

// visitsFrom makes a series of bytes: time steps and values, ties among both.
func visitsFrom(raw []byte, days, units float64) (t, y []float64) {
	at := 0.0
	for i := 0; i+1 < min(len(raw), 60); i += 2 {
		at += days * float64(raw[i]%16)
		t, y = append(t, at), append(y, units*float64(raw[i+1]))
	}
	return t, y
}

// The general solver stops, and what it gives is a number.
func FuzzFit(f *testing.F) {
	f.Add([]byte{1, 200, 1, 150, 1, 120, 1, 105, 1, 100, 1, 98}, 1.0, 1.0, 100.0, 100.0, 0.5)
	f.Add([]byte{1, 0, 0, 0, 9, 255, 3, 255}, 1e6, 1e-9, -1e9, 0.0, -1e9)
	decay := course.Curve{
		Parameters: 3,
		At:         func(p []float64, t float64) float64 { return p[0] + p[1]*math.Exp(-p[2]*t) },
		Slope: func(p []float64, t float64, g []float64) {
			e := math.Exp(-p[2] * t)
			g[0], g[1], g[2] = 1, e, -p[1]*t*e
		},
	}
	f.Fuzz(func(t *testing.T, raw []byte, days, units, a, b, k float64) {
		ts, ys := visitsFrom(raw, days, units)
		got, err := course.Fit(decay, ts, ys, []float64{a, b, k})
		if err != nil {
			return
		}
		for _, v := range append(append(got.P, got.SE...), got.RSS, got.Sigma) {
			if math.IsNaN(v) {
				t.Fatalf("%+v of %v, %v", got, ts, ys)
			}
		}
	})
}

func FuzzSeasons(f *testing.F) {
	f.Add([]byte{1, 20, 1, 15, 1, 12, 1, 10, 1, 10, 0, 98}, uint8(2), 1.0, 3.0, 5.0)
	f.Fuzz(func(t *testing.T, raw []byte, parts uint8, days, low, high float64) {
		var seasons []course.Season
		n := int(parts%3) + 1
		for i := range n {
			ts, ys := visitsFrom(raw[i*len(raw)/n:(i+1)*len(raw)/n], days, 0.5)
			seasons = append(seasons, course.Season{T: ts, Y: ys})
		}
		if s, err := course.MannKendallSeasonal(seasons, 0.95); err == nil && (!(s.P >= 0 && s.P <= 1) || math.IsNaN(s.Z) || math.IsNaN(s.Slope)) {
			t.Fatalf("%+v", s)
		}
		ts, ys := visitsFrom(raw, days, 0.5)
		s, err := course.StallAgainst(ts, ys, measure.Estimate{Lower: low, Upper: high}, 0, 0.95)
		if err == nil && (math.IsNaN(s.Observed.Value) || s.Observed.Lower > s.Observed.Upper || s.Motion == "") {
			t.Fatalf("%+v", s)
		}
	})
}
