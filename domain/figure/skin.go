package figure

import "strconv"

// Lines along the skin, m from the waterline and from the sheer, and the water-lining
// along the keel, m from its edge.
const (
	bootTop = 0.07
	rail    = 0.11
)

var lining = [4]float64{0.02, 0.045, 0.075, 0.11}

// skin draws one side: topsides as land, underbody as water, deeper towards the keel.
func (p *sheet) skin(side Side) {
	h := p.h
	from, to := -h.Aft, h.LWL+h.Fore
	sheer := func(x float64) float64 { return -h.Sheer(x) }
	dry := func(x float64) float64 { return min(0, h.Girth(x)) }
	p.area("topsides", between(p.curve(side, from, to, sheer), p.curve(side, from, to, dry)))
	p.area("underbody", between(p.wet(side, nought), p.wet(side, h.Girth)))
	p.area("deep", between(p.wet(side, func(x float64) float64 { return 0.55 * h.Girth(x) }), p.wet(side, h.Girth)))
	if !p.o.Small {
		p.fairing(side)
	}
	if h.Chine != nil {
		p.path("corner", p.curve(side, 0, h.LWL, func(x float64) float64 { d, _ := h.Corner(x); return d }))
	}
	p.stationLines(side)
	if !p.o.Small {
		p.lining(side)
	}
	p.path("waterline", p.wet(side, nought))
	p.offset(side, "boottop", func(float64) float64 { return -bootTop })
	p.offset(side, "boottop", func(x float64) float64 { return rail - h.Sheer(x) })
	p.outline(side)
}

func (p *sheet) outline(side Side) {
	h := p.h
	from, to := -h.Aft, h.LWL+h.Fore
	p.area("outline", between(p.curve(side, from, to, func(x float64) float64 { return -h.Sheer(x) }), p.curve(side, from, to, h.Girth)))
}

// wet draws f over the part of the length that is in the water.
func (p *sheet) wet(side Side, f func(float64) float64) Line {
	return p.curve(side, p.h.wetFrom, p.h.wetTo, f)
}

func (p *sheet) fairing(side Side) {
	h := p.h
	for k := 1; k < 10; k++ {
		line := func(x float64) float64 { return float64(k) / 10 * h.Girth(x) }
		if h.Keel == nil {
			p.path("fair", p.wet(side, line))
			continue
		}
		// A sternpost stands upright: the lines stop at it and begin anew.
		p.path("fair", p.curve(side, h.wetFrom, h.Keel.Heel-heelStep, line), p.curve(side, h.Keel.Heel, h.wetTo, line))
	}
}

func (p *sheet) stationLines(side Side) {
	var whole, half []Line
	for k := range p.halfMetres() + 1 {
		x := float64(k) / 2
		l := Line{p.at(side, x, -p.h.Sheer(x)), p.at(side, x, p.h.Girth(x))}
		if k%2 == 0 {
			whole = append(whole, l)
		} else {
			half = append(half, l)
		}
	}
	p.path("station whole", whole...)
	p.path("station", half...)
}

func (p *sheet) lining(side Side) {
	const least = 0.25 // m of girth below which there is no room for it
	h := p.h
	from := crossing(func(x float64) float64 { return h.Girth(x) - least }, h.LWL/2, h.wetFrom)
	to := crossing(func(x float64) float64 { return h.Girth(x) - least }, h.LWL/2, h.wetTo)
	for i, d := range lining {
		if l := p.curve(side, from, to, func(x float64) float64 { return h.Girth(x) - d }); len(l) > 0 {
			p.path("lining l"+strconv.Itoa(i), l)
		}
	}
}

// offset draws a line down the topsides as far as the skin carries it at both ends.
func (p *sheet) offset(side Side, class string, f func(float64) float64) {
	h := p.h
	inside := func(x float64) float64 { return h.Girth(x) - f(x) }
	from, to := crossing(inside, h.LWL/2, -h.Aft), crossing(inside, h.LWL/2, h.LWL+h.Fore)
	if l := p.curve(side, from, to, f); len(l) > 0 {
		p.path(class, l)
	}
}
