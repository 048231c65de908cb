package render

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
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
