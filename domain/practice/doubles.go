package practice

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Double is two entries that may be one person or organisation. The service finds them and
// decides nothing.
type Double struct {
	First   Party
	Second  Party
	Because []string
}

// PartySide is one of two entries, with what points to it.
type PartySide struct {
	PartyPage
	Points []Points
}

// Points is how much of one kind points to a party.
type Points struct {
	Place string // table and column
	Count int64
}

// Beside is two entries side by side, with what speaks for and against their being one.
type Beside struct {
	First   PartySide
	Second  PartySide
	Alike   []string
	Against []string
	Facing  []Facing
}

// Facing is a vessel in whose matters both entries take part, in different parts.
type Facing struct{ Vessel, First, Second string }

// PartyMerge is two entries that became one: who said so, and why.
type PartyMerge struct {
	ID            uuid.UUID
	KeptID        uuid.UUID
	KeptName      string
	LostID        uuid.UUID
	LostName      string
	Because       string
	At            time.Time
	By            string
	Followed      int32 // rows that pointed to the one that went
	UndoneAt      *time.Time
	UndoneBy      string
	UndoneBecause string
	KeptIsGone    bool // merged into another since: that one is undone first
}

// HeldMerge is what undoing a merge rests on.
type HeldMerge struct {
	ID, KeptID, LostID uuid.UUID
	Filled             []string
	UndoneAt           *time.Time
	KeptInto           *uuid.UUID
}

// DoubleReader reads entries that may be one.
type DoubleReader interface {
	// PartiesToCompare reads every entry, and the pairs that somebody found to be two, the lower id first.
	PartiesToCompare(ctx context.Context, practice uuid.UUID) ([]Party, [][2]uuid.UUID, error)
	// PartiesBeside reads two entries and what points to each, without what is alike.
	PartiesBeside(ctx context.Context, practice, first, second uuid.UUID, who Sees) (Beside, error)
	// PartyMerges reads merges, the newest first, one more than page.First where there are more.
	PartyMerges(ctx context.Context, practice uuid.UUID, before time.Time, page Page) ([]PartyMerge, error)
}

// DoubleWriter makes entries one and two again.
type DoubleWriter interface {
	// HoldParties tells how many of these entries stand, neither merged nor erased, and holds them.
	HoldParties(ctx context.Context, ids ...uuid.UUID) (int, error)
	InsertPartyMerge(ctx context.Context, in MergeParties, filled []string, at time.Time, by *uuid.UUID) error
	// FollowParty points to the kept whatever pointed to the lost, in every table there is.
	FollowParty(ctx context.Context, in MergeParties) error
	UnfollowParty(ctx context.Context, m HeldMerge) error
	MarkMerged(ctx context.Context, party uuid.UUID, into *uuid.UUID) error
	// LookAnew asks again for a decision on ties in which a party has a part.
	LookAnew(ctx context.Context, party uuid.UUID) error
	HoldPartyMerge(ctx context.Context, id uuid.UUID) (HeldMerge, error)
	UndoPartyMerge(ctx context.Context, id uuid.UUID, because string, at time.Time, by *uuid.UUID) error
	InsertPartiesApart(ctx context.Context, first, second uuid.UUID, because string, at time.Time, by *uuid.UUID) error
}

// LikelyDoubles finds entries that may be one person or organisation: the same mail or
// telephone, the same or a similar name. Pairs that somebody found to be two are left out.
func (s *Service) LikelyDoubles(ctx context.Context, a domain.Actor) ([]Double, error) {
	if err := domain.May(a, domain.WritePeople); err != nil {
		return nil, err
	}
	all, apart, err := s.store.PartiesToCompare(ctx, a.Practice)
	return likelyDoubles(all, apart), err
}

// PartiesBeside reads two entries side by side.
func (s *Service) PartiesBeside(ctx context.Context, a domain.Actor, first, second uuid.UUID) (Beside, error) {
	if err := domain.May(a, domain.WritePeople); err != nil {
		return Beside{}, err
	}
	if first == second {
		return Beside{}, domain.Invalidf("second", "These are one entry. Choose two.")
	}
	b, err := s.store.PartiesBeside(ctx, a.Practice, first, second, sees(a))
	if err != nil {
		return Beside{}, err
	}
	b.Alike = inCommon(b.First.Party, b.Second.Party)
	b.Against = b.against()
	return b, nil
}

