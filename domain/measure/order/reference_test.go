package order_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/order"
)

// robust is testdata/measure/robust.json; each set in it names its source.
type robust struct {
	Datasets map[string]struct {
		Data      []float64
		N         int
		Mean, SD  float64
		Median    float64
		MADRaw    float64              `json:"mad_raw"`
		MAD       float64              `json:"mad_scaled_1.4826"`
		Z         []float64            `json:"modified_z_0.6745"`
		Over      []int                `json:"indexes_1based_with_abs_modified_z_over_3.5"`
		Huber     float64              `json:"huber_M_k1.5_with_MAD_scale"`
		Sn, Qn    float64              //
		Walsh     float64              `json:"hodges_lehmann_median_of_walsh_averages_i_le_j"`
		Probs     []float64            `json:"quantile_probs"`
		Quantiles map[string][]float64 `json:"quantiles_by_type"`
		Fences    [2]float64           `json:"tukey_fences_type7_k1.5"`
	}
	Chem    struct{ Mean, Median, MAD, HuberMu float64 }
	Uranium struct {
		G       float64
		Suspect int     `json:"suspect_1based"`
		Two     float64 `json:"critical_two_sided"`
		One     float64 `json:"critical_one_sided"`
	} `json:"grubbs_uranium"`
	ESD struct {
		PublishedR      []float64 `json:"published_R"`
		PublishedLambda []float64 `json:"published_lambda"`
		R, Lambda       []float64
		Removed         []int `json:"removed_1based"`
		Outliers        int   `json:"outliers_declared"`
	} `json:"generalised_esd_rosner"`
	Grubbs map[string]struct {
		Two float64 `json:"two_sided"`
		One float64 `json:"one_sided"`
	} `json:"grubbs_critical_values_alpha_0.05"`
	Shift struct {
		X, Y   []float64
		Median float64    `json:"median_of_differences"`
		CI     [2]float64 `json:"ci95"`
		P      float64    `json:"p_two_sided_exact"`
		W      int
	} `json:"hodges_lehmann_two_sample"`
}

