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
	"findings_sure_known":        {domain.Invalid, "sure", "A finding is seen, indicated or suspected."},
	"findings_pkey":              {domain.Conflict, "id", "A finding with this id is kept already."},
	"windows_width_positive":     {domain.Invalid, "widthMm", "A window has a width, in millimetres."},
	"windows_height_positive":    {domain.Invalid, "heightMm", "A window has a height, in millimetres."},
	"windows_count_not_negative": {domain.Invalid, "blistersSeen", "Count the blisters seen: 0 where there were none."},
	"windows_pkey":               {domain.Conflict, "id", "A window with this id is kept already."},
})

// Finding implements practice.FindingReader.
func (s *Store) Finding(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Finding, error) {
	var row *queries.FindingsOfVisitRow
	guest, self, member := whom(who)
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetFinding, p, id, guest, self, member) }); err != nil {
		return practice.Finding{}, err
	}
	if row == nil {
		return practice.Finding{}, domain.ErrNotFound
	}
	return practice.Finding(*row), nil
}

// InsertFinding implements practice.FindingWriter.
func (tx *inPractice) InsertFinding(ctx context.Context, f practice.Finding, places []uuid.UUID, by *uuid.UUID, now time.Time) error {
	err := tx.q.InsertFinding(ctx, queries.InsertFindingParams{
		PracticeID: tx.practice, ID: f.ID, VisitID: f.VisitID, ElementID: f.ElementID, Kind: f.Kind, Sure: f.Sure, Text: f.Text,
		Measured: f.Measured, LookAgain: f.LookAgain, Now: now, ByID: by,
	})
	if err != nil || len(places) == 0 {
		return fault("insert finding", err)
	}
	return fault("insert places of finding", tx.q.InsertFindingPlaces(ctx, queries.InsertFindingPlacesParams{PracticeID: tx.practice, FindingID: f.ID, Places: places}))
}

// InsertWindow implements practice.FindingWriter.
func (tx *inPractice) InsertWindow(ctx context.Context, w practice.Window) error {
	return fault("insert window", tx.q.InsertWindow(ctx, queries.InsertWindowParams{
		PracticeID: tx.practice, ID: w.ID, VisitID: w.VisitID, ElementID: w.ElementID, Side: w.Side, AlongMm: w.AlongMm, DownMm: w.DownMm,
		WidthMm: w.WidthMm, HeightMm: w.HeightMm, BaredTo: w.BaredTo, BlistersSeen: w.BlistersSeen, MadeGood: w.MadeGood,
	}))
}

// FindingVisit implements practice.FindingWriter.
func (tx *inPractice) FindingVisit(ctx context.Context, finding uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.FindingVisit(ctx, queries.FindingVisitParams{PracticeID: tx.practice, ID: finding}))
	return id, fault("read finding", err)
}
