package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Visit is one attendance, as its writer sees it.
type Visit struct {
	ID       uuid.UUID
	JobID    uuid.UUID
	VesselID uuid.UUID
	SpellID  *uuid.UUID
	Kind     string
	From     time.Time
	To       time.Time
	TimeZone string
	State    string // planned, done or cancelled
	LeadID   *uuid.UUID
	Note     string
	Version  int32
}

// VisitParts says what of a visit a reader wants beside itself.
type VisitParts struct {
	Spell, Conditions, Passes, Findings, Windows, Photos, Invited, Marks bool
}

// VisitPage is a visit with the parts that were asked for.
type VisitPage struct {
	VisitLine
	Note       string
	Version    int32
	Job        JobLine
	Spell      *Spell
	Conditions []Condition
	Passes     []PassPage
	Findings   []Finding
	Windows    []Window
	Photos     []Photo
	Invited    []Invited // by mail, the last letter to each
	Marks      []HullMarks
}

// VisitReader reads visits.
type VisitReader interface {
	Visit(ctx context.Context, practice, id uuid.UUID, want VisitParts, who Sees) (VisitPage, error)
	Visits(ctx context.Context, practice uuid.UUID, from, to time.Time, everyones bool, who Sees) ([]VisitLine, error)
}

// VisitWriter writes visits.
type VisitWriter interface {
	// Visit reads a visit of a job that the actor may see and holds it until the transaction ends.
	Visit(ctx context.Context, id uuid.UUID, who Sees) (Visit, error)
	InsertVisit(ctx context.Context, v PlanVisit) error
	UpdateVisit(ctx context.Context, v Visit) error
	// BookVisit writes down whose time and which instruments a visit takes, as it now stands.
	BookVisit(ctx context.Context, v Visit, b Booked) error
	// SpellVessel tells whose a time ashore is and keeps it from moving until the transaction ends.
	SpellVessel(ctx context.Context, spell uuid.UUID) (vessel uuid.UUID, err error)
}

// Visit reads a visit with the parts asked for, in one trip.
func (s *Service) Visit(ctx context.Context, a domain.Actor, id uuid.UUID, want VisitParts) (VisitPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return VisitPage{}, err
	}
	page, err := s.store.Visit(ctx, a.Practice, id, want, sees(a))
	if err != nil {
		return page, err
	}
	for k := range page.Conditions {
		page.Conditions[k].judge()
	}
	for k := range page.Passes {
		page.Passes[k].judge(page.Passes[k].Axis)
	}
	return page, s.address(ctx, page.Photos)
}

// Visits lists the visits that touch a span of time, by their start; mine leaves out
// those that the actor neither leads nor goes along to.
func (s *Service) Visits(ctx context.Context, a domain.Actor, from, to time.Time, mine bool) ([]VisitLine, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	return s.store.Visits(ctx, a.Practice, from, to, !mine, sees(a))
}

// PlanVisit is a new visit of a job.
type PlanVisit struct {
	Mutation            uuid.UUID `json:"-"`
	ID                  uuid.UUID
	Job                 uuid.UUID
	Spell               *uuid.UUID
	Kind                string
	From                time.Time
	To                  time.Time
	TimeZone            string
	Lead                *uuid.UUID
	Follows             *uuid.UUID // the visit this one waits for
	FollowsReason       string
	DaysAshoreAsWritten string // of old reports, where no spell is known
	DatePrecision       string `json:",omitempty"` // how far its date is known: empty or instant, day, month, year
	DateAsWritten       string `json:",omitempty"` // of old reports
	Note                string
	People              []uuid.UUID `json:",omitempty"` // who goes along, beside the lead
	Instruments         []uuid.UUID `json:",omitempty"` // which it takes
	Overrides           []Override  `json:",omitempty"` // what stands against it and is let pass
}

// longestVisit is how long one attendance may last.
const longestVisit = 31 * 24 * time.Hour

