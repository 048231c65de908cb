package report_test

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file of testdata/report; a mismatch leaves the new file beside it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join(reporttest.Root(), "testdata", "report", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	beside := strings.TrimSuffix(path, filepath.Ext(path)) + ".new" + filepath.Ext(path)
	if err := os.WriteFile(beside, got, 0o644); err != nil {
		t.Error(err)
	}
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	from := max(0, i-60)
	t.Errorf("%s differs at byte %d:\n have %s\n want %s\nthe new file is %s", name, i, got[from:min(len(got), i+60)], want[from:min(len(want), i+60)], beside)
}

func TestGoldenReports(t *testing.T) {
	t.Parallel()
	for name, in := range map[string]report.Input{"tamsel": reporttest.Tamsel(), "tamsel-draft": reporttest.TamselDraft()} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := report.Build(in)
			if p := r.Check(); len(p) > 0 {
				t.Errorf("stands in the way of issue: %v", p)
			}
			if w := report.LintReport(r); len(w) > 0 {
				t.Errorf("says too much: %v", w)
			}
			b, err := report.Encode(r)
			if err != nil {
				t.Fatal(err)
			}
			golden(t, name+".snapshot.json", b)
			back, err := report.Decode(b)
			if err != nil {
				t.Fatal(err)
			}
			again, err := report.Encode(back)
			if err != nil || !bytes.Equal(b, again) {
				t.Errorf("the snapshot does not come back to itself: %v", err)
			}
		})
	}
}

// The figures of the mock-up, look/report.html, from the same seed.
func TestTamselSaysWhatTheMockUpSays(t *testing.T) {
	t.Parallel()
	r := report.Build(reporttest.Tamsel())
	short := report.Join(r.InShort)
	for _, want := range []string{
		"On 14 October 2026, 21 days ashore, the underbody stood 11.1\u00a0scale units above this hull’s own dry baseline by Skerrow deep No. 2.",
		"Over the hull at large no change is shown since October 2023.",
		"Two areas have changed: one matches the water tank; the other lies around the heads inlet and needs a further look before the relaunch: readings alone name no cause.",
		"In the 0.14\u00a0m² bared no blister was seen; blisters too small to show through the coating could still average up to 22 to the square metre; the whole underbody was looked over wet, in raking light: none larger seen.",
	} {
		if !strings.Contains(short, want) {
			t.Errorf("not said: %s\nin: %s", want, short)
		}
	}
	if got := report.Join(r.Plates[1].Caption); !strings.Contains(got, "all 124 compared at once: 7.6 ") || !strings.Contains(got, "at 7 places about port 13 by +13.8 and at 4 places about starboard 9 by +9.0") {
		t.Errorf("caption of the change: %s", got)
	}
	limits := report.Join(r.Limits)
	for _, want := range []string{"Not reached: 4 places under prop pads.", "meets nine times in ten is 0.49\u00a0m across", "outer 0.5 to 1.7\u00a0mm (bare laminate; less under coating)"} {
		if !strings.Contains(limits, want) {
			t.Errorf("limits lack %q: %s", want, limits)
		}
	}
}

