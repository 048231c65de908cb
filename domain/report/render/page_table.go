package render

import "html"

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
