package practice_test

import (
	"context"
	"crypto/sha256"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestAnAddendumAddsToAnIssuedReport(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	in := practice.WriteAddendum{Mutation: newID(), ID: newID(), Report: w.report, Text: "Row 2 was read on the scraped windows."}
	_, err := b.WriteAddendum(t.Context(), lead, in)
	want(t, err, domain.Conflict)
	b.issued(w)
	before := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	bytesBefore := must[[]byte](t)(objects.Get(t.Context(), *before.PdfKey, 1<<26))
	_, _, err = b.ShareReport(t.Context(), lead, practice.ShareReport{
		Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "a.ferrant@post.example", Until: b.clock.now().AddDate(1, 0, 0),
	})
	want(t, err, domain.Internal)

	in.Mutation = newID()
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.WriteAddendum(ctx, lead, in) })
	again := practice.WriteAddendum{Mutation: newID(), ID: in.ID, Report: w.report, Version: 1, Text: "Row 2 was read in the scraped windows."}
	must[practice.Done](t)(b.WriteAddendum(t.Context(), lead, again))
	again.Mutation = newID()
	_, err = b.WriteAddendum(t.Context(), lead, again)
	want(t, err, domain.Conflict)

	issue := practice.IssueAddendum{Mutation: newID(), ID: in.ID, Version: 2}
	_, err = b.IssueAddendum(t.Context(), b.ours.of[domain.Trainee], issue)
	want(t, err, domain.Forbidden)
	_, err = b.IssueAddendum(t.Context(), b.theirs.of[domain.Surveyor], issue)
	want(t, err, domain.NotFound)
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.IssueAddendum(ctx, lead, issue) })
	if n := value[int](b, `select count(*) from mails where kind = 'addendum' and recipient = 'a.ferrant@post.example'`); n != 1 {
		t.Errorf("%d letters to who holds the link, want one", n)
	}

	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	if page.State != "amended" || len(page.Addenda) != 1 || page.Addenda[0].State != "issued" || page.Addenda[0].Number != 1 {
		t.Errorf("state %s, addenda %+v", page.State, page.Addenda)
	}
	if after := must[[]byte](t)(objects.Get(t.Context(), *page.PdfKey, 1<<26)); sha256.Sum256(after) != sha256.Sum256(bytesBefore) || string(page.Content) != string(before.Content) {
		t.Error("the report itself was changed by its addendum")
	}
	again = practice.WriteAddendum{Mutation: newID(), ID: in.ID, Report: w.report, Version: 3, Text: "Something else."}
	_, err = b.WriteAddendum(t.Context(), lead, again)
	want(t, err, domain.Conflict)
	if err := b.asApp(t.Context(), `update addenda set text = 'Something else.' where id = $1`, in.ID); err == nil {
		t.Error("the database let an issued addendum be changed")
	}
	second := practice.WriteAddendum{Mutation: newID(), ID: newID(), Report: w.report, Text: " "}
	must[practice.Done](t)(b.WriteAddendum(t.Context(), lead, second))
	_, err = b.IssueAddendum(t.Context(), lead, practice.IssueAddendum{Mutation: newID(), ID: second.ID, Version: 1})
	want(t, err, domain.Invalid, "text")
}

func TestTheAddendumThatACorrectionAsksForIsWritten(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	b.issued(w)
	b.exec(`insert into addenda (practice_id, id, report_id, number, required_because) values ($1, $2, $3, 1, 'a reading was corrected')`, b.ours.id, newID(), w.report)
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	due := page.Addenda[0]
	must[practice.Done](t)(b.WriteAddendum(t.Context(), lead, practice.WriteAddendum{Mutation: newID(), ID: due.ID, Report: w.report, Version: due.Version, Text: "3/2 reads 21.4."}))
	must[practice.Done](t)(b.IssueAddendum(t.Context(), lead, practice.IssueAddendum{Mutation: newID(), ID: due.ID, Version: due.Version + 1}))
	page = must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	if page.Addenda[0].State != "issued" || page.Addenda[0].RequiredBecause == "" {
		t.Errorf("stands as %+v", page.Addenda[0])
	}
}

