package measure_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/measure/beside"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/due"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/measure/salt"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/timber"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// refusal is one argument of one function: the name its error must carry, and a call with
// everything in order but that argument.
type refusal struct {
	of, argument string
	call         func(x float64) error
}

// failed keeps the error of a call that returns more.
func failed[T any](_ T, err error) error { return err }

func failed3[T, U any](_ T, _ U, err error) error { return err }

// Every exported function that takes numbers refuses what is none, and says which.
func TestNoFunctionTakesWhatIsNoNumber(t *testing.T) {
	t.Parallel()
	var all []refusal
	for _, of := range [][]refusal{
		airRefusals(), orderRefusals(), baselineRefusals(), repeatRefusals(), changeRefusals(), courseRefusals(),
		besideRefusals(), whereRefusals(), diffusionRefusals(t), coverageRefusals(), otherRefusals(),
	} {
		all = append(all, of...)
	}
	for _, c := range all {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			err := c.call(x)
			var arg *measure.ArgumentError
			if !errors.As(err, &arg) || arg.Argument != c.argument {
				t.Errorf("%s with %v for %s: got %v", c.of, x, c.argument, err)
			}
		}
	}
	t.Logf("%d arguments, three ways each", len(all))
}

func airRefusals() []refusal {
	c := func(x float64) unit.Celsius { return unit.Celsius(x) }
	h := func(x float64) unit.Humidity { return unit.Humidity(x) }
	p := func(x float64) unit.Pascals { return unit.Pascals(x) }
	off := air.HandheldSensors()
	return []refusal{
		{"air.DewPoint", "t", func(x float64) error { return failed(air.DewPoint(c(x), 50)) }},
		{"air.DewPoint", "h", func(x float64) error { return failed(air.DewPoint(10, h(x))) }},
		{"air.FrostPoint", "t", func(x float64) error { return failed(air.FrostPoint(c(x), 50)) }},
		{"air.FrostPoint", "h", func(x float64) error { return failed(air.FrostPoint(-5, h(x))) }},
		{"air.AtSurface", "t", func(x float64) error { return failed(air.AtSurface(c(x), 50, 8)) }},
		{"air.AtSurface", "h", func(x float64) error { return failed(air.AtSurface(10, h(x), 8)) }},
		{"air.AtSurface", "surface", func(x float64) error { return failed(air.AtSurface(10, 50, c(x))) }},
		{"air.Absolute", "t", func(x float64) error { return failed(air.Absolute(c(x), 50)) }},
		{"air.Absolute", "h", func(x float64) error { return failed(air.Absolute(10, h(x))) }},
		{"air.Margin", "t", func(x float64) error { return failed(air.Margin(c(x), 50, 8, off)) }},
		{"air.Margin", "h", func(x float64) error { return failed(air.Margin(10, h(x), 8, off)) }},
		{"air.Margin", "surface", func(x float64) error { return failed(air.Margin(10, 50, c(x), off)) }},
		{"air.Margin", "s.Air", func(x float64) error { return failed(air.Margin(10, 50, 8, air.Sensors{Air: c(x)})) }},
		{"air.Margin", "s.Surface", func(x float64) error { return failed(air.Margin(10, 50, 8, air.Sensors{Surface: c(x)})) }},
		{"air.Margin", "s.Humidity", func(x float64) error { return failed(air.Margin(10, 50, 8, air.Sensors{Humidity: h(x)})) }},
		{"air.OverWater", "t", func(x float64) error { return failed(air.OverWater(c(x))) }},
		{"air.OverIce", "t", func(x float64) error { return failed(air.OverIce(c(x))) }},
		{"air.Saturation", "t", func(x float64) error { return failed(air.Saturation(c(x))) }},
		{"air.Ratio", "t", func(x float64) error { return failed(air.Ratio(c(x), 50, air.Standard)) }},
		{"air.Ratio", "h", func(x float64) error { return failed(air.Ratio(10, h(x), air.Standard)) }},
		{"air.Ratio", "p", func(x float64) error { return failed(air.Ratio(10, 50, p(x))) }},
		{"air.RatioFromWetBulb", "dry", func(x float64) error { return failed(air.RatioFromWetBulb(c(x), 8, air.Standard)) }},
		{"air.RatioFromWetBulb", "wet", func(x float64) error { return failed(air.RatioFromWetBulb(10, c(x), air.Standard)) }},
		{"air.RatioFromWetBulb", "p", func(x float64) error { return failed(air.RatioFromWetBulb(10, 8, p(x))) }},
		{"air.WetBulb", "t", func(x float64) error { return failed(air.WetBulb(c(x), 50, air.Standard)) }},
		{"air.WetBulb", "h", func(x float64) error { return failed(air.WetBulb(10, h(x), air.Standard)) }},
		{"air.WetBulb", "p", func(x float64) error { return failed(air.WetBulb(10, 50, p(x))) }},
	}
}

// some are six values of which the third is x.
func some(x float64) []float64 { return []float64{1, 4, x, 2, 8, 5} }

