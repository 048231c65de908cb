package where

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// Window is a lattice of cells to map: Cols × Rows spots from Corner, Step apart.
type Window struct {
	Corner     Point
	Step       Point
	Cols, Rows int
}

// Map is a surface over a window, row by row.
type Map struct {
	Value []float64
	SE    []float64 // standard error, never below that from all points

	// Ignorance is what one would be off by, knowing of no place: [Kriged.Ignorance].
	Ignorance float64
}

// HatchFrom is the share of Ignorance from which a map is hatched as not known: the
// readings then take less than a fifth off the variance. Own default, no source.
const HatchFrom = 0.9

// Unknown marks the cells to hatch: where no reading says more than that the hull has a
// mean. It is asked of the standard error alone, so that it does not depend on how high
// the readings are; the more places are read, the less is hatched.
//
//	share  of Ignorance, above 0 and at most 1; [HatchFrom]
//
// Errors: a share out of range.
func (m Map) Unknown(share float64) ([]bool, error) {
	if !(share > 0 && share <= 1) {
		return nil, &measure.ArgumentError{Argument: "share", Why: "must lie above 0 and not above 1"}
	}
	hatch := make([]bool, len(m.SE))
	for i, se := range m.SE {
		hatch[i] = se >= share*m.Ignorance
	}
	return hatch, nil
}

const (
	tileCols, tileRows = 8, 6
	nearest            = 40 // points that a standard error in a map rests on
	largestMap         = 4_000_000
)

// Map gives the surface over a window. Values come from all points. A standard error
// comes from the forty points nearest to its part of the window: leaving points out can
// only raise it, so what the map calls known is known (a test says by how much).
//
// Errors: a window that is empty, not finite or larger than four million cells.
func (k *Kriged) Map(w Window) (Map, error) {
	if err := measure.Finite("w", w.Corner.X, w.Corner.Y, w.Step.X, w.Step.Y); err != nil {
		return Map{}, err
	}
	if w.Cols < 1 || w.Rows < 1 || w.Cols > largestMap || w.Rows > largestMap || w.Cols*w.Rows > largestMap {
		return Map{}, &measure.ArgumentError{Argument: "w", Why: "must hold between one and four million cells"}
	}
	m := Map{Value: make([]float64, w.Cols*w.Rows), SE: make([]float64, w.Cols*w.Rows), Ignorance: k.Ignorance()}
	k.values(w, m.Value)
	k.errors(w, m.SE)
	return m, nil
}

func (w Window) x(col int) float64 { return w.Corner.X + float64(col)*w.Step.X }
func (w Window) y(row int) float64 { return w.Corner.Y + float64(row)*w.Step.Y }

// values sums covariance times dual weight over all points, with the squared distances
// along and across kept from cell to cell.
func (k *Kriged) values(w Window, out []float64) {
	n := k.N
	dx2 := make([]float64, w.Cols*n)
	for c := range w.Cols {
		for i, p := range k.points {
			d := w.x(c) - p.X
			dx2[c*n+i] = d * d
		}
	}
	dy2 := make([]float64, n)
	for r := range w.Rows {
		for i, p := range k.points {
			d := w.y(r) - p.Y
			dy2[i] = d * d
		}
		for c := range w.Cols {
			out[r*w.Cols+c] = k.Mean + k.Model.Sill*k.correlated(dx2[c*n:(c+1)*n], dy2) + k.atPoint(dx2[c*n:(c+1)*n], dy2)
		}
	}
}

// correlated is the sum of correlation times dual weight.
func (k *Kriged) correlated(dx2, dy2 []float64) float64 {
	s := 0.0
	dual := k.dual[:len(dx2)]
	dy2 = dy2[:len(dx2)]
	if k.Model.Form == Exponential {
		scale := -1 / k.Model.Range
		for i, x := range dx2 {
			s += dual[i] * math.Exp(scale*math.Sqrt(x+dy2[i]))
		}
		return s
	}
	scale, limit := 1/k.Model.Range, k.Model.Range*k.Model.Range
	for i, x := range dx2 {
		if h2 := x + dy2[i]; h2 < limit {
			u := math.Sqrt(h2) * scale
			s += dual[i] * (1 - u*(1.5-0.5*u*u))
		}
	}
	return s
}

