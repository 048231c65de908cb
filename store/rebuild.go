package store

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain/practice"
)

// Practices lists every practice, as the owner of the database at url sees them: the
// service itself sees one at a time.
func Practices(ctx context.Context, url string) ([]uuid.UUID, error) {
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return nil, errors.New("list practices: the database URL cannot be read")
	}
	brake(config)
	conn, err := pgx.ConnectConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("list practices: %w", err)
	}
	defer func() { _ = conn.Close(context.WithoutCancel(ctx)) }()
	rows, err := conn.Query(ctx, `select practice_id from practices order by practice_id`)
	if err != nil {
		return nil, fmt.Errorf("list practices: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
	if err != nil {
		return nil, fmt.Errorf("list practices: %w", err)
	}
	return list, nil
}

// RebuildGrids makes the read model of every pass of a practice anew from its readings,
// which are the truth, and tells how many passes there are and how many of their grids
// were other than they should be: 0, unless something wrote past the use cases. Each pass
// is a transaction of its own, so that writers wait for one pass at most.
func (s *Store) RebuildGrids(ctx context.Context, p uuid.UUID) (passes, differed int, err error) {
	var ids []uuid.UUID
	err = s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		column(b, &ids, `select id from passes where practice_id = $1 order by id`, p)
	})
	if err != nil {
		return 0, 0, fmt.Errorf("rebuild grids: %w", err)
	}
	for _, id := range ids {
		changed, err := s.rebuildGrid(ctx, p, id)
		if err != nil {
			return passes, differed, fmt.Errorf("rebuild grid of pass %s: %w", id, err)
		}
		if passes++; changed {
			differed++
		}
	}
	return passes, differed, nil
}

const gridSum = `select coalesce((select md5(row(g.taken, g.flags, g.dry)::text) from pass_grids g where g.practice_id = $1 and g.pass_id = $2), '')`

func (s *Store) rebuildGrid(ctx context.Context, p, pass uuid.UUID) (changed bool, err error) {
	err = s.InPractice(ctx, p, func(t practice.Tx) error {
		tx := t.(*inPractice)
		if _, err := tx.LockPass(ctx, pass); err != nil {
			return err
		}
		var before, after string
		if err := tx.tx.QueryRow(ctx, gridSum, p, pass).Scan(&before); err != nil {
			return err
		}
		if err := tx.WriteGrid(ctx, pass); err != nil {
			return err
		}
		if err := tx.tx.QueryRow(ctx, gridSum, p, pass).Scan(&after); err != nil {
			return err
		}
		changed = before != after
		return nil
	})
	return changed, err
}