func orderRefusals() []refusal {
	good := some(3)
	return []refusal{
		{"order.MomentsOf", "x[2]", func(x float64) error { return failed(order.MomentsOf(some(x))) }},
		{"order.Mean", "x[2]", func(x float64) error { return failed(order.Mean(some(x), 0.95)) }},
		{"order.Mean", "level", func(x float64) error { return failed(order.Mean(good, x)) }},
		{"order.Median", "x[2]", func(x float64) error { return failed(order.Median(some(x), 0.95)) }},
		{"order.Median", "level", func(x float64) error { return failed(order.Median(good, x)) }},
		{"order.Middle", "x[2]", func(x float64) error { return failed(order.Middle(some(x))) }},
		{"order.MAD", "x[2]", func(x float64) error { return failed(order.MAD(some(x))) }},
		{"order.Grubbs", "x[2]", func(x float64) error { return failed(order.Grubbs(some(x), order.Both, 0.05)) }},
		{"order.Grubbs", "alpha", func(x float64) error { return failed(order.Grubbs(good, order.Both, x)) }},
		{"order.ESD", "x[2]", func(x float64) error { return failed3(order.ESD(some(x), 1, 0.05)) }},
		{"order.ESD", "alpha", func(x float64) error { return failed3(order.ESD(good, 1, x)) }},
		{"order.Quantile", "x[2]", func(x float64) error { return failed(order.Quantile(some(x), 0.5, order.Type7)) }},
		{"order.Quantile", "p", func(x float64) error { return failed(order.Quantile(good, x, order.Type7)) }},
		{"order.Fences", "x[2]", func(x float64) error { return failed3(order.Fences(some(x), 1.5, order.Type7)) }},
		{"order.Fences", "k", func(x float64) error { return failed3(order.Fences(good, x, order.Type7)) }},
		{"order.ModifiedZ", "x[2]", func(x float64) error { return failed(order.ModifiedZ(some(x), 0.1)) }},
		{"order.ModifiedZ", "step", func(x float64) error { return failed(order.ModifiedZ(good, x)) }},
		{"order.Scatter", "x[2]", func(x float64) error { return failed(order.Scatter(some(x), 0.1)) }},
		{"order.Scatter", "step", func(x float64) error { return failed(order.Scatter(good, x)) }},
		{"order.Huber", "x[2]", func(x float64) error { return failed(order.Huber(some(x), 1.5, 0.1)) }},
		{"order.Huber", "k", func(x float64) error { return failed(order.Huber(good, x, 0.1)) }},
		{"order.Huber", "step", func(x float64) error { return failed(order.Huber(good, 1.5, x)) }},
		{"order.Sn", "x[2]", func(x float64) error { return failed(order.Sn(some(x))) }},
		{"order.Qn", "x[2]", func(x float64) error { return failed(order.Qn(some(x))) }},
		{"order.HodgesLehmann", "x[2]", func(x float64) error { return failed(order.HodgesLehmann(some(x), 0.95)) }},
		{"order.HodgesLehmann", "level", func(x float64) error { return failed(order.HodgesLehmann(good, x)) }},
		{"order.Shift", "x[2]", func(x float64) error { return failed(order.Shift(some(x), good, 0.95)) }},
		{"order.Shift", "y[2]", func(x float64) error { return failed(order.Shift(good, some(x), 0.95)) }},
		{"order.Shift", "level", func(x float64) error { return failed(order.Shift(good, good, x)) }},
	}
}

func baselineRefusals() []refusal {
	with := func(alter func(*baseline.Settings)) error {
		s := baseline.Defaults()
		alter(&s)
		return failed(baseline.Of(nil, nil, s))
	}
	return []refusal{
		{"baseline.Of", "s.Share", func(x float64) error { return with(func(s *baseline.Settings) { s.Share = x }) }},
		{"baseline.Of", "s.Step", func(x float64) error { return with(func(s *baseline.Settings) { s.Step = x }) }},
		{"baseline.Of", "level", func(x float64) error { return with(func(s *baseline.Settings) { s.Level = x }) }},
	}
}

func repeatRefusals() []refusal {
	good := repeat.Deviation{S: 1, DF: 30}
	groups := func(x float64) [][]float64 { return [][]float64{{1, 2}, {3, x, 4}} }
	kit := func(x float64) [][][]float64 { return [][][]float64{{{1, 2}, {2}}, {{3}, {x}}} }
	sessions := func(x float64) [][][]float64 { return [][][]float64{{{1, 2}}, {{3, x}}} }
	return []refusal{
		{"repeat.OfPlacements", "places[1][1]", func(x float64) error { return failed(repeat.OfPlacements(groups(x), 0, 0.95)) }},
		{"repeat.OfPlacements", "step", func(x float64) error { return failed(repeat.OfPlacements(groups(1), x, 0.95)) }},
		{"repeat.OfPlacements", "level", func(x float64) error { return failed(repeat.OfPlacements(groups(1), 0, x)) }},
		{"repeat.Of", "groups[1][1]", func(x float64) error { return failed(repeat.Of(groups(x), 0.95)) }},
		{"repeat.Of", "level", func(x float64) error { return failed(repeat.Of(groups(1), x)) }},
		{"repeat.OfKit", "spots[1][1]", func(x float64) error { return failed(repeat.OfKit(kit(x), 0.95)) }},
		{"repeat.OfKit", "level", func(x float64) error { return failed(repeat.OfKit(kit(1), x)) }},
		{"repeat.Course", "places[0][1]", func(x float64) error { return failed3(repeat.Course(sessions(x), 0, 0.05)) }},
		{"repeat.Course", "step", func(x float64) error { return failed3(repeat.Course(sessions(1), x, 0.05)) }},
		{"repeat.Course", "alpha", func(x float64) error { return failed3(repeat.Course(sessions(1), 0, x)) }},
		{"repeat.SmallestDifference", "d.S", func(x float64) error {
			return failed(repeat.SmallestDifference(repeat.Deviation{S: x, DF: 30}, 1, 1, 0.95))
		}},
		{"repeat.SmallestDifference", "level", func(x float64) error { return failed(repeat.SmallestDifference(good, 1, 1, x)) }},
		{"repeat.IndividualsChart", "x[2]", func(x float64) error { return failed(repeat.IndividualsChart(some(x), 6)) }},
		{"repeat.EWMA", "x[2]", func(x float64) error { return failed(repeat.EWMA(some(x), 1, 1, 0.2, 3)) }},
		{"repeat.EWMA", "target", func(x float64) error { return failed(repeat.EWMA(some(1), x, 1, 0.2, 3)) }},
		{"repeat.EWMA", "s", func(x float64) error { return failed(repeat.EWMA(some(1), 1, x, 0.2, 3)) }},
		{"repeat.EWMA", "lambda", func(x float64) error { return failed(repeat.EWMA(some(1), 1, 1, x, 3)) }},
		{"repeat.EWMA", "width", func(x float64) error { return failed(repeat.EWMA(some(1), 1, 1, 0.2, x)) }},
		{"repeat.BlockShift", "before", func(x float64) error { _, _, _, err := repeat.BlockShift(x, 1, 3, good); return err }},
		{"repeat.BlockShift", "after", func(x float64) error { _, _, _, err := repeat.BlockShift(1, x, 3, good); return err }},
	}
}

