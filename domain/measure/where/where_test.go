package where_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

func mm(x float64) unit.Millimetres { return unit.Millimetres(x) }

// grid is an invented hull: stations 0.5 m apart, rows 0.3 m apart down to the keel at
// 1.65 m over the skin, both sides. Place i is station i / (2·rows).
func grid(stations, rows int) (places []where.Place, row []int) {
	for s := range stations {
		for _, side := range []where.Side{where.Port, where.Starboard} {
			for r := range rows {
				places = append(places, where.Place{Side: side, Along: mm(500 * float64(s)), Down: mm(150 + 300*float64(r)), Keel: mm(300 * float64(rows))})
				row = append(row, r)
			}
		}
	}
	return places, row
}

func joined(t testing.TB, places []where.Place) *where.Graph {
	t.Helper()
	g, err := where.Joined(places, where.ReachOver(500, 300))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func at(places []where.Place, side where.Side, along, down float64) int {
	return slices.IndexFunc(places, func(p where.Place) bool {
		return p.Side == side && p.Along == mm(along) && p.Down == mm(down)
	})
}

func TestTheSkinIsWrappedAtTheKeel(t *testing.T) {
	t.Parallel()
	places, _ := grid(5, 5)
	g := joined(t, places)
	garboard := at(places, where.Port, 1000, 1350)
	var across []int32
	for _, j := range g.Neighbours(garboard) {
		if places[j].Side == where.Starboard {
			across = append(across, j)
			if places[j].Down != 1350 {
				t.Errorf("a neighbour across the keel lies %v down", places[j].Down)
			}
		}
	}
	if len(across) != 3 || len(g.Neighbours(garboard)) != 8 {
		t.Errorf("a garboard place has %d neighbours, %d of them across the keel; want 8 and 3", len(g.Neighbours(garboard)), len(across))
	}
	if top := at(places, where.Port, 1000, 150); len(g.Neighbours(top)) != 5 {
		t.Errorf("a top place has %d neighbours, want 5", len(g.Neighbours(top)))
	}
}

func TestRowsAndRegionsAreTakenOut(t *testing.T) {
	t.Parallel()
	places, row := grid(10, 5)
	y, region := make([]float64, len(places)), make([]int, len(places))
	for i, p := range places {
		y[i] = 10 + 4*float64(row[i])
		if p.Along > 2000 {
			region[i], y[i] = 1, y[i]+20
		}
	}
	hot := at(places, where.Starboard, 3000, 750)
	y[hot] += 6
	l, err := where.TakeOut(y, region, row, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range l.Residual {
		want := 0.0
		if i == hot {
			want = 6
		}
		if math.Abs(r-want) > 1e-12 {
			t.Errorf("place %d: %v is left, want %v", i, r, want)
		}
	}
	if want := 1.4826 * 0.5; math.Abs(l.Scatter-want) > 1e-4 {
		t.Errorf("scatter %v, want that of half a step, %v", l.Scatter, want)
	}
}

func TestAPlantedPatchIsFoundAcrossTheKeel(t *testing.T) {
	t.Parallel()
	places, row := grid(15, 10)
	g := joined(t, places)
	r := rand.New(rand.NewPCG(4, 2))
	z := make([]float64, len(places))
	for i := range z {
		z[i] = r.NormFloat64()
	}
	_ = row
	var planted []int
	for _, side := range []where.Side{where.Port, where.Starboard} {
		for _, along := range []float64{3000, 3500} {
			i := at(places, side, along, 2850)
			planted = append(planted, i)
			z[i] += 5
		}
	}
	slices.Sort(planted)
	got, err := where.Find(g, z, where.ClusterDefaults(1))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Found) == 0 || got.Found[0].P > 0.01 {
		t.Fatalf("got %+v", got)
	}
	for _, i := range planted {
		if !slices.Contains(got.Found[0].Places, i) {
			t.Errorf("place %d is not in the cluster %v", i, got.Found[0].Places)
		}
	}
}

func TestAFalseClusterIsAsRareAsStated(t *testing.T) {
	t.Parallel()
	places, _ := grid(15, 10)
	g := joined(t, places)
	draws := map[string]func(r *rand.Rand) float64{
		"normal": func(r *rand.Rand) float64 { return r.NormFloat64() },
		"skewed": func(r *rand.Rand) float64 { return r.ExpFloat64() - math.Ln2 },
		"tied":   func(r *rand.Rand) float64 { return math.Round(2*r.NormFloat64()) / 2 },
	}
	const fields = 2000
	for name, draw := range draws {
		r := rand.New(rand.NewPCG(9, 9))
		s := where.ClusterDefaults(3)
		s.Permutations, s.Cut = 199, 1.5
		alarms := 0
		z := make([]float64, len(places))
		for k := range fields {
			for i := range z {
				z[i] = draw(r)
			}
			s.Seed = uint64(k)
			got, err := where.Find(g, z, s)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Found) > 0 && got.Found[0].P <= 0.05 {
				alarms++
			}
		}
		share := float64(alarms) / fields
		t.Logf("%s: a cluster at p ≤ 0.05 in %.2f %% of fields without one", name, 100*share)
		if share > 0.05+3*math.Sqrt(0.05*0.95/fields) {
			t.Errorf("%s: %.4f", name, share)
		}
	}
}

