package graph

import (
	"context"
	"encoding/json"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *mutationResolver) RecordWindow(ctx context.Context, input model.RecordWindowInput) (*model.RecordWindowPayload, error) {
	w := practice.Window{
		ID: input.ID.As(wire.Window), VisitID: input.Visit.As(wire.Visit), ElementID: input.Element.As(wire.Element), Side: string(input.Side),
		AlongMm: input.AlongMm, DownMm: input.DownMm, WidthMm: input.WidthMm, HeightMm: input.HeightMm, BaredTo: input.BaredTo,
		BlistersSeen: input.BlistersSeen, MadeGood: input.MadeGood,
	}
	_, err := r.Practice.RecordWindow(ctx, auth.Actor(ctx), practice.RecordWindow{Mutation: input.Mutation.As(wire.Mutation), Window: w, Unasked: unasked(input.Unasked)})
	if err != nil {
		return nil, err
	}
	return &model.RecordWindowPayload{Window: windowModel(w)}, nil
}

func (r *mutationResolver) RecordFinding(ctx context.Context, input model.RecordFindingInput) (*model.RecordFindingPayload, error) {
	a, id := auth.Actor(ctx), input.ID.As(wire.Finding)
	_, err := r.Practice.RecordFinding(ctx, a, practice.RecordFinding{Mutation: input.Mutation.As(wire.Mutation), Unasked: unasked(input.Unasked), Finding: practice.Finding{
		ID: id, VisitID: input.Visit.As(wire.Visit), ElementID: wire.MaybeAs(input.Element, wire.Element), Form: input.Form, Kind: input.Kind,
		Sure: input.Sure, Text: input.Text, Places: input.Places, Side: sideWord(input.Side), Outline: json.RawMessage(input.Outline),
		Measured: json.RawMessage(input.Measured), OtherFace: wire.MaybeAs(input.OtherFace, wire.Finding),
		AgainOf: wire.MaybeAs(input.AgainOf, wire.Finding), LookAgain: input.LookAgain,
	}})
	if err != nil {
		return nil, err
	}
	kept, err := r.Practice.Finding(ctx, a, id)
	return &model.RecordFindingPayload{Finding: findingModel(kept)}, err
}

func (r *mutationResolver) EditFinding(ctx context.Context, input model.EditFindingInput) (*model.EditFindingPayload, error) {
	a, id := auth.Actor(ctx), input.ID.As(wire.Finding)
	_, err := r.Practice.EditFinding(ctx, a, practice.EditFinding{Mutation: input.Mutation.As(wire.Mutation), Finding: practice.Finding{
		ID: id, Version: input.Version, ElementID: wire.MaybeAs(input.Element, wire.Element), Form: input.Form, Kind: input.Kind,
		Sure: input.Sure, Text: input.Text, Places: input.Places, Side: sideWord(input.Side), Outline: json.RawMessage(input.Outline),
		Measured: json.RawMessage(input.Measured), OtherFace: wire.MaybeAs(input.OtherFace, wire.Finding),
		AgainOf: wire.MaybeAs(input.AgainOf, wire.Finding), LookAgain: input.LookAgain,
	}})
	if err != nil {
		return nil, err
	}
	kept, err := r.Practice.Finding(ctx, a, id)
	return &model.EditFindingPayload{Finding: findingModel(kept)}, err
}

func (r *queryResolver) FindingForms(ctx context.Context) ([]model.FindingForm, error) {
	forms, err := r.Practice.FindingForms(ctx, auth.Actor(ctx))
	if err != nil {
		return nil, err
	}
	return each(forms, formModel), nil
}

func (r *queryResolver) LookAgain(ctx context.Context, vessel wire.ID) ([]model.AgainLine, error) {
	list, err := r.Practice.LookAgain(ctx, auth.Actor(ctx), vessel.As(wire.Vessel))
	if err != nil {
		return nil, err
	}
	return each(list, againModel), nil
}