// visitNamed names a kind of visit within a sentence.
func visitNamed(kind string) string {
	switch kind {
	case "", "other":
		return "visit"
	case "inside", "completion":
		return kind + " visit"
	}
	return kind
}

// PlanVisit plans a visit, or records one that was. Its lead may see the job.
func (s *Service) PlanVisit(ctx context.Context, a domain.Actor, in PlanVisit) (Done, error) {
	return s.write(ctx, &a, domain.Book, "planVisit", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := zone("timeZone", in.TimeZone); err != nil {
			return Done{}, err
		}
		if err := in.date(s.instant()); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := spellFits(ctx, tx, in.Spell, j.VesselID); err != nil {
			return Done{}, err
		}
		if err := followsOwn(ctx, tx, a, in); err != nil {
			return Done{}, err
		}
		if err := tx.InsertVisit(ctx, in); err != nil {
			return Done{}, err
		}
		v := Visit{ID: in.ID, JobID: j.ID, VesselID: j.VesselID, From: in.From, To: in.To, State: in.State(), LeadID: in.Lead}
		if err := s.book(ctx, tx, v, Booked{People: in.People, Instruments: in.Instruments}, sees(a)); err != nil {
			return Done{}, err
		}
		if err := s.override(ctx, tx, a, v.ID, in.Overrides); err != nil {
			return Done{}, err
		}
		return visitDone(v).tell(telling{What: toldBooked, Job: &v.JobID, Visit: &v.ID}), s.standsExplained(ctx, tx, v, sees(a))
	})
}

func visitDone(v Visit) Done {
	return touched(ref(domain.ThingVisit, v.ID), ref(domain.ThingJob, v.JobID), ref(domain.ThingVessel, v.VesselID))
}

func checkTimes(from, to time.Time) error {
	if !from.Before(to) {
		return domain.Invalidf("to", "The visit ends before it begins.")
	}
	if to.Sub(from) > longestVisit {
		return domain.Invalidf("to", "A visit lasts at most 31 days. Plan several.")
	}
	return nil
}

// spellFits refuses a time ashore of another vessel.
func spellFits(ctx context.Context, tx Tx, spell *uuid.UUID, vessel uuid.UUID) error {
	if spell == nil {
		return nil
	}
	of, err := tx.SpellVessel(ctx, *spell)
	if err != nil {
		return err
	}
	if of != vessel {
		return domain.Invalidf("spell", "This time ashore belongs to another vessel.")
	}
	return nil
}

// followsOwn refuses to wait for another job's visit, or for one that comes later.
func followsOwn(ctx context.Context, tx Tx, a domain.Actor, in PlanVisit) error {
	if in.Follows == nil {
		return nil
	}
	before, err := tx.Visit(ctx, *in.Follows, sees(a))
	if err != nil {
		return err
	}
	if before.JobID != in.Job {
		return domain.Invalidf("follows", "The visit to wait for must be one of the same job.")
	}
	if in.From.Before(before.From) {
		return domain.Invalidf("from", "This visit waits for the one of %s, which comes later.", before.From.Format(time.DateOnly))
	}
	return nil
}

// book lets those who make a visit see its job and writes down whose time it takes and
// which instruments, where they are free and she is ashore.
func (s *Service) book(ctx context.Context, tx Tx, v Visit, b Booked, who Sees) error {
	b.Now = s.instant()
	for _, member := range b.People {
		if err := tx.AllowJob(ctx, v.JobID, member); err != nil {
			return err
		}
	}
	if v.LeadID != nil {
		if err := tx.AllowJob(ctx, v.JobID, *v.LeadID); err != nil {
			return err
		}
	}
	if err := isFree(ctx, tx, v, b, who); err != nil {
		return err
	}
	if err := staysInSpell(ctx, tx, v.ID, who); err != nil {
		return err
	}
	if err := tx.BookVisit(ctx, v, b); err != nil {
		return err
	}
	return s.tellInvited(ctx, tx, v.ID, who)
}

