package repeat

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// OfPlacements gives the repeatability standard deviation s_r from places that were
// each read several times by one hand with one instrument: placements, or blind
// repeats (then it holds finding the place again as well).
//
//	places  readings place by place, any unit; places with one reading tell nothing
//	step    smallest step of the scale in that unit, ≥ 0
//	level   coverage asked for
//
// s_r² = Σ(xᵢⱼ−x̄ᵢ)²/Σ(nᵢ−1), interval by χ²: ISO 5725-2:1994 §7.4 (formula from
// memory, reproduced against published sets). S is never less than step/√12, which
// rounding alone leaves (GUM F.2.2.1, from memory); then the note "scale-step" is
// there. Below [Enough] re-placements the note "too-few" is there.
//
// Errors: measure.ErrEmpty where no place was read twice; *measure.ArgumentError.
func OfPlacements(places [][]float64, step, level float64) (Deviation, error) {
	ss, df, err := within("places", places)
	if err != nil {
		return Deviation{}, err
	}
	if err := measure.Finite("step", step); err != nil {
		return Deviation{}, err
	}
	if step < 0 {
		return Deviation{}, &measure.ArgumentError{Argument: "step", Why: "must not be below zero"}
	}
	if err := measure.Level(level); err != nil {
		return Deviation{}, err
	}
	if df == 0 {
		return Deviation{}, measure.ErrEmpty
	}
	d := deviation(math.Sqrt(ss/float64(df)), df, level)
	if floor := step / math.Sqrt(12); d.S < floor {
		d.S, d.Estimate.Value = floor, floor
		d.Estimate.Upper = max(d.Estimate.Upper, floor)
		d.Estimate.Notes = append(d.Estimate.Notes, measure.Note{
			Code: "scale-step",
			Text: "The readings come back closer than the scale can show; rounding alone is taken.",
		})
	}
	if df < Enough {
		d.Estimate.Notes = append(d.Estimate.Notes, measure.Note{
			Code: "too-few",
			Text: fmt.Sprintf("%d re-placements; %d are needed before anything is judged by them.", df, Enough),
		})
	}
	return d, nil
}

// deviation gives s its interval s·√(df/χ²).
func deviation(s float64, df int, level float64) Deviation {
	low, high := chiFactors(float64(df), level)
	return Deviation{S: s, DF: df, Estimate: measure.Estimate{
		Value: s, Lower: s * math.Sqrt(1/(1+low)), Upper: s * math.Sqrt(1+high), Level: level, N: df,
		Notes: []measure.Note{lean()}, Assumes: []string{independent},
	}}
}

// chiFactors gives df/χ² for both tails, as what must be taken off or added to 1:
// low = χ²(upper)/df − 1, high = df/χ²(lower) − 1.
func chiFactors(df, level float64) (low, high float64) {
	c := distuv.ChiSquared{K: df}
	return c.Quantile((1+level)/2)/df - 1, df/c.Quantile((1-level)/2) - 1
}

// largest keeps sums of squares finite, of whatever groups and however many.
const largest = 1e100

// within gives the sum of squares about the means of the groups, and its degrees of freedom.
func within(argument string, groups [][]float64) (ss float64, df int, err error) {
	for i, g := range groups {
		name := fmt.Sprintf("%s[%d]", argument, i)
		if err := measure.Finite(name, g...); err != nil {
			return 0, 0, err
		}
		for _, v := range g {
			if math.Abs(v) > largest {
				return 0, 0, &measure.ArgumentError{Argument: name, Why: "must lie within 1e100"}
			}
		}
		if len(g) == 0 {
			continue
		}
		s, _ := squares(g)
		ss, df = ss+s, df+len(g)-1
	}
	return ss, df, nil
}

// squares gives the sum of squares about the mean, and the mean, in two passes.
func squares(x []float64) (ss, mean float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += v / n
	}
	var rest float64
	for _, v := range x {
		rest += v - mean
	}
	mean += rest / n
	for _, v := range x {
		ss += (v - mean) * (v - mean)
	}
	return ss, mean
}
