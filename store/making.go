package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// NoteMaking implements practice.MakingReader.
func (s *Store) NoteMaking(ctx context.Context, p, report uuid.UUID, m practice.ReportMaking) error {
	return s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		b.Queue(queries.NoteMaking, p, report, m.Step, m.Parts, m.OfParts, m.Photos, m.OfPhotos, m.Pages, m.At)
	})
}

// Making implements practice.MakingReader.
func (s *Store) Making(ctx context.Context, p, report uuid.UUID, who practice.Sees) (practice.ReportMaking, error) {
	guest, self, member := whom(who)
	row, err := readOne[queries.MakingOfReportRow](ctx, s, p, queries.MakingOfReport, p, report, guest, self, member)
	return practice.ReportMaking(row), err
}
