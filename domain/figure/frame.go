package figure

import (
	"math"
	"strconv"
	"strings"
)

// The neat line, graduated from the aft perpendicular in half metres: those bars are the
// scale. Stations stand above, whole metres below, rows and their depths at the sides.
func (p *sheet) frame() {
	e, l, out := p.edge, p.line, 3.0
	if p.o.Small {
		out = 2
	}
	p.rect("outer", e-out, e-out, p.w-2*(e-out), p.hgt-2*(e-out))
	p.rect("inner paper", e, e, p.w-2*e, p.hgt-2*e)
	p.rect("inner", e+l, e+l, p.w-2*(e+l), p.hgt-2*(e+l))
	p.bars()
	if p.o.Small {
		return
	}
	p.stationWords()
	p.metreWords()
	for _, side := range sides {
		p.rowWords(side)
	}
}

func (p *sheet) bars() {
	e, l := p.edge, p.line
	last := int(math.Ceil(2*p.h.Length())) + 1
	for k := -int(math.Ceil(2*p.h.Aft)) - 2; k <= last; k++ {
		a, b := max(e+l, p.X(float64(k)/2)), min(p.w-e-l, p.X(float64(k+1)/2))
		if k%2 != 0 || b <= a {
			continue
		}
		p.rect("bar", a, e+2, b-a, l-4)
		p.rect("bar", a, p.hgt-e-l+2, b-a, l-4)
	}
}

// halfMetres is how many half metres there are forward of the aft perpendicular.
func (p *sheet) halfMetres() int { return int(math.Floor(2 * (p.h.LWL + p.h.Fore))) }

func (p *sheet) stations() []Tick {
	if len(p.o.Stations) > 0 {
		return p.o.Stations
	}
	list := make([]Tick, p.halfMetres()+1)
	for k := range list {
		list[k].At = float64(k) / 2
	}
	return list
}

// word of the i-th tick of a list; the first says what is counted.
func (t Tick) word(i int, what string) string {
	w := t.Word
	if w == "" {
		w = strconv.Itoa(i)
	}
	if i == 0 && !strings.HasPrefix(w, what) {
		return what + " " + w
	}
	return w
}

// gradSize is the height of the graduation's figures, px.
const gradSize = 12

func (p *sheet) stationWords() {
	free := math.Inf(-1)
	for i, t := range p.stations() {
		w, x := t.word(i, "station"), p.X(t.At)
		half := width(w, gradSize) / 2
		if x-half < free {
			continue
		}
		p.text("grad", w, x, p.edge-6, gradSize, Middle)
		free = x + half + 2
	}
}

func (p *sheet) metreWords() {
	every := 1
	for float64(every)*p.s < 24 {
		every *= 2
	}
	for m := 0; 2*m <= p.halfMetres(); m += every {
		w := strconv.Itoa(m)
		if m == 0 {
			w = "0 metres"
		}
		p.text("grad", w, p.X(float64(m)), p.hgt-p.edge+14, gradSize, Middle)
	}
}

func (p *sheet) rowWords(side Side) {
	e, l, last := p.edge, p.line, math.Inf(-1)
	for i, t := range p.o.Rows {
		y := p.Y(side, t.At)
		p.path("tick", Line{{e, y}, {e + l, y}}, Line{{p.w - e - l, y}, {p.w - e, y}})
		if math.Abs(y-last) < gradSize-1 {
			continue
		}
		last = y
		depth := strconv.FormatFloat(math.Abs(t.At), 'f', 2, 64)
		if i == 0 {
			depth += " m"
		}
		p.text("grad", t.word(i, "row"), e-6, y+3.5, gradSize, End)
		p.text("grad", depth, p.w-e+5, y+3.5, gradSize, Start)
	}
}
