package diffusion_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

func wall(t testing.TB, layers ...diffusion.Layer) *diffusion.Wall {
	t.Helper()
	w, err := diffusion.NewWall(layers...)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func uniform(t testing.TB, w *diffusion.Wall, level float64) diffusion.Profile {
	t.Helper()
	p, err := w.Uniform(level)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func expose(t testing.TB, w *diffusion.Wall, p diffusion.Profile, course ...diffusion.Exposure) diffusion.Profile {
	t.Helper()
	p, err := w.Expose(p, course)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func mean(t testing.TB, w *diffusion.Wall, p diffusion.Profile) float64 {
	t.Helper()
	m, err := w.Mean(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func seen(t testing.TB, w *diffusion.Wall, p diffusion.Profile, depth unit.Millimetres) float64 {
	t.Helper()
	s, err := w.Seen(p, depth)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var dryAir = diffusion.Exposure{At: 20, Inside: diffusion.Sealed()}

func dry(days unit.Days) diffusion.Exposure { e := dryAir; e.Days = days; return e }

func wet(days unit.Days) diffusion.Exposure {
	e := dryAir
	e.Days, e.Outside = days, diffusion.Wet()
	return e
}

func TestSolverAgreesWithTheSeries(t *testing.T) {
	t.Parallel()
	for faces, inside := range map[diffusion.Faces]diffusion.Boundary{
		diffusion.OneFace: diffusion.Sealed(), diffusion.BothFaces: {},
	} {
		w := wall(t, diffusion.Layer{Thickness: 10, D: 1e-12})
		for _, days := range []unit.Days{1, 3, 7, 21, 60, 240, 1000} {
			p := expose(t, w, uniform(t, w, 1), diffusion.Exposure{Days: days, At: 20, Inside: inside})
			lost, err := diffusion.Lost(1e-12, 10, days, faces)
			if err != nil {
				t.Fatal(err)
			}
			if got := mean(t, w, p); math.Abs(got-(1-lost)) > 0.002 {
				t.Errorf("after %v days, faces %d: %.5f is left, series %.5f", days, faces, got, 1-lost)
			}
			for c := range p {
				want, err := diffusion.Level(w.Depth(c), 1e-12, 10, days, faces)
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(p[c]-want) > 0.005 {
					t.Errorf("after %v days at %.2f mm: %.4f, series %.4f", days, float64(w.Depth(c)), p[c], want)
				}
			}
		}
	}
}

// Halving the time step halves the error: implicit Euler is of the first order.
// Halving the cells must not leave a larger one.
func TestSolverConverges(t *testing.T) {
	t.Parallel()
	lost, err := diffusion.Lost(1e-12, 10, 8, diffusion.OneFace)
	if err != nil {
		t.Fatal(err)
	}
	miss := func(cells, steps int) float64 {
		w := wall(t, diffusion.Layer{Thickness: 10, D: 1e-12, Cells: cells})
		course := make([]diffusion.Exposure, steps)
		for i := range course {
			course[i] = dry(8 / unit.Days(steps)) // at most an hour: one step each
		}
		return math.Abs(mean(t, w, expose(t, w, uniform(t, w, 1), course...)) - (1 - lost))
	}
	coarse, fine := miss(200, 192), miss(200, 384)
	if r := coarse / fine; r < 1.6 || r > 2.4 {
		t.Errorf("half the step left %.2g of %.2g", fine, coarse)
	}
	if a, b := miss(12, 1536), miss(48, 1536); b > a/3 {
		t.Errorf("four times the cells left %.2g of %.2g", b, a)
	}
}

// Walls of every small number of cells: elimination meets in the middle, and an even
// wall has no middle cell of its own. The steady level is a straight line.
func TestSteadyLevelIsAStraightLineForAnyNumberOfCells(t *testing.T) {
	t.Parallel()
	for cells := 1; cells <= 9; cells++ {
		w := wall(t, diffusion.Layer{Thickness: 5, D: 1e-12, Cells: cells})
		p := expose(t, w, uniform(t, w, 0.5), diffusion.Exposure{Days: 1e5, At: 20, Outside: diffusion.Air(70), Inside: diffusion.Wet()})
		for c := range p {
			if want := 0.7 + 0.3*float64(w.Depth(c))/5; math.Abs(p[c]-want) > 1e-9 {
				t.Errorf("%d cells, cell %d: %.12f, want %.12f", cells, c, p[c], want)
			}
		}
	}
}

// A half-space seen with weights exp(−x/l)/l keeps exp(D t/l²)·erfc(√(D t)/l) of its
// signal: the Laplace transform of Crank eq. 2.45 in x.
func TestSeenAgreesWithItsClosedForm(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 60, D: 1e-12, Cells: 120})
	for _, days := range []unit.Days{1, 7, 21, 60} {
		p := expose(t, w, uniform(t, w, 1), dry(days))
		for _, depth := range []unit.Millimetres{2, 4, 8} {
			x := math.Sqrt(1e-12*days.Seconds()) / depth.Metres()
			want := math.Exp(x*x) * math.Erfc(x)
			if got := seen(t, w, p, depth); math.Abs(got-want) > 0.003 {
				t.Errorf("%v days, %v mm: seen %.4f, closed form %.4f", days, depth, got, want)
			}
		}
	}
}

// The table of the trade notes, section 3: "What two instruments of different depth
// would see", computed there from the same assumptions by another program.
func TestTableOfTwoInstruments(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 10, D: 1e-12})
	depths := []unit.Millimetres{2, 4, 8}
	for _, row := range []struct {
		course []diffusion.Exposure
		want   [3]float64
		mean   float64
	}{
		{nil, [3]float64{1, 1, 1}, 1},
		{[]diffusion.Exposure{dry(1)}, [3]float64{.85, .92, .94}, .97},
		{[]diffusion.Exposure{dry(7)}, [3]float64{.68, .80, .86}, .91},
		{[]diffusion.Exposure{dry(21)}, [3]float64{.53, .68, .77}, .85},
		{[]diffusion.Exposure{dry(60)}, [3]float64{.39, .54, .64}, .74},
		{[]diffusion.Exposure{dry(240)}, [3]float64{.22, .33, .40}, .49},
		{[]diffusion.Exposure{dry(60), wet(2)}, [3]float64{.58, .66, .72}, 0},
		{[]diffusion.Exposure{dry(60), wet(2), dry(1)}, [3]float64{.47, .59, .68}, 0},
		{[]diffusion.Exposure{dry(60), wet(2), dry(7)}, [3]float64{.40, .55, .64}, 0},
	} {
		p := expose(t, w, uniform(t, w, 1), row.course...)
		for i, depth := range depths {
			if got := seen(t, w, p, depth); math.Abs(got-row.want[i]) > 0.0075 {
				t.Errorf("%v, %v mm: seen %.4f, table %.2f", row.course, depth, got, row.want[i])
			}
		}
		if got := mean(t, w, p); row.mean > 0 && math.Abs(got-row.mean) > 0.0055 {
			t.Errorf("%v: mean %.4f, table %.2f", row.course, got, row.mean)
		}
	}
}

// The depth at which a solved profile has fallen to a half is the drying depth.
func TestDepthOfAHalfIsTheDryingDepth(t *testing.T) {
	t.Parallel()
	w := wall(t, diffusion.Layer{Thickness: 10, D: 1e-12, Cells: 100})
	for _, days := range []unit.Days{7, 21, 60} {
		p := expose(t, w, uniform(t, w, 1), dry(days))
		got, err := w.DepthOf(p, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		e, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: days, At: 20}}, 10, diffusion.PolyesterLaminate())
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got)-e.Value) > 0.02 {
			t.Errorf("after %v days: solved %.3f mm, closed form %.3f mm", days, float64(got), e.Value)
		}
		if at, err := w.At(p, got); err != nil || math.Abs(at-0.5) > 1e-9 {
			t.Errorf("at that depth the level is %v, %v", at, err)
		}
		deep, err := diffusion.LevelDeep(got, 1e-12, days)
		if err != nil || math.Abs(deep-0.5) > 0.01 {
			t.Errorf("a half-space has %v there, %v", deep, err)
		}
	}
}

