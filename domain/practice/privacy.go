package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// PersonKept is what the practice keeps about one party, as it is shown before anything is
// erased: what goes, what stays and on which ground.
type PersonKept struct {
	Name     string
	Kind     string
	IsYard   bool
	ErasedAt *time.Time
	Rows     []KeptRows
	Files    []PersonFile
	Exports  []ExportNote
	Held     bool
	Shut     bool // a restricted job is among the files that the reader is not let into

	SameAddress, SameName bool // somebody else of the practice has the same
}

// Notes says in sentences what is told apart by hand.
func (k PersonKept) Notes() (list []string) {
	if k.SameAddress {
		list = append(list, "Somebody else here has the same e-mail address. Letters, links and accounts that name the address alone are nobody's for certain: they stay, and are in no export.")
	}
	if k.SameName {
		list = append(list, "Somebody else here has the same name. In jobs where both have a part, notes are counted as those of either.")
	}
	return list
}

// KeptRows is how much of one kind is kept.
type KeptRows struct {
	Table string
	What  string // in words
	Count int64
	Goes  string // what an erasure does; empty: nothing
	Stays string // what stays, and on which ground; empty: nothing
}

// PersonFile is the file of a job in which somebody has a part.
type PersonFile struct {
	Job    uuid.UUID
	Number string
	Vessel string
	Stage  string
	DueOn  time.Time // what was issued stays until then
	Gone   bool      // erased already
}

// open tells whether work on it is still to come.
func (f PersonFile) open() bool {
	return f.Stage != "issued" && f.Stage != "closed" && f.Stage != "cancelled"
}

// ExportNote says that what is kept about somebody was exported.
type ExportNote struct {
	At time.Time
	By string
}

// KeptRow is one row that the practice keeps about somebody.
type KeptRow struct {
	Table string
	What  string
	Row   json.RawMessage
}

// Erased is what an erasure came to.
type Erased struct {
	Counts map[string]int64 // rows by table
	Keys   []string         // of objects in the store that are to be removed
}

// ErasedLink says when the details of the person were erased whom a link was for.
type ErasedLink struct {
	Practice string
	Zone     string
	At       time.Time
}

// PrivacyReader reads what is kept about people.
type PrivacyReader interface {
	PersonKept(ctx context.Context, practice, party uuid.UUID, who Sees) (PersonKept, error)
	// PersonRows gives every row about somebody, as they stand at one moment, and the keys of
	// the pictures that he or she sent, with their names in the archive.
	PersonRows(ctx context.Context, practice, party uuid.UUID, row func(KeptRow) error) (pictures map[string]string, err error)
	// ErasedLink answers NotFound where the secret is of no link whose person was erased.
	ErasedLink(ctx context.Context, hash [32]byte) (ErasedLink, error)
	// ErasedKeys lists what an erasure still has to take from the store.
	ErasedKeys(ctx context.Context, practice, erasure uuid.UUID) ([]string, error)
	MemberKept(ctx context.Context, practice, member uuid.UUID) (MemberKept, error)
}

// PrivacyWriter erases.
type PrivacyWriter interface {
	// PersonToErase reads somebody and holds the row.
	PersonToErase(ctx context.Context, party uuid.UUID, who Sees) (PersonKept, error)
	// ErasePerson takes out what identifies somebody. The database refuses it while a hold stands.
	ErasePerson(ctx context.Context, party uuid.UUID, words string, now time.Time) (Erased, error)
	MemberToErase(ctx context.Context, member uuid.UUID) (MemberKept, error)
	EraseMember(ctx context.Context, member uuid.UUID, words string, now time.Time) (Erased, error)
	InsertErasure(ctx context.Context, e Erasure, by *uuid.UUID) error
	ObjectsGone(ctx context.Context, erasure uuid.UUID, now time.Time) error
	InsertPersonExport(ctx context.Context, id, party uuid.UUID, by *uuid.UUID, now time.Time) error
}

// BackupsWords says of every erasure what it does not reach.
const BackupsWords = "Copies of the database made for recovery, its journal, and letters that have arrived still hold what is erased here. " +
	"Copies are replaced in their turn by whoever runs the service; one that is put back is gone over with the list of erasures before anybody works with it."

