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
	"cross_reading_sets_pkey":            {domain.Conflict, "id", "A cross-reading set with this id is kept already."},
	"cross_reading_replacements_once":    {domain.Conflict, "replaces", "Another set has taken the place of that one already. Correct the newest."},
	"cross_reading_sets_effect_positive": {domain.Invalid, "effectTenths", "Say which change matters, in units of the second scale, above zero."},
})

func crossReadingsFrom(r queries.ListCrossReadingSetsRow) practice.CrossReadings {
	return practice.CrossReadings{
		ID: r.ID, FirstScale: r.FirstScaleID, SecondScale: r.SecondScaleID, MadeOn: r.MadeOn, Note: r.Note, EffectTenths: r.EffectTenths,
		First: r.Firsts, Second: r.Seconds,
		Replacement: replacement(r.RecordedBy, r.RecordedByName, r.RecordedAt, r.Replaces, r.Because, r.ReplacedBy, r.ReplacedBecause),
	}
}

// CrossReadingsKept implements practice.CrossReadingWriter.
func (tx *inPractice) CrossReadingsKept(ctx context.Context, id uuid.UUID) error {
	_, err := found(tx.q.CrossReadingSetKept(ctx, queries.CrossReadingSetKeptParams{PracticeID: tx.practice, ID: id}))
	return fault("read cross-reading set", err)
}

// InsertCrossReadings implements practice.CrossReadingWriter.
func (tx *inPractice) InsertCrossReadings(ctx context.Context, c practice.RecordCrossReadings, by *uuid.UUID, now time.Time) error {
	err := tx.q.InsertCrossReadingSet(ctx, queries.InsertCrossReadingSetParams{
		PracticeID: tx.practice, ID: c.ID, FirstScaleID: c.FirstScale, SecondScaleID: c.SecondScale, MadeOn: c.MadeOn, Note: c.Note,
		EffectTenths: c.EffectTenths, RecordedBy: by, RecordedAt: now,
	})
	if err == nil && c.Replaces != nil {
		err = tx.q.ReplaceCrossReadingSet(ctx, queries.ReplaceCrossReadingSetParams{PracticeID: tx.practice, SetID: *c.Replaces, BySetID: c.ID, Because: c.Because})
	}
	if err != nil {
		return fault("insert cross-reading set", err)
	}
	spots := make([]int16, len(c.First))
	for k := range spots {
		spots[k] = int16(k + 1)
	}
	return fault("insert cross-readings", tx.q.InsertCrossReadings(ctx, queries.InsertCrossReadingsParams{
		PracticeID: tx.practice, SetID: c.ID, Spots: spots, Firsts: c.First, Seconds: c.Second,
	}))
}
