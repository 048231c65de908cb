package graph

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/hullnumber"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Vessel, func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Vessel, error) {
	return r.vessel(ctx, id, "")
})

// vessel reads a vessel with the parts that the selection asks for; under names the
// field that she stands below, empty where the current field is she.
func (r *Resolver) vessel(ctx context.Context, id uuid.UUID, under string) (model.Vessel, error) {
	asked := func(part string) bool { return graphql.FieldRequested(ctx, under+part) }
	held, err := heldAgainst(ctx, strings.TrimSuffix(under, "."))
	if err != nil {
		return model.Vessel{}, err
	}
	page, err := r.Practice.Vessel(ctx, auth.Actor(ctx), id, practice.VesselParts{
		FormerNames: asked("formerNames"),
		Elements:    asked("elements"), Plans: asked("plans"), Events: asked("events"), Spells: asked("spells"), People: asked("people"),
		Jobs: asked("jobs"), Reports: asked("reports"), Recommendations: asked("recommendations"), Reinspections: asked("reinspections"),
		Photos: asked("photos"), History: asked("history"), Gate: gateAsked(asked),
	}, held)
	if err != nil {
		return model.Vessel{}, err
	}
	return vesselModel(page, time.Now()), nil
}

// gateAsked tells whether anything of a history is asked for that comparing passes takes.
func gateAsked(asked func(part string) bool) bool {
	return slices.ContainsFunc([]string{
		"history.ahead", "history.course", "history.passes.gate", "history.passes.notSeen", "history.passes.planVersion", "history.passes.dryChangeReason",
	}, asked)
}

// heldAgainst finds the argument of the history in the selection, which is read with the
// vessel. One answer holds one history: two held against different passes are refused.
func heldAgainst(ctx context.Context, under string) (*uuid.UUID, error) {
	op := graphql.GetOperationContext(ctx)
	fields := graphql.CollectFields(op, graphql.GetFieldContext(ctx).Field.Selections, nil)
	if under != "" {
		var below []graphql.CollectedField
		for _, f := range fields {
			if f.Name == under {
				below = append(below, graphql.CollectFields(op, f.Selections, nil)...)
			}
		}
		fields = below
	}
	var held *uuid.UUID
	histories := 0
	for _, f := range fields {
		if f.Name != "history" {
			continue
		}
		this, err := argumentOf(op, f)
		if err != nil {
			return nil, err
		}
		if histories++; histories > 1 && (held == nil) != (this == nil) || held != nil && this != nil && *held != *this {
			return nil, domain.Invalidf("against", "Ask for one history at a time, held against one pass.")
		}
		held = this
	}
	return held, nil
}

func argumentOf(op *graphql.OperationContext, f graphql.CollectedField) (*uuid.UUID, error) {
	raw, given := f.ArgumentMap(op.Variables)["against"]
	if !given || raw == nil {
		return nil, nil
	}
	var id wire.ID
	if err := id.UnmarshalGQL(raw); err != nil {
		return nil, domain.Invalidf("against", "This is no id of a pass.")
	}
	u := id.As(wire.Pass)
	return &u, nil
}

func vesselModel(p practice.VesselPage, now time.Time) model.Vessel {
	m := model.Vessel{
		ID: wire.New(wire.Vessel, p.ID), Name: p.Name, FormerNames: p.FormerNames, Kind: p.Kind, Builder: p.Builder, Model: p.Model,
		YardNumber: p.YardNumber, MouldedYear: long(p.MouldedYear), HullNumber: hullNumberModel(p.Vessel, now), Registry: p.Registry,
		OfficialNumber: p.OfficialNumber, SailNumber: p.SailNumber, LoaMm: p.LoaMm, HullLengthMm: p.HullLengthMm, LwlMm: p.LwlMm,
		BeamMm: p.BeamMm, DraughtMm: p.DraughtMm, DisplacementKg: p.DisplacementKg, UnderbodyAreaM2: p.UnderbodyAreaM2, Water: p.Water,
		MonthsAfloat: long(p.MonthsAfloat), Notes: p.Notes, Version: p.Version, History: historyModel(p.History),
		Elements: elementModels(p.Elements, p.Datums, p.Layers),
	}
	for _, plan := range p.Plans {
		m.Plans = append(m.Plans, planModel(plan))
	}
	for _, e := range p.Events {
		m.Events = append(m.Events, model.VesselEvent{
			ID: wire.New(wire.Event, e.ID), Kind: e.Kind, What: e.What, From: wire.Day(e.FromOn), To: wire.Day(e.ToOn), AsWritten: e.AsWritten, Source: e.Source,
		})
	}
	m.People = partyRoleModels(p.People, now)
	m.Spells, m.Jobs, m.Reports = lines(p.Spells, now, spellModel), lines(p.Jobs, now, jobLine), lines(p.Reports, now, reportLine)
	m.Photos = photoModels(p.Photos)
	for _, rec := range p.Recommendations {
		m.Recommendations = append(m.Recommendations, recommendationModel(rec, p.States))
	}
	for _, x := range p.Reinspections {
		m.Reinspections = append(m.Reinspections, reinspectionModel(x, now))
	}
	return m
}

