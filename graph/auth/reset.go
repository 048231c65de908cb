package auth

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

// askReset answers at once and the same whether the address has an account or not; the
// letter is written afterwards, so that the time tells nothing either.
func (a *Auth) askReset(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "email")
	if err != nil {
		return nil, err
	}
	email := address(in["email"])
	if at := strings.LastIndexByte(email, '@'); at < 1 || at == len(email)-1 || len(email) > 254 {
		return nil, domain.Invalidf("email", "This is not an e-mail address.")
	}
	from := "reset from " + a.from(r)
	if a.slow.full(from, perAddress) {
		return nil, errTooMany
	}
	a.slow.add(from, perAddress)
	to := "reset " + email
	if !a.slow.full(to, perReset) {
		a.slow.add(to, perReset)
		a.afterwards(r.Context(), "password reset letter", func(ctx context.Context) error { return a.sendReset(ctx, email) })
	}
	return struct{}{}, nil
}

func (a *Auth) sendReset(ctx context.Context, email string) error {
	account, err := a.door.AccountByEmail(ctx, email)
	if errors.Is(err, domain.ErrNotFound) || err == nil && account.Disabled {
		return nil
	}
	if err != nil {
		return err
	}
	from, err := a.letterFrom(ctx, account.ID)
	if err != nil || from == uuid.Nil { // nobody's letter: no practice, nothing to sign in to
		return err
	}
	token, now := newSecret(""), a.instant()
	if err := a.door.StartReset(ctx, account.ID, token.hash(), now, now.Add(entry.ResetLasts)); err != nil {
		return err
	}
	return a.post.SendMail(ctx, from, a.resetLetter(email, token))
}

// letterFrom finds the practice that sends an account its letters: one it belongs to, or
// one that shared a report with it.
func (a *Auth) letterFrom(ctx context.Context, account uuid.UUID) (uuid.UUID, error) {
	list, err := a.door.Memberships(ctx, account)
	if err != nil || len(list) > 0 {
		return firstOf(list, func(m entry.Membership) uuid.UUID { return m.Practice }), err
	}
	grants, err := a.door.ClientGrants(ctx, account)
	return firstOf(grants, func(g practice.ClientGrant) uuid.UUID { return g.Practice }), err
}

func firstOf[T any](list []T, of func(T) uuid.UUID) uuid.UUID {
	if len(list) == 0 {
		return uuid.Nil
	}
	return of(list[0])
}

func (a *Auth) resetLetter(email string, token secret) entry.Letter {
	return entry.Letter{
		Kind: "password reset", To: email, Subject: "A new password for Boottop",
		Body: fmt.Sprintf("Somebody, most likely you, asked for a new password for this address.\n\n"+
			"Set it here, within an hour; the link works once:\n%s\n\n"+
			"If it was not you, do nothing: your password stays as it is, and nobody learned whether this address has an account.\n",
			a.public.JoinPath("reset", string(token))),
	}
}

var errStaleLink error = &domain.Fault{Kind: domain.NotFound, Text: "This link has been used, or is too old. Ask for another letter."}

func (a *Auth) finishReset(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "token", "password")
	if err != nil {
		return nil, err
	}
	if err := newPassword("password", in["password"]); err != nil {
		return nil, err
	}
	from := "link from " + a.from(r)
	if a.slow.full(from, perAddress) {
		return nil, errTooMany
	}
	hash, err := a.hasher.make(r.Context(), in["password"])
	if err != nil {
		return nil, err
	}
	done, err := a.door.FinishReset(r.Context(), secret(in["token"]).hash(), hash, a.instant())
	if err != nil {
		return nil, err
	}
	if !done {
		a.slow.add(from, perAddress)
		return nil, errStaleLink
	}
	a.known.forgetAll()
	a.cookies.clear(w)
	return struct{}{}, nil
}
