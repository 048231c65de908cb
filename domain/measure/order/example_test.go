package order_test

import (
	"fmt"

	"boottop.example/practice/domain/measure/order"
)

func ExampleMedian() {
	placements := []float64{34.5, 35.0, 35.5, 36.0, 36.5, 41.0} // scale units
	e, err := order.Median(placements, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, %.1f to %.1f, covers %s\n", e.Value, e.Lower, e.Upper, order.Percent(e.Level))

	e, _ = order.Median(placements[:3], 0.95)
	fmt.Println(e.Notes[0].Text)
	// Output:
	// 35.75, 34.5 to 41.0, covers 96.9 %
	// 6 readings needed for an interval of 95 %, 3 given.
}

func ExampleGrubbs() {
	block := []float64{20.0, 20.1, 19.9, 20.0, 20.1, 23.0} // checks on one block
	s, err := order.Grubbs(block, order.Both, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("check %d: G %.2f, chance reaches %.2f: a slip %v\n", s.Index+1, s.G, s.Critical, s.Outlier)
	// Output: check 6: G 2.04, chance reaches 1.89: a slip true
}
