package order

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Moments are the mean and spread of values, in their unit.
type Moments struct {
	N    int
	Mean float64
	SD   float64 // denominator n−1; 0 for n = 1
	Lag1 float64 // autocorrelation at lag 1; 0 where the values do not differ
	Skew float64 // third standardised moment g₁ = m₃/m₂^{3/2}; 0 where they do not differ
}

// MomentsOf computes mean, standard deviation, lag-1 autocorrelation and skewness of
// n ≥ 1 values in two passes: Chan, Golub & LeVeque 1983, eq. 1.7. Against the
// certified values of NIST StRD it holds at least 10 digits where the data do.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x, or if its spread is too
// large to be squared.
func MomentsOf(x []float64) (Moments, error) {
	if len(x) == 0 {
		return Moments{}, measure.ErrEmpty
	}
	if err := measure.Finite("x", x...); err != nil {
		return Moments{}, err
	}
	n := float64(len(x))
	m := Moments{N: len(x), Mean: careful(x, 0) / n}
	m.Mean += careful(x, m.Mean) / n
	var sum, square, lag, cube float64
	for i, v := range x {
		d := v - m.Mean
		sum, square, cube = sum+d, square+d*d, cube+d*d*d
		if i > 0 {
			lag += d * (x[i-1] - m.Mean)
		}
	}
	square = max(0, square-sum*sum/n)
	if math.IsInf(square, 0) || math.IsNaN(square) {
		return Moments{}, &measure.ArgumentError{Argument: "x", Why: "must have a spread that can be squared"}
	}
	if n > 1 {
		m.SD = math.Sqrt(square / (n - 1))
	}
	if square > 0 {
		m.Lag1 = lag / square
		if g := cube / n / math.Pow(square/n, 1.5); !math.IsNaN(g) && !math.IsInf(g, 0) {
			m.Skew = g
		}
	}
	return m, nil
}

// careful sums x−shift keeping what rounding loses (Neumaier 1974).
func careful(x []float64, shift float64) float64 {
	var sum, lost float64
	for _, v := range x {
		v -= shift
		t := sum + v
		if math.Abs(sum) >= math.Abs(v) {
			lost += (sum - t) + v
		} else {
			lost += (v - t) + sum
		}
		sum = t
	}
	return sum + lost
}

// Mean estimates the mean of n ≥ 1 values with Student's interval x̄ ± t·s/√n,
// which holds for normal values only. Of skewed ones at n = 6 a 95 % interval covers
// about 89 %: below n = 30 that cannot be seen in the values, so the note
// "leans-on-normal" is always there; from 30 on it is there when the skewness
// exceeds twice its standard error √(6/n). [Median] assumes nothing.
//
// Errors: as [MomentsOf]; *measure.ArgumentError for level.
func Mean(x []float64, level float64) (measure.Estimate, error) {
	m, err := MomentsOf(x)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	e := measure.Estimate{Value: m.Mean, N: m.N}
	if m.N < 2 {
		e.Lower, e.Upper = math.Inf(-1), math.Inf(1)
		e.Notes = []measure.Note{TooFew(m.N, 2, level)}
		return e, nil
	}
	half := T((1+level)/2, float64(m.N-1)) * m.SD / math.Sqrt(float64(m.N))
	e.Lower, e.Upper, e.Level = m.Mean-half, m.Mean+half, level
	e.Assumes = []string{"the values are independent and normally distributed"}
	if m.N < 30 || math.Abs(m.Skew) > 2*math.Sqrt(6/float64(m.N)) {
		e.Notes = []measure.Note{{
			Code: "leans-on-normal",
			Text: "The interval holds for normally distributed values; for skewed ones it is too narrow. The median's interval assumes nothing.",
		}}
	}
	return e, nil
}

// MeanOf gives the mean of values that may carry limit flags, as the interval it
// must lie in, scale units: a point where all are exact, open where one met the
// scale's end. The sum is exact in whole twentieths.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError as [CheckValues].
func MeanOf(vs []measure.Value) (low, high float64, err error) {
	if len(vs) == 0 {
		return 0, 0, measure.ErrEmpty
	}
	if err := CheckValues("vs", vs); err != nil {
		return 0, 0, err
	}
	var sumLow, sumHigh int64
	var openLow, openHigh bool
	for _, v := range vs {
		s := SpanOf(v)
		openLow, openHigh = openLow || s.Low == OpenLow, openHigh || s.High == OpenHigh
		sumLow, sumHigh = sumLow+int64(s.Low), sumHigh+int64(s.High)
	}
	n := 40 * float64(len(vs))
	low, high = float64(sumLow)/n, float64(sumHigh)/n
	if openLow {
		low = math.Inf(-1)
	}
	if openHigh {
		high = math.Inf(1)
	}
	return low, high, nil
}

// T is the quantile of Student's t with df > 0 degrees of freedom, 0 < p < 1. From
// 10 000 degrees on it is the normal quantile with the first two terms of Fisher's
// expansion (Abramowitz & Stegun 26.7.5), because the incomplete beta function loses
// digits there.
func T(p, df float64) float64 {
	if df > 1e4 {
		z := Z(p)
		return z + (z*z*z+z)/(4*df) + (5*math.Pow(z, 5)+16*z*z*z+3*z)/(96*df*df)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}

// Z is the quantile of the standard normal distribution, 0 < p < 1.
func Z(p float64) float64 { return distuv.UnitNormal.Quantile(p) }
