package order_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/order"
)

var sizes = []int{6, 12, 40}

func within(e measure.Estimate, truth float64) bool { return e.Lower <= truth && truth <= e.Upper }

func TestTheMediansIntervalCoversWhatItStates(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range sizes {
			var stated float64
			seen := check.Share(uint64(100*i+n), func(r *rand.Rand) bool {
				e, _ := order.Median(p.Fill(r, n), 0.95)
				return within(e, p.Median)
			})
			e, _ := order.Median(p.Fill(rand.New(rand.NewPCG(1, 1)), n), 0.95)
			stated = e.Level
			check.AtLeast(t, fmt.Sprintf("median, %s, n = %d", p.Name, n), seen, stated)
			if n == 6 && stated != 0.96875 {
				t.Errorf("n = 6 states %v, want 0.96875", stated)
			}
			if p.Name == "tied" && !e.Has("tied") {
				t.Error("tied readings are not said")
			}
			if p.Name == "tied" && n == 6 && seen < 0.99 {
				t.Errorf("on whole units n = 6 covers %v, more than on a fine scale was claimed", seen)
			}
		}
	}
}

func TestHodgesLehmannCoversWhereValuesAreSymmetric(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range sizes {
			var level float64
			e, _ := order.HodgesLehmann(p.Fill(rand.New(rand.NewPCG(1, 1)), n), 0.95)
			level = e.Level
			if !e.Has("leans-on-symmetry") {
				t.Error("the lean on symmetry is not said")
			}
			seen := check.Share(uint64(1000+100*i+n), func(r *rand.Rand) bool {
				e, _ := order.HodgesLehmann(p.Fill(r, n), 0.95)
				return within(e, p.Median)
			})
			what := fmt.Sprintf("Hodges-Lehmann, %s, n = %d", p.Name, n)
			if p.Name != "skewed" {
				check.AtLeast(t, what, seen, level)
				continue
			}
			// Its centre is not the median there: this is what the note warns of.
			t.Logf("%s: covers the median %.1f %%", what, 100*seen)
			if n == 40 && seen > 0.90 {
				t.Errorf("%s: the warning would be needless, it covers %v", what, seen)
			}
		}
	}
}

func TestShiftCoversWhatItStates(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range sizes[:2] {
			e, _ := order.Shift(p.Fill(rand.New(rand.NewPCG(1, 1)), n), p.Fill(rand.New(rand.NewPCG(2, 1)), n), 0.95)
			seen := check.Share(uint64(2000+100*i+n), func(r *rand.Rand) bool {
				e, _ := order.Shift(p.Fill(r, n), p.Fill(r, n), 0.95)
				return within(e, 0)
			})
			check.AtLeast(t, fmt.Sprintf("shift, %s, n = %d", p.Name, n), seen, e.Level)
		}
	}
}

// Student's interval covers where values are normal, or nearly so on whole units.
// Of skewed ones it covers too little, about 89 % at n = 6, and then its note is there.
func TestStudentsIntervalSaysWhereItDoesNotHold(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range sizes {
			var quiet int
			seen := check.Share(uint64(3000+100*i+n), func(r *rand.Rand) bool {
				e, _ := order.Mean(p.Fill(r, n), 0.95)
				return within(e, p.Mean)
			})
			r := rand.New(rand.NewPCG(9, 9))
			for range 200 {
				if e, _ := order.Mean(p.Fill(r, n), 0.95); !e.Has("leans-on-normal") {
					quiet++
				}
			}
			what := fmt.Sprintf("Student, %s, n = %d", p.Name, n)
			switch {
			case p.Name == "normal":
				check.About(t, what, seen)
			case p.Name == "tied":
				check.AtLeast(t, what, seen, 0.95)
			default:
				t.Logf("%s: covers %.1f %%, %d of 200 without the note", what, 100*seen, quiet)
				if quiet > 20 || n == 6 && (seen < 0.87 || seen > 0.91) {
					t.Errorf("%s: covers %v, note missing in %d of 200", what, seen, quiet)
				}
			}
		}
	}
}

