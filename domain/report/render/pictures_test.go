package render

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/reporttest"
)

// written are the golden reports that are kept as data: testdata/report/data/*.json, each
// with its sheet and how many photos go with it.
func written(t testing.TB) []sample {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(reporttest.Root(), "testdata", "report", "data", "*.json"))
	if err != nil || len(files) < 5 {
		t.Fatalf("%d reports, %v", len(files), err)
	}
	var list []sample
	for _, path := range files {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var data struct {
			Paper  Paper
			Photos int
			Report json.RawMessage
		}
		if err := json.Unmarshal(b, &data); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		s := sample{name: strings.TrimSuffix(filepath.Base(path), ".json"), paper: data.Paper}
		if s.r, err = report.Decode(data.Report); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if data.Photos > 0 {
			s.r.Photos, s.photo = reporttest.Photos(data.Photos, 320, 240)
		}
		list = append(list, s)
	}
	return list
}

// pictureDPI is coarse: what moves by a line is seen, how a rasteriser smooths a letter
// is not.
const pictureDPI = "30"

// pictures draws every page, side by side on one sheet.
func pictures(t *testing.T, pdf []byte, grey bool) image.Image {
	t.Helper()
	dir := t.TempDir()
	args := []string{"-png", "-r", pictureDPI}
	if grey {
		args = append(args, "-gray")
	}
	run(t, "pdftoppm", append(args, onDisk(t, pdf), filepath.Join(dir, "page"))...)
	files, err := filepath.Glob(filepath.Join(dir, "page*.png"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%d pages, %v", len(files), err)
	}
	slices.Sort(files)
	var pages []image.Image
	across, high := 0, 0
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		p, err := png.Decode(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, p)
		across += p.Bounds().Dx() + 6
		high = max(high, p.Bounds().Dy())
	}
	sheet := image.NewRGBA(image.Rect(0, 0, across, high))
	draw.Draw(sheet, sheet.Bounds(), image.NewUniform(color.RGBA{110, 110, 110, 255}), image.Point{}, draw.Src)
	x := 0
	for _, p := range pages {
		draw.Draw(sheet, image.Rect(x, 0, x+p.Bounds().Dx(), p.Bounds().Dy()), p, p.Bounds().Min, draw.Src)
		x += p.Bounds().Dx() + 6
	}
	return sheet
}

// tile and apart are how pictures are compared: the mean of each square of so many pixels,
// which may be apart by so much of 255. How another version of the rasteriser smooths an
// edge stays below it; a line that moved, a lost rule or another colour does not.
const (
	tile  = 4
	apart = 40
)

func means(m image.Image, x0, y0 int) (mean [3]int) {
	n := 0
	for y := y0; y < min(y0+tile, m.Bounds().Max.Y); y++ {
		for x := x0; x < min(x0+tile, m.Bounds().Max.X); x++ {
			r, g, b, _ := m.At(x, y).RGBA()
			mean[0], mean[1], mean[2] = mean[0]+int(r>>8), mean[1]+int(g>>8), mean[2]+int(b>>8)
			n++
		}
	}
	for k := range mean {
		mean[k] /= n
	}
	return mean
}

// differ counts the squares that are apart.
func differ(a, b image.Image) (squares int) {
	for y := 0; y < a.Bounds().Max.Y; y += tile {
		for x := 0; x < a.Bounds().Max.X; x += tile {
			p, q := means(a, x, y), means(b, x, y)
			for k := range p {
				if d := p[k] - q[k]; d > apart || d < -apart {
					squares++
					break
				}
			}
		}
	}
	return squares
}

func goldenPicture(t *testing.T, name string, got image.Image) {
	t.Helper()
	path := filepath.Join(reporttest.Root(), "testdata", "report", "pictures", name+".png")
	if *update {
		keepPicture(t, path, got)
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it, then look at it", err)
	}
	want, err := png.Decode(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	squares := -1
	if want.Bounds() == got.Bounds() {
		squares = differ(want, got)
	}
	if squares == 0 {
		return
	}
	beside := strings.TrimSuffix(path, ".png") + ".new.png"
	keepPicture(t, beside, got)
	t.Errorf("%s: %d squares look otherwise (-1: another number or size of pages); the new picture is %s", name, squares, beside)
}

func keepPicture(t *testing.T, path string, m image.Image) {
	t.Helper()
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Every golden report as pictures of its pages, in colour and in grey.
func TestPicturesOfPages(t *testing.T) {
	t.Parallel()
	tool(t, "pdftoppm")
	for _, s := range append(samples(), written(t)...) {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			pdf := makePDF(t, s, orA4(s.paper))
			goldenPicture(t, s.name, pictures(t, pdf, false))
			goldenPicture(t, s.name+".grey", pictures(t, pdf, true))
		})
	}
}

// A picture with one line moved, or one rule lost, is not taken for the same.
func TestPicturesTellALineThatMoved(t *testing.T) {
	t.Parallel()
	page := func(y int) image.Image {
		m := image.NewRGBA(image.Rect(0, 0, 248, 351))
		draw.Draw(m, m.Bounds(), image.White, image.Point{}, draw.Src)
		draw.Draw(m, image.Rect(20, y, 220, y+3), image.Black, image.Point{}, draw.Src)
		return m
	}
	if differ(page(60), page(60)) != 0 || differ(page(60), page(66)) == 0 || differ(page(60), page(400)) == 0 {
		t.Error("the comparison does not see what it is for")
	}
}

func orA4(p Paper) Paper {
	if p == "" {
		return A4
	}
	return p
}

// Page and PDF of each, as words.
func TestTheReportsThatAreKeptAsData(t *testing.T) {
	t.Parallel()
	for _, s := range written(t) {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			if p := s.r.Check(); len(p) > 0 {
				t.Errorf("stands in the way of issue: %v", p)
			}
			page, err := Page(s.r, PageOptions{Photo: s.photo, PDF: "report.pdf", About: "A4."})
			if err != nil {
				t.Fatal(err)
			}
			golden(t, s.name+".page.html", bare(page))
			golden(t, s.name+".txt", inWords(t, makePDF(t, s, orA4(s.paper))))
		})
	}
}
