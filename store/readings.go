package store

import (
	"context"
	"math"
	"strconv"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// PlacesByOrdinal implements practice.ReadingWriter.
func (tx *inPractice) PlacesByOrdinal(ctx context.Context, vessel uuid.UUID, ordinals []int32) (map[int32]uuid.UUID, error) {
	rows, err := tx.q.PlacesByOrdinal(ctx, queries.PlacesByOrdinalParams{PracticeID: tx.practice, VesselID: vessel, Ordinals: ordinals})
	if err != nil {
		return nil, fault("find places", err)
	}
	places := make(map[int32]uuid.UUID, len(rows))
	for _, r := range rows {
		places[r.Ordinal] = r.ID
	}
	return places, nil
}

// TakenOccasions implements practice.ReadingWriter.
func (tx *inPractice) TakenOccasions(ctx context.Context, pass uuid.UUID, places []uuid.UUID) (map[uuid.UUID]practice.Taken, error) {
	rows, err := tx.q.TakenOccasions(ctx, queries.TakenOccasionsParams{PracticeID: tx.practice, PassID: pass, Places: places})
	if err != nil {
		return nil, fault("find taken occasions", err)
	}
	taken := make(map[uuid.UUID]practice.Taken, len(rows))
	for _, r := range rows {
		taken[r.PlaceID] = practice.Taken{First: r.First, Last: r.Last}
	}
	return taken, nil
}

// ReadingsKept implements practice.ReadingWriter.
func (tx *inPractice) ReadingsKept(ctx context.Context, ids []uuid.UUID) ([]uuid.UUID, error) {
	kept, err := tx.q.ReadingsKept(ctx, queries.ReadingsKeptParams{PracticeID: tx.practice, Ids: ids})
	return kept, fault("find kept readings", err)
}

// InsertReadings implements practice.ReadingWriter: one statement, whatever the count.
// A batch that supersedes has one reading.
func (tx *inPractice) InsertReadings(ctx context.Context, b practice.Batch, now time.Time) (int64, error) {
	n := len(b.Readings)
	arg := queries.InsertReadingsParams{
		PracticeID: tx.practice, PassID: b.Pass, Now: now, ClockOffsetMs: b.ClockOffsetMs, EnteredBy: b.EnteredBy,
		Ids: make([]uuid.UUID, n), Places: make([]uuid.UUID, n), Occasions: make([]int16, n), Vals: make([]int32, n), Limits: make([]string, n),
		Lows: make([]int32, n), Highs: make([]int32, n), Written: make([]string, n), Placements: make([]string, n), Surfaces: make([]string, n),
		Taken: make([]time.Time, n), Known: make([]bool, n), Follow: make([]bool, n),
	}
	for k, r := range b.Readings {
		arg.Ids[k], arg.Places[k], arg.Occasions[k], arg.Vals[k], arg.Limits[k] = r.ID, r.PlaceID, r.Occasion, r.Value, r.LimitFlag
		arg.Lows[k], arg.Highs[k], arg.Written[k] = orNone(r.Low), orNone(r.High), r.AsWritten
		arg.Placements[k], arg.Surfaces[k] = arrayText(r.Placements), r.Surface
		arg.Taken[k], arg.Known[k], arg.Follow[k] = r.TakenAt, r.KnownBefore, r.FollowUp
		arg.SupersedesID, arg.Supersession, arg.SupersessionReason = r.SupersedesID, r.Supersession, r.SupersessionReason
	}
	kept, err := tx.q.InsertReadings(ctx, arg)
	return kept, fault("insert readings", err)
}

// orNone gives what the statement turns into null: arrays of numbers carry no nulls.
func orNone(x *int32) int32 {
	if x == nil {
		return math.MinInt32
	}
	return *x
}

// arrayText writes a PostgreSQL array: ragged lists do not travel as one array.
func arrayText(list []int16) string {
	b := append(make([]byte, 0, 2+5*len(list)), '{')
	for k, x := range list {
		if k > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendInt(b, int64(x), 10)
	}
	return string(append(b, '}'))
}

// Reading implements practice.ReadingWriter.
func (tx *inPractice) Reading(ctx context.Context, id uuid.UUID) (practice.Reading, error) {
	row, err := found(tx.q.GetReading(ctx, queries.GetReadingParams{PracticeID: tx.practice, ID: id}))
	return practice.Reading(row), fault("read reading", err)
}

// RetireReading implements practice.ReadingWriter.
func (tx *inPractice) RetireReading(ctx context.Context, id uuid.UUID) error {
	return fault("retire reading", changed(tx.q.RetireReading(ctx, queries.RetireReadingParams{PracticeID: tx.practice, ID: id})))
}

// VoidReading implements practice.ReadingWriter.
func (tx *inPractice) VoidReading(ctx context.Context, id uuid.UUID, reason string) error {
	return fault("void reading", changed(tx.q.VoidReading(ctx, queries.VoidReadingParams{PracticeID: tx.practice, ID: id, Reason: reason})))
}

// MarkFollowUp implements practice.ReadingWriter.
func (tx *inPractice) MarkFollowUp(ctx context.Context, pass uuid.UUID, places []uuid.UUID, on bool) error {
	_, err := tx.q.MarkFollowUp(ctx, queries.MarkFollowUpParams{PracticeID: tx.practice, PassID: pass, Places: places, FollowUp: on})
	return fault("mark follow-up", err)
}

// InsertNotReached implements practice.ReadingWriter.
func (tx *inPractice) InsertNotReached(ctx context.Context, pass uuid.UUID, ids, places []uuid.UUID, reason string, now time.Time) error {
	_, err := tx.q.InsertNotReached(ctx, queries.InsertNotReachedParams{PracticeID: tx.practice, PassID: pass, Ids: ids, Places: places, Reason: reason, Now: now})
	return fault("insert not reached", err)
}

// WithdrawNotReached implements practice.ReadingWriter.
func (tx *inPractice) WithdrawNotReached(ctx context.Context, pass uuid.UUID, places []uuid.UUID, now time.Time) error {
	_, err := tx.q.WithdrawNotReached(ctx, queries.WithdrawNotReachedParams{PracticeID: tx.practice, PassID: pass, Places: places, Now: now})
	return fault("withdraw not reached", err)
}

// WriteGrid implements practice.ReadingWriter.
func (tx *inPractice) WriteGrid(ctx context.Context, pass uuid.UUID) error {
	return fault("write grid", tx.q.WriteGrid(ctx, queries.WriteGridParams{PracticeID: tx.practice, PassID: pass}))
}

// RequireAddendum implements practice.ReadingWriter.
func (tx *inPractice) RequireAddendum(ctx context.Context, pass uuid.UUID, how string, id uuid.UUID) (int64, error) {
	if err := tx.q.HoldReportsOfPass(ctx, queries.HoldReportsOfPassParams{PracticeID: tx.practice, PassID: pass}); err != nil {
		return 0, fault("hold reports", err)
	}
	n, err := tx.q.RequireAddendum(ctx, queries.RequireAddendumParams{PracticeID: tx.practice, PassID: pass, How: how, ID: id})
	return n, fault("require addendum", err)
}
