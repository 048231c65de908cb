package door_test

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/99designs/gqlgen/graphql"

	"boottop.example/practice/graph/door"
)

// worst are documents at the edge of what is let through, and beyond it, each built to
// make one part of the work expensive.
func worst() map[string]string {
	fields := func(n int) string {
		return repeat(n, func(i int) string { return []string{"id", "name", "kind", "version", "length"}[i%5] })
	}
	var web strings.Builder // every fragment spreads all that follow it
	web.WriteString("{viewer{...f0}}")
	for i := range 39 {
		fmt.Fprintf(&web, " fragment f%d on Viewer{roles may practice{id name}", i)
		for j := i + 1; j < min(i+3, 39); j++ {
			fmt.Fprintf(&web, " ...f%d", j)
		}
		web.WriteString("}")
	}
	twins := "{" + repeat(4, func(int) string {
		return "job(id:\"x\"){" + repeat(4, func(int) string {
			return "visits{" + repeat(4, func(int) string { return "passes{id state instrument}" }) + "}"
		}) + "}"
	}) + "}"
	return map[string]string{
		"fragments of fragments": deepFragments(11),
		"a web of fragments":     web.String(),
		"fields that merge":      twins,
		"aliases":                "{" + repeat(60, func(i int) string { return fmt.Sprintf("a%d:viewer{roles}", i) }) + "}",
		"a long literal":         `{node(id:"` + strings.Repeat("x", 60_000) + `"){id}}`,
		"a block text":           `{node(id:"""` + strings.Repeat("\n  x", 15_000) + `"""){id}}`,
		"a list of lists":        "{node(id:[" + strings.Repeat("[1],", 700) + "]){id}}",
		"comments":               strings.Repeat("#x\n", 20_000) + "{__typename}",
		"commas":                 strings.Repeat(",", 60_000) + "{__typename}",
		"unknown fields":         "{" + repeat(490, func(i int) string { return fmt.Sprintf("x%d", i%10) + fmt.Sprint(i/10) }) + "}",
		"inline fragments":       "{" + repeat(40, func(i int) string { return fmt.Sprintf("...{a%d:__typename ...{b%d:__typename}}", i%15, i%15) }) + "}",
		"variables":              "query(" + repeat(40, func(i int) string { return fmt.Sprintf("$v%d:[[[Int]]]", i) }) + "){__typename}",
		"the most fields":        "{node(id:\"x\"){" + repeat(9, func(int) string { return "... on Vessel{" + fields(45) + "}" }) + "}}",
		"names that never end":   "{" + strings.Repeat("x", 60_000) + "}",
		"strings opened":         "{" + strings.Repeat(`"`, 2000) + "}",
	}
}

// FuzzDocument holds whatever is sent to promise D8's outcome: an answer from the resolvers
// or one short refusal, with nothing of the document in it. What it costs is BenchmarkWorst's.
func FuzzDocument(f *testing.F) {
	for _, document := range worst() {
		f.Add(document)
	}
	f.Add(stored)
	f.Add("{...A ...B} fragment A on Query{...B} fragment B on Query{...A viewer{roles @include(if:$x)}}")
	b := setup(f)
	b.answer = func(context.Context) *graphql.Response { return &graphql.Response{Data: []byte(`{}`)} }
	f.Fuzz(func(t *testing.T, document string) {
		before := b.reached.Load()
		r := b.ask(document)
		reached := b.reached.Load() > before
		if len(document) > door.BodyMost && r.status != http.StatusRequestEntityTooLarge {
			t.Errorf("%d bytes got %d", len(document), r.status)
		}
		if reached != (r.status == http.StatusOK) || !slices.Contains([]int{200, 400, 413, 422}, r.status) {
			t.Errorf("status %d, resolvers reached: %v", r.status, reached)
		}
		if !reached && (len(r.body) > 2048 || !strings.HasPrefix(r.body, `{"errors":[`)) {
			t.Errorf("refused with %d bytes: %.300s", len(r.body), r.body)
		}
	})
}

// BenchmarkWorst gives CPU and memory for each of the worst documents (promise D8: at most
// 50 ms and 10 MB).
func BenchmarkWorst(b *testing.B) {
	for name, document := range worst() {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			s := setup(b)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				s.ask(document + strings.Repeat(" ", i%1000)) // never one that was kept
			}
		})
	}
}

// BenchmarkStored gives what the door costs a page's operation.
func BenchmarkStored(b *testing.B) {
	s := setup(b)
	body := `{"variables":{"first":50},"extensions":{"persistedQuery":{"version":1,"sha256Hash":"` + door.HashOf(stored) + `"}}}`
	b.ReportAllocs()
	for b.Loop() {
		s.send(browser, body)
	}
}
