package baseline_test

import (
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
)

func Example() {
	var dry []baseline.Place // six dry places, read in tenths of a unit
	for i, tenths := range []int32{100, 105, 110, 111, 120, 140} {
		dry = append(dry, baseline.Place{
			Value: measure.Value{At: measure.FromTenths(tenths)},
			Side:  []baseline.Side{baseline.Port, baseline.Starboard}[i%2],
			Above: 400, Surface: "bare gelcoat",
		})
	}
	var under []measure.Value
	for _, tenths := range []int32{300, 310, 320} {
		under = append(under, measure.Value{At: measure.FromTenths(tenths)})
	}
	b, err := baseline.Of(dry, under, baseline.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dry level %.2f units, scatter %.2f\n", b.Median.Low.Units(), b.Scatter)
	c, _ := b.Of(under[1])
	fmt.Printf("contrast %.2f units, %.0f times the dry scatter\n", c.Estimate.Value, c.Times[0])

	b, _ = baseline.Of(dry[:4], under, baseline.Defaults())
	for _, r := range b.Reasons {
		fmt.Println(r.Sentence())
	}
	// Output:
	// dry level 11.05 units, scatter 1.11
	// contrast 19.95 units, 18 times the dry scatter
	// 4 usable dry places, 6 needed: read more topsides places clear of the boot-top.
}
