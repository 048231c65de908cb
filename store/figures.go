package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// Figures implements practice.FiguresReader.
func (s *Store) Figures(ctx context.Context, p uuid.UUID, from, to, now time.Time, who practice.Sees) (practice.Figures, error) {
	var (
		f       = practice.Figures{From: from, To: to}
		stages  []queries.StageFiguresRow
		waiting []queries.WaitingFiguresRow
		hours   []queries.HourFiguresRow
		again   []queries.ReinspectionFiguresRow
		reports []queries.ReportFiguresRow
		hidden  []int32
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &stages, queries.StageFigures, p, guest, self, member)
		many(b, &waiting, queries.WaitingFigures, p, guest, self, member)
		many(b, &hours, queries.HourFigures, from, to, p, guest, self, member)
		many(b, &again, queries.ReinspectionFigures, p, from, to, now, guest, self, member)
		many(b, &reports, queries.ReportFigures, now, p, from, to, guest, self, member)
		column(b, &hidden, queries.HiddenJobs, p, guest, self, member)
	})
	if err != nil {
		return practice.Figures{}, err
	}
	f.Stages = convert(stages, func(r queries.StageFiguresRow) practice.Tally {
		return practice.Tally{What: r.Stage, Count: r.Jobs}
	})
	f.Waiting = convert(waiting, func(r queries.WaitingFiguresRow) practice.WaitingFor {
		w := practice.WaitingFor{Whom: r.Whom, Jobs: r.Jobs}
		if r.Since.Year() > 1 { // else what waits bears no date
			w.Since = &r.Since
		}
		return w
	})
	f.Hours = convert(hours, func(r queries.HourFiguresRow) practice.Hours { return practice.Hours(r) })
	f.Reinspections = convert(again, func(r queries.ReinspectionFiguresRow) practice.Tally {
		return practice.Tally{What: r.Became, Count: r.Windows}
	})
	f.Reports = convert(reports, func(r queries.ReportFiguresRow) practice.ReportsDue { return practice.ReportsDue(r) })
	f.Hidden = hidden[0]
	return f, nil
}
