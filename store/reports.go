package store

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"reports_paper_known":         {domain.Invalid, "paper", "The paper is A4 or Letter."},
	"reports_stay_as_issued":      {domain.Conflict, "", "This report was issued and is never changed. Write an addendum."},
	"reports_end_once":            {domain.Conflict, "", "What ended this report stays as it was told."},
	"report_snapshots_pkey":       {domain.Conflict, "id", "This report is frozen already."},
	"report_snapshots_hash_holds": {domain.Internal, "", "The snapshot does not fit its hash."},
})

// reportRead is a report on its way, with all that it would be built from.
type reportRead struct {
	p       uuid.UUID
	row     queries.GetReportRow
	history *historyRead
	src     practice.Sources

	facts    *queries.ReportFactsRow
	elements []queries.ElementsOfVesselRow
	layers   []queries.LayersOfVesselRow
	recs     []queries.RecommendationsOfVesselRow
	windows  []queries.WindowsOfJobRow
	findings []queries.FindingsOfJobRow
	photos   []queries.PhotosOfJobRow
	toCome   *queries.PhotosToComeRow
	gaps     []queries.GapsOfJobRow
	entries  []queries.EntriesOfJobRow
	plans    []queries.PlansOfJobRow
	allowed  []queries.PermissionsOfJobRow
	schedule scheduleRead
	examined []queries.ExaminationsOfJobRow
	value    *queries.ValuationOfJobRow
	signer   *queries.MemberNameRow
	second   *queries.MemberNameRow
	shares   []queries.SharesOfReportRow
	addenda  []queries.AddendaOfReportRow
	editor   *queries.MemberNameRow
	sections []queries.SectionsOfReportRow
	comments []queries.CommentsOfReportRow
	sent     *queries.LastDraftRow
	kin      []queries.KinOfReportRow
	snapshot *queries.GetSnapshotRow
}

// queue asks for everything about a report whose row is known.
func (r *reportRead) queue(b *pgx.Batch, who practice.Sees) {
	guest, self, member := whom(who)
	vessel, job := r.row.VesselID, r.row.JobID
	r.history = historyInto(&r.src.History, r.p, vessel, who)
	r.history.queue(b)
	one(b, &r.facts, queries.ReportFacts, r.p, job)
	many(b, &r.elements, queries.ElementsOfVessel, r.p, vessel)
	many(b, &r.layers, queries.LayersOfVessel, r.p, vessel)
	many(b, &r.recs, queries.RecommendationsOfVessel, r.p, vessel, guest, self, member)
	many(b, &r.windows, queries.WindowsOfJob, r.p, job)
	many(b, &r.findings, queries.FindingsOfJob, r.p, job)
	many(b, &r.photos, queries.PhotosOfJob, r.p, job)
	one(b, &r.toCome, queries.PhotosToCome, r.p, job)
	many(b, &r.gaps, queries.GapsOfJob, r.p, job)
	many(b, &r.entries, queries.EntriesOfJob, r.p, job)
	many(b, &r.plans, queries.PlansOfJob, r.p, job)
	many(b, &r.allowed, queries.PermissionsOfJob, r.p, job)
	r.schedule.queue(b, r.p)
	many(b, &r.examined, queries.ExaminationsOfJob, r.p, job)
	one(b, &r.value, queries.ValuationOfJob, r.p, job)
	signer := member
	if r.row.SignedBy != nil {
		signer = *r.row.SignedBy
	}
	one(b, &r.signer, queries.MemberName, r.p, signer)
	if r.row.SecondLookBy != nil {
		one(b, &r.second, queries.MemberName, r.p, *r.row.SecondLookBy)
	}
	if r.row.EditedBy != nil {
		one(b, &r.editor, queries.MemberName, r.p, *r.row.EditedBy)
	}
	many(b, &r.sections, queries.SectionsOfReport, r.p, r.row.ID)
	many(b, &r.comments, queries.CommentsOfReport, r.p, r.row.ID)
	one(b, &r.sent, queries.LastDraft, r.p, r.row.ID)
	many(b, &r.shares, queries.SharesOfReport, r.p, r.row.ID)
	many(b, &r.addenda, queries.AddendaOfReport, r.p, r.row.ID)
	one(b, &r.snapshot, queries.GetSnapshot, r.p, r.row.ID)
	if r.row.Number != "" {
		many(b, &r.kin, queries.KinOfReport, r.p, r.row.ID, guest, self, member)
	}
}

