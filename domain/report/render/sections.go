package render

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

func (c *composition) composeFront() {
	r := c.r
	m := masthead{kind: short(r.Kind, 160), boat: short(r.Vessel.Name, 120), number: short(numbered(r), 90), dated: short("issued "+r.Issue.On, 90), client: short(clientWords(r), 160)}
	if r.Issue.Draft {
		m.number, m.dated = draftWords, short("as it stood on "+r.Issue.On, 90)
	}
	c.front = append(c.front, m)
	c.composeStanding()
	if r.Issue.AddendumTo != "" {
		c.front = append(c.front, c.sections()...) // what it adds comes first
	}
	if len(r.InShort) > 0 {
		c.front = append(c.front, heading{2, "In short", "in-short"}, prose{spans: c.spans(r.InShort)})
	}
	if len(r.Recommendations) > 0 {
		c.front = append(c.front, heading{2, "What to do", "what-to-do"}, c.recommendations())
	}
	var left, right []block
	if len(r.Boat) > 0 {
		left = []block{heading{2, "The boat", "the-boat"}, factList{r.Boat}}
	}
	if len(r.Taken) > 0 {
		right = []block{heading{2, "How it was read", "how-it-was-read"}, factList{r.Taken}}
	}
	if len(left)+len(right) > 0 {
		c.front = append(c.front, pair{left, right})
	}
	if len(r.Limits) > 0 {
		c.front = append(c.front, heading{2, "Limits", "limits"}, prose{spans: c.spans(r.Limits), small: true})
	}
	c.front = append(c.front, caution{r.AllCautions()}, c.signature())
}

// composeStanding says what an addendum or a replacement is to the report before it.
func (c *composition) composeStanding() {
	i := c.r.Issue
	var text string
	switch {
	case i.AddendumTo != "":
		text = fmt.Sprintf("This addendum belongs to report %s, which stands but for what is said here.", i.AddendumTo)
	case i.Replaces != "":
		text = fmt.Sprintf("This report stands in place of report %s.", i.Replaces)
	default:
		return
	}
	if i.Because != "" {
		text += " " + i.Because
	}
	c.front = append(c.front, prose{spans: []span{{text: text, strong: true}}})
}

func (c *composition) recommendations() table {
	t := table{columns: []column{{head: "how urgent", nowrap: true, row: true}, {head: "what to do"}, {head: "how sure", nowrap: true}, {head: "who", nowrap: true}, {head: "by", nowrap: true}, {head: "closed by"}}}
	for _, x := range c.r.Recommendations {
		what := []span{{text: x.What}}
		if x.Because != "" {
			what = []span{{text: sentence(x.What) + " " + x.Because}}
		}
		if x.State != "" {
			what = append(what, span{text: " (" + strings.Join(nonEmpty(x.State, first(x.First)), ", ") + ")"})
		}
		t.rows = append(t.rows, []cell{
			{spans: []span{{text: x.Grade.Words(), strong: true}}, icon: gradeIcon(x.Grade)},
			{spans: append(what, c.see(x.See)...)},
			{spans: []span{{text: string(x.Sure)}}, icon: sureIcon(x.Sure)},
			plain(x.Who), plain(x.By), plain(x.ClosedBy),
		})
	}
	return t.withoutEmpty()
}

func first(number string) string {
	if number == "" {
		return ""
	}
	return "first in report " + number
}

func (c *composition) signature() signature {
	r := c.r
	if r.Issue.Draft || r.Signature == nil {
		return signature{line: strings.Join(nonEmpty("Not signed.", sentence(r.Review)), " ")}
	}
	line := strings.Join(nonEmpty(r.Signature.Name, r.Signature.As), ", ")
	if r.Signature.On != "" {
		line += ", " + r.Signature.On
	}
	return signature{name: r.Signature.Name, line: strings.Join(nonEmpty(line+".", r.Review), " ")}
}

