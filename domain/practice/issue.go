package practice

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render"
)

// JobMakeReport is the kind of the job that makes an issued report's page and PDF.
const JobMakeReport = "report"

// ReportJob is that job's arguments.
type ReportJob struct {
	Practice uuid.UUID `json:"practice"`
	Report   uuid.UUID `json:"report"`
}

// MakeReport makes page and PDF of a frozen report, stores both under the hash of their
// bytes and marks the report issued. It may run again after any fault: the same
// snapshot gives the same bytes, and only the first run's are recorded.
func (s *Service) MakeReport(ctx context.Context, job ReportJob) error {
	r, snap, err := s.store.Snapshot(ctx, job.Practice, job.Report)
	if err != nil {
		return err
	}
	if r.State != "issuing" {
		return nil // an earlier run came to its end
	}
	content, err := report.Decode(snap.Content)
	if err != nil {
		return err
	}
	photo := s.reportPhoto(ctx, job.Practice)
	under := making{service: s, job: job, now: ReportMaking{Step: "page", OfPhotos: int32(len(content.Photos))}}
	under.note(ctx)
	page, err := render.Page(content, render.PageOptions{Photo: under.photo(ctx, photo)})
	if err != nil {
		return fmt.Errorf("make page of report %s: %w", job.Report, err)
	}
	var sheets int
	pdf, err := render.PDF(content, render.Options{Paper: paperOf(r.Paper), Photo: photo, Progress: under.pdf(ctx), Pages: func(n int) { sheets = n }})
	if err != nil {
		return fmt.Errorf("make PDF of report %s: %w", job.Report, err)
	}
	issued := Issued{Report: r.ID, At: content.Issue.At, PDFPages: int32(sheets)}
	if issued.PageKey, issued.PageSHA256, err = s.keep(ctx, job, page, "html", "text/html; charset=utf-8"); err != nil {
		return err
	}
	if issued.PDFKey, issued.PDFSHA256, err = s.keep(ctx, job, pdf, "pdf", "application/pdf"); err != nil {
		return err
	}
	issued.PageBytes, issued.PDFBytes = int64(len(page)), int64(len(pdf))
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.Issue, "makeReport", derived("makeReport", r.ID), job, func(ctx context.Context, tx Tx) (Done, error) {
		if err := tx.InsertIssued(ctx, issued); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID)), tx.SetReportState(ctx, r.ID, "issued", "issuing")
	})
	return err
}

// keep stores bytes under their hash: a retry puts the same bytes at the same key.
func (s *Service) keep(ctx context.Context, job ReportJob, b []byte, ending, contentType string) (key string, sum []byte, err error) {
	hash := sha256.Sum256(b)
	key = fmt.Sprintf("%s/reports/%s/%s.%s", job.Practice, job.Report, hex.EncodeToString(hash[:]), ending)
	return key, hash[:], s.objects.Put(ctx, key, contentType, b)
}

// derived makes the id of a change that the service makes by itself, the same however
// often: the first bytes of a hash in the form of a UUIDv7.
func derived(what string, of uuid.UUID) uuid.UUID {
	hash := sha256.Sum256(append([]byte(what+"|"), of[:]...))
	id := uuid.UUID(hash[:16])
	id[6] = id[6]&0x0f | 0x70
	id[8] = id[8]&0x3f | 0x80
	return id
}

// ReportWithJob reads a report and the job it belongs to.
func (s *Service) ReportWithJob(ctx context.Context, a domain.Actor, id uuid.UUID) (ReportPage, JobLine, error) {
	page, err := s.Report(ctx, a, id)
	if err != nil {
		return page, JobLine{}, err
	}
	job, err := s.store.Job(ctx, a.Practice, page.JobID, s.instant(), sees(a))
	return page, job.JobLine, err
}
