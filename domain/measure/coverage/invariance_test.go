package coverage_test

import (
	"math"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
)

// Millimetres or inches, port or starboard, one window before another: the chance to meet
// a flaw does not depend on them, and a density goes with one over the area.
func TestUnitsSidesAndOrderDoNotMatter(t *testing.T) {
	t.Parallel()
	type mm = unit.Millimetres
	g, inches := coverage.Grid{Along: 500, Down: 300, Pad: 40}, coverage.Grid{Along: 500 / 25.4, Down: 300 / 25.4, Pad: 40 / 25.4}
	turned := coverage.Grid{Along: 300, Down: 500, Pad: 40}
	for _, flaw := range []mm{30, 200, 400, 700} {
		a, _ := g.Chance(flaw)
		b, _ := inches.Chance(flaw / 25.4)
		c, _ := turned.Chance(flaw)
		if math.Abs(a-b) > 1e-12 || math.Abs(a-c) > 1e-12 {
			t.Errorf("%v mm: %v, %v, %v", flaw, a, b, c)
		}
	}
	region := coverage.Outline{{}, {Along: 6000}, {Along: 6000, Down: 1500}, {Down: 1500}}
	windows := []coverage.Window{
		{At: coverage.Point{Along: 700, Down: 300}, Width: 100, Height: 100},
		{At: coverage.Point{Along: 2500, Down: 900}, Width: 200, Height: 50},
		{At: coverage.Point{Along: 5000, Down: 500}},
	}
	var mirrored []coverage.Window
	for _, w := range slices.Backward(windows) {
		w.At.Along = 6000 - w.At.Along - w.Width
		mirrored = append(mirrored, w)
	}
	a, err := coverage.Chance(region, windows, 150, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	b, err := coverage.Chance(region, mirrored, 150, 0, 1)
	if err != nil || a.Level != 0 || math.Abs(a.Value-b.Value) > 1e-12 {
		t.Errorf("%v and %v, %v", a, b, err)
	}
	x, _ := coverage.Density(7, 0.5, 0.95)
	y, _ := coverage.Density(7, 5, 0.95)
	for _, v := range [][2]float64{{x.Value, y.Value}, {x.Lower, y.Lower}, {x.Upper, y.Upper}} {
		if math.Abs(v[0]-10*v[1]) > 1e-9 {
			t.Errorf("%+v on a tenth of the area of %+v", x, y)
		}
	}
	ab, _ := coverage.Compare(4, 1, 11, 2, 0.95)
	ba, _ := coverage.Compare(11, 2, 4, 1, 0.95)
	if math.Abs(ab.P-ba.P) > 1e-12 || math.Abs(ab.Ratio.Value*ba.Ratio.Value-1) > 1e-12 || math.Abs(ab.Ratio.Lower*ba.Ratio.Upper-1) > 1e-9 {
		t.Errorf("%+v the other way round is %+v", ab, ba)
	}
}
