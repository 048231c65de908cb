package graph

import (
	"context"
	"encoding/json"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *mutationResolver) SetSchedule(ctx context.Context, input model.SetScheduleInput) (*model.SetSchedulePayload, error) {
	a := auth.Actor(ctx)
	_, err := r.Practice.SetSchedule(ctx, a, practice.SetSchedule{Mutation: input.Mutation.As(wire.Mutation), Schedule: practice.Schedule{
		Version: input.Version,
		Areas: each(input.Areas, func(x model.ScheduleAreaInput) practice.ScheduleArea {
			return practice.ScheduleArea{ID: x.ID.As(wire.ScheduleArea), Name: x.Name, Items: each(x.Items, func(i model.ScheduleItemInput) practice.ScheduleItem {
				return practice.ScheduleItem{ID: i.ID.As(wire.ScheduleItem), Name: i.Name}
			})}
		}),
	}})
	if err != nil {
		return nil, err
	}
	s, err := r.Practice.Schedule(ctx, a)
	return &model.SetSchedulePayload{Schedule: scheduleModel(s)}, err
}

func (r *mutationResolver) ExamineItem(ctx context.Context, input model.ExamineItemInput) (*model.ExamineItemPayload, error) {
	_, err := r.Practice.ExamineItem(ctx, auth.Actor(ctx), practice.ExamineItem{Mutation: input.Mutation.As(wire.Mutation), Examination: practice.Examination{
		ID: input.ID.As(wire.Examination), Version: input.Version, VisitID: input.Visit.As(wire.Visit), ItemID: input.Item.As(wire.ScheduleItem), Examined: input.Examined,
		Why: input.Why, Condition: input.Condition, Note: input.Note, FindingID: wire.MaybeAs(input.Finding, wire.Finding), PhotoID: wire.MaybeAs(input.Photo, wire.Photo),
	}})
	return &model.ExamineItemPayload{ID: input.ID}, err
}

func (r *mutationResolver) SetValuation(ctx context.Context, input model.SetValuationInput) (*model.SetValuationPayload, error) {
	job := input.Job.As(wire.Job)
	_, err := r.Practice.SetValuation(ctx, auth.Actor(ctx), practice.SetValuation{Mutation: input.Mutation.As(wire.Mutation), Valuation: practice.Valuation{
		JobID: job, Version: input.Version, FigureMinor: int64(input.FigureMinor), Currency: input.Currency, Basis: input.Basis, ValueOn: input.On.Time,
		Said: input.Said, Comparables: json.RawMessage(input.Comparables),
	}})
	if err != nil {
		return nil, err
	}
	b, err := r.surveyBook(ctx, job)
	return &model.SetValuationPayload{Book: b}, err
}

func (r *mutationResolver) AddAttendanceNote(ctx context.Context, input model.AddAttendanceNoteInput) (*model.AddAttendanceNotePayload, error) {
	job := input.Job.As(wire.Job)
	_, err := r.Practice.AddAttendanceNote(ctx, auth.Actor(ctx), practice.AddAttendanceNote{Mutation: input.Mutation.As(wire.Mutation), Unasked: unasked(input.Unasked), Note: practice.AttendanceNote{
		ID: input.ID.As(wire.AttendanceNote), JobID: job, VisitID: wire.MaybeAs(input.Visit, wire.Visit), Kind: input.Kind, At: input.At.Time, WithWhom: input.WithWhom, Text: input.Text, PreviousSurveyor: input.PreviousSurveyor,
	}})
	if err != nil {
		return nil, err
	}
	b, err := r.surveyBook(ctx, job)
	return &model.AddAttendanceNotePayload{Book: b}, err
}

func (r *mutationResolver) StrikeAttendanceNote(ctx context.Context, input model.StrikeAttendanceNoteInput) (*model.StrikeAttendanceNotePayload, error) {
	_, err := r.Practice.StrikeAttendanceNote(ctx, auth.Actor(ctx), practice.StrikeAttendanceNote{
		Mutation: input.Mutation.As(wire.Mutation), ID: input.ID.As(wire.AttendanceNote), Reason: input.Reason,
	})
	return &model.StrikeAttendanceNotePayload{ID: input.ID}, err
}

func (r *queryResolver) Schedule(ctx context.Context) (*model.Schedule, error) {
	s, err := r.Practice.Schedule(ctx, auth.Actor(ctx))
	m := scheduleModel(s)
	return &m, err
}

func (r *queryResolver) SurveyBook(ctx context.Context, job wire.ID) (*model.SurveyBook, error) {
	b, err := r.surveyBook(ctx, job.As(wire.Job))
	return orNull(&b, err)
}
