package render

import (
	"bytes"
	"fmt"
	"html"
	"slices"
	"strings"

	"boottop.example/practice/domain/report"
)

// PageOptions of the web page.
type PageOptions struct {
	Photo    func(id string) ([]byte, error) // the JPEG copies, set into the page itself
	PhotoURL func(p report.Photo) string     // or where they are kept; then Photo is not asked
	Language string                          // "en-GB" when empty
	PDF      string                          // address of the PDF; no button when empty
	About    string                          // what stands under the button: size, hash, addenda
	Report   string                          // address of the report that an addendum adds to; no link when empty
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
	w.raw(`</title><style>`, style, pageMargins(r), `</style></head>`)
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
	if err := w.blocks(slices.Concat(w.c.rest, w.c.shown)); err != nil {
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
	if w.o.Report != "" && w.c.r.Issue.AddendumTo != "" {
		w.raw(`<p style="margin-top:16px"><a href="`, html.EscapeString(w.o.Report), `">`)
		w.text("Read report " + w.c.r.Issue.AddendumTo)
		w.raw(`</a></p>`)
	}
	if w.o.PDF == "" && w.o.About == "" && len(side) == 0 {
		return w.blocks(main) // an addendum: nothing stands aside
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
		if err := w.photo(b.p); err != nil || b.beside == nil {
			return err
		}
		return w.photo(*b.beside)
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
