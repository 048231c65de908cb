package course_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/internal/check"
)

// The sets are those of testdata/measure/06-trend-expected.json: US EPA 2009 Unified
// Guidance examples 17-6 and 17-7, the Rhine at Maxau, Great Lakes precipitation and Sen
// 1968, with the published results named there and R's to twelve digits.
type trendSet struct {
	Published struct {
		Slope     *float64
		SlopeCI95 []float64 `json:"slope_ci95"`
		SlopeCI93 []float64 `json:"slope_ci93"`
		Z, P, Tau *float64
	}
	MK struct {
		N, S                   int
		Var                    float64 `json:"var_S_with_ties"`
		Ties                   []int   `json:"tie_group_sizes"`
		Z                      float64 `json:"z_continuity"`
		P                      float64 `json:"p_two_sided_continuity"`
		TauA                   float64 `json:"tau_a"`
		TauB                   float64 `json:"tau_b"`
		Concordant, Discordant int
	} `json:"mann_kendall"`
	Sen struct {
		Slope        float64
		Interpolated []float64 `json:"ci_gilbert_interpolated"`
		Nearest      []float64 `json:"ci_ranks_rounded_nearest"`
		Outward      []float64 `json:"ci_conservative_floor_ceiling"`
	}
	ExactP *float64 `json:"exact_two_sided_p_from_cor_test"`
}

type trendReference struct {
	Sets      map[string]trendSet
	ExactTail map[string]struct {
		N int
		S []int
		P []float64 `json:"P_S_ge"`
	} `json:"exact_upper_tail_no_ties"`
	ExactCheck struct {
		Examples []struct {
			Y []float64
			P float64
		}
	} `json:"exact_check"`
	SmallTies struct {
		Y []float64
		P float64 `json:"exact_permutation_p_two_sided"`
	} `json:"small_n_with_ties"`
	Nottem struct {
		S        int
		Var      float64   `json:"var_S"`
		Z        float64   `json:"z_continuity"`
		P        float64   `json:"p_continuity"`
		ByMonth  []int     `json:"S_by_month"`
		VarMonth []float64 `json:"var_by_month"`
	} `json:"seasonal_nottem"`
}

