package coverage_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
)

func TestZeroCountsOfTheTrade(t *testing.T) {
	t.Parallel()
	for _, c := range load(t).Zero {
		e := must[measure.Estimate](t)(coverage.None(c.Area, 0.95))
		printed(t, fmt.Sprintf("%v m²", c.Area), e.Upper, c.Upper)
	}
}

func TestComparisonsOfTheTrade(t *testing.T) {
	t.Parallel()
	for _, c := range load(t).Equal {
		got := must[coverage.Comparison](t)(coverage.Compare(c.First, 1, c.Second, 1, 0.95))
		printed(t, fmt.Sprintf("%d against %d", c.First, c.Second), got.P, c.P)
		swapped := must[coverage.Comparison](t)(coverage.Compare(c.Second, 1, c.First, 1, 0.95))
		if math.Abs(swapped.P-got.P) > 1e-12 || math.Abs(swapped.Ratio.Value*got.Ratio.Value-1) > 1e-12 {
			t.Errorf("port and starboard swapped: %+v and %+v", got, swapped)
		}
		larger := must[coverage.Comparison](t)(coverage.Compare(c.First, 7, c.Second, 7, 0.95))
		if math.Abs(larger.P-got.P) > 1e-12 {
			t.Errorf("another unit of area changed p from %v to %v", got.P, larger.P)
		}
	}
}

// Garwood's limits are defined by the tails they leave: P(X ≥ k | lower) and
// P(X ≤ k | upper) are half of 1 − level. Summed here term by term.
func TestPoissonLimitsLeaveTheirTails(t *testing.T) {
	t.Parallel()
	below := func(k int, mean float64) (s float64) { // P(X ≤ k)
		for i := range k + 1 {
			l, _ := math.Lgamma(float64(i + 1))
			s += math.Exp(-mean + float64(i)*math.Log(mean) - l)
		}
		return s
	}
	for _, k := range []int{0, 1, 2, 5, 17, 60, 250} {
		e := must[measure.Estimate](t)(coverage.Density(k, 0.5, 0.95))
		if got := below(k, e.Upper*0.5); math.Abs(got-0.025) > 1e-9 {
			t.Errorf("%d: upper %v leaves %v", k, e.Upper, got)
		}
		if k > 0 {
			if got := 1 - below(k-1, e.Lower*0.5); math.Abs(got-0.025) > 1e-9 {
				t.Errorf("%d: lower %v leaves %v", k, e.Lower, got)
			}
		}
	}
}

// Clopper and Pearson's interval for 4 of 20 at 95 %: 0.0573 to 0.4366. The figures
// are computed by R's binom.test; from memory, so the tails are checked as well.
func TestBinomialLimits(t *testing.T) {
	t.Parallel()
	e := must[measure.Estimate](t)(coverage.Proportion(4, 20, 0.95))
	if math.Abs(e.Lower-0.057334) > 1e-6 || math.Abs(e.Upper-0.436614) > 1e-6 {
		t.Errorf("4 of 20: [%.6f, %.6f]", e.Lower, e.Upper)
	}
	tail := func(from, to, n int, p float64) (s float64) {
		for k := from; k <= to; k++ {
			a, _ := math.Lgamma(float64(n + 1))
			b, _ := math.Lgamma(float64(k + 1))
			c, _ := math.Lgamma(float64(n - k + 1))
			s += math.Exp(a - b - c + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
		}
		return s
	}
	for _, c := range [][2]int{{0, 9}, {9, 9}, {1, 30}, {77, 80}} {
		e := must[measure.Estimate](t)(coverage.Proportion(c[0], c[1], 0.9))
		if c[0] > 0 && math.Abs(tail(c[0], c[1], c[1], e.Lower)-0.05) > 1e-9 {
			t.Errorf("%v: lower %v", c, e.Lower)
		}
		if c[0] < c[1] && math.Abs(tail(0, c[0], c[1], e.Upper)-0.05) > 1e-9 {
			t.Errorf("%v: upper %v", c, e.Upper)
		}
	}
}

// Exact intervals cover at least what they state, whatever the truth.
func TestExactIntervalsCoverWhatTheyState(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 5))
	for _, mean := range []float64{0.3, 2, 12} {
		in := 0
		for range 2000 {
			k, p := 0, math.Exp(-mean)
			for u := rng.Float64(); u > p; k++ { // inversion
				u -= p
				p *= mean / float64(k+1)
			}
			e := must[measure.Estimate](t)(coverage.Density(k, 1, 0.95))
			if e.Lower <= mean && mean <= e.Upper {
				in++
			}
		}
		if in < 1880 {
			t.Errorf("mean %v: %d of 2000 intervals cover it", mean, in)
		}
	}
	for _, p := range []float64{0.05, 0.5} {
		for _, n := range []int{6, 12, 40} {
			in := 0
			for range 2000 {
				k := 0
				for range n {
					if rng.Float64() < p {
						k++
					}
				}
				e := must[measure.Estimate](t)(coverage.Proportion(k, n, 0.95))
				if e.Lower <= p && p <= e.Upper {
					in++
				}
			}
			if in < 1880 {
				t.Errorf("p %v, n %d: %d of 2000 intervals cover it", p, n, in)
			}
		}
	}
}

