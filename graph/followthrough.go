package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.SeenLetter, (*Resolver).seenLetter)

func (r *Resolver) seenLetter(ctx context.Context, id uuid.UUID) (model.SeenLetter, error) {
	l, err := r.Practice.SeenLetter(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.SeenLetter{}, err
	}
	return letterModel(l), nil
}

// followThroughOf reads it for the vessel that a change touched last.
func (r *Resolver) followThroughOf(ctx context.Context, done practice.Done) (model.FollowThrough, error) {
	vessel, err := wire.ParseID(done.Touched[len(done.Touched)-1])
	if err != nil {
		return model.FollowThrough{}, err
	}
	return r.followThrough(ctx, vessel.As(wire.Vessel))
}

func (r *Resolver) followThrough(ctx context.Context, vessel uuid.UUID) (model.FollowThrough, error) {
	f, err := r.Practice.FollowThrough(ctx, auth.Actor(ctx), vessel)
	if err != nil {
		return model.FollowThrough{}, err
	}
	evidence := each(f.Evidence, evidenceModel)
	for k, e := range f.Evidence {
		files, err := r.Practice.EvidenceFiles(ctx, e)
		if err != nil {
			return model.FollowThrough{}, err
		}
		evidence[k].File, evidence[k].Thumb, evidence[k].View = orNothing(files.File), orNothing(files.Thumb), orNothing(files.View)
	}
	return model.FollowThrough{Evidence: evidence, Dangers: each(f.Dangers, dangerModel), Letters: each(f.Letters, letterModel)}, nil
}

func evidenceModel(e practice.ShownEvidence) model.Evidence {
	return model.Evidence{
		ID: wire.New(wire.Evidence, e.ID), Recommendation: wire.New(wire.Recommendation, e.RecommendationID), Kind: e.Kind, Photo: wire.Maybe(wire.Photo, e.PhotoID),
		Finding: wire.Maybe(wire.Finding, e.FindingID), Visit: wire.Maybe(wire.Visit, e.VisitID), Text: e.Text, ToldOn: wire.MaybeDay(e.ToldOn), By: e.ByName,
		At: wire.At(e.At), SeenAt: wire.MaybeAt(e.SeenAt),
	}
}

func dangerModel(n practice.DangerNotice) model.DangerNotice {
	return model.DangerNotice{
		ID: wire.New(wire.DangerNotice, n.ID), Recommendation: wire.New(wire.Recommendation, n.RecommendationID), Job: wire.New(wire.Job, n.JobID), Text: n.Text,
		DraftedBy: n.DraftedBy, DraftedAt: wire.At(n.DraftedAt), SentBy: n.SentBy, SentAt: wire.MaybeAt(n.SentAt), Version: n.Version,
		Told: each(n.Told, func(t practice.DangerTold) model.DangerTold {
			return model.DangerTold{Name: t.Name, Role: t.Role, SpokenAt: wire.MaybeAt(t.SpokenAt), How: t.How, Email: t.Email}
		}),
	}
}

func letterModel(l practice.SeenLetter) model.SeenLetter {
	return model.SeenLetter{
		ID: wire.New(wire.SeenLetter, l.ID), Vessel: wire.New(wire.Vessel, l.VesselID), Job: wire.New(wire.Job, l.JobID), AddressedTo: l.AddressedTo, Reader: l.Reader,
		Reference: l.Reference, Content: wire.JSON(l.Content), LeftOut: l.LeftOut, Sha256: l.Sha256, By: l.ByName, At: wire.At(l.At),
	}
}
