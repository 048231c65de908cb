// Package apart proves that practices stay apart in one pool of connections, whatever
// ends a transaction: promise A4.
package apart

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// Proof is promise A4.
var Proof = ground.Proof{
	Name:  "apart",
	Brief: "20 practices over 4 connections, transactions cancelled, panicking and timed out: no row crosses",
	Run: func(ctx context.Context, o ground.Options) (r ground.Report, err error) {
		db, err := ground.Open(ctx, o, "apart")
		if err != nil {
			return r, err
		}
		defer func() { err = errors.Join(err, db.Close()) }()
		return Run(ctx, db.AppURL, o.Seed, o.Size(10_000, 600))
	},
}

const (
	practices = 20
	conns     = 4
	callers   = 12
)

// Counts is what happened to the transactions.
type Counts struct {
	Read      int64 `json:"read"`
	Written   int64 `json:"written"`
	Cancelled int64 `json:"cancelled"`
	Panicked  int64 `json:"panicked"`
	Refused   int64 `json:"refused"` // no connection in time
	Looked    int64 `json:"looked"`  // at connections that had been given back
	Crossed   int64 `json:"crossed"`
	Stuck     int64 `json:"stuck"` // a connection given back with a practice chosen
	Lost      int64 `json:"lost"`  // acknowledged and not there
}

// house is one practice with what was acknowledged to it.
type house struct {
	actor domain.Actor
	mu    sync.Mutex
	kept  map[uuid.UUID]bool
}

// mix is the proof under way.
type mix struct {
	Counts
	db      *store.Store
	service *practice.Service
	houses  []*house
	failed  atomic.Pointer[error]
}

// Run mixes n transactions of many practices over a few connections.
func Run(ctx context.Context, appURL string, seed uint64, n int) (r ground.Report, err error) {
	db, err := store.Open(ctx, store.Config{URL: appURL, MaxConns: conns})
	if err != nil {
		return r, err
	}
	defer db.Close()
	m := &mix{db: db, service: practice.New(db)}
	for k := range practices {
		p := ground.NewID()
		if err := db.Door().CreatePractice(ctx, p, fmt.Sprintf("Practice %d", k), "Etc/UTC", "EUR", true, time.Now()); err != nil {
			return r, err
		}
		m.houses = append(m.houses, &house{actor: domain.Service(p), kept: map[uuid.UUID]bool{}})
	}
	var all sync.WaitGroup
	for k := range callers {
		all.Go(func() {
			chance := rand.New(rand.NewPCG(seed, uint64(k)))
			for range (n + callers - 1) / callers {
				if ctx.Err() == nil {
					m.one(ctx, chance)
				}
			}
		})
	}
	all.Wait()
	if ctx.Err() != nil {
		return r, ctx.Err()
	}
	if failed := m.failed.Load(); failed != nil {
		return r, *failed
	}
	if err := m.count(ctx); err != nil {
		return r, err
	}
	m.claim(&r)
	return r, nil
}

func (m *mix) claim(r *ground.Report) {
	r.Figures = &m.Counts
	r.Notes = fmt.Sprintf("  %d read, %d written, %d cancelled, %d panicked, %d without a connection, %d looked into\n", m.Read, m.Written, m.Cancelled, m.Panicked, m.Refused, m.Looked)
	r.Claim(m.Crossed == 0, "no row crosses from one practice to another", "%d crossed", m.Crossed)
	r.Claim(m.Stuck == 0, "a connection given back has no practice chosen", "%d of %d had", m.Stuck, m.Looked)
	r.Claim(m.Lost == 0, "what was acknowledged is there", "%d lost", m.Lost)
	r.Claim(m.Cancelled > 0 && m.Panicked > 0 && m.Looked > 0 && m.Written > 0, "every way for a transaction to end was met", "as counted above")
}

