package graph_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/vektah/gqlparser/v2/ast"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// caller is one of those who walk the contract. Links come with a secret, members with an
// actor; mark is the letter that stands for the caller in testdata/roles.
type caller struct {
	mark  byte
	name  string
	actor domain.Actor
	link  string
}

// outsider tells whether a caller belongs to no practice of ours.
func (c caller) outsider() bool { return !strings.ContainsRune(insiders, rune(c.mark)) }

// The callers, in the order of the columns in testdata/roles.
const (
	insiders  = "PSTOGUK"
	outsiders = "LMNAByt-X"
)

const aboutCallers = `# P principal, S surveyor, T trainee, O office, G guest let into the job, U guest let into none, K a surveyor's API key;
# L link to the report of the first client, M link to the report of another client about the same boat,
# N link to the first report for somebody whom its client allowed it, A and B the accounts of L and M, y a yard's link, t a link to terms, - nobody, X principal of another practice.
`

// walked is what the walk found: for each line of a table the callers that got there.
type walked map[string]map[byte]bool

func (w walked) note(line string, c caller) {
	if w[line] == nil {
		w[line] = map[byte]bool{}
	}
	if c.mark != 0 {
		w[line][c.mark] = true
	}
}

// table writes one line for each, a letter for each caller that got there.
func (w walked) table() []byte {
	var b bytes.Buffer
	b.WriteString(aboutCallers)
	for _, line := range slices.Sorted(maps.Keys(w)) {
		row := make([]byte, 0, 20)
		for k, mark := range []byte(insiders + outsiders) {
			if k == len(insiders) {
				row = append(row, ' ')
			}
			if w[line][mark] {
				row = append(row, mark)
			} else {
				row = append(row, '.')
			}
		}
		fmt.Fprintf(&b, "%s %s\n", row, line)
	}
	return b.Bytes()
}

// held compares a table with the one that people have looked at, and leaves the new one
// beside it where they differ.
func held(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("..", "testdata", "roles", name)
	want, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	if bytes.Equal(got, want) {
		_ = os.Remove(path + ".new")
		return
	}
	if err := os.WriteFile(path+".new", got, 0o600); err != nil {
		t.Fatal(err)
	}
	was := map[string]bool{}
	for line := range strings.Lines(string(want)) {
		was[line] = true
	}
	told := 0
	for line := range strings.Lines(string(got)) {
		if !was[line] && told < 40 {
			told++
			t.Errorf("%s: not what is agreed on: %s", name, strings.TrimSpace(line))
		}
		delete(was, line)
	}
	for line := range was {
		if told++; told < 60 {
			t.Errorf("%s: agreed on, and no longer so: %s", name, strings.TrimSpace(line))
		}
	}
	t.Errorf("look at %s.new; where each change is meant, it takes the place of %s", path, name)
}

// Every field of the contract, asked for as everybody there is. Two tables in
// testdata/roles say who gets what: fields.txt for each field and mutation, values.txt for
// each text that the database keeps, found again in the answers by a mark planted in it.
// A field without a line fails, and so does one that reaches more or fewer people.
func TestEveryFieldReachesWhomItMay(t *testing.T) {
	t.Parallel()
	w := walk(t)
	w.plant()
	fields, values := walked{}, walked{}
	w.list(fields)
	for _, c := range w.callers {
		w.ask(c, fields, values)
		w.mayWrite(c, fields)
	}
	w.sane(values)
	held(t, "fields.txt", fields.table())
	held(t, "values.txt", values.table())

	restricted := walked{}
	if _, err := w.owner.Exec(t.Context(), `update jobs set restricted = true where practice_id = $1 and id = $2`, w.Practice, w.Of("job")); err != nil {
		t.Fatal(err)
	}
	if _, err := w.owner.Exec(t.Context(), `delete from job_access where practice_id = $1 and job_id = $2`, w.Practice, w.Of("job")); err != nil {
		t.Fatal(err)
	}
	for _, c := range w.callers {
		if !c.outsider() {
			w.ask(c, nil, restricted)
		}
	}
	for line := range restricted {
		if !strings.HasPrefix(line, "a ") {
			delete(restricted, line)
		}
	}
	held(t, "restricted.txt", restricted.table())

	w.write(values)
}

