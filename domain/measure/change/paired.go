package change

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Zeros says what becomes of differences that are exactly zero.
type Zeros uint8

// The two usual ways.
const (
	Drop  Zeros = iota // left out before ranking: Wilcoxon 1945
	Pratt              // ranked with the others, their ranks left out of the sum: Pratt 1959
)

// SignedRankTest is Wilcoxon's test of paired differences.
type SignedRankTest struct {
	V              float64 // sum of the ranks of the positive differences, mid-ranks for ties
	N, Zeros, Ties int     // differences used; zeros; differences that share their size with another
	P              float64 // two-sided, twice the smaller tail
	Greater, Less  float64 // one-sided: differences above zero, below zero
	Exact          bool    // counted out, conditional on ties; else by the normal approximation
}

// largestExact bounds the counting of sign patterns, which grows with n³.
const largestExact = 200

// SignedRank tests whether paired differences lie evenly about zero, by counting out
// all sign patterns given the ranks at hand: Wilcoxon 1945; Hollander & Wolfe 1973
// §3.1; with ties the conditional distribution of Lehmann 1975 §3.2. Exact for up to
// 200 differences, beyond by the normal approximation with tie correction.
//
//	d      n ≥ 1 differences, one unit; independent of each other. Differences from
//	       a shared baseline are not: see [Compare]. Sizes that differ by less than
//	       1e-12 of the largest count as tied
//	zeros  what becomes of zeros
//
// With n differences the smallest two-sided P is 2^(1−n): below n = 6 it cannot pass 5 %.
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for d or zeros.
func SignedRank(d []float64, zeros Zeros) (SignedRankTest, error) {
	if len(d) == 0 {
		return SignedRankTest{}, measure.ErrEmpty
	}
	if err := measure.Finite("d", d...); err != nil {
		return SignedRankTest{}, err
	}
	if zeros > Pratt {
		return SignedRankTest{}, &measure.ArgumentError{Argument: "zeros", Why: "must be Drop or Pratt"}
	}
	var t SignedRankTest
	doubled := t.rank(d, zeros)
	if t.N == 0 {
		t.P, t.Greater, t.Less, t.Exact = 1, 1, 1, true
		return t, nil
	}
	if t.Exact = t.N <= largestExact; t.Exact {
		t.count(doubled)
	} else {
		t.approximate(doubled)
	}
	t.P = min(1, 2*min(t.Greater, t.Less))
	return t, nil
}

// rank gives twice the mid-ranks (whole numbers) of the differences that are not
// zero, and fills in V and the counts.
func (t *SignedRankTest) rank(d []float64, zeros Zeros) []int {
	var largest float64
	for _, v := range d {
		largest = max(largest, math.Abs(v))
	}
	near := 1e-12 * largest
	kept := make([]float64, 0, len(d))
	for _, v := range d {
		if math.Abs(v) <= near {
			t.Zeros++
			continue
		}
		kept = append(kept, v)
	}
	t.N = len(kept)
	slices.SortFunc(kept, func(a, b float64) int {
		if math.Abs(a) < math.Abs(b) {
			return -1
		}
		return 1
	})
	first := 0
	if zeros == Pratt {
		first = t.Zeros
	}
	doubled := make([]int, t.N)
	for i := 0; i < t.N; {
		j := i + 1
		for j < t.N && math.Abs(kept[j])-math.Abs(kept[j-1]) <= near {
			j++
		}
		if j-i > 1 {
			t.Ties += j - i
		}
		both := 2*first + i + 1 + j // ranks i+1 … j, so twice their mean is i+1+j
		for ; i < j; i++ {
			doubled[i] = both
			if kept[i] > 0 {
				t.V += float64(both) / 2
			}
		}
	}
	return doubled
}

// count gives both tails by convolution over the signs.
func (t *SignedRankTest) count(doubled []int) {
	total := 0
	for _, r := range doubled {
		total += r
	}
	p := make([]float64, total+1)
	p[0] = 1
	top := 0
	for _, r := range doubled {
		top += r
		for v := top; v >= 0; v-- {
			p[v] /= 2
			if v >= r {
				p[v] += p[v-r] / 2
			}
		}
	}
	at := int(math.Round(2 * t.V))
	for v, q := range p {
		if v >= at {
			t.Greater += q
		}
		if v <= at {
			t.Less += q
		}
	}
	t.Greater, t.Less = min(1, t.Greater), min(1, t.Less)
}

// approximate: Hollander & Wolfe 1973 eq. 3.9-3.10, with continuity correction.
func (t *SignedRankTest) approximate(doubled []int) {
	var mean, variance float64
	for _, r := range doubled {
		h := float64(r) / 2
		mean, variance = mean+h/2, variance+h*h/4
	}
	sd := math.Sqrt(variance)
	t.Greater = math.Erfc((t.V-0.5-mean)/sd/math.Sqrt2) / 2
	t.Less = math.Erfc((mean-t.V-0.5)/sd/math.Sqrt2) / 2
}

// PairedTTest is Student's test of paired differences.
type PairedTTest struct {
	T        float64 // mean over its standard error; 0 where nothing differs
	DF       int
	P        float64 // two-sided
	SD, SE   float64 // of the differences, of their mean
	Estimate measure.Estimate
}

// PairedT tests whether the mean of paired differences is zero: Student 1908.
//
//	d      n ≥ 2 differences, independent of each other and about normal
//	level  coverage of the mean's interval
//
// Differences that are all equal but not zero give T = ±Inf and P = 0.
//
// Errors: *measure.ArgumentError for d or level.
func PairedT(d []float64, level float64) (PairedTTest, error) {
	if len(d) < 2 {
		return PairedTTest{}, &measure.ArgumentError{Argument: "d", Why: fmt.Sprintf("must hold at least 2 differences, has %d", len(d))}
	}
	e, err := order.Mean(d, level)
	if err != nil {
		return PairedTTest{}, renamed(err, "x", "d")
	}
	m, _ := order.MomentsOf(d)
	t := PairedTTest{DF: m.N - 1, SD: m.SD, SE: m.SD / math.Sqrt(float64(m.N)), Estimate: e, P: 1}
	switch {
	case m.Mean == 0:
	case t.SE == 0:
		t.T, t.P = math.Inf(int(math.Copysign(1, m.Mean))), 0
	default:
		t.T = m.Mean / t.SE
		t.P = twoSided(t.T, float64(t.DF))
	}
	return t, nil
}
