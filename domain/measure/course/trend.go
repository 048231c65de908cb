package course

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Trend is the result of a Mann-Kendall test.
type Trend struct {
	Verdict    Verdict
	Trend      bool // whether the word trend may be used: the verdict is Rising or Falling
	N          int
	S          int // pairs that rise less pairs that fall
	Concordant int
	Discordant int
	Ties       []int   // sizes of groups of equal values, two or more
	Var        float64 // of S, ties taken into account
	Z          float64 // with continuity correction
	P          float64 // two-sided
	Exact      bool    // P is summed, not from the normal form
	LeastP     float64 // the smallest P that this many values could give
	TauA, TauB float64
	Notes      []measure.Note
	Assumes    []string
}

// MannKendall tests whether values rise or fall over time, whatever the shape.
//
//	t      n ≥ 2 times, in any order
//	y      n values
//	level  1 − α of the two-sided test, e.g. 0.95
//
// S, its variance with ties and Z: Mann 1945; Kendall, Rank Correlation Methods; Gilbert
// 1987 §16.4. P is exact up to 50 values at times that all differ, ties in the values
// included; else from Z. Until n can reach 1 − level at all (five visits for 0.95) the
// verdict is CannotTell, whatever the values.
//
// Errors: lengths that differ, fewer than two, values not finite, a level out of range.
func MannKendall(t, y []float64, level float64) (Trend, error) {
	if err := series(t, y, 2); err != nil {
		return Trend{}, err
	}
	if err := measure.Level(level); err != nil {
		return Trend{}, err
	}
	r := Trend{N: len(y), Assumes: []string{"visits independent of one another", "read the same way each time"}}
	r.Concordant, r.Discordant = pairs(t, y)
	r.S = r.Concordant - r.Discordant
	r.Ties = ties(y)
	tt := ties(t)
	r.Var = varianceS(r.N, r.Ties, tt)
	r.tau(tt)
	r.Z = continuity(r.S, r.Var)
	if r.Exact = r.N <= exactUpTo && len(tt) == 0; r.Exact {
		p := inversions(groups(y))
		r.P = math.Min(1, 2*tail(p, abs(r.S)))
		if r.S == 0 {
			r.P = 1
		}
		r.LeastP = math.Min(1, 2*p[0])
	} else {
		r.P = 2 * distuv.UnitNormal.CDF(-math.Abs(r.Z))
		most := r.N*(r.N-1)/2 - tied(r.Ties)
		r.LeastP = 2 * distuv.UnitNormal.CDF(-math.Abs(continuity(most, r.Var)))
	}
	r.judge(1 - level)
	return r, nil
}

func (r *Trend) judge(alpha float64) {
	if r.LeastP > alpha {
		r.Verdict = CannotTell
		if need := VisitsForTrend(1 - alpha); r.N < need {
			r.note("too-few", fmt.Sprintf("%s cannot show a trend: the smallest p they could give is %.2g. It takes %d.", visits(r.N), r.LeastP, need))
		} else {
			r.note("too-many-equal", fmt.Sprintf("So many of the %d values are equal that the smallest p they could give is %.2g.", r.N, r.LeastP))
		}
		return
	}
	switch {
	case r.P > alpha:
		r.Verdict = NoneShown
	case r.S > 0:
		r.Verdict, r.Trend = Rising, true
	default:
		r.Verdict, r.Trend = Falling, true
	}
	if !r.Exact && r.N < exactUpTo {
		r.note("normal-form", "Some times are equal, so p comes from the normal form, which is rough for few visits.")
	}
}

func (r *Trend) note(code, text string) {
	r.Notes = append(r.Notes, measure.Note{Code: code, Text: text})
}

func visits(n int) string {
	if n == 1 {
		return "One visit"
	}
	return fmt.Sprintf("%d visits", n)
}

// VisitsForTrend is the smallest number of visits whose values, all different, can
// reach a two-sided p of 1 − level: 2/n! ≤ 1 − level. Five for 0.95. For a level that
// is no level it is 0.
func VisitsForTrend(level float64) int {
	if measure.Level(level) != nil {
		return 0
	}
	for n := 2; ; n++ {
		if LeastP(n) <= 1-level {
			return n
		}
	}
}

// LeastP is the smallest two-sided p that a rank trend of n visits can reach, values and
// times all different: 2/n!, 1 below two visits.
func LeastP(n int) float64 {
	p := 2.0
	for k := 2; k <= n; k++ {
		p /= float64(k)
	}
	return math.Min(1, p)
}

// pairs counts the pairs of times in which the later value is higher, and lower.
func pairs(t, y []float64) (concordant, discordant int) {
	for i := range t {
		for j := range i {
			switch s := sign(t[i]-t[j]) * sign(y[i]-y[j]); {
			case s > 0:
				concordant++
			case s < 0:
				discordant++
			}
		}
	}
	return concordant, discordant
}

// groups gives the sizes of groups of equal values, single ones included, in order.
func groups(y []float64) []int {
	s := slices.Sorted(slices.Values(y))
	var g []int
	for i, v := range s {
		if i > 0 && v == s[i-1] {
			g[len(g)-1]++
		} else {
			g = append(g, 1)
		}
	}
	return g
}

func ties(y []float64) []int {
	return slices.DeleteFunc(groups(y), func(n int) bool { return n < 2 })
}

// tied counts the pairs inside groups of equal values.
func tied(ties []int) int {
	n := 0
	for _, g := range ties {
		n += g * (g - 1) / 2
	}
	return n
}

// varianceS is Var(S) with ties in values and in times: Kendall, Rank Correlation
// Methods, eq. 5.3 (Gilbert 1987 eq. 16.5 where times all differ).
func varianceS(n int, inY, inT []int) float64 {
	cubic := func(k int) float64 { f := float64(k); return f * (f - 1) * (2*f + 5) }
	two := func(k int) float64 { f := float64(k); return f * (f - 1) }
	three := func(k int) float64 { f := float64(k); return f * (f - 1) * (f - 2) }
	sum := func(gs []int, f func(int) float64) (s float64) {
		for _, g := range gs {
			s += f(g)
		}
		return s
	}
	v := (cubic(n) - sum(inY, cubic) - sum(inT, cubic)) / 18
	if n > 2 {
		v += sum(inY, three) * sum(inT, three) / (9 * three(n))
	}
	if n > 1 {
		v += sum(inY, two) * sum(inT, two) / (2 * two(n))
	}
	return max(0, v)
}

// continuity is Z: S one nearer to zero, over its standard deviation.
func continuity(s int, v float64) float64 {
	switch {
	case v <= 0 || s == 0:
		return 0
	case s > 0:
		return float64(s-1) / math.Sqrt(v)
	default:
		return float64(s+1) / math.Sqrt(v)
	}
}

func (r *Trend) tau(inT []int) {
	all := float64(r.N*(r.N-1)) / 2
	r.TauA = float64(r.S) / all
	if d := math.Sqrt((all - float64(tied(r.Ties))) * (all - float64(tied(inT)))); d > 0 {
		r.TauB = float64(r.S) / d
	}
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	default:
		return 0
	}
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
