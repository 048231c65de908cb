package hullnumber_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/hullnumber"
	"boottop.example/practice/domain/measure/internal/check"
)

var asOf = time.Date(2026, time.May, 4, 0, 0, 0, 0, time.UTC)

// reference is testdata/measure/12-hull-identification.json: 33 CFR 181.25 as read in
// two stored editions, the international layout from Regulation (EU) 2017/1, examples
// invented, and this project's own nearest-year rule.
type reference struct {
	US, International struct {
		Valid []struct {
			Number, Country string
			Parsed          struct {
				Manufacturer, Serial string
				Month                int
				YearDigit            int    `json:"year_last_digit"`
				ModelYear            string `json:"model_year_two_digits"`
			}
		}
		Invalid []struct{ Number, Reason string }
	}
	YearResolution []struct {
		YearDigit int    `json:"year_digit"`
		ModelYear string `json:"model_year"`
		Result    int
	} `json:"year_resolution"`
}

func load(t *testing.T) (ref reference) {
	t.Helper()
	check.Load(t, "12-hull-identification.json", &ref)
	return ref
}

func TestWellFormedNumbersAreDividedAsTheRuleSays(t *testing.T) {
	t.Parallel()
	ref := load(t)
	for _, c := range slices.Concat(ref.US.Valid, ref.International.Valid) {
		n := hullnumber.Read(c.Number, asOf)
		p := c.Parsed
		if n.Maker.Code != p.Manufacturer || n.Serial != p.Serial || int(n.Month) != p.Month || n.Country != c.Country {
			t.Errorf("%s: got %+v", c.Number, n)
		}
		if n.Written != c.Number || len(n.Perhaps) != 0 {
			t.Errorf("%s: written %q, perhaps %v", c.Number, n.Written, n.Perhaps)
		}
		for _, y := range n.Years {
			if y%10 != p.YearDigit {
				t.Errorf("%s: year %d does not end in %d", c.Number, y, p.YearDigit)
			}
		}
		for _, y := range n.ModelYears {
			if fmt.Sprintf("%02d", y%100) != p.ModelYear {
				t.Errorf("%s: model year %d", c.Number, y)
			}
		}
	}
}

func TestEveryFlawIsSaidAndNothingIsRefused(t *testing.T) {
	t.Parallel()
	ref := load(t)
	for _, c := range slices.Concat(ref.US.Invalid, ref.International.Invalid) {
		n := hullnumber.Read(c.Number, asOf)
		said := slices.Clone(n.Warnings)
		for _, note := range n.Notes {
			if note.Code != "year-resolved" {
				said = append(said, note)
			}
		}
		if len(said) == 0 {
			t.Errorf("%q (%s): nothing said", c.Number, c.Reason)
		}
	}
}

func TestTheNearestYearIsTaken(t *testing.T) {
	t.Parallel()
	for _, c := range load(t).YearResolution {
		n := hullnumber.Read(fmt.Sprintf("ZZZ12345A%d%s", c.YearDigit, c.ModelYear), asOf)
		if len(n.Years) == 0 || n.Years[0] != c.Result {
			t.Errorf("digit %d, model year %s: got %v, want %d", c.YearDigit, c.ModelYear, n.Years, c.Result)
		}
	}
}

// TestReadingByLayout runs the cases that the client's twin runs too.
func TestReadingByLayout(t *testing.T) {
	t.Parallel()
	var file struct {
		AsOf  string
		Cases []struct {
			Name, Text, Written, Country, Maker, Serial string
			Layout                                      hullnumber.Layout
			MayNameBuilder                              bool
			Month                                       time.Month
			Years, ModelYears                           []int
			Perhaps, Warnings, Notes                    []string
		}
	}
	check.Load(t, "hull-numbers.json", &file)
	day, err := time.Parse(time.DateOnly, file.AsOf)
	if err != nil || len(file.Cases) == 0 {
		t.Fatal(err, len(file.Cases))
	}
	for _, c := range file.Cases {
		n := hullnumber.Read(c.Text, day)
		if n.Layout != c.Layout || n.Written != c.Written || n.Country != c.Country || n.Maker.Code != c.Maker || n.Serial != c.Serial || n.Month != c.Month || n.Maker.MayNameBuilder != c.MayNameBuilder {
			t.Errorf("%s: got %+v", c.Name, n)
		}
		if !slices.Equal(n.Years, c.Years) || !slices.Equal(n.ModelYears, c.ModelYears) || !slices.Equal(n.Perhaps, c.Perhaps) {
			t.Errorf("%s: got years %v, model years %v, perhaps %v", c.Name, n.Years, n.ModelYears, n.Perhaps)
		}
		if !slices.Equal(codes(n.Warnings), c.Warnings) || !slices.Equal(codes(n.Notes), c.Notes) {
			t.Errorf("%s: got warnings %v, notes %v", c.Name, codes(n.Warnings), codes(n.Notes))
		}
		if n.Maker.Why == "" {
			t.Errorf("%s: no word on the maker field", c.Name)
		}
	}
}

