package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Member, (*Resolver).member)

func (r *Resolver) member(ctx context.Context, id uuid.UUID) (model.Member, error) {
	m, err := r.Practice.Member(ctx, auth.Actor(ctx), id)
	return memberModel(m), err
}

func (r *Resolver) apiKey(ctx context.Context, id uuid.UUID) (model.APIKey, error) {
	k, err := r.Practice.APIKey(ctx, auth.Actor(ctx), id)
	return apiKeyModel(k), err
}

func memberModel(m practice.Member) model.Member {
	return model.Member{
		ID: wire.New(wire.Member, m.ID), Name: m.Name, Email: m.Email, Roles: roleModels(m.Roles), Qualification: m.Qualification,
		LeftAt: wire.MaybeAt(m.LeftAt), Version: m.Version,
	}
}

func invitationModel(i practice.Invitation) model.Invitation {
	return model.Invitation{ID: wire.New(wire.Invitation, i.ID), Email: i.Email, Name: i.Name, Roles: roleModels(i.Roles), ExpiresAt: wire.At(i.ExpiresAt)}
}

func apiKeyModel(k practice.APIKey) model.APIKey {
	return model.APIKey{
		ID: wire.New(wire.APIKey, k.ID), Name: k.Name, Member: memberLine(k.Member), CreatedAt: wire.At(k.CreatedAt), RevokedAt: wire.MaybeAt(k.RevokedAt), LastUsedOn: wire.MaybeDay(k.LastUsedOn),
	}
}

func roleModels(roles []string) []model.Role {
	out := make([]model.Role, len(roles))
	for k, r := range roles {
		out[k] = model.Role(r)
	}
	return out
}

// roleWords is nil where the input leaves the roles as they are.
func roleWords(roles []model.Role) []string {
	if roles == nil {
		return nil
	}
	out := make([]string, len(roles))
	for k, r := range roles {
		out[k] = string(r)
	}
	return out
}
