package calc_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"boottop.example/practice/cmd/practice/calc"
)

func run(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = calc.Run(args, &out, &errs)
	return code, out.String(), errs.String()
}

// answer is what a script reads of -json.
type answer struct {
	Calculation string `json:"calculation"`
	Says        string `json:"says"`
	Figures     []struct {
		Name  string   `json:"name"`
		Value *float64 `json:"value"`
		Lower *float64 `json:"lower"`
		Upper *float64 `json:"upper"`
		Unit  string   `json:"unit"`
	} `json:"figures"`
	Facts []struct {
		Name string `json:"name"`
		Text string `json:"text"`
	} `json:"facts"`
	Cautions []string `json:"cautions"`
}

func ask(t *testing.T, args ...string) answer {
	t.Helper()
	code, out, errs := run(append(args, "-json")...)
	if code != 0 || errs != "" {
		t.Fatalf("%v: exit %d, %s", args, code, errs)
	}
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v: %v in %s", args, err, out)
	}
	return a
}

// The figures come from the tests of domain/measure, where each names its source;
// here it is checked that they reach the prompt with their units.
func TestFiguresReachThePromptWithTheirUnits(t *testing.T) {
	t.Parallel()
	for question, want := range map[string]struct {
		figure, unit string
		value        float64
		within       float64
	}{
		"dew-point -air 20 -rh 60":                             {"dew point", "°C", 12.0, 0.05},
		"dew-point -air 20 -rh 60 -surface 18":                 {"margin over the dew point", "°C", 6.0, 0.05},
		"drying-depth -days 21 -temp 20":                       {"depth half dried", "mm", 1.3, 0.05},
		"drying-depth -days 21 -temp 20 -rh 80":                {"floor set by this air", "of saturation", 0.8, 1e-12},
		"coverage -along 150 -flaw 50":                         {"chance to meet 50 mm", "(0 to 1)", 0.09, 0.005},
		"coverage -along 1000":                                 {"met with a chance of 0.9", "mm", 1120, 10},
		"zero-count -area 0,12 -count 3":                       {"density", "per m²", 25, 1e-9},
		"zero-count -windows 12 -width 100 -height 100":        {"area bared", "m²", 0.12, 1e-12},
		"salt -volume 15 -rise 1":                              {"soluble salts", "mg/m²", 6, 1e-12},
		"salt -volume 10 -rise 1 -area 1250 -rise-off 0.2":     {"soluble salts", "mg/m²", 4, 1e-12},
		"dew-point -air 15 -rh 75 -surface 12 -surface-off 20": {"dew point", "°C", 10.6, 0.05},
	} {
		a := ask(t, strings.Fields(question)...)
		found := false
		for _, f := range a.Figures {
			if f.Name != want.figure {
				continue
			}
			found = true
			if f.Value == nil || math.Abs(*f.Value-want.value) > want.within || f.Unit != want.unit {
				t.Errorf("%s: %+v, want %v %s", question, f, want.value, want.unit)
			}
		}
		if !found {
			t.Errorf("%s: no figure %q in %+v", question, want.figure, a.Figures)
		}
	}
}

func TestNoneSeenGivesTheBoundAndAsksForTheLook(t *testing.T) {
	t.Parallel()
	a := ask(t, strings.Fields("zero-count -windows 12 -width 100 -height 100")...)
	var upper *float64
	for _, f := range a.Figures {
		if f.Upper != nil {
			upper = f.Upper
		}
	}
	if upper == nil || math.Abs(*upper-25) > 0.1 {
		t.Errorf("bound %v, want 25 per m²", upper)
	}
	if len(a.Cautions) == 0 || !strings.Contains(a.Cautions[0], "look over the whole underbody") {
		t.Errorf("cautions %v", a.Cautions)
	}
}

