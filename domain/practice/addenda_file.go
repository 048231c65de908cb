package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render"
)

// JobMakeAddendum is the kind of the job that makes an issued addendum's file.
const JobMakeAddendum = "addendum"

// AddendumJob is that job's arguments.
type AddendumJob struct {
	Practice uuid.UUID `json:"practice"`
	Addendum uuid.UUID `json:"addendum"`
}

// AddendumToMake is an issued addendum with the report it adds to.
type AddendumToMake struct {
	ID              uuid.UUID
	ReportID        uuid.UUID
	Number          int32
	Text            string
	RequiredBecause string
	Chain           string
	IssuedAt        *time.Time
	Signer          string
	SignerAs        string
	Content         []byte // of the report, as frozen
	Paper           string
	TimeZone        string
	Made            bool
}

// AddendumFile is an addendum's page and PDF: where they are, and what they must be.
type AddendumFile struct {
	Number       int32
	ReportNumber string
	PageKey      string // empty where only a PDF was made
	PageSHA256   []byte
	PageBytes    int64
	Key          string // of the PDF
	SHA256       []byte
	IssuedAt     time.Time
	Bytes        int64
	Pages        int32
}

// AddendumReader reads addenda for their files.
type AddendumReader interface {
	AddendumToMake(ctx context.Context, practice, id uuid.UUID) (AddendumToMake, error)
	AddendumFile(ctx context.Context, practice, report uuid.UUID, number int32, who Sees) (AddendumFile, error)
}

// MakeAddendum makes page and PDF of an issued addendum from the report's frozen snapshot
// and the addendum's words. It may run again: the same words give the same bytes, and only
// the first run's are recorded.
func (s *Service) MakeAddendum(ctx context.Context, job AddendumJob) error {
	a, err := s.store.AddendumToMake(ctx, job.Practice, job.Addendum)
	if err != nil || a.Made {
		return err
	}
	of, err := report.Decode(a.Content)
	if err != nil {
		return err
	}
	built := a.build(of)
	content, err := report.Encode(built)
	if err != nil {
		return fmt.Errorf("encode addendum: %w", err)
	}
	// The report's page lies two steps up wherever the addendum's is opened.
	page, err := render.Page(built, render.PageOptions{Report: "../../report.html"})
	if err != nil {
		return fmt.Errorf("make page of addendum %s: %w", a.ID, err)
	}
	var sheets int
	pdf, err := render.PDF(built, render.Options{Paper: paperOf(a.Paper), Pages: func(n int) { sheets = n }})
	if err != nil {
		return fmt.Errorf("make PDF of addendum %s: %w", a.ID, err)
	}
	file := AddendumFile{IssuedAt: built.Issue.At, PageBytes: int64(len(page)), Bytes: int64(len(pdf)), Pages: int32(sheets)}
	under := ReportJob{Practice: job.Practice, Report: a.ReportID}
	if file.PageKey, file.PageSHA256, err = s.keep(ctx, under, page, "html", "text/html; charset=utf-8"); err != nil {
		return err
	}
	if file.Key, file.SHA256, err = s.keep(ctx, under, pdf, "pdf", "application/pdf"); err != nil {
		return err
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.Issue, "makeAddendum", derived("makeAddendum", a.ID), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingAddendum, a.ID), ref(domain.ThingReport, a.ReportID)), tx.InsertAddendumIssue(ctx, a.ID, file, content)
	})
	return err
}

// build makes the addendum as data: it names the report it adds to, and says nothing of
// that again but whom and what it is about.
func (a AddendumToMake) build(of report.Report) report.Report {
	where, err := time.LoadLocation(a.TimeZone)
	if err != nil {
		where = time.UTC
	}
	at := a.IssuedAt.UTC().Truncate(time.Second)
	return report.Report{
		Format: report.Format, GeneratedAt: at,
		Issue: report.Issue{
			Number: of.Issue.Number, On: report.Day(at, where), At: at, AddendumTo: of.Issue.Number, Addendum: int(a.Number), Because: sentenceOf(a.RequiredBecause),
		},
		Practice: of.Practice, Client: of.Client, Vessel: of.Vessel, Kind: of.Kind,
		Sections:  []report.Section{{Title: "What is added", Text: lines(a.Text)}},
		Signature: &report.Signature{Name: a.Signer, As: orElse(a.SignerAs, "surveyor")},
		AuditHead: a.Chain, Invented: of.Invented,
	}
}

// sentenceOf ends a reason as sentences end.
func sentenceOf(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}

// AddendumFile tells where an addendum's file is, for a member who may see its job.
func (s *Service) AddendumFile(ctx context.Context, a domain.Actor, report uuid.UUID, number int32) (AddendumFile, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return AddendumFile{}, err
	}
	return s.store.AddendumFile(ctx, a.Practice, report, number, sees(a))
}
