package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Recommendation is one thing to do or to know: one identity across reports and years.
type Recommendation struct {
	ID           uuid.UUID
	VesselID     uuid.UUID
	JobID        uuid.UUID // the job it was first made in
	Grade        string    // a report.Grade
	Sure         string    // seen, indicated, suspected
	ReadingsOnly bool      // rests on electrical evidence alone
	What         string
	Reason       string
	Consequence  string
	WhoActs      string
	ByOn         *time.Time
	ByAsWritten  string
	ClosedBy     string // what closes it
	About        string // what the interval to the next look depends on, a due.Kind; empty: its grade alone
	State        string
	CreatedAt    time.Time
	Version      int32
}

// RecommendationState is one step of a recommendation's story.
type RecommendationState struct {
	RecommendationID uuid.UUID
	State            string
	Reason           string
	ByName           string
	At               time.Time
}

// RecommendationReader reads recommendations.
type RecommendationReader interface {
	Recommendation(ctx context.Context, practice, id uuid.UUID, who Sees) (Recommendation, []RecommendationState, error)
}

// RecommendationWriter writes recommendations.
type RecommendationWriter interface {
	JobOpenTo(ctx context.Context, job uuid.UUID, who Sees) (JobOpen, error)
	InsertRecommendation(ctx context.Context, r Recommendation) error
	Recommendation(ctx context.Context, id uuid.UUID, who Sees) (Recommendation, error)
	UpdateRecommendation(ctx context.Context, r Recommendation) error
	SetRecommendationState(ctx context.Context, id, step uuid.UUID, before, state, reason string, by *uuid.UUID, now time.Time) error
}

// JobOpen is what a use case needs of a job that the actor may see.
type JobOpen struct {
	ID       uuid.UUID
	VesselID uuid.UUID
	ClientID *uuid.UUID
	Kind     string
}

// Recommendation reads one recommendation with its story.
func (s *Service) Recommendation(ctx context.Context, a domain.Actor, id uuid.UUID) (Recommendation, []RecommendationState, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Recommendation{}, nil, err
	}
	return s.store.Recommendation(ctx, a.Practice, id, sees(a))
}

// AddRecommendation is a new recommendation of a job.
type AddRecommendation struct {
	Mutation       uuid.UUID `json:"-"`
	Recommendation Recommendation
}

// AddRecommendation adds a recommendation as a draft; it is issued with the job's report.
func (s *Service) AddRecommendation(ctx context.Context, a domain.Actor, in AddRecommendation) (Done, error) {
	return s.write(ctx, &a, domain.Recommend, "addRecommendation", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r := in.Recommendation
		if err := newID("id", r.ID); err != nil {
			return Done{}, err
		}
		if err := r.check(); err != nil {
			return Done{}, err
		}
		job, err := tx.JobOpenTo(ctx, r.JobID, sees(a))
		if err != nil {
			return Done{}, err
		}
		r.VesselID, r.State, r.CreatedAt = job.VesselID, "draft", s.instant()
		return touched(ref(domain.ThingRecommendation, r.ID), ref(domain.ThingJob, r.JobID), ref(domain.ThingVessel, r.VesselID)), tx.InsertRecommendation(ctx, r)
	})
}

// check holds the rule that readings alone carry no more than they can: electrical
// evidence yields Watch, Look further or For the record, and is indicated, never seen.
// A grade given in words becomes its code.
func (r *Recommendation) check() error {
	grade, known := report.GradeOf(r.Grade)
	r.Grade = string(grade)
	sure := report.Sure(r.Sure)
	switch {
	case strings.TrimSpace(r.What) == "":
		return domain.Invalidf("what", "Say what is to be done.")
	case !known:
		return domain.Invalidf("grade", "Grade it: stop (Stop and make safe), afloat (Before afloat), ashore (While ashore), planned (Planned work), watch (Watch), further (Look further) or record (For the record).")
	case !sure.Known():
		return domain.Invalidf("sure", "Say how sure: seen, indicated or suspected.")
	case r.ReadingsOnly && !grade.FromReadings():
		return domain.Invalidf("grade", "Readings alone carry Watch, Look further or For the record. A higher grade needs something seen, heard or opened.")
	case r.ReadingsOnly && sure == report.Seen:
		return domain.Invalidf("sure", "What rests on readings alone is indicated, not seen.")
	}
	return nil
}

