package due_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/due"
)

func on(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

func find(kind due.Kind, grade due.Grade) []due.Finding {
	return []due.Finding{{ID: "f", Grade: grade, Kind: kind}}
}

// The intervals are the reinspection defaults of the trade notes, common practice, no
// source; what is checked is that the dates follow from them.
func TestOneReasonOneWindow(t *testing.T) {
	t.Parallel()
	visited := on("2026-10-14")
	for name, c := range map[string]struct {
		h        due.Hull
		from, to string // empty: no dated visit
		codes    []string
	}{
		"clean and old: two years, a month either way":     {due.Hull{Built: 1988, Polyester: true}, "2028-09-14", "2028-11-14", nil},
		"clean and young: nothing":                         {due.Hull{Built: 2020, Polyester: true}, "", "", nil},
		"clean, age unknown: nothing, and it is said":      {due.Hull{Polyester: true}, "", "", []string{"age-unknown"}},
		"raised all over: the same month a year on":        {due.Hull{Findings: find(due.RaisedUniform, due.Watch), DaysAshore: 21}, "2027-10-01", "2027-10-31", []string{"days-ashore"}},
		"raised all over, lift known: days ashore matched": {due.Hull{Findings: find(due.RaisedUniform, due.Watch), DaysAshore: 21, NextLift: on("2027-09-20")}, "2027-10-07", "2027-10-15", []string{"days-ashore"}},
		"lift too late for the month: said":                {due.Hull{Findings: find(due.RaisedUniform, due.Watch), DaysAshore: 21, NextLift: on("2027-11-20")}, "2027-10-01", "2027-10-31", []string{"season-or-days"}},
		"days ashore unknown: said":                        {due.Hull{Findings: find(due.RaisedUniform, due.Watch), DaysAshore: -1}, "2027-10-01", "2027-10-31", []string{"days-ashore-unknown"}},
		"few blisters: half a year to a year":              {due.Hull{Findings: find(due.FewBlisters, due.Planned)}, "2027-04-14", "2027-10-14", []string{"mapped-windows"}},
		"active blisters: three to six months":             {due.Hull{Findings: find(due.ActiveBlisters, due.Watch)}, "2027-01-14", "2027-04-14", nil},
		"active blisters, lift sooner: at the lift":        {due.Hull{Findings: find(due.ActiveBlisters, due.Watch), NextLift: on("2026-12-01")}, "2026-12-01", "2026-12-01", nil},
		"suspected wet core: one to three months":          {due.Hull{Findings: find(due.WetCore, due.LookFurther)}, "2026-11-14", "2027-01-14", []string{"open-up"}},
		"drying: weekly to fortnightly":                    {due.Hull{Drying: true}, "2026-10-21", "2026-10-28", nil},
		"treated in 2025: the two-year mark is next":       {due.Hull{Treated: on("2025-09-30")}, "2027-08-30", "2027-10-30", nil},
		"guarantee: its last three months":                 {due.Hull{GuaranteeEnd: on("2027-05-31")}, "2027-02-28", "2027-05-31", nil},
		"guarantee that had ended: said":                   {due.Hull{GuaranteeEnd: on("2026-05-31")}, "", "", []string{"guarantee-ended"}},
		"grounded since: now":                              {due.Hull{Grounded: on("2026-10-20")}, "2026-10-20", "2026-10-20", nil},
		"stop: the same day":                               {due.Hull{Findings: find("", due.Stop)}, "2026-10-14", "2026-10-14", nil},
		"before afloat: until the launch":                  {due.Hull{Findings: find("", due.BeforeLaunch), Launch: on("2027-03-20")}, "2026-10-15", "2027-03-20", nil},
		"before afloat, no launch planned: waits":          {due.Hull{Findings: find("", due.BeforeLaunch)}, "", "", nil},
		"planned by a date":                                {due.Hull{Findings: []due.Finding{{Grade: due.Planned, By: on("2027-06-01")}}}, "2026-10-15", "2027-06-01", nil},
		"planned without a date: said":                     {due.Hull{Findings: find("", due.Planned)}, "", "", []string{"planned-without-date"}},
		"a date that had passed at the visit: said":        {due.Hull{Findings: []due.Finding{{Grade: due.Watch, By: on("2026-06-01")}}}, "2026-10-15", "2026-10-15", []string{"date-passed"}},
		"watched without a date: a year":                   {due.Hull{Findings: find("", due.Watch)}, "2027-09-14", "2027-11-14", nil},
		"for the record: as if nothing were found":         {due.Hull{Findings: find(due.FewBlisters, due.Record), Built: 1990, Polyester: true}, "2028-09-14", "2028-11-14", nil},
	} {
		c.h.Visited = visited
		p, err := due.Work(c.h, due.Defaults())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		v, ok := p.Next()
		if ok != (c.from != "") || ok && (!v.Earliest.Equal(on(c.from)) || !v.Latest.Equal(on(c.to))) {
			t.Errorf("%s: got %s to %s", name, v.Earliest.Format(time.DateOnly), v.Latest.Format(time.DateOnly))
		}
		for _, code := range c.codes {
			if !said(p, code) {
				t.Errorf("%s: %s is not said", name, code)
			}
		}
	}
}

func said(p due.Plan, code string) bool {
	notes := p.Notes
	for _, v := range p.Visits {
		for _, w := range v.Windows {
			notes = append(notes, w.Wants...)
		}
	}
	for _, n := range notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

func TestOneVisitServesTheFiveYearMarkAndTheGuarantee(t *testing.T) {
	t.Parallel()
	p, err := due.Work(due.Hull{Visited: on("2026-05-20"), Treated: on("2024-04-30"), GuaranteeEnd: on("2029-04-30")}, due.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Visits) != 1 || len(p.Visits[0].Windows) != 2 {
		t.Fatalf("got %+v", p.Visits)
	}
	if v := p.Visits[0]; !v.Earliest.Equal(on("2029-03-30")) || !v.Latest.Equal(on("2029-04-30")) {
		t.Errorf("got %v to %v", v.Earliest, v.Latest)
	}
}

func TestTheLastDayOfAMonthStaysTheLast(t *testing.T) {
	t.Parallel()
	p, err := due.Work(due.Hull{Visited: on("2026-08-31"), Findings: find(due.FewBlisters, due.Watch)}, due.Defaults())
	if v, _ := p.Next(); err != nil || !v.Earliest.Equal(on("2027-02-28")) || !v.Latest.Equal(on("2027-08-31")) {
		t.Errorf("got %v to %v, %v", v.Earliest, v.Latest, err)
	}
}

func TestWhatCannotBeMeantIsNamed(t *testing.T) {
	t.Parallel()
	good := due.Hull{Visited: on("2026-05-20")}
	backwards := due.Defaults()
	backwards.Rules[2].Marks = []due.Mark{{From: due.Span{Months: 12}, To: due.Span{Months: 6}}}
	far := due.Defaults()
	far.Slack.Months = 1 << 40
	for argument, c := range map[string]struct {
		h due.Hull
		s due.Settings
	}{
		"Visited":           {due.Hull{}, due.Defaults()},
		"Findings[0].Grade": {due.Hull{Visited: on("2026-05-20"), Findings: find("", "urgent")}, due.Defaults()},
		"Rules[2].Marks[0]": {good, backwards},
		"Slack":             {good, far},
		"AshoreShare":       {good, due.Settings{AshoreShare: 2}},
	} {
		_, err := due.Work(c.h, c.s)
		var arg *measure.ArgumentError
		if !errors.As(err, &arg) || arg.Argument != argument {
			t.Errorf("%s: got %v", argument, err)
		}
	}
}

func TestEveryDefaultCarriesATagAndAReason(t *testing.T) {
	t.Parallel()
	s := due.Defaults()
	for _, r := range s.Rules {
		if r.Tag == "" || r.Reason == "" {
			t.Errorf("%s: tag %q, reason %q", r.Kind, r.Tag, r.Reason)
		}
	}
	if s.SlackTag == "" || s.OlderFromTag == "" || s.AshoreShareTag == "" {
		t.Error("a setting without a tag")
	}
}

// TestVisitsMeetEveryWindowAndAreAsFewAsCanBe draws hulls at random. Each visit's
// first-ending window is disjoint from every other visit's, so no plan could do with
// fewer visits.
func TestVisitsMeetEveryWindowAndAreAsFewAsCanBe(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 1))
	for range 2000 {
		h := randomHull(rng)
		p, err := due.Work(h, due.Defaults())
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range p.Visits {
			if v.Latest.Before(v.Earliest) || v.Earliest.Before(h.Visited) {
				t.Fatalf("%+v: visit from %v to %v", h, v.Earliest, v.Latest)
			}
			for _, w := range v.Windows {
				if v.Earliest.Before(w.Earliest) || v.Latest.After(w.Latest) {
					t.Fatalf("%+v: window %s is not met", h, w.Code)
				}
				if w.Reason == "" || w.Tag == "" || w.Code == "" {
					t.Fatalf("%+v: window without reason, tag or code", h)
				}
			}
			if i > 0 && !v.Windows[0].Earliest.After(p.Visits[i-1].Windows[0].Latest) {
				t.Fatalf("%+v: visits %d and %d could be one", h, i-1, i)
			}
		}
		for _, w := range p.Waiting {
			if w.Until == due.NoEvent {
				t.Fatalf("%+v: %s waits for nothing", h, w.Code)
			}
		}
	}
}

