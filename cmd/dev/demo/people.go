package demo

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
)

// introduce gives practices and members their ids.
func (l *loader) introduce() {
	for _, h := range houses {
		l.homes[h.key] = id(l.founded(), "practice", h.key)
	}
	for _, p := range members {
		l.actors[p.key] = domain.Actor{Practice: l.homes[p.house], Member: id(l.founded(), "member", p.key), Means: domain.BySession, Roles: p.roles}
	}
}

// people founds the practices and lets everybody in, where that has not been done yet.
// The first of each house comes by the invitation it was founded with, the others are
// asked by him or her.
func (l *loader) people(ctx context.Context) error {
	l.now = l.founded()
	for k, p := range members {
		first := k == 0 || members[k-1].house != p.house
		if err := l.join(ctx, p, first); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	return nil
}

// join takes a person from the invitation to the member, under ids of the scenario's own.
func (l *loader) join(ctx context.Context, p person, first bool) error {
	_, err := l.Member(ctx, domain.Service(l.homes[p.house]), l.as(p.key).Member)
	if domain.KindOf(err) != domain.NotFound {
		return err
	}
	if err := l.ask(ctx, p, first); err != nil {
		return err
	}
	hash, err := auth.Hash(ctx, p.password)
	if err != nil {
		return err
	}
	account, err := l.door.CreateAccount(ctx, id(l.now, "account", p.email), p.email, hash, l.now)
	if err != nil {
		return err
	}
	_, err = l.door.AcceptInvitation(ctx,
		entry.Invitation{ID: l.invitation(p), Practice: l.homes[p.house], Email: p.email, Name: p.name, Roles: p.roles},
		entry.Newcomer{Account: account, Name: p.name, Member: l.as(p.key).Member, Mutation: mutation(l.now, "joins", p.key)}, l.now)
	if err != nil || p.qualification == "" {
		return err
	}
	return done(l.EditMember(ctx, l.head(p.house), practice.EditMember{
		Mutation: mutation(l.now, "qualification", p.key), ID: l.as(p.key).Member, Version: 1, Qualification: &p.qualification,
	}))
}

func (l *loader) invitation(p person) uuid.UUID { return id(l.founded(), "invitation", p.key) }

// ask founds the house with its first member, or has the principal invite another.
func (l *loader) ask(ctx context.Context, p person, first bool) error {
	if !first {
		roles := make([]string, len(p.roles))
		for k, r := range p.roles {
			roles[k] = string(r)
		}
		return done(l.InviteMember(ctx, l.head(p.house), practice.InviteMember{
			Mutation: mutation(l.now, "invites", p.key), ID: l.invitation(p), Email: p.email, Name: p.name, Roles: roles,
		}))
	}
	at := slices.IndexFunc(houses, func(h house) bool { return h.key == p.house })
	h := houses[at]
	return done(l.FoundPractice(ctx, practice.FoundPractice{
		Mutation: mutation(l.now, "founds", h.key), ID: l.homes[h.key], Name: h.name, TimeZone: h.zone, Currency: h.currency, Invented: true,
		Invitation: l.invitation(p), Person: p.name, Email: p.email,
	}))
}

// result lists who can sign in. The first one is whoever the first screen greets.
func (l *loader) result(ctx context.Context) (Result, error) {
	out := Result{Client: SignIn{Role: string(domain.Client), Email: "a.ferrant@post.example", Password: clientPassword}}
	for _, p := range members {
		if p.gone > 0 {
			continue
		}
		roles := make([]string, len(p.roles))
		for k, r := range p.roles {
			roles[k] = string(r)
		}
		at := slices.IndexFunc(houses, func(h house) bool { return h.key == p.house })
		out.SignIns = append(out.SignIns, SignIn{Practice: houses[at].name, Role: strings.Join(roles, ", "), Email: p.email, Password: p.password})
	}
	var err error
	out.APIKey, err = l.development(ctx)
	return out, err
}
