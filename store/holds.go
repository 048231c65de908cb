package store

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"holds_pkey":           {domain.Conflict, "id", "A hold with this id is kept already."},
	"holds_reason_given":   {domain.Invalid, "reason", "Say why, in 1 to 1000 letters."},
	"holds_lifting_told":   {domain.Invalid, "reason", "Say why it is lifted."},
	"holds_stay_as_placed": {domain.Conflict, "", "This hold was lifted already."},
	"holds_stop_erasure":   {domain.Conflict, "", "A hold stands on this file. While it stands nothing of it is erased or emptied."},
})

// Holds implements practice.HoldReader.
func (s *Store) Holds(ctx context.Context, p uuid.UUID, on practice.HoldOn, who practice.Sees) ([]practice.Hold, error) {
	guest, self, member := whom(who)
	var there []bool
	var rows []queries.HoldsOfRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		column(b, &there, queries.ThingHeld, on.Party, p, on.Vessel, on.Job, self, member, guest)
		many(b, &rows, queries.HoldsOf, p, self, member, guest, on.Party, on.Job, on.Vessel)
	})
	if err == nil && !slices.Contains(there, true) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return nil, err
	}
	return convert(rows, func(r queries.HoldsOfRow) practice.Hold {
		return practice.Hold{
			ID: r.ID, On: practice.HoldOn{Party: r.PartyID, Job: r.JobID, Vessel: r.VesselID}, What: r.What, Reason: r.Reason,
			PlacedAt: r.PlacedAt, PlacedBy: r.PlacedBy, LiftedAt: r.LiftedAt, LiftedBy: r.LiftedBy, LiftedReason: r.LiftedReason,
		}
	}), nil
}

// InsertHold implements practice.HoldWriter.
func (tx *inPractice) InsertHold(ctx context.Context, in practice.PlaceHold, by *uuid.UUID, now time.Time) error {
	return fault("insert hold", tx.q.InsertHold(ctx, queries.InsertHoldParams{
		PracticeID: tx.practice, ID: in.ID, PartyID: in.On.Party, JobID: in.On.Job, VesselID: in.On.Vessel, Reason: in.Reason, Now: now, PlacedBy: by,
	}))
}

// Hold implements practice.HoldWriter.
func (tx *inPractice) Hold(ctx context.Context, id uuid.UUID) (practice.HoldOn, bool, error) {
	row, err := found(tx.q.HoldToLift(ctx, queries.HoldToLiftParams{PracticeID: tx.practice, ID: id}))
	return practice.HoldOn{Party: row.PartyID, Job: row.JobID, Vessel: row.VesselID}, row.Lifted, fault("read hold", err)
}

// LiftHold implements practice.HoldWriter.
func (tx *inPractice) LiftHold(ctx context.Context, in practice.LiftHold, by *uuid.UUID, now time.Time) error {
	return fault("lift hold", tx.q.LiftHold(ctx, queries.LiftHoldParams{PracticeID: tx.practice, ID: in.ID, Now: now, LiftedBy: by, Reason: in.Reason}))
}
