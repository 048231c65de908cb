package figure

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var pictures = flag.String("pictures", "", "folder to write every worked plate to, as SVG, for looking at")

// TestPictures writes plates for the eye: go test ./domain/figure -run Pictures -pictures DIR.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("no -pictures folder")
	}
	files, _ := filepath.Glob(goldens + "/plate-*.json")
	for _, file := range files {
		w := read[worked](t, file)
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		for _, p := range []Palette{Paper, Grey, Ink} {
			picture(t, name+"-"+p.Name, Draw(w.Spec.Shape(), w.Options), &p)
		}
	}
	for _, kind := range Kinds {
		s, err := Default(kind, usual[kind])
		if err != nil {
			t.Fatal(err)
		}
		picture(t, "silhouette-"+kind, Silhouette(s.Shape(), 106), &Paper)
		picture(t, "default-"+kind, Draw(s.Shape(), Options{Width: 860, Title: kind, Under: "from four numbers", Label: kind}), &Paper)
	}
}

func picture(t *testing.T, name string, p Plate, c *Palette) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(*pictures, name+".svg"), SVG(p, SVGOptions{ID: "p", Palette: c}), 0o644); err != nil {
		t.Fatal(err)
	}
}

// usual dimensions of each kind.
var usual = map[string]Dims{
	FinKeelSloop: {10.55, 3.5, 1.75, 0}, FullKeel: {9.95, 3.2, 1.55, 0}, TwinKeel: {7.9, 2.8, 1.05, 0}, LiftingKeel: {7.2, 2.6, 1.4, 0},
	ChineMotorBoat: {9.15, 3.2, 0.95, 0}, DisplacementMotorBoat: {11.2, 3.7, 1.1, 0}, OpenBoat: {5.2, 2, 0.2, 0},
}