// walker is a practice in which everything has happened, and those who walk through it.
type walker struct {
	*story.World
	t       *testing.T
	owner   *pgx.Conn
	schema  *ast.Schema
	handler http.Handler
	callers []caller
	kinds   map[domain.Thing][]string // ids on the wire
	types   map[string]string         // of what each id names
}

// stays are the steps that the walk leaves out: they take away what it looks at.
var stays = []string{"RevokeShare", "RevokeYardLink", "RevokeFeed", "WithdrawReport", "ReplaceReport", "HoldReports", "WithdrawSharing", "RestoreStanding", "WithdrawCauseCheck", "EndLeave", "RemoveTides", "StrikeAttendanceNote", "SetCompetences"}

func walk(t *testing.T) *walker {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	kept, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(kept.Close)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	cases := practice.New(kept, practice.WithObjects(objects), practice.WithPublicURL("https://boottop.example"), practice.WithClock(func() time.Time { return story.Today }))
	door, err := graph.Serve(&graph.Resolver{Practice: cases}, true)
	if err != nil {
		t.Fatal(err)
	}
	w := &walker{t: t, owner: db.Connect(t, db.OwnerURL), schema: schema(), handler: auth.WithShare(door), kinds: map[domain.Thing][]string{}, types: map[string]string{}}
	var members map[domain.Role]domain.Actor
	w.World, members = story.Begin(t, kept, w.owner, cases, objects, "West pier surveys")
	for _, s := range story.Steps() {
		if !slices.Contains(stays, s.Call) {
			w.Take(t.Context(), s, s.Input(w.World))
		}
	}
	_, others := story.Begin(t, kept, w.owner, cases, objects, "East pier surveys")
	w.gather(members, others[domain.Principal])
	for what, id := range w.IDs {
		kind := story.Kinds[what]
		w.kinds[kind] = append(w.kinds[kind], string(kind)+"_"+id.String())
	}
	for kind := range w.kinds {
		slices.Sort(w.kinds[kind])
	}
	return w
}

// gather names the callers: the members, and those who hold links and accounts.
func (w *walker) gather(members map[domain.Role]domain.Actor, other domain.Actor) {
	w.t.Helper()
	unlet := members[domain.Guest]
	unlet.Member = newID()
	account := newID()
	w.exec(`insert into accounts (id, email, password_hash, created_at) values ($1, 'unlet@guest.example', '', now())`, account)
	w.exec(`insert into members (practice_id, id, account_id, name, email, roles) values ($1, $2, $3, 'The other guest', '', '{guest}')`, w.Practice, unlet.Member, account)
	key := members[domain.Surveyor]
	key.Means = domain.ByKey
	secondReport := w.another()
	_, err := w.Service.WriteAddendum(w.t.Context(), w.Actor, practice.WriteAddendum{Mutation: newID(), ID: newID(), Report: w.Of("report"), Text: "Not yet issued."})
	w.fine("write an addendum", err)
	first, second := w.shared(w.Of("report"), "party", "anna@dunlin.example"), w.shared(secondReport, "client", "ulla@knot.example")
	_, link, err := w.Service.ShareYard(w.t.Context(), w.Actor, practice.ShareYard{Mutation: newID(), ID: newID(), Yard: w.Of("party"), Name: "Odo Rask", Email: "odo@rask.example", Until: story.Today.AddDate(0, 6, 0)})
	w.fine("share a yard", err)
	_, offer, _, err := w.Service.OfferTerms(w.t.Context(), w.Actor, practice.OfferTerms{Mutation: newID(), ID: newID(), Engagement: w.enquiry(), Terms: w.Of("terms"), Name: "Ulla Knot", Email: "ulla@knot.example", Until: story.Today.AddDate(0, 6, 0)})
	w.fine("offer terms", err)
	w.callers = []caller{
		{'P', "the principal", members[domain.Principal], ""},
		{'S', "the surveyor", members[domain.Surveyor], ""},
		{'T', "the trainee", members[domain.Trainee], ""},
		{'O', "the office", members[domain.Office], ""},
		{'G', "the guest let in", members[domain.Guest], ""},
		{'U', "the other guest", unlet, ""},
		{'K', "a key", key, ""},
		{'L', "a link", domain.Actor{}, first},
		{'M', "another's link", domain.Actor{}, second},
		{'N', "a lender's link", domain.Actor{}, w.lent()},
		{'A', "an account", w.account(first), ""},
		{'B', "another's account", w.account(second), ""},
		{'y', "a yard", domain.Actor{}, secretOf(link)},
		{'t', "an offer", domain.Actor{}, secretOf(offer)},
		{'-', "nobody", domain.Actor{}, ""},
		{'X', "another practice", other, ""},
	}
}

