package writing

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

var columns = []string{"practice_id", "id", "pass_id", "place_id", "occasion", "value", "placements", "taken_at", "received_at", "follow_up", "entered_by"}

// copy puts the rows that the service has just kept into a table like theirs, as the
// owner: the same indexes and checks, without keys into other tables, row security, the
// grids and the record. It gives rows a second.
func (p *proof) copy(ctx context.Context, callers int, list []openPass) (float64, error) {
	conns := make([]*pgx.Conn, callers)
	for k := range conns {
		conn, err := pgx.Connect(ctx, p.db.OwnerURL)
		if err != nil {
			return 0, err
		}
		defer conn.Close(context.WithoutCancel(ctx))
		conns[k] = conn
	}
	if _, err := conns[0].Exec(ctx, `create table if not exists readings_copied (like readings including all)`); err != nil {
		return 0, err
	}
	rows, err := p.kept(ctx, conns[0], list)
	if err != nil {
		return 0, err
	}
	began := time.Now()
	err = together(callers, callers, func(k int) error {
		part := rows[k*len(rows)/callers : (k+1)*len(rows)/callers]
		_, err := conns[k].CopyFrom(ctx, pgx.Identifier{"readings_copied"}, columns, pgx.CopyFromRows(part))
		return err
	})
	return float64(len(rows)) / time.Since(began).Seconds(), err
}

func (p *proof) kept(ctx context.Context, conn *pgx.Conn, list []openPass) ([][]any, error) {
	ids := make([]uuid.UUID, len(list))
	for k, pass := range list {
		ids[k] = pass.ID
	}
	rows, err := conn.Query(ctx, `
		select practice_id, id, pass_id, place_id, occasion, value, placements, taken_at, received_at, follow_up, entered_by
		  from readings where practice_id = $1 and pass_id = any($2) order by id`, p.fleet.Practice, ids)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]any, error) { return row.Values() })
}
