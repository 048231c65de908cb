package render

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// Invoice is an issued invoice, or a credit note, as it is set on paper. Amounts are whole
// minor units of Currency, of which Digits stand behind the point.
type Invoice struct {
	Kind     string // invoice, deposit, abort fee or credit note
	Number   string
	Dated    time.Time
	DueOn    *time.Time
	Credits  string // number of the invoice that a credit note takes back
	Practice string
	Address  string // lines ended by \n, as all addresses
	Reach    string // telephone and mail
	Payer    string
	PayerAt  string
	Boat     string
	Job      string
	Currency string
	Digits   int
	Lines    []InvoiceLine
	Note     string
	Foot     string
	Invented bool
	At       time.Time // of issue: the file's own time
}

// InvoiceLine is a line of it.
type InvoiceLine struct {
	Text        string
	Quantity    string
	PriceMinor  int64
	TaxPermille int32
	NetMinor    int64
	TaxMinor    int64
}

// InvoicePDF sets an invoice on paper as PDF sets a report: tagged, fonts embedded, built to
// PDF/UA-1 and PDF/A-2a, the same bytes for the same invoice.
func InvoicePDF(i Invoice, o Options) ([]byte, error) {
	if o.Language == "" {
		o.Language = "en-GB"
	}
	d := tagged.New(tagged.Info{
		Title: i.title() + ", " + i.Practice, Author: i.Practice, Subject: i.Kind, Lang: o.Language, Creator: "Boottop", Producer: producer, At: i.At,
	})
	t, err := newTypes(d)
	if err != nil {
		return nil, err
	}
	f := &flow{d: d, t: t, c: &composition{}, o: o, s: newSizes(1), ids: map[string]*tagged.Anchor{}, total: 1}
	f.portrait()
	f.y = 34 // an invoice has no running head: its own stands there
	f.billHead(d.Root(), i)
	f.who(d.Root(), i)
	f.table(d.Root(), i.lines())
	f.y += 6
	f.sums(d.Root(), i)
	f.lines(d.Root(), i.Note, f.s.body)
	f.lines(d.Root(), i.Foot, f.s.small)
	if i.Invented {
		f.lines(d.Root(), "An invented practice, boat and people: nobody owes anything.", f.s.small)
	}
	f.billFoot(i)
	return d.Bytes()
}

func (i Invoice) title() string {
	return strings.ToUpper(i.Kind[:1]) + i.Kind[1:] + " " + i.Number
}

// billHead is the practice at the left and what the sheet is at the right.
func (f *flow) billHead(parent *tagged.Node, i Invoice) {
	f.rule(f.left, f.y+2.25, f.width, ink, 4.5)
	top := f.y + 12
	upright := types{text: f.t.title, strong: f.t.title}
	half := 0.5 * f.width
	put := func(role string, t types, text string, size, x, y, right float64) float64 {
		spans := []span{{text: text}}
		f.with(t, func() {
			lines := f.t.lay(spans, size, half-8)
			f.setLines(parent.Add(role), lines, spans, size, 1.2, x, y, ink, right)
			y += float64(len(lines)) * size * 1.2
		})
		return y
	}
	right := put("H1", upright, i.title(), 19, f.left+half+8, top, half-8)
	f.d.Bookmark(1, i.title(), f.page, top)
	y := put("P", upright, i.Practice, 19, f.left, top, 0)
	for _, line := range split(i.Address + "\n" + i.Reach) {
		y = put("P", f.t, line, f.s.small, f.left, y, 0)
	}
	f.y = max(y, right) + 8
	f.rule(f.left, f.y, f.width, ink, 0.75)
	f.y += 14
	f.fresh = false
}

