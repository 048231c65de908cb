package course

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// profile holds what is needed to vary the time constant while a and b follow by linear
// least squares (variable projection, Golub and Pereyra 1973), so that the search has
// one dimension and cannot lose its way.
type profile struct {
	shape    Shape
	t, y     []float64
	spread   float64 // of y, at least tiny
	best     line
	grid     []line  // by θ, over all that is searched; a single one for RootTime
	limit    float64 // sum of squares up to which a curve is not significantly worse
	lines    []line  // within the limit, close together, by θ; the last one is the best
	from, to float64 // outermost θ within the limit; 0 and ∞ where the search found no edge
	rounding float64
}

// line is the least-squares line y = a + b·x, x = g(t, θ), at one θ.
type line struct {
	theta, a, b, rss  float64
	meanX, sxx, meanY float64
	n                 float64
}

const (
	gridPoints     = 120
	acceptedPoints = 60
	// A θ of ten thousand times the time seen is a straight line to any reader; a bound
	// farther than a thousand times the spread of the values is none.
	farTheta = 1e4
	farValue = 1e3
)

func newProfile(t, y []float64, shape Shape) *profile {
	p := &profile{shape: shape, t: slices.Clone(t), y: slices.Clone(y)}
	lo, hi := slices.Min(y), slices.Max(y)
	p.spread = math.Max(hi-lo, 1e-12*math.Max(math.Abs(lo), math.Abs(hi)))
	p.rounding = 1e-24 * (lo*lo + hi*hi) * float64(len(y))
	if !shape.timed() {
		p.best = p.line(1)
		p.grid = []line{p.best}
		return p
	}
	from, to := p.searched()
	for i := range gridPoints {
		p.grid = append(p.grid, p.line(from*math.Pow(to/from, float64(i)/(gridPoints-1))))
	}
	p.best = p.refine(func(l line) float64 { return l.rss }, p.grid, 1e-9)
	return p
}

// searched gives the time constants that can be told apart: from a fraction of the
// shortest gap, below which the curve is a step, to farTheta times the longest time.
func (p *profile) searched() (from, to float64) {
	ts := slices.Sorted(slices.Values(p.t))
	gap := ts[len(ts)-1]
	if ts[0] > 0 {
		gap = ts[0]
	}
	for i := 1; i < len(ts); i++ {
		if d := ts[i] - ts[i-1]; d > 0 {
			gap = min(gap, d)
		}
	}
	longest := ts[len(ts)-1]
	gap = max(gap, 1e-9*longest)
	return gap / 12, farTheta * longest
}

func (p *profile) line(theta float64) line {
	l := line{theta: theta, n: float64(len(p.t))}
	var xs [64]float64
	x := xs[:0]
	for i, t := range p.t {
		v := p.shape.g(t, theta)
		x = append(x, v)
		l.meanX += v
		l.meanY += p.y[i]
	}
	l.meanX /= l.n
	l.meanY /= l.n
	sxy := 0.0
	for i, v := range x {
		d := v - l.meanX
		l.sxx += d * d
		sxy += d * (p.y[i] - l.meanY)
	}
	if l.sxx < 1e-26 { // the curve is level at every time
		l.sxx = 0
	} else {
		l.b = sxy / l.sxx
	}
	l.a = l.meanY - l.b*l.meanX
	for i, v := range x {
		r := p.y[i] - l.meanY - l.b*(v-l.meanX)
		l.rss += r * r
	}
	return l
}

// refine finds the θ where f is least, starting from the best of some lines,
// to a relative tolerance.
func (p *profile) refine(f func(line) float64, grid []line, tolerance float64) line {
	best := 0
	for i, l := range grid {
		if f(l) < f(grid[best]) {
			best = i
		}
	}
	if !p.shape.timed() {
		return grid[best]
	}
	lo, hi := math.Log(grid[max(0, best-1)].theta), math.Log(grid[min(len(grid)-1, best+1)].theta)
	at := golden(lo, hi, tolerance, func(u float64) float64 { return f(p.line(math.Exp(u))) })
	if l := p.line(math.Exp(at)); f(l) <= f(grid[best]) {
		return l
	}
	return grid[best]
}

// golden narrows a minimum down by the golden section.
func golden(lo, hi, tolerance float64, f func(float64) float64) float64 {
	const ratio = 0.6180339887498949
	c, d := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fc, fd := f(c), f(d)
	for range 60 {
		if hi-lo < tolerance {
			break
		}
		if fc < fd {
			hi, d, fd = d, c, fc
			c = hi - ratio*(hi-lo)
			fc = f(c)
		} else {
			lo, c, fc = c, d, fd
			d = lo + ratio*(hi-lo)
			fd = f(d)
		}
	}
	return (lo + hi) / 2
}

// with gives the profile with its limit at another level.
func (p *profile) with(d Drying, level float64) *profile {
	if d.Start.Level == level {
		return p
	}
	q := *p
	if estimated := math.Sqrt(d.RSS / float64(d.DF)); d.Sigma == estimated {
		q.accept(d.studentLimit(level))
	} else {
		z := distuv.UnitNormal.Quantile((1 + level) / 2)
		q.accept(d.RSS + z*z*d.Sigma*d.Sigma)
	}
	return &q
}

