package practice_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// The history tells everything that happened to a report, in order, each with who and the
// words or hashes that go with it.
func TestTheFullHistoryOfAReport(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead, other := b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	ctx, done := t.Context(), must[practice.Done](t)
	later := func() { b.clock.pass(time.Minute) }
	version := func() int32 { return must[practice.ReportPage](t)(b.Report(ctx, lead, w.report)).Version }

	later()
	done(b.SendForReview(ctx, lead, practice.SendForReview{Mutation: newID(), ID: w.report, Version: version()}))
	later()
	comment := newID()
	done(b.CommentOnDraft(ctx, other, practice.CommentOnDraft{Mutation: newID(), ID: comment, Report: w.report, Section: "limits", About: "Nothing was bared.", Text: "Say which side."}))
	later()
	done(b.ResolveComment(ctx, lead, practice.ResolveComment{Mutation: newID(), ID: comment}))
	later()
	done(b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: w.report, Version: version(), Limits: ptr("The port side was not reached.")}))
	later()
	done(b.SendForReview(ctx, lead, practice.SendForReview{Mutation: newID(), ID: w.report, Version: version()}))
	later()
	b.issued(w)
	later()
	_, link, err := b.ShareReport(ctx, b.ours.of[domain.Office], practice.ShareReport{
		Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "ferrant@post.example", Until: b.clock.now().AddDate(1, 0, 0),
	})
	if err != nil {
		t.Fatal(err)
	}
	later()
	if _, _, err := b.OpenShare(ctx, link[strings.LastIndexByte(link, '/')+1:], "page"); err != nil {
		t.Fatal(err)
	}
	later()
	adds := newID()
	done(b.WriteAddendum(ctx, lead, practice.WriteAddendum{Mutation: newID(), ID: adds, Report: w.report, Text: "Row 2 was scraped."}))
	done(b.IssueAddendum(ctx, lead, practice.IssueAddendum{Mutation: newID(), ID: adds, Version: 1}))
	if err := b.MakeAddendum(ctx, practice.AddendumJob{Practice: b.ours.id, Addendum: adds}); err != nil {
		t.Fatal(err)
	}
	later()
	done(b.WithdrawReport(ctx, lead, practice.WithdrawReport{Mutation: newID(), ID: w.report, Version: version(), Reason: "Read with the wrong scale."}))

	h := must[practice.ReportHistory](t)(b.ReportHistory(ctx, lead, w.report))
	var kinds []string
	of := map[string]practice.ReportEvent{}
	for _, e := range h.Events {
		kinds = append(kinds, e.Kind)
		of[e.Kind] = e
	}
	if want := []string{"begun", "sent", "comment", "met", "written", "sent", "issued", "shared", "opened", "addendum", "withdrawn"}; !slices.Equal(kinds, want) {
		t.Errorf("in order: %v, want %v", kinds, want)
	}
	if !slices.IsSortedFunc(h.Events, func(x, y practice.ReportEvent) int { return x.At.Compare(y.At) }) {
		t.Error("not in the order in which it happened")
	}
	if e := of["sent"]; len(e.Changes) != 1 || e.Changes[0].Where != "limits" {
		t.Errorf("the second draft differs from the first in %+v, want the limits alone", e.Changes)
	}
	if e := of["comment"]; e.Text != "Say which side." || e.About != "Nothing was bared." || e.By == "" {
		t.Errorf("comment %+v", e)
	}
	page := must[practice.ReportPage](t)(b.Report(ctx, lead, w.report))
	if e := of["issued"]; len(e.Hashes) != 3 || !slices.Equal(e.Hashes[2].SHA256, page.PdfSha256) || !strings.Contains(e.Text, "record of changes") {
		t.Errorf("issue %+v", e)
	}
	if e := of["addendum"]; e.Text != "Row 2 was scraped." || len(e.Hashes) != 2 {
		t.Errorf("addendum %+v", e)
	}
	if of["opened"].By != "A. Ferrant" || of["withdrawn"].Text != "Read with the wrong scale." {
		t.Errorf("opened %+v, withdrawn %+v", of["opened"], of["withdrawn"])
	}
	_, err = b.ReportHistory(ctx, b.theirs.of[domain.Surveyor], w.report)
	want(t, err, domain.NotFound)
}