func changeRefusals() []refusal {
	input := func(alter func(*change.Input)) error {
		in := change.Input{
			Rate: 0.05, LeastDry: 6, Blocks: &change.Blocks{LowBefore: 10, HighBefore: 60, LowAfter: 10, HighAfter: 60, K: 1},
			Places: []change.Pair{{KBefore: 1, KAfter: 1}},
		}
		alter(&in)
		return failed(change.Compare(in))
	}
	sr := repeat.Deviation{S: 1, DF: 40}
	like := func(d, dry float64) error {
		return failed(change.Measure(sr, nil, []change.LikePair{{Differences: some(d), Dry: some(dry), KBefore: 3, KAfter: 3}}))
	}
	known := change.Components{Repeatability: sr, Like: repeat.Deviation{S: 1, DF: 40}, LikeRep: 0.9}
	ahead := func(alter func(*change.Plan), power, rate float64) error {
		p := change.Plan{Places: 60, Dry: 8, KBefore: 3, KAfter: 3, VisitsBefore: 1, VisitsAfter: 1}
		alter(&p)
		return failed(change.Ahead(known, p, power, rate))
	}
	none := func(*change.Plan) {}
	return []refusal{
		{"change.Compare", "in.Rate", func(x float64) error { return input(func(in *change.Input) { in.Rate = x }) }},
		{"change.Compare", "in.Matters", func(x float64) error { return input(func(in *change.Input) { in.Matters = x }) }},
		{"change.Compare", "in.Places[0].Extra", func(x float64) error { return input(func(in *change.Input) { in.Places[0].Extra = x }) }},
		{"change.Compare", "in.Blocks[1]", func(x float64) error { return input(func(in *change.Input) { in.Blocks.HighBefore = x }) }},
		{"change.Measure", "like[0].Differences[2]", func(x float64) error { return like(x, 1) }},
		{"change.Measure", "like[0].Dry[2]", func(x float64) error { return like(1, x) }},
		{"change.Measure", "blind[0][1]", func(x float64) error {
			return failed(change.Measure(sr, []change.Again{{First: 1, Later: x, K: 1}}, nil))
		}},
		{"change.Ahead", "p.Contrast", func(x float64) error { return ahead(func(p *change.Plan) { p.Contrast = x }, 0.8, 0.05) }},
		{"change.Ahead", "p.BlockDistance", func(x float64) error { return ahead(func(p *change.Plan) { p.BlockDistance = x }, 0.8, 0.05) }},
		{"change.Ahead", "power", func(x float64) error { return ahead(none, x, 0.05) }},
		{"change.Ahead", "rate", func(x float64) error { return ahead(none, 0.8, x) }},
		{"change.Discover", "p[2]", func(x float64) error { return failed(change.Discover([]float64{0.1, 0.2, x}, 0.05)) }},
		{"change.Discover", "q", func(x float64) error { return failed(change.Discover([]float64{0.1, 0.2}, x)) }},
		{"change.SignedRank", "d[2]", func(x float64) error { return failed(change.SignedRank(some(x), change.Drop)) }},
		{"change.PairedT", "d[2]", func(x float64) error { return failed(change.PairedT(some(x), 0.95)) }},
		{"change.PairedT", "level", func(x float64) error { return failed(change.PairedT(some(1), x)) }},
		{"change.Polish", "table[1][2]", func(x float64) error { return failed(change.Polish([][]float64{some(1), some(x)}, nil)) }},
		{"change.PairedPower", "effect", func(x float64) error { return failed(change.PairedPower(9, x, 0.05)) }},
		{"change.PairedPower", "alpha", func(x float64) error { return failed(change.PairedPower(9, 1, x)) }},
		{"change.PairedSize", "effect", func(x float64) error { return failed(change.PairedSize(x, 0.8, 0.05)) }},
		{"change.PairedSize", "power", func(x float64) error { return failed(change.PairedSize(1, x, 0.05)) }},
		{"change.PairedSize", "alpha", func(x float64) error { return failed(change.PairedSize(1, 0.8, x)) }},
		{"change.RepeatsPower", "change", func(x float64) error { return failed(change.RepeatsPower(9, x, 0.05)) }},
		{"change.RepeatsPower", "alpha", func(x float64) error { return failed(change.RepeatsPower(9, 1, x)) }},
		{"change.RepeatsNeeded", "change", func(x float64) error { return failed(change.RepeatsNeeded(x, 0.8, 0.05)) }},
		{"change.RepeatsNeeded", "power", func(x float64) error { return failed(change.RepeatsNeeded(1, x, 0.05)) }},
		{"change.RepeatsNeeded", "alpha", func(x float64) error { return failed(change.RepeatsNeeded(1, 0.8, x)) }},
	}
}

