package hullnumber_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"boottop.example/practice/domain/measure/hullnumber"
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
	b, err := os.ReadFile("../../../testdata/measure/12-hull-identification.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &ref); err != nil {
		t.Fatal(err)
	}
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

func TestReadingByLayout(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text   string
		layout hullnumber.Layout
		month  time.Month
		years  []int
		codes  []string
		maker  bool
	}{
		"a number of today":                           {"ZZZ12345A424", hullnumber.Current, time.January, []int{2024}, nil, true},
		"month and year, before mid-1984":             {"ZZZ123450578", hullnumber.MonthYear, time.May, []int{1978}, []string{"layout-from-memory"}, true},
		"model year, where A is August":               {"ZZZ12345M78A", hullnumber.ModelYear, time.August, []int{1977}, []string{"layout-from-memory"}, true},
		"model year, where F is January":              {"ZZZ12345M78F", hullnumber.ModelYear, time.January, []int{1978}, nil, true},
		"before numbers were required":                {"ZZZ123451072", hullnumber.MonthYear, time.October, []int{1972}, []string{"outside-layout-years"}, true},
		"a month and year after that layout":          {"ZZZ123450591", hullnumber.MonthYear, time.May, []int{1991}, []string{"outside-layout-years"}, true},
		"the present layout on too old a boat":        {"ZZZ12345A979", hullnumber.Current, time.January, []int{1979}, []string{"older-than-layout"}, true},
		"international, hyphen left out":              {"FRZZZ12345A424", hullnumber.International, time.January, []int{2024}, []string{"no-hyphen"}, true},
		"international, country not assigned":         {"XX-ZZZ12345A424", hullnumber.International, time.January, []int{2024}, []string{"country-not-listed"}, true},
		"international, older than its layout":        {"FR-ZZZ12345A888", hullnumber.International, time.January, []int{1988}, []string{"older-than-layout"}, false},
		"assigned by a state":                         {"FLZ12345A424", hullnumber.Current, time.January, []int{2024}, nil, false},
		"small letters and spaces":                    {" zzz 12345 a424 ", hullnumber.Current, time.January, []int{2024}, []string{"small-letters", "separators"}, true},
		"full-width digit":                            {"ZZZ12345A42４", hullnumber.Current, time.January, []int{2024}, []string{"not-plain-characters"}, true},
		"made after the model year":                   {"ZZZ12345A524", hullnumber.Current, time.January, []int{2025}, []string{"made-after-model-year"}, true},
		"two years equally near":                      {"ZZZ12345A510", hullnumber.Current, time.January, []int{2005, 2015}, []string{"years-open"}, true},
		"the later of two years lies ahead":           {"ZZZ12345A924", hullnumber.Current, time.January, []int{2019}, []string{"years-apart"}, true},
		"a model year that no calendar holds":         {"ZZZ12345A450", hullnumber.Current, time.January, []int{1974, 1984, 1994, 2004, 2014, 2024}, []string{"model-year-impossible"}, true},
		"a builder's own number":                      {"14/207", hullnumber.Unknown, 0, nil, []string{"length", "layout-unknown"}, false},
		"letter beyond L for the month":               {"ZZZ12345N424", hullnumber.Unknown, 0, nil, []string{"month-letter"}, false},
		"fourteen characters without country":         {"12ZZZ12345A424", hullnumber.Unknown, 0, nil, []string{"country-letters"}, false},
		"nothing":                                     {"", hullnumber.Unknown, 0, nil, []string{"empty"}, false},
		"serial with O":                               {"ZZZ1O345A424", hullnumber.Current, time.January, []int{2024}, []string{"serial-letter"}, true},
		"letters outside the Latin alphabet's A to Z": {"ZZÉ12345A424", hullnumber.Unknown, 0, nil, []string{"not-plain-characters", "layout-unknown"}, false},
	} {
		n := hullnumber.Read(c.text, asOf)
		if n.Layout != c.layout || n.Month != c.month || !slices.Equal(n.Years, c.years) || n.Maker.MayNameBuilder != c.maker {
			t.Errorf("%s: got layout %s, month %d, years %v, maker may name builder %v", name, n.Layout, n.Month, n.Years, n.Maker.MayNameBuilder)
		}
		for _, code := range c.codes {
			if !n.Has(code) {
				t.Errorf("%s: no %s among %v and %v", name, code, n.Warnings, n.Notes)
			}
		}
		if n.Maker.Why == "" {
			t.Errorf("%s: no word on the maker field", name)
		}
	}
}

func TestLookAlikesAreOffered(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]string{
		"ZZZ1O345A424":    {"ZZZ10345A424"},
		"ZZZ12345A4Z4":    {"ZZZ12345A424"},
		"ZZZ12345842O":    {"ZZZ12345B420"},
		"FR-ZZZI2345A4Z4": {"FR-ZZZ12345A424"},
		"ZZZ12345A424":    nil,
		"ZZZ123450578":    nil,
		"hello":           nil,
	} {
		if n := hullnumber.Read(text, asOf); !slices.Equal(n.Perhaps, want) {
			t.Errorf("%s: got %v, want %v", text, n.Perhaps, want)
		}
	}
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
