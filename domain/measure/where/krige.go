package where

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// Kriged is a surface through readings with its doubt at every spot.
type Kriged struct {
	Model   Variogram
	Mean    float64 // by generalised least squares
	N       int     // places, coincident ones counted once
	Check   LeaveOneOut
	Notes   []measure.Note
	Assumes []string

	noise  bool
	points []Point
	y      []float64
	l      factor
	dual   []float64 // C⁻¹·(y − mean)
	ones   []float64 // L⁻¹·1
	sum    float64   // 1ᵀ·C⁻¹·1
}

// LeaveOneOut says how well each reading is foretold by the others.
type LeaveOneOut struct {
	Predicted, Variance []float64
	MeanError, RMSE     float64
	MeanSquaredZ        float64 // about 1 where the standard errors are right
}

// ErrSingular says that the points and the model leave no unique surface.
var ErrSingular = errors.New("the places lie so close that the model cannot tell them apart: merge them or give the model a nugget")

// Krige prepares ordinary kriging over all points.
//
//	points, y  n ≥ 3 spots and readings; coincident spots are averaged
//	model      fitted ([FitVariogram]) or given
//	noise      whether the nugget is error of reading, to be smoothed out; otherwise the
//	           surface passes through every reading
//
// Cressie, Statistics for Spatial Data, 1993, §3.2; Chilès and Delfiner, Geostatistics,
// 1999, §3.4 in covariance form. Leave-one-out by Dubrule 1983, Mathematical Geology 15,
// 687-699: e = (B·y)ᵢ/Bᵢᵢ with variance 1/Bᵢᵢ, B the upper block of the inverse system.
//
// Errors: points, values or a model that cannot be used; ErrSingular.
func Krige(points []Point, y []float64, model Variogram, noise bool) (*Kriged, error) {
	if err := checkPoints(points, y, 3); err != nil {
		return nil, err
	}
	if err := model.check(); err != nil {
		return nil, err
	}
	k := &Kriged{Model: model, noise: noise, Assumes: []string{
		"one mean over the area, the same likeness by distance everywhere and in every direction",
		"the variogram is known: its own doubt is not in the standard error",
	}}
	k.merge(points, y)
	k.N = len(k.points)
	if k.N < 3 {
		return nil, &measure.ArgumentError{Argument: "points", Why: fmt.Sprintf("must be at least 3 different ones, not %d", k.N)}
	}
	if err := k.factorise(); err != nil {
		return nil, err
	}
	k.solve()
	k.leaveOneOut()
	return k, nil
}

// merge averages readings at the same spot.
func (k *Kriged) merge(points []Point, y []float64) {
	at := make(map[Point]int, len(points))
	var count []float64
	for i, p := range points {
		j, ok := at[p]
		if !ok {
			j = len(k.points)
			at[p] = j
			k.points, k.y, count = append(k.points, p), append(k.y, 0), append(count, 0)
		}
		k.y[j] += y[i]
		count[j]++
	}
	for j := range k.y {
		k.y[j] /= count[j]
	}
	if d := len(points) - len(k.points); d > 0 {
		k.Notes = append(k.Notes, measure.Note{Code: "merged", Text: fmt.Sprintf("%d readings at a spot that has another were averaged with it.", d)})
	}
}

func (k *Kriged) factorise() error {
	n := k.N
	total := k.Model.Nugget + k.Model.Sill
	c := make([]float64, n*n)
	for i, p := range k.points {
		for j, q := range k.points[:i] {
			c[i*n+j] = k.Model.Sill * k.Model.correlation(math.Hypot(p.X-q.X, p.Y-q.Y))
		}
		c[i*n+i] = total
	}
	for _, jitter := range []float64{0, 1e-12, 1e-10} {
		l := factor{n: n, a: slices.Clone(c)}
		for i := range n {
			l.a[i*n+i] += jitter * total
		}
		if l.cholesky() {
			k.l = l
			return nil
		}
	}
	return ErrSingular
}

func (k *Kriged) solve() {
	n := k.N
	k.ones = make([]float64, n)
	u := make([]float64, n)
	for i := range n {
		k.ones[i], u[i] = 1, k.y[i]
	}
	k.l.forward(k.ones)
	k.l.forward(u)
	k.sum = dot(k.ones, k.ones)
	k.Mean = dot(k.ones, u) / k.sum
	for i := range n {
		u[i] -= k.Mean * k.ones[i]
	}
	k.l.backward(u)
	k.dual = u
}

// leaveOneOut uses the diagonal of C⁻¹, which is that of L⁻ᵀ·L⁻¹.
func (k *Kriged) leaveOneOut() {
	n := k.N
	diag := k.l.inverseDiagonal()
	a := slices.Clone(k.ones)
	k.l.backward(a) // C⁻¹·1
	c := LeaveOneOut{Predicted: make([]float64, n), Variance: make([]float64, n)}
	for i := range n {
		b := diag[i] - a[i]*a[i]/k.sum
		e := k.dual[i] / b
		c.Predicted[i], c.Variance[i] = k.y[i]-e, 1/b
		c.MeanError += e / float64(n)
		c.RMSE += e * e / float64(n)
		c.MeanSquaredZ += e * e * b / float64(n)
	}
	c.RMSE = math.Sqrt(c.RMSE)
	k.Check = c
	if c.MeanSquaredZ > 1.5 {
		k.Notes = append(k.Notes, measure.Note{Code: "errors-too-small", Text: fmt.Sprintf("Readings left out were missed by %.2g times what the standard errors say: the map is less sure than it looks.", math.Sqrt(c.MeanSquaredZ))})
	}
}

// nugget at distance zero counts to the covariance only where the reading itself is
// wanted back.
func (k *Kriged) covariance(h float64) float64 {
	if h == 0 && !k.noise {
		return k.Model.Nugget + k.Model.Sill
	}
	return k.Model.Sill * k.Model.correlation(h)
}

// variance of what is mapped, knowing nothing: without the nugget when that is noise.
func (k *Kriged) variance() float64 {
	if k.noise {
		return k.Model.Sill
	}
	return k.Model.Nugget + k.Model.Sill
}

// Ignorance is the standard deviation of what is mapped where no place is near.
func (k *Kriged) Ignorance() float64 { return math.Sqrt(k.variance()) }

// At gives the surface and its standard error at one spot, from all points.
//
// Errors: a point that is not finite.
func (k *Kriged) At(p Point) (value, standardError float64, err error) {
	if err := measure.Finite("p", p.X, p.Y); err != nil {
		return 0, 0, err
	}
	u := make([]float64, k.N)
	value = k.Mean
	for i, q := range k.points {
		u[i] = k.covariance(math.Hypot(p.X-q.X, p.Y-q.Y))
		value += u[i] * k.dual[i]
	}
	k.l.forward(u)
	short := 1 - dot(u, k.ones)
	v := k.variance() - dot(u, u) + short*short/k.sum
	return value, math.Sqrt(max(0, v)), nil
}
