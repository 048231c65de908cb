package practice

import (
	"context"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// HoldOn names what a hold is on, one of the three, or whose holds are asked for.
type HoldOn struct {
	Party  *uuid.UUID
	Job    *uuid.UUID
	Vessel *uuid.UUID
}

// things names what a hold is on.
func (on HoldOn) things() (list []domain.Ref) {
	if on.Party != nil {
		list = append(list, ref(domain.ThingParty, *on.Party))
	}
	if on.Job != nil {
		list = append(list, ref(domain.ThingJob, *on.Job))
	}
	if on.Vessel != nil {
		list = append(list, ref(domain.ThingVessel, *on.Vessel))
	}
	return list
}

func (on HoldOn) check() error {
	if len(on.things()) != 1 {
		return domain.Invalidf("", "A hold is on one thing: a person, a job or a vessel.")
	}
	return nil
}

// Hold keeps a file from being erased while it stands. The database judges it.
type Hold struct {
	ID           uuid.UUID
	On           HoldOn
	What         string // its name or number
	Reason       string
	PlacedAt     time.Time
	PlacedBy     string
	LiftedAt     *time.Time
	LiftedBy     string
	LiftedReason string
}

// HoldReader reads holds.
type HoldReader interface {
	// Holds lists what keeps a person, the file of a job or a vessel, now or once, those that
	// stand first; NotFound where the thing is not there or not the actor's to see.
	Holds(ctx context.Context, practice uuid.UUID, on HoldOn, who Sees) ([]Hold, error)
}

// HoldWriter writes holds.
type HoldWriter interface {
	InsertHold(ctx context.Context, in PlaceHold, by *uuid.UUID, now time.Time) error
	// Hold reads what a hold is on, and holds the row.
	Hold(ctx context.Context, id uuid.UUID) (on HoldOn, lifted bool, err error)
	LiftHold(ctx context.Context, in LiftHold, by *uuid.UUID, now time.Time) error
}

// Holds lists what keeps a person, the file of a job or a vessel from being erased, by a
// hold on itself or on what belongs to the same file, and holds that were lifted. Of nothing
// it lists none.
func (s *Service) Holds(ctx context.Context, a domain.Actor, on HoldOn) ([]Hold, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	if len(on.things()) == 0 {
		return nil, nil
	}
	return s.store.Holds(ctx, a.Practice, on, sees(a))
}

// PlaceHold is a new hold on a file that is disputed, or may come to be.
type PlaceHold struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	On       HoldOn
	Reason   string
}

// PlaceHold stops the erasing of a file from now on.
func (s *Service) PlaceHold(ctx context.Context, a domain.Actor, in PlaceHold) (Done, error) {
	return s.write(ctx, &a, domain.HoldFiles, "placeHold", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := in.On.check(); err != nil {
			return Done{}, err
		}
		if err := because(in.Reason); err != nil {
			return Done{}, err
		}
		if err := in.On.there(ctx, tx, a); err != nil {
			return Done{}, err
		}
		return touched(append([]domain.Ref{ref(domain.ThingHold, in.ID)}, in.On.things()...)...), tx.InsertHold(ctx, in, entered(a), s.instant())
	})
}

// there refuses what is not there, or not the actor's to see.
func (on HoldOn) there(ctx context.Context, tx Tx, a domain.Actor) (err error) {
	switch {
	case on.Party != nil:
		_, err = tx.Party(ctx, *on.Party)
	case on.Job != nil:
		_, err = tx.JobOpenTo(ctx, *on.Job, sees(a))
	case on.Vessel != nil:
		_, err = tx.Vessel(ctx, *on.Vessel)
	}
	return err
}

// because refuses a reason that is none.
func because(reason string) error {
	if n := utf8.RuneCountInString(strings.TrimSpace(reason)); n == 0 || n > 1000 {
		return domain.Invalidf("reason", "Say why, in 1 to 1000 letters.")
	}
	return nil
}

// LiftHold ends a hold.
type LiftHold struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Reason   string
}

// LiftHold lets what was held be erased again, with the reason.
func (s *Service) LiftHold(ctx context.Context, a domain.Actor, in LiftHold) (Done, error) {
	return s.write(ctx, &a, domain.LiftHolds, "liftHold", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		on, lifted, err := tx.Hold(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if err := on.there(ctx, tx, a); err != nil {
			return Done{}, err
		}
		if lifted {
			return Done{}, domain.Conflictf("This hold was lifted already.")
		}
		if err := because(in.Reason); err != nil {
			return Done{}, err
		}
		return touched(append([]domain.Ref{ref(domain.ThingHold, in.ID)}, on.things()...)...), tx.LiftHold(ctx, in, entered(a), s.instant())
	})
}
