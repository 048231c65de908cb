package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"boottop.example/practice/store/queries"
	"boottop.example/practice/store/storetest"
)

// probes is two practices with a row in every table, seen as role app from the first.
type probes struct {
	*testing.T
	db           *storetest.DB
	owner, app   *pgx.Conn
	tables       []table
	ours, theirs filled
}

func setupProbes(t *testing.T) *probes {
	t.Helper()
	p := &probes{T: t, db: storetest.New(t)}
	p.owner, p.app = p.db.Connect(t, p.db.OwnerURL), p.db.Connect(t, p.db.AppURL)
	p.tables = tables(t, p.owner)
	next := 0 // the two practices share no number
	p.ours, p.theirs = fill(t, p.owner, p.tables, &next), fill(t, p.owner, p.tables, &next)
	return p
}

// outcome is all that a caller learns: rows touched, or an error's code and words.
type outcome struct {
	rows       int64
	code, text string
}

func (o outcome) String() string {
	if o.code == "" {
		return fmt.Sprintf("%d rows", o.rows)
	}
	return o.code + " " + o.text
}

// try runs a statement in practice A and takes it back. Ids in the answer that the
// statement itself named are left out: the caller knew them.
func (p *probes) try(sql string, named ...string) outcome {
	p.Helper()
	tx, err := p.app.Begin(p.Context())
	if err != nil {
		p.Fatal(err)
	}
	defer func() { _ = tx.Rollback(p.Context()) }()
	if _, err := tx.Exec(p.Context(), `select set_config('app.practice', $1, true)`, p.ours.id.String()); err != nil {
		p.Fatal(err)
	}
	tag, err := tx.Exec(p.Context(), sql)
	var pg *pgconn.PgError
	switch {
	case errors.As(err, &pg):
		text := pg.Message + " · " + pg.Detail + " · " + pg.Hint + " · " + pg.ConstraintName
		for _, n := range named {
			text = strings.ReplaceAll(text, strings.Trim(n, "'"), "…")
		}
		return outcome{code: pg.Code, text: text}
	case err != nil:
		p.Fatalf("%v in %s", err, sql)
	}
	return outcome{rows: tag.RowsAffected()}
}

// count asks in practice A.
func (p *probes) count(sql string) (n int64) {
	p.Helper()
	tx, err := p.app.Begin(p.Context())
	if err != nil {
		p.Fatal(err)
	}
	defer func() { _ = tx.Rollback(p.Context()) }()
	if _, err := tx.Exec(p.Context(), `select set_config('app.practice', $1, true)`, p.ours.id.String()); err != nil {
		p.Fatal(err)
	}
	if err := tx.QueryRow(p.Context(), sql).Scan(&n); err != nil {
		p.Fatalf("%v in %s", err, sql)
	}
	return n
}

// digest is of every row of a practice, so that nothing of it can change unseen.
func (p *probes) digest(of filled) map[string]string {
	p.Helper()
	out := map[string]string{}
	for _, x := range p.tables {
		out[x.Name] = column[string](p, p.owner, `select md5(coalesce(string_agg(x::text, '|' order by x::text), '')) || count(*) from `+x.Name+` x where practice_id = $1`, of.id)[0]
	}
	return out
}

// someID is an id that nobody has.
func someID() string { return "'" + uuid.Must(uuid.NewV7()).String() + "'" }

func TestFourteenProbesOfEveryTable(t *testing.T) {
	t.Parallel()
	p := setupProbes(t)
	before := p.digest(p.theirs)
	ours := p.digest(p.ours)
	for _, kind := range []struct {
		name string
		run  func(*probes)
	}{
		{"1 a view shows nothing of theirs", (*probes).views},
		{"2 a materialised view cannot be read", (*probes).materialised},
		{"3 a table or a partition by name shows nothing of theirs", (*probes).byName},
		{"4 no table can be truncated", (*probes).truncate},
		{"5 a key to their row is a key to nothing", (*probes).keys},
		{"6 deleting their parent touches nothing", (*probes).deletes},
		{"7 their id is free here", (*probes).ids},
		{"8 their unique number is free here", (*probes).numbers},
		{"9 after a commit no practice is chosen", (*probes).afterCommit},
		{"10 no row can be moved to them", (*probes).move},
		{"11 an upsert on their id makes a row of ours", (*probes).upsert},
		{"12 their rows and locks cannot be held", (*probes).locks},
		{"13 a practice chosen by injected text is text", (*probes).injected},
		{"14 a notice says only: look again", (*probes).notices},
	} {
		t.Run(kind.name, func(t *testing.T) { //nolint:paralleltest // they share a connection and two practices
			q := *p
			q.T = t
			kind.run(&q)
		})
	}
	for name, was := range p.digest(p.theirs) {
		if was != before[name] {
			t.Errorf("the probes changed a row of theirs in %s", name)
		}
	}
	for name, was := range p.digest(p.ours) {
		if was != ours[name] {
			t.Errorf("the probes left something in %s", name)
		}
	}
}

