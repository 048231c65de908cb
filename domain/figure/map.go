package figure

import (
	"math"
	"strconv"
)

// The map is ruled as an engraver lays a tint: closer where higher, and hatched where the
// nearest place was not read or none is near. Lengths in metres.
const (
	ruling  = 0.04 // between two rulings
	band    = ruling / 2
	stride  = 0.05 // along the hull; where the step changes it is found more closely
	reach   = 0.45 // from the nearest place, unless the options say otherwise
	soften  = 0.02 // m², keeps one place from outweighing all at its own spot
	unknown = 5
	off     = -1 // clear of the skin
)

func (p *sheet) contours() {
	for _, side := range sides {
		p.mapSide(side)
		p.path("waterline", p.wet(side, nought))
		p.outline(side)
	}
}

func (p *sheet) mapSide(side Side) {
	var fills, rules [unknown + 1][]Line
	f, columns := p.field(side), p.columns()
	for j := 0; float64(j)*band < p.h.Half; j++ {
		d := (float64(j) + 0.5) * band
		for _, run := range p.runs(f, columns, d) {
			n, y0, y1 := run.step, p.Y(side, d-band/2), p.Y(side, d+band/2)
			x0, x1 := p.X(run.from), p.X(run.to)
			fills[n] = append(fills[n], Line{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}})
			if ruled(n, j) {
				rules[n] = append(rules[n], Line{{x0, y1}, {x1, y1}})
			}
		}
	}
	for n, lines := range fills {
		if len(lines) == 0 {
			continue
		}
		m := Mark{Kind: Path, Class: "fill f" + strconv.Itoa(n), Lines: lines, Closed: true}
		if n == unknown {
			m.Fill = Unread
		}
		p.add(m)
	}
	for n, lines := range rules {
		if len(lines) > 0 {
			p.path("tint t"+strconv.Itoa(n), lines...)
		}
	}
}

// ruled tells whether a step has a line at the foot of band j.
func ruled(step, j int) bool {
	switch step {
	case 1:
		return j%8 == 1
	case 2:
		return j%4 == 1
	case 3, 4:
		return j%2 == 1
	}
	return false
}

type run struct {
	from, to float64
	step     int
}

// columns are where a ruling is tried, and the girth there.
func (p *sheet) columns() (list []Point) {
	from, to := p.h.wetFrom, p.h.wetTo
	n := int(math.Ceil((to - from) / stride))
	for i := range n + 1 {
		x := min(to, from+float64(i)*stride)
		list = append(list, Point{x, p.h.Girth(x)})
	}
	return list
}

// runs cuts the line at depth d into stretches of one step.
func (p *sheet) runs(f field, columns []Point, d float64) []run {
	step := func(x, girth float64) int {
		if d >= girth {
			return off
		}
		return f.step(x, d)
	}
	var list []run
	last, since := off, 0.0
	for i, c := range columns {
		n := step(c[0], c[1])
		if n == last {
			continue
		}
		edge := c[0]
		if i > 0 {
			edge = change(func(x float64) int { return step(x, p.h.Girth(x)) }, columns[i-1][0], c[0], last)
		}
		if last != off {
			list = append(list, run{since, edge, last})
		}
		last, since = n, edge
	}
	if last != off {
		list = append(list, run{since, p.h.wetTo, last})
	}
	return list
}

// change finds where f leaves the value it has at a, before b, to 3 mm.
func change(f func(float64) int, a, b float64, was int) float64 {
	for range 4 {
		if m := (a + b) / 2; f(m) == was {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// field holds the contrasts of one side between its places.
type field struct {
	side    Side
	near    []Reading
	edges   [4]float64
	reach   float64
	girth   func(x float64) float64
	surface *Surface
}

func (p *sheet) field(side Side) field {
	f := field{side: side, edges: p.o.Edges, reach: reach, girth: p.h.Girth, surface: p.o.Surface}
	if p.o.Reach > 0 {
		f.reach = p.o.Reach
	}
	for _, q := range p.o.Readings {
		if q.Side == side && !q.Dry {
			f.near = append(f.near, q)
		}
	}
	return f
}

// step at a spot, or unknown: about a place that was not read, and where the surface
// does not know.
func (f field) step(x, d float64) int {
	near := f.nearest(x, d)
	if near == nil && f.surface == nil || near != nil && !near.had() {
		return unknown
	}
	above, known := f.above(x, d)
	if !known {
		return unknown
	}
	return StepOf(above, f.edges)
}

// nearest place within reach, or nil.
func (f field) nearest(x, d float64) *Reading {
	least := sq(f.reach)
	var found *Reading
	for i := range f.near {
		q := &f.near[i]
		if r2 := sq(q.Along-x) + sq(q.Down-d); r2 < least {
			least, found = r2, q
		}
	}
	return found
}

func (q *Reading) had() bool { return q.Gap == NoGap && q.Step != NoStep }

// above comes from the surface where there is one, else from the mean of all contrasts
// weighed by 1/(distance² + soften)².
func (f field) above(x, d float64) (contrast float64, known bool) {
	if f.surface != nil {
		out := max(0, f.girth(x)-d)
		if f.side == Port {
			out = -out
		}
		return f.surface.at(x, out)
	}
	var sum, weight float64
	for i := range f.near {
		if q := &f.near[i]; q.had() {
			w := 1 / sq(sq(q.Along-x)+sq(q.Down-d)+soften)
			sum += w * q.Above
			weight += w
		}
	}
	return sum / weight, true
}

// at gives the surface between the four cells about a spot; not known beyond the lattice
// and where its doubt is too great.
func (s *Surface) at(x, y float64) (above float64, known bool) {
	u, v := (x-s.Along)/s.Step, (y-s.Across)/s.Step
	if s.Cols < 2 || s.Rows < 2 || min(len(s.Above), len(s.Doubt)) < s.Cols*s.Rows {
		return 0, false
	}
	if !(u >= 0 && u <= float64(s.Cols-1) && v >= 0 && v <= float64(s.Rows-1)) {
		return 0, false
	}
	i, j := min(int(u), s.Cols-2), min(int(v), s.Rows-2)
	a, b, k := u-float64(i), v-float64(j), j*s.Cols+i
	mix := func(z []float64) float64 {
		return (1-b)*((1-a)*z[k]+a*z[k+1]) + b*((1-a)*z[k+s.Cols]+a*z[k+s.Cols+1])
	}
	return mix(s.Above), mix(s.Doubt) < s.HatchFrom
}
