package report

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

func in1(in Input, t time.Time) string { return Day(t, in.Zone) }

// plates numbers the drawings: the readings of each of today's passes, then each
// change that may be drawn. Every plate has a table that says the same.
func plates(r Report) []Plate {
	var out []Plate
	add := func(p Plate) {
		p.Number = len(out) + 1
		p.ID, p.Table = fmt.Sprintf("plate-%d", p.Number), fmt.Sprintf("table-%d", p.Number)
		out = append(out, p)
	}
	for _, p := range r.Passes {
		if len(p.Readings) > 0 {
			add(readingsPlate(p))
		}
	}
	element := map[string]string{}
	for _, p := range r.Passes {
		element[p.ID] = p.Element
	}
	for _, c := range r.Changes {
		if tellsOfPlaces(c) {
			add(changePlate(c, element[c.Pass]))
		}
	}
	for _, h := range r.Hulls {
		if n := pinned(r, h); n != "" {
			add(Plate{
				Title: "Where it was found", Mode: ModePlaces, Element: h.Element, Cartouche: [2]string{r.Vessel.Name, "findings, photos, windows"},
				Alt: "The unrolled hull, port above and starboard below, with " + n + " at their places.",
			})
		}
	}
	return out
}

// tellsOfPlaces says whether a change says anything of any place: a drawing on which
// every place says "cannot tell" says less than its sentence.
func tellsOfPlaces(c Change) bool {
	return slices.ContainsFunc(c.Places, func(p PlaceChange) bool { return p.Said != CannotTell })
}

// pinned counts what lies on a hull, in words; empty when nothing does.
func pinned(r Report, h Hull) string {
	var findings, photos int
	for _, f := range r.Findings {
		if f.Element == h.Element || f.Element == "" && len(r.Hulls) == 1 {
			findings += min(1, len(f.At))
		}
	}
	for _, p := range r.Photos {
		if p.At != nil && (p.Element == h.Element || p.Element == "" && len(r.Hulls) == 1) {
			photos++
		}
	}
	var parts []string
	for _, c := range []struct {
		n         int
		one, many string
	}{{findings, "finding", "findings"}, {photos, "photo", "photos"}, {len(h.Bared), "window", "windows"}} {
		if c.n > 0 {
			parts = append(parts, Count(c.n, c.one, c.many))
		}
	}
	return list(parts)
}

func readingsPlate(p Pass) Plate {
	out := Plate{
		Title: "The readings of " + p.On, Mode: ModeReadings, Element: p.Element, Pass: p.ID,
		Cartouche: [2]string{p.On, strings.Join(nonEmpty(p.Instrument, p.Ashore), ", ")},
		Alt:       readingsAlt(p),
	}
	if p.Baseline == nil {
		out.Note = "No dry baseline (" + orElse(p.NoBaseline, "too few dry places") + "): figures as read, above nothing."
	}
	return out
}

// readingsAlt says what the drawing shows to who cannot see it; the figures are in the
// table twin.
func readingsAlt(p Pass) string {
	steps := [5]int{}
	var bare, unread, void, follow int
	for _, x := range p.Readings {
		switch {
		case x.Gap == Unread:
			unread++
		case x.Gap == Void:
			void++
		case x.Step < 0 || x.Step > 4:
			bare++
		default:
			steps[x.Step]++
		}
		if x.Follow {
			follow++
		}
	}
	s := fmt.Sprintf("The unrolled hull, port above and starboard below, with %s of %s.", Count(len(p.Readings)-unread-void, "reading", "readings"), p.On)
	if p.Baseline != nil {
		s += fmt.Sprintf(" Above the dry baseline, from the lowest step to the highest: %d, %d, %d, %d and %d places.", steps[0], steps[1], steps[2], steps[3], steps[4])
	}
	if unread+void > 0 {
		s += fmt.Sprintf(" %s not reached, %d void.", Count(unread, "place", "places"), void)
	}
	if follow > 0 {
		s += fmt.Sprintf(" %s to be followed up inside.", Count(follow, "place", "places"))
	}
	return s
}

func changePlate(c Change, element string) Plate {
	n := map[Verdict]int{}
	for _, p := range c.Places {
		n[p.Said]++
	}
	return Plate{
		Title: "The change since " + c.Since, Mode: ModeChange, Element: element, Pass: c.Pass, Against: c.ID,
		Cartouche: [2]string{"Change", "since " + c.Since}, Caption: c.Said,
		Alt: fmt.Sprintf("The unrolled hull with the change at each place since %s: changed, higher at %d; changed, lower at %d; no change shown at %d; cannot tell at %d.", c.Since, n[Higher], n[Lower], n[NoChange], n[CannotTell]),
	}
}
