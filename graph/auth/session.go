package auth

import (
	"errors"
	"net/http"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// refresh trades the refresh token for its successor and tells again what sign-in told.
func (a *Auth) refresh(w http.ResponseWriter, r *http.Request) (any, error) {
	s, renew, err := a.renew(w, r)
	if err != nil {
		return nil, err
	}
	list, err := a.door.Memberships(r.Context(), s.Account)
	if err != nil {
		return nil, err
	}
	if err := a.hand(w, s, renew); err != nil {
		return nil, err
	}
	return said(list, &entry.Membership{Practice: s.Practice}), nil
}

// renew moves this browser's session on. A token that opens nothing takes its cookies with it.
func (a *Auth) renew(w http.ResponseWriter, r *http.Request) (entry.Session, secret, error) {
	held := secret(a.cookies.read(r, a.cookies.renew))
	if held == "" || len(held) > 64 {
		return entry.Session{}, "", domain.ErrUnauthenticated
	}
	next := a.keys.successor(held)
	s, err := a.door.RotateSession(r.Context(), held.hash(), next.hash(), a.instant())
	if errors.Is(err, domain.ErrNotFound) {
		a.cookies.clear(w)
		a.forgetAccess(r)
		return entry.Session{}, "", a.whyEnded(r, held)
	}
	if err != nil {
		return entry.Session{}, "", err
	}
	a.known.forget(s.ID) // a role given or taken since is seen at once
	return s, next, nil
}

// errStolen is told to whoever holds a token of a session that ended so: the person, and
// whoever copied the token, who has learnt it by then.
var errStolen = &domain.Fault{Kind: domain.Unauthenticated, Field: "session", Text: "This sign-in was ended because an older copy of it came back: somebody else may have it. Sign in again, and set a new password if you did not restore this device yourself."}

// whyEnded gives the reason why a token opens nothing any more, where it is one to be told.
func (a *Auth) whyEnded(r *http.Request, held secret) error {
	stolen, err := a.door.SessionStolen(r.Context(), held.hash())
	switch {
	case err != nil:
		return err
	case stolen:
		return errStolen
	}
	return domain.ErrUnauthenticated
}

// switchPractice leaves one practice of the account for another, in a session of its own.
func (a *Auth) switchPractice(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "practice")
	if err != nil {
		return nil, err
	}
	s, _, err := a.renew(w, r)
	if err != nil {
		return nil, err
	}
	list, err := a.door.Memberships(r.Context(), s.Account)
	if err != nil {
		return nil, err
	}
	m, err := choose(list, in["practice"])
	if err != nil {
		return nil, err
	}
	if err := a.begin(w, r, s.Account, *m); err != nil {
		return nil, err
	}
	return said(list, m), nil
}

func (a *Auth) signOut(w http.ResponseWriter, r *http.Request) (any, error) {
	a.cookies.clear(w)
	return struct{}{}, a.endThis(r)
}

// endThis ends the session of whichever of its two cookies the browser still holds.
func (a *Auth) endThis(r *http.Request) error {
	var err error
	if held := secret(a.cookies.read(r, a.cookies.renew)); held != "" {
		err = a.door.EndSessionByToken(r.Context(), held.hash(), a.instant())
	}
	if session := a.forgetAccess(r); session != uuid.Nil {
		err = errors.Join(err, a.door.EndSession(r.Context(), session, a.instant()))
	}
	return err
}

// forgetAccess drops what is remembered of the access token's session.
func (a *Auth) forgetAccess(r *http.Request) uuid.UUID {
	session, err := a.keys.session(a.cookies.read(r, a.cookies.access))
	if err != nil {
		return uuid.Nil
	}
	a.known.forget(session)
	return session
}
