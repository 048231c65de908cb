package ground

import (
	"io"
	"net"
	"net/url"
	"sync"
	"sync/atomic"
)

// Relay is a TCP relay in front of a server that counts how often a caller spoke after
// it had been answered: round trips.
type Relay struct {
	to    string
	in    net.Listener
	trips atomic.Int64
}

// NewRelay stands before the server of a database URL and gives the URL that leads
// through it.
func NewRelay(address string) (*Relay, string, error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, "", err
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, "", err
	}
	r := &Relay{to: u.Host, in: l}
	go r.accept()
	u.Host = l.Addr().String()
	return r, u.String(), nil
}

// Trips counts round trips so far.
func (r *Relay) Trips() int64 { return r.trips.Load() }

// Close ends it.
func (r *Relay) Close() error { return r.in.Close() }

func (r *Relay) accept() {
	for {
		from, err := r.in.Accept()
		if err != nil {
			return
		}
		go r.pass(from)
	}
}

func (r *Relay) pass(from net.Conn) {
	defer from.Close()
	to, err := net.Dial("tcp", r.to)
	if err != nil {
		return
	}
	defer to.Close()
	var answered atomic.Bool
	answered.Store(true)
	var both sync.WaitGroup
	both.Go(func() {
		_, _ = io.Copy(heeded{to, func() {
			if answered.Swap(false) {
				r.trips.Add(1)
			}
		}}, from)
		_ = to.Close()
	})
	both.Go(func() {
		_, _ = io.Copy(heeded{from, func() { answered.Store(true) }}, to)
		_ = from.Close()
	})
	both.Wait()
}

// heeded is a writer that says when something is written.
type heeded struct {
	io.Writer
	heed func()
}

func (h heeded) Write(b []byte) (int, error) {
	h.heed()
	return h.Writer.Write(b)
}
