package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// FileYearsHabit is how long files stay where a practice states nothing, with where the
// figure comes from.
const (
	FileYearsHabit    = 15
	FileYearsHabitTag = "15 years is the longest time of a claim in negligence in England and Wales (6 from the damage, or 3 from knowing of it; a simple contract 6, a deed 12), read in a published summary. Other places differ: local law and counsel come first."
)

// Retention is for how many years a practice keeps files, as it states it itself with the
// jurisdiction that it goes by; what has passed its time; and what went.
type Retention struct {
	FileYears           int32 // from the last visit, issue or addendum of a job
	FileJurisdiction    string
	InvoiceYears        *int32 // from the last invoice of a job; nil: as the file
	InvoiceJurisdiction string
	PeopleYears         *int32 // of people with no file, from the last that was heard of them; nil: nobody said
	PeopleJurisdiction  string
	SetAt               *time.Time // nil: the habit stands
	SetBy               string
	Version             int32 // 0: nothing is kept yet

	Files  []DueFile
	People []DuePerson
	Gone   []Erasure // the latest first
}

// DueFile is the file of a job whose time is over.
type DueFile struct {
	Job    uuid.UUID
	Number string
	Vessel string
	Kind   string
	DueOn  time.Time
	Held   bool
}

// DuePerson is somebody without a file whose time is over.
type DuePerson struct {
	Party uuid.UUID
	Name  string
	DueOn time.Time
	Held  bool
}

// Erasure is what went, when and by whom: counts and no names.
type Erasure struct {
	ID            uuid.UUID
	Kind          string // person, member or file
	Party         *uuid.UUID
	Member        *uuid.UUID
	Job           *uuid.UUID
	Reason        string
	Counts        map[string]int64 // rows by table; as it is read, by what they are in words
	Keys          []string         // in the store of files, still to be removed
	Objects       int32            // how many there were
	At            time.Time
	By            string
	ObjectsGoneAt *time.Time
}

// mostDue is how much of what is due, or went, is listed at a time.
const mostDue = 200

// RetentionReader reads for how long files are kept.
type RetentionReader interface {
	// Retention reads the practice's own statement, and what is due on a day.
	Retention(ctx context.Context, practice uuid.UUID, today time.Time, most int, who Sees) (Retention, error)
}

// RetentionWriter writes it.
type RetentionWriter interface {
	SetRetention(ctx context.Context, in EditRetention, by *uuid.UUID, now time.Time) error
	// FileToErase reads a job whose file somebody wishes to erase, and holds it.
	FileToErase(ctx context.Context, job uuid.UUID, who Sees) (FileToErase, error)
	// EraseFile takes out what identifies people, and the words of what was issued. The
	// database refuses it before its time, and while a hold stands.
	EraseFile(ctx context.Context, job uuid.UUID, words string, now time.Time) (Erased, error)
}

// Retention reads for how long files are kept, what has passed its time and what went.
// Nothing erases itself: a person decides.
func (s *Service) Retention(ctx context.Context, a domain.Actor) (Retention, error) {
	if err := domain.May(a, domain.KeepPrivacy); err != nil {
		return Retention{}, err
	}
	return s.store.Retention(ctx, a.Practice, s.instant(), mostDue, sees(a))
}

// EditRetention is the practice's own statement; it is written whole.
type EditRetention struct {
	Mutation            uuid.UUID `json:"-"`
	Version             int32     // 0 where nothing is kept yet
	FileYears           int32
	FileJurisdiction    string
	InvoiceYears        *int32
	InvoiceJurisdiction string
	PeopleYears         *int32
	PeopleJurisdiction  string
}

// EditRetention keeps for how many years files stay.
func (s *Service) EditRetention(ctx context.Context, a domain.Actor, in EditRetention) (Done, error) {
	return s.write(ctx, &a, domain.KeepPrivacy, "editRetention", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingPractice, a.Practice)), tx.SetRetention(ctx, in, entered(a), s.instant())
	})
}

// FileToErase is a job whose file somebody wishes to erase.
type FileToErase struct {
	Number   string
	Stage    string
	DueOn    time.Time
	ErasedAt *time.Time
	Held     bool
}

// EraseFile erases the file of a job whose time is over.
type EraseFile struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the erasure
	Job      uuid.UUID
	Reason   string
	Number   string // of the job, typed
}

// EraseFile takes names, notes and the words of reports out of a job's file whose time is
// over; their bytes go from the store. Numbers, dates, amounts, hashes and the record of
// changes stay, and so does the hull's own record.
func (s *Service) EraseFile(ctx context.Context, a domain.Actor, in EraseFile) (Done, error) {
	return s.write(ctx, &a, domain.KeepPrivacy, "eraseFile", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		f, err := tx.FileToErase(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := f.mayGo(in, now); err != nil {
			return Done{}, err
		}
		words, err := erasedWords(ctx, tx, now)
		if err != nil {
			return Done{}, err
		}
		gone, err := tx.EraseFile(ctx, in.Job, words, now)
		if err != nil {
			return Done{}, err
		}
		e := Erasure{ID: in.ID, Kind: "file", Job: &in.Job, Reason: in.Reason, At: now}
		return touched(ref(domain.ThingErasure, in.ID), ref(domain.ThingJob, in.Job)), s.note(ctx, tx, a, e, gone)
	})
}

func (f FileToErase) mayGo(in EraseFile, now time.Time) error {
	switch {
	case f.ErasedAt != nil:
		return domain.Conflictf("The file of this job was erased already.")
	case f.Held:
		return errHeld
	case f.Stage != "issued" && f.Stage != "closed" && f.Stage != "cancelled":
		return domain.Conflictf("Job %s is still under way. Close or cancel it first.", f.Number)
	case f.DueOn.After(now):
		return domain.Conflictf("The time of this file is over on %s, not before.", f.DueOn.Format("2 January 2006"))
	case in.Number != f.Number:
		return domain.Invalidf("number", "Type the job's number as it stands above.")
	}
	return because(in.Reason)
}

const goneWords = "The time of this file was over, and the words and the files of this report were erased. Its number, its day and its hashes stay: whoever holds the file can still ask whether it is as it was issued."

// gone tells whether the words of an issued report were erased with its file.
func (p ReportPage) gone() bool { return p.IssuedAt != nil && len(p.Content) == 0 }

// tombstone is what is shown where the words of a report were.
func (p ReportPage) tombstone() report.Report {
	return report.Report{
		Issue: report.Issue{Number: p.Number, At: *p.IssuedAt}, GeneratedAt: *p.IssuedAt, Kind: p.Title,
		InShort: []report.Sentence{{Claim: report.Untold, Runs: []report.Run{{Text: goneWords}}}},
	}
}