// one takes one transaction of some practice and ends it in some way.
func (m *mix) one(ctx context.Context, chance *rand.Rand) {
	h := m.houses[chance.IntN(len(m.houses))]
	cut := time.Duration(chance.IntN(20_000)) * time.Microsecond
	switch chance.IntN(7) {
	case 0:
		m.read(ctx, h)
	case 1:
		m.write(ctx, h)
	case 2:
		short, cancel := context.WithTimeout(ctx, cut)
		m.read(short, h)
		cancel()
	case 3:
		short, cancel := context.WithTimeout(ctx, cut)
		m.write(short, h)
		cancel()
	case 4:
		m.panics(ctx, h)
	case 5:
		m.tooLong(ctx, h, cut)
	case 6:
		m.look(ctx)
	}
}

func (m *mix) read(ctx context.Context, h *house) {
	list, err := m.service.Instruments(ctx, h.actor, practice.Page{First: 200})
	if m.ended(err) {
		return
	}
	atomic.AddInt64(&m.Read, 1)
	m.judge(h, list)
}

// judge counts what is not h's own. The name of each instrument is its practice's id.
func (m *mix) judge(h *house, list []practice.Instrument) {
	for _, i := range list {
		if i.Name != h.actor.Practice.String() {
			atomic.AddInt64(&m.Crossed, 1)
		}
	}
}

func (m *mix) write(ctx context.Context, h *house) {
	id := ground.NewID()
	_, err := m.service.AddInstrument(ctx, h.actor, practice.AddInstrument{
		Mutation: ground.NewID(), Instrument: practice.Instrument{ID: id, Name: h.actor.Practice.String(), Kind: "other"},
	})
	if m.ended(err) {
		return
	}
	atomic.AddInt64(&m.Written, 1)
	h.mu.Lock()
	h.kept[id] = true
	h.mu.Unlock()
}

// panics ends a transaction with a panic after it has written.
func (m *mix) panics(ctx context.Context, h *house) {
	defer func() {
		if recover() != nil {
			atomic.AddInt64(&m.Panicked, 1)
		}
	}()
	m.ended(m.db.InPractice(ctx, h.actor.Practice, func(tx practice.Tx) error {
		if err := tx.InsertInstrument(ctx, practice.Instrument{ID: ground.NewID(), Name: "of a panic", Kind: "other"}); err != nil {
			return err
		}
		panic("in the middle of it")
	}))
}

// tooLong ends a transaction by its deadline, with a statement under way or about to be.
func (m *mix) tooLong(ctx context.Context, h *house, cut time.Duration) {
	short, cancel := context.WithTimeout(ctx, cut)
	defer cancel()
	m.ended(m.db.InPractice(short, h.actor.Practice, func(tx practice.Tx) error {
		for {
			if _, err := tx.Practice(short); err != nil {
				return err
			}
		}
	}))
}

// look takes a connection that others have given back, and asks it for what it should not
// know.
func (m *mix) look(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	var chosen string
	var rows int
	err := m.db.Pool().QueryRow(ctx, `select coalesce(current_setting('app.practice', true), ''), (select count(*) from instruments) + (select count(*) from practices)`).Scan(&chosen, &rows)
	if m.ended(err) {
		return
	}
	atomic.AddInt64(&m.Looked, 1)
	if chosen != "" || rows > 0 {
		atomic.AddInt64(&m.Stuck, 1)
	}
}

// ended tells whether a call came to nothing, and notes why; what should not happen ends
// the proof.
func (m *mix) ended(err error) bool {
	switch {
	case err == nil:
		return false
	case errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded):
		atomic.AddInt64(&m.Cancelled, 1)
	case domain.KindOf(err) == domain.Unavailable:
		atomic.AddInt64(&m.Refused, 1)
	default:
		m.failed.CompareAndSwap(nil, &err)
	}
	return true
}

// count looks at the end for what was acknowledged, and for what a panic should have
// taken back.
func (m *mix) count(ctx context.Context) error {
	for _, h := range m.houses {
		there := map[uuid.UUID]bool{}
		for page := (practice.Page{First: 200}); ; {
			list, err := m.service.Instruments(ctx, h.actor, page)
			if err != nil {
				return err
			}
			m.judge(h, list)
			for _, i := range list {
				there[i.ID] = true
				page.AfterText, page.AfterID = i.Name, i.ID
			}
			if len(list) <= page.First {
				break
			}
		}
		for id := range h.kept {
			if !there[id] {
				m.Lost++
			}
		}
	}
	return nil
}
