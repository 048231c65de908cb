package figure

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

const stylesheet = "../../web/src/figure/figure.css"

func TestTheStylesheetIsTheTable(t *testing.T) {
	t.Parallel()
	if *update {
		if err := os.WriteFile(stylesheet, []byte(Stylesheet()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(stylesheet)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != Stylesheet() {
		t.Errorf("%s differs from the table: go test ./domain/figure -update", stylesheet)
	}
}

// Every class that a plate uses is inked by some rule: a mark nobody styles would come out
// black in the browser and not at all in the PDF.
func TestEveryClassIsInked(t *testing.T) {
	t.Parallel()
	for name, p := range samplePlates(t) {
		seen := map[string]bool{}
		for _, m := range p.Marks {
			if seen[m.Class] {
				continue
			}
			seen[m.Class] = true
			s := p.Style(m, Print)
			if s.Fill == nil && s.Stroke == nil && m.Fill == "" {
				t.Errorf("%s: %q is neither filled nor stroked", name, m.Class)
			}
			if s.Stroke != nil && s.Width <= 0 {
				t.Errorf("%s: %q is stroked without a width", name, m.Class)
			}
			for _, w := range strings.Fields(m.Class) {
				if !known(w) {
					t.Errorf("%s: no rule speaks of class %q", name, w)
				}
			}
		}
	}
}

func known(word string) bool {
	switch word {
	case "fill", "t1", "t2", "t3", "f5": // carry nothing of their own
		return true
	}
	for _, r := range rules {
		for _, w := range strings.Fields(r.class) {
			if w == word {
				return true
			}
		}
	}
	return false
}

func TestStyle(t *testing.T) {
	t.Parallel()
	p := Plate{Mode: Today}
	for _, c := range []struct {
		plate Plate
		class string
		kind  Kind
		fill  string
		width float64
	}{
		{p, "disc v4", Circle, "#00224e", 0.8},
		{p, "collar v2", Circle, "none", 2.6},
		{p, "topsides", Path, "#f3e6c4", 0},
		{Plate{Mode: Map}, "topsides", Path, "#ffffff", 0},
		{Plate{Mode: Today, Small: true}, "outline", Path, "none", 1.3},
		{Plate{Mode: Map}, "fill f1", Path, "#f3ede9", 0}, // replaced below: 30 % of v1 over white
	} {
		s := c.plate.Style(Mark{Kind: c.kind, Class: c.class}, Print)
		fill := "none"
		if s.Fill != nil {
			fill = s.Fill.Hex()
		}
		if c.class == "fill f1" {
			c.fill = Print.Colours["v1"].mix(0.3, white).Hex()
		}
		if fill != c.fill || s.Width != c.width {
			t.Errorf("%q: fill %s width %v, want %s and %v", c.class, fill, s.Width, c.fill, c.width)
		}
	}
}

// A grey copy must still tell the steps apart: each darker than the one before.
func TestStepsFallInEveryPalette(t *testing.T) {
	t.Parallel()
	for _, p := range []Palette{Paper, Print, Grey, Ink} {
		last := 256
		for _, v := range []string{"v1", "v2", "v3", "v4"} {
			c := p.Colours[v].grey()
			if int(c[0]) >= last {
				t.Errorf("%s: %s (%d) is no darker than the step below it (%d)", p.Name, v, c[0], last)
			}
			last = int(c[0])
		}
	}
}

// The paper palette is the client's light theme.
func TestPaperIsTheThemeOfTheClient(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../web/src/styles/tokens.css")
	if err != nil {
		t.Skip("the client's tokens are not there: ", err)
	}
	theme, _, _ := strings.Cut(string(text), "[data-theme='shed']")
	found := 0
	for _, m := range regexp.MustCompile(`--([a-z0-9-]+):\s*(#[0-9a-f]{6})`).FindAllStringSubmatch(theme, -1) {
		if c, ok := Paper.Colours[m[1]]; ok {
			found++
			if c.Hex() != m[2] {
				t.Errorf("--%s is %s in tokens.css and %s here", m[1], m[2], c.Hex())
			}
		}
	}
	if found < 15 {
		t.Errorf("found %d tokens of the palette in tokens.css, want at least 15", found)
	}
}

func samplePlates(t *testing.T) map[string]Plate {
	t.Helper()
	list := map[string]Plate{}
	for _, kind := range Kinds {
		s, err := Default(kind, usual[kind])
		if err != nil {
			t.Fatal(err)
		}
		h := s.Shape()
		list[kind+" side view"] = Silhouette(h, 106)
		for _, m := range []Mode{Today, Change, Map} {
			for _, small := range []bool{false, true} {
				o := everything(h)
				o.Mode, o.Small = m, small
				list[fmt.Sprint(kind, " ", m, " small ", small)] = Draw(h, o)
			}
		}
	}
	return list
}

// everything has one of each thing that can be drawn.
func everything(h *Shape) Options {
	m := h.LWL / 2
	o := Options{
		Width: 900, Title: "Title", Under: "under", Label: "label", Chosen: "P0", Edges: [4]float64{4, 9, 15, 22},
		Rows:     []Tick{{"0", -0.25}, {"1", 0.15}, {"2", 0.45}},
		Layers:   []Layer{{Name: "tank", Side: Port, Kind: Tank, Outline: []Point{{m, 0.2}, {m + 1, 0.2}, {m + 1, 0.5}, {m, 0.5}}}, {Name: "bulkhead", Side: Both, Kind: Bulkhead, Outline: []Point{{m, -0.3}, {m, 2}}}, {Side: Starboard, Kind: Outline, Outline: []Point{{m, 0.1}, {m + 1, 0.1}, {m + 1, 0.4}}}},
		Fittings: []Fitting{{Name: "inlet", Side: Starboard, Along: m, Down: 0.3}},
		Pins:     []Pin{{ID: "1", Side: Port, Along: 1, Down: 0.1, Kind: Window, Word: "1"}, {ID: "2", Side: Port, Along: 1.5, Down: 0.1, Kind: Finding}, {ID: "3", Side: Port, Along: 2, Down: 0.1, Kind: Photo}},
	}
	said := []Said{Up, Down, None, Untold}
	for i := range 12 {
		side := sides[i%2]
		r := Reading{ID: string(side[:1]) + string(rune('0'+i)), Side: side, Along: 0.5 + 0.5*float64(i), Down: 0.15, Value: "23", Above: float64(3 * i), Step: i%6 - 1, Said: said[i%4], By: "+3", Follow: i == 3, Dry: i == 11}
		switch i {
		case 8:
			r.Gap = NotRead
		case 9:
			r.Gap = Void
		case 10:
			r.Gap = Due
		}
		o.Readings = append(o.Readings, r)
	}
	o.Readings[0].ID = "P0"
	return o
}
