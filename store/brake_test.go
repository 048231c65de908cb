package store_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/url"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"

	"boottop.example/practice/domain"
	"boottop.example/practice/migrations"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// limits are the longest that a connection may ask for, promise D4.
var limits = map[string]time.Duration{
	"statement_timeout": 5 * time.Second, "lock_timeout": 2 * time.Second, "idle_in_transaction_session_timeout": 10 * time.Second,
}

func TestEveryConnectionOfTheServiceHasItsLimits(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	ear := listen(t, db.AppURL)
	s, err := store.Open(t.Context(), store.Config{URL: ear.through(t, db.AppURL), MaxConns: 3})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	p := uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), p, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Practices(t.Context(), ear.through(t, db.OwnerURL)); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended, worked := make(chan error, 1), make(chan struct{})
	go func() {
		ended <- store.Work(ctx, ear.through(t, db.WorkerURL), 1, map[string]store.Handler{
			store.MailJob: func(context.Context, json.RawMessage) error { close(worked); return nil },
		})
	}()
	if err := s.SendMail(t.Context(), p, letter); err != nil {
		t.Fatal(err)
	}
	select {
	case <-worked:
	case <-time.After(60 * time.Second):
		t.Error("the job did not run")
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	users := map[string]int{}
	for _, said := range ear.heard() {
		users[said["user"]]++
		for name, most := range limits {
			if d, err := time.ParseDuration(said[name]); err != nil || d <= 0 || d > most {
				t.Errorf("a connection of %s has %s %q, at most %s is promised", said["user"], name, said[name], most)
			}
		}
	}
	if users["app"] == 0 || users["owner"] == 0 || users["worker"] < 2 { // its pool and its listener
		t.Errorf("connections by role: %v", users)
	}
	for name, most := range limits { // and the server took them
		var milliseconds int64
		if err := s.Pool().QueryRow(t.Context(), `select setting::bigint from pg_settings where name = $1`, name).Scan(&milliseconds); err != nil {
			t.Fatal(err)
		}
		if got := time.Duration(milliseconds) * time.Millisecond; got <= 0 || got > most {
			t.Errorf("%s is %s", name, got)
		}
	}
}

// A client that goes away takes its query with it: without the cancellation this one
// would run for an hour.
func TestACancelledClientLeavesNoQuery(t *testing.T) {
	t.Parallel()
	if storetest.OneConnection() {
		t.Skip("it watches one connection from another")
	}
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	running := func() (n int) {
		err := s.Pool().QueryRow(t.Context(), `select count(*) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid() and state = 'active' and query like '%pg_sleep%'`).Scan(&n)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	ctx, hangUp := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		ended <- s.Pool().AcquireFunc(ctx, func(conn *pgxpool.Conn) error {
			if _, err := conn.Exec(ctx, `set statement_timeout = 0`); err != nil {
				return err
			}
			_, err := conn.Exec(ctx, `select pg_sleep(3600)`)
			return err
		})
	}()
	for running() == 0 {
		select {
		case err := <-ended:
			t.Fatal(err)
		case <-time.After(10 * time.Millisecond):
		}
	}
	began := time.Now()
	hangUp()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("the caller was told %v", err)
	}
	for running() > 0 {
		if time.Since(began) > 30*time.Second {
			t.Fatal("the query of a client that went away runs on")
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Logf("gone after %s; a second is promised", time.Since(began).Round(time.Millisecond))
}

// wiretap passes connections on to the database and keeps what each said at its start.
type wiretap struct {
	net.Listener
	to   string
	mu   sync.Mutex
	said []map[string]string
}

func listen(t *testing.T, address string) *wiretap {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	w := &wiretap{Listener: l, to: u.Host}
	t.Cleanup(func() { _ = l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go w.pass(conn)
		}
	}()
	return w
}

// through is the address with the wiretap in between.
func (w *wiretap) through(t *testing.T, address string) string {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	u.Host = w.Addr().String()
	q := u.Query()
	q.Set("sslmode", "disable") // so that the start can be read
	u.RawQuery = q.Encode()
	return u.String()
}

func (w *wiretap) pass(from net.Conn) {
	defer from.Close()
	head, said, err := start(from)
	if err != nil {
		return
	}
	if said != nil {
		w.mu.Lock()
		w.said = append(w.said, said)
		w.mu.Unlock()
	}
	to, err := net.Dial("tcp", w.to)
	if err != nil {
		return
	}
	defer to.Close()
	if _, err := to.Write(head); err != nil {
		return
	}
	go func() { _, _ = io.Copy(from, to); _ = from.Close() }()
	_, _ = io.Copy(to, from)
}

// start reads the first message of the frontend protocol 3.0: its length, its version and
// pairs of texts, each ended by a zero. A request to cancel has another version: nil.
func start(from io.Reader) (head []byte, said map[string]string, err error) {
	head = make([]byte, 8)
	if _, err := io.ReadFull(from, head); err != nil {
		return nil, nil, err
	}
	size := int(binary.BigEndian.Uint32(head))
	if size < 8 || size > 10_000 {
		return nil, nil, fmt.Errorf("a start of %d bytes", size)
	}
	rest := make([]byte, size-8)
	if _, err := io.ReadFull(from, rest); err != nil {
		return nil, nil, err
	}
	if binary.BigEndian.Uint16(head[4:]) == 3 {
		said = map[string]string{}
		words := bytes.Split(rest, []byte{0})
		for k := 0; k+1 < len(words) && len(words[k]) > 0; k += 2 {
			said[string(words[k])] = string(words[k+1])
		}
	}
	return append(head, rest...), said, nil
}

func (w *wiretap) heard() []map[string]string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return append([]map[string]string(nil), w.said...)
}

// Promise D3: while every connection is held, callers are told so in time, the service says
// that it is not ready, and it is itself again as soon as one is free.
func TestCallersAreToldWhenEveryConnectionIsHeld(t *testing.T) {
	t.Parallel()
	if storetest.OneConnection() {
		t.Skip("it holds connections")
	}
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	p := uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), p, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	var held []*pgxpool.Conn
	for range 2 {
		conn, err := s.Pool().Acquire(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		held = append(held, conn)
	}
	if _, err := s.Head(t.Context(), p, 0, 1); domain.KindOf(err) != domain.Unavailable {
		t.Errorf("a caller is told %v", err)
	}
	brief, cancel := context.WithTimeout(t.Context(), time.Second)
	defer cancel()
	if err := s.Door().Ready(brief, migrations.Version); err == nil {
		t.Error("it says that it is ready")
	}
	for _, conn := range held {
		conn.Release()
	}
	if _, err := s.Head(t.Context(), p, 0, 1); err != nil {
		t.Errorf("afterwards: %v", err)
	}
	if err := s.Door().Ready(t.Context(), migrations.Version); err != nil {
		t.Errorf("afterwards it is not ready: %v", err)
	}
}
