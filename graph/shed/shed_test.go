package shed_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/shed"
)

// Promise D1, its order: so many are served, so many wait, the rest are turned away, and
// every place is there again afterwards.
func TestWhoIsTooManyIsTurnedAway(t *testing.T) {
	t.Parallel()
	const atOnce, callers = 3, 100
	b := shed.New(atOnce)
	inside, open := make(chan struct{}, callers), make(chan struct{})
	handler := b.Limit(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {
		inside <- struct{}{}
		<-open
	}))
	answers := make(chan *http.Response, callers)
	ask := func() {
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/x", nil))
		answers <- w.Result()
	}
	for range atOnce {
		go ask()
	}
	for range atOnce {
		<-inside
	}
	var wait sync.WaitGroup
	for range callers {
		wait.Go(ask)
	}
	wait.Wait() // none of them got in, and none is kept waiting by those inside
	if len(inside) != 0 || b.Turned() != callers {
		t.Errorf("%d got in beside %d, %d were turned away of %d", len(inside), atOnce, b.Turned(), callers)
	}
	later := map[int]bool{}
	for range callers {
		a := <-answers
		seconds, err := strconv.Atoi(a.Header.Get("Retry-After"))
		if a.StatusCode != http.StatusServiceUnavailable || err != nil || seconds < 1 || seconds > 10 {
			t.Fatalf("turned away with %d, Retry-After %q", a.StatusCode, a.Header.Get("Retry-After"))
		}
		later[seconds] = true
	}
	if len(later) < 4 {
		t.Errorf("100 callers come back at %d different seconds", len(later))
	}
	close(open)
	for range atOnce {
		if a := <-answers; a.StatusCode != http.StatusOK {
			t.Errorf("one that was let in got %d", a.StatusCode)
		}
	}
	for range atOnce {
		if _, err := b.Enter(t.Context()); err != nil {
			t.Errorf("a place was lost: %v", err)
		}
	}
	gone, leave := context.WithCancel(t.Context())
	leave()
	if _, err := b.Enter(gone); domain.KindOf(err) == domain.Unavailable || err == nil {
		t.Errorf("who hung up while waiting got %v", err)
	}
}

// One that waits gets the place that becomes free.
func TestWhoWaitsGetsThePlaceThatBecomesFree(t *testing.T) {
	t.Parallel()
	b := shed.New(1)
	leave, err := b.Enter(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	got := make(chan error)
	go func() {
		_, err := b.Enter(t.Context())
		got <- err
	}()
	leave()
	if err := <-got; err != nil {
		t.Error(err)
	}
}

func TestNoBoundLetsEverybodyIn(t *testing.T) {
	t.Parallel()
	var none *shed.Bound
	for range 1000 {
		if _, err := none.Enter(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
}

// Promise D5: a practice that asks for ten times what it may have takes three places in
// four, and others come in at once, without standing in its line.
func TestOnePracticeLeavesRoomForOthers(t *testing.T) {
	t.Parallel()
	const atOnce = 8
	b := shed.New(atOnce)
	crowd, others := uuid.New(), []uuid.UUID{uuid.New(), uuid.Nil}
	var inside []func()
	for range atOnce * 3 / 4 {
		leave, err := b.EnterFor(t.Context(), crowd)
		if err != nil {
			t.Fatal(err)
		}
		inside = append(inside, leave)
	}
	ctx, enough := context.WithCancel(t.Context())
	var line sync.WaitGroup
	var late atomic.Int64
	for range 10 * atOnce {
		line.Go(func() {
			if leave, err := b.EnterFor(ctx, crowd); err == nil {
				late.Add(1)
				leave()
			}
		})
	}
	for range 100 { // one after the other, while the crowd stands in line
		for _, other := range others {
			leave, err := b.EnterFor(ctx, other)
			if err != nil {
				t.Fatalf("another practice is kept out by the crowd: %v", err)
			}
			leave()
		}
	}
	enough()
	line.Wait()
	if n := late.Load(); n > 0 {
		t.Errorf("%d of the crowd had more than its share", n)
	}
	for _, leave := range inside {
		leave()
	}
	for range atOnce { // every place is there again
		if _, err := b.Enter(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
}
