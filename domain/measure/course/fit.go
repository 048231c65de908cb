package course

import (
	"errors"
	"math"

	"boottop.example/practice/domain/measure"
)

// Curve is a family of curves with Parameters parameters.
//
//	At     the value at t
//	Slope  its derivatives by each parameter, written to grad
type Curve struct {
	Parameters int
	At         func(p []float64, t float64) float64
	Slope      func(p []float64, t float64, grad []float64)
}

// Fitted is a least-squares fit.
type Fitted struct {
	P           []float64   // parameters
	SE          []float64   // standard errors, from the linearised curve
	Covariance  [][]float64 // of the parameters
	RSS         float64     // residual sum of squares
	Sigma       float64     // residual standard deviation, √(RSS/DF)
	DF          int         // values less parameters
	Evaluations int
}

// ErrNoFit says that no curve of the family could be fitted from that start.
var ErrNoFit = errors.New("no least-squares fit was reached from this start: begin nearer to the data, or with another curve")

const mostEvaluations = 3000 // of one way down

// Fit finds the parameters that minimise the sum of squared residuals.
//
//	t, y   n values, n > c.Parameters
//	start  where to begin
//
// Levenberg-Marquardt as in Moré 1978 (Lecture Notes in Mathematics 630): steps within a
// region of trust scaled by column norms, solved by orthogonal reduction
// so that nothing is squared. The damping follows the ratio of actual to foreseen
// decrease (Nielsen 1999, IMM-REP-1999-05, eq. 2.4, from memory). The result has to be a
// point where the residuals stand at right angles to the curve's directions.
//
// Errors: ErrNoFit; lengths, counts or values that cannot be used.
func Fit(c Curve, t, y, start []float64) (Fitted, error) {
	if c.At == nil || c.Slope == nil || c.Parameters < 1 {
		return Fitted{}, &measure.ArgumentError{Argument: "c", Why: "must have parameters, values and slopes"}
	}
	if err := series(t, y, c.Parameters+1); err != nil {
		return Fitted{}, err
	}
	if len(start) != c.Parameters {
		return Fitted{}, &measure.ArgumentError{Argument: "start", Why: "must have one value for each parameter"}
	}
	if err := measure.Finite("start", start...); err != nil {
		return Fitted{}, err
	}
	f := newFitter(c, t, y)
	// A scale that only grows keeps long first steps from ending in a desert where the
	// curve is flat (NIST's BoxBOD and MGH17, first start); one that follows the slopes
	// gets along a curved valley (MGH10, first start).
	for _, way := range []struct {
		held bool
		mu   float64
	}{{true, 1e-3}, {false, 1e-10}, {false, 1e-3}, {true, 1e3}, {false, 1e3}} {
		f.held = way.held
		if f.run(start, way.mu) {
			return f.fitted(), nil
		}
	}
	return Fitted{}, ErrNoFit
}

type fitter struct {
	c           Curve
	t, y        []float64
	p, trial    []float64
	r, rTrial   []float64 // residuals y − curve
	jac         []float64 // n × parameters
	scale       []float64
	q           *lsq
	rss         float64
	held        bool // the scale only grows
	evaluations int
}

func newFitter(c Curve, t, y []float64) *fitter {
	n, k := len(t), c.Parameters
	return &fitter{
		c: c, t: t, y: y, p: make([]float64, k), trial: make([]float64, k),
		r: make([]float64, n), rTrial: make([]float64, n), jac: make([]float64, n*k),
		scale: make([]float64, k), q: newLSQ(n+k, k),
	}
}

// residuals fills r for p and gives their sum of squares, infinite where a value is not
// finite.
func (f *fitter) residuals(p, r []float64) float64 {
	f.evaluations++
	s := 0.0
	for i, t := range f.t {
		r[i] = f.y[i] - f.c.At(p, t)
		s += r[i] * r[i]
	}
	if math.IsNaN(s) {
		return math.Inf(1)
	}
	return s
}

// slopes fills the Jacobian and takes the scale from its columns; false where it is
// not finite.
func (f *fitter) slopes() bool {
	k := f.c.Parameters
	for i, t := range f.t {
		f.c.Slope(f.p, t, f.jac[i*k:(i+1)*k])
	}
	for j := range k {
		s := 0.0
		for i := range f.t {
			s = math.Hypot(s, f.jac[i*k+j])
		}
		if math.IsNaN(s) || math.IsInf(s, 0) {
			return false
		}
		if !f.held || s > f.scale[j] {
			f.scale[j] = s
		}
	}
	return true
}

