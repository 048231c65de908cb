package render

import (
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// Colours of print, as the screen has them on paper.
var (
	ink    = tagged.RGB{0x14, 0x20, 0x2b}
	ink2   = tagged.RGB{0x35, 0x42, 0x4d}
	hair   = tagged.RGB{0xc3, 0xbf, 0xae}
	accent = tagged.RGB{0x85, 0x0e, 0x4c}
	white  = tagged.RGB{0xff, 0xff, 0xff}
)

// measure holds the sizes of one part of the report, in points: those of the mock-up at
// 0.75 points a pixel, scaled.
type sizes struct {
	k, pad                           float64 // pad above and below what stands in a cell
	body, small, tab, h2, h3, masted float64
}

func newSizes(k float64) sizes {
	return sizes{k: k, pad: 3.2 * k, body: 10.05 * k, small: 9.2 * k, tab: 9.3 * k, h2: 15 * max(k, 0.9), h3: 11.5 * k, masted: 33}
}

// flow fills pages from top to bottom.
type flow struct {
	d      *tagged.Document
	t      types
	c      *composition
	o      Options
	s      sizes
	page   *tagged.Page
	y      float64 // where the next block begins
	left   float64
	width  float64
	bottom float64
	fresh  bool // nothing stands on this page yet
	ids    map[string]*tagged.Anchor
	done   int
	photos int // set so far
	total  int
	// plates that are to stand on pages of their own, after this one
	waiting []waitingPlate
	err     error // of a plate that waited
	blanks  bool  // □ stands for a letter somewhere in the report
}

const (
	marginX   = 51.0
	wideX     = 45.0
	bodyTop   = 50.0
	bodyFoot  = 62.0 // what the foot takes
	leading   = 1.38
	tabLead   = 1.25
	titleLead = 1.15
)

// portrait begins an upright page, after the plates that waited for the end of the last.
func (f *flow) portrait() {
	f.setWaiting()
	w, h := f.o.Paper.size()
	f.page = f.d.Page(w, h)
	f.left, f.width = marginX, w-2*marginX
	f.y, f.bottom, f.fresh = bodyTop, h-bodyFoot, true
}

// landscape begins a page for a plate.
func (f *flow) landscape() {
	h, w := f.o.Paper.size()
	f.page = f.d.Page(w, h)
	f.left, f.width = wideX, w-2*wideX
	f.y, f.bottom, f.fresh = 36, h-40, true
}

func (f *flow) wide() bool { return f.page != nil && f.page.W > f.page.H }

// room left on the page.
func (f *flow) room() float64 { return f.bottom - f.y }

// need begins a page where less than h is left.
func (f *flow) need(h float64) {
	if f.page == nil || f.wide() || !f.fresh && f.room() < h {
		f.portrait()
	}
}

// skip leaves space, but none at the head of a page.
func (f *flow) skip(h float64) {
	if !f.fresh {
		f.y += h
	}
}

func (f *flow) anchor(id string) *tagged.Anchor {
	a, ok := f.ids[id]
	if !ok {
		a = &tagged.Anchor{}
		f.ids[id] = a
	}
	return a
}

func (f *flow) setAnchor(id string, y float64) {
	if id != "" {
		f.anchor(id).Set(f.page, y)
	}
}

// rule draws a line that means nothing to a reader who hears the report.
func (f *flow) rule(x, y, w float64, c tagged.RGB, width float64, dash ...float64) {
	f.page.Artifact(tagged.Rule, func(k *tagged.Canvas) {
		k.Save()
		k.Stroke(c, width)
		if len(dash) > 0 {
			k.Dash(dash...)
		}
		k.Line(x, y, x+w, y)
		k.Restore()
	})
}

// setLines draws lines that belong to a node, first baseline below y. Links within them
// become Link elements with their own active areas.
func (f *flow) setLines(n *tagged.Node, lines []textLine, spans []span, size, lead, x, y float64, colour tagged.RGB, right float64) {
	type piece struct {
		s    stretch
		x, y float64
	}
	var group []piece
	to := ""
	flush := func() {
		if len(group) == 0 {
			return
		}
		node := n
		if to != "" {
			node = n.Add("Link")
		}
		f.page.Mark(node, func(c *tagged.Canvas) {
			c.Fill(colour)
			for _, p := range group {
				c.Text(f.t.of(spans[p.s.span]), size, p.x, p.y, p.s.text)
			}
		})
		if to != "" {
			for _, p := range group {
				f.page.Artifact(tagged.Rule, func(c *tagged.Canvas) {
					c.Save()
					c.Stroke(accent, 0.6)
					c.Line(p.x, p.y+0.16*size, p.x+p.s.w, p.y+0.16*size)
					c.Restore()
				})
				f.page.Link(node, tagged.Box{X: p.x, Y: p.y - 0.85*size, W: p.s.w, H: 1.15 * size}, f.anchor(to), "Go to "+f.c.labelOf(to))
			}
		}
		group = nil
	}
	for i, l := range lines {
		by := y + float64(i)*size*lead + size*(0.5*lead+0.28)
		at := x
		if right > 0 {
			at = x + right - l.w
		}
		for _, s := range l.parts {
			if want := spans[s.span].to; want != to {
				flush()
				to = want
			}
			group = append(group, piece{s: s, x: at + s.x, y: by})
		}
	}
	flush()
}

func (c *composition) labelOf(target string) string {
	if l, ok := c.labels[target]; ok {
		return l
	}
	return target
}

// paragraph sets spans across the measure, breaking over pages but never leaving one
// line alone at the foot or the head.
func (f *flow) paragraph(parent *tagged.Node, role string, spans []span, size, lead float64, colour tagged.RGB) {
	lines := f.t.lay(spans, size, f.width)
	if len(lines) == 0 {
		return
	}
	n := parent.Add(role)
	step := size * lead
	if len(lines) == 3 { // two and one would leave one alone
		f.need(3 * step)
	}
	for len(lines) > 0 {
		f.need(step * float64(min(2, len(lines))))
		fit := max(1, int((f.room()+0.01)/step))
		take := min(fit, len(lines))
		if rest := len(lines) - take; rest == 1 && take > 2 {
			take--
		}
		f.setLines(n, lines[:take], spans, size, lead, f.left, f.y, colour, 0)
		f.y += step * float64(take)
		f.fresh = false
		lines = lines[take:]
		if len(lines) > 0 {
			f.portrait()
		}
	}
}
