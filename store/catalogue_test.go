package store_test

import (
	"testing"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/store/storetest"
)

// global lists the tables that belong to no practice, and why. `app` reaches them
// through the door's functions alone.
var global = map[string]string{
	"accounts":         "a person signs in before a practice is known, and may be a member of several",
	"session_tokens":   "a refresh token names its session before a practice is known",
	"client_sessions":  "a client's account is of no practice",
	"password_resets":  "a new password is an account's, not a practice's",
	"goose_db_version": "the history of the schema itself",
}

// owned is the common head of the lint's queries: tables with a practice's rows in them.
const owned = `
with owned as (
  select c.oid, c.relname
    from pg_class c join pg_namespace n on n.oid = c.relnamespace
   where n.nspname = 'public' and c.relkind in ('r', 'p') and not c.relname = any($1::text[])
), keyed as (
  select o.oid, o.relname, a.attnum
    from owned o join pg_attribute a on a.attrelid = o.oid and a.attname = 'practice_id' and a.attnotnull
) `

// lint is promise A1: each query names what breaks the rule; none may name anything.
var lint = []struct{ rule, sql string }{
	{"every owned table has a practice_id that is never null", owned + `
		select relname from owned where $1 is not null and oid not in (select oid from keyed) order by 1`},
	{"row security is on for every owned table", owned + `
		select o.relname from owned o join pg_class c using (oid) where not c.relrowsecurity order by 1`},
	{"every owned table has the one policy, for all commands and all roles, reading and writing alike", owned + `
		select o.relname || ': ' || coalesce(string_agg(p.polname || ' ' || p.polcmd::text || ' ' || coalesce(pg_get_expr(p.polqual, p.polrelid), '-') || ' / ' || coalesce(pg_get_expr(p.polwithcheck, p.polrelid), '-'), '; '), 'no policy')
		  from owned o left join pg_policy p on p.polrelid = o.oid
		 group by o.relname
		having count(p.oid) <> 1 or not bool_and(p.polcmd = '*' and p.polroles = '{0}' and p.polpermissive
		       and pg_get_expr(p.polqual, p.polrelid) = pg_get_expr(p.polwithcheck, p.polrelid)
		       and pg_get_expr(p.polqual, p.polrelid) = '(practice_id = ( SELECT (NULLIF(current_setting(''app.practice''::text, true), ''''::text))::uuid AS "nullif"))')
		 order by 1`},
	{"practice_id is in every primary key", owned + `
		select o.relname from owned o
		 where not exists (select from keyed k join pg_constraint c on c.conrelid = k.oid and c.contype = 'p' where k.oid = o.oid and k.attnum = any(c.conkey))
		 order by 1`},
	{"practice_id is in every unique index", owned + `
		select i.indexrelid::regclass::text from pg_index i join owned o on o.oid = i.indrelid left join keyed k on k.oid = o.oid
		 where (i.indisunique or i.indisexclusion) and (k.attnum is null or not k.attnum = any(i.indkey::int2[])) order by 1`},
	{"every foreign key of an owned table carries practice_id to practice_id", owned + `
		select c.conrelid::regclass || ' ' || c.conname
		  from pg_constraint c join owned o on o.oid = c.conrelid
		 where c.contype = 'f' and not exists (
		   select from unnest(c.conkey, c.confkey) as u (here, there)
		     join keyed k on k.oid = c.conrelid and k.attnum = u.here
		     join keyed f on f.oid = c.confrelid and f.attnum = u.there)
		 order by 1`},
	{"no foreign key deletes or changes rows on its own", `
		select c.conrelid::regclass || ' ' || c.conname from pg_constraint c
		 where c.contype = 'f' and $1::text[] is not null and connamespace = 'public'::regnamespace and (c.confdeltype <> 'a' or c.confupdtype <> 'a') order by 1`},
	{"every partition has row security of its own", `
		select c.oid::regclass::text from pg_class c
		 where c.relispartition and $1::text[] is not null and c.relkind in ('r', 'p') and not c.relrowsecurity order by 1`},
	{"app owns nothing", `
		select d.classid::regclass || ' ' || d.objid from pg_shdepend d
		 where $1::text[] is not null and d.deptype = 'o' and d.refclassid = 'pg_authid'::regclass and d.refobjid = 'app'::regrole order by 1`},
	{"app is neither superuser nor past row security, makes no roles or databases and is a member of nothing", `
		select rolname from pg_roles where $1::text[] is not null and rolname = 'app' and (rolsuper or rolbypassrls or rolcreaterole or rolcreatedb or rolreplication)
		union all
		select m.roleid::regrole::text from pg_auth_members m where m.member = 'app'::regrole order by 1`},
	{"app may not truncate, refer to or put triggers on any table", `
		select c.oid::regclass::text from pg_class c join pg_namespace n on n.oid = c.relnamespace
		 where $1::text[] is not null and c.relkind in ('r', 'p', 'v', 'm', 'f') and n.nspname not in ('pg_catalog', 'information_schema')
		   and has_table_privilege('app', c.oid, 'truncate, references, trigger') order by 1`},
	{"app may make nothing: no schema, no temporary table", `
		select n.nspname from pg_namespace n where $1::text[] is not null and has_schema_privilege('app', n.oid, 'create')
		union all
		select datname from pg_database where datname = current_database() and has_database_privilege('app', oid, 'create, temporary') order by 1`},
	{"app does not reach the global tables, nor the queue", `
		select c.oid::regclass::text from pg_class c join pg_namespace n on n.oid = c.relnamespace
		 where (n.nspname = 'public' and c.relname = any($1::text[]) or n.nspname = 'queue') and c.relkind in ('r', 'p', 'v', 'm', 'f')
		   and (has_table_privilege('app', c.oid, 'select, insert, update, delete') or has_any_column_privilege('app', c.oid, 'select, insert, update, references')) order by 1`},
	{"worker reaches no practice's tables", owned + `
		select relname from owned where has_table_privilege('worker', oid, 'select, insert, update, delete, truncate, references, trigger')
		    or has_any_column_privilege('worker', oid, 'select, insert, update, references') order by 1`},
	{"nothing is granted to everybody", `
		select c.oid::regclass::text from pg_class c join pg_namespace n on n.oid = c.relnamespace, aclexplode(c.relacl) a
		 where $1::text[] is not null and n.nspname in ('public', 'door', 'queue') and a.grantee = 0 order by 1`},
	{"every view runs with its reader's rights", `
		select c.oid::regclass::text from pg_class c join pg_namespace n on n.oid = c.relnamespace
		 where $1::text[] is not null and c.relkind = 'v' and n.nspname not in ('pg_catalog', 'information_schema')
		   and not coalesce('security_invoker=true' = any(c.reloptions), false) order by 1`},
	{"no materialised view can be read", `
		select c.oid::regclass::text from pg_class c
		 where $1::text[] is not null and c.relkind = 'm' and has_table_privilege('app', c.oid, 'select') order by 1`},
	{"every function with its owner's rights has a fixed search path and is not for everybody", `
		select p.oid::regprocedure::text from pg_proc p join pg_namespace n on n.oid = p.pronamespace
		 where $1::text[] is not null and p.prosecdef and n.nspname not in ('pg_catalog', 'information_schema')
		   and (p.proconfig is null or not exists (select from unnest(p.proconfig) s where s like 'search_path=%pg_temp')
		        or p.proacl is null or exists (select from aclexplode(p.proacl) a where a.grantee = 0)
		        or n.nspname <> 'door') order by 1`},
	{"app may run no function that changes what row security binds", `
		select p.oid::regprocedure::text from pg_proc p join pg_namespace n on n.oid = p.pronamespace
		 where $1::text[] is not null and n.nspname = 'public' and p.proname = 'keep_apart' and has_function_privilege('app', p.oid, 'execute') order by 1`},
}

