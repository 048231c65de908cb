package change_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/repeat"
)

type wilcoxon struct {
	V       float64
	Zeros   int     `json:"n_zero_differences_dropped"`
	Exact   float64 `json:"p_exact_conditional_on_ties"`
	Pratt   float64 `json:"p_exact_pratt_zeros_kept"`
	Greater float64 `json:"p_exact_greater"`
	Less    float64 `json:"p_exact_less"`
}

type student struct {
	T    float64
	DF   int
	P    float64
	Mean float64    `json:"mean_difference"`
	SD   float64    `json:"sd_difference"`
	SE   float64    `json:"se"`
	CI   [2]float64 `json:"ci95"`
}

func minus(x, y []float64) []float64 {
	d := make([]float64, len(x))
	for i := range x {
		d[i] = x[i] - y[i]
	}
	return d
}

func agree(t *testing.T, name string, d []float64, want wilcoxon) change.SignedRankTest {
	t.Helper()
	got, err := change.SignedRank(d, change.Drop)
	if err != nil {
		t.Fatal(err)
	}
	if got.V != want.V || got.Zeros != want.Zeros || !got.Exact {
		t.Errorf("%s: V %v zeros %d, want %v and %d", name, got.V, got.Zeros, want.V, want.Zeros)
	}
	check.Digits(t, name+" exact", got.P, want.Exact, 11)
	pratt, err := change.SignedRank(d, change.Pratt)
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, name+" Pratt", pratt.P, want.Pratt, 11)
	return got
}

