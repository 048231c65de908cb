package practice

import (
	"context"
	"encoding/hex"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Report is a report's row: a draft, then issued and never changed.
type Report struct {
	ID           uuid.UUID
	JobID        uuid.UUID
	Title        string
	State        string // draft, in review, issuing, issued, amended, replaced, withdrawn
	Number       string
	InShort      string // the surveyor's own first words
	Scope        string
	Limits       string
	Paper        string // A4 or Letter
	SignedBy     *uuid.UUID
	SecondLookBy *uuid.UUID
	SecondLookAt *time.Time
	ReplacedBy   *uuid.UUID
	// What ended it, told wherever it is opened: empty while it stands.
	ReplacedByNumber string
	EndedBecause     string
	EndedAt          *time.Time
	EndedByName      string
	CreatedAt        time.Time
	EditedBy         *uuid.UUID // who wrote in it last
	EditedAt         *time.Time
	Version          int32
	VesselID         uuid.UUID
	ClientID         *uuid.UUID
	IssuedAt         *time.Time
	PageKey          *string
	PageSha256       []byte
	PageBytes        *int64
	PdfKey           *string
	PdfSha256        []byte
	PdfBytes         *int64
	PdfPages         *int32
}

// Draft tells whether the report may still be changed.
func (r Report) Draft() bool { return r.State == "draft" || r.State == "in review" }

// ReportPage is a report with its content, what stands in its way, and who may open it.
type ReportPage struct {
	Report
	Content  []byte // a report.Report as JSON: frozen, or as it would be printed now
	InTheWay []Unmet
	LeftOut  int // passes, findings and recommendations that may not be told to this client
	Shares   []Share
	Addenda  []Addendum
	Kin      []Numbered // issued reports of the same boat for the same client
	Traces   []Trace
	Composed
	Members map[uuid.UUID]string // names of those who signed or looked
}

// Numbered is an issued report as another one names it.
type Numbered struct {
	ID         uuid.UUID
	Number     string
	Title      string
	State      string
	IssuedAt   *time.Time
	ReplacedBy *uuid.UUID
	EndedAt    *time.Time
}

// Trace says at which visit something that a report prints was written down.
type Trace struct {
	What  domain.Ref
	Visit uuid.UUID
}

// Snapshot is what was frozen at issue.
type Snapshot struct {
	Content    []byte
	SHA256     []byte
	AuditSeq   int64
	AuditChain []byte
}

// Issued is the bytes that were issued, by key, hash and size.
type Issued struct {
	Report     uuid.UUID
	PageKey    string
	PageSHA256 []byte
	PageBytes  int64
	PDFKey     string
	PDFSHA256  []byte
	PDFBytes   int64
	PDFPages   int32
	At         time.Time
}

// ReportReader reads reports.
type ReportReader interface {
	Report(ctx context.Context, practice, id uuid.UUID, who Sees) (ReportPage, Sources, error)
	Reports(ctx context.Context, practice uuid.UUID, page Page, who Sees) ([]ReportLine, error)
	Snapshot(ctx context.Context, practice, report uuid.UUID) (Report, Snapshot, error)
}

// ReportWriter writes reports.
type ReportWriter interface {
	InsertReport(ctx context.Context, r Report) error
	// ReportSources reads a report with all that it would be built from, holding the report.
	ReportSources(ctx context.Context, id uuid.UUID, who Sees) (Report, Sources, error)
	UpdateReport(ctx context.Context, r Report) error
	NextReportNumber(ctx context.Context, year int) (int, error)
	FreezeReport(ctx context.Context, id uuid.UUID, version int32, number string, signedBy *uuid.UUID) error
	InsertSnapshot(ctx context.Context, report uuid.UUID, s Snapshot, now time.Time) error
	// HoldPassesOfReport holds the passes of a report's vessel until the transaction ends:
	// those that it prints and those that it compares with. It comes before the report
	// itself is held, as with whoever corrects a reading.
	HoldPassesOfReport(ctx context.Context, report uuid.UUID) error
	// FreezePasses freezes the passes that a report prints, and notes those it compares with.
	FreezePasses(ctx context.Context, report uuid.UUID, own, compared []uuid.UUID, now time.Time) error
	IssueRecommendations(ctx context.Context, job uuid.UUID, number string, by *uuid.UUID, now time.Time) error
	InsertIssued(ctx context.Context, i Issued) error
	SetReportState(ctx context.Context, id uuid.UUID, state string, before ...string) error
	WithdrawReport(ctx context.Context, id uuid.UUID, version int32, e Ending) error
	HeadNow(ctx context.Context) (seq int64, chain []byte, err error)
}

// ReportPage reads a report. A draft's content is built from what is kept now.
func (s *Service) Report(ctx context.Context, a domain.Actor, id uuid.UUID) (ReportPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return ReportPage{}, err
	}
	page, sources, err := s.store.Report(ctx, a.Practice, id, sees(a))
	for _, f := range sources.Findings {
		page.Traces = append(page.Traces, Trace{ref(domain.ThingFinding, f.ID), f.VisitID})
	}
	if err == nil && page.gone() {
		page.Content, err = report.Encode(page.tombstone())
	}
	if err != nil || !page.Draft() {
		return page, err
	}
	built, left := assemble(page.Report, sources, report.Issue{Draft: true}, s.instant())
	page.LeftOut = left
	page.InTheWay = inTheWay(page.Report, sources, built)
	page.Composed = composed(page.Report, sources, built)
	if page.Content, err = report.Encode(built); err != nil {
		return page, fmt.Errorf("encode draft: %w", err)
	}
	return page, nil
}

