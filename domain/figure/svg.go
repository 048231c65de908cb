package figure

import (
	"html"
	"math"
	"strconv"
	"strings"
)

// SVGOptions say how a plate becomes SVG.
type SVGOptions struct {
	ID      string   // prefix of the ids inside; must differ between the plates of a page
	Palette *Palette // a file of its own with its colours in it; nil for a page that has figure.css
	Ink     bool     // one ink, on any page
}

// SVG writes a plate with class names for figure.css; readings stand in groups with
// data-place.
func SVG(p Plate, o SVGOptions) []byte {
	w := svgWriter{b: make([]byte, 0, 64<<10), id: o.ID}
	class := "hull " + string(p.Mode)
	if p.Small {
		class += " small"
	}
	if o.Ink {
		class += " ink"
	}
	w.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="`, class, `" viewBox="0 0 `, px(p.Width), " ", px(p.Height),
		`" width="`, px(p.Width), `" height="`, px(p.Height), `" role="img" aria-label="`, html.EscapeString(p.Label), `">`)
	if o.Palette != nil {
		w.raw("<style>", Stylesheet(), "svg { ", strings.Join(o.Palette.tokens(), " "), faces, "}</style>")
	}
	w.patterns(p.Marks)
	for i, m := range p.Marks {
		if m.Place != "" && (i == 0 || p.Marks[i-1].Place != m.Place) {
			w.raw(`<g data-place="`, html.EscapeString(m.Place), `">`)
		}
		w.mark(m)
		if m.Place != "" && (i == len(p.Marks)-1 || p.Marks[i+1].Place != m.Place) {
			w.raw("</g>")
		}
	}
	w.raw("</svg>")
	return w.b
}

const faces = ` --text: 'Barlow', sans-serif; --title: 'Old Standard TT', serif; --w-strong: 600;`

type svgWriter struct {
	b  []byte
	id string
}

func (w *svgWriter) raw(parts ...string) {
	for _, s := range parts {
		w.b = append(w.b, s...)
	}
}

// px writes a coordinate to a tenth of a pixel.
func px(v float64) string { return string(appendPx(nil, v)) }

func appendPx(b []byte, v float64) []byte {
	tenths := int64(math.Round(v * 10))
	if tenths < 0 {
		b, tenths = append(b, '-'), -tenths
	}
	b = strconv.AppendInt(b, tenths/10, 10)
	if tenths%10 != 0 {
		b = append(b, '.', byte('0'+tenths%10))
	}
	return b
}

func (w *svgWriter) patterns(marks []Mark) {
	used := map[Pattern]bool{}
	for _, m := range marks {
		used[m.Fill] = m.Fill != ""
	}
	for _, f := range []Pattern{Metal, Blade, Unread} {
		if !used[f] {
			continue
		}
		h := f.Hatch()
		n := number(h.Pitch)
		w.raw(`<pattern id="`, html.EscapeString(w.id), "-", string(f), `" width="`, n, `" height="`, n, `" patternUnits="userSpaceOnUse" patternTransform="rotate(`,
			number(math.Round(h.Angle*180/math.Pi)), `)"><rect width="`, n, `" height="`, n, `" class="hatch-ground"/><path d="M0 `, number(h.Pitch/2), "h", n, `" class="`, h.Class, `"/></pattern>`)
	}
}

func (w *svgWriter) mark(m Mark) {
	switch m.Kind {
	case Path:
		w.raw(`<path d="`)
		w.lines(m)
		w.raw(`"`)
	case Circle:
		w.raw(`<circle cx="`, px(m.X), `" cy="`, px(m.Y), `" r="`, px(m.R), `"`)
	case Rect:
		w.raw(`<rect x="`, px(m.X), `" y="`, px(m.Y), `" width="`, px(m.W), `" height="`, px(m.H), `"`)
	case Words:
		w.raw(`<text x="`, px(m.X), `" y="`, px(m.Y), `" font-size="`, px(m.Size), `"`)
		if m.Anchor != Start {
			w.raw(` text-anchor="`, string(m.Anchor), `"`)
		}
	}
	w.raw(` class="`, m.Class, `"`)
	if m.Fill != "" {
		w.raw(` fill="url(#`, html.EscapeString(w.id), "-", string(m.Fill), `)"`)
	}
	if m.Kind == Words {
		w.raw(">", html.EscapeString(m.Text), "</text>")
		return
	}
	w.raw("/>")
}

func (w *svgWriter) lines(m Mark) {
	for _, l := range m.Lines {
		for i, q := range l {
			switch i {
			case 0:
				w.raw("M")
			case 1:
				w.raw("L")
			default:
				w.raw(" ")
			}
			w.b = append(appendPx(w.b, q[0]), ' ')
			w.b = appendPx(w.b, q[1])
		}
		if m.Closed {
			w.raw("z")
		}
	}
}
