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
	"recommendations_grade_known":    {domain.Invalid, "grade", "Grade it: stop (Stop and make safe), afloat (Before afloat), ashore (While ashore), planned (Planned work), watch (Watch), further (Look further) or record (For the record)."},
	"recommendations_sure_known":     {domain.Invalid, "sure", "Say how sure: seen, indicated or suspected."},
	"recommendations_what_given":     {domain.Invalid, "what", "Say what is to be done, in up to 2000 letters."},
	"recommendations_about_known":    {domain.Invalid, "about", "Say what it is about: raised-uniform, few-blisters, active-blisters, failing-treatment, suspected-wet-core or drying; or nothing."},
	"recommendations_readings_alone": {domain.Invalid, "grade", "Readings alone carry Watch, Look further or For the record. A higher grade needs something seen, heard or opened."},
})

// Recommendation implements practice.RecommendationReader.
func (s *Store) Recommendation(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Recommendation, []practice.RecommendationState, error) {
	var row *queries.GetRecommendationRow
	var states []queries.StatesOfRecommendationRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetRecommendation, p, id, guest, self, member)
		many(b, &states, queries.StatesOfRecommendation, p, id)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Recommendation{}, nil, err
	}
	return practice.Recommendation(*row),
		convert(states, func(r queries.StatesOfRecommendationRow) practice.RecommendationState {
			return practice.RecommendationState(r)
		}), nil
}

// JobOpenTo implements practice.RecommendationWriter.
func (tx *inPractice) JobOpenTo(ctx context.Context, job uuid.UUID, who practice.Sees) (practice.JobOpen, error) {
	row, err := found(tx.q.JobOpenTo(ctx, queries.JobOpenToParams{PracticeID: tx.practice, ID: job, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.JobOpen(row), fault("read job", err)
}

// Recommendation implements practice.RecommendationWriter.
func (tx *inPractice) Recommendation(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Recommendation, error) {
	row, err := found(tx.q.GetRecommendation(ctx, queries.GetRecommendationParams{
		PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member,
	}))
	return practice.Recommendation(row), fault("read recommendation", err)
}

// InsertRecommendation implements practice.RecommendationWriter.
func (tx *inPractice) InsertRecommendation(ctx context.Context, r practice.Recommendation) error {
	return fault("insert recommendation", tx.q.InsertRecommendation(ctx, queries.InsertRecommendationParams{
		PracticeID: tx.practice, ID: r.ID, VesselID: r.VesselID, JobID: r.JobID, Grade: r.Grade, Sure: r.Sure, ReadingsOnly: r.ReadingsOnly, What: r.What,
		Reason: r.Reason, Consequence: r.Consequence, WhoActs: r.WhoActs, ByOn: r.ByOn, ByAsWritten: r.ByAsWritten, ClosedBy: r.ClosedBy, About: r.About, Now: r.CreatedAt,
	}))
}

// UpdateRecommendation implements practice.RecommendationWriter.
func (tx *inPractice) UpdateRecommendation(ctx context.Context, r practice.Recommendation) error {
	return fault("update recommendation", changed(tx.q.UpdateRecommendation(ctx, queries.UpdateRecommendationParams{
		PracticeID: tx.practice, ID: r.ID, Version: r.Version, Grade: r.Grade, Sure: r.Sure, ReadingsOnly: r.ReadingsOnly, What: r.What,
		Reason: r.Reason, Consequence: r.Consequence, WhoActs: r.WhoActs, ByOn: r.ByOn, ByAsWritten: r.ByAsWritten, ClosedBy: r.ClosedBy, About: r.About,
	})))
}

// SetRecommendationState implements practice.RecommendationWriter.
func (tx *inPractice) SetRecommendationState(ctx context.Context, id, step uuid.UUID, before, state, reason string, by *uuid.UUID, now time.Time) error {
	if err := changed(tx.q.SetRecommendationState(ctx, queries.SetRecommendationStateParams{PracticeID: tx.practice, ID: id, Before: before, State: state})); err != nil {
		return fault("set state", err)
	}
	return fault("insert state", tx.q.InsertRecommendationState(ctx, queries.InsertRecommendationStateParams{
		PracticeID: tx.practice, ID: step, RecommendationID: id, State: state, Reason: reason, ByID: by, Now: now,
	}))
}
