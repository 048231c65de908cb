package course

import "math"

// lsq solves linear least-squares problems by Householder reflections in storage that
// is used again.
type lsq struct {
	rows, cols int
	a          []float64 // rows × cols, row by row; R in its upper triangle after factor
	b          []float64 // rows
	x          []float64 // cols
	perm       []int     // column order
	size       []float64 // column norms taken out first, so that units do not decide rank
}

func newLSQ(rows, cols int) *lsq {
	return &lsq{rows: rows, cols: cols, a: make([]float64, rows*cols), b: make([]float64, rows), x: make([]float64, cols), perm: make([]int, cols), size: make([]float64, cols)}
}

// solve minimises ‖a·x − b‖, destroying both, with columns taken largest first. It
// returns false where a is singular to working precision.
func (q *lsq) solve() bool {
	n := q.cols
	if !q.equalise() {
		return false
	}
	largest := 0.0
	for j := range n {
		q.pivot(j)
		d := q.reflect(j)
		if j == 0 {
			largest = math.Abs(d)
		}
		if !(math.Abs(d) > 1e-15*largest) {
			return false
		}
	}
	for j := n - 1; j >= 0; j-- {
		v := q.b[j]
		for k := j + 1; k < n; k++ {
			v -= q.a[j*n+k] * q.x[q.perm[k]]
		}
		q.x[q.perm[j]] = v / q.a[j*n+j]
	}
	for j := range n {
		q.x[j] /= q.size[j]
	}
	return true
}

// equalise gives every column the norm one; false where one is zero.
func (q *lsq) equalise() bool {
	n := q.cols
	for j := range n {
		q.perm[j] = j
		s := 0.0
		for i := range q.rows {
			s = math.Hypot(s, q.a[i*n+j])
		}
		if s == 0 || math.IsInf(s, 0) || math.IsNaN(s) {
			return false
		}
		q.size[j] = s
		for i := range q.rows {
			q.a[i*n+j] /= s
		}
	}
	return true
}

// pivot brings the column with the largest remaining norm to place j.
func (q *lsq) pivot(j int) {
	n, best, at := q.cols, -1.0, j
	for k := j; k < n; k++ {
		s := 0.0
		for i := j; i < q.rows; i++ {
			s += q.a[i*n+k] * q.a[i*n+k]
		}
		if s > best {
			best, at = s, k
		}
	}
	if at == j {
		return
	}
	q.perm[j], q.perm[at] = q.perm[at], q.perm[j]
	for i := range q.rows {
		q.a[i*n+j], q.a[i*n+at] = q.a[i*n+at], q.a[i*n+j]
	}
}

// reflect zeroes column j below its diagonal and returns the diagonal: Golub and Van
// Loan, Matrix Computations, alg. 5.1.1.
func (q *lsq) reflect(j int) float64 {
	n := q.cols
	norm := 0.0
	for i := j; i < q.rows; i++ {
		norm = math.Hypot(norm, q.a[i*n+j])
	}
	if norm == 0 {
		return 0
	}
	if q.a[j*n+j] > 0 {
		norm = -norm
	}
	v0 := q.a[j*n+j] - norm
	beta := -1 / (norm * v0) // 2 / vᵀv with v = (v0, a below)
	apply := func(get func(i int) *float64) {
		s := v0 * *get(j)
		for i := j + 1; i < q.rows; i++ {
			s += q.a[i*n+j] * *get(i)
		}
		s *= beta
		*get(j) -= s * v0
		for i := j + 1; i < q.rows; i++ {
			*get(i) -= s * q.a[i*n+j]
		}
	}
	for k := j + 1; k < n; k++ {
		apply(func(i int) *float64 { return &q.a[i*n+k] })
	}
	apply(func(i int) *float64 { return &q.b[i] })
	q.a[j*n+j] = norm
	return norm
}

// covariance is (aᵀa)⁻¹ = R⁻¹·R⁻ᵀ in the original order of columns, after solve.
func (q *lsq) covariance() [][]float64 {
	n := q.cols
	inv := make([]float64, n*n)
	for j := range n {
		inv[j*n+j] = 1 / q.a[j*n+j]
		for i := j - 1; i >= 0; i-- {
			s := 0.0
			for k := i + 1; k <= j; k++ {
				s += q.a[i*n+k] * inv[k*n+j]
			}
			inv[i*n+j] = -s / q.a[i*n+i]
		}
	}
	c := make([][]float64, n)
	for i := range c {
		c[i] = make([]float64, n)
	}
	for i := range n {
		for j := range n {
			s := 0.0
			for k := max(i, j); k < n; k++ {
				s += inv[i*n+k] * inv[j*n+k]
			}
			a, b := q.perm[i], q.perm[j]
			c[a][b] = s / (q.size[a] * q.size[b])
		}
	}
	return c
}
