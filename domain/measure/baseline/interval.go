package baseline

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// medianInterval is order.Median for values with limit flags: the ranks are the
// same, and the open ends sort to the outside.
func medianInterval(vs []measure.Value, m order.Span, level float64) measure.Estimate {
	low, high := make([]float64, len(vs)), make([]float64, len(vs))
	for i, v := range vs {
		s := order.SpanOf(v)
		low[i], high[i] = finite(s.Low), finite(s.High)
	}
	a, _ := order.Median(low, level)
	z, _ := order.Median(high, level)
	e := a
	e.Value, e.Upper = m.Low.Units(), z.Upper
	if e.Lower <= finite(order.OpenLow) {
		e.Lower = math.Inf(-1)
	}
	if e.Upper >= finite(order.OpenHigh) {
		e.Upper = math.Inf(1)
	}
	return e
}

// finite stands for an open end by a number beyond every scale, because order
// statistics take finite values only.
func finite(f order.Fortieth) float64 { return float64(f) / 40 }

func limited(vs []measure.Value) (n int) {
	for _, v := range vs {
		if v.Limit != measure.Exact {
			n++
		}
	}
	return n
}
