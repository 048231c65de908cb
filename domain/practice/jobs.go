package practice

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Job is one survey of one vessel for one client, as its writer sees it. A job of kind
// tonnage or code is kept with its papers; the service never issues for it.
type Job struct {
	ID            uuid.UUID
	VesselID      uuid.UUID
	ClientID      *uuid.UUID
	Kind          string
	Scope         string
	Stage         string
	LeadID        *uuid.UUID
	Cite          string // how its evidence may be used for other clients
	CiteAgreedOn  *time.Time
	Restricted    bool // then only those it was opened to see it
	DueOn         *time.Time
	StandsBetween string
	Version       int32
}

// JobPage is a job with everything that its page shows.
type JobPage struct {
	JobLine
	Scope         string
	Cite          string
	CiteAgreedOn  *time.Time
	Restricted    bool
	Version       int32
	Access        []MemberLine
	Permissions   []Permission
	Visits        []VisitLine
	Reports       []ReportLine
	Came          *Engagement // the engagement that it came of; not for guests
	TermsMissing  bool        // it came of an engagement whose terms nobody accepted
	Papers        []Paper
	Found         []FoundLine
	Bared         []Bared
	Reinspections []Reinspection // that its report asks for, that are booked in it, or that it answered
	Stands        []Obstacle     // between it and its report, computed from what is kept
	WithoutLeave  []ActWithoutLeave
	TimeZone      string // the practice's
}

// FoundLine is a finding, as the page of its job names it.
type FoundLine struct {
	ID        uuid.UUID
	VisitID   uuid.UUID
	Kind      string
	Sure      string
	Text      string
	LookAgain bool
}

// JobFilter chooses jobs of a list.
type JobFilter struct {
	Open   bool // those whose report is still to come
	Issued bool // those whose report is out and that nobody has closed
	Mine   bool // those that the actor leads
}

// JobReader reads jobs.
type JobReader interface {
	Job(ctx context.Context, practice, id uuid.UUID, now time.Time, who Sees) (JobPage, error)
	// Jobs lists them in the order in which something has to be done, with the first act that
	// each owes put into words; one more than page.First where there are more.
	Jobs(ctx context.Context, practice uuid.UUID, filter JobFilter, afterTurn int32, page Page, now time.Time, who Sees) ([]JobTurn, error)
}

// JobWriter writes jobs.
type JobWriter interface {
	// Job reads a job that the actor may see and holds it until the transaction ends.
	Job(ctx context.Context, id uuid.UUID, who Sees) (Job, error)
	// LockJobNumbers holds the practice's job numbers and tells the last one given in a year.
	LockJobNumbers(ctx context.Context, year int) (last int32, err error)
	InsertJob(ctx context.Context, j AddJob, now time.Time) error
	UpdateJob(ctx context.Context, j Job) error
	AllowJob(ctx context.Context, job, member uuid.UUID) error
	ForbidJob(ctx context.Context, job, member uuid.UUID) error
	// JobAccess counts the members of the practice that a job is opened to.
	JobAccess(ctx context.Context, job uuid.UUID) (int64, error)
}

// Job reads a job with everything that its page shows.
func (s *Service) Job(ctx context.Context, a domain.Actor, id uuid.UUID) (JobPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return JobPage{}, err
	}
	now := s.instant()
	j, err := s.store.Job(ctx, a.Practice, id, now, sees(a))
	if err != nil {
		return j, err
	}
	for k := range j.WithoutLeave {
		j.WithoutLeave[k].Text = j.WithoutLeave[k].sentence(j.TimeZone)
	}
	j.TermsMissing = j.Came != nil && j.Came.TermsAcceptedAt == nil
	j.Stands = j.stands(now)
	if err := s.addressPapers(ctx, j.Papers); err != nil {
		return j, err
	}
	if a.OnlyGuest() {
		j.Came = nil
	}
	if j.Came != nil {
		j.Came.withhold(a)
	}
	return j, nil
}

// Jobs lists a page of jobs in the order in which something has to be done: those whose
// report is to come by the day of their next act, then those whose report is out, then those
// that are over.
func (s *Service) Jobs(ctx context.Context, a domain.Actor, filter JobFilter, page Page) ([]JobTurn, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	after := int64(-1)
	if page.AfterText != "" {
		var err error
		if after, err = strconv.ParseInt(page.AfterText, 10, 32); err != nil {
			return nil, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
		}
	}
	return s.store.Jobs(ctx, a.Practice, filter, int32(after), page, s.instant(), sees(a))
}

// AddJob is a new job. Without a number it gets the practice's next one of the year.
type AddJob struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Vessel        uuid.UUID
	Client        *uuid.UUID
	Number        string
	Kind          string
	Scope         string
	Lead          *uuid.UUID
	Cite          string
	CiteAgreedOn  *time.Time
	Restricted    bool
	DueOn         *time.Time
	StandsBetween string
}

