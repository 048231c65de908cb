package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// dueWithin is how many days ahead a reinspection is shown as due.
const dueWithin = 60

// Today is what a day holds: its visits, the vessels in hand, what waits for somebody,
// what is to be seen again.
type Today struct {
	On      time.Time
	Visits  []VisitLine
	InHand  []JobLine
	Waiting []Waiting
	Due     []Reinspection
}

// Waiting is something that waits for a person, and since when.
type Waiting struct {
	Job   JobLine
	What  string
	Since *time.Time
}

// Of asks for the day of somebody. On nil is the day it is now, in the practice's zone.
type Of struct {
	On        *time.Time
	Now       time.Time
	Within    int32 // days ahead that a reinspection counts as due
	Everyones bool  // not the member's own only
}

// TodayReader reads days.
type TodayReader interface {
	Today(ctx context.Context, practice uuid.UUID, of Of, who Sees) (Today, error)
}

// Today reads what a day holds for the actor: own visits and jobs, or everybody's for
// the office, which books them. On nil is today in the practice's zone.
func (s *Service) Today(ctx context.Context, a domain.Actor, on *time.Time) (Today, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Today{}, err
	}
	return s.store.Today(ctx, a.Practice, Of{On: on, Now: s.instant(), Within: dueWithin, Everyones: atDesk(a)}, sees(a))
}

// WaitingWords says what is waited for.
func WaitingWords(what, detail string) string {
	switch what {
	case "permission":
		return "Permission asked, not yet answered: " + detail
	case "second look":
		return "A second look at the report"
	case "addendum":
		if detail != "" {
			return "Report " + detail + " asks for an addendum"
		}
		return "An issued report asks for an addendum"
	case "haul-out":
		if detail != "" {
			return detail + " has not yet agreed to the haul-out"
		}
		return "The yard has not yet agreed to the haul-out"
	}
	return what
}

// atDesk tells whether somebody's day is everybody's: the office books for all, and the
// service itself has no day of its own.
func atDesk(a domain.Actor) bool {
	return a.Means == domain.BySelf || a.Has(domain.Office) && !a.Has(domain.Surveyor) && !a.Has(domain.Trainee) && !a.Has(domain.Principal)
}