func (p *probes) views() {
	views := column[string](p, p.owner, `select c.relname from pg_class c join pg_namespace n on n.oid = c.relnamespace where c.relkind = 'v' and n.nspname = 'public' order by 1`)
	if len(views) == 0 {
		p.Fatal("there are no views to look at")
	}
	for _, v := range views {
		if n := p.count(`select count(*) from ` + v + ` where practice_id <> '` + p.ours.id.String() + `'`); n != 0 {
			p.Errorf("%s shows %d rows of theirs", v, n)
		}
		if n := p.count(`select count(*) from ` + v); n == 0 {
			p.Errorf("%s shows nothing of ours, so that this probe says nothing", v)
		}
	}
}

func (p *probes) materialised() {
	if _, err := p.owner.Exec(p.Context(), `create materialized view kept_apart as select * from readings`); err != nil {
		p.Fatal(err)
	}
	for _, v := range column[string](p, p.owner, `select c.oid::regclass::text from pg_class c where c.relkind = 'm' order by 1`) {
		if got := p.try(`select * from ` + v); got.code != "42501" {
			p.Errorf("%s: %s", v, got)
		}
	}
}

func (p *probes) byName() {
	for _, x := range p.tables {
		if !x.may("select") {
			continue
		}
		r := p.theirs.rows[x.Name]
		if n := p.count(`select count(*) from ` + x.Name + ` where ` + r.where(x.primary())); n != 0 {
			p.Errorf("%s shows their row", x.Name)
		}
		if n := p.count(`select count(*) from ` + x.Name + ` where practice_id <> '` + p.ours.id.String() + `'`); n != 0 {
			p.Errorf("%s shows %d rows of theirs", x.Name, n)
		}
		there := column[int64](p, p.owner, `select count(*) from `+x.Name+` where practice_id = $1`, p.ours.id)[0]
		if n := p.count(`select count(*) from ` + x.Name); n != there || n == 0 {
			p.Errorf("%s shows %d rows of ours, want the %d that are there", x.Name, n, there)
		}
	}
	for _, part := range column[string](p, p.owner, `select c.oid::regclass::text from pg_class c where c.relispartition and c.relkind = 'r'`) {
		if n := p.count(`select count(*) from ` + part + ` where practice_id <> '` + p.ours.id.String() + `'`); n != 0 {
			p.Errorf("partition %s shows %d rows of theirs", part, n)
		}
	}
}

func (p *probes) truncate() {
	for _, x := range p.tables {
		if got := p.try(`truncate ` + x.Name); got.code != "42501" {
			p.Errorf("%s: %s", x.Name, got)
		}
	}
}

// keys points each foreign key of each table at their row and at nothing.
func (p *probes) keys() {
	for _, x := range p.tables {
		if !x.may("insert") {
			continue
		}
		for _, k := range x.Keys {
			theirs, none := row{}, row{}
			var named []string
			for n, c := range k.Columns {
				if c != "practice_id" {
					theirs[c], none[c] = p.theirs.at(k.To, k.Targets[n]), someID()
					named = append(named, theirs[c], none[c])
				}
			}
			if len(theirs) == 0 {
				continue // to the practice itself: probe 10
			}
			fresh := p.ours.fresh(p.T, x).with(besides[x.Name+"."+k.Columns[len(k.Columns)-1]])
			a, b := p.try(fresh.with(theirs).insert(x.Name), named...), p.try(fresh.with(none).insert(x.Name), named...)
			if a != b || a.code != "23503" {
				p.Errorf("%s of %s: theirs %s, none %s", k.Name, x.Name, a, b)
			}
		}
	}
}

