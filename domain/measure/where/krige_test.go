package where_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/where"
)

// Natural log of zinc in the Meuse flood plain, Burrough and McDonnell 1998 (R package
// sp); results of gstat 2.1-0, in testdata/measure/08-kriging.json.
type meuse struct {
	Model struct {
		Nugget      float64
		PartialSill float64 `json:"partial_sill"`
		RangeM      float64 `json:"range_m"`
	}
	Locations []struct{ X, Y float64 }
	Global    struct{ Prediction, Variance []float64 } `json:"global_neighbourhood"`
	LOO       struct {
		MeanError   float64   `json:"mean_error"`
		RMSE        float64   `json:"rmse"`
		MSZ         float64   `json:"mean_squared_z"`
		Predictions []float64 `json:"first_ten_predictions"`
		Variances   []float64 `json:"first_ten_variances"`
	} `json:"leave_one_out_global"`
	Sample struct {
		Pairs    []int
		Distance []float64 `json:"mean_distance"`
		Gamma    []float64
	} `json:"sample_variogram_default"`
	Spherical   fitted `json:"fitted_spherical"`
	Exponential fitted `json:"fitted_exponential"`
}

type fitted struct {
	Nugget      float64
	PartialSill float64 `json:"partial_sill"`
	RangeM      float64 `json:"range_m"`
	SSE         float64 `json:"weighted_sse"`
}

