package measure_test

import (
	"errors"
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
)

func TestBoundsFollowTheLimitFlag(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		v         measure.Value
		low, high float64
	}{
		"an exact reading is a point":          {measure.Value{At: 706}, 35.3, 35.3},
		"below the scale is open downwards":    {measure.Value{At: 0, Limit: measure.Below}, math.Inf(-1), 0},
		"above the scale is open upwards":      {measure.Value{At: 2000, Limit: measure.Above}, 100, math.Inf(1)},
		"a range keeps both ends as they were": {measure.Value{At: 350, Limit: measure.Range, Low: 300, High: 400}, 15, 20},
	} {
		if low, high := c.v.Bounds(); low != c.low || high != c.high {
			t.Errorf("%s: got [%v, %v], want [%v, %v]", name, low, high, c.low, c.high)
		}
	}
}

func TestWhatIsNotFiniteIsNamed(t *testing.T) {
	t.Parallel()
	err := measure.Finite("x", 1, math.NaN())
	var arg *measure.ArgumentError
	if !errors.As(err, &arg) || arg.Argument != "x[1]" {
		t.Fatalf("got %v, want an error that names x[1]", err)
	}
}
