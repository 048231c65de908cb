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
	"acts_without_leave_once":          {domain.Conflict, "id", "That this was done without leave is kept already."},
	"acts_without_leave_pkey":          {domain.Conflict, "id", "That this was done without leave is kept already."},
	"acts_without_leave_reason_length": {domain.Invalid, "reason", "Say in at most 1000 letters why it was done without a recorded permission."},
})

func actFrom(job uuid.UUID) func(queries.ActsWithoutLeaveOfJobRow) practice.ActWithoutLeave {
	return func(r queries.ActsWithoutLeaveOfJobRow) practice.ActWithoutLeave {
		return practice.ActWithoutLeave{
			ID: r.ID, JobID: job, What: r.What, Thing: domain.Thing(r.Thing), ThingID: r.ThingID, Stood: r.Stood, NotedAt: r.NotedAt, KeptAt: r.KeptAt, ByName: r.ByName,
			Reason: r.Reason, ReasonBy: r.ReasonBy, ReasonAt: r.ReasonAt,
		}
	}
}

// InsertActWithoutLeave implements practice.UnaskedWriter.
func (tx *inPractice) InsertActWithoutLeave(ctx context.Context, x practice.ActWithoutLeave, by *uuid.UUID) error {
	return fault("keep an act without leave", tx.q.InsertActWithoutLeave(ctx, queries.InsertActWithoutLeaveParams{
		PracticeID: tx.practice, ID: x.ID, JobID: x.JobID, What: x.What, Thing: string(x.Thing), ThingID: x.ThingID, Stood: x.Stood, NotedAt: x.NotedAt,
		KeptAt: x.KeptAt, ByID: by, Reason: x.Reason,
	}))
}

// ActWithoutLeave implements practice.UnaskedWriter.
func (tx *inPractice) ActWithoutLeave(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.ActWithoutLeave, error) {
	row, err := found(tx.q.GetActWithoutLeave(ctx, queries.GetActWithoutLeaveParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.ActWithoutLeave{ID: row.ID, JobID: row.JobID, What: row.What, Reason: row.Reason}, fault("read an act without leave", err)
}

// ExplainAct implements practice.UnaskedWriter.
func (tx *inPractice) ExplainAct(ctx context.Context, id uuid.UUID, reason string, by *uuid.UUID, now time.Time) error {
	return fault("explain an act", tx.q.ExplainAct(ctx, queries.ExplainActParams{PracticeID: tx.practice, ID: id, Reason: reason, ByID: by, Now: now}))
}

// WindowsBared implements practice.UnaskedWriter.
func (tx *inPractice) WindowsBared(ctx context.Context, job uuid.UUID) (int, error) {
	n, err := tx.q.CountWindowsOfJob(ctx, queries.CountWindowsOfJobParams{PracticeID: tx.practice, JobID: job})
	return int(n), fault("count windows", err)
}

// LiftWanted implements practice.PermissionWriter.
func (tx *inPractice) LiftWanted(ctx context.Context, vessel uuid.UUID, who practice.Sees) ([]practice.LiftWanted, []practice.Permission, error) {
	jobs, err := tx.q.LiftWanted(ctx, queries.LiftWantedParams{PracticeID: tx.practice, VesselID: vessel, Guest: who.Guest, Self: who.Self, Member: who.Member})
	if err != nil {
		return nil, nil, fault("read jobs of the vessel", err)
	}
	words, err := tx.q.LeaveToLift(ctx, queries.LeaveToLiftParams{PracticeID: tx.practice, VesselID: vessel})
	return convert(jobs, func(r queries.LiftWantedRow) practice.LiftWanted { return practice.LiftWanted(r) }),
		convert(words, func(r queries.LeaveToLiftRow) practice.Permission {
			return permissionFrom(uuid.Nil)(queries.PermissionsOfJobRow(r))
		}), fault("read leave to lift", err)
}
