package practice

import (
	"time"

	"boottop.example/practice/domain/report"
)

// Ashore is how many calendar days a hull had stood ashore: between a least and a most where
// the lift or the visit is dated by a month or a year, both alike where each is known to the day.
type Ashore struct{ Least, Most int }

// Exact tells whether the days are known.
func (a Ashore) Exact() bool { return a.Least == a.Most }

// String gives the days as a report does: "21", "3 to 33".
func (a Ashore) String() string { return report.Span(a.Least, a.Most) }

// AshoreBetween counts the calendar days from a lift to a time in the yard's zone, each
// dated as far as it is known: instant (or empty), day, month or year. A lift comes before
// the visit, so that the least is none at all. False where there is no lift, or it lies after.
func AshoreBetween(lift *time.Time, precision, zone string, at time.Time, known string) (Ashore, bool) {
	if lift == nil {
		return Ashore{}, false
	}
	first, last, ok := daysOf(*lift, precision, zone)
	from, to, also := daysOf(at, orElse(known, "instant"), zone)
	most := between(first, to)
	return Ashore{Least: max(0, between(last, from)), Most: most}, ok && also && most >= 0
}

// daysOf gives the first and the last calendar day that a date may stand for.
func daysOf(at time.Time, precision, zone string) (first, last time.Time, ok bool) {
	if precision == "instant" {
		precision = "day"
	}
	from, to, err := spanOf(at, precision, zone)
	if err != nil {
		return from, to, false
	}
	return day(from), day(to.AddDate(0, 0, -1)), true
}

func between(from, to time.Time) int { return int(to.Sub(from).Hours() / 24) }

// Ashore is how long she had stood ashore when the pass was read, as far as lift and visit
// are dated.
func (p PassContext) Ashore() (Ashore, bool) {
	at := p.BeganAt
	if p.datedByRange() {
		at = p.VisitAt
	}
	return AshoreBetween(p.LiftedAt, p.DatePrecision, p.TimeZone, at, p.VisitPrecision)
}

// datedByRange tells whether the visit is known to a month or a year alone.
func (p PassContext) datedByRange() bool {
	return p.VisitPrecision == "month" || p.VisitPrecision == "year"
}

// DaysAshore counts the calendar days from the lift to the pass and the whole hours while
// they are under 72; ok is false where either is not known to the day.
func (p PassContext) DaysAshore() (days, hours int, ok bool) {
	if p.datedByRange() {
		return 0, 0, false
	}
	return DaysAshore(p.LiftedAt, p.DatePrecision, p.TimeZone, p.BeganAt)
}

// HoursAshore counts the whole hours from the lift while they are under 72; false where the
// lift is not known to the hour.
func (p PassContext) HoursAshore() (hours int, ok bool) {
	_, hours, ok = p.DaysAshore()
	return hours, ok && p.DatePrecision == "instant" && hours < 3*aDay
}

// AshoreRange is how long she had stood ashore at the visit's start, as far as lift and visit are
// dated.
func (v VisitLine) AshoreRange() (Ashore, bool) {
	return AshoreBetween(v.Lift, v.Precision, v.LiftZone, v.From, v.Known)
}