// accept sets the limit and gathers the lines within it.
func (p *profile) accept(limit float64) {
	p.limit = limit
	if !p.shape.timed() {
		p.lines = p.grid
		return
	}
	lo, hi := p.edges()
	p.lines = make([]line, 0, acceptedPoints+1)
	for i := range acceptedPoints {
		if l := p.line(lo * math.Pow(hi/lo, float64(i)/(acceptedPoints-1))); l.rss <= limit {
			p.lines = append(p.lines, l)
		}
	}
	p.lines = append(p.lines, p.best)
	p.from, p.to = lo, hi
	if lo == p.grid[0].theta {
		p.from = 0
	}
	if hi == p.grid[len(p.grid)-1].theta {
		p.to = math.Inf(1)
	}
}

// edges finds the outermost time constants within the limit.
func (p *profile) edges() (lo, hi float64) {
	in := func(theta float64) bool { return p.line(theta).rss <= p.limit }
	first, last := -1, -1
	for i, l := range p.grid {
		if l.rss <= p.limit {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 { // the limit is reached between two points of the grid
		at, _ := slices.BinarySearchFunc(p.grid, p.best.theta, func(l line, t float64) int {
			if l.theta < t {
				return -1
			}
			return 1
		})
		at = min(max(at, 1), len(p.grid)-1)
		return bisect(p.grid[at-1].theta, p.best.theta, in), bisect(p.grid[at].theta, p.best.theta, in)
	}
	lo, hi = p.grid[first].theta, p.grid[last].theta
	if first > 0 {
		lo = bisect(p.grid[first-1].theta, lo, in)
	}
	if last < len(p.grid)-1 {
		hi = bisect(p.grid[last+1].theta, hi, in)
	}
	return min(lo, p.best.theta), max(hi, p.best.theta)
}

// bisect finds where in turns true between out, where it is false, and inside.
func bisect(out, inside float64, in func(float64) bool) float64 {
	for range 50 {
		mid := math.Sqrt(out * inside)
		if math.Abs(inside/out-1) < 1e-9 {
			break
		}
		if in(mid) {
			inside = mid
		} else {
			out = mid
		}
	}
	return inside
}

// straight tells whether the best curve does not bend at all, so that it has no plateau.
func (p *profile) straight() bool {
	return p.shape.timed() && p.best.theta > 0.5*p.grid[len(p.grid)-1].theta
}

// half is half the width of the interval of a + b·x at one θ: what is left of the limit,
// times the variance factor of a line.
func (l line) half(x, limit float64) float64 {
	room := limit - l.rss
	if room <= 0 {
		return 0
	}
	if l.sxx == 0 {
		if x == l.meanX {
			return math.Sqrt(room / l.n)
		}
		return math.Inf(1)
	}
	d := x - l.meanX
	return math.Sqrt(room * (1/l.n + d*d/l.sxx))
}

// value profiles a + b·x(θ): at each θ the values within the limit form an interval, and
// the profile interval is all of them together.
func (p *profile) value(x func(theta float64) float64, level float64) measure.Estimate {
	lower := func(l line) float64 { v := x(l.theta); return l.a + l.b*v - l.half(v, p.limit) }
	upper := func(l line) float64 { v := x(l.theta); return -(l.a + l.b*v + l.half(v, p.limit)) }
	e := measure.Estimate{Value: p.best.a + p.best.b*x(p.best.theta), Level: level, N: len(p.t)}
	e.Lower, e.Upper = p.least(lower), -p.least(upper)
	e.Lower, e.Upper = min(e.Lower, e.Value), max(e.Upper, e.Value)
	if p.shape.timed() && math.IsInf(p.to, 1) {
		far := farValue * p.spread
		if e.Lower < p.best.meanY-far {
			e.Lower = math.Inf(-1)
		}
		if e.Upper > p.best.meanY+far {
			e.Upper = math.Inf(1)
		}
	}
	return e
}

// least is the least of f over the accepted lines, refined between them.
func (p *profile) least(f func(line) float64) float64 {
	v := math.Inf(1)
	for _, l := range p.lines {
		v = min(v, f(l))
	}
	if !p.shape.timed() || len(p.lines) < 3 || math.IsInf(v, 0) {
		return v
	}
	guarded := func(l line) float64 {
		if l.rss > p.limit {
			return math.Inf(1)
		}
		return f(l)
	}
	return min(v, f(p.refine(guarded, p.lines[:len(p.lines)-1], 1e-5)))
}

func (p *profile) at(t, level float64) measure.Estimate {
	return p.value(func(theta float64) float64 { return p.shape.g(t, theta) }, level)
}

func (p *profile) plateau(level float64) measure.Estimate {
	return p.value(func(float64) float64 { return 0 }, level)
}

// fall profiles b·(g(from) − g(to)).
func (p *profile) fall(from, to, level float64) measure.Estimate {
	step := func(l line) float64 { return p.shape.g(from, l.theta) - p.shape.g(to, l.theta) }
	half := func(l line) float64 {
		if l.sxx == 0 {
			return 0
		}
		return math.Sqrt(max(0, p.limit-l.rss)/l.sxx) * math.Abs(step(l))
	}
	e := measure.Estimate{Value: p.best.b * step(p.best), Level: level, N: len(p.t)}
	e.Lower = min(e.Value, p.least(func(l line) float64 { return l.b*step(l) - half(l) }))
	e.Upper = max(e.Value, -p.least(func(l line) float64 { return -l.b*step(l) - half(l) }))
	return e
}
