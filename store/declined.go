package store

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"declined_visits_pkey":        {domain.Conflict, "id", "That this visit is not wanted is kept already."},
	"declined_visits_once":        {domain.Conflict, "line", "That this visit is not wanted is kept already."},
	"declined_visits_reason_said": {domain.Invalid, "reason", "Say in at most 500 letters why this visit is not wanted."},
})

// InsertDeclined implements practice.DeclineWriter.
func (tx *inPractice) InsertDeclined(ctx context.Context, d practice.DeclinedVisit, by *uuid.UUID) error {
	return fault("decline a visit", tx.q.InsertDeclined(ctx, queries.InsertDeclinedParams{
		PracticeID: tx.practice, ID: d.ID, JobID: d.JobID, SpellID: d.SpellID, Line: d.Line, Reason: d.Reason, ByID: by, At: d.At,
	}))
}

// Declined implements practice.DeclineWriter.
func (tx *inPractice) Declined(ctx context.Context, id uuid.UUID, who practice.Sees) (uuid.UUID, error) {
	job, err := found(tx.q.GetDeclined(ctx, queries.GetDeclinedParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return job, fault("read a declined visit", err)
}

// TakeBackDeclined implements practice.DeclineWriter.
func (tx *inPractice) TakeBackDeclined(ctx context.Context, id uuid.UUID, by *uuid.UUID, now time.Time) error {
	return fault("propose a visit again", tx.q.TakeBackDeclined(ctx, queries.TakeBackDeclinedParams{PracticeID: tx.practice, ID: id, ByID: by, Now: now}))
}
