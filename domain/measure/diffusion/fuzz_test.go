package diffusion_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// The series and short-time forms, and what inverts them.
func FuzzSlab(f *testing.F) {
	f.Add(1e-12, 6.0, 21.0, 2.0, 0.5, true)
	f.Add(1e-20, 1e4, 1e6, 0.0, 1e-300, false)
	f.Add(1e-6, 1e-3, 1e-300, 1e-3, 0.999999999999, true)
	f.Fuzz(func(t *testing.T, d, thickness, days, depth, part float64, one bool) {
		faces := diffusion.BothFaces
		if one {
			faces = diffusion.OneFace
		}
		diff, wall := unit.Diffusivity(d), unit.Millimetres(thickness)
		if x, err := diffusion.Lost(diff, wall, unit.Days(days), faces); err == nil && !(x >= 0 && x <= 1) {
			t.Errorf("lost %v", x)
		}
		if x, err := diffusion.Level(unit.Millimetres(depth), diff, wall, unit.Days(days), faces); err == nil && !(x >= 0 && x <= 1) {
			t.Errorf("level %v", x)
		}
		if x, err := diffusion.LevelDeep(unit.Millimetres(depth), diff, unit.Days(days)); err == nil && !(x >= 0 && x <= 1) {
			t.Errorf("level deep in %v", x)
		}
		if x, err := diffusion.TimeToLose(part, diff, wall, faces); err == nil {
			if math.IsNaN(float64(x)) || x < 0 {
				t.Errorf("days %v", x)
			}
			if back, err := diffusion.Lost(diff, wall, x, faces); err == nil && math.Abs(back-part) > 1e-6 {
				t.Errorf("in %v days %v is lost, not %v", x, back, part)
			}
		}
		w := diffusion.Weighing{After: unit.Days(days), Gain: part}
		if x, _, err := diffusion.FromWeighings(wall, diffusion.Weighing{}, w, 2); err == nil && !(x > 0) {
			t.Errorf("diffusivity %v", x)
		}
		if x, err := diffusion.WithoutEdges(diff, wall, unit.Millimetres(depth), unit.Millimetres(days)); err == nil && !(x > 0 && x <= diff) {
			t.Errorf("without edges %v of %v", x, diff)
		}
	})
}
