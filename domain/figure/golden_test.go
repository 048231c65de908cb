package figure

import (
	"bytes"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write testdata/figure and web/src/figure/figure.css anew")

const goldens = "../../testdata/figure"

// worked is one file of testdata/figure: what is drawn and the plate that comes of it.
// The client's test reads the same files.
type worked struct {
	Spec    Spec    `json:"spec"`
	Options Options `json:"options"`
	Plate   Plate   `json:"plate"`
}

func TestPlates(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(goldens + "/plate-*.json")
	if err != nil || len(files) < 6 {
		t.Fatalf("found %d plates in %s (%v), want at least 6", len(files), goldens, err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".json"), func(t *testing.T) {
			t.Parallel()
			w := read[worked](t, file)
			if err := w.Spec.Validate(); err != nil {
				t.Fatal(err)
			}
			got := Draw(w.Spec.Shape(), w.Options)
			if *update {
				w.Plate = got
				write(t, file, w)
				return
			}
			same(t, got, w.Plate)
		})
	}
}

func read[T any](t testing.TB, file string) T {
	t.Helper()
	var v T
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return v
}

// write puts one mark a line, so that a difference can be read.
func write(t *testing.T, file string, v any) {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{`{"kind":`, `{"id":`, `"options":`, `"plate":`} {
		text = bytes.ReplaceAll(text, []byte(at), []byte("\n"+at))
	}
	if err := os.WriteFile(file, append(text, '\n'), 0o644); err != nil {
		t.Fatal(err)
	}
}

// tolerance of a coordinate, px.
const tolerance = 0.05

func same(t *testing.T, got, want Plate) {
	t.Helper()
	if !near(got.Width, want.Width) || !near(got.Height, want.Height) || got.Label != want.Label || got.Mode != want.Mode || got.Small != want.Small {
		t.Errorf("sheet is %v × %v %q, want %v × %v %q", got.Width, got.Height, got.Label, want.Width, want.Height, want.Label)
	}
	if len(got.Marks) != len(want.Marks) {
		t.Fatalf("%d marks, want %d", len(got.Marks), len(want.Marks))
	}
	for i, m := range got.Marks {
		if why := differ(m, want.Marks[i]); why != "" {
			t.Errorf("mark %d (%s): %s", i, m.Class, why)
		}
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= tolerance }

func differ(a, b Mark) string {
	switch {
	case a.Kind != b.Kind, a.Class != b.Class, a.Place != b.Place, a.Text != b.Text, a.Anchor != b.Anchor, a.Fill != b.Fill, a.Closed != b.Closed:
		return "another mark: " + string(b.Kind) + " " + b.Class + " " + b.Place + " " + b.Text
	case !near(a.X, b.X), !near(a.Y, b.Y), !near(a.R, b.R), !near(a.W, b.W), !near(a.H, b.H), !near(a.Size, b.Size):
		return "elsewhere"
	case len(a.Lines) != len(b.Lines):
		return "another number of lines"
	}
	for i, l := range a.Lines {
		if len(l) != len(b.Lines[i]) {
			return "another number of points"
		}
		for j, q := range l {
			if !near(q[0], b.Lines[i][j][0]) || !near(q[1], b.Lines[i][j][1]) {
				return "a point elsewhere"
			}
		}
	}
	return ""
}
