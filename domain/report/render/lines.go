package render

import (
	"strings"
	"unicode/utf8"

	"boottop.example/practice/domain/report/render/internal/tagged"
)

// stretch is a piece of a line, of one span.
type stretch struct {
	span int
	x, w float64
	text string
}

// textLine is one line of a broken text.
type textLine struct {
	parts []stretch
	w     float64
}

// atom is what is not broken: letters of one span up to the next chance to break.
type atom struct {
	span  int
	text  string
	space bool // a space follows
	glued bool // no chance to break before it
}

// atoms cuts spans where lines may end: at spaces and after hyphens, dashes and slashes.
func atoms(spans []span) []atom {
	var out []atom
	glued := false
	for i, s := range spans {
		text := tagged.Clean(s.text)
		for text != "" {
			end := strings.IndexAny(text, " -–—/")
			switch {
			case end < 0:
				out = append(out, atom{span: i, text: text, glued: glued})
				glued, text = true, ""
			case text[end] == ' ':
				if end > 0 {
					out = append(out, atom{span: i, text: text[:end], glued: glued})
				}
				if n := len(out); n > 0 {
					out[n-1].space = true
				}
				glued = false
				text = strings.TrimLeft(text[end:], " ")
			default:
				_, n := utf8.DecodeRuneInString(text[end:])
				out = append(out, atom{span: i, text: text[:end+n], glued: glued})
				// "-5" and "16/10" keep together; "left/right" may part.
				next := text[end+n:]
				glued = next != "" && next[0] >= '0' && next[0] <= '9'
				text = next
			}
		}
	}
	return out
}

// lay breaks spans into lines no longer than width; a word longer than that is cut.
func (t types) lay(spans []span, size, width float64) []textLine {
	var lines []textLine
	var cur textLine
	gap := 0.0
	flush := func() {
		if len(cur.parts) > 0 {
			lines = append(lines, cur)
		}
		cur, gap = textLine{}, 0
	}
	list := atoms(spans)
	for i := 0; i < len(list); {
		n := i + 1
		for n < len(list) && list[n].glued && !list[n-1].space {
			n++
		}
		w := 0.0
		for _, a := range list[i:n] {
			w += t.of(spans[a.span]).Width(a.text, size)
		}
		if len(cur.parts) > 0 && cur.w+gap+w > width+0.01 {
			cur.endSpace()
			flush()
		}
		for _, a := range list[i:n] {
			t.put(&cur, spans, a, size, width, &gap, flush)
		}
		i = n
	}
	flush()
	return lines
}

// put adds an atom to a line, cutting it where even an empty line is too short.
func (t types) put(cur *textLine, spans []span, a atom, size, width float64, gap *float64, flush func()) {
	face := t.of(spans[a.span])
	w := face.Width(a.text, size)
	for cur.w+*gap+w > width+0.01 && utf8.RuneCountInString(a.text) > 1 && (len(cur.parts) == 0 || w > width) {
		fit := fitting(face, a.text, size, width-cur.w-*gap)
		if fit == "" {
			if len(cur.parts) > 0 {
				flush()
				continue
			}
			_, n := utf8.DecodeRuneInString(a.text)
			fit = a.text[:n]
		}
		cur.add(a.span, fit, face.Width(fit, size), *gap)
		flush()
		a.text = a.text[len(fit):]
		w = face.Width(a.text, size)
	}
	if len(cur.parts) > 0 && cur.w+*gap+w > width+0.01 {
		flush() // glued to what stands before, and together they are longer than any line
	}
	cur.add(a.span, a.text, w, *gap)
	*gap = 0
	if a.space {
		*gap = face.Width(" ", size)
	}
}

func fitting(face *tagged.Type, text string, size, room float64) string {
	return text[:face.Fit(text, size, room)]
}

// add joins words of one span into one stretch, so that they are set and read as one.
func (l *textLine) add(span int, text string, w, gap float64) {
	if n := len(l.parts); n > 0 {
		last := &l.parts[n-1]
		if gap > 0 {
			last.text += " "
			last.w += gap
		}
		if last.span == span {
			last.text += text
			last.w += w
			l.w += gap + w
			return
		}
	}
	l.parts = append(l.parts, stretch{span: span, x: l.w + gap, w: w, text: text})
	l.w += gap + w
}

// endSpace keeps the space that a line ends with, for those who read the text out.
func (l *textLine) endSpace() {
	if n := len(l.parts); n > 0 {
		l.parts[n-1].text += " "
	}
}
