package course

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Motion says whether a drying hull still moves.
type Motion string

// The answers.
const (
	Moving     Motion = "moving"  // it falls, and not less than foreseen
	Slower     Motion = "slower"  // it falls, but less than foreseen
	Stalled    Motion = "stalled" // no fall is shown where one was foreseen
	MotionOpen Motion = "cannot-tell"
)

// Stall compares the fall seen over the last stretch of visits with the fall foreseen.
type Stall struct {
	Motion             Motion
	Observed, Expected measure.Estimate // falls, in scale units; positive is drying
	Notes              []measure.Note
}

// DetectStall looks at the visits from since on, against the course of those up to it.
//
//	t, y   as for FitDrying; at least three visits from since on
//	since  days: where the stretch in question begins
//	noise  standard deviation of a value, 0 to take it from the residuals
//
// Stalled means that the whole interval of the fall seen lies below the whole interval
// of the fall foreseen by every shape that fits the earlier visits, and that no fall is
// shown. Both intervals have the level asked for, so a false Stalled is rarer than
// 1 − level. What stalled it (tank, bilge, air, residue) is not for numbers to say.
//
// Errors: as for FitDrying, for the visits up to since; too few from since on.
func DetectStall(t, y []float64, since, noise, level float64) (Stall, error) {
	if err := series(t, y, 1); err != nil {
		return Stall{}, err
	}
	if err := moment("since", since); err != nil {
		return Stall{}, err
	}
	var t0, y0, t1, y1 []float64
	for i := range t {
		if t[i] <= since {
			t0, y0 = append(t0, t[i]), append(y0, y[i])
		}
		if t[i] >= since {
			t1, y1 = append(t1, t[i]), append(y1, y[i])
		}
	}
	fits, err := shapesFor(t0, y0, noise, level)
	if err != nil {
		return Stall{}, fmt.Errorf("visits up to since: %w", err)
	}
	if len(t1) == 0 {
		return Stall{}, &measure.ArgumentError{Argument: "since", Why: "must not lie after the last visit"}
	}
	from, to := minOf(t1), maxOf(t1)
	expected := measure.Estimate{Lower: math.Inf(1), Upper: math.Inf(-1), Level: level, N: len(t0)}
	for i, d := range fits {
		e, err := d.FallBetween(from, to, level)
		if err != nil {
			return Stall{}, err
		}
		if i == 0 {
			expected.Value = e.Value
		}
		expected.Lower, expected.Upper = min(expected.Lower, e.Lower), max(expected.Upper, e.Upper)
	}
	return StallAgainst(t1, y1, expected, noise, level)
}

// StallAgainst compares the fall seen from the first to the last of some visits with a
// fall foreseen over the same time, such as that of diffusion through a known wall.
//
//	t, y      n ≥ 3 visits, two of them at different times
//	expected  fall over the same time, in scale units, with its interval
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for lengths that differ, too few
// visits, values not finite, bounds the wrong way round.
func StallAgainst(t, y []float64, expected measure.Estimate, noise, level float64) (Stall, error) {
	if err := series(t, y, 3); err != nil {
		return Stall{}, err
	}
	if err := measure.Finite("noise", noise); err != nil {
		return Stall{}, err
	}
	if noise < 0 {
		return Stall{}, &measure.ArgumentError{Argument: "noise", Why: "must not be below zero"}
	}
	if err := measure.Level(level); err != nil {
		return Stall{}, err
	}
	if math.IsNaN(expected.Lower) || math.IsNaN(expected.Upper) || expected.Lower > expected.Upper {
		return Stall{}, &measure.ArgumentError{Argument: "expected", Why: "must have a lower bound not above its upper"}
	}
	seen, err := fallSeen(t, y, noise, level)
	if err != nil {
		return Stall{}, err
	}
	s := Stall{Observed: seen, Expected: expected}
	s.judge()
	return s, nil
}

func (s *Stall) judge() {
	less := s.Observed.Upper < s.Expected.Lower
	falls := s.Observed.Lower > 0
	switch {
	case less && falls:
		s.Motion = Slower
	case less:
		s.Motion = Stalled
	case falls:
		s.Motion = Moving
	default:
		s.Motion = MotionOpen
		s.Notes = append(s.Notes, measure.Note{Code: "too-little-foreseen", Text: fmt.Sprintf("A fall of %.2g units or more was foreseen; the visits can tell the fall to within %.2g. A stall could not be told from drying yet.", max(0, s.Expected.Lower), (s.Observed.Upper-s.Observed.Lower)/2)})
	}
}

// fallSeen is minus the slope of a straight line through the visits times the time from
// the first to the last.
func fallSeen(t, y []float64, noise, level float64) (measure.Estimate, error) {
	n := float64(len(t))
	var mt, my float64
	first, last := t[0], t[0]
	for i := range t {
		mt += t[i] / n
		my += y[i] / n
		first, last = min(first, t[i]), max(last, t[i])
	}
	var sxx, sxy float64
	for i := range t {
		sxx += (t[i] - mt) * (t[i] - mt)
		sxy += (t[i] - mt) * (y[i] - my)
	}
	if !(last > first) || sxx == 0 {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "t", Why: "must hold at least two different times"}
	}
	slope := sxy / sxx
	rss := 0.0
	for i := range t {
		r := y[i] - my - slope*(t[i]-mt)
		rss += r * r
	}
	q, sigma := distuv.UnitNormal.Quantile((1+level)/2), noise
	if noise == 0 {
		q = distuv.StudentsT{Nu: n - 2, Sigma: 1}.Quantile((1 + level) / 2)
		sigma = math.Sqrt(rss / (n - 2))
	}
	half := q * sigma / math.Sqrt(sxx) * (last - first)
	fall := -slope * (last - first)
	return measure.Estimate{Value: fall, Lower: fall - half, Upper: fall + half, Level: level, N: len(t), Assumes: []string{"a steady rate over the stretch"}}, nil
}
