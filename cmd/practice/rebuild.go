package main

import (
	"context"
	"fmt"

	"boottop.example/practice/store"
)

// rebuild makes the read model of readings anew, practice by practice, while the service
// runs. It ends with a fault where any of it was other than it should be, so that a
// watchman notices; by then it is put right.
func rebuild(ctx context.Context, args, environ []string) error {
	s, err := load("rebuild", args, environ, "BOOTTOP_DATABASE_URL", "BOOTTOP_OWNER_DATABASE_URL")
	if err != nil {
		return err
	}
	list, err := store.Practices(ctx, string(s.OwnerDatabase))
	if err != nil {
		return err
	}
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: s.MaxConns})
	if err != nil {
		return err
	}
	defer db.Close()
	all, wrong := 0, 0
	for _, p := range list {
		passes, differed, err := db.RebuildGrids(ctx, p)
		if err != nil {
			return err
		}
		all, wrong = all+passes, wrong+differed
	}
	fmt.Printf("%d practices, %d passes: %d grids were made other than they stood\n", len(list), all, wrong)
	if wrong > 0 {
		return fmt.Errorf("%d grids differed from their readings; they are put right, and the cause is to be looked for", wrong)
	}
	return nil
}
