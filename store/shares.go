package store

import (
	"context"
	"crypto/sha256"
	"errors"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// ShareByToken implements practice.ShareReader, through the door: no practice is known yet.
func (s *Store) ShareByToken(ctx context.Context, hash [32]byte, now time.Time) (p, share uuid.UUID, err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return p, share, err
	}
	defer conn.Release()
	err = conn.QueryRow(ctx, `select practice_id, share_id from door.share_by_token($1, $2)`, hash[:], now).Scan(&p, &share)
	if errors.Is(err, pgx.ErrNoRows) {
		err = domain.ErrNotFound
	}
	return p, share, fault("find share", err)
}

// InsertOpening implements practice.ShareReader.
func (s *Store) InsertOpening(ctx context.Context, p, id, share uuid.UUID, what string, now time.Time) error {
	return s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		b.Queue(queries.InsertOpening, p, id, share, what, now)
		b.Queue(queries.TellFetched, now, p, share, what)
	})
}

// InsertShare implements practice.ShareWriter.
func (tx *inPractice) InsertShare(ctx context.Context, in practice.ShareReport, hash [32]byte, by *uuid.UUID, now time.Time) error {
	return fault("insert share", tx.q.InsertShare(ctx, queries.InsertShareParams{
		PracticeID: tx.practice, ID: in.ID, ReportID: in.Report, PartyID: in.Party, Name: in.Name, Email: in.Email, Purpose: in.Purpose,
		TokenSha256: hash[:], AsksCode: in.AsksCode, Now: now, CreatedBy: by, Until: in.Until,
	}))
}

// RevokeShare implements practice.ShareWriter.
func (tx *inPractice) RevokeShare(ctx context.Context, id uuid.UUID, who practice.Sees, now time.Time) (uuid.UUID, error) {
	guest, self, member := whom(who)
	report, err := found(tx.q.RevokeShare(ctx, queries.RevokeShareParams{PracticeID: tx.practice, ID: id, Now: now, Guest: guest, Self: self, Member: member}))
	return report, fault("revoke share", err)
}

func sum(b []byte) []byte {
	h := sha256.Sum256(b)
	return h[:]
}
