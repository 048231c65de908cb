package practice

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/due"
)

// Reinspection says when a vessel should be seen again, and why.
type Reinspection struct {
	ID             uuid.UUID
	Vessel         VesselLine
	DueFrom        time.Time
	DueTo          time.Time
	Reason         string
	Tag            string // where the interval comes from
	Code           string // the rule, a due.Kind or a grade; empty: entered by hand
	Wants          []string
	WaitsFor       string // launch or access: DueTo is then no date to keep
	DaysAshore     *int32 // of the last reading, to be matched
	Instrument     string // that read her last time
	State          string // due, booked, answered, declined, snoozed
	StateReason    string
	SnoozedUntil   *time.Time
	MovedAt        *time.Time
	MovedBy        string
	RecalledAt     *time.Time
	RecalledTo     string
	BookedJob      *uuid.UUID
	BookedNumber   string
	AnsweredJob    *uuid.UUID
	AnsweredNumber string
	Recommendation *uuid.UUID
	Grade          string
	Recommended    string
	Version        int32
}

// ReinspectionCounts tells how many stand where. Overdue ones are among the due.
type ReinspectionCounts struct {
	Due, Overdue, Later, Waiting, Booked, Snoozed, Declined, Answered int64
}

// ReinspectionReader reads reinspections.
type ReinspectionReader interface {
	// Reinspections lists those of one standing, that end first first; one more than page.First where there are more.
	Reinspections(ctx context.Context, practice uuid.UUID, show string, afterDue, now time.Time, page Page, who Sees) ([]Reinspection, ReinspectionCounts, error)
	Reinspection(ctx context.Context, practice, id uuid.UUID, now time.Time, who Sees) (Reinspection, error)
	// ReinspectionSettings reads the rules and how the practice recalls, with its own figures.
	ReinspectionSettings(ctx context.Context, practice uuid.UUID) (ReinspectionSettings, error)
	// Recall reads whom a letter about a vessel goes to and what it may tell.
	Recall(ctx context.Context, practice, vessel uuid.UUID, party *uuid.UUID, now time.Time, who Sees) (Recall, error)
	RecallsDue(ctx context.Context, practice uuid.UUID, ahead int32, now time.Time) ([]RecallDue, error)
}

// ReinspectionWriter writes reinspections.
type ReinspectionWriter interface {
	ReinspectionFacts(ctx context.Context, job uuid.UUID) (f ReinspectionFacts, visited bool, err error)
	OpenAdvice(ctx context.Context, vessel uuid.UUID) ([]OpenAdvice, error)
	OpenReinspections(ctx context.Context, vessel uuid.UUID) ([]OpenReinspection, error)
	InsertReinspection(ctx context.Context, r NewReinspection, now time.Time) error
	Reinspection(ctx context.Context, id uuid.UUID, now time.Time, who Sees) (Reinspection, error)
	MoveReinspection(ctx context.Context, m MoveReinspection, by *uuid.UUID, now time.Time) error
	AnswerReinspections(ctx context.Context, job uuid.UUID, answers []Answered, by *uuid.UUID, now time.Time) error
	// AnswerReinspectionsOf answers what a recommendation asked to see.
	AnswerReinspectionsOf(ctx context.Context, recommendation uuid.UUID, note string, by *uuid.UUID, now time.Time) error
	InsertGuarantee(ctx context.Context, g Guarantee, now time.Time) error
	ReinspectionSettings(ctx context.Context) (ReinspectionSettings, error)
	KeepReinspectionSettings(ctx context.Context, s ReinspectionSettings) error
	Recall(ctx context.Context, vessel, party uuid.UUID, now time.Time, who Sees) (Recall, error)
	MarkRecalled(ctx context.Context, ids []uuid.UUID, party uuid.UUID, now time.Time) error
}

// Shows are the standings by which reinspections are listed.
var Shows = []string{"due", "overdue", "later", "waiting", "booked", "snoozed", "declined", "answered"}

// firstDay is before every day that a list is ordered by.
var firstDay = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)

// Reinspections lists a page of those of one standing, that end first first, with how
// many stand where.
func (s *Service) Reinspections(ctx context.Context, a domain.Actor, show string, page Page) ([]Reinspection, ReinspectionCounts, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, ReinspectionCounts{}, err
	}
	if err := page.check(); err != nil {
		return nil, ReinspectionCounts{}, err
	}
	after := firstDay
	if page.AfterText != "" {
		var err error
		if after, err = time.Parse(time.DateOnly, page.AfterText); err != nil {
			return nil, ReinspectionCounts{}, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
		}
	}
	return s.store.Reinspections(ctx, a.Practice, show, after, s.instant(), page, sees(a))
}

// Reinspection reads one.
func (s *Service) Reinspection(ctx context.Context, a domain.Actor, id uuid.UUID) (Reinspection, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Reinspection{}, err
	}
	return s.store.Reinspection(ctx, a.Practice, id, s.instant(), sees(a))
}

// NewReinspection is a window to be kept.
type NewReinspection struct {
	ID             uuid.UUID
	Vessel         uuid.UUID
	Recommendation *uuid.UUID
	Report         *uuid.UUID
	From, To       time.Time
	Reason, Tag    string
	Code           string
	Wants          []string
	WaitsFor       string
	DaysAshore     *int32
	Instrument     *uuid.UUID
}

// AddReinspection is a window entered by hand.
type AddReinspection struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Vessel   uuid.UUID
	From, To time.Time
	Reason   string
}

