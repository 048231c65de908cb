package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// ScheduleArea is an area of a whole-boat survey with its items, in order.
type ScheduleArea struct {
	ID    uuid.UUID
	Name  string
	Items []ScheduleItem
}

// ScheduleItem is one thing to examine.
type ScheduleItem struct {
	ID   uuid.UUID
	Name string
}

// Schedule is what a practice examines. Version 0: nothing was ever set.
type Schedule struct {
	Areas   []ScheduleArea
	Version int32
}

// Examination is an item as a visit found it, under the words it was examined under.
type Examination struct {
	ID        uuid.UUID
	VisitID   uuid.UUID
	ItemID    uuid.UUID
	Area      string
	Name      string
	Examined  string // examined, in part, not
	Why       string // needed but for examined
	Condition string
	Note      string
	FindingID *uuid.UUID
	PhotoID   *uuid.UUID
	ByName    string
	At        time.Time
	Version   int32 // 0: new
}

// Valuation is an opinion of value on a day.
type Valuation struct {
	JobID       uuid.UUID
	FigureMinor int64
	Currency    string // ISO 4217
	Basis       string
	ValueOn     time.Time
	Said        string
	Comparables json.RawMessage // [{"name", "is"}]
	ByName      string
	At          time.Time
	Version     int32 // 0: new
}

// AttendanceNote is what was said to whom, when.
type AttendanceNote struct {
	ID           uuid.UUID
	JobID        uuid.UUID
	VisitID      *uuid.UUID
	Kind         string // note, call, talk, verbal outline, message
	At           time.Time
	WithWhom     string
	Text         string
	ByName       string
	WrittenAt    time.Time
	StruckAt     *time.Time
	StruckReason string

	PreviousSurveyor bool // it was talked over with whoever surveyed her before
}

// SurveyBook is what a job's whole-boat survey is written from.
type SurveyBook struct {
	Job          JobLine
	Schedule     Schedule
	Examinations []Examination // the newest of each item last
	Valuation    *Valuation
	Notes        []AttendanceNote // newest first
}

// SurveyBookReader reads survey books.
type SurveyBookReader interface {
	Schedule(ctx context.Context, practice uuid.UUID) (Schedule, error)
	SurveyBook(ctx context.Context, practice, job uuid.UUID, who Sees) (SurveyBook, error)
}

// SurveyBookWriter writes them.
type SurveyBookWriter interface {
	PutSchedule(ctx context.Context, s Schedule) error
	ScheduleItemWords(ctx context.Context, item uuid.UUID) (area, name string, err error)
	PutExamination(ctx context.Context, x Examination, by *uuid.UUID, now time.Time) error
	PutValuation(ctx context.Context, v Valuation, by *uuid.UUID, now time.Time) error
	InsertAttendanceNote(ctx context.Context, n AttendanceNote, by *uuid.UUID, now time.Time) error
	// AttendanceNoteJob finds the job of a note that the actor may see.
	AttendanceNoteJob(ctx context.Context, note uuid.UUID, who Sees) (job uuid.UUID, err error)
	StrikeAttendanceNote(ctx context.Context, note uuid.UUID, reason string, now time.Time) error
}

// Schedule reads what the practice examines in a whole-boat survey.
func (s *Service) Schedule(ctx context.Context, a domain.Actor) (Schedule, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Schedule{}, err
	}
	return s.store.Schedule(ctx, a.Practice)
}

// SurveyBook reads the schedule of a job with what its visits found, its value and notes.
func (s *Service) SurveyBook(ctx context.Context, a domain.Actor, job uuid.UUID) (SurveyBook, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return SurveyBook{}, err
	}
	return s.store.SurveyBook(ctx, a.Practice, job, sees(a))
}

// SetSchedule puts the practice's schedule as it should be, all of it.
type SetSchedule struct {
	Mutation uuid.UUID `json:"-"`
	Schedule Schedule
}

const (
	mostAreas = 60
	mostItems = 600
)

// SetSchedule changes what the practice examines. What is left out is retired: visits
// have examined it, and their words stay.
func (s *Service) SetSchedule(ctx context.Context, a domain.Actor, in SetSchedule) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "setSchedule", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.Schedule.check(); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPractice, a.Practice)), tx.PutSchedule(ctx, in.Schedule)
	})
}

func (s Schedule) check() error {
	if len(s.Areas) > mostAreas {
		return domain.Invalidf("areas", "A schedule has at most %d areas.", mostAreas)
	}
	items, seen := 0, map[uuid.UUID]bool{}
	for k, area := range s.Areas {
		at := fmt.Sprintf("areas[%d]", k)
		if err := named(at, area.ID, area.Name, seen); err != nil {
			return err
		}
		for n, item := range area.Items {
			if err := named(fmt.Sprintf("%s.items[%d]", at, n), item.ID, item.Name, seen); err != nil {
				return err
			}
		}
		items += len(area.Items)
	}
	if items > mostItems {
		return domain.Invalidf("areas", "A schedule has at most %d items.", mostItems)
	}
	return nil
}

func named(at string, id uuid.UUID, name string, seen map[uuid.UUID]bool) error {
	if err := newID(at+".id", id); err != nil {
		return err
	}
	if n := len(strings.TrimSpace(name)); n == 0 || n > 200 {
		return domain.Invalidf(at+".name", "Give it a name of up to 200 letters.")
	}
	if seen[id] {
		return domain.Invalidf(at+".id", "This id is there twice.")
	}
	seen[id] = true
	return nil
}

// ExamineItem is what a visit found of an item.
type ExamineItem struct {
	Mutation    uuid.UUID `json:"-"`
	Examination Examination
}

