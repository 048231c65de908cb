package practice

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// The diary's hard rules are the database's: nobody and no instrument is in two places at
// once, a planned visit lies in its time ashore, and no two times ashore of a vessel
// overlap. What stands here finds what clashes first, so that the answer can name it; who
// gets past by a race is stopped by the constraint all the same.

// BookingWriter finds what a booking would clash with.
type BookingWriter interface {
	// Clashes are the visits that hold one of these people or instruments within a span,
	// but for one visit, by their start.
	Clashes(ctx context.Context, but uuid.UUID, people, instruments []uuid.UUID, from, to time.Time, who Sees) ([]Clash, error)
	// Held are the people and instruments that a visit has.
	Held(ctx context.Context, visit uuid.UUID) (people, instruments []uuid.UUID, err error)
	// OutsideSpell are the planned visits that lie outside their time ashore as the
	// transaction has it now: the one given, or all of a spell.
	OutsideSpell(ctx context.Context, visit, spell *uuid.UUID, who Sees) ([]Outside, error)
	// SpellAcross is a time ashore of the vessel, other than one, that overlaps a span;
	// nil where there is none.
	SpellAcross(ctx context.Context, vessel, but uuid.UUID, from time.Time, to *time.Time) (*Across, error)
}

// Clash is a visit that holds somebody or something at the time asked for.
type Clash struct {
	What     string // person or instrument
	Name     string // of the person or instrument
	Kind     string // of the visit
	From     time.Time
	To       time.Time
	TimeZone string
	Vessel   string
	Job      string // number
	Open     bool   // whether the actor may see the job
}

// Outside is a planned visit that its time ashore does not cover.
type Outside struct {
	ID        uuid.UUID
	Kind      string
	From      time.Time
	To        time.Time
	TimeZone  string
	Job       string
	First     *time.Time // when a visit may begin in the spell
	Last      *time.Time // and must have ended
	Yard      string
	Zone      string // the yard's
	Cancelled bool
	Open      bool
}

// Across is a time ashore that another would overlap.
type Across struct {
	Yard     string
	From     time.Time
	To       *time.Time
	TimeZone string
}

// Booked is whose time and which instruments a visit takes; nil leaves people or
// instruments as they are.
type Booked struct {
	LeadBefore  *uuid.UUID
	People      []uuid.UUID
	Instruments []uuid.UUID
	Now         time.Time
}

// clock writes an instant in a zone for a sentence.
func clock(t time.Time, zone string) string { return t.In(Zone(zone)).Format("2 January 2006, 15:04") }

// until writes the end of a span: the time alone where it ends on the day it began.
func until(from, to time.Time, zone string) string {
	if day(from.In(Zone(zone))).Equal(day(to.In(Zone(zone)))) {
		return to.In(Zone(zone)).Format("15:04")
	}
	return clock(to, zone)
}

func (c Clash) sentence() string {
	where := "on another job"
	if c.Open {
		where = fmt.Sprintf("%s of %s (%s)", indefinite(c.Kind), c.Vessel, c.Job)
	}
	return fmt.Sprintf("%s is taken from %s to %s: %s.", c.Name, clock(c.From, c.TimeZone), until(c.From, c.To, c.TimeZone), where)
}

// indefinite puts a kind of visit into a sentence.
func indefinite(kind string) string {
	switch kind {
	case "inside":
		return "a visit inside"
	case "other":
		return "a visit"
	case "repeat readings":
		return kind
	}
	return "a " + kind
}

// isFree refuses people and instruments that another visit holds, and names it.
func isFree(ctx context.Context, tx Tx, v Visit, b Booked, who Sees) error {
	if v.State == "cancelled" {
		return nil
	}
	people, instruments, err := tx.Held(ctx, v.ID)
	if err != nil {
		return err
	}
	if b.People != nil {
		people = b.People
	}
	if b.Instruments != nil {
		instruments = b.Instruments
	}
	if v.LeadID != nil {
		people = append(people[:len(people):len(people)], *v.LeadID)
	}
	found, err := tx.Clashes(ctx, v.ID, people, instruments, v.From, v.To, who)
	if err != nil || len(found) == 0 || !v.To.After(b.Now) {
		return err
	}
	field := "lead"
	if found[0].What == "instrument" {
		field = "instruments"
	}
	return &domain.Fault{Kind: domain.Conflict, Field: field, Text: found[0].sentence() + " Choose another time, or somebody or something else."}
}

// staysInSpell refuses a visit outside its time ashore, and says which that is.
func staysInSpell(ctx context.Context, tx Tx, visit uuid.UUID, who Sees) error {
	out, err := tx.OutsideSpell(ctx, &visit, nil, who)
	if err != nil || len(out) == 0 {
		return err
	}
	o := out[0]
	if o.Cancelled {
		return &domain.Fault{Kind: domain.Conflict, Field: "spell", Text: "This time ashore was called off. Choose another, or plan the lift anew first."}
	}
	return &domain.Fault{Kind: domain.Conflict, Field: "from", Text: fmt.Sprintf("The visit of %s lies outside her time ashore%s, %s. Move the visit or the lift.", clock(o.From, o.TimeZone), atYard(o.Yard), o.span())}
}

func atYard(name string) string {
	if name == "" {
		return ""
	}
	return " at " + name
}

func (o Outside) span() string {
	switch {
	case o.First == nil && o.Last == nil:
		return "whose times are not known"
	case o.First == nil:
		return "which ends " + clock(*o.Last, o.Zone)
	case o.Last == nil:
		return "which begins " + clock(*o.First, o.Zone)
	}
	return "from " + clock(*o.First, o.Zone) + " to " + clock(*o.Last, o.Zone)
}

// keepsVisits refuses a change to a time ashore that leaves planned visits outside, and
// names them.
func keepsVisits(ctx context.Context, tx Tx, spell uuid.UUID, who Sees) error {
	out, err := tx.OutsideSpell(ctx, nil, &spell, who)
	if err != nil || len(out) == 0 {
		return err
	}
	text := "With these times a planned visit would lie outside: "
	if out[0].Cancelled {
		text = "A visit is planned in this time ashore: "
	}
	for k, o := range out {
		if k > 0 {
			text += "; "
		}
		if o.Open {
			text += fmt.Sprintf("%s of %s (%s)", indefinite(o.Kind), clock(o.From, o.TimeZone), o.Job)
		} else {
			text += "one of another job, " + clock(o.From, o.TimeZone)
		}
	}
	return domain.Conflictf("%s. Move the lift and what hangs on it together, or call the visit off first.", text)
}

// standsApart refuses a time ashore that overlaps another of the same vessel, and names it.
func standsApart(ctx context.Context, tx Tx, vessel, spell uuid.UUID, from time.Time, to *time.Time) error {
	other, err := tx.SpellAcross(ctx, vessel, spell, from, to)
	if err != nil || other == nil {
		return err
	}
	ends := "with no launch yet"
	if other.To != nil {
		ends = "to " + clock(*other.To, other.TimeZone)
	}
	return &domain.Fault{Kind: domain.Conflict, Field: "plannedLift", Text: fmt.Sprintf("She stands ashore%s from %s %s, planned or done. Move, launch or cancel that first, or change it instead of adding another.", atYard(other.Yard), clock(other.From, other.TimeZone), ends)}
}

func first(times ...*time.Time) *time.Time {
	for _, t := range times {
		if t != nil {
			return t
		}
	}
	return nil
}
