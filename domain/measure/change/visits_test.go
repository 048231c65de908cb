package change_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/order"
)

func TestOverVisitsIsTheTradesVisitTable(t *testing.T) {
	t.Parallel()
	var table struct {
		Rows []struct {
			Visits int
			Change float64
		}
	}
	check.Load(t, "visits.json", &table)
	for _, row := range table.Rows {
		got, err := change.OverVisits(row.Visits, 0.8, 0.05)
		if err != nil || math.Abs(got.Shown-row.Change) > 0.05 {
			t.Errorf("%d visits: %.2f, %v; want %.1f", row.Visits, got.Shown, err, row.Change)
		}
	}
	for _, bad := range []struct {
		n           int
		power, rate float64
	}{{2, 0.8, 0.05}, {5, 0.05, 0.05}, {5, 1, 0.05}, {5, 0.8, 0}, {5, 0.8, math.NaN()}} {
		if _, err := change.OverVisits(bad.n, bad.power, bad.rate); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}

// Lines of the change stated are called so as often as stated: by simulation, slopes
// fitted here by hand.
func TestOverVisitsIsFoundAsOftenAsStated(t *testing.T) {
	t.Parallel()
	for _, n := range []int{4, 5, 8} {
		stated, err := change.OverVisits(n, 0.8, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		const draws = 20000
		share := check.ShareOf(draws, uint64(n), func(r *rand.Rand) bool { return lineShown(r, n, stated.True) })
		if math.Abs(share-0.8) > 4*math.Sqrt(0.8*0.2/draws) {
			t.Errorf("%d visits: a change of %.2f is shown in %.3f, want 0.8", n, stated.True, share)
		}
	}
}

// lineShown simulates n visits over which the level rises by total, and tests the slope.
func lineShown(r *rand.Rand, n int, total float64) bool {
	var sy, sxy, sxx float64
	middle := float64(n-1) / 2
	y := make([]float64, n)
	for k := range y {
		x := float64(k) - middle
		y[k] = total*float64(k)/float64(n-1) + r.NormFloat64()
		sy, sxy, sxx = sy+y[k], sxy+x*y[k], sxx+x*x
	}
	slope, mean, rest := sxy/sxx, sy/float64(n), 0.0
	for k := range y {
		d := y[k] - mean - slope*(float64(k)-middle)
		rest += d * d
	}
	df := float64(n - 2)
	return math.Abs(slope)/math.Sqrt(rest/df/sxx) > order.T(0.975, df)
}
