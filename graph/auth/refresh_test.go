package auth_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/auth"
)

// family is what a session's refresh tokens should do: the newest is traded for the next,
// the one before it gives the newest again, an older one ends everything.
type family struct {
	newest int
	dead   bool
}

func (f *family) present(token int) (next int, ok bool) {
	switch {
	case f.dead:
		return 0, false
	case token == f.newest:
		f.newest++
	case token < f.newest-1:
		f.dead = true
		return 0, false
	}
	return f.newest, true
}

// TestRefreshAgainstAModel is promise F2: a thousand random orders of presenting tokens
// that were ever handed out, against the database and against the model.
func TestRefreshAgainstAModel(t *testing.T) {
	t.Parallel()
	b := setup(t)
	const orders, presentations = 1000, 7
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	var wait sync.WaitGroup
	turns := make(chan int)
	for range 4 {
		wait.Go(func() {
			for n := range turns {
				if err := oneOrder(b, rand.New(rand.NewPCG(seed, uint64(n))), presentations); err != nil {
					t.Errorf("order %d: %v", n, err)
				}
			}
		})
	}
	for n := range orders {
		turns <- n
	}
	close(turns)
	wait.Wait()
}

func oneOrder(b *bundle, random *rand.Rand, presentations int) error {
	ctx, now := b.t.Context(), b.clock.now()
	tokens := []string{fmt.Sprintf("first token %d", random.Uint64())}
	s := entry.Session{ID: v7(b.t), Account: b.ours.account, Practice: b.ours.id, Member: b.ours.member}
	if err := b.door.StartSession(ctx, s, auth.TokenOf(tokens[0]), now, now.Add(time.Hour)); err != nil {
		return err
	}
	model := &family{}
	trace := ""
	for range presentations {
		held := random.IntN(len(tokens))
		if random.IntN(3) > 0 { // mostly the newest, or a family would never grow old
			held = len(tokens) - 1
		}
		trace += fmt.Sprint(held, " ")
		next, ok := model.present(held)
		successor := b.keys.Successor(tokens[held])
		got, err := b.door.RotateSession(ctx, auth.TokenOf(tokens[held]), auth.TokenOf(successor), now)
		if refused := errors.Is(err, domain.ErrNotFound); refused == ok || err != nil && !refused {
			return fmt.Errorf("after %s: answered %v, the model says %v", trace, err, ok)
		}
		if !ok {
			continue
		}
		if got.ID != s.ID || got.Member != s.Member {
			return fmt.Errorf("after %s: another session's", trace)
		}
		if next == len(tokens) {
			tokens = append(tokens, successor)
		} else if tokens[next] != successor {
			return fmt.Errorf("after %s: another successor than the first time", trace)
		}
	}
	return nil
}

func TestRefresh(t *testing.T) {
	t.Parallel()
	b := setup(t)
	copyOf := func(br *browser) *browser {
		c := b.browser()
		for n, v := range br.cookies {
			c.cookies[n] = v
		}
		return c
	}
	t.Run("tells what sign-in told, and moves both cookies on", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		before, _ := br.who()
		old := copyOf(br)
		b.clock.pass(time.Minute)
		r := br.send(http.MethodPost, "/auth/refresh", "{}")
		if r.status != http.StatusOK || !strings.HasSuffix(r.body, `"practice":"`+b.ours.wire()+`"}`) {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		after, status := br.who()
		if status != http.StatusOK || after.Session != before.Session {
			t.Errorf("seen as %+v, before as %+v", after, before)
		}
		for name, value := range br.cookies {
			if old.cookies[name] == value {
				t.Errorf("%s is the same", name)
			}
		}
	})
	t.Run("the reply was lost: the same successor again", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		lost := copyOf(br)
		br.post("/auth/refresh", body{})
		if r := lost.post("/auth/refresh", body{}); r.status != http.StatusOK {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		if name := br.cookie(true); br.cookies[name] != lost.cookies[name] {
			t.Error("another successor")
		}
	})
	t.Run("eight at once: one successor", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		tabs := make([]*browser, 8)
		var wait sync.WaitGroup
		for i := range tabs {
			tabs[i] = copyOf(br)
			wait.Go(func() { tabs[i].post("/auth/refresh", body{}) })
		}
		wait.Wait()
		for _, tab := range tabs {
			if name := br.cookie(true); tab.cookies[name] != tabs[0].cookies[name] || tab.cookies[name] == br.cookies[name] {
				t.Fatal("they hold different successors")
			}
		}
		if r := tabs[3].post("/auth/refresh", body{}); r.status != http.StatusOK {
			t.Errorf("it does not go on: %d %s", r.status, r.body)
		}
	})
	t.Run("a grandparent ends the family, the thief's and the owner's", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		thief := copyOf(br)
		br.post("/auth/refresh", body{})
		br.post("/auth/refresh", body{})
		const why = "ended because an older copy of it came back"
		if r := thief.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized || len(thief.cookies) != 0 || !strings.Contains(r.body, why) {
			t.Errorf("the thief got %d %s, cookies %v", r.status, r.body, thief.cookies)
		}
		if r := br.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized || !strings.Contains(r.body, why) {
			t.Errorf("the owner goes on, or is not told why: %d %s", r.status, r.body)
		}
		other := b.browser()
		other.signIn(b.ours)
		signedOut := copyOf(other)
		other.post("/auth/sign-out", body{})
		if r := signedOut.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized || strings.Contains(r.body, why) {
			t.Errorf("a session that its owner ended answers %d %s", r.status, r.body)
		}
	})
	t.Run("what is no token of ours answers the same", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		name := br.cookie(true)
		want := `{"error":{"code":"UNAUTHENTICATED","message":"Please sign in.","field":""}}`
		for what, value := range map[string]string{
			"made up": strings.Repeat("A", 43), "empty": "", "1 kB": strings.Repeat("A", 1000), "an access token": br.cookies[br.cookie(false)],
		} {
			other := &browser{b: b, cookies: map[string]string{name: value}}
			if r := other.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized || r.body != want {
				t.Errorf("%s: %d %s", what, r.status, r.body)
			}
		}
	})
	t.Run("thirty days after sign-in it is over", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		b.clock.pass(entry.SessionLasts - time.Minute)
		if r := br.post("/auth/refresh", body{}); r.status != http.StatusOK {
			t.Fatalf("a minute before: %d %s", r.status, r.body)
		}
		b.clock.pass(2 * time.Minute)
		if r := br.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized {
			t.Errorf("a minute after: %d %s", r.status, r.body)
		}
	})
}
