package course

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
)

// Band is a forecast: when a curve reaches a target. Times are days on the scale of the
// fit; a latest of infinity means that the values do not exclude that it never does. A
// forecast is never a single date.
type Band struct {
	Earliest, Likely, Latest float64
	Level                    float64
	N                        int
	Shapes                   []Shape // all that the values cannot tell from the best one
	Notes                    []measure.Note
	Assumes                  []string
}

// Reach gives the band of times at which this curve stands at a target.
//
// It is a profile interval: all times at which a curve within the limit passes the
// target, each time constant contributing Fieller's solution for a straight line in g
// (Draper and Smith, Applied Regression Analysis, 3rd ed., §3.2).
//
// Errors: a target or level that cannot be used.
func (d Drying) Reach(target, level float64) (Band, error) {
	if err := sized("target", []float64{target}); err != nil {
		return Band{}, err
	}
	if err := measure.Level(level); err != nil {
		return Band{}, err
	}
	p := d.prof.with(d, level)
	b := Band{Level: level, N: d.N, Shapes: []Shape{d.Shape}, Assumes: d.Assumes}
	b.Likely = p.crossing(p.best, target)
	b.Earliest = min(b.Likely, p.least(func(l line) float64 { lo, _ := p.reach(l, target); return lo }))
	b.Latest = max(b.Likely, -p.least(func(l line) float64 { _, hi := p.reach(l, target); return -hi }))
	b.remark()
	return b, nil
}

func (b *Band) remark() {
	switch {
	case math.IsInf(b.Earliest, 1):
		b.Notes = append(b.Notes, measure.Note{Code: "not-reached", Text: "On this course the target is not reached: it levels out short of it."})
	case math.IsInf(b.Latest, 1):
		b.Notes = append(b.Notes, measure.Note{Code: "open-ended", Text: "The values do not exclude that the target is never reached on this course."})
	}
}

// crossing is when one curve stands at the target.
func (p *profile) crossing(l line, target float64) float64 {
	if l.b == 0 {
		if l.a == target {
			return 0
		}
		return math.Inf(1)
	}
	x := (target - l.a) / l.b
	if !p.shape.timed() && x < 0 { // √t never gets there going forward
		if l.b < 0 {
			return 0 // it started below
		}
		return math.Inf(1)
	}
	return p.shape.when(x, l.theta)
}

// reach gives the earliest and latest time at which the target lies within the interval
// of the curve at one θ; (+∞, −∞) when at none. With u = x − x̄ the condition is
//
//	(ȳ − target + b·u)² ≤ room·(1/n + u²/Sxx)
//
// a quadratic in u, so that the edges lie at its roots or at the ends of x.
func (p *profile) reach(l line, target float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	room := p.limit - l.rss
	if room < 0 || l.sxx == 0 {
		return lo, hi
	}
	a := l.meanY - target
	qa, qb, qc := l.b*l.b-room/l.sxx, 2*a*l.b, a*a-room/l.n
	take := func(t float64) { lo, hi = min(lo, t), max(hi, t) }
	inside := func(x float64) bool { u := x - l.meanX; return (qa*u+qb)*u+qc <= 0 }
	if p.shape.timed() {
		if inside(1) {
			take(0)
		}
		if inside(0) {
			take(math.Inf(1))
		}
	} else {
		if inside(0) {
			take(0)
		}
		if qa < 0 || qa == 0 && qb <= 0 {
			take(math.Inf(1))
		}
	}
	for _, u := range roots(qa, qb, qc) {
		x := u + l.meanX
		if x > 0 && (x < 1 || !p.shape.timed()) {
			take(p.shape.when(x, l.theta))
		}
	}
	return lo, hi
}

// roots of a·u² + b·u + c, without cancellation.
func roots(a, b, c float64) []float64 {
	if a == 0 {
		if b == 0 {
			return nil
		}
		return []float64{-c / b}
	}
	d := b*b - 4*a*c
	if d < 0 {
		return nil
	}
	q := -(b + math.Copysign(math.Sqrt(d), b)) / 2
	if q == 0 {
		return []float64{0}
	}
	return []float64{q / a, c / q}
}

// Forecast fits every shape that the values can carry and joins the bands of those that
// they cannot tell from the best: what happens after the last visit depends on the
// shape, and a forecast that hid this would be too narrow.
//
//	t, y    as for FitDrying
//	target  the value asked for, in the units of y
//
// Errors: as for FitDrying.
func Forecast(t, y []float64, target, noise, level float64) (Band, error) {
	fits, err := shapesFor(t, y, noise, level)
	if err != nil {
		return Band{}, err
	}
	var out Band
	for i, d := range fits {
		b, err := d.Reach(target, level)
		if err != nil {
			return Band{}, err
		}
		if i == 0 {
			out = b
			continue
		}
		out.Earliest, out.Latest = min(out.Earliest, b.Earliest), max(out.Latest, b.Latest)
		out.Shapes = append(out.Shapes, d.Shape)
	}
	out.Notes = nil
	out.remark()
	last := maxOf(t)
	if out.Latest > 3*last && !math.IsInf(out.Latest, 1) {
		out.Notes = append(out.Notes, measure.Note{Code: "far-ahead", Text: fmt.Sprintf("The band reaches beyond three times the %.3g days seen: read on and ask again.", last)})
	}
	return out, nil
}

// shapesFor fits what the number of values allows, best first, and keeps the shapes whose
// sum of squares lies within the best one's limit.
func shapesFor(t, y []float64, noise, level float64) ([]Drying, error) {
	var fits []Drying
	var refused error
	best := -1
	for _, s := range []Shape{Slab, Exponential, RootTime} {
		d, err := FitDrying(t, y, s, noise, level)
		if err != nil {
			refused = err
			continue
		}
		fits = append(fits, d)
		if best < 0 || d.RSS < fits[best].RSS {
			best = len(fits) - 1
		}
	}
	if best < 0 {
		return nil, refused
	}
	fits[0], fits[best] = fits[best], fits[0]
	kept := fits[:1]
	for _, d := range fits[1:] {
		if d.RSS <= fits[0].prof.limit {
			kept = append(kept, d)
		}
	}
	return kept, nil
}

func maxOf(xs []float64) float64 {
	m := xs[0]
	for _, x := range xs {
		m = max(m, x)
	}
	return m
}

func minOf(xs []float64) float64 {
	m := xs[0]
	for _, x := range xs {
		m = min(m, x)
	}
	return m
}
