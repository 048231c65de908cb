package store

import (
	"context"
	"errors"
	"math"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// historyRow is queries.HistoryPassesRow with the grid's arrays left as they came: the
// driver would make a value for every element.
type historyRow struct {
	queries.GetPassContextRow
	Taken, Flags, Dry, Placed pgtype.UndecodedBytes
}

// History implements practice.HistoryReader: everything in one trip.
func (s *Store) History(ctx context.Context, p, vessel uuid.UUID, who practice.Sees) (practice.History, error) {
	var h practice.History
	read := historyInto(&h, p, vessel, who)
	read.evidence.cache = &s.measured
	err := s.ReadInPractice(ctx, p, read.queue)
	if err != nil {
		return h, err
	}
	return h, read.finish()
}

// historyRead is a history on its way: other reads queue it into their own batch.
type historyRead struct {
	into   *practice.History
	args   []any
	p, v   uuid.UUID
	who    practice.Sees
	known  []bool
	axis   practice.Axis
	checks []queries.HistoryBlockChecksRow
	head   *queries.HeadRow

	layers   []queries.LayersOfVesselRow
	lowered  []queries.OverridesOfVesselRow
	plans    []queries.PlanLinesOfVesselRow
	gaps     []queries.GapsOfVesselRow
	windows  []queries.WindowsOfVesselRow
	area     []*float64
	evidence evidenceRead
	beside   bool // what reads the vessel herself, which tells whether the reader may know of her
	light    bool // without what only the gate and what was not seen need
}

func historyInto(h *practice.History, p, vessel uuid.UUID, who practice.Sees) *historyRead {
	guest, self, member := whom(who)
	return &historyRead{into: h, p: p, v: vessel, who: who, args: []any{p, vessel, guest, self, member}}
}

func (r *historyRead) queue(b *pgx.Batch) {
	one(b, &r.head, queries.Head, r.p)
	if !r.beside {
		column(b, &r.known, queries.VesselKnown, r.p, r.v, r.who.Guest, r.who.Member)
	}
	axisInto(b, &r.axis, queries.AxisOfVessel, r.p, r.v)
	b.Queue(queries.HistoryPasses, r.args...).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			row, err := pgx.RowToStructByPos[historyRow](rows)
			if err != nil {
				return err
			}
			pass := practice.HistoryPass{PassContext: practice.PassContext(row.GetPassContextRow)}
			if pass.Grid, err = gridFrom(row.Taken, row.Flags, row.Dry, row.Placed); err != nil {
				return err
			}
			r.into.Passes = append(r.into.Passes, pass)
		}
		return rows.Err()
	})
	many(b, &r.checks, queries.HistoryBlockChecks, r.p, r.v)
	many(b, &r.layers, queries.LayersOfVessel, r.p, r.v)
	many(b, &r.lowered, queries.OverridesOfVessel, r.p, r.v)
	r.evidence.queue(b, r.p, r.v, r.light)
	if r.light {
		return
	}
	many(b, &r.plans, queries.PlanLinesOfVessel, r.p, r.v)
	many(b, &r.gaps, queries.GapsOfVessel, r.p, r.v)
	many(b, &r.windows, queries.WindowsOfVessel, r.p, r.v)
	column(b, &r.area, queries.UnderbodyOfVessel, r.p, r.v)
}

func (r *historyRead) finish() error {
	if !r.beside && (len(r.known) != 1 || !r.known[0]) || r.head == nil {
		return domain.ErrNotFound
	}
	r.into.Seq = r.head.Seq
	r.into.Axis = r.axis
	at := make(map[uuid.UUID]int, len(r.into.Passes))
	for k, p := range r.into.Passes {
		at[p.ID] = k
	}
	for _, c := range r.checks {
		if k, shown := at[c.PassID]; shown {
			r.into.Passes[k].BlockChecks = append(r.into.Passes[k].BlockChecks, practice.BlockCheck(c))
		}
	}
	for _, o := range r.lowered {
		if k, shown := at[o.PassID]; shown {
			r.into.Passes[k].Lowered = &practice.Lowered{ID: o.ID, Pass: o.PassID, Standing: practice.Standing(o.Standing), Reason: o.Reason, By: o.ByName, At: o.At}
		}
	}
	r.into.Draw(convert(r.layers, func(x queries.LayersOfVesselRow) practice.Layer { return practice.Layer(x) }))
	r.into.Plans = convert(r.plans, func(x queries.PlanLinesOfVesselRow) practice.PlanLine { return practice.PlanLine(x) })
	r.into.Gaps = convert(r.gaps, func(x queries.GapsOfVesselRow) practice.GapAt { return practice.GapAt(x) })
	r.into.Windows = convert(r.windows, func(x queries.WindowsOfVesselRow) practice.WindowAt { return practice.WindowAt(x) })
	r.into.Evidence = r.evidence.settle(r.p, r.v, r.head.Seq)
	if len(r.area) > 0 {
		r.into.UnderbodyM2 = r.area[0]
	}
	return nil
}

func gridInto(b *pgx.Batch, grid *practice.Grid, sql string, args ...any) {
	b.Queue(sql, args...).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var taken, flags, dry, placed pgtype.UndecodedBytes
			err := rows.Scan(&taken, &flags, &dry, &placed)
			if err == nil {
				*grid, err = gridFrom(taken, flags, dry, placed)
			}
			if err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

func gridFrom(taken, flags, dry, placed []byte) (g practice.Grid, err error) {
	err = errors.Join(array(taken, (*[]int32)(&g.Taken), int4Of), array(flags, (*[]int32)(&g.Flags), int4Of),
		array(dry, &g.Dry, int4Of), array(placed, (*[]int32)(&g.Placed), int4Of))
	return g, err
}

// axisInto queues one of the queries of an axis and reads its arrays as they come: the
// driver would make a value for each of thousands of elements.
func axisInto(b *pgx.Batch, axis *practice.Axis, sql string, args ...any) {
	b.Queue(sql, args...).QueryRow(func(row pgx.Row) error {
		var ids, labels, elements, sides, stations, rowNos, along, down, errs pgtype.UndecodedBytes
		if err := row.Scan(&ids, &labels, &elements, &sides, &stations, &rowNos, &along, &down, &errs); err != nil {
			return err
		}
		var err error
		read := func(failed error) { err = errors.Join(err, failed) }
		read(array(ids, &axis.IDs, uuidOf))
		read(array(labels, &axis.Labels, textOf))
		read(array(elements, &axis.Elements, uuidOf))
		read(array(sides, &axis.Sides, sideOf))
		read(array(stations, (*[]int32)(&axis.Stations), int2Of))
		read(array(rowNos, (*[]int32)(&axis.Rows), int2Of))
		read(array(along, (*[]int32)(&axis.Along), int4Of))
		read(array(down, (*[]int32)(&axis.Down), int4Of))
		read(array(errs, (*[]int32)(&axis.Errors), int4Of))
		return err
	})
}

func axisFrom(r queries.AxisOfVesselRow) practice.Axis {
	return practice.Axis{
		IDs: r.Ids, Labels: r.Labels, Elements: r.Elements, Sides: r.Sides, Along: r.Along, Down: r.Down, Errors: r.Errors,
		Stations: small(r.Stations), Rows: small(r.RowNos),
	}
}

// small widens a column whose nulls came as the least number.
func small(list []int16) practice.Column {
	out := make(practice.Column, len(list))
	for k, x := range list {
		out[k] = int32(x)
		if x == math.MinInt16 {
			out[k] = practice.Null
		}
	}
	return out
}
