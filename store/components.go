package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/recent"
	"boottop.example/practice/store/queries"
)

// evidenceRead is what a practice measured of its own scatter, on its way. What was read
// before is read again only where the record of changes has moved since: in the same
// trip, whose queries then find nothing to do, or, where the history goes without the
// gate, in a trip of its own: see [Store.catchUp].
type evidenceRead struct {
	evidence practice.Evidence
	cache    *evidenceCache // nil: everything is read
	before   kept
	head     *queries.HeadRow // of the trip that read the evidence; nil where it came with the history
}

// kept is the evidence of a vessel as of a number of the record.
type kept struct {
	seq      int64
	evidence *practice.Evidence
}

// evidenceCache keeps the evidence of vessels read lately, by practice and vessel, with the
// seq that it was read at: some tens of kilobytes a vessel. A write of the practice moves
// the seq, and what was kept is left aside.
type evidenceCache = recent.Map[[2]uuid.UUID, kept]

const mostKept = 200

// settle gives the evidence of a read whose record stood at seq when it began. Where it
// stood there before, what was kept is as of that number, like the rest of the answer.
func (r *evidenceRead) settle(p, vessel uuid.UUID, seq int64) *practice.Evidence {
	if r.before.evidence != nil && r.before.seq == seq {
		return r.before.evidence
	}
	if r.head != nil {
		seq = r.head.Seq
	}
	r.cache.Put([2]uuid.UUID{p, vessel}, kept{seq, &r.evidence})
	return &r.evidence
}

// likeRow is queries.LikePairsOfGroupsRow with its arrays left as they came.
type likeRow struct {
	Group                                     string
	Vessel, Earlier, Later                    uuid.UUID
	EarlierTaken, EarlierFlags, EarlierPlaced pgtype.UndecodedBytes
	LaterTaken, LaterFlags, LaterPlaced       pgtype.UndecodedBytes
	Sensing                                   string
	SkinDecidegrees, HoursSinceWash           *int16
	Heated                                    *bool
	HoursSinceHeatOff                         *int16
	BlockTenths                               int32
}

// queue asks for the evidence of a history. A light one goes without the gate: what is
// kept is then not asked about.
func (r *evidenceRead) queue(b *pgx.Batch, p, vessel uuid.UUID, light bool) {
	r.before, _ = r.cache.Get([2]uuid.UUID{p, vessel})
	switch {
	case r.before.evidence == nil:
		r.all(b, p, vessel, noSeq)
	case !light:
		r.all(b, p, vessel, r.before.seq)
	}
}

// noSeq is no number of a record: what is known as of it is nothing.
const noSeq = -1

// all asks for everything, unless the record still stands at known.
func (r *evidenceRead) all(b *pgx.Batch, p, vessel uuid.UUID, known int64) {
	many(b, &r.evidence.Kits, queries.KitReadingsOfGroups, p, vessel, known)
	many(b, &r.evidence.Replaced, queries.ReplacementsOfGroups, p, vessel, known)
	many(b, &r.evidence.Repeats, queries.RepeatsOfGroups, p, vessel, known)
	b.Queue(queries.LikePairsOfGroups, p, vessel, known).Query(r.pairs)
	b.Queue(queries.CrossReadingsOfGroups, p, vessel, known).Query(r.crossed)
}

// catchUp reads the evidence of a light history again where the record has moved since
// it was kept. A practice that writes pays this one trip a vessel; one that only reads, none.
func (s *Store) catchUp(ctx context.Context, h *historyRead) error {
	e := &h.evidence
	if !h.light || e.before.evidence == nil || h.head == nil || h.head.Seq == e.before.seq {
		return nil
	}
	e.before = kept{}
	return s.ReadInPractice(ctx, h.p, func(b *pgx.Batch) {
		one(b, &e.head, queries.Head, h.p)
		e.all(b, h.p, h.v, noSeq)
	})
}

func (r *evidenceRead) pairs(rows pgx.Rows) error {
	for rows.Next() {
		row, err := pgx.RowToStructByPos[likeRow](rows)
		if err != nil {
			return err
		}
		pair := practice.LikePasses{
			Group: row.Group, Vessel: row.Vessel, Earlier: row.Earlier, Later: row.Later, Sensing: row.Sensing, SkinDecidegrees: row.SkinDecidegrees,
			HoursSinceWash: row.HoursSinceWash, Heated: row.Heated, HoursSinceHeatOff: row.HoursSinceHeatOff, BlockTenths: row.BlockTenths,
		}
		if pair.EarlierGrid, err = gridFrom(row.EarlierTaken, row.EarlierFlags, nil, row.EarlierPlaced); err != nil {
			return err
		}
		if pair.LaterGrid, err = gridFrom(row.LaterTaken, row.LaterFlags, nil, row.LaterPlaced); err != nil {
			return err
		}
		r.evidence.Pairs = append(r.evidence.Pairs, pair)
	}
	return rows.Err()
}

func (r *evidenceRead) crossed(rows pgx.Rows) error {
	for rows.Next() {
		row, err := pgx.RowToStructByPos[queries.CrossReadingsOfGroupsRow](rows)
		if err != nil {
			return err
		}
		r.evidence.Crossed = append(r.evidence.Crossed, practice.CrossReadingAt{
			Group: row.Grp, Set: row.SetID, First: row.FirstInstrument, Second: row.SecondInstrument, Spot: row.Spot,
			Tenths: [2]int32{row.FirstTenths, row.SecondTenths},
		})
	}
	return rows.Err()
}
