package graph

import (
	"context"
	"time"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Visit, func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Visit, error) {
	return r.visit(ctx, id, "")
})

// visit reads a visit with the parts that the selection asks for; under is the path
// from the current field down to it, with its dot.
func (r *Resolver) visit(ctx context.Context, id uuid.UUID, under string) (model.Visit, error) {
	asked := func(part string) bool { return graphql.FieldRequested(ctx, under+part) }
	v, err := r.Practice.Visit(ctx, auth.Actor(ctx), id, practice.VisitParts{
		Spell: asked("spell"), Conditions: asked("conditions"), Passes: asked("passes"), Findings: asked("findings"),
		Windows: asked("windows"), Photos: asked("photos"), Invited: asked("invited"), Marks: asked("marks"),
	})
	if err != nil {
		return model.Visit{}, err
	}
	return visitModel(v, time.Now()), nil
}

func visitModel(v practice.VisitPage, now time.Time) model.Visit {
	m := model.Visit{
		ID: wire.New(wire.Visit, v.ID), Kind: v.Kind, From: wire.At(v.From), To: wire.At(v.To), TimeZone: v.TimeZone, State: v.State,
		DatePrecision: v.Known, DateAsWritten: v.AsWritten, DaysAshoreAsWritten: v.Ashore,
		Lead: maybeMember(v.Lead), DaysAshore: daysAshore(v.VisitLine), AshoreBetween: ashoreModel(v.AshoreRange()), Note: v.Note, Job: jobLine(v.Job, now), Vessel: vesselLine(v.Vessel, now),
		Version: v.Version,
	}
	if v.Spell != nil {
		spell := spellModel(*v.Spell, now)
		m.Spell = &spell
	}
	for _, c := range v.Conditions {
		m.Conditions = append(m.Conditions, conditionModel(c))
	}
	for _, p := range v.Passes {
		m.Passes = append(m.Passes, passModel(p))
	}
	for _, f := range v.Findings {
		m.Findings = append(m.Findings, findingModel(f))
	}
	for _, w := range v.Windows {
		m.Windows = append(m.Windows, windowModel(w))
	}
	m.Photos = photoModels(v.Photos)
	m.Marks = each(v.Marks, func(h practice.HullMarks) model.HullMarks {
		return model.HullMarks{ID: wire.New(wire.HullMarks, h.ID), MadeWith: h.MadeWith, Where: h.Where, MadeAt: wire.At(h.MadeAt), RemovedAt: wire.MaybeAt(h.RemovedAt)}
	})
	m.Invited = each(v.Invited, func(i practice.Invited) model.VisitInvited {
		return model.VisitInvited{Name: i.Name, Email: i.Email, SentAt: wire.At(i.SentAt), CalledOff: i.Called}
	})
	return m
}

func conditionModel(c practice.Condition) model.Condition {
	return model.Condition{
		ID: wire.New(wire.Condition, c.ID), At: wire.At(c.At), AirDecidegrees: long(c.AirDecidegrees), HumidityPermille: long(c.HumidityPermille),
		SkinPortDecidegrees: long(c.SkinPortDecidegrees), SkinStarboardDecidegrees: long(c.SkinStarboardDecidegrees),
		InsideHumidityPermille: long(c.InsideHumidityPermille), Sun: c.Sun, Wind: c.Wind, RainLast72h: c.RainLast72h, TankLevel: c.TankLevel,
		BilgeLevel: c.BilgeLevel, Indoors: c.Indoors, Heating: c.Heating, Note: c.Note, DewPointDecidegrees: c.DewPointDecidegrees,
		Advice: warningModels(c.Advice),
	}
}

// unlessInstant leaves out what is said of a date known to the instant, as devices did
// before a date could be known less well: a change sent again is the same change.
func unlessInstant(precision string) string {
	if precision == "instant" {
		return ""
	}
	return precision
}