func codes(notes []measure.Note) []string {
	var cs []string
	for _, n := range notes {
		cs = append(cs, n.Code)
	}
	return cs
}

func TestTheHiddenNumberIsCompared(t *testing.T) {
	t.Parallel()
	read := func(s string) hullnumber.Number { return hullnumber.Read(s, asOf) }
	if notes := hullnumber.Compare(read("ZZZ12345A424"), read("zzz-12345-a424")); notes != nil {
		t.Errorf("the same number: %v", notes)
	}
	notes := hullnumber.Compare(read("ZZZ12345A424"), read("ZZZ12346A424"))
	if len(notes) != 1 || !strings.Contains(notes[0].Text, "character 8: 5 and 6") {
		t.Errorf("got %v", notes)
	}
	for _, other := range []string{"", "ZZZ"} {
		if notes := hullnumber.Compare(read("ZZZ12345A424"), read(other)); len(notes) != 1 {
			t.Errorf("%q: got %v", other, notes)
		}
	}
}

func ExampleRead() {
	n := hullnumber.Read("XX-ZZZ12345D399", time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC))
	fmt.Println(n.Layout, n.Country, n.Maker.Code, n.Serial, n.Month, n.Years, n.ModelYears)
	fmt.Println(n.Maker.Why)
	for _, w := range n.Warnings {
		fmt.Println(w.Code+":", w.Text)
	}
	// Output:
	// international XX ZZZ 12345 April [2003] [1999]
	// It names the maker, unless the boat was assessed after building: then it holds the code of the body that assessed her, and the serial is its certificate.
	// country-not-listed: XX is not a country code officially assigned in ISO 3166-1.
	// made-after-model-year: The year digit points to 2003, after model year 1999. Possible, but unusual: compare it with the boat and her papers.
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"", "ZZZ12345A424", "XX-ZZZ12345A424", "ZZZ12345M78A", "ZZZ123450578", "ZZZ1O345A42４", "\xff-", "éé-ZZZ12345A424"} {
		f.Add(s, 2026)
	}
	f.Fuzz(func(t *testing.T, text string, year int) {
		n := hullnumber.Read(text, time.Date(year%20000, 1, 1, 0, 0, 0, 0, time.UTC))
		if n.AsRead != text {
			t.Errorf("as read %q became %q", text, n.AsRead)
		}
		if n.Layout == hullnumber.Unknown && len(n.Warnings) == 0 {
			t.Errorf("%q: unknown without a word", text)
		}
		for _, note := range slices.Concat(n.Warnings, n.Notes) {
			if note.Code == "" || note.Text == "" || utf8.ValidString(text) && !utf8.ValidString(note.Text) {
				t.Errorf("%q: note %+v", text, note)
			}
		}
		for _, p := range n.Perhaps {
			if again := hullnumber.Read(p, time.Now()); again.Layout == hullnumber.Unknown {
				t.Errorf("%q: offered %q, which fits no layout", text, p)
			}
		}
		if n.Written != "" {
			if again := hullnumber.Read(n.Written, time.Date(year%20000, 1, 1, 0, 0, 0, 0, time.UTC)); again.Serial != n.Serial || !slices.Equal(again.Years, n.Years) {
				t.Errorf("%q: written as %q it reads differently", text, n.Written)
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		hullnumber.Read("XX-ZZZ12345D399", asOf)
	}
}
