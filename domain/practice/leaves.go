package practice

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Leave is a time when a member is away.
type Leave struct {
	ID       uuid.UUID
	MemberID uuid.UUID
	From     time.Time
	To       time.Time
	Reason   string // for the member and a principal alone
}

// ToldTo is the leave as an actor may read it: that somebody is away is everybody's who
// plans with it, why is not.
func (l Leave) ToldTo(a domain.Actor) Leave {
	if l.MemberID != a.Member && !a.Has(domain.Principal) {
		l.Reason = ""
	}
	return l
}

// Tide is a high water.
type Tide struct {
	ID       uuid.UUID
	Place    string
	HighAt   time.Time
	HeightMm *int32
	Source   string
}

// Weather is what the weather was at a time, as recorded somewhere.
type Weather struct {
	Place            string
	At               time.Time
	AirDecidegrees   *int16
	HumidityPermille *int16
	RainMm           *int16
	Source           string
}

// LeaveWriter writes what the diary knows of people, tides and weather.
type LeaveWriter interface {
	InsertLeave(ctx context.Context, l Leave) error
	// DeleteLeave takes a leave back and tells whose it was.
	DeleteLeave(ctx context.Context, id uuid.UUID) (member uuid.UUID, err error)
	MemberActive(ctx context.Context, member uuid.UUID) error
	// InsertTides keeps the high waters that are not kept yet and counts them.
	InsertTides(ctx context.Context, in AddTides) (int, error)
	DeleteTides(ctx context.Context, place string, from, to time.Time) (int, error)
	InsertWeather(ctx context.Context, in RecordWeather) (int, error)
}

// AddLeave notes that a member is away.
type AddLeave struct {
	Mutation uuid.UUID `json:"-"`
	Leave    Leave
}

// AddLeave notes that a member is away. Visits in that time stay; their conflict is named.
func (s *Service) AddLeave(ctx context.Context, a domain.Actor, in AddLeave) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addLeave", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		l := in.Leave
		if err := newID("id", l.ID); err != nil {
			return Done{}, err
		}
		if !l.From.Before(l.To) {
			return Done{}, domain.Invalidf("to", "The leave ends before it begins.")
		}
		if len(l.Reason) > 200 {
			return Done{}, domain.Invalidf("reason", "A reason has at most 200 letters.")
		}
		return touched(ref(domain.ThingLeave, l.ID), ref(domain.ThingMember, l.MemberID)), tx.InsertLeave(ctx, l)
	})
}

// EndLeave takes a leave back.
type EndLeave struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// EndLeave takes a leave back: the member is there after all.
func (s *Service) EndLeave(ctx context.Context, a domain.Actor, in EndLeave) (Done, error) {
	return s.write(ctx, &a, domain.Book, "endLeave", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		member, err := tx.DeleteLeave(ctx, in.ID)
		return touched(ref(domain.ThingLeave, in.ID), ref(domain.ThingMember, member)), err
	})
}

// AddTides is a table of high waters of one place, entered or read from a file.
type AddTides struct {
	Mutation  uuid.UUID `json:"-"`
	Place     string
	Source    string
	Times     []time.Time
	HeightsMm []int32 // above chart datum; as many as times, Null where not known
}

// mostTides is a year of high waters and some more.
const mostTides = 800

// AddTides keeps high waters with their source; those that are kept already stay as they are.
func (s *Service) AddTides(ctx context.Context, a domain.Actor, in AddTides) (Done, error) {
	in.Place, in.Source = strings.TrimSpace(in.Place), strings.TrimSpace(in.Source)
	return s.write(ctx, &a, domain.Book, "addTides", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		switch {
		case in.Place == "" || len(in.Place) > 100:
			return Done{}, domain.Invalidf("place", "Name the place that these high waters are of.")
		case in.Source == "" || len(in.Source) > 200:
			return Done{}, domain.Invalidf("source", "Say where these times come from.")
		case len(in.Times) == 0 || len(in.Times) > mostTides:
			return Done{}, domain.Invalidf("times", "Give 1 to %d high waters at a time.", mostTides)
		case len(in.HeightsMm) > 0 && len(in.HeightsMm) != len(in.Times):
			return Done{}, domain.Invalidf("heightsMm", "Give a height for each time, or none.")
		}
		n, err := tx.InsertTides(ctx, in)
		done := touched()
		done.Kept = n
		return done, err
	})
}

// RemoveTides takes a place's high waters of a span out again.
type RemoveTides struct {
	Mutation uuid.UUID `json:"-"`
	Place    string
	From     time.Time
	To       time.Time
}

// RemoveTides takes a place's high waters of a span out again, for a table that was wrong.
func (s *Service) RemoveTides(ctx context.Context, a domain.Actor, in RemoveTides) (Done, error) {
	return s.write(ctx, &a, domain.Book, "removeTides", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := checkSpan(in.From, in.To); err != nil {
			return Done{}, err
		}
		n, err := tx.DeleteTides(ctx, strings.TrimSpace(in.Place), in.From, in.To)
		done := touched()
		done.Kept = n
		return done, err
	})
}

// RecordWeather is what the weather was at a place and time.
type RecordWeather struct {
	Mutation         uuid.UUID `json:"-"`
	ID               uuid.UUID
	Place            string // a yard's name, or the place of its tides
	At               time.Time
	AirDecidegrees   *int16
	HumidityPermille *int16
	RainMm           *int16
	Source           string
}

// RecordWeather keeps what the weather was, with its source: rain and frost move when
// readings are worth taking.
func (s *Service) RecordWeather(ctx context.Context, a domain.Actor, in RecordWeather) (Done, error) {
	in.Place, in.Source = strings.TrimSpace(in.Place), strings.TrimSpace(in.Source)
	return s.write(ctx, &a, domain.Book, "recordWeather", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		within := func(v *int16, low, high int16) bool { return v == nil || *v >= low && *v <= high }
		switch {
		case in.Place == "" || len(in.Place) > 100:
			return Done{}, domain.Invalidf("place", "Name the place: a yard, or the place of its tides.")
		case in.Source == "" || len(in.Source) > 200:
			return Done{}, domain.Invalidf("source", "Say who recorded it.")
		case in.AirDecidegrees == nil && in.HumidityPermille == nil && in.RainMm == nil:
			return Done{}, domain.Invalidf("rainMm", "Give rain, air or humidity.")
		case !within(in.AirDecidegrees, -500, 600):
			return Done{}, domain.Invalidf("airDecidegrees", "Air lies between -50 and 60 °C.")
		case !within(in.HumidityPermille, 0, 1000):
			return Done{}, domain.Invalidf("humidityPermille", "Humidity lies between 0 and 1000 parts in a thousand.")
		case !within(in.RainMm, 0, 1000):
			return Done{}, domain.Invalidf("rainMm", "Rain lies between 0 and 1000 mm.")
		}
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		n, err := tx.InsertWeather(ctx, in)
		done := touched()
		done.Kept = n
		return done, err
	})
}
