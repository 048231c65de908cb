package writing

import (
	"context"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain/practice"
)

// count looks at what was kept: every reading once, with its value, in its pass's grid,
// and the record of changes whole.
func (p *proof) count(ctx context.Context, r *ground.Report) error {
	conn, err := pgx.Connect(ctx, p.db.OwnerURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var places int
	var sum int64
	err = conn.QueryRow(ctx, `select count(*), count(distinct (r.pass_id, r.place_id)), coalesce(sum(r.value), 0)
		from readings r join passes p on p.practice_id = r.practice_id and p.id = r.pass_id where r.practice_id = $1 and p.state = 'open'`, p.fleet.Practice).
		Scan(&p.Kept, &places, &sum)
	if err != nil {
		return err
	}
	p.Lost, p.Doubled = p.Sent-places, p.Kept-places
	r.Claim(p.Lost == 0, "no reading lost", "%d of %d", p.Lost, p.Sent)
	r.Claim(p.Doubled == 0, "none kept twice", "%d, after %d were sent again", p.Doubled, p.Resent)
	r.Claim(sum == p.sum, "each with the value it was sent with", "sum %d of %d", sum, p.sum)
	grids, differed, err := p.store.RebuildGrids(ctx, p.fleet.Practice)
	if err != nil {
		return err
	}
	r.Claim(differed == 0, "every grid as its readings", "%d of %d differ", differed, grids)
	v, err := practice.VerifyChain(ctx, p.store, p.fleet.Practice, nil)
	if err != nil {
		return err
	}
	r.Claim(len(v.Breaks) == 0, "the record of changes unbroken", "%d changes, %d breaks", v.Lines, len(v.Breaks))
	return nil
}
