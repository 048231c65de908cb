package figure

import (
	"math"
	"strconv"
)

// cartouche fills the open water ahead of the keel with the title and the scale, as a
// chart has it.
func (p *sheet) cartouche() {
	if p.o.Small || p.o.Title == "" {
		return
	}
	size, under := min(34, p.w/29), min(17, p.w/54)
	left, right := p.openWater(0.9*size + 34)
	room := right - left
	if room < 60 {
		return
	}
	x := (left + right) / 2
	size = shrunk(p.o.Title, size, room)
	under = shrunk(p.o.Under, under, room)
	y := p.mid - 14
	p.text("title", p.o.Title, x, y, size, Middle)
	p.take(textBox(p.o.Title, x, y, size, Middle))
	if p.o.Under != "" {
		y += 7 + under
		p.text("under", p.o.Under, x, y, under, Middle)
		p.take(textBox(p.o.Under, x, y, under, Middle))
	}
	p.scale(x, y+20, room)
}

// shrunk gives the size at which a text is no longer than room, but never below 9 px.
func shrunk(text string, size, room float64) float64 {
	if w := width(text, size); w > room {
		return max(9, size*room/w)
	}
	return size
}

// openWater is the part of the middle, px, with half free above and below it, forward of
// the midship and of all that hangs.
func (p *sheet) openWater(half float64) (left, right float64) {
	right = p.w - p.edge - p.line - 12
	from := p.h.LWL / 2
	for _, part := range p.h.Hung {
		from = max(from, part.At[1], part.At[3])
	}
	left = p.X(from) + 8
	for i := len(p.h.Xs) - 1; i >= 0 && p.h.Xs[i] > from; i-- {
		if (p.h.Half-p.h.Girth(p.h.Xs[i]))*p.s < half {
			return p.X(p.h.Xs[i]) + 4, right
		}
	}
	return left, right
}

// scale draws a bar of 5, 2, 1 or half a metre around x, its line at y.
func (p *sheet) scale(x, y, room float64) {
	m := 0.5
	for _, k := range []float64{1, 2, 5} {
		if k*p.s < min(170, 0.8*room) {
			m = k
		}
	}
	x0, x1 := x-m*p.s/2, x+m*p.s/2
	p.rect("scale", x0, y-2, (x1-x0)/2, 4)
	p.path("rule", Line{{x0, y}, {x1, y}}, Line{{x0, y - 4}, {x0, y + 4}}, Line{{x, y - 4}, {x, y + 4}}, Line{{x1, y - 4}, {x1, y + 4}})
	for i, at := range []float64{x0, x, x1} {
		w := metres(m * float64(i) / 2)
		if i == 2 {
			w += " m"
		}
		p.text("grad", w, at, y+17, gradSize, Middle)
	}
	p.take(box{x0 - 8, y - 6, x1 + 12, y + 21})
}

func metres(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
