package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// readers finds a thing of each kind by its id; each area adds its own.
var readers = map[wire.Kind]func(*Resolver, context.Context, uuid.UUID) (model.Node, error){}

// reads adds an area's reader for the ids of a kind.
func reads[T model.Node](kind wire.Kind, read func(*Resolver, context.Context, uuid.UUID) (T, error)) struct{} {
	readers[kind] = func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Node, error) {
		thing, err := read(r, ctx, id)
		if err != nil {
			return nil, err
		}
		return thing, nil
	}
	return struct{}{}
}

// orNull answers null for what is not there, as a query for one thing does.
func orNull[T any](thing *T, err error) (*T, error) {
	if domain.KindOf(err) == domain.NotFound {
		return nil, nil
	}
	return thing, err
}
