package store

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"hull_marks_pkey":            {domain.Conflict, "id", "Marks with this id are kept already."},
	"hull_marks_made_with_known": {domain.Invalid, "madeWith", "A hull is marked with chalk, tape or wax pencil."},
	"hull_marks_where_given":     {domain.Invalid, "where", "Say in at most 400 letters where the marks are."},
})

// InsertHullMarks implements practice.HullMarkWriter.
func (tx *inPractice) InsertHullMarks(ctx context.Context, m practice.HullMarks, by *uuid.UUID) error {
	return fault("insert hull marks", tx.q.InsertHullMarks(ctx, queries.InsertHullMarksParams{
		PracticeID: tx.practice, ID: m.ID, VisitID: m.VisitID, MadeWith: m.MadeWith, WhereOn: m.Where, MadeAt: m.MadeAt, ByID: by,
	}))
}

// HullMarks implements practice.HullMarkWriter.
func (tx *inPractice) HullMarks(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.HullMarks, error) {
	row, err := found(tx.q.GetHullMarks(ctx, queries.GetHullMarksParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.HullMarks(row), fault("read hull marks", err)
}

// RemoveHullMarks implements practice.HullMarkWriter.
func (tx *inPractice) RemoveHullMarks(ctx context.Context, id uuid.UUID, by *uuid.UUID, at time.Time) error {
	return fault("note that marks are off", tx.q.RemoveHullMarks(ctx, queries.RemoveHullMarksParams{PracticeID: tx.practice, ID: id, ByID: by, At: at}))
}