func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

func secretOf(link string) string { return link[strings.LastIndexByte(link, '/')+1:] }

func (w *walker) fine(doing string, err error) {
	w.t.Helper()
	if err != nil {
		w.t.Fatalf("%s: %v", doing, err)
	}
}

func (w *walker) exec(sql string, args ...any) {
	w.t.Helper()
	if _, err := w.owner.Exec(w.t.Context(), sql, args...); err != nil {
		w.t.Fatalf("%v in %s", err, sql)
	}
}

// enquiry is one that terms can be offered for.
func (w *walker) enquiry() uuid.UUID {
	w.t.Helper()
	id, client, boat := newID(), w.Of("client"), w.Of("second vessel")
	_, err := w.Service.AddEnquiry(w.t.Context(), w.Actor, practice.AddEnquiry{Mutation: newID(), ID: id, AskedBy: "Ulla Knot", Client: &client, Vessel: &boat, BoatAsWritten: "a blue ketch", Kind: "pre-purchase"})
	w.fine("add an enquiry", err)
	_, err = w.Service.SetQuote(w.t.Context(), w.Actor, practice.SetQuote{Mutation: newID(), Engagement: id, Version: 1, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 70000, TaxPermille: 230}}})
	w.fine("quote", err)
	_, err = w.Service.DecideConflict(w.t.Context(), w.Actor, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 2, Decision: "go on", Note: "looked at"})
	w.fine("decide on ties", err)
	return id
}

// another makes a second client's job on the same boat, and its report.
func (w *walker) another() (report uuid.UUID) {
	w.t.Helper()
	ctx, s, a := w.t.Context(), w.Service, w.Actor
	job, client, lead := newID(), w.Of("client"), w.Of("surveyor")
	_, err := s.AddJob(ctx, a, practice.AddJob{Mutation: newID(), ID: job, Vessel: w.Of("vessel"), Client: &client, Lead: &lead, Kind: "limited moisture", Cite: "this client only"})
	w.fine("add a job", err)
	_, err = s.AddRecommendation(ctx, a, practice.AddRecommendation{Mutation: newID(), Recommendation: practice.Recommendation{ID: newID(), JobID: job, Grade: "watch", Sure: "suspected", What: "Look again."}})
	w.fine("recommend", err)
	report = newID()
	_, err = s.DraftReport(ctx, a, practice.DraftReport{Mutation: newID(), ID: report, Job: job, Title: "For Ulla Knot", Paper: "A4"})
	w.fine("draft", err)
	version := func() (v int32) {
		w.fine("read a version", w.owner.QueryRow(ctx, `select version from reports where id = $1`, report).Scan(&v))
		return v
	}
	text := "As she lay."
	_, err = s.EditReport(ctx, a, practice.EditReport{Mutation: newID(), ID: report, Version: version(), InShort: &text, Scope: &text, Limits: &text})
	w.fine("write", err)
	_, err = s.TakeSecondLook(ctx, a, practice.TakeSecondLook{Mutation: newID(), ID: report, Version: version()})
	w.fine("look twice", err)
	_, err = s.IssueReport(ctx, a, practice.IssueReport{Mutation: newID(), ID: report, Version: version()})
	w.fine("issue", err)
	w.fine("make", s.MakeReport(ctx, practice.ReportJob{Practice: w.Practice, Report: report}))
	return report
}

// shared makes a link for a client and gives its secret.
func (w *walker) shared(report uuid.UUID, client, email string) string {
	w.t.Helper()
	party := w.Of(client)
	_, link, err := w.Service.ShareReport(w.t.Context(), w.Actor, practice.ShareReport{Mutation: newID(), ID: newID(), Report: report, Party: &party, Name: "Anna Dunlin", Email: email, Until: story.Today.AddDate(0, 6, 0)})
	w.fine("share with the "+client, err)
	return secretOf(link)
}