func (p *probes) deletes() {
	for _, x := range p.tables {
		theirs := p.theirs.rows[x.Name]
		none := theirs.with(row{"practice_id": someID()})
		a := p.try(`delete from ` + x.Name + ` where ` + theirs.where(x.primary()))
		b := p.try(`delete from ` + x.Name + ` where ` + none.where(x.primary()))
		if a != b || a.rows != 0 || a.code != "" && a.code != "42501" {
			p.Errorf("%s: theirs %s, none %s", x.Name, a, b)
		}
	}
}

// ids inserts a row of ours under their id: row security does not see it, the key must.
func (p *probes) ids() {
	for _, x := range p.tables {
		p.taken(x, x.primary(), " on conflict do nothing")
	}
}

// numbers inserts a row of ours with the rest of each unique key from theirs.
func (p *probes) numbers() {
	for _, x := range p.tables {
		for _, unique := range x.Unique[1:] {
			p.taken(x, unique, "")
		}
	}
}

// taken inserts a row of ours whose columns of a key are theirs, and one with columns
// that nobody has: both are kept, or both refused in the same words.
func (p *probes) taken(x table, key []string, after string) {
	p.Helper()
	if !x.may("insert") {
		return
	}
	theirs, none, named := row{}, row{}, []string{}
	ownKey := len(key) > 1 // whether a column is left that is neither practice_id nor a foreign key
	fresh := p.ours.fresh(p.T, x)
	for _, c := range key {
		if c == "practice_id" {
			continue
		}
		theirs[c], none[c] = p.theirs.at(x.Name, c), fresh[c]
		if x.foreign(c) {
			ownKey, none[c] = false, someID()
		}
		named = append(named, theirs[c], none[c])
	}
	if len(theirs) == 0 {
		return
	}
	a, b := p.try(fresh.with(theirs).insert(x.Name)+after, named...), p.try(fresh.with(none).insert(x.Name)+after, named...)
	if a != b || ownKey && a.rows != 1 {
		p.Errorf("%s by %v: theirs %s, none %s", x.Name, key, a, b)
	}
}

func (p *probes) afterCommit() {
	for _, x := range p.tables {
		if !x.may("select") {
			continue
		}
		tx, err := p.app.Begin(p.Context())
		if err != nil {
			p.Fatal(err)
		}
		if _, err := tx.Exec(p.Context(), `select set_config('app.practice', $1, true)`, p.ours.id.String()); err != nil {
			p.Fatal(err)
		}
		if err := tx.Commit(p.Context()); err != nil {
			p.Fatal(err)
		}
		var chosen string
		var n int
		err = p.app.QueryRow(p.Context(), `select current_setting('app.practice', true), (select count(*) from `+x.Name+`)`).Scan(&chosen, &n)
		if err != nil || chosen != "" || n != 0 {
			p.Errorf("%s: after the commit practice %q, %d rows, %v", x.Name, chosen, n, err)
		}
	}
}

func (p *probes) move() {
	for _, x := range p.tables {
		if got := p.try(`update ` + x.Name + ` set practice_id = '` + p.theirs.id.String() + `' where practice_id = '` + p.ours.id.String() + `'`); got.code != "42501" {
			p.Errorf("%s: %s", x.Name, got)
		}
		if !x.may("insert") {
			continue
		}
		if got := p.try(p.ours.fresh(p.T, x).with(row{"practice_id": "'" + p.theirs.id.String() + "'"}).insert(x.Name)); got.code != "42501" {
			p.Errorf("insert for them into %s: %s", x.Name, got)
		}
	}
}

func (p *probes) upsert() {
	for _, x := range p.tables {
		if x.may("insert") && x.may("update") {
			p.taken(x, x.primary(), fmt.Sprintf(" on conflict (%s) do update set practice_id = excluded.practice_id", strings.Join(x.primary(), ", ")))
		}
	}
}

