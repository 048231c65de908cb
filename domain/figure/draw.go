package figure

import "math"

// sheet is a plate being drawn.
type sheet struct {
	ink
	h *Shape
	o Options

	w, hgt float64
	s      float64 // px a metre, the same both ways
	edge   float64 // from the paper's edge to the graduated line
	line   float64 // how broad that line is
	pad    float64 // from there to the hull
	mid    float64 // y of the middle
	r      float64 // radius of a mark
	words  words   // where names stand already
}

var sides = [2]Side{Port, Starboard}

// Draw draws a shape. It never fails: a spec that passed Validate and finite options give
// finite coordinates.
func Draw(h *Shape, o Options) Plate {
	if o.Mode == "" {
		o.Mode = Today
	}
	p := newSheet(h, o)
	p.frame()
	for _, side := range sides {
		p.skin(side)
	}
	if o.Mode == Map {
		p.contours()
	}
	for _, side := range sides {
		p.bilge(side)
		p.hungs(side)
	}
	p.sideNames()
	p.cartouche()
	p.behind()
	p.fittings()
	p.names()
	p.bearings()
	p.readings()
	p.pins()
	return Plate{Width: p.w, Height: round(p.hgt), Small: o.Small, Mode: o.Mode, Label: o.Label, Marks: p.marks}
}

// minWidth is the narrowest sheet; below it the frame would turn inside out.
const minWidth = 160

func newSheet(h *Shape, o Options) *sheet {
	p := &sheet{h: h, o: o, w: max(minWidth, o.Width), edge: 36, line: 9, pad: 16}
	foot := 11.0
	if o.Small {
		p.edge, p.line, p.pad, foot = 8, 5, 6, 5
	}
	p.s = (p.w - 2*(p.edge+p.line+p.pad)) / h.Length()
	p.hgt = 2*(p.edge+p.line+foot) + 2*(h.Half+h.Top)*p.s
	p.mid = p.hgt / 2
	p.r = p.radius()
	return p
}

// leastRadius of a mark, and the least that holds a figure, px.
const (
	leastRadius = 2.2
	leastFigure = 6
)

// figures tells whether marks carry their figures: not on a small plate, nor where they
// would be too small to read.
func (p *sheet) figures() bool { return !p.o.Small && p.r >= leastFigure }

// radius of a mark: asked for, or as large as the plan's places leave room for.
func (p *sheet) radius() float64 {
	if p.o.Radius > 0 {
		return max(leastRadius, p.o.Radius)
	}
	r := min(11, 0.15*p.s-1)
	if p.o.Small {
		r = 4
	}
	return max(leastRadius, min(r, 0.48*p.s*closest(p.o.Readings)))
}

// closest is the least distance between two places of a side, m; 1 where there are none.
func closest(list []Reading) float64 {
	least := 1.0
	for i, a := range list {
		for _, b := range list[:i] {
			if a.Side != b.Side || math.Abs(a.Along-b.Along) > 1 {
				continue
			}
			if d := math.Hypot(a.Along-b.Along, a.Down-b.Down); d > 0.02 {
				least = min(least, d)
			}
		}
	}
	return least
}

func (p *sheet) X(along float64) float64 { return p.edge + p.line + p.pad + (along+p.h.Aft)*p.s }

// metres is the inverse of X, kept to the hull.
func (p *sheet) metres(x float64) float64 {
	m := (x-p.edge-p.line-p.pad)/p.s - p.h.Aft
	return min(p.h.LWL+p.h.Fore, max(-p.h.Aft, m))
}

func (p *sheet) Y(side Side, down float64) float64 {
	switch side {
	case Centre:
		return p.mid
	case Starboard:
		return p.mid + (p.h.Half-down)*p.s
	}
	return p.mid - (p.h.Half-down)*p.s
}

func (p *sheet) at(side Side, along, down float64) Point { return Point{p.X(along), p.Y(side, down)} }

// curve draws f over the samples between from and to, both included.
func (p *sheet) curve(side Side, from, to float64, f func(x float64) float64) Line {
	var l Line
	if to <= from {
		return l
	}
	l = append(l, p.at(side, from, f(from)))
	for _, x := range p.h.Xs {
		if x > from+1e-9 && x < to-1e-9 {
			l = append(l, p.at(side, x, f(x)))
		}
	}
	return append(l, p.at(side, to, f(to)))
}

func reversed(l Line) Line {
	r := make(Line, len(l))
	for i, v := range l {
		r[len(l)-1-i] = v
	}
	return r
}

// between joins two curves into one closed line.
func between(there, back Line) Line { return append(there, reversed(back)...) }

func nought(float64) float64 { return 0 }
