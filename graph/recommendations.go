package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Recommendation, (*Resolver).recommendation)

func (r *Resolver) recommendation(ctx context.Context, id uuid.UUID) (model.Recommendation, error) {
	rec, states, err := r.Practice.Recommendation(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Recommendation{}, err
	}
	return recommendationModel(rec, states), nil
}

// recommendationModel takes the states of many and keeps its own.
func recommendationModel(rec practice.Recommendation, states []practice.RecommendationState) model.Recommendation {
	m := model.Recommendation{
		ID: wire.New(wire.Recommendation, rec.ID), Job: wire.New(wire.Job, rec.JobID), Grade: rec.Grade, Sure: rec.Sure, ReadingsOnly: rec.ReadingsOnly,
		What: rec.What, Reason: rec.Reason, Consequence: rec.Consequence, WhoActs: rec.WhoActs, ByOn: wire.MaybeDay(rec.ByOn),
		ByAsWritten: rec.ByAsWritten, ClosedBy: rec.ClosedBy, About: rec.About, State: rec.State, States: []model.RecommendationState{}, Version: rec.Version,
	}
	for _, s := range states {
		if s.RecommendationID == rec.ID {
			m.States = append(m.States, model.RecommendationState{State: s.State, Reason: s.Reason, By: s.ByName, At: wire.At(s.At)})
		}
	}
	return m
}