func student1908(t *testing.T, name string, d []float64, want student) {
	t.Helper()
	got, err := change.PairedT(d, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for what, v := range map[string][2]float64{
		"t": {got.T, want.T}, "p": {got.P, want.P}, "mean": {got.Estimate.Value, want.Mean}, "sd": {got.SD, want.SD},
		"se": {got.SE, want.SE}, "lower": {got.Estimate.Lower, want.CI[0]}, "upper": {got.Estimate.Upper, want.CI[1]},
	} {
		check.Digits(t, name+" "+what, v[0], v[1], 10)
	}
	if got.DF != want.DF {
		t.Errorf("%s: %d degrees of freedom, want %d", name, got.DF, want.DF)
	}
}

// Sources: Hollander & Wolfe 1973; Student 1908; Bland & Altman 1986; computed by R
// 4.2.2 with exactRankTests and coin, testdata/measure/paired.json.
func TestPairedTestsAgreeWithPublishedSets(t *testing.T) {
	t.Parallel()
	var r struct {
		Depression struct {
			X, Y []float64
			wilcoxon
		} `json:"depression_scale"`
		Pressure struct {
			X, Y []float64
			wilcoxon
		} `json:"blood_pressure_with_ties_and_zero"`
		Sleep struct {
			X, Y     []float64
			PairedT  student `json:"paired_t"`
			Wilcoxon wilcoxon
		}
		PEFR struct {
			Large    []float64 `json:"large_meter_first"`
			Mini     []float64 `json:"mini_meter_first"`
			PairedT  student   `json:"paired_t"`
			Wilcoxon wilcoxon
		}
		Critical map[string]struct {
			N    int
			Five int `json:"two_sided_0.05_largest_V_significant"`
			One  int `json:"two_sided_0.01"`
		} `json:"signed_rank_critical"`
	}
	check.Load(t, "paired.json", &r)
	got := agree(t, "depression", minus(r.Depression.X, r.Depression.Y), r.Depression.wilcoxon)
	check.Digits(t, "greater", got.Greater, r.Depression.Greater, 11)
	check.Digits(t, "less", got.Less, r.Depression.Less, 11)
	agree(t, "pressure", minus(r.Pressure.X, r.Pressure.Y), r.Pressure.wilcoxon)
	agree(t, "sleep", minus(r.Sleep.X, r.Sleep.Y), r.Sleep.Wilcoxon)
	agree(t, "peak flow", minus(r.PEFR.Large, r.PEFR.Mini), r.PEFR.Wilcoxon)
	student1908(t, "sleep", minus(r.Sleep.X, r.Sleep.Y), r.Sleep.PairedT)
	student1908(t, "peak flow", minus(r.PEFR.Large, r.PEFR.Mini), r.PEFR.PairedT)

	for _, c := range r.Critical {
		for level, want := range map[float64]int{0.05: c.Five, 0.01: c.One} {
			if got := critical(t, c.N, level); got != want {
				t.Errorf("n = %d at %v: largest V %d, table %d", c.N, level, got, want)
			}
		}
	}
}

// critical finds the largest V that is significant, two-sided, by building
// differences 1…n whose positive ranks sum to V.
func critical(t *testing.T, n int, level float64) int {
	t.Helper()
	for v := 0; ; v++ {
		d, rest := make([]float64, n), v
		for r := n; r >= 1; r-- {
			if d[r-1] = -float64(r); r <= rest {
				d[r-1], rest = float64(r), rest-r
			}
		}
		got, err := change.SignedRank(d, change.Drop)
		if err != nil {
			t.Fatal(err)
		}
		if got.P > level {
			return v - 1
		}
	}
}

// Source: the definition of Benjamini & Hochberg 1995 applied to their fifteen
// chances of §3.2 (from memory): four count at 5 %, three by Bonferroni.
func TestFalseDiscoveryControlOfBenjaminiAndHochberg(t *testing.T) {
	t.Parallel()
	p := []float64{0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.000}
	d, err := change.Discover(p, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	if d.Count != 4 || !d.Found[3] || d.Found[4] {
		t.Errorf("%d found: %v", d.Count, d.Adjusted)
	}
	check.Digits(t, "adjusted", d.Adjusted[3], 0.0095*15/4, 12)
	check.Digits(t, "running minimum", d.Adjusted[5], 0.0298*15/7, 12)

	r := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		q := make([]float64, 1+r.IntN(20))
		for i := range q {
			q[i] = math.Pow(r.Float64(), 3)
		}
		d, _ := change.Discover(q, 0.1)
		for i := range q {
			if d.Adjusted[i] < q[i] || d.Found[i] != (d.Adjusted[i] <= 0.1) {
				t.Fatalf("%v gave %v", q, d)
			}
			for j := range q {
				if q[i] < q[j] && d.Adjusted[i] > d.Adjusted[j] {
					t.Fatalf("order is lost: %v gave %v", q, d)
				}
			}
		}
	}
}

// Source: Tukey 1977, deaths in sport parachuting, as in R's ?medpolish (from memory;
// the parts re-add to the table, which is checked).
func TestMedianPolishOfTukeysParachutists(t *testing.T) {
	t.Parallel()
	table := [][]float64{{14, 15, 14}, {7, 4, 7}, {8, 2, 10}, {15, 9, 10}, {0, 2, 0}}
	p, err := change.Polish(table, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := "8 [6 -1 0 2 -8] [0 -1 0] [[0 2 0] [0 -2 0] [0 -5 2] [5 0 0] [0 3 0]]"
	if got := fmt.Sprint(p.Common, " ", p.Place, " ", p.Visit, " ", p.Left); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestPolishKeepsWhatItTakesApart(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(2, 2))
	for range 300 {
		rows, cols := 1+r.IntN(8), 1+r.IntN(6)
		table, missing := make([][]float64, rows), make([][]bool, rows)
		for i := range table {
			table[i], missing[i] = make([]float64, cols), make([]bool, cols)
			for j := range table[i] {
				table[i][j], missing[i][j] = r.NormFloat64()*10, r.IntN(4) == 0
				if missing[i][j] {
					table[i][j] = math.NaN()
				}
			}
		}
		p, err := change.Polish(table, missing)
		if err != nil {
			t.Fatal(err)
		}
		for i := range table {
			for j, v := range table[i] {
				if !missing[i][j] && math.Abs(p.Common+p.Place[i]+p.Visit[j]+p.Left[i][j]-v) > 1e-9 {
					t.Fatalf("cell %d, %d does not add up: %+v", i, j, p)
				}
			}
		}
	}
	// A quarter of the places changed by 20: the visit effects 0, 3, −2 come out whole.
	table := make([][]float64, 20)
	for i := range table {
		table[i] = []float64{float64(i), float64(i) + 3, float64(i) - 2}
		if i%4 == 0 {
			table[i][2] += 20
		}
	}
	p, _ := change.Polish(table, nil)
	if p.Visit[1]-p.Visit[0] != 3 || p.Visit[2]-p.Visit[0] != -2 || p.Left[4][2] != 20 {
		t.Errorf("visits %v, left at a changed place %v", p.Visit, p.Left[4])
	}
}

// Source: R 4.2.2 power.t.test(strict = TRUE), its manual's two values (from memory,
// reproduced) and NIST/SEMATECH e-Handbook 7.2.2.2, testdata/measure/power.json.
func TestPowerAgreesWithPublishedValues(t *testing.T) {
	t.Parallel()
	var r struct {
		Published struct {
			Power float64 `json:"computed_power"`
		} `json:"published_check"`
		Power []struct {
			N      int
			Effect float64 `json:"delta_over_sd"`
			Power  float64
		} `json:"paired_power"`
		Size []struct {
			Effect float64 `json:"delta_over_sd"`
			Power  float64
			N      int `json:"n_needed"`
		} `json:"paired_sample_size"`
		Two []struct {
			M         int `json:"repeats_each_visit"`
			Change, S float64
			Power     float64 `json:"power_two_sample"`
		} `json:"two_visits_at_one_point"`
		Need []struct {
			Change, S, Power float64
			M                int `json:"repeats_each_visit"`
		} `json:"repeats_needed_at_one_point"`
		Least []struct {
			M     int     `json:"repeats_each_visit"`
			S     float64 `json:"s_repeatability"`
			Least float64 `json:"least_detectable_change_normal_95"`
		} `json:"least_detectable_change"`
	}
	check.Load(t, "power.json", &r)
	for _, c := range r.Power {
		got, err := change.PairedPower(c.N, c.Effect, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		check.Digits(t, fmt.Sprintf("power n = %d, effect %v", c.N, c.Effect), got, c.Power, 9)
	}
	got, _ := change.RepeatsPower(20, 1, 0.05)
	check.Digits(t, "manual page, upper tail alone", got, r.Published.Power, 6)
	for _, c := range r.Size {
		n, err := change.PairedSize(c.Effect, c.Power, 0.05)
		if err != nil || n != c.N {
			t.Errorf("effect %v, power %v: %d pairs (%v), want %d", c.Effect, c.Power, n, err, c.N)
		}
	}
	for _, c := range r.Two {
		// From m = 5 on the reference holds the upper tail alone, up to 7.5e-7 less.
		got, _ := change.RepeatsPower(c.M, c.Change/c.S, 0.05)
		if math.Abs(got-c.Power) > 1e-6 {
			t.Errorf("two visits, m = %d: %v, want %v", c.M, got, c.Power)
		}
	}
	// Both tails by quadrature in 30 digits (mpmath).
	for m, want := range map[int]float64{3: 0.46264081189131, 5: 0.79054237797257, 8: 0.96022077267232} {
		got, _ := change.RepeatsPower(m, 2, 0.05)
		check.Digits(t, "two visits, both tails", got, want, 10)
	}
	for _, c := range r.Need {
		m, err := change.RepeatsNeeded(c.Change/c.S, c.Power, 0.05)
		if err != nil || m != c.M {
			t.Errorf("change %v: %d repeats (%v), want %d", c.Change, m, err, c.M)
		}
	}
	// Means of m repeats; a reading is a median of k placements, so only m = 1 and 2
	// are the same thing.
	for _, c := range r.Least {
		if c.M > 2 {
			continue
		}
		got, err := repeat.SmallestDifference(repeat.Deviation{S: c.S, DF: 1 << 40}, c.M, c.M, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		check.Digits(t, "least detectable", got, c.Least, 9)
	}
}

func TestBadArgumentsAreNamed(t *testing.T) {
	t.Parallel()
	for want, call := range map[string]func() error{
		"d[1]":     func() error { _, err := change.SignedRank([]float64{1, math.Inf(1)}, change.Drop); return err },
		"d[0]":     func() error { _, err := change.PairedT([]float64{math.NaN(), 1}, 0.95); return err },
		"d":        func() error { _, err := change.PairedT([]float64{1}, 0.95); return err },
		"p":        func() error { _, err := change.Discover([]float64{1.2}, 0.05); return err },
		"q":        func() error { _, err := change.Discover([]float64{0.2}, 0); return err },
		"table[1]": func() error { _, err := change.Polish([][]float64{{1, 2}, {1}}, nil); return err },
		"n":        func() error { _, err := change.PairedPower(1, 1, 0.05); return err },
		"effect":   func() error { _, err := change.PairedSize(0, 0.8, 0.05); return err },
		"in.Rate":  func() error { _, err := change.Compare(change.Input{}); return err },
		"c": func() error {
			_, err := change.Ahead(change.Components{}, change.Plan{Places: 1, Dry: 6, KBefore: 1, KAfter: 1, VisitsBefore: 1, VisitsAfter: 1}, 0.8, 0.05)
			return err
		},
		"like[0]": func() error {
			_, err := change.Measure(repeat.Deviation{}, nil, []change.LikePair{{KBefore: 9, KAfter: 1}})
			return err
		},
		"in.Dry[0]": func() error {
			_, err := change.Compare(change.Input{Rate: 0.05, LeastDry: 6, Dry: []change.Pair{{}}})
			return err
		},
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}