func (r *reportRead) sources() (practice.Sources, error) {
	if r.facts == nil {
		return r.src, domain.ErrNotFound
	}
	if err := r.history.finish(); err != nil {
		return r.src, err
	}
	practice.Judge(&r.src.History)
	r.src.Practice, r.src.Facts = r.p, practice.ReportFacts(*r.facts)
	r.src.Elements = convert(r.elements, func(x queries.ElementsOfVesselRow) practice.Element { return practice.Element(x) })
	r.src.Layers = convert(r.layers, func(x queries.LayersOfVesselRow) practice.Layer { return practice.Layer(x) })
	r.src.Recommendations = convert(r.recs, func(x queries.RecommendationsOfVesselRow) practice.Recommendation { return practice.Recommendation(x) })
	r.src.Windows = convert(r.windows, func(x queries.WindowsOfJobRow) practice.Bared { return practice.Bared(x) })
	r.src.Findings = convert(r.findings, func(x queries.FindingsOfJobRow) practice.Found { return practice.Found(x) })
	r.src.Photos = convert(r.photos, func(x queries.PhotosOfJobRow) practice.Printed { return practice.Printed(x) })
	if r.toCome != nil {
		r.src.PhotosToCome, r.src.PhotosNever = int(r.toCome.Waiting), int(r.toCome.Never)
	}
	r.src.Gaps = convert(r.gaps, func(x queries.GapsOfJobRow) practice.GapAt { return practice.GapAt(x) })
	r.src.Entries = convert(r.entries, func(x queries.EntriesOfJobRow) practice.EntryAt { return practice.EntryAt(x) })
	r.src.Plans = convert(r.plans, func(x queries.PlansOfJobRow) practice.PlanAt { return practice.PlanAt(x) })
	r.src.Permissions = convert(r.allowed, permissionFrom(r.row.JobID))
	r.src.Schedule, r.src.Examinations, r.src.Valuation = r.schedule.schedule(), convert(r.examined, examinationFrom), valuationFrom(r.value)
	if r.signer != nil {
		r.src.Signer, r.src.SignerAs = r.signer.Name, r.signer.Qualification
	}
	if r.second != nil {
		r.src.SecondLook = r.second.Name
	}
	if r.editor != nil {
		r.src.Editor = r.editor.Name
	}
	r.src.Sections = convert(r.sections, func(x queries.SectionsOfReportRow) practice.ReportSection { return practice.ReportSection(x) })
	r.src.Comments = convert(r.comments, func(x queries.CommentsOfReportRow) practice.Comment { return practice.Comment(x) })
	if r.sent != nil {
		r.src.Sent = (*practice.SentDraft)(r.sent)
	}
	return r.src, nil
}

// Report implements practice.ReportReader: the row first, since it names job and vessel,
// then everything else in one trip.
func (s *Store) Report(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.ReportPage, practice.Sources, error) {
	var row *queries.GetReportRow
	guest, self, member := whom(who)
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetReport, p, id, guest, self, member) }); err != nil {
		return practice.ReportPage{}, practice.Sources{}, err
	}
	if row == nil {
		return practice.ReportPage{}, practice.Sources{}, domain.ErrNotFound
	}
	read := &reportRead{p: p, row: *row}
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { read.queue(b, who) }); err != nil {
		return practice.ReportPage{}, practice.Sources{}, err
	}
	src, err := read.sources()
	page := practice.ReportPage{Report: practice.Report(*row), Members: map[uuid.UUID]string{}}
	if row.SignedBy != nil && read.signer != nil {
		page.Members[*row.SignedBy] = read.signer.Name
	}
	if row.SecondLookBy != nil && read.second != nil {
		page.Members[*row.SecondLookBy] = read.second.Name
	}
	if row.EditedBy != nil && read.editor != nil {
		page.Members[*row.EditedBy] = read.editor.Name
	}
	page.Shares = convert(read.shares, func(x queries.SharesOfReportRow) practice.Share { return practice.Share(x) })
	page.Addenda = convert(read.addenda, func(x queries.AddendaOfReportRow) practice.Addendum { return practice.Addendum(x) })
	page.Kin = convert(read.kin, func(x queries.KinOfReportRow) practice.Numbered { return practice.Numbered(x) })
	if read.snapshot != nil {
		page.Content = read.snapshot.Content
	}
	return page, src, err
}

