package repeat

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Precision is a one-way layout taken apart: the same spot read several times by
// each of several people (or instruments, or on several days).
type Precision struct {
	Groups, N int
	Mean      float64 // of all readings
	Effective float64 // readings a group, (N − Σnᵢ²/N)/(p−1)

	SSWithin, SSBetween float64
	DFWithin, DFBetween int
	F, P                float64 // F and its upper tail: do the groups differ at all? NaN-free: 0 and 1 where nothing varies

	Repeatability   Deviation // s_r
	Between         float64   // s_L, zero where its square came out negative
	BetweenSquared  float64   // as it came out, before that
	Reproducibility Deviation // s_R, √(s_L²+s_r²); DF by Satterthwaite, rounded down, at least 1

	H, K     []float64 // Mandel's h and k of each group
	CochranC float64   // largest of the group variances over their sum
}

// Of takes a one-way layout apart: ISO 5725-2:1994 §7.4-7.5, unbalanced groups by
// their effective size (formulae from memory; reproduced on NIST StRD SiRstv,
// Davies & Goldsmith's dyestuff and others).
//
//	groups  p ≥ 2 groups of n ≥ 1 readings, any unit, at least one group of 2 or more
//	level   coverage asked for
//
// A between component that comes out negative is set to zero with the note
// "negative-between": the readings show no difference between the groups. The
// interval of s_R is the modified large-sample one of Graybill & Wang, J. Am. Stat.
// Assoc. 75 (1980) 869-873, on the unweighted group means; with three people its
// upper end is far out, which is the truth.
//
// Errors: *measure.ArgumentError for groups or level.
func Of(groups [][]float64, level float64) (Precision, error) {
	if err := checkGroups(groups); err != nil {
		return Precision{}, err
	}
	if err := measure.Level(level); err != nil {
		return Precision{}, err
	}
	p := Precision{Groups: len(groups), DFBetween: len(groups) - 1}
	var err error
	if p.SSWithin, p.DFWithin, err = within("groups", groups); err != nil {
		return Precision{}, err
	}
	if p.DFWithin == 0 {
		return Precision{}, &measure.ArgumentError{Argument: "groups", Why: "must hold at least one group with two readings"}
	}
	means, sizes := p.layout(groups)
	p.mandel(groups, means)
	p.components(means, sizes, level)
	return p, nil
}

func checkGroups(groups [][]float64) error {
	if len(groups) < 2 {
		return &measure.ArgumentError{Argument: "groups", Why: "must be at least two"}
	}
	for i, g := range groups {
		if len(g) == 0 {
			return &measure.ArgumentError{Argument: fmt.Sprintf("groups[%d]", i), Why: "must hold a reading"}
		}
	}
	return nil
}

// layout fills in means, sums of squares and F.
func (p *Precision) layout(groups [][]float64) (means, sizes []float64) {
	var sum, squareSizes float64
	for _, g := range groups {
		_, m := squares(g)
		n := float64(len(g))
		means, sizes = append(means, m), append(sizes, n)
		p.N, sum, squareSizes = p.N+len(g), sum+n*m, squareSizes+n*n
	}
	p.Mean = sum / float64(p.N)
	for i, m := range means {
		p.SSBetween += sizes[i] * (m - p.Mean) * (m - p.Mean)
	}
	p.Effective = (float64(p.N) - squareSizes/float64(p.N)) / float64(p.DFBetween)
	p.P = 1
	if msw := p.SSWithin / float64(p.DFWithin); msw > 0 {
		p.F = p.SSBetween / float64(p.DFBetween) / msw
		p.P = distuv.F{D1: float64(p.DFBetween), D2: float64(p.DFWithin)}.Survival(p.F)
	} else if p.SSBetween > 0 {
		p.F, p.P = math.Inf(1), 0
	}
	return means, sizes
}

// components splits the variance and gives s_r and s_R their intervals.
func (p *Precision) components(means, sizes []float64, level float64) {
	msw, msb := p.SSWithin/float64(p.DFWithin), p.SSBetween/float64(p.DFBetween)
	p.Repeatability = deviation(math.Sqrt(msw), p.DFWithin, level)
	p.BetweenSquared = (msb - msw) / p.Effective
	p.Between = math.Sqrt(max(0, p.BetweenSquared))

	var inverse float64
	for _, n := range sizes {
		inverse += 1 / n / float64(len(sizes))
	}
	ss, _ := squares(means)
	parts := []part{
		{1, ss / float64(p.DFBetween), float64(p.DFBetween)},
		{1 - inverse, msw, float64(p.DFWithin)},
	}
	p.Reproducibility = combined(math.Sqrt(p.Between*p.Between+msw), parts, level)
	if p.BetweenSquared < 0 {
		p.Reproducibility.Estimate.Notes = append(p.Reproducibility.Estimate.Notes, negativeBetween())
	}
}

func negativeBetween() measure.Note {
	return measure.Note{
		Code: "negative-between",
		Text: "The readings show no difference between the groups; what could hide in their scatter is in the interval.",
	}
}

// part is one mean square in a sum of variances, with its weight.
type part struct{ weight, square, df float64 }

// combined gives the deviation √Σwᵢ·Sᵢ² its interval: Graybill & Wang 1980, eq. 2.2
// and 2.4 (from memory; coverage checked by simulation). s is the estimate, which
// differs from the sum where a negative component was set to zero.
func combined(s float64, parts []part, level float64) Deviation {
	var sum, down, up, spread float64
	for _, q := range parts {
		low, high := chiFactors(q.df, level)
		v := q.weight * q.square
		sum += v
		down += math.Pow(low/(1+low)*v, 2)
		up += math.Pow(high*v, 2)
		spread += v * v / q.df
	}
	d := Deviation{S: s, DF: 1}
	if spread > 0 {
		d.DF = max(1, int(sum*sum/spread))
	}
	d.Estimate = measure.Estimate{
		Value: s, Level: level, N: d.DF,
		Lower: min(s, math.Sqrt(max(0, sum-math.Sqrt(down)))),
		Upper: max(s, math.Sqrt(sum+math.Sqrt(up))),
		Notes: []measure.Note{lean()}, Assumes: []string{independent, "groups drawn from all those that might read"},
	}
	return d
}

// mandel: ISO 5725-2:1994 §7.3.1, with the mean of the group variances for k.
func (p *Precision) mandel(groups [][]float64, means []float64) {
	ss, centre := squares(means)
	sd := math.Sqrt(ss / float64(p.DFBetween))
	variances, largest, sum := make([]float64, len(groups)), 0.0, 0.0
	for i, g := range groups {
		if len(g) > 1 {
			s, _ := squares(g)
			variances[i] = s / float64(len(g)-1)
		}
		largest, sum = max(largest, variances[i]), sum+variances[i]
	}
	if sum > 0 {
		p.CochranC = largest / sum
	}
	for i := range groups {
		var h, k float64
		if sd > 0 {
			h = (means[i] - centre) / sd
		}
		if sum > 0 {
			k = math.Sqrt(variances[i] / (sum / float64(len(groups))))
		}
		p.H, p.K = append(p.H, h), append(p.K, k)
	}
}