func TestTheDesignsSentence(t *testing.T) {
	t.Parallel()
	_, out, _ := run("drying-depth", "-days", "21", "-temp", "11")
	want := "In 21 days at 11 °C drying has reached about the outer 0.5 to 1.7 mm (bare laminate; less under coating). Most of what an instrument senses is as she came out."
	if got, _, _ := strings.Cut(out, "\n"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestAHullNumberIsReadWhereverTheFlagsStand(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{
		{"hull-number", "-on", "2026-01-01", "XX-ZZZ12345A424"},
		{"hull-number", "XX-ZZZ12345A424", "-on", "2026-01-01"},
		{"hull-number", "xx", "zzz12345a424", "-on", "2026-01-01"},
	} {
		a := ask(t, args...)
		facts := map[string]string{}
		for _, f := range a.Facts {
			facts[f.Name] = f.Text
		}
		if facts["layout"] != "international" || facts["serial"] != "12345" || facts["model year"] != "2024" {
			t.Errorf("%v: %v", args, facts)
		}
	}
	if a := ask(t, "hull-number", "whatever"); !strings.Contains(a.Says, "fits no known layout") {
		t.Errorf("says %q", a.Says)
	}
}

func TestErrorsSayWhatToDo(t *testing.T) {
	t.Parallel()
	for question, want := range map[string]string{
		"":                                 "Ask for one of",
		"tide":                             `there is no question "tide"`,
		"dew-point -air 15":                "-rh is missing: relative humidity, %",
		"dew-point -air 15 -rh 175":        "-rh must lie between 0.1 and 100 %",
		"dew-point -air warm -rh 70":       "is not a number",
		"dew-point -air NaN -rh 70":        "-air must be finite",
		"dew-point 15 70":                  "-air is missing",
		"dew-point -air 15 -rh 70 12":      `"12" is left over`,
		"drying-depth -days -1 -temp 10":   "-days must not be negative",
		"drying-depth -days 1 -temp 900":   "-temp must lie between",
		"coverage -along 0":                "-along must be above zero",
		"coverage -along 100 -chance 1":    "-chance must lie between 0 and 1",
		"zero-count":                       "give -windows, -width and -height together",
		"zero-count -area 1 -windows 3":    "not both",
		"zero-count -area 1 -count 2.5":    "-count must be a whole number",
		"zero-count -area 1,000":           "write it with a point",
		"zero-count -area -1":              "-area must be above zero",
		"salt -volume 3 -rise -2":          "-rise must lie between 0 and",
		"salt -volume 3 -rise 2 -colour 1": "flag provided but not defined: -colour",
		"hull-number":                      "the number is missing",
		"hull-number -on yesterday ABC":    "-on must be a day such as 2026-05-31",
	} {
		code, out, errs := run(strings.Fields(question)...)
		if code != 2 || out != "" || !strings.Contains(errs, want) {
			t.Errorf("%q: exit %d, said %q, want %q", question, code, errs, want)
		}
	}
}

func TestEveryQuestionHasHelp(t *testing.T) {
	t.Parallel()
	_, overview, _ := run("help")
	for _, name := range []string{"dew-point", "drying-depth", "coverage", "zero-count", "salt", "hull-number"} {
		code, out, errs := run(name, "-h")
		if code != 0 || errs != "" || !strings.Contains(out, "-json") {
			t.Errorf("%s -h: exit %d, %q, %q", name, code, out, errs)
		}
		if !strings.Contains(overview, name) {
			t.Errorf("the overview leaves out %s", name)
		}
	}
}

// No answer may claim what no figure carries: no verdict on a hull, no certainty.
func TestAnswersStayWithinWhatTheyKnow(t *testing.T) {
	t.Parallel()
	for _, question := range []string{
		"dew-point -air 15 -rh 75 -surface 12", "drying-depth -days 900 -temp 20 -wall 4 -rh 40", "coverage -along 500 -flaw 100",
		"zero-count -area 0.12", "zero-count -area 0.12 -count 2", "salt -volume 3 -rise 0", "hull-number ZZZ12345A424",
	} {
		_, out, _ := run(strings.Fields(question)...)
		for _, never := range []string{"free of", "the hull is dry", "sound", "ready to coat", "safe", "detect", "trend"} {
			if strings.Contains(strings.ToLower(out), never) {
				t.Errorf("%q says %q:\n%s", question, never, out)
			}
		}
		if !strings.Contains(out, "Caution:") {
			t.Errorf("%q has no caution", question)
		}
	}
}

func FuzzRun(f *testing.F) {
	f.Add("dew-point -air 15 -rh 75 -surface 12")
	f.Add("zero-count -windows 12 -width 1e5 -height 1e5 -level 1e-300")
	f.Add("drying-depth -days 1e6 -temp -100 -slow 1e-8 -typical 1 -fast 1e6 -json")
	f.Fuzz(func(t *testing.T, question string) {
		code, out, errs := run(append(strings.Fields(question), "-json")...)
		if (code == 0) != (errs == "") {
			t.Errorf("exit %d with %q", code, errs)
		}
		if code == 0 && strings.HasPrefix(out, "{") && !json.Valid([]byte(out)) {
			t.Errorf("not JSON: %s", out)
		}
	})
}

func ExampleRun() {
	calc.Run([]string{"coverage", "-along", "300", "-flaw", "150"}, os.Stdout, os.Stderr)
	// Output:
	// A grid of 300 × 300 mm meets a round flaw of 335 mm with a chance of 0.9. One of 150 mm it meets with a chance of 0.20.
	//
	//   met with a chance of 0.9     335 mm
	//   cannot be missed from        424 mm
	//   chance to meet 150 mm        0.20 (0 to 1)
	//
	// Rests on:
	//   - a round flaw that lies anywhere with equal chance; edges of the hull left out
	//   - every place of the grid was reached
	//
	// Caution:
	//   - to meet a flaw is to set down on it; whether the instrument or the hammer then shows it is another question
}
