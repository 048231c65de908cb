package course

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Season holds the visits made at one time of the year, so that like is compared with
// like: the same month, or the same number of days ashore.
type Season struct {
	T, Y []float64
}

// Seasonal is the Mann-Kendall test over several seasons, each compared with itself.
type Seasonal struct {
	Verdict Verdict
	Trend   bool
	Each    []Trend // by season
	S       int
	Var     float64
	Z, P    float64
	Exact   bool
	LeastP  float64
	Slope   float64 // median of all slopes within seasons; NaN is never given: see Sloped
	Sloped  bool
	Notes   []measure.Note
	Assumes []string
}

// MannKendallSeasonal adds S and its variance over the seasons: Hirsch, Slack and Smith
// 1982, Water Resources Research 18, 107-121. P is exact where every season has at most
// twelve visits at different times, else from the normal form. Slope is the seasonal
// Kendall slope of the same paper.
//
// Errors: no season; as for MannKendall in any season (named by its index).
func MannKendallSeasonal(seasons []Season, level float64) (Seasonal, error) {
	if len(seasons) == 0 {
		return Seasonal{}, measure.ErrEmpty
	}
	r := Seasonal{Exact: true, Assumes: []string{"visits independent of one another, from season to season too", "read the same way each time"}}
	p, most := []float64{1}, 0
	var s []float64
	n := 0
	for i, season := range seasons {
		one, err := MannKendall(season.T, season.Y, level)
		if err != nil {
			return Seasonal{}, fmt.Errorf("season %d: %w", i, err)
		}
		r.Each = append(r.Each, one)
		r.S += one.S
		r.Var += one.Var
		n += one.N
		most += one.N*(one.N-1)/2 - tied(one.Ties)
		if r.Exact = r.Exact && one.Exact && one.N <= 12; r.Exact {
			p = convolve(p, inversions(groups(season.Y)))
		}
		s = slopes(s, season.T, season.Y)
	}
	if r.Sloped = len(s) > 0; r.Sloped {
		slices.Sort(s)
		r.Slope = medianSorted(s)
	}
	r.Z = continuity(r.S, r.Var)
	if r.Exact {
		r.P = math.Min(1, 2*tail(p, abs(r.S)))
		r.LeastP = math.Min(1, 2*p[0])
	} else {
		r.P = 2 * distuv.UnitNormal.CDF(-math.Abs(r.Z))
		r.LeastP = 2 * distuv.UnitNormal.CDF(-math.Abs(continuity(most, r.Var)))
	}
	whole := Trend{N: n, S: r.S, P: r.P, LeastP: r.LeastP, Exact: r.Exact}
	whole.judge(1 - level)
	r.Verdict, r.Trend = whole.Verdict, whole.Trend
	if r.Verdict == CannotTell {
		r.Notes = append(r.Notes, measure.Note{Code: "too-few", Text: fmt.Sprintf("%s in %d seasons cannot show a trend: the smallest p they could give is %.2g.", visits(n), len(seasons), r.LeastP)})
	}
	return r, nil
}
