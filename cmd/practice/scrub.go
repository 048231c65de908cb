package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// scrub reads every file that the practices keep and holds it against the hash in the
// database, while the service runs. It ends with a fault where one is missing or altered,
// so that a watchman notices while there still is a copy to bring back.
func scrub(ctx context.Context, args, environ []string) error {
	s, err := load("scrub", args, environ, append(needsStores, "BOOTTOP_OWNER_DATABASE_URL")...)
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
	files, err := s.files()
	if err != nil {
		return err
	}
	var all int
	var found []practice.Unsound
	for _, p := range list {
		read, unsound, err := practice.Scrub(ctx, db, files, p)
		if err != nil {
			return err
		}
		all, found = all+read, append(found, unsound...)
	}
	return tellScrubbed(os.Stdout, len(list), all, found)
}

func tellScrubbed(out io.Writer, practices, read int, found []practice.Unsound) error {
	for _, u := range found {
		fmt.Fprintln(out, u)
	}
	fmt.Fprintf(out, "%d practices, %d files: %d are missing or altered\n", practices, read, len(found))
	if len(found) > 0 {
		return fmt.Errorf("%d files are not as they were kept; bring them back from a copy", len(found))
	}
	return nil
}
