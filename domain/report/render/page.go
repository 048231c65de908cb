package render

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"strings"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

// PageOptions of the web page.
type PageOptions struct {
	Photo    func(id string) ([]byte, error) // the JPEG copies, set into the page itself
	PhotoURL func(p report.Photo) string     // or where they are kept; then Photo is not asked
	Language string                          // "en-GB" when empty
	PDF      string                          // address of the PDF; no button when empty
	About    string                          // what stands under the button: size, hash, addenda
}

// Page writes the report as one web page that asks for nothing else: style, letters and
// drawings are inside. It is the first form of the report, read by phone, by ear and from
// paper alike.
//
// Errors: ErrPhoto, or a *figure.SpecError for a hull that cannot be drawn.
func Page(r report.Report, o PageOptions) ([]byte, error) {
	if o.Language == "" {
		o.Language = "en-GB"
	}
	w := &pageWriter{o: o, c: compose(r)}
	style, err := pageStyle()
	if err != nil {
		return nil, err
	}
	w.raw(`<!doctype html><html lang="`, html.EscapeString(o.Language), `"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex"><title>`)
	w.text(title(r))
	w.raw(`</title><style>`, style, `</style></head>`)
	class := "report"
	if r.Issue.Draft {
		class += " draft"
	}
	w.raw(`<body class="`, class, `">`)
	if r.Issue.Draft {
		w.raw(`<p class="margin" aria-hidden="true">`, draftWords, `</p>`)
	}
	w.raw(`<main>`)
	if err := w.front(); err != nil {
		return nil, err
	}
	w.raw(`<div class="rest">`)
	if err := w.blocks(w.c.rest); err != nil {
		return nil, err
	}
	w.raw(`</div></main><footer><p>`)
	w.text(footWords(r))
	w.raw(`</p><p>`)
	w.text(pageFoot(r))
	w.raw(`</p></footer></body></html>`)
	return w.b.Bytes(), nil
}

func pageFoot(r report.Report) string {
	if r.Issue.Draft {
		return draftWords
	}
	return strings.Join(nonEmpty(practiceWords(r), numbered(r), map[bool]string{true: "audit head " + r.AuditHead}[r.AuditHead != ""]), " · ")
}

type pageWriter struct {
	b bytes.Buffer
	o PageOptions
	c *composition
}

func (w *pageWriter) raw(parts ...string) {
	for _, s := range parts {
		w.b.WriteString(s)
	}
}

func (w *pageWriter) text(s string) { w.b.WriteString(html.EscapeString(tidy(s))) }

// front sets the boat and how it was read aside, where the window is broad enough.
func (w *pageWriter) front() error {
	var main, side []block
	for _, b := range w.c.front {
		switch b := b.(type) {
		case pair:
			side = append(append(side, b.left...), b.right...)
		case masthead:
			w.masthead(b)
		default:
			main = append(main, b)
		}
	}
	w.raw(`<div class="front"><div>`)
	if err := w.blocks(main); err != nil {
		return err
	}
	w.raw(`</div><aside>`)
	if w.o.PDF != "" {
		w.raw(`<p class="act"><a href="`, html.EscapeString(w.o.PDF), `" download>Download PDF</a></p>`)
	}
	if w.o.About != "" {
		w.raw(`<p class="small">`)
		w.text(w.o.About)
		w.raw(`</p>`)
	}
	if err := w.blocks(side); err != nil {
		return err
	}
	w.raw(`</aside></div>`)
	return nil
}

func (w *pageWriter) masthead(m masthead) {
	w.raw(`<header><div><p class="kind">`)
	w.text(m.kind)
	w.raw(`</p><h1>`)
	w.text(m.boat)
	w.raw(`</h1></div><p class="numbered"><b>`)
	w.text(m.number)
	w.raw(`</b><br>`)
	w.text(m.dated)
	w.raw(`<br>`)
	w.text(m.client)
	w.raw(`</p></header>`)
}

func (w *pageWriter) blocks(list []block) error {
	for _, b := range list {
		if err := w.block(b); err != nil {
			return err
		}
	}
	return nil
}

