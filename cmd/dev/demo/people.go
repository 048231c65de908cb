package demo

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
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

// people makes the practices, their members and sign-ins, where they are not there yet.
func (l *loader) people(ctx context.Context) error {
	for _, h := range houses {
		if err := l.house(ctx, h); err != nil {
			return err
		}
	}
	for _, p := range members {
		if err := l.join(ctx, p); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	return nil
}

func (l *loader) house(ctx context.Context, h house) error {
	_, err := l.Practice(ctx, domain.Service(l.homes[h.key]))
	if domain.KindOf(err) != domain.NotFound {
		return err
	}
	return l.door.CreatePractice(ctx, l.homes[h.key], h.name, h.zone, h.currency, true, l.founded())
}

// join makes an account and the member that it is. A practice begins with somebody whom
// nobody invited, which no use case does; so this writes the row, bound by row security
// like everything else, and takes the others in with it under ids of the scenario's own.
func (l *loader) join(ctx context.Context, p person) error {
	home := l.homes[p.house]
	_, err := l.door.AccountByEmail(ctx, p.email)
	if err != nil && domain.KindOf(err) != domain.NotFound {
		return err
	}
	account := id(l.founded(), "account", p.email)
	if err != nil {
		hash, err := auth.Hash(ctx, p.password)
		if err != nil {
			return err
		}
		if _, err := l.door.CreateAccount(ctx, account, p.email, hash, l.founded()); err != nil {
			return err
		}
	}
	return pgx.BeginFunc(ctx, l.Store.Pool(), func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `select set_config('app.practice', $1, true)`, home.String()); err != nil {
			return err
		}
		_, err := tx.Exec(ctx, `
insert into members (practice_id, id, account_id, name, email, roles, qualification, started_on)
values ($1, $2, $3, $4, $5, $6, $7, $8) on conflict do nothing`,
			home, l.as(p.key).Member, account, p.name, p.email, p.roles, p.qualification, l.date(l.founded()))
		return err
	})
}

// result lists who can sign in. The first one is whoever the first screen greets.
func (l *loader) result(ctx context.Context) (Result, error) {
	var out Result
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
