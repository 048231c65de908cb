package sheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"

	"boottop.example/practice/domain/practice/sheet"
)

const samples = "../../../testdata/readings"

func sample(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(samples, name))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// said writes a cell in one line.
func said(c sheet.Cell) string {
	place := c.Label
	if place == "" {
		place = fmt.Sprintf("%d/%d", c.Station, c.RowNo)
	}
	follow := ""
	if c.FollowUp {
		follow = " !"
	}
	return strings.TrimSpace(fmt.Sprintf("%d,%d %s %s %v %s%s %s", c.Row, c.Column, c.Side, place, c.Placements, c.Written, follow, c.Surface))
}

func TestSamplesAreReadAsTheyStand(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]struct {
		layout sheet.Layout
		cells  []string
	}{
		"grid-semicolon.csv": {sheet.Grid, []string{
			"2,3 port 1/1 [215]", "2,4 port 1/2 [220]", "3,3 port 2/1 [353 358 351]", "3,4 port 2/2 [] <5", "3,5 port 2/3 [] 15–20",
			"4,3 starboard 1/1 [205]", "4,4 starboard 1/2 [235 240]", "4,5 starboard 1/3 [310]  !", "5,4 starboard 2/2 [] >", "5,5 starboard 2/3 [180]",
		}},
		"grid-tabs-utf16.csv": {sheet.Grid, []string{"2,3 port 1/1 [215]", "2,4 port 1/2 [220]", "3,3 starboard 1/1 [205]", "3,4 starboard 1/2 [235]"}},
		"lines-comma.csv": {sheet.Lines, []string{
			"2,3 port 1/1 [215]  bare gelcoat", "3,3 port 2/1 [353 358 351]", "4,3 starboard 1/2 [235 240]", "5,3 starboard 2/2 [] > scraped",
		}},
		"lines-stations.csv": {sheet.Lines, []string{"2,4 port 1/1 [215]", "3,4 port 1/2 [220]", "4,4 starboard 2/3 [] high"}},
	} {
		f := sheet.Parse(sample(t, name))
		got := make([]string, len(f.Cells))
		for k, c := range f.Cells {
			got[k] = said(c)
		}
		if f.Layout != want.layout || len(f.Faults) > 0 || !reflect.DeepEqual(got, want.cells) {
			t.Errorf("%s: %s\n got %q\nwant %q\nfaults %v", name, f.Layout, got, want.cells, f.Faults)
		}
	}
}

func TestFaultsAreNamedByRowAndColumn(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text string
		want []string // row,column and a part of the sentence
	}{
		"cells":              {string(sample(t, "grid-faults.csv")), []string{"2,4 no number", "3,1 port, starboard or centre", "4,2 whole number", "5,6 beyond the last heading", "5,3 finer", "5,4 five placements", "6,3 row 2 already"}},
		"open quote":         {string(sample(t, "broken-quote.csv")), []string{"3,1 never closes"}},
		"quote inside":       {"side,place,reading\nport,1/1\",21\n", []string{"2,2 quotation mark"}},
		"empty":              {"", []string{"1,1 empty"}},
		"only a heading":     {"side,place,reading\n", []string{"1,1 no reading"}},
		"blank lines":        {"\n\nside,place,reading\n\n,,\nport,1/1,wet\n", []string{"6,3 no number"}},
		"unknown heading":    {"side,place,reading,pH\n", []string{"1,4 not known"}},
		"no side":            {"place,reading\n1/1,2\n", []string{"1,1 \"side\""}},
		"no station":         {"side,1,2\nport,2,2\n", []string{"1,1 \"station\""}},
		"no place":           {"side,reading\nport,2\n", []string{"1,1 \"place\""}},
		"row twice":          {"side,station,1,1\n", []string{"1,4 twice"}},
		"both layouts":       {"side,station,1,reading\n", []string{"1,1 one layout"}},
		"six columns":        {"side,place" + strings.Repeat(",reading", 6), []string{"1,1 five"}},
		"decimal comma":      {"side,place,reading\nport,1/1,35,3\n", []string{"2,4 semicolons"}},
		"not reached":        {"side,place,reading\nport,1/1,n prop pad\n", []string{"2,3 not reached"}},
		"only a mark":        {"side,place,reading\nport,1/1,!\n", []string{"2,3 no reading"}},
		"no label":           {"side,place,reading\nport,,3\n", []string{"2,2 label"}},
		"formula":            {"side,place,reading\nport,1/1,=1+2\n", []string{"2,3 no number"}},
		"too far":            {"side,place,reading\nport,1/1,99999\n", []string{"2,3 beyond"}},
		"latin letters":      {"side,place,reading\nport,1/1,15\xe920\n", []string{"2,1 UTF-8"}},
		"zeros":              {"side,place\x00,reading\n", []string{"1,1 UTF-8"}},
		"workbook":           {"PK\x03\x04aaaa", []string{"1,1 workbook"}},
		"many columns":       {"side,place,reading" + strings.Repeat(",", 9997) + "\n", []string{"1,101 columns"}},
		"many rows":          {"side,place,reading\n" + strings.Repeat("port,1/1,2\n", 401), []string{"402,1 400 rows"}},
		"one line of 3 MB":   {strings.Repeat("a", 3<<20), []string{"1,1 1 MB"}},
		"one line of 1.5 MB": {strings.Repeat("a", 3<<19), []string{"1,1 1 MB"}},
		"more than 2000":     {tooMany(), []string{"46,1 2000"}},
		"half of a UTF-16":   {"\xff\xfe\x00\x00", []string{"1,1 not text"}},
	} {
		f := sheet.Parse([]byte(c.text))
		if len(f.Faults) != len(c.want) {
			t.Errorf("%s: %d faults, want %d: %v", name, len(f.Faults), len(c.want), f.Faults)
			continue
		}
		for k, want := range c.want {
			at, part, _ := strings.Cut(want, " ")
			if got := f.Faults[k]; at != fmt.Sprintf("%d,%d", got.Row, got.Column) || !strings.Contains(got.Text, part) || !strings.ContainsAny(got.Text[len(got.Text)-1:], ".?") {
				t.Errorf("%s: got %v, want %s", name, got, want)
			}
		}
	}
}

