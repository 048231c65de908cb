package render

import (
	"errors"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/matterhorn"
	"boottop.example/practice/domain/report/reporttest"
)

// spoil puts odd words and numbers anywhere into a report, but for what photos are known
// by: their hashes have a test of their own.
func spoil(v reflect.Value, r *rand.Rand, text string) {
	if v.Type() == reflect.TypeFor[report.Photo]() {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				spoil(v.Field(i), r, text)
			}
		}
	case reflect.Pointer:
		switch {
		case v.IsNil():
		case r.IntN(40) == 0:
			v.SetZero()
		default:
			spoil(v.Elem(), r, text)
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return // the shape of a hull
		}
		switch n := v.Len(); {
		case n > 0 && r.IntN(25) == 0:
			v.SetLen(r.IntN(n))
		case n > 0 && n < 40 && r.IntN(25) == 0:
			for range r.IntN(20) {
				v.Set(reflect.Append(v, v.Index(r.IntN(v.Len()))))
			}
		}
		for i := range v.Len() {
			spoil(v.Index(i), r, text)
		}
	case reflect.String:
		if r.IntN(12) == 0 {
			v.SetString(odd(r, text))
		}
	case reflect.Int:
		if r.IntN(12) == 0 {
			v.SetInt(int64(r.IntN(40000) - 20000))
		}
	case reflect.Bool:
		if r.IntN(20) == 0 {
			v.SetBool(!v.Bool())
		}
	}
}

func odd(r *rand.Rand, text string) string {
	switch r.IntN(6) {
	case 0:
		return ""
	case 1:
		return strings.Repeat(text, 1+r.IntN(10))
	case 2:
		return strings.Repeat("unbroken", r.IntN(40))
	case 3:
		return "<b>\"&'</style><script>\u202e\u0000\xff\t\n" + text
	case 4:
		return "波 Жем Κύ 👍🏽 e\u0301 " + text
	}
	return text
}

// FuzzReport: whatever a report says, it prints, the tree is whole, and the page has no
// element that the report brought along.
func FuzzReport(f *testing.F) {
	for seed := range uint64(10) {
		f.Add(seed, "a sentence with words / slashes-hyphens – and *stars*")
	}
	f.Add(uint64(99), "\u00a0")
	f.Add(uint64(100), "0123456789 −±+×°²½ “quoted” ’s …")
	photos, get := reporttest.Photos(3, 60, 40)
	f.Fuzz(func(t *testing.T, seed uint64, text string) {
		if len(text) > 200 {
			return
		}
		rnd := rand.New(rand.NewPCG(seed, 7))
		in := reporttest.Vesper(photos)
		if seed%2 == 1 {
			in = reporttest.Tamsel()
		}
		r := report.Build(in)
		spoil(reflect.ValueOf(&r).Elem(), rnd, text)
		pdf, err := PDF(r, Options{Photo: get, Paper: []Paper{A4, Letter}[seed/2%2]})
		var bad *figure.SpecError
		if errors.As(err, &bad) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		faults, err := matterhorn.Check(pdf)
		if err != nil || len(faults) > 0 {
			t.Errorf("%v %v", err, faults)
		}
		page, err := Page(r, PageOptions{Photo: get})
		if err != nil {
			t.Fatal(err)
		}
		n, err := html.Parse(strings.NewReader(string(page)))
		if err != nil {
			t.Fatal(err)
		}
		for d := range n.Descendants() {
			if d.Type == html.ElementNode && (d.Data == "script" || d.Data == "b" && d.Parent.Data != "p" || d.Data == "iframe") {
				t.Errorf("the report brought <%s> along", d.Data)
			}
		}
	})
}
