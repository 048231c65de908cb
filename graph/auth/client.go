package auth

import (
	"context"
	"errors"
	"net/http"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// ClientHeader says that a request speaks as the client of an account of reports, and not
// as whichever member is signed in beside it in the same browser.
const ClientHeader = "X-Boottop-Client"

// clientLasts is how long a client stays signed in.
const clientLasts = 14 * 24 * time.Hour

// Clients are the use cases that open an account of reports.
type Clients interface {
	// ProveShare tells whose address the code of a link has proved.
	ProveShare(ctx context.Context, link, code string) (email string, err error)
	// GrantClient opens to an account what is shared with the address of a link.
	GrantClient(ctx context.Context, link string, account uuid.UUID) error
}

// keepReports makes an account for the address that a link names, or adds to the one it
// has, and signs in. The code proves the address; a link alone proves nothing.
func (a *Auth) keepReports(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "link", "code", "password")
	if err != nil {
		return nil, err
	}
	from := "link from " + a.from(r)
	if a.slow.full(from, perAddress) {
		return nil, errTooMany
	}
	email, err := a.clients.ProveShare(r.Context(), in["link"], in["code"])
	if err != nil {
		a.slow.add(from, perAddress)
		return nil, err
	}
	account, err := a.accountFor(r, address(email), in["password"])
	if err != nil {
		return nil, err
	}
	if err := a.clients.GrantClient(r.Context(), in["link"], account); err != nil {
		return nil, err
	}
	return struct{}{}, a.beginClient(w, r, account)
}

var errNoReports = domain.Forbiddenf("No report is kept in this account. Open the link of the letter that you were sent, and keep it from there.")

// clientSignIn signs a client in to what is kept in the account.
func (a *Auth) clientSignIn(w http.ResponseWriter, r *http.Request) (any, error) {
	in, err := texts(w, r, "email", "password")
	if err != nil {
		return nil, err
	}
	account, err := a.authenticate(r, in["email"], in["password"])
	if err != nil {
		return nil, err
	}
	grants, err := a.door.ClientGrants(r.Context(), account)
	if err != nil {
		return nil, err
	}
	if len(grants) == 0 {
		return nil, errNoReports
	}
	return struct{}{}, a.beginClient(w, r, account)
}

func (a *Auth) clientSignOut(w http.ResponseWriter, r *http.Request) (any, error) {
	held := secret(a.cookies.read(r, a.cookies.client))
	a.cookies.write(w, a.cookies.client, "", -time.Second)
	if held == "" {
		return struct{}{}, nil
	}
	return struct{}{}, a.door.EndClientSession(r.Context(), held.hash(), a.instant())
}

// beginClient starts a session with a secret of its own and ends the one this browser had.
func (a *Auth) beginClient(w http.ResponseWriter, r *http.Request, account uuid.UUID) error {
	now, token := a.instant(), newSecret("")
	if err := a.door.StartClientSession(r.Context(), token.hash(), account, now, now.Add(clientLasts)); err != nil {
		return err
	}
	if held := secret(a.cookies.read(r, a.cookies.client)); held != "" {
		if err := a.door.EndClientSession(r.Context(), held.hash(), now); err != nil {
			return err
		}
	}
	a.cookies.write(w, a.cookies.client, string(token), clientLasts)
	return nil
}

// client is who signed in to an account of reports; nobody where the cookie opens nothing.
// It is asked each time: a client looks seldom.
func (a *Auth) client(r *http.Request) (domain.Actor, error) {
	held := secret(a.cookies.read(r, a.cookies.client))
	if held == "" || len(held) > 64 {
		return domain.Actor{}, nil
	}
	account, err := a.door.ClientSession(r.Context(), held.hash(), a.instant())
	if errors.Is(err, domain.ErrNotFound) {
		return domain.Actor{}, nil
	}
	if err != nil {
		return domain.Actor{}, err
	}
	return domain.Actor{Account: account, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}, nil
}

// AsClient makes every request of a route the client's, for downloads: a link in a page
// sends no header.
func (a *Auth) AsClient(next http.Handler) http.Handler {
	identified := a.Identify(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Header.Set(ClientHeader, "1")
		identified.ServeHTTP(w, r)
	})
}
