package auth

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// invited is what the page shows before somebody joins. The letter proved the address, so
// it may be told whether the address has an account.
type invited struct {
	Practice string        `json:"practice"`
	Email    string        `json:"email"`
	Name     string        `json:"name"`
	Roles    []domain.Role `json:"roles"`
	Account  bool          `json:"account"` // true: the password asked for is the one it has
}

func (a *Auth) lookAtInvitation(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "token")
	if err != nil {
		return nil, err
	}
	i, err := a.invitation(r, in["token"])
	if err != nil {
		return nil, err
	}
	_, err = a.door.AccountByEmail(r.Context(), address(i.Email))
	if err != nil && !errors.Is(err, domain.ErrNotFound) {
		return nil, err
	}
	return invited{i.PracticeName, i.Email, i.Name, i.Roles, err == nil}, nil
}

var errNoInvitation error = &domain.Fault{Kind: domain.NotFound, Text: "This invitation has been used, withdrawn, or is too old. Ask the practice for another."}

func (a *Auth) invitation(r *http.Request, token string) (entry.Invitation, error) {
	from := "link from " + a.from(r)
	if a.slow.full(from, perAddress) {
		return entry.Invitation{}, errTooMany
	}
	i, err := a.door.InvitationByToken(r.Context(), secret(token).hash(), a.instant())
	if errors.Is(err, domain.ErrNotFound) {
		a.slow.add(from, perAddress)
		return i, errNoInvitation
	}
	return i, err
}

// acceptInvitation makes the person a member, with a new account or the one the address
// has, and signs in.
func (a *Auth) acceptInvitation(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "token", "name", "password")
	if err != nil {
		return nil, err
	}
	name := strings.TrimSpace(in["name"])
	if n := utf8.RuneCountInString(name); n == 0 || n > 200 {
		return nil, domain.Invalidf("name", "Give your name, with at most 200 characters.")
	}
	i, err := a.invitation(r, in["token"])
	if err != nil {
		return nil, err
	}
	account, err := a.accountFor(r, address(i.Email), in["password"])
	if err != nil {
		return nil, err
	}
	by, err := newcomer(account, name)
	if err != nil {
		return nil, err
	}
	if _, err := a.door.AcceptInvitation(r.Context(), i, by, a.instant()); err != nil {
		if errors.Is(err, domain.ErrNotFound) {
			return nil, errNoInvitation
		}
		return nil, err
	}
	list, err := a.door.Memberships(r.Context(), account)
	if err != nil {
		return nil, err
	}
	m, err := choose(list, practiceID(i.Practice))
	if err != nil {
		return nil, err
	}
	if err := a.begin(w, r, account, *m); err != nil {
		return nil, err
	}
	return said(list, m), nil
}

func newcomer(account uuid.UUID, name string) (entry.Newcomer, error) {
	member, err1 := uuid.NewV7()
	line, err2 := uuid.NewV7()
	if err := errors.Join(err1, err2); err != nil {
		return entry.Newcomer{}, fmt.Errorf("accept invitation: %w", err)
	}
	return entry.Newcomer{Account: account, Name: name, Member: member, Mutation: line}, nil
}

// accountFor finds or makes the account of an address that a letter has proved. One that
// is there already is entered with its own password.
func (a *Auth) accountFor(r *http.Request, email, password string) (uuid.UUID, error) {
	ctx := r.Context()
	_, err := a.door.AccountByEmail(ctx, email)
	if errors.Is(err, domain.ErrNotFound) {
		id, made, err := a.makeAccount(ctx, email, password)
		if made || err != nil {
			return id, err
		}
	} else if err != nil {
		return uuid.Nil, err
	}
	id, err := a.authenticate(r, email, password)
	if errors.Is(err, errSignIn) {
		return uuid.Nil, domain.Invalidf("password", "This address has an account already: use its password, or ask for a new one.")
	}
	return id, err
}

// makeAccount tells made = false where somebody made it at the same moment: then its
// password counts and not this one.
func (a *Auth) makeAccount(ctx context.Context, email, password string) (id uuid.UUID, made bool, err error) {
	if err := newPassword("password", password); err != nil {
		return uuid.Nil, false, err
	}
	hash, err := a.hasher.make(ctx, password)
	if err != nil {
		return uuid.Nil, false, err
	}
	if id, err = uuid.NewV7(); err != nil {
		return uuid.Nil, false, fmt.Errorf("make account: %w", err)
	}
	kept, err := a.door.CreateAccount(ctx, id, email, hash, a.instant())
	return kept, kept == id, err
}
