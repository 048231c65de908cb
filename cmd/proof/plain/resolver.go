package plain

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"boottop.example/practice/domain/practice"
)

// Resolver reads a vessel's history of one practice.
type Resolver struct {
	Pool     *pgxpool.Pool
	Practice uuid.UUID
}

// Vessel is the resolver for the vessel field.
func (r *queryResolver) Vessel(ctx context.Context, id string) (*Vessel, error) {
	vessel, err := uuid.Parse(id)
	if err != nil {
		return nil, err
	}
	return r.vessel(ctx, vessel)
}

// Query returns QueryResolver implementation.
func (r *Resolver) Query() QueryResolver { return &queryResolver{r} }

type queryResolver struct{ *Resolver }

type vesselRow struct {
	Name string
	Seq  int64
}

type placeRow struct {
	ID, Element  uuid.UUID
	Label, Side  string
	Station, Row *int16
	Along, Down  int32
	Error        int32
}

// readingRow is one reading as the query gives it, in binary.
type readingRow struct {
	Pass, Place uuid.UUID
	Ordinal     int32
	Value       int32
	Flags       int32
}

const (
	sqlVessel = `select v.name, h.seq from vessels v join heads h using (practice_id) where v.practice_id = $1 and v.id = $2`
	sqlPlaces = `select id, element_id, label, side, station, row_no, along_mm, down_mm, position_error_mm
		from places where practice_id = $1 and vessel_id = $2 order by ordinal`
	sqlContexts = `select x.id, x.visit_id, x.visit_kind, x.job_id, x.job_number, x.client_id, x.cite, x.restricted, x.vessel_id, x.element_id, x.boot_top_mm, x.plan_id,
		x.visit_at, x.time_zone, x.lifted_at, x.date_precision, x.days_ashore_as_written, x.visit_precision, x.visit_as_written, x.hand_id, x.hand_name, x.hand_as_written,
		x.instrument_id, x.instrument_name, x.instrument_model, x.instrument_serial, x.sensing, x.has_zero_reset, x.instrument_as_written,
		x.scale_id, x.scale_name, x.scale_mode, x.low_tenths, x.high_tenths, x.step_tenths, x.timber_percent,
		x.face, x.surface, x.dry_surface, x.hours_since_wash, x.hours_since_heat_off, x.heated, x.rain, x.salt_wiped, x.zero_reset, x.battery,
		x.source, x.quoted, x.state, x.began_at, x.closed_at, x.note, x.version,
		x.air_decidegrees, x.humidity_permille, x.skin_port_decidegrees, x.skin_starboard_decidegrees
		from pass_grids g join pass_contexts x on x.practice_id = g.practice_id and x.id = g.pass_id
		where g.practice_id = $1 and g.vessel_id = $2 and not x.restricted order by x.began_at, x.id`
	sqlChecks = `select c.id, c.block, c.moment, c.value_tenths, c.at, g.pass_id
		from pass_grids g cross join lateral (
			select b.id, b.block, b.moment, b.value_tenths, b.at from block_checks b
			where b.practice_id = g.practice_id and b.pass_id = g.pass_id offset 0) c
		where g.practice_id = $1 and g.vessel_id = $2 order by c.at, c.id`
	sqlReadings = `select r.pass_id, r.place_id, l.ordinal, r.value,
		(case r.limit_flag when 'below' then 1 when 'above' then 2 when 'range' then 4 else 0 end) | (case when r.void_reason <> '' then 8 else 0 end)
		| (case when r.follow_up then 16 else 0 end) | (case when x.dry then 256 else 0 end) | (case when r.known_before then 512 else 0 end)
		from pass_grids g
		join passes p on p.practice_id = g.practice_id and p.id = g.pass_id
		join readings r on r.practice_id = g.practice_id and r.pass_id = g.pass_id
		join places l on l.practice_id = r.practice_id and l.id = r.place_id
		left join plan_places x on x.practice_id = p.practice_id and x.plan_id = p.plan_id and x.place_id = l.id
		where g.practice_id = $1 and g.vessel_id = $2 and r.occasion = 1 and r.current order by p.began_at, p.id, l.ordinal`
)

func (r *Resolver) vessel(ctx context.Context, id uuid.UUID) (*Vessel, error) {
	var vessel vesselRow
	var places []placeRow
	var contexts []practice.PassContext
	var checks []practice.BlockCheck
	var readings []readingRow
	b := &pgx.Batch{}
	b.Queue(`select set_config('app.practice', $1, true)`, r.Practice.String())
	b.Queue(sqlVessel, r.Practice, id).Query(func(rows pgx.Rows) (err error) {
		vessel, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[vesselRow])
		return err
	})
	collect(b, &places, sqlPlaces, r.Practice, id)
	collect(b, &contexts, sqlContexts, r.Practice, id)
	collect(b, &checks, sqlChecks, r.Practice, id)
	collect(b, &readings, sqlReadings, r.Practice, id)
	if err := r.Pool.SendBatch(ctx, b).Close(); err != nil {
		return nil, err
	}
	h := history(places, contexts, checks, readings)
	practice.Judge(&h)
	return &Vessel{ID: id.String(), Name: vessel.Name, Seq: int(vessel.Seq), Places: placeModels(places, h.Axis), Passes: passModels(h, readings)}, nil
}

func collect[T any](b *pgx.Batch, into *[]T, sql string, args ...any) {
	b.Queue(sql, args...).Query(func(rows pgx.Rows) (err error) {
		*into, err = pgx.CollectRows(rows, pgx.RowToStructByPos[T])
		return err
	})
}

