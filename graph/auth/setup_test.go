package auth_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/wire"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

const (
	goodPassword = "seven grey seals asleep"
	seedOfTests  = "0123456789abcdef0123456789abcdef"
)

// bundle is a service with a database of its own, two practices and a clock that stands
// still until a test moves it.
type bundle struct {
	*auth.Auth
	t      *testing.T
	door   store.Door
	db     *storetest.DB
	admin  *pgx.Conn
	keys   *auth.Keys
	server *httptest.Server
	post   *pillar
	clock  *clock
	ours   practiceOf
	theirs practiceOf
}

type practiceOf struct {
	id, member uuid.UUID
	email      string
	account    uuid.UUID
}

func (p practiceOf) wire() string { return wire.New(wire.Practice, p.id).String() }

type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

// pillar is a pillar box: it keeps the letters.
type pillar struct {
	mu      sync.Mutex
	letters []entry.Letter
}

func (p *pillar) SendMail(_ context.Context, _ uuid.UUID, l entry.Letter) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.letters = append(p.letters, l)
	return nil
}

func setup(t *testing.T, options ...func(*auth.Config)) *bundle {
	t.Helper()
	b := &bundle{t: t, db: storetest.New(t), post: &pillar{}, clock: &clock{at: time.Now().Truncate(time.Second)}}
	s, err := store.Open(t.Context(), store.Config{URL: b.db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	b.door, b.admin = s.Door(), b.db.Connect(t, b.db.OwnerURL)
	b.server = httptest.NewUnstartedServer(nil)
	public, _ := url.Parse("http://" + b.server.Listener.Addr().String())
	if b.keys, err = auth.NewKeys(public.String(), b.clock.now, []byte(seedOfTests)); err != nil {
		t.Fatal(err)
	}
	config := auth.Config{Door: b.door, Post: b.post, Keys: b.keys, Public: public, Now: b.clock.now}
	for _, o := range options {
		o(&config)
	}
	if b.Auth, err = auth.New(config); err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	b.Routes(mux)
	mux.Handle("/who", b.Identify(http.HandlerFunc(who)))
	mux.Handle("/file/", b.Files(http.HandlerFunc(members)))
	b.server.Config.Handler = mux
	b.server.Start()
	t.Cleanup(b.server.Close)
	b.ours = b.practice("North quay surveys", "ines@north.example", domain.Principal, domain.Surveyor)
	b.theirs = b.practice("South quay surveys", "odd@south.example", domain.Office)
	return b
}

// members answers whoever belongs to a practice, and 401 everybody else.
func members(w http.ResponseWriter, r *http.Request) {
	if auth.Actor(r.Context()).Means == "" {
		answer.Fault(w, r, domain.ErrUnauthenticated)
	}
}

// who answers the actor, or 401.
func who(w http.ResponseWriter, r *http.Request) {
	if err := auth.Refused(r.Context()); err != nil {
		answer.Fault(w, r, err)
		return
	}
	answer.JSON(w, http.StatusOK, auth.Actor(r.Context()))
}

func (b *bundle) practice(name, email string, roles ...domain.Role) practiceOf {
	b.t.Helper()
	p := practiceOf{id: v7(b.t), email: email}
	if err := b.door.CreatePractice(b.t.Context(), p.id, name, "Etc/UTC", "EUR", true, b.clock.now()); err != nil {
		b.t.Fatal(err)
	}
	p.account = b.account(email)
	p.member = b.join(p.id, p.account, roles...)
	return p
}

func (b *bundle) account(email string) uuid.UUID {
	b.t.Helper()
	id, err := b.door.CreateAccount(b.t.Context(), v7(b.t), email, hashOnce(), b.clock.now())
	if err != nil {
		b.t.Fatal(err)
	}
	return id
}

// join writes as the owner; what the service itself may write is other tests' business.
func (b *bundle) join(practice, account uuid.UUID, roles ...domain.Role) uuid.UUID {
	b.t.Helper()
	id := v7(b.t)
	b.exec(`insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, 'I. Varrow', $4)`, practice, id, account, roles)
	return id
}

func (b *bundle) exec(sql string, args ...any) {
	b.t.Helper()
	if _, err := b.admin.Exec(b.t.Context(), sql, args...); err != nil {
		b.t.Fatal(err)
	}
}

func (b *bundle) count(sql string, args ...any) int {
	b.t.Helper()
	var n int
	if err := b.admin.QueryRow(b.t.Context(), sql, args...).Scan(&n); err != nil {
		b.t.Fatal(err)
	}
	return n
}

// invite writes an invitation and gives its token.
func (b *bundle) invite(p practiceOf, email string, roles ...domain.Role) string {
	b.t.Helper()
	token, hash := auth.NewKey()
	b.exec(`insert into invitations (practice_id, id, email, name, roles, token_sha256, invited_by, created_at, expires_at)
	        values ($1, $2, $3, 'S. Tern', $4, $5, $6, $7::timestamptz, $7::timestamptz + interval '7 days')`, p.id, v7(b.t), email, roles, hash[:], p.member, b.clock.now())
	return token
}

func (b *bundle) key(p practiceOf) string {
	b.t.Helper()
	text, hash := auth.NewKey()
	b.exec(`insert into api_keys (practice_id, id, member_id, name, key_sha256, created_at) values ($1, $2, $3, 'a program', $4, $5)`,
		p.id, v7(b.t), p.member, hash[:], b.clock.now())
	return text
}

var hashOnce = sync.OnceValue(func() string {
	hash, err := auth.Hash(context.Background(), goodPassword)
	if err != nil {
		panic(err)
	}
	return hash
})

func v7(t *testing.T) uuid.UUID {
	t.Helper()
	id, err := uuid.NewV7()
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// browser holds cookies by name, as one does.
type browser struct {
	b       *bundle
	cookies map[string]string
}

func (b *bundle) browser() *browser { return &browser{b: b, cookies: map[string]string{}} }

type reply struct {
	status int
	body   string
	header http.Header
}

type body map[string]any

func (br *browser) send(method, path, text string, change ...func(*http.Request)) reply {
	br.b.t.Helper()
	req, err := http.NewRequestWithContext(br.b.t.Context(), method, br.b.server.URL+path, strings.NewReader(text))
	if err != nil {
		br.b.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("X-Boottop", "1")
	for name, value := range br.cookies {
		req.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	for _, c := range change {
		c(req)
	}
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		br.b.t.Fatal(err)
	}
	defer res.Body.Close()
	said, err := io.ReadAll(res.Body)
	if err != nil {
		br.b.t.Fatal(err)
	}
	for _, c := range res.Cookies() {
		if c.MaxAge < 0 {
			delete(br.cookies, c.Name)
		} else {
			br.cookies[c.Name] = c.Value
		}
	}
	return reply{res.StatusCode, string(bytes.TrimSpace(said)), res.Header}
}

func (br *browser) post(path string, in body) reply {
	br.b.t.Helper()
	text, err := json.Marshal(in)
	if err != nil {
		br.b.t.Fatal(err)
	}
	return br.send(http.MethodPost, path, string(text))
}

func (br *browser) signIn(p practiceOf) {
	br.b.t.Helper()
	if r := br.post("/auth/sign-in", body{"email": p.email, "password": goodPassword}); r.status != http.StatusOK {
		br.b.t.Fatalf("sign-in: %d %s", r.status, r.body)
	}
}

// who asks as whom the service sees this browser; the zero actor where it is turned away.
func (br *browser) who() (domain.Actor, int) {
	br.b.t.Helper()
	r := br.send(http.MethodGet, "/who", "")
	var a domain.Actor
	if r.status == http.StatusOK {
		if err := json.Unmarshal([]byte(r.body), &a); err != nil {
			br.b.t.Fatal(err)
		}
	}
	return a, r.status
}

// cookie finds one of the two by the end of its name.
func (br *browser) cookie(renew bool) (name string) {
	for n := range br.cookies {
		if strings.Contains(n, "refresh") == renew {
			return n
		}
	}
	return ""
}
