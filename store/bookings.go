package store

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"visit_overrides_reason_said": {domain.Invalid, "reason", "Say why this is let pass."},
})

// Clashes implements practice.BookingWriter.
func (tx *inPractice) Clashes(ctx context.Context, but uuid.UUID, people, instruments []uuid.UUID, from, to time.Time, who practice.Sees) ([]practice.Clash, error) {
	rows, err := tx.q.ClashesOf(ctx, queries.ClashesOfParams{
		PracticeID: tx.practice, But: but, People: people, Instruments: instruments, FromAt: from, ToAt: to, Guest: who.Guest, Self: who.Self, Member: who.Member,
	})
	return convert(rows, func(r queries.ClashesOfRow) practice.Clash {
		return practice.Clash{What: r.What, Name: r.Name, Kind: r.Kind, From: r.FromAt, To: r.ToAt, TimeZone: r.TimeZone, Vessel: r.Vessel, Job: r.Number, Open: r.Open}
	}), fault("find clashes", err)
}

// Held implements practice.BookingWriter.
func (tx *inPractice) Held(ctx context.Context, visit uuid.UUID) (people, instruments []uuid.UUID, err error) {
	row, err := tx.q.HeldBy(ctx, queries.HeldByParams{PracticeID: tx.practice, VisitID: visit})
	return row.People, row.Instruments, fault("read who makes the visit", err)
}

// OutsideSpell implements practice.BookingWriter.
func (tx *inPractice) OutsideSpell(ctx context.Context, visit, spell *uuid.UUID, who practice.Sees) ([]practice.Outside, error) {
	rows, err := tx.q.OutsideSpell(ctx, queries.OutsideSpellParams{
		PracticeID: tx.practice, VisitID: visit, SpellID: spell, Guest: who.Guest, Self: who.Self, Member: who.Member,
	})
	return convert(rows, func(r queries.OutsideSpellRow) practice.Outside {
		return practice.Outside{
			ID: r.ID, Kind: r.Kind, From: r.FromAt, To: r.ToAt, TimeZone: r.TimeZone, Job: r.Number, First: r.FirstAt, Last: r.LastAt,
			Yard: r.Yard, Zone: r.YardZone, Cancelled: r.Cancelled, Open: r.Open,
		}
	}), fault("find visits outside", err)
}

// SpellAcross implements practice.BookingWriter.
func (tx *inPractice) SpellAcross(ctx context.Context, vessel, but uuid.UUID, from time.Time, to *time.Time) (*practice.Across, error) {
	row, err := tx.q.SpellAcross(ctx, queries.SpellAcrossParams{PracticeID: tx.practice, VesselID: vessel, But: but, FromAt: from, ToAt: to})
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	return &practice.Across{Yard: row.Yard, From: row.FromAt, To: row.ToAt, TimeZone: row.TimeZone}, fault("find other times ashore", err)
}

// OverrideCheck implements practice.CheckWriter.
func (tx *inPractice) OverrideCheck(ctx context.Context, visit uuid.UUID, o practice.Override, by, move *uuid.UUID, at time.Time) error {
	return fault("keep a reason", tx.q.OverrideCheck(ctx, queries.OverrideCheckParams{PracticeID: tx.practice, VisitID: visit, Code: o.Code, Reason: o.Reason, ByID: by, At: at, MoveID: move}))
}
