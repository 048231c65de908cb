package store

import (
	"context"
	"crypto/sha256"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"addenda_pkey":           {domain.Conflict, "id", "An addendum with this id is kept already."},
	"addenda_stay_as_issued": {domain.Conflict, "", "This addendum was issued and is never changed. Write another."},
})

// Addendum implements practice.AddendumWriter.
func (tx *inPractice) Addendum(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.HeldAddendum, error) {
	guest, self, member := whom(who)
	a, err := found(tx.q.LockAddendum(ctx, queries.LockAddendumParams{PracticeID: tx.practice, ID: id, Guest: guest, Self: self, Member: member}))
	return practice.HeldAddendum(a), fault("read addendum", err)
}

// InsertAddendum implements practice.AddendumWriter.
func (tx *inPractice) InsertAddendum(ctx context.Context, id, report uuid.UUID, text string) error {
	return fault("insert addendum", tx.q.InsertAddendum(ctx, queries.InsertAddendumParams{PracticeID: tx.practice, ID: id, ReportID: report, Text: text}))
}

// UpdateAddendum implements practice.AddendumWriter.
func (tx *inPractice) UpdateAddendum(ctx context.Context, id uuid.UUID, version int32, text string) error {
	return fault("update addendum", changed(tx.q.UpdateAddendum(ctx, queries.UpdateAddendumParams{PracticeID: tx.practice, ID: id, Version: version, Text: text})))
}

// IssueAddendum implements practice.AddendumWriter.
func (tx *inPractice) IssueAddendum(ctx context.Context, id uuid.UUID, version int32, by *uuid.UUID, chain string, now time.Time) error {
	return fault("issue addendum", changed(tx.q.IssueAddendum(ctx, queries.IssueAddendumParams{
		PracticeID: tx.practice, ID: id, Version: version, IssuedBy: by, Chain: chain, Now: &now,
	})))
}

// ReplaceReport implements practice.AddendumWriter.
func (tx *inPractice) ReplaceReport(ctx context.Context, id uuid.UUID, version int32, by uuid.UUID, e practice.Ending) error {
	return fault("replace report", changed(tx.q.ReplaceReport(ctx, queries.ReplaceReportParams{
		PracticeID: tx.practice, ID: id, Version: version, ReplacedBy: by, Because: e.Because, ByID: e.By, Now: e.At,
	})))
}

// InsertAddendumIssue implements practice.AddendumWriter.
func (tx *inPractice) InsertAddendumIssue(ctx context.Context, addendum uuid.UUID, f practice.AddendumFile, content []byte) error {
	_, err := tx.q.InsertAddendumIssue(ctx, queries.InsertAddendumIssueParams{
		PracticeID: tx.practice, AddendumID: addendum, PageKey: f.PageKey, PageSha256: f.PageSHA256, PageBytes: f.PageBytes,
		PdfKey: f.Key, PdfSha256: f.SHA256, PdfBytes: f.Bytes, PdfPages: f.Pages, Content: content, IssuedAt: f.IssuedAt,
	})
	return fault("insert addendum's file", err)
}

// AddendumToMake implements practice.AddendumReader.
func (s *Store) AddendumToMake(ctx context.Context, p, id uuid.UUID) (practice.AddendumToMake, error) {
	var row *queries.AddendumToMakeRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.AddendumToMake, p, id) })
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.AddendumToMake{}, err
	}
	return practice.AddendumToMake(*row), nil
}

// AddendumFile implements practice.AddendumReader.
func (s *Store) AddendumFile(ctx context.Context, p, report uuid.UUID, number int32, who practice.Sees) (practice.AddendumFile, error) {
	var row *queries.AddendumFileRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.AddendumFile, p, report, number, guest, self, member) })
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.AddendumFile{}, err
	}
	file := practice.AddendumFile{Number: row.Number, ReportNumber: row.ReportNumber, PageSHA256: row.PageSha256, Key: row.PdfKey, SHA256: row.PdfSha256, IssuedAt: row.IssuedAt}
	if row.PageKey != nil {
		file.PageKey = *row.PageKey
	}
	return file, nil
}

// OpenShares implements practice.AddendumWriter.
func (tx *inPractice) OpenShares(ctx context.Context, report uuid.UUID, now time.Time) ([]practice.Recipient, error) {
	rows, err := tx.q.OpenShares(ctx, queries.OpenSharesParams{PracticeID: tx.practice, ReportID: report, Now: now})
	return convert(rows, func(r queries.OpenSharesRow) practice.Recipient { return practice.Recipient(r) }), fault("read shares", err)
}

// ReportByHash implements practice.AuthenticReader, through the door: no practice is
// known yet.
func (s *Store) ReportByHash(ctx context.Context, hash [sha256.Size]byte) (uuid.UUID, uuid.UUID, error) {
	type ids struct{ Practice, Report uuid.UUID }
	at, err := call[ids](ctx, s.Door(), "find report by its hash", `select practice_id, report_id from door.report_by_hash($1)`, hash[:])
	return at.Practice, at.Report, err
}

// Authentic implements practice.AuthenticReader.
func (s *Store) Authentic(ctx context.Context, p, report uuid.UUID, hash [sha256.Size]byte) (practice.Authentic, error) {
	var row *queries.IssuedByHashRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.IssuedByHash, hash[:], p, report) }); err != nil {
		return practice.Authentic{}, err
	}
	if row == nil {
		return practice.Authentic{}, domain.ErrNotFound
	}
	return practice.Authentic(*row), nil
}
