package practice_test

import (
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestFiguresCountWorkAndNobody(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, head := t.Context(), b.ours.of[domain.Principal]
	boat := b.vessel(b.ours, "Petrel")
	day := func(n int) time.Time { return time.Date(2026, 4, n, 0, 0, 0, 0, time.UTC) }
	late, onTime, hidden := b.job(b.ours, boat, false), b.job(b.ours, boat, false), b.job(b.ours, boat, true)
	b.exec(`update jobs set due_on = $2 where id = $1`, late, day(1))
	b.exec(`update jobs set due_on = $2, stage = 'issued' where id = $1`, onTime, day(6))
	b.exec(`update jobs set due_on = $2 where id = $1`, hidden, day(1))
	report := newID()
	b.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', 'R1', $4)`, b.ours.id, report, onTime, day(5))
	b.exec(`insert into report_issues (practice_id, report_id, page_key, page_sha256, page_bytes, pdf_key, pdf_sha256, pdf_bytes, pdf_pages, issued_at) values ($1, $2, 'a', '', 1, 'b', '', 1, 1, $3)`, b.ours.id, report, day(5))
	for k, job := range []any{late, late, hidden} {
		visit := newID()
		at := day(2).Add(time.Duration(9+3*k) * time.Hour)
		b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, state) values ($1, $2, $3, 'other', $4, $5, 'Europe/Dublin', 'done')`, b.ours.id, visit, job, at, at.Add(90*time.Minute))
	}
	b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, state) values ($1, $2, $3, 'other', '2025-04-02T09:00Z', '2025-04-02T19:00Z', 'Europe/Dublin', 'done')`, b.ours.id, newID(), late)
	for state, n := range map[string]int{"due": 1, "answered": 2} {
		for range n {
			b.exec(`insert into reinspections (practice_id, id, vessel_id, due_from, due_to, reason, state) values ($1, $2, $3, $4, $5, 'seen again', $6)`, b.ours.id, newID(), boat, day(1), day(3), state)
		}
	}
	b.exec(`insert into reinspections (practice_id, id, vessel_id, due_from, due_to, reason) values ($1, $2, $3, $4, $5, 'not closed yet')`, b.ours.id, newID(), boat, day(1), day(28))
	f := must[practice.Figures](t)(b.Figures(ctx, head, day(1), day(30)))
	count := func(list []practice.Tally, what string) int32 {
		for _, c := range list {
			if c.What == what {
				return c.Count
			}
		}
		return 0
	}
	if f.Hidden != 1 || count(f.Stages, "booked") != 1 || count(f.Stages, "issued") != 1 {
		t.Errorf("stages %+v, hidden %d", f.Stages, f.Hidden)
	}
	if len(f.Hours) != 1 || f.Hours[0].Visits != 2 || f.Hours[0].Minutes != 180 {
		t.Errorf("hours %+v: want two visits of an hour and a half", f.Hours)
	}
	if count(f.Reinspections, "seen") != 2 || count(f.Reinspections, "not seen") != 1 {
		t.Errorf("reinspections %+v", f.Reinspections)
	}
	hows := map[string]practice.ReportsDue{}
	for _, r := range f.Reports {
		hows[r.How] = r
	}
	if r := hows["overdue"]; r.Jobs != 1 || r.DaysLate != 6 {
		t.Errorf("overdue %+v: want one, six days", r)
	}
	if r := hows["on time"]; r.Jobs != 1 || r.DaysLate != -1 {
		t.Errorf("on time %+v: want one, a day before", r)
	}
	b.let(head, hidden)
	if f := must[practice.Figures](t)(b.Figures(ctx, head, day(1), day(30))); f.Hidden != 0 || f.Hours[0].Visits != 3 {
		t.Errorf("let into the job: %+v", f)
	}
	_, err := b.Figures(ctx, head, day(2), day(1))
	want(t, err, domain.Invalid, "to")
}