// lent makes a link to the first report for somebody whom its client allowed it.
func (w *walker) lent() string {
	w.t.Helper()
	w.exec(`insert into permissions (practice_id, id, job_id, what, given_on, given_by_name) values ($1, $2, $3, 'share the report', now(), 'the client')`, w.Practice, newID(), w.Of("job"))
	_, link, err := w.Service.ShareReport(w.t.Context(), w.Actor, practice.ShareReport{Mutation: newID(), ID: newID(), Report: w.Of("report"), Name: "Pier Mutual", Email: "desk@mutual.example", Until: story.Today.AddDate(0, 6, 0)})
	w.fine("share with a lender", err)
	return secretOf(link)
}

// account keeps what a link opens in an account of its own.
func (w *walker) account(link string) domain.Actor {
	w.t.Helper()
	id := newID()
	w.exec(`insert into accounts (id, email, password_hash, created_at) values ($1, $2, '', now())`, id, id.String()+"@client.example")
	w.fine("keep in an account", w.Service.GrantClient(w.t.Context(), link, id))
	return domain.Actor{Account: id, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}
}

// words are the columns whose text the service reads as one of a few words, or by which it
// finds a row: a mark in them would make it fail and not speak.
var words = []string{
	"kind", "state", "grade", "stage", "cite", "currency", "time_zone", "roles", "email", "operation", "content_type", "section", "gate", "actor_kind",
	"elements.figure", "mutations.result", "wordings.kinds", "practices.units", "engagements.currency", "competences.kind", "reinspections.code", "visit_overrides.code",
	"passes.surface", "passes.dry_surface", "reports.paper", "waits_for", "instruments.sensing", "reinspections.reason", "tides.place", "weather_records.place",
	"yards.tide_place", "drying_courses.tent_place", "drying_courses.outdoors_place", "readings.as_written",
}

// plant puts a mark into every text that the practice keeps: whose it is (a of the first
// client's job, b of another job, o of none, d of a draft), table, column and row.
func (w *walker) plant() {
	w.t.Helper()
	type column struct{ Table, Name string }
	rows, err := w.owner.Query(w.t.Context(), `
		select c.relname, a.attname from pg_class c join pg_namespace n on n.oid = c.relnamespace join pg_attribute a on a.attrelid = c.oid
		 where n.nspname = 'public' and c.relkind = 'r' and a.attnum > 0 and not a.attisdropped and a.attgenerated = '' and a.atttypid = 'text'::regtype
		   and exists (select from pg_attribute p where p.attrelid = c.oid and p.attname = 'practice_id') order by 1, 2`)
	w.fine("read the catalogue", err)
	columns, err := pgx.CollectRows(rows, pgx.RowToStructByPos[column])
	w.fine("read the catalogue", err)
	planted := 0
	for _, c := range columns {
		if slices.Contains(words, c.Name) || slices.Contains(words, c.Table+"."+c.Name) {
			continue
		}
		err := pgx.BeginFunc(w.t.Context(), w.owner, func(tx pgx.Tx) error {
			if _, err := tx.Exec(w.t.Context(), fmt.Sprintf(`alter table %s disable trigger user`, c.Table)); err != nil {
				return err
			}
			of := w.jobOf(c.Table)
			tag, err := tx.Exec(w.t.Context(), fmt.Sprintf(`update %s x set %s = 'zq' || case when %s is null then 'o' when %[3]s = $2 then 'a' else 'b' end || '.%[1]s.%[2]s#' || right(md5(x.ctid::text), 5) where practice_id = $1`, c.Table, c.Name, of), w.Practice, w.Of("job"))
			if err != nil {
				return err
			}
			planted += int(tag.RowsAffected())
			_, err = tx.Exec(w.t.Context(), fmt.Sprintf(`alter table %s enable trigger user`, c.Table))
			return err
		})
		if err != nil && !strings.Contains(err.Error(), "violates check constraint") {
			w.t.Fatalf("%s.%s: %v", c.Table, c.Name, err)
		}
	}
	w.exec(`alter table addenda disable trigger user`)
	w.exec(`update addenda set text = 'zqd.addenda.text#00000' where practice_id = $1 and state <> 'issued'`, w.Practice)
	if planted < 300 {
		w.t.Errorf("only %d texts were marked", planted)
	}
}

