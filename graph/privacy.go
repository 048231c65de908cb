package graph

import (
	"context"
	"maps"
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func holdModel(h practice.Hold) model.Hold {
	m := model.Hold{
		ID: wire.New(wire.Hold, h.ID), On: model.HoldOnVessel, What: h.What, Reason: h.Reason, PlacedAt: wire.At(h.PlacedAt), PlacedBy: h.PlacedBy,
		LiftedAt: wire.MaybeAt(h.LiftedAt), LiftedBy: h.LiftedBy, LiftedReason: h.LiftedReason,
	}
	switch {
	case h.On.Party != nil:
		m.On = model.HoldOnPerson
	case h.On.Job != nil:
		m.On = model.HoldOnJob
	}
	return m
}

func keptRowsModel(k practice.KeptRows) model.KeptRows {
	return model.KeptRows{What: k.What, Count: int32(k.Count), Goes: k.Goes, Stays: k.Stays}
}

// personKept reads what is kept about somebody, with what holds it.
func (r *Resolver) personKept(ctx context.Context, party uuid.UUID) (*model.PersonKept, error) {
	a := auth.Actor(ctx)
	k, err := r.Practice.PersonKept(ctx, a, party)
	if err != nil {
		return nil, err
	}
	holds, err := r.Practice.Holds(ctx, a, practice.HoldOn{Party: &party})
	if err != nil {
		return nil, err
	}
	return &model.PersonKept{
		ID: wire.New(wire.Party, party), Name: k.Name, Kind: model.PartyKind(k.Kind), ErasedAt: wire.MaybeAt(k.ErasedAt), Rows: each(k.Rows, keptRowsModel),
		Files: each(k.Files, func(f practice.PersonFile) model.PersonFile {
			return model.PersonFile{Job: wire.New(wire.Job, f.Job), Number: f.Number, Vessel: f.Vessel, Stage: f.Stage, DueOn: wire.Day(f.DueOn), Gone: f.Gone}
		}),
		Exports: each(k.Exports, func(x practice.ExportNote) model.ExportNote { return model.ExportNote{At: wire.At(x.At), By: x.By} }),
		Holds:   each(holds, holdModel), Stops: orNone(k.Stops()), Notes: orNone(k.Notes()), Backups: practice.BackupsWords,
	}, nil
}

func (r *Resolver) memberKept(ctx context.Context, member uuid.UUID) (*model.MemberKept, error) {
	k, err := r.Practice.MemberKept(ctx, auth.Actor(ctx), member)
	if err != nil {
		return nil, err
	}
	return &model.MemberKept{
		ID: wire.New(wire.Member, member), Name: k.Name, LeftAt: wire.MaybeAt(k.LeftAt), ErasedAt: wire.MaybeAt(k.ErasedAt), Rows: each(k.Rows, keptRowsModel),
		Stops: orNone(k.Stops()), Backups: practice.BackupsWords,
	}, nil
}

func (r *Resolver) retention(ctx context.Context) (*model.Retention, error) {
	t, err := r.Practice.Retention(ctx, auth.Actor(ctx))
	if err != nil {
		return nil, err
	}
	return &model.Retention{
		FileYears: t.FileYears, FileJurisdiction: t.FileJurisdiction, InvoiceYears: t.InvoiceYears, InvoiceJurisdiction: t.InvoiceJurisdiction,
		PeopleYears: t.PeopleYears, PeopleJurisdiction: t.PeopleJurisdiction, SetAt: wire.MaybeAt(t.SetAt), SetBy: t.SetBy,
		HabitYears: practice.FileYearsHabit, HabitTag: practice.FileYearsHabitTag, Version: t.Version,
		Files: each(t.Files, func(f practice.DueFile) model.DueFile {
			return model.DueFile{Job: wire.New(wire.Job, f.Job), Number: f.Number, Vessel: f.Vessel, Kind: f.Kind, DueOn: wire.Day(f.DueOn), Held: f.Held}
		}),
		People: each(t.People, func(p practice.DuePerson) model.DuePerson {
			return model.DuePerson{Party: wire.New(wire.Party, p.Party), Name: p.Name, DueOn: wire.Day(p.DueOn), Held: p.Held}
		}),
		Gone: each(t.Gone, erasureModel),
	}, nil
}

func erasureModel(e practice.Erasure) model.Erasure {
	m := model.Erasure{
		ID: wire.New(wire.Erasure, e.ID), Kind: model.ErasureKind(e.Kind), Reason: e.Reason, At: wire.At(e.At), By: e.By, Objects: e.Objects,
		ObjectsGoneAt: wire.MaybeAt(e.ObjectsGoneAt), Counts: []model.ErasedCount{},
	}
	for _, what := range slices.Sorted(maps.Keys(e.Counts)) {
		m.Counts = append(m.Counts, model.ErasedCount{What: what, Count: int32(e.Counts[what])})
	}
	return m
}