// PersonKept reads what the practice keeps about one party.
func (s *Service) PersonKept(ctx context.Context, a domain.Actor, party uuid.UUID) (PersonKept, error) {
	if err := domain.May(a, domain.KeepPrivacy); err != nil {
		return PersonKept{}, err
	}
	return s.store.PersonKept(ctx, a.Practice, party, sees(a))
}

// Stops says in sentences what stands in the way of an erasure; nothing where nothing does.
func (k PersonKept) Stops() (list []string) {
	if k.ErasedAt != nil {
		return []string{"The details of this person are erased already."}
	}
	if k.Kind != "person" {
		list = append(list, "An organisation is no person. Take out by hand what names somebody in it.")
	}
	if k.IsYard {
		list = append(list, "Boats stand at this yard. A yard is not erased.")
	}
	for _, f := range k.Files {
		if f.open() {
			list = append(list, fmt.Sprintf("Job %s is still under way. Close or cancel it first.", f.Number))
		}
	}
	if k.Held {
		list = append(list, heldWords)
	}
	if k.Shut {
		list = append(list, shutWords)
	}
	return list
}

const shutWords = "A restricted job is among the files of this person. Somebody who is let into it exports or erases."

const heldWords = "A hold stands on this file. While it stands nothing of it is erased."

var errHeld error = &domain.Fault{Kind: domain.Conflict, Text: heldWords}

// ErasePerson erases what identifies a person.
type ErasePerson struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the erasure
	Party    uuid.UUID
	Reason   string
	Name     string // the person's, typed
}

// ErasePerson takes out what identifies a person: name, addresses, letters, links, accounts,
// answers and notes. What was issued stays as it was issued until its file's time is over;
// the hull's record, numbers, hashes and the record of changes stay. It cannot be taken back.
func (s *Service) ErasePerson(ctx context.Context, a domain.Actor, in ErasePerson) (Done, error) {
	asked := in // the name goes with the person: the record keeps a hash of the rest
	asked.Name = ""
	return s.write(ctx, &a, domain.KeepPrivacy, "erasePerson", in.Mutation, asked, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		k, err := tx.PersonToErase(ctx, in.Party, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := mayErase(k.Stops(), k.Name, in.Name, in.Reason); err != nil {
			return Done{}, err
		}
		now := s.instant()
		words, err := erasedWords(ctx, tx, now)
		if err != nil {
			return Done{}, err
		}
		gone, err := tx.ErasePerson(ctx, in.Party, words, now)
		if err != nil {
			return Done{}, err
		}
		e := Erasure{ID: in.ID, Kind: "person", Party: &in.Party, Reason: in.Reason, At: now}
		return touched(ref(domain.ThingErasure, in.ID), ref(domain.ThingParty, in.Party)), s.note(ctx, tx, a, e, gone)
	})
}

// mayErase refuses what something stands in the way of, a name that is not typed as it
// stands, and a reason that would keep it.
func mayErase(stops []string, name, typed, reason string) error {
	if len(stops) > 0 {
		return domain.Conflictf("%s", strings.Join(stops, " "))
	}
	if !strings.EqualFold(strings.Join(strings.Fields(typed), " "), strings.Join(strings.Fields(name), " ")) {
		return domain.Invalidf("name", "Type the name as it stands above: what is erased does not come back.")
	}
	if err := because(reason); err != nil {
		return err
	}
	if strings.Contains(strings.ToLower(reason), strings.ToLower(strings.TrimSpace(name))) {
		return domain.Invalidf("reason", "The reason is kept: leave the name out of it.")
	}
	return nil
}

// erasedWords is what stands where somebody was named, with the day in the practice's zone.
func erasedWords(ctx context.Context, tx Tx, now time.Time) (string, error) {
	p, err := tx.Practice(ctx)
	return "a person whose details were erased on " + now.In(Zone(p.TimeZone)).Format("2 January 2006"), err
}

// note keeps what an erasure came to, and asks for the job that takes its objects away.
func (s *Service) note(ctx context.Context, tx Tx, a domain.Actor, e Erasure, gone Erased) error {
	e.Reason = strings.TrimSpace(e.Reason)
	e.Counts, e.Keys, e.Objects = gone.Counts, gone.Keys, int32(len(gone.Keys))
	if len(e.Keys) == 0 {
		e.ObjectsGoneAt = &e.At
	}
	if err := tx.InsertErasure(ctx, e, entered(a)); err != nil || len(e.Keys) == 0 {
		return err
	}
	return tx.Enqueue(ctx, JobEraseObjects, EraseJob{a.Practice, e.ID}, e.At)
}