// split gives the lines of an address that hold anything.
func split(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// who is whom it goes to, beside what it is about.
func (f *flow) who(parent *tagged.Node, i Invoice) {
	top, left, width := f.y, f.left, f.width
	f.width = 0.5*width - 8
	f.paragraph(parent, "P", []span{{text: i.Payer, strong: true}}, f.s.body, leading, ink)
	f.lines(parent, i.PayerAt, f.s.body)
	low := f.y
	f.left, f.y = left+f.width+16, top
	facts := []report.Fact{{Name: "number", Is: i.Number}, {Name: "date", Is: billDay(i.Dated)}}
	switch {
	case i.Credits != "":
		facts = append(facts, report.Fact{Name: "takes back", Is: i.Credits})
	case i.DueOn != nil:
		facts = append(facts, report.Fact{Name: "due", Is: billDay(*i.DueOn)})
	}
	f.facts(parent, append(facts, report.Fact{Name: "boat", Is: i.Boat}, report.Fact{Name: "job", Is: i.Job}))
	f.left, f.width, f.y = left, width, max(low, f.y)+12
}

func billDay(t time.Time) string { return t.Format("2 January 2006") }

func (i Invoice) lines() table {
	t := table{columns: []column{
		{head: "for", row: true},
		{head: "quantity", right: true, nowrap: true},
		{head: "price, " + i.Currency, right: true, nowrap: true},
		{head: "tax", right: true, nowrap: true},
		{head: "before tax, " + i.Currency, right: true, nowrap: true},
	}}
	for _, l := range i.Lines {
		t.rows = append(t.rows, []cell{plain(l.Text), plain(l.Quantity), plain(i.sum(l.PriceMinor)), plain(rate(l.TaxPermille)), plain(i.sum(l.NetMinor))})
	}
	return t
}

// sum writes minor units with their point and in groups of three.
func (i Invoice) sum(minor int64) string {
	sign, text := "", strconv.FormatInt(minor, 10)
	if minor < 0 {
		sign, text = "−", text[1:]
	}
	if len(text) <= i.Digits {
		text = strings.Repeat("0", i.Digits+1-len(text)) + text
	}
	whole, rest := text[:len(text)-i.Digits], text[len(text)-i.Digits:]
	for k := len(whole) - 3; k > 0; k -= 3 {
		whole = whole[:k] + "," + whole[k:]
	}
	if rest != "" {
		rest = "." + rest
	}
	return sign + whole + rest
}

// rate writes parts in a thousand as a percentage.
func rate(permille int32) string {
	if permille%10 == 0 {
		return fmt.Sprintf("%d %%", permille/10)
	}
	return fmt.Sprintf("%d.%d %%", permille/10, permille%10)
}

// taxes are the rates in the order in which they first stand, with what is taxed at each
// and the tax: the sums of the lines, each rounded by itself.
func (i Invoice) taxes() (rates []int32, net, tax map[int32]int64) {
	net, tax = map[int32]int64{}, map[int32]int64{}
	for _, l := range i.Lines {
		if _, known := net[l.TaxPermille]; !known {
			rates = append(rates, l.TaxPermille)
		}
		net[l.TaxPermille] += l.NetMinor
		tax[l.TaxPermille] += l.TaxMinor
	}
	return rates, net, tax
}

// sums stand at the right, together on one page.
func (f *flow) sums(parent *tagged.Node, i Invoice) {
	rates, net, tax := i.taxes()
	var allNet, allTax int64
	t := table{columns: []column{{head: "in all", row: true}, {head: i.Currency, right: true, nowrap: true}}}
	add := func(name string, minor int64, strong bool) {
		t.rows = append(t.rows, []cell{{spans: []span{{text: name, strong: strong}}}, {spans: []span{{text: i.sum(minor), strong: strong}}}})
	}
	for _, r := range rates {
		allNet, allTax = allNet+net[r], allTax+tax[r]
	}
	add("Before tax", allNet, false)
	for _, r := range rates {
		add(fmt.Sprintf("Tax, %s of %s", rate(r), i.sum(net[r])), tax[r], false)
	}
	total := "To pay"
	if i.Kind == "credit note" {
		total = "Taken back"
	}
	add(total, allNet+allTax, true)
	f.need(float64(len(t.rows)+2) * (f.s.tab*tabLead + 2*f.s.pad))
	left, width := f.left, f.width
	f.left, f.width = left+0.52*width, 0.48*width
	f.table(parent, t)
	f.left, f.width = left, width
	f.y += 16
}

// lines set each line of a text as a paragraph.
func (f *flow) lines(parent *tagged.Node, text string, size float64) {
	for _, line := range split(text) {
		f.paragraph(parent, "P", []span{{text: line}}, size, leading, ink)
	}
	f.y += f.s.after()
}

// billFoot says on every page whose sheet it is, and which of how many.
func (f *flow) billFoot(i Invoice) {
	pages := f.d.Pages()
	for k, p := range pages {
		p.Artifact(tagged.Foot, func(c *tagged.Canvas) {
			y, width := p.H-43, p.W-2*marginX
			c.Stroke(ink, 0.75)
			c.Line(marginX, y-12, marginX+width, y-12)
			c.Fill(ink)
			page := fmt.Sprintf("page %d of %d", k+1, len(pages))
			w := f.t.text.Width(page, 8.25)
			c.Text(f.t.text, 8.25, marginX+width-w, y, page)
			c.Text(f.t.text, 8.25, marginX, y, fitText(f.t.text, i.title()+", "+i.Practice, 8.25, width-w-20))
		})
	}
}