func (p *probes) locks() {
	for _, x := range p.tables {
		theirs := p.theirs.rows[x.Name]
		a := p.try(`select from ` + x.Name + ` where ` + theirs.where(x.primary()) + ` for update`)
		b := p.try(`select from ` + x.Name + ` where ` + theirs.with(row{"practice_id": someID()}).where(x.primary()) + ` for update`)
		if a != b || a.rows != 0 || a.code != "" && a.code != "42501" {
			p.Errorf("%s: theirs %s, none %s", x.Name, a, b)
		}
	}
	// A mutation's lock in one practice holds nobody up in another.
	mutation := uuid.Must(uuid.NewV7()).String()
	held, err := p.owner.Begin(p.Context())
	if err != nil {
		p.Fatal(err)
	}
	defer func() { _ = held.Rollback(p.Context()) }()
	if _, err := held.Exec(p.Context(), queries.LockMutation, p.theirs.id.String(), mutation); err != nil {
		p.Fatal(err)
	}
	if _, err := p.app.Exec(p.Context(), `set lock_timeout = '1s'`); err != nil {
		p.Fatal(err)
	}
	tx, err := p.app.Begin(p.Context())
	if err != nil {
		p.Fatal(err)
	}
	defer func() { _ = tx.Rollback(p.Context()) }()
	if _, err := tx.Exec(p.Context(), queries.LockMutation, p.ours.id.String(), mutation); err != nil {
		p.Errorf("their lock on a mutation id holds ours up: %v", err)
	}
}

func (p *probes) injected() {
	evil := `x'; select set_config('app.practice', '` + p.theirs.id.String() + `', true); --`
	for _, x := range p.tables {
		if !x.may("select") {
			continue
		}
		tx, err := p.app.Begin(p.Context())
		if err != nil {
			p.Fatal(err)
		}
		if _, err := tx.Exec(p.Context(), `select set_config('app.practice', $1, true)`, p.ours.id.String()); err != nil {
			p.Fatal(err)
		}
		var n int
		if err := tx.QueryRow(p.Context(), `select count(*) from `+x.Name+` where practice_id::text = $1`, evil).Scan(&n); err != nil || n != 0 {
			p.Errorf("%s: %d rows, %v", x.Name, n, err)
		}
		var chosen string
		if err := tx.QueryRow(p.Context(), `select current_setting('app.practice')`).Scan(&chosen); err != nil || chosen != p.ours.id.String() {
			p.Errorf("%s: the practice is now %q, %v", x.Name, chosen, err)
		}
		_ = tx.Rollback(p.Context())
	}
}

func (p *probes) notices() {
	speakers := column[string](p, p.owner, `select p.oid::regproc::text from pg_proc p join pg_namespace n on n.oid = p.pronamespace
		where n.nspname not in ('pg_catalog', 'information_schema') and p.prosrc ~* '\mnotify\M|pg_notify' order by 1`)
	if !slices.Equal(speakers, []string{"door.enqueue"}) {
		p.Errorf("these functions send notices, each needs a look at what it says: %v", speakers)
	}
	ear := p.db.Connect(p.T, p.db.AppURL)
	if _, err := ear.Exec(p.Context(), `listen "queue.river_insert"`); err != nil {
		p.Fatal(err)
	}
	if _, err := p.app.Exec(p.Context(), `select door.enqueue('probe', jsonb_build_object('report', $1::text), now())`, p.theirs.id.String()); err != nil {
		p.Fatal(err)
	}
	ctx, cancel := contextFor(p.T, 5*time.Second)
	defer cancel()
	n, err := ear.WaitForNotification(ctx)
	if err != nil {
		p.Fatal(err)
	}
	if n.Payload != `{"queue":"default"}` {
		p.Errorf("a notice says %s", n.Payload)
	}
}

// at gives a column of the row that a practice has in a table; a column it left to its
// default is asked for in the statement itself.
func (f filled) at(in, column string) string {
	if v, there := f.rows[in][column]; there {
		return v
	}
	return "default"
}

// foreign tells whether a column belongs to a foreign key other than the practice's.
func (x table) foreign(column string) bool {
	return slices.ContainsFunc(x.Keys, func(k foreignKey) bool { return slices.Contains(k.Columns, column) })
}
