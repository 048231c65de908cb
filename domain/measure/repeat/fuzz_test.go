package repeat_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure/repeat"
)

func FuzzKitAndCharts(f *testing.F) {
	f.Add([]byte{3, 1, 2, 3, 200, 9, 9, 9, 4, 4, 4, 4}, uint8(2), 1.0, 0.2, 3.0)
	f.Add([]byte{0, 0, 0, 0}, uint8(1), 1e300, 1.0, 1e-300)
	f.Fuzz(func(t *testing.T, raw []byte, people uint8, size, lambda, width float64) {
		n := int(people%4) + 1
		x := make([]float64, 0, len(raw))
		var spots [][][]float64
		for i, b := range raw {
			x = append(x, size*(float64(b)-100))
			if i%(2*n) == 0 {
				spots = append(spots, make([][]float64, n))
			}
			last := spots[len(spots)-1]
			last[i%n] = append(last[i%n], x[i])
		}
		if k, err := repeat.OfKit(spots, 0.95); err == nil {
			for _, v := range []float64{k.Person, k.Taste, k.Repeatability.S, k.Reproducibility.S, k.Reproducibility.Estimate.Lower, k.Reproducibility.Estimate.Upper} {
				if math.IsNaN(v) {
					t.Fatalf("%+v of %v", k, spots)
				}
			}
		}
		if sessions, pooled, err := repeat.Course(spots, 0.1, 0.05); err == nil {
			for _, s := range sessions {
				if !(s.P >= 0 && s.P <= 1) || math.IsNaN(pooled.S) {
					t.Fatalf("%+v", s)
				}
			}
		}
		if c, err := repeat.IndividualsChart(x, len(x)); err == nil && math.IsNaN(c.Mean+c.Sigma+c.RangeLimit) {
			t.Fatalf("%+v of %v", c, x)
		}
		if points, err := repeat.EWMA(x, 0, 1, lambda, width); err == nil {
			for _, p := range points {
				if math.IsNaN(p.Value) || math.IsNaN(p.Lower) || p.Lower > p.Upper {
					t.Fatalf("%+v of %v", p, x)
				}
			}
		}
	})
}
