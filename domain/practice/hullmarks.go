package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// HullMarks are marks made on the hull at a visit. For a buyer's survey they are of a kind
// that comes off, and are taken off: common practice, no source.
type HullMarks struct {
	ID        uuid.UUID
	VisitID   uuid.UUID
	MadeWith  string // chalk, tape or wax pencil
	Where     string
	MadeAt    time.Time
	RemovedAt *time.Time
}

// HullMarkWriter writes marks made on hulls.
type HullMarkWriter interface {
	InsertHullMarks(ctx context.Context, m HullMarks, by *uuid.UUID) error
	// HullMarks reads those of a visit whose job the actor may see.
	HullMarks(ctx context.Context, id uuid.UUID, who Sees) (HullMarks, error)
	RemoveHullMarks(ctx context.Context, id uuid.UUID, by *uuid.UUID, at time.Time) error
}

// marksMadeWith are what a hull is marked with.
var marksMadeWith = []string{"chalk", "tape", "wax pencil"}

// MarkHull is marks made on the hull at a visit.
type MarkHull struct {
	Mutation uuid.UUID `json:"-"`
	Marks    HullMarks
	Unasked  *Unasked `json:",omitempty"`
}

// MarkHull keeps that the hull was marked, with what and where, until it is said that the
// marks are off again.
func (s *Service) MarkHull(ctx context.Context, a domain.Actor, in MarkHull) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "markHull", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		m := in.Marks
		m.Where = strings.TrimSpace(m.Where)
		if err := newID("id", m.ID); err != nil {
			return Done{}, err
		}
		switch {
		case !slices.Contains(marksMadeWith, m.MadeWith):
			return Done{}, domain.Invalidf("madeWith", "A hull is marked with %s.", strings.Join(marksMadeWith, ", "))
		case m.Where == "" || len(m.Where) > 400:
			return Done{}, domain.Invalidf("where", "Say in at most 400 letters where the marks are.")
		}
		v, err := attended(ctx, tx, a, m.VisitID)
		if err != nil {
			return Done{}, err
		}
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingHullMarks, m.ID), []string{"mark the hull"}, in.Unasked}); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingHullMarks, m.ID), ref(domain.ThingVisit, v.ID)), tx.InsertHullMarks(ctx, m, entered(a))
	})
}

// RemoveMarks says that marks are off the hull.
type RemoveMarks struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	At       time.Time
}

// RemoveMarks keeps that marks are off the hull again, and when.
func (s *Service) RemoveMarks(ctx context.Context, a domain.Actor, in RemoveMarks) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "removeMarks", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		m, err := tx.HullMarks(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		switch {
		case m.RemovedAt != nil:
			return Done{}, domain.Conflictf("That these marks are off is kept already.")
		case in.At.Before(m.MadeAt):
			return Done{}, domain.Invalidf("at", "They cannot come off before they were made.")
		}
		return touched(ref(domain.ThingHullMarks, m.ID), ref(domain.ThingVisit, m.VisitID)), tx.RemoveHullMarks(ctx, m.ID, entered(a), in.At)
	})
}
