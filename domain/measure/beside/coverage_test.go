package beside_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/beside"
	"boottop.example/practice/domain/measure/internal/check"
)

// Two invented scales: places from 10 to 60 on the first, the second 5 + 1.4 times
// that; errors 1.5 and 2 units.
const zero, slope, errX, errY = 5.0, 1.4, 1.5, 2.0

type pairs struct{ x, y []float64 }

func draw(r *rand.Rand, n int, noise func() float64, step float64) pairs {
	var p pairs
	for i := range n {
		at := 10 + 50*(float64(i)+r.Float64())/float64(n)
		p.x = append(p.x, rounded(at+errX*noise(), step))
		p.y = append(p.y, rounded(zero+slope*at+errY*noise(), step))
	}
	return p
}

func rounded(v, step float64) float64 { return math.Round(v/step) * step }

func noises(r *rand.Rand) map[string]func() float64 {
	return map[string]func() float64{
		"normal": r.NormFloat64,
		"skewed": func() float64 { return r.ExpFloat64() - 1 },
	}
}

func within(e measure.Estimate, truth float64) bool { return e.Lower <= truth && truth <= e.Upper }

func TestIntervalsOfSlopeCover(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"normal", "skewed", "tied"} {
		for _, n := range []int{6, 12, 40} {
			sample := func(r *rand.Rand) pairs {
				if kind == "tied" {
					return draw(r, n, r.NormFloat64, 1)
				}
				return draw(r, n, noises(r)[kind], 0.1)
			}
			dem := check.Share(uint64(n), func(r *rand.Rand) bool {
				p := sample(r)
				d, err := beside.Deming(p.x, p.y, errX*errX/(errY*errY), 0.95)
				return err == nil && within(d.Slope, slope)
			})
			paba := check.Share(uint64(n)+1, func(r *rand.Rand) bool {
				p := sample(r)
				l, err := beside.PassingBablok(p.x, p.y, 0.95)
				return err == nil && within(l.Slope, slope)
			})
			what := fmt.Sprintf("%s, n = %d", kind, n)
			check.AtLeast(t, "Passing-Bablok, "+what, paba, 0.95)
			if n == 40 {
				check.About(t, "Deming, "+what, dem)
			} else {
				// The jackknife is wide for few places, never narrow.
				check.AtLeast(t, "Deming, "+what, dem, 0.95)
			}
		}
	}
}

// A new place, read once with each: the second reading lies in the band in 95 %, for
// sets of the size a practice makes, whole units included.
func TestTheBandHoldsNewReadings(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"normal", "skewed", "tied"} {
		for _, n := range []int{15, 40} {
			seen := check.Share(uint64(100+n), func(r *rand.Rand) bool {
				step, noise := 0.1, noises(r)["normal"]
				if kind == "tied" {
					step = 1
				} else {
					noise = noises(r)[kind]
				}
				p := draw(r, n, noise, step)
				c, err := beside.Cross(p.x, p.y, errX*errX/(errY*errY), 0.95)
				if err != nil {
					t.Error(err)
				}
				at := 15 + 40*r.Float64()
				x, y := rounded(at+errX*noise(), step), rounded(zero+slope*at+errY*noise(), step)
				b, why, err := c.Band(x)
				if err != nil {
					t.Error(err)
				}
				return len(why) > 0 || within(b, y)
			})
			what := fmt.Sprintf("band, %s, n = %d", kind, n)
			if kind != "skewed" {
				check.About(t, what, seen)
				continue
			}
			t.Logf("%s: covers %.1f %%", what, 100*seen)
			p := draw(rand.New(rand.NewPCG(1, 1)), n, noises(rand.New(rand.NewPCG(1, 1)))[kind], 0.1)
			c, _ := beside.Cross(p.x, p.y, 1, 0.95)
			if b, _, _ := c.Band(30); !b.Has("leans-on-normal") {
				t.Error("the lean on normal errors is not said")
			}
		}
	}
}

