package shed_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strconv"
	"sync"
	"testing"

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
