package store

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// evidenceRead is what a practice measured of its own scatter, on its way.
type evidenceRead struct {
	evidence practice.Evidence
}

// likeRow is queries.LikePairsOfGroupsRow with its arrays left as they came.
type likeRow struct {
	Group                                     string
	Vessel, Earlier, Later                    uuid.UUID
	EarlierTaken, EarlierFlags, EarlierPlaced pgtype.UndecodedBytes
	LaterTaken, LaterFlags, LaterPlaced       pgtype.UndecodedBytes
}

func (r *evidenceRead) queue(b *pgx.Batch, p, vessel uuid.UUID) {
	many(b, &r.evidence.Kits, queries.KitReadingsOfGroups, p, vessel)
	many(b, &r.evidence.Replaced, queries.ReplacementsOfGroups, p, vessel)
	many(b, &r.evidence.Repeats, queries.RepeatsOfGroups, p, vessel)
	b.Queue(queries.LikePairsOfGroups, p, vessel).Query(r.pairs)
	b.Queue(queries.CrossReadingsOfGroups, p, vessel).Query(r.crossed)
}

func (r *evidenceRead) pairs(rows pgx.Rows) error {
	for rows.Next() {
		row, err := pgx.RowToStructByPos[likeRow](rows)
		if err != nil {
			return err
		}
		pair := practice.LikePasses{Group: row.Group, Vessel: row.Vessel, Earlier: row.Earlier, Later: row.Later}
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
