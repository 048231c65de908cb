package store_test

import (
	"context"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// table is a table of the catalogue, as far as filling and probing it needs.
type table struct {
	Name    string
	Columns []tableColumn
	Keys    []foreignKey
	Unique  [][]string // columns of each unique index, the primary key first
	May     []string   // what app may do: select, insert, update, delete
}

type tableColumn struct {
	Name, Type string
	Needed     bool     // not null and without a default
	Known      []string // the words a check allows
}

type foreignKey struct {
	Name, To         string
	Columns, Targets []string
}

func (t table) primary() []string { return t.Unique[0] }

func (t table) may(do string) bool { return slices.Contains(t.May, do) }

// tables reads every owned table, parents before children.
func tables(t testing.TB, owner *pgx.Conn) []table {
	t.Helper()
	rows, err := owner.Query(t.Context(), `
		select c.relname,
		       (select jsonb_agg(jsonb_build_object('Name', a.attname, 'Type', format_type(a.atttypid, null), 'Needed', a.attnotnull and not a.atthasdef,
		               'Known', (select regexp_match(pg_get_constraintdef(k.oid), 'CHECK \(\(' || a.attname || ' = ANY \((.*)\)\)\)$') from pg_constraint k
		                          where k.conrelid = c.oid and k.contype = 'c' and pg_get_constraintdef(k.oid) ~ ('^CHECK \(\(' || a.attname || ' = ANY') limit 1)) order by a.attnum)
		          from pg_attribute a where a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = '') as columns,
		       coalesce((select jsonb_agg(jsonb_build_object('Name', k.conname, 'To', k.confrelid::regclass::text,
		               'Columns', (select jsonb_agg(a.attname order by u.n) from unnest(k.conkey) with ordinality u (at, n) join pg_attribute a on a.attrelid = k.conrelid and a.attnum = u.at),
		               'Targets', (select jsonb_agg(a.attname order by u.n) from unnest(k.confkey) with ordinality u (at, n) join pg_attribute a on a.attrelid = k.confrelid and a.attnum = u.at)) order by k.conname)
		          from pg_constraint k where k.conrelid = c.oid and k.contype = 'f'), '[]') as keys,
		       (select jsonb_agg((select jsonb_agg(a.attname order by a.attnum) from pg_attribute a where a.attrelid = c.oid and a.attnum = any(i.indkey::int2[])) order by not i.indisprimary)
		          from pg_index i where i.indrelid = c.oid and i.indisunique) as uniques,
		       (select coalesce(array_agg(p), '{}') from unnest(array['select', 'insert', 'update', 'delete']) p where has_table_privilege('app', c.oid, p)) as may
		  from pg_class c join pg_namespace n on n.oid = c.relnamespace
		 where n.nspname = 'public' and c.relkind in ('r', 'p') and not c.relname = any($1)
		 order by c.relname`, globals())
	if err != nil {
		t.Fatal(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[table])
	if err != nil {
		t.Fatal(err)
	}
	return parentsFirst(t, list)
}

func parentsFirst(t testing.TB, list []table) []table {
	t.Helper()
	var done []table
	placed := map[string]bool{}
	for len(done) < len(list) {
		before := len(done)
		for _, x := range list {
			if !placed[x.Name] && !slices.ContainsFunc(x.Keys, func(k foreignKey) bool { return k.To != x.Name && !placed[k.To] }) {
				placed[x.Name], done = true, append(done, x)
			}
		}
		if len(done) == before {
			t.Fatal("foreign keys go round in a circle: the filler needs an order")
		}
	}
	return done
}

// special gives the columns whose rule the filler cannot read out of the catalogue.
// %d is a number of the row's own.
var special = map[string]string{
	"members.roles":            `array['surveyor']`,
	"invitations.roles":        `array['surveyor']`,
	"scales.high_tenths":       `%d + 1`,
	"spells.actual_lift":       `timestamptz '2026-03-01T08:00Z' + interval '10 days' * %d`,
	"spells.actual_launch":     `timestamptz '2026-03-05T08:00Z' + interval '10 days' * %d`,
	"visits.to_at":             `'2026-03-03T09:00Z'`,
	"visits.state":             `'done'`, // a planned one lies in its time ashore
	"visit_people.during":      `tstzrange('2026-03-01T08:00Z'::timestamptz + interval '1 day' * %d, '2026-03-01T09:00Z'::timestamptz + interval '1 day' * %d)`,
	"visit_instruments.during": `tstzrange('2026-03-01T08:00Z'::timestamptz + interval '1 day' * %d, '2026-03-01T09:00Z'::timestamptz + interval '1 day' * %d)`,
	"reports.number":           `'%d'`,
	"reports.state":            `'issued'`,
	"report_snapshots.sha256":  `sha256('\x01')`,
	"sheet_tests.looked_at":    `'2026-03-03T09:00Z'`,
	"rebounds.read_at":         `'2026-03-03T09:00Z'`,
	"valuations.currency":      `'EUR'`,
	"invoices.currency":        `'EUR'`,
	"party_merges.undone_at":   `now()`,
	"invoices.number":          `'%d'`,
	"invoices.state":           `'issued'`,
	"retention.file_years":     `15`,
}

// besides gives what a key that may be null wants set with it.
var besides = map[string]row{"readings.supersedes_id": {"supersession": "'correct'"}}

// row is one row of a table, as literals by column.
type row map[string]string

// quoted words in a check such as CHECK ((kind = ANY (ARRAY['a'::text, 'b'::text])))
var quotedWord = regexp.MustCompile(`'([^']+)'`)

// value makes a literal for a column; own is a number of this row's own.
func (c tableColumn) value(t testing.TB, in string, own int) string {
	t.Helper()
	if s, there := special[in+"."+c.Name]; there {
		return strings.ReplaceAll(s, "%d", strconv.Itoa(own))
	}
	if len(c.Known) > 0 {
		return quotedWord.FindString(c.Known[0])
	}
	switch c.Type {
	case "uuid":
		return "'" + uuid.Must(uuid.NewV7()).String() + "'"
	case "text":
		return fmt.Sprintf("'word %d'", own)
	case "bytea":
		return `'\x01'`
	case "smallint", "integer", "bigint":
		return strconv.Itoa(own)
	case "double precision", "numeric":
		return "1"
	case "boolean":
		return "false"
	case "timestamp with time zone":
		return `'2026-03-03T08:00Z'`
	case "date":
		return `'2026-03-03'`
	case "tstzrange":
		return `'[2026-03-03T08:00Z,2026-03-03T09:00Z)'`
	case "jsonb":
		return `'{}'`
	case "text[]", "smallint[]", "integer[]":
		return `'{}'`
	}
	t.Fatalf("the filler does not know how to fill %s.%s of type %s", in, c.Name, c.Type)
	return ""
}

// filled is a practice with a row in every owned table.
type filled struct {
	id   uuid.UUID
	rows map[string]row
	// spare holds a second row of each table that a child's unique key points at, so
	// that the child can be added once more.
	spare map[string]row
	next  *int
}

// fill puts a row into every owned table of a new practice, as the owner. Every foreign
// key is set, those that may be null too, so that probes have something to follow.
func fill(t testing.TB, owner *pgx.Conn, list []table, next *int) filled {
	t.Helper()
	p := filled{id: uuid.Must(uuid.NewV7()), rows: map[string]row{}, spare: map[string]row{}, next: next}
	keep := func(x table, r row) row {
		if _, err := owner.Exec(t.Context(), r.insert(x.Name)); err != nil {
			t.Fatalf("the filler cannot fill %s: %v\n%s\ngive the column's rule in special", x.Name, err, r.insert(x.Name))
		}
		return r
	}
	for _, x := range list {
		p.rows[x.Name] = keep(x, p.make(t, x, p.rows))
	}
	for _, x := range list {
		if slices.ContainsFunc(list, func(child table) bool { return child.told(x.Name) }) && len(x.primary()) > 1 {
			p.spare[x.Name] = keep(x, p.fresh(t, x))
		}
	}
	return p
}

// told tells whether a unique key of the table holds a key to another one.
func (t table) told(to string) bool {
	return slices.ContainsFunc(t.Keys, func(k foreignKey) bool { return k.To == to && t.identifies(k) })
}

// identifies tells whether a foreign key is part of a unique key.
func (t table) identifies(k foreignKey) bool {
	for _, unique := range t.Unique {
		for _, c := range k.Columns {
			if c != "practice_id" && slices.Contains(unique, c) {
				return true
			}
		}
	}
	return false
}

// make makes a row that is not kept yet, its keys pointing at these rows. A key to a row
// of the same table stays empty.
func (p filled) make(t testing.TB, x table, parents map[string]row) row {
	t.Helper()
	*p.next++
	r := row{}
	for _, c := range x.Columns {
		_, given := special[x.Name+"."+c.Name]
		switch {
		case c.Name == "practice_id":
			r[c.Name] = "'" + p.id.String() + "'"
		case c.Needed || given:
			r[c.Name] = c.value(t, x.Name, *p.next)
		}
	}
	for _, k := range x.Keys {
		if k.To == x.Name {
			continue
		}
		for n, c := range k.Columns {
			if c != "practice_id" {
				r[c] = parents[k.To][k.Targets[n]]
			}
		}
	}
	return r
}

// fresh makes a row that could be added beside the one that is there.
func (p filled) fresh(t testing.TB, x table) row {
	t.Helper()
	parents := maps.Clone(p.rows)
	for _, k := range x.Keys {
		if spare, there := p.spare[k.To]; there && x.identifies(k) {
			parents[k.To] = spare
		}
	}
	return p.make(t, x, parents)
}

// with gives a copy that differs in some columns.
func (r row) with(change row) row {
	out := maps.Clone(r)
	maps.Copy(out, change)
	return out
}

func (r row) columns() []string {
	return slices.Sorted(maps.Keys(r))
}

func (r row) insert(into string) string {
	names := r.columns()
	values := make([]string, len(names))
	for k, c := range names {
		values[k] = r[c]
	}
	return fmt.Sprintf("insert into %s (%s) values (%s)", into, strings.Join(names, ", "), strings.Join(values, ", "))
}

// where names the row by these columns.
func (r row) where(columns []string) string {
	parts := make([]string, len(columns))
	for k, c := range columns {
		parts[k] = c + " = " + r[c]
	}
	return strings.Join(parts, " and ")
}

func contextFor(t testing.TB, d time.Duration) (context.Context, context.CancelFunc) {
	return context.WithTimeout(t.Context(), d)
}
