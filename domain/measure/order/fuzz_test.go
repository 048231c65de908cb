package order_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// What is known of a median by order holds whatever the limits and ranges hide.
func FuzzSpans(f *testing.F) {
	f.Add([]byte{1, 2, 3, 200, 100, 50}, uint8(0))
	f.Fuzz(func(t *testing.T, raw []byte, shift uint8) {
		var vs []measure.Value
		for i, b := range raw {
			at := measure.Twentieth(b)
			vs = append(vs, measure.Value{At: at, Limit: measure.Limit((int(b) + i + int(shift)) % 4), Low: at - measure.Twentieth(i%5), High: at + 3})
		}
		m, err := order.MedianOf(vs)
		if err != nil {
			return
		}
		if m.Low > m.High {
			t.Fatalf("median %+v of %v", m, vs)
		}
		d, err := order.MADOf(vs, m)
		if err != nil || math.IsNaN(d.Low) || d.Low > d.High || d.Low < 0 {
			t.Fatalf("deviation %+v, %v, of %v", d, err, vs)
		}
		low, high, err := order.MeanOf(vs)
		if err != nil || math.IsNaN(low+0) || math.IsNaN(high) || low > high {
			t.Fatalf("mean %v to %v, %v, of %v", low, high, err, vs)
		}
	})
}

func FuzzShiftAndOutliers(f *testing.F) {
	f.Add([]byte{1, 2, 3, 200, 100, 50, 7}, 0.5, 0.95)
	f.Add([]byte{0, 0, 0, 0}, 1e300, 0.5)
	f.Fuzz(func(t *testing.T, raw []byte, size, level float64) {
		x := make([]float64, min(len(raw), 40))
		for i := range x {
			x[i] = size * (float64(raw[i]) - 100)
		}
		if e, err := order.Shift(x, x[len(x)/2:], level); err == nil && (math.IsNaN(e.Value) || e.Lower > e.Upper) {
			t.Fatalf("shift %+v of %v", e, x)
		}
		if s, n, err := order.ESD(x, 2, 0.05); err == nil {
			for _, one := range s {
				if math.IsNaN(one.G) || math.IsNaN(one.Critical) || n > 2 {
					t.Fatalf("%+v of %v", s, x)
				}
			}
		}
		if low, high, err := order.Fences(x, 1.5, order.Type7); err == nil && low > high {
			t.Fatalf("fences %v, %v of %v", low, high, x)
		}
		if s, err := order.Sn(x); err == nil && !(s >= 0) {
			t.Fatalf("Sn %v of %v", s, x)
		}
		if m, err := order.MomentsOf(x); err == nil && math.IsNaN(m.Mean+m.SD+m.Lag1+m.Skew) {
			t.Fatalf("%+v of %v", m, x)
		}
	})
}
