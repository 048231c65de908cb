package graph

import (
	"log/slog"

	"boottop.example/practice/graph/door"
	"boottop.example/practice/graph/generated"
)

// Serve makes the handler of POST /graphql over the resolvers. manifests are the client's
// stored operations, newest first; open, for development, takes any document from anybody.
func Serve(r *Resolver, open bool, manifests ...[]byte) (*door.Door, error) {
	schema := generated.NewExecutableSchema(generated.Config{Resolvers: r})
	d, err := door.New(door.Config{Schema: schema, Stored: manifests, Open: open, Present: Present(schema.Schema()), Recover: Recover})
	if err != nil {
		return nil, err
	}
	if left := d.Leftover(); len(left) > 0 {
		slog.Warn("stored operations that do not fit this schema are left out", "operations", left)
	}
	return d, nil
}