// Reports lists a page of reports, newest first.
func (s *Service) Reports(ctx context.Context, a domain.Actor, page Page) ([]ReportLine, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	return s.store.Reports(ctx, a.Practice, page, sees(a))
}

// DraftReport is a new report of a job.
type DraftReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Job      uuid.UUID
	Title    string
	Paper    string
}

// storedOnly are the kinds of survey whose documents only authorised persons issue:
// they can be stored and never made.
var storedOnly = map[string]bool{"tonnage": true, "code": true}

// DraftReport begins a report of a job, with the sections that the practice's wording
// proposes for its kind.
func (s *Service) DraftReport(ctx context.Context, a domain.Actor, in DraftReport) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "draftReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		job, err := tx.JobOpenTo(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		if storedOnly[job.Kind] {
			return Done{}, domain.Invalidf("job", "Documents of this kind are issued by authorised persons only. Store theirs; none is made here.")
		}
		r := Report{ID: in.ID, JobID: in.Job, Title: in.Title, Paper: in.Paper, CreatedAt: s.instant()}
		if err := tx.InsertReport(ctx, r); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, in.ID), ref(domain.ThingJob, in.Job), ref(domain.ThingVessel, job.VesselID)), proposeSections(ctx, tx, r.ID, job.Kind)
	})
}

// EditReport is a change to a draft; nil leaves a field as it is.
type EditReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Title    *string
	InShort  *string
	Scope    *string
	Limits   *string
	Paper    *string
}

// EditReport changes a draft's own words. A change after the second look asks for another.
func (s *Service) EditReport(ctx context.Context, a domain.Actor, in EditReport) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "editReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r, _, err := draft(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		r.Version, r.EditedBy, r.EditedAt = in.Version, entered(a), &now
		set(&r.Title, in.Title)
		set(&r.InShort, in.InShort)
		set(&r.Scope, in.Scope)
		set(&r.Limits, in.Limits)
		set(&r.Paper, in.Paper)
		r.SecondLookBy, r.SecondLookAt = nil, nil
		return touched(ref(domain.ThingReport, r.ID)), tx.UpdateReport(ctx, r)
	})
}

// TakeSecondLook puts a name under somebody's draft.
type TakeSecondLook struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
}

// TakeSecondLook notes that the actor has looked the draft through. Whoever wrote in it
// last cannot where the practice asks for a second look and somebody else signs, too. The
// only one who signs looks again after a pause: a self-check, printed as such.
func (s *Service) TakeSecondLook(ctx context.Context, a domain.Actor, in TakeSecondLook) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "takeSecondLook", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r, sources, err := draft(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := mayLook(r, sources.Facts, a, now); err != nil {
			return Done{}, err
		}
		r.Version, r.SecondLookBy, r.SecondLookAt = in.Version, entered(a), &now
		done := touched(ref(domain.ThingReport, r.ID)).tell(telling{What: toldLooked, Job: &r.JobID, Members: writerOf(r)})
		return done, tx.UpdateReport(ctx, r)
	})
}

// draft reads a report that may still be changed, holding it.
func draft(ctx context.Context, tx Tx, a domain.Actor, id uuid.UUID) (Report, Sources, error) {
	r, sources, err := tx.ReportSources(ctx, id, sees(a))
	if err != nil {
		return r, sources, err
	}
	if !r.Draft() {
		return r, sources, domain.Conflictf("This report was issued and is never changed. Write an addendum.")
	}
	return r, sources, nil
}

// IssueReport freezes a report.
type IssueReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
}

