package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Spell is a time ashore, planned and actual: the only source of days ashore.
type Spell struct {
	ID            uuid.UUID
	Vessel        VesselLine
	Yard          *PartyLine
	TimeZone      string // the yard's
	PlannedLift   *time.Time
	PlannedLaunch *time.Time
	ActualLift    *time.Time
	ActualLaunch  *time.Time
	AskedOnly     bool   // the yard has not yet agreed
	Held          string // slings, props, cradle, shed, dock, or empty
	UnderCover    *bool
	WashedAt      *time.Time
	DatePrecision string // instant, day, month or year
	AsWritten     string
	Source        string
	Notes         string
	CancelledAt   *time.Time
	Version       int32
}

// SpellReader reads spells.
type SpellReader interface {
	Spell(ctx context.Context, practice, id uuid.UUID) (Spell, error)
	Spells(ctx context.Context, practice uuid.UUID, from, to time.Time) ([]Spell, error)
}

// SpellWriter writes spells.
type SpellWriter interface {
	Spell(ctx context.Context, id uuid.UUID) (Spell, error)
	InsertSpell(ctx context.Context, s AddSpell) error
	UpdateSpell(ctx context.Context, s Spell) error
	// PartyIsYard tells whether a party is a yard; NotFound where there is none.
	PartyIsYard(ctx context.Context, party uuid.UUID) (bool, error)
}

// Spell reads one time ashore.
func (s *Service) Spell(ctx context.Context, a domain.Actor, id uuid.UUID) (Spell, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Spell{}, err
	}
	return s.store.Spell(ctx, a.Practice, id)
}

// longest is the longest span of time that a list may be asked for.
const longest = 400 * 24 * time.Hour

// Spells lists the spells that touch a span of time, by their lift; cancelled ones are left out.
func (s *Service) Spells(ctx context.Context, a domain.Actor, from, to time.Time) ([]Spell, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	return s.store.Spells(ctx, a.Practice, from, to)
}

func checkSpan(from, to time.Time) error {
	if !from.Before(to) {
		return domain.Invalidf("to", "The span of time ends before it begins.")
	}
	if to.Sub(from) > longest {
		return domain.Invalidf("to", "Ask for at most 400 days at a time.")
	}
	return nil
}

// AddSpell is a new time ashore.
type AddSpell struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Vessel        uuid.UUID
	Yard          *uuid.UUID
	TimeZone      string
	PlannedLift   *time.Time
	PlannedLaunch *time.Time
	ActualLift    *time.Time
	ActualLaunch  *time.Time
	AskedOnly     bool
	Held          string
	UnderCover    *bool
	WashedAt      *time.Time
	DatePrecision string
	AsWritten     string
	Source        string
	Notes         string
}

// AddSpell plans a haul-out, or records one that was. Spells of a vessel may not overlap.
func (s *Service) AddSpell(ctx context.Context, a domain.Actor, in AddSpell) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addSpell", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := zone("timeZone", in.TimeZone); err != nil {
			return Done{}, err
		}
		if err := checkSpell(in.PlannedLift, in.PlannedLaunch, in.ActualLift, in.ActualLaunch); err != nil {
			return Done{}, err
		}
		if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		if err := isYard(ctx, tx, in.Yard); err != nil {
			return Done{}, err
		}
		if in.ActualLift == nil && !in.AskedOnly && in.PlannedLift.After(s.instant()) {
			if err := mayLift(ctx, tx, in.Vessel, sees(a)); err != nil {
				return Done{}, err
			}
		}
		if err := standsApart(ctx, tx, in.Vessel, in.ID, *first(in.ActualLift, in.PlannedLift), first(in.ActualLaunch, in.PlannedLaunch)); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingSpell, in.ID), ref(domain.ThingVessel, in.Vessel)), tx.InsertSpell(ctx, in)
	})
}

