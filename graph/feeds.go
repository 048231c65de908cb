package graph

import (
	"context"

	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) feeds(ctx context.Context) ([]model.CalendarFeed, error) {
	list, err := r.Practice.Feeds(ctx, auth.Actor(ctx))
	out := make([]model.CalendarFeed, len(list))
	for k, f := range list {
		out[k] = model.CalendarFeed{
			ID: wire.New(wire.Feed, f.ID), Purpose: f.Purpose, Boats: f.Boats, Clients: f.Clients, CreatedAt: wire.At(f.CreatedAt), LastFetchedAt: wire.MaybeAt(f.LastFetchedAt),
		}
	}
	return out, err
}
