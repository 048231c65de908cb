package suite

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boottop.example/practice/cmd/dev/up"
)

func read(t *testing.T, lines ...string) *tally {
	t.Helper()
	tally := newTally()
	if err := tally.read(strings.NewReader(strings.Join(lines, "\n"))); err != nil {
		t.Fatal(err)
	}
	return tally
}

func TestATestThatGathersOthersDoesNotCountBesideThem(t *testing.T) {
	got := read(
		t,
		`{"Action":"pass","Package":"p","Test":"TestAll/one"}`,
		`{"Action":"pass","Package":"p","Test":"TestAll/two"}`,
		`{"Action":"pass","Package":"p","Test":"TestAll"}`,
		`{"Action":"skip","Package":"p","Test":"TestOther"}`,
		`{"Action":"pass","Package":"p"}`,
	).count()
	if want := (count{passed: 2, skipped: 1}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestAParentThatFailsByItselfCounts(t *testing.T) {
	got := read(
		t,
		`{"Action":"pass","Package":"p","Test":"TestAll/one"}`,
		`{"Action":"fail","Package":"p","Test":"TestAll"}`,
		`{"Action":"fail","Package":"p"}`,
	).count()
	if want := (count{passed: 1, failed: 1}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestAPackageThatDoesNotBuildIsAFailureWithItsReason(t *testing.T) {
	tally := read(
		t,
		`{"ImportPath":"p [p.test]","Action":"build-output","Output":"p.go:1: no\n"}`,
		`{"ImportPath":"p [p.test]","Action":"build-fail"}`,
		`{"Action":"fail","Package":"p","FailedBuild":"p [p.test]"}`,
	)
	if got := tally.count(); got != (count{failed: 1}) {
		t.Errorf("got %+v", got)
	}
	if !strings.Contains(tally.failures(), "p.go:1: no") {
		t.Errorf("the reason is missing from %q", tally.failures())
	}
}

func TestTheClientsReportIsCounted(t *testing.T) {
	name := filepath.Join(t.TempDir(), "report.json")
	text := `{"testResults":[
		{"name":"a.test.ts","status":"failed","assertionResults":[
			{"status":"passed","fullName":"adds"},
			{"status":"failed","fullName":"merges","failureMessages":["expected 1"]},
			{"status":"pending","fullName":"later"}]},
		{"name":"b.test.ts","status":"failed","message":"cannot be read","assertionResults":[]}]}`
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	got, failures, err := readVitest(name)
	if want := (count{passed: 1, failed: 2, skipped: 1}); err != nil || got != want {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
	for _, said := range []string{"merges", "expected 1", "cannot be read"} {
		if !strings.Contains(failures, said) {
			t.Errorf("%q is missing from %q", said, failures)
		}
	}
}

func TestEachProofCounts(t *testing.T) {
	got := countProofs("seed 7\nhistory   held in 12.0 s: one trip\ncrash     BROKEN in 3.1 s: nothing lost\nsync      COULD NOT RUN in 0.1 s: converges\n")
	if want := (count{passed: 1, failed: 2}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestPartsOfALaneKeepTheirOrderAndComeLast(t *testing.T) {
	t.Parallel()
	names := func(lane []part) (list []string) {
		for _, p := range lane {
			list = append(list, p.name)
		}
		return list
	}
	all := stages(parts)
	alone, beside := all[:len(all)-1], all[len(all)-1]
	for _, stage := range alone {
		if len(stage) != 1 || len(stage[0]) != 1 {
			t.Errorf("%d lanes where one part was to run alone", len(stage))
		}
	}
	if len(beside) != 2 {
		t.Fatalf("%d lanes, want 2", len(beside))
	}
	for _, lane := range beside {
		got := names(lane)
		if !slices.Equal(got, []string{"go", "pool", "proofs"}) && !slices.Equal(got, []string{"audits", "browser"}) {
			t.Errorf("%v run one after the other", got)
		}
	}
	if n := len(alone) + len(names(beside[0])) + len(names(beside[1])); n != len(parts) {
		t.Errorf("%d parts run, there are %d", n, len(parts))
	}
}

func TestEveryLaneIsCounted(t *testing.T) {
	t.Parallel()
	finds := func(c count) func(context.Context, *bench) (count, error) {
		return func(context.Context, *bench) (count, error) { return c, nil }
	}
	b := &bench{out: io.Discard, steps: up.NewSteps(io.Discard)}
	sum, err := b.all(t.Context(), []part{
		{name: "first", run: finds(count{passed: 1})},
		{name: "second", lane: onServers, run: finds(count{passed: 20, failed: 3})},
		{name: "third", lane: onDemo, run: finds(count{passed: 300, skipped: 5})},
		{name: "fourth", lane: onServers, run: finds(count{passed: 4000})},
	})
	if want := (count{passed: 4321, failed: 3, skipped: 5}); sum != want || err != nil {
		t.Errorf("got %+v, %v, want %+v", sum, err, want)
	}
}
