package figure

import (
	"cmp"
	"math"
	"unicode/utf8"
)

// readings draws one mark a place.
func (p *sheet) readings() {
	for _, q := range p.o.Readings {
		p.place = q.ID
		p.reading(q)
	}
	p.place = ""
}

func (p *sheet) reading(q Reading) {
	x, y := p.X(q.Along), p.Y(q.Side, q.Down)
	switch {
	case p.o.Mode == Map:
		p.circle("dot", x, y, 1.6)
	case p.o.Mode == Change:
		if !q.Dry {
			p.change(x, y, q)
		}
	case q.Gap != NoGap:
		p.gap(x, y, q.Gap)
	default:
		p.value(x, y, q)
		if q.Follow {
			r := p.r
			p.area("follow", Line{{x + 0.7*r, y - 0.7*r}, {x + 1.6*r, y - 0.8*r}, {x + 1.15*r, y}})
		}
	}
}

// gap draws why a place has no figure: hatched where nobody could read, a cross where the
// reading was thrown out, an empty dashed ring where it is still to come.
func (p *sheet) gap(x, y float64, g Gap) {
	r := p.r
	switch g {
	case Void:
		d := 0.6 * r
		p.path("void", Line{{x - d, y - d}, {x + d, y + d}}, Line{{x - d, y + d}, {x + d, y - d}})
	case Due:
		p.circle("due", x, y, r-1)
	default:
		w, h := min(0.22*p.s, 1.8*r), min(0.13*p.s, 1.1*r)
		p.add(Mark{Kind: Rect, Class: "unread", X: x - w, Y: y - h, W: 2 * w, H: 2 * h, Fill: Unread})
	}
}

// value draws a reading: bare figure, ring, collar, disc, disc in a ring. Shape, weight
// and colour each say the step.
func (p *sheet) value(x, y float64, q Reading) {
	if !p.figures() {
		p.smallStep(x, y, q.Step)
		return
	}
	p.step(x, y, q.Step)
	class := "fig"
	if q.Step > 2 {
		class = "fig rev"
	}
	p.figure(class, q.Value, x, y+0.4*p.r)
}

func (p *sheet) step(x, y float64, step int) {
	r := p.r
	switch step {
	case 0:
		p.rect("v0", x-0.45*r, y+0.62*r, 0.9*r, 1.6)
	case 1:
		p.circle("ring", x, y, r-1.2)
		p.circle("collar v1", x, y, r-2.5)
	case 2:
		p.circle("ring", x, y, r-0.4)
		p.circle("collar v2", x, y, r-2.3)
	case 3:
		p.circle("disc v3", x, y, r-0.4)
	case 4:
		p.circle("halo", x, y, r+0.8)
		p.circle("disc v4", x, y, r-1.2)
	}
}

func (p *sheet) smallStep(x, y float64, step int) {
	r := p.r
	switch step {
	case 1:
		p.circle("ring", x, y, r-1.3)
	case 2:
		p.circle("disc v2", x, y, r-0.7)
	case 3:
		p.circle("disc v3", x, y, r-0.4)
	case 4:
		p.circle("halo", x, y, r+0.8)
		p.circle("disc v4", x, y, r-1.2)
	default:
		p.circle("dot", x, y, 1.3)
	}
}

// figure writes a value; more than two characters are set smaller to stay within the mark.
func (p *sheet) figure(class, text string, x, y float64) {
	if text == "" {
		return
	}
	size := min(19, max(9.5, 1.3*p.r))
	if n := utf8.RuneCountInString(text); n > 2 {
		size *= max(0.55, 2.5/float64(n))
	}
	p.text(class, text, x, y, size, Middle)
}