// jobOf is SQL for the job that a row x of a table belongs to; null where to none.
func (w *walker) jobOf(table string) string {
	w.t.Helper()
	if table == "jobs" {
		return "x.id"
	}
	for _, way := range []struct{ column, job string }{
		{"job_id", "x.job_id"},
		{"visit_id", "(select v.job_id from visits v where v.practice_id = x.practice_id and v.id = x.visit_id)"},
		{"report_id", "(select r.job_id from reports r where r.practice_id = x.practice_id and r.id = x.report_id)"},
		{"recommendation_id", "(select r.job_id from recommendations r where r.practice_id = x.practice_id and r.id = x.recommendation_id)"},
		{"pass_id", "(select v.job_id from passes p join visits v on v.practice_id = p.practice_id and v.id = p.visit_id where p.practice_id = x.practice_id and p.id = x.pass_id)"},
		{"share_id", "(select r.job_id from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id where s.practice_id = x.practice_id and s.id = x.share_id)"},
		{"invoice_id", "(select i.job_id from invoices i where i.practice_id = x.practice_id and i.id = x.invoice_id)"},
		{"notice_id", "(select r.job_id from danger_notices d join recommendations r on r.practice_id = d.practice_id and r.id = d.recommendation_id where d.practice_id = x.practice_id and d.id = x.notice_id)"},
		{"addendum_id", "(select r.job_id from addenda d join reports r on r.practice_id = d.practice_id and r.id = d.report_id where d.practice_id = x.practice_id and d.id = x.addendum_id)"},
	} {
		var there bool
		w.fine("read the catalogue", w.owner.QueryRow(w.t.Context(), `select exists (select from information_schema.columns where table_schema = 'public' and table_name = $1 and column_name = $2)`, table, way.column).Scan(&there))
		if there {
			return way.job
		}
	}
	return "null::uuid"
}

// list gives every field that a query can come to, and every mutation, a line of its own.
func (w *walker) list(fields walked) {
	for name := range reach(w.schema, "Query", map[string]bool{}) {
		if strings.HasPrefix(name, "__") {
			continue
		}
		for _, f := range w.schema.Types[name].Fields {
			if !strings.HasPrefix(f.Name, "__") {
				fields.note(name+"."+f.Name, caller{})
			}
		}
	}
	w.mutations(func(f *ast.FieldDefinition, _ *ast.Definition) { fields.note("Mutation."+f.Name, caller{}) })
}

// chosen gives arguments where just any value finds nothing.
var chosen = map[string]any{
	"from": "2026-03-01T00:00:00Z", "to": "2026-05-30T00:00:00Z", "newLift": "2026-05-01T09:00:00Z", "newWash": "2026-05-02T09:00:00Z", "first": 20,
	"kind": "meter visit", "timeZone": "Europe/Dublin", "show": nil, "since": 0, "open": false, "mine": false,
}

// ask asks every query as one caller, with every id that fits, for every field below it.
func (w *walker) ask(c caller, fields, values walked) {
	w.t.Helper()
	for _, f := range w.schema.Query.Fields {
		if strings.HasPrefix(f.Name, "__") {
			continue
		}
		for _, variables := range w.variables(f) {
			for _, pack := range w.packs(w.asked(f, variables)) {
				said := w.send(c, query(f, variables, pack), variables)
				w.marks(c, f.Name, said, values)
				w.answered(c, f, said, variables, fields)
			}
		}
	}
}

// lately is a number of the record with fewer changes since than are told at once.
func (w *walker) lately() (seq int) {
	w.t.Helper()
	w.fine("read the head", w.owner.QueryRow(w.t.Context(), `select seq - 50 from heads where practice_id = $1`, w.Practice).Scan(&seq))
	return seq
}