// tooMany has 60 rows of 45 readings: the 46th line of the file brings number 2001.
func tooMany() string {
	var b strings.Builder
	b.WriteString("side,station")
	for row := range 45 {
		fmt.Fprintf(&b, ",%d", row+1)
	}
	for station := range 60 {
		fmt.Fprintf(&b, "\nport,%d%s", station+1, strings.Repeat(",2", 45))
	}
	return b.String()
}

func TestEveryEncodingReadsTheSame(t *testing.T) {
	t.Parallel()
	text := "side;station;1\nport;4;15–20\n"
	units := utf16.Encode([]rune(text))
	wide := func(mark bool, low, high int) []byte {
		var b []byte
		put := func(u uint16) { two := [2]byte{byte(u), byte(u >> 8)}; b = append(b, two[low], two[high]) }
		if mark {
			put(0xfeff)
		}
		for _, u := range units {
			put(u)
		}
		return b
	}
	plain := sheet.Parse([]byte(text))
	if len(plain.Cells) != 1 || plain.Cells[0].Written != "15–20" {
		t.Fatalf("plain: %+v", plain)
	}
	for name, raw := range map[string][]byte{
		"mark": []byte("\ufeff" + text), "old line ends": []byte(strings.ReplaceAll(text, "\n", "\r")), "UTF-16 LE": wide(true, 0, 1), "UTF-16 BE": wide(true, 1, 0),
		"LE without mark": wide(false, 0, 1), "BE without mark": wide(false, 1, 0), "quoted": []byte("\"side\";\"station\";\"1\"\n\"port\";\"4\";\"15–20\"\n"),
		"spaces": []byte(" Side ; STATION ;\u00a01\n Port; 4 ; 15–20 \n"), "tabs": []byte(strings.ReplaceAll(text, ";", "\t")),
	} {
		if got := sheet.Parse(raw); !reflect.DeepEqual(got, plain) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func TestNumbersAreReadToTheTenth(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int16{"35,3": 353, "35.3": 353, "0": 0, "7": 70, "-2": -20, "35.30": 353, ".5": 5} {
		if got, why := sheet.Tenths(text); got != want || why != "" {
			t.Errorf("%q: %d %s", text, got, why)
		}
	}
	for _, text := range []string{"", "35.33", "1e3", "+5", "0x1F", "NaN", "inf", "1_0", "1,2,3", "1.2.3", "--2", "35 ", "９"} {
		if got, why := sheet.Tenths(text); why == "" {
			t.Errorf("%q is read as %d", text, got)
		}
	}
}

func FuzzParse(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(samples, "*.csv"))
	if err != nil || len(files) < 5 {
		f.Fatal(files, err)
	}
	for _, name := range files {
		f.Add(sample(f, filepath.Base(name)))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		file := sheet.Parse(raw)
		if len(file.Cells) == 0 && len(file.Faults) == 0 {
			t.Error("neither readings nor faults")
		}
		for _, x := range file.Faults {
			if x.Row < 1 || x.Column < 1 || x.Text == "" {
				t.Errorf("fault %+v", x)
			}
		}
		for _, c := range file.Cells {
			if (len(c.Placements) == 0) == (c.Written == "") || len(c.Placements) > 5 || c.Row < 2 || c.Column < 1 {
				t.Errorf("cell %+v", c)
			}
		}
	})
}
