package practice_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// faultyDatabase puts one trigger before every statement that writes: it notes what is
// written, or, where told so, fails it the first times.
const faultyDatabase = `
create table public.fault_plan (tab text, op text, code text, times integer);
create table public.fault_hits (tab text, op text);
create sequence public.fault_count;
create function public.fault() returns trigger language plpgsql as $$
declare
  p public.fault_plan;
begin
  select * into p from public.fault_plan where tab = tg_table_name and op = lower(tg_op);
  if found and nextval('public.fault_count') <= p.times then
    raise exception 'made to fail' using errcode = p.code;
  end if;
  insert into public.fault_hits values (tg_table_name, lower(tg_op));
  return null;
end
$$;
grant select on public.fault_plan to app;
grant insert on public.fault_hits to app;
grant usage on sequence public.fault_count to app;
do $$
declare
  t regclass;
begin
  for t in select c.oid from pg_class c where c.relkind = 'r' and (c.relnamespace = 'public'::regnamespace or c.relname = 'river_job') and c.relname not like 'fault%' and c.relname <> 'report_makings' loop
    execute format('create trigger fault before insert or update or delete on %s for each statement execute function public.fault()', t);
  end loop;
end
$$`

// fault is one that the database reports, and the kind that its caller is told.
type fault struct {
	sqlstate string
	kind     domain.Kind
}

// codes are the faults of promise B3 and what a caller is told of each.
var codes = []fault{
	{"23505", domain.Conflict},    // somebody else has the number
	{"40001", domain.Unavailable}, // a race that is lost every time
	{"40P01", domain.Unavailable}, // a deadlock, every time
	{"53100", domain.Unavailable}, // the disk is full
	{"57014", domain.Unavailable}, // it took too long
	{"57P01", domain.Unavailable}, // the server is going down
}

// ways are those in which each statement is made to fail. Where a process has one connection
// what is asked is that no way out takes another (promise D2): a race that is lost every time
// is tried again until it is given up, which is all that the others do and more.
func ways() []fault {
	if storetest.OneConnection() {
		return codes[1:2]
	}
	return codes
}

// always is more often than a write is tried.
const always = 100

// statement is one that writes: insert, update or delete, and the table.
type statement struct{ op, table string }

func (w *world) plan(s statement, code string, times int) {
	w.t.Helper()
	w.exec(`delete from fault_plan`)
	w.exec(`alter sequence fault_count restart`)
	if code != "" {
		w.exec(`insert into fault_plan values ($1, $2, $3, $4)`, s.table, s.op, code, times)
	}
}

// hits tells what was written since it was asked last.
func (w *world) hits() (list []statement) {
	w.t.Helper()
	for _, text := range value[[]string](w.bundle, `select coalesce(array_agg(distinct op || ' ' || tab), '{}') from fault_hits`) {
		op, table, _ := strings.Cut(text, " ")
		list = append(list, statement{op, table})
	}
	w.exec(`truncate fault_hits`)
	return list
}

// chapter is a step of the story as B3 takes it: something that writes, and what it takes
// to go on from there.
type chapter struct {
	name  string
	write func(context.Context) error
	then  func()
}

// chapters are the story's steps, with what the story leaves out after some: the other
// way round, the work of a job, a correction after issue.
func (w *world) chapters(cases map[string]useCase, s story.Step) []chapter {
	in := s.Input(w.World)
	then := func() {
		w.Keep()
		if s.After != nil && s.Call != "IssueReport" && s.Call != "IssueAddendum" && s.Call != "ShareReport" { // whose jobs, and whose client, are chapters below
			s.After(w.World)
		}
	}
	call := func(name string, in any) func(context.Context) error {
		return func(ctx context.Context) error {
			_, err := cases[name].call(ctx, w.Actor, in)
			return err
		}
	}
	list := []chapter{{s.Call, call(s.Call, in), then}}
	more := func(name string, write func(context.Context) error) {
		list = append(list, chapter{s.Call + ", then " + name, write, func() {}})
	}
	switch s.Call {
	case "AddVessel":
		more("one with a former name", call("AddVessel", practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: newID(), Name: "Dunlin"}, FormerNames: []string{"Knot"}}))
	case "GiveAccess":
		more("taken back", call("GiveAccess", practice.GiveAccess{Mutation: newID(), Job: w.Of("job"), Member: w.Of("guest")}))
	case "EditVisit":
		more("one cancelled", call("EditVisit", practice.EditVisit{Mutation: newID(), ID: w.Of("next visit"), Version: 1, State: ptr("cancelled")}))
	case "MarkNotReached":
		more("reached after all", call("MarkNotReached", practice.MarkNotReached{Mutation: newID(), Pass: w.Of("pass"), Ordinals: []int32{2}, Withdrawn: true}))
	case "IssueAddendum":
		job := practice.AddendumJob{Practice: w.Practice, Addendum: in.(practice.IssueAddendum).ID}
		more("its PDF", func(ctx context.Context) error { return w.MakeAddendum(ctx, job) })
	case "ShareReport":
		for _, said := range w.Hear() {
			more(said.Name, said.Say)
		}
	case "IssueReport":
		issued := in.(practice.IssueReport).ID
		job := practice.ReportJob{Practice: w.Practice, Report: issued}
		more("its page and PDF", func(ctx context.Context) error { return w.MakeReport(ctx, job) })
		if issued != w.Of("report") {
			break
		}
		more("a correction", call("VoidReading", practice.VoidReading{Mutation: newID(), Reading: w.Of("new reading"), Reason: "water on the skin"}))
	}
	return list
}

