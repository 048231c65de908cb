package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Practice is a practice's own particulars.
type Practice struct {
	ID             uuid.UUID
	Name           string
	Address        string
	Email          string
	Phone          string
	TimeZone       string
	Currency       string
	Units          string
	ContrastEdges  []int16 // scale units above the baseline where marks step up, after the pass's own first edge
	ReviewRequired bool
	SelfCheckHours int32 // how long a draft lies before the only one who signs looks it through again
	Invented       bool
	Version        int32
}

// PracticeReader reads a practice's particulars.
type PracticeReader interface {
	Practice(ctx context.Context, practice uuid.UUID) (Practice, error)
	Viewer(ctx context.Context, practice, member uuid.UUID) (Practice, MemberLine, error)
}

// PracticeWriter writes a practice's particulars.
type PracticeWriter interface {
	// FoundPractice makes the transaction's practice with an invitation that nobody sent.
	FoundPractice(ctx context.Context, p Practice, first Invitation, token [32]byte, now time.Time) error
	Practice(ctx context.Context) (Practice, error)
	UpdatePractice(ctx context.Context, p Practice) error
}

// Practice reads the actor's practice.
func (s *Service) Practice(ctx context.Context, a domain.Actor) (Practice, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Practice{}, err
	}
	return s.store.Practice(ctx, a.Practice)
}

// MemberLine is a member as lists and other things name one.
type MemberLine struct {
	ID     uuid.UUID
	Name   string
	Roles  []string
	Active bool
}

// Viewer reads the actor's practice and what he or she is to it.
func (s *Service) Viewer(ctx context.Context, a domain.Actor) (Practice, MemberLine, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Practice{}, MemberLine{}, err
	}
	return s.store.Viewer(ctx, a.Practice, a.Member)
}

// EditPractice is a change to a practice's particulars; nil leaves a field as it is.
type EditPractice struct {
	Mutation       uuid.UUID `json:"-"`
	Version        int32
	Name           *string
	Address        *string
	Email          *string
	Phone          *string
	TimeZone       *string
	Currency       *string `json:",omitempty"` // of money from now on
	Units          *string
	ContrastEdges  []int16
	ReviewRequired *bool
	SelfCheckHours *int32
}

// EditPractice changes the practice's particulars and settings.
func (s *Service) EditPractice(ctx context.Context, a domain.Actor, in EditPractice) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "editPractice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, err := tx.Practice(ctx)
		if err != nil {
			return Done{}, err
		}
		if p, err = in.apply(p); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPractice, a.Practice)), tx.UpdatePractice(ctx, p)
	})
}

func (in EditPractice) apply(p Practice) (Practice, error) {
	p.Version = in.Version
	set(&p.Name, in.Name)
	set(&p.Address, in.Address)
	set(&p.Email, in.Email)
	set(&p.Phone, in.Phone)
	set(&p.TimeZone, in.TimeZone)
	set(&p.Units, in.Units)
	set(&p.Currency, in.Currency)
	set(&p.ReviewRequired, in.ReviewRequired)
	set(&p.SelfCheckHours, in.SelfCheckHours)
	if in.ContrastEdges != nil {
		p.ContrastEdges = in.ContrastEdges
	}
	if strings.TrimSpace(p.Name) == "" {
		return p, domain.Invalidf("name", "A practice needs a name.")
	}
	if err := zone("timeZone", p.TimeZone); err != nil {
		return p, err
	}
	if len(p.ContrastEdges) != 3 || p.ContrastEdges[0] <= 0 || !slices.IsSorted(p.ContrastEdges) {
		return p, domain.Invalidf("contrastEdges", "Give three whole numbers above zero, in rising order.")
	}
	return p, nil
}

// set changes a field where the input names it.
func set[T any](field *T, to *T) {
	if to != nil {
		*field = *to
	}
}

// zone refuses what is no IANA time zone.
func zone(field, name string) error {
	if name == "" || name == "Local" {
		return domain.Invalidf(field, "Give a time zone by its IANA name, such as Europe/Dublin.")
	}
	if _, err := time.LoadLocation(name); err != nil {
		return domain.Invalidf(field, "There is no time zone %q. Give an IANA name, such as Europe/Dublin.", name)
	}
	return nil
}
