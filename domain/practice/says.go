package practice

import (
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/report"
)

// Statement is a sentence of the one vocabulary with what stands behind it.
type Statement struct {
	Code    string
	Said    report.Sentence
	Slots   Column
	Figures []Figure
}

// Figure is a figure that a sentence speaks of.
type Figure struct {
	Code  string
	Value float64
	Low   *float64
	High  *float64
	Unit  string
}

// sayings gathers statements.
type sayings []Statement

func (s *sayings) add(code string, said report.Sentence, slots Column, figures ...Figure) {
	*s = append(*s, Statement{Code: code, Said: said, Slots: slots, Figures: figures})
}

// tellable tells whether the evidence of a pass may be told to the client of a job: of the
// same job, his own, or of one whose terms allow it (design, jobs and what may be told). Of
// two jobs without a client nobody knows that they are one client's.
func (p HistoryPass) tellable(job uuid.UUID, client *uuid.UUID) bool {
	return p.JobID == job || equal(p.ClientID, client) || p.Cite != "this client only"
}

// say puts the gate into words.
func (c *comparing) say() {
	var s sayings
	g := c.gate
	zone := Zone(c.before.TimeZone)
	since := report.Month(c.before.BeganAt, zone)
	switch {
	case !c.stood.Standing.compares():
		s.add("not-compared", report.NotCompared(report.Day(c.before.BeganAt, zone), report.Standing(c.stood.Standing), c.stood.Because()), nil)
	case g.LeastChange == nil && len(g.Untold) > 0 && unmeasured(g.Untold[0].Code):
		s.add("not-enough-measured", report.NotEnoughMeasured(since), nil)
	case g.LeastChange == nil && len(g.Untold) > 0:
		s.add("untold", report.UntoldSince(since, g.Untold[0].Text, g.Untold[0].Todo), nil)
	case g.LeastChange != nil:
		c.verdicts(&s, since)
	}
	s.add("compared-of", report.ComparedOf(g.Comparable, g.OfPlaces, g.DryPlaces), nil,
		Figure{Code: "compared", Value: float64(g.Comparable), Unit: "places"}, Figure{Code: "of", Value: float64(g.OfPlaces), Unit: "places"})
	g.Statements = s
}

// unmeasured tells a reason that only measuring oneself mends.
func unmeasured(code string) bool {
	return slices.Contains([]string{change.NoRepeatability.String(), change.NoLikePairs.String()}, code)
}

func (c *comparing) verdicts(s *sayings, since string) {
	g := c.gate
	if what := g.explainedBy(); what != "" && g.Hull.Difference != nil {
		s.add("explained-by", report.ExplainedBy(what, since, g.Hull.Difference.Value), c.untargeted(""), bandFigure("difference", g.Hull.Difference, "scale units"))
	} else {
		s.add("at-large", report.AtLarge(g.atLarge(), since), c.untargeted(""), bandFigure("difference", g.Hull.Difference, "scale units"))
	}
	s.add("areas-changed", report.AreasChanged(g.areas()), g.changedSlots())
	s.add("change-basis", report.ChangeBasis(c.stood.Because(), *g.LeastChange, g.Comparable), nil, Figure{Code: "least", Value: *g.LeastChange, Unit: "scale units"})
	s.add("changed-at", report.ChangedAt(g.areas()), g.changedSlots())
	if v := g.VisitShift; v != nil {
		s.add("visit-taken-out", report.VisitTakenOut(v.Value), nil, bandFigure("visit", v, "scale units"))
	}
	s.add("two-visits", report.TwoVisits(), nil)
}

// atLarge is the hull's verdict in the words of reports.
func (g *Gate) atLarge() report.Verdict {
	return verdictOf(g.Hull.Answer, g.Hull.Difference != nil && g.Hull.Difference.Value > 0)
}

func verdictOf(a change.Answer, up bool) report.Verdict {
	switch {
	case a == change.NoChangeShown:
		return report.NoChange
	case a == change.Changed && up:
		return report.Higher
	case a == change.Changed:
		return report.Lower
	}
	return report.CannotTell
}

// explainedBy names what took the hull's change away from it; empty where nothing did.
func (g *Gate) explainedBy() string {
	if !slices.ContainsFunc(g.Hull.Untold, func(u Untold) bool { return u.Code == "explained" }) {
		return ""
	}
	for _, x := range g.Explained {
		if x.Covers != nil && *x.Covers {
			return map[string]string{"days-ashore": "days ashore", "instrument": "the instrument’s drift"}[x.Code]
		}
	}
	return "days ashore and the instrument’s drift together"
}

// areas are the changed areas in the words of reports.
func (g *Gate) areas() []report.Zone {
	zones := make([]report.Zone, len(g.Changed))
	for k, a := range g.Changed {
		zones[k] = report.Zone{About: a.About, Places: len(a.Slots), By: a.By, Matches: a.Matches, Around: a.Around}
	}
	return zones
}

func (g *Gate) changedSlots() (slots Column) {
	for _, a := range g.Changed {
		slots = append(slots, a.Slots...)
	}
	return slots
}

func bandFigure(code string, b *Band, unit string) Figure {
	if b == nil {
		return Figure{Code: code, Unit: unit}
	}
	return Figure{Code: code, Value: b.Value, Low: finite(b.Low), High: finite(b.High), Unit: unit}
}

func (o *Outlook) say() {
	var s sayings
	s.add("next-visit", report.NextVisit(o.Place.True, o.Hull.True, o.Places), nil,
		Figure{Code: "place", Value: o.Place.True, Unit: "scale units"}, Figure{Code: "hull", Value: o.Hull.True, Unit: "scale units"})
	s.add("more-placements", report.MorePlacements(o.Floor), nil, Figure{Code: "floor", Value: o.Floor, Unit: "scale units"})
	o.Statements = s
}

func (c *Course) say() {
	var s sayings
	n := len(c.Visits)
	switch {
	case c.Trend.Trend:
		s.add("course-shown", report.CourseShown(c.Verdict == course.Rising, n, c.Places, c.P), nil, Figure{Code: "p", Value: c.P, Unit: "p"})
	case c.Verdict == course.NoneShown:
		s.add("no-course-shown", report.NoCourseShown(n, c.Places), nil, Figure{Code: "p", Value: c.P, Unit: "p"})
	default:
		s.add("too-few-visits", report.TooFewVisits(n, course.VisitsForTrend(1-gateRate)), nil, Figure{Code: "visits", Value: float64(n), Unit: "visits"})
	}
	if c.LeftOut > 0 {
		s.add("left-out", report.LeftOut(c.LeftOut), nil, Figure{Code: "left-out", Value: float64(c.LeftOut), Unit: "passes"})
	}
	c.Statements = s
}
