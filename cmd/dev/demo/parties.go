package demo

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// acquaint writes a person or an organisation down.
func (l *loader) acquaint(b *book, f folk) {
	l.parties[f.key] = id(l.founded(), "party", f.key)
	p := practice.Party{ID: l.parties[f.key], Name: f.name, Kind: "person", Email: f.email, Phone: f.phone, Address: f.address, IsYard: f.yard}
	if f.organisation {
		p.Kind = "organisation"
	}
	if p.Notes = f.notes; f.yard {
		p.YardNotes, p.Notes = f.notes, ""
		p.TimeZone = new(l.zoneOf(f.house))
	}
	b.at(l.founded(), f.name, func(ctx context.Context) error {
		return done(l.AddParty(ctx, l.head(f.house), practice.AddParty{Mutation: mutation(l.founded(), "party", f.key), Party: p}))
	})
}

// zoneOf is the zone that a practice's yards are in.
func (l *loader) zoneOf(house string) string {
	for _, h := range houses {
		if h.key == house {
			return h.zone
		}
	}
	return harbourZone
}

// role says what a party is to a boat, or in one of her jobs.
func (a *afloat) role(ctx context.Context, key string, r role, job *uuid.UUID) error {
	return done(a.AddPartyRole(ctx, a.desk(), practice.AddPartyRole{
		Mutation: a.mut("role", key), ID: a.of("role", key), Party: *a.party(r.party), Vessel: a.id, Job: job, Role: r.as, From: r.from,
	}))
}
