package auth

import (
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"boottop.example/practice/domain"
)

// slow makes guessing slow. It counts failures, not sign-ins, in windows that leak
// evenly, by address, by account as typed (known or not), and by both.
type slow struct {
	now   func() time.Time
	mu    sync.Mutex
	leaks map[string]leak
}

type leak struct {
	level float64
	at    time.Time
}

// allowance is how many failures may come at once and how long one takes to leak away.
type allowance struct {
	most float64
	each time.Duration
}

var (
	perAddress = allowance{60, 10 * time.Second}
	perPair    = allowance{10, 90 * time.Second}
	perEmail   = allowance{100, 36 * time.Second} // wide, or a stranger could lock a person out
	perReset   = allowance{5, 10 * time.Minute}   // letters to one person
)

const leaksMost = 50_000

func newSlow(now func() time.Time) *slow { return &slow{now: now, leaks: map[string]leak{}} }

// tooMany is answered with the same words whether the account exists or not.
var errTooMany = &domain.Fault{Kind: domain.Unavailable, Text: "Too many attempts. Please wait a few minutes, or ask for a new password."}

// full tells whether a key has used up its allowance.
func (s *slow) full(key string, a allowance) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.level(key, a) >= a.most
}

func (s *slow) add(key string, a allowance) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.leaks) >= leaksMost {
		s.sweep()
	}
	s.leaks[key] = leak{s.level(key, a) + 1, s.now()}
}

func (s *slow) level(key string, a allowance) float64 {
	l := s.leaks[key]
	return max(0, l.level-float64(s.now().Sub(l.at))/float64(a.each))
}

// sweep drops what has surely leaked away, and everything where nothing has.
func (s *slow) sweep() {
	for key, l := range s.leaks {
		if s.now().Sub(l.at) > time.Hour {
			delete(s.leaks, key)
		}
	}
	if len(s.leaks) >= leaksMost {
		clear(s.leaks)
	}
}

func (a *Auth) mayTry(r *http.Request, email string) error {
	from := a.from(r)
	if a.slow.full("address "+from, perAddress) || a.slow.full("pair "+from+" "+email, perPair) || a.slow.full("email "+email, perEmail) {
		return errTooMany
	}
	return nil
}

func (a *Auth) failed(r *http.Request, email string) {
	from := a.from(r)
	a.slow.add("address "+from, perAddress)
	a.slow.add("pair "+from+" "+email, perPair)
	a.slow.add("email "+email, perEmail)
}

// from is the address a request came from: what the outermost of our own proxies wrote.
// What stands before that in X-Forwarded-For was written by strangers. An IPv6 caller has
// a whole /64, so that is what is counted.
func (a *Auth) from(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if a.hops > 0 {
		said := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
		if n := len(said) - a.hops; n >= 0 {
			host = strings.TrimSpace(said[n])
		}
	}
	ip := net.ParseIP(host)
	if ip == nil {
		return "unknown"
	}
	if ip.To4() == nil {
		ip = ip.Mask(net.CIDRMask(64, 128))
	}
	return ip.String()
}
