package migrations

import (
	"context"
	"database/sql"
	"fmt"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"
)

// queueSchema is where the job queue's own tables live, out of `app`'s reach: their
// arguments come from every practice.
const queueSchema = "queue"

// enqueue is the one way for `app` to ask for a job: in the transaction that causes it,
// with ids for arguments. The notice wakes a worker at once; without it they poll.
const enqueue = `
create or replace function door.enqueue(job_kind text, job_args jsonb, run_at timestamptz)
returns void language sql security definer set search_path = queue, pg_temp as $$
  insert into river_job (kind, args, max_attempts, priority, queue, state, scheduled_at, tags)
  values (job_kind, job_args, 25, 1, 'default', (case when run_at > now() then 'scheduled' else 'available' end)::river_job_state, run_at, '{}');
  select pg_notify('queue.river_insert', '{"queue":"default"}');
$$`

// queue creates the job queue's tables with its own migrations, so that there is one
// history. They need several transactions (a new enum value cannot be used in the
// one that adds it), so each step here can be taken again after a fault half-way.
func queue() *goose.Migration {
	return goose.NewGoMigration(9, &goose.GoFunc{RunDB: func(ctx context.Context, db *sql.DB) error {
		conn, err := db.Conn(ctx)
		if err != nil {
			return fmt.Errorf("queue: connect: %w", err)
		}
		defer conn.Close()
		return conn.Raw(func(driver any) error {
			pool, err := pgxpool.New(ctx, driver.(*stdlib.Conn).Conn().Config().ConnString())
			if err != nil {
				return fmt.Errorf("queue: connect: %w", err)
			}
			defer pool.Close()
			return createQueue(ctx, pool)
		})
	}}, nil)
}

func createQueue(ctx context.Context, pool *pgxpool.Pool) error {
	if _, err := pool.Exec(ctx, `create schema if not exists `+queueSchema); err != nil {
		return fmt.Errorf("queue: create schema: %w", err)
	}
	migrator, err := rivermigrate.New(riverpgxv5.New(pool), &rivermigrate.Config{Schema: queueSchema})
	if err != nil {
		return fmt.Errorf("queue: %w", err)
	}
	if _, err := migrator.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
		return fmt.Errorf("queue: migrate: %w", err)
	}
	for _, statement := range []string{
		`grant usage on schema queue to worker`,
		`grant select, insert, update, delete on all tables in schema queue to worker`,
		`grant usage, select on all sequences in schema queue to worker`,
		`grant execute on all functions in schema queue to worker`,
		enqueue,
	} {
		if _, err := pool.Exec(ctx, statement); err != nil {
			return fmt.Errorf("queue: %w", err)
		}
	}
	return nil
}