func courseRefusals() []refusal {
	ts, ys := []float64{0, 7, 14, 28, 56, 90}, []float64{40, 36, 34, 31, 28, 27}
	at := func(xs []float64, x float64) []float64 {
		out := append([]float64(nil), xs...)
		out[2] = x
		return out
	}
	fit := func() course.Drying {
		d, err := course.FitDrying(ts, ys, course.Exponential, 0, 0.95)
		if err != nil {
			panic(err)
		}
		return d
	}
	line := course.Curve{
		Parameters: 2,
		At:         func(p []float64, t float64) float64 { return p[0] + p[1]*t },
		Slope:      func(_ []float64, t float64, g []float64) { g[0], g[1] = 1, t },
	}
	fall := measure.Estimate{Lower: 1, Upper: 2}
	return []refusal{
		{"course.MannKendall", "t[2]", func(x float64) error { return failed(course.MannKendall(at(ts, x), ys, 0.95)) }},
		{"course.MannKendall", "y[2]", func(x float64) error { return failed(course.MannKendall(ts, at(ys, x), 0.95)) }},
		{"course.MannKendall", "level", func(x float64) error { return failed(course.MannKendall(ts, ys, x)) }},
		{"course.MannKendallSeasonal", "y[2]", func(x float64) error {
			return failed(course.MannKendallSeasonal([]course.Season{{T: ts, Y: at(ys, x)}}, 0.95))
		}},
		{"course.MannKendallSeasonal", "level", func(x float64) error {
			return failed(course.MannKendallSeasonal([]course.Season{{T: ts, Y: ys}}, x))
		}},
		{"course.Sen", "t[2]", func(x float64) error { return failed(course.Sen(at(ts, x), ys, 0.95, course.ExactRanks)) }},
		{"course.Sen", "y[2]", func(x float64) error { return failed(course.Sen(ts, at(ys, x), 0.95, course.ExactRanks)) }},
		{"course.Sen", "level", func(x float64) error { return failed(course.Sen(ts, ys, x, course.ExactRanks)) }},
		{"course.FitDrying", "t[2]", func(x float64) error { return failed(course.FitDrying(at(ts, x), ys, course.Slab, 0, 0.95)) }},
		{"course.FitDrying", "y[2]", func(x float64) error { return failed(course.FitDrying(ts, at(ys, x), course.Slab, 0, 0.95)) }},
		{"course.FitDrying", "noise", func(x float64) error { return failed(course.FitDrying(ts, ys, course.Slab, x, 0.95)) }},
		{"course.FitDrying", "level", func(x float64) error { return failed(course.FitDrying(ts, ys, course.Slab, 0, x)) }},
		{"course.Drying.At", "t", func(x float64) error { return failed(fit().At(x, 0.95)) }},
		{"course.Drying.At", "level", func(x float64) error { return failed(fit().At(1, x)) }},
		{"course.Drying.FallBetween", "from", func(x float64) error { return failed(fit().FallBetween(x, 9, 0.95)) }},
		{"course.Drying.FallBetween", "to", func(x float64) error { return failed(fit().FallBetween(1, x, 0.95)) }},
		{"course.Drying.FallBetween", "level", func(x float64) error { return failed(fit().FallBetween(1, 9, x)) }},
		{"course.Drying.Reach", "target", func(x float64) error { return failed(fit().Reach(x, 0.95)) }},
		{"course.Drying.Reach", "level", func(x float64) error { return failed(fit().Reach(30, x)) }},
		{"course.Forecast", "t[2]", func(x float64) error { return failed(course.Forecast(at(ts, x), ys, 25, 0, 0.95)) }},
		{"course.Forecast", "target", func(x float64) error { return failed(course.Forecast(ts, ys, x, 0, 0.95)) }},
		{"course.Forecast", "noise", func(x float64) error { return failed(course.Forecast(ts, ys, 25, x, 0.95)) }},
		{"course.Forecast", "level", func(x float64) error { return failed(course.Forecast(ts, ys, 25, 0, x)) }},
		{"course.DetectStall", "y[2]", func(x float64) error { return failed(course.DetectStall(ts, at(ys, x), 28, 1, 0.95)) }},
		{"course.DetectStall", "since", func(x float64) error { return failed(course.DetectStall(ts, ys, x, 1, 0.95)) }},
		{"course.StallAgainst", "y[2]", func(x float64) error { return failed(course.StallAgainst(ts, at(ys, x), fall, 1, 0.95)) }},
		{"course.StallAgainst", "noise", func(x float64) error { return failed(course.StallAgainst(ts, ys, fall, x, 0.95)) }},
		{"course.StallAgainst", "level", func(x float64) error { return failed(course.StallAgainst(ts, ys, fall, 1, x)) }},
		{"course.Fit", "t[2]", func(x float64) error { return failed(course.Fit(line, at(ts, x), ys, []float64{1, 1})) }},
		{"course.Fit", "y[2]", func(x float64) error { return failed(course.Fit(line, ts, at(ys, x), []float64{1, 1})) }},
		{"course.Fit", "start[1]", func(x float64) error { return failed(course.Fit(line, ts, ys, []float64{1, x})) }},
	}
}

