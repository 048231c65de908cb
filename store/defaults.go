package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"practice_figures_pkey":        {domain.Conflict, "id", "A figure with this id is kept already."},
	"practice_figures_reason_said": {domain.Invalid, "reason", "Say in at most 500 letters why the practice has its own figure."},
})

// OwnFigures implements practice.FigureReader.
func (s *Store) OwnFigures(ctx context.Context, p uuid.UUID) ([]practice.OwnFigure, error) {
	var rows []queries.OwnFiguresRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.OwnFigures, p) }); err != nil {
		return nil, err
	}
	return figuresFrom(rows)
}

// figuresFrom reads figures; those of the rules of the next look have no bounds, but spans.
func figuresFrom(rows []queries.OwnFiguresRow) ([]practice.OwnFigure, error) {
	out := make([]practice.OwnFigure, len(rows))
	for k, r := range rows {
		out[k] = practice.OwnFigure{ID: r.ID, Code: r.Code, Raw: r.Figure, Reason: r.Reason, By: r.ByName, At: r.At}
		if len(r.Figure) == 0 || r.Figure[0] != '[' || len(r.Figure) > 1 && r.Figure[1] == '[' {
			continue
		}
		if err := json.Unmarshal(r.Figure, &out[k].Bounds); err != nil {
			return nil, fmt.Errorf("read a practice's figure: %w", err)
		}
	}
	return out, nil
}

// OwnFigure implements practice.FigureWriter.
func (tx *inPractice) OwnFigure(ctx context.Context, code string) (*practice.OwnFigure, error) {
	row, err := tx.q.OwnFigure(ctx, queries.OwnFigureParams{PracticeID: tx.practice, Code: code})
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, fault("read a figure", err)
	}
	list, err := figuresFrom([]queries.OwnFiguresRow{queries.OwnFiguresRow(row)})
	if err != nil {
		return nil, err
	}
	return &list[0], nil
}

// InsertFigure implements practice.FigureWriter.
func (tx *inPractice) InsertFigure(ctx context.Context, f practice.OwnFigure, by *uuid.UUID) error {
	return fault("insert a figure", tx.q.InsertFigure(ctx, queries.InsertFigureParams{
		PracticeID: tx.practice, ID: f.ID, Code: f.Code, Figure: f.Raw, Reason: f.Reason, ByID: by, At: f.At,
	}))
}
