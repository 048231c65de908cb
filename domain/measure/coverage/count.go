package coverage

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"boottop.example/practice/domain/measure"
)

// evenly is what every bound on a count rests on.
var evenly = []string{
	"blisters spread evenly over the whole area; clustering makes the bound worse, never better",
	"blisters too small to show through the coating, as judged on the day",
}

// None gives the density, per square metre, that a count of zero in an area of so
// many square metres leaves open: Upper is the one-sided exact Poisson bound of
// coverage level, −ln(1 − level)/area; 3.0/area for 0.95. Value and Lower are 0.
// The look over the whole underbody stands beside it in the same sentence.
//
// Errors: *measure.ArgumentError for area or level.
func None(area, level float64) (measure.Estimate, error) {
	if err := countArguments(0, area, level); err != nil {
		return measure.Estimate{}, err
	}
	return measure.Estimate{Upper: -math.Log1p(-level) / area, Level: level, Assumes: evenly}, nil
}

// Density gives the density per square metre behind a count in an area, with its
// exact Poisson interval (Garwood 1936, Biometrika 28, 437–442; from memory):
//
//	lower = G⁻¹(α/2; k), upper = G⁻¹(1 − α/2; k + 1), both over area
//
// with G the gamma distribution function. It covers at least level, mostly more. For
// a count of zero it is wider than None, which looks to one side only.
//
// Errors: *measure.ArgumentError for count, area or level.
func Density(count int, area, level float64) (measure.Estimate, error) {
	if err := countArguments(count, area, level); err != nil {
		return measure.Estimate{}, err
	}
	k, tail := float64(count), (1-level)/2
	e := measure.Estimate{
		Value: k / area, Upper: mathext.GammaIncRegCompInv(k+1, tail) / area,
		Level: level, N: count, Assumes: evenly,
	}
	if count > 0 {
		e.Lower = mathext.GammaIncRegInv(k, tail) / area
	}
	return e, nil
}

func countArguments(count int, area, level float64) error {
	if err := counted("count", count); err != nil {
		return err
	}
	if err := squareMetres("area", area); err != nil {
		return err
	}
	return measure.Level(level)
}

func counted(name string, n int) error {
	if n < 0 || n > 1_000_000 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0 and 1 000 000"}
	}
	return nil
}

func squareMetres(name string, area float64) error {
	if err := measure.Positive(name, area); err != nil {
		return err
	}
	if area < 1e-6 || area > 1e6 {
		return &measure.ArgumentError{Argument: name, Why: "must lie between 0.000001 and 1 000 000 m²"}
	}
	return nil
}

// Proportion gives a share, met of n, with its exact binomial interval (Clopper and
// Pearson 1934, Biometrika 26, 404–413; from memory): beta quantiles
//
//	lower = B⁻¹(α/2; k, n−k+1), upper = B⁻¹(1 − α/2; k+1, n−k)
//
// It covers at least level. 0 ≤ met ≤ n, 1 ≤ n.
//
// Errors: measure.ErrEmpty for n = 0; *measure.ArgumentError.
func Proportion(met, n int, level float64) (measure.Estimate, error) {
	if err := counted("n", n); err != nil {
		return measure.Estimate{}, err
	}
	if n == 0 {
		return measure.Estimate{}, measure.ErrEmpty
	}
	if met < 0 || met > n {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "met", Why: fmt.Sprintf("must lie between 0 and n = %d", n)}
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	k, m, tail := float64(met), float64(n), (1-level)/2
	e := measure.Estimate{Value: k / m, Upper: 1, Level: level, N: n}
	if met > 0 {
		e.Lower = mathext.InvRegIncBeta(k, m-k+1, tail)
	}
	if met < n {
		e.Upper = mathext.InvRegIncBeta(k+1, m-k, 1-tail)
	}
	return e, nil
}

// Comparison is what two counts on their own areas say about each other.
type Comparison struct {
	P     float64          // two-sided exact p of equal density, the smaller tail doubled
	Ratio measure.Estimate // density of the second over the first
}

// Compare sets two counts on two areas, in m², side by side. Given their sum, the
// second is binomial with the share area₂/(area₁ + area₂) if the densities are equal
// (Przyborowski and Wilenski 1940, from memory); the interval of the ratio comes
// from Proportion. Errors: both counts 0, areas or level out of range.
//
// The answer assumes that blisters spread evenly. Clustered ones differ from one
// window to the next by more than this allows, so a small p then proves too much.
func Compare(first int, area1 float64, second int, area2, level float64) (Comparison, error) {
	if err := countArguments(first, area1, level); err != nil {
		return Comparison{}, err
	}
	if err := countArguments(second, area2, level); err != nil {
		return Comparison{}, err
	}
	n := first + second
	if n == 0 {
		return Comparison{}, &measure.ArgumentError{Argument: "first and second", Why: "must not both be 0: there is nothing to compare"}
	}
	share := area2 / (area1 + area2)
	up, down := tails(second, n, share)
	p, err := Proportion(second, n, level)
	if err != nil {
		return Comparison{}, err
	}
	odds := func(x float64) float64 { return x / (1 - x) * area1 / area2 }
	return Comparison{
		P: math.Min(1, 2*math.Min(up, down)),
		Ratio: measure.Estimate{
			Value: odds(p.Value), Lower: odds(p.Lower), Upper: odds(p.Upper), Level: level, N: n,
			Assumes: []string{"blisters spread evenly in both areas; clustering makes a small p prove too much"},
		},
	}, nil
}

// tails gives P(B ≥ k) and P(B ≤ k) for B ~ Binomial(n, p), by the incomplete beta
// function: no sum of up to a million terms.
func tails(k, n int, p float64) (up, down float64) {
	up, down = 1, 1
	if k > 0 {
		up = mathext.RegIncBeta(float64(k), float64(n-k+1), p)
	}
	if k < n {
		down = mathext.RegIncBeta(float64(n-k), float64(k+1), 1-p)
	}
	return up, down
}
