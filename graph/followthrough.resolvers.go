package graph

import (
	"context"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *mutationResolver) AddEvidence(ctx context.Context, input model.AddEvidenceInput) (*model.AddEvidencePayload, error) {
	done, err := r.Practice.AddEvidence(ctx, auth.Actor(ctx), practice.AddEvidence{Mutation: input.Mutation.As(wire.Mutation), Evidence: practice.ShownEvidence{
		ID: input.ID.As(wire.Evidence), RecommendationID: input.Recommendation.As(wire.Recommendation), Kind: input.Kind, PhotoID: wire.MaybeAs(input.Photo, wire.Photo),
		FindingID: wire.MaybeAs(input.Finding, wire.Finding), VisitID: wire.MaybeAs(input.Visit, wire.Visit), UploadID: wire.MaybeAs(input.Upload, wire.Upload),
		Text: input.Text, ToldOn: input.ToldOn.Ptr(),
	}})
	if err != nil {
		return nil, err
	}
	f, err := r.followThroughOf(ctx, done)
	return &model.AddEvidencePayload{FollowThrough: f}, err
}

func (r *mutationResolver) DraftDangerNotice(ctx context.Context, input model.DraftDangerNoticeInput) (*model.DraftDangerNoticePayload, error) {
	done, err := r.Practice.DraftDangerNotice(ctx, auth.Actor(ctx), practice.DraftDangerNotice{
		Mutation: input.Mutation.As(wire.Mutation), ID: input.ID.As(wire.DangerNotice), Recommendation: input.Recommendation.As(wire.Recommendation),
	})
	if err != nil {
		return nil, err
	}
	f, err := r.followThroughOf(ctx, done)
	return &model.DraftDangerNoticePayload{FollowThrough: f}, err
}

func (r *mutationResolver) SendDangerNotice(ctx context.Context, input model.SendDangerNoticeInput) (*model.SendDangerNoticePayload, error) {
	done, err := r.Practice.SendDangerNotice(ctx, auth.Actor(ctx), practice.SendDangerNotice{
		Mutation: input.Mutation.As(wire.Mutation), ID: input.ID.As(wire.DangerNotice), Version: input.Version, Text: input.Text,
		Told: each(input.Told, func(t model.DangerToldInput) practice.DangerTold {
			return practice.DangerTold{Name: t.Name, Role: t.Role, SpokenAt: t.SpokenAt.Ptr(), How: t.How, Email: t.Email}
		}),
	})
	if err != nil {
		return nil, err
	}
	f, err := r.followThroughOf(ctx, done)
	return &model.SendDangerNoticePayload{FollowThrough: f}, err
}

func (r *mutationResolver) WriteSeenLetter(ctx context.Context, input model.WriteSeenLetterInput) (*model.WriteSeenLetterPayload, error) {
	id := input.ID.As(wire.SeenLetter)
	_, err := r.Practice.WriteSeenLetter(ctx, auth.Actor(ctx), practice.WriteSeenLetter{
		Mutation: input.Mutation.As(wire.Mutation), ID: id, Job: input.Job.As(wire.Job), AddressedTo: input.AddressedTo, Reader: input.Reader, Reference: input.Reference,
	})
	if err != nil {
		return nil, err
	}
	l, err := r.seenLetter(ctx, id)
	return &model.WriteSeenLetterPayload{Letter: l}, err
}

func (r *queryResolver) FollowThrough(ctx context.Context, vessel wire.ID) (*model.FollowThrough, error) {
	f, err := r.followThrough(ctx, vessel.As(wire.Vessel))
	return orNull(&f, err)
}

func (r *queryResolver) SeenLetter(ctx context.Context, id wire.ID) (*model.SeenLetter, error) {
	l, err := r.seenLetter(ctx, id.As(wire.SeenLetter))
	return orNull(&l, err)
}