// run goes downhill from start with first damping mu and tells whether it arrived.
func (f *fitter) run(start []float64, mu float64) bool {
	copy(f.p, start)
	clear(f.scale)
	f.rss = f.residuals(f.p, f.r)
	if math.IsInf(f.rss, 0) || !f.slopes() {
		return false
	}
	grow := 2.0
	for limit := f.evaluations + mostEvaluations; f.evaluations < limit; {
		if !f.step(mu) {
			return false
		}
		foreseen := f.foreseen(mu)
		rss := f.residuals(f.trial, f.rTrial)
		if f.small() {
			return f.arrived()
		}
		gain := (f.rss - rss) / foreseen
		if !(gain > 1e-4) || math.IsInf(rss, 0) {
			mu *= grow
			grow *= 2
			if mu > 1e30 {
				return f.arrived()
			}
			continue
		}
		f.p, f.trial = f.trial, f.p
		f.r, f.rTrial = f.rTrial, f.r
		f.rss = rss
		if !f.slopes() {
			return false
		}
		mu *= math.Max(1.0/3, 1-math.Pow(2*gain-1, 3))
		grow = 2
	}
	return false
}

// step solves for the damped step and puts p + step into trial.
func (f *fitter) step(mu float64) bool {
	n, k := len(f.t), f.c.Parameters
	copy(f.q.a, f.jac)
	copy(f.q.b, f.r)
	clear(f.q.a[n*k:])
	clear(f.q.b[n:])
	for j := range k {
		d := f.scale[j]
		if d == 0 {
			d = 1
		}
		f.q.a[(n+j)*k+j] = math.Sqrt(mu) * d
	}
	if !f.q.solve() {
		return false
	}
	for j := range k {
		f.trial[j] = f.p[j] + f.q.x[j]
	}
	return true
}

// foreseen is the decrease of the sum of squares that the linearised curve promises,
// plus the damping's share: ‖r‖² − ‖r − J·s‖² for the augmented system.
func (f *fitter) foreseen(mu float64) float64 {
	k := f.c.Parameters
	s := 0.0
	for i := range f.t {
		lin := 0.0
		for j := range k {
			lin += f.jac[i*k+j] * f.q.x[j]
		}
		s += lin * lin
	}
	for j := range k {
		d := f.scale[j] * f.q.x[j]
		s += 2 * mu * d * d
	}
	return math.Max(s, 1e-300)
}

// small tells whether the step no longer moves the parameters.
func (f *fitter) small() bool {
	for j, x := range f.q.x {
		if math.Abs(x) > 1e-12*(math.Abs(f.p[j])+1e-12) {
			return false
		}
	}
	return true
}

// arrived tells whether the residuals stand at right angles to every direction of the
// curve, and those directions differ.
func (f *fitter) arrived() bool {
	k := f.c.Parameters
	norm := math.Sqrt(f.rss)
	for j := range k {
		dot, col := 0.0, 0.0
		for i := range f.t {
			dot += f.jac[i*k+j] * f.r[i]
			col = math.Hypot(col, f.jac[i*k+j])
		}
		if col == 0 {
			return false
		}
		if math.Abs(dot) > 1e-5*col*norm && !f.exact() {
			return false
		}
	}
	return f.undamped()
}

// exact tells whether the curve passes through every value to working precision, so that
// the residuals are rounding and have no direction.
func (f *fitter) exact() bool {
	s := 0.0
	for _, y := range f.y {
		s += y * y
	}
	return f.rss <= 1e-26*s
}

// undamped factors the Jacobian alone, for the covariance.
func (f *fitter) undamped() bool {
	n, k := len(f.t), f.c.Parameters
	copy(f.q.a, f.jac)
	clear(f.q.a[n*k:])
	copy(f.q.b, f.r)
	clear(f.q.b[n:])
	return f.q.solve()
}

func (f *fitter) fitted() Fitted {
	k := f.c.Parameters
	out := Fitted{P: append([]float64(nil), f.p...), RSS: f.rss, DF: len(f.t) - k, Evaluations: f.evaluations}
	out.Sigma = math.Sqrt(out.RSS / float64(out.DF))
	out.Covariance = f.q.covariance()
	out.SE = make([]float64, k)
	for i, row := range out.Covariance {
		for j := range row {
			row[j] *= out.Sigma * out.Sigma
		}
		out.SE[i] = math.Sqrt(row[i])
	}
	return out
}
