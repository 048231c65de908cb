package main

import (
	"context"
	"fmt"

	"boottop.example/practice/migrations"
)

// migrate runs as the owner of the database, before the new program serves.
func migrate(ctx context.Context, args, environ []string) error {
	s, err := load("migrate", args, environ, "BOOTTOP_OWNER_DATABASE_URL")
	if err != nil {
		return err
	}
	if err := migrations.Up(ctx, string(s.OwnerDatabase)); err != nil {
		return err
	}
	fmt.Printf("the database is at version %d\n", migrations.Version)
	return nil
}