// EditVisit is a change to a visit; nil leaves a field as it is.
type EditVisit struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Spell    *uuid.UUID
	From     *time.Time
	To       *time.Time
	State    *string
	Lead     *uuid.UUID
	Note     *string

	People      *[]uuid.UUID `json:",omitempty"` // who goes along, beside the lead
	Instruments *[]uuid.UUID `json:",omitempty"`
	Overrides   []Override   `json:",omitempty"` // what stands against it and is let pass
}

// EditVisit moves a visit, hands it to somebody else, or says that it was made or called off.
func (s *Service) EditVisit(ctx context.Context, a domain.Actor, in EditVisit) (Done, error) {
	do := domain.Book
	if domain.May(a, do) != nil && in.onTheSpot() {
		do = domain.WriteVisit
	}
	return s.write(ctx, &a, do, "editVisit", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		v, err := tx.Visit(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		before := v
		in.apply(&v)
		if in.From != nil || in.To != nil { // one of an old report may be known to a year
			if err := checkTimes(v.From, v.To); err != nil {
				return Done{}, err
			}
		}
		if err := spellFits(ctx, tx, v.SpellID, v.VesselID); err != nil {
			return Done{}, err
		}
		if err := tx.UpdateVisit(ctx, v); err != nil {
			return Done{}, err
		}
		if err := s.book(ctx, tx, v, Booked{LeadBefore: before.LeadID, People: given(in.People), Instruments: given(in.Instruments)}, sees(a)); err != nil {
			return Done{}, err
		}
		if err := s.override(ctx, tx, a, v.ID, in.Overrides); err != nil {
			return Done{}, err
		}
		if in.placesAnew(before) {
			if err := s.standsExplained(ctx, tx, v, sees(a)); err != nil {
				return Done{}, err
			}
		}
		return in.tells(before, v), nil
	})
}

// placesAnew tells whether the change is to when, where, by whom or with what it is made: a
// note on a visit is asked for no reasons.
func (in EditVisit) placesAnew(before Visit) bool {
	return in.From != nil || in.To != nil || in.Spell != nil || in.Lead != nil || in.People != nil || in.Instruments != nil || in.State != nil && before.State != "planned"
}

// tells is what the visit's people should hear of: that it moved, is called off, or became
// theirs; and whoever led it, that somebody else does now.
func (in EditVisit) tells(before, v Visit) Done {
	t := telling{Job: &v.JobID, Visit: &v.ID}
	led := before.LeadID != nil && (v.LeadID == nil || *v.LeadID != *before.LeadID)
	done := visitDone(v)
	if led {
		done = done.tell(telling{What: toldHandedOn, Job: &v.JobID, Visit: &v.ID, Members: []uuid.UUID{*before.LeadID}, Only: true})
	}
	switch {
	case v.State == "cancelled" && before.State != "cancelled":
		t.What = toldCalledOff
	case !v.From.Equal(before.From) || !v.To.Equal(before.To):
		t.What = toldMoved
	case led || in.Lead != nil && before.LeadID == nil || in.People != nil:
		t.What = toldPeople
	default:
		return done
	}
	return done.tell(t)
}

// onTheSpot tells whether the change is one that whoever made the visit may make: that
// it was made, and a note.
func (in EditVisit) onTheSpot() bool {
	return in.From == nil && in.To == nil && in.Lead == nil && in.Spell == nil && in.People == nil && in.Instruments == nil && in.Overrides == nil && (in.State == nil || *in.State == "done")
}

// given is a list that was named, never nil; nil where it was left out.
func given(list *[]uuid.UUID) []uuid.UUID {
	if list == nil {
		return nil
	}
	return append([]uuid.UUID{}, *list...)
}

func (in EditVisit) apply(v *Visit) {
	v.Version = in.Version
	setPtr(&v.SpellID, in.Spell)
	set(&v.From, in.From)
	set(&v.To, in.To)
	set(&v.State, in.State)
	setPtr(&v.LeadID, in.Lead)
	set(&v.Note, in.Note)
}