func (w *pageWriter) block(b block) error {
	switch b := b.(type) {
	case heading:
		w.raw(fmt.Sprintf(`<h%d id="`, b.level), html.EscapeString(b.id), `">`)
		w.text(b.text)
		w.raw(fmt.Sprintf(`</h%d>`, b.level))
	case prose:
		w.raw(map[bool]string{true: `<p class="small">`, false: `<p>`}[b.small])
		w.spans(b.spans)
		w.raw(`</p>`)
	case factList:
		w.raw(`<dl>`)
		for _, x := range b.facts {
			w.raw(`<dt>`)
			w.text(x.Name)
			w.raw(`</dt><dd>`)
			w.text(x.Is)
			w.raw(`</dd>`)
		}
		w.raw(`</dl>`)
	case pair:
		return w.blocks(append(append([]block{}, b.left...), b.right...))
	case table:
		w.table(b)
	case caution:
		w.raw(`<p class="caution">`)
		w.text(strings.Join(b.lines, " "))
		w.raw(`</p>`)
	case signature:
		w.signature(b)
	case plateBlock:
		return w.plate(b)
	case photoBlock:
		return w.photo(b.p)
	}
	return nil
}

func (w *pageWriter) spans(list []span) {
	for _, s := range list {
		switch {
		case s.to != "":
			w.raw(`<a href="#`, html.EscapeString(s.to), `">`)
			w.text(s.text)
			w.raw(`</a>`)
		case s.strong:
			w.raw(`<strong>`)
			w.text(s.text)
			w.raw(`</strong>`)
		default:
			w.text(s.text)
		}
	}
}

// table scrolls sideways on a narrow screen, by keyboard too. On a phone its rows become
// paragraphs; the roles say that it is a table still.
func (w *pageWriter) table(t table) {
	class, name, around := "book", "What to do", "scroll"
	if t.across > 1 {
		class, around = "book close", "scroll twin"
	}
	if t.id != "" {
		name = w.c.labelOf(t.id)
	} else if t.columns[0].head == "visit" {
		name = "Earlier visits"
	} else if t.columns[0].head == "item" {
		name = "What was examined"
	}
	w.raw(`<div class="`, around, `" role="region" tabindex="0" aria-label="`, html.EscapeString(name), `"><table role="table" class="`, class, `"><thead role="rowgroup"><tr role="row">`)
	for _, col := range t.columns {
		w.raw(`<th role="columnheader" scope="col"`, cellClass(col), `>`)
		w.text(col.head)
		w.raw(`</th>`)
	}
	w.raw(`</tr></thead><tbody role="rowgroup">`)
	for _, r := range t.rows {
		w.raw(`<tr role="row">`)
		for i, c := range r {
			tag, scope := "td", ` role="cell"`
			if t.columns[i].row {
				tag, scope = "th", ` role="rowheader" scope="row"`
			}
			if t.across < 2 && len(c.spans) > 0 && c.spans[0].text != "" {
				scope += ` data-head="` + html.EscapeString(t.columns[i].head) + `"`
			}
			w.raw(`<`, tag, scope, cellClass(t.columns[i]), `>`)
			w.icon(c.icon)
			w.spans(c.spans)
			w.raw(`</`, tag, `>`)
		}
		w.raw(`</tr>`)
	}
	w.raw(`</tbody></table></div>`)
}

func cellClass(c column) string {
	switch {
	case c.right:
		return ` class="num"`
	case c.nowrap:
		return ` class="keep"`
	}
	return ""
}

func (w *pageWriter) signature(s signature) {
	w.raw(`<p class="signed">`)
	if s.name != "" {
		w.raw(`<span class="hand">`)
		w.text(s.name)
		w.raw(`</span> `)
	}
	w.raw(`<span>`)
	w.text(s.line)
	w.raw(`</span></p>`)
}

func (w *pageWriter) plate(b plateBlock) error {
	fig, err := drawHull(b, w.c.r, 1072)
	if err != nil {
		return fmt.Errorf("plate %d: %w", b.p.Number, err)
	}
	w.raw(`<section class="plate" id="`, html.EscapeString(b.p.ID), `"><h2>`)
	w.text(fmt.Sprintf("Plate %d. %s", b.p.Number, b.p.Title))
	w.raw(`</h2><figure><div class="scroll" role="region" tabindex="0" aria-label="`, html.EscapeString(fmt.Sprintf("Plate %d", b.p.Number)), `">`)
	w.b.Write(figure.SVG(fig, figure.SVGOptions{ID: fmt.Sprintf("plate%d", b.p.Number)}))
	w.raw(`</div><figcaption><ul class="key">`)
	lead, keys := legend(b)
	if lead != "" {
		w.raw(`<li><strong>`)
		w.text(lead)
		w.raw(`</strong></li>`)
	}
	for _, k := range keys {
		w.raw(`<li>`)
		if len(k.sign) > 0 {
			w.stepSign(k.sign)
		} else {
			w.icon(k.icon)
		}
		w.text(k.word)
		w.raw(`</li>`)
	}
	w.raw(`</ul>`)
	if caption := w.c.plateCaption(b); len(caption) > 0 {
		w.raw(`<p class="small">`)
		w.spans(caption)
		w.raw(`</p>`)
	}
	w.raw(`</figcaption></figure></section>`)
	return nil
}

