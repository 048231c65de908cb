package course

import "math"

// exactUpTo is the number of values up to which the distribution of S is summed
// exactly. Beyond it the normal form agrees to four digits.
const exactUpTo = 50

// inversions gives the chances of 0, 1, 2 … inversions in a random arrangement of
// values with the given sizes of groups of equal ones. Without ties it is the
// distribution that Mann 1945 tabulated; with them, the coefficients of the Gaussian
// multinomial (MacMahon; Andrews, The Theory of Partitions, thm 3.6, from memory).
func inversions(groups []int) []float64 {
	p := []float64{1}
	m := 0
	for _, g := range groups {
		switch {
		case m == 0:
		case g == 1:
			p = spread(p, m+1)
		default:
			p = convolve(p, insertions(m, g))
		}
		m += g
	}
	return p
}

// insertions gives the chances of the inversions that g equal values cause when they
// are put among m others: the Gaussian binomial [m+g over g], normalised. Pascal's rule
// [a,b] = [a−1,b] + q^a·[a,b−1] adds positive terms only, so nothing cancels.
func insertions(m, g int) []float64 {
	// row[b] is [a, b] as chances for a others and b equal values.
	row := make([][]float64, g+1)
	for b := range row {
		row[b] = []float64{1} // a = 0
	}
	for a := 1; a <= m; a++ {
		for b := 1; b <= g; b++ {
			without, with := row[b], row[b-1] // [a−1,b] and [a,b−1]
			last := float64(a) / float64(a+b) // share of arrangements in the first term
			next := make([]float64, a*b+1)
			for k, v := range without {
				next[k] += last * v
			}
			for k, v := range with {
				next[k+a] += (1 - last) * v
			}
			row[b] = next
		}
	}
	return row[g]
}

// spread convolves p with n equal chances: one more value goes to any of n places alike.
func spread(p []float64, n int) []float64 {
	c := make([]float64, len(p)+n-1)
	for i := range c {
		for k := max(0, i-n+1); k <= min(i, len(p)-1); k++ {
			c[i] += p[k]
		}
		c[i] /= float64(n)
	}
	return c
}

func convolve(a, b []float64) []float64 {
	c := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			c[i+j] += x * y
		}
	}
	return c
}

// tail is P(S ≥ s) where S = most − 2·inversions.
func tail(p []float64, s int) float64 {
	most := len(p) - 1
	sum := 0.0
	for k := 0; k <= most && most-2*k >= s; k++ {
		sum += p[k]
	}
	return math.Min(1, sum)
}