// variables fills a query's arguments: once with each id that fits the first it needs, and
// once more with those it does not need.
func (w *walker) variables(f *ast.FieldDefinition) (all []map[string]any) {
	base, more := map[string]any{}, map[string]any{}
	varied := ""
	for _, a := range f.Arguments {
		kind, known := kindOf(f.Name, a.Name)
		isID := a.Type.Name() == "ID"
		value, told := chosen[a.Name]
		switch {
		case isID && a.Type.NonNull && varied == "":
			varied = a.Name
		case isID && a.Type.NonNull && known:
			base[a.Name] = w.kinds[kind][len(w.kinds[kind])-1]
		case isID && known && len(w.kinds[kind]) > 0:
			more[a.Name] = w.kinds[kind][0]
		case f.Name == "head" && a.Name == "since":
			base[a.Name] = w.lately()
		case f.Name == "fitVisit" && a.Name == "to":
			base[a.Name] = "2026-03-01T03:00:00Z"
		case told && value != nil && a.Type.Name() == "Date":
			base[a.Name] = value.(string)[:10]
		case told && value != nil:
			base[a.Name] = value
		case a.Type.NonNull && a.DefaultValue == nil:
			base[a.Name] = filler(w.schema, a.Type, f.Name, a.Name)
		}
	}
	ids := []string{""}
	if varied != "" {
		kind, _ := kindOf(f.Name, varied)
		if ids = w.kinds[kind]; f.Name == "node" {
			for _, of := range slices.Sorted(maps.Keys(w.kinds)) {
				ids = append(ids, w.kinds[of]...)
			}
		}
	}
	for _, id := range ids {
		if f.Name == "partiesBeside" && id == base["other"] {
			continue
		}
		v := maps.Clone(base)
		if varied != "" {
			v[varied] = id
		}
		all = append(all, v)
		if len(more) > 0 {
			with := maps.Clone(v)
			maps.Copy(with, more)
			all = append(all, with)
		}
	}
	return all
}

// branch is a part of what is asked for: fields without more below, or with.
type branch struct {
	name  string // with its alias and arguments
	below []*branch
}

func (b *branch) write(to *strings.Builder) {
	to.WriteString(b.name)
	if b.below != nil {
		to.WriteByte('{')
		for k, one := range b.below {
			if k > 0 {
				to.WriteByte(' ')
			}
			one.write(to)
		}
		to.WriteByte('}')
	}
}

func (b *branch) size() int {
	n := 1
	for _, one := range b.below {
		n += one.size()
	}
	return n
}

// most is how many fields one document asks for; the door takes 500.
const most = 350

// asked is everything below a query's field; below node, of the kind of thing that the id names.
func (w *walker) asked(f *ast.FieldDefinition, variables map[string]any) []*branch {
	if f.Name != "node" {
		return w.below(f.Type.Name(), []string{"Query"})
	}
	id := variables["id"].(string)
	if w.types[id] == "" {
		var got struct {
			Data struct {
				Node *struct {
					Typename string `json:"__typename"`
				}
			}
		}
		w.fine("node", json.Unmarshal([]byte(w.send(w.callers[0], `query($id:ID!){node(id:$id){__typename}}`, variables)), &got))
		if w.types[id] = "none"; got.Data.Node != nil {
			w.types[id] = got.Data.Node.Typename
		}
	}
	if w.types[id] == "none" {
		return []*branch{{name: "__typename"}}
	}
	return []*branch{{name: "__typename"}, {"... on " + w.types[id], w.below(w.types[id], []string{"Query"})}}
}

// packs writes a selection in parts that the door takes.
func (w *walker) packs(whole []*branch) (packs []string) {
	if whole == nil {
		return []string{""}
	}
	var parts []*branch
	var split func(around func(*branch) *branch, list []*branch)
	split = func(around func(*branch) *branch, list []*branch) {
		var now []*branch
		size := 0
		flush := func() {
			if len(now) > 0 {
				parts = append(parts, around(&branch{below: now}))
			}
			now, size = nil, 0
		}
		for _, one := range list {
			n := one.size()
			if n > most {
				split(func(b *branch) *branch { return around(&branch{below: []*branch{{one.name, b.below}}}) }, one.below)
				continue
			}
			if size+n > most {
				flush()
			}
			now, size = append(now, one), size+n
		}
		flush()
	}
	split(func(b *branch) *branch { return b }, whole)
	for _, p := range parts {
		var b strings.Builder
		p.write(&b)
		packs = append(packs, b.String())
	}
	return packs
}

