package figure

import "math"

// hungs draws what hangs below one side: fins, skegs and rudders, long ones cut short with
// the usual break line.
func (p *sheet) hungs(side Side) {
	for _, part := range p.h.Hung {
		p.hung(side, part)
	}
}

func (p *sheet) hung(side Side, part Hung) {
	h, root := p.h, p.h.Root(p.h.rootAt(part))
	a, b, c, d := part.At[0], part.At[1], part.At[2], part.At[3]
	foot := min(h.Half-gap, root+part.Span)
	k := max(0, (foot-root)/part.Span)
	aft, fore := a+(c-a)*k, b+(d-b)*k
	broken := foot < root+part.Span-0.01

	shape := p.along(side, a, b, h.Girth)
	for _, q := range end(aft, fore, foot, broken) {
		shape = append(shape, p.at(side, q[0], q[1]))
	}
	fill := Metal
	if part.Blade {
		fill = Blade
	}
	p.add(Mark{Kind: Path, Class: "hung", Lines: []Line{shape}, Closed: true, Fill: fill})
	p.take(bounds(shape))
	if side == Port && part.Name != "" && !p.o.Small {
		p.hungName(part, aft, fore, foot, broken)
	}
}

// end is the lower edge, from fore to aft, in along and down.
func end(aft, fore, foot float64, broken bool) []Point {
	if !broken {
		return []Point{{fore, foot}, {aft, foot}}
	}
	m, z := (aft+fore)/2, min(0.12, (fore-aft)/3)
	return []Point{{fore, foot}, {m + z, foot}, {m + z*0.4, foot - 0.09}, {m - z*0.4, foot + 0.07}, {m - z, foot}, {aft, foot}}
}

// along samples f from a to b, which may lie behind the hull, and keeps to the hull there.
func (p *sheet) along(side Side, a, b float64, f func(float64) float64) Line {
	n := max(1, int(math.Ceil((b-a)/0.1)))
	l := make(Line, 0, n+7)
	for i := range n + 1 {
		x := a + (b-a)*float64(i)/float64(n)
		l = append(l, p.at(side, x, f(x)))
	}
	return l
}

func (p *sheet) hungName(part Hung, aft, fore, foot float64, broken bool) {
	x, anchor, y := p.X(aft)-8, End, p.Y(Port, foot)+4
	if part.Right || x-width(part.Name, noteSize) < p.edge+p.line+4 {
		x, anchor = p.X(fore)+8, Start
	}
	if broken {
		y += 6
	}
	p.text("note", part.Name, x, y, noteSize, anchor)
	p.take(textBox(part.Name, x, y, noteSize, anchor))
}

// bilge draws the footprint of a bilge keel: a lens on the skin. It is not hatched, since
// hatching on the skin says that nobody knows.
func (p *sheet) bilge(side Side) {
	b := p.h.Bilge
	if b == nil {
		return
	}
	const n = 24
	mid := b.Out * p.h.Girth((b.From+b.To)/2)
	var out, in Line
	for i := range n + 1 {
		t := float64(i) / n
		x := b.From + (b.To-b.From)*t
		half := b.Thick / 2 * math.Sin(math.Pi*t)
		out, in = append(out, p.at(side, x, mid-half)), append(in, p.at(side, x, mid+half))
	}
	lens := between(out, in)
	p.area("footprint", lens)
	if side == Port && b.Name != "" && !p.o.Small {
		p.want(named{side: side, text: b.Name, along: b.From + (b.To-b.From)/4, down: mid})
	}
}
