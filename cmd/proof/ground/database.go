package ground

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/deploy/local"
	"boottop.example/practice/migrations"
)

// Database is a migrated database of a proof's own.
type Database struct {
	OwnerURL, AppURL, AdminURL string
	Fresh                      bool            // made just now, and empty
	Server                     *local.Postgres // where the proof started it; nil where it was there
	close                      []func() error
}

// Open makes the database on the server of TEST_DATABASE_URL, or on one that it starts.
// With Keep the database stays under its name, and is taken again.
func Open(ctx context.Context, o Options, name string) (*Database, error) {
	d := &Database{}
	if owner := os.Getenv("TEST_DATABASE_URL"); owner != "" {
		d.OwnerURL, d.AppURL, d.AdminURL = owner, os.Getenv("TEST_APP_DATABASE_URL"), os.Getenv("TEST_ADMIN_DATABASE_URL")
	} else if err := d.start(ctx, o, false); err != nil {
		return nil, err
	}
	if !o.Keep {
		name += "_" + strings.ToLower(rand.Text()[:8])
	}
	if err := d.make(ctx, o, "proof_"+name); err != nil {
		return nil, errors.Join(err, d.Close())
	}
	return d, nil
}

// Start starts a server of the proof's own, for proofs that break it. Its files are as
// safe as a deployment's.
func Start(ctx context.Context, o Options) (*Database, error) {
	d := &Database{Fresh: true}
	if err := d.start(ctx, o, true); err != nil {
		return nil, err
	}
	if err := migrations.Up(ctx, d.OwnerURL); err != nil {
		return nil, errors.Join(err, d.Close())
	}
	return d, nil
}

// With runs fn with a server of its own (Start), and takes it away afterwards.
func With(ctx context.Context, o Options, fn func(*Database) error) (err error) {
	db, err := Start(ctx, o)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return fn(db)
}

func (d *Database) start(ctx context.Context, o Options, own bool) error {
	dir := filepath.Join(".local", "proof", "postgres")
	if own {
		var err error
		if err = os.MkdirAll(filepath.Join(".local", "proof"), 0o755); err != nil {
			return err
		}
		if dir, err = os.MkdirTemp(filepath.Join(".local", "proof"), "own-"); err != nil {
			return err
		}
		d.close = append(d.close, func() error { return local.Remove(dir) })
	}
	p, err := local.StartPostgres(ctx, local.Options{Dir: dir, Progress: func(text string) { o.Say("%s", text) }})
	if err != nil {
		return err
	}
	d.Server, d.OwnerURL, d.AppURL, d.AdminURL = p, p.OwnerURL, p.AppURL, p.AdminURL
	d.close = append(d.close, p.Stop)
	return nil
}

func (d *Database) make(ctx context.Context, o Options, name string) error {
	conn, err := pgx.Connect(ctx, d.OwnerURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var there bool
	if err := conn.QueryRow(ctx, `select exists (select from pg_database where datname = $1)`, name).Scan(&there); err != nil {
		return err
	}
	if !there {
		if _, err := conn.Exec(ctx, `create database `+name); err != nil {
			return err
		}
		if _, err := conn.Exec(ctx, `grant connect on database `+name+` to app, worker`); err != nil {
			return err
		}
		d.Fresh = true
	}
	server := d.AdminURL // autovacuum may be at work there, which an owner cannot end
	if server == "" {
		server = d.OwnerURL
	}
	d.OwnerURL, d.AppURL, d.AdminURL = in(d.OwnerURL, name), in(d.AppURL, name), in(d.AdminURL, name)
	if !o.Keep {
		d.close = append(d.close, func() error { return drop(server, name) })
	}
	return migrations.Up(ctx, d.OwnerURL)
}

func drop(server, name string) error {
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, `drop database if exists `+name+` with (force)`)
	return err
}

// Close takes away what the proof made.
func (d *Database) Close() error {
	var errs []error
	for k := len(d.close) - 1; k >= 0; k-- {
		errs = append(errs, d.close[k]())
	}
	return errors.Join(errs...)
}

func in(address, name string) string {
	if address == "" {
		return ""
	}
	u, err := url.Parse(address)
	if err != nil {
		return address
	}
	u.Path = "/" + name
	return u.String()
}

// Program finds one of PostgreSQL's programs, which do not always stand in the path.
func Program(name string) (string, error) {
	if path, err := exec.LookPath(name); err == nil {
		return path, nil
	}
	dirs, _ := filepath.Glob("/usr/lib/postgresql/*/bin")
	if out, err := exec.Command("pg_config", "--bindir").Output(); err == nil {
		dirs = append(dirs, strings.TrimSpace(string(out)))
	}
	for k := len(dirs) - 1; k >= 0; k-- {
		path := filepath.Join(dirs[k], name)
		if _, err := os.Stat(path); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("there is no %s on this machine", name)
}
