package practice

import (
	"context"
	"crypto/sha256"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// Yard is a yard with all that is known of it. Keys and gate code are the staff's only.
type Yard struct {
	DiaryYard
	Email    string
	Address  string
	KeyPlace string
	GateCode string
	Version  int32 // of what is known; 0: nothing is kept yet
	Slots    []DiarySpell
	Tides    []Tide
	Weather  []Weather
	Links    []YardLink
}

// YardLink is a link that shows a yard its slots and nothing else.
type YardLink struct {
	ID           uuid.UUID
	Name         string
	Email        string
	CreatedAt    time.Time
	Until        time.Time
	RevokedAt    *time.Time
	Openings     int32
	LastOpenedAt *time.Time
}

// YardSlots is what a yard's link opens.
type YardSlots struct {
	PracticeName string
	Invented     bool
	YardName     string
	ForName      string
	Until        time.Time
	Slots        []YardSlot
}

// YardSlot is one time ashore as its yard sees it: no client, no job, nobody's name.
type YardSlot struct {
	Boat       string
	BoatKind   string
	LoaMm      *int32
	TimeZone   string
	Lift       *time.Time
	Launch     *time.Time
	Lifted     bool
	Launched   bool
	AskedOnly  bool
	Held       string
	UnderCover *bool
	WashAt     *time.Time
	ChockAt    *time.Time
	ShiftAt    *time.Time
	Told       string
}

// YardReader reads yards, for those inside and for whoever holds a link.
type YardReader interface {
	Yard(ctx context.Context, practice, id uuid.UUID, from, to time.Time) (Yard, error)
	YardLinkByToken(ctx context.Context, hash [32]byte, now time.Time) (practice, link uuid.UUID, err error)
	// YardSlots reads the slots of a link from a day on and notes that it was opened.
	YardSlots(ctx context.Context, practice, link uuid.UUID, from, now time.Time) (YardSlots, error)
}

// YardWriter writes what is known of yards.
type YardWriter interface {
	SetYard(ctx context.Context, in DescribeYard) error
	SetSlot(ctx context.Context, in DescribeSlot) error
	YardNamed(ctx context.Context, party uuid.UUID) (name string, err error)
	InsertYardLink(ctx context.Context, in ShareYard, hash [32]byte, by *uuid.UUID, now time.Time) error
	RevokeYardLink(ctx context.Context, id uuid.UUID, now time.Time) (yard uuid.UUID, err error)
}

// Yard reads a yard with its slots and high waters in a span. Not for guests.
func (s *Service) Yard(ctx context.Context, a domain.Actor, id uuid.UUID, from, to time.Time) (Yard, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Yard{}, err
	}
	if err := checkSpan(from, to); err != nil {
		return Yard{}, err
	}
	return s.store.Yard(ctx, a.Practice, id, from, to)
}

// DescribeYard is what is known of a yard, all of it.
type DescribeYard struct {
	Mutation          uuid.UUID `json:"-"`
	Yard              uuid.UUID
	Version           int32 // 0: nothing is kept yet
	LiftHours         string
	Rules             string
	KeyPlace          string
	GateCode          string
	LatitudeE6        *int32
	LongitudeE6       *int32
	TidePlace         string
	TideWithinMinutes int32
}

// DescribeYard keeps what is known of a yard.
func (s *Service) DescribeYard(ctx context.Context, a domain.Actor, in DescribeYard) (Done, error) {
	return s.write(ctx, &a, domain.Book, "describeYard", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := isYard(ctx, tx, &in.Yard); err != nil {
			return Done{}, err
		}
		for field, text := range map[string]string{"liftHours": in.LiftHours, "rules": in.Rules, "keyPlace": in.KeyPlace, "gateCode": in.GateCode, "tidePlace": in.TidePlace} {
			if len(text) > 2000 {
				return Done{}, domain.Invalidf(field, "At most 2000 letters fit here.")
			}
		}
		if (in.LatitudeE6 == nil) != (in.LongitudeE6 == nil) {
			return Done{}, domain.Invalidf("longitudeE6", "Give latitude and longitude, or neither.")
		}
		return touched(ref(domain.ThingParty, in.Yard)), tx.SetYard(ctx, in)
	})
}

