package order

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// HodgesLehmann estimates the centre of symmetric values: the median of the Walsh
// averages (xᵢ+xⱼ)/2, i ≤ j, with the interval that inverts the exact signed-rank
// test: Hollander & Wolfe 1973 §3.2-3.3.
//
//	x      1 ≤ n ≤ [LargestN] values
//	level  coverage asked for
//
// Level of the result is the coverage reached. Ties make it cover more. The interval
// leans on symmetry, which the note "leans-on-symmetry" always says; [Median] does
// not. Below 6 values a 95 % interval is unbounded, with the note "too-few".
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x or level.
func HodgesLehmann(x []float64, level float64) (measure.Estimate, error) {
	s, err := sorted("x", x)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	if len(x) > LargestN {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "x", Why: "must have at most 4000 values"}
	}
	n := len(s)
	w := make([]float64, 0, n*(n+1)/2)
	for i := range s {
		for j := range i + 1 {
			w = append(w, s[i]/2+s[j]/2)
		}
	}
	slices.Sort(w)
	e := between(w, n, NeededForMedian(level), level, SignedRankCDF(n))
	e.Notes = append(e.Notes, measure.Note{
		Code: "leans-on-symmetry",
		Text: "The interval holds for values that lie evenly about their centre; the median's assumes nothing.",
	})
	e.Assumes = []string{"the values are independent and symmetric about their centre"}
	return e, nil
}

// Shift estimates by how much y lies below x: the median of the differences xᵢ−yⱼ,
// with the interval that inverts the exact rank-sum test: Hollander & Wolfe 1973 §4.2-4.3.
//
//	x, y   at least one value each, m·n ≤ 4 million
//	level  coverage asked for
//
// Errors: measure.ErrEmpty; *measure.ArgumentError for x, y or level.
func Shift(x, y []float64, level float64) (measure.Estimate, error) {
	a, err := sorted("x", x)
	if err != nil {
		return measure.Estimate{}, err
	}
	b, err := sorted("y", y)
	if err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	if len(a)*len(b) > LargestN*1000 {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "y", Why: "must have at most 4 million pairs with x"}
	}
	d := make([]float64, 0, len(a)*len(b))
	for _, v := range a {
		for _, w := range b {
			d = append(d, v-w)
		}
	}
	if err := measure.Finite("x", d...); err != nil {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "x", Why: "must differ from y by something finite"}
	}
	slices.Sort(d)
	e := between(d, len(a)+len(b), 0, level, RankSumCDF(len(a), len(b)))
	e.Assumes = []string{"the two sets are independent and differ by a shift only"}
	return e, nil
}

// between gives the median of sorted w with the interval [w₍ₖ₎, w₍₋ₖ₎] of the largest
// k whose two tails P(V ≤ k−1) leave the level. need is the number of values that
// would bound it, 0 where there is no single number.
func between(w []float64, n, need int, level float64, cdf func(int) float64) measure.Estimate {
	e := measure.Estimate{Value: middle(w), N: n, Lower: math.Inf(-1), Upper: math.Inf(1)}
	k := 0
	for k < (len(w)+1)/2 {
		cover := 1 - 2*cdf(k)
		if cover < level-1e-12 {
			break
		}
		k++
		e.Level = cover
	}
	if k == 0 {
		note := TooFew(n, need, level)
		if need == 0 {
			note.Text = "Too few values for an interval of " + Percent(level) + "."
		}
		e.Notes = append(e.Notes, note)
		return e
	}
	e.Lower, e.Upper = w[k-1], w[len(w)-k]
	if tied(w) {
		e.Notes = append(e.Notes, measure.Note{Code: "tied", Text: "Equal values on a coarse scale: the interval covers more than stated."})
	}
	return e
}

// exactRankN is the largest n whose signed-rank distribution is counted out; beyond
// it the normal approximation with continuity correction is right to four digits.
const exactRankN = 200

// SignedRankCDF gives the function v ↦ P(V ≤ v) of Wilcoxon's signed-rank statistic
// of n untied differences with no effect, counted out for n ≤ 200: each of the ranks
// 1…n is in the sum with chance ½.
func SignedRankCDF(n int) func(v int) float64 {
	if n > exactRankN {
		m := float64(n)
		mean, sd := m*(m+1)/4, math.Sqrt(m*(m+1)*(2*m+1)/24)
		return func(v int) float64 { return normal((float64(v) + 0.5 - mean) / sd) }
	}
	p := make([]float64, n*(n+1)/2+1)
	p[0] = 1
	for r, top := 1, 0; r <= n; r++ {
		top += r
		for v := top; v >= 0; v-- {
			p[v] /= 2
			if v >= r {
				p[v] += p[v-r] / 2
			}
		}
	}
	return cumulative(p)
}

// exactSumN is the largest m+n whose rank-sum distribution is counted out.
const exactSumN = 100

// RankSumCDF gives u ↦ P(U ≤ u) of the Mann-Whitney statistic of m and n untied
// values with no effect, counted out for m+n ≤ 100.
func RankSumCDF(m, n int) func(u int) float64 {
	a, b := float64(m), float64(n)
	if m+n > exactSumN {
		mean, sd := a*b/2, math.Sqrt(a*b*(a+b+1)/12)
		return func(u int) float64 { return normal((float64(u) + 0.5 - mean) / sd) }
	}
	// q[i][u] is the chance for i values of x and the j values of y met so far, built
	// up by which set holds the largest value: P(i,j,u) = i/(i+j)·P(i−1,j,u−j) + j/(i+j)·P(i,j−1,u).
	q := make([][]float64, m+1)
	for i := range q {
		q[i] = make([]float64, m*n+1)
		q[i][0] = 1
	}
	for j := 1; j <= n; j++ {
		for i := 1; i <= m; i++ {
			share := float64(i) / float64(i+j)
			for u := i * j; u >= 0; u-- {
				q[i][u] *= 1 - share
				if u >= j {
					q[i][u] += share * q[i-1][u-j]
				}
			}
		}
	}
	return cumulative(q[m])
}

func cumulative(p []float64) func(int) float64 {
	c := make([]float64, len(p))
	var sum float64
	for i, v := range p {
		sum += v
		c[i] = min(sum, 1)
	}
	return func(v int) float64 {
		switch {
		case v < 0:
			return 0
		case v >= len(c):
			return 1
		default:
			return c[v]
		}
	}
}

func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