// Whoever holds the bytes is told what they are, and what came after; nobody else is
// told anything.
func TestIssuedBytesAreKnownByTheirHash(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	b.issued(w)
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	pdf := must[[]byte](t)(objects.Get(t.Context(), *page.PdfKey, 1<<26))
	known := must[practice.Authentic](t)(b.Authentic(t.Context(), sha256.Sum256(pdf)))
	if known.Number != page.Number || known.State != "issued" || !known.Pdf || known.PracticeName != "North quay surveys" || len(known.Addenda) != 0 {
		t.Errorf("known as %+v", known)
	}
	html := must[[]byte](t)(objects.Get(t.Context(), *page.PageKey, 1<<26))
	if k := must[practice.Authentic](t)(b.Authentic(t.Context(), sha256.Sum256(html))); k.Pdf || k.Number != page.Number {
		t.Errorf("the page is known as %+v", k)
	}
	_, err := b.Authentic(t.Context(), sha256.Sum256(append(pdf, '\n')))
	want(t, err, domain.NotFound)

	id := newID()
	must[practice.Done](t)(b.WriteAddendum(t.Context(), lead, practice.WriteAddendum{Mutation: newID(), ID: id, Report: w.report, Text: "More."}))
	must[practice.Done](t)(b.IssueAddendum(t.Context(), lead, practice.IssueAddendum{Mutation: newID(), ID: id, Version: 1}))
	if k := must[practice.Authentic](t)(b.Authentic(t.Context(), sha256.Sum256(pdf))); k.State != "amended" || len(k.Addenda) != 1 {
		t.Errorf("after an addendum known as %+v", k)
	}
}

func TestAnotherReportTakesTheFirstOnesPlace(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	b.issued(w)
	next := w
	next.report = newID()
	must[practice.Done](t)(b.DraftReport(t.Context(), lead, practice.DraftReport{Mutation: newID(), ID: next.report, Job: w.job, Paper: "A4"}))
	must[practice.Done](t)(b.EditReport(t.Context(), lead, practice.EditReport{Mutation: newID(), ID: next.report, Version: 1, InShort: ptr("Put better.")}))
	old := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	in := practice.ReplaceReport{Mutation: newID(), ID: w.report, Version: old.Version, By: next.report, Because: "Read with the wrong scale."}
	_, err := b.ReplaceReport(t.Context(), lead, in)
	want(t, err, domain.Conflict)
	b.issued(next)
	in.Mutation, in.Because = newID(), " "
	_, err = b.ReplaceReport(t.Context(), lead, in)
	want(t, err, domain.Invalid, "because")
	in.Mutation, in.Because = newID(), "Read with the wrong scale."
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ReplaceReport(ctx, lead, in) })
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	if page.State != "replaced" || page.ReplacedBy == nil || *page.ReplacedBy != next.report || page.EndedBecause != in.Because || page.EndedAt == nil {
		t.Errorf("state %s, by %v, because %q", page.State, page.ReplacedBy, page.EndedBecause)
	}
	if took := must[practice.ReportPage](t)(b.Report(t.Context(), lead, next.report)); len(took.Kin) != 1 || took.Kin[0].ReplacedBy == nil || *took.Kin[0].ReplacedBy != next.report {
		t.Errorf("the one that took its place names %+v", took.Kin)
	}
	if k := must[practice.Authentic](t)(b.Authentic(t.Context(), [32]byte(page.PdfSha256))); k.State != "replaced" || k.ReplacedBy == "" || k.EndedBecause != in.Because {
		t.Errorf("whoever holds the file is told %+v", k)
	}
	for _, sql := range []string{`update reports set ended_because = 'other' where id = $1`, `update reports set state = 'issued', replaced_by = null where id = $1`} {
		if err := b.asApp(t.Context(), sql, w.report); err == nil {
			t.Errorf("went through: %s", sql)
		}
	}
	_, err = b.ReplaceReport(t.Context(), lead, practice.ReplaceReport{Mutation: newID(), ID: next.report, Version: 4, By: next.report, Because: "again"})
	want(t, err, domain.Invalid, "by")
	heron := b.write(b.survey(b.ours, "Heron"), b.party(b.ours, "L. Dunmore"))
	b.issued(heron)
	_, err = b.ReplaceReport(t.Context(), lead, practice.ReplaceReport{Mutation: newID(), ID: next.report, Version: 4, By: heron.report, Because: "again"})
	want(t, err, domain.Invalid, "by")
}
