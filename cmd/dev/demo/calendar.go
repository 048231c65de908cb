package demo

import (
	"fmt"
	"time"
)

// calendar counts from the day of loading, which is the scenario's today. Its zone is
// the yard's; the harbour is invented and borrows the zone.
type calendar struct {
	today time.Time // midnight
	zone  *time.Location
}

// foundedDays is how many days before the scenario's today the practices were set up. It
// is fixed, so that a later load finds the first one's today in the practice's id.
const foundedDays = 4380

func newCalendar(now time.Time, zone *time.Location) calendar {
	y, m, d := now.In(zone).Date()
	return calendar{time.Date(y, m, d, 0, 0, 0, 0, zone), zone}
}

// on gives a time so many days from today; negative is the past. A day keeps its length
// in hours only in summer or in winter, hence by date.
func (c calendar) on(days int, clock string) time.Time {
	var h, m int
	if _, err := fmt.Sscanf(clock, "%d:%d", &h, &m); err != nil {
		panic("demo: no time of day: " + clock)
	}
	y, mo, d := c.today.Date()
	return time.Date(y, mo, d+days, h, m, 0, 0, c.zone)
}

// ago gives the same day of the year so many years ago, shifted by some days.
func (c calendar) ago(years, days int, clock string) time.Time {
	y, m, d := c.today.Date()
	shifted := calendar{time.Date(y-years, m, d+days, 0, 0, 0, 0, c.zone), c.zone}
	return shifted.on(0, clock)
}

// founded is when the practices were set up.
func (c calendar) founded() time.Time { return c.on(-foundedDays, "09:00") }

// date is a day as the use cases take one: midnight UTC of the date it is in the zone.
func (c calendar) date(t time.Time) time.Time {
	y, m, d := t.In(c.zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// days gives the date so many days from today.
func (c calendar) days(n int) *time.Time { return new(c.date(c.on(n, "12:00"))) }

// dayOf is the date of a time, for what takes none or one.
func (c calendar) dayOf(t time.Time) *time.Time { return new(c.date(t)) }
