package store

import (
	"context"
	"math"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"places_told_as_short": {domain.Invalid, "toldAs", "What an old report calls a place takes up to 500 letters."},
	"places_label_length":  {domain.Invalid, "labels", "A label has 1 to 20 letters, such as 13/3."},
	"places_label_once":    {domain.Conflict, "labels", "A place of this side has that label already. Labels are for ever; give the new one another."},
	"places_side_known":    {domain.Invalid, "sides", "The side is port, starboard or centre."},
})

// LockVessel implements practice.PlaceWriter.
func (tx *inPractice) LockVessel(ctx context.Context, vessel uuid.UUID) error {
	_, err := found(tx.q.LockVessel(ctx, queries.LockVesselParams{PracticeID: tx.practice, ID: vessel}))
	return fault("lock vessel", err)
}

// PlacesOfVessel implements practice.PlaceWriter.
func (tx *inPractice) PlacesOfVessel(ctx context.Context, vessel uuid.UUID) ([]practice.PlaceAt, error) {
	rows, err := tx.q.PlacesOfVessel(ctx, queries.PlacesOfVesselParams{PracticeID: tx.practice, VesselID: vessel})
	places := make([]practice.PlaceAt, len(rows))
	for k, r := range rows {
		places[k] = practice.PlaceAt(r)
	}
	return places, fault("read places", err)
}

// InsertPlaces implements practice.PlaceWriter.
func (tx *inPractice) InsertPlaces(ctx context.Context, vessel uuid.UUID, in practice.AddPlaces, ordinals []int32) error {
	doubts := in.Errors
	if doubts == nil {
		doubts = make([]int32, len(in.IDs))
	}
	_, err := tx.q.InsertPlaces(ctx, queries.InsertPlacesParams{
		PracticeID: tx.practice, VesselID: vessel, ElementID: in.Element, Ids: in.IDs, Ordinals: ordinals, Labels: in.Labels, Sides: in.Sides,
		ToldAs: orBlank(in.ToldAs, len(in.IDs)), Stations: numbers(in.Stations, len(in.IDs)), RowNos: numbers(in.Rows, len(in.IDs)), Along: in.Along, Down: in.Down, Errors: doubts,
	})
	return fault("insert places", err)
}

// orBlank is a column of words, all empty where it was left out.
func orBlank(list []string, n int) []string {
	if list == nil {
		return make([]string, n)
	}
	return list
}

// numbers narrows a column of numbers to what is kept; the least stands for none.
func numbers(list []int32, n int) []int16 {
	out := make([]int16, n)
	for k := range out {
		out[k] = math.MinInt16
		if list != nil && list[k] != practice.Null {
			out[k] = int16(min(max(list[k], -9999), 9999))
		}
	}
	return out
}

// NewestPlan implements practice.PlaceWriter.
func (tx *inPractice) NewestPlan(ctx context.Context, vessel uuid.UUID) (practice.Plan, bool, error) {
	rows, err := tx.q.PlansOfVessel(ctx, queries.PlansOfVesselParams{PracticeID: tx.practice, VesselID: vessel})
	if err != nil || len(rows) == 0 {
		return practice.Plan{}, false, fault("read plans", err)
	}
	return practice.Plan(rows[0]), true, nil
}

// InsertPlan implements practice.PlaceWriter.
func (tx *inPractice) InsertPlan(ctx context.Context, in practice.AddPlan, places []uuid.UUID, by *uuid.UUID, now time.Time) error {
	_, err := tx.q.InsertPlan(ctx, queries.InsertPlanParams{
		PracticeID: tx.practice, ID: in.ID, VesselID: in.Vessel, Note: in.Note, DryChangeReason: in.DryChangeReason, Now: now, CreatedBy: by,
	})
	if err != nil {
		return fault("insert plan", err)
	}
	n := len(places)
	arg := queries.InsertPlanPlacesParams{
		PracticeID: tx.practice, PlanID: in.ID, Places: places, Positions: make([]int32, n), Dry: make([]bool, n), Targeted: make([]bool, n),
	}
	for k, o := range in.Places {
		arg.Positions[k] = int32(k + 1)
		arg.Dry[k], arg.Targeted[k] = slices.Contains(in.Dry, o), slices.Contains(in.Targeted, o)
	}
	_, err = tx.q.InsertPlanPlaces(ctx, arg)
	return fault("insert plan places", err)
}

// Plan implements practice.VesselReader.
func (s *Store) Plan(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Plan, error) {
	var row *queries.GetPlanRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetPlan, p, id, who.Guest, who.Member) }); err != nil {
		return practice.Plan{}, err
	}
	if row == nil {
		return practice.Plan{}, domain.ErrNotFound
	}
	return practice.Plan(*row), nil
}
