package practice_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

const publicURL = "https://boottop.example"

// bundle is the use cases over a database of the test's own, with two practices in it,
// each with a member of every role, and a clock that stands still until the test moves it.
type bundle struct {
	*practice.Service
	t      testing.TB
	store  *store.Store
	owner  *pgx.Conn // sees all rows
	clock  *clock
	ours   house
	theirs house
}

// house is a practice and its members, one of each role.
type house struct {
	id uuid.UUID
	of map[domain.Role]domain.Actor
}

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

func setup(t testing.TB, options ...practice.Option) *bundle {
	t.Helper()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL}) // which says how many connections
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	c := &clock{at: story.Today}
	b := &bundle{
		Service: practice.New(s, append(options, practice.WithClock(c.now), practice.WithPublicURL(publicURL))...),
		t:       t, store: s, owner: db.Connect(t, db.OwnerURL), clock: c,
	}
	b.ours, b.theirs = b.house("North quay surveys"), b.house("South quay surveys")
	return b
}

func (b *bundle) house(name string) house {
	b.t.Helper()
	h := house{id: newID(), of: map[domain.Role]domain.Actor{}}
	if err := b.store.Door().CreatePractice(b.t.Context(), h.id, name, "Europe/Dublin", "EUR", true, b.clock.now()); err != nil {
		b.t.Fatal(err)
	}
	for _, role := range domain.Roles {
		h.of[role] = b.member(h, role)
	}
	return h
}

// member adds one with an account, as the database's owner.
func (b *bundle) member(h house, roles ...domain.Role) domain.Actor {
	b.t.Helper()
	id := newID()
	email := fmt.Sprintf("%s@%s.example", id, roles[0])
	account, err := b.store.Door().CreateAccount(b.t.Context(), newID(), email, "no password opens this", b.clock.now())
	if err != nil {
		b.t.Fatal(err)
	}
	b.exec(`insert into members (practice_id, id, account_id, name, email, roles) values ($1, $2, $3, $4, $5, $6)`,
		h.id, id, account, "The "+string(roles[0]), email, roles)
	return domain.Actor{Practice: h.id, Member: id, Means: domain.BySession, Roles: roles}
}

func (b *bundle) exec(sql string, args ...any) {
	b.t.Helper()
	if _, err := b.owner.Exec(b.t.Context(), sql, args...); err != nil {
		b.t.Fatal(err)
	}
}

// value reads one value as the database's owner.
func value[T any](b *bundle, sql string, args ...any) (v T) {
	b.t.Helper()
	if err := b.owner.QueryRow(b.t.Context(), sql, args...).Scan(&v); err != nil {
		b.t.Fatalf("%s: %v", sql, err)
	}
	return v
}

// vessel adds a vessel, and job a job of hers, as the database's owner.
// meanwhile runs statements in a transaction of their own that ends only when do waits for
// it, and answers what do came to.
func (b *bundle) meanwhile(statements string, do func() error) error {
	b.t.Helper()
	tx := must[pgx.Tx](b.t)(b.owner.Begin(b.t.Context()))
	defer func() { _ = tx.Rollback(context.WithoutCancel(b.t.Context())) }()
	if _, err := tx.Exec(b.t.Context(), statements); err != nil {
		b.t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- do() }()
	for waits := false; !waits; time.Sleep(5 * time.Millisecond) {
		if err := tx.QueryRow(b.t.Context(), `select exists (select from pg_locks l where not l.granted and l.transactionid = pg_current_xact_id()::xid)`).Scan(&waits); err != nil {
			b.t.Fatal(err)
		}
	}
	if err := tx.Commit(b.t.Context()); err != nil {
		b.t.Fatal(err)
	}
	return <-done
}

func (b *bundle) vessel(h house, name string) uuid.UUID {
	b.t.Helper()
	id := newID()
	b.exec(`insert into vessels (practice_id, id, name, created_at) values ($1, $2, $3, $4)`, h.id, id, name, b.clock.now())
	return id
}

func (b *bundle) job(h house, vessel uuid.UUID, restricted bool) uuid.UUID {
	b.t.Helper()
	id := newID()
	b.exec(`insert into jobs (practice_id, id, vessel_id, number, kind, restricted, created_at) values ($1, $2, $3, $4, 'limited moisture', $5, $6)`,
		h.id, id, vessel, "2026-"+id.String()[30:], restricted, b.clock.now())
	return id
}

// let lets a member into a job.
func (b *bundle) let(a domain.Actor, job uuid.UUID) {
	b.t.Helper()
	b.exec(`insert into job_access (practice_id, job_id, member_id) values ($1, $2, $3)`, a.Practice, job, a.Member)
}

// letter is the newest letter to an address.
func (b *bundle) letter(to string) string {
	b.t.Helper()
	return value[string](b, `select body from mails where recipient = $1 order by created_at desc, id desc limit 1`, to)
}

func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

func ptr[T any](v T) *T { return &v }

// want checks what kind of fault a call ended in; Internal where it should have gone well.
func want(t testing.TB, err error, kind domain.Kind, field ...string) {
	t.Helper()
	if kind == domain.Internal {
		if err != nil {
			t.Errorf("got %v, want it to go well", err)
		}
		return
	}
	if err == nil || domain.KindOf(err) != kind {
		t.Errorf("got %v, want %s", err, kind.Code())
		return
	}
	var f *domain.Fault
	if errors.As(err, &f) && len(field) > 0 && f.Field != field[0] {
		t.Errorf("the fault speaks of field %q, want %q: %v", f.Field, field[0], err)
	}
	if !strings.HasSuffix(f.Text, ".") {
		t.Errorf("%q is no sentence", f.Text)
	}
}

// must is for steps that lead up to what a test is about.
func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// thrice sends a change three times and checks that all answers are those of the first.
func thrice(t testing.TB, send func(context.Context) (practice.Done, error)) practice.Done {
	t.Helper()
	first := must[practice.Done](t)(send(t.Context()))
	for range 2 {
		next := must[practice.Done](t)(send(t.Context()))
		if !next.Again || next.Seq != first.Seq || strings.Join(next.Touched, " ") != strings.Join(first.Touched, " ") {
			t.Errorf("sent again it answered %+v, first %+v", next, first)
		}
	}
	return first
}
