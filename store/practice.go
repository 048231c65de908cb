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

// Practice implements practice.PracticeReader.
func (s *Store) Practice(ctx context.Context, p uuid.UUID) (practice.Practice, error) {
	var row *queries.GetPracticeRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetPractice, p) }); err != nil {
		return practice.Practice{}, err
	}
	if row == nil {
		return practice.Practice{}, domain.ErrNotFound
	}
	return practiceFrom(*row), nil
}

// Viewer implements practice.PracticeReader.
func (s *Store) Viewer(ctx context.Context, p, member uuid.UUID) (practice.Practice, practice.MemberLine, error) {
	var row *queries.GetPracticeRow
	var line *queries.GetMemberLineRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetPractice, p)
		one(b, &line, queries.GetMemberLine, p, member)
	})
	if err != nil {
		return practice.Practice{}, practice.MemberLine{}, err
	}
	if row == nil || line == nil {
		return practice.Practice{}, practice.MemberLine{}, domain.ErrNotFound
	}
	return practiceFrom(*row), practice.MemberLine(*line), nil
}

var _ = say(map[string]rule{
	"practices_self_check_hours": {domain.Invalid, "selfCheckHours", "A draft lies 0 to 336 hours before its self-check."},
	"practices_pkey":             {domain.Conflict, "id", "A practice with this id is kept already."},
	"practices_currency_code":    {domain.Invalid, "currency", "Give a currency by its three letters, such as EUR."},
})

// FoundPractice implements practice.PracticeWriter. The service may make no practice by
// itself; the database's function does it with its owner's rights.
func (tx *inPractice) FoundPractice(ctx context.Context, p practice.Practice, first practice.Invitation, token [32]byte, now time.Time) error {
	_, err := tx.tx.Exec(ctx, `select door.practice_found($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		p.ID, p.Name, p.TimeZone, p.Currency, p.Invented, first.ID, first.Email, first.Name, first.Roles, token[:], now, first.ExpiresAt)
	return fault("found practice", err)
}

// Practice implements practice.PracticeWriter.
func (tx *inPractice) Practice(ctx context.Context) (practice.Practice, error) {
	row, err := found(tx.q.GetPractice(ctx, tx.practice))
	return practiceFrom(row), fault("read practice", err)
}

// UpdatePractice implements practice.PracticeWriter.
func (tx *inPractice) UpdatePractice(ctx context.Context, p practice.Practice) error {
	return fault("update practice", changed(tx.q.UpdatePractice(ctx, queries.UpdatePracticeParams{
		PracticeID: tx.practice, Version: p.Version, Name: p.Name, Address: p.Address, Email: p.Email, Phone: p.Phone,
		TimeZone: p.TimeZone, Currency: p.Currency, Units: p.Units, ContrastEdges: p.ContrastEdges, ReviewRequired: p.ReviewRequired, SelfCheckHours: p.SelfCheckHours,
	})))
}

func practiceFrom(r queries.GetPracticeRow) practice.Practice {
	return practice.Practice{
		ID: r.PracticeID, Name: r.Name, Address: r.Address, Email: r.Email, Phone: r.Phone, TimeZone: r.TimeZone, Currency: r.Currency,
		Units: r.Units, ContrastEdges: r.ContrastEdges, ReviewRequired: r.ReviewRequired, SelfCheckHours: r.SelfCheckHours, Invented: r.Invented, Version: r.Version,
	}
}
