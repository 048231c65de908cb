package figure

import "math"

// behind draws what lies behind the skin: dashed and faintly shaded, named by leaders.
func (p *sheet) behind() {
	for _, l := range p.o.Layers {
		if len(l.Outline) < 2 {
			continue
		}
		for i, side := range sides {
			if l.Side != Both && l.Side != side {
				continue
			}
			p.layer(side, l)
			if l.Name != "" && (l.Side != Both || i == 0) {
				at := p.anchor(l)
				p.want(named{side: side, text: l.Name, along: at[0], down: at[1], label: l.Label})
			}
		}
	}
}

func (p *sheet) layer(side Side, l Layer) {
	points := l.Outline
	keep := 0.06 // m inside the keel's edge
	if l.Kind == Bulkhead {
		keep = 0
	} else {
		points = append(points[:len(points):len(points)], points[0])
	}
	line := p.laid(side, points, keep)
	if l.Kind == Bulkhead {
		p.path("behind bulkhead", append(line, p.onSkin(side, points[len(points)-1], keep)))
		return
	}
	class := "behind"
	if l.Kind == Tank {
		class = "behind tank"
	}
	p.area(class, line)
}

// laid draws a line over the skin in short steps along the hull, without its last point.
func (p *sheet) laid(side Side, points []Point, keep float64) (line Line) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := max(1, int(math.Ceil(math.Abs(b[0]-a[0])/0.15)))
		for j := range n {
			line = append(line, p.onSkin(side, lerp(a, b, float64(j)/float64(n)), keep))
		}
	}
	return line
}

func lerp(a, b Point, t float64) Point { return Point{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t} }

// onSkin keeps a point of an outline on the skin.
func (p *sheet) onSkin(side Side, q Point, keep float64) Point {
	x := min(p.h.LWL+p.h.Fore, max(-p.h.Aft, q[0]))
	top := -p.h.Sheer(x)
	return p.at(side, x, max(top, min(q[1], p.h.Girth(x)-keep)))
}

// anchor is where a layer's leader ends: a third along its edge nearest the waterline, two
// thirds along its lower edge where it lies near the keel, the upper end of a bulkhead.
func (p *sheet) anchor(l Layer) Point {
	lo, hi, top := l.Outline[0], l.Outline[0], l.Outline[0]
	for _, q := range l.Outline {
		lo = Point{min(lo[0], q[0]), min(lo[1], q[1])}
		hi = Point{max(hi[0], q[0]), max(hi[1], q[1])}
		if q[1] < top[1] {
			top = q
		}
	}
	if l.Kind == Bulkhead {
		return top
	}
	if g := p.h.Girth((lo[0] + hi[0]) / 2); g > 0 && (lo[1]+hi[1])/2 > keelward*g {
		x := lo[0] + (hi[0]-lo[0])*0.9
		return Point{x, min(hi[1], p.h.Girth(x)-0.06)}
	}
	return Point{lo[0] + (hi[0]-lo[0])/3, lo[1]}
}

// fittings go through the skin: a small circle with its cross.
func (p *sheet) fittings() {
	q := 4.0
	if p.o.Small {
		q = 2
	}
	for _, f := range p.o.Fittings {
		x, y := p.X(f.Along), p.Y(f.Side, f.Down)
		p.circle("fitting", x, y, q)
		p.path("fitting", Line{{x - q - 2, y}, {x + q + 2, y}}, Line{{x, y - q - 2}, {x, y + q + 2}})
		if f.Name != "" {
			p.want(named{side: f.Side, text: f.Name, along: f.Along, down: f.Down, label: f.Label})
		}
	}
}
