package beside_test

import (
	"fmt"

	"boottop.example/practice/domain/measure/beside"
)

func ExampleCross() {
	first := []float64{11, 14, 16, 19, 22, 25, 27, 31, 34, 38, 41, 45, 49, 54, 58, 60}
	second := []float64{22, 23, 28, 33, 34, 41, 41, 50, 52, 57, 64, 67, 75, 79, 88, 88}
	c, err := beside.Cross(first, second, 1, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, _ := c.Judge(40, 74, 8)
	fmt.Printf("expected %.0f to %.0f, read 74: %v, by %.0f units\n", v.Band.Lower, v.Band.Upper, v.Answer, v.Beyond)
	v, _ = c.Judge(40, 74, 2)
	fmt.Println("if 2 units matter:", v.Answer, v.Why)
	// Output:
	// expected 58 to 64, read 74: beyond the band, by 10 units
	// if 2 units matter: not comparable [band-too-wide]
}