// sentence ends as sentences end.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// composeCompared says what changed since earlier visits and what cannot be compared.
func (c *composition) composeCompared() {
	r := c.r
	if len(r.Scope) > 0 {
		c.rest = append(c.rest, heading{2, "What was asked", "asked"}, prose{spans: c.spans(r.Scope)})
	}
	if len(r.Visits) == 0 && len(r.Changes) == 0 {
		return
	}
	c.rest = append(c.rest, heading{2, "Beside the earlier visits", "earlier"})
	for _, x := range r.Changes {
		spans := []span{{text: "Since " + x.Since + ": ", strong: true}}
		spans = append(spans, c.spans(x.Said)...)
		if c.labels[x.ID] != "" {
			spans = append(spans, span{text: " Drawn on "}, c.link(x.ID), span{text: "."})
		}
		c.rest = append(c.rest, prose{spans: spans})
	}
	if len(r.Visits) == 0 {
		return
	}
	t := table{columns: []column{{head: "visit", nowrap: true, row: true}, {head: "ashore", nowrap: true}, {head: "instrument"}, {head: "by"}, {head: "beside today’s", nowrap: true}, {head: "why"}}}
	for _, v := range r.Visits {
		t.rows = append(t.rows, []cell{
			{spans: []span{{text: v.On, strong: true}}},
			plain(ashoreCell(v.Ashore)), plain(v.Instrument), plain(v.Surveyor),
			{spans: []span{{text: v.Standing.Words()}}, icon: standingIcon(v.Standing)},
			plain(v.Why),
		})
	}
	c.rest = append(c.rest, t.withoutEmpty())
}

// ashoreCell leaves out what the head of its column says.
func ashoreCell(ashore string) string {
	return strings.TrimPrefix(strings.TrimSuffix(ashore, " ashore"), "days ashore ")
}

func (c *composition) composeFindings() {
	r := c.r
	if len(r.Findings) > 0 {
		c.rest = append(c.rest, heading{2, "What was found", "found"})
	}
	for _, f := range r.Findings {
		c.rest = append(c.rest, heading{3, fmt.Sprintf("%d. %s", f.Number, capital(f.Title)), f.ID})
		line := []span{{text: strings.Join(nonEmpty(f.Kind, f.Where, string(f.Sure)), "; ")}}
		c.rest = append(c.rest, prose{spans: append(append(line, c.see(append(c.drawnOn(f.ID), f.Photos...))...), span{text: "."}), small: true})
		if len(f.Text) > 0 {
			c.rest = append(c.rest, prose{spans: c.spans(f.Text)})
		}
		if len(f.Measured) > 0 {
			c.rest = append(c.rest, factList{f.Measured})
		}
	}
	c.composeSchedule()
	if v := r.Valuation; v != nil {
		c.rest = append(c.rest, heading{2, "Value", "value"}, prose{spans: []span{{text: v.Figure, strong: true}, {text: ", " + v.Basis + ", on " + v.On + ". An opinion of value on that day."}}})
		if len(v.Said) > 0 {
			c.rest = append(c.rest, prose{spans: c.spans(v.Said)})
		}
		if len(v.Comparables) > 0 {
			c.rest = append(c.rest, factList{v.Comparables})
		}
	}
	if r.Issue.AddendumTo == "" {
		c.rest = append(c.rest, c.sections()...)
	}
}

// sections are the surveyor's own, in order.
func (c *composition) sections() []block {
	var out []block
	for i, s := range c.r.Sections {
		out = append(out, heading{2, s.Title, fmt.Sprintf("section-%d", i+1)})
		for _, text := range s.Text {
			out = append(out, prose{spans: []span{{text: text}}})
		}
	}
	return out
}

func (c *composition) composeSchedule() {
	if len(c.r.Schedule) == 0 {
		return
	}
	c.rest = append(c.rest, heading{2, "What was examined", "examined"})
	var all [][]cell
	tables := make([]table, 0, len(c.r.Schedule))
	for _, a := range c.r.Schedule {
		t := table{columns: []column{{head: "item", row: true}, {head: "examined", nowrap: true}, {head: "condition"}, {head: "note"}}}
		for _, it := range a.Items {
			note := []span{{text: strings.Join(nonEmpty(it.Why, it.Note), "; ")}}
			if it.Finding != "" {
				note = append(note, c.see([]string{it.Finding})...)
			}
			t.rows = append(t.rows, []cell{{spans: []span{{text: it.Name, strong: true}}}, plain(it.Examined), plain(it.Condition), {spans: note}})
		}
		tables, all = append(tables, t), append(all, t.rows...)
	}
	for i, a := range c.r.Schedule {
		tables[i].beside = all
		c.rest = append(c.rest, heading{3, a.Name, fmt.Sprintf("area-%d", i+1)}, tables[i].withoutEmpty())
	}
}