// DescribeSlot is what the yard does in a time ashore beside lift and launch.
type DescribeSlot struct {
	Mutation uuid.UUID `json:"-"`
	Spell    uuid.UUID
	WashAt   *time.Time
	ChockAt  *time.Time
	ShiftAt  *time.Time
	Pays     string
	Told     string
}

// DescribeSlot keeps wash, chocking and moves of a slot, who pays and what the yard was told.
func (s *Service) DescribeSlot(ctx context.Context, a domain.Actor, in DescribeSlot) (Done, error) {
	return s.write(ctx, &a, domain.Book, "describeSlot", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		sp, err := tx.Spell(ctx, in.Spell)
		if err != nil {
			return Done{}, err
		}
		if len(in.Pays) > 300 || len(in.Told) > 2000 {
			return Done{}, domain.Invalidf("told", "At most 300 letters for who pays, and 2000 for what the yard was told.")
		}
		if err := in.within(sp); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingSpell, sp.ID), ref(domain.ThingVessel, sp.Vessel.ID)), tx.SetSlot(ctx, in)
	})
}

// ShareYard is a link for a yard.
type ShareYard struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Yard     uuid.UUID
	Name     string
	Email    string
	Until    time.Time
}

// ShareYard makes a link that shows a yard its slots and sends it. It is answered once;
// only its hash is kept.
func (s *Service) ShareYard(ctx context.Context, a domain.Actor, in ShareYard) (done Done, link string, err error) {
	token, err := newToken()
	if err != nil {
		return Done{}, "", err
	}
	done, err = s.write(ctx, &a, domain.Book, "shareYard", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := (ShareReport{Name: in.Name, Email: in.Email, Until: in.Until}).check(now); err != nil {
			return Done{}, err
		}
		yard, err := tx.YardNamed(ctx, in.Yard)
		if err != nil {
			return Done{}, err
		}
		p, err := tx.Practice(ctx)
		if err != nil {
			return Done{}, err
		}
		if err := tx.InsertYardLink(ctx, in, sha256.Sum256([]byte(token)), entered(a), now); err != nil {
			return Done{}, err
		}
		letter := entry.Letter{
			Kind: "yard", To: in.Email, Subject: fmt.Sprintf("%s: lifts planned at %s", p.Name, yard),
			Body: fmt.Sprintf("%s,\n\nthe lifts that %s has planned at %s, always as they stand: %s\n\nThe link holds until %s and shows nothing else.\n",
				strings.TrimSpace(in.Name), p.Name, yard, s.publicURL+"/y/"+token, in.Until.In(Zone(p.TimeZone)).Format("2 January 2006")),
		}
		return touched(ref(domain.ThingYardLink, in.ID), ref(domain.ThingParty, in.Yard)), tx.SendMail(ctx, letter, now)
	})
	if err != nil || done.Again {
		return done, "", err
	}
	return done, s.publicURL + "/y/" + token, nil
}

// RevokeYardLink ends a yard's link.
type RevokeYardLink struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// RevokeYardLink ends a yard's link: the next time it is opened it opens nothing.
func (s *Service) RevokeYardLink(ctx context.Context, a domain.Actor, in RevokeYardLink) (Done, error) {
	return s.write(ctx, &a, domain.Book, "revokeYardLink", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		yard, err := tx.RevokeYardLink(ctx, in.ID, s.instant())
		return touched(ref(domain.ThingYardLink, in.ID), ref(domain.ThingParty, yard)), err
	})
}

// OpenYard reads the slots that a yard's link shows: those that end after yesterday.
func (s *Service) OpenYard(ctx context.Context, token string) (YardSlots, error) {
	if len(token) != tokenLength {
		return YardSlots{}, domain.ErrNotFound
	}
	now := s.instant()
	p, link, err := s.store.YardLinkByToken(ctx, sha256.Sum256([]byte(token)), now)
	if err != nil {
		return YardSlots{}, err
	}
	return s.store.YardSlots(ctx, p, link, now.Add(-24*time.Hour), now)
}
