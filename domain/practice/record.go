package practice

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Records is the record of changes inside a transaction.
type Records interface {
	// Begin locks this mutation id and finds an earlier run of it, nil where there is
	// none; roles are what the actor is to the practice now, empty once the member left,
	// the session ended or the key was revoked.
	Begin(ctx context.Context, mutation uuid.UUID, a domain.Actor) (prior *Recorded, roles []domain.Role, err error)
	// Record is the last statement of every write: it takes the next seq and seals the line.
	Record(ctx context.Context, line Line) (seq int64, err error)
}

// RecordReader reads the record of changes.
type RecordReader interface {
	Head(ctx context.Context, practice uuid.UUID, since int64, most int) (Head, error)
}

// Recorded is an earlier run of a mutation.
type Recorded struct {
	Operation string
	Input     [32]byte
	Result    string
	Seq       int64
}

// Line is what the record keeps of one change: ids only, no names, no free text.
type Line struct {
	ID        uuid.UUID
	Actor     domain.Actor
	Operation string
	Input     [32]byte
	Result    string // JSON of Done
	At        time.Time
}

// Head is where the record stands and what moved since a number.
type Head struct {
	Epoch int
	Seq   int64
	Chain []byte
	Moved []Moved
	Whole bool // whether Moved lists every change; else everything may have moved
}

// Moved is one change, as the change feed tells it.
type Moved struct {
	Seq       int64
	Operation string
	Result    string
	At        time.Time
}

// Touched lists the ids a change touched, as `kind_uuid`.
func (m Moved) Touched() []string {
	var d Done
	if json.Unmarshal([]byte(m.Result), &d) != nil {
		return nil
	}
	return d.Touched
}

// Done is what a change came to. It is kept with the change, so that sending it again
// answers the same; hence ids and numbers only.
type Done struct {
	Touched []string `json:"touched"`           // kind_uuid of what was made or changed, the main one first
	Kept    int      `json:"kept,omitempty"`    // how many rows of a batch
	Repeats []int32  `json:"repeats,omitempty"` // ordinals kept as repeats, see AddReadings
	Asks    bool     `json:"asks,omitempty"`    // an addendum is now required
	Seq     int64    `json:"-"`                 // its number in the record
	Again   bool     `json:"-"`                 // this was a repeat; nothing was done

	tells []telling // what others should hear of
}

// touched makes the Done of a change to these things.
func touched(things ...domain.Ref) Done {
	d := Done{Touched: make([]string, len(things))}
	for i, t := range things {
		d.Touched[i] = t.String()
	}
	return d
}

func ref(thing domain.Thing, id uuid.UUID) domain.Ref { return domain.Ref{Kind: thing, ID: id} }

// attempts is how often a write that lost a race is tried before the caller is told.
const attempts = 4

// write runs one use case: permission, repeat check, the work, its line in the record.
// input is hashed as JSON; fn may run more than once and must do all its work in tx. By
// then a has only those of its roles that the member still holds: a token may be minutes old.
func (s *Service) write(ctx context.Context, a *domain.Actor, do domain.Action, operation string, mutation uuid.UUID, input any, fn func(context.Context, Tx) (Done, error)) (Done, error) {
	if err := domain.May(*a, do); err != nil {
		return Done{}, err
	}
	if err := newID("mutation", mutation); err != nil {
		return Done{}, err
	}
	raw, err := json.Marshal(input)
	if err != nil {
		return Done{}, fmt.Errorf("%s: hash input: %w", operation, err)
	}
	line := Line{ID: mutation, Actor: *a, Operation: operation, Input: sha256.Sum256(raw)}
	for try := 1; ; try++ {
		done, err := s.writeOnce(ctx, a, do, line, fn)
		if err == nil || try == attempts || !errors.Is(err, ErrAgain) {
			if errors.Is(err, ErrAgain) {
				err = &domain.Fault{Kind: domain.Unavailable, Text: "Others were writing the same things; nothing was kept. Please send it again.", Err: err}
			}
			return done, err
		}
	}
}

func (s *Service) writeOnce(ctx context.Context, a *domain.Actor, do domain.Action, line Line, fn func(context.Context, Tx) (Done, error)) (done Done, err error) {
	err = s.store.InPractice(ctx, a.Practice, func(tx Tx) error {
		prior, roles, err := tx.Begin(ctx, line.ID, line.Actor)
		if err != nil {
			return err
		}
		if *a, err = asNow(line.Actor, roles); err != nil {
			return err
		}
		if err := domain.May(*a, do); err != nil {
			return err
		}
		if prior != nil {
			done, err = again(*prior, line)
			return err
		}
		if done, err = fn(ctx, tx); err != nil {
			return err
		}
		line.At = s.instant()
		if err := tellAll(ctx, tx, line, done.tells); err != nil {
			return err
		}
		result, err := json.Marshal(done)
		if err != nil {
			return fmt.Errorf("%s: keep result: %w", line.Operation, err)
		}
		line.Result = string(result)
		done.Seq, err = tx.Record(ctx, line)
		return err
	})
	if err != nil {
		return Done{}, err
	}
	return done, nil
}

// asNow takes the roles from an actor that the member holds no longer.
func asNow(a domain.Actor, roles []domain.Role) (domain.Actor, error) {
	if a.Means == domain.BySelf {
		return a, nil
	}
	if len(roles) == 0 {
		return a, domain.ErrUnauthenticated
	}
	a.Roles = slices.DeleteFunc(slices.Clone(a.Roles), func(r domain.Role) bool { return !slices.Contains(roles, r) })
	return a, nil
}

// again answers a mutation that was sent before.
func again(prior Recorded, line Line) (Done, error) {
	if prior.Operation != line.Operation || prior.Input != line.Input {
		return Done{}, domain.Conflictf("This change was sent before with other content. Give the new content an id of its own.")
	}
	var done Done
	if err := json.Unmarshal([]byte(prior.Result), &done); err != nil {
		return Done{}, fmt.Errorf("%s: read kept result: %w", line.Operation, err)
	}
	done.Seq, done.Again = prior.Seq, true
	return done, nil
}

// mostMoved is how many changes are listed at a time.
const mostMoved = 200

// Head tells where the practice's record stands and what moved since a number. More than
// 200 changes are not listed, and to a guest none are: most are of jobs that are not open.
func (s *Service) Head(ctx context.Context, a domain.Actor, since int64) (Head, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Head{}, err
	}
	if since < 0 {
		return Head{}, domain.Invalidf("since", "The number must be 0 or more.")
	}
	h, err := s.store.Head(ctx, a.Practice, since, mostMoved+1)
	if h.Whole = len(h.Moved) <= mostMoved && !a.OnlyGuest(); !h.Whole {
		h.Moved = nil
	}
	return h, err
}
