package practice

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// invitationLasts is how long an invitation's link works.
const invitationLasts = 14 * 24 * time.Hour

// Invitation asks a person to join the practice.
type Invitation struct {
	ID        uuid.UUID
	Email     string
	Name      string
	Roles     []string
	ExpiresAt time.Time
}

// Invitations lists those that still stand, newest first. A guest is told of none.
func (s *Service) Invitations(ctx context.Context, a domain.Actor) ([]Invitation, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if a.OnlyGuest() {
		return nil, nil
	}
	return s.store.Invitations(ctx, a.Practice, s.instant())
}

// Invitation reads one invitation, whether it stands or not.
func (s *Service) Invitation(ctx context.Context, a domain.Actor, id uuid.UUID) (Invitation, error) {
	if err := domain.May(a, domain.ManageMembers); err != nil {
		return Invitation{}, err
	}
	return s.store.Invitation(ctx, a.Practice, id)
}

// InviteMember is a new invitation.
type InviteMember struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Email    string
	Name     string
	Roles    []string
}

// InviteMember asks a person by e-mail to join the practice. The link stands in the
// letter alone: only its hash is kept. An earlier invitation to the same address ends.
func (s *Service) InviteMember(ctx context.Context, a domain.Actor, in InviteMember) (Done, error) {
	token, err := newToken()
	if err != nil {
		return Done{}, err
	}
	return s.write(ctx, &a, domain.ManageMembers, "inviteMember", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		now := s.instant()
		i, err := in.invitation(now)
		if err != nil {
			return Done{}, err
		}
		if slices.Contains(i.Roles, string(domain.Principal)) {
			if err := byPrincipal(a, "Only a principal may ask somebody to be a principal."); err != nil {
				return Done{}, err
			}
		}
		if there, err := tx.MemberAt(ctx, i.Email); err != nil || there {
			if err == nil {
				err = domain.Conflictf("A member of the practice has this address already. Change the roles there.")
			}
			return Done{}, err
		}
		if err := tx.InsertInvitation(ctx, i, sha256.Sum256([]byte(token)), a.Member, now); err != nil {
			return Done{}, err
		}
		letter, err := invitationLetter(ctx, tx, a, i, s.publicURL+"/invitation/"+token)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingInvitation, i.ID)), tx.SendMail(ctx, letter, now)
	})
}

func (in InviteMember) invitation(now time.Time) (Invitation, error) {
	i := Invitation{
		ID: in.ID, Email: strings.ToLower(strings.TrimSpace(in.Email)), Name: strings.TrimSpace(in.Name), Roles: in.Roles,
		ExpiresAt: now.Add(invitationLasts),
	}
	if !plausibleEmail(i.Email) {
		return i, domain.Invalidf("email", "Give the person's e-mail address; the invitation is sent there.")
	}
	if err := oneLine("name", i.Name, 200); err != nil {
		return i, err
	}
	return i, checkRoles(i.Roles)
}

func invitationLetter(ctx context.Context, tx Tx, a domain.Actor, i Invitation, link string) (entry.Letter, error) {
	p, err := tx.Practice(ctx)
	if err != nil {
		return entry.Letter{}, err
	}
	m, err := tx.Member(ctx, a.Member)
	if err != nil {
		return entry.Letter{}, err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s asks you to join %s as %s.\n\n", i.Name, m.Name, p.Name, strings.Join(i.Roles, ", "))
	writeLink(&b, p, i, link)
	return entry.Letter{Kind: "invitation", To: i.Email, Subject: "Joining " + p.Name, Body: b.String()}, nil
}

// writeLink ends an invitation's letter: the link, how long it holds, and what to do with
// a letter that nobody expected.
func writeLink(b *strings.Builder, p Practice, i Invitation, link string) {
	fmt.Fprintf(b, "Open this link to look at it and to accept: %s\n\n", link)
	fmt.Fprintf(b, "The link is for you alone and holds until %s. Looking at it uses nothing up.\n", i.ExpiresAt.In(Zone(p.TimeZone)).Format("2 January 2006"))
	b.WriteString("If you did not expect this letter, leave it: nothing happens until somebody accepts.\n")
	if p.Invented {
		b.WriteString("\nAn invented practice and people: a demonstration.\n")
	}
}
