// Package check is what the tests of the arithmetic share: published values read
// from testdata, closeness in significant digits, and coverage by simulation.
package check

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// Load reads testdata/measure/name as JSON into v.
func Load(t testing.TB, name string, v any) {
	t.Helper()
	b, err := os.ReadFile(Path(name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, v); err != nil {
		t.Fatal(err)
	}
}

// Path of a file in testdata/measure, from a package below domain/measure.
func Path(name string) string {
	return filepath.Join("..", "..", "..", "testdata", "measure", name)
}

// Digits fails unless got agrees with want to n significant digits (within half a
// unit of the last of them); around zero, to n places after the point.
func Digits(t testing.TB, what string, got, want float64, n int) {
	t.Helper()
	size := 1.0
	if want != 0 && !math.IsInf(want, 0) {
		size = math.Pow(10, math.Floor(math.Log10(math.Abs(want)))+1)
	}
	if got == want {
		return
	}
	if d := math.Abs(got - want); !(d <= 0.5000001*size*math.Pow(10, -float64(n))) {
		t.Errorf("%s: got %.15g, want %.15g to %d digits", what, got, want, n)
	}
}

// Draws is how many data sets a coverage is estimated from. Of 95 % its standard
// error is 0.49 %, so 93.5 to 96.5 % is three of them.
const Draws = 2000

// Share runs one seeded trial Draws times and gives the share that came true.
func Share(seed uint64, trial func(r *rand.Rand) bool) float64 {
	return ShareOf(Draws, seed, trial)
}

// ShareOf is [Share] with another number of draws. The trials run on several
// goroutines; each has a source of its own, so the result depends on seed alone.
func ShareOf(draws int, seed uint64, trial func(r *rand.Rand) bool) float64 {
	const lanes = 4
	var hits [lanes]int
	var wg sync.WaitGroup
	for lane := range lanes {
		wg.Go(func() {
			r := rand.New(rand.NewPCG(seed*0x9e3779b97f4a7c15, uint64(lane+1)*0xd1342543de82ef95))
			for range draws / lanes {
				if trial(r) {
					hits[lane]++
				}
			}
		})
	}
	wg.Wait()
	var sum int
	for _, h := range hits {
		sum += h
	}
	return float64(sum) / float64(draws/lanes*lanes)
}

// AtLeast fails if a share seen is below the share stated by more than three
// standard errors of the simulation.
func AtLeast(t testing.TB, what string, seen, stated float64) {
	t.Helper()
	t.Logf("%s: covers %.2f %%, states %.2f %%", what, 100*seen, 100*stated)
	if seen < stated-3*math.Sqrt(stated*(1-stated)/Draws) {
		t.Errorf("%s: covers %.2f %%, less than the %.2f %% stated", what, 100*seen, 100*stated)
	}
}

// About fails unless the share seen lies in 93.5 to 96.5 %, for intervals of 95 %.
func About(t testing.TB, what string, seen float64) {
	t.Helper()
	t.Logf("%s: covers %.2f %%", what, 100*seen)
	if seen < 0.935 || seen > 0.965 {
		t.Errorf("%s: covers %.2f %%, want 93.5 to 96.5 %%", what, 100*seen)
	}
}

// Population is a way of drawing values whose centre is known.
type Population struct {
	Name   string
	Draw   func(r *rand.Rand) float64
	Mean   float64
	Median float64
}

// Populations are normal, skewed and tied values: the last a normal one read in
// whole units, with a standard deviation of one unit, centred so that its median
// is a whole number.
func Populations() []Population {
	return []Population{
		{"normal", func(r *rand.Rand) float64 { return 20 + r.NormFloat64() }, 20, 20},
		{"skewed", func(r *rand.Rand) float64 { return r.ExpFloat64() }, 1, math.Ln2},
		{"tied", func(r *rand.Rand) float64 { return math.Round(20 + r.NormFloat64()) }, 20, 20},
	}
}

// Fill draws n values.
func (p Population) Fill(r *rand.Rand, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = p.Draw(r)
	}
	return x
}
