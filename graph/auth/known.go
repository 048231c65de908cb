package auth

import (
	"crypto/rand"
	"sync"
	"time"

	"boottop.example/practice/domain"
)

// known remembers actors for recallFor. What opens nothing is never remembered, so
// strangers cannot fill it.
type known struct {
	mu   sync.Mutex
	seen map[any]knownActor
}

type knownActor struct {
	actor domain.Actor
	at    time.Time
}

const knownMost = 10_000

func newKnown() *known { return &known{seen: map[any]knownActor{}} }

func (k *known) get(key any, now time.Time) (domain.Actor, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	s, there := k.seen[key]
	if !there || now.Sub(s.at) >= recallFor || now.Before(s.at) {
		return domain.Actor{}, false
	}
	return s.actor, true
}

func (k *known) put(key any, actor domain.Actor, at time.Time) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.seen) >= knownMost {
		k.sweep(at)
	}
	k.seen[key] = knownActor{actor, at}
}

// sweep drops what is too old, and everything where nothing is.
func (k *known) sweep(now time.Time) {
	for key, s := range k.seen {
		if now.Sub(s.at) >= recallFor {
			delete(k.seen, key)
		}
	}
	if len(k.seen) >= knownMost {
		clear(k.seen)
	}
}

func (k *known) forget(key any) {
	k.mu.Lock()
	defer k.mu.Unlock()
	delete(k.seen, key)
}

// forgetAll is for changes that end sessions whose ids are not at hand.
func (k *known) forgetAll() {
	k.mu.Lock()
	defer k.mu.Unlock()
	clear(k.seen)
}

// newSecret makes 256 bits behind a prefix.
func newSecret(prefix string) secret {
	var b [32]byte
	rand.Read(b[:]) // never fails: crypto/rand ends the process instead
	return secret(prefix + url64.EncodeToString(b[:]))
}
