package render

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/carlos7ags/folio/reader"

	"boottop.example/practice/domain/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file of testdata/report; a mismatch prints the first lines that
// differ and leaves the new file beside the old.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join(reporttest.Root(), "testdata", "report", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	ext := filepath.Ext(path)
	beside := strings.TrimSuffix(path, ext) + ".new" + ext
	if err := os.WriteFile(beside, got, 0o644); err != nil {
		t.Error(err)
	}
	have, had := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	var diff strings.Builder
	for i, shown := 0, 0; i < max(len(have), len(had)) && shown < 12; i++ {
		var a, b string
		if i < len(had) {
			a = had[i]
		}
		if i < len(have) {
			b = have[i]
		}
		if a != b {
			fmt.Fprintf(&diff, "line %d\n- %.300s\n+ %.300s\n", i+1, a, b)
			shown++
		}
	}
	t.Errorf("%s differs; the new file is %s\n%s", name, beside, diff.String())
}

// inWords writes a PDF as text: for each page its size, the hash of what is drawn (before
// compression, so that it holds for every version of that, and without the plates, which
// have golden files with package figure), and its words.
func inWords(t *testing.T, pdf []byte) []byte {
	t.Helper()
	r, err := reader.Parse(pdf)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	for i := range r.PageCount() {
		p, err := r.Page(i)
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := p.ContentStream()
		if err != nil {
			t.Fatal(err)
		}
		text, err := p.ExtractText()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "=== page %d, %g × %g pt, drawn %x\n%s\n", i+1, p.Width, p.Height, sha256.Sum256(figures.ReplaceAll(drawn, nil)), strings.TrimSpace(text))
	}
	return b.Bytes()
}

var (
	styleSheet = regexp.MustCompile(`(?s)<style>.*?</style>`)
	drawing    = regexp.MustCompile(`(?s)<svg .*?</svg>`)
	figures    = regexp.MustCompile(`(?s)/Figure <<.*?EMC\n`)
	picture    = regexp.MustCompile(`data:image/jpeg;base64,[^"]*`)
)

// bare is a page without its letters and pictures, one element a line; drawings become
// their hash, because figure has golden files of its own.
func bare(page []byte) []byte {
	hash := func(b []byte) []byte { return fmt.Appendf(nil, "[%x]", sha256.Sum256(b))[:17] }
	page = styleSheet.ReplaceAll(page, []byte("<style></style>"))
	page = drawing.ReplaceAllFunc(page, func(b []byte) []byte {
		if bytes.Contains(b, []byte(`role="img"`)) {
			return []byte("<svg of the hull>")
		}
		return fmt.Appendf(nil, "<svg %s>", hash(b))
	})
	page = picture.ReplaceAllFunc(page, func(b []byte) []byte { return fmt.Appendf(nil, "data:%s", hash(b)) })
	return regexp.MustCompile(`(</(p|h1|h2|h3|tr|dd|li|header|aside|section|figure|thead)>)`).ReplaceAll(page, []byte("$1\n"))
}

func TestGolden(t *testing.T) {
	t.Parallel()
	for _, s := range samples() {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			page, err := Page(s.r, PageOptions{Photo: s.photo, PDF: "report.pdf", About: "A4."})
			if err != nil {
				t.Fatal(err)
			}
			golden(t, s.name+".page.html", bare(page))
			for _, p := range []Paper{A4, Letter} {
				golden(t, s.name+"."+string(p)+".txt", inWords(t, makePDF(t, s, p)))
			}
		})
	}
}
