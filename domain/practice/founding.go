package practice

import (
	"context"
	"crypto/sha256"
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// FoundPractice is a new practice and the person it begins with.
type FoundPractice struct {
	Mutation   uuid.UUID `json:"-"`
	ID         uuid.UUID // of the practice
	Name       string
	TimeZone   string // IANA name
	Currency   string // ISO 4217
	Invented   bool   // of a demonstration
	Invitation uuid.UUID
	Person     string
	Email      string
}

// firstRoles is what the first member will be: most practices are one surveyor.
var firstRoles = []string{string(domain.Principal), string(domain.Surveyor)}

var currencyCode = regexp.MustCompile(`^[A-Z]{3}$`)

// FoundPractice makes a practice and asks its first member by e-mail to join as principal;
// everybody else is invited by members. It is a command's and no caller's: there is no
// actor who could ask for it.
func (s *Service) FoundPractice(ctx context.Context, in FoundPractice) (Done, error) {
	token, err := newToken()
	if err != nil {
		return Done{}, err
	}
	self := domain.Service(in.ID)
	return s.write(ctx, &self, domain.ManageMembers, "foundPractice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		p, i, err := in.begun(now)
		if err != nil {
			return Done{}, err
		}
		if err := tx.FoundPractice(ctx, p, i, sha256.Sum256([]byte(token)), now); err != nil {
			return Done{}, err
		}
		letter := foundingLetter(p, i, s.publicURL+"/invitation/"+token)
		return touched(ref(domain.ThingPractice, p.ID), ref(domain.ThingInvitation, i.ID)), tx.SendMail(ctx, letter, now)
	})
}

// begun checks the input and makes what it asks for.
func (in FoundPractice) begun(now time.Time) (Practice, Invitation, error) {
	p := Practice{ID: in.ID, Name: strings.TrimSpace(in.Name), TimeZone: in.TimeZone, Currency: in.Currency, Invented: in.Invented}
	if err := newID("id", in.ID); err != nil {
		return p, Invitation{}, err
	}
	if err := newID("invitation", in.Invitation); err != nil {
		return p, Invitation{}, err
	}
	if err := oneLine("name", p.Name, 200); err != nil {
		return p, Invitation{}, err
	}
	if err := zone("timeZone", p.TimeZone); err != nil {
		return p, Invitation{}, err
	}
	if !currencyCode.MatchString(p.Currency) {
		return p, Invitation{}, domain.Invalidf("currency", "Give a currency by its three letters, such as EUR.")
	}
	i, err := InviteMember{ID: in.Invitation, Email: in.Email, Name: in.Person, Roles: firstRoles}.invitation(now)
	return p, i, err
}

func foundingLetter(p Practice, i Invitation, link string) entry.Letter {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s has been set up, and you are asked to run it as its principal.\n\n", i.Name, p.Name)
	writeLink(&b, p, i, link)
	return entry.Letter{Kind: "invitation", To: i.Email, Subject: "Joining " + p.Name, Body: b.String()}
}
