package due_test

import (
	"testing"
	"time"

	"boottop.example/practice/domain/measure/due"
)

// Whatever a hull's dates and a practice's rules, every visit falls into all its windows
// and no window is lost.
func FuzzWork(f *testing.F) {
	f.Add(int64(0), int64(30), int64(-400), int64(900), int64(3), uint8(3), uint8(2), 12, 6, 30, 0.2)
	f.Add(int64(1<<40), int64(-1<<40), int64(0), int64(1), int64(2), uint8(0), uint8(9), -1, 1<<40, -5, 2.0)
	f.Fuzz(func(t *testing.T, visited, lift, treated, guarantee, grounded int64, grade, kind uint8, from, to, slack int, share float64) {
		on := func(days int64) time.Time {
			if days == 0 {
				return time.Time{}
			}
			return time.Unix((days%2_000_000)*86400, 0)
		}
		grades := []due.Grade{due.Stop, due.BeforeLaunch, due.WhileAshore, due.Planned, due.Watch, due.LookFurther, due.Record, "urgent"}
		kinds := []due.Kind{"", due.RaisedUniform, due.FewBlisters, due.ActiveBlisters, due.FailingTreatment, due.WetCore, "odd"}
		h := due.Hull{
			Visited: on(visited), Built: int(treated % 3000), Polyester: lift%2 == 0, DaysAshore: int(lift % 100), NextLift: on(lift),
			Treated: on(treated), GuaranteeEnd: on(guarantee), Grounded: on(grounded), Drying: kind%2 == 0,
			Findings: []due.Finding{{ID: "1", Grade: grades[int(grade)%len(grades)], Kind: kinds[int(kind)%len(kinds)], By: on(grounded)}},
		}
		s := due.Defaults()
		s.Rules[int(kind)%len(s.Rules)].Marks = []due.Mark{{From: due.Span{Months: from}, To: due.Span{Days: to}}}
		s.Slack.Days, s.AshoreShare = slack, share
		p, err := due.Work(h, s)
		if err != nil {
			return
		}
		for _, v := range p.Visits {
			if v.Latest.Before(v.Earliest) || len(v.Windows) == 0 {
				t.Fatalf("visit %+v", v)
			}
			for _, w := range v.Windows {
				if v.Earliest.Before(w.Earliest) || v.Latest.After(w.Latest) {
					t.Fatalf("window %s from %v to %v is not met by %v to %v", w.Code, w.Earliest, w.Latest, v.Earliest, v.Latest)
				}
			}
		}
		for _, w := range p.Waiting {
			if w.Until == due.NoEvent || !w.Latest.IsZero() {
				t.Fatalf("%+v waits for nothing", w)
			}
		}
	})
}