// history puts the rows together for the same judgement that the service makes.
func history(places []placeRow, contexts []practice.PassContext, checks []practice.BlockCheck, readings []readingRow) practice.History {
	var h practice.History
	for _, p := range places {
		h.Axis.IDs, h.Axis.Elements, h.Axis.Sides = append(h.Axis.IDs, p.ID), append(h.Axis.Elements, p.Element), append(h.Axis.Sides, p.Side)
		h.Axis.Along, h.Axis.Down = append(h.Axis.Along, p.Along), append(h.Axis.Down, p.Down)
	}
	at := map[uuid.UUID]int{}
	for k, c := range contexts {
		at[c.ID] = k
		grid := practice.Grid{Taken: make(practice.Column, len(places)), Flags: make(practice.Column, len(places))}
		for j := range grid.Taken {
			grid.Taken[j] = practice.Null
		}
		h.Passes = append(h.Passes, practice.HistoryPass{PassContext: c, Grid: grid})
	}
	for _, c := range checks {
		if k, there := at[c.PassID]; there {
			h.Passes[k].BlockChecks = append(h.Passes[k].BlockChecks, c)
		}
	}
	for _, r := range readings {
		g := &h.Passes[at[r.Pass]].Grid
		g.Taken[r.Ordinal-1], g.Flags[r.Ordinal-1] = r.Value, r.Flags
		if r.Flags&practice.FlagDry != 0 {
			g.Dry = append(g.Dry, r.Ordinal)
		}
	}
	return h
}

func placeModels(places []placeRow, axis practice.Axis) []*Place {
	mirrors := axis.Mirrors()
	out := make([]*Place, len(places))
	for k, p := range places {
		out[k] = &Place{
			ID: p.ID.String(), Label: p.Label, Element: p.Element.String(), Side: p.Side, Station: number(p.Station), Row: number(p.Row),
			Along: int(p.Along), Down: int(p.Down), PositionError: int(p.Error), Mirror: filled(mirrors[k]),
		}
	}
	return out
}

func passModels(h practice.History, readings []readingRow) []*Pass {
	out := make([]*Pass, len(h.Passes))
	of := map[uuid.UUID]int{}
	for k, p := range h.Passes {
		out[k], of[p.ID] = passModel(p), k
	}
	for _, r := range readings {
		k := of[r.Pass]
		out[k].Readings = append(out[k].Readings, &Reading{
			Place: r.Place.String(), Value: int(r.Value), Flags: int(r.Flags), Contrast: filled(h.Passes[k].Contrasts[r.Ordinal-1]),
		})
	}
	return out
}

func passModel(p practice.HistoryPass) *Pass {
	zone, err := time.LoadLocation(p.TimeZone)
	if err != nil {
		zone = time.UTC
	}
	m := &Pass{
		ID: p.ID.String(), Visit: p.VisitID.String(), VisitKind: p.VisitKind, Job: p.JobID.String(), JobNumber: p.JobNumber, At: p.BeganAt,
		On: p.BeganAt.In(zone).Format(time.DateOnly), DaysAshoreAsWritten: p.DaysAshoreAsWritten, Hand: p.HandName, InstrumentAsWritten: p.InstrumentAsWritten,
		Face: p.Face, Surface: p.Surface, DrySurface: p.DrySurface, State: p.State, Source: p.Source, AirDecidegrees: number(p.AirDecidegrees),
		HumidityPermille: number(p.HumidityPermille), SkinDecidegrees: number(p.SkinPortDecidegrees), Standing: string(p.Standing), StandingReason: p.Because,
		Missing: []*Warning{}, BlockChecks: []*BlockCheck{}, Baseline: &Baseline{Count: p.Baseline.N, Reasons: []*Warning{}},
	}
	if days, hours, ok := p.DaysAshore(); ok {
		m.DaysAshore = &days
		if hours < 72 {
			m.HoursAshore = &hours
		}
	}
	if p.InstrumentID != nil {
		m.Instrument = &Instrument{ID: p.InstrumentID.String(), Name: p.InstrumentName}
	}
	if p.ScaleID != nil {
		m.Scale = &Scale{ID: p.ScaleID.String(), Name: p.ScaleName, Mode: p.ScaleMode, LowTenths: int(p.LowTenths), HighTenths: int(p.HighTenths)}
	}
	for _, c := range p.BlockChecks {
		m.BlockChecks = append(m.BlockChecks, &BlockCheck{ID: c.ID.String(), Block: c.Block, Moment: c.Moment, ValueTenths: int(c.ValueTenths)})
	}
	for _, w := range p.Missing {
		m.Missing = append(m.Missing, &Warning{Code: w.Code, Text: w.Text})
	}
	for _, r := range p.Baseline.Reasons {
		m.Baseline.Reasons = append(m.Baseline.Reasons, &Warning{Code: r.Why.String(), Text: r.Sentence()})
	}
	if p.Baseline.Valid() {
		median := int(p.Baseline.Median.Low)
		m.Baseline.MedianFortieths = &median
	}
	if p.Baseline.N > 0 {
		m.Baseline.Scatter = &p.Baseline.Scatter
	}
	return m
}

func number(x *int16) *int {
	if x == nil {
		return nil
	}
	n := int(*x)
	return &n
}

func filled(x int32) *int {
	if x == practice.Null {
		return nil
	}
	n := int(x)
	return &n
}