// below is everything that can be asked for below a type, each way down without a type
// twice on it.
func (w *walker) below(name string, way []string) []*branch {
	d := w.schema.Types[name]
	switch {
	case d.Kind == ast.Interface || d.Kind == ast.Union:
		list := []*branch{{name: "__typename"}}
		for _, p := range w.schema.PossibleTypes[name] {
			list = append(list, &branch{"... on " + p.Name, w.below(p.Name, way)})
		}
		return list
	case d.Kind != ast.Object:
		return nil
	}
	way = append(slices.Clone(way), name)
	list := []*branch{{name: "__typename"}}
	for _, f := range d.Fields {
		said := f.Name
		for _, a := range f.Arguments {
			if a.Type.NonNull && a.DefaultValue == nil {
				w.t.Errorf("%s.%s needs the argument %s, which the walk cannot give", name, f.Name, a.Name)
			}
		}
		if w.schema.Types[f.Type.Name()].IsLeafType() {
			list = append(list, &branch{name: said})
			continue
		}
		if slices.Contains(way, f.Type.Name()) {
			continue
		}
		if under := w.below(f.Type.Name(), way); under != nil {
			list = append(list, &branch{said, under})
		}
	}
	return list
}

// mark is one that was planted.
var mark = regexp.MustCompile(`zq([abod])\.([a-z_0-9]+)\.([a-z_0-9]+)#[0-9a-f]{5}`)

// query is the document that asks a query's field.
func query(f *ast.FieldDefinition, variables map[string]any, below string) string {
	var declared, passed []string
	for _, a := range f.Arguments {
		if _, given := variables[a.Name]; given {
			declared, passed = append(declared, "$"+a.Name+":"+a.Type.String()), append(passed, a.Name+":$"+a.Name)
		}
	}
	if len(declared) == 0 {
		return "query{" + f.Name + below + "}"
	}
	return "query(" + strings.Join(declared, ",") + "){" + f.Name + "(" + strings.Join(passed, ",") + ")" + below + "}"
}

// marks notes the marks in an answer.
func (w *walker) marks(c caller, where, said string, values walked) {
	w.t.Helper()
	for _, m := range mark.FindAllStringSubmatch(said, -1) {
		values.note(m[1]+" "+m[2]+"."+m[3], c)
	}
	if c.outsider() {
		w.noIDs(c, where, said)
	}
}

// refusals are the errors of an answer.
type refusals []struct {
	Message    string
	Extensions struct{ Code, Field string }
}

// answered notes the fields of an answer that hold something.
func (w *walker) answered(c caller, f *ast.FieldDefinition, said string, variables map[string]any, fields walked) {
	w.t.Helper()
	var got struct {
		Data   map[string]any
		Errors refusals
	}
	w.fine(f.Name, json.Unmarshal([]byte(said), &got))
	for _, e := range got.Errors {
		if code := e.Extensions.Code; code == "INTERNAL" || strings.HasPrefix(code, "GRAPHQL") || code == "" || code == "INVALID" && c.mark == 'P' {
			w.t.Errorf("%s as %s: %s %s %s, with %v", f.Name, c.name, code, e.Extensions.Field, e.Message, variables)
		}
	}
	if value := got.Data[f.Name]; fields != nil && there(value) {
		fields.note("Query."+f.Name, c)
		w.seen(c, f.Type.Name(), value, fields)
	}
}

// mutations are those of the contract, with the input of each.
func (w *walker) mutations(each func(f *ast.FieldDefinition, input *ast.Definition)) {
	for _, f := range w.schema.Mutation.Fields {
		if !strings.HasPrefix(f.Name, "__") {
			each(f, w.schema.Types[f.Arguments[0].Type.Name()])
		}
	}
}

// mayWrite sends every mutation about things that are not there, and notes those that are
// not refused for who asks.
func (w *walker) mayWrite(c caller, fields walked) {
	w.t.Helper()
	w.mutations(func(f *ast.FieldDefinition, input *ast.Definition) {
		in := filled(w.schema, input, f.Name)
		in["mutation"] = random(domain.ThingMutation)
		if f.Name == "setSchedule" { // its ids stand in lists, of kinds that no name tells
			in["areas"] = []any{}
		}
		said := w.send(c, fmt.Sprintf("mutation($input:%s!){%s(input:$input){__typename}}", input.Name, f.Name), map[string]any{"input": in})
		if !strings.Contains(said, `"UNAUTHENTICATED"`) && !strings.Contains(said, `"FORBIDDEN"`) {
			fields.note("Mutation."+f.Name, c)
		}
	})
}

