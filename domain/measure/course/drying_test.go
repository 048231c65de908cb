package course_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/unit"
)

// Exponential fits to a plateau as R 4.2.2 makes them (nls with SSasymp, profile
// intervals of MASS), on data sets shipped with R: testdata/measure/
// 02-nonlinear-r-examples.json. There y = Asym + (R0 − Asym)·exp(−exp(lrc)·x).
func TestExponentialAgreesWithPublishedFits(t *testing.T) {
	t.Parallel()
	var all map[string]any
	check.Load(t, "02-nonlinear-r-examples.json", &all)
	for name, digits := range map[string]int{"loblolly_301": 3, "loblolly_329": 3, "indometh_1_decay_to_plateau": 4} {
		set := all[name].(map[string]any)
		x, y := floats(set["x"]), floats(set["y"])
		d, err := course.FitDrying(x, y, course.Exponential, 0, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		coef := set["coefficients"].(map[string]any)
		check.Digits(t, name+" plateau", d.Plateau.Value, coef["Asym"].(float64), 7)
		check.Digits(t, name+" start", d.Start.Value, coef["R0"].(float64), 7)
		check.Digits(t, name+" lrc", -math.Log(d.Constant.Value), coef["lrc"].(float64), 7)
		check.Digits(t, name+" half time", d.Half.Value, set["half_time_ln2_over_k"].(float64), 7)
		check.Digits(t, name+" residual sum of squares", d.RSS, set["rss"].(float64), 9)
		check.Digits(t, name+" residual sd", d.Sigma, set["residual_sd"].(float64), 9)
		ci, ok := set["profile_likelihood_ci95_about_3_digits"].(map[string]any)
		if !ok {
			ci = set["profile_likelihood_ci95_about_4_digits"].(map[string]any)
		}
		a, r0, lrc := floats(ci["Asym"]), floats(ci["R0"]), floats(ci["lrc"])
		for what, pair := range map[string][2]float64{
			"plateau lower": {d.Plateau.Lower, a[0]}, "plateau upper": {d.Plateau.Upper, a[1]},
			"start lower": {d.Start.Lower, r0[0]}, "start upper": {d.Start.Upper, r0[1]},
			"lrc lower": {-math.Log(d.Constant.Upper), lrc[0]}, "lrc upper": {-math.Log(d.Constant.Lower), lrc[1]},
		} {
			check.Digits(t, name+" "+what, pair[0], pair[1], digits)
		}
		for _, p := range set["predictions"].([]any) {
			m := p.(map[string]any)
			at, err := d.At(m["x"].(float64), 0.95)
			if err != nil {
				t.Fatal(err)
			}
			check.Digits(t, name+" prediction", at.Value, m["y"].(float64), 7)
		}
	}
}

func floats(v any) []float64 {
	var out []float64
	for _, x := range v.([]any) {
		out = append(out, x.(float64))
	}
	return out
}

func TestGeneralFitsAgreeWithR(t *testing.T) {
	t.Parallel()
	var all map[string]map[string]any
	b := map[string]any{}
	check.Load(t, "02-nonlinear-r-examples.json", &b)
	all = map[string]map[string]any{}
	for k, v := range b {
		if m, ok := v.(map[string]any); ok {
			all[k] = m
		}
	}
	pur := all["puromycin_treated"]
	got, err := course.Fit(course.Curve{
		Parameters: 2,
		At:         func(p []float64, x float64) float64 { return p[0] * x / (p[1] + x) },
		Slope: func(p []float64, x float64, g []float64) {
			d := p[1] + x
			g[0], g[1] = x/d, -p[0]*x/(d*d)
		},
	}, floats(pur["x"]), floats(pur["y"]), []float64{100, 1})
	if err != nil {
		t.Fatal(err)
	}
	coef, se := pur["coefficients"].(map[string]any), pur["standard_errors"].(map[string]any)
	for i, k := range []string{"Vm", "K"} {
		check.Digits(t, "puromycin "+k, got.P[i], coef[k].(float64), 8)
		check.Digits(t, "puromycin se "+k, got.SE[i], se[k].(float64), 8)
	}
}

func TestTheSlabIsTheDiffusionOfAPlaneWall(t *testing.T) {
	t.Parallel()
	// L = 10 mm, D = 1e-12 m²/s: θ = L²/D in days.
	theta := 1e-4 / 1e-12 / 86400
	var ts, ys []float64
	for _, day := range []float64{0, 1, 7, 21, 60, 120, 240, 400, 628, 1200} {
		lost, err := diffusion.Lost(1e-12, 10, unit.Days(day), diffusion.OneFace)
		if err != nil {
			t.Fatal(err)
		}
		ts, ys = append(ts, day), append(ys, 12+30*(1-lost))
	}
	d, err := course.FitDrying(ts, ys, course.Slab, 0, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, "time constant", d.Constant.Value, theta, 6)
	check.Digits(t, "plateau", d.Plateau.Value, 12, 6)
	check.Digits(t, "start", d.Start.Value, 42, 6)
	// t50 = 0.197 L²/D, Crank 1975 (trade notes).
	check.Digits(t, "half time", d.Half.Value/theta, 0.197, 3)
	band, err := d.Reach(27, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, "when half is gone", band.Likely/theta, 0.196730739524, 6)
}

// course of an invented hull: 40 units falling to 15 with a time constant of 60 days,
// seen over 150.
const trueStart, truePlateau, trueTheta, trueSigma = 40, 15, 60, 1.0

func visitsOver(n int, days float64) []float64 {
	t := make([]float64, n)
	for i := range t {
		t[i] = days * float64(i) / float64(n-1)
	}
	return t
}

func TestProfileIntervalsCoverWhatTheyState(t *testing.T) {
	t.Parallel()
	curve := func(x float64) float64 { return truePlateau + (trueStart-truePlateau)*math.Exp(-x/trueTheta) }
	when := -trueTheta * math.Log((20.0-truePlateau)/(trueStart-truePlateau))
	for _, n := range []int{6, 12, 40} {
		for _, noise := range []float64{0, trueSigma} {
			ts := visitsOver(n, 150)
			counts := map[string]*int{}
			for _, k := range []string{"start", "plateau", "constant", "day 100", "fall 100 to 150", "date at 20 units"} {
				counts[k] = new(int)
			}
			r := rand.New(rand.NewPCG(uint64(n), 99))
			draws := check.Draws
			y := make([]float64, n)
			for range draws {
				for i, x := range ts {
					y[i] = curve(x) + trueSigma*r.NormFloat64()
				}
				d, err := course.FitDrying(ts, y, course.Exponential, noise, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				at, _ := d.At(100, 0.95)
				fall, _ := d.FallBetween(100, 150, 0.95)
				band, _ := d.Reach(20, 0.95)
				tally := func(k string, e measure.Estimate, truth float64) {
					if e.Lower <= truth && truth <= e.Upper {
						*counts[k]++
					}
				}
				tally("start", d.Start, trueStart)
				tally("plateau", d.Plateau, truePlateau)
				tally("constant", d.Constant, trueTheta)
				tally("day 100", at, curve(100))
				tally("fall 100 to 150", fall, curve(100)-curve(150))
				tally("date at 20 units", measure.Estimate{Lower: band.Earliest, Upper: band.Latest}, when)
			}
			for k, c := range counts {
				check.About(t, fmt.Sprintf("%s, n %d, noise given %v", k, n, noise), float64(*c)/float64(draws))
			}
		}
	}
}

// TestIntervalsOutsideTheirAssumptions: scatter that is skewed, and readings in whole
// units. Where an interval falls short, the fit says so.
func TestIntervalsOutsideTheirAssumptions(t *testing.T) {
	t.Parallel()
	curve := func(x float64) float64 { return truePlateau + (trueStart-truePlateau)*math.Exp(-x/trueTheta) }
	for name, read := range map[string]func(v float64, r *rand.Rand) float64{
		"skewed":      func(v float64, r *rand.Rand) float64 { return v + r.ExpFloat64() - 1 },
		"whole units": func(v float64, r *rand.Rand) float64 { return math.Round(v + r.NormFloat64()) },
	} {
		for _, n := range []int{6, 12} {
			ts, y := visitsOver(n, 150), make([]float64, n)
			r := rand.New(rand.NewPCG(uint64(n), 99))
			var start, plateau, constant int
			warned := true
			for range check.Draws {
				for i, x := range ts {
					y[i] = read(curve(x), r)
				}
				d, err := course.FitDrying(ts, y, course.Exponential, 0, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				warned = warned && d.Has("rests-on-normal")
				for _, c := range []struct {
					hit   *int
					e     measure.Estimate
					truth float64
				}{{&start, d.Start, trueStart}, {&plateau, d.Plateau, truePlateau}, {&constant, d.Constant, trueTheta}} {
					if c.e.Lower <= c.truth && c.truth <= c.e.Upper {
						*c.hit++
					}
				}
			}
			least := 100 * float64(min(start, plateau, constant)) / check.Draws
			t.Logf("%s, n %d: start, plateau and constant are covered %d, %d and %d times of %d; warned %v", name, n, start, plateau, constant, check.Draws, warned)
			if least < 93.5 && !warned || least < 89 {
				t.Errorf("%s, n %d: covers %.1f %% and says nothing", name, n, least)
			}
		}
	}
}

// TestAForecastCoversWhateverTheShape draws from a wall that dries by diffusion and from
// an exponential, and asks for the band that joins the shapes.
func TestAForecastCoversWhateverTheShape(t *testing.T) {
	t.Parallel()
	for name, truth := range map[string]struct {
		curve func(x float64) float64
		when  float64
	}{
		"exponential": {func(x float64) float64 { return 15 + 25*math.Exp(-x/60) }, 60 * math.Log(25.0/7)},
		"slab": {func(x float64) float64 {
			lost, err := diffusion.Lost(1e-12, 4, unit.Days(x), diffusion.OneFace)
			if err != nil {
				t.Fatal(err)
			}
			return 15 + 25*(1-lost)
		}, 88.7}, // until the water left is 7/25, found below
	} {
		when := truth.when
		if name == "slab" {
			lo, hi := 1.0, 400.0
			for range 60 {
				if mid := (lo + hi) / 2; truth.curve(mid) > 22 {
					lo = mid
				} else {
					hi = mid
				}
			}
			when = lo
		}
		for _, n := range []int{6, 12} {
			ts := visitsOver(n, 60)
			open := 0
			r := rand.New(rand.NewPCG(uint64(n), 3))
			covered := 0
			y := make([]float64, n)
			for range check.Draws / 2 {
				for i, x := range ts {
					y[i] = math.Round(truth.curve(x) + r.NormFloat64()) // read in whole units
				}
				b, err := course.Forecast(ts, y, 22, 0, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				if b.Earliest <= when && when <= b.Latest {
					covered++
				}
				if math.IsInf(b.Latest, 1) {
					open++
				}
			}
			share := 2 * float64(covered) / check.Draws
			t.Logf("open-ended in %.0f %% of draws", 200*float64(open)/check.Draws)
			check.AtLeast(t, fmt.Sprintf("%s seen over 60 days, n %d", name, n), share, 0.95)
		}
	}
}

func TestAFalseStallIsRareAndATrueOneIsFound(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 8))
	var stalledWrongly, found, slower int
	const draws = 1000
	for range draws {
		var ts, going, stopped []float64
		for i := range 16 {
			x := 7 * float64(i)
			ts = append(ts, x)
			going = append(going, 15+25*math.Exp(-x/60)+0.7*r.NormFloat64())
			stopped = append(stopped, 15+25*math.Exp(-math.Min(x, 49)/60)+0.7*r.NormFloat64())
		}
		s, err := course.DetectStall(ts, going, 49, 0.7, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if s.Motion == course.Stalled {
			stalledWrongly++
		}
		if s, err = course.DetectStall(ts, stopped, 49, 0.7, 0.95); err != nil {
			t.Fatal(err)
		}
		switch s.Motion {
		case course.Stalled:
			found++
		case course.Slower:
			slower++
		}
	}
	t.Logf("of %d: falling hull called stalled %d, stalled hull called stalled %d, slower %d", draws, stalledWrongly, found, slower)
	if stalledWrongly > draws*5/100 {
		t.Errorf("a falling hull was called stalled %d times", stalledWrongly)
	}
	if found < draws/2 {
		t.Errorf("a stalled hull was found only %d times", found)
	}
}

func TestForecastsSayWhenTheyHaveNoEnd(t *testing.T) {
	t.Parallel()
	ts := visitsOver(7, 42)
	var ys, flat []float64
	for i, x := range ts {
		ys = append(ys, 40-0.3*x+0.1*float64(i%2))
		flat = append(flat, 30+0.2*float64(i%2))
	}
	b, err := course.Forecast(ts, flat, 10, 0.2, 0.95)
	if err != nil || !math.IsInf(b.Latest, 1) {
		t.Errorf("a flat course: %+v, %v", b, err)
	}
	b, err = course.Forecast(ts, ys, 5, 0.2, 0.95)
	if err != nil || b.Earliest < 42 || b.Latest < b.Likely || b.Earliest > b.Likely {
		t.Errorf("a straight course: %+v, %v", b, err)
	}
	wide, _ := course.Forecast(ts, ys, 5, 0.5, 0.95)
	if wide.Earliest > b.Earliest+1e-9 || wide.Latest < b.Latest-1e-9 {
		t.Errorf("more noise narrowed the band: %+v, %+v", wide, b)
	}
}

func TestUnitsOfTimeAndValueDoNotMatter(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 4))
	ts := visitsOver(9, 90)
	y, y2, t2 := make([]float64, 9), make([]float64, 9), make([]float64, 9)
	for _, shape := range []course.Shape{course.Slab, course.Exponential, course.RootTime} {
		for i, x := range ts {
			y[i] = 15 + 25*math.Exp(-x/60) + r.NormFloat64()
			y2[i], t2[i] = 3*y[i]-7, x*24
		}
		a, err := course.FitDrying(ts, y, shape, 0, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		b, err := course.FitDrying(t2, y2, shape, 0, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near := func(what string, got, want float64) {
			if !(math.Abs(got-want) <= 1e-4*(1+math.Abs(want))) && got != want {
				t.Errorf("%s %s: got %v, want %v", shape, what, got, want)
			}
		}
		near("start", b.Start.Value, 3*a.Start.Value-7)
		near("start lower", b.Start.Lower, 3*a.Start.Lower-7)
		near("constant", b.Constant.Value, 24*a.Constant.Value)
		near("constant upper", b.Constant.Upper, 24*a.Constant.Upper)
		near("plateau", b.Plateau.Value, 3*a.Plateau.Value-7*sgn(shape))
		ba, _ := a.Reach(22, 0.9)
		bb, _ := b.Reach(3*22-7, 0.9)
		near("earliest", bb.Earliest, 24*ba.Earliest)
		near("latest", bb.Latest, 24*ba.Latest)
	}
}

func sgn(s course.Shape) float64 {
	if s == course.RootTime {
		return 0
	}
	return 1
}

func ExampleForecast() {
	days := []float64{0, 7, 14, 21, 28, 35, 42, 49, 56}
	contrast := []float64{41.5, 36.5, 33, 29.5, 27.5, 25, 23.5, 22, 21}
	for _, target := range []float64{20, 14} {
		band, err := course.Forecast(days, contrast, target, 0.4, 0.95)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%g units: day %.0f to %.0f, by %v\n", target, band.Earliest, band.Latest, band.Shapes)
		for _, n := range band.Notes {
			fmt.Println(n.Text)
		}
	}
	// Output:
	// 20 units: day 59 to 73, by [exponential]
	// 14 units: day 161 to +Inf, by [exponential]
	// The values do not exclude that the target is never reached on this course.
}

func ExampleMannKendall() {
	years := []float64{2019, 2021, 2023, 2025}
	contrast := []float64{12, 14.5, 17, 21}
	four, _ := course.MannKendall(years, contrast, 0.95)
	fmt.Println(four.Verdict)
	fmt.Println(four.Notes[0].Text)
	five, _ := course.MannKendall(append(years, 2026), append(contrast, 22.5), 0.95)
	fmt.Printf("%s, p %.3f\n", five.Verdict, five.P)
	// Output:
	// cannot-tell
	// 4 visits cannot show a trend: the smallest p they could give is 0.083. It takes 5.
	// rising, p 0.017
}

func FuzzFits(f *testing.F) {
	f.Add(uint64(1), 5, 1.0, 1.0, 0.0, 10.0, uint8(0))
	f.Add(uint64(2), 9, 1e9, 1e-9, 0.5, -4.0, uint8(1))
	f.Add(uint64(3), 6, 1e-9, 1e9, 1e-300, 1e12, uint8(2))
	f.Fuzz(func(t *testing.T, seed uint64, n int, days, units, noise, target float64, kind uint8) {
		n = (n%30+30)%30 + 1
		r := rand.New(rand.NewPCG(seed, 1))
		ts, ys := make([]float64, n), make([]float64, n)
		for i := range ts {
			ts[i], ys[i] = days*r.Float64(), units*r.NormFloat64()
			if kind&4 != 0 {
				ts[i], ys[i] = math.Round(ts[i]), math.Round(ys[i])
			}
		}
		shape := []course.Shape{course.Slab, course.Exponential, course.RootTime}[kind%3]
		sound := func(what string, e measure.Estimate) {
			if math.IsNaN(e.Value) || math.IsNaN(e.Lower) || math.IsNaN(e.Upper) || e.Lower > e.Upper {
				t.Errorf("%s: %+v from %v, %v", what, e, ts, ys)
			}
		}
		if d, err := course.FitDrying(ts, ys, shape, noise, 0.95); err == nil {
			for what, e := range map[string]measure.Estimate{"start": d.Start, "plateau": d.Plateau, "constant": d.Constant, "half": d.Half} {
				sound(what, e)
			}
			at, _ := d.At(math.Abs(days), 0.8)
			sound("at", at)
		}
		if b, err := course.Forecast(ts, ys, target, noise, 0.95); err == nil {
			sound("band", measure.Estimate{Value: b.Likely, Lower: b.Earliest, Upper: b.Latest})
		}
		if s, err := course.DetectStall(ts, ys, days/2, noise, 0.95); err == nil {
			sound("observed", s.Observed)
			sound("expected", s.Expected)
		}
		if s, err := course.Sen(ts, ys, 0.95, course.ExactRanks); err == nil {
			sound("sen", s)
		}
		if m, err := course.MannKendall(ts, ys, 0.95); err == nil && !(m.P >= 0 && m.P <= 1) {
			t.Errorf("p %v from %v, %v", m.P, ts, ys)
		}
	})
}

func BenchmarkForecast(b *testing.B) {
	ts := visitsOver(12, 120)
	ys := make([]float64, len(ts))
	for i, x := range ts {
		ys[i] = 15 + 25*math.Exp(-x/60) + 0.3*float64(i%3)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := course.Forecast(ts, ys, 18, 0, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMannKendall(b *testing.B) {
	ts := visitsOver(12, 120)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := course.MannKendall(ts, ts, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
