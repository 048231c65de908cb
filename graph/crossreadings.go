package graph

import (
	"slices"

	"boottop.example/practice/domain/measure/beside"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func crossModel(f practice.CrossFit) model.CrossReadings {
	return model.CrossReadings{
		ID: wire.New(wire.CrossReadings, f.ID), First: scaleOfModel(f.FirstOf, f.CrossReadings.FirstScale), Second: scaleOfModel(f.SecondOf, f.CrossReadings.SecondScale),
		MadeOn: wire.Day(f.MadeOn), Note: f.Note, EffectTenths: f.EffectTenths, FirstTenths: f.First, SecondTenths: f.Second,
		Comparable: f.Comparable(), Needed: beside.Least, Line: crossLineModel(f), Says: each(f.Says, saidModel),
		Band: each(f.Band, func(p practice.BandPoint) model.BandPoint {
			return model.BandPoint{At: p.At, Value: p.Value, Lower: p.Lower, Upper: p.Upper, Comparable: p.Comparable}
		}),
		Replacement: replacementModel(wire.CrossReadings, f.Replacement),
	}
}

func scaleOfModel(i practice.Instrument, scale [16]byte) model.ScaleOf {
	n := slices.IndexFunc(i.Scales, func(s practice.Scale) bool { return s.ID == scale })
	return model.ScaleOf{Instrument: instrumentLine(i), Scale: scaleModel(i.Scales[n])}
}

func crossLineModel(f practice.CrossFit) *model.CrossLine {
	if f.Fit == nil {
		return nil
	}
	l := f.Fit.Fit
	return &model.CrossLine{
		Intercept: l.Intercept.Value, InterceptLower: l.Intercept.Lower, InterceptUpper: l.Intercept.Upper,
		Slope: l.Slope.Value, SlopeLower: l.Slope.Lower, SlopeUpper: l.Slope.Upper, ErrorRatio: l.Ratio, RatioMeasured: f.RatioMeasured, Notes: each(f.Fit.Notes, noteModel),
	}
}
