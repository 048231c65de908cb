package diffusion_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Fick's law knows no unit: what is lost depends on D t/h² alone, in the series and in the
// solver, and a wall turned round with its faces is the same wall.
func TestOnlyDTOverHSquaredMatters(t *testing.T) {
	t.Parallel()
	for _, k := range []float64{0.1, 3, 25.4} {
		a, err := diffusion.Lost(1e-12, 8, 30, diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := diffusion.Lost(1e-12, unit.Millimetres(8*k), unit.Days(30*k*k), diffusion.OneFace)
		c, _ := diffusion.Lost(unit.Diffusivity(1e-12*k), 8, unit.Days(30/k), diffusion.OneFace)
		if math.Abs(a-b) > 1e-12 || math.Abs(a-c) > 1e-12 {
			t.Errorf("scaled by %v: %v, %v, %v", k, a, b, c)
		}
	}
	gelcoat := diffusion.Layer{Thickness: 0.6, D: 0.8e-12, ActivationEnergy: 40e3, Cells: 12}
	laminate := diffusion.Layer{Thickness: 6, D: 1e-12, ActivationEnergy: 40e3, Cells: 30}
	mean := func(outside, inside diffusion.Boundary, layers ...diffusion.Layer) float64 {
		w, err := diffusion.NewWall(layers...)
		if err != nil {
			t.Fatal(err)
		}
		p, err := w.Uniform(0.9)
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			if p, err = w.Expose(p, []diffusion.Exposure{{Days: 2, At: 12, Outside: outside, Inside: inside}}); err != nil {
				t.Fatal(err)
			}
		}
		m, _ := w.Mean(p)
		return m
	}
	a := mean(diffusion.Air(60), diffusion.Air(80), gelcoat, laminate)
	if b := mean(diffusion.Air(80), diffusion.Air(60), laminate, gelcoat); math.Abs(a-b) > 1e-9 {
		t.Errorf("turned round the wall holds %v, was %v", b, a)
	}
}
