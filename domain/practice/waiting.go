package practice

import (
	"fmt"
	"slices"
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

func (d Days) hours() int { return d.Days*aDay + d.Hours }

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

// rest is how long a hull stands ashore before the meter is worth taking out, by what is
// known of her: trade notes, section 4, with low confidence. One table serves the diary,
// which proposes visits within its windows, and the standings: a pass that was read sooner
// than the least loses its own.
type rest struct {
	code   string
	kind   string   // of the layer that asks for it: construction or coating
	words  []string // any of them, whole, in what the layer is
	least  Days
	first  Days // of the window, from the lift
	last   Days
	what   string // what of the hull asks for it
	reason string
	tag    string
}

// accountTag marks what was read in surveyors' own accounts.
const accountTag = "surveyors’ public pages; sources disagree"

var rests = []rest{
	{
		code: "epoxy", kind: "coating", words: []string{"epoxy", "barrier"}, least: Days{Days: 21}, first: Days{Days: 21}, last: Days{Days: 28},
		what: "an epoxy coating", tag: accountTag, reason: "Epoxy coating: readings are said to take three to four weeks to settle.",
	},
	{
		code: "antifouling", kind: "coating", words: []string{"antifouling"}, least: Days{Days: 3}, first: Days{Days: 3}, last: Days{Days: 7},
		what: "antifouling", tag: accountTag, reason: "Antifouling: three to seven days, and then it is the surface layer that has fallen.",
	},
	{
		code: "ortho", kind: "construction", words: []string{"ortho", "orthophthalic"}, least: Days{Days: 21}, first: Days{Days: 28}, last: Days{Days: 35},
		what: "an ortho laminate", tag: commonPractice, reason: "Ortho resin: about a month ashore, better a series over three to four weeks, judged by its course.",
	},
	{
		code: "iso", kind: "construction", words: []string{"iso", "isophthalic", "vinyl ester", "vinylester"}, least: fewHours, first: fewHours, last: Days{Days: 7},
		what: "an iso or vinyl ester laminate", tag: commonPractice, reason: "Iso or vinyl ester resin with no history of trouble noted: a few hours.",
	},
	{ // asks for no wait: its window is long because none helps
		code: "sandwich", kind: "construction", words: []string{"sandwich", "core", "cored", "balsa", "foam"}, first: Days{Days: 1}, last: Days{Days: 28},
		what: "a sandwich", tag: commonPractice,
		reason: "Sandwich: a core does not dry out in the yard, so no wait helps once the surface is dry. Contrast and sounding count.",
	},
}

// unknownHull is the rest of a hull of which nothing is known.
var unknownHull = rest{
	code: "single-skin", first: Days{Days: 3}, last: Days{Days: 7}, tag: accountTag,
	reason: "Antifouling on single skin, resin not known: three to seven days, and then it is the surface layer that has fallen.",
}

// afterTwoYears is the rest of an iso or vinyl ester hull that was long afloat, or nobody
// knows how long.
var afterTwoYears = rest{
	code: "iso-two-years", kind: "construction", least: fewHours, first: Days{Days: 1}, last: Days{Days: 7}, tag: commonPractice,
	what: "an iso or vinyl ester laminate two years afloat, or nobody knows how long", reason: "Iso or vinyl ester resin, how long afloat not known: a day or more.",
}

// fewHours is what "a few hours" is taken for: own choice, no source.
var fewHours = Days{Hours: 6}

// restsFor lists what a layer asks for.
func restsFor(kind, what string) (out []rest) {
	for _, r := range rests {
		if r.kind == kind && mentions(what, r.words) {
			out = append(out, r)
		}
	}
	return out
}

// mentions looks for whole words: iso is no part of another word.
func mentions(text string, words []string) bool {
	padded := " " + strings.Map(func(r rune) rune {
		if strings.ContainsRune(",;.()/-", r) {
			return ' '
		}
		return r
	}, strings.ToLower(text)) + " "
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(padded, " "+w+" ") })
}

