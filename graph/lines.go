package graph

import (
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// lines turns a list into models; now decides who is ashore at this moment.
func lines[From, To any](list []From, now time.Time, as func(From, time.Time) To) []To {
	out := make([]To, len(list))
	for k, x := range list {
		out[k] = as(x, now)
	}
	return out
}

func partyLine(p practice.PartyLine) model.PartyLine {
	return model.PartyLine{ID: wire.New(wire.Party, p.ID), Name: p.Name, Kind: model.PartyKind(p.Kind), IsYard: p.IsYard}
}

func maybeParty(p *practice.PartyLine) *model.PartyLine {
	if p == nil {
		return nil
	}
	line := partyLine(*p)
	return &line
}

func maybeMember(m *practice.MemberLine) *model.MemberLine {
	if m == nil {
		return nil
	}
	line := memberLine(*m)
	return &line
}

func jobLine(j practice.JobLine, now time.Time) model.JobLine {
	return model.JobLine{
		ID: wire.New(wire.Job, j.ID), Number: j.Number, Kind: j.Kind, Stage: j.Stage, Vessel: vesselLine(j.Vessel, now), Client: maybeParty(j.Client),
		Lead: maybeMember(j.Lead), DueOn: wire.MaybeDay(j.DueOn), StandsBetween: j.StandsBetween, NextVisitAt: wire.MaybeAt(j.NextVisitAt),
	}
}

func visitLine(v practice.VisitLine, now time.Time) model.VisitLine {
	return model.VisitLine{
		ID: wire.New(wire.Visit, v.ID), Kind: v.Kind, From: wire.At(v.From), To: wire.At(v.To), TimeZone: v.TimeZone, State: v.State,
		DatePrecision: v.Known, DateAsWritten: v.AsWritten, DaysAshoreAsWritten: v.Ashore,
		Lead: maybeMember(v.Lead), Yard: v.Yard, DaysAshore: daysAshore(v), AshoreBetween: ashoreModel(v.AshoreRange()), Job: wire.New(wire.Job, v.JobID), JobNumber: v.JobNumber,
		Vessel: vesselLine(v.Vessel, now), Passes: passLines(v.Passes),
	}
}

func daysAshore(v practice.VisitLine) *int32 {
	if days, ok := v.DaysAshore(); ok {
		return &days
	}
	return nil
}

// ashoreModel gives days ashore that are known to a range alone.
func ashoreModel(a practice.Ashore, known bool) *model.AshoreBetween {
	if !known || a.Exact() {
		return nil
	}
	return &model.AshoreBetween{Least: int32(a.Least), Most: int32(a.Most)}
}

func passLines(passes []practice.PassLine) []model.PassLine {
	out := make([]model.PassLine, len(passes))
	for k, p := range passes {
		out[k] = model.PassLine{ID: wire.New(wire.Pass, p.ID), Instrument: p.Instrument, State: p.State, Read: p.Read, Planned: p.Planned}
	}
	return out
}

func reportLine(r practice.ReportLine, now time.Time) model.ReportLine {
	return model.ReportLine{
		ID: wire.New(wire.Report, r.ID), Number: r.Number, Title: r.Title, State: r.State, Job: wire.New(wire.Job, r.JobID), JobNumber: r.JobNumber,
		Vessel: vesselLine(r.Vessel, now), IssuedAt: wire.MaybeAt(r.IssuedAt),
	}
}