// unreached lists the statements that the story does not come to, and where they are
// tested instead.
var unreached = map[statement]string{
	{"update", "mails"}:          "a letter is sent by a job: store/post",
	{"insert", "share_openings"}: "a link is opened by whoever has it: reports_test.go",
	{"insert", "digests"}:        "a mail of what is new is sent by a job: notices_test.go",
	{"insert", "person_exports"}: "an export is a download: privacy_test.go",
	// Figures of a job under way: a report is made without them all the same.
	{"insert", "report_makings"}: "how far a report has got: reports_test.go",
}

// Each statement that writes is made to fail, in every way that promise B3 names: all of
// the change is there or none, the caller is told the right thing, and the same change
// sent again goes through.
func TestEveryWriteIsAllOrNothing(t *testing.T) {
	t.Parallel()
	ours, theirs := worlds(t)
	ours.exec(faultyDatabase)
	cases := map[string]useCase{}
	for _, u := range ours.useCases() {
		cases[u.name] = u
	}
	done := map[statement]bool{}
	for _, s := range story.Steps() {
		before, mine := theirs.chapters(cases, s), ours.chapters
		ours.hits()
		var written [][]statement
		for _, c := range before {
			if err := c.write(t.Context()); err != nil {
				t.Fatalf("%s in their practice: %v", c.name, err)
			}
			written = append(written, ours.hits())
			c.then()
		}
		for k, c := range mine(cases, s) {
			ours.fail(c, written[k], done)
			c.then()
		}
	}
	for _, s := range writes(t) {
		switch why, known := unreached[s]; {
		case !done[s] && !known:
			t.Errorf("no step of the story comes to %s %s", s.op, s.table)
		case done[s] && known:
			t.Errorf("%s %s is reached after all, not only %s", s.op, s.table, why)
		}
	}
}

// fail makes each statement of a chapter fail in every way, then lets it through a race
// that is lost once.
func (w *world) fail(c chapter, written []statement, done map[statement]bool) {
	w.t.Helper()
	before := w.state()
	for _, s := range written {
		if done[s] {
			continue
		}
		done[s] = true
		for _, code := range ways() {
			w.plan(s, code.sqlstate, always)
			err := c.write(w.t.Context())
			if err == nil || domain.KindOf(err) != code.kind {
				w.t.Errorf("%s, %s %s failing with %s: %v, want %s", c.name, s.op, s.table, code.sqlstate, err, code.kind.Code())
			}
			if err == nil {
				return
			}
			if d := differs(before, w.state()); len(d) > 0 {
				w.t.Errorf("%s, %s %s failing with %s: something stayed in %v", c.name, s.op, s.table, code.sqlstate, d)
			}
		}
	}
	if len(written) == 0 {
		w.t.Fatalf("%s writes nothing", c.name)
	}
	w.plan(written[len(written)-1], "40001", 1)
	if err := c.write(w.t.Context()); err != nil {
		w.t.Fatalf("%s after a race lost once: %v", c.name, err)
	}
	if w.state() == before {
		w.t.Errorf("%s went through and changed nothing", c.name)
	}
	w.plan(statement{}, "", 0)
}

var (
	named   = regexp.MustCompile(`(?m)^-- name: `)
	writing = regexp.MustCompile(`(?m)(?:^|\()\s*(insert into|update|delete from)\s+([a-z_]+)`)
)

// writes lists the statements that write, out of the sources of the generated code, with
// what the record of changes and the queue add.
func writes(t *testing.T) []statement {
	t.Helper()
	files, err := filepath.Glob("../../store/queries/*.sql")
	if err != nil || len(files) < 10 {
		t.Fatalf("the queries are not there: %v", err)
	}
	list := []statement{{"insert", "mutations"}, {"update", "heads"}, {"insert", "river_job"}, {"insert", "mails"}}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, query := range named.Split(string(text), -1) {
			for _, m := range writing.FindAllStringSubmatch(query, -1) {
				s := statement{strings.Fields(m[1])[0], m[2]}
				if !slices.Contains(list, s) {
					list = append(list, s)
				}
			}
		}
	}
	return list
}

func (s statement) String() string { return fmt.Sprintf("%s %s", s.op, s.table) }