// EditRecommendation is a change to a draft; nil leaves a field as it is.
type EditRecommendation struct {
	Mutation     uuid.UUID `json:"-"`
	ID           uuid.UUID
	Version      int32
	Grade        *string
	Sure         *string
	ReadingsOnly *bool
	What         *string
	Reason       *string
	Consequence  *string
	WhoActs      *string
	ByOn         *time.Time
	ByNoDay      bool `json:",omitempty"` // takes the day away
	ByAsWritten  *string
	ClosedBy     *string
	About        *string
}

// EditRecommendation changes a recommendation that was not issued yet.
func (s *Service) EditRecommendation(ctx context.Context, a domain.Actor, in EditRecommendation) (Done, error) {
	return s.write(ctx, &a, domain.Recommend, "editRecommendation", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r, err := tx.Recommendation(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if r.State != "draft" {
			return Done{}, domain.Conflictf("This was issued and keeps its words. Move it on by its state, or make a new one.")
		}
		r.Version = in.Version
		if in.ByNoDay {
			r.ByOn = nil
		}
		set(&r.Grade, in.Grade)
		set(&r.Sure, in.Sure)
		set(&r.ReadingsOnly, in.ReadingsOnly)
		set(&r.What, in.What)
		set(&r.Reason, in.Reason)
		set(&r.Consequence, in.Consequence)
		set(&r.WhoActs, in.WhoActs)
		setPtr(&r.ByOn, in.ByOn)
		set(&r.ByAsWritten, in.ByAsWritten)
		set(&r.ClosedBy, in.ClosedBy)
		set(&r.About, in.About)
		if err := r.check(); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingRecommendation, r.ID), ref(domain.ThingVessel, r.VesselID)), tx.UpdateRecommendation(ctx, r)
	})
}

// SetRecommendationState moves a recommendation on.
type SetRecommendationState struct {
	Mutation       uuid.UUID `json:"-"`
	ID             uuid.UUID // of the step
	Recommendation uuid.UUID
	State          string
	Reason         string
}

// stateFrom lists from which states each state may be reached (trade section 7).
var stateFrom = map[string][]string{
	"acknowledged": {"issued", "reopened"},
	"agreed":       {"issued", "acknowledged", "declined", "reopened"},
	"declined":     {"issued", "acknowledged", "agreed", "reopened"},
	"in hand":      {"issued", "acknowledged", "agreed", "reopened"},
	"claimed done": {"issued", "acknowledged", "agreed", "in hand", "reopened", "not seen"},
	"seen done":    {"issued", "acknowledged", "agreed", "in hand", "claimed done", "reopened", "not seen"},
	"not seen":     {"claimed done", "in hand"},
	"closed":       {"issued", "seen done", "declined", "acknowledged"},
	"reopened":     {"closed", "seen done", "declined"},
}

// SetRecommendationState moves an issued recommendation on. Only a person who saw it
// sets "seen done"; declined, closed and reopened need a reason.
func (s *Service) SetRecommendationState(ctx context.Context, a domain.Actor, in SetRecommendationState) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "setRecommendationState", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		r, err := tx.Recommendation(ctx, in.Recommendation, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := maySetState(a, r, in); err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := tx.SetRecommendationState(ctx, r.ID, in.ID, r.State, in.State, in.Reason, entered(a), now); err != nil {
			return Done{}, err
		}
		if in.State == "seen done" || in.State == "closed" {
			if err := tx.AnswerReinspectionsOf(ctx, r.ID, "The recommendation is "+in.State+".", entered(a), now); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingRecommendation, r.ID), ref(domain.ThingVessel, r.VesselID)).tell(telling{What: toldAnswer, Job: &r.JobID, About: in.State}), nil
	})
}

func maySetState(a domain.Actor, r Recommendation, in SetRecommendationState) error {
	from, known := stateFrom[in.State]
	switch {
	case !known:
		return domain.Invalidf("state", "The states are acknowledged, agreed, declined, in hand, claimed done, seen done, not seen, closed and reopened.")
	case !slices.Contains(from, r.State):
		return domain.Conflictf("This recommendation is %q now; from there it cannot become %q.", r.State, in.State)
	case in.State == "seen done" && !a.Signs() && !a.Has(domain.Trainee):
		return domain.Forbiddenf("Only a person who saw it may say that it is done: a surveyor or a trainee who was there.")
	case in.State != "seen done" && !a.Signs() && !a.Has(domain.Office) && !a.Has(domain.Trainee):
		return domain.Forbiddenf("Your role in this practice does not let you move a recommendation on.")
	case slices.Contains([]string{"declined", "closed", "reopened", "not seen"}, in.State) && strings.TrimSpace(in.Reason) == "":
		return domain.Invalidf("reason", "Give the reason; it stays with the recommendation.")
	}
	return nil
}
