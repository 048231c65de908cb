package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// DeclinedVisit is a proposed visit that nobody wants, and why.
type DeclinedVisit struct {
	ID      uuid.UUID
	JobID   uuid.UUID
	SpellID uuid.UUID
	Line    string
	Reason  string
	ByName  string
	At      time.Time
}

// DeclineWriter writes declined proposals.
type DeclineWriter interface {
	InsertDeclined(ctx context.Context, d DeclinedVisit, by *uuid.UUID) error
	// Declined finds the job of one that was not taken back yet, holding it.
	Declined(ctx context.Context, id uuid.UUID, who Sees) (job uuid.UUID, err error)
	TakeBackDeclined(ctx context.Context, id uuid.UUID, by *uuid.UUID, now time.Time) error
}

// declined finds what was said of one line of a job's proposals in a time ashore.
func (d *Diary) declined(job, spell uuid.UUID, line string) *DeclinedVisit {
	for k := range d.Declined {
		if x := &d.Declined[k]; x.JobID == job && x.SpellID == spell && x.Line == line {
			return x
		}
	}
	return nil
}

// DeclineVisit says that a proposed visit is not wanted.
type DeclineVisit struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Job      uuid.UUID
	Spell    uuid.UUID
	Line     string
	Reason   string
}

// DeclineVisit keeps that a proposed visit is not wanted in a time ashore, and why. It stays
// to be seen, and is proposed again once that is taken back.
func (s *Service) DeclineVisit(ctx context.Context, a domain.Actor, in DeclineVisit) (Done, error) {
	return s.write(ctx, &a, domain.Book, "declineVisit", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		reason := strings.TrimSpace(in.Reason)
		if reason == "" || len(reason) > 500 {
			return Done{}, domain.Invalidf("reason", "Say in at most 500 letters why this visit is not wanted.")
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		if !slices.ContainsFunc(needs[j.Kind], func(n need) bool { return either(n.line, n.kind) == in.Line }) {
			return Done{}, domain.Invalidf("line", "A job of kind %s proposes no such visit.", j.Kind)
		}
		if err := spellFits(ctx, tx, &in.Spell, j.VesselID); err != nil {
			return Done{}, err
		}
		d := DeclinedVisit{ID: in.ID, JobID: j.ID, SpellID: in.Spell, Line: in.Line, Reason: reason, At: s.instant()}
		return touched(ref(domain.ThingDeclined, in.ID), ref(domain.ThingJob, j.ID)), tx.InsertDeclined(ctx, d, entered(a))
	})
}

// ProposeAgain takes back that a proposed visit was not wanted.
type ProposeAgain struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of what was declined
}

// ProposeAgain takes back that a proposed visit was not wanted: it is proposed again.
func (s *Service) ProposeAgain(ctx context.Context, a domain.Actor, in ProposeAgain) (Done, error) {
	return s.write(ctx, &a, domain.Book, "proposeAgain", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		job, err := tx.Declined(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingDeclined, in.ID), ref(domain.ThingJob, job)), tx.TakeBackDeclined(ctx, in.ID, entered(a), s.instant())
	})
}
