package repeat

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Limit is the repeatability limit r = 2.8·s_r, or the reproducibility limit R =
// 2.8·s_R: two single readings differ by more in about 1 of 20 cases. ISO 5725-6:1994
// §4.1 (2.8 from memory for 1.96·√2 = 2.77, rounded up there).
func Limit(s float64) float64 { return 2.8 * s }

// MostPlacements is the largest number of placements a reading may be the median of.
const MostPlacements = 5

// medianVariance is the variance of the median of k standard normal values: Sarhan &
// Greenberg 1962 by memory, recomputed by integration in the tests.
var medianVariance = [MostPlacements + 1]float64{0, 1, 0.5, 0.448671, 0.298250, 0.286834}

// MedianVariance is the variance of a reading that is the median of k placements,
// in units of s_r²: 1, 0.5, 0.449, 0.298, 0.287 for k = 1 … 5. Three placements are
// worth two and a quarter by their median, not three.
//
// Errors: *measure.ArgumentError unless 1 ≤ k ≤ [MostPlacements].
func MedianVariance(k int) (float64, error) {
	if k < 1 || k > MostPlacements {
		return 0, &measure.ArgumentError{Argument: "k", Why: "must be 1 to 5 placements"}
	}
	return medianVariance[k], nil
}

// SmallestDifference is the smallest difference between two readings that is more
// than their repeatability: t·s·√(v(k₁)+v(k₂)), 2.77 s for two single placements
// when s is well known.
//
//	d      s_r for one hand in one pass, s_R for two hands or instruments
//	k1,k2  placements whose median each reading is, 1 to 5
//	level  e.g. 0.95
//
// t has d.DF degrees of freedom, so a poorly known s makes the difference larger.
// It speaks of one place and one pass: between visits finding the place again and
// place × visit come on top, and over many places the limit is wider (package change).
//
// Errors: *measure.ArgumentError, d included where nothing was measured.
func SmallestDifference(d Deviation, k1, k2 int, level float64) (float64, error) {
	if !d.Measured() {
		return 0, &measure.ArgumentError{Argument: "d", Why: "was not measured: re-place the instrument 30 times"}
	}
	if err := measure.Finite("d.S", d.S); err != nil {
		return 0, err
	}
	if err := measure.Level(level); err != nil {
		return 0, err
	}
	a, err := MedianVariance(k1)
	if err != nil {
		return 0, &measure.ArgumentError{Argument: "k1", Why: "must be 1 to 5 placements"}
	}
	b, err := MedianVariance(k2)
	if err != nil {
		return 0, &measure.ArgumentError{Argument: "k2", Why: "must be 1 to 5 placements"}
	}
	return order.T((1+level)/2, float64(d.DF)) * d.S * math.Sqrt(a+b), nil
}
