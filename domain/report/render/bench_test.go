package render

import (
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"math"
	"runtime"
	"runtime/metrics"
	"testing"
	"time"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/reporttest"
)

// long is a report of at least n pages: findings without end, and photos if asked.
func long(findings, photos int) (report.Report, func(string) ([]byte, error)) {
	in := reporttest.Tamsel()
	var get func(string) ([]byte, error)
	in.Photos, get = reporttest.Photos(photos, 2000, 1500) // as large as copies come
	for i := range findings {
		in.Findings = append(in.Findings, report.Finding{
			ID: fmt.Sprintf("fnd_%d", i+1), Number: i + 1, Kind: "crack pattern", Title: fmt.Sprintf("Star crack No. %d", i+1), Where: "port side deck", Sure: report.Seen,
			Text:     []report.Sentence{report.Own("Fine cracks run from a hard spot below the stanchion base, the longest over a hand’s breadth; the gelcoat is whole between them and the note is clear all round where tapped. No weep was seen after rain.")},
			Measured: []report.Fact{{Name: "length", Is: "110 mm"}, {Name: "width", Is: "under 0.1 mm"}},
		})
	}
	return report.Build(in), get
}

// Measured with -cpu 1 in November 2026, as multiples of the yardstick in the same run:
//
//	TwentyPages   20 pages              0.41 yardsticks, 15 MB at most
//	SixtyPhotos   44 pages, 60 photos   0.28 yardsticks, 40 MB at most
//
// In seconds, with twenty other programs on the same two cores: 0.75 for the sixty photos.

// BenchmarkTwentyPages: the promise is under a second on one core.
func BenchmarkTwentyPages(b *testing.B) { benchmark(b, 90, 0) }

// BenchmarkSixtyPhotos: the promise is 40 pages with 60 photos under 2 seconds, 150 MB.
func BenchmarkSixtyPhotos(b *testing.B) { benchmark(b, 40, 60) }

func benchmark(b *testing.B, findings, photos int) {
	r, get := long(findings, photos)
	b.ReportAllocs()
	pages, size := 0, 0
	for b.Loop() {
		pdf, err := PDF(r, Options{Photo: get})
		if err != nil {
			b.Fatal(err)
		}
		size = len(pdf)
	}
	b.StopTimer()
	pages = pagesOf(b, r, get)
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(yardstick(b)), "yardsticks")
	b.ReportMetric(peak(func() { _, _ = PDF(r, Options{Photo: get}) }), "peak-MB")
	b.ReportMetric(float64(pages), "pages")
	b.ReportMetric(float64(size)/1000, "kB")
}

// yardstick is how long a fixed piece of work takes in this run, deflating 8 MB of numbers:
// figures of two machines, or of one that is busy, are held beside each other as multiples.
func yardstick(b *testing.B) time.Duration {
	var text bytes.Buffer
	for n := 0; text.Len() < 8<<20; n++ {
		fmt.Fprintf(&text, "%d.%02d %d\n", n*7%900, n*31%100, n*n%4096)
	}
	best := time.Duration(math.MaxInt64)
	for range 3 {
		began := time.Now()
		w, err := flate.NewWriter(io.Discard, flate.DefaultCompression)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := w.Write(text.Bytes()); err != nil {
			b.Fatal(err)
		}
		if err := w.Close(); err != nil {
			b.Fatal(err)
		}
		best = min(best, time.Since(began))
	}
	return best
}

// peak is the most that the heap held while do ran, beyond what it held before, in MB: the
// service keeps nothing else of a report being made.
func peak(do func()) float64 {
	runtime.GC()
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	read := func() uint64 { metrics.Read(sample); return sample[0].Value.Uint64() }
	before, most, done := read(), uint64(0), make(chan struct{})
	go func() { defer close(done); do() }()
	for {
		select {
		case <-done:
			return float64(max(most, before)-before) / 1e6
		case <-time.After(time.Millisecond):
			most = max(most, read())
		}
	}
}

func pagesOf(b *testing.B, r report.Report, get func(string) ([]byte, error)) int {
	pdf, err := PDF(r, Options{Photo: get})
	if err != nil {
		b.Fatal(err)
	}
	return countPages(b, pdf)
}

func BenchmarkPage(b *testing.B) {
	r, get := long(90, 0)
	for b.Loop() {
		if _, err := Page(r, PageOptions{Photo: get}); err != nil {
			b.Fatal(err)
		}
	}
}
