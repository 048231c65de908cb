package finding_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/finding"
	"boottop.example/practice/domain/report"
)

func checked(t *testing.T, code, raw string) json.RawMessage {
	t.Helper()
	f, known := finding.FormOf(code)
	if !known {
		t.Fatalf("no form %s", code)
	}
	kept, err := f.Check(json.RawMessage(raw))
	if err != nil {
		t.Fatalf("%s %s: %v", code, raw, err)
	}
	return kept
}

func TestWhatDoesNotFitAFormIsNamed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ code, raw, field, says string }{
		"missing":             {"blisters", `{"widthMm": 100, "heightMm": 100}`, "measured.count", "needs it"},
		"too large":           {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 3, "depthMm": 61}`, "measured.depthMm", "between 0 and 60 mm"},
		"in a list":           {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 3, "diametersMm": [4, 0]}`, "measured.diametersMm[1]", "between 0.1 and 500 mm"},
		"half a blister":      {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 2.5}`, "measured.count", "whole number"},
		"a class typed":       {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 3, "class": "3(S4)"}`, "measured.class", "no \"class\""},
		"more than counted":   {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 1, "diametersMm": [4, 5]}`, "measured.diametersMm", "2 diameters of 1"},
		"opened too many":     {"blisters", `{"widthMm": 100, "heightMm": 100, "count": 1, "opened": 2}`, "measured.opened", "counted"},
		"not one of the list": {"sounding", `{"note": "nice"}`, "measured.note", "clear, dull"},
		"words for a figure":  {"weep", `{"liquid": "clear", "pH": "acid"}`, "measured.pH", "figure"},
		"past the scale":      {"weep", `{"liquid": "clear", "pH": 14.5}`, "measured.pH", "between 0 and 14"},
		"gained weight":       {"core", `{"material": "balsa", "wetGrams": 3, "dryGrams": 4}`, "measured.dryGrams", "dried than as taken"},
		"a list":              {"core", `["balsa"]`, "measured", "object"},
		"an endless line":     {"fitting", `{"fitting": "` + strings.Repeat("x", 401) + `"}`, "measured.fitting", "400 letters"},
	} {
		f, _ := finding.FormOf(c.code)
		_, err := f.Check(json.RawMessage(c.raw))
		var fault *domain.Fault
		if !errors.As(err, &fault) || fault.Kind != domain.Invalid || fault.Field != c.field || !strings.Contains(fault.Text, c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestWhatWasNotWrittenDownIsNotKept(t *testing.T) {
	t.Parallel()
	kept := checked(t, "weep", `{"liquid": " clear ", "smell": "", "pH": null, "longMm": 40}`)
	if string(kept) != `{"liquid":"clear","longMm":40}` {
		t.Errorf("kept %s", kept)
	}
}

// Every form is walked: each field with a figure in its limits, a choice of its list.
func TestEveryFormKeepsAndSaysWhatItAsks(t *testing.T) {
	t.Parallel()
	for _, f := range finding.Forms() {
		given := map[string]any{}
		for _, d := range f.Fields {
			switch d.Takes {
			case finding.Number, finding.Whole:
				given[d.Name] = math.Max(d.Least, 1)
				if d.Most < 1 {
					given[d.Name] = d.Most
				}
			case finding.Numbers:
				given[d.Name] = []float64{math.Max(d.Least, 1)}
			case finding.Choice:
				given[d.Name] = d.Choices[0]
			case finding.Words:
				given[d.Name] = "as seen"
			}
			if d.Takes != finding.Choice && d.Takes != finding.Words && d.Most <= d.Least {
				t.Errorf("%s.%s has no limits", f.Code, d.Name)
			}
		}
		if f.Code == finding.Blisters {
			given["widthMm"], given["heightMm"] = 100, 100
		}
		raw, err := json.Marshal(given)
		if err != nil {
			t.Fatal(err)
		}
		facts, derived := finding.Facts(f.Code, checked(t, f.Code, string(raw)))
		if len(facts) != len(f.Fields) || finding.Name(f.Code, raw) == "" {
			t.Errorf("%s: %d fields, said %v", f.Code, len(f.Fields), facts)
		}
		for _, x := range append(facts, derived...) {
			if w := report.Lint(x.Name + ": " + x.Is); len(w) > 0 {
				t.Errorf("%s says too much (%s): %s", f.Code, w[0].Found, x.Is)
			}
		}
	}
}

// The interval is Garwood's as published for a count of 7: 2.81 to 14.42 (tables of exact
// Poisson limits, from memory), here over 0.01 m². The class is by our lines, 7 in a
// square decimetre of a few millimetres: quantity 3, size 4; the lines have no source.
func TestABlisterWindowGivesDensityAndClass(t *testing.T) {
	t.Parallel()
	kept := checked(t, "blisters", `{"widthMm": 100, "heightMm": 100, "count": 7, "diametersMm": [4, 3, 4], "pictures": "ISO 4628-2", "pH": 4}`)
	_, derived := finding.Facts("blisters", kept)
	want := []report.Fact{
		{Name: "density", Is: "7 in 0.01 m²: 700 to the square metre (281 to 1443, 95 % confidence)"},
		{Name: "class", Is: "ISO 4628-2 3(S4), about ASTM D714 4 M: derived from counts and diameters (3 of 7 measured); looked at against the pictures of ISO 4628-2. Both were written for paint films, and no size is read back from a class"},
		{Name: "liquid by paper", Is: "acid, pH 4"},
	}
	for k, w := range want {
		if k >= len(derived) || plain(derived[k]) != w {
			t.Errorf("derived %q, want %q", derived, w)
		}
	}
	_, none := finding.Facts("blisters", checked(t, "blisters", `{"widthMm": 300, "heightMm": 400, "count": 0}`))
	if len(none) != 1 || !strings.Contains(plain(none[0]).Is, "0.12 m²; up to 25 to the square metre") {
		t.Errorf("none seen: %q", none) // trade notes, section 6: 12 windows of 100 mm leave up to 25
	}
	_, unmeasured := finding.Facts("blisters", checked(t, "blisters", `{"widthMm": 300, "heightMm": 400, "count": 3}`))
	if len(unmeasured) != 2 || unmeasured[1] != report.NoBlisterClass() {
		t.Errorf("none measured: %q", unmeasured)
	}
}

func plain(f report.Fact) report.Fact {
	return report.Fact{Name: f.Name, Is: strings.ReplaceAll(f.Is, "\u00a0", " ")}
}

// Against NIST StRD, univariate summary statistics, Michelso: certified mean
// 299.852400000000 and standard deviation 0.0790105478190518. 250 is taken off each value
// so that they lie on a hardness scale; the figures are printed to a tenth.
func TestAHardnessSeriesIsSummedUpAsCertified(t *testing.T) {
	t.Parallel()
	values := strd(t, "Michelso")
	for k := range values {
		values[k] -= 250
	}
	raw, err := json.Marshal(map[string]any{"procedure": "ASTM D2583", "values": values})
	if err != nil {
		t.Fatal(err)
	}
	_, derived := finding.Facts("hardness", checked(t, "hardness", string(raw)))
	if len(derived) != 1 || derived[0].Is != "100 values by ASTM D2583: mean 49.9, standard deviation 0.1" {
		t.Errorf("derived %q", derived)
	}
	_, short := finding.Facts("hardness", checked(t, "hardness", `{"procedure": "EN 59", "values": [38]}`))
	if len(short) != 1 || short[0].Is != "1 value by EN 59: mean 38.0; a short series" {
		t.Errorf("one value: %q", short)
	}
}

// strd reads a data set of NIST's Statistical Reference Datasets.
func strd(t *testing.T, name string) (values []float64) {
	t.Helper()
	file, err := os.Open("../../testdata/measure/univariate-data.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment, r.FieldsPerRecord = '#', -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row[0] == name {
			x, err := strconv.ParseFloat(row[len(row)-1], 64)
			if err != nil {
				t.Fatal(err)
			}
			values = append(values, x)
		}
	}
	return values
}

// The formula is the Wood Handbook's (FPL-GTR-190, 2010, ch. 4): a sample that weighs
// twice its oven-dried weight holds 100 %.
func TestOnlyWoodHasAShareOfWater(t *testing.T) {
	t.Parallel()
	if share, ok := finding.MoistureOfWood("balsa", 2, 1); !ok || share != 100 {
		t.Errorf("twice its weight: %v %v", share, ok)
	}
	if share, ok := finding.MoistureOfWood("plywood", 112, 100); !ok || math.Abs(share-12) > 1e-12 {
		t.Errorf("12 on 100: %v %v", share, ok)
	}
	for _, other := range []string{"laminate", "foam", "honeycomb"} {
		if _, ok := finding.MoistureOfWood(other, 2, 1); ok {
			t.Errorf("%s has a share of water", other)
		}
		_, derived := finding.Facts("core", checked(t, "core", `{"material": "`+other+`", "wetGrams": 2, "dryGrams": 1}`))
		if len(derived) != 1 || strings.Contains(derived[0].Is, "%") {
			t.Errorf("%s: %q", other, derived)
		}
	}
	wet := json.RawMessage(`{"material": "balsa", "wetGrams": 2, "dryGrams": 1, "plugMm": 20}`)
	if finding.Name("core", wet) != "wet core" || finding.Name("core", json.RawMessage(`{"material": "balsa", "wetGrams": 1.1, "dryGrams": 1}`)) != "core sample" {
		t.Error("a core is wet above fibre saturation and not below")
	}
}

func FuzzCheck(f *testing.F) {
	for _, form := range finding.Forms() {
		f.Add(form.Code, `{"count": 3, "widthMm": 100, "values": [1, 2], "note": "clear"}`)
	}
	f.Fuzz(func(t *testing.T, code, raw string) {
		form, known := finding.FormOf(code)
		if !known {
			return
		}
		kept, err := form.Check(json.RawMessage(raw))
		if err != nil {
			return
		}
		again, err := form.Check(kept)
		if err != nil || string(again) != string(kept) {
			t.Errorf("kept %s, then %s: %v", kept, again, err)
		}
		finding.Facts(code, kept)
	})
}