// TestPowerOfClusters prints how often a patch of four places is found by its height.
func TestPowerOfClusters(t *testing.T) {
	t.Parallel()
	places, _ := grid(15, 10)
	g := joined(t, places)
	patch := []int{at(places, where.Port, 3000, 1350), at(places, where.Port, 3500, 1350), at(places, where.Port, 3000, 1650), at(places, where.Port, 3500, 1650)}
	last := -1.0
	for _, height := range []float64{0, 1, 2, 3, 4, 5} {
		r := rand.New(rand.NewPCG(2, 2))
		s := where.ClusterDefaults(3)
		s.Permutations = 199
		found := 0
		z := make([]float64, len(places))
		const fields = 300
		for range fields {
			for i := range z {
				z[i] = r.NormFloat64()
			}
			for _, i := range patch {
				z[i] += height
			}
			got, err := where.Find(g, z, s)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Found) > 0 && got.Found[0].P <= 0.05 {
				found++
			}
		}
		power := float64(found) / fields
		t.Logf("four touching places of 300 raised by %.0f scatters: found in %.0f %%", height, 100*power)
		if power < last-0.05 {
			t.Errorf("higher patches are found less often: %.2f after %.2f", power, last)
		}
		last = power
	}
	if last < 0.9 {
		t.Errorf("five scatters are found in %.2f only", last)
	}
}

func TestPortAndStarboardMayBeSwapped(t *testing.T) {
	t.Parallel()
	places, row := grid(8, 6)
	r := rand.New(rand.NewPCG(7, 7))
	values := make([]measure.Value, len(places))
	y := make([]float64, len(places))
	swapped := slices.Clone(places)
	for i := range places {
		swapped[i] = places[i].Mirrored()
		values[i] = measure.Value{At: measure.Twentieth(600 + 20*r.IntN(12))}
		y[i] = values[i].At.Units()
	}
	a, err := where.Mirrors(places, values, 50, 1)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := where.Mirrors(swapped, values, 50, 1)
	if len(a.Pairs) != len(b.Pairs) || a.Middle != -b.Middle || a.Scatter != b.Scatter {
		t.Errorf("%d and %d pairs, middles %v and %v", len(a.Pairs), len(b.Pairs), a.Middle, b.Middle)
	}
	left, err := where.TakeOut(y, make([]int, len(y)), row, 1)
	if err != nil {
		t.Fatal(err)
	}
	s := where.ClusterDefaults(1)
	s.Cut = 0.5
	one, _ := where.Find(joined(t, places), left.Z, s)
	two, _ := where.Find(joined(t, swapped), left.Z, s)
	if len(one.Found) != len(two.Found) {
		t.Fatalf("%d and %d clusters", len(one.Found), len(two.Found))
	}
	for i := range one.Found {
		if math.Abs(one.Found[i].Mass-two.Found[i].Mass) > 1e-9 || !slices.Equal(one.Found[i].Places, two.Found[i].Places) {
			t.Errorf("cluster %d differs", i)
		}
	}
}

func TestMirrorPairs(t *testing.T) {
	t.Parallel()
	places, _ := grid(6, 3)
	values := make([]measure.Value, len(places))
	for i, p := range places {
		values[i] = measure.Value{At: measure.FromTenths(200 + 5*int32(i%3))}
		if p.Side == where.Port {
			values[i].At += 20 // one unit higher all over
		}
	}
	high := at(places, where.Port, 1000, 450)
	values[high].At += 200
	above := at(places, where.Starboard, 1500, 150)
	values[above] = measure.Value{At: 2000, Limit: measure.Above}
	both := at(places, where.Port, 2000, 150)
	values[both] = measure.Value{At: 2000, Limit: measure.Above}
	values[at(places, where.Starboard, 2000, 150)] = values[both]
	m, err := where.Mirrors(places, values, 50, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Pairs) != 18 || m.Middle != 1 {
		t.Errorf("%d pairs, middle %v", len(m.Pairs), m.Middle)
	}
	for _, p := range m.Pairs {
		want := p.Port == high || p.Starboard == above
		if p.Flagged != want {
			t.Errorf("pair %+v: flagged %v, want %v", p, p.Flagged, want)
		}
	}
	if len(m.Unpaired) != 0 {
		t.Errorf("unpaired %v", m.Unpaired)
	}
}