func loadRobust(t testing.TB) (r robust) {
	check.Load(t, "robust.json", &r)
	return r
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Source: R 4.2.2 with MASS and robustbase, sets as named in robust.json; the constants
// of the modified z from Iglewicz & Hoaglin 1993 as in e-Handbook 1.3.5.17.
func TestRobustEstimatesAgreeWithPublishedSoftware(t *testing.T) {
	t.Parallel()
	num := must[float64](t)
	for name, d := range loadRobust(t).Datasets {
		m := must[order.Moments](t)(order.MomentsOf(d.Data))
		check.Digits(t, name+" mean", m.Mean, d.Mean, 11)
		check.Digits(t, name+" sd", m.SD, d.SD, 11)
		check.Digits(t, name+" median", num(order.Middle(d.Data)), d.Median, 11)
		check.Digits(t, name+" MAD", num(order.MAD(d.Data)), d.MADRaw, 11)
		check.Digits(t, name+" scatter", num(order.Scatter(d.Data, 0)), d.MAD, 11)
		check.Digits(t, name+" Sn", num(order.Sn(d.Data)), d.Sn, 11)
		// For precip R's value is 5.900000095 times the factors: the difference 5.9 went
		// through single precision there, so 7 digits are all it holds.
		check.Digits(t, name+" Qn", num(order.Qn(d.Data)), d.Qn, map[bool]int{true: 7, false: 11}[name == "precip"])
		check.Digits(t, name+" Huber", must[measure.Estimate](t)(order.Huber(d.Data, 1.5, 0)).Value, d.Huber, 9)
		check.Digits(t, name+" Walsh", must[measure.Estimate](t)(order.HodgesLehmann(d.Data, 0.95)).Value, d.Walsh, 11)
		low, high, err := order.Fences(d.Data, 1.5, order.Type7)
		if err != nil {
			t.Fatal(err)
		}
		check.Digits(t, name+" lower fence", low, d.Fences[0], 11)
		check.Digits(t, name+" upper fence", high, d.Fences[1], 11)
		var over []int
		for i, z := range must[[]float64](t)(order.ModifiedZ(d.Data, 0)) {
			check.Digits(t, fmt.Sprintf("%s z[%d]", name, i), z, d.Z[i], 10)
			if math.Abs(z) > order.FlagAbove {
				over = append(over, i+1)
			}
		}
		if fmt.Sprint(over) != fmt.Sprint(d.Over) {
			t.Errorf("%s: flags %v, want %v", name, over, d.Over)
		}
	}
}

// Source: Hyndman & Fan 1996 by R's quantile(), all nine types.
func TestQuantilesOfAllNineDefinitions(t *testing.T) {
	t.Parallel()
	for name, d := range loadRobust(t).Datasets {
		for kind := order.Type1; kind <= order.Type9; kind++ {
			for i, want := range d.Quantiles[fmt.Sprintf("type%d", kind)] {
				got := must[float64](t)(order.Quantile(d.Data, d.Probs[i], kind))
				check.Digits(t, fmt.Sprintf("%s type %d p %v", name, kind, d.Probs[i]), got, want, 11)
			}
		}
	}
	ten := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	if q := must[float64](t)(order.Quantile(ten, 0.5, order.Type7)); q != 5.5 {
		t.Errorf("the middle of 1…10 is %v, want 5.5", q)
	}
}

// Source: NIST/SEMATECH e-Handbook 1.3.5.17.1 (uranium, Tietjen & Moore 1972).
func TestGrubbsFindsTheUraniumOutlier(t *testing.T) {
	t.Parallel()
	r := loadRobust(t)
	x := r.Datasets["uranium_grubbs"].Data
	one := must[order.Suspect](t)(order.Grubbs(x, order.Highest, 0.05))
	two := must[order.Suspect](t)(order.Grubbs(x, order.Both, 0.05))
	check.Digits(t, "G", one.G, r.Uranium.G, 11)
	check.Digits(t, "one-sided", one.Critical, r.Uranium.One, 11)
	check.Digits(t, "two-sided", two.Critical, r.Uranium.Two, 11)
	// As printed in the Handbook, 1.3.5.17.1; it truncates G, which is 2.46876.
	if math.Floor(one.G*1e4)/1e4 != 2.4687 {
		t.Errorf("G = %v, the Handbook prints 2.4687", one.G)
	}
	check.Digits(t, "one-sided, printed", one.Critical, 2.032, 4)
	if !one.Outlier || one.Index+1 != r.Uranium.Suspect {
		t.Errorf("suspect %+v", one)
	}
	for n, want := range r.Grubbs {
		size, _ := strconv.Atoi(n)
		flat := make([]float64, size)
		for i := range flat {
			flat[i] = float64(i)
		}
		check.Digits(t, "two-sided n="+n, must[order.Suspect](t)(order.Grubbs(flat, order.Both, 0.05)).Critical, want.Two, 10)
		check.Digits(t, "one-sided n="+n, must[order.Suspect](t)(order.Grubbs(flat, order.Lowest, 0.05)).Critical, want.One, 10)
	}
}

// Source: NIST/SEMATECH e-Handbook 1.3.5.17.3 (Rosner 1983).
func TestESDFindsRosnersThree(t *testing.T) {
	t.Parallel()
	r := loadRobust(t)
	got, outliers, err := order.ESD(r.Datasets["rosner"].Data, 10, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	if outliers != r.ESD.Outliers {
		t.Errorf("%d outliers, want %d", outliers, r.ESD.Outliers)
	}
	for i, s := range got {
		check.Digits(t, "R", s.G, r.ESD.R[i], 11)
		check.Digits(t, "lambda", s.Critical, r.ESD.Lambda[i], 10)
		if math.Abs(s.G-r.ESD.PublishedR[i]) > 0.001 || math.Abs(s.Critical-r.ESD.PublishedLambda[i]) > 0.001 {
			t.Errorf("step %d: %.4f and %.4f, printed %.3f and %.3f", i+1, s.G, s.Critical, r.ESD.PublishedR[i], r.ESD.PublishedLambda[i])
		}
		if s.Index+1 != r.ESD.Removed[i] {
			t.Errorf("step %d set aside value %d, want %d", i+1, s.Index+1, r.ESD.Removed[i])
		}
	}
}

// Source: Hollander & Wolfe 1973 p. 69 as in R's ?wilcox.test.
func TestShiftOfPermeabilityConstants(t *testing.T) {
	t.Parallel()
	h := loadRobust(t).Shift
	e := must[measure.Estimate](t)(order.Shift(h.X, h.Y, 0.95))
	check.Digits(t, "shift", e.Value, h.Median, 11)
	check.Digits(t, "lower", e.Lower, h.CI[0], 11)
	check.Digits(t, "upper", e.Upper, h.CI[1], 11)
	cdf := order.RankSumCDF(len(h.X), len(h.Y))
	check.Digits(t, "p", 2*(1-cdf(h.W-1)), h.P, 11)
}

// Source: NIST StRD univariate summary statistics, certified to 15 digits.
func TestMomentsHoldTheCertifiedDigits(t *testing.T) {
	t.Parallel()
	data := map[string][]float64{}
	for _, row := range table(t, "univariate-data.csv") {
		x, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		data[row[0]] = append(data[row[0]], x)
	}
	// The values of NumAcc3 and 4 themselves are only held to 1e-10 and 1e-9 of their
	// spread of 0.1 by a float64.
	digits := map[string]int{"NumAcc3": 9, "NumAcc4": 8}
	for _, row := range table(t, "univariate-certified.csv") {
		m := must[order.Moments](t)(order.MomentsOf(data[row[0]]))
		want := make([]float64, 3)
		for i := range want {
			want[i], _ = strconv.ParseFloat(row[i+2], 64)
		}
		n, low := digits[row[0]]
		if !low {
			n = 10
		}
		check.Digits(t, row[0]+" mean", m.Mean, want[0], 14)
		check.Digits(t, row[0]+" sd", m.SD, want[1], n)
		check.Digits(t, row[0]+" lag 1", m.Lag1, want[2], n-1)
		if strconv.Itoa(m.N) != row[1] {
			t.Errorf("%s: n = %d, want %s", row[0], m.N, row[1])
		}
	}
}

// In whole tenths the mean of NumAcc4 is exact: 10000000.2.
func TestTheMeanOfWholeTenthsIsExact(t *testing.T) {
	t.Parallel()
	var vs []measure.Value
	for _, row := range table(t, "univariate-data.csv") {
		if row[0] == "NumAcc4" {
			x, _ := strconv.ParseFloat(row[1], 64)
			vs = append(vs, measure.Value{At: measure.FromTenths(int32(math.Round(x * 10)))})
		}
	}
	low, high, err := order.MeanOf(vs)
	if err != nil || low != 10000000.2 || high != low {
		t.Errorf("[%v, %v], %v", low, high, err)
	}
	vs[3].Limit = measure.Above
	if low, high, _ = order.MeanOf(vs); low != 10000000.2 || !math.IsInf(high, 1) {
		t.Errorf("with one above the scale: [%v, %v], want at least the mean", low, high)
	}
}

func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(check.Path(name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// Source: exact null distribution by R's psignrank, testdata/measure/paired.json.
func TestTheSignedRankDistributionIsCountedOut(t *testing.T) {
	t.Parallel()
	var p struct {
		Exact map[string]struct {
			N int
			P []float64 `json:"P_V_le"`
		} `json:"exact_signed_rank_distribution"`
	}
	check.Load(t, "paired.json", &p)
	for _, d := range p.Exact {
		cdf := order.SignedRankCDF(d.N)
		for v, want := range d.P {
			check.Digits(t, fmt.Sprintf("n=%d V=%d", d.N, v), cdf(v), want, 11)
		}
	}
	// Where counting stops the approximation takes over without a step.
	exact, approx := order.SignedRankCDF(200), order.SignedRankCDF(201)
	for _, z := range []float64{-3, -1.96, -1, 0, 2} {
		a := exact(int(10050 + z*math.Sqrt(200*201*401/24.0)))
		b := approx(int(10150.5 + z*math.Sqrt(201*202*403/24.0)))
		if math.Abs(a-b) > 5e-4 {
			t.Errorf("z = %v: %v counted, %v approximated", z, a, b)
		}
	}
}

func TestWhatIsNotFiniteOrEmptyIsRefused(t *testing.T) {
	t.Parallel()
	bad := []float64{1, 2, math.NaN(), 4}
	for name, call := range map[string]func([]float64) error{
		"Median":        func(x []float64) error { _, err := order.Median(x, 0.95); return err },
		"Mean":          func(x []float64) error { _, err := order.Mean(x, 0.95); return err },
		"MAD":           func(x []float64) error { _, err := order.MAD(x); return err },
		"Quantile":      func(x []float64) error { _, err := order.Quantile(x, 0.5, order.Type7); return err },
		"ModifiedZ":     func(x []float64) error { _, err := order.ModifiedZ(x, 0); return err },
		"Huber":         func(x []float64) error { _, err := order.Huber(x, 1.5, 0); return err },
		"Sn":            func(x []float64) error { _, err := order.Sn(x); return err },
		"Qn":            func(x []float64) error { _, err := order.Qn(x); return err },
		"HodgesLehmann": func(x []float64) error { _, err := order.HodgesLehmann(x, 0.95); return err },
		"Grubbs":        func(x []float64) error { _, err := order.Grubbs(x, order.Both, 0.05); return err },
		"ESD":           func(x []float64) error { _, _, err := order.ESD(x, 1, 0.05); return err },
	} {
		var arg *measure.ArgumentError
		if err := call(bad); !errors.As(err, &arg) || arg.Argument != "x[2]" {
			t.Errorf("%s: got %v, want an error that names x[2]", name, err)
		}
		if err := call(nil); err == nil {
			t.Errorf("%s took no values", name)
		}
	}
	if _, err := order.Median([]float64{1}, 1); err == nil {
		t.Error("a level of 1 was taken")
	}
}