func TestTheCatalogueKeepsPracticesApart(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	owner, app := db.Connect(t, db.OwnerURL), db.Connect(t, db.AppURL)
	for _, l := range lint {
		for _, name := range column[string](t, owner, l.sql, globals()) {
			t.Errorf("%s: not so for %s", l.rule, name)
		}
	}
	// Asked as app itself, so that nothing about the role can be overlooked.
	for _, name := range column[string](t, app, owned+`select relname from owned where not row_security_active(oid) order by 1`, globals()) {
		t.Errorf("row security does not bind app on %s", name)
	}
}

// A lint that finds nothing wrong might look at nothing.
func TestTheLintFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	owner := db.Connect(t, db.OwnerURL)
	for _, sql := range []string{
		`create table bare (id uuid primary key, secret text unique)`,
		`create table half (practice_id uuid not null, id uuid primary key, vessel_id uuid, constraint half_vessel foreign key (practice_id, vessel_id) references vessels (practice_id, id) on delete cascade)`,
		`create table spare (practice_id uuid not null, half_id uuid references half (id))`,
		`create table parts (practice_id uuid not null, id uuid, primary key (practice_id, id)) partition by hash (practice_id)`,
		`create table parts_0 partition of parts for values with (modulus 1, remainder 0)`,
		`alter table half enable row level security`,
		`create policy looks_right on half using (practice_id = nullif(current_setting('app.practice', true), '')::uuid)`,
		`create view peeks as select practice_id, name from vessels`,
		`create materialized view kept as select practice_id, name from vessels`,
		`create function peep() returns bigint language sql security definer as 'select count(*) from public.vessels'`,
		`grant truncate on half to app; grant select on peeks, kept, accounts to app; grant execute on procedure keep_apart(regclass, text) to app; grant insert on half to public, worker`,
	} {
		if _, err := owner.Exec(t.Context(), sql, pgx.QueryExecModeSimpleProtocol); err != nil {
			t.Fatal(err)
		}
	}
	mute := map[string]bool{ // these are about roles, which the whole server shares
		"app owns nothing": true,
		"app is neither superuser nor past row security, makes no roles or databases and is a member of nothing": true,
		"app may make nothing: no schema, no temporary table":                                                    true,
	}
	for _, l := range lint {
		if len(column[string](t, owner, l.sql, globals())) == 0 && !mute[l.rule] {
			t.Errorf("nothing is found against: %s", l.rule)
		}
	}
}

func globals() []string {
	names := make([]string, 0, len(global))
	for name := range global {
		names = append(names, name)
	}
	return names
}

// column reads a query of one column.
func column[T any](t testing.TB, conn *pgx.Conn, sql string, args ...any) []T {
	t.Helper()
	rows, err := conn.Query(t.Context(), sql, args...)
	if err != nil {
		t.Fatal(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowTo[T])
	if err != nil {
		t.Fatalf("%v in %s", err, sql)
	}
	return list
}