// atPoint adds the nugget's part where a cell lies on a point and readings are wanted
// back.
func (k *Kriged) atPoint(dx2, dy2 []float64) float64 {
	if k.noise || k.Model.Nugget == 0 {
		return 0
	}
	for i, x := range dx2 {
		if x+dy2[i] == 0 {
			return k.Model.Nugget * k.dual[i]
		}
	}
	return 0
}

// errors works tile by tile: one factor serves all cells of a tile.
func (k *Kriged) errors(w Window, out []float64) {
	t := newTile(k)
	for r0 := 0; r0 < w.Rows; r0 += tileRows {
		r1 := min(r0+tileRows, w.Rows)
		for c0 := 0; c0 < w.Cols; c0 += tileCols {
			c1 := min(c0+tileCols, w.Cols)
			centre := Point{(w.x(c0) + w.x(c1-1)) / 2, (w.y(r0) + w.y(r1-1)) / 2}
			t.moveTo(centre)
			for r := r0; r < r1; r++ {
				for c := c0; c < c1; c++ {
					out[r*w.Cols+c] = t.standardError(Point{w.x(c), w.y(r)})
				}
			}
		}
	}
}

// tile holds the points nearest to a part of the map, and their factor.
type tile struct {
	k       *Kriged
	near    []int // indices of points
	byRange []ranged
	f       factor
	ones, u []float64
	sum     float64
}

type ranged struct {
	d2 float64
	i  int
}

func newTile(k *Kriged) *tile {
	m := min(nearest, k.N)
	return &tile{k: k, near: make([]int, m), byRange: make([]ranged, k.N), f: factor{n: m, a: make([]float64, m*m)}, ones: make([]float64, m), u: make([]float64, m)}
}

// moveTo takes the points nearest to a spot.
func (t *tile) moveTo(p Point) {
	for i, q := range t.k.points {
		dx, dy := p.X-q.X, p.Y-q.Y
		t.byRange[i] = ranged{dx*dx + dy*dy, i}
	}
	m := len(t.near)
	if m < t.k.N {
		slices.SortFunc(t.byRange, func(a, b ranged) int {
			switch {
			case a.d2 < b.d2:
				return -1
			case a.d2 > b.d2:
				return 1
			}
			return a.i - b.i
		})
	}
	for j := range m {
		t.near[j] = t.byRange[j].i
	}
	slices.Sort(t.near) // a factor of some rows in their first order
	t.factorise()
}

func (t *tile) factorise() {
	m, model := len(t.near), t.k.Model
	total := model.Nugget + model.Sill
	for jitter := 0.0; ; jitter = max(1e-12, 100*jitter) {
		for a, i := range t.near {
			p := t.k.points[i]
			for b, j := range t.near[:a] {
				q := t.k.points[j]
				t.f.a[a*m+b] = model.Sill * model.correlation(math.Sqrt((p.X-q.X)*(p.X-q.X)+(p.Y-q.Y)*(p.Y-q.Y)))
			}
			t.f.a[a*m+a] = total * (1 + jitter)
		}
		if t.f.cholesky() {
			break
		}
	}
	for a := range t.ones {
		t.ones[a] = 1
	}
	t.f.forward(t.ones)
	t.sum = dot(t.ones, t.ones)
}

func (t *tile) standardError(p Point) float64 {
	for a, i := range t.near {
		q := t.k.points[i]
		dx, dy := p.X-q.X, p.Y-q.Y
		t.u[a] = t.k.covariance(math.Sqrt(dx*dx + dy*dy))
	}
	t.f.forward(t.u)
	short := 1 - dot(t.u, t.ones)
	return math.Sqrt(max(0, t.k.variance()-dot(t.u, t.u)+short*short/t.sum))
}