// against says what speaks against two entries being one.
func (b Beside) against() []string {
	var list []string
	say := func(so bool, text string) {
		if so {
			list = append(list, text)
		}
	}
	f, s := b.First, b.Second
	say(f.Kind != s.Kind, "One is a person, the other an organisation.")
	say(f.Email != "" && s.Email != "" && mailKey(f.Email) != mailKey(s.Email), "Their e-mail addresses differ.")
	say(f.Phone != "" && s.Phone != "" && phoneKey(f.Phone) != phoneKey(s.Phone), "Their telephone numbers differ.")
	say(nameAlike(f.Name, s.Name) == "", "Their names differ.")
	say(f.IsYard != s.IsYard, "One is a yard, the other is not.")
	say(f.sheet() && s.sheet(), "Both have a yard’s sheet: that of the one kept counts, the other is kept aside.")
	for _, x := range b.Facing {
		say(opposite(x.First, x.Second), "Of "+x.Vessel+" one is the "+x.First+", the other the "+x.Second+".")
	}
	return list
}

func (p PartySide) sheet() bool {
	return slices.ContainsFunc(p.Points, func(x Points) bool { return x.Place == "yards.party_id" })
}

// opposite tells whether nobody has both parts in one boat's matters, as a rule.
func opposite(a, b string) bool {
	sides := [][2]string{{"buyer", "seller"}, {"buyer", "owner"}, {"insurer", "owner"}, {"lender", "owner"}, {"broker", "buyer"}, {"broker", "seller"}, {"broker", "owner"}}
	return slices.Contains(sides, [2]string{a, b}) || slices.Contains(sides, [2]string{b, a})
}

// PartyMerges lists merges, the newest first.
func (s *Service) PartyMerges(ctx context.Context, a domain.Actor, page Page) ([]PartyMerge, error) {
	if err := domain.May(a, domain.WritePeople); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	before := lastDay
	if page.AfterText == "" {
		page.AfterID = uuid.Max
	} else {
		var err error
		if before, err = time.Parse(time.RFC3339Nano, page.AfterText); err != nil {
			return nil, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
		}
	}
	return s.store.PartyMerges(ctx, a.Practice, before, page)
}

// MergeParties says that two entries are one, and why.
type MergeParties struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the merge
	Kept     uuid.UUID
	Lost     uuid.UUID
	Because  string
}

// MergeParties makes one of two entries: what pointed to the lost one follows, fields of
// the kept that stand empty take the other's, and ties that were decided on are looked at
// anew where they count. Issued reports and the record of changes stay as they are; the id
// that is gone goes on naming the one that stands.
func (s *Service) MergeParties(ctx context.Context, a domain.Actor, in MergeParties) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "mergeParties", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		in.Because = strings.TrimSpace(in.Because)
		if err := oneLine("because", in.Because, 500); err != nil {
			return Done{}, domain.Invalidf("because", "Say in up to 500 letters how you know that they are one: it is kept with your name.")
		}
		if in.Kept == in.Lost {
			return Done{}, domain.Invalidf("lost", "These are one entry. Choose two.")
		}
		if err := bothStand(ctx, tx, in.Kept, in.Lost); err != nil {
			return Done{}, err
		}
		kept, err := tx.Party(ctx, in.Kept)
		if err != nil {
			return Done{}, err
		}
		lost, err := tx.Party(ctx, in.Lost)
		if err != nil {
			return Done{}, err
		}
		if err := tx.InsertPartyMerge(ctx, in, kept.fill(lost), s.instant(), entered(a)); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPartyMerge, in.ID), ref(domain.ThingParty, in.Kept), ref(domain.ThingParty, in.Lost)), in.merge(ctx, tx, kept)
	})
}

// bothStand holds two entries, and refuses where one is none, merged or erased.
func bothStand(ctx context.Context, tx Tx, first, second uuid.UUID) error {
	n, err := tx.HoldParties(ctx, first, second)
	if err == nil && n != 2 {
		err = domain.ErrNotFound
	}
	return err
}

func (in MergeParties) merge(ctx context.Context, tx Tx, kept Party) error {
	if err := tx.UpdateParty(ctx, kept); err != nil {
		return err
	}
	if err := tx.FollowParty(ctx, in); err != nil {
		return err
	}
	if err := tx.MarkMerged(ctx, in.Lost, &in.Kept); err != nil {
		return err
	}
	return tx.LookAnew(ctx, in.Kept)
}

// texts are the fields of a party that take another's where they stand empty.
func (p *Party) texts() map[string]*string {
	return map[string]*string{"email": &p.Email, "phone": &p.Phone, "address": &p.Address, "yardNotes": &p.YardNotes, "notes": &p.Notes}
}

