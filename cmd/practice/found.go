package main

import (
	"context"
	"flag"
	"fmt"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// found begins a practice: it makes it and sends its first principal the invitation, from
// which everything else follows in the browser. The letter goes out with `practice work`.
//
//	practice found -name NAME -person NAME -email ADDRESS [-zone ZONE] [-currency CODE]
func found(ctx context.Context, args, environ []string) error {
	in, rest, err := foundFlags(args)
	if err != nil {
		return err
	}
	s, err := load("found", rest, environ, "BOOTTOP_DATABASE_URL", "BOOTTOP_PUBLIC_URL")
	if err != nil {
		return err
	}
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: 1})
	if err != nil {
		return err
	}
	defer db.Close()
	for _, id := range []*uuid.UUID{&in.ID, &in.Invitation, &in.Mutation} {
		if *id, err = uuid.NewV7(); err != nil {
			return err
		}
	}
	if _, err := practice.New(db, practice.WithPublicURL(s.PublicURL)).FoundPractice(ctx, in); err != nil {
		return err
	}
	fmt.Printf("prc_%s is founded; a letter asks %s at %s to be its principal\n", in.ID, in.Person, in.Email)
	return nil
}

func foundFlags(args []string) (in practice.FoundPractice, rest []string, err error) {
	flags := flag.NewFlagSet("practice found", flag.ContinueOnError)
	flags.StringVar(&in.Name, "name", "", "what the practice is called")
	flags.StringVar(&in.Person, "person", "", "its first principal's name")
	flags.StringVar(&in.Email, "email", "", "its first principal's e-mail address; the invitation is sent there")
	flags.StringVar(&in.TimeZone, "zone", "Etc/UTC", "its time zone, by its IANA name")
	flags.StringVar(&in.Currency, "currency", "EUR", "what it is paid in, three letters")
	own, rest := ownFlags(flags, args)
	return in, rest, flags.Parse(own)
}