func (w *pageWriter) stepSign(marks []figure.Mark) {
	svg := string(figure.SVG(figure.Plate{Width: keySize, Height: keySize, Marks: marks}, figure.SVGOptions{ID: "key"}))
	w.raw(strings.Replace(svg, `role="img" aria-label=""`, `aria-hidden="true"`, 1))
}

// icon draws a sign whose word stands beside it.
func (w *pageWriter) icon(i icon) {
	if len(i.parts) == 0 {
		return
	}
	class := "m"
	switch {
	case i.accent:
		class = "m accent"
	case i.w > 14:
		class = "m sure"
	}
	w.raw(fmt.Sprintf(`<svg class="%s" width="%g" height="14" viewBox="0 0 %g 14" aria-hidden="true">`, class, i.w, i.w))
	for _, p := range i.parts {
		w.part(p)
	}
	w.raw(`</svg>`)
}

func (w *pageWriter) part(p part) {
	line, closed := p.line, p.closed
	if p.circle[2] > 0 && p.arc[0] != p.arc[1] {
		line, closed = arcLine(p, 0, 0, 1), true
	}
	if len(line) == 0 {
		w.raw(fmt.Sprintf(`<circle cx="%g" cy="%g" r="%g"`, p.circle[0], p.circle[1], p.circle[2]))
	} else {
		w.raw(`<path d="`)
		for i, q := range line {
			w.raw(fmt.Sprintf("%c%.4g %.4g", "ML"[min(i, 1)], q[0], q[1]))
		}
		if closed {
			w.raw("z")
		}
		w.raw(`"`)
	}
	switch {
	case p.fill:
		w.raw(` class="f"`)
	case p.paper:
		w.raw(` class="cut"`)
	default:
		w.raw(` class="s"`)
	}
	if p.width != 0 {
		w.raw(fmt.Sprintf(` style="stroke-width:%g"`, p.width))
	}
	if len(p.dash) > 0 {
		w.raw(fmt.Sprintf(` stroke-dasharray="%g %g"`, p.dash[0], p.dash[1]))
	}
	w.raw(`/>`)
}

func (w *pageWriter) photo(p report.Photo) error {
	var src string
	if w.o.PhotoURL != nil {
		src = w.o.PhotoURL(p)
	} else {
		b, err := photoBytes(p, w.o.Photo)
		if err != nil {
			return err
		}
		src = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(b)
	}
	w.raw(`<figure class="photo" id="`, html.EscapeString(p.ID), `"><div class="print" style="aspect-ratio:`, fmt.Sprintf("%d/%d", max(1, p.Width), max(1, p.Height)), `"><img loading="lazy" src="`, html.EscapeString(src),
		`" width="`, count(max(1, p.Width)), `" height="`, count(max(1, p.Height)), `" alt="`, html.EscapeString(tidy(photoAlt(p))), `">`)
	w.annotations(p)
	w.raw(`</div><figcaption>`)
	w.spans(w.c.photoCaption(p))
	w.raw(`</figcaption></figure>`)
	return nil
}

// annotations lie over a photo in thousandths of its sides; the picture stays as it is.
func (w *pageWriter) annotations(p report.Photo) {
	if len(p.Notes) == 0 {
		return
	}
	pw, ph := 1000.0, 1000*float64(max(1, p.Height))/float64(max(1, p.Width))
	w.raw(fmt.Sprintf(`<svg class="notes" viewBox="0 0 1000 %.0f" aria-hidden="true">`, ph))
	for _, a := range p.Notes {
		x, y := float64(a.X)/1000*pw, float64(a.Y)/1000*ph
		tx, ty := float64(a.ToX)/1000*pw, float64(a.ToY)/1000*ph
		for _, class := range []string{"under", "over"} {
			switch a.Kind {
			case "arrow":
				for _, l := range arrow(x, y, tx, ty, 24) {
					w.raw(fmt.Sprintf(`<path class="%s" d="M%.1f %.1fL%.1f %.1f"/>`, class, l[0][0], l[0][1], l[1][0], l[1][1]))
				}
			case "ring":
				w.raw(fmt.Sprintf(`<circle class="%s" cx="%.1f" cy="%.1f" r="%.1f"/>`, class, x, y, max(8, distance(x, y, tx, ty))))
			case "text":
				w.raw(fmt.Sprintf(`<text class="%s" x="%.1f" y="%.1f">`, class, x, y))
				w.text(a.Text)
				w.raw(`</text>`)
			}
		}
	}
	w.raw(`</svg>`)
}
