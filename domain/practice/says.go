package practice

import (
	"boottop.example/practice/domain/measure/change"
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

func (c *comparing) add(code string, said report.Sentence, slots Column, figures ...Figure) {
	c.gate.Statements = append(c.gate.Statements, Statement{Code: code, Said: said, Slots: slots, Figures: figures})
}

// say puts the gate into words.
func (c *comparing) say() {
	since := report.Month(c.before.BeganAt, Zone(c.before.TimeZone))
	if c.stood.Standing != Same && c.stood.Standing != Alike {
		c.add("not-compared", report.NotCompared(report.Day(c.before.BeganAt, Zone(c.before.TimeZone)), report.Standing(c.stood.Standing), c.stood.Because()), nil)
		return
	}
	if len(c.components.Missing) > 0 {
		c.add("not-enough-measured", report.NotEnoughMeasured(since), nil)
		return
	}
	g := c.gate
	c.add("at-large", report.AtLarge(c.atLarge(), since), c.untargeted(""), bandFigure("difference", g.Hull.Difference, "scale units"))
	zones := make([]report.Zone, len(g.Changed))
	for k, a := range g.Changed {
		zones[k] = report.Zone{About: a.About, Places: len(a.Slots), By: a.By, Matches: a.Matches, Around: a.Around}
	}
	c.add("areas-changed", report.AreasChanged(zones), c.changedSlots())
	if g.LeastChange != nil {
		c.add("change-basis", report.ChangeBasis(c.stood.Because(), *g.LeastChange, g.Comparable), nil, Figure{Code: "least", Value: *g.LeastChange, Unit: "scale units"})
		c.add("changed-at", report.ChangedAt(zones), c.changedSlots())
	}
	c.add("two-visits", report.TwoVisits(), nil)
}

func (c *comparing) atLarge() report.Verdict {
	v := c.gate.Hull
	switch {
	case v.Answer == change.NoChangeShown:
		return report.NoChange
	case v.Answer == change.Changed && v.Difference.Value > 0:
		return report.Higher
	case v.Answer == change.Changed:
		return report.Lower
	}
	return report.CannotTell
}

func (c *comparing) changedSlots() (slots Column) {
	for _, a := range c.gate.Changed {
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
