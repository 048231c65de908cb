package render

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/matterhorn"
	"boottop.example/practice/domain/report/reporttest"
)

// hard are texts that are hard to set: unbroken, right to left, beyond the type's letters,
// with marks that join and marks that turn.
var hard = map[string]string{
	"unbroken":      strings.Repeat("Donaudampfschifffahrtsgesellschaft", 5),
	"right to left": "\u05d1\u05d3\u05d9\u05e7\u05d4 \u05e9\u05dc \u05d4\u05d2\u05d5\u05e3 \u202eturned\u202c \u0641\u062d\u0635 \u0627\u0644\u0647\u064a\u0643\u0644",
	"emoji":         strings.Repeat("👩‍🔧🚤⚓️", 12),
	"joined marks":  strings.Repeat("Z\u0335\u0321\u0358a\u0301\u0302l\u0323g\u0308o\u0334 ", 10),
	"no-break":      strings.Repeat("one\u00a0long\u00a0", 25),
	"long":          strings.Repeat("words that go on and on without saying anything of the hull, ", 12),
	"code":          "<script>alert(1)</script><b>&amp;\x00\x07 %PDF-1.7 endobj",
}

// everywhere puts a text into every word that a report has, but for what names things and
// what a program chooses among.
func everywhere(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			switch f := v.Type().Field(i); f.Name {
			case "ID", "Element", "Pass", "Against", "Table", "See", "Photos", "Shape", "Mode", "Side", "Kind", "SHA256", "Original", "Claim", "Standing", "Grade", "Sure", "Gap", "Said", "Finding", "Figure", "Mark", "Value", "Contrast":
				if f.Name != "Kind" || v.Type() != reflect.TypeFor[report.Report]() && v.Type() != reflect.TypeFor[report.Finding]() {
					if f.Name != "Said" || f.Type.Kind() != reflect.Slice {
						continue
					}
				}
				everywhere(v.Field(i), text)
			default:
				if f.IsExported() {
					everywhere(v.Field(i), text)
				}
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			everywhere(v.Elem(), text)
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return
		}
		for i := range v.Len() {
			everywhere(v.Index(i), text)
		}
	case reflect.String:
		if v.String() != "" {
			v.SetString(text)
		}
	}
}

// many is a report with n findings and as many recommendations and items of a schedule.
func many(n int) report.Report {
	photos, _ := reporttest.Photos(5, 320, 240)
	in := reporttest.Vesper(photos)
	of := func(k int) string { return fmt.Sprintf("fnd_many_%d", k) }
	in.Photos, in.Findings, in.Recommendations, in.Schedule = nil, nil, nil, nil
	var items []report.Item
	for k := range n {
		in.Findings = append(in.Findings, report.Finding{
			ID: of(k), Number: k + 1, Kind: "crack pattern", Title: fmt.Sprintf("Star crack No. %d", k+1), Where: "port side deck", Sure: report.Seen, Element: "hull",
			At: []report.Spot{{Side: report.Port, Along: 500 + 10*k, Down: 300}}, Measured: []report.Fact{{Name: "length", Is: "110 mm"}},
		})
		in.Recommendations = append(in.Recommendations, report.Recommendation{Grade: report.Watch, What: fmt.Sprintf("Look at crack %d again", k+1), Sure: report.Seen, See: []string{of(k)}})
		items = append(items, report.Item{Name: fmt.Sprintf("stanchion %d", k+1), Examined: report.Examined, Finding: of(k)})
	}
	if n > 0 {
		in.Schedule = []report.Area{{Name: "Deck", Items: items}}
	}
	return report.Build(in)
}

// stressed are reports that try the layout: hard texts everywhere, nothing, five hundred.
func stressed() []sample {
	photos, get := reporttest.Photos(5, 320, 240)
	var list []sample
	for name, text := range hard {
		r := report.Build(reporttest.Vesper(photos))
		everywhere(reflect.ValueOf(&r).Elem(), text)
		list = append(list, sample{name: name, r: r, photo: get})
	}
	return append(list, sample{name: "no finding", r: many(0), photo: get}, sample{name: "five hundred findings", r: many(500), photo: get})
}

type boxed struct {
	page       int
	wide       bool
	x, y, w, h float64
	text       string
}

// wordsOf are the words of a PDF where poppler sees them.
func wordsOf(t *testing.T, pdf []byte) (list []boxed) {
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
		wide := number(text[p[2]:p[3]]) > number(text[p[4]:p[5]])
		end := len(text)
		if k+1 < len(pages) {
			end = pages[k+1][0]
		}
		for _, w := range bboxWord.FindAllStringSubmatch(text[p[1]:end], -1) {
			x, y := number(w[1]), number(w[2])
			list = append(list, boxed{k + 1, wide, x, y, number(w[3]) - x, number(w[4]) - y, w[5]})
		}
	}
	return list
}