// AddReinspection notes by hand that a vessel should be seen again.
func (s *Service) AddReinspection(ctx context.Context, a domain.Actor, in AddReinspection) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addReinspection", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Reason) == "" {
			return Done{}, domain.Invalidf("reason", "Say why she should be seen again.")
		}
		if in.To.Before(in.From) {
			return Done{}, domain.Invalidf("to", "The window ends before it begins.")
		}
		if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		r := NewReinspection{ID: in.ID, Vessel: in.Vessel, From: in.From, To: in.To, Reason: in.Reason, Tag: "entered by hand"}
		return touched(ref(domain.ThingReinspection, in.ID), ref(domain.ThingVessel, in.Vessel)), tx.InsertReinspection(ctx, r, s.instant())
	})
}

// MoveReinspection moves a reinspection on.
type MoveReinspection struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	State    string // due, booked, declined or snoozed
	Reason   string
	Until    *time.Time // of snoozed
	Job      *uuid.UUID // of booked
}

// MoveReinspection books, puts off or declines a reinspection, or takes that back. Who
// puts off or declines gives the reason. Only a survey, or somebody who saw it done,
// answers one.
func (s *Service) MoveReinspection(ctx context.Context, a domain.Actor, in MoveReinspection) (Done, error) {
	return s.write(ctx, &a, domain.Book, "moveReinspection", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		r, err := tx.Reinspection(ctx, in.ID, now, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := in.check(r, now); err != nil {
			return Done{}, err
		}
		if in.State == "booked" {
			job, err := tx.JobOpenTo(ctx, *in.Job, sees(a))
			if err != nil {
				return Done{}, err
			}
			if job.VesselID != r.Vessel.ID {
				return Done{}, domain.Invalidf("job", "That job is of another vessel.")
			}
		}
		return touched(ref(domain.ThingReinspection, r.ID), ref(domain.ThingVessel, r.Vessel.ID)), tx.MoveReinspection(ctx, in, entered(a), now)
	})
}

func (in *MoveReinspection) check(r Reinspection, now time.Time) error {
	in.Reason = strings.TrimSpace(in.Reason)
	if in.State != "snoozed" {
		in.Until = nil
	}
	if in.State != "booked" {
		in.Job = nil
	}
	switch {
	case r.State == "answered":
		return domain.Conflictf("A survey has answered this. Note a new one by hand if she should be seen again.")
	case in.State == "snoozed" && in.Reason == "":
		return domain.Invalidf("reason", "Say why it is put off; the reason stays with it.")
	case in.State == "declined" && in.Reason == "":
		return domain.Invalidf("reason", "Say why it is declined, and by whom; the reason stays with it.")
	case in.State == "snoozed" && (in.Until == nil || !in.Until.After(now)):
		return domain.Invalidf("until", "Say until which day, in the future.")
	case in.State == "booked" && in.Job == nil:
		return domain.Invalidf("job", "Say in which job she will be seen.")
	case in.State == "due" || in.State == "booked" || in.State == "snoozed" || in.State == "declined":
		return nil
	}
	return domain.Invalidf("state", "It can be due, booked, snoozed or declined. A survey answers it.")
}

// Guarantee is a guarantee on a treatment or a repair.
type Guarantee struct {
	ID      uuid.UUID
	Vessel  uuid.UUID
	What    string
	GivenBy string
	EndsOn  time.Time
	Source  string
}

// AddGuarantee is a guarantee to be diaried.
type AddGuarantee struct {
	Mutation  uuid.UUID `json:"-"`
	Guarantee Guarantee
}

// AddGuarantee keeps a guarantee and diaries a look before it ends, by the practice's
// rule: three months ahead unless that was changed.
func (s *Service) AddGuarantee(ctx context.Context, a domain.Actor, in AddGuarantee) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addGuarantee", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		g := in.Guarantee
		if err := newID("id", g.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(g.What) == "" {
			return Done{}, domain.Invalidf("what", "Say what is guaranteed.")
		}
		if _, err := tx.Vessel(ctx, g.Vessel); err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := tx.InsertGuarantee(ctx, g, now); err != nil {
			return Done{}, err
		}
		settings, err := tx.ReinspectionSettings(ctx)
		if err != nil {
			return Done{}, err
		}
		p, err := tx.Practice(ctx)
		if err != nil {
			return Done{}, err
		}
		windows, err := guaranteed(g, settings, day(now.In(Zone(p.TimeZone))))
		if err != nil {
			return Done{}, err
		}
		for _, w := range windows {
			if err := tx.InsertReinspection(ctx, w, now); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingGuarantee, g.ID), ref(domain.ThingVessel, g.Vessel)), nil
	})
}

// guaranteed is the window before a guarantee ends. One that ends sooner than the rule
// asks is looked at from now until its end.
func guaranteed(g Guarantee, settings ReinspectionSettings, today time.Time) ([]NewReinspection, error) {
	plan, err := due.Work(due.Hull{Visited: today, GuaranteeEnd: g.EndsOn, DaysAshore: -1}, settings.Due())
	if err != nil {
		return nil, err
	}
	reason := "The guarantee on " + g.What + " ends on " + g.EndsOn.Format("2 January 2006") + "; a defect has to be found while it still runs."
	var list []NewReinspection
	for _, v := range plan.Visits {
		for _, w := range v.Windows {
			list = append(list, NewReinspection{ID: derived("guarantee "+w.Latest.Format(time.DateOnly), g.ID), Vessel: g.Vessel, From: w.Earliest, To: w.Latest, Reason: reason, Tag: w.Tag, Code: w.Code})
		}
	}
	if len(list) == 0 && !g.EndsOn.Before(today) {
		list = append(list, NewReinspection{ID: derived("guarantee", g.ID), Vessel: g.Vessel, From: today, To: g.EndsOn, Reason: reason, Tag: "the guarantee's own end", Code: string(due.Guarantee)})
	}
	return list, nil
}
