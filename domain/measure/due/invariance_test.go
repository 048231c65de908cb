package due_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"boottop.example/practice/domain/measure/due"
)

// The hour, the zone and the order of findings do not matter; 400 years on, the calendar
// is the same and so is the plan.
func TestHourZoneAndOrderDoNotMatter(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 2))
	east := time.FixedZone("far east", 14*3600)
	for range 200 {
		h := randomHull(rng)
		a, err := due.Work(h, due.Defaults())
		if err != nil {
			t.Fatal(err)
		}
		late := moved(h, func(d time.Time) time.Time {
			return time.Date(d.Year(), d.Month(), d.Day(), 23, 59, 0, 0, east)
		})
		slices.Reverse(late.Findings)
		b, err := due.Work(late, due.Defaults())
		if err != nil || !alike(a, b, 0) {
			t.Fatalf("%+v: %+v became %+v, %v", h, a, b, err)
		}
		on := moved(h, func(d time.Time) time.Time { return d.AddDate(400, 0, 0) })
		if on.Built > 0 {
			on.Built += 400
		}
		c, err := due.Work(on, due.Defaults())
		if err != nil || !alike(a, c, 400) {
			t.Fatalf("%+v: 400 years on %+v, %v", h, c, err)
		}
	}
}

func moved(h due.Hull, by func(time.Time) time.Time) due.Hull {
	h.Findings = slices.Clone(h.Findings)
	dates := []*time.Time{&h.Visited, &h.NextLift, &h.Launch, &h.Treated, &h.GuaranteeEnd, &h.Grounded}
	for i := range h.Findings {
		dates = append(dates, &h.Findings[i].By)
	}
	for _, d := range dates {
		if !d.IsZero() {
			*d = by(*d)
		}
	}
	return h
}

// alike compares the visits, b being so many years later.
func alike(a, b due.Plan, years int) bool {
	return len(a.Waiting) == len(b.Waiting) && slices.EqualFunc(a.Visits, b.Visits, func(v, w due.Visit) bool {
		return v.Earliest.AddDate(years, 0, 0).Equal(w.Earliest) && v.Latest.AddDate(years, 0, 0).Equal(w.Latest) && len(v.Windows) == len(w.Windows)
	})
}
