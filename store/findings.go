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
	"findings_side_known":        {domain.Invalid, "side", "A side is port, starboard or centre."},
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
	return findingFrom(*row), nil
}

// findingFrom is for every query whose columns are those of a finding.
func findingFrom(r queries.FindingsOfVisitRow) practice.Finding {
	return practice.Finding{
		ID: r.ID, VisitID: r.VisitID, ElementID: r.ElementID, Form: r.Form, Kind: r.Kind, Sure: r.Sure, Text: r.Text, Measured: r.Measured,
		Side: r.Side, Outline: r.Outline, OtherFace: r.InsideOf, AgainOf: r.AgainOf, LookAgain: r.LookAgain, CreatedAt: r.CreatedAt,
		Version: r.Version, Places: r.Places,
	}
}

// LookAgain implements practice.FindingReader.
func (s *Store) LookAgain(ctx context.Context, p, vessel uuid.UUID, who practice.Sees) ([]practice.AgainLine, error) {
	var seen *queries.GetVesselRow
	var rows []queries.LookAgainRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &seen, queries.GetVessel, p, vessel, guest, member)
		many(b, &rows, queries.LookAgain, p, vessel, guest, self, member)
	})
	if err == nil && seen == nil {
		err = domain.ErrNotFound
	}
	return convert(rows, func(r queries.LookAgainRow) practice.AgainLine {
		return practice.AgainLine{
			Finding: findingFrom(queries.FindingsOfVisitRow{
				ID: r.ID, VisitID: r.VisitID, ElementID: r.ElementID, Form: r.Form, Kind: r.Kind, Sure: r.Sure, Text: r.Text, Measured: r.Measured, Side: r.Side,
				Outline: r.Outline, InsideOf: r.InsideOf, AgainOf: r.AgainOf, LookAgain: r.LookAgain, CreatedAt: r.CreatedAt, Version: r.Version, Places: r.Places,
			}),
			JobID: r.JobID, FromAt: r.FromAt, TimeZone: r.TimeZone, Photos: r.Photos,
		}
	}), err
}

// InsertFinding implements practice.FindingWriter.
func (tx *inPractice) InsertFinding(ctx context.Context, f practice.Finding, places []uuid.UUID, by *uuid.UUID, now time.Time) error {
	err := tx.q.InsertFinding(ctx, queries.InsertFindingParams{
		PracticeID: tx.practice, ID: f.ID, VisitID: f.VisitID, ElementID: f.ElementID, Form: f.Form, Kind: f.Kind, Sure: f.Sure, Text: f.Text,
		Measured: f.Measured, Side: f.Side, Outline: f.Outline, InsideOf: f.OtherFace, AgainOf: f.AgainOf, LookAgain: f.LookAgain, Now: now, ByID: by,
	})
	if err != nil {
		return fault("insert finding", err)
	}
	return tx.pinFinding(ctx, f.ID, places)
}

// pinFinding notes the places that a finding lies at.
func (tx *inPractice) pinFinding(ctx context.Context, finding uuid.UUID, places []uuid.UUID) error {
	if len(places) == 0 {
		return nil
	}
	return fault("insert places of finding", tx.q.InsertFindingPlaces(ctx, queries.InsertFindingPlacesParams{PracticeID: tx.practice, FindingID: finding, Places: places}))
}

// FindingToEdit implements practice.FindingWriter.
func (tx *inPractice) FindingToEdit(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Finding, bool, error) {
	guest, self, member := whom(who)
	row, err := found(tx.q.LockFinding(ctx, queries.LockFindingParams{PracticeID: tx.practice, ID: id, Guest: guest, Self: self, Member: member}))
	return practice.Finding{ID: row.ID, VisitID: row.VisitID}, row.Issued, fault("read finding", err)
}

// UpdateFinding implements practice.FindingWriter.
func (tx *inPractice) UpdateFinding(ctx context.Context, f practice.Finding, places []uuid.UUID) error {
	if err := changed(tx.q.UpdateFinding(ctx, queries.UpdateFindingParams{
		PracticeID: tx.practice, ID: f.ID, Version: f.Version, ElementID: f.ElementID, Form: f.Form, Kind: f.Kind, Sure: f.Sure, Text: f.Text,
		Measured: f.Measured, Side: f.Side, Outline: f.Outline, InsideOf: f.OtherFace, AgainOf: f.AgainOf, LookAgain: f.LookAgain,
	})); err != nil {
		return fault("update finding", err)
	}
	if err := tx.q.DeleteFindingPlaces(ctx, queries.DeleteFindingPlacesParams{PracticeID: tx.practice, FindingID: f.ID}); err != nil {
		return fault("delete places of finding", err)
	}
	return tx.pinFinding(ctx, f.ID, places)
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