// overlaps lists pairs of words on upright pages that lie on each other. Plates are left
// out: their figures lie on the hull.
func overlaps(list []boxed) (out []string) {
	for i, a := range list {
		if a.wide || a.h > 3*a.w && a.h > 40 { // a word set upwards in the margin
			continue
		}
		for _, b := range list[i+1:] {
			if b.page != a.page {
				break
			}
			w := min(a.x+a.w, b.x+b.w) - max(a.x, b.x)
			h := min(a.y+a.h, b.y+b.h) - max(a.y, b.y)
			if w > 1.5 && h > 0.5*min(a.h, b.h) && !(b.h > 3*b.w && b.h > 40) {
				out = append(out, fmt.Sprintf("page %d: %.40q (%.0f, %.0f, %.0f × %.0f) on %.40q (%.0f, %.0f, %.0f × %.0f)", a.page, a.text, a.x, a.y, a.w, a.h, b.text, b.x, b.y, b.w, b.h))
			}
		}
	}
	return out
}

// Whatever stands in a report: no word leaves its page, none lies on another, the tree is
// whole, and what the type has no letter for is told in words.
func TestStressedReportsKeepTheirLayout(t *testing.T) {
	t.Parallel()
	tool(t, "pdftotext")
	for _, s := range stressed() {
		papers := []Paper{A4}
		if s.name == "unbroken" || s.name == "long" {
			papers = append(papers, Letter)
		}
		for _, p := range papers {
			t.Run(s.name+" "+string(p), func(t *testing.T) {
				t.Parallel()
				pdf := makePDF(t, s, p)
				if out := leaves(t, pdf); len(out) > 0 {
					t.Errorf("%d words leave their page, the first: %.200s", len(out), out[0])
				}
				list := wordsOf(t, pdf)
				if out := overlaps(list); len(out) > 0 {
					t.Errorf("%d words lie on others, the first: %s", len(out), strings.Join(out[:min(3, len(out))], "; "))
				}
				faults, err := matterhorn.Check(pdf)
				if err != nil || len(faults) > 0 {
					t.Errorf("%v %v", err, faults[:min(3, len(faults))])
				}
				text := run(t, "pdftotext", onDisk(t, pdf), "-")
				blank := !slices.Contains([]string{"unbroken", "no-break", "long", "code"}, s.name) // the others have letters of many scripts
				if told := strings.Contains(text, "stands for a letter"); told != blank {
					t.Errorf("what □ stands for is told: %v, want %v", told, blank)
				}
			})
		}
	}
}

// The checks of the layout can fail: words set on each other, and one beyond the edge.
func TestTheLayoutChecksCanFail(t *testing.T) {
	t.Parallel()
	a := boxed{page: 1, x: 100, y: 100, w: 40, h: 10, text: "one"}
	on, beside, below, elsewhere := a, a, a, a
	on.x, on.w, beside.x, below.y, elsewhere.page = 120, 20, 145, 112, 2
	if out := overlaps([]boxed{a, on, beside, below, elsewhere}); len(out) != 1 {
		t.Errorf("%d pairs lie on each other, want one: %v", len(out), out)
	}
}

// told is how much broader than the window the page says it is, and what is.
var told = regexp.MustCompile(`data-broad="(-?\d+)" data-who="([^"]*)"`)

// On a phone's width the page of no report is broader than the window: long words break,
// tables fold or scroll within themselves.
func TestStressedPagesFitAPhone(t *testing.T) {
	t.Parallel()
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed; the check of the page in a browser did not run")
	}
	const ask = `<script>addEventListener('load', () => { const r = document.documentElement; let who = ''
for (const e of document.querySelectorAll('main *')) { const b = e.getBoundingClientRect(); if (b.right > r.clientWidth + 1 && !e.closest('svg, .scroll')) { who = e.tagName + ' ' + e.textContent.slice(0, 30); break } }
r.dataset.broad = r.scrollWidth - r.clientWidth; r.dataset.who = who })</script>`
	for _, s := range stressed() {
		t.Run(s.name, func(t *testing.T) {
			page, err := Page(s.r, PageOptions{Photo: s.photo})
			if err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			file := filepath.Join(dir, "page.html")
			if err := os.WriteFile(file, append(page, ask...), 0o600); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+dir, "--window-size=500,900", "--dump-dom", "file://"+file)
			out, err := cmd.Output()
			if err != nil {
				t.Fatal(err)
			}
			m := told.FindSubmatch(out)
			if m == nil {
				t.Fatal("the page did not answer")
			}
			if string(m[1]) != "0" {
				t.Errorf("the page is %s px broader than the window; the first to reach over: %s", m[1], m[2])
			}
		})
	}
}