// fill takes what another entry says where this one says nothing, and names the fields.
func (p *Party) fill(from Party) []string {
	filled := []string{}
	theirs := from.texts()
	for field, text := range p.texts() {
		if *text == "" && *theirs[field] != "" {
			*text, filled = *theirs[field], append(filled, field)
		}
	}
	if p.TimeZone == nil && from.TimeZone != nil {
		p.TimeZone, filled = from.TimeZone, append(filled, "timeZone")
	}
	if !p.IsYard && from.IsYard {
		p.IsYard, filled = true, append(filled, "isYard")
	}
	slices.Sort(filled)
	return filled
}

// empty takes back what fill took and still stands as it came.
func (p *Party) empty(filled []string, from Party) {
	theirs := from.texts()
	for field, text := range p.texts() {
		if slices.Contains(filled, field) && *text == *theirs[field] {
			*text = ""
		}
	}
	if slices.Contains(filled, "timeZone") && equal(p.TimeZone, from.TimeZone) {
		p.TimeZone = nil
	}
	if slices.Contains(filled, "isYard") {
		p.IsYard = false
	}
}

// UndoPartyMerge says that two merged entries are two after all, and why.
type UndoPartyMerge struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Because  string
}

// UndoPartyMerge makes two of a merged entry: each thing that followed and still stands
// where the merge put it goes back. What was written since stays with the kept one.
func (s *Service) UndoPartyMerge(ctx context.Context, a domain.Actor, in UndoPartyMerge) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "undoPartyMerge", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		in.Because = strings.TrimSpace(in.Because)
		if err := oneLine("because", in.Because, 500); err != nil {
			return Done{}, domain.Invalidf("because", "Say in up to 500 letters why they are two after all: it is kept with your name.")
		}
		m, err := tx.HoldPartyMerge(ctx, in.ID)
		switch {
		case err != nil:
			return Done{}, err
		case m.UndoneAt != nil:
			return Done{}, domain.Conflictf("This merge was undone on %s.", m.UndoneAt.Format("2 January 2006"))
		case m.KeptInto != nil:
			return Done{}, domain.Conflictf("The entry that was kept went into another one since. Undo that merge first.")
		}
		done := touched(ref(domain.ThingPartyMerge, m.ID), ref(domain.ThingParty, m.KeptID), ref(domain.ThingParty, m.LostID))
		return done, m.undo(ctx, tx, in.Because, s.instant(), entered(a))
	})
}

func (m HeldMerge) undo(ctx context.Context, tx Tx, because string, at time.Time, by *uuid.UUID) error {
	if err := tx.UnfollowParty(ctx, m); err != nil {
		return err
	}
	if err := tx.MarkMerged(ctx, m.LostID, nil); err != nil {
		return err
	}
	lost, err := tx.Party(ctx, m.LostID)
	if err != nil {
		return err
	}
	kept, err := tx.Party(ctx, m.KeptID)
	if err != nil {
		return err
	}
	kept.empty(m.Filled, lost)
	if err := tx.UpdateParty(ctx, kept); err != nil {
		return err
	}
	for _, id := range []uuid.UUID{m.KeptID, m.LostID} {
		if err := tx.LookAnew(ctx, id); err != nil {
			return err
		}
	}
	return tx.UndoPartyMerge(ctx, m.ID, because, at, by)
}

// TellPartiesApart says that two entries are two, however alike.
type TellPartiesApart struct {
	Mutation uuid.UUID `json:"-"`
	First    uuid.UUID
	Second   uuid.UUID
	Because  string // may be empty
}

// TellPartiesApart keeps that two entries are two: they are not asked about again.
func (s *Service) TellPartiesApart(ctx context.Context, a domain.Actor, in TellPartiesApart) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "tellPartiesApart", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if in.First == in.Second || len(in.Because) > 500 {
			return Done{}, domain.Invalidf("second", "Choose two entries, and say why in up to 500 letters.")
		}
		if err := bothStand(ctx, tx, in.First, in.Second); err != nil {
			return Done{}, err
		}
		first, second := in.First, in.Second
		if bytes.Compare(first[:], second[:]) > 0 {
			first, second = second, first
		}
		return touched(ref(domain.ThingParty, first), ref(domain.ThingParty, second)), tx.InsertPartiesApart(ctx, first, second, strings.TrimSpace(in.Because), s.instant(), entered(a))
	})
}
