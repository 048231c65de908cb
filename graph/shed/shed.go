// Package shed keeps the service answering when more is asked of it than it can do: so many
// callers are served at once, a few more wait a moment, and the rest are told at once to come
// back, each a little later than the other. What is served stays quick that way; a queue
// that only grows makes everybody's answer late, and then nobody's of use.
package shed

import (
	"context"
	"math/rand/v2"
	"net/http"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// Bound lets so many in at once. The zero Bound lets everybody in.
type Bound struct {
	places  chan struct{}
	shares  shares
	waiting atomic.Int64
	turned  atomic.Int64
	line    int64
	patient time.Duration
}

const (
	perCore   = 16                     // most of a request is waiting for the database
	lineTimes = 4                      // how many wait for each that is served
	patient   = 400 * time.Millisecond // who waited so long is told to come back
	soonest   = 1                      // seconds until somebody may come back
	latest    = 10
)

// New makes a bound for so many callers at once; 0 is what suits the machine.
func New(atOnce int) *Bound {
	if atOnce <= 0 {
		atOnce = perCore * runtime.GOMAXPROCS(0)
	}
	return &Bound{
		places: make(chan struct{}, atOnce), shares: shares{most: (3*atOnce + 3) / 4, of: map[uuid.UUID]*share{}},
		line: int64(lineTimes * atOnce), patient: patient,
	}
}

// Enter takes a place, which leave gives back. Without one in time it answers the fault to
// tell; so it does at once where enough others wait already.
func (b *Bound) Enter(ctx context.Context) (leave func(), err error) {
	if b == nil || b.places == nil {
		return func() {}, nil
	}
	if err := b.take(ctx, b.places); err != nil {
		return nil, err
	}
	return func() { <-b.places }, nil
}

// EnterFor is Enter for a practice, or with no id for strangers: three places in four are
// the most that one of them has at a time, so that the others always find some free.
func (b *Bound) EnterFor(ctx context.Context, practice uuid.UUID) (leave func(), err error) {
	if b == nil || b.places == nil {
		return func() {}, nil
	}
	mine := b.shares.join(practice)
	if err := b.take(ctx, mine.places, b.places); err != nil {
		b.shares.part(practice)
		return nil, err
	}
	return func() {
		<-b.places
		<-mine.places
		b.shares.part(practice)
	}, nil
}

// take takes a place in each of these, in their order, or in none.
func (b *Bound) take(ctx context.Context, of ...chan struct{}) error {
	got := 0
	for got < len(of) && takeNow(of[got]) {
		got++
	}
	if got == len(of) {
		return nil
	}
	err := b.wait(ctx, of[got:])
	if err != nil {
		for _, places := range of[:got] {
			<-places
		}
	}
	return err
}

func takeNow(places chan struct{}) bool {
	select {
	case places <- struct{}{}:
		return true
	default:
		return false
	}
}

// wait stands in line for a place in each of these; where it gives up it has none of them.
func (b *Bound) wait(ctx context.Context, of []chan struct{}) (err error) {
	if b.waiting.Add(1) > b.line {
		b.waiting.Add(-1)
		b.turned.Add(1)
		return errBusy
	}
	defer b.waiting.Add(-1)
	enough := time.NewTimer(b.patient)
	defer enough.Stop()
	for k, places := range of {
		select {
		case places <- struct{}{}:
			continue
		case <-enough.C:
			b.turned.Add(1)
			err = errBusy
		case <-ctx.Done():
			err = ctx.Err()
		}
		for _, taken := range of[:k] {
			<-taken
		}
		return err
	}
	return nil
}

// shares are the places that each practice may have, made when its first caller comes and
// dropped when its last one goes.
type shares struct {
	mu   sync.Mutex
	most int
	of   map[uuid.UUID]*share
}

type share struct {
	places  chan struct{}
	callers int
}

func (s *shares) join(practice uuid.UUID) *share {
	s.mu.Lock()
	defer s.mu.Unlock()
	mine := s.of[practice]
	if mine == nil {
		mine = &share{places: make(chan struct{}, s.most)}
		s.of[practice] = mine
	}
	mine.callers++
	return mine
}

func (s *shares) part(practice uuid.UUID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.of[practice].callers--; s.of[practice].callers == 0 {
		delete(s.of, practice)
	}
}

var errBusy error = &domain.Fault{Kind: domain.Unavailable, Text: "The service has more to do at this moment than it can. Nothing was done; please try again in a few seconds."}

// Turned counts who was told to come back.
func (b *Bound) Turned() int64 { return b.turned.Load() }

// Limit is a handler that keeps to the bound, for routes of plain HTTP.
func (b *Bound) Limit(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		leave, err := b.Enter(r.Context())
		if err != nil {
			w.Header().Set("Retry-After", Later())
			answer.Fault(w, r, err)
			return
		}
		defer leave()
		next.ServeHTTP(w, r)
	})
}

// Later is in how many seconds somebody may come back. Drawn for each, so that those who
// were turned away together do not come back together.
func Later() string { return strconv.Itoa(soonest + rand.IntN(latest-soonest+1)) }
