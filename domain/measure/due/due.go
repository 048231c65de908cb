// Package due says when a hull should be looked at again, and why.
//
// Each grade of finding, each kind of finding, a treatment and its guarantee gives a
// window of dates; the windows are joined into the fewest visits that fall into all of
// them. Every window carries its reason, the rule it came from and the rule's tag. The
// rules are a practice's to edit; [Defaults] are habits of the trade with no source.
//
// Dates are days: the clock time and zone of a [time.Time] are ignored, its calendar
// date counts. Nothing here asks what day it is.
package due

import (
	"time"

	"boottop.example/practice/domain/measure"
)

// Grade is how urgent a finding is.
type Grade string

// The grades, most urgent first.
const (
	Stop         Grade = "stop-and-make-safe"
	BeforeLaunch Grade = "before-afloat"
	WhileAshore  Grade = "while-ashore"
	Planned      Grade = "planned-work"
	Watch        Grade = "watch"
	LookFurther  Grade = "look-further"
	Record       Grade = "for-the-record"
)

// Kind is what a finding is about, as far as the interval to the next look depends on
// it. The zero Kind is anything else.
type Kind string

// The kinds that have a rule, and the states of a hull that have one.
const (
	RaisedUniform    Kind = "raised-uniform"
	FewBlisters      Kind = "few-blisters"
	ActiveBlisters   Kind = "active-blisters"
	FailingTreatment Kind = "failing-treatment"
	WetCore          Kind = "suspected-wet-core"
	Grounding        Kind = "grounding"
	Drying           Kind = "drying"
	AfterTreatment   Kind = "after-treatment"
	Guarantee        Kind = "guarantee-end"
	CleanOlder       Kind = "clean-older-polyester"
	Watched          Kind = "watched" // a Watch without a date and without a rule of its own
)

// Finding is one line of a report that may call for another look.
type Finding struct {
	ID    string // the caller's own, given back with the window
	Grade Grade
	Kind  Kind
	By    time.Time // the date that the report states; zero when it states none
}

// Hull is what the dates depend on. Zero times mean unknown or not applicable.
type Hull struct {
	Visited time.Time // this visit; needed
	Built   int       // calendar year; 0 unknown. Where several are possible, the earliest
	// Polyester is true unless a paper or a test says that the resin is another.
	Polyester bool

	Findings []Finding

	// DaysAshore is how long she had been out when readings were taken; negative when
	// unknown.
	DaysAshore int
	NextLift   time.Time // the next lift already arranged
	Launch     time.Time // the launch planned

	Drying       bool      // ashore to dry, gates not yet met
	Treated      time.Time // completion of the last treatment
	GuaranteeEnd time.Time
	Grounded     time.Time // the last grounding
}

// Window is a span of days in which one reason wants the hull seen.
type Window struct {
	Earliest time.Time
	Latest   time.Time // zero where it ends with an event that has no date yet: see Until
	Until    Event     // the event that ends it, if one does
	Repeats  bool      // starts again from each visit until its reason is closed

	Finding string // ID of the finding it comes from; empty for a state of the hull
	Kind    Kind
	Grade   Grade
	Code    string // of the reason: lower-case words joined by hyphens
	Reason  string // a sentence for a person
	Tag     string // where the interval comes from
	Wants   []measure.Note
}

// Event ends a window in place of a date.
type Event string

// The events a window can wait for.
const (
	NoEvent  Event = ""
	AtLaunch Event = "launch"
	AtLift   Event = "next-lift"
	AtAccess Event = "access" // consent or access has to be given first
)

// Visit is one attendance that meets all its windows.
type Visit struct {
	Earliest, Latest time.Time
	Windows          []Window
}

// Plan is the result: dated visits in order, and what waits for an event.
type Plan struct {
	Visits  []Visit
	Waiting []Window // no latest date: Until says what they wait for
	Notes   []measure.Note
}

// Next is the first visit due, or false where nothing has a date.
func (p Plan) Next() (Visit, bool) {
	if len(p.Visits) == 0 {
		return Visit{}, false
	}
	return p.Visits[0], true
}

// Work finds the windows of a hull and joins them into visits.
//
// Errors: *measure.ArgumentError where Visited is zero, a grade is not one of the seven,
// or a rule's spans are negative or end before they begin.
func Work(h Hull, s Settings) (Plan, error) {
	if err := check(h, s); err != nil {
		return Plan{}, err
	}
	w := work{h: h.days(), s: s}
	w.findings()
	w.hullStates()
	plan := Plan{Notes: w.notes}
	var dated []Window
	for _, win := range w.windows {
		if win.Latest.IsZero() {
			plan.Waiting = append(plan.Waiting, win)
		} else {
			dated = append(dated, win)
		}
	}
	plan.Visits = join(dated)
	return plan, nil
}
