package where

import "math"

// factor is a lower triangle L with L·Lᵀ the matrix it was made of, row by row.
type factor struct {
	n int
	a []float64
}

// cholesky factors a in place (its lower triangle counts); false where it is not
// positive definite. Golub and Van Loan, Matrix Computations, §4.2.
func (f factor) cholesky() bool {
	n := f.n
	for i := range n {
		row := f.a[i*n : i*n+i+1]
		for j := range i {
			other := f.a[j*n : j*n+j+1]
			row[j] = (row[j] - dot(row[:j], other[:j])) / other[j]
		}
		d := row[i] - dot(row[:i], row[:i])
		if !(d > 1e-14*row[i]) {
			return false
		}
		row[i] = math.Sqrt(d)
	}
	return true
}

// forward solves L·x = b in place.
func (f factor) forward(b []float64) {
	n := f.n
	for i := range n {
		row := f.a[i*n : i*n+i+1]
		b[i] = (b[i] - dot(row[:i], b[:i])) / row[i]
	}
}

// backward solves Lᵀ·x = b in place.
func (f factor) backward(b []float64) {
	n := f.n
	for i := n - 1; i >= 0; i-- {
		row := f.a[i*n : i*n+i+1]
		b[i] /= row[i]
		v := b[i]
		for j, a := range row[:i] {
			b[j] -= a * v
		}
	}
}

// inverseDiagonal gives the diagonal of (L·Lᵀ)⁻¹, the squared column norms of L⁻¹.
func (f factor) inverseDiagonal() []float64 {
	n := f.n
	diag := make([]float64, n)
	col := make([]float64, n)
	for j := range n {
		c := col[j:]
		clear(c)
		c[0] = 1 / f.a[j*n+j]
		s := c[0] * c[0]
		for i := j + 1; i < n; i++ {
			row := f.a[i*n+j : i*n+i+1]
			v := -dot(row[:i-j], c[:i-j]) / row[i-j]
			c[i-j] = v
			s += v * v
		}
		diag[j] = s
	}
	return diag
}

// dot runs four sums side by side, which the processor can overlap.
func dot(a, b []float64) float64 {
	var s0, s1, s2, s3 float64
	b = b[:len(a)]
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s0 += a[i] * b[i]
		s1 += a[i+1] * b[i+1]
		s2 += a[i+2] * b[i+2]
		s3 += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + (s2 + s3)
}