func besideRefusals() []refusal {
	xs, ys := make([]float64, 20), make([]float64, 20)
	for i := range xs {
		xs[i], ys[i] = float64(i), 3+1.5*float64(i)+float64(i*i%7)/3
	}
	at := func(v []float64, x float64) []float64 {
		out := append([]float64(nil), v...)
		out[2] = x
		return out
	}
	cross := func() beside.Crossing {
		c, err := beside.Cross(xs, ys, 1, 0.95)
		if err != nil {
			panic(err)
		}
		return c
	}
	return []refusal{
		{"beside.Agree", "x[2]", func(x float64) error { return failed(beside.Agree(at(xs, x), ys, 0.95)) }},
		{"beside.Agree", "y[2]", func(x float64) error { return failed(beside.Agree(xs, at(ys, x), 0.95)) }},
		{"beside.Agree", "level", func(x float64) error { return failed(beside.Agree(xs, ys, x)) }},
		{"beside.Lin", "x[2]", func(x float64) error { return failed(beside.Lin(at(xs, x), ys, 0.95)) }},
		{"beside.Lin", "level", func(x float64) error { return failed(beside.Lin(xs, ys, x)) }},
		{"beside.Deming", "y[2]", func(x float64) error { return failed(beside.Deming(xs, at(ys, x), 1, 0.95)) }},
		{"beside.Deming", "ratio", func(x float64) error { return failed(beside.Deming(xs, ys, x, 0.95)) }},
		{"beside.Deming", "level", func(x float64) error { return failed(beside.Deming(xs, ys, 1, x)) }},
		{"beside.PassingBablok", "x[2]", func(x float64) error { return failed(beside.PassingBablok(at(xs, x), ys, 0.95)) }},
		{"beside.PassingBablok", "level", func(x float64) error { return failed(beside.PassingBablok(xs, ys, x)) }},
		{"beside.Cross", "x[2]", func(x float64) error { return failed(beside.Cross(at(xs, x), ys, 1, 0.95)) }},
		{"beside.Cross", "ratio", func(x float64) error { return failed(beside.Cross(xs, ys, x, 0.95)) }},
		{"beside.Cross", "level", func(x float64) error { return failed(beside.Cross(xs, ys, 1, x)) }},
		{"beside.Crossing.Band", "at", func(x float64) error { return failed3(cross().Band(x)) }},
		{"beside.Crossing.Judge", "x", func(x float64) error { return failed(cross().Judge(x, 9, 3)) }},
		{"beside.Crossing.Judge", "y", func(x float64) error { return failed(cross().Judge(9, x, 3)) }},
		{"beside.Crossing.Judge", "effect", func(x float64) error { return failed(cross().Judge(9, 9, x)) }},
	}
}

func whereRefusals() []refusal {
	places := func(x float64) []where.Place {
		ps := make([]where.Place, 12)
		for i := range ps {
			ps[i] = where.Place{Side: where.Side(1 - 2*(i%2)), Along: unit.Millimetres(500 * (i / 2)), Down: 300, Keel: 900}
		}
		ps[2].Along = unit.Millimetres(x)
		return ps
	}
	twelve := func(x float64) []float64 {
		y := []float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8}
		y[2] = x
		return y
	}
	points := func(x float64) []where.Point {
		ps, err := where.Unrolled(places(500), 1)
		if err != nil {
			panic(err)
		}
		ps[2].X = x
		return ps
	}
	graph, err := where.Joined(places(500), where.ReachOver(500, 1200))
	if err != nil {
		panic(err)
	}
	model := where.Variogram{Form: where.Spherical, Nugget: 1, Sill: 4, Range: 900}
	krige := func(p []where.Point, y []float64, v where.Variogram) error { return failed(where.Krige(p, y, v, true)) }
	kriged, err := where.Krige(points(500), twelve(4), model, true)
	if err != nil {
		panic(err)
	}
	cut := where.ClusterDefaults(1)
	values := make([]measure.Value, 12)
	mm := func(x float64) unit.Millimetres { return unit.Millimetres(x) }
	return []refusal{
		{"where.Joined", "places[2].Along", func(x float64) error { return failed(where.Joined(places(x), where.ReachOver(500, 300))) }},
		{"where.Joined", "reach.Along", func(x float64) error { return failed(where.Joined(places(1), where.Reach{Along: mm(x), Across: 1})) }},
		{"where.Joined", "reach.Across", func(x float64) error { return failed(where.Joined(places(1), where.Reach{Along: 1, Across: mm(x)})) }},
		{"where.TakeOut", "y[2]", func(x float64) error { return failed(where.TakeOut(twelve(x), make([]int, 12), make([]int, 12), 0.1)) }},
		{"where.TakeOut", "step", func(x float64) error { return failed(where.TakeOut(twelve(1), make([]int, 12), make([]int, 12), x)) }},
		{"where.Find", "z[2]", func(x float64) error { return failed(where.Find(graph, twelve(x), cut)) }},
		{"where.Find", "Cut", func(x float64) error { s := cut; s.Cut = x; return failed(where.Find(graph, twelve(1), s)) }},
		{"where.Moran", "y[2]", func(x float64) error { return failed(where.Moran(graph, twelve(x), where.Ones)) }},
		{"where.LocalMoran", "y[2]", func(x float64) error { return failed(where.LocalMoran(graph, twelve(x))) }},
		{"where.GetisOrd", "y[2]", func(x float64) error { return failed(where.GetisOrd(graph, twelve(x), true)) }},
		{"where.Mirrors", "places[2].Along", func(x float64) error { return failed(where.Mirrors(places(x), values, 50, 0.1)) }},
		{"where.Mirrors", "within", func(x float64) error { return failed(where.Mirrors(places(1), values, mm(x), 0.1)) }},
		{"where.Mirrors", "step", func(x float64) error { return failed(where.Mirrors(places(1), values, 50, x)) }},
		{"where.Match", "places[2].Along", func(x float64) error { return failed(where.Match(places(1), places(x), 50)) }},
		{"where.Match", "within", func(x float64) error { return failed(where.Match(places(1), places(1), mm(x))) }},
		{"where.WithinFor", "errorA", func(x float64) error { return failed(where.WithinFor(mm(x), 1)) }},
		{"where.WithinFor", "errorB", func(x float64) error { return failed(where.WithinFor(1, mm(x))) }},
		{"where.Unrolled", "places[2].Along", func(x float64) error { return failed(where.Unrolled(places(x), 1)) }},
		{"where.Unrolled", "ratio", func(x float64) error { return failed(where.Unrolled(places(1), x)) }},
		{"where.SampleVariogram", "points[2]", func(x float64) error { return failed(where.SampleVariogram(points(x), twelve(1))) }},
		{"where.SampleVariogram", "y[2]", func(x float64) error { return failed(where.SampleVariogram(points(1), twelve(x))) }},
		{"where.FitVariogram", "lags[1]", func(x float64) error {
			return failed(where.FitVariogram([]where.Lag{{Distance: 1, Gamma: 1, Pairs: 9}, {Distance: 2, Gamma: x, Pairs: 9}, {Distance: 3, Gamma: 3, Pairs: 9}, {Distance: 4, Gamma: 3, Pairs: 9}}, where.Spherical))
		}},
		{"where.Krige", "points[2]", func(x float64) error { return krige(points(x), twelve(1), model) }},
		{"where.Krige", "y[2]", func(x float64) error { return krige(points(1), twelve(x), model) }},
		{"where.Krige", "Nugget", func(x float64) error { v := model; v.Nugget = x; return krige(points(1), twelve(1), v) }},
		{"where.Krige", "Sill", func(x float64) error { v := model; v.Sill = x; return krige(points(1), twelve(1), v) }},
		{"where.Krige", "Range", func(x float64) error { v := model; v.Range = x; return krige(points(1), twelve(1), v) }},
		{"where.Kriged.At", "p[0]", func(x float64) error { _, _, err := kriged.At(where.Point{X: x}); return err }},
		{"where.Kriged.Map", "w[2]", func(x float64) error {
			return failed(kriged.Map(where.Window{Step: where.Point{X: x, Y: 1}, Cols: 1, Rows: 1}))
		}},
	}
}

