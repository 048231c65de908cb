package beside

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// PassingBablok fits a line by the shifted median of the slopes of all pairs: Passing
// & Bablok, J. Clin. Chem. Clin. Biochem. 21 (1983) 709-720, eq. 4-9. It needs no
// ratio of errors, no distribution, and a stray place does not pull it; errors must
// grow on both scales in like proportion, and y must rise with x.
//
//	x, y   readings of the same n ≥ 3 places, n ≤ 2000
//	level  coverage asked for
//
// Pairs of equal readings are left out, slopes of exactly −1 too; vertical pairs count
// as infinite. The interval is by ranks; where they run beyond the pairs there are,
// it is unbounded with the note "too-few". A slope that is not above zero has the
// note "not-rising": the fit then means nothing.
//
// Errors: *measure.ArgumentError for x, y or level, and for x where no pair differs.
func PassingBablok(x, y []float64, level float64) (Line, error) {
	if err := check(x, y, 3); err != nil {
		return Line{}, err
	}
	if err := measure.Level(level); err != nil {
		return Line{}, err
	}
	slopes, offset := pairSlopes(x, y)
	n, pairs := float64(len(x)), len(slopes)
	if pairs == 0 {
		return Line{}, &measure.ArgumentError{Argument: "x", Why: "must hold places that read differently"}
	}
	at := func(rank int) (float64, bool) { // counting from 1, offset added
		if i := rank + offset; i >= 1 && i <= pairs {
			return slopes[i-1], true
		}
		return 0, false
	}
	low, ok1 := at((pairs + 1) / 2)
	high, ok2 := at(pairs/2 + 1)
	if !ok1 || !ok2 || math.IsInf(low, 0) || math.IsInf(high, 0) {
		return Line{}, &measure.ArgumentError{Argument: "y", Why: "must rise with x"}
	}
	b := low/2 + high/2
	c := order.Z((1+level)/2) * math.Sqrt(n*(n-1)*(2*n+5)/18)
	m1 := int(math.RoundToEven((float64(pairs) - c) / 2))
	lower, ok1 := at(m1)
	upper, ok2 := at(pairs - m1 + 1)
	l := Line{Slope: measure.Estimate{Value: b, Lower: math.Inf(-1), Upper: math.Inf(1), N: len(x)}}
	if m1 >= 1 && ok1 && ok2 {
		l.Slope.Lower, l.Slope.Upper, l.Slope.Level = lower, upper, level
	} else {
		l.Slope.Notes = append(l.Slope.Notes, measure.Note{Code: "too-few", Text: "Too few places for an interval of " + order.Percent(level) + "."})
	}
	l.Intercept = intercept(x, y, l.Slope)
	l.Slope.Assumes = []string{"y rises with x along a line", "errors of both grow in like proportion"}
	if b <= 0 {
		l.Slope.Notes = append(l.Slope.Notes, measure.Note{Code: "not-rising", Text: "The second instrument does not rise with the first: the fit means nothing."})
	}
	return l, nil
}

// pairSlopes gives the slopes of all pairs in order, and K, how many lie below −1.
func pairSlopes(x, y []float64) (slopes []float64, below int) {
	var largest float64
	for i := range x {
		largest = max(largest, math.Abs(x[i]), math.Abs(y[i]))
	}
	near := 1e-12 * largest // readings are decimals; their differences carry dust
	slopes = make([]float64, 0, len(x)*(len(x)-1)/2)
	for i := range x {
		for j := range i {
			s, ok := slope(x[i]-x[j], y[i]-y[j], near)
			if !ok {
				continue
			}
			if s < -1 {
				below++
			}
			slopes = append(slopes, s)
		}
	}
	slices.Sort(slopes)
	return slopes, below
}

func slope(dx, dy, near float64) (float64, bool) {
	flat, steep := math.Abs(dy) <= near, math.Abs(dx) <= near
	switch {
	case flat && steep:
		return 0, false
	case steep:
		return math.Inf(int(math.Copysign(1, dy))), true
	case flat:
		return 0, true
	}
	s := dy / dx
	return s, math.Abs(s+1) >= 1e-12
}

// intercept: medians of y − b·x with b and both ends of its interval, eq. 10-12.
func intercept(x, y []float64, b measure.Estimate) measure.Estimate {
	with := func(b float64) float64 {
		d := make([]float64, len(x))
		for i := range x {
			d[i] = y[i] - b*x[i]
		}
		m, err := order.Middle(d)
		if err != nil { // an infinite slope
			return math.Copysign(math.Inf(1), -b)
		}
		return m
	}
	a := measure.Estimate{Value: with(b.Value), Lower: with(b.Upper), Upper: with(b.Lower), Level: b.Level, N: b.N, Notes: b.Notes}
	// Scales may have readings of both signs; then the ends may come out the other way.
	a.Lower, a.Upper = min(a.Lower, a.Upper), max(a.Lower, a.Upper)
	return a
}
