package render

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/carlos7ags/folio/reader"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/matterhorn"
	"boottop.example/practice/domain/report/reporttest"
)

type sample struct {
	name  string
	r     report.Report
	photo func(string) ([]byte, error)
	paper Paper // A4 when empty
}

func samples() []sample {
	photos, get := reporttest.Photos(5, 320, 240)
	addendum := reporttest.Tamsel()
	addendum.Issue.AddendumTo, addendum.Issue.Addendum, addendum.Issue.Because = "2026-117", 1, "The reading at S3/2 was written down as 24 and was 22."
	return []sample{
		{name: "tamsel", r: report.Build(reporttest.Tamsel())},
		{name: "tamsel-draft", r: report.Build(reporttest.TamselDraft())},
		{name: "tamsel-addendum", r: report.Build(addendum)},
		{name: "vesper", r: report.Build(reporttest.Vesper(photos)), photo: get},
		{name: "empty", r: report.Report{Issue: report.Issue{Draft: true}}},
	}
}

func makePDF(t *testing.T, s sample, p Paper) []byte {
	t.Helper()
	b, err := PDF(s.r, Options{Paper: p, Photo: s.photo})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestEveryMarkBelongsToTheTree(t *testing.T) {
	t.Parallel()
	for _, s := range append(samples(), written(t)...) {
		for _, p := range []Paper{A4, Letter} {
			t.Run(s.name+"-"+string(p), func(t *testing.T) {
				t.Parallel()
				faults, err := matterhorn.Check(makePDF(t, s, p))
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range faults {
					t.Error(f)
				}
			})
		}
	}
}

func TestEqualReportsGiveEqualBytes(t *testing.T) {
	t.Parallel()
	for _, s := range samples() {
		a, b := makePDF(t, s, A4), makePDF(t, s, A4)
		if !bytes.Equal(a, b) {
			t.Errorf("%s: two PDFs of one report differ", s.name)
		}
		x, err := Page(s.r, PageOptions{Photo: s.photo})
		if err != nil {
			t.Fatal(err)
		}
		y, _ := Page(s.r, PageOptions{Photo: s.photo})
		if !bytes.Equal(x, y) {
			t.Errorf("%s: two pages of one report differ", s.name)
		}
	}
}

// A frozen report printed ten years later gives the bytes of today.
func TestSnapshotPrintsTheSame(t *testing.T) {
	t.Parallel()
	for _, s := range samples() {
		frozen, err := report.Encode(s.r)
		if err != nil {
			t.Fatal(err)
		}
		back, err := report.Decode(frozen)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(makePDF(t, s, A4), makePDF(t, sample{name: s.name, r: back, photo: s.photo}, A4)) {
			t.Errorf("%s: the snapshot prints otherwise", s.name)
		}
	}
}

func TestPhotosAreHeldToTheirHash(t *testing.T) {
	t.Parallel()
	photos, get := reporttest.Photos(2, 160, 120)
	r := report.Build(reporttest.Vesper(photos))
	cases := map[string]func(string) ([]byte, error){
		"none to ask":   nil,
		"lost":          func(string) ([]byte, error) { return nil, errors.New("not there") },
		"another photo": func(string) ([]byte, error) { return get("pho_01") },
		"changed": func(id string) ([]byte, error) {
			b, err := get(id)
			b = bytes.Clone(b)
			b[len(b)/2] ^= 1
			return b, err
		},
	}
	for name, get := range cases {
		if _, err := PDF(r, Options{Photo: get}); !errors.Is(err, ErrPhoto) {
			t.Errorf("PDF, %s: %v", name, err)
		}
		if _, err := Page(r, PageOptions{Photo: get}); !errors.Is(err, ErrPhoto) {
			t.Errorf("page, %s: %v", name, err)
		}
	}
}

func TestProgressReachesItsEnd(t *testing.T) {
	t.Parallel()
	in := reporttest.Tamsel()
	var get func(string) ([]byte, error)
	in.Photos, get = reporttest.Photos(3, 320, 240)
	var last Progress
	pages := 0
	_, err := PDF(report.Build(in), Options{Photo: get, Pages: func(n int) { pages = n }, Progress: func(p Progress) {
		if p.Parts < last.Parts || p.Parts > p.OfParts || p.Photos < last.Photos || p.Pages < last.Pages {
			t.Errorf("went from %+v to %+v", last, p)
		}
		last = p
	}})
	if err != nil || last != (Progress{last.OfParts, last.OfParts, 3, pages}) || last.OfParts == 0 {
		t.Errorf("ended at %+v on %d pages: %v", last, pages, err)
	}
}

// tool finds a program of Debian's qpdf or poppler-utils. In CI it must be there.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed: apt-get install qpdf poppler-utils", name)
		}
		t.Skipf("%s is not installed (apt-get install qpdf poppler-utils); its check did not run", name)
	}
	return path
}

func onDisk(t *testing.T, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func TestQpdfFindsNothing(t *testing.T) {
	t.Parallel()
	for _, s := range append(samples(), written(t)...) {
		if out := run(t, "qpdf", "--check", onDisk(t, makePDF(t, s, A4))); !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("%s: %s", s.name, out)
		}
	}
}

