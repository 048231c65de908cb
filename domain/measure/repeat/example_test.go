package repeat_test

import (
	"fmt"

	"boottop.example/practice/domain/measure/repeat"
)

func ExampleOf() {
	people := [][]float64{ // one spot, three people, three placements each
		{34.0, 34.5, 33.5},
		{36.0, 35.5, 36.5},
		{34.5, 35.0, 35.5},
	}
	p, err := repeat.Of(people, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("s_r %.2f, s_R %.2f (%.2f to %.1f) units\n", p.Repeatability.S, p.Reproducibility.S,
		p.Reproducibility.Estimate.Lower, p.Reproducibility.Estimate.Upper)
	fmt.Printf("two people differ by more than %.1f in 1 of 20 cases\n", repeat.Limit(p.Reproducibility.S))
	// Output:
	// s_r 0.50, s_R 1.08 (0.66 to 6.3) units
	// two people differ by more than 3.0 in 1 of 20 cases
}

func ExampleSmallestDifference() {
	d, err := repeat.OfPlacements([][]float64{{20, 21}, {33, 32.5}, {27, 27.5}}, 0.5, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	least, _ := repeat.SmallestDifference(d, 3, 3, 0.95)
	fmt.Printf("s_r %.2f, readings of three placements must differ by %.2f\n", d.S, least)
	fmt.Println(d.Estimate.Notes[1].Text)
	// Output:
	// s_r 0.50, readings of three placements must differ by 1.51
	// 3 re-placements; 30 are needed before anything is judged by them.
}
