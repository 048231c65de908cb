package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Tally is how many of something there are.
type Tally struct {
	What  string
	Count int32
}

// WaitingFor is for whom open jobs wait.
type WaitingFor struct {
	Whom  string
	Jobs  int32
	Since *time.Time // the longest; nil where it is not dated
}

// Hours are the hours of visits made for one kind of survey: each visit's length times the
// people at it.
type Hours struct {
	Kind    string
	Visits  int32
	Minutes int64
}

// ReportsDue are jobs whose report was due in a period.
type ReportsDue struct {
	How      string // on time, late, overdue, not yet due
	Jobs     int32
	DaysLate int32 // the median of them; below zero: early
}

// Figures are what a principal looks at. They speak of work and of nobody.
type Figures struct {
	From, To      time.Time
	Stages        []Tally
	Waiting       []WaitingFor
	Hours         []Hours
	Reinspections []Tally
	Reports       []ReportsDue
	Hidden        int32 // open jobs that whoever asks may not see: in no figure
}

// FiguresReader reads the practice's figures, all in one trip.
type FiguresReader interface {
	Figures(ctx context.Context, practice uuid.UUID, from, to, now time.Time, who Sees) (Figures, error)
}

// longestFigures is the longest period that figures speak of.
const longestFigures = 20 * 366 * 24 * time.Hour

// Figures reads the practice's figures: jobs and waiting as they stand now; hours,
// reinspections and reports of the days from one to another, both included.
func (s *Service) Figures(ctx context.Context, a domain.Actor, from, to time.Time) (Figures, error) {
	if err := domain.May(a, domain.ReadFigures); err != nil {
		return Figures{}, err
	}
	if to.Before(from) || to.Sub(from) > longestFigures {
		return Figures{}, domain.Invalidf("to", "A period ends after it begins, within twenty years.")
	}
	return s.store.Figures(ctx, a.Practice, from, to, s.instant(), sees(a))
}