func TestWords(t *testing.T) {
	t.Parallel()
	exact := func(tw int32) measure.Value { return measure.Value{At: measure.Twentieth(tw)} }
	cases := map[string][2]string{
		"halves go away from zero":     {report.Tenths(0.25), "0.3"},
		"a true minus":                 {report.Tenths(-2), "−2.0"},
		"no negative nought":           {report.Tenths(-0.04), "0.0"},
		"not a number is a dash":       {report.Tenths(math.NaN()), "–"},
		"a difference has its sign":    {report.Signed(13.8, 0), "+14"},
		"no difference":                {report.Signed(-0.4, 0), "±0"},
		"a twentieth keeps itself":     {report.Value(exact(707)), "35.35"},
		"a tenth":                      {report.Value(exact(706)), "35.3"},
		"above the scale":              {report.Value(measure.Value{At: 2000, Limit: measure.Above}), "above 100"},
		"a range as written":           {report.Value(measure.Value{Limit: measure.Range, Low: 300, High: 400, At: 350}), "15 to 20"},
		"on the hull":                  {report.Figure(measure.Value{At: 2000, Limit: measure.Above}), ">100"},
		"feet":                         {report.Metres(10550, report.Units{Feet: true}), "34\u00a0ft 7\u00a0in"},
		"metres":                       {report.Metres(8600, report.Units{}), "8.6\u00a0m"},
		"fahrenheit":                   {report.Temperature(11, report.Units{Fahrenheit: true}), "51.8\u00a0°F"},
		"hours while they count":       {report.Ashore(&report.AshoreInput{Least: 2, Most: 2, Hours: new(70)}), "70 hours ashore"},
		"then days":                    {report.Ashore(&report.AshoreInput{Least: 21, Most: 21}), "21 days ashore"},
		"days, where the hour is not":  {report.Ashore(&report.AshoreInput{Least: 1, Most: 1}), "1 day ashore"},
		"a range keeps both ends":      {report.Ashore(&report.AshoreInput{Least: 0, Most: 30}), "0 to 30 days ashore"},
		"unknown is said, not guessed": {report.Ashore(nil), "days ashore not known"},
		"an old paper’s own words":     {report.AshoreWritten("a fortnight"), "“a fortnight” ashore"},
		"or that it has none":          {report.AshoreWritten(" Not stated "), "days ashore not stated"},
	}
	for name, c := range cases {
		if c[0] != c[1] {
			t.Errorf("%s: %q, want %q", name, c[0], c[1])
		}
	}
}

func TestReasonsReadAsSentences(t *testing.T) {
	t.Parallel()
	got := report.NotReached([]report.Reason{{N: 4, Why: "under prop pads"}, {N: 1, Why: "cradle"}, {N: 2}}).Text()
	if want := "Not reached: 4 places under prop pads, 1 place (cradle) and 2 places."; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestStep(t *testing.T) {
	t.Parallel()
	edges := [4]float64{4, 9, 15, 22}
	for c, want := range map[float64]int{-3: 0, 3.99: 0, 4: 1, 8.9: 1, 9: 2, 15: 3, 21.9: 3, 22: 4, 90: 4} {
		if got := report.Step(c, edges); got != want {
			t.Errorf("Step(%v) = %d, want %d", c, got, want)
		}
	}
}

func TestPassWithoutBaseline(t *testing.T) {
	t.Parallel()
	in := reporttest.Tamsel()
	in.Today[0].Baseline, in.Today[0].NoBaseline = nil, "4 dry places, at least 6 are needed"
	in.Compared = nil
	r := report.Build(in)
	for _, x := range r.Passes[0].Readings {
		if x.Step != report.NoStep || x.Contrast != "" {
			t.Fatalf("%s stands %s above nothing", x.Place, x.Contrast)
		}
	}
	if s := report.Join(r.InShort); !strings.Contains(s, "no dry baseline could be drawn from them (4 dry places, at least 6 are needed)") {
		t.Error(s)
	}
	if r.Plates[0].Note == "" {
		t.Error("the legend does not say why there are no steps")
	}
}

func TestUnmeasuredSpreadCannotTell(t *testing.T) {
	t.Parallel()
	in := reporttest.Tamsel()
	in.Compared[0].Least = nil
	r := report.Build(in)
	if s := report.Join(r.InShort); !strings.Contains(s, "cannot be told") || strings.Contains(s, "no change is shown") {
		t.Error(s)
	}
}

func TestUnlikePassesAreNotSubtracted(t *testing.T) {
	t.Parallel()
	for _, s := range []report.Standing{report.Unlike, report.Quoted} {
		in := reporttest.Tamsel()
		in.Compared[0].Standing, in.Compared[0].Why = s, "another instrument depth"
		r := report.Build(in)
		if len(r.Changes[0].Places) != 0 || r.Changes[0].Least != "" {
			t.Errorf("%s: differences were made", s)
		}
		for _, p := range r.Plates {
			if p.Mode == report.ModeChange {
				t.Errorf("%s: a change was drawn", s)
			}
		}
	}
}

func TestBuildIsPure(t *testing.T) {
	t.Parallel()
	if !reflect.DeepEqual(report.Build(reporttest.Tamsel()), report.Build(reporttest.Tamsel())) {
		t.Error("two builds of one input differ")
	}
}
