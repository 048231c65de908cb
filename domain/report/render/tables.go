package render

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"boottop.example/practice/domain/report"
)

// composeTables writes the twin of every plate of figures.
func (c *composition) composeTables() {
	for _, p := range c.plates {
		if !p.hasTable() {
			continue
		}
		t := changeTable
		if p.p.Mode == report.ModeReadings {
			t = readingsTable
		}
		c.shown = append(c.shown, heading{2, fmt.Sprintf("Table %d. %s", p.p.Number, p.p.Title), p.p.Table})
		c.shown = append(c.shown, prose{spans: c.tableLead(p), small: true}, t(p))
	}
}

func (c *composition) tableLead(p plateBlock) []span {
	var text string
	if p.p.Mode == report.ModeChange {
		text = "Contrasts, scale units above each day’s own dry baseline."
	} else {
		text = fmt.Sprintf("By %s, %s. Each value is the median of its placements.", p.pass.Instrument, p.pass.Scale)
		if b := p.pass.Baseline; b != nil {
			text += fmt.Sprintf(" “Above” is above the dry baseline: %d places, median %s, scatter %s.", b.Places, b.Median, b.Scatter)
		}
	}
	return []span{{text: text + " Drawn on "}, c.link(p.p.ID), {text: "."}}
}

func readingsTable(p plateBlock) table {
	t := table{id: p.p.Table, across: 2, columns: []column{{head: "place", nowrap: true, row: true}, {head: "placements", right: true, nowrap: true}, {head: "read", right: true, nowrap: true}, {head: "above", right: true, nowrap: true}, {head: "note"}}}
	for _, x := range p.pass.Readings {
		t.rows = append(t.rows, []cell{
			{spans: []span{{text: x.Place, strong: true}}}, plain(strings.Join(x.Placements, nb+" ")), plain(x.Value), plain(x.Contrast), {spans: []span{{text: readingNote(x)}}, icon: gapIcon(x)},
		})
	}
	return t.withoutEmpty()
}

// withoutEmpty leaves out columns in which nothing stands.
func (t table) withoutEmpty() table {
	for i := len(t.columns) - 1; i > 1; i-- {
		stands := func(r []cell) bool { return !r[i].empty() }
		if slices.ContainsFunc(t.rows, stands) || slices.ContainsFunc(t.beside, stands) {
			continue
		}
		t.columns = slices.Delete(slices.Clone(t.columns), i, i+1)
		t.rows, t.beside = without(t.rows, i), without(t.beside, i)
	}
	return t
}

func without(rows [][]cell, column int) [][]cell {
	out := make([][]cell, 0, len(rows))
	for _, r := range rows {
		out = append(out, slices.Delete(slices.Clone(r), column, column+1))
	}
	return out
}

// empty tells whether nothing stands in a cell.
func (c cell) empty() bool {
	return len(c.icon.parts) == 0 && !slices.ContainsFunc(c.spans, func(s span) bool { return s.text != "" })
}

func readingNote(x report.Reading) string {
	var notes []string
	switch x.Gap {
	case report.Unread:
		notes = append(notes, "not reached")
	case report.Void:
		notes = append(notes, "void")
	}
	if x.Dry {
		notes = append(notes, "dry place")
	}
	if x.Follow {
		notes = append(notes, "follow up inside")
	}
	notes = append(notes, nonEmpty(x.Why, x.Surface)...)
	if x.Corrected != "" {
		notes = append(notes, "printed before as "+x.Corrected)
	}
	return strings.Join(notes, ", ")
}

// within sets a sentence into another behind a colon.
func within(s string) string {
	s = strings.TrimSuffix(s, ".")
	r, n := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[n:]); unicode.IsUpper(next) {
		return s // an abbreviation
	}
	return string(unicode.ToLower(r)) + s[n:]
}

func changeTable(p plateBlock) table {
	t := table{id: p.p.Table, across: 2, columns: []column{{head: "place", nowrap: true, row: true}, {head: "then", right: true, nowrap: true}, {head: "now", right: true, nowrap: true}, {head: "change", right: true, nowrap: true}, {head: "said"}}}
	for _, x := range p.change.Places {
		said := x.Said.Words()
		if x.Why != "" {
			said += ": " + within(x.Why)
		}
		t.rows = append(t.rows, []cell{
			{spans: []span{{text: x.Place, strong: true}}}, plain(x.Then), plain(x.Now), plain(x.By), {spans: []span{{text: said}}, icon: verdictIcon(x.Said)},
		})
	}
	return t
}
