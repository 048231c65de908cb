package where_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/where"
)

// strip is a window along one row of the skin, a cell every 100 mm.
func strip(cols int, across float64) where.Window {
	return where.Window{Corner: where.Point{Y: across}, Step: where.Point{X: 100, Y: 1}, Cols: cols, Rows: 1}
}

func hatched(t testing.TB, points []where.Point, y []float64, v where.Variogram, w where.Window) ([]bool, where.Map) {
	t.Helper()
	k, err := where.Krige(points, y, v, true)
	if err != nil {
		t.Fatal(err)
	}
	m, err := k.Map(w)
	if err != nil {
		t.Fatal(err)
	}
	hatch, err := m.Unknown(where.HatchFrom)
	if err != nil {
		t.Fatal(err)
	}
	return hatch, m
}

// A stretch that could not be reached, and what lies beyond the last station, is hatched;
// between read places nothing is. Reading more never hatches more.
func TestAMapHatchesWhatIsNotKnown(t *testing.T) {
	t.Parallel()
	places, _ := grid(15, 6)
	r := rand.New(rand.NewPCG(8, 1))
	y := hull(places, r, 1)
	points, err := where.Unrolled(places, 1)
	if err != nil {
		t.Fatal(err)
	}
	v := where.Variogram{Form: where.Spherical, Nugget: 1, Sill: 16, Range: 900}
	w := strip(110, 600) // to 11 m; the last station stands at 7 m
	all, _ := hatched(t, points, y, v, w)
	var few []where.Point
	var fewY []float64
	for i, p := range points {
		if p.X < 2400 || p.X > 5100 { // props and a cradle in the way from 2.5 to 5 m
			few, fewY = append(few, p), append(fewY, y[i])
		}
	}
	gap, _ := hatched(t, few, fewY, v, w)
	for i := range all {
		x := float64(100 * i)
		if all[i] && !gap[i] {
			t.Errorf("%.0f mm: reading more places hatched it", x)
		}
		if want := x > 7000+900; all[i] != want && math.Abs(x-7700) > 300 {
			t.Errorf("%.0f mm, all read: hatched %v", x, all[i])
		}
		if x <= 2000 || x >= 5500 && x <= 7000 {
			if gap[i] {
				t.Errorf("%.0f mm: hatched between read places", x)
			}
		} else if x >= 3000 && x <= 4500 && !gap[i] {
			t.Errorf("%.0f mm: not hatched, and nothing was read within 700 mm", x)
		}
	}
}

// Where it is hatched the surface is off by as much as a guess of the mean; where it is
// not, by less. Fields with the covariance that the model states.
func TestHatchedCellsAreNotKnown(t *testing.T) {
	t.Parallel()
	places, _ := grid(5, 4)
	points, err := where.Unrolled(places, 1)
	if err != nil {
		t.Fatal(err)
	}
	v := where.Variogram{Form: where.Exponential, Nugget: 0.5, Sill: 4, Range: 400}
	w := strip(40, 300)
	all := slices.Clone(points)
	for c := range w.Cols {
		all = append(all, where.Point{X: float64(100 * c), Y: 300.5}) // beside the places, so that no two are one
	}
	l := lowerFactor(all, v)
	r := rand.New(rand.NewPCG(9, 1))
	var off, n [2]float64
	for range 400 {
		field, e := make([]float64, len(all)), make([]float64, len(all))
		for i := range e {
			e[i] = r.NormFloat64()
			for j := range i + 1 {
				field[i] += l[i][j] * e[j]
			}
		}
		y := make([]float64, len(points))
		for i := range y {
			y[i] = 20 + field[i] + math.Sqrt(v.Nugget)*r.NormFloat64()
		}
		hatch, m := hatched(t, points, y, v, w)
		for c, unknown := range hatch {
			d := m.Value[c] - 20 - field[len(points)+c]
			at := 0
			if unknown {
				at = 1
			}
			off[at], n[at] = off[at]+d*d, n[at]+1
		}
	}
	known, unknown := math.Sqrt(off[0]/n[0]), math.Sqrt(off[1]/n[1])
	t.Logf("off by %.2f units where drawn (%.0f cells), %.2f where hatched (%.0f); knowing nothing %.2f", known, n[0], unknown, n[1], math.Sqrt(v.Sill))
	if n[0] == 0 || n[1] == 0 || known > 0.8*math.Sqrt(v.Sill) || unknown < 0.87*math.Sqrt(v.Sill) {
		t.Error("the hatching does not part known from unknown")
	}
}

// Zero and unit of the scale, unit of length and the two sides leave the hatching alone.
func TestHatchingDoesNotDependOnScaleOrSide(t *testing.T) {
	t.Parallel()
	places, _ := grid(6, 4)
	y := hull(places, rand.New(rand.NewPCG(3, 1)), 1)
	v := where.Variogram{Form: where.Spherical, Nugget: 1, Sill: 9, Range: 700}
	points, err := where.Unrolled(places, 1)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := hatched(t, points, y, v, strip(50, 250))
	moved, y2 := slices.Clone(points), slices.Clone(y)
	for i := range moved {
		moved[i] = where.Point{X: 2 * points[i].X, Y: -2 * points[i].Y}
		y2[i] = 3*y[i] - 40
	}
	w := where.Window{Corner: where.Point{Y: -500}, Step: where.Point{X: 200, Y: 2}, Cols: 50, Rows: 1}
	b, _ := hatched(t, moved, y2, where.Variogram{Form: v.Form, Nugget: 9 * v.Nugget, Sill: 9 * v.Sill, Range: 2 * v.Range}, w)
	if !slices.Equal(a, b) {
		t.Errorf("%v\n%v", a, b)
	}
	for _, share := range []float64{0, 1.1, math.NaN(), math.Inf(1)} {
		var arg *measure.ArgumentError
		if _, err := (where.Map{}).Unknown(share); !errors.As(err, &arg) || arg.Argument != "share" {
			t.Errorf("a share of %v gave %v", share, err)
		}
	}
}

func ExampleMap_Unknown() {
	points := []where.Point{{X: 0}, {X: 500}, {X: 1000}, {X: 0, Y: 300}, {X: 500, Y: 300}, {X: 1000, Y: 300}}
	model := where.Variogram{Form: where.Spherical, Nugget: 1, Sill: 12, Range: 900}
	k, err := where.Krige(points, []float64{20, 22, 21, 24, 31, 25}, model, true)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := k.Map(where.Window{Corner: where.Point{Y: 150}, Step: where.Point{X: 500, Y: 1}, Cols: 6, Rows: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	hatch, err := m.Unknown(where.HatchFrom)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, unknown := range hatch {
		if unknown {
			fmt.Printf("%d mm: not known\n", 500*i)
		} else {
			fmt.Printf("%d mm: %.0f units\n", 500*i, m.Value[i])
		}
	}
	// Output:
	// 0 mm: 22 units
	// 500 mm: 26 units
	// 1000 mm: 23 units
	// 1500 mm: not known
	// 2000 mm: not known
	// 2500 mm: not known
}
