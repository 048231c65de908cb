package practice

import (
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Hull is what the waiting time between lift and meter rests on.
type Hull struct {
	VesselID     uuid.UUID
	MouldedYear  *int16
	Construction string // words of her construction layers
	Coating      string // words of her coatings
	Launches     []time.Time
	Metered      *Metered // the last time she was read
	MeteredWith  []uuid.UUID
	Leads        []uuid.UUID // who led visits that were made to her
}

// Metered is the last visit for readings, with the time ashore it belonged to.
type Metered struct {
	Visit     uuid.UUID
	At        time.Time
	Lift      *time.Time
	Precision string
	Zone      string
	LeadID    *uuid.UUID
}

// Wait is how long after the lift readings are worth taking. The figures are defaults of
// the trade with low confidence: sources disagree, and days ashore dry only the outermost
// of the skin.
type Wait struct {
	Code   string
	First  Days // from the lift; in whole days of the yard's calendar, or in hours
	Last   Days
	Reason string
	Tag    string
}

// Days is a waiting time: whole days, or hours where they are few.
type Days struct{ Days, Hours int }

// of counts a waiting time from a lift: whole days begin at the start of work in the yard.
func (d Days) of(lift time.Time, zone string) time.Time {
	if d.Days == 0 {
		return lift.Add(time.Duration(d.Hours) * time.Hour)
	}
	return atClock(lift, d.Days, workBegins, zone)
}

// workBegins and workEnds are the hours between which a proposed window lies.
const (
	workBegins = 8
	workEnds   = 17
)

// atClock is so many calendar days after an instant's day in a zone, at a whole hour.
func atClock(t time.Time, days, hour int, zone string) time.Time {
	where := Zone(zone)
	y, m, d := t.In(where).Date()
	return time.Date(y, m, d+days, hour, 0, 0, 0, where)
}

func (w Wait) begins(s DiarySpell) time.Time { return w.First.of(s.Lift(), s.TimeZone) }

// sourceTag marks what was read in one published account.
const accountTag = "one surveyor's published account; sources disagree"

// waiting says when readings are worth taking in a time ashore, by what is known of the
// hull: as many days as last time where she was read before, else by core, coating, resin
// and time afloat.
func (h Hull) waiting(s DiarySpell) Wait {
	if m := h.Metered; m != nil {
		if days, _, ok := DaysAshore(m.Lift, m.Precision, m.Zone, m.At); ok && days >= 1 {
			return Wait{
				Code: "as-last-time", First: Days{Days: days - days/5}, Last: Days{Days: days + max(1, days/5)}, Tag: "computed: a fifth in days is a tenth in half-dried depth",
				Reason: fmt.Sprintf("She was read %s ashore on %s; readings compare best after about as many.", daysWords(days), m.At.In(Zone(m.Zone)).Format("2 January 2006")),
			}
		}
	}
	says := func(words string, any ...string) bool {
		for _, w := range any {
			if strings.Contains(strings.ToLower(words), w) {
				return true
			}
		}
		return false
	}
	switch {
	case says(h.Construction, "sandwich", "core", "balsa", "foam"):
		return Wait{Code: "sandwich", First: Days{Days: 1}, Last: Days{Days: 28}, Tag: commonPractice, Reason: "Sandwich: a core does not dry out in the yard, so no wait helps once the surface is dry. Contrast and sounding count."}
	case says(h.Coating, "epoxy", "barrier") || says(h.Construction, "epoxy"):
		return Wait{Code: "epoxy", First: Days{Days: 21}, Last: Days{Days: 28}, Tag: accountTag, Reason: "Epoxy coating: readings are said to take three to four weeks to settle."}
	case says(h.Construction, "ortho"):
		return Wait{Code: "ortho", First: Days{Days: 28}, Last: Days{Days: 35}, Tag: commonPractice, Reason: "Ortho resin: about a month ashore, better a series over three to four weeks, judged by its course."}
	case says(h.Construction, "iso", "vinyl"):
		return h.fewHours(s)
	}
	return Wait{Code: "single-skin", First: Days{Days: 3}, Last: Days{Days: 7}, Tag: accountTag, Reason: "Antifouling on single skin, resin not known: three to seven days, and then it is the surface layer that has fallen."}
}

// fewHours is the wait of an iso or vinyl ester hull, longer after two years afloat.
func (h Hull) fewHours(s DiarySpell) Wait {
	w := Wait{Code: "iso", First: Days{Hours: 4}, Last: Days{Days: 7}, Tag: commonPractice, Reason: "Iso or vinyl ester resin with no history of trouble noted: a few hours."}
	months, known := h.monthsAfloat(s.Lift())
	if !known || months >= 24 {
		w.Code, w.First = "iso-two-years", Days{Days: 1}
		w.Reason = "Iso or vinyl ester resin, how long afloat not known: a day or more."
		if known {
			w.Reason = fmt.Sprintf("Iso or vinyl ester resin, %d months afloat: a day or more.", months)
		}
	}
	return w
}

// monthsAfloat counts whole months from the last launch before a lift.
func (h Hull) monthsAfloat(lift time.Time) (months int, known bool) {
	var last time.Time
	for _, l := range h.Launches {
		if l.Before(lift) && l.After(last) {
			last = l
		}
	}
	if last.IsZero() {
		return 0, false
	}
	for !last.AddDate(0, months+1, 0).After(lift) {
		months++
	}
	return months, true
}

func daysWords(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// afterRain is how long the shallow signal takes to settle after rain or washing.
const afterRain = 7

// afterWeather moves the start of a visit for readings past rain and frost that a weather
// record tells of; a hull under cover stays dry. The record's place is the yard's name or
// the place of its tides. What did not move it comes back as it was.
func (x diaryIndex) afterWeather(s DiarySpell, y DiaryYard, from time.Time) (time.Time, Check) {
	var why Check
	covered := s.UnderCover != nil && *s.UnderCover
	for _, w := range append(x.weather[y.Name][:len(x.weather[y.Name]):len(x.weather[y.Name])], x.weather[y.TidePlace]...) {
		if w.Place == "" || w.At.Before(s.Lift()) {
			continue
		}
		if settled := atClock(w.At, afterRain, workBegins, s.TimeZone); !covered && w.RainMm != nil && *w.RainMm > 0 && w.At.Before(from) && settled.After(from) {
			from = settled
			why = Check{Code: CheckWeather, Tag: "computed", Text: fmt.Sprintf("%d mm of rain on %s (%s): the shallow signal takes about a week to settle. Wait until %s, or do block and baseline again.", *w.RainMm, w.At.In(Zone(s.TimeZone)).Format("2 January"), w.Source, clock(settled, s.TimeZone))}
		}
		zone := Zone(s.TimeZone)
		if w.AirDecidegrees != nil && *w.AirDecidegrees < 0 && day(w.At.In(zone)).Equal(day(from.In(zone))) {
			from = atClock(from, 1, workBegins, s.TimeZone)
			why = Check{Code: CheckWeather, Tag: commonPractice, Text: fmt.Sprintf("Air of %.1f °C on %s (%s): no readings are taken on a skin below freezing. Wait until %s.", float64(*w.AirDecidegrees)/10, w.At.In(zone).Format("2 January"), w.Source, clock(from, s.TimeZone))}
		}
	}
	return from, why
}
