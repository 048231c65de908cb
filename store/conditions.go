package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"conditions_air_plausible":            {domain.Invalid, "airDecidegrees", "Air temperature is given in tenths of a degree Celsius, between −500 and 600."},
	"conditions_humidity_range":           {domain.Invalid, "humidityPermille", "Relative humidity is given in parts in a thousand, between 0 and 1000."},
	"conditions_skin_port_plausible":      {domain.Invalid, "skinPortDecidegrees", "Surface temperature is given in tenths of a degree Celsius, between −500 and 900."},
	"conditions_skin_starboard_plausible": {domain.Invalid, "skinStarboardDecidegrees", "Surface temperature is given in tenths of a degree Celsius, between −500 and 900."},
	"conditions_inside_humidity_range":    {domain.Invalid, "insideHumidityPermille", "Relative humidity is given in parts in a thousand, between 0 and 1000."},
	"conditions_pkey":                     {domain.Conflict, "id", "Conditions with this id are kept already."},
})

// Condition implements practice.ConditionReader.
func (s *Store) Condition(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Condition, error) {
	var row *queries.ConditionsOfVisitRow
	guest, self, member := whom(who)
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetCondition, p, id, guest, self, member) }); err != nil {
		return practice.Condition{}, err
	}
	if row == nil {
		return practice.Condition{}, domain.ErrNotFound
	}
	return conditionFrom(*row), nil
}

// InsertCondition implements practice.ConditionWriter.
func (tx *inPractice) InsertCondition(ctx context.Context, c practice.Condition, by *uuid.UUID) error {
	return fault("insert condition", tx.q.InsertCondition(ctx, queries.InsertConditionParams{
		PracticeID: tx.practice, ID: c.ID, VisitID: c.VisitID, At: c.At, AirDecidegrees: c.AirDecidegrees, HumidityPermille: c.HumidityPermille,
		SkinPortDecidegrees: c.SkinPortDecidegrees, SkinStarboardDecidegrees: c.SkinStarboardDecidegrees, InsideHumidityPermille: c.InsideHumidityPermille,
		Sun: c.Sun, Wind: c.Wind, RainLast72h: c.RainLast72h, TankLevel: c.TankLevel, BilgeLevel: c.BilgeLevel, Indoors: c.Indoors,
		Heating: c.Heating, Note: c.Note, RecordedBy: by,
	}))
}

func conditionFrom(r queries.ConditionsOfVisitRow) practice.Condition {
	return practice.Condition{
		ID: r.ID, VisitID: r.VisitID, At: r.At, AirDecidegrees: r.AirDecidegrees, HumidityPermille: r.HumidityPermille,
		SkinPortDecidegrees: r.SkinPortDecidegrees, SkinStarboardDecidegrees: r.SkinStarboardDecidegrees, InsideHumidityPermille: r.InsideHumidityPermille,
		Sun: r.Sun, Wind: r.Wind, RainLast72h: r.RainLast72h, TankLevel: r.TankLevel, BilgeLevel: r.BilgeLevel, Indoors: r.Indoors, Heating: r.Heating, Note: r.Note,
	}
}