func diffusionRefusals(t *testing.T) []refusal {
	t.Helper()
	type mm = unit.Millimetres
	wall, err := diffusion.NewWall(diffusion.Layer{Thickness: 6, D: 1e-12, ActivationEnergy: 40e3})
	if err != nil {
		t.Fatal(err)
	}
	full, _ := wall.Uniform(1)
	profile := func(x float64) diffusion.Profile {
		p := append(diffusion.Profile(nil), full...)
		p[2] = x
		return p
	}
	d := diffusion.PolyesterLaminate()
	ranged := func(x float64) diffusion.Range { r := d; r.High = unit.Diffusivity(x); return r }
	course := func(days, at float64) []diffusion.Stretch {
		return []diffusion.Stretch{{Days: 1, At: 10}, {Days: unit.Days(days), At: unit.Celsius(at)}}
	}
	expose := func(e diffusion.Exposure) error { return failed(wall.Expose(full, []diffusion.Exposure{e})) }
	diff := func(x float64) unit.Diffusivity { return unit.Diffusivity(x) }
	layer := func(alter func(*diffusion.Layer)) error {
		l := diffusion.Layer{Thickness: 6, D: 1e-12, ActivationEnergy: 40e3}
		alter(&l)
		return failed(diffusion.NewWall(l))
	}
	weigh := diffusion.Weighing{After: 4, Gain: 0.2}
	return []refusal{
		{"diffusion.Lost", "d", func(x float64) error { return failed(diffusion.Lost(diff(x), 8, 1, 1)) }},
		{"diffusion.Lost", "thickness", func(x float64) error { return failed(diffusion.Lost(1e-12, mm(x), 1, 1)) }},
		{"diffusion.Lost", "t", func(x float64) error { return failed(diffusion.Lost(1e-12, 8, unit.Days(x), 1)) }},
		{"diffusion.Level", "depth", func(x float64) error { return failed(diffusion.Level(mm(x), 1e-12, 8, 1, 1)) }},
		{"diffusion.Level", "d", func(x float64) error { return failed(diffusion.Level(1, diff(x), 8, 1, 1)) }},
		{"diffusion.LevelDeep", "depth", func(x float64) error { return failed(diffusion.LevelDeep(mm(x), 1e-12, 1)) }},
		{"diffusion.LevelDeep", "d", func(x float64) error { return failed(diffusion.LevelDeep(1, diff(x), 1)) }},
		{"diffusion.LevelDeep", "t", func(x float64) error { return failed(diffusion.LevelDeep(1, 1e-12, unit.Days(x))) }},
		{"diffusion.TimeToLose", "part", func(x float64) error { return failed(diffusion.TimeToLose(x, 1e-12, 8, 1)) }},
		{"diffusion.TimeToLose", "thickness", func(x float64) error { return failed(diffusion.TimeToLose(0.5, 1e-12, mm(x), 1)) }},
		{"diffusion.Arrhenius", "t", func(x float64) error { return failed(diffusion.Arrhenius(unit.Celsius(x), 20, 40e3)) }},
		{"diffusion.Arrhenius", "ref", func(x float64) error { return failed(diffusion.Arrhenius(20, unit.Celsius(x), 40e3)) }},
		{"diffusion.Arrhenius", "e", func(x float64) error { return failed(diffusion.Arrhenius(10, 20, x)) }},
		{"diffusion.DryingDepth", "course[1].Days", func(x float64) error { return failed(diffusion.DryingDepth(course(x, 10), 0, d)) }},
		{"diffusion.DryingDepth", "course[1].At", func(x float64) error { return failed(diffusion.DryingDepth(course(1, x), 0, d)) }},
		{"diffusion.DryingDepth", "wall", func(x float64) error { return failed(diffusion.DryingDepth(course(1, 1), mm(x), d)) }},
		{"diffusion.DryingDepth", "range.High", func(x float64) error { return failed(diffusion.DryingDepth(course(1, 1), 0, ranged(x))) }},
		{"diffusion.EquivalentDays", "e", func(x float64) error { return failed(diffusion.EquivalentDays(course(1, 1), x)) }},
		{"diffusion.NewWall", "layers[0].Thickness", func(x float64) error { return layer(func(l *diffusion.Layer) { l.Thickness = mm(x) }) }},
		{"diffusion.NewWall", "layers[0].D", func(x float64) error { return layer(func(l *diffusion.Layer) { l.D = diff(x) }) }},
		{"diffusion.NewWall", "layers[0].ActivationEnergy", func(x float64) error { return layer(func(l *diffusion.Layer) { l.ActivationEnergy = x }) }},
		{"diffusion.NewWall", "layers[0].Capacity", func(x float64) error { return layer(func(l *diffusion.Layer) { l.Capacity = x }) }},
		{"diffusion.Wall.Uniform", "level", func(x float64) error { return failed(wall.Uniform(x)) }},
		{"diffusion.Wall.Mean", "profile[2]", func(x float64) error { return failed(wall.Mean(profile(x))) }},
		{"diffusion.Wall.Seen", "profile[2]", func(x float64) error { return failed(wall.Seen(profile(x), 4)) }},
		{"diffusion.Wall.Seen", "depth", func(x float64) error { return failed(wall.Seen(full, mm(x))) }},
		{"diffusion.Wall.At", "depth", func(x float64) error { return failed(wall.At(full, mm(x))) }},
		{"diffusion.Wall.DepthOf", "level", func(x float64) error { return failed(wall.DepthOf(full, x)) }},
		{"diffusion.Wall.Expose", "profile[2]", func(x float64) error { return failed(wall.Expose(profile(x), nil)) }},
		{"diffusion.Wall.Expose", "Days", func(x float64) error { return expose(diffusion.Exposure{Days: unit.Days(x)}) }},
		{"diffusion.Wall.Expose", "At", func(x float64) error { return expose(diffusion.Exposure{At: unit.Celsius(x)}) }},
		{"diffusion.Wall.Expose", "Outside", func(x float64) error { return expose(diffusion.Exposure{Outside: diffusion.Air(unit.Humidity(x))}) }},
		{"diffusion.Wall.Expose", "Inside", func(x float64) error { return expose(diffusion.Exposure{Inside: diffusion.Air(unit.Humidity(x))}) }},
		{"diffusion.Wall.Reach", "level", func(x float64) error { return failed(wall.Reach(x, 0.5, diffusion.Exposure{}, d)) }},
		{"diffusion.Wall.Reach", "target", func(x float64) error { return failed(wall.Reach(1, x, diffusion.Exposure{}, d)) }},
		{"diffusion.Wall.Reach", "range.High", func(x float64) error { return failed(wall.Reach(1, 0.5, diffusion.Exposure{}, ranged(x))) }},
		{"diffusion.ImmersionClock", "times[0].Days", func(x float64) error {
			return failed(diffusion.ImmersionClock([]diffusion.Immersion{{Days: unit.Days(x), At: 10, In: diffusion.Salt}}))
		}},
		{"diffusion.FromWeighings", "a.Gain", func(x float64) error {
			return failed3(diffusion.FromWeighings(4, diffusion.Weighing{After: 1, Gain: x}, weigh, 1))
		}},
		{"diffusion.FromWeighings", "thickness", func(x float64) error {
			return failed3(diffusion.FromWeighings(mm(x), diffusion.Weighing{After: 1, Gain: 0.1}, weigh, 1))
		}},
		{"diffusion.FromWeighings", "saturation", func(x float64) error {
			return failed3(diffusion.FromWeighings(4, diffusion.Weighing{After: 1, Gain: 0.1}, weigh, x))
		}},
		{"diffusion.WithoutEdges", "apparent", func(x float64) error { return failed(diffusion.WithoutEdges(diff(x), 4, 50, 50)) }},
		{"diffusion.WithoutEdges", "length", func(x float64) error { return failed(diffusion.WithoutEdges(1e-12, 4, mm(x), 50)) }},
	}
}

