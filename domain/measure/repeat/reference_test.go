package repeat_test

import (
	"errors"
	"math"
	"slices"
	"sort"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

type layout struct {
	Groups    map[string][]float64 `json:"groups_data"`
	Certified struct {
		SSBetween float64 `json:"ss_between"`
		SSWithin  float64 `json:"ss_within"`
		F         float64
		SD        float64 `json:"residual_sd"`
	}
	expected
}

type expected struct {
	Mean      float64    `json:"general_mean"`
	Effective float64    `json:"n_effective_per_group"`
	SSWithin  float64    `json:"ss_within"`
	SSBetween float64    `json:"ss_between"`
	F         float64    //
	P         float64    `json:"p_value_F"`
	Sr        float64    `json:"s_r"`
	SLSquared float64    `json:"s_L_squared_before_truncation"`
	SL        float64    `json:"s_L"`
	SR        float64    `json:"s_R"`
	Limit     float64    `json:"repeatability_limit_2.8_s_r"`
	SrCI      [2]float64 `json:"s_r_ci95"`
	H         []float64  `json:"mandel_h"`
	K         []float64  `json:"mandel_k"`
	Cochran   float64    `json:"cochran_C"`
}

type precision struct {
	NIST      layout `json:"nist_SiRstv"`
	Dyestuff  layout
	Dyestuff2 layout `json:"dyestuff2_negative_between"`
	Coal      struct {
		Published map[string]struct {
			Mean float64
			Sr   float64 `json:"s_r"`
			SR   float64 `json:"s_R"`
		} `json:"published_from_memory"`
		Data     map[string]map[string][]float64
		Computed map[string]expected
	} `json:"iso5725_coal"`
}

func inOrder(m map[string][]float64) (groups [][]float64) {
	var names []string
	for n := range m {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		groups = append(groups, m[n])
	}
	return groups
}

func agree(t *testing.T, name string, groups [][]float64, want expected) repeat.Precision {
	t.Helper()
	p, err := repeat.Of(groups, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for what, v := range map[string][2]float64{
		"mean": {p.Mean, want.Mean}, "effective": {p.Effective, want.Effective},
		"ss within": {p.SSWithin, want.SSWithin}, "ss between": {p.SSBetween, want.SSBetween},
		"F": {p.F, want.F}, "p": {p.P, want.P},
		"s_r": {p.Repeatability.S, want.Sr}, "s_L²": {p.BetweenSquared, want.SLSquared},
		"s_L": {p.Between, want.SL}, "s_R": {p.Reproducibility.S, want.SR},
		"lower s_r": {p.Repeatability.Estimate.Lower, want.SrCI[0]},
		"upper s_r": {p.Repeatability.Estimate.Upper, want.SrCI[1]},
		"Cochran":   {p.CochranC, want.Cochran},
	} {
		check.Digits(t, name+" "+what, v[0], v[1], 9)
	}
	check.Digits(t, name+" limit", repeat.Limit(p.Repeatability.S), want.Limit, 10)
	for i := range want.H {
		check.Digits(t, name+" h", p.H[i], want.H[i], 8)
		check.Digits(t, name+" k", p.K[i], want.K[i], 9)
	}
	return p
}

// Sources: NIST StRD SiRstv (certified); Davies & Goldsmith 1972 and Box & Tiao 1973
// by R 4.2.2; ISO 5725-2:1994 annex B.1 from memory.
func TestPrecisionAgreesWithPublishedLayouts(t *testing.T) {
	t.Parallel()
	var r precision
	check.Load(t, "precision.json", &r)

	p := agree(t, "SiRstv", inOrder(r.NIST.Groups), r.NIST.expected)
	check.Digits(t, "certified between", p.SSBetween, r.NIST.Certified.SSBetween, 9)
	check.Digits(t, "certified within", p.SSWithin, r.NIST.Certified.SSWithin, 9)
	check.Digits(t, "certified F", p.F, r.NIST.Certified.F, 8)
	check.Digits(t, "certified sd", p.Repeatability.S, r.NIST.Certified.SD, 10)

	agree(t, "dyestuff", inOrder(r.Dyestuff.Groups), r.Dyestuff.expected)

	p = agree(t, "dyestuff 2", inOrder(r.Dyestuff2.Groups), r.Dyestuff2.expected)
	if p.Between != 0 || !p.Reproducibility.Estimate.Has("negative-between") {
		t.Errorf("a negative component is not said: %+v", p.Reproducibility)
	}

	for level, want := range r.Coal.Computed {
		p := agree(t, "coal "+level, inOrder(r.Coal.Data[level]), want)
		printed := r.Coal.Published[level]
		for what, v := range map[string][2]float64{
			"s_r": {p.Repeatability.S, printed.Sr}, "s_R": {p.Reproducibility.S, printed.SR},
		} {
			if math.Abs(v[0]-v[1]) > 0.0005 {
				t.Errorf("coal %s %s: %.4f, remembered as printed %v", level, what, v[0], v[1])
			}
		}
	}
}

// Source: Bland & Altman 1986, within-subject standard deviation of two readings.
func TestBlindRepeatsOfPeakFlow(t *testing.T) {
	t.Parallel()
	var r struct {
		PEFR struct {
			First  []float64 `json:"large_meter_first"`
			Second []float64 `json:"large_meter_second"`
			Want   struct {
				SD          float64 `json:"within_subject_sd_anova"`
				Coefficient float64 `json:"repeatability_coefficient_1.96_sqrt2_sw"`
			} `json:"repeatability_large"`
		}
	}
	check.Load(t, "paired.json", &r)
	var pairs [][]float64
	for i, x := range r.PEFR.First {
		pairs = append(pairs, []float64{x, r.PEFR.Second[i]})
	}
	d, err := repeat.OfPlacements(pairs, 0, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, "within", d.S, r.PEFR.Want.SD, 11)
	if !d.Estimate.Has("too-few") || d.DF != 17 {
		t.Errorf("17 re-placements are too few: %+v", d)
	}
	d.DF = 1 << 30 // as if s were known, as the coefficient takes it
	srd, err := repeat.SmallestDifference(d, 1, 1, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, "coefficient", srd, r.PEFR.Want.Coefficient/1.96*order.Z(0.975), 9) // theirs rounds z to 1.96
}

// The density of the median of k normals is integrated here: for odd k the middle
// order statistic, for even k from the joint density of the middle two.
func TestTheVarianceOfAMedianOfPlacements(t *testing.T) {
	t.Parallel()
	phi := func(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
	cdf := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	const h = 0.02
	for k, c := range map[int]float64{1: 1, 3: 6, 5: 30} { // k!/((k−1)/2)!²
		var v float64
		for x := -8.0; x <= 8; x += h {
			v += h * x * x * c * phi(x) * math.Pow(cdf(x)*cdf(-x), float64(k/2))
		}
		got, _ := repeat.MedianVariance(k)
		check.Digits(t, "odd", got, v, 5)
	}
	for k, c := range map[int]float64{2: 2, 4: 24} { // k!/((k/2−1)!)²
		var v float64
		for x := -8.0; x <= 8; x += h {
			for y := x; y <= 8; y += h {
				w := h * h
				if y == x {
					w /= 2
				}
				m := (x + y) / 2
				v += w * m * m * c * phi(x) * phi(y) * math.Pow(cdf(x)*cdf(-y), float64(k/2-1))
			}
		}
		got, _ := repeat.MedianVariance(k)
		if math.Abs(got-v) > 2e-4 {
			t.Errorf("k = %d: %v, integrated %v", k, got, v)
		}
	}
	if _, err := repeat.MedianVariance(6); err == nil {
		t.Error("six placements were taken")
	}
}

// Sources: NIST/SEMATECH e-Handbook 6.3.2.4 (EWMA) and 6.3.2.2 (individuals);
// constants by numerical integration, testdata/measure/control-charts.json.
func TestChartsAgreeWithTheHandbook(t *testing.T) {
	t.Parallel()
	var r struct {
		EWMA struct {
			Data              []float64
			Lam, Target, S, L float64
			Published         struct {
				EWMA     []float64 `json:"ewma_2dp"`
				UCL, LCL float64
			}
			EWMA  []float64
			Exact []float64 `json:"exact_half_width_by_t"`
			UCL   float64
		}
		Individuals struct {
			Data      []float64
			Published struct {
				Mean     float64
				MR       float64 `json:"mean_moving_range"`
				UCL, LCL float64
			}
			UCL float64 `json:"ucl_exact_d2"`
			LCL float64 `json:"lcl_exact_d2"`
		}
		Constants struct {
			Table []struct{ N, D2, D3, D4 float64 }
		}
	}
	check.Load(t, "control-charts.json", &r)
	e := r.EWMA
	points, err := repeat.EWMA(e.Data, e.Target, e.S, e.Lam, e.L)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range points {
		check.Digits(t, "ewma", p.Value, e.EWMA[i+1], 14)
		check.Digits(t, "half width", p.Upper-e.Target, e.Exact[i], 11)
		if math.Abs(p.Value-e.Published.EWMA[i+1]) > 0.0051 || p.Out {
			t.Errorf("t = %d: %v, printed %v", i+1, p, e.Published.EWMA[i+1])
		}
	}
	// The page truncates the steady factor to 0.4201 and the lower limit.
	if last := points[len(points)-1]; math.Abs(last.Upper-e.Published.UCL) > 0.001 || math.Abs(last.Lower-e.Published.LCL) > 0.001 {
		t.Errorf("steady limits %v and %v, printed %v and %v", last.Lower, last.Upper, e.Published.LCL, e.Published.UCL)
	}

	c, err := repeat.IndividualsChart(r.Individuals.Data, len(r.Individuals.Data))
	if err != nil {
		t.Fatal(err)
	}
	check.Digits(t, "mean", c.Mean, r.Individuals.Published.Mean, 4)
	check.Digits(t, "moving range", c.MovingRange, r.Individuals.Published.MR, 5)
	check.Digits(t, "upper", c.Points[0].Upper, r.Individuals.UCL, 13)
	check.Digits(t, "lower", c.Points[0].Lower, r.Individuals.LCL, 13)
	two := r.Constants.Table[0]
	check.Digits(t, "d2", c.MovingRange/c.Sigma, two.D2, 10)
	check.Digits(t, "D4", c.RangeLimit/c.MovingRange, two.D4, 8)
	// Printed with d₂ rounded to 1.128.
	if math.Abs(c.Points[0].Upper-r.Individuals.Published.UCL) > 0.002 {
		t.Errorf("upper limit %v, printed %v", c.Points[0].Upper, r.Individuals.Published.UCL)
	}
}

func TestBadArgumentsAreNamed(t *testing.T) {
	t.Parallel()
	var known repeat.Deviation
	for want, call := range map[string]func() error{
		"groups":       func() error { _, err := repeat.Of([][]float64{{1, 2}}, 0.95); return err },
		"groups[1]":    func() error { _, err := repeat.Of([][]float64{{1, 2}, {}}, 0.95); return err },
		"groups[0][1]": func() error { _, err := repeat.Of([][]float64{{1, math.NaN()}, {1}}, 0.95); return err },
		"level":        func() error { _, err := repeat.OfPlacements([][]float64{{1, 2}}, 0, 1); return err },
		"step":         func() error { _, err := repeat.OfPlacements([][]float64{{1, 2}}, -1, 0.9); return err },
		"spots[1][0]":  func() error { _, err := repeat.OfKit([][][]float64{{{1}, {2}}, {{}, {1}}}, 0.9); return err },
		"d":            func() error { _, err := repeat.SmallestDifference(known, 1, 1, 0.95); return err },
		"settle":       func() error { _, err := repeat.IndividualsChart([]float64{1, 2}, 3); return err },
		"s":            func() error { _, err := repeat.EWMA([]float64{1}, 0, 0, 0.2, 3); return err },
		"lambda":       func() error { _, err := repeat.EWMA([]float64{1}, 0, 1, 0, 3); return err },
	} {
		var arg *measure.ArgumentError
		if err := call(); !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
	if _, err := repeat.OfPlacements([][]float64{{1}, {2}}, 0, 0.95); !errors.Is(err, measure.ErrEmpty) {
		t.Errorf("places read once gave %v", err)
	}
}

func TestReadingsThatComeBackTheSameLeaveTheScaleStep(t *testing.T) {
	t.Parallel()
	d, err := repeat.OfPlacements([][]float64{{20, 20, 20}, {31, 31}}, 1, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if d.S != 1/math.Sqrt(12) || !d.Estimate.Has("scale-step") || d.Estimate.Upper < d.S {
		t.Errorf("%+v", d)
	}
}

func TestOrderAndZeroDoNotMatter(t *testing.T) {
	t.Parallel()
	a := [][]float64{{20, 21, 19}, {33, 35}, {27, 27.5, 29, 28}}
	b := [][]float64{{-28, -29, -27.5, -27}, {-19, -21, -20}, {-35, -33}}
	x, _ := repeat.Of(a, 0.95)
	y, _ := repeat.Of(b, 0.95)
	for _, v := range [][2]float64{
		{x.Repeatability.S, y.Repeatability.S},
		{x.Between, y.Between},
		{x.Reproducibility.S, y.Reproducibility.S},
		{x.Reproducibility.Estimate.Upper, y.Reproducibility.Estimate.Upper},
		{x.F, y.F},
	} {
		check.Digits(t, "mirrored and reordered", v[0], v[1], 12)
	}
	slices.Reverse(y.K)
	check.Digits(t, "k", x.K[1], y.K[0], 12)
}
