// Package plain is a vessel's history as a list of reading objects in gqlgen's default
// generated code. The service does not use it: `proof history` measures beside it.
package plain

//go:generate go run github.com/99designs/gqlgen generate --config gqlgen.yml