func coverageRefusals() []refusal {
	type mm = unit.Millimetres
	square := coverage.Outline{{}, {Along: 1000}, {Along: 1000, Down: 1000}, {Down: 1000}}
	tap := []coverage.Window{{At: coverage.Point{Along: 500, Down: 500}}}
	grid := coverage.Grid{Along: 500, Down: 300}
	return []refusal{
		{"coverage.Grid.Chance", "grid.Along", func(x float64) error { return failed(coverage.Grid{Along: mm(x), Down: 1}.Chance(9)) }},
		{"coverage.Grid.Chance", "grid.Pad", func(x float64) error { return failed(coverage.Grid{Along: 1, Down: 1, Pad: mm(x)}.Chance(9)) }},
		{"coverage.Grid.Chance", "flaw", func(x float64) error { return failed(grid.Chance(mm(x))) }},
		{"coverage.Grid.Smallest", "chance", func(x float64) error { return failed(grid.Smallest(x)) }},
		{"coverage.Grid.Certain", "grid.Down", func(x float64) error { return failed(coverage.Grid{Along: 1, Down: mm(x)}.Certain()) }},
		{"coverage.Chance", "flaw", func(x float64) error { return failed(coverage.Chance(square, tap, mm(x), 100, 1)) }},
		{"coverage.Chance", "windows[0][0]", func(x float64) error {
			return failed(coverage.Chance(square, []coverage.Window{{At: coverage.Point{Along: mm(x)}}}, 9, 100, 1))
		}},
		{"coverage.Chance", "region[0][0]", func(x float64) error {
			return failed(coverage.Chance(coverage.Outline{{Along: mm(x)}, {Along: 9}, {Down: 9}}, tap, 9, 100, 1))
		}},
		{"coverage.Smallest", "chance", func(x float64) error { return failed(coverage.Smallest(square, tap, x, 100, 1)) }},
		{"coverage.None", "area", func(x float64) error { return failed(coverage.None(x, 0.95)) }},
		{"coverage.None", "level", func(x float64) error { return failed(coverage.None(1, x)) }},
		{"coverage.Density", "area", func(x float64) error { return failed(coverage.Density(3, x, 0.95)) }},
		{"coverage.Density", "level", func(x float64) error { return failed(coverage.Density(3, 1, x)) }},
		{"coverage.Proportion", "level", func(x float64) error { return failed(coverage.Proportion(3, 9, x)) }},
		{"coverage.Compare", "area", func(x float64) error { return failed(coverage.Compare(3, 1, 4, x, 0.95)) }},
		{"coverage.Compare", "level", func(x float64) error { return failed(coverage.Compare(3, 1, 4, 1, x)) }},
		{"coverage.Classify", "diameters[1]", func(x float64) error {
			return failed(coverage.Classify([]mm{3, mm(x)}, 1, coverage.StartingPictures()))
		}},
		{"coverage.Classify", "area", func(x float64) error { return failed(coverage.Classify(nil, x, coverage.StartingPictures())) }},
		{"coverage.Classify", "p.Size", func(x float64) error {
			p := coverage.StartingPictures()
			p.Size[3] = mm(x)
			return failed(coverage.Classify(nil, 1, p))
		}},
		{"coverage.Classify", "p.Quantity", func(x float64) error {
			p := coverage.StartingPictures()
			p.Quantity[2] = x
			return failed(coverage.Classify(nil, 1, p))
		}},
	}
}