// JobEraseObjects is the kind of the job that takes the objects of an erasure from the store.
const JobEraseObjects = "erase-objects"

// EraseJob is that job's arguments.
type EraseJob struct {
	Practice uuid.UUID `json:"practice"`
	Erasure  uuid.UUID `json:"erasure"`
}

// EraseObjects takes from the store what an erasure names, looks that it is gone, and notes
// it. It may run again after any fault.
func (s *Service) EraseObjects(ctx context.Context, job EraseJob) error {
	if s.objects == nil {
		return errNoObjects
	}
	keys, err := s.store.ErasedKeys(ctx, job.Practice, job.Erasure)
	if err != nil || len(keys) == 0 {
		return err
	}
	for _, key := range keys {
		if err := s.objects.Remove(ctx, key); err != nil {
			return err
		}
		if _, err := s.objects.Stat(ctx, key); domain.KindOf(err) != domain.NotFound {
			return fmt.Errorf("object %s is still in the store: %w", key, err)
		}
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.KeepPrivacy, "eraseObjects", derived("eraseObjects", job.Erasure), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingErasure, job.Erasure)), tx.ObjectsGone(ctx, job.Erasure, s.instant())
	})
	return err
}

// erasedLink answers whoever holds the link of a person whose details were erased, in
// words; to any other secret it is as if there were none.
func (s *Service) erasedLink(ctx context.Context, hash [32]byte) error {
	l, err := s.store.ErasedLink(ctx, hash)
	if err != nil {
		return err
	}
	return &domain.Fault{Kind: domain.NotFound, Field: "erased", Text: fmt.Sprintf(
		"%s erased the details of the person whom this link was for on %s. It opens nothing any more. What was issued before is kept by the practice for as long as it must; ask it where you need to.",
		l.Practice, l.At.In(Zone(l.Zone)).Format("2 January 2006"),
	)}
}

// MemberKept is what the practice keeps about a member beside what he or she signed.
type MemberKept struct {
	Name     string
	LeftAt   *time.Time
	ErasedAt *time.Time
	Rows     []KeptRows
}

// Stops says in sentences what stands in the way of an erasure.
func (k MemberKept) Stops() []string {
	switch {
	case k.ErasedAt != nil:
		return []string{"The details of this member are erased already."}
	case k.LeftAt == nil:
		return []string{"This member has not left. Note that first: it ends sessions, keys and feeds."}
	}
	return nil
}

// MemberKept reads what an erasure would take of a member.
func (s *Service) MemberKept(ctx context.Context, a domain.Actor, member uuid.UUID) (MemberKept, error) {
	if err := domain.May(a, domain.KeepPrivacy); err != nil {
		return MemberKept{}, err
	}
	return s.store.MemberKept(ctx, a.Practice, member)
}

// EraseMember erases what is kept of a member who left, but for the name.
type EraseMember struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the erasure
	Member   uuid.UUID
	Reason   string
	Name     string // typed
}

// EraseMember takes out the address, sign-in, feeds, devices and leaves of a member who left.
// The name and the qualification stay: they stand under what he or she signed.
func (s *Service) EraseMember(ctx context.Context, a domain.Actor, in EraseMember) (Done, error) {
	return s.write(ctx, &a, domain.KeepPrivacy, "eraseMember", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		k, err := tx.MemberToErase(ctx, in.Member)
		if err != nil {
			return Done{}, err
		}
		if err := mayErase(k.Stops(), k.Name, in.Name, in.Reason); err != nil {
			return Done{}, err
		}
		now := s.instant()
		words, err := erasedWords(ctx, tx, now)
		if err != nil {
			return Done{}, err
		}
		gone, err := tx.EraseMember(ctx, in.Member, words, now)
		if err != nil {
			return Done{}, err
		}
		if err := tx.EndAccess(ctx, in.Member, now); err != nil {
			return Done{}, err
		}
		e := Erasure{ID: in.ID, Kind: "member", Member: &in.Member, Reason: in.Reason, At: now}
		return touched(ref(domain.ThingErasure, in.ID), ref(domain.ThingMember, in.Member)), s.note(ctx, tx, a, e, gone)
	})
}
