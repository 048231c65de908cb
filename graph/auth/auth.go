// Package auth knows who is calling: sign-in, sessions, API keys, and the middleware that
// puts the actor into the request.
//
// A browser holds two cookies: an access token of nine minutes (EdDSA) that names its
// session, and an opaque refresh token that is traded for its successor. Whether the
// session still lives and what its member may do is asked of the database, at most every
// 30 seconds for reads; a write asks again in its own transaction. A program holds an API
// key, btk_ and 43 characters.
package auth

import (
	"context"
	"log/slog"
	"net/http"
	"net/url"
	"sync"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

// Door is what is kept of those who come in. A row that is not there is domain.ErrNotFound.
type Door interface {
	AccountByEmail(ctx context.Context, email string) (entry.Account, error)
	// CreateAccount keeps the account that has this address already and gives its id.
	CreateAccount(ctx context.Context, id uuid.UUID, email, hash string, now time.Time) (uuid.UUID, error)
	Rehash(ctx context.Context, account uuid.UUID, hash string) error
	Memberships(ctx context.Context, account uuid.UUID) ([]entry.Membership, error)

	StartSession(ctx context.Context, s entry.Session, token entry.Token, now, until time.Time) error
	// RotateSession trades a refresh token for its successor; a token older than the one
	// before ends the session.
	RotateSession(ctx context.Context, token, successor entry.Token, now time.Time) (entry.Session, error)
	// SessionStolen tells whether the session of a token ended because an older one came back.
	SessionStolen(ctx context.Context, token entry.Token) (bool, error)
	SessionMember(ctx context.Context, session uuid.UUID, now time.Time) (entry.Session, error)
	EndSession(ctx context.Context, session uuid.UUID, now time.Time) error
	EndSessionByToken(ctx context.Context, token entry.Token, now time.Time) error
	// KeyMember gives the member an API key acts for; ID is the key's.
	KeyMember(ctx context.Context, key entry.Token) (entry.Session, error)
	// KeyUsed notes the day on which a key was used last; it writes once a day.
	KeyUsed(ctx context.Context, key entry.Token, now time.Time) error

	InvitationByToken(ctx context.Context, token entry.Token, now time.Time) (entry.Invitation, error)
	// AcceptInvitation makes the account a member, in one transaction with its line in the
	// practice's record. ErrNotFound: somebody was quicker.
	AcceptInvitation(ctx context.Context, i entry.Invitation, by entry.Newcomer, now time.Time) (member uuid.UUID, err error)

	StartReset(ctx context.Context, account uuid.UUID, token entry.Token, now, until time.Time) error
	// ClientGrants lists what is open to an account of reports.
	ClientGrants(ctx context.Context, account uuid.UUID) ([]practice.ClientGrant, error)
	StartClientSession(ctx context.Context, token entry.Token, account uuid.UUID, now, until time.Time) error
	ClientSession(ctx context.Context, token entry.Token, now time.Time) (account uuid.UUID, err error)
	EndClientSession(ctx context.Context, token entry.Token, now time.Time) error

	// FinishReset sets the hash and ends every session of the account; false where the token opens nothing.
	FinishReset(ctx context.Context, token entry.Token, hash string, now time.Time) (bool, error)
}

// Post sends letters, later and more than once if need be.
type Post interface {
	SendMail(ctx context.Context, practice uuid.UUID, letter entry.Letter) error
}

// Config is what an Auth stands on.
type Config struct {
	Door    Door
	Post    Post
	Clients Clients // nil: nobody keeps reports in an account
	Keys    *Keys
	Public  *url.URL // how browsers reach the service
	Hops    int      // proxies in front that write X-Forwarded-For; 0: none is believed
	Now     func() time.Time
}

// Auth is the way in.
type Auth struct {
	door    Door
	post    Post
	clients Clients
	keys    *Keys
	cookies cookies
	public  *url.URL
	hops    int
	now     func() time.Time
	hasher  *hasher
	cross   *http.CrossOriginProtection
	known   *known
	slow    *slow
	later   sync.WaitGroup
}

// New makes the way in.
func New(c Config) (*Auth, error) {
	if c.Now == nil {
		c.Now = time.Now
	}
	a := &Auth{
		door: c.Door, post: c.Post, clients: c.Clients, keys: c.Keys, cookies: newCookies(c.Public), public: c.Public, hops: c.Hops, now: c.Now,
		hasher: newHasher(), cross: http.NewCrossOriginProtection(), known: newKnown(), slow: newSlow(c.Now),
	}
	if err := a.cross.AddTrustedOrigin(c.Public.Scheme + "://" + c.Public.Host); err != nil {
		return nil, err
	}
	return a, nil
}

// Close waits for the letters that are still being written.
func (a *Auth) Close() { a.later.Wait() }

// afterwards runs what nobody should be able to time, after the answer.
func (a *Auth) afterwards(ctx context.Context, what string, fn func(context.Context) error) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	a.later.Go(func() {
		defer cancel()
		defer func() {
			if p := recover(); p != nil {
				slog.ErrorContext(ctx, "panic", "in", what, "panic", p)
			}
		}()
		if err := fn(ctx); err != nil {
			slog.ErrorContext(ctx, "failed", "doing", what, "error", err)
		}
	})
}

func (a *Auth) instant() time.Time { return a.now().UTC().Truncate(time.Microsecond) }