// write sends every mutation about things that are there, asks for everything that it
// answers, and finds no text in it that its caller may not read. It comes last: what goes
// through changes the practice.
func (w *walker) write(allowed walked) {
	w.t.Helper()
	through := 0
	for _, c := range slices.Backward(w.callers) {
		w.mutations(func(f *ast.FieldDefinition, input *ast.Definition) {
			in := filled(w.schema, input, f.Name)
			for _, field := range input.Fields {
				kind, known := kindOf(f.Name, field.Name)
				if !known || field.Type.Name() != "ID" || field.Type.Elem != nil || makes(f.Name) && field.Name == "id" || len(w.kinds[kind]) == 0 {
					continue
				}
				in[field.Name] = w.kinds[kind][0]
			}
			for _, pack := range w.packs(w.below(f.Type.Name(), []string{"Mutation"})) {
				in["mutation"] = random(domain.ThingMutation)
				said := w.send(c, fmt.Sprintf("mutation($input:%s!){%s(input:$input)%s}", input.Name, f.Name, pack), map[string]any{"input": in})
				if strings.Contains(said, `"data":{`) {
					through++
				}
				got := walked{}
				w.marks(c, f.Name, said, got)
				for line := range got {
					if !allowed[line][c.mark] {
						w.t.Errorf("%s tells %s %s", f.Name, c.name, line)
					}
				}
			}
		})
	}
	if through < 20 {
		w.t.Errorf("only %d writes went through", through)
	}
}

// sane holds what no table may say otherwise.
func (w *walker) sane(values walked) {
	w.t.Helper()
	never := map[byte]string{'-': "abod", 'X': "abod", 'U': "abd", 'G': "b", 'L': "bd", 'N': "bd", 'A': "bd", 'M': "ad", 'B': "ad", 'y': "abd", 't': "abd"}
	for line, callers := range values {
		if callers['N'] && strings.Contains(line, "client_") {
			w.t.Errorf("a lender reads %s", line)
		}
		for c := range callers {
			if strings.Contains(never[c], line[:1]) {
				w.t.Errorf("%c reads %s", c, line)
			}
		}
	}
}

// noIDs refuses an answer to an outsider that names anything of the practice by its id.
func (w *walker) noIDs(c caller, where, said string) {
	w.t.Helper()
	for what, id := range w.IDs {
		if strings.Contains(said, id.String()) {
			w.t.Errorf("%s tells %s the id of the %s", where, c.name, what)
		}
	}
	if strings.Contains(said, w.Practice.String()) {
		w.t.Errorf("%s tells %s the id of the practice", where, c.name)
	}
}

func there(v any) bool {
	if list, ok := v.([]any); ok {
		return len(list) > 0
	}
	return v != nil && v != ""
}

// seen notes each field below a value that holds something.
func (w *walker) seen(c caller, name string, v any, fields walked) {
	switch v := v.(type) {
	case []any:
		for _, one := range v {
			w.seen(c, name, one, fields)
		}
	case map[string]any:
		if of, ok := v["__typename"].(string); ok {
			name = of
		}
		for key, value := range v {
			f := w.schema.Types[name].Fields.ForName(key)
			if f == nil || key == "__typename" || !there(value) {
				continue
			}
			fields.note(name+"."+key, c)
			if !w.schema.Types[f.Type.Name()].IsLeafType() {
				w.seen(c, f.Type.Name(), value, fields)
			}
		}
	}
}

func (w *walker) send(c caller, document string, variables map[string]any) string {
	w.t.Helper()
	body, err := json.Marshal(map[string]any{"query": document, "variables": variables})
	w.fine("write a request", err)
	r := httptest.NewRequest(http.MethodPost, "/graphql", bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	if c.link != "" {
		r.Header.Set(auth.ShareHeader, c.link)
	}
	out := httptest.NewRecorder()
	w.handler.ServeHTTP(out, r.WithContext(auth.WithActor(answer.WithSeen(r.Context(), &answer.Seen{ID: "walk"}), c.actor)))
	return out.Body.String()
}