func otherRefusals() []refusal {
	patch := func(alter func(*salt.Patch)) error {
		p := salt.Patch{Volume: 3, Area: salt.PatchArea, Rise: 14}
		alter(&p)
		return failed(salt.MassPerArea(p))
	}
	shares := func(x float64) error {
		s := due.Defaults()
		s.AshoreShare = x
		return failed(due.Work(due.Hull{Visited: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)}, s))
	}
	grid := simulate.Dimensions{Waterline: 8000, Girth: 1500, Every: 1000, Row: 400, DryAt: 300}
	return append([]refusal{
		{"salt.MassPerArea", "p.Volume", func(x float64) error { return patch(func(p *salt.Patch) { p.Volume = x }) }},
		{"salt.MassPerArea", "p.Area", func(x float64) error { return patch(func(p *salt.Patch) { p.Area = x }) }},
		{"salt.MassPerArea", "p.Rise", func(x float64) error { return patch(func(p *salt.Patch) { p.Rise = x }) }},
		{"salt.MassPerArea", "p.VolumeOff", func(x float64) error { return patch(func(p *salt.Patch) { p.VolumeOff = x }) }},
		{"salt.MassPerArea", "p.RiseOff", func(x float64) error { return patch(func(p *salt.Patch) { p.RiseOff = x }) }},
		{"timber.Equilibrium", "t", func(x float64) error { return failed(timber.Equilibrium(unit.Celsius(x), 50)) }},
		{"timber.Equilibrium", "h", func(x float64) error { return failed(timber.Equilibrium(20, unit.Humidity(x))) }},
		{"timber.Judge", "p.Reading", func(x float64) error { return failed3(timber.Judge(timber.Pins{Reading: timber.Percent(x)})) }},
		{"timber.Judge", "p.At", func(x float64) error { return failed3(timber.Judge(timber.Pins{At: unit.Celsius(x)})) }},
		{"timber.Judge", "p.CalibratedAt", func(x float64) error { return failed3(timber.Judge(timber.Pins{CalibratedAt: unit.Celsius(x)})) }},
		{"due.Work", "AshoreShare", shares},
		{"simulate.Grid", "Waterline", func(x float64) error {
			d := grid
			d.Waterline = unit.Millimetres(x)
			return failed(simulate.Grid(d))
		}},
	}, simulateRefusals(grid)...)
}

func simulateRefusals(grid simulate.Dimensions) []refusal {
	read := func(alter func(*simulate.Hull, *simulate.Pass)) error {
		places, err := simulate.Grid(grid)
		if err != nil {
			return err
		}
		begins := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)
		h := simulate.Hull{
			Places:  places,
			Regions: []simulate.Region{{Over: simulate.Everywhere(), Wall: simulate.Laminate(8)}},
			Begins:  begins,
			Spells:  []simulate.Spell{{Until: begins.AddDate(0, 0, 2), Shelter: &simulate.Shelter{At: 18, Air: 60}}},
			Climate: simulate.Skerrow(),
			Causes:  []simulate.Cause{simulate.ConductiveCoating(simulate.Everywhere(), 20)},
		}
		p := simulate.Pass{At: begins.AddDate(0, 0, 1), Instrument: simulate.DeepSensing("deep"), Placements: 1}
		alter(&h, &p)
		return failed(simulate.Read(h, []simulate.Pass{p}))
	}
	var all []refusal
	for argument, set := range map[string]func(h *simulate.Hull, p *simulate.Pass, x float64){
		"Start":                func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Start = x },
		"Places[3][0]":         func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Places[3].Along = unit.Millimetres(x) },
		"Texture[0]":           func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Texture.SD = x },
		"Climate[0]":           func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Climate.Mean = unit.Celsius(x) },
		"Causes[0][3]":         func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Causes[0].Strength = x },
		"Spells[0].Peel":       func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Spells[0].Peel = unit.Millimetres(x) },
		"Pass[0]":              func(_ *simulate.Hull, p *simulate.Pass, x float64) { p.Zero = x },
		"Pass[6]":              func(_ *simulate.Hull, p *simulate.Pass, x float64) { p.Hand.Relocation = unit.Millimetres(x) },
		"Instrument[1]":        func(_ *simulate.Hull, p *simulate.Pass, x float64) { p.Instrument.Full = x },
		"Instrument.Depth":     func(_ *simulate.Hull, p *simulate.Pass, x float64) { p.Instrument.Depth = unit.Millimetres(x) },
		"Spells[0].Shelter[1]": func(h *simulate.Hull, _ *simulate.Pass, x float64) { h.Spells[0].Shelter.Air = unit.Humidity(x) },
	} {
		all = append(all, refusal{"simulate.Read", argument, func(x float64) error {
			return read(func(h *simulate.Hull, p *simulate.Pass) { set(h, p, x) })
		}})
	}
	return all
}
