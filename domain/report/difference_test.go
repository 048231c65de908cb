package report

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDifferences(t *testing.T) {
	t.Parallel()
	before := Report{
		InShort:  []Sentence{Own("Two blisters to port.")},
		Limits:   []Sentence{Own("Nothing inside.")},
		Sections: []Section{{ID: "sec_1", Title: "Rigging", Text: []string{"Not examined."}}, {ID: "sec_2", Title: "Engine", Text: []string{"Ran."}}},
	}
	now := before
	now.InShort = []Sentence{Own("Three blisters to port.")}
	now.Sections = []Section{{ID: "sec_1", Title: "Mast and rigging", Text: []string{"Not examined."}}, {ID: "sec_3", Title: "Keel", Text: []string{"Tapped."}}}
	got := Differences(before, now)
	var where []string
	for _, d := range got {
		where = append(where, d.Where)
	}
	if !slices.Equal(where, []string{"inShort", "sec_1", "sec_3", "sec_2"}) {
		t.Fatalf("changed: %v", where)
	}
	want := []DifferenceRun{{"gone", "Two "}, {"new", "Three "}, {"same", "blisters to port."}}
	if !slices.Equal(got[0].Runs, want) {
		t.Errorf("%+v, want %+v", got[0].Runs, want)
	}
	if len(Differences(now, now)) != 0 {
		t.Error("a report differs from itself")
	}
}

// Without what is new it is the old text, without what is gone the new one.
func TestDifferencesLoseNoWord(t *testing.T) {
	t.Parallel()
	text := rapid.StringMatching(`([ab]{1,2}[ \n]{0,2}){0,12}`)
	rapid.Check(t, func(r *rapid.T) {
		before, now := text.Draw(r, "before"), text.Draw(r, "now")
		var was, is strings.Builder
		for _, run := range wordRuns(before, now) {
			if run.Kind != "new" {
				was.WriteString(run.Text)
			}
			if run.Kind != "gone" {
				is.WriteString(run.Text)
			}
		}
		if was.String() != before || is.String() != now {
			r.Fatalf("%q and %q became %q and %q", before, now, was.String(), is.String())
		}
	})
}
