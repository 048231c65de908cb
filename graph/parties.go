package graph

import (
	"context"
	"time"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Party, func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Party, error) {
	return r.party(ctx, id, "")
})

// party reads a party with the parts that the selection asks for; under names the field
// that it stands below.
func (r *Resolver) party(ctx context.Context, id uuid.UUID, under string) (model.Party, error) {
	p, err := r.Practice.Party(ctx, auth.Actor(ctx), id, partyParts(ctx, under))
	return partyModel(p, time.Now()), err
}

func partyParts(ctx context.Context, under string) practice.PartyParts {
	return practice.PartyParts{Roles: graphql.FieldRequested(ctx, under+"roles"), Jobs: graphql.FieldRequested(ctx, under+"jobs")}
}

func partyModel(p practice.PartyPage, now time.Time) model.Party {
	m := model.Party{
		ID: wire.New(wire.Party, p.ID), Name: p.Name, Kind: model.PartyKind(p.Kind), Email: p.Email, Phone: p.Phone, Address: p.Address,
		IsYard: p.IsYard, TimeZone: p.TimeZone, YardNotes: p.YardNotes, Notes: p.Notes, Roles: partyRoleModels(p.Roles, now),
		Jobs: make([]model.JobLine, len(p.Jobs)), Version: p.Version,
	}
	for k, j := range p.Jobs {
		m.Jobs[k] = jobLine(j, now)
	}
	return m
}

func partyRoleModels(roles []practice.PartyRole, now time.Time) []model.PartyRole {
	out := make([]model.PartyRole, len(roles))
	for k, r := range roles {
		out[k] = model.PartyRole{
			ID: wire.New(wire.PartyRole, r.ID), Role: model.PartyRoleKind(r.Role), Party: partyLine(r.Party), Vessel: vesselLine(r.Vessel, now),
			From: wire.MaybeDay(r.From), To: wire.MaybeDay(r.To),
		}
		if r.Job != nil {
			j := jobLine(*r.Job, now)
			out[k].Job = &j
		}
	}
	return out
}
