package practice

import (
	"slices"
	"strconv"
	"time"
)

// JobTurn is a job in the list of jobs, with what has to be done next for it.
type JobTurn struct {
	JobLine
	Turn int32    // its place in the order of the list
	Next *NextAct // nil for a job that is over
}

// NewJobTurn puts the first act that a job owes into words.
func NewJobTurn(j JobLine, turn int32, first Act, now time.Time, zone string) JobTurn {
	return JobTurn{JobLine: j, Turn: turn, Next: first.next(j, now, zone)}
}

// Cursor is the text by which the list of jobs is ordered.
func (j JobTurn) Cursor() string { return strconv.Itoa(int(j.Turn)) }

// Act is something that is owed for a job, as it is kept.
type Act struct {
	What   string
	Detail string
	Whom   string     // a yard, a client or a member by name; empty where nobody is named
	Since  *time.Time // when somebody was asked, or when the boat was seen whose report is not begun
	On     *time.Time // the day by which, at the place where it is done
	Ends   *time.Time // of a planned visit
}

// NextAct is what has to be done next for a job, in words, by when, and whom it waits for.
type NextAct struct {
	What     string
	WaitsFor string
	On       *time.Time
	Since    *time.Time // as of the act
	Late     bool       // the day is past
}

// next puts the first act that a job owes into words. A job whose report is out, whatever
// its stage says, and that owes nothing waits to be closed.
func (a Act) next(j JobLine, now time.Time, zone string) *NextAct {
	n := &NextAct{WaitsFor: a.Whom, On: a.On, Since: a.Since, Late: a.On != nil && a.On.Before(day(now.In(Zone(zone))))}
	switch a.What {
	case "terms":
		n.What, n.WaitsFor = "Terms to be accepted", orElse(a.Whom, "the client")
	case "lead":
		n.What, n.WaitsFor = "Somebody to lead it", theOffice
	case "permission":
		n.What, n.WaitsFor = "Leave, asked and not yet answered: "+a.Detail, "whoever gives leave"
	case "haul-out":
		n.What, n.WaitsFor = "A yard’s word on the lift", orElse(a.Whom, "the yard")
	case "visit":
		n.visit(a, now)
	case "draft":
		n.What, n.WaitsFor = "Finish the report", orElse(a.Whom, theOffice)
	case "in review":
		n.What, n.WaitsFor = "The second look at the report", "whoever looks over it"
	case "addendum":
		n.What, n.WaitsFor = "Write the addendum that report "+a.Detail+" asks for", orElse(a.Whom, theOffice)
	case "write", "plan":
		n.begin(a, j)
	default:
		if slices.Contains([]string{"closed", "cancelled"}, j.Stage) {
			return nil
		}
		n.What, n.WaitsFor = "Close it, if nothing more is owed", theOffice
	}
	return n
}

// theOffice is who places what nobody leads.
const theOffice = "the office"

func (n *NextAct) visit(a Act, now time.Time) {
	n.What, n.WaitsFor = capitalised(a.Detail), orElse(a.Whom, theOffice)
	if a.Detail == "other" {
		n.What = "Visit"
	}
	n.Late = a.Ends != nil && a.Ends.Before(now)
	if n.Late {
		n.What += ": say whether it was made"
	}
}

// begin says how a job goes on of which no visit is planned and no report begun.
func (n *NextAct) begin(a Act, j JobLine) {
	switch {
	case storedOnly[j.Kind]:
		n.What, n.WaitsFor = "Keep the "+j.Kind+" document", "whoever is authorised to issue it"
	case a.What == "plan" && len(needs[j.Kind]) > 0:
		n.What, n.WaitsFor = "Plan a visit", theOffice
	default:
		n.What, n.WaitsFor = "Draft the report", orElse(a.Whom, theOffice)
	}
}
