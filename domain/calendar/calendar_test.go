package calendar_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"boottop.example/practice/domain/calendar"
)

var noon = time.Date(2026, 10, 14, 12, 0, 0, 0, time.UTC)

func event(change func(*calendar.Event)) calendar.Event {
	e := calendar.Event{UID: "vis_1", Sequence: 2, Revised: noon.AddDate(0, 0, -3), From: noon, To: noon.Add(3 * time.Hour), Summary: "Meter visit", Place: "Skerrow Boatyard"}
	if change != nil {
		change(&e)
	}
	return e
}

// parsed reads an object with a reader that others wrote.
func parsed(t *testing.T, c calendar.Calendar) *ics.Calendar {
	t.Helper()
	got, err := ics.ParseCalendar(strings.NewReader(string(c.Bytes())))
	if err != nil {
		t.Fatalf("an independent reader refuses\n%s\n%v", c.Bytes(), err)
	}
	return got
}

// The first example of RFC 5545, section 4: what it says is said by the writer too and
// read back by the same reader.
func TestTheExampleOfTheRFC(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("testdata/rfc5545.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Example struct {
			Text     string
			Expected struct {
				UID         string    `json:"uid"`
				Stamp       time.Time `json:"dtstamp_utc"`
				Start       time.Time `json:"dtstart_utc"`
				End         time.Time `json:"dtend_utc"`
				Summary     string
				Description string
			}
		} `json:"rfc5545_section_4_example"`
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	want := file.Example.Expected
	theirs, err := ics.ParseCalendar(strings.NewReader(file.Example.Text))
	if err != nil {
		t.Fatal(err)
	}
	ours := parsed(t, calendar.Calendar{Events: []calendar.Event{{UID: want.UID, Revised: want.Stamp, From: want.Start, To: want.End, Summary: want.Summary, About: want.Description}}})
	for name, c := range map[string]*ics.Calendar{"the RFC's": theirs, "ours": ours} {
		e := c.Events()[0]
		start, _ := e.GetStartAt()
		end, _ := e.GetEndAt()
		stamp, _ := e.GetDtStampTime()
		if e.Id() != want.UID || !start.Equal(want.Start) || !end.Equal(want.End) || !stamp.Equal(want.Stamp) || value(e, ics.ComponentPropertySummary) != want.Summary ||
			value(e, ics.ComponentPropertyDescription) != want.Description {
			t.Errorf("%s reads as %s, %v to %v, %q", name, e.Id(), start, end, value(e, ics.ComponentPropertyDescription))
		}
	}
}

func value(e *ics.VEvent, p ics.ComponentProperty) string {
	if x := e.GetProperty(p); x != nil {
		return x.Value // the reader has undone the escapes
	}
	return ""
}

// Promise 83: line ends, commas, semicolons, backslashes, long lines and emoji at the fold
// come to one event with the right text.
func TestTextComesBackAsItWas(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"line ends":          "first\nsecond\nEND:VEVENT\nBEGIN:VEVENT",
		"marks":              `a,b;c\d "e" \n \\n`,
		"long":               strings.Repeat("dry places first, ", 40),
		"emoji at the fold":  strings.Repeat("x", 66) + strings.Repeat("⚓🛥️", 20),
		"letters of 3 bytes": strings.Repeat("漆", 90),
	} {
		c := calendar.Calendar{Events: []calendar.Event{event(func(e *calendar.Event) { e.Summary = text })}}
		checkLines(t, name, c.Bytes())
		got := parsed(t, c)
		if n := len(got.Events()); n != 1 {
			t.Fatalf("%s: %d events", name, n)
		}
		if s := value(got.Events()[0], ics.ComponentPropertySummary); s != text {
			t.Errorf("%s: came back as %q", name, s)
		}
	}
}

// checkLines holds RFC 5545 section 3.1: no line over 75 octets, every one ended by CR LF,
// no letter cut in two.
func checkLines(t *testing.T, name string, b []byte) {
	t.Helper()
	for line := range strings.SplitSeq(strings.TrimSuffix(string(b), "\r\n"), "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") {
			t.Errorf("%s: the line %q has %d octets", name, line, len(line))
		}
	}
}

func TestWhateverIsWrittenStaysOneEvent(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5545, 1))
	letters := []rune("abc ,;:\\\"\r\n\t漆⚓\x00\u2028é=BEGIN")
	for range 500 {
		s := make([]rune, rng.IntN(200))
		for k := range s {
			s[k] = letters[rng.IntN(len(letters))]
		}
		c := calendar.Calendar{Name: string(s), Events: []calendar.Event{event(func(e *calendar.Event) { e.Summary, e.Place, e.About = string(s), string(s), string(s) })}}
		checkLines(t, fmt.Sprintf("%q", string(s)), c.Bytes())
		if n := len(parsed(t, c).Events()); n != 1 {
			t.Fatalf("%q gives %d events", string(s), n)
		}
	}
}

func TestAMoveACallOffAndDays(t *testing.T) {
	t.Parallel()
	days := event(func(e *calendar.Event) {
		e.UID, e.Days, e.From, e.To = "rei_1", true, time.Date(2027, 4, 1, 0, 0, 0, 0, time.UTC), time.Date(2027, 4, 30, 0, 0, 0, 0, time.UTC)
	})
	called := event(func(e *calendar.Event) { e.Called = true })
	c := calendar.Calendar{Name: "Visits", Look: time.Hour, Events: []calendar.Event{called, days}}
	text := string(c.Bytes())
	for _, line := range []string{
		"SEQUENCE:2\r\n", "STATUS:CANCELLED\r\n", "DTSTART:20261014T120000Z\r\n", "DTSTART;VALUE=DATE:20270401\r\n", "DTEND;VALUE=DATE:20270501\r\n", // the end is the day after
		"NAME:Visits\r\n", "REFRESH-INTERVAL;VALUE=DURATION:PT60M\r\n",
	} {
		if !strings.Contains(text, line) {
			t.Errorf("%q is missing in\n%s", line, text)
		}
	}
	if strings.Contains(text, "METHOD") {
		t.Error("a feed has no method")
	}
	asked := calendar.Calendar{Method: calendar.Request, Events: []calendar.Event{event(func(e *calendar.Event) {
		e.Organizer, e.Attendee = calendar.Person{Name: `The "quay", Ltd`, Email: "office@quay.example"}, calendar.Person{Name: "Anna", Email: "anna@dunlin.example"}
	})}}
	got := parsed(t, asked)
	if m := got.CalendarProperties; !strings.Contains(string(asked.Bytes()), "METHOD:REQUEST\r\n") || len(m) == 0 {
		t.Errorf("asked with\n%s", asked.Bytes())
	}
	if a := got.Events()[0].Attendees(); len(a) != 1 || a[0].Email() != "anna@dunlin.example" {
		t.Errorf("asked %+v", a)
	}
}
