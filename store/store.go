// Package store keeps what the practice knows in PostgreSQL. It logs in as the role
// `app`, which owns nothing, so row security binds every statement; no practice chosen
// means no rows.
package store

//go:generate go run -modfile=../deploy/tools.mod github.com/sqlc-dev/sqlc/cmd/sqlc generate

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// acquireWithin is how long a caller waits for a connection before it is told to try again.
const acquireWithin = 2 * time.Second

// Config says where the database is.
type Config struct {
	URL      string          // logs in as role app
	MaxConns int32           // 0: what pgx takes for this machine
	Tracer   pgx.QueryTracer // hears of every statement; may be nil
}

// Store is the database of all practices, seen one practice at a time.
type Store struct {
	pool     *pgxpool.Pool
	measured evidenceCache
}

// Open connects and refuses a role that row security would not bind.
func Open(ctx context.Context, c Config) (*Store, error) {
	config, err := pgxpool.ParseConfig(c.URL)
	if err != nil {
		return nil, fmt.Errorf("open store: the database URL cannot be read: %w", err)
	}
	if c.MaxConns > 0 {
		config.MaxConns = c.MaxConns
	}
	config.ConnConfig.Tracer = c.Tracer
	brake(config.ConnConfig)
	config.AfterConnect = knowIDs
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("open store: %w", err)
	}
	s := &Store{pool: pool, measured: evidenceCache{Most: mostKept}}
	if err := s.checkBound(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return s, nil
}

// brake puts the limits on a connection that hold whatever the caller does (promise D4).
func brake(c *pgx.ConnConfig) {
	for name, value := range map[string]string{
		"statement_timeout":                   "5s",
		"lock_timeout":                        "2s",
		"idle_in_transaction_session_timeout": "10s",
		"timezone":                            "UTC",
		"application_name":                    "boottop",
	} {
		if _, set := c.RuntimeParams[name]; !set {
			c.RuntimeParams[name] = value
		}
	}
}

func (s *Store) checkBound(ctx context.Context) error {
	var bound bool
	err := s.pool.QueryRow(ctx, `select row_security_active('public.readings'::regclass) and row_security_active('public.vessels'::regclass)`).Scan(&bound)
	if err != nil {
		return fmt.Errorf("open store: is the database migrated? %w", err)
	}
	if !bound {
		return errors.New("open store: row security does not bind this role: log in as app, not as an owner or superuser")
	}
	return nil
}

// Close ends every connection.
func (s *Store) Close() { s.pool.Close() }

// Pool is for the few parts that work beside practices: health, sign-in, metrics.
func (s *Store) Pool() *pgxpool.Pool { return s.pool }

// acquire takes a connection within the time a caller may wait.
func (s *Store) acquire(ctx context.Context) (*pgxpool.Conn, error) {
	limited, cancel := context.WithTimeout(ctx, acquireWithin)
	defer cancel()
	conn, err := s.pool.Acquire(limited)
	if err != nil {
		if ctx.Err() == nil {
			return nil, &domain.Fault{Kind: domain.Unavailable, Text: "The service is busy or its database is away. Please try again in a moment.", Err: err}
		}
		return nil, fmt.Errorf("acquire connection: %w", err)
	}
	return conn, nil
}

const choose = `select set_config('app.practice', $1, true)`

// InPractice runs fn in one transaction that sees only p's rows and commits when fn
// returns nil. The choice of practice lives in the transaction and leaves with it.
func (s *Store) InPractice(ctx context.Context, p uuid.UUID, fn func(practice.Tx) error) error {
	conn, err := s.acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	err = pgx.BeginFunc(ctx, conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, choose, p.String()); err != nil {
			return fmt.Errorf("choose practice: %w", err)
		}
		return fn(&inPractice{practice: p, tx: tx, q: queries.New(tx)})
	})
	return fault("", err)
}

// ReadInPractice sends every queued query in one round trip, as one implicit
// transaction that sees only p's rows. The callbacks run as answers arrive.
func (s *Store) ReadInPractice(ctx context.Context, p uuid.UUID, queue func(*pgx.Batch)) error {
	conn, err := s.acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	batch := &pgx.Batch{}
	batch.Queue(choose, p.String())
	queue(batch)
	return fault("", conn.SendBatch(ctx, batch).Close())
}

// inPractice is a transaction with a practice chosen. It implements practice.Tx.
type inPractice struct {
	practice uuid.UUID
	tx       pgx.Tx
	q        *queries.Queries
}

// many queues a query whose rows fill dst, columns in the order of T's fields.
func many[T any](b *pgx.Batch, dst *[]T, sql string, args ...any) {
	b.Queue(sql, args...).Query(func(rows pgx.Rows) error {
		list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[T])
		*dst = list
		return err
	})
}

// one queues a query for at most one row; dst stays nil where there is none.
func one[T any](b *pgx.Batch, dst **T, sql string, args ...any) {
	b.Queue(sql, args...).Query(func(rows pgx.Rows) error {
		row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByPos[T])
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		*dst = row
		return err
	})
}

// column queues a query of one column.
func column[T any](b *pgx.Batch, dst *[]T, sql string, args ...any) {
	b.Queue(sql, args...).Query(func(rows pgx.Rows) error {
		list, err := pgx.CollectRows(rows, pgx.RowTo[T])
		*dst = list
		return err
	})
}

// found turns "no row" into the one answer for what is not there or hidden.
func found[T any](row T, err error) (T, error) {
	if errors.Is(err, pgx.ErrNoRows) {
		return row, domain.ErrNotFound
	}
	return row, err
}

// changed turns "no row changed" of a versioned edit into a Conflict.
func changed(n int64, err error) error {
	if err == nil && n == 0 {
		return domain.Conflictf("Somebody changed this since you opened it. Look at the newer version, then make your change again.")
	}
	return err
}

// isCode tells whether an error carries one of these SQLSTATEs.
func isCode(err error, codes ...string) bool {
	var pg *pgconn.PgError
	if !errors.As(err, &pg) {
		return false
	}
	for _, c := range codes {
		if pg.Code == c {
			return true
		}
	}
	return false
}