// waiting says when readings are worth taking in a time ashore, by what is known of the
// hull: as many days as last time where she was read before, else by the longest that her
// laminate and her coating ask for, so that no visit is proposed which would cost its
// passes their standing.
func (h Hull) waiting(s DiarySpell, own ownFigures) Wait {
	if m := h.Metered; m != nil {
		if days, _, ok := DaysAshore(m.Lift, m.Precision, m.Zone, m.At); ok && days >= 1 {
			share, _, tag, says := own.of(figureAlike)
			slack := days * share / inTen
			return Wait{
				Code: figureAlike, First: Days{Days: days - slack}, Last: Days{Days: days + max(1, slack)}, Tag: tag,
				Reason: fmt.Sprintf("She was read %s ashore on %s; readings compare best after about as many.", daysWords(days), m.At.In(Zone(m.Zone)).Format("2 January 2006")) + after(says),
			}
		}
	}
	asked := append(restsFor("construction", h.Construction), restsFor("coating", h.Coating)...)
	if len(asked) == 0 {
		asked = []rest{unknownHull}
	}
	for k := range asked {
		if asked[k].code == "iso" {
			h.longAfloat(&asked[k], s)
		}
		asked[k] = asked[k].own(own)
	}
	slices.SortStableFunc(asked, func(a, b rest) int { return b.first.hours() - a.first.hours() })
	return waitOf(asked)
}

// waitOf is the window that several rests leave: from the longest wait to the latest end.
// A sandwich says so beside whatever decides.
func waitOf(asked []rest) Wait {
	w := Wait{Code: asked[0].code, First: asked[0].first, Last: asked[0].last, Reason: asked[0].reason, Tag: asked[0].tag}
	for _, r := range asked[1:] {
		if r.last.hours() > w.Last.hours() {
			w.Last = r.last
		}
		if r.code == "sandwich" {
			w.Reason += " " + r.reason
		}
	}
	return w
}

// longAfloat lengthens the few hours of an iso or vinyl ester hull that was two years
// afloat, or nobody knows how long.
func (h Hull) longAfloat(r *rest, s DiarySpell) {
	months, known := h.monthsAfloat(s.Lift())
	if known && months < 24 {
		return
	}
	*r = afterTwoYears
	if known {
		r.reason = fmt.Sprintf("Iso or vinyl ester resin, %d months afloat: a day or more.", months)
	}
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

// afterWeather moves the start of a visit for readings past rain and frost that a weather
// record tells of; a hull under cover stays dry. The record's place is the yard's name or
// the place of its tides. What did not move it comes back as it was.
func (x diaryIndex) afterWeather(s DiarySpell, y DiaryYard, from time.Time) (time.Time, Check) {
	var why Check
	covered := s.UnderCover != nil && *s.UnderCover
	settles, _, tag, says := x.own.of(figureRain)
	for _, w := range append(x.weather[y.Name][:len(x.weather[y.Name]):len(x.weather[y.Name])], x.weather[y.TidePlace]...) {
		if w.Place == "" || w.At.Before(s.Lift()) {
			continue
		}
		if settled := atClock(w.At, settles, workBegins, s.TimeZone); !covered && w.RainMm != nil && *w.RainMm > 0 && w.At.Before(from) && settled.After(from) {
			from = settled
			why = Check{Code: CheckWeather, Tag: tag, Text: strings.TrimSpace(fmt.Sprintf("%d mm of rain on %s (%s): the shallow signal takes about %s to settle. Wait until %s, or do block and baseline again. %s", *w.RainMm, w.At.In(Zone(s.TimeZone)).Format("2 January"), w.Source, aWeek(settles), clock(settled, s.TimeZone), says))}
		}
		zone := Zone(s.TimeZone)
		if w.AirDecidegrees != nil && *w.AirDecidegrees < 0 && day(w.At.In(zone)).Equal(day(from.In(zone))) {
			from = atClock(from, 1, workBegins, s.TimeZone)
			why = Check{Code: CheckWeather, Tag: commonPractice, Text: fmt.Sprintf("Air of %.1f °C on %s (%s): no readings are taken on a skin below freezing. Wait until %s.", float64(*w.AirDecidegrees)/10, w.At.In(zone).Format("2 January"), w.Source, clock(from, s.TimeZone))}
		}
	}
	return from, why
}

// aWeek puts days into a sentence.
func aWeek(days int) string {
	if days == 7 {
		return "a week"
	}
	return daysWords(days)
}
