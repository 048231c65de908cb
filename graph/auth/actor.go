package auth

import (
	"context"

	"boottop.example/practice/domain"
)

type actorKey struct{}

// WithActor puts the caller into the context.
func WithActor(ctx context.Context, a domain.Actor) context.Context {
	return context.WithValue(ctx, actorKey{}, a)
}

// Actor is the caller; the zero Actor is nobody.
func Actor(ctx context.Context) domain.Actor {
	a, _ := ctx.Value(actorKey{}).(domain.Actor)
	return a
}
