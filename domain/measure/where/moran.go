package where

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Weighting of neighbours.
type Weighting int

// Ones counts every neighbour as 1; Shares gives the neighbours of a place the same
// weight, 1 in all.
const (
	Ones Weighting = iota
	Shares
)

// weight of each neighbour of place i, with itself among them or not.
func (g *Graph) weight(i int, w Weighting, self bool) (each float64, count int) {
	count = len(g.Neighbours(i))
	if self {
		count++
	}
	if w == Ones || count == 0 {
		return 1, count
	}
	return 1 / float64(count), count
}

// Autocorrelation is Moran's I over a whole hull, with moments under the null of no
// pattern.
type Autocorrelation struct {
	I, Expected          float64
	VarRandom, VarNormal float64 // were values shuffled; were they normal
	Z                    float64 // from VarRandom
	P                    float64 // two-sided, from Z
}

// Moran gives I: Cliff and Ord, Spatial Processes, 1981, eq. 1.44 and 2.27 to 2.29,
// equation numbers from memory. It tells whether there is any pattern at all; clusters
// are judged by [Find].
//
// Errors: lengths that differ, y not finite or all equal, fewer than four places, no
// neighbours.
func Moran(g *Graph, y []float64, w Weighting) (Autocorrelation, error) {
	z, m2, b2, err := centred(g, y)
	if err != nil {
		return Autocorrelation{}, err
	}
	n := float64(len(z))
	var s0, s1, s2, cross float64
	column := make([]float64, len(z))
	for i := range z {
		each, _ := g.weight(i, w, false)
		for _, j := range g.Neighbours(i) {
			column[j] += each
		}
	}
	for i := range z {
		each, count := g.weight(i, w, false)
		row := each * float64(count)
		s0 += row
		s2 += (row + column[i]) * (row + column[i])
		for _, j := range g.Neighbours(i) {
			cross += each * z[i] * z[j]
			other := 0.0
			if g.joins(int(j), i) {
				other, _ = g.weight(int(j), w, false)
				s1 += (each + other) * (each + other) / 2
			} else {
				s1 += each * each
			}
		}
	}
	if s0 == 0 {
		return Autocorrelation{}, &measure.ArgumentError{Argument: "g", Why: "must join at least two places"}
	}
	a := Autocorrelation{I: cross / (s0 * m2), Expected: -1 / (n - 1)}
	a.VarNormal = (n*n*s1-n*s2+3*s0*s0)/(s0*s0*(n*n-1)) - a.Expected*a.Expected
	a.VarRandom = (n*((n*n-3*n+3)*s1-n*s2+3*s0*s0)-b2*((n*n-n)*s1-2*n*s2+6*s0*s0))/((n-1)*(n-2)*(n-3)*s0*s0) - a.Expected*a.Expected
	if a.VarRandom > 0 {
		a.Z = (a.I - a.Expected) / math.Sqrt(a.VarRandom)
	}
	a.P = 2 * distuv.UnitNormal.CDF(-math.Abs(a.Z))
	return a, nil
}