// change draws what may be said: a house pointing up or down, the amount ruled off twice
// as a settled sum, or a dotted circle.
func (p *sheet) change(x, y float64, q Reading) {
	r, said := p.r, q.Said
	if p.o.Small {
		r *= 0.85
	}
	switch {
	case q.Gap == NotRead || q.Gap == Void || said != Up && said != Down && said != None:
		p.circle("untold", x, y, r-1)
		p.changeText("fig", cmp.Or(q.By, "?"), x, y, r) // an amount here is a difference without a verdict
	case said == None:
		p.changeText("fig quiet", q.By, x, y, r)
		w, dy := 5.0, 0.68*r
		if !p.figures() {
			w, dy = 2.6, -1.4
		}
		p.path("same", Line{{x - w, y + dy}, {x + w, y + dy}}, Line{{x - w, y + dy + 2.6}, {x + w, y + dy + 2.6}})
	default:
		p.area("changed", house(x, y, r, said == Up))
		p.changeText("fig inked", q.By, x, y, r)
	}
}

func (p *sheet) changeText(class, text string, x, y, r float64) {
	if p.figures() {
		p.figure(class, text, x, y+0.42*r)
	}
}

func house(x, y, r float64, up bool) Line {
	w, k := 1.15*r, 1.0
	if !up {
		k = -1
	}
	return Line{{x - w, y + k*0.75*r}, {x - w, y - k*0.35*r}, {x, y - k*1.25*r}, {x + w, y - k*0.35*r}, {x + w, y + k*0.75*r}}
}

// bearings fix the chosen place by two lines to the graduated frame; its mirror twin is
// dashed.
func (p *sheet) bearings() {
	for _, q := range p.o.Readings {
		if q.ID == p.o.Chosen && q.ID != "" {
			p.bearing(q)
			return
		}
	}
}

func (p *sheet) bearing(q Reading) {
	x, y, e := p.X(q.Along), p.Y(q.Side, q.Down), p.edge+p.line
	r := p.r + 4
	if p.o.Small {
		r = p.r + 3
	}
	p.path("bearing", Line{{e, y}, {x - r, y}}, Line{{x + r, y}, {p.w - e, y}}, Line{{x, e}, {x, y - r}})
	p.circle("choice", x, y, r)
	if q.Side != Centre {
		p.circle("choice mirror", x, p.hgt-y, r)
	}
}

// above counts the marks that a pin lies under, so that those of one spot are read one by
// one: findings keep the spot in their order, photos follow. Windows are to scale and stay.
func (p *sheet) above(k int, d float64) (n int) {
	q := p.o.Pins[k]
	for j, other := range p.o.Pins {
		first := other.Kind == q.Kind && j < k || other.Kind == Finding && q.Kind == Photo
		if q.Kind != Window && first && math.Abs(p.X(other.Along)-p.X(q.Along)) < 2*d && math.Abs(p.Y(other.Side, other.Down)-p.Y(q.Side, q.Down)) < 2*d {
			n++
		}
	}
	return n
}

// pins mark findings, windows and photographs; outlines lie below them.
func (p *sheet) pins() {
	for _, q := range p.o.Pins {
		if len(q.Outline) > 2 {
			p.place = q.ID
			closed := append(q.Outline[:len(q.Outline):len(q.Outline)], q.Outline[0])
			p.area("pin outline", p.laid(q.Side, closed, 0))
		}
	}
	d := 6.0
	if p.o.Small {
		d = 3
	}
	for k, q := range p.o.Pins {
		x, y := p.X(q.Along), p.Y(q.Side, q.Down)+2.2*d*float64(p.above(k, d))
		p.place = q.ID
		switch q.Kind {
		case Window:
			w := max(3, 0.1*p.s)
			p.rect("pin window", x-w/2, y-w/2, w, w)
		case Photo:
			p.area("pin photo", Line{{x, y - d}, {x + d, y + d*0.8}, {x - d, y + d*0.8}})
		default:
			p.area("pin", Line{{x, y - d}, {x + d, y}, {x, y + d}, {x - d, y}})
		}
		if q.Word != "" && !p.o.Small {
			p.text("note word", q.Word, x+d+3, y+4, math.Max(11, p.r), Start)
		}
	}
	p.place = ""
}
