package graph

import (
	"context"
	"math"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/due"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Reinspection, (*Resolver).reinspection)

func (r *Resolver) reinspection(ctx context.Context, id uuid.UUID) (model.Reinspection, error) {
	one, err := r.Practice.Reinspection(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Reinspection{}, err
	}
	return reinspectionModel(one, time.Now()), nil
}

func reinspectionModel(r practice.Reinspection, now time.Time) model.Reinspection {
	m := model.Reinspection{
		ID: wire.New(wire.Reinspection, r.ID), Vessel: vesselLine(r.Vessel, now), DueFrom: wire.Day(r.DueFrom), DueTo: wire.Day(r.DueTo),
		Reason: r.Reason, Tag: r.Tag, Code: r.Code, Wants: r.Wants, WaitsFor: r.WaitsFor, DaysAshore: r.DaysAshore, Instrument: r.Instrument,
		State: r.State, StateReason: r.StateReason, SnoozedUntil: wire.MaybeDay(r.SnoozedUntil), MovedAt: wire.MaybeAt(r.MovedAt), MovedBy: r.MovedBy,
		RecalledAt: wire.MaybeAt(r.RecalledAt), RecalledTo: r.RecalledTo, BookedJob: wire.Maybe(wire.Job, r.BookedJob), BookedNumber: r.BookedNumber,
		AnsweredJob: wire.Maybe(wire.Job, r.AnsweredJob), AnsweredNumber: r.AnsweredNumber, Recommendation: wire.Maybe(wire.Recommendation, r.Recommendation),
		Grade: r.Grade, Recommended: r.Recommended, Version: r.Version,
	}
	if m.Wants == nil {
		m.Wants = []string{}
	}
	return m
}

func countsModel(c practice.ReinspectionCounts) model.ReinspectionCounts {
	return model.ReinspectionCounts{
		Due: int32(c.Due), Overdue: int32(c.Overdue), Later: int32(c.Later), Waiting: int32(c.Waiting), Booked: int32(c.Booked), Snoozed: int32(c.Snoozed),
		Declined: int32(c.Declined), Answered: int32(c.Answered),
	}
}

func (r *Resolver) reinspectionSettings(ctx context.Context) (model.ReinspectionSettings, error) {
	s, err := r.Practice.ReinspectionSettings(ctx, auth.Actor(ctx))
	if err != nil {
		return model.ReinspectionSettings{}, err
	}
	all := s.Due()
	m := model.ReinspectionSettings{
		OlderFrom: int32(all.OlderFrom), OlderFromTag: all.OlderFromTag, AshoreHundredths: int32(math.Round(100 * all.AshoreShare)), AshoreTag: all.AshoreShareTag,
		RecallMonthly: s.RecallMonthly, RecallAheadDays: s.AheadDays, RecallOpening: s.Opening, RecallClosing: s.Closing, Version: s.Version,
	}
	m.Changes = each(s.Changes(), func(c practice.RuleChange) model.RuleChange {
		return model.RuleChange{Rule: c.Rule, Words: c.Words, Reason: c.Reason, By: c.By, At: wire.At(c.At)}
	})
	for _, rule := range s.List() {
		m.Rules = append(m.Rules, model.ReinspectionRule{
			Kind: string(rule.Kind), Words: rule.Words, Reason: rule.Reason, Tag: rule.Tag, Own: rule.Own, Windows: windowModels(rule.Marks),
			Habit: windowModels(rule.Defaults), HabitTag: rule.Habit,
		})
	}
	return m, nil
}

func windowModels(marks []due.Mark) []model.ReinspectionWindow {
	out := make([]model.ReinspectionWindow, len(marks))
	for k, m := range marks {
		out[k] = model.ReinspectionWindow{FromMonths: int32(m.From.Months), FromDays: int32(m.From.Days), ToMonths: int32(m.To.Months), ToDays: int32(m.To.Days)}
	}
	return out
}

func editedRules(list []model.ReinspectionRuleInput) []practice.EditRule {
	out := make([]practice.EditRule, len(list))
	for k, r := range list {
		out[k].Kind = r.Kind
		for _, w := range r.Windows {
			out[k].Marks = append(out[k].Marks, due.Mark{From: due.Span{Months: int(w.FromMonths), Days: int(w.FromDays)}, To: due.Span{Months: int(w.ToMonths), Days: int(w.ToDays)}})
		}
	}
	return out
}

func recallModel(r practice.Recall) *model.Recall {
	m := &model.Recall{
		Vessel: wire.New(wire.Vessel, r.Vessel), Party: wire.New(wire.Party, r.Party), PartyName: r.PartyName, PartyEmail: r.PartyEmail,
		Reinspections: wire.IDColumn{}, LeftOut: int32(r.LeftOut), Subject: r.Subject, Body: r.Body,
	}
	for _, l := range r.Lines {
		m.Reinspections = append(m.Reinspections, wire.New(wire.Reinspection, l.ID))
	}
	return m
}
