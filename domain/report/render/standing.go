package render

import (
	"bytes"
	"html"
)

// Standing is what came after an issued report, for whoever opens its page: the page
// itself stays as it was issued and cannot say so.
type Standing struct {
	Title    string      // "Report 2026-117"
	By       string      // of whom, and when it was issued
	Said     []string    // what came after, a sentence each, the weightiest first
	Ways     [][2]string // words and address of what can be read now
	Invented bool
}

// Page writes it as a web page that asks for nothing else.
func (s Standing) Page() ([]byte, error) {
	style, err := pageStyle()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	raw := func(parts ...string) {
		for _, p := range parts {
			b.WriteString(p)
		}
	}
	text := func(t string) { b.WriteString(html.EscapeString(tidy(t))) }
	raw(`<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex"><title>`)
	text(s.Title)
	raw(`</title><style>`, style, `</style></head><body class="report"><main><header><div><p class="kind">`)
	text(s.By)
	raw(`</p><h1>`)
	text(s.Title)
	raw(`</h1></div></header>`)
	for k, said := range s.Said {
		raw(map[bool]string{true: `<p style="margin-top:16px"><strong>`, false: `<p>`}[k == 0])
		text(said)
		raw(map[bool]string{true: `</strong></p>`, false: `</p>`}[k == 0])
	}
	raw(`<ul class="ways">`)
	for _, w := range s.Ways {
		raw(`<li><a href="`, html.EscapeString(w[1]), `">`)
		text(w[0])
		raw(`</a></li>`)
	}
	raw(`</ul></main>`)
	if s.Invented {
		raw(`<footer><p>An invented harbour, practice, boat and people.</p></footer>`)
	}
	raw(`</body></html>`)
	return b.Bytes(), nil
}
