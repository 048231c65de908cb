package render

import (
	"bytes"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/reporttest"
)

var (
	bboxPage = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	bboxWord = regexp.MustCompile(`<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">([^<]*)</word>`)
)

// leaves lists the words that reach beyond the edge of their page, as poppler sees them.
func leaves(t *testing.T, pdf []byte) (out []string) {
	t.Helper()
	text := run(t, "pdftotext", "-bbox", onDisk(t, pdf), "-")
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	pages := bboxPage.FindAllStringSubmatchIndex(text, -1)
	for k, p := range pages {
		w, h := number(text[p[2]:p[3]]), number(text[p[4]:p[5]])
		end := len(text)
		if k+1 < len(pages) {
			end = pages[k+1][0]
		}
		for _, word := range bboxWord.FindAllStringSubmatch(text[p[1]:end], -1) {
			if number(word[1]) < 0 || number(word[2]) < 0 || number(word[3]) > w || number(word[4]) > h {
				out = append(out, "page "+strconv.Itoa(k+1)+" at "+strings.Join(word[1:5], " ")+": "+word[5])
			}
		}
	}
	return out
}

// No word reaches beyond its page: every golden report, on both sheets.
func TestNoWordLeavesItsPage(t *testing.T) {
	t.Parallel()
	tool(t, "pdftotext")
	for _, s := range append(samples(), written(t)...) {
		for _, p := range []Paper{A4, Letter} {
			t.Run(s.name+"-"+string(p), func(t *testing.T) {
				t.Parallel()
				if out := leaves(t, makePDF(t, s, p)); len(out) > 0 {
					t.Errorf("%d words, the first: %s", len(out), strings.Join(out[:min(4, len(out))], "; "))
				}
			})
		}
	}
}

// Who reports never stands alone on a page, and what is to be read stands before what is
// shown: every golden report, on both sheets.
func TestAboutStandsWithSomething(t *testing.T) {
	t.Parallel()
	tool(t, "pdftotext")
	for _, s := range append(samples(), written(t)...) {
		for _, p := range []Paper{A4, Letter} {
			t.Run(s.name+"-"+string(p), func(t *testing.T) {
				t.Parallel()
				pages := strings.Split(run(t, "pdftotext", "-raw", onDisk(t, makePDF(t, s, p)), "-"), "\f")
				about, plate := -1, -1
				for k, text := range pages {
					if strings.Contains(text, "About this ") {
						about = k
					}
					if plate < 0 && strings.Contains(text, "Plate 1. ") {
						plate = k
					}
				}
				if about < 0 {
					t.Fatal("nowhere")
				}
				if plate >= 0 && plate < about {
					t.Errorf("on page %d, behind the plate of page %d", about+1, plate+1)
				}
				before, behind, _ := strings.Cut(pages[about], "About this ")
				if len(before) < 400 && !strings.Contains(behind, "Photo 1.") && !strings.Contains(behind, "Table 1.") {
					t.Errorf("page %d holds next to nothing else: %d letters before it", about+1, len(before))
				}
			})
		}
	}
}

// A title can say anything and stays a string of the style sheet.
func TestMarginsOfPrintedPagesStayStrings(t *testing.T) {
	t.Parallel()
	r := samples()[0].r
	r.Vessel.Name = `Tom's "Ketch" \ </style><b>`
	page, err := Page(r, PageOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Count(page, []byte("</style>")) != 1 || !bytes.Contains(page, []byte(`@top-left{content:'Tom\27 s \22 Ketch\22  \5c  \3c /style\3e \3c b\3e  · Report 2026-117'`)) {
		t.Errorf("%s", page[bytes.Index(page, []byte("@top-left")):][:200])
	}
}

// Two upright pictures that follow each other stand beside each other, captions level.
func TestUprightPhotosStandBesideEachOther(t *testing.T) {
	t.Parallel()
	tool(t, "pdftotext")
	photos, get := reporttest.Photos(6, 320, 240)
	uprights := slices.DeleteFunc(photos, func(p report.Photo) bool { return !upright(p) })
	if len(uprights) != 2 {
		t.Fatalf("%d upright pictures, want 2", len(uprights))
	}
	for k := range uprights {
		uprights[k].Number = k + 1
	}
	r := report.Build(reporttest.Vesper(uprights))
	text := run(t, "pdftotext", "-bbox", onDisk(t, makePDF(t, sample{r: r, photo: get}, A4)), "-")
	level := map[string]string{} // height of a word → the picture that it names
	for _, word := range regexp.MustCompile(`yMin="([\d.]+)"[^>]*>Photo</word>\s*<word[^>]*>([12])\.</word>`).FindAllStringSubmatch(text, -1) {
		level[word[1]] += word[2]
	}
	if !slices.Contains(slices.Collect(maps.Values(level)), "12") {
		t.Errorf("captions stand at %v", level)
	}
}
