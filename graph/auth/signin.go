package auth

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/wire"
)

// signedIn is what the page learns of a sign-in: the practices it may choose from, and the
// one it is in; null where it must choose first.
type signedIn struct {
	Practices []choice `json:"practices"`
	Practice  *string  `json:"practice"`
}

type choice struct {
	ID    string        `json:"id"`
	Name  string        `json:"name"`
	Roles []domain.Role `json:"roles"`
}

func said(list []entry.Membership, in *entry.Membership) signedIn {
	s := signedIn{Practices: make([]choice, len(list))}
	for i, m := range list {
		s.Practices[i] = choice{practiceID(m.Practice), m.PracticeName, m.Roles}
	}
	if in != nil {
		id := practiceID(in.Practice)
		s.Practice = &id
	}
	return s
}

func practiceID(p uuid.UUID) string { return wire.New(wire.Practice, p).String() }

// errSignIn is the one answer to an address that is not known, a password that is not
// right and an account that is closed.
var errSignIn error = &domain.Fault{Kind: domain.Unauthenticated, Text: "The e-mail address or the password is not right."}

func (a *Auth) signIn(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "email", "password", "practice?")
	if err != nil {
		return nil, err
	}
	account, err := a.authenticate(r, in["email"], in["password"])
	if err != nil {
		return nil, err
	}
	list, err := a.door.Memberships(r.Context(), account)
	if err != nil {
		return nil, err
	}
	m, err := choose(list, in["practice"])
	if err != nil || m == nil {
		return said(list, nil), err
	}
	if err := a.begin(w, r, account, *m); err != nil {
		return nil, err
	}
	return said(list, m), nil
}

// authenticate costs the same and answers the same whether the address has an account or not.
func (a *Auth) authenticate(r *http.Request, email, password string) (uuid.UUID, error) {
	ctx, email := r.Context(), address(email)
	if err := a.mayTry(r, email); err != nil {
		return uuid.Nil, err
	}
	account, err := a.door.AccountByEmail(ctx, email)
	if err != nil && !errors.Is(err, domain.ErrNotFound) {
		return uuid.Nil, err
	}
	right, outdated, err := a.hasher.check(ctx, password, account.Hash)
	if err != nil {
		return uuid.Nil, err
	}
	if !right || account.Disabled {
		a.failed(r, email)
		return uuid.Nil, errSignIn
	}
	if outdated {
		a.rehash(ctx, account.ID, password)
	}
	return account.ID, nil
}

// rehash brings a hash to today's costs. It is no reason to refuse a sign-in.
func (a *Auth) rehash(ctx context.Context, account uuid.UUID, password string) {
	hash, err := a.hasher.make(ctx, password)
	if err == nil {
		err = a.door.Rehash(ctx, account, hash)
	}
	if err != nil {
		slog.WarnContext(ctx, "password not rehashed", "request", answer.Request(ctx), "account", account, "error", err)
	}
}

// address is the form of an e-mail address that accounts are looked up by.
func address(email string) string { return strings.ToLower(strings.TrimSpace(email)) }

// choose finds the practice that was asked for, or the only one; nil where there is a choice to make.
func choose(list []entry.Membership, asked string) (*entry.Membership, error) {
	switch {
	case len(list) == 0:
		return nil, domain.Forbiddenf("Your account belongs to no practice at present. A principal can invite you.")
	case asked == "" && len(list) > 1:
		return nil, nil
	case asked == "":
		return &list[0], nil
	}
	for i, m := range list {
		if practiceID(m.Practice) == asked {
			return &list[i], nil
		}
	}
	return nil, &domain.Fault{Kind: domain.NotFound, Field: "practice", Text: "Your account does not belong to this practice."}
}

// begin starts a session with an id of its own, ends the one this browser had, and sets
// the cookies.
func (a *Auth) begin(w http.ResponseWriter, r *http.Request, account uuid.UUID, m entry.Membership) error {
	ctx, now := r.Context(), a.instant()
	id, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("start session: %w", err)
	}
	renew := newSecret("")
	s := entry.Session{ID: id, Account: account, Practice: m.Practice, Member: m.Member, Roles: m.Roles}
	if err := a.door.StartSession(ctx, s, renew.hash(), now, now.Add(entry.SessionLasts)); err != nil {
		return err
	}
	if err := a.endThis(r); err != nil {
		slog.WarnContext(ctx, "former session not ended", "request", answer.Request(ctx), "error", err)
	}
	return a.hand(w, s, renew)
}

// hand gives the browser its two cookies.
func (a *Auth) hand(w http.ResponseWriter, s entry.Session, renew secret) error {
	access, err := a.keys.access(s.ID, a.now())
	if err != nil {
		return fmt.Errorf("sign access token: %w", err)
	}
	a.cookies.set(w, access, renew)
	return nil
}