// ExamineItem keeps whether an item was examined, in part or not and why, its condition,
// and the finding and photo that belong to it.
func (s *Service) ExamineItem(ctx context.Context, a domain.Actor, in ExamineItem) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "examineItem", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		x := in.Examination
		if err := x.check(); err != nil {
			return Done{}, err
		}
		v, err := attended(ctx, tx, a, x.VisitID)
		if err != nil {
			return Done{}, err
		}
		if x.Area, x.Name, err = tx.ScheduleItemWords(ctx, x.ItemID); err != nil {
			return Done{}, err
		}
		if err := findingOf(ctx, tx, a, x.FindingID, v.VesselID); err != nil {
			return Done{}, err
		}
		if x.PhotoID != nil {
			of, err := tx.PhotoVessel(ctx, *x.PhotoID, sees(a))
			if err != nil {
				return Done{}, err
			}
			if of != v.VesselID {
				return Done{}, domain.Invalidf("photo", "This photo is of another vessel.")
			}
		}
		return touched(ref(domain.ThingExamination, x.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingJob, v.JobID)), tx.PutExamination(ctx, x, entered(a), s.instant())
	})
}

func (x Examination) check() error {
	if err := newID("id", x.ID); err != nil {
		return err
	}
	switch {
	case !slices.Contains([]string{"examined", "in part", "not"}, x.Examined):
		return domain.Invalidf("examined", "An item is examined, examined in part, or not.")
	case x.Examined != "examined" && strings.TrimSpace(x.Why) == "":
		return domain.Invalidf("why", "Say why it was not, or not all of it: it stands under the limits of the report.")
	}
	return nil
}

// SetValuation is an opinion of value.
type SetValuation struct {
	Mutation  uuid.UUID `json:"-"`
	Valuation Valuation
}

// SetValuation keeps a job's opinion of value: figure, basis, day, comparables.
func (s *Service) SetValuation(ctx context.Context, a domain.Actor, in SetValuation) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "setValuation", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		v := in.Valuation
		if err := v.check(); err != nil {
			return Done{}, err
		}
		job, err := tx.JobOpenTo(ctx, v.JobID, sees(a))
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingJob, job.ID), ref(domain.ThingVessel, job.VesselID)), tx.PutValuation(ctx, v, entered(a), s.instant())
	})
}

// likeBoat is a boat that a value was held against.
type likeBoat struct {
	Name string `json:"name"`
	Is   string `json:"is"`
}

func (v *Valuation) check() error {
	if strings.TrimSpace(v.Basis) == "" {
		return domain.Invalidf("basis", "Say the basis: between whom, as she lies or otherwise, with what on board.")
	}
	if len(v.Comparables) == 0 || string(v.Comparables) == "null" {
		v.Comparables = json.RawMessage(`[]`)
	}
	var list []likeBoat
	if json.Unmarshal(v.Comparables, &list) != nil || len(list) > 30 || len(v.Comparables) > 20_000 {
		return domain.Invalidf("comparables", "Comparables are up to 30 boats, each with a name and what is known of its price.")
	}
	kept, err := json.Marshal(list)
	v.Comparables = kept
	return err
}

// AddAttendanceNote is something said, heard or written in a job.
type AddAttendanceNote struct {
	Mutation uuid.UUID `json:"-"`
	Note     AttendanceNote
	Unasked  *Unasked `json:",omitempty"`
}

// AddAttendanceNote keeps what was said to whom, when: the verbal outline among it.
func (s *Service) AddAttendanceNote(ctx context.Context, a domain.Actor, in AddAttendanceNote) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "addAttendanceNote", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		n := in.Note
		if err := newID("id", n.ID); err != nil {
			return Done{}, err
		}
		if n.Kind == "verbal outline" && strings.TrimSpace(n.WithWhom) == "" {
			return Done{}, domain.Invalidf("withWhom", "Say to whom: an outline goes to the client alone.")
		}
		if n.At.After(s.instant().Add(5 * time.Minute)) {
			return Done{}, domain.Invalidf("at", "This lies ahead. Say when it was said.")
		}
		if _, err := tx.JobOpenTo(ctx, n.JobID, sees(a)); err != nil {
			return Done{}, err
		}
		if n.VisitID != nil {
			v, err := attended(ctx, tx, a, *n.VisitID)
			if err != nil {
				return Done{}, err
			}
			if v.JobID != n.JobID {
				return Done{}, domain.Invalidf("visit", "This visit belongs to another job.")
			}
		}
		if n.PreviousSurveyor {
			if err := s.leaveFor(ctx, tx, a, act{n.JobID, ref(domain.ThingAttendanceNote, n.ID), []string{"approach the previous surveyor"}, in.Unasked}); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingAttendanceNote, n.ID), ref(domain.ThingJob, n.JobID)), tx.InsertAttendanceNote(ctx, n, entered(a), s.instant())
	})
}

// StrikeAttendanceNote strikes a note out.
type StrikeAttendanceNote struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Reason   string
}

// StrikeAttendanceNote strikes a note out, with a reason. It stays readable.
func (s *Service) StrikeAttendanceNote(ctx context.Context, a domain.Actor, in StrikeAttendanceNote) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "strikeAttendanceNote", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		job, err := tx.AttendanceNoteJob(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Reason) == "" {
			return Done{}, domain.Invalidf("reason", "Say why it is struck out; it stays readable.")
		}
		return touched(ref(domain.ThingAttendanceNote, in.ID), ref(domain.ThingJob, job)), tx.StrikeAttendanceNote(ctx, in.ID, in.Reason, s.instant())
	})
}
