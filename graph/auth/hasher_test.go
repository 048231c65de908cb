package auth

import (
	"context"
	"runtime"
	"testing"

	"boottop.example/practice/domain"
)

// TestTwoHashesAtOnce is promise D7's bound on memory: two are computed, 64 wait, the rest
// are told to come again.
func TestTwoHashesAtOnce(t *testing.T) {
	t.Parallel()
	h := newHasher()
	first, err := h.turn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := h.turn(t.Context()); err != nil {
		t.Fatal(err)
	}
	ctx, leave := context.WithCancel(t.Context())
	ended := make(chan error, cap(h.waiting))
	for range cap(h.waiting) {
		go func() {
			_, err := h.turn(ctx)
			ended <- err
		}()
	}
	for len(h.waiting) < cap(h.waiting) {
		runtime.Gosched()
	}
	if _, err := h.turn(t.Context()); domain.KindOf(err) != domain.Unavailable {
		t.Errorf("one more than may wait: %v", err)
	}
	first()
	leave()
	through := 0
	for range cap(h.waiting) {
		if err := <-ended; err == nil {
			through++
		} else if domain.KindOf(err) != domain.Unavailable {
			t.Error(err)
		}
	}
	if through > 1 {
		t.Errorf("%d came through one free place", through)
	}
}

func TestHashesThatAreNotOurs(t *testing.T) {
	t.Parallel()
	h := newHasher()
	for name, hash := range map[string]string{
		"bcrypt": "$2a$10$abcdefghijklmnopqrstuv", "argon2i": "$argon2i$v=19$m=19456,t=2,p=1$c2FsdHNhbHQ$aGFzaGhhc2hoYXNoaGFzaA",
		"4 GiB": "$argon2id$v=19$m=4194304,t=2,p=1$c2FsdHNhbHQ$aGFzaGhhc2hoYXNoaGFzaA", "no salt": "$argon2id$v=19$m=19456,t=2,p=1$$aGFzaGhhc2hoYXNoaGFzaA",
		"version 16": "$argon2id$v=16$m=19456,t=2,p=1$c2FsdHNhbHQ$aGFzaGhhc2hoYXNoaGFzaA", "nonsense": "nonsense",
	} {
		if right, _, err := h.check(t.Context(), "x", hash); right || err == nil {
			t.Errorf("%s: %v, %v", name, right, err)
		}
	}
}