func randomHull(rng *rand.Rand) due.Hull {
	base := on("2026-10-14")
	some := func(share float64, from, to int) time.Time {
		if rng.Float64() > share {
			return time.Time{}
		}
		return base.AddDate(0, 0, from+rng.IntN(to-from))
	}
	h := due.Hull{
		Visited: base, Built: 1970 + rng.IntN(55), Polyester: rng.IntN(2) == 0, DaysAshore: rng.IntN(60) - 1,
		NextLift: some(.5, -30, 500), Launch: some(.5, -30, 300), Drying: rng.IntN(4) == 0,
		Treated: some(.3, -2500, 30), GuaranteeEnd: some(.3, -300, 2000), Grounded: some(.2, -500, 10),
	}
	grades := []due.Grade{due.Stop, due.BeforeLaunch, due.WhileAshore, due.Planned, due.Watch, due.LookFurther, due.Record}
	kinds := []due.Kind{"", due.RaisedUniform, due.FewBlisters, due.ActiveBlisters, due.FailingTreatment, due.WetCore}
	for i := range rng.IntN(5) {
		h.Findings = append(h.Findings, due.Finding{ID: fmt.Sprint(i), Grade: grades[rng.IntN(len(grades))], Kind: kinds[rng.IntN(len(kinds))], By: some(.3, -100, 900)})
	}
	return h
}