// checkSpell refuses times that cannot be; what overlaps another spell the database knows.
func checkSpell(plannedLift, plannedLaunch, lift, launch *time.Time) error {
	first, last := lift, launch
	if first == nil {
		first = plannedLift
	}
	if last == nil {
		last = plannedLaunch
	}
	switch {
	case first == nil:
		return domain.Invalidf("plannedLift", "Say when she is lifted, planned or done.")
	case launch != nil && lift == nil:
		return domain.Invalidf("actualLift", "She was launched, so she was lifted: say when.")
	case last != nil && !first.Before(*last):
		return domain.Invalidf("plannedLaunch", "The launch must come after the lift.")
	}
	return nil
}

func isYard(ctx context.Context, tx Tx, yard *uuid.UUID) error {
	if yard == nil {
		return nil
	}
	is, err := tx.PartyIsYard(ctx, *yard)
	if err != nil {
		return err
	}
	if !is {
		return domain.Invalidf("yard", "This party is not marked as a yard. Mark it so first, or choose another.")
	}
	return nil
}

// EditSpell is a change to a time ashore; nil leaves a field as it is.
type EditSpell struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Version       int32
	Yard          *uuid.UUID
	PlannedLift   *time.Time
	PlannedLaunch *time.Time
	ActualLift    *time.Time
	ActualLaunch  *time.Time
	AskedOnly     *bool
	Held          *string
	UnderCover    *bool
	WashedAt      *time.Time
	Notes         *string
	Cancelled     *bool
}

// EditSpell moves a haul-out, or notes that the lift, the wash or the launch has been.
func (s *Service) EditSpell(ctx context.Context, a domain.Actor, in EditSpell) (Done, error) {
	return s.write(ctx, &a, domain.Book, "editSpell", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		sp, err := tx.Spell(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if in.Yard != nil && (sp.Yard == nil || sp.Yard.ID != *in.Yard) {
			if err := isYard(ctx, tx, in.Yard); err != nil {
				return Done{}, err
			}
		}
		books := in.AskedOnly != nil && !*in.AskedOnly && sp.AskedOnly
		in.apply(&sp, s.instant())
		if books && sp.ActualLift == nil && sp.CancelledAt == nil {
			if err := mayLift(ctx, tx, sp.Vessel.ID, sees(a)); err != nil {
				return Done{}, err
			}
		}
		if err := checkSpell(sp.PlannedLift, sp.PlannedLaunch, sp.ActualLift, sp.ActualLaunch); err != nil {
			return Done{}, err
		}
		if sp.CancelledAt != nil && sp.ActualLift != nil {
			return Done{}, domain.Invalidf("cancelled", "She has been lifted: a spell that was cannot be cancelled. Say when she was launched.")
		}
		if err := rewrite(ctx, tx, sp); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingSpell, sp.ID), ref(domain.ThingVessel, sp.Vessel.ID)), keepsVisits(ctx, tx, sp.ID, sees(a))
	})
}

// rewrite keeps a changed time ashore where it stands apart from the vessel's others.
func rewrite(ctx context.Context, tx Tx, sp Spell) error {
	if sp.CancelledAt == nil {
		if err := standsApart(ctx, tx, sp.Vessel.ID, sp.ID, *first(sp.ActualLift, sp.PlannedLift), first(sp.ActualLaunch, sp.PlannedLaunch)); err != nil {
			return err
		}
	}
	return tx.UpdateSpell(ctx, sp)
}

func (in EditSpell) apply(sp *Spell, now time.Time) {
	sp.Version = in.Version
	if in.Yard != nil {
		sp.Yard = &PartyLine{ID: *in.Yard}
	}
	setPtr(&sp.PlannedLift, in.PlannedLift)
	setPtr(&sp.PlannedLaunch, in.PlannedLaunch)
	setPtr(&sp.ActualLift, in.ActualLift)
	setPtr(&sp.ActualLaunch, in.ActualLaunch)
	set(&sp.AskedOnly, in.AskedOnly)
	set(&sp.Held, in.Held)
	setPtr(&sp.UnderCover, in.UnderCover)
	setPtr(&sp.WashedAt, in.WashedAt)
	set(&sp.Notes, in.Notes)
	switch {
	case in.Cancelled == nil:
	case *in.Cancelled && sp.CancelledAt == nil:
		sp.CancelledAt = &now
	case !*in.Cancelled:
		sp.CancelledAt = nil
	}
}
