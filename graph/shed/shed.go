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
	"sync/atomic"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// Bound lets so many in at once. The zero Bound lets everybody in.
type Bound struct {
	places  chan struct{}
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
	return &Bound{places: make(chan struct{}, atOnce), line: int64(lineTimes * atOnce), patient: patient}
}

// Enter takes a place, which leave gives back. Without one in time it answers the fault to
// tell; so it does at once where enough others wait already.
func (b *Bound) Enter(ctx context.Context) (leave func(), err error) {
	if b == nil || b.places == nil {
		return func() {}, nil
	}
	leave = func() { <-b.places }
	select {
	case b.places <- struct{}{}:
		return leave, nil
	default:
	}
	if b.waiting.Add(1) > b.line {
		b.waiting.Add(-1)
		b.turned.Add(1)
		return nil, errBusy
	}
	defer b.waiting.Add(-1)
	enough := time.NewTimer(b.patient)
	defer enough.Stop()
	select {
	case b.places <- struct{}{}:
		return leave, nil
	case <-enough.C:
		b.turned.Add(1)
		return nil, errBusy
	case <-ctx.Done():
		return nil, ctx.Err()
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