func ExampleWork() {
	plan, err := due.Work(due.Hull{
		Visited: time.Date(2026, 10, 14, 0, 0, 0, 0, time.UTC),
		Findings: []due.Finding{
			{ID: "2.1", Grade: due.Watch, Kind: due.RaisedUniform},
			{ID: "2.4", Grade: due.Planned, Kind: due.FewBlisters},
		},
		DaysAshore:   21,
		GuaranteeEnd: time.Date(2027, 12, 31, 0, 0, 0, 0, time.UTC),
	}, due.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range plan.Visits {
		fmt.Println(v.Earliest.Format("2 Jan 2006"), "to", v.Latest.Format("2 Jan 2006"))
		for _, w := range v.Windows {
			fmt.Printf("  %s: %s (%s)\n", w.Code, w.Reason, w.Tag)
		}
	}
	// Output:
	// 1 Oct 2027 to 14 Oct 2027
	//   few-blisters: A few blisters are looked at again within the year, in the windows mapped this time. (common practice, no source)
	//   raised-uniform: Readings raised all over are taken again after a year, in the same month and after as many days ashore. (common practice, no source)
	//   guarantee-end: The guarantee ends; a defect has to be found while it still runs. (common practice, no source)
}

func BenchmarkWork(b *testing.B) {
	h := randomHull(rand.New(rand.NewPCG(1, 2)))
	s := due.Defaults()
	b.ReportAllocs()
	for b.Loop() {
		_, _ = due.Work(h, s)
	}
}
