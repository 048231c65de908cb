package practice_test

import (
	"context"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// Tonnage, class and code documents are an authorised person's.
func TestAnAuthorisedPersonsPaperIsKeptAndNeverMade(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	office := b.ours.of[domain.Office]
	in := newJob(b.vessel(b.ours, "Petrel"))
	in.Kind = "tonnage"
	must[practice.Done](t)(b.AddJob(t.Context(), office, in))
	waits := func() int {
		return len(must[practice.JobPage](t)(b.Job(t.Context(), office, in.ID)).Stands)
	}
	if n := waits(); n != 1 {
		t.Fatalf("%d stand in the way, want the paper alone", n)
	}
	_, err := b.DraftReport(t.Context(), b.ours.of[domain.Surveyor], practice.DraftReport{Mutation: newID(), ID: newID(), Job: in.ID, Title: "Tonnage", Paper: "A4"})
	if err == nil {
		t.Error("a report of tonnage was begun")
	}
	paper := practice.AddPaper{
		Mutation: newID(), ID: newID(), Job: in.ID, Upload: b.uploaded(office, "document", "application/pdf", []byte("%PDF-1.7 as it came")), Kind: "tonnage",
		Title: "Certificate of tonnage", IssuedBy: "north quay surveys", IssuedOn: at(3),
	}
	add := func(change func(*practice.AddPaper)) error {
		p := paper
		p.Mutation = newID()
		change(&p)
		_, err := b.AddPaper(t.Context(), office, p)
		return err
	}
	want(t, add(func(*practice.AddPaper) {}), domain.Invalid, "issuedBy") // the practice itself
	want(t, add(func(p *practice.AddPaper) { p.IssuedBy = " " }), domain.Invalid, "issuedBy")
	want(t, add(func(p *practice.AddPaper) { p.IssuedBy, p.Kind = "The registry", "seaworthiness" }), domain.Invalid, "kind")
	want(t, add(func(p *practice.AddPaper) { p.IssuedBy, p.EndsOn = "The registry", at(1) }), domain.Invalid, "endsOn")
	paper.IssuedBy = "The registry's measurer"
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddPaper(ctx, office, paper) })
	want(t, add(func(p *practice.AddPaper) { p.ID = newID() }), domain.Conflict, "upload")
	j := must[practice.JobPage](t)(b.Job(t.Context(), office, in.ID))
	if len(j.Papers) != 1 || j.Papers[0].Title != "Certificate of tonnage" || j.Papers[0].File == "" || len(j.Stands) != 0 {
		t.Errorf("kept: %+v, stands %+v", j.Papers, j.Stands)
	}
}
