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
	"standing_overrides_once":         {domain.Conflict, "pass", "This pass's standing was lowered already. Take that back first."},
	"standing_overrides_only_down":    {domain.Invalid, "standing", "A standing can only be lowered: to unlike, or to quoted."},
	"standing_overrides_reason_given": {domain.Invalid, "reason", "Say why, in up to 500 letters: the reason is shown with your name."},
})

// LowerStanding implements practice.StandingWriter.
func (tx *inPractice) LowerStanding(ctx context.Context, in practice.LowerStanding, by uuid.UUID, now time.Time) error {
	return fault("lower standing", tx.q.InsertLoweredStanding(ctx, queries.InsertLoweredStandingParams{
		PracticeID: tx.practice, ID: in.ID, PassID: in.Pass, Standing: string(in.Standing), Reason: in.Reason, ByID: by, Now: now,
	}))
}

// RestoreStanding implements practice.StandingWriter.
func (tx *inPractice) RestoreStanding(ctx context.Context, pass, by uuid.UUID, now time.Time) error {
	n, err := tx.q.WithdrawLoweredStanding(ctx, queries.WithdrawLoweredStandingParams{PracticeID: tx.practice, PassID: pass, ByID: by, Now: now})
	if err == nil && n == 0 {
		return domain.Conflictf("Nobody lowered the standing of this pass.")
	}
	return fault("restore standing", err)
}
