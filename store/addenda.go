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
func (tx *inPractice) ReplaceReport(ctx context.Context, id uuid.UUID, version int32, by uuid.UUID) error {
	return fault("replace report", changed(tx.q.ReplaceReport(ctx, queries.ReplaceReportParams{PracticeID: tx.practice, ID: id, Version: version, ReplacedBy: by})))
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
