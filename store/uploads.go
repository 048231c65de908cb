package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"uploads_purpose_known": {domain.Invalid, "purpose", "A file is a photo, readings or a document."},
	"uploads_pkey":          {domain.Conflict, "id", "An upload with this id is kept already."},
	"imports_pkey":          {domain.Conflict, "id", "An import with this id is kept already."},
})

// Upload implements practice.UploadReader.
func (s *Store) Upload(ctx context.Context, p, id uuid.UUID) (practice.Upload, error) {
	var row *queries.GetUploadRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetUpload, p, id) }); err != nil {
		return practice.Upload{}, err
	}
	if row == nil {
		return practice.Upload{}, domain.ErrNotFound
	}
	return uploadFrom(*row), nil
}

// Upload implements practice.UploadWriter.
func (tx *inPractice) Upload(ctx context.Context, id uuid.UUID) (practice.Upload, error) {
	row, err := found(tx.q.UploadToUse(ctx, queries.UploadToUseParams{PracticeID: tx.practice, ID: id}))
	return uploadFrom(queries.GetUploadRow(row)), fault("read upload", err)
}

// UploadInUse implements practice.UploadWriter.
func (tx *inPractice) UploadInUse(ctx context.Context, id uuid.UUID) (bool, error) {
	used, err := tx.q.UploadInUse(ctx, queries.UploadInUseParams{PracticeID: tx.practice, ID: id})
	return used, fault("look for what an upload is pinned to", err)
}

// SweepUpload implements practice.UploadWriter.
func (tx *inPractice) SweepUpload(ctx context.Context, id uuid.UUID, now time.Time) error {
	return fault("sweep upload", tx.q.SweepUpload(ctx, queries.SweepUploadParams{PracticeID: tx.practice, ID: id, Now: now}))
}

// InsertUpload implements practice.UploadWriter.
func (tx *inPractice) InsertUpload(ctx context.Context, u practice.Upload) error {
	return fault("insert upload", tx.q.InsertUpload(ctx, queries.InsertUploadParams{
		PracticeID: tx.practice, ID: u.ID, Purpose: u.Purpose, ObjectKey: u.Key, ContentType: u.ContentType, SizeBytes: u.SizeBytes, Sha256: u.Sha256,
		FileName: u.FileName, GrantedTo: u.GrantedTo, GrantedAt: u.GrantedAt, ExpiresAt: u.ExpiresAt,
	}))
}

// OpenGrants implements practice.UploadWriter.
func (tx *inPractice) OpenGrants(ctx context.Context, member *uuid.UUID, now time.Time) (int64, error) {
	n, err := tx.q.CountOpenGrants(ctx, queries.CountOpenGrantsParams{PracticeID: tx.practice, GrantedTo: member, Now: now})
	return n, fault("count grants", err)
}

// FinishUpload implements practice.UploadWriter.
func (tx *inPractice) FinishUpload(ctx context.Context, id uuid.UUID, now time.Time) error {
	return fault("finish upload", tx.q.FinishUpload(ctx, queries.FinishUploadParams{PracticeID: tx.practice, ID: id, Now: now}))
}

func uploadFrom(r queries.GetUploadRow) practice.Upload {
	return practice.Upload{
		ID: r.ID, Purpose: r.Purpose, Key: r.ObjectKey, ContentType: r.ContentType, SizeBytes: r.SizeBytes, Sha256: r.Sha256, FileName: r.FileName,
		GrantedTo: r.GrantedTo, GrantedAt: r.GrantedAt, ExpiresAt: r.ExpiresAt, FinishedAt: r.FinishedAt, SweptAt: r.SweptAt,
	}
}

// PassAxis implements practice.ImportWriter.
func (tx *inPractice) PassAxis(ctx context.Context, pass uuid.UUID) (practice.Axis, error) {
	row, err := found(tx.q.AxisOfPass(ctx, queries.AxisOfPassParams{PracticeID: tx.practice, PassID: pass}))
	return axisFrom(queries.AxisOfVesselRow(row)), fault("read places", err)
}

// PassEntries implements practice.ImportWriter.
func (tx *inPractice) PassEntries(ctx context.Context, pass uuid.UUID) ([]practice.Entry, error) {
	rows, err := tx.q.EntriesOfPass(ctx, queries.EntriesOfPassParams{PracticeID: tx.practice, PassID: pass})
	return convert(rows, func(r queries.EntriesOfPassRow) practice.Entry { return practice.Entry(r) }), fault("read entries", err)
}

// InsertImport implements practice.ImportWriter.
func (tx *inPractice) InsertImport(ctx context.Context, id, upload, pass uuid.UUID, kept int, now time.Time) error {
	return fault("insert import", tx.q.InsertImport(ctx, queries.InsertImportParams{
		PracticeID: tx.practice, ID: id, UploadID: upload, PassID: pass, Kept: int32(kept), At: now,
	}))
}

// KeptObjects implements practice.ScrubReader.
func (s *Store) KeptObjects(ctx context.Context, p uuid.UUID, after, exact string, most int) ([]practice.KeptObject, error) {
	var rows []queries.KeptObjectsRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.KeptObjects, p, after, exact, int32(most)) })
	return convert(rows, func(r queries.KeptObjectsRow) practice.KeptObject {
		return practice.KeptObject{What: r.What, ID: r.ID, Key: r.ObjectKey, SHA256: r.Sha256}
	}), err
}
