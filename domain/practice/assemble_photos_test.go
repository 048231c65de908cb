package practice_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render"
	"boottop.example/practice/store"
)

// pinned puts a photo on the visit of a survey, at a place, and has its copies made.
func (b *bundle) pinned(w written, caption string, size int) uuid.UUID {
	b.t.Helper()
	lead := b.ours.of[domain.Surveyor]
	in := practice.AddPhoto{
		Mutation: newID(), ID: newID(), Upload: b.uploaded(lead, "photo", "image/jpeg", photo(b.t, size, size/2)),
		Vessel: w.vessel, Visit: &w.visit, Place: &w.places[2], Caption: caption, TakenAt: ptr(b.clock.now()),
	}
	must[practice.Done](b.t)(b.AddPhoto(b.t.Context(), lead, in))
	if err := b.MakePhoto(b.t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: in.ID}); err != nil {
		b.t.Fatal(err)
	}
	return in.ID
}

// slow passes time with every picture that is read, so that a person would look meanwhile.
type slow struct {
	*store.Objects
	read func(key string)
}

func (s slow) Get(ctx context.Context, key string, most int64) ([]byte, error) {
	s.read(key)
	return s.Objects.Get(ctx, key, most)
}

func TestHowFarTheMakingOfAReportHasGotIsToldInNumbers(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	b.pinned(w, "weep below the log", 300)
	b.pinned(w, "the same from further off", 300)
	_, err := b.Making(t.Context(), lead, w.report)
	want(t, err, domain.NotFound)
	var seen []practice.ReportMaking
	b.Service = practice.New(b.store, practice.WithClock(b.clock.now), practice.WithObjects(slow{objects, func(string) {
		b.clock.pass(time.Second)
		seen = append(seen, must[practice.ReportMaking](t)(b.Making(t.Context(), lead, w.report)))
	}}))
	b.issued(w)
	if len(seen) != 4 {
		t.Fatalf("two photos were read %d times for page and PDF", len(seen))
	}
	if m := seen[0]; m.Step != "page" || m.Photos != 0 || m.OfPhotos != 2 || m.Made {
		t.Errorf("at first %+v", m)
	}
	if m := seen[1]; m.Step != "page" || m.Photos != 1 {
		t.Errorf("after a photo of the page %+v", m)
	}
	if m := seen[3]; m.Step != "PDF" || m.Photos != 1 || m.OfPhotos != 2 || m.Parts == 0 || m.Parts >= m.OfParts || m.Pages == 0 {
		t.Errorf("after a photo of the PDF %+v", m)
	}
	if m := must[practice.ReportMaking](t)(b.Making(t.Context(), lead, w.report)); !m.Made {
		t.Errorf("at last %+v", m)
	}
	_, err = b.Making(t.Context(), b.theirs.of[domain.Principal], w.report)
	want(t, err, domain.NotFound)
}

func TestAReportPrintsThePhotosOfItsJob(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	shown, kept := b.pinned(w, "weep below the log", 2400), b.pinned(w, "the trailer", 60)
	edit := practice.EditPhoto{Mutation: newID(), ID: kept, Version: 1, Printed: ptr(false)}
	must[practice.Done](t)(b.EditPhoto(t.Context(), lead, edit))
	b.issued(w)

	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	content := must[report.Report](t)(report.Decode(page.Content))
	if len(content.Photos) != 1 {
		t.Fatalf("%d photos printed, want the one that was not left out", len(content.Photos))
	}
	p := content.Photos[0]
	if p.ID != "pho_"+shown.String() || p.Number != 1 || p.Caption != "weep below the log" || p.Width != 2000 || p.Height != 1000 || p.Place == "" || p.At == nil {
		t.Errorf("printed as %+v", p)
	}
	copied := must[[]byte](t)(objects.Get(t.Context(), value[string](b, `select view_key from photos where id = $1`, shown), 1<<24))
	if sum := sha256.Sum256(copied); hex.EncodeToString(sum[:]) != p.SHA256 {
		t.Error("the hash in the report is not that of the copy")
	}
	if taken := value[[]byte](b, `select u.sha256 from photos p join uploads u on u.id = p.upload_id where p.id = $1`, shown); hex.EncodeToString(taken) != p.Original {
		t.Error("the report does not tell the hash of the file as taken")
	}
	if *page.PdfBytes < int64(len(copied)) {
		t.Errorf("a PDF of %d bytes cannot hold a picture of %d", *page.PdfBytes, len(copied))
	}
}

// A picture that does not fit the hash in the frozen report is never printed for it.
func TestAnotherPictureIsNotPrinted(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	mine, other := b.pinned(w, "weep", 80), b.pinned(w, "another", 90)
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	must[practice.Done](t)(b.IssueReport(t.Context(), lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version}))
	b.exec(`update photos set view_key = (select view_key from photos where id = $2) where id = $1`, mine, other)
	err := b.MakeReport(t.Context(), practice.ReportJob{Practice: b.ours.id, Report: w.report})
	if !errors.Is(err, render.ErrPhoto) {
		t.Errorf("made with %v, want %v", err, render.ErrPhoto)
	}
	if state := value[string](b, `select state from reports where id = $1`, w.report); state != "issuing" {
		t.Errorf("the report is %s", state)
	}
}

func TestAPhotoStillBeingMadeStandsInTheWay(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: b.uploaded(lead, "photo", "image/jpeg", photo(t, 40, 30)), Vessel: w.vessel, Visit: &w.visit}
	must[practice.Done](t)(b.AddPhoto(t.Context(), lead, in))
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	_, err := b.IssueReport(t.Context(), lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version})
	want(t, err, domain.Invalid, "photos")
	edit := practice.EditPhoto{Mutation: newID(), ID: in.ID, Version: 1, Printed: ptr(false)}
	must[practice.Done](t)(b.EditPhoto(t.Context(), lead, edit))
	b.issued(w)
}

func TestWhatIsSaidOfAPhotoIsEdited(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	id := b.pinned(w, "weep", 80)
	// Opened before its copies were made: a job is nobody who changed it.
	in := practice.EditPhoto{Mutation: newID(), ID: id, Version: 1, Caption: ptr("weep at the log"), Alt: ptr("A brown streak below a fitting"), Place: &w.places[4]}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditPhoto(ctx, lead, in) })
	p := must[practice.Photo](t)(b.Photo(t.Context(), lead, id))
	if p.Caption != "weep at the log" || p.Alt == "" || !p.Printed || p.Version != 2 {
		t.Errorf("kept as %+v", p)
	}
	stale := in
	stale.Mutation = newID()
	_, err := b.EditPhoto(t.Context(), lead, stale)
	want(t, err, domain.Conflict)
	_, err = b.EditPhoto(t.Context(), b.theirs.of[domain.Surveyor], stale)
	want(t, err, domain.NotFound)
	elsewhere := b.survey(b.ours, "Heron")
	in = practice.EditPhoto{Mutation: newID(), ID: id, Version: 2, Place: &elsewhere.places[0]}
	_, err = b.EditPhoto(t.Context(), lead, in)
	want(t, err, domain.Invalid, "place")
}
