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

// waitingRow is queries.WaitingForRow, the job's part in one piece.
type waitingRow struct {
	What, Detail string
	Since        *time.Time
	queries.GetJobLineRow
}

// Today implements practice.TodayReader: the whole day in one trip.
func (s *Store) Today(ctx context.Context, p uuid.UUID, of practice.Of, who practice.Sees) (practice.Today, error) {
	var (
		is      []time.Time
		visits  []queries.GetVisitLineRow
		passes  []queries.PassesOfDayRow
		inHand  []queries.GetJobLineRow
		waiting []waitingRow
		due     []queries.DueByRow
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		column(b, &is, queries.TodayIs, of.On, of.Now, p)
		many(b, &visits, queries.VisitsOfDay, of.On, of.Now, p, of.Everyones, member, guest, self)
		many(b, &passes, queries.PassesOfDay, of.On, of.Now, p)
		many(b, &inHand, queries.JobsInHand, p, of.Everyones, member, guest, self)
		many(b, &waiting, queries.WaitingFor, p, of.Everyones, member, guest, self)
		many(b, &due, queries.DueBy, guest, self, member, of.On, of.Now, p, of.Within)
	})
	if err == nil && len(is) == 0 {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Today{}, err
	}
	day := practice.Today{On: is[0], Visits: visitLines(visits, passes), InHand: convert(inHand, jobLineFrom), Due: convert(due, reinspectionFrom)}
	for _, w := range waiting {
		day.Waiting = append(day.Waiting, practice.Waiting{Job: jobLineFrom(w.GetJobLineRow), What: practice.WaitingWords(w.What, w.Detail), Since: w.Since})
	}
	return day, nil
}