// Reports implements practice.ReportReader. A page's cursor text is the time it was made.
func (s *Store) Reports(ctx context.Context, p uuid.UUID, page practice.Page, who practice.Sees) ([]practice.ReportLine, error) {
	after := time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	if page.AfterText != "" {
		at, err := time.Parse(time.RFC3339Nano, page.AfterText)
		if err != nil {
			return nil, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
		}
		after = at
	}
	guest, self, member := whom(who)
	var rows []queries.ReportLinesRow
	var vessels []queries.GetVesselLineRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.ReportLines, p, nil, after, page.AfterID, guest, self, member, int32(page.First+1))
		many(b, &vessels, queries.VesselLinesOfReports, p, after, page.AfterID, guest, self, member, int32(page.First+1))
	})
	if err != nil {
		return nil, err
	}
	boats := make(map[uuid.UUID]practice.VesselLine, len(vessels))
	for _, v := range vessels {
		boats[v.ID] = vesselLineFrom(v)
	}
	return convert(rows, func(r queries.ReportLinesRow) practice.ReportLine {
		line := practice.ReportLine{
			ID: r.ID, Title: r.Title, State: r.State, JobID: r.JobID, JobNumber: r.JobNumber, CreatedAt: r.CreatedAt, IssuedAt: r.IssuedAt, Vessel: boats[r.VesselID],
		}
		if r.Number != "" {
			line.Number = &r.Number
		}
		return line
	}), nil
}

// Snapshot implements practice.ReportReader, for the job that makes page and PDF.
func (s *Store) Snapshot(ctx context.Context, p, id uuid.UUID) (practice.Report, practice.Snapshot, error) {
	var row *queries.GetReportRow
	var snap *queries.GetSnapshotRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetReport, p, id, false, true, uuid.Nil)
		one(b, &snap, queries.GetSnapshot, p, id)
	})
	if err == nil && (row == nil || snap == nil) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Report{}, practice.Snapshot{}, err
	}
	return practice.Report(*row), practice.Snapshot{Content: snap.Content, SHA256: snap.Sha256, AuditSeq: snap.AuditSeq, AuditChain: snap.AuditChain}, nil
}

// InsertReport implements practice.ReportWriter.
func (tx *inPractice) InsertReport(ctx context.Context, r practice.Report) error {
	return fault("insert report", tx.q.InsertReport(ctx, queries.InsertReportParams{
		PracticeID: tx.practice, ID: r.ID, JobID: r.JobID, Title: r.Title, Paper: r.Paper, Now: r.CreatedAt,
	}))
}

