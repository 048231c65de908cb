// Package migrations brings a database from any earlier form to the present one.
// They go forward only and run as the owner of the database, never as the service.
package migrations

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx" for database/sql, which goose wants
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// FS holds the migrations written in SQL.
//
//go:embed *.sql
var FS embed.FS

// Version is the newest migration this program knows.
const Version = 46

// Up migrates the database at ownerURL to Version. Several may start at once: one
// migrates under a session lock, the others wait and find nothing to do. A lock held by
// somebody's open transaction makes it fail after two seconds rather than queue others.
func Up(ctx context.Context, ownerURL string) error {
	db, err := sql.Open("pgx", ownerURL)
	if err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	defer db.Close()
	if _, err := db.ExecContext(ctx, `select 1`); err != nil {
		return fmt.Errorf("migrate: the database does not answer: %w", err)
	}
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 120))
	if err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	provider, err := goose.NewProvider(goose.DialectPostgres, db, FS, goose.WithSessionLocker(locker), goose.WithGoMigrations(queue()))
	if err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, 10*time.Minute)
	defer cancel()
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	return nil
}