func TestClassesAreDerived(t *testing.T) {
	t.Parallel()
	p := coverage.StartingPictures()
	none := must[coverage.Class](t)(coverage.Classify(nil, 0.12, p))
	if none.Grade != 10 || none.ISO != "0(S0)" || none.Frequency != "" {
		t.Errorf("no blisters: %+v", none)
	}
	c := must[coverage.Class](t)(coverage.Classify([]unit.Millimetres{3, 0.4, 4, 0.4, 0.3}, 0.01, p))
	if c.ISO != "3(S3)" || c.Grade != 6 || c.Frequency != "M" {
		t.Errorf("five in a square decimetre, mostly 0.4 mm: %+v", c)
	}
	last := 0
	for _, d := range []unit.Millimetres{0.05, 0.15, 0.4, 3, 30} {
		c := must[coverage.Class](t)(coverage.Classify([]unit.Millimetres{d}, 1, p))
		if c.Size <= last {
			t.Errorf("%v mm is size %d after %d", d, c.Size, last)
		}
		last = c.Size
		if len(c.Notes) == 0 {
			t.Errorf("%v mm: a class without its caution", d)
		}
	}
}

func TestAClassOfManyCountedAndSomeMeasured(t *testing.T) {
	t.Parallel()
	p := coverage.StartingPictures()
	some := []unit.Millimetres{0.4, 0.3, 0.4}
	c := must[coverage.Class](t)(coverage.ClassOf(50, some, 0.01, p))
	all := must[coverage.Class](t)(coverage.Classify(some, 0.01, p))
	if c.ISO != "5(S3)" || c.Frequency != "D" || all.ISO != "3(S3)" || c.Size != all.Size {
		t.Errorf("fifty counted, three measured: %+v; three in all: %+v", c, all)
	}
	if _, err := coverage.ClassOf(2, some, 0.01, p); err == nil {
		t.Error("fewer counted than measured")
	}
	if _, err := coverage.ClassOf(2, nil, 0.01, p); !errors.Is(err, measure.ErrEmpty) {
		t.Errorf("none measured: %v", err)
	}
}

func FuzzCounts(f *testing.F) {
	f.Add(0, 12, 0.12, 0.95)
	f.Add(1_000_000, 1, 1e-6, 1e-300)
	f.Add(3, 400, 1e6, 1-1e-16)
	f.Fuzz(func(t *testing.T, k, n int, area, level float64) {
		check := func(what string, e measure.Estimate, err error) {
			if err != nil {
				return
			}
			if math.IsNaN(e.Lower+e.Value+e.Upper) || e.Lower > e.Value*(1+1e-9) || e.Value > e.Upper*(1+1e-9) {
				t.Errorf("%s of %d, %d, %v at %v: %+v", what, k, n, area, level, e)
			}
		}
		e, err := coverage.None(area, level)
		check("none", e, err)
		e, err = coverage.Density(k, area, level)
		check("density", e, err)
		e, err = coverage.Proportion(k, n, level)
		check("proportion", e, err)
		c, err := coverage.Compare(k, area, n, 1, level)
		if err == nil && !(c.P >= 0 && c.P <= 1) {
			t.Errorf("p is %v", c.P)
		}
	})
}

func ExampleNone() {
	e, err := coverage.None(12*0.1*0.1, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("none in 12 windows of 100 × 100 mm: up to %.0f per m², if spread evenly\n", e.Upper)
	// Output: none in 12 windows of 100 × 100 mm: up to 25 per m², if spread evenly
}