func TestIntervalsOfConcordanceAndAgreementCover(t *testing.T) {
	t.Parallel()
	// x = w + e, y = w + 0.5 + f: var 1 + 0.3², ρ_c = 2·1/(2·1.09 + 0.25).
	truth := 2 / (2*1.09 + 0.25)
	sd := math.Sqrt(2 * 0.09)
	one := func(r *rand.Rand, n int) pairs {
		var p pairs
		for range n {
			w := r.NormFloat64()
			p.x, p.y = append(p.x, w+0.3*r.NormFloat64()), append(p.y, w+0.5+0.3*r.NormFloat64())
		}
		return p
	}
	for _, n := range []int{6, 12, 40} {
		lin := check.Share(uint64(200+n), func(r *rand.Rand) bool {
			p := one(r, n)
			c, err := beside.Lin(p.x, p.y, 0.95)
			return err == nil && within(c.Estimate, truth)
		})
		upper := check.Share(uint64(300+n), func(r *rand.Rand) bool {
			p := one(r, n)
			a, err := beside.Agree(p.x, p.y, 0.95)
			return err == nil && within(a.Upper, -0.5+1.959964*sd)
		})
		bias := check.Share(uint64(400+n), func(r *rand.Rand) bool {
			p := one(r, n)
			a, err := beside.Agree(p.x, p.y, 0.95)
			return err == nil && within(a.Bias, -0.5)
		})
		t.Logf("n = %d: concordance %.1f %%, limit %.1f %%", n, 100*lin, 100*upper)
		check.About(t, fmt.Sprintf("bias, n = %d", n), bias)
		check.About(t, fmt.Sprintf("limit of agreement, n = %d", n), upper)
		p := one(rand.New(rand.NewPCG(1, 1)), n)
		c, err := beside.Lin(p.x, p.y, 0.95)
		if err != nil || c.Estimate.Has("approximate") != (n < 30) {
			t.Errorf("n = %d: notes %v", n, c.Estimate.Notes)
		}
		if n == 40 {
			check.About(t, "concordance", lin)
		}
	}
}

func TestInstrumentsThatCannotBeComparedAreSaidNotTo(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 1))
	good := draw(r, 20, r.NormFloat64, 0.1)
	few := pairs{good.x[:14], good.y[:14]}
	unrelated := draw(r, 20, r.NormFloat64, 0.1)
	r.Shuffle(20, func(i, j int) { unrelated.y[i], unrelated.y[j] = unrelated.y[j], unrelated.y[i] })
	for name, c := range map[string]struct {
		p            pairs
		x, y, effect float64
		want         beside.Answer
		why          []beside.Why
	}{
		"like the set":                {good, 30, 47, 10, beside.WithinBand, nil},
		"far above the band":          {good, 30, 70, 10, beside.BeyondBand, nil},
		"an effect below the band":    {good, 30, 70, 2, beside.NotComparable, []beside.Why{beside.BandTooWide}},
		"outside the span":            {good, 75, 110, 10, beside.NotComparable, []beside.Why{beside.BeyondSpan}},
		"fourteen places":             {few, 20, 33, 10, beside.NotComparable, []beside.Why{beside.TooFewPlaces}},
		"scales that do not go along": {unrelated, 30, 47, 10, beside.NotComparable, []beside.Why{beside.NoRelation}},
	} {
		cross, err := beside.Cross(c.p.x, c.p.y, 0.5, 0.95)
		if err != nil {
			t.Fatal(name, err)
		}
		v, err := cross.Judge(c.x, c.y, c.effect)
		if err != nil {
			t.Fatal(name, err)
		}
		if v.Answer != c.want || !slices.Equal(v.Why, c.why) {
			t.Errorf("%s: %v %v, want %v %v", name, v.Answer, v.Why, c.want, c.why)
		}
	}
	stray := draw(r, 20, r.NormFloat64, 0.1)
	stray.y[9] += 30
	c, _ := beside.Cross(stray.x, stray.y, 0.5, 0.95)
	if !(measure.Estimate{Notes: c.Notes}).Has("stray") {
		t.Error("a stray place is not said")
	}
}

