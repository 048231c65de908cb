package change

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// PairedPower is the chance that a paired t test finds a true mean difference, both
// tails kept: the non-central t, as R's power.t.test(strict = TRUE).
//
//	n        pairs, ≥ 2
//	effect   true mean difference over the standard deviation of the differences
//	alpha    two-sided, 0 < alpha < 1
//
// Errors: *measure.ArgumentError.
func PairedPower(n int, effect, alpha float64) (float64, error) {
	if n < 2 {
		return 0, &measure.ArgumentError{Argument: "n", Why: "must be at least 2 pairs"}
	}
	if err := checkPower("effect", effect, alpha); err != nil {
		return 0, err
	}
	return tPower(float64(n-1), effect*math.Sqrt(float64(n)), alpha), nil
}

// PairedSize is the least number of pairs with which [PairedPower] reaches power.
//
// Errors: *measure.ArgumentError; also where more than a million pairs were needed.
func PairedSize(effect, power, alpha float64) (int, error) {
	if err := checkPower("effect", effect, alpha); err != nil {
		return 0, err
	}
	if err := measure.Level(power); err != nil {
		return 0, &measure.ArgumentError{Argument: "power", Why: "must lie between 0 and 1"}
	}
	return search(func(n int) float64 {
		return tPower(float64(n-1), effect*math.Sqrt(float64(n)), alpha)
	}, power)
}

// RepeatsPower is the chance that the means of m repeat readings at one place, at
// each of two visits, show a true change, if only repeatability stands between
// them and s is estimated from those readings alone: the two-sample t. Finding the
// place again and place × visit make it less: [Ahead].
//
//	m       repeats at each visit, ≥ 2
//	change  true change over s_r
//
// Errors: *measure.ArgumentError.
func RepeatsPower(m int, change, alpha float64) (float64, error) {
	if m < 2 {
		return 0, &measure.ArgumentError{Argument: "m", Why: "must be at least 2 repeats"}
	}
	if err := checkPower("change", change, alpha); err != nil {
		return 0, err
	}
	return tPower(float64(2*m-2), change*math.Sqrt(float64(m)/2), alpha), nil
}

// RepeatsNeeded is the least number of repeats at each visit with which
// [RepeatsPower] reaches power.
//
// Errors: *measure.ArgumentError; also where more than a million were needed.
func RepeatsNeeded(change, power, alpha float64) (int, error) {
	if err := checkPower("change", change, alpha); err != nil {
		return 0, err
	}
	if err := measure.Level(power); err != nil {
		return 0, &measure.ArgumentError{Argument: "power", Why: "must lie between 0 and 1"}
	}
	return search(func(m int) float64 {
		return tPower(float64(2*m-2), change*math.Sqrt(float64(m)/2), alpha)
	}, power)
}

func checkPower(argument string, effect, alpha float64) error {
	if err := measure.Finite(argument, effect); err != nil {
		return err
	}
	if !(alpha > 0 && alpha < 1) {
		return &measure.ArgumentError{Argument: "alpha", Why: "must lie between 0 and 1"}
	}
	return nil
}

// search finds the least n ≥ 2 that reaches power, by doubling and halving.
func search(at func(int) float64, power float64) (int, error) {
	const most = 1 << 20
	high := 2
	for at(high) < power {
		if high *= 2; high > most {
			return 0, &measure.ArgumentError{Argument: "effect", Why: "is so small that more than a million would be needed"}
		}
	}
	low := high / 2 // fails, or is 1
	for high-low > 1 {
		if m := (low + high) / 2; m >= 2 && at(m) >= power {
			high = m
		} else {
			low = m
		}
	}
	return high, nil
}

// tPower is the chance that a two-sided t test of size alpha rejects, when the
// statistic is non-central with shift ncp.
func tPower(df, ncp, alpha float64) float64 {
	return beyond(order.T(1-alpha/2, df), df, ncp)
}

// beyond is the chance that |t| exceeds crit, t non-central. From 100 000 degrees on
// and for shifts beyond 37, where the series underflows, it is the normal one.
func beyond(crit, df, ncp float64) float64 {
	ncp = math.Abs(ncp)
	if df > 1e5 || ncp > 37 {
		return phi(ncp-crit) + phi(-ncp-crit)
	}
	t := distuv.NoncentralT{Nu: df, Mu: ncp}
	return min(1, max(0, 1-t.CDF(crit)+t.CDF(-crit)))
}

func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
