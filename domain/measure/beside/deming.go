package beside

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Line is y = Intercept + Slope·x, with intervals.
type Line struct{ Intercept, Slope measure.Estimate }

// Demings is a line with errors in both readings, and what a prediction needs.
type Demings struct {
	Line
	Ratio    float64 // var(error of x)/var(error of y)
	Residual float64 // standard deviation of y − a − b·x, n−2 degrees of freedom

	// Covariance of intercept and slope by the jackknife.
	VarIntercept, VarSlope, Cov float64
	N                           int
}

// Deming fits a line where both readings have errors of known ratio: Deming 1943;
// closed form as in Linnet, Clin. Chem. 39 (1993) 424-432, eq. 1; standard errors by
// the jackknife, intervals by t with n−2 degrees of freedom, centred on the estimate.
//
//	x, y   readings of the same n ≥ 3 places with the first and the second
//	       instrument, n ≤ 2000, each in its own scale units
//	ratio  var(error of x)/var(error of y), > 0, from both instruments' s_r; 1 if equal
//	level  coverage asked for
//
// Errors: *measure.ArgumentError for x, y, ratio or level, and for y where it neither
// rises nor falls with x.
func Deming(x, y []float64, ratio, level float64) (Demings, error) {
	if err := check(x, y, 3); err != nil {
		return Demings{}, err
	}
	if err := measure.Positive("ratio", ratio); err != nil {
		return Demings{}, err
	}
	if err := measure.Level(level); err != nil {
		return Demings{}, err
	}
	s := sumsOf(x, y)
	a, b, ok := s.deming(ratio)
	if !ok {
		return Demings{}, noRelation()
	}
	d := Demings{Ratio: ratio, N: len(x)}
	for i := range x {
		r := y[i] - a - b*x[i]
		d.Residual += r * r
	}
	d.Residual = math.Sqrt(d.Residual / max(1, s.n-2))
	if !d.jackknife(x, y, s, a, b) {
		return Demings{}, noRelation()
	}
	t := order.T((1+level)/2, max(1, s.n-2))
	d.Intercept = around(a, t*math.Sqrt(d.VarIntercept), level, d.N)
	d.Slope = around(b, t*math.Sqrt(d.VarSlope), level, d.N)
	return d, nil
}

func noRelation() error {
	return &measure.ArgumentError{Argument: "y", Why: "must rise or fall with x, whichever place is left out"}
}

// deming: with u, q, p the sums of squares of x, of y and of products and l the ratio,
// b = (lq − u + √((u−lq)² + 4lp²))/(2lp). The sign that loses no digits is taken.
func (s sums) deming(l float64) (a, b float64, ok bool) {
	if s.xy == 0 || s.xx <= 0 {
		return 0, 0, false
	}
	d := l*s.yy - s.xx
	root := math.Hypot(d, 2*math.Sqrt(l)*s.xy)
	if d >= 0 {
		b = (d + root) / (2 * l * s.xy)
	} else {
		b = 2 * s.xy / (root - d)
	}
	a = s.my - b*s.mx
	return a, b, !math.IsNaN(a) && !math.IsInf(a, 0) && !math.IsInf(b, 0)
}

// jackknife: Efron & Tibshirani 1993 §11.2, pseudo-values n·θ − (n−1)·θ₍₋ᵢ₎.
func (d *Demings) jackknife(x, y []float64, s sums, a, b float64) bool {
	pa, pb := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		ai, bi, ok := s.without(x[i], y[i]).deming(d.Ratio)
		if !ok {
			return false
		}
		pa[i], pb[i] = s.n*a-(s.n-1)*ai, s.n*b-(s.n-1)*bi
	}
	p := sumsOf(pa, pb)
	f := 1 / (s.n * (s.n - 1))
	d.VarIntercept, d.VarSlope, d.Cov = p.xx*f, p.yy*f, p.xy*f
	return !math.IsInf(d.VarIntercept, 0) && !math.IsInf(d.VarSlope, 0) && !math.IsNaN(d.Cov)
}

func around(v, half, level float64, n int) measure.Estimate {
	return measure.Estimate{
		Value: v, Lower: v - half, Upper: v + half, Level: level, N: n,
		Assumes: []string{"errors of both readings about normal, of one size each over the whole scale, in the ratio given"},
	}
}