// Two unlike layers, outer face in dry air, inner sealed: the slowest mode decays at
// the first root λ of
//
//	D₁S₁k₁ cos(k₁a) cos(k₂b) = D₂S₂k₂ sin(k₁a) sin(k₂b),  kᵢ = √(λ/Dᵢ)
//
// which follows from sin(k₁x) outside, cos(k₂(L−x)) inside, and equal level and flow
// where they meet (Carslaw and Jaeger 1959 §12.8 treats such walls; from memory).
func TestTwoLayersDecayAsTheirFirstMode(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ a, b, d1, d2, s1, s2 float64 }{
		{0.5, 9, 0.1e-12, 1e-12, 1, 1}, {1, 6, 3e-12, 0.5e-12, 0.7, 1.3}, {3, 3, 1e-12, 1e-12, 1, 1},
	} {
		root := firstMode(c.a/1000, c.b/1000, c.d1, c.d2, c.s1, c.s2)
		w := wall(t, diffusion.Layer{Thickness: unit.Millimetres(c.a), D: unit.Diffusivity(c.d1), Capacity: c.s1, Cells: 40},
			diffusion.Layer{Thickness: unit.Millimetres(c.b), D: unit.Diffusivity(c.d2), Capacity: c.s2, Cells: 80})
		// Late enough that only the slowest mode is left, and long enough to see it decay.
		life := unit.Days(1 / root / unit.SecondsPerDay)
		late := expose(t, w, uniform(t, w, 1), dry(life))
		later := expose(t, w, late, dry(life))
		got := -math.Log(mean(t, w, later)/mean(t, w, late)) / life.Seconds()
		if math.Abs(got/root-1) > 0.005 {
			t.Errorf("%+v: decays at %.5g a second, first mode %.5g", c, got, root)
		}
	}
}