// IssueReport freezes a report: one transaction takes the snapshot and the number,
// freezes its passes and asks for the job that makes page and PDF. Only then can it be
// shared. The actor's name stands under it. When to look again is proposed with it.
func (s *Service) IssueReport(ctx context.Context, a domain.Actor, in IssueReport) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "issueReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := tx.HoldPassesOfReport(ctx, in.ID); err != nil {
			return Done{}, err
		}
		r, sources, err := draft(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		r.SignedBy = entered(a)
		r.Number, err = s.nextNumber(ctx, tx, sources.Facts.TimeZone, now)
		if err != nil {
			return Done{}, err
		}
		seq, chain, err := tx.HeadNow(ctx)
		if err != nil {
			return Done{}, err
		}
		sources.AuditHead = fmt.Sprintf("%d %s", seq, hex.EncodeToString(chain[:6]))
		built, _ := assemble(r, sources, report.Issue{Number: r.Number, At: now}, now)
		if way := inTheWay(r, sources, built); len(way) > 0 {
			return Done{}, domain.Invalidf(way[0].Code, "%s", way[0].Text)
		}
		content, err := report.Encode(built)
		if err != nil {
			return Done{}, fmt.Errorf("encode report: %w", err)
		}
		if err := freeze(ctx, tx, r, in.Version, Snapshot{Content: content, AuditSeq: seq, AuditChain: chain}, sources, now); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID), ref(domain.ThingVessel, r.VesselID)), s.propose(ctx, tx, r, now)
	})
}

func freeze(ctx context.Context, tx Tx, r Report, version int32, snap Snapshot, sources Sources, now time.Time) error {
	if err := tx.FreezeReport(ctx, r.ID, version, r.Number, r.SignedBy); err != nil {
		return err
	}
	if err := tx.InsertSnapshot(ctx, r.ID, snap, now); err != nil {
		return err
	}
	own, compared := restsOn(r, sources)
	if err := tx.FreezePasses(ctx, r.ID, own, compared, now); err != nil {
		return err
	}
	if err := tx.IssueRecommendations(ctx, r.JobID, r.Number, r.SignedBy, now); err != nil {
		return err
	}
	return tx.Enqueue(ctx, JobMakeReport, ReportJob{Practice: sources.Practice, Report: r.ID}, now)
}

// restsOn lists the passes that a report prints, and the earlier ones that it sets them against.
func restsOn(r Report, src Sources) (own, compared []uuid.UUID) {
	today, earlier, _ := src.History.ofReport(r.JobID, src.Facts.ClientID)
	for _, p := range today {
		own = append(own, p.ID)
	}
	for _, p := range earlier {
		if standing(today[0], p, src.History.Components).Standing.compares() {
			compared = append(compared, p.ID)
		}
	}
	return own, compared
}

// nextNumber takes the next number of the practice's year: 2026-117.
func (s *Service) nextNumber(ctx context.Context, tx Tx, timeZone string, now time.Time) (string, error) {
	where, err := time.LoadLocation(timeZone)
	if err != nil {
		where = time.UTC
	}
	year := now.In(where).Year()
	n, err := tx.NextReportNumber(ctx, year)
	return fmt.Sprintf("%d-%03d", year, n), err
}

// WithdrawReport takes an issued report back.
type WithdrawReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Reason   string
}

// Ending is what ends an issued report: why, who says so and when.
type Ending struct {
	Because string
	By      *uuid.UUID
	At      time.Time
}

// mostBecause is how many letters the reason may have that ends a report.
const mostBecause = 1000

// ending checks the reason that every reader of an ended report is told.
func (s *Service) ending(a domain.Actor, field, reason, missing string) (Ending, error) {
	reason = strings.TrimSpace(reason)
	switch {
	case reason == "":
		return Ending{}, domain.Invalidf(field, "%s", missing)
	case utf8.RuneCountInString(reason) > mostBecause:
		return Ending{}, domain.Invalidf(field, "Keep the reason to %d letters. What needs more belongs into a report or an addendum.", mostBecause)
	}
	return Ending{Because: reason, By: entered(a), At: s.instant()}, nil
}

// WithdrawReport takes an issued report back. It stays readable and says so, and why;
// everybody who holds an open link is told.
func (s *Service) WithdrawReport(ctx context.Context, a domain.Actor, in WithdrawReport) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "withdrawReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		end, err := s.ending(a, "reason", in.Reason, "Say why it is withdrawn.")
		if err != nil {
			return Done{}, err
		}
		r, sources, err := tx.ReportSources(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if r.Version != in.Version {
			return Done{}, domain.Conflictf("Somebody changed this since you opened it. Look at the newer version, then make your change again.")
		}
		if !r.added() {
			return Done{}, domain.Conflictf("Only an issued report is withdrawn. This one is %s.", r.State)
		}
		if err := tx.WithdrawReport(ctx, r.ID, in.Version, end); err != nil {
			return Done{}, err
		}
		subject := fmt.Sprintf("Report %s, %s: withdrawn", r.Number, sources.Facts.Name)
		if err := tellHolders(ctx, tx, r.ID, subject, end.Because+"\n\nDo not rely on it any more.", sources, end.At); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID)), nil
	})
}
