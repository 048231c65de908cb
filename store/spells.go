package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"spells_apart":             {domain.Conflict, "plannedLift", "She stands ashore at this time already, or is planned to. Move, launch or cancel the other spell first, or change that one instead of adding another."},
	"spells_held_known":        {domain.Invalid, "held", "She is held in slings, on props, in a cradle, in a shed or in a dock; leave it empty where that is not known."},
	"spells_precision_known":   {domain.Invalid, "datePrecision", "The lift is known to the instant, day, month or year."},
	"spells_has_lift":          {domain.Invalid, "plannedLift", "Say when she is lifted, planned or done."},
	"spells_launch_after_lift": {domain.Invalid, "plannedLaunch", "The launch must come after the lift."},
	"spells_keep_visits":       {domain.Conflict, "plannedLift", "With these times a planned visit would lie outside. Move the lift and what hangs on it together."},
	"spells_pkey":              {domain.Conflict, "id", "A spell with this id is kept already."},
})

// Spell implements practice.SpellReader.
func (s *Store) Spell(ctx context.Context, p, id uuid.UUID) (practice.Spell, error) {
	var row *queries.GetSpellRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetSpell, p, id) }); err != nil {
		return practice.Spell{}, err
	}
	if row == nil {
		return practice.Spell{}, domain.ErrNotFound
	}
	return spellFrom(*row), nil
}

// Spells implements practice.SpellReader.
func (s *Store) Spells(ctx context.Context, p uuid.UUID, from, to time.Time) ([]practice.Spell, error) {
	var rows []queries.GetSpellRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.ListSpells, p, from, to) })
	return convert(rows, spellFrom), err
}

// Spell implements practice.SpellWriter.
func (tx *inPractice) Spell(ctx context.Context, id uuid.UUID) (practice.Spell, error) {
	row, err := found(tx.q.GetSpell(ctx, queries.GetSpellParams{PracticeID: tx.practice, ID: id}))
	return spellFrom(row), fault("read spell", err)
}

// InsertSpell implements practice.SpellWriter.
func (tx *inPractice) InsertSpell(ctx context.Context, in practice.AddSpell) error {
	return fault("insert spell", tx.q.InsertSpell(ctx, queries.InsertSpellParams{
		PracticeID: tx.practice, ID: in.ID, VesselID: in.Vessel, YardID: in.Yard, TimeZone: in.TimeZone, PlannedLift: in.PlannedLift,
		PlannedLaunch: in.PlannedLaunch, ActualLift: in.ActualLift, ActualLaunch: in.ActualLaunch, AskedOnly: in.AskedOnly, Held: in.Held,
		UnderCover: in.UnderCover, WashedAt: in.WashedAt, DatePrecision: in.DatePrecision, AsWritten: in.AsWritten, Source: in.Source, Notes: in.Notes,
	}))
}

// UpdateSpell implements practice.SpellWriter.
func (tx *inPractice) UpdateSpell(ctx context.Context, s practice.Spell) error {
	var yard *uuid.UUID
	if s.Yard != nil {
		yard = &s.Yard.ID
	}
	return fault("update spell", changed(tx.q.UpdateSpell(ctx, queries.UpdateSpellParams{
		PracticeID: tx.practice, ID: s.ID, Version: s.Version, YardID: yard, PlannedLift: s.PlannedLift, PlannedLaunch: s.PlannedLaunch,
		ActualLift: s.ActualLift, ActualLaunch: s.ActualLaunch, AskedOnly: s.AskedOnly, Held: s.Held, UnderCover: s.UnderCover,
		WashedAt: s.WashedAt, Notes: s.Notes, CancelledAt: s.CancelledAt,
	})))
}

// PartyIsYard implements practice.SpellWriter.
func (tx *inPractice) PartyIsYard(ctx context.Context, party uuid.UUID) (bool, error) {
	is, err := found(tx.q.PartyIsYard(ctx, queries.PartyIsYardParams{PracticeID: tx.practice, ID: party}))
	return is, fault("read yard", err)
}

// spellFrom is for every query whose columns are those of a spell.
func spellFrom(r queries.GetSpellRow) practice.Spell {
	return practice.Spell{
		ID: r.ID, Yard: partyOf(r.YardID, r.YardName, r.YardKind, r.YardIsYard), TimeZone: r.TimeZone, PlannedLift: r.PlannedLift,
		PlannedLaunch: r.PlannedLaunch, ActualLift: r.ActualLift, ActualLaunch: r.ActualLaunch, AskedOnly: r.AskedOnly, Held: r.Held,
		UnderCover: r.UnderCover, WashedAt: r.WashedAt, DatePrecision: r.DatePrecision, AsWritten: r.AsWritten, Source: r.Source, Notes: r.Notes,
		CancelledAt: r.CancelledAt, Version: r.Version,
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
	}
}
