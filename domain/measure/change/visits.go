package change

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// LeastOnLine is the fewest visits that a straight line can be told from: two points
// leave nothing to judge it by.
const LeastOnLine = 3

// OverVisits is the total change from the first to the last of several visits that a
// straight line through them must make, before the word course is carried by it: in
// standard deviations of one visit's level, whatever the number of places, since what a
// visit does to all of them does not shrink by reading more.
//
//	n      visits, equally spaced, n ≥ 3
//	power  chance with which a true change is to be shown, rate < power < 1, e.g. 0.8
//	rate   of the two-sided t test of the slope, 0 < rate < 1, e.g. 0.05
//
// Shown is the change whose line is just called one: as a true change it has about an
// even chance. True has the chance asked for. With Sxx = n(n²−1)/12 for unit spacing the
// total of n−1 steps has the standard error (n−1)/√Sxx = √(12(n−1)/(n(n+1))) and n−2
// degrees of freedom: ordinary least squares, any textbook of regression.
//
// Errors: *measure.ArgumentError.
func OverVisits(n int, power, rate float64) (Reach, error) {
	if n < LeastOnLine {
		return Reach{}, &measure.ArgumentError{Argument: "n", Why: "must be at least 3 visits"}
	}
	if !(rate > 0 && rate < 1) {
		return Reach{}, &measure.ArgumentError{Argument: "rate", Why: "must lie between 0 and 1"}
	}
	if !(power > rate && power < 1) {
		return Reach{}, &measure.ArgumentError{Argument: "power", Why: "must lie between rate and 1"}
	}
	visits := float64(n)
	se, df := math.Sqrt(12*(visits-1)/(visits*(visits+1))), visits-2
	crit := order.T(1-rate/2, df)
	return Reach{Shown: crit * se, True: se * shiftFor(crit, df, power)}, nil
}
