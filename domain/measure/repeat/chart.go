package repeat

import (
	"math"

	"boottop.example/practice/domain/measure"
)

// Point is one block check on a control chart.
type Point struct {
	Value        float64 // what is charted
	Lower, Upper float64 // control limits
	Out          bool    // beyond them
}

// d2 and d3 are mean and standard deviation of the range of two standard normal
// values: 2/√π and √(2−4/π). Tables print 1.128 and 0.853.
var (
	d2 = 2 / math.Sqrt(math.Pi)
	d3 = math.Sqrt(2 - 4/math.Pi)
)

// Individuals is a chart of single block checks.
type Individuals struct {
	Mean        float64 // centre line
	MovingRange float64 // mean of the moving ranges of two
	Sigma       float64 // MovingRange/d₂, the scatter from check to check
	RangeLimit  float64 // upper limit of a moving range, D₄·MovingRange
	Points      []Point
	Notes       []measure.Note
}

// IndividualsChart charts block checks, each for itself: NIST/SEMATECH e-Handbook
// 6.3.2.2, limits x̄ ± 3·M̄R/d₂.
//
//	x       checks of one block, in order of time, scale units, n ≥ 2
//	settle  how many of the first checks set the limits, 2 ≤ settle ≤ n; n for all
//
// Under 20 checks the limits are shaky, which the note "too-few" says.
//
// Errors: *measure.ArgumentError for x or settle.
func IndividualsChart(x []float64, settle int) (Individuals, error) {
	if err := measure.Finite("x", x...); err != nil {
		return Individuals{}, err
	}
	if settle < 2 || settle > len(x) {
		return Individuals{}, &measure.ArgumentError{Argument: "settle", Why: "must lie between 2 and the number of checks"}
	}
	_, mean := squares(x[:settle])
	c := Individuals{Mean: mean}
	for i := 1; i < settle; i++ {
		c.MovingRange += math.Abs(x[i]-x[i-1]) / float64(settle-1)
	}
	if math.IsInf(c.MovingRange, 0) || math.IsNaN(mean) {
		return Individuals{}, &measure.ArgumentError{Argument: "x", Why: "must differ by something finite"}
	}
	c.Sigma = c.MovingRange / d2
	c.RangeLimit = c.MovingRange * (1 + 3*d3/d2)
	for _, v := range x {
		p := Point{Value: v, Lower: mean - 3*c.Sigma, Upper: mean + 3*c.Sigma}
		p.Out = v < p.Lower || v > p.Upper
		c.Points = append(c.Points, p)
	}
	if settle < 20 {
		c.Notes = []measure.Note{{Code: "too-few", Text: "Fewer than 20 checks set the limits: take them as provisional."}}
	}
	return c, nil
}

// EWMA charts the exponentially weighted moving average of block checks, which shows
// a slow drift sooner than single checks do: NIST/SEMATECH e-Handbook 6.3.2.4,
// zₜ = λxₜ + (1−λ)zₜ₋₁ from z₀ = target, limits target ± L·s·√(λ/(2−λ)·(1−(1−λ)²ᵗ)).
//
//	x       checks of one block, in order of time, n ≥ 1
//	target  what the block should read, same unit
//	s       > 0, scatter from check to check, e.g. [Individuals].Sigma
//	lambda  weight of the newest, 0 < λ ≤ 1; 0.2 to 0.3 is usual
//	width   L, > 0; 3 is usual
//
// Errors: measure.ErrEmpty; *measure.ArgumentError.
func EWMA(x []float64, target, s, lambda, width float64) ([]Point, error) {
	if len(x) == 0 {
		return nil, measure.ErrEmpty
	}
	if err := measure.Finite("x", x...); err != nil {
		return nil, err
	}
	if err := measure.Finite("target", target); err != nil {
		return nil, err
	}
	if err := measure.Positive("s", s); err != nil {
		return nil, err
	}
	if err := measure.Positive("width", width); err != nil {
		return nil, err
	}
	if !(lambda > 0 && lambda <= 1) {
		return nil, &measure.ArgumentError{Argument: "lambda", Why: "must lie above 0 and not above 1"}
	}
	z, points := target, make([]Point, len(x))
	for i, v := range x {
		z = lambda*v + (1-lambda)*z
		half := width * s * math.Sqrt(lambda/(2-lambda)*(1-math.Pow(1-lambda, 2*float64(i+1))))
		points[i] = Point{Value: z, Lower: target - half, Upper: target + half}
		points[i].Out = z < points[i].Lower || z > points[i].Upper
	}
	return points, nil
}

// BlockShift tells whether an instrument moved while a pass was read: whether the
// block came out differently before and after by more than its repeatability
// allows. If it did, every reading between is in doubt.
//
//	before, after  medians of k placements on the same block, scale units
//	d              the practice's s_r with this instrument
//
// allowed is [SmallestDifference] at 95 %. Errors: as there; *measure.ArgumentError
// for before or after.
func BlockShift(before, after float64, k int, d Deviation) (shift, allowed float64, moved bool, err error) {
	if err := measure.Finite("before", before); err != nil {
		return 0, 0, false, err
	}
	if err := measure.Finite("after", after); err != nil {
		return 0, 0, false, err
	}
	allowed, err = SmallestDifference(d, k, k, 0.95)
	if err != nil {
		return 0, 0, false, err
	}
	shift = after - before
	return shift, allowed, math.Abs(shift) > allowed, nil
}
