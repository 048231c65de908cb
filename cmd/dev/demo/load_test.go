package demo_test

import (
	"context"
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/dev/demo"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// bundle is a database with the scenario in it. Loading is costly, so the tests look at
// one database; what changes it comes last.
type bundle struct {
	*practice.Service
	t      *testing.T
	config demo.Config
	result demo.Result
	owner  *pgx.Conn // sees all rows
}

func load(t *testing.T) *bundle {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Bucket: bucket.Name, Region: bucket.Region, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	b := &bundle{
		Service: practice.New(s, practice.WithObjects(objects)), t: t, owner: db.Connect(t, db.OwnerURL),
		config: demo.Config{Store: s, Objects: objects, PublicURL: "https://boottop.example"},
	}
	b.result = b.again()
	return b
}

func (b *bundle) again() demo.Result {
	b.t.Helper()
	began := time.Now()
	r, err := demo.Load(context.Background(), b.config)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Logf("loaded in %.1f s", time.Since(began).Seconds())
	return r
}

func (b *bundle) home(name string) domain.Actor {
	b.t.Helper()
	return domain.Service(value[uuid.UUID](b, `select practice_id from practices where name = $1`, name))
}

func (b *bundle) vessels(a domain.Actor) []practice.VesselLine {
	b.t.Helper()
	list, err := b.Vessels(b.t.Context(), a, "", practice.Page{First: 200})
	if err != nil {
		b.t.Fatal(err)
	}
	return list
}

func value[T any](b *bundle, sql string, args ...any) (v T) {
	b.t.Helper()
	if err := b.owner.QueryRow(b.t.Context(), sql, args...).Scan(&v); err != nil {
		b.t.Fatalf("%s: %v", sql, err)
	}
	return v
}

// rows counts every table that practices own.
func (b *bundle) rows() map[string]int {
	b.t.Helper()
	found, err := b.owner.Query(b.t.Context(), `
select c.relname from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attname = 'practice_id'
 where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace order by 1`)
	if err != nil {
		b.t.Fatal(err)
	}
	tables, err := pgx.CollectRows(found, pgx.RowTo[string])
	if err != nil {
		b.t.Fatal(err)
	}
	out := map[string]int{}
	for _, t := range tables {
		out[t] = value[int](b, `select count(*) from `+pgx.Identifier{t}.Sanitize())
	}
	return out
}

func TestScenario(t *testing.T) {
	t.Parallel()
	b := load(t)
	ours, theirs := b.home("Ebbstone Practice"), b.home("Marram Point Surveys")
	t.Run("has a fleet of twelve and more, and a small practice beside it", func(t *testing.T) {
		if n, m := len(b.vessels(ours)), len(b.vessels(theirs)); n < 12 || m < 1 || m > 3 {
			t.Errorf("%d and %d vessels", n, m)
		}
	})
	t.Run("keeps its practices apart", func(t *testing.T) {
		for _, v := range b.vessels(theirs) {
			if _, err := b.History(t.Context(), ours, v.ID, nil); domain.KindOf(err) != domain.NotFound {
				t.Errorf("%s is told of to the other practice: %v", v.Name, err)
			}
		}
	})
	t.Run("has a valid baseline in every pass that was metered", func(t *testing.T) { b.baselines(t, ours, theirs) })
	t.Run("tells of Tamsel's tank and her leak", func(t *testing.T) { b.tamsel(t, ours) })
	t.Run("tells of Alder Carr's two depths", func(t *testing.T) { b.alderCarr(t, ours) })
	t.Run("issues reports that say nothing they may not", func(t *testing.T) { b.reports(t, ours, theirs) })
	t.Run("has a day with visits, jobs in hand and somebody who is waited for", func(t *testing.T) {
		day, err := b.Today(t.Context(), ours, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(day.Visits) < 3 || len(day.InHand) < 8 || len(day.Waiting) < 4 {
			t.Errorf("%d visits, %d in hand, %d waiting", len(day.Visits), len(day.InHand), len(day.Waiting))
		}
	})
	t.Run("lets its members sign in", func(t *testing.T) { b.signIns(t) })
	t.Run("shows every photo", func(t *testing.T) {
		if n := value[int](b, `select count(*) from photos where state <> 'ready'`); n > 0 {
			t.Errorf("%d photos are not ready", n)
		}
	})
	t.Run("leaves a record that is sealed line to line, and grids that are what their readings say", func(t *testing.T) {
		for _, a := range []domain.Actor{ours, theirs} {
			v, err := practice.VerifyChain(t.Context(), b.config.Store, a.Practice, nil)
			if err != nil || len(v.Breaks) > 0 || v.Lines == 0 {
				t.Errorf("%d lines: %v %v", v.Lines, v.Breaks, err)
			}
			if _, differed, err := b.config.Store.RebuildGrids(t.Context(), a.Practice); err != nil || differed > 0 {
				t.Errorf("%d grids differ: %v", differed, err)
			}
		}
	})
	t.Run("loaded twice, changes nothing", func(t *testing.T) {
		before := b.rows()
		second := b.again()
		if after := b.rows(); !maps.Equal(before, after) {
			t.Errorf("rows before %v, after %v", before, after)
		}
		if b.result.APIKey == "" || second.APIKey != "" {
			t.Error("the key is given out once, by the load that made it")
		}
		t.Logf("%d mutations, %d readings in %d passes", before["mutations"], before["readings"], before["passes"])
	})
}

func (b *bundle) baselines(t *testing.T, houses ...domain.Actor) {
	for _, a := range houses {
		for _, v := range b.vessels(a) {
			h, err := b.History(t.Context(), a, v.ID, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range h.Passes {
				none := p.Quoted || p.Surface == "laminate" && v.Name == "Sallow" // peeled and dried for months: level with her topsides
				if none == p.Baseline.Valid() {
					t.Errorf("%s, %s by %s: baseline valid %t %v", v.Name, p.BeganAt.Format(time.DateOnly), p.InstrumentName, p.Baseline.Valid(), p.Baseline.Reasons)
				}
				t.Logf("%s, %s, %s, %s: baseline %.1f scatter %.1f, underbody %+.1f", v.Name, p.BeganAt.Format(time.DateOnly), p.InstrumentName, p.Standing,
					float64(p.Baseline.Median.Low)/40, p.Baseline.Scatter, middle(p, func(k int) bool { return h.Axis.Down[k] > 0 }))
			}
		}
	}
}

// middle is the median contrast of some places of a pass, scale units.
func middle(p practice.HistoryPass, keep func(k int) bool) float64 {
	var list []int32
	for k, c := range p.Contrasts {
		if c != practice.Null && keep(k) {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return 0
	}
	slices.Sort(list)
	return float64(list[len(list)/2]) / 20
}

// tamsel holds her story against what was planted: level over the years, the tank full in
// 2019 and 2021 and empty since, a leak at the heads inlet.
func (b *bundle) tamsel(t *testing.T, a domain.Actor) {
	all := b.vessels(a)
	at := slices.IndexFunc(all, func(v practice.VesselLine) bool { return v.Name == "Tamsel" })
	h, err := b.History(t.Context(), a, all[at].ID, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Passes) != 10 || len(h.Axis.IDs) < 130 {
		t.Fatalf("%d passes over %d places", len(h.Passes), len(h.Axis.IDs))
	}
	under := func(k int) bool { return h.Axis.Down[k] > 0 }
	tank := func(k int) bool {
		return h.Axis.Sides[k] == "port" && h.Axis.Along[k] > 5620 && h.Axis.Along[k] < 7120 && h.Axis.Down[k] > 300 && h.Axis.Down[k] < 1200
	}
	leak := func(k int) bool {
		return h.Axis.Sides[k] == "starboard" && slices.Contains([]string{"9/2", "10/2", "9/3"}, h.Axis.Labels[k])
	}
	standing := []practice.Standing{practice.Quoted, practice.Unlike, practice.Alike, practice.Same, practice.Same, practice.Same, practice.Same, practice.Same, practice.Same, practice.Reference}
	for k, p := range h.Passes {
		if p.Standing != standing[k] {
			t.Errorf("pass %d stands %s, want %s: %s", k, p.Standing, standing[k], p.Because)
		}
		level := middle(p, under)
		if k > 0 && (level < 5 || level > 15) {
			t.Errorf("pass %d: the underbody stands %.1f above its baseline", k, level)
		}
		if full := k == 2 || k == 3; full != (middle(p, tank) > level+8) {
			t.Errorf("pass %d: tank full %t, field %.1f, underbody %.1f", k, full, middle(p, tank), level)
		}
	}
	gate := h.Passes[5].Gate // today beside three years ago
	for _, v := range []change.Answer{change.CannotTell, change.NoChangeShown, change.Changed} {
		if !slices.Contains(gate.Verdicts, int32(v)) {
			t.Errorf("no place says %q; untold %v, least %v", v, gate.Untold, gate.LeastChange)
		}
	}
	now := h.Passes[9]
	if now.State != "open" || middle(now, leak) < middle(now, under)+5 {
		t.Errorf("today's pass is %s; round the leak %.1f, underbody %.1f", now.State, middle(now, leak), middle(now, under))
	}
	read := 0
	for k := range h.Axis.IDs {
		if now.Taken.At(k) != practice.Null {
			read++
		}
	}
	if read < len(h.Axis.IDs)/3 || read > 2*len(h.Axis.IDs)/3 {
		t.Errorf("%d of %d places are read today; a person is to go on", read, len(h.Axis.IDs))
	}
}

// alderCarr holds her steps against what was done with her: dried in a shed while a locker
// got wet, then a month afloat.
func (b *bundle) alderCarr(t *testing.T, a domain.Actor) {
	all := b.vessels(a)
	at := slices.IndexFunc(all, func(v practice.VesselLine) bool { return v.Name == "Alder Carr" })
	c, err := b.Causes(t.Context(), a, practice.CauseAsk{Vessel: all[at].ID})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Steps) != 2 {
		t.Fatalf("%d steps", len(c.Steps))
	}
	if large := c.Steps[0].Large; large != cause.NormalDrying {
		t.Errorf("in the shed the hull at large went %s", large)
	}
	for k, want := range []cause.Pattern{cause.NormalDrying, cause.SurfaceJumped} {
		t.Logf("%d: %s", k, c.Steps[k].Says.Text())
		if !slices.Contains(c.Steps[k].Patterns, want) {
			t.Errorf("step %d: no place went %s", k, want)
		}
	}
	if !slices.Contains(c.Steps[0].Patterns, cause.BehindOrStored) {
		t.Error("over the locker no place stays while the rest falls")
	}
}

func (b *bundle) reports(t *testing.T, houses ...domain.Actor) {
	issued, drafts := 0, 0
	for _, a := range houses {
		list, err := b.Reports(t.Context(), a, practice.Page{First: 200})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range list {
			page, err := b.Report(t.Context(), a, r.ID)
			if err != nil {
				t.Fatal(err)
			}
			content, err := report.Decode(page.Content)
			if err != nil {
				t.Fatal(err)
			}
			if wrong := content.Check(); len(wrong) > 0 {
				t.Errorf("%s: %v", r.Title, wrong)
			}
			for where, said := range report.LintReport(content) {
				t.Errorf("%s, %s: %+v", r.Vessel.Name, where, said)
			}
			if page.Draft() {
				drafts++
				continue
			}
			issued++
			if page.PdfPages == nil || *page.PdfPages < 2 || page.PageKey == nil {
				t.Errorf("%s: page or PDF is missing", r.Title)
			}
		}
	}
	if issued < 6 || drafts < 1 {
		t.Errorf("%d reports issued, %d drafts", issued, drafts)
	}
}

func (b *bundle) signIns(t *testing.T) {
	roles := map[string]bool{}
	for _, s := range b.result.SignIns {
		if _, err := auth.Hash(t.Context(), s.Password); err != nil {
			t.Errorf("%s: %v", s.Email, err)
		}
		account, err := b.config.Store.Door().AccountByEmail(t.Context(), s.Email)
		if err != nil {
			t.Fatal(err)
		}
		members, err := b.config.Store.Door().Memberships(t.Context(), account.ID)
		if err != nil || len(members) != 1 || members[0].PracticeName != s.Practice {
			t.Errorf("%s: %v %v", s.Email, members, err)
		}
		for _, m := range members {
			for _, r := range m.Roles {
				roles[string(r)] = true
			}
		}
	}
	if len(roles) != len(domain.Roles) {
		t.Errorf("roles %v; the scenario has somebody in each", roles)
	}
}
