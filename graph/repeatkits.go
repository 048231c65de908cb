package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) book(ctx context.Context, instrument uuid.UUID) (model.InstrumentBook, error) {
	b, err := r.Practice.InstrumentBook(ctx, auth.Actor(ctx), instrument)
	if err != nil {
		return model.InstrumentBook{}, err
	}
	return model.InstrumentBook{
		Instrument: instrumentModel(b.Instrument), Precisions: each(b.Precisions, precisionModel), Charts: each(b.Charts, chartModel),
		Kits: each(b.Kits, kitModel), Comparisons: each(b.Sets, crossModel), Aid: saidModel(b.Aid),
	}, nil
}

// each maps a list; an empty one stays a list.
func each[From, To any](list []From, as func(From) To) []To {
	out := make([]To, len(list))
	for k, x := range list {
		out[k] = as(x)
	}
	return out
}

func measuringModel(m practice.Measuring) *model.Measuring {
	return &model.Measuring{
		Scales: each(m.Scales, precisionModel), Aid: saidModel(m.Aid),
		Pairs: each(m.Pairs, func(p practice.PairMeasured) model.PairMeasured {
			return model.PairMeasured{First: instrumentLine(p.First), Second: instrumentLine(p.Second), Places: int32(p.Places), Needed: int32(p.Needed)}
		}),
	}
}

func instrumentLine(i practice.Instrument) model.InstrumentLine {
	return model.InstrumentLine{ID: wire.New(wire.Instrument, i.ID), Name: i.Name, Sensing: i.Sensing}
}

func saidModel(s report.Sentence) model.MeasuringSentence {
	return model.MeasuringSentence{Claim: string(s.Claim), Text: s.Text()}
}

func precisionModel(p practice.Precision) model.Precision {
	m := model.Precision{
		Instrument: instrumentLine(p.Instrument), Scale: scaleModel(p.Scale), Kits: int32(p.Kits),
		Replacements: int32(p.Repeatability.DF), Enough: p.Enough(), Reproducibility: measuredModel(p.Reproducibility),
		People: int32(p.People), Spots: int32(p.Spots), MostSpots: int32(p.MostSpots), MostRepeats: int32(p.MostRepeats), MostPeople: int32(p.MostPeople),
		Own: each(p.Own, func(o practice.OwnPrecision) model.OwnPrecision {
			return model.OwnPrecision{Member: memberLine(o.Member), Repeatability: measuredModel(o.Repeatability), Kits: int32(o.Kits), Says: saidModel(o.Says)}
		}),
		Says: each(p.Says, saidModel),
	}
	if !p.Withheld {
		m.Repeatability = measuredModel(p.Repeatability)
	}
	return m
}

func measuredModel(d repeat.Deviation) *model.MeasuredScatter {
	if !d.Measured() {
		return nil
	}
	return &model.MeasuredScatter{Value: d.S, Lower: d.Estimate.Lower, Upper: d.Estimate.Upper, DegreesOfFreedom: int32(d.DF), Notes: each(d.Estimate.Notes, noteModel)}
}

func noteModel(n measure.Note) model.Warning { return model.Warning{Code: n.Code, Text: n.Text} }

func kitModel(k practice.RepeatKit) model.RepeatKit {
	return model.RepeatKit{
		ID: wire.New(wire.RepeatKit, k.ID), Scale: wire.New(wire.Scale, k.Scale), MadeOn: wire.Day(k.MadeOn), Note: k.Note, Spots: k.Spots, Repeats: k.Repeats,
		Hands: each(k.Hands, func(h practice.KitHand) model.KitHand {
			return model.KitHand{Member: memberLine(h.Member), Tenths: h.Tenths}
		}),
		Replacement: replacementModel(wire.RepeatKit, k.Replacement),
	}
}

func replacementModel(kind wire.Kind, r practice.Replacement) model.Replacement {
	return model.Replacement{
		RecordedBy: maybeMember(r.RecordedBy), RecordedAt: wire.At(r.RecordedAt), Replaces: wire.Maybe(kind, r.Replaces), Because: r.Because,
		ReplacedBy: wire.Maybe(kind, r.ReplacedBy), ReplacedBecause: r.ReplacedBecause,
	}
}

func chartModel(b practice.BlockChart) model.BlockChart {
	m := model.BlockChart{Scale: wire.New(wire.Scale, b.Scale), Block: b.Block, Settled: int32(b.Settled), Mean: b.Mean, Says: each(b.Says, saidModel)}
	m.Points = each(b.Points, func(p practice.BlockPoint) model.BlockPoint {
		return model.BlockPoint{
			Pass: wire.New(wire.Pass, p.Pass), At: wire.At(p.At), Value: p.Value, Checks: int32(p.Checks), Out: p.Out,
			Weighted: p.Weighted, Drifting: p.Drifting, Shift: p.Shift, Moved: p.Moved,
		}
	})
	if b.Settled > 0 {
		m.Lower, m.Upper = b.Points[0].Lower, b.Points[0].Upper
	}
	return m
}