// joins tells whether j is among the neighbours of i.
func (g *Graph) joins(i, j int) bool {
	list := g.Neighbours(i)
	lo, hi := 0, len(list)
	for lo < hi {
		if mid := (lo + hi) / 2; int(list[mid]) < j {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo < len(list) && int(list[lo]) == j
}

// centred gives deviations from the mean, their mean square and their kurtosis.
func centred(g *Graph, y []float64) (z []float64, m2, b2 float64, err error) {
	if g == nil || g.Len() < 4 {
		return nil, 0, 0, &measure.ArgumentError{Argument: "g", Why: "must hold at least four places"}
	}
	if err := checkLength("y", len(y), g.Len()); err != nil {
		return nil, 0, 0, err
	}
	if err := measure.Finite("y", y...); err != nil {
		return nil, 0, 0, err
	}
	n := float64(len(y))
	mean, m4 := 0.0, 0.0
	for _, v := range y {
		mean += v / n
	}
	z = make([]float64, len(y))
	for i, v := range y {
		z[i] = v - mean
		m2 += z[i] * z[i] / n
	}
	if !(m2 > 0) || math.IsInf(m2, 0) || math.IsInf(m2*m2, 0) || m2*m2 == 0 {
		return nil, 0, 0, &measure.ArgumentError{Argument: "y", Why: "must hold different values, of a size that can be squared"}
	}
	for _, v := range z {
		m4 += v * v / m2 * v * v / m2 / n
	}
	return z, m2, m4, nil
}

// Local is how a place and its neighbours go together. For display: single places do
// not survive a count of all of them, clusters by mass may.
type Local struct {
	I                            float64
	Expected, Var, Z             float64 // were all values shuffled
	ExpectedHere, VarHere, ZHere float64 // were all but this place's shuffled
	High, NeighboursHigh         bool    // above the mean of values, and of neighbours' means
}

// LocalMoran gives Anselin's I of each place, neighbours weighted by shares: Anselin
// 1995, Geographical Analysis 27, 93-115, eq. 12 to 14; the conditional moments are those
// of Sokal, Oden and Thomson 1998, Geographical Analysis 30, 331-354. Equation numbers
// from memory. A place without neighbours has zero for all.
//
// Errors: as Moran.
func LocalMoran(g *Graph, y []float64) ([]Local, error) {
	z, m2, b2, err := centred(g, y)
	if err != nil {
		return nil, err
	}
	n := float64(len(z))
	out := make([]Local, len(z))
	lags := make([]float64, len(z))
	meanLag := 0.0
	for i := range z {
		each, _ := g.weight(i, Shares, false)
		for _, j := range g.Neighbours(i) {
			lags[i] += each * z[j]
		}
		meanLag += lags[i] / n
	}
	for i := range z {
		each, count := g.weight(i, Shares, false)
		l := &out[i]
		l.High, l.NeighboursHigh = z[i] > 0, lags[i] > meanLag
		if count == 0 {
			continue
		}
		wi, wi2 := each*float64(count), each*each*float64(count)
		l.I = z[i] / m2 * lags[i]
		l.Expected = -wi / (n - 1)
		l.Var = wi2*(n-b2)/(n-1) + (wi*wi-wi2)*(2*b2-n)/((n-1)*(n-2)) - l.Expected*l.Expected
		l.Z = standard(l.I-l.Expected, l.Var)
		l.ExpectedHere = -z[i] * z[i] * wi / ((n - 1) * m2)
		l.VarHere = z[i] / m2 * z[i] / m2 * n / (n - 2) * (wi2 - wi*wi/(n-1)) * (m2 - z[i]*z[i]/(n-1))
		l.ZHere = standard(l.I-l.ExpectedHere, l.VarHere)
	}
	return out, nil
}

func standard(d, v float64) float64 {
	if v <= 0 {
		return 0
	}
	return d / math.Sqrt(v)
}

// GetisOrd gives the standardised G of each place: how high the values around it are,
// with the place itself among them (G*) or not: Getis and Ord 1992; Ord and Getis 1995,
// Geographical Analysis 27, 286-306, eq. 14 and 15, from memory. A place with nothing
// around it has zero.
//
// Errors: as Moran.
func GetisOrd(g *Graph, y []float64, withSelf bool) ([]float64, error) {
	z, m2, _, err := centred(g, y)
	if err != nil {
		return nil, err
	}
	n := float64(len(z))
	out := make([]float64, len(z))
	for i := range z {
		count := float64(len(g.Neighbours(i)))
		sum := 0.0
		for _, j := range g.Neighbours(i) {
			sum += z[j]
		}
		mean, variance, all := 0.0, m2, n
		if withSelf {
			sum += z[i]
			count++
		} else { // mean and variance of the others
			all = n - 1
			mean = -z[i] / all
			variance = (n*m2-z[i]*z[i])/all - mean*mean
		}
		out[i] = standard(sum-count*mean, variance*(all*count-count*count)/(all-1))
	}
	return out, nil
}