func loadMeuse(t testing.TB) (m meuse, points []where.Point, y []float64) {
	t.Helper()
	check.Load(t, "08-kriging.json", &m)
	f, err := os.Open(check.Path("08-meuse-log-zinc.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		points, y = append(points, where.Point{X: v[0], Y: v[1]}), append(y, math.Log(v[2]))
	}
	return m, points, y
}

func (m meuse) variogram() where.Variogram {
	return where.Variogram{Form: where.Spherical, Nugget: m.Model.Nugget, Sill: m.Model.PartialSill, Range: m.Model.RangeM}
}

func TestKrigingAgreesWithGstat(t *testing.T) {
	t.Parallel()
	m, points, y := loadMeuse(t)
	k, err := where.Krige(points, y, m.variogram(), false)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range m.Locations {
		v, se, err := k.At(where.Point{X: l.X, Y: l.Y})
		if err != nil {
			t.Fatal(err)
		}
		at := fmt.Sprintf("location %d ", i+1)
		check.Digits(t, at+"value", v, m.Global.Prediction[i], 10)
		if m.Global.Variance[i] < 1e-12 {
			if se > 1e-6 {
				t.Errorf("%sstandard error %v, want 0", at, se)
			}
			continue
		}
		check.Digits(t, at+"variance", se*se, m.Global.Variance[i], 9)
	}
	check.Digits(t, "leave one out: mean error", k.Check.MeanError, m.LOO.MeanError, 8)
	check.Digits(t, "leave one out: rmse", k.Check.RMSE, m.LOO.RMSE, 10)
	check.Digits(t, "leave one out: mean squared z", k.Check.MeanSquaredZ, m.LOO.MSZ, 10)
	for i := range 10 {
		check.Digits(t, "left-out prediction", k.Check.Predicted[i], m.LOO.Predictions[i], 10)
		check.Digits(t, "left-out variance", k.Check.Variance[i], m.LOO.Variances[i], 10)
	}
}

func TestVariogramsAgreeWithGstat(t *testing.T) {
	t.Parallel()
	m, points, y := loadMeuse(t)
	lags, err := where.SampleVariogram(points, y)
	if err != nil {
		t.Fatal(err)
	}
	if len(lags) != len(m.Sample.Pairs) {
		t.Fatalf("%d lags", len(lags))
	}
	for i, l := range lags {
		if l.Pairs != m.Sample.Pairs[i] {
			t.Errorf("lag %d: %d pairs, want %d", i, l.Pairs, m.Sample.Pairs[i])
		}
		check.Digits(t, "lag distance", l.Distance, m.Sample.Distance[i], 11)
		check.Digits(t, "lag gamma", l.Gamma, m.Sample.Gamma[i], 10)
	}
	for form, want := range map[where.Form]fitted{where.Spherical: m.Spherical, where.Exponential: m.Exponential} {
		v, err := where.FitVariogram(lags, form)
		if err != nil {
			t.Fatal(err)
		}
		// gstat stops early: its sum of squares is a little above the least one.
		check.Digits(t, string(form)+" nugget", v.Nugget, want.Nugget, 3)
		check.Digits(t, string(form)+" sill", v.Sill, want.PartialSill, 4)
		check.Digits(t, string(form)+" range", v.Range, want.RangeM, 4)
		if v.WeightedSSE > want.SSE*(1+1e-9) {
			t.Errorf("%s: weighted sum of squares %v, gstat reached %v", form, v.WeightedSSE, want.SSE)
		}
	}
}

// hull draws a field on the grid: an exponential covariance by kriging's own factor would
// be circular, so it is a sum of smooth bumps and noise.
func hull(places []where.Place, r *rand.Rand, noise float64) []float64 {
	type bump struct{ x, y, high, wide float64 }
	bumps := make([]bump, 12)
	for i := range bumps {
		bumps[i] = bump{7000 * r.Float64(), 6000*r.Float64() - 3000, 8 * r.NormFloat64(), 600 + 900*r.Float64()}
	}
	y := make([]float64, len(places))
	for i, p := range places {
		y[i] = 25 + noise*r.NormFloat64()
		for _, b := range bumps {
			dx, dy := (float64(p.Along)-b.x)/b.wide, (float64(p.Across())-b.y)/b.wide
			y[i] += b.high * math.Exp(-dx*dx-dy*dy)
		}
	}
	return y
}

func surface(t testing.TB, noise bool, form where.Form) (*where.Kriged, []where.Point) {
	t.Helper()
	places, _ := grid(15, 10)
	y := hull(places, rand.New(rand.NewPCG(11, 1)), 2.5)
	points, err := where.Unrolled(places, 1)
	if err != nil {
		t.Fatal(err)
	}
	lags, err := where.SampleVariogram(points, y)
	if err != nil {
		t.Fatal(err)
	}
	v, err := where.FitVariogram(lags, form)
	if err != nil {
		t.Fatal(err)
	}
	k, err := where.Krige(points, y, v, noise)
	if err != nil {
		t.Fatal(err)
	}
	return k, points
}

func window() where.Window {
	return where.Window{Corner: where.Point{X: 0, Y: -2950}, Step: where.Point{X: 7000.0 / 199, Y: 5900.0 / 59}, Cols: 200, Rows: 60}
}

func TestAMapIsTheSurfaceAndNeverSurerThanIt(t *testing.T) {
	t.Parallel()
	for _, form := range []where.Form{where.Spherical, where.Exponential} {
		for _, noise := range []bool{false, true} {
			k, _ := surface(t, noise, form)
			w := window()
			m, err := k.Map(w)
			if err != nil {
				t.Fatal(err)
			}
			worst := 0.0
			for r := 0; r < w.Rows; r += 7 {
				for c := 0; c < w.Cols; c += 9 {
					v, se, err := k.At(where.Point{X: w.Corner.X + float64(c)*w.Step.X, Y: w.Corner.Y + float64(r)*w.Step.Y})
					if err != nil {
						t.Fatal(err)
					}
					got, gotSE := m.Value[r*w.Cols+c], m.SE[r*w.Cols+c]
					if math.Abs(got-v) > 1e-9 {
						t.Fatalf("value %v at %d, %d; the surface has %v", got, c, r, v)
					}
					if gotSE < se-1e-6 {
						t.Fatalf("standard error %v at %d, %d; from all points %v", gotSE, c, r, se)
					}
					if se > 1e-3 { // on a place both are rounding
						worst = max(worst, gotSE/se-1)
					}
				}
			}
			t.Logf("%s, nugget as noise %v: standard errors from the nearest points exceed those from all by at most %.2f %%", form, noise, 100*worst)
			if worst > 0.05 {
				t.Errorf("standard errors are %.1f %% too large", 100*worst)
			}
		}
	}
}

func TestASurfacePassesThroughReadingsUnlessTheyAreNoisy(t *testing.T) {
	t.Parallel()
	exact, points := surface(t, false, where.Spherical)
	smooth, _ := surface(t, true, where.Spherical)
	places, _ := grid(15, 10)
	y := hull(places, rand.New(rand.NewPCG(11, 1)), 2.5)
	differ := 0
	for i, p := range points {
		v, se, _ := exact.At(p)
		if math.Abs(v-y[i]) > 1e-9 || se > 1e-5 {
			t.Errorf("place %d: %v ± %v, read %v", i, v, se, y[i])
		}
		if s, se, _ := smooth.At(p); math.Abs(s-y[i]) > 1e-6 && se > 0 {
			differ++
		}
	}
	if smooth.Model.Nugget == 0 || differ == 0 {
		t.Error("noise was not smoothed out")
	}
	far, se, _ := exact.At(where.Point{X: 1e6, Y: 1e6})
	if math.Abs(far-exact.Mean) > 1e-9 || se < exact.Ignorance() {
		t.Errorf("far away: %v ± %v; the mean is %v, ignorance %v", far, se, exact.Mean, exact.Ignorance())
	}
}

// TestStandardErrorsCoverTheTruth: fields with the covariance that the model states, so
// that intervals of ±1.96 standard errors should hold 95 % of the truth.
func TestStandardErrorsCoverTheTruth(t *testing.T) {
	t.Parallel()
	places, _ := grid(6, 4)
	points, err := where.Unrolled(places, 1)
	if err != nil {
		t.Fatal(err)
	}
	v := where.Variogram{Form: where.Exponential, Nugget: 0.5, Sill: 4, Range: 700}
	targets := []where.Point{{X: 250, Y: 200}, {X: 1300, Y: -640}, {X: 2400, Y: 1000}}
	all := slices.Concat(points, targets)
	l := lowerFactor(all, v)
	r := rand.New(rand.NewPCG(5, 1))
	inside, n := 0, 0
	for range 1000 {
		field := make([]float64, len(all))
		e := make([]float64, len(all))
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
		k, err := where.Krige(points, y, v, true)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range targets {
			value, se, _ := k.At(p)
			if math.Abs(value-20-field[len(points)+i]) <= 1.959964*se {
				inside++
			}
			n++
		}
	}
	check.About(t, "kriging, ±1.96 standard errors", float64(inside)/float64(n))
}

// lowerFactor of the covariance without nugget, by the textbook.
func lowerFactor(ps []where.Point, v where.Variogram) [][]float64 {
	l := make([][]float64, len(ps))
	for i := range ps {
		l[i] = make([]float64, len(ps))
		for j := range i + 1 {
			s := v.Sill * math.Exp(-math.Hypot(ps[i].X-ps[j].X, ps[i].Y-ps[j].Y)/v.Range)
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(s)
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}

func TestShiftScaleAndUnitsDoNotMatter(t *testing.T) {
	t.Parallel()
	m, points, y := loadMeuse(t)
	v := m.variogram()
	a, err := where.Krige(points, y, v, false)
	if err != nil {
		t.Fatal(err)
	}
	moved, y2 := slices.Clone(points), slices.Clone(y)
	for i := range moved {
		moved[i] = where.Point{X: (points[i].X - 178000) * 10, Y: (points[i].Y - 330000) * 10}
		y2[i] = 3*y[i] - 5
	}
	slices.Reverse(moved)
	slices.Reverse(y2)
	b, err := where.Krige(moved, y2, where.Variogram{Form: v.Form, Nugget: 9 * v.Nugget, Sill: 9 * v.Sill, Range: 10 * v.Range}, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range m.Locations {
		va, sa, _ := a.At(where.Point{X: l.X, Y: l.Y})
		vb, sb, _ := b.At(where.Point{X: (l.X - 178000) * 10, Y: (l.Y - 330000) * 10})
		if math.Abs(vb-(3*va-5)) > 1e-9 || math.Abs(sb-3*sa) > 1e-6 {
			t.Errorf("%v ± %v and %v ± %v", va, sa, vb, sb)
		}
	}
}

func ExampleKrige() {
	points := []where.Point{{X: 0, Y: 0}, {X: 500, Y: 0}, {X: 1000, Y: 0}, {X: 0, Y: 300}, {X: 500, Y: 300}, {X: 1000, Y: 300}}
	readings := []float64{20, 22, 21, 24, 31, 25}
	model := where.Variogram{Form: where.Spherical, Nugget: 1, Sill: 12, Range: 900}
	k, err := where.Krige(points, readings, model, true)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range []where.Point{{X: 500, Y: 150}, {X: 4000, Y: 150}} {
		v, se, _ := k.At(p)
		fmt.Printf("%.0f mm along: %.1f ± %.1f units\n", p.X, v, se)
	}
	fmt.Printf("each reading left out was missed by %.1f units\n", k.Check.RMSE)
	// Output:
	// 500 mm along: 26.2 ± 1.9 units
	// 4000 mm along: 23.5 ± 4.0 units
	// each reading left out was missed by 4.0 units
}

func FuzzWhere(f *testing.F) {
	f.Add(uint64(1), 12, 500.0, 1.0, 0.1, uint8(0))
	f.Add(uint64(2), 4, 1e-3, 1e9, 0.0, uint8(3))
	f.Add(uint64(3), 40, 1e6, 1e-9, 1e3, uint8(7))
	f.Fuzz(func(t *testing.T, seed uint64, n int, spread, units, nugget float64, kind uint8) {
		n = (n%60+60)%60 + 1
		r := rand.New(rand.NewPCG(seed, 2))
		places := make([]where.Place, n)
		y := make([]float64, n)
		for i := range places {
			places[i] = where.Place{Side: where.Side(r.IntN(3) - 1), Along: mm(spread * r.Float64()), Down: mm(spread * r.Float64()), Keel: mm(spread)}
			y[i] = units * r.NormFloat64()
			if kind&1 != 0 {
				places[i].Along, y[i] = mm(math.Round(float64(places[i].Along))), math.Round(y[i])
			}
		}
		finite := func(what string, xs ...float64) {
			for _, x := range xs {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%s: %v", what, x)
				}
			}
		}
		form := where.Spherical
		if kind&2 != 0 {
			form = where.Exponential
		}
		if points, err := where.Unrolled(places, 1); err == nil {
			if lags, err := where.SampleVariogram(points, y); err == nil {
				v, err := where.FitVariogram(lags, form)
				if err == nil {
					finite("variogram", v.Nugget, v.Sill, v.Range)
				}
				if kind&4 != 0 {
					v.Nugget = nugget
				}
				if k, err := where.Krige(points, y, v, kind&8 != 0); err == nil {
					if m, err := k.Map(where.Window{Step: where.Point{X: spread / 5, Y: spread / 3}, Cols: 6, Rows: 4}); err == nil {
						finite("map", m.Value...)
						finite("map errors", m.SE...)
					}
					finite("leave one out", k.Check.Predicted...)
				}
			}
		}
		if g, err := where.Joined(places, where.Reach{Along: mm(spread / 4), Across: mm(spread / 4)}); err == nil {
			if l, err := where.TakeOut(y, make([]int, n), make([]int, n), 0.1); err == nil {
				s := where.ClusterDefaults(seed)
				s.Permutations, s.Cut = 9, 0.5
				if c, err := where.Find(g, l.Z, s); err == nil {
					for _, one := range c.Found {
						finite("cluster", one.Mass, one.P)
					}
				}
			}
			if ls, err := where.LocalMoran(g, y); err == nil {
				for _, l := range ls {
					finite("local Moran", l.I, l.Z, l.ZHere)
				}
			}
			if a, err := where.Moran(g, y, where.Shares); err == nil {
				finite("Moran", a.I, a.Z, a.P)
			}
			if gs, err := where.GetisOrd(g, y, true); err == nil {
				finite("Getis-Ord", gs...)
			}
		}
	})
}

// BenchmarkMap prepares the surface of 300 places and maps it over 200 × 60 cells.
func BenchmarkMap(b *testing.B) {
	for _, form := range []where.Form{where.Spherical, where.Exponential} {
		b.Run(string(form), func(b *testing.B) {
			places, _ := grid(15, 10)
			y := hull(places, rand.New(rand.NewPCG(11, 1)), 2.5)
			points, err := where.Unrolled(places, 1)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				lags, err := where.SampleVariogram(points, y)
				if err != nil {
					b.Fatal(err)
				}
				v, err := where.FitVariogram(lags, form)
				if err != nil {
					b.Fatal(err)
				}
				k, err := where.Krige(points, y, v, true)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := k.Map(window()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
