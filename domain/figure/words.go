package figure

import (
	"cmp"
	"math"
	"slices"
)

// noteSize is the height of names laid over the hull, px.
const noteSize = 12

// box is a rectangle of paper already written on.
type box struct{ x0, y0, x1, y1 float64 }

func (a box) meets(b box) bool {
	return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

// words keeps what is written and what still wants a place.
type words struct {
	taken []box
	wants []named
}

// named is a thing with a name to be laid beside it.
type named struct {
	side        Side
	text        string
	along, down float64
	label       *Point
}

func (p *sheet) take(b box)   { p.words.taken = append(p.words.taken, b) }
func (p *sheet) want(n named) { p.words.wants = append(p.words.wants, n) }

func (p *sheet) free(b box) bool {
	if b.x0 < p.edge+p.line+2 || b.x1 > p.w-p.edge-p.line-2 {
		return false
	}
	return !slices.ContainsFunc(p.words.taken, b.meets)
}

// width estimates how long a text is, px: enough to keep names apart. The shares of the
// height are Barlow's, rounded.
func width(text string, size float64) float64 {
	sum := 0.0
	for _, r := range text {
		switch {
		case r == ' ' || r == '.' || r == ',' || r == 'i' || r == 'l' || r == 'j' || r == 't' || r == 'f':
			sum += 0.3
		case r == 'm' || r == 'w' || r == 'M' || r == 'W':
			sum += 0.82
		case r >= '0' && r <= '9' || r >= 'A' && r <= 'Z':
			sum += 0.6
		default:
			sum += 0.54
		}
	}
	return sum * size
}

func textBox(text string, x, y, size float64, a Anchor) box {
	w := width(text, size)
	switch a {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return box{x - 3, y - 0.85*size, x + w + 3, y + 0.3*size}
}

func bounds(l Line) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, q := range l {
		b = box{min(b.x0, q[0]), min(b.y0, q[1]), max(b.x1, q[0]), max(b.y1, q[1])}
	}
	return b
}

// sideNames writes Port and Starboard outside the sheer, towards the stern.
func (p *sheet) sideNames() {
	if p.o.Small || p.o.Bare {
		return
	}
	const size = 20
	x := p.X(-p.h.Aft * 0.2)
	for _, w := range []struct {
		text string
		y    float64
	}{{"Port", p.Y(Port, -p.h.Sheer(0)) - 10}, {"Starboard", p.Y(Starboard, -p.h.Sheer(0)) + 20}} {
		p.text("side", w.text, x, w.y, size, Start)
		p.take(textBox(w.text, x, w.y, size, Start))
	}
}

// names lays every name wanted: on the topsides, or between the keels where the thing is
// nearer to those, at the first place where it meets nothing else.
func (p *sheet) names() {
	if p.o.Small {
		return
	}
	for _, r := range p.o.Readings {
		x, y := p.X(r.Along), p.Y(r.Side, r.Down)
		p.take(box{x - p.r, y - p.r, x + p.r, y + p.r})
	}
	slices.SortStableFunc(p.words.wants, func(a, b named) int { return cmp.Compare(a.along, b.along) })
	for _, n := range p.words.wants {
		p.name(n)
	}
}

func (p *sheet) name(n named) {
	x, y := p.lay(n)
	p.take(textBox(n.text, x, y, noteSize, Middle))
	ty, up := p.Y(n.side, n.down), -11.0
	if ty > y {
		up = 4
	}
	p.path("leader", Line{{x, y + up}, {p.X(n.along), ty}})
	p.text("note", n.text, x, y, noteSize, Middle)
}

// shifts are how far aside a name may stand, in widths of its own; names between the
// keels may go further, to where the hull leaves them room.
var (
	shifts    = []float64{0, -0.3, 0.3, -0.6, 0.6, -0.9, 0.9, -1.3, 1.3, -1.8, 1.8}
	farShifts = append(slices.Clone(shifts), 2.4, -2.4, 3, -3, 3.6)
)

// lay finds where a name stands: the middle of its baseline, px.
func (p *sheet) lay(n named) (x, y float64) {
	if n.label != nil {
		return p.X(n.label[0]), p.Y(n.side, n.label[1])
	}
	ax, w := p.X(n.along), width(n.text, noteSize)
	if g := p.h.Girth(n.along); g > 0 && n.down > keelward*g {
		if x, y, ok := p.layAtKeel(n, ax, w); ok {
			return x, y
		}
	}
	tiers := p.tiers(n)
	for _, crossing := range []bool{false, true} { // a leader over a figure only where nothing else is left
		for _, y := range tiers {
			for _, k := range shifts {
				x := ax + k*w
				if p.free(textBox(n.text, x, y, noteSize, Middle)) && (crossing || !p.crosses(n, x, y)) {
					return x, y
				}
			}
		}
	}
	in := p.edge + p.line + 4 + w/2
	return min(p.w-in, max(in, ax)), tiers[0]
}

// crosses tells whether a leader from x, y would run through a figure on the topsides.
func (p *sheet) crosses(n named, x, y float64) bool {
	tx, ty := p.X(n.along), p.Y(n.side, n.down)
	for _, r := range p.o.Readings {
		if r.Side != n.side || r.Down >= 0 {
			continue
		}
		t := (p.Y(r.Side, r.Down) - y) / (ty - y)
		if t > 0 && t < 1 && math.Abs(x+t*(tx-x)-p.X(r.Along)) < p.r {
			return true
		}
	}
	return false
}

// keelward is the share of the girth below which a name goes to the keel's side.
const keelward = 0.62

// layAtKeel looks for room between the keels: the name clear of the skin by a few px.
func (p *sheet) layAtKeel(n named, ax, w float64) (x, y float64, ok bool) {
	for _, off := range []float64{16, 30} {
		for _, k := range farShifts {
			x := ax + k*w
			low := 0.0 // how far the skin under the name reaches, m
			for _, q := range []float64{x - w/2, x, x + w/2} {
				low = max(low, p.h.Girth(p.metres(q)))
			}
			y := p.Y(n.side, low)
			if n.side == Port {
				y += off
			} else {
				y -= off - 8
			}
			b := textBox(n.text, x, y, noteSize, Middle)
			if p.free(b) && (n.side == Port && b.y1 < p.mid || n.side == Starboard && b.y0 > p.mid) {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// tiers are the baselines on the topsides that a name may stand on, best first; last,
// outside the sheer. Those level with the thing itself are left out.
func (p *sheet) tiers(n named) []float64 {
	away := 1.0 // from the waterline towards the sheer, on the sheet
	if n.side == Port {
		away = -1
	}
	var list []float64
	at := p.Y(n.side, n.down)
	for _, k := range []float64{0.65, 0.82, 0.5} {
		if y := p.Y(n.side, -k*p.h.Freeboard[1]) + 4; (y-4-at)*away > noteSize {
			list = append(list, y)
		}
	}
	return append(list, p.Y(n.side, -p.h.Sheer(n.along))+away*12+4)
}