func TestUnlikeGridsAreMatchedOnceAndAlikeBothWays(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 3))
	random := func(n int) []where.Place {
		ps := make([]where.Place, n)
		for i := range ps {
			ps[i] = where.Place{Side: where.Side(r.IntN(3) - 1), Along: mm(9000 * r.Float64()), Down: mm(1500 * r.Float64()), Keel: 1500}
		}
		return ps
	}
	for range 50 {
		a, b := random(60), random(45)
		x, err := where.Match(a, b, 400)
		if err != nil {
			t.Fatal(err)
		}
		y, _ := where.Match(b, a, 400)
		if len(x.Pairs)+len(x.OnlyA) != len(a) || len(x.Pairs)+len(x.OnlyB) != len(b) {
			t.Fatal("places are lost or used twice")
		}
		if len(x.Pairs) != len(y.Pairs) {
			t.Fatalf("%d pairs one way, %d the other", len(x.Pairs), len(y.Pairs))
		}
		back := map[[2]int]bool{}
		for _, p := range y.Pairs {
			back[[2]int{p.B, p.A}] = true
		}
		for _, p := range x.Pairs {
			if p.Apart > 400 || !back[[2]int{p.A, p.B}] {
				t.Fatalf("pair %+v", p)
			}
		}
	}
}

// TestTheReachOfTwoPositionErrors: 95 times in 100 by Rayleigh's law.
func TestTheReachOfTwoPositionErrors(t *testing.T) {
	t.Parallel()
	within, err := where.WithinFor(300, 400)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(6, 6))
	in := 0
	const n = 20000
	for range n {
		x := 300*r.NormFloat64() - 400*r.NormFloat64()
		y := 300*r.NormFloat64() - 400*r.NormFloat64()
		if math.Hypot(x, y) <= float64(within) {
			in++
		}
	}
	if share := float64(in) / n; math.Abs(share-0.95) > 0.005 {
		t.Errorf("%.4f lie within %.0f mm", share, float64(within))
	}
}

func ExampleFind() {
	places, row := grid(10, 5)
	readings := make([]float64, len(places))
	for i := range places {
		readings[i] = 18 + 3*float64(row[i]) + float64(i*i%7)/3 // wetter towards the keel
	}
	for _, i := range []int{43, 44, 48, 49} { // both sides of the keel at 2 m
		readings[i] += 12
	}
	left, err := where.TakeOut(readings, make([]int, len(places)), row, 0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	g, err := where.Joined(places, where.ReachOver(500, 300))
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := where.Find(g, left.Z, where.ClusterDefaults(1))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range found.Found {
		fmt.Printf("places %v, p %.3f\n", c.Places, c.P)
	}
	// Output:
	// places [43 44 48 49], p 0.004
}

// BenchmarkTwelvePasses is a history of 12 passes over 300 places: rows and regions out,
// clusters with 999 permutations for high and for low, mirror pairs.
func BenchmarkTwelvePasses(b *testing.B) {
	places, row := grid(15, 10)
	g := joined(b, places)
	r := rand.New(rand.NewPCG(1, 1))
	values := make([]measure.Value, len(places))
	y := make([]float64, len(places))
	for i := range y {
		values[i] = measure.Value{At: measure.Twentieth(400 + 10*row[i] + int(40*r.NormFloat64()))}
		y[i] = values[i].At.Units()
	}
	region := make([]int, len(places))
	b.ReportAllocs()
	for b.Loop() {
		for pass := range 12 {
			left, err := where.TakeOut(y, region, row, 0.1)
			if err != nil {
				b.Fatal(err)
			}
			s := where.ClusterDefaults(uint64(pass))
			for _, s.Low = range []bool{false, true} {
				if _, err := where.Find(g, left.Z, s); err != nil {
					b.Fatal(err)
				}
			}
			if _, err := where.Mirrors(places, values, 50, 0.1); err != nil {
				b.Fatal(err)
			}
		}
	}
}
