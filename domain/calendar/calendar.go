// Package calendar writes appointments as calendar programs read them: RFC 5545
// (iCalendar) with the properties of RFC 7986 that tell a feed's name and how often to
// look again. It takes values and gives bytes: the same values, the same bytes.
package calendar

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Method is what an iCalendar object asks of its reader (RFC 5546). A feed has none.
type Method string

// The methods that are sent by mail.
const (
	Publish Method = ""
	Request Method = "REQUEST"
	Cancel  Method = "CANCEL"
)

// Calendar is one iCalendar object.
type Calendar struct {
	Name   string        // RFC 7986 NAME; for a feed
	Method Method        // for a letter
	Look   time.Duration // RFC 7986 REFRESH-INTERVAL, whole minutes; 0: none
	Events []Event
}

// Event is one appointment. It is at instants, or, with Days, over whole days.
type Event struct {
	UID       string // stays however often it moves
	Sequence  int    // raised each time it moves
	Revised   time.Time
	From, To  time.Time // of Days: the first and the last day
	Days      bool
	Summary   string
	Place     string
	About     string
	Called    bool // off
	Organizer Person
	Attendee  Person
}

// Person is whoever asks for an appointment or is asked to it.
type Person struct{ Name, Email string }

// product names what wrote it, RFC 5545 section 3.7.3.
const product = "-//Boottop//Practice//EN"

// Bytes writes the object, lines ended by CR LF.
func (c Calendar) Bytes() []byte {
	var w writer
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", product)
	w.line("CALSCALE", "GREGORIAN")
	if c.Method != Publish {
		w.line("METHOD", string(c.Method))
	}
	if c.Name != "" {
		w.line("NAME", text(c.Name))
		w.line("X-WR-CALNAME", text(c.Name)) // what programs read before RFC 7986
	}
	if c.Look > 0 {
		w.line("REFRESH-INTERVAL;VALUE=DURATION", "PT"+strconv.Itoa(int(c.Look.Minutes()))+"M")
	}
	for _, e := range c.Events {
		w.event(e)
	}
	w.line("END", "VCALENDAR")
	return []byte(w.String())
}

type writer struct{ strings.Builder }

func (w *writer) event(e Event) {
	w.line("BEGIN", "VEVENT")
	w.line("UID", text(e.UID))
	w.line("SEQUENCE", strconv.Itoa(e.Sequence))
	w.line("DTSTAMP", instant(e.Revised))
	w.line("LAST-MODIFIED", instant(e.Revised))
	if e.Days {
		w.line("DTSTART;VALUE=DATE", e.From.Format("20060102"))
		w.line("DTEND;VALUE=DATE", e.To.AddDate(0, 0, 1).Format("20060102")) // the day after the last, section 3.6.1
		w.line("TRANSP", "TRANSPARENT")
	} else {
		w.line("DTSTART", instant(e.From))
		w.line("DTEND", instant(e.To))
	}
	w.line("STATUS", map[bool]string{false: "CONFIRMED", true: "CANCELLED"}[e.Called])
	w.line("SUMMARY", text(e.Summary))
	if e.Place != "" {
		w.line("LOCATION", text(e.Place))
	}
	if e.About != "" {
		w.line("DESCRIPTION", text(e.About))
	}
	if e.Organizer.Email != "" {
		w.line("ORGANIZER;CN="+parameter(e.Organizer.Name), "mailto:"+e.Organizer.Email)
	}
	if e.Attendee.Email != "" {
		w.line("ATTENDEE;ROLE=REQ-PARTICIPANT;PARTSTAT=NEEDS-ACTION;RSVP=TRUE;CN="+parameter(e.Attendee.Name), "mailto:"+e.Attendee.Email)
	}
	w.line("END", "VEVENT")
}

// most is how many octets a line may have before its end, RFC 5545 section 3.1.
const most = 75

// line writes a content line, folded so that no line has more than 75 octets and no
// letter is cut in two.
func (w *writer) line(name, value string) {
	rest := name + ":" + value
	room := most
	for len(rest) > room {
		cut := room
		for cut > 0 && !utf8.RuneStart(rest[cut]) {
			cut--
		}
		w.WriteString(rest[:cut])
		w.WriteString("\r\n ")
		rest, room = rest[cut:], most-1 // the space counts
	}
	w.WriteString(rest)
	w.WriteString("\r\n")
}

func instant(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

var escapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// text escapes a TEXT value, RFC 5545 section 3.3.11. Letters that no line may hold are
// left out: nobody can smuggle a line in.
func text(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return -1
		}
		return r
	}, escapes.Replace(strings.ToValidUTF8(s, "")))
}

// parameter quotes a parameter's value, RFC 5545 section 3.2; a quote has no place in one.
func parameter(s string) string {
	return `"` + strings.Map(func(r rune) rune {
		if r == '"' || unicode.IsControl(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "")) + `"`
}
