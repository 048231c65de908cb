package storetest

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"boottop.example/practice/deploy/local"
	"boottop.example/practice/migrations"
)

// server is where test databases are made: addresses of one server, by role.
type server struct {
	Admin, Owner, App, Worker string

	opening  sync.Mutex
	pool     *pgxpool.Pool // as owner, for making and dropping databases
	made     sync.Mutex
	prepared string
}

// connect opens the owner's pool, once.
func (s *server) connect(ctx context.Context) (*pgxpool.Pool, error) {
	s.opening.Lock()
	defer s.opening.Unlock()
	if s.pool != nil {
		return s.pool, nil
	}
	config, err := pgxpool.ParseConfig(s.Owner)
	if err != nil {
		return nil, err
	}
	config.MaxConns = 4
	s.pool, err = pgxpool.NewWithConfig(ctx, config)
	return s.pool, err
}

// template returns the name of the migrated database, which it makes where it is not
// there yet. Of several test programs one makes it and the others wait: an advisory
// lock goes with its connection, so a program that is killed holds nobody up.
func (s *server) template(ctx context.Context) (string, error) {
	s.made.Lock()
	defer s.made.Unlock()
	if s.prepared != "" {
		return s.prepared, nil
	}
	name, err := templateName()
	if err != nil {
		return "", err
	}
	conn, err := pgx.Connect(ctx, s.Owner)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if _, err := conn.Exec(ctx, `select pg_advisory_lock($1)`, lockKey(name)); err != nil {
		return "", err
	}
	var there bool
	if err := conn.QueryRow(ctx, `select exists (select from pg_database where datname = $1)`, name).Scan(&there); err != nil {
		return "", err
	}
	if !there {
		if err := s.makeTemplate(ctx, conn, name); err != nil {
			return "", err
		}
	}
	s.prepared = name
	return name, nil
}

// makeTemplate migrates under a passing name, so that a database of the template's name
// is always whole.
func (s *server) makeTemplate(ctx context.Context, conn *pgx.Conn, name string) error {
	raw := name + "_raw"
	for _, statement := range []string{
		`drop database if exists ` + raw + ` with (force)`,
		`create database ` + raw,
	} {
		if _, err := conn.Exec(ctx, statement); err != nil {
			return err
		}
	}
	if err := migrations.Up(ctx, in(s.Owner, raw)); err != nil {
		return err
	}
	return whileInUse(ctx, func() error {
		_, err := conn.Exec(ctx, `alter database `+raw+` rename to `+name)
		return err
	})
}

func (s *server) clone(ctx context.Context, template, name string) error {
	pool, err := s.connect(ctx)
	if err != nil {
		return err
	}
	// Copied as files it costs a third of what it costs through the log, which is how
	// PostgreSQL copies unless told.
	err = whileInUse(ctx, func() error {
		_, err := pool.Exec(ctx, `create database `+name+` template `+template+` strategy file_copy`)
		return err
	})
	if err != nil {
		return err
	}
	// Rights on the database itself are not copied; these are those of roles.sql.
	_, err = pool.Exec(ctx, `revoke all on database `+name+` from public; grant connect on database `+name+` to app, worker`,
		pgx.QueryExecModeSimpleProtocol)
	return err
}

// drop waits for connections that are on their way out. One that a test forgot is cut
// where there is a superuser to do it: the owner may not end the service's connections.
func (s *server) drop(name string) error {
	ctx, cancel := context.WithTimeout(context.Background(), 15*time.Second)
	defer cancel()
	soon, enough := context.WithTimeout(ctx, time.Second)
	defer enough()
	err := whileInUse(soon, func() error {
		_, err := s.pool.Exec(ctx, `drop database if exists `+name)
		return err
	})
	if err == nil || s.Admin == "" {
		return err
	}
	admin, err := pgx.Connect(ctx, s.Admin)
	if err != nil {
		return err
	}
	defer admin.Close(ctx)
	_, err = admin.Exec(ctx, `drop database if exists `+name+` with (force)`)
	return err
}

// whileInUse repeats what PostgreSQL refuses while a connection to the database is on
// its way out, or an autovacuum looks in.
func whileInUse(ctx context.Context, do func() error) error {
	for {
		err := do()
		var refused *pgconn.PgError
		if !errors.As(err, &refused) || refused.Code != "55006" { // object_in_use
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// templateName carries a digest of the migrations, those written in Go and the version
// of the job queue's own included.
func templateName() (string, error) {
	root, err := local.FindRoot()
	if err != nil {
		return "", err
	}
	h := sha256.New()
	source := os.DirFS(filepath.Join(root, "migrations"))
	names, err := fs.Glob(source, "[0-9]*")
	if err != nil {
		return "", err
	}
	for _, name := range names {
		text, err := fs.ReadFile(source, name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%s %d\n%s", name, len(text), text)
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	for line := range strings.Lines(string(mod)) {
		if strings.Contains(line, "riverqueue/river") {
			fmt.Fprint(h, strings.Fields(line))
		}
	}
	return fmt.Sprintf("template_%x", h.Sum(nil)[:8]), nil
}

func lockKey(name string) int64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(name))
	return int64(h.Sum64()) // any 64 bits do
}

// tidy drops what earlier runs left: databases of failed tests after a day, templates
// of other states of the migrations.
func (s *server) tidy(ctx context.Context) error {
	name, err := templateName()
	if err != nil {
		return err
	}
	pool, err := s.connect(ctx)
	if err != nil {
		return err
	}
	rows, err := pool.Query(ctx, `
		select datname from pg_database
		 where datname like 'template\_%' and datname <> $1
		    or datname ~ '^t_[0-9]+_' and split_part(datname, '_', 2)::bigint < extract(epoch from now()) - 86400
		 order by datname`, name)
	if err != nil {
		return err
	}
	old, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	for _, name := range old {
		if err := s.drop(name); err != nil {
			return err
		}
	}
	return nil
}
