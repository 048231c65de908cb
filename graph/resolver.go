// Package graph translates between the contract in schema and the use cases of
// domain/practice: a resolver turns an input into a use case's argument and an answer
// into a model, and decides nothing.
package graph

//go:generate go run github.com/99designs/gqlgen generate --config gqlgen.yml

import (
	"boottop.example/practice/domain/practice"
)

// Resolver is what every resolver stands on.
type Resolver struct {
	Practice *practice.Service
}
