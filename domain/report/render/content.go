// Package render makes the bytes of a report: a web page and a PDF, both from the same
// composition, so that they say the same things in the same order. Both are pure: equal
// reports and pictures give equal bytes.
package render

import (
	"fmt"
	"strings"
	"unicode"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

// block is one thing that stands on the page. The two writers know each kind.
type block interface{}

type (
	// masthead opens the report: kind, boat, number.
	masthead struct{ kind, boat, number, dated, client string }
	// heading of level 2 or 3; id is what links lead to.
	heading struct {
		level int
		text  string
		id    string
	}
	// prose is one paragraph.
	prose struct {
		spans []span
		small bool
		whole bool // not parted over pages, nor from a whole one that follows
	}
	// factList is a list of names and what is so.
	factList struct{ facts []report.Fact }
	// pair stands side by side where there is room.
	pair struct{ left, right []block }
	// table has a head that is repeated on each page.
	table struct {
		id      string
		columns []column
		rows    [][]cell
		across  int      // columns of the sheet that the rows run through; 1 or 2
		beside  [][]cell // rows of tables of the same columns: their columns stand under each other
	}
	// caution is ruled off above and below.
	caution struct{ lines []string }
	// signature ends the first part.
	signature struct{ name, line string }
	// plate is a drawing on a page of its own.
	plateBlock struct {
		p      report.Plate
		hull   report.Hull
		pass   *report.Pass
		change *report.Change
		pins   []figure.Pin // of the plate of places
	}
	// photos are printed two a page; two upright ones stand beside each other.
	photoBlock struct {
		p      report.Photo
		beside *report.Photo
	}
	// blanksNote says what □ stands for, where the PDF has one; a page has letters of its reader's.
	blanksNote struct{}
)

// span is a stretch of text of one weight, perhaps leading somewhere.
type span struct {
	text   string
	strong bool
	to     string // id of what it leads to
}

type column struct {
	head   string
	right  bool // figures stand right
	nowrap bool
	row    bool // heads its row
}

type cell struct {
	spans []span
	icon  icon
}

func plain(text string) cell { return cell{spans: []span{{text: text}}} }

// composition is the report as blocks, and where each id leads.
type composition struct {
	r      report.Report
	front  []block // the first page, as far as it fits
	rest   []block // what is to be read
	shown  []block // plates, photos and tables of figures
	plates []plateBlock
	labels map[string]string // id → "Plate 1"
	target map[string]string // id → the id of the block it leads to
}

func compose(r report.Report) *composition {
	c := &composition{r: r, labels: map[string]string{}, target: map[string]string{}}
	c.findPlates()
	c.name()
	c.composeFront()
	c.composeCompared()
	c.composeFindings()
	c.composeEnd()
	for _, b := range c.plates {
		c.shown = append(c.shown, b)
	}
	c.composePhotos()
	c.composeTables()
	return c
}

// name gives every id that sentences point at its label: only of what is printed, so that
// no link leads nowhere.
func (c *composition) name() {
	set := func(id, label, target string) {
		if id != "" && c.labels[id] == "" {
			c.labels[id], c.target[id] = label, target
		}
	}
	for _, b := range c.plates {
		set(b.p.ID, fmt.Sprintf("Plate %d", b.p.Number), b.p.ID)
		set(b.p.Against, fmt.Sprintf("Plate %d", b.p.Number), b.p.ID)
		if b.hasTable() {
			set(b.p.Table, fmt.Sprintf("Table %d", b.p.Number), b.p.Table)
		}
	}
	for _, f := range c.r.Findings {
		set(f.ID, fmt.Sprintf("Finding %d", f.Number), f.ID)
	}
	for _, p := range c.r.Photos {
		set(p.ID, fmt.Sprintf("Photo %d", p.Number), p.ID)
	}
}

// spans sets sentences as one paragraph, each followed by where its proof stands.
func (c *composition) spans(list []report.Sentence) []span {
	var out []span
	for i, s := range list {
		if i > 0 {
			out = append(out, span{text: " "})
		}
		proof := c.see(s.See)
		for j, r := range s.Runs {
			text := r.Text
			if j == len(s.Runs)-1 && len(proof) > 0 && strings.HasSuffix(text, ".") {
				text = strings.TrimSuffix(text, ".")
				proof = append(proof, span{text: "."})
			}
			out = append(out, span{text: text, strong: r.Strong})
		}
		out = append(out, proof...)
	}
	return out
}

// see writes where proof stands: " (Plate 1, Photo 3)".
func (c *composition) see(ids []string) []span {
	var out []span
	for _, id := range ids {
		label, ok := c.labels[id]
		if !ok {
			continue
		}
		lead := ", "
		if len(out) == 0 {
			lead = " ("
		}
		out = append(out, span{text: lead}, span{text: strings.ReplaceAll(label, " ", nb), to: c.target[id]})
	}
	if len(out) > 0 {
		out = append(out, span{text: ")"})
	}
	return out
}

// link is a span that leads to a labelled thing and reads as its label.
func (c *composition) link(id string) span {
	if c.labels[id] == "" {
		return span{text: "elsewhere"}
	}
	return span{text: strings.ReplaceAll(c.labels[id], " ", nb), to: c.target[id]}
}

const nb = "\u00a0"

const draftWords = "Draft, not issued"

// title of the report, as windows and running heads show it.
func title(r report.Report) string {
	if r.Issue.Draft {
		return r.Vessel.Name + " · " + draftWords
	}
	return r.Vessel.Name + " · " + numbered(r)
}

func numbered(r report.Report) string {
	if r.Issue.AddendumTo != "" {
		return fmt.Sprintf("Addendum %d to report %s", r.Issue.Addendum, r.Issue.AddendumTo)
	}
	return "Report " + r.Issue.Number
}

func practiceWords(r report.Report) string {
	if r.Practice.Place == "" {
		return r.Practice.Name
	}
	return r.Practice.Name + ", " + r.Practice.Place
}

// footWords stand at the foot of every page.
func footWords(r report.Report) string {
	s := "Condition on the day, within stated limits; not a certificate."
	if r.Invented != "" {
		return r.Invented + " " + s
	}
	return s
}

func clientWords(r report.Report) string {
	if r.Client.As == "" {
		return "for " + r.Client.Name
	}
	return "for " + r.Client.Name + ", " + r.Client.As
}

// tidy drops what must not reach a page: control and direction characters.
func tidy(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		if unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}
