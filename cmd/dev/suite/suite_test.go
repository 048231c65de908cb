package suite

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
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