// firstMode finds the least root by bisection: up to it both angles stay below π/2.
func firstMode(a, b, d1, d2, s1, s2 float64) float64 {
	short := func(l float64) bool { // before the root the left side is the greater
		k1, k2 := math.Sqrt(l/d1), math.Sqrt(l/d2)
		return k1*a < math.Pi/2 && k2*b < math.Pi/2 &&
			d1*s1*k1*math.Cos(k1*a)*math.Cos(k2*b) > d2*s2*k2*math.Sin(k1*a)*math.Sin(k2*b)
	}
	low, high := 0.0, 1e-4
	for range 200 {
		if mid := (low + high) / 2; short(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// threeLayers is a coated hull: coating, gelcoat, laminate, each with its own rule.
func threeLayers() []diffusion.Layer {
	return []diffusion.Layer{
		{Thickness: 0.3, D: 0.1e-12, ActivationEnergy: 45e3, Capacity: 0.8},
		{Thickness: 0.6, D: 0.8e-12, ActivationEnergy: 40e3},
		{Thickness: 9, D: 1e-12, ActivationEnergy: 38e3, Capacity: 1.2},
	}
}

func TestOneMaterialInThreeLayersIsOneLayer(t *testing.T) {
	t.Parallel()
	one := wall(t, diffusion.Layer{Thickness: 10, D: 1e-12})
	three := wall(t, diffusion.Layer{Thickness: 1, D: 1e-12}, diffusion.Layer{Thickness: 4, D: 1e-12},
		diffusion.Layer{Thickness: 5, D: 1e-12, ActivationEnergy: 1e-9}) // goes the long way round
	course := []diffusion.Exposure{dry(30), wet(3), dry(5)}
	a := mean(t, one, expose(t, one, uniform(t, one, 1), course...))
	b := mean(t, three, expose(t, three, uniform(t, three, 1), course...))
	if math.Abs(a-b) > 1e-3 {
		t.Errorf("one layer keeps %.5f, the same cut in three %.5f", a, b)
	}
}

func TestWaterInIsWaterHeld(t *testing.T) {
	t.Parallel()
	w := wall(t, threeLayers()...)
	p := expose(t, w, uniform(t, w, 0.4), diffusion.Exposure{Days: 500, At: 15, Outside: diffusion.Sealed(), Inside: diffusion.Sealed()})
	if got := mean(t, w, p); math.Abs(got-0.4) > 1e-12 {
		t.Errorf("a sealed wall holds %.15f of its 0.4", got)
	}
}

func weather(seed uint64, hours int) []diffusion.Exposure {
	r := rand.New(rand.NewPCG(seed, 1))
	course := make([]diffusion.Exposure, hours)
	for i := range course {
		day := float64(i) / 24
		outside := diffusion.Air(unit.Humidity(70 + 20*math.Sin(day/11) + 10*r.Float64() - 5))
		if math.Mod(day, 9) < 0.4 {
			outside = diffusion.Wet()
		}
		course[i] = diffusion.Exposure{
			Days: 1.0 / 24, At: unit.Celsius(11 + 6*math.Sin(2*math.Pi*day) + 3*r.Float64()),
			Outside: outside, Inside: diffusion.Sealed(),
		}
	}
	return course
}

func TestDrierAirNeverSlowsDrying(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		w := wall(t, threeLayers()...)
		course := weather(seed, 24*20)
		drier := append([]diffusion.Exposure(nil), course...)
		r := rand.New(rand.NewPCG(seed, 2))
		for i := range drier {
			if r.IntN(4) == 0 {
				drier[i].Outside = diffusion.Air(unit.Humidity(40 * r.Float64()))
			}
		}
		start := uniform(t, w, 0.9)
		a, b := expose(t, w, start, course...), expose(t, w, start, drier...)
		for c := range a {
			if b[c] > a[c]+1e-12 {
				t.Fatalf("seed %d: drier air left %.6f at %.2f mm, damper %.6f", seed, b[c], float64(w.Depth(c)), a[c])
			}
		}
	}
}

func TestACoatingSlowsDrying(t *testing.T) {
	t.Parallel()
	bare := wall(t, diffusion.Layer{Thickness: 9, D: 1e-12})
	coated := wall(t, threeLayers()...)
	for _, days := range []unit.Days{1, 7, 60, 400} {
		a := seen(t, bare, expose(t, bare, uniform(t, bare, 1), dry(days)), 4)
		b := seen(t, coated, expose(t, coated, uniform(t, coated, 1), dry(days)), 4)
		if b < a {
			t.Errorf("after %v days the coated hull shows %.3f, the bare one %.3f", days, b, a)
		}
	}
}

func FuzzExpose(f *testing.F) {
	f.Add(10.0, 1e-12, 30.0, 20.0, 60.0, true, uint8(7))
	f.Add(0.002, 1e-6, 1e6, 199.0, 100.0, false, uint8(0))
	f.Fuzz(func(t *testing.T, mm, d, days, at, rh float64, sealed bool, cells uint8) {
		w, err := diffusion.NewWall(diffusion.Layer{Thickness: unit.Millimetres(mm), D: unit.Diffusivity(d), ActivationEnergy: 40e3, Cells: 1 + int(cells%12)})
		if err != nil {
			return
		}
		e := diffusion.Exposure{Days: unit.Days(math.Mod(days, 1000)), At: unit.Celsius(at), Outside: diffusion.Air(unit.Humidity(rh))}
		if sealed {
			e.Inside = diffusion.Sealed()
		}
		p, err := w.Expose(uniform(t, w, 1), []diffusion.Exposure{e})
		if err != nil {
			return
		}
		for c, x := range p {
			if !(x >= -1e-9 && x <= 1+1e-9) {
				t.Fatalf("cell %d holds %v", c, x)
			}
		}
	})
}

// 300 days of hourly weather through 60 cells: the promise is under 10 ms.
func BenchmarkSeason(b *testing.B) {
	w := wall(b, diffusion.Layer{Thickness: 0.6, D: 0.8e-12, ActivationEnergy: 40e3, Cells: 12},
		diffusion.Layer{Thickness: 9, D: 1e-12, ActivationEnergy: 40e3, Cells: 48})
	course, start := weather(1, 300*24), uniform(b, w, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Expose(start, course); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleWall_Seen() {
	w, err := diffusion.NewWall(diffusion.Layer{Thickness: 10, D: 1e-12})
	if err != nil {
		fmt.Println(err)
		return
	}
	full, _ := w.Uniform(1)
	after, err := w.Expose(full, []diffusion.Exposure{{Days: 21, At: 20, Inside: diffusion.Sealed()}})
	if err != nil {
		fmt.Println(err)
		return
	}
	shallow, _ := w.Seen(after, 2)
	deep, _ := w.Seen(after, 8)
	fmt.Printf("after 21 days in dry air: shallow %.2f, deep %.2f of the signal at the start\n", shallow, deep)
	// Output: after 21 days in dry air: shallow 0.53, deep 0.77 of the signal at the start
}