// AddJob adds a job. Whoever leads it may see it whatever happens; a restricted job
// stays open to whoever made it too.
func (s *Service) AddJob(ctx context.Context, a domain.Actor, in AddJob) (Done, error) {
	in.Number = strings.TrimSpace(in.Number)
	return s.write(ctx, &a, domain.Book, "addJob", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := citable(in.Cite, in.CiteAgreedOn); err != nil {
			return Done{}, err
		}
		if len(in.Number) > 40 {
			return Done{}, domain.Invalidf("number", "A job's number has at most 40 letters.")
		}
		if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		job := in
		if job.Number == "" {
			var err error
			if job.Number, err = s.nextJobNumber(ctx, tx); err != nil {
				return Done{}, err
			}
		}
		if err := tx.InsertJob(ctx, job, s.instant()); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingJob, in.ID), ref(domain.ThingVessel, in.Vessel)), openTo(ctx, tx, a, in.ID, in.Lead, in.Restricted)
	})
}

// nextJobNumber gives the practice's next number of this year, 2026-041, in its own zone.
func (s *Service) nextJobNumber(ctx context.Context, tx Tx) (string, error) {
	p, err := tx.Practice(ctx)
	if err != nil {
		return "", err
	}
	where, err := time.LoadLocation(p.TimeZone)
	if err != nil {
		where = time.UTC
	}
	year := s.now().In(where).Year()
	last, err := tx.LockJobNumbers(ctx, year)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%04d-%03d", year, last+1), nil
}

// openTo lets a job's lead see it, and whoever restricts it.
func openTo(ctx context.Context, tx Tx, a domain.Actor, job uuid.UUID, lead *uuid.UUID, restricted bool) error {
	if lead != nil {
		if err := tx.AllowJob(ctx, job, *lead); err != nil {
			return err
		}
	}
	if restricted && a.Member != uuid.Nil {
		return tx.AllowJob(ctx, job, a.Member)
	}
	return nil
}

// citable asks for the day on which a wider use of the evidence was agreed.
func citable(cite string, agreed *time.Time) error {
	if cite != "this client only" && agreed == nil {
		return domain.Invalidf("citeAgreedOn", "Say on which day the client agreed that the evidence may be used for others.")
	}
	return nil
}

// EditJob is a change to a job; nil leaves a field as it is.
type EditJob struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Version       int32
	Scope         *string
	Stage         *string
	Client        *uuid.UUID
	Lead          *uuid.UUID
	Cite          *string
	CiteAgreedOn  *time.Time
	Restricted    *bool
	DueOn         *time.Time
	StandsBetween *string
}

// EditJob changes a job. Only those who may close a job set the stages closed and cancelled.
func (s *Service) EditJob(ctx context.Context, a domain.Actor, in EditJob) (Done, error) {
	return s.write(ctx, &a, domain.Book, "editJob", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		j, err := tx.Job(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if in.Stage != nil && slices.Contains([]string{"closed", "cancelled"}, *in.Stage) {
			if err := domain.May(a, domain.CloseJob); err != nil {
				return Done{}, err
			}
		}
		in.apply(&j)
		if err := citable(j.Cite, j.CiteAgreedOn); err != nil {
			return Done{}, err
		}
		if err := tx.UpdateJob(ctx, j); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingJob, j.ID), ref(domain.ThingVessel, j.VesselID)), openTo(ctx, tx, a, j.ID, j.LeadID, j.Restricted)
	})
}

func (in EditJob) apply(j *Job) {
	j.Version = in.Version
	set(&j.Scope, in.Scope)
	set(&j.Stage, in.Stage)
	setPtr(&j.ClientID, in.Client)
	setPtr(&j.LeadID, in.Lead)
	set(&j.Cite, in.Cite)
	setPtr(&j.CiteAgreedOn, in.CiteAgreedOn)
	set(&j.Restricted, in.Restricted)
	setPtr(&j.DueOn, in.DueOn)
	set(&j.StandsBetween, in.StandsBetween)
}

// GiveAccess lets a member see a restricted job, or a guest see this one.
type GiveAccess struct {
	Mutation uuid.UUID `json:"-"`
	Job      uuid.UUID
	Member   uuid.UUID
	Allowed  bool // false takes it back
}

// GiveAccess opens a job to a member or takes that back. A restricted job stays open to somebody.
func (s *Service) GiveAccess(ctx context.Context, a domain.Actor, in GiveAccess) (Done, error) {
	return s.write(ctx, &a, domain.Book, "giveAccess", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingJob, j.ID), ref(domain.ThingMember, in.Member))
		if in.Allowed {
			return done, tx.AllowJob(ctx, j.ID, in.Member)
		}
		if err := tx.ForbidJob(ctx, j.ID, in.Member); err != nil || !j.Restricted {
			return done, err
		}
		left, err := tx.JobAccess(ctx, j.ID)
		if err == nil && left == 0 {
			err = domain.Conflictf("Nobody could see this restricted job any more. Open it to somebody else first.")
		}
		return done, err
	})
}
