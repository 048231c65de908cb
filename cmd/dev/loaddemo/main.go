// Command loaddemo fills the local database with the invented harbour of package demo.
// cmd/dev runs it, with the service's environment; it is a program of its own so that
// cmd/dev starts at once and compiles the service only when it gets there.
//
//	loaddemo -out FILE    FILE gets the sign-ins and the key, as JSON
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/dev/demo"
	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/store"
)

func main() {
	out := flag.String("out", "", "`file` for the sign-ins and the key")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := load(ctx, *out); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func load(ctx context.Context, out string) error {
	db, err := store.Open(ctx, store.Config{URL: os.Getenv("BOOTTOP_DATABASE_URL")})
	if err != nil {
		return err
	}
	defer db.Close()
	objects, err := store.OpenObjects(store.ObjectsConfig{
		URL: os.Getenv("BOOTTOP_S3_ENDPOINT"), PublicURL: os.Getenv("BOOTTOP_S3_PUBLIC_URL"),
		Bucket: os.Getenv("BOOTTOP_S3_BUCKET"), Region: os.Getenv("BOOTTOP_S3_REGION"),
		Key: os.Getenv("BOOTTOP_S3_KEY"), Secret: os.Getenv("BOOTTOP_S3_SECRET"),
	})
	if err != nil {
		return err
	}
	result, err := demo.Load(ctx, demo.Config{Store: db, Objects: objects, PublicURL: os.Getenv("BOOTTOP_PUBLIC_URL")})
	if err != nil {
		return err
	}
	if err := analyze(ctx); err != nil {
		return err
	}
	loaded := up.Demo{APIKey: result.APIKey, Client: up.SignIn(result.Client)}
	for _, s := range result.SignIns {
		loaded.SignIns = append(loaded.SignIns, up.SignIn(s))
	}
	text, err := json.Marshal(loaded)
	if err != nil {
		return err
	}
	return os.WriteFile(out, text, 0o600)
}

// analyze tells the planner what was loaded. The server does so by itself within minutes;
// until then it took some views of a boat's page for small that are not, and the first
// answers came after seconds.
func analyze(ctx context.Context) error {
	owner, err := pgx.Connect(ctx, os.Getenv("BOOTTOP_OWNER_DATABASE_URL"))
	if err != nil {
		return fmt.Errorf("tell the planner what was loaded: %w", err)
	}
	defer owner.Close(ctx)
	_, err = owner.Exec(ctx, `analyze`)
	return err
}