// The instruments swapped, the scales shifted and stretched, the places reordered.
func TestFitsFollowTheScales(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(2, 2))
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-7*(1+math.Abs(a)) }
	for range 200 {
		p := draw(r, 8+r.IntN(20), r.NormFloat64, 0.1)
		q := pairs{}
		for _, i := range r.Perm(len(p.x)) {
			q.x, q.y = append(q.x, 3+2*p.x[i]), append(q.y, -7+2*p.y[i])
		}
		a, _ := beside.Deming(p.x, p.y, 0.7, 0.95)
		b, _ := beside.Deming(q.x, q.y, 0.7, 0.95)
		swapped, _ := beside.Deming(p.y, p.x, 1/0.7, 0.95)
		if !near(a.Slope.Value, b.Slope.Value) || !near(a.Slope.Upper, b.Slope.Upper) || !near(1/a.Slope.Value, swapped.Slope.Value) {
			t.Fatalf("Deming: %v, %v, %v", a.Slope, b.Slope, swapped.Slope)
		}
		c, _ := beside.PassingBablok(p.x, p.y, 0.95)
		d, _ := beside.PassingBablok(q.x, q.y, 0.95)
		e, _ := beside.PassingBablok(p.y, p.x, 0.95)
		if !near(c.Slope.Value, d.Slope.Value) || !near(c.Slope.Lower, d.Slope.Lower) || math.Abs(c.Slope.Value*e.Slope.Value-1) > 0.02 {
			t.Fatalf("Passing-Bablok: %v, %v, %v", c.Slope, d.Slope, e.Slope)
		}
	}
}

func TestPositionsKeepLimitsOutside(t *testing.T) {
	t.Parallel()
	vs := []measure.Value{{At: 100}, {At: 0, Limit: measure.Below}, {At: 0}, {At: 2000, Limit: measure.Above}, {At: 100}}
	got, err := beside.Positions(vs)
	if err != nil {
		t.Fatal(err)
	}
	// Ranks 3.5, 1, 2, 5, 3.5 of five.
	if want := []float64{0.6, 0.1, 0.3, 0.9, 0.6}; !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }) {
		t.Errorf("got %v, want %v", got, want)
	}
	// What is done to one pass's scale does not move a position.
	for i := range vs {
		vs[i].At = vs[i].At*3 + 60
	}
	again, _ := beside.Positions(vs)
	if !slices.Equal(got, again) {
		t.Errorf("%v became %v", got, again)
	}
}

func FuzzCross(f *testing.F) {
	f.Add([]byte{1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233, 7, 8}, 1.0, 30.0)
	f.Fuzz(func(t *testing.T, raw []byte, ratio, at float64) {
		var p pairs
		for i := 0; i+1 < min(len(raw), 200); i += 2 {
			p.x, p.y = append(p.x, float64(raw[i])), append(p.y, float64(raw[i+1])-100)
		}
		if l, err := beside.PassingBablok(p.x, p.y, 0.95); err == nil && (math.IsNaN(l.Slope.Value+l.Intercept.Value) || math.IsNaN(l.Intercept.Lower) || math.IsNaN(l.Intercept.Upper)) {
			t.Fatalf("NaN in %+v", l)
		}
		if c, err := beside.Lin(p.x, p.y, 0.95); err == nil && math.IsNaN(c.Estimate.Lower+c.Estimate.Upper+c.Bias) {
			t.Fatalf("NaN in %+v", c)
		}
		c, err := beside.Cross(p.x, p.y, ratio, 0.95)
		if err != nil {
			return
		}
		b, _, err := c.Band(at)
		if err == nil && (math.IsNaN(b.Value) || math.IsNaN(b.Lower) || math.IsNaN(b.Upper)) {
			t.Fatalf("NaN in %+v of %+v", b, c)
		}
	})
}

func BenchmarkCross40(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	p := draw(r, 40, r.NormFloat64, 0.1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := beside.Cross(p.x, p.y, 0.5, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
