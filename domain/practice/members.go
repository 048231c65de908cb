package practice

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Member is a person of the practice.
type Member struct {
	ID            uuid.UUID
	Name          string
	Email         string
	Roles         []string
	Qualification string // as it is printed under a signature
	LeftAt        *time.Time
	Version       int32
}

// principal tells whether the member runs the practice, and is still there to do it.
func (m Member) principal() bool {
	return m.LeftAt == nil && slices.Contains(m.Roles, string(domain.Principal))
}

// MemberReader reads the people of a practice.
type MemberReader interface {
	Member(ctx context.Context, practice, id uuid.UUID) (Member, error)
	Members(ctx context.Context, practice uuid.UUID, page Page) ([]Member, error)
	Invitations(ctx context.Context, practice uuid.UUID, now time.Time) ([]Invitation, error)
	Invitation(ctx context.Context, practice, id uuid.UUID) (Invitation, error)
	APIKeys(ctx context.Context, practice uuid.UUID) ([]APIKey, error)
	APIKey(ctx context.Context, practice, id uuid.UUID) (APIKey, error)
}

// MemberWriter writes the people of a practice.
type MemberWriter interface {
	Member(ctx context.Context, id uuid.UUID) (Member, error)
	UpdateMember(ctx context.Context, m Member) error
	// LockPrincipals holds the members who run the practice until the transaction ends,
	// so that two who leave at once do not both count on the other.
	LockPrincipals(ctx context.Context) ([]uuid.UUID, error)
	// EndAccess ends a member's sessions and API keys.
	EndAccess(ctx context.Context, member uuid.UUID, now time.Time) error
	// MemberAt tells whether somebody who has not left has this address.
	MemberAt(ctx context.Context, email string) (bool, error)
	// InsertInvitation keeps an invitation; those to the same address end.
	InsertInvitation(ctx context.Context, i Invitation, token [32]byte, by uuid.UUID, now time.Time) error
	InsertAPIKey(ctx context.Context, k APIKey, hash [32]byte) error
	RevokeAPIKey(ctx context.Context, id uuid.UUID, now time.Time) error
}

// Member reads one person of the practice.
func (s *Service) Member(ctx context.Context, a domain.Actor, id uuid.UUID) (Member, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Member{}, err
	}
	return s.store.Member(ctx, a.Practice, id)
}

// Members lists a page of the people of the practice by name, those who left too.
func (s *Service) Members(ctx context.Context, a domain.Actor, page Page) ([]Member, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	return s.store.Members(ctx, a.Practice, page)
}

// EditMember is a change to a member; nil leaves a field as it is.
type EditMember struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Version       int32
	Name          *string
	Roles         []string
	Qualification *string
	Left          *bool
}

// EditMember changes a member's name, roles or qualification, or notes that he or she
// has left, which ends every session and key at once. Somebody always runs the practice:
// the last principal neither leaves nor lends the role away.
func (s *Service) EditMember(ctx context.Context, a domain.Actor, in EditMember) (Done, error) {
	return s.write(ctx, &a, domain.ManageMembers, "editMember", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		before, err := tx.Member(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		after, err := in.apply(before, s.instant())
		if err != nil {
			return Done{}, err
		}
		if err := mayGiveThem(a, before, after); err != nil {
			return Done{}, err
		}
		if err := mayTouchPrincipals(ctx, tx, a, before, after); err != nil {
			return Done{}, err
		}
		if err := tx.UpdateMember(ctx, after); err != nil {
			return Done{}, err
		}
		if before.LeftAt == nil && after.LeftAt != nil {
			if err := tx.EndAccess(ctx, in.ID, *after.LeftAt); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingMember, in.ID)), nil
	})
}

func (in EditMember) apply(m Member, now time.Time) (Member, error) {
	m.Version = in.Version
	set(&m.Name, in.Name)
	set(&m.Qualification, in.Qualification)
	m.Name = strings.TrimSpace(m.Name)
	if in.Roles != nil {
		m.Roles = in.Roles
	}
	if in.Left != nil && *in.Left != (m.LeftAt != nil) {
		m.LeftAt = nil
		if *in.Left {
			m.LeftAt = &now
		}
	}
	if err := oneLine("name", m.Name, 200); err != nil {
		return m, err
	}
	if utf8.RuneCountInString(m.Qualification) > 500 {
		return m, domain.Invalidf("qualification", "A qualification has at most 500 letters.")
	}
	return m, checkRoles(m.Roles)
}

// mayGiveThem refuses roles that members give to themselves: the office invites who signs
// reports, and may not become one of them by itself.
func mayGiveThem(a domain.Actor, before, after Member) error {
	if before.ID != a.Member || slices.Equal(before.Roles, after.Roles) {
		return nil
	}
	return byPrincipal(a, "Nobody gives roles to himself or herself: ask a principal.")
}

// mayTouchPrincipals holds two rules: only a principal makes one, or takes that away,
// or changes anything else about one; and the last one stays.
func mayTouchPrincipals(ctx context.Context, tx Tx, a domain.Actor, before, after Member) error {
	was, is := before.principal(), after.principal()
	if was || is || slices.Contains(after.Roles, string(domain.Principal)) {
		if err := byPrincipal(a, "Only a principal may change who is a principal, or anything about one."); err != nil {
			return err
		}
	}
	if !was || is {
		return nil
	}
	all, err := tx.LockPrincipals(ctx)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(all, func(id uuid.UUID) bool { return id != before.ID }) {
		return domain.Conflictf("This is the practice's last principal. Make somebody else a principal first.")
	}
	return nil
}

// byPrincipal refuses an actor who does not run the practice.
func byPrincipal(a domain.Actor, otherwise string) error {
	if a.Means == domain.BySelf || a.Has(domain.Principal) {
		return nil
	}
	return domain.Forbiddenf("%s", otherwise)
}

func checkRoles(roles []string) error {
	if len(roles) == 0 {
		return domain.Invalidf("roles", "Give at least one role. Somebody who goes is noted as left.")
	}
	for k, r := range roles {
		if !slices.Contains(domain.Roles, domain.Role(r)) {
			return domain.Invalidf("roles", "The roles are principal, surveyor, trainee, office and guest.")
		}
		if slices.Contains(roles[:k], r) {
			return domain.Invalidf("roles", "Name each role once.")
		}
	}
	return nil
}

// oneLine refuses a text that is empty, longer than most letters, or not one line: it is
// written into letters and headers.
func oneLine(field, text string, most int) error {
	if n := utf8.RuneCountInString(text); n == 0 || n > most {
		return domain.Invalidf(field, "Give it 1 to %d letters.", most)
	}
	if strings.ContainsFunc(text, unicode.IsControl) {
		return domain.Invalidf(field, "Write it on one line, without control characters.")
	}
	return nil
}
