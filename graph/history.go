package graph

import (
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func historyModel(h practice.History) model.History {
	m := model.History{Seq: int32(h.Seq), Axis: axisModel(h.Axis), Passes: make([]model.HistoryPass, len(h.Passes)), Components: componentModels(h.Components), Ahead: outlookModel(h.Ahead), Course: courseModel(h.Course), LeftOut: int32(h.LeftOut)}
	for k, p := range h.Passes {
		m.Passes[k] = historyPassModel(p, len(h.Axis.IDs))
	}
	return m
}

func axisModel(a practice.Axis) model.Axis {
	return model.Axis{
		Ids: wire.Of(wire.Place, a.IDs), Labels: orNone(a.Labels), Elements: wire.Of(wire.Element, a.Elements), Sides: orNone(a.Sides),
		Stations: orNone(a.Stations), Rows: orNone(a.Rows), Along: orNone(a.Along), Down: orNone(a.Down),
		PositionError: orNone(a.Errors), Mirrors: orNone(a.Mirrors()),
	}
}

func historyPassModel(p practice.HistoryPass, n int) model.HistoryPass {
	m := model.HistoryPass{
		ID: wire.New(wire.Pass, p.ID), Visit: wire.New(wire.Visit, p.VisitID), VisitKind: p.VisitKind, Job: wire.New(wire.Job, p.JobID),
		JobNumber: p.JobNumber, Cite: p.Cite, Tellable: p.Told, At: wire.At(p.BeganAt), On: wire.Day(inZone(p.BeganAt, p.TimeZone)),
		DaysAshoreAsWritten: p.DaysAshoreAsWritten, DatePrecision: p.VisitPrecision, DateAsWritten: p.VisitAsWritten, Hand: p.HandName, Instrument: instrumentOf(p.PassContext),
		InstrumentAsWritten: p.InstrumentAsWritten, Scale: scaleOf(p.PassContext), Face: p.Face, Surface: p.Surface, DrySurface: p.DrySurface,
		Plan: wire.New(wire.Plan, p.PlanID), State: p.State, Source: p.Source,
		AirDecidegrees: long(p.AirDecidegrees), HumidityPermille: long(p.HumidityPermille), SkinDecidegrees: colder(p.SkinPortDecidegrees, p.SkinStarboardDecidegrees),
		BlockChecks: blockCheckModels(p.BlockChecks), Missing: warningModels(p.Missing),
		Standing: model.Standing(p.Standing), StandingReason: p.Because, Baseline: baselineModel(p),
		Values: full(p.Taken, n), Contrasts: wire.Column(p.Contrasts), Flags: full(p.Flags, n),
		Gate: gateModel(p.Gate), StandingReasons: warningModels(p.Reasons), Lost: warningModels(p.Lost), Lowered: loweredModel(p.Lowered),
		PlanVersion: p.Plan.PlanVersion, DryChangeReason: p.Plan.DryChangeReason, NotSeen: notSeenModel(p.NotSeen),
		LostContext: warningModels(p.LostContext),
	}
	if x := p.Matched; x != nil {
		m.Matched = matchedModel(x)
	}
	if m.Hand == "" {
		m.Hand = p.HandAsWritten
	}
	m.AshoreBetween = ashoreModel(p.Ashore())
	if days, hours, ok := p.DaysAshore(); ok {
		d := int32(days)
		m.DaysAshore = &d
		if h := int32(hours); h < 72 {
			m.HoursAshore = &h
		}
	}
	return m
}

// full lengthens a column to the axis: places added later were not read then.
func full(c practice.Column, n int) wire.Column {
	if c != nil && len(c) >= n {
		return wire.Column(c)
	}
	out := make(wire.Column, n)
	for k := copy(out, c); k < n; k++ {
		out[k] = wire.Null
	}
	return out
}

func baselineModel(p practice.HistoryPass) model.Baseline {
	b := model.Baseline{Count: int32(p.Baseline.N), Reasons: []model.Warning{}}
	for _, r := range p.Baseline.Reasons {
		b.Reasons = append(b.Reasons, model.Warning{Code: r.Why.String(), Text: r.Sentence()})
	}
	if p.Quoted {
		b.Reasons = append(b.Reasons, model.Warning{Code: "quoted", Text: "Quoted from an old report: shown, never computed with."})
	}
	if p.Baseline.Valid() {
		median := int32(p.Baseline.Median.Low)
		b.MedianFortieths = &median
	}
	if p.Baseline.N > 0 {
		b.Scatter = &p.Baseline.Scatter
	}
	return b
}

func instrumentOf(p practice.PassContext) *model.InstrumentLine {
	if p.InstrumentID == nil {
		return nil
	}
	return &model.InstrumentLine{ID: wire.New(wire.Instrument, *p.InstrumentID), Name: p.InstrumentName, Sensing: p.Sensing}
}

func scaleOf(p practice.PassContext) *model.Scale {
	if p.ScaleID == nil {
		return nil
	}
	return &model.Scale{
		ID: wire.New(wire.Scale, *p.ScaleID), Name: p.ScaleName, Mode: p.ScaleMode, LowTenths: p.LowTenths, HighTenths: p.HighTenths,
		StepTenths: p.StepTenths, TimberPercent: p.TimberPercent,
	}
}

// handLine names the hand; its roles of today say nothing about the pass and stay out.
func handLine(p practice.PassContext) *model.MemberLine {
	if p.HandID == nil {
		return nil
	}
	return &model.MemberLine{ID: wire.New(wire.Member, *p.HandID), Name: p.HandName, Roles: []model.Role{}, Active: true}
}

func blockCheckModels(list []practice.BlockCheck) []model.BlockCheck {
	out := make([]model.BlockCheck, len(list))
	for k, c := range list {
		out[k] = model.BlockCheck{ID: wire.New(wire.BlockCheck, c.ID), Block: c.Block, Moment: c.Moment, ValueTenths: c.ValueTenths, At: wire.At(c.At)}
	}
	return out
}

func warningModels(list []practice.Warning) []model.Warning {
	out := make([]model.Warning, len(list))
	for k, w := range list {
		out[k] = model.Warning{Code: w.Code, Text: w.Text}
	}
	return out
}

// colder gives the lower of two temperatures of which either may be unknown.
func colder(a, b *int16) *int32 {
	switch {
	case a == nil:
		return long(b)
	case b == nil || *a < *b:
		return long(a)
	default:
		return long(b)
	}
}

// inZone puts an instant into a zone; UTC where the zone is not known here.
func inZone(t time.Time, zone string) time.Time {
	return t.In(practice.Zone(zone))
}

// matchedModel gives the pairs of places as columns.
func matchedModel(x *practice.Matched) *model.MatchedPlaces {
	m := &model.MatchedPlaces{Comparable: int32(x.Comparable), Of: int32(x.Of), WithinMm: x.WithinMm, Ambiguous: int32(x.Ambiguous)}
	m.Places, m.Held = make(wire.Column, len(x.Pairs)), make(wire.Column, len(x.Pairs))
	m.ApartMm, m.Unsure = make(wire.Column, len(x.Pairs)), make(wire.Column, len(x.Pairs))
	for k, p := range x.Pairs {
		m.Places[k], m.Held[k], m.ApartMm[k] = int32(p.Place+1), int32(p.Held+1), p.ApartMm
		if p.Ambiguous {
			m.Unsure[k] = 1
		}
	}
	return m
}
