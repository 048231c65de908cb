package graph

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Spell, (*Resolver).spell)

func (r *Resolver) spell(ctx context.Context, id uuid.UUID) (model.Spell, error) {
	s, err := r.Practice.Spell(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Spell{}, err
	}
	return spellModel(s, time.Now()), nil
}

func spellModel(s practice.Spell, now time.Time) model.Spell {
	return model.Spell{
		ID: wire.New(wire.Spell, s.ID), Vessel: vesselLine(s.Vessel, now), Yard: maybeParty(s.Yard), TimeZone: s.TimeZone,
		PlannedLift: wire.MaybeAt(s.PlannedLift), PlannedLaunch: wire.MaybeAt(s.PlannedLaunch), ActualLift: wire.MaybeAt(s.ActualLift),
		ActualLaunch: wire.MaybeAt(s.ActualLaunch), AskedOnly: s.AskedOnly, Held: s.Held, UnderCover: s.UnderCover, WashedAt: wire.MaybeAt(s.WashedAt),
		DatePrecision: s.DatePrecision, AsWritten: s.AsWritten, Source: s.Source, Notes: s.Notes, Cancelled: s.CancelledAt != nil, Version: s.Version,
	}
}