func hullNumberModel(v practice.Vessel, now time.Time) *model.HullNumber {
	if v.HullNumberAsRead == "" {
		return nil
	}
	read := hullnumber.Read(v.HullNumberAsRead, now)
	m := &model.HullNumber{
		AsRead: v.HullNumberAsRead, WhereRead: v.HullNumberWhere, LooksAltered: v.HullNumberAltered, Layout: string(read.Layout),
		Warnings: []model.Warning{}, PossibleYears: []int32{}, MakerMayBeBuilder: read.Maker.MayNameBuilder,
	}
	for _, w := range append(read.Warnings, read.Notes...) {
		m.Warnings = append(m.Warnings, model.Warning{Code: w.Code, Text: w.Text})
	}
	for _, y := range read.Years {
		m.PossibleYears = append(m.PossibleYears, int32(y))
	}
	return m
}

func elementModels(elements []practice.Element, datums []practice.Datum, layers []practice.Layer) []model.Element {
	out := make([]model.Element, len(elements))
	for k, e := range elements {
		out[k] = elementModel(e, datums, layers)
	}
	return out
}

func elementModel(e practice.Element, datums []practice.Datum, layers []practice.Layer) model.Element {
	m := model.Element{
		ID: wire.New(wire.Element, e.ID), Kind: e.Kind, Name: e.Name, Figure: wire.JSON(e.Figure), BootTopMm: e.BootTopMm,
		Layers: []model.Layer{}, Version: e.Version,
	}
	for _, d := range datums {
		if d.ElementID == e.ID {
			m.Datum = &model.Datum{
				ID: wire.New(wire.Datum, d.ID), DatumVersion: d.DatumVersion, Mark: d.Mark, OffsetToPaintedWaterlineMm: d.OffsetMm,
				Note: d.Note, ValidFrom: wire.MaybeDay(d.ValidFrom),
			}
		}
	}
	for _, l := range layers {
		if l.ElementID == e.ID {
			m.Layers = append(m.Layers, model.Layer{
				ID: wire.New(wire.Layer, l.ID), Kind: model.LayerKind(l.Kind), What: l.What, Side: sideModel(l.Side), Outline: wire.JSON(l.Outline),
				Detail: wire.JSON(l.Detail), HowKnown: l.HowKnown, ValidFrom: wire.MaybeDay(l.ValidFrom), ValidTo: wire.MaybeDay(l.ValidTo), Version: l.Version,
			})
		}
	}
	return m
}

func sideModel(side *string) *model.Side {
	if side == nil {
		return nil
	}
	s := model.Side(*side)
	return &s
}

// vesselLine is a vessel as lists and other things name one, ashore or not at this moment.
func vesselLine(v practice.VesselLine, now time.Time) model.VesselLine {
	line := model.VesselLine{
		ID: wire.New(wire.Vessel, v.ID), Name: v.Name, Kind: v.Kind, LoaMm: v.LoaMm, MouldedYear: long(v.MouldedYear), HullNumber: v.HullNumber,
		Figure: wire.JSON(v.Figure), LastPassAt: wire.MaybeAt(v.LastPassAt),
	}
	if v.FoundAs != "" && v.FoundAs != v.Name {
		line.FoundAs = &v.FoundAs
	}
	if days, _, ok := practice.DaysAshore(v.LiftedAt, "instant", v.TimeZone, now); ok {
		line.Ashore = &model.AshoreNow{Yard: v.Yard, Days: int32(days)}
	}
	return line
}

// element reads an element with its newest datum and its layers.
func (r *Resolver) element(ctx context.Context, id uuid.UUID) (model.Element, error) {
	e, datums, layers, err := r.Practice.Element(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Element{}, err
	}
	return elementModel(e, datums, layers), nil
}

// first finds the thing of a kind that a change touched.
func first(done practice.Done, kind wire.Kind) uuid.UUID {
	for _, text := range done.Touched {
		if id, err := wire.ParseID(text); err == nil && id.Kind == kind {
			return id.UUID
		}
	}
	return uuid.Nil
}