// findPlates brings each plate together with its hull, its pass and its change. One
// without a hull is left out: Check says so before issue.
func (c *composition) findPlates() {
	for _, p := range c.r.Plates {
		b := plateBlock{p: p}
		found := false
		for _, h := range c.r.Hulls {
			if h.Element == p.Element {
				b.hull, found = h, true
			}
		}
		if !found {
			continue
		}
		for i := range c.r.Passes {
			if c.r.Passes[i].ID == p.Pass {
				b.pass = &c.r.Passes[i]
			}
		}
		for i := range c.r.Changes {
			if c.r.Changes[i].ID == p.Against {
				b.change = &c.r.Changes[i]
			}
		}
		if p.Mode == report.ModePlaces {
			b.pins = pins(b, c.r)
		}
		c.plates = append(c.plates, b)
	}
}

// drawnOn is the plate on which a finding or a photo lies at its place.
func (c *composition) drawnOn(id string) []string {
	for _, b := range c.plates {
		if slices.ContainsFunc(b.pins, func(p figure.Pin) bool { return p.ID == id && id != "" }) {
			return []string{b.p.ID}
		}
	}
	return nil
}

// hasTable tells whether figures stand on the plate that a table repeats.
func (b plateBlock) hasTable() bool {
	switch b.p.Mode {
	case report.ModeReadings:
		return b.pass != nil && len(b.pass.Readings) > 0
	case report.ModeChange:
		return b.change != nil && len(b.change.Places) > 0
	}
	return false
}

func (c *composition) composePhotos() {
	if len(c.r.Photos) == 0 {
		return
	}
	c.shown = append(c.shown, heading{2, "Photos", "photos"})
	for list := c.r.Photos; len(list) > 0; {
		b := photoBlock{p: list[0]}
		if len(list) > 1 && upright(list[0]) && upright(list[1]) {
			b.beside = &list[1]
			list = list[1:]
		}
		c.shown, list = append(c.shown, b), list[1:]
	}
}

// upright tells whether a picture leaves half of the measure free.
func upright(p report.Photo) bool { return 8*p.Width <= 7*p.Height }

// composeEnd says who reports and how the file can be checked.
func (c *composition) composeEnd() {
	r := c.r
	adds := r.Issue.AddendumTo != ""
	c.rest = append(c.rest, heading{2, map[bool]string{false: "About this report", true: "About this addendum"}[adds], "about"})
	contact := make([]string, 0, len(r.Practice.Contact))
	for _, line := range r.Practice.Contact {
		contact = append(contact, strings.TrimRight(line, ".,"))
	}
	lines := nonEmpty(practiceWords(r), strings.Join(contact, ", "))
	c.rest = append(c.rest, prose{spans: []span{{text: strings.Join(lines, ". ") + "."}}, small: true, whole: true})
	text := "Every figure traces to a raw entry that keeps who, when and with which instrument. Values are medians on a relative scale; words such as “changed” stand only where a difference passed the limit printed beside it."
	if adds {
		text = "It is a file of its own, and the report that it adds to stays as it was issued."
	}
	if r.Issue.Draft {
		text += " This draft is neither numbered nor signed and may change."
	} else {
		text += " The practice keeps the file as issued; its own copy tells whether this one is the same and whether anything has been added to it."
		if r.AuditHead != "" {
			text += " Audit head " + r.AuditHead + "."
		}
	}
	text += " Built to PDF/UA-1 and PDF/A-2a; the web page of the same report says the same."
	c.rest = append(c.rest, prose{spans: []span{{text: text}}, small: true, whole: true}, blanksNote{})
}

func nonEmpty(words ...string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

// capital begins a heading as headings begin.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
