package ground

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Fleet is a practice with vessels that have been read over the years, loaded with COPY.
// The numbers look like readings and mean nothing.
type Fleet struct {
	Practice uuid.UUID
	Member   uuid.UUID
	Vessels  []uuid.UUID
}

// Shape says how much a fleet holds.
type Shape struct {
	Vessels int
	Passes  int // each vessel's, one a year
	Places  int // each vessel's, an even number

	Unread int  // of each vessel's passes, the last ones, which are open and hold no readings yet
	Like   bool // the last pass of each is a second one within the week, and a kit is there: what comparing stands on
}

// Readings is how many the fleet comes to.
func (s Shape) Readings() int { return s.Vessels * (s.Passes - s.Unread) * s.Places }

// NewID makes an id of a new thing.
func NewID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

// LoadFleet makes the practice and its fleet, as the database's owner, with the grids
// that the service would have written.
func LoadFleet(ctx context.Context, ownerURL string, s Shape, seed uint64) (Fleet, error) {
	conn, err := pgx.Connect(ctx, ownerURL)
	if err != nil {
		return Fleet{}, err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	l := &loader{conn: conn, shape: s, chance: rand.New(rand.NewPCG(seed, 1)), Fleet: Fleet{Practice: NewID(), Member: NewID()}}
	if err := l.practice(ctx); err != nil {
		return l.Fleet, err
	}
	for range s.Vessels {
		l.vessel()
	}
	if err := l.copy(ctx); err != nil {
		return l.Fleet, err
	}
	if err := l.readings(ctx); err != nil {
		return l.Fleet, err
	}
	if err := l.grids(ctx); err != nil {
		return l.Fleet, err
	}
	return l.Fleet, l.analyze(ctx)
}

// FindFleet finds the fleet of a database that was kept.
func FindFleet(ctx context.Context, ownerURL string) (f Fleet, err error) {
	conn, err := pgx.Connect(ctx, ownerURL)
	if err != nil {
		return f, err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if err := conn.QueryRow(ctx, `select practice_id, id from members order by practice_id limit 1`).Scan(&f.Practice, &f.Member); err != nil {
		return f, err
	}
	rows, err := conn.Query(ctx, `select id from vessels where practice_id = $1 order by id`, f.Practice)
	if err != nil {
		return f, err
	}
	f.Vessels, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
	return f, err
}

type loader struct {
	Fleet
	conn   *pgx.Conn
	shape  Shape
	chance *rand.Rand

	instrument, scale uuid.UUID
	spell             uuid.UUID          // of the pass before
	rows              map[string][][]any // by table
	passes            []loadedPass
}

type loadedPass struct {
	id     uuid.UUID
	at     time.Time
	places []loadedPlace
}

type loadedPlace struct {
	id  uuid.UUID
	dry bool
	wet float64 // what this place shows over the dry ones, scale units
}

var tableColumns = []struct {
	table   string
	columns []string
}{
	{"vessels", []string{"practice_id", "id", "name", "kind", "created_at"}},
	{"elements", []string{"practice_id", "id", "vessel_id", "kind", "name", "boot_top_mm"}},
	{"places", []string{"practice_id", "id", "vessel_id", "element_id", "ordinal", "label", "side", "station", "row_no", "along_mm", "down_mm"}},
	{"plans", []string{"practice_id", "id", "vessel_id", "plan_version", "created_at"}},
	{"plan_places", []string{"practice_id", "plan_id", "place_id", "position", "dry"}},
	{"jobs", []string{"practice_id", "id", "vessel_id", "number", "kind", "created_at"}},
	{"spells", []string{"practice_id", "id", "vessel_id", "time_zone", "actual_lift", "actual_launch"}},
	{"visits", []string{"practice_id", "id", "job_id", "spell_id", "kind", "from_at", "to_at", "time_zone"}},
	{"conditions", []string{"practice_id", "id", "visit_id", "at", "air_decidegrees", "humidity_permille", "skin_port_decidegrees", "skin_starboard_decidegrees"}},
	{"passes", []string{"practice_id", "id", "visit_id", "element_id", "plan_id", "hand_id", "instrument_id", "scale_id", "surface", "dry_surface", "hours_since_wash", "rain", "state", "began_at", "closed_at"}},
	{"block_checks", []string{"practice_id", "id", "pass_id", "block", "moment", "value_tenths", "at"}},
}

func (l *loader) add(table string, values ...any) {
	l.rows[table] = append(l.rows[table], append([]any{l.Practice}, values...))
}

func (l *loader) practice(ctx context.Context) error {
	l.instrument, l.scale, l.rows = NewID(), NewID(), map[string][][]any{}
	for _, step := range []struct {
		sql  string
		args []any
	}{
		{`insert into practices (practice_id, name, invented, created_at) values ($1, 'A practice of the proofs', true, now())`, []any{l.Practice}},
		{`insert into heads (practice_id) values ($1)`, []any{l.Practice}},
		{`insert into members (practice_id, id, account_id, name, roles) values ($1, $2, gen_random_uuid(), 'A hand', '{principal,surveyor}')`, []any{l.Practice, l.Member}},
		{`insert into instruments (practice_id, id, name, model, serial, kind, sensing) values ($1, $2, 'Deep', 'Of the proofs', '1', 'capacitance', 'deep')`, []any{l.Practice, l.instrument}},
		{`insert into scales (practice_id, id, instrument_id, name, low_tenths, high_tenths, step_tenths) values ($1, $2, $3, 'A', 0, 1000, 5)`, []any{l.Practice, l.scale, l.instrument}},
	} {
		if _, err := l.conn.Exec(ctx, step.sql, step.args...); err != nil {
			return fmt.Errorf("load practice: %w", err)
		}
	}
	return nil
}

// vessel puts a vessel with her places, her plan and her passes into the rows to copy.
// Two stations in five are dry topsides, half a metre above the datum.
func (l *loader) vessel() {
	vessel, element, plan, job := NewID(), NewID(), NewID(), NewID()
	l.Vessels = append(l.Vessels, vessel)
	n := len(l.Vessels)
	l.add("vessels", vessel, fmt.Sprintf("Vessel %d", n), "fin-keel sloop", time.Now())
	l.add("elements", element, vessel, "hull", "", int32(80))
	l.add("plans", plan, vessel, int32(1), time.Now())
	l.add("jobs", job, vessel, fmt.Sprintf("%d", n), "limited moisture", time.Now())
	places := make([]loadedPlace, l.shape.Places)
	const rowsDown = 6
	for k := range places {
		side, at := "port", k
		if k >= l.shape.Places/2 {
			side, at = "starboard", k-l.shape.Places/2
		}
		station, row := at/rowsDown+1, at%rowsDown
		p := loadedPlace{id: NewID(), dry: row == 0, wet: 4 + 6*l.chance.Float64()}
		down := -500
		if !p.dry {
			down = 50 + 150*row
		}
		l.add("places", p.id, vessel, element, int32(k+1), fmt.Sprintf("%d/%d", station, row), side, int16(station), int16(row), int32(400*station), int32(down))
		l.add("plan_places", plan, p.id, int32(k+1), p.dry)
		places[k] = p
	}
	for k := range l.shape.Passes {
		at := time.Date(2015+k, 4, 6, 8, 0, 0, 0, time.UTC)
		if l.shape.Like && k == l.shape.Passes-1 { // within the week of the one before, while she stands where she stood
			at = time.Date(2015+k-1, 4, 8, 8, 0, 0, 0, time.UTC)
		} else {
			l.spell = NewID()
			l.add("spells", l.spell, vessel, "Europe/Lisbon", at.AddDate(0, 0, -9), at.AddDate(0, 0, 40))
		}
		l.pass(element, plan, job, places, at, k >= l.shape.Passes-l.shape.Unread)
	}
}

func (l *loader) pass(element, plan, job uuid.UUID, places []loadedPlace, at time.Time, unread bool) {
	spell, visit, pass := l.spell, NewID(), NewID()
	l.add("visits", visit, job, spell, "meter visit", at, at.Add(5*time.Hour), "Europe/Lisbon")
	l.add("conditions", NewID(), visit, at, int16(114), int16(720), int16(121), int16(126))
	state, closed := "closed", any(at.Add(5*time.Hour))
	if unread {
		state, closed = "open", nil
	}
	l.add("passes", pass, visit, element, plan, l.Member, l.instrument, l.scale, "bare gelcoat", "bare gelcoat", int16(50), "none", state, at, closed)
	for _, moment := range []string{"before", "after"} {
		for k, block := range []string{"low", "high"} {
			l.add("block_checks", NewID(), pass, block, moment, int32(100+500*k), at)
		}
	}
	if !unread {
		l.passes = append(l.passes, loadedPass{pass, at, places})
	}
}

func (l *loader) copy(ctx context.Context) error {
	for _, t := range tableColumns {
		if _, err := l.conn.CopyFrom(ctx, pgx.Identifier{t.table}, t.columns, pgx.CopyFromRows(l.rows[t.table])); err != nil {
			return fmt.Errorf("load %s: %w", t.table, err)
		}
		delete(l.rows, t.table)
	}
	return nil
}

// readings makes each row as it is copied: a million do not fit well into memory as values.
func (l *loader) readings(ctx context.Context) error {
	pass, place := 0, -1
	columns := []string{"practice_id", "id", "pass_id", "place_id", "occasion", "value", "placements", "taken_at", "received_at", "follow_up", "entered_by"}
	_, err := l.conn.CopyFrom(ctx, pgx.Identifier{"readings"}, columns, pgx.CopyFromFunc(func() ([]any, error) {
		if place++; place == l.shape.Places {
			pass, place = pass+1, 0
		}
		if pass == len(l.passes) {
			return nil, nil
		}
		p := l.passes[pass]
		units := 12 + 0.4*l.chance.NormFloat64()
		if !p.places[place].dry {
			units += p.places[place].wet
		}
		tenths := int16(units*2) * 5
		at := p.at.Add(time.Duration(place) * time.Minute)
		return []any{l.Practice, NewID(), p.id, p.places[place].id, int16(1), 2 * int32(tenths), []int16{tenths}, at, at, l.chance.IntN(60) == 0, l.Member}, nil
	}))
	if err != nil {
		return fmt.Errorf("load readings: %w", err)
	}
	return nil
}

// grids writes every pass's grid in one statement, as the service writes one pass's.
func (l *loader) grids(ctx context.Context) error {
	_, err := l.conn.Exec(ctx, `
		insert into pass_grids (practice_id, pass_id, vessel_id, taken, flags, dry)
		select p.practice_id, p.id, e.vessel_id, array_agg(r.value order by l.ordinal),
		       array_agg((case when r.follow_up then 16 else 0 end) | (case when x.dry then 256 else 0 end) order by l.ordinal),
		       coalesce(array_agg(l.ordinal order by x.position) filter (where x.dry), '{}')
		  from passes p
		  join elements e on e.practice_id = p.practice_id and e.id = p.element_id
		  join readings r on r.practice_id = p.practice_id and r.pass_id = p.id
		  join places l on l.practice_id = r.practice_id and l.id = r.place_id
		  join plan_places x on x.practice_id = p.practice_id and x.plan_id = p.plan_id and x.place_id = l.id
		 where p.practice_id = $1
		 group by p.practice_id, p.id, e.vessel_id`, l.Practice)
	if err != nil {
		return fmt.Errorf("load grids: %w", err)
	}
	return nil
}

// analyze tells the planner what is there.
func (l *loader) analyze(ctx context.Context) error {
	if l.shape.Like {
		if err := l.measured(ctx); err != nil {
			return err
		}
	}
	for _, table := range []string{"readings", "places", "plan_places", "passes", "pass_grids", "visits", "block_checks", "conditions", "spells", "vessels", "jobs", "elements"} {
		if _, err := l.conn.Exec(ctx, `vacuum analyze `+table); err != nil {
			return err
		}
	}
	return nil
}

// measured gives the practice a kit of its instrument, and its grids what comparing takes.
func (l *loader) measured(ctx context.Context) error {
	kit := NewID()
	for _, step := range []struct {
		sql  string
		args []any
	}{
		{`insert into repeat_kits (practice_id, id, instrument_id, scale_id, made_on, recorded_by) values ($1, $2, $3, $4, '2015-04-01', $5)`, []any{l.Practice, kit, l.instrument, l.scale, l.Member}},
		{`insert into repeat_kit_readings (practice_id, id, kit_id, member_id, spot, repeat, value_tenths)
		  select $1, gen_random_uuid(), $2, $3, s, r, 100 + 30 * s + 5 * ((7 * s + 3 * r) % 3) from generate_series(1, 20) s, generate_series(1, 3) r`, []any{l.Practice, kit, l.Member}},
		{`update pass_grids set like_of = like_pass(practice_id, pass_id), placed = (select array_agg(1) from unnest(taken)) where practice_id = $1`, []any{l.Practice}},
	} {
		if _, err := l.conn.Exec(ctx, step.sql, step.args...); err != nil {
			return fmt.Errorf("load what was measured: %w", err)
		}
	}
	return nil
}
