package ground

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// House is a practice of a proof's own, in which the proof acts as the service itself.
type House struct {
	Store   *store.Store
	Service *practice.Service
	Actor   domain.Actor
	ID      uuid.UUID
}

// Housed runs fn with a server of its own, which it may break, and a practice on it that is
// reached over so many connections; both end with it.
func Housed(ctx context.Context, o Options, connections int32, fn func(*Database, *House) error) error {
	return With(ctx, o, func(db *Database) error {
		house, err := db.House(ctx, connections)
		if err != nil {
			return err
		}
		defer house.Close()
		return fn(db, house)
	})
}

// House makes a practice and reaches it over so many connections.
func (d *Database) House(ctx context.Context, connections int32) (*House, error) {
	s, err := store.Open(ctx, store.Config{URL: d.AppURL, MaxConns: connections})
	if err != nil {
		return nil, err
	}
	id := NewID()
	if err := s.Door().CreatePractice(ctx, id, "A practice of the proofs", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		s.Close()
		return nil, err
	}
	return &House{Store: s, Service: practice.New(s), Actor: domain.Service(id), ID: id}, nil
}

// Close gives the connections back.
func (h *House) Close() { h.Store.Close() }

// Instruments counts how often each instrument of the practice is there.
func (h *House) Instruments(ctx context.Context) (map[uuid.UUID]int, error) {
	seen := map[uuid.UUID]int{}
	for page := (practice.Page{First: 200}); ; {
		list, err := h.Service.Instruments(ctx, h.Actor, page)
		if err != nil {
			return nil, err
		}
		for _, i := range list[:min(len(list), page.First)] {
			seen[i.ID]++
			page.AfterText, page.AfterID = i.Name, i.ID
		}
		if len(list) <= page.First {
			return seen, nil
		}
	}
}
