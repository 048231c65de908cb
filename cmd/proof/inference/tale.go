package inference

import (
	"fmt"
	"slices"
	"strings"

	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// tale is what befell one hull, for a reader who was not there. Where nobody asked it is nil.
type tale struct{ strings.Builder }

func (t *tale) say(format string, args ...any) {
	if t != nil {
		fmt.Fprintf(t, format+"\n", args...)
	}
}

// planted tells what was put into a hull.
func (t *tale) planted(causes []simulate.Cause) {
	if len(causes) == 0 {
		t.say("  planted: nothing but the water that every hull takes up")
	}
	for _, c := range causes {
		at := c.Where
		t.say("  planted: %s, strength %.2g, edge %.0f mm, %s, along %.0f to %.0f, down %.0f to %.0f", c.Name, c.Strength, c.Edge, sides[at.Side], at.Along.From, at.Along.To, at.Down.From, at.Down.To)
	}
}

// made tells of a check, and what it would have shown without the error.
func (t *tale) made(round int, c cause.Check, shown, truly cause.SignCode) {
	sign, _ := cause.SignOf(shown)
	t.say("  check %d, %s: %s", round, strings.ToLower(c.Text[:1])+c.Text[1:], sign.Text)
	if shown != truly {
		right, _ := cause.SignOf(truly)
		t.say("    in error: %s", right.Text)
	}
}

// ledgers tells what stands in the ledgers in the end; the matter that holds what was
// planted comes first.
func (t *tale) ledgers(c practice.Causes, planted practice.Matter) {
	if t == nil {
		return
	}
	t.ledger(planted, "what was planted lies in it")
	for _, m := range c.Matters {
		if m.Title != planted.Title {
			t.ledger(m, "beside it")
		}
	}
}

func (t *tale) ledger(m practice.Matter, which string) {
	t.say("  ledger of %s (%s)", m.Title, which)
	for _, e := range m.Ledger.Entries {
		mark := ""
		switch {
		case e.Cause.Artefact:
			mark = ", mimics water"
		case e.Cause.Wet:
			mark = ", water in the laminate"
		}
		t.say("    %s: %s%s", e.Cause.Name, e.State, mark)
		t.lines("for", e.For)
		t.lines("against", e.Against)
		if len(e.NotDone) > 0 {
			var codes []string
			for _, k := range e.NotDone {
				codes = append(codes, k.Code)
			}
			t.say("      not done: %s", strings.Join(codes, ", "))
		}
	}
}

func (t *tale) lines(word string, list []cause.Line) {
	for _, x := range list {
		how := ""
		switch {
		case x.Opens:
			how = ", confirms"
		case x.Shuts:
			how = ", excludes"
		}
		t.say("      %s: %s (%s%s)", word, x.Text, x.Family, how)
	}
}

// gate tells what is said of two visits.
func (t *tale) gate(what string, g *practice.Gate, places []simulate.Place) {
	if t == nil {
		return
	}
	t.say("  %s: the hull %s", what, g.Hull.Answer)
	for _, u := range g.Untold {
		t.say("    cannot tell, %d places: %s", u.Places, u.Text)
	}
	if g.LeastChange != nil {
		t.say("    least change %.1f units (median), dry places in common %d, visit's shift %s, gain %s", *g.LeastChange, g.DryPlaces, banded(g.VisitShift), banded(g.Gain))
	}
	if g.Hull.Difference != nil && g.Hull.Least != nil {
		t.say("    hull: difference %s, median %.1f, least %.1f", banded(g.Hull.Difference), *g.Hull.Median, *g.Hull.Least)
	}
	for _, z := range g.Zones {
		if z.Verdict.Answer == change.Changed {
			t.say("    zone %s changed: %s, least %.1f", z.Name, banded(z.Verdict.Difference), *z.Verdict.Least)
		}
	}
	for k, v := range g.Verdicts {
		if v == int32(change.Changed) {
			p := places[k]
			t.say("    changed: place %d, %s, along %.0f, down %.0f: %+.1f units, least %.1f", k+1, sides[p.Side], p.Along, p.Down, float64(g.Differences[k])/20, float64(g.Leasts[k])/20)
		}
	}
}

func banded(b *practice.Band) string {
	if b == nil {
		return "not known"
	}
	return fmt.Sprintf("%+.2f (%+.2f to %+.2f)", b.Value, b.Low, b.High)
}

// numbers lists hulls to look at by themselves, in order.
func numbers(hulls []int) string {
	if len(hulls) == 0 {
		return "none"
	}
	return strings.Trim(fmt.Sprint(slices.Sorted(slices.Values(hulls))), "[]")
}