// ReportSources implements practice.ReportWriter.
func (tx *inPractice) ReportSources(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Report, practice.Sources, error) {
	_, err := tx.q.LockReport(ctx, queries.LockReportParams{PracticeID: tx.practice, ID: id})
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return practice.Report{}, practice.Sources{}, fault("lock report", err)
	}
	row, err := found(tx.q.GetReport(ctx, queries.GetReportParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	if err != nil {
		return practice.Report{}, practice.Sources{}, fault("read report", err)
	}
	read := &reportRead{p: tx.practice, row: row}
	b := &pgx.Batch{}
	read.queue(b, who)
	if err := tx.tx.SendBatch(ctx, b).Close(); err != nil {
		return practice.Report{}, practice.Sources{}, fault("read report's sources", err)
	}
	src, err := read.sources()
	return practice.Report(row), src, err
}

// UpdateReport implements practice.ReportWriter.
func (tx *inPractice) UpdateReport(ctx context.Context, r practice.Report) error {
	return fault("update report", changed(tx.q.UpdateReport(ctx, queries.UpdateReportParams{
		PracticeID: tx.practice, ID: r.ID, Version: r.Version, Title: r.Title, InShort: r.InShort, Scope: r.Scope, Limits: r.Limits, Paper: r.Paper,
		SecondLookBy: r.SecondLookBy, SecondLookAt: r.SecondLookAt, EditedBy: r.EditedBy, EditedAt: r.EditedAt, State: r.State,
	})))
}

// HoldPassesOfReport implements practice.ReportWriter.
func (tx *inPractice) HoldPassesOfReport(ctx context.Context, report uuid.UUID) error {
	return fault("hold report's passes", tx.q.HoldPassesOfReport(ctx, queries.HoldPassesOfReportParams{PracticeID: tx.practice, ReportID: report}))
}

// NextReportNumber implements practice.ReportWriter: without gaps, since the counter
// rolls back with the transaction that took the number.
func (tx *inPractice) NextReportNumber(ctx context.Context, year int) (int, error) {
	n, err := tx.q.NextReportNumber(ctx, queries.NextReportNumberParams{PracticeID: tx.practice, Year: int32(year)})
	return int(n), fault("take report number", err)
}

// FreezeReport implements practice.ReportWriter.
func (tx *inPractice) FreezeReport(ctx context.Context, id uuid.UUID, version int32, number string, signedBy *uuid.UUID) error {
	return fault("freeze report", changed(tx.q.FreezeReport(ctx, queries.FreezeReportParams{
		PracticeID: tx.practice, ID: id, Version: version, Number: number, SignedBy: signedBy,
	})))
}

// InsertSnapshot implements practice.ReportWriter.
func (tx *inPractice) InsertSnapshot(ctx context.Context, report uuid.UUID, s practice.Snapshot, now time.Time) error {
	return fault("insert snapshot", tx.q.InsertSnapshot(ctx, queries.InsertSnapshotParams{
		PracticeID: tx.practice, ReportID: report, Content: s.Content, Sha256: sum(s.Content), AuditSeq: s.AuditSeq, AuditChain: s.AuditChain, Now: now,
	}))
}

// FreezePasses implements practice.ReportWriter.
func (tx *inPractice) FreezePasses(ctx context.Context, report uuid.UUID, own, compared []uuid.UUID, now time.Time) error {
	if err := tx.q.FreezePasses(ctx, queries.FreezePassesParams{PracticeID: tx.practice, Ids: own, Now: now}); err != nil {
		return fault("freeze passes", err)
	}
	return fault("note report's passes", tx.q.InsertReportPasses(ctx, queries.InsertReportPassesParams{PracticeID: tx.practice, ReportID: report, Own: own, Compared: compared}))
}

// IssueRecommendations implements practice.ReportWriter.
func (tx *inPractice) IssueRecommendations(ctx context.Context, job uuid.UUID, number string, by *uuid.UUID, now time.Time) error {
	return fault("issue recommendations", tx.q.IssueRecommendations(ctx, queries.IssueRecommendationsParams{
		PracticeID: tx.practice, JobID: job, Number: number, ByID: by, Now: now,
	}))
}

// InsertIssued implements practice.ReportWriter: the first run's bytes stay.
func (tx *inPractice) InsertIssued(ctx context.Context, i practice.Issued) error {
	_, err := tx.q.InsertReportIssue(ctx, queries.InsertReportIssueParams{
		PracticeID: tx.practice, ReportID: i.Report, PageKey: i.PageKey, PageSha256: i.PageSHA256, PageBytes: i.PageBytes,
		PdfKey: i.PDFKey, PdfSha256: i.PDFSHA256, PdfBytes: i.PDFBytes, PdfPages: i.PDFPages, IssuedAt: i.At,
	})
	return fault("insert issue", err)
}

// SetReportState implements practice.ReportWriter.
func (tx *inPractice) SetReportState(ctx context.Context, id uuid.UUID, state string, before ...string) error {
	return fault("set report state", changed(tx.q.SetReportState(ctx, queries.SetReportStateParams{PracticeID: tx.practice, ID: id, State: state, Before: before})))
}

// WithdrawReport implements practice.ReportWriter.
func (tx *inPractice) WithdrawReport(ctx context.Context, id uuid.UUID, version int32, e practice.Ending) error {
	return fault("withdraw report", changed(tx.q.WithdrawReport(ctx, queries.WithdrawReportParams{
		PracticeID: tx.practice, ID: id, Version: version, Because: e.Because, ByID: e.By, Now: e.At,
	})))
}

// HeadNow implements practice.ReportWriter.
func (tx *inPractice) HeadNow(ctx context.Context) (int64, []byte, error) {
	row, err := tx.q.Head(ctx, tx.practice)
	return row.Seq, row.Chain, fault("read head", err)
}