// pdfcpu is in no Debian package; where somebody has installed it, it is asked too.
func TestPdfcpuFindsNothing(t *testing.T) {
	t.Parallel()
	path, err := exec.LookPath("pdfcpu")
	if err != nil {
		t.Skip("pdfcpu is not installed (go install github.com/pdfcpu/pdfcpu/cmd/pdfcpu@latest); its check did not run")
	}
	for _, s := range append(samples(), written(t)...) {
		if out, err := exec.Command(path, "validate", "-m", "strict", onDisk(t, makePDF(t, s, A4))).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", s.name, err, out)
		}
	}
}

func TestPdfinfo(t *testing.T) {
	t.Parallel()
	out := run(t, "pdfinfo", onDisk(t, makePDF(t, samples()[0], A4)))
	for _, want := range []string{"Title:           Tamsel · Report 2026-117", "Tagged:          yes", "Author:          Ebbstone Practice, Port Skerrow", "Page size:       595.28 x 841.89 pts (A4)", "PDF version:     1.7"} {
		if !strings.Contains(out, want) {
			t.Errorf("lacks %q:\n%s", want, out)
		}
	}
}

// The words come out in the order in which they are read.
func TestReadingOrder(t *testing.T) {
	t.Parallel()
	for _, p := range []Paper{A4, Letter} {
		text := run(t, "pdftotext", "-raw", onDisk(t, makePDF(t, samples()[0], p)), "-")
		at := 0
		for _, want := range []string{
			"Limited survey", "Tamsel", "Report 2026-117", "In short", "On 14 October 2026, 21 days ashore", "What to do", "While ashore", "Look further", "For the record",
			"The boat", "fin-keel sloop", "afloat", "How it was read", "Skerrow deep No. 2", "surveyor", "Limits", "Not reached: 4 places", "Opinion on the condition", "Second look: S. Maddern",
			"What was asked", "Beside the earlier visits", "23 Sep 2026", "About this report", "Plate 1.", "Plate 2.", "Table 1.", "P1/1", "P16/1", "S1/1", "Table 2.",
		} {
			i := strings.Index(text[at:], want)
			if i < 0 {
				t.Fatalf("%s: %q does not follow", p, want)
			}
			at += i
		}
	}
}

func TestDraftsSayItOnEveryPage(t *testing.T) {
	t.Parallel()
	b := makePDF(t, samples()[1], A4)
	path := onDisk(t, b)
	r, err := reader.Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(run(t, "pdftotext", "-raw", path, "-"), "\f"), "\f")
	for i, text := range pages {
		if n := strings.Count(text, draftWords); n < 2 {
			t.Errorf("page %d says so %d times: head and foot are two", i+1, n)
		}
		p, err := r.Page(i)
		if err != nil {
			t.Fatal(err)
		}
		if c, err := p.ContentStream(); err != nil || !bytes.Contains(c, []byte("/Subtype /Watermark")) {
			t.Errorf("page %d: nothing in the margin: %v", i+1, err)
		}
		for _, no := range []string{"2026-117", "audit head", "I. Varrow, surveyor", "5b1e"} {
			if strings.Contains(text, no) {
				t.Errorf("page %d of a draft prints %q", i+1, no)
			}
		}
		if want := fmt.Sprintf("page %d of %d", i+1, len(pages)); !strings.Contains(text, want) {
			t.Errorf("page %d lacks %q", i+1, want)
		}
	}
}

// Letters that no font has are drawn as □ and kept for who searches or listens.
func TestForeignLettersSurvive(t *testing.T) {
	t.Parallel()
	in := reporttest.Tamsel()
	in.Vessel.Name = "Κύμα Жемчуг 波"
	in.Client.Name = "M. Østergård-Páll"
	out := run(t, "pdftotext", "-raw", onDisk(t, makePDF(t, sample{r: report.Build(in)}, A4)), "-")
	for _, want := range []string{"Κύμα Жемчуг 波", "M. Østergård-Páll"} {
		if !strings.Contains(out, want) {
			t.Errorf("lost %q", want)
		}
	}
}

func TestTheFirstPageHoldsLimitsCautionsAndName(t *testing.T) {
	t.Parallel()
	for _, p := range []Paper{A4, Letter} {
		out := run(t, "pdftotext", "-raw", "-l", "1", onDisk(t, makePDF(t, samples()[0], p)), "-")
		for _, want := range []string{"In short", "What to do", "Limits", "Not a certificate of seaworthiness", "I. Varrow, surveyor."} {
			if !strings.Contains(out, want) {
				t.Errorf("%s: page 1 lacks %q", p, want)
			}
		}
	}
}

func TestOneTableHoweverManyPages(t *testing.T) {
	t.Parallel()
	out := run(t, "pdfinfo", "-struct", onDisk(t, makePDF(t, samples()[0], A4)))
	if n := strings.Count(out, "  Table (block)"); n != 4 {
		t.Errorf("%d tables, want 4: what to do, visits, readings, change", n)
	}
	if n := strings.Count(out, "/Scope /Column"); n != 6+6+5+5 {
		t.Errorf("%d column heads, want %d: repeated ones are artifacts", n, 6+6+5+5)
	}
}

func countPages(t testing.TB, pdf []byte) int {
	t.Helper()
	r, err := reader.Parse(pdf)
	if err != nil {
		t.Fatal(err)
	}
	return r.PageCount()
}
