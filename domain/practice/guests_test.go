package practice_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest/story"
)

// A guest knows the vessels of the jobs he or she was let into. The others are to him or
// her as if they were not there: what names one answers, byte for byte, what it answers
// for an id that nothing has, and no list or search holds a word of them.
func TestAGuestKnowsTheVesselsOfItsJobsAlone(t *testing.T) {
	t.Parallel()
	ours, _ := worlds(t)
	ours.Tell(t.Context())
	guest := ours.member(house{id: ours.Practice}, domain.Guest)
	cases := map[string]useCase{}
	for _, u := range ours.useCases() {
		cases[u.name] = u
	}
	reads := readsOf(ours.World)
	// What stands in the vessel's own pages. The rest has its own tests of jobs.
	named := []string{"Vessel", "History", "Element", "Plan", "Place", "Pass", "Reading", "PartyRole", "Job", "Visit", "Report", "Photo", "Finding", "Recommendation"}
	for _, name := range named {
		for _, args := range reads[name] {
			changed := slices.Clone(args)
			changed[0] = newID()
			results, err := cases[name].call(t.Context(), guest, args...)
			none, missing := cases[name].call(t.Context(), guest, changed...)
			want(t, err, domain.NotFound)
			if said(results, err) != said(none, missing) {
				t.Errorf("%s answers\n%s\none of nothing\n%s", name, said(results, err), said(none, missing))
			}
			blank(t, results)
		}
	}
	line := must[[]practice.VesselLine](t)(ours.Vessels(t.Context(), ours.Actor, "", practice.Page{First: 50}))[0]
	job := must[practice.JobPage](t)(ours.Job(t.Context(), ours.Actor, ours.Of("job")))
	for _, name := range []string{"Vessels", "Jobs", "Reports", "Today", "Parties", "Visits"} {
		for _, args := range reads[name] {
			results, err := cases[name].call(t.Context(), guest, args...)
			want(t, err, domain.Internal)
			tellsNothing(t, name, results, ours.World, line.Name, job.Number)
		}
	}
	for _, search := range []string{line.Name[:4], job.Number} {
		if list := must[[]practice.VesselLine](t)(ours.Vessels(t.Context(), guest, search, practice.Page{First: 50})); len(list) > 0 {
			t.Errorf("%q finds %+v", search, list)
		}
	}

	ours.let(guest, ours.Of("job"))
	for _, name := range named {
		for _, args := range reads[name] {
			if _, err := cases[name].call(t.Context(), guest, args...); err != nil {
				t.Errorf("let into the job, %s answers %v", name, err)
			}
		}
	}
	for _, search := range []string{"", line.Name[:4], job.Number} {
		if list := must[[]practice.VesselLine](t)(ours.Vessels(t.Context(), guest, search, practice.Page{First: 50})); len(list) != 1 {
			t.Errorf("let into the job, %q finds %+v", search, list)
		}
	}
	// Another job of the same vessel is not given away by its number.
	secret := ours.job(house{id: ours.Practice}, ours.Of("vessel"), false)
	ours.exec(`update jobs set number = '2026-777' where id = $1`, secret)
	if list := must[[]practice.VesselLine](t)(ours.Vessels(t.Context(), guest, "2026-777", practice.Page{First: 50})); len(list) > 0 {
		t.Errorf("the number of a job that is closed to the guest finds %+v", list)
	}
}

func tellsNothing(t *testing.T, name string, results []any, w *story.World, words ...string) {
	t.Helper()
	raw, err := json.Marshal(results)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range append(words, w.Of("vessel").String(), w.Of("job").String()) {
		if strings.Contains(string(raw), word) {
			t.Errorf("%s tells a guest %q: %s", name, word, raw)
		}
	}
}