func TestSixReadingsAreNeededFor95Percent(t *testing.T) {
	t.Parallel()
	e, err := order.Median([]float64{1, 2, 3, 4, 5}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(e.Lower, -1) || !math.IsInf(e.Upper, 1) || !e.Has("too-few") || e.Level != 0 {
		t.Errorf("five readings give %+v", e)
	}
	if n := order.NeededForMedian(0.95); n != 6 {
		t.Errorf("%d needed, want 6", n)
	}
}

// A shift of the zero, another unit, another order of readings, a mirrored scale.
func TestEstimatesFollowShiftScaleAndOrder(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		n := 6 + r.IntN(20)
		x := make([]float64, n)
		for i := range x {
			x[i] = r.NormFloat64() * 8
		}
		shift, scale := r.NormFloat64()*100, 0.1+3*r.Float64()
		if r.IntN(2) == 0 {
			scale = -scale
		}
		y := make([]float64, n)
		for i, j := range r.Perm(n) {
			y[j] = shift + scale*x[i]
		}
		for name, f := range map[string]func([]float64) (measure.Estimate, error){
			"median": func(x []float64) (measure.Estimate, error) { return order.Median(x, 0.9) },
			"mean":   func(x []float64) (measure.Estimate, error) { return order.Mean(x, 0.9) },
			"walsh":  func(x []float64) (measure.Estimate, error) { return order.HodgesLehmann(x, 0.9) },
			"huber":  func(x []float64) (measure.Estimate, error) { return order.Huber(x, 1.5, 0) },
		} {
			a, _ := f(x)
			b, _ := f(y)
			low, high := shift+scale*a.Lower, shift+scale*a.Upper
			if scale < 0 {
				low, high = high, low
			}
			if off(b.Value, shift+scale*a.Value) || name != "huber" && (off(b.Lower, low) || off(b.Upper, high)) {
				t.Fatalf("%s: %+v became %+v by %v + %v x", name, a, b, shift, scale)
			}
		}
		for name, f := range map[string]func([]float64) (float64, error){"MAD": order.MAD, "Sn": order.Sn, "Qn": order.Qn} {
			a, _ := f(x)
			b, _ := f(y)
			if off(b, math.Abs(scale)*a) {
				t.Fatalf("%s: %v became %v under a scale of %v", name, a, b, scale)
			}
		}
	}
}

func off(a, b float64) bool { return math.Abs(a-b) > 1e-9*(1+math.Abs(a)) }

func FuzzEstimates(f *testing.F) {
	f.Add(1.0, 2.0, 3.0, 4.0, 1e300, 0.95, 0.5)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.5, 1.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, level, p float64) {
		x := []float64{a, b, c, d, e, a}
		finite := func(name string, err error, vs ...float64) {
			if err != nil {
				return
			}
			for _, v := range vs {
				if math.IsNaN(v) {
					t.Fatalf("%s of %v gives NaN", name, x)
				}
			}
		}
		m, err := order.Median(x, level)
		finite("Median", err, m.Value, m.Lower, m.Upper)
		m, err = order.HodgesLehmann(x, level)
		finite("HodgesLehmann", err, m.Value, m.Lower, m.Upper)
		m, err = order.Mean(x, level)
		finite("Mean", err, m.Value, m.Lower, m.Upper)
		m, err = order.Huber(x, 1.5, 0.1)
		finite("Huber", err, m.Value)
		q, err := order.Quantile(x, p, order.Type8)
		finite("Quantile", err, q)
		q, err = order.Qn(x)
		finite("Qn", err, q)
		s, err := order.Grubbs(x, order.Both, 0.05)
		finite("Grubbs", err, s.G, s.Critical)
		z, err := order.ModifiedZ(x, 0)
		finite("ModifiedZ", err, z...)
	})
}

func BenchmarkMedian(b *testing.B) {
	x := check.Populations()[0].Fill(rand.New(rand.NewPCG(1, 1)), 300)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := order.Median(x, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHodgesLehmann(b *testing.B) {
	x := check.Populations()[0].Fill(rand.New(rand.NewPCG(1, 1)), 60)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := order.HodgesLehmann(x, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
