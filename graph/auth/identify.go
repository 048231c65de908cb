package auth

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/answer"
)

// ownHeader is what every writing request of a browser carries: a form of another site
// cannot send it, and a script of another site may not.
const ownHeader = "X-Boottop"

// KeyPrefix begins every API key, so that one that leaks can be found by search.
const KeyPrefix = "btk_"

type refusedKey struct{}

// Refused gives the fault where the request brought credentials that open nothing. What
// serves strangers too may look past it.
func Refused(ctx context.Context) error {
	err, _ := ctx.Value(refusedKey{}).(error)
	return err
}

// Identify puts the actor into the request. It turns away what another site's page made a
// browser send, and passes on everything else: a request without credentials as nobody's,
// one with bad credentials as nobody's with the reason (Refused).
func (a *Auth) Identify(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		actor, err := a.identify(r)
		if domain.KindOf(err) == domain.Unavailable {
			answer.Fault(w, r, err)
			return
		}
		if !bringsKey(r) {
			if fault := a.ownPage(r); fault != nil {
				answer.Fault(w, r, fault)
				return
			}
		}
		ctx := WithActor(r.Context(), actor)
		answer.Of(ctx).Actor = actor
		if err != nil {
			ctx = context.WithValue(ctx, refusedKey{}, err)
		}
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

func (a *Auth) identify(r *http.Request) (domain.Actor, error) {
	if r.Header.Get(ClientHeader) == "1" {
		return a.client(r)
	}
	if bringsKey(r) {
		return a.byKey(r.Context(), r.Header.Values("Authorization"))
	}
	token := a.cookies.read(r, a.cookies.access)
	if token == "" {
		return domain.Actor{}, nil
	}
	session, err := a.keys.session(token)
	if err != nil {
		return domain.Actor{}, domain.ErrUnauthenticated
	}
	return a.bySession(r.Context(), session)
}

func (a *Auth) bySession(ctx context.Context, session uuid.UUID) (domain.Actor, error) {
	return a.recall(session, func() (domain.Actor, error) {
		s, err := a.door.SessionMember(ctx, session, a.instant())
		return domain.Actor{Practice: s.Practice, Member: s.Member, Session: session, Means: domain.BySession, Roles: s.Roles}, err
	})
}

// bringsKey tells whether a request says in its Authorization header who is calling. No
// page of another site can send that, and the cookies beside it are not looked at.
func bringsKey(r *http.Request) bool {
	return r.Header.Get(ClientHeader) != "1" && len(r.Header.Values("Authorization")) > 0
}

// errKey is the one answer to a key that is cut, made up, ended, or of a member who left.
var errKey error = &domain.Fault{Kind: domain.Unauthenticated, Text: "This API key opens nothing: it is not whole, or it was ended, or its member has left."}

func (a *Auth) byKey(ctx context.Context, sent []string) (domain.Actor, error) {
	key, ok := strings.CutPrefix(sent[0], "Bearer "+KeyPrefix)
	if !ok || len(sent) > 1 || len(key) != 43 {
		return domain.Actor{}, errKey
	}
	hash := secret(KeyPrefix + key).hash()
	actor, err := a.recall(hash, func() (domain.Actor, error) {
		s, err := a.door.KeyMember(ctx, hash)
		if err == nil {
			a.noteUse(ctx, hash)
		}
		return domain.Actor{Practice: s.Practice, Member: s.Member, Key: s.ID, Means: domain.ByKey, Roles: s.Roles}, err
	})
	if errors.Is(err, domain.ErrUnauthenticated) {
		err = errKey
	}
	return actor, err
}

// noteUse is no reason to turn a program away.
func (a *Auth) noteUse(ctx context.Context, key entry.Token) {
	if err := a.door.KeyUsed(ctx, key, a.instant()); err != nil {
		slog.WarnContext(ctx, "use of an API key not noted", "error", err)
	}
}

// recall gives the actor seen under this key in the last 30 seconds, or asks.
func (a *Auth) recall(key any, ask func() (domain.Actor, error)) (domain.Actor, error) {
	if actor, fresh := a.known.get(key, a.now()); fresh {
		return actor, nil
	}
	asked := a.now()
	actor, err := ask()
	switch {
	case err == nil:
		a.known.put(key, actor, asked)
		return actor, nil
	case errors.Is(err, domain.ErrNotFound):
		return domain.Actor{}, domain.ErrUnauthenticated
	case domain.KindOf(err) == domain.Unavailable:
		return domain.Actor{}, err
	}
	slog.Error("who is calling cannot be looked up", "error", err)
	return domain.Actor{}, &domain.Fault{Kind: domain.Unavailable, Text: "The service cannot look up who you are at this moment. Please try again.", Err: err}
}

var errForeign = domain.Forbiddenf("This request did not come from a page of this service.")

// ownPage refuses a write that another site's page made this browser send: by what the
// browser says of its origin, and by the header that only our page adds.
func (a *Auth) ownPage(r *http.Request) error {
	switch r.Method {
	case http.MethodGet, http.MethodHead, http.MethodOptions:
		return nil
	}
	if a.cross.Check(r) != nil {
		return errForeign
	}
	if a.cookies.read(r, a.cookies.access) != "" || a.cookies.read(r, a.cookies.renew) != "" || a.cookies.read(r, a.cookies.client) != "" || strings.HasPrefix(r.URL.Path, "/auth/") {
		if r.Header.Get(ownHeader) != "1" {
			return errForeign
		}
	}
	return nil
}

// recallFor is how long an actor is taken from memory before the database is asked again.
const recallFor = 30 * time.Second