func loadTrend(t *testing.T) (ref trendReference, data map[string][2][]float64) {
	t.Helper()
	check.Load(t, "06-trend-expected.json", &ref)
	f, err := os.Open(check.Path("06-trend-data.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	data = map[string][2][]float64{}
	for _, row := range rows[1:] {
		x, err1 := strconv.ParseFloat(row[1], 64)
		y, err2 := strconv.ParseFloat(row[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(row)
		}
		d := data[row[0]]
		data[row[0]] = [2][]float64{append(d[0], x), append(d[1], y)}
	}
	return ref, data
}

func TestMannKendallAgreesWithPublishedResults(t *testing.T) {
	t.Parallel()
	ref, data := loadTrend(t)
	for name, want := range ref.Sets {
		got, err := course.MannKendall(data[name][0], data[name][1], 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if got.N != want.MK.N || got.S != want.MK.S || got.Concordant != want.MK.Concordant || got.Discordant != want.MK.Discordant || !slices.Equal(got.Ties, want.MK.Ties) {
			t.Errorf("%s: got n %d, S %d (%d, %d), ties %v", name, got.N, got.S, got.Concordant, got.Discordant, got.Ties)
		}
		check.Digits(t, name+" var", got.Var, want.MK.Var, 11)
		check.Digits(t, name+" z", got.Z, want.MK.Z, 11)
		check.Digits(t, name+" tau a", got.TauA, want.MK.TauA, 11)
		check.Digits(t, name+" tau b", got.TauB, want.MK.TauB, 11)
		if !got.Exact {
			check.Digits(t, name+" p", got.P, want.MK.P, 10)
		}
		if want.ExactP != nil {
			check.Digits(t, name+" exact p", got.P, *want.ExactP, 11)
		}
		if p := want.Published.Z; p != nil {
			check.Digits(t, name+" published z", got.Z, *p, 5)
		}
	}
}

func TestSenAgreesWithPublishedResults(t *testing.T) {
	t.Parallel()
	ref, data := loadTrend(t)
	for name, want := range ref.Sets {
		for ranks, ci := range map[course.Ranks][]float64{
			course.InterpolatedRanks: want.Sen.Interpolated, course.NearestRanks: want.Sen.Nearest, course.OutwardRanks: want.Sen.Outward,
		} {
			got, err := course.Sen(data[name][0], data[name][1], 0.95, ranks)
			if err != nil {
				t.Fatal(err)
			}
			what := fmt.Sprintf("%s, ranks %d", name, ranks)
			check.Digits(t, what+": slope", got.Value, want.Sen.Slope, 11)
			check.Digits(t, what+": lower", got.Lower, ci[0], 10)
			check.Digits(t, what+": upper", got.Upper, ci[1], 10)
		}
	}
	// EPA 2009 example 17-6 as printed; Sen 1968's own example at 0.93.
	epa, _ := course.Sen(data["epa_17_6_sulfate"][0], data["epa_17_6_sulfate"][1], 0.95, course.InterpolatedRanks)
	check.Digits(t, "EPA 17-6 lower", epa.Lower, 20, 6)
	check.Digits(t, "EPA 17-6 upper", epa.Upper, 35.71182, 7)
	sen, _ := course.Sen(data["sen_1968"][0], data["sen_1968"][1], 0.93, course.NearestRanks)
	if sen.Value != 4 || sen.Lower != 26.0/7 || sen.Upper != 35.0/8 {
		t.Errorf("Sen 1968: got %v [%v, %v]", sen.Value, sen.Lower, sen.Upper)
	}
}

func TestSmallSamplesUseTheExactDistribution(t *testing.T) {
	t.Parallel()
	ref, _ := loadTrend(t)
	for _, want := range ref.ExactTail {
		for i, s := range want.S {
			if s == 0 {
				continue
			}
			y := withS(want.N, s)
			got, err := course.MannKendall(counted(want.N), y, 0.95)
			if err != nil || got.S != s || !got.Exact {
				t.Fatalf("n %d: %v, S %d", want.N, err, got.S)
			}
			check.Digits(t, fmt.Sprintf("n %d, S %d", want.N, s), got.P, math.Min(1, 2*want.P[i]), 10)
		}
	}
	for _, e := range ref.ExactCheck.Examples {
		got, _ := course.MannKendall(counted(len(e.Y)), e.Y, 0.95)
		check.Digits(t, fmt.Sprint(e.Y), got.P, e.P, 11)
	}
	got, _ := course.MannKendall(counted(6), ref.SmallTies.Y, 0.95)
	check.Digits(t, "with ties, against all 720 orders", got.P, ref.SmallTies.P, 11)
}

func counted(n int) []float64 {
	t := make([]float64, n)
	for i := range t {
		t[i] = float64(i)
	}
	return t
}

// withS orders 1..n so that S comes out as asked: starting from sorted, each exchange of
// neighbours takes two off.
func withS(n, s int) []float64 {
	y := counted(n)
	for swaps := (n*(n-1)/2 - s) / 2; swaps > 0; {
		for i := 0; i+1 < n && swaps > 0; i++ {
			if y[i] < y[i+1] {
				y[i], y[i+1] = y[i+1], y[i]
				swaps--
			}
		}
	}
	return y
}

func TestTheExactDistributionIsThatOfAllOrders(t *testing.T) {
	t.Parallel()
	for _, y := range [][]float64{{1, 1, 2, 2, 2, 3}, {5, 5, 5, 5, 6, 6}, {1, 2, 2, 3, 4, 4, 4}} {
		got, err := course.MannKendall(counted(len(y)), y, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		var all, asFar int
		permute(y, len(y), func(z []float64) {
			all++
			s := 0
			for i := range z {
				for j := range i {
					if z[i] > z[j] {
						s++
					} else if z[i] < z[j] {
						s--
					}
				}
			}
			if max(s, -s) >= max(got.S, -got.S) {
				asFar++
			}
		})
		check.Digits(t, fmt.Sprint(y), got.P, float64(asFar)/float64(all), 11)
	}
}

func permute(y []float64, k int, visit func([]float64)) {
	if k == 1 {
		visit(y)
		return
	}
	for i := range k {
		y[i], y[k-1] = y[k-1], y[i]
		permute(y, k-1, visit)
		y[i], y[k-1] = y[k-1], y[i]
	}
}

// TestSeasonsAreAdded uses Nottingham's monthly temperatures 1920-1939 (R dataset
// nottem), published S = 224, p = 0.036, by the S of each month: what is checked is the
// adding up. The variances of the months carry their ties.
func TestSeasonsAreAdded(t *testing.T) {
	t.Parallel()
	ref, _ := loadTrend(t)
	var seasons []course.Season
	sum := 0
	for m, s := range ref.Nottem.ByMonth {
		n := 20
		y := withS(n, s+(n*(n-1)/2-s)%2)
		seasons = append(seasons, course.Season{T: counted(n), Y: y})
		one, _ := course.MannKendall(counted(n), y, 0.95)
		sum += one.S
		if one.Var != 950 || math.Abs(one.Var-ref.Nottem.VarMonth[m]) > 6 {
			t.Errorf("month %d: var %v", m, one.Var)
		}
	}
	got, err := course.MannKendallSeasonal(seasons, 0.95)
	if err != nil || got.S != sum || got.Var != 12*950 {
		t.Fatalf("%v: S %d, var %v", err, got.S, got.Var)
	}
	check.Digits(t, "z", got.Z, float64(sum-1)/math.Sqrt(12*950), 12)
}

func TestTheWordTrendIsEarned(t *testing.T) {
	t.Parallel()
	for n := 2; n <= 8; n++ {
		got, err := course.MannKendall(counted(n), counted(n), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if want := n >= 5; got.Trend != want || (got.Verdict == course.CannotTell) == want {
			t.Errorf("%d visits, all rising: verdict %s, trend %v", n, got.Verdict, got.Trend)
		}
	}
	// Smallest p at 3, 4 and 5 visits, as computed in the trade notes: 0.33, 0.083, 0.017.
	for n, want := range map[int]float64{3: 0.33, 4: 0.083, 5: 0.017} {
		got, _ := course.MannKendall(counted(n), counted(n), 0.95)
		check.Digits(t, fmt.Sprintf("least p of %d", n), got.LeastP, want, 2)
	}
	equal, _ := course.MannKendall(counted(8), make([]float64, 8), 0.95)
	if equal.Verdict != course.CannotTell || equal.P != 1 {
		t.Errorf("all equal: %+v", equal)
	}
}

func TestAFalseTrendIsAsRareAsStated(t *testing.T) {
	t.Parallel()
	for _, pop := range check.Populations() {
		for _, n := range []int{6, 12, 40} {
			false5 := check.Share(uint64(n), func(r *rand.Rand) bool {
				got, err := course.MannKendall(counted(n), pop.Fill(r, n), 0.95)
				return err != nil || got.Trend
			})
			t.Logf("%s, n %d: a trend found in %.2f %% of draws without one", pop.Name, n, 100*false5)
			if limit := 0.05 + 3*math.Sqrt(0.05*0.95/check.Draws); false5 > limit {
				t.Errorf("%s, n %d: %.4f", pop.Name, n, false5)
			}
		}
	}
}

func TestSenCoversWhatItStates(t *testing.T) {
	t.Parallel()
	for _, pop := range check.Populations() {
		for _, n := range []int{6, 12, 40} {
			covered := check.Share(uint64(n), func(r *rand.Rand) bool {
				y := pop.Fill(r, n)
				for i := range y {
					y[i] -= 0.25 * float64(i) // dyadic, so that the tied values stay tied
				}
				got, err := course.Sen(counted(n), y, 0.95, course.ExactRanks)
				return err == nil && got.Lower <= -0.25 && -0.25 <= got.Upper
			})
			check.AtLeast(t, fmt.Sprintf("Sen, %s, n %d", pop.Name, n), covered, 0.95)
		}
	}
}

func TestOrderShiftAndScaleDoNotMatter(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 5))
	for range 200 {
		n := 5 + r.IntN(8)
		x, y := counted(n), make([]float64, n)
		for i := range y {
			y[i] = math.Round(10 * r.NormFloat64())
		}
		a, _ := course.MannKendall(x, y, 0.95)
		sa, _ := course.Sen(x, y, 0.95, course.ExactRanks)
		x2, y2 := slices.Clone(x), slices.Clone(y)
		r.Shuffle(n, func(i, j int) { x2[i], x2[j] = x2[j], x2[i]; y2[i], y2[j] = y2[j], y2[i] })
		for i := range y2 {
			x2[i], y2[i] = 4*x2[i]+128, -2*y2[i]+64
		}
		b, _ := course.MannKendall(x2, y2, 0.95)
		sb, _ := course.Sen(x2, y2, 0.95, course.ExactRanks)
		if b.S != -a.S || math.Abs(b.P-a.P) > 1e-12 {
			t.Fatalf("S %d and %d, p %v and %v", a.S, b.S, a.P, b.P)
		}
		if math.Abs(sb.Value+sa.Value/2) > 1e-12 || math.Abs(sb.Lower+sa.Upper/2) > 1e-12 && !math.IsInf(sb.Lower, 0) {
			t.Fatalf("slopes %v and %v", sa, sb)
		}
	}
}
