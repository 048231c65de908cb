package graph

import (
	"context"
	"time"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func boardModel(d practice.Diary, now time.Time) model.Board {
	each := func(v practice.DiaryVisit, _ time.Time) model.BoardVisit { return boardVisit(v) }
	m := model.Board{
		From: wire.At(d.From), To: wire.At(d.To), TimeZone: d.Practice.TimeZone, Visits: lines(d.Visits, now, each), Unplaced: lines(d.Unplaced, now, jobLine),
		Spells:    lines(d.Spells, now, func(s practice.DiarySpell, _ time.Time) model.BoardSpell { return boardSpell(s) }),
		Surveyors: make([]model.BoardMember, len(d.Members)), Leaves: make([]model.Leave, len(d.Leaves)),
		Yards: make([]model.BoardYard, len(d.Yards)), Instruments: make([]model.BoardInstrument, len(d.Instruments)),
	}
	m.Moves, m.Weather = madeMoves(d.Moves), weatherModels(d.Weather)
	m.Tides = tideModels(d.Tides)
	for k, x := range d.Members {
		m.Surveyors[k] = model.BoardMember{Member: memberLine(x.MemberLine), Kinds: orNone(x.Kinds)}
	}
	for k, l := range d.Leaves {
		m.Leaves[k] = leaveModel(l)
	}
	for k, y := range d.Yards {
		m.Yards[k] = boardYard(y)
	}
	for k, i := range d.Instruments {
		m.Instruments[k] = boardInstrument(i)
	}
	return m
}

func boardYard(y practice.DiaryYard) model.BoardYard {
	return model.BoardYard{
		Yard: partyLine(y.PartyLine), Phone: y.Phone, TimeZone: y.TimeZone, LiftHours: y.LiftHours, Rules: y.Rules, TidePlace: y.TidePlace, TideWithinMinutes: y.TideWithinMinutes,
	}
}

func boardInstrument(i practice.DiaryInstrument) model.BoardInstrument {
	return model.BoardInstrument{ID: wire.New(wire.Instrument, i.ID), Name: i.Name, Sensing: i.Sensing, RetiredOn: wire.MaybeDay(i.RetiredOn)}
}

func tideModels(list []practice.Tide) []model.Tide {
	out := make([]model.Tide, len(list))
	for k, t := range list {
		out[k] = model.Tide{Place: t.Place, HighAt: wire.At(t.HighAt), HeightMm: t.HeightMm, Source: t.Source}
	}
	return out
}

func weatherModels(list []practice.Weather) []model.WeatherRecord {
	out := make([]model.WeatherRecord, len(list))
	for k, w := range list {
		out[k] = model.WeatherRecord{Place: w.Place, At: wire.At(w.At), AirDecidegrees: long(w.AirDecidegrees), HumidityPermille: long(w.HumidityPermille), RainMm: long(w.RainMm), Source: w.Source}
	}
	return out
}

func fitModel(f practice.Fit) model.Fit {
	m := model.Fit{
		Hard: checkModels(f.Hard), Soft: checkModels(f.Soft), Surveyors: make([]model.SurveyorFit, len(f.Surveyors)), Instruments: make([]model.InstrumentFit, len(f.Instruments)),
	}
	for k, s := range f.Surveyors {
		m.Surveyors[k] = model.SurveyorFit{Member: memberLine(s.Member), Hard: checkModels(s.Hard), Soft: checkModels(s.Soft), Thoughts: checkModels(s.Thoughts)}
	}
	for k, i := range f.Instruments {
		m.Instruments[k] = model.InstrumentFit{Instrument: boardInstrument(i.Instrument), Hard: checkModels(i.Hard), Soft: checkModels(i.Soft), LastTime: i.LastTime}
	}
	return m
}

func haulOutModel(h practice.HaulOut, now time.Time) model.HaulOut {
	m := model.HaulOut{
		Spell: spellModel(h.Spell, now), Slot: boardSpell(h.Slot), Tides: tideModels(h.Tides), Moves: madeMoves(h.Moves),
		Visits: lines(h.Visits, now, func(v practice.DiaryVisit, _ time.Time) model.BoardVisit { return boardVisit(v) }),
	}
	if h.Yard != nil {
		y := boardYard(*h.Yard)
		m.Yard = &y
	}
	return m
}

func leaveModel(l practice.Leave) model.Leave {
	return model.Leave{ID: wire.New(wire.Leave, l.ID), Member: wire.New(wire.Member, l.MemberID), From: wire.At(l.From), To: wire.At(l.To), Reason: l.Reason}
}

func boardVisit(v practice.DiaryVisit) model.BoardVisit {
	return model.BoardVisit{
		ID: wire.New(wire.Visit, v.ID), Open: v.Open, Kind: v.Kind, From: wire.At(v.From), To: wire.At(v.To), TimeZone: v.TimeZone, State: v.State,
		Lead: wire.Maybe(wire.Member, v.LeadID), People: idList(wire.Member, v.People), Instruments: idList(wire.Instrument, v.Instruments),
		Spell: wire.Maybe(wire.Spell, v.SpellID), Follows: wire.Maybe(wire.Visit, v.FollowsID), Job: wire.Maybe(wire.Job, known(v.JobID)), JobNumber: v.JobNumber,
		JobKind: v.JobKind, Vessel: wire.Maybe(wire.Vessel, known(v.VesselID)), VesselName: v.VesselName, Checks: checkModels(v.Checks), Version: v.Version,
	}
}

// known gives nil for an id that is not set.
func known(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}

func idList(kind domain.Thing, ids []uuid.UUID) []wire.ID {
	out := make([]wire.ID, len(ids))
	for k, id := range ids {
		out[k] = wire.New(kind, id)
	}
	return out
}

// idsAs reads a list of ids of one kind; nil where it was left out.
func idsAs(kind domain.Thing, ids []wire.ID) []uuid.UUID {
	if ids == nil {
		return nil
	}
	out := make([]uuid.UUID, len(ids))
	for k, id := range ids {
		out[k] = id.As(kind)
	}
	return out
}

// maybeIDsAs tells a list that was left out from an empty one.
func maybeIDsAs(kind domain.Thing, ids []wire.ID) *[]uuid.UUID {
	if ids == nil {
		return nil
	}
	out := idsAs(kind, ids)
	return &out
}

func checkModels(list []practice.Check) []model.Check {
	out := make([]model.Check, len(list))
	for k, c := range list {
		out[k] = model.Check(c)
	}
	return out
}

func boardSpell(s practice.DiarySpell) model.BoardSpell {
	return model.BoardSpell{
		ID: wire.New(wire.Spell, s.ID), Vessel: wire.New(wire.Vessel, s.VesselID), VesselName: s.VesselName, LoaMm: s.LoaMm, Yard: wire.Maybe(wire.Party, s.YardID),
		TimeZone: s.TimeZone, PlannedLift: wire.MaybeAt(s.PlannedLift), PlannedLaunch: wire.MaybeAt(s.PlannedLaunch), ActualLift: wire.MaybeAt(s.ActualLift),
		ActualLaunch: wire.MaybeAt(s.ActualLaunch), AskedOnly: s.AskedOnly, Held: s.Held, UnderCover: s.UnderCover, DatePrecision: s.DatePrecision,
		WashAt: wire.MaybeAt(s.WashAt), ChockAt: wire.MaybeAt(s.ChockAt), ShiftAt: wire.MaybeAt(s.ShiftAt), Pays: s.Pays, Told: s.Told, WashedAt: wire.MaybeAt(s.WashedAt), Version: s.Version,
	}
}

// checks are what stands against a visit, where the selection asks for them.
func (r *Resolver) checks(ctx context.Context, visit uuid.UUID) ([]model.Check, error) {
	if !graphql.FieldRequested(ctx, "checks") {
		return []model.Check{}, nil
	}
	list, err := r.Practice.VisitChecks(ctx, auth.Actor(ctx), visit)
	return checkModels(list), err
}

func proposalsModel(p practice.Proposals) model.Proposals {
	m := model.Proposals{Needs: orNone(p.Needs), Visits: make([]model.ProposedVisit, len(p.Visits))}
	if p.Spell != nil {
		s := boardSpell(*p.Spell)
		m.Spell = &s
	}
	for k, v := range p.Visits {
		m.Visits[k] = model.ProposedVisit{
			Line: v.Line, Declined: declinedModel(v.Declined), Kind: v.Kind, From: wire.At(v.From), To: wire.At(v.To), TimeZone: v.TimeZone, Hours: int32(v.Hours), Follows: v.Follows, Reason: v.Reason,
			Figures: orNone(v.Figures), Tag: v.Tag, Conflict: v.Conflict, Visit: wire.Maybe(wire.Visit, v.Visit),
		}
	}
	return m
}

func declinedModel(d *practice.DeclinedVisit) *model.DeclinedVisit {
	if d == nil {
		return nil
	}
	return &model.DeclinedVisit{ID: wire.New(wire.Declined, d.ID), Reason: d.Reason, By: d.ByName, At: wire.At(d.At)}
}

func figureModel(f practice.DiaryFigure) model.DiaryFigure {
	m := model.DiaryFigure{
		Code: f.Code, Group: f.Group, What: f.What, Unit: f.Unit, Window: f.Window, TradeBounds: boundsOf(f.Window, f.First, f.Last), Trade: f.Trade, Reason: f.Reason, Tag: f.Tag, Now: f.Now,
		Own: f.Own != nil, Said: each(f.Said, func(o practice.OwnFigure) model.FigureSaid {
			return model.FigureSaid{ID: wire.New(wire.Figure, o.ID), Words: f.Words(o), Reason: o.Reason, By: o.By, At: wire.At(o.At)}
		}),
	}
	m.Bounds = m.TradeBounds
	if f.Own != nil {
		m.Bounds = boundsOf(f.Window, f.Own.Bounds[0], f.Own.Bounds[len(f.Own.Bounds)-1])
	}
	if len(f.Said) > 0 {
		m.Was = &m.Said[0].ID
	}
	return m
}

func boundsOf(window bool, first, last int) []int32 {
	if !window {
		return []int32{int32(last)}
	}
	return []int32{int32(first), int32(last)}
}

func competenceModel(c practice.MemberCompetence) model.MemberCompetence {
	return model.MemberCompetence{
		Member: memberLine(c.Member),
		Kinds: each(c.Kinds, func(k practice.Competence) model.Competence {
			return model.Competence{Kind: k.Kind, JudgedOn: wire.MaybeDay(k.JudgedOn), JudgedBy: k.JudgedBy, Grounds: k.Grounds}
		}),
		Judgements: each(c.Judgements, func(j practice.Judgement) model.CompetenceJudgement {
			return model.CompetenceJudgement{
				ID: wire.New(wire.Competence, j.ID), Kind: j.Kind, Competent: j.Competent, JudgedOn: wire.Day(j.JudgedOn), JudgedBy: j.JudgedBy, Grounds: j.Grounds, At: wire.At(j.At),
			}
		}),
	}
}

// proposals are the visits that a job needs.
func (r *Resolver) proposals(ctx context.Context, job uuid.UUID) (model.Proposals, error) {
	p, err := r.Practice.ProposeVisits(ctx, auth.Actor(ctx), job)
	return proposalsModel(p), err
}

func overrides(list []model.OverrideInput) []practice.Override {
	var out []practice.Override
	for _, o := range list {
		out = append(out, practice.Override(o))
	}
	return out
}
