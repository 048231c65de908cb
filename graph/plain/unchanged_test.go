package plain_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// told is a practice in which the story was told up to a link to its first issued report,
// served as in production.
type told struct {
	*story.World
	t       *testing.T
	store   *store.Store
	objects *store.Objects
	url     string
	share   string
	pdf     []byte // as first served
	page    []byte
	keys    [2]string // of the page and the PDF
}

func tell(t *testing.T) *told {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	service := practice.New(s, practice.WithObjects(objects), practice.WithClock(func() time.Time { return story.Today }), practice.WithPublicURL("https://boottop.example"))
	w, _ := story.Begin(t, s, db.Connect(t, db.OwnerURL), service, objects, "East pier surveys")
	for _, step := range story.Steps() {
		if step.Call == "ShareReport" {
			break
		}
		w.Take(t.Context(), step, step.Input(w))
	}
	client := w.Of("party")
	_, link, err := service.ShareReport(t.Context(), w.Actor, practice.ShareReport{
		Mutation: id(), ID: id(), Report: w.Of("report"), Party: &client, Name: "Anna Dunlin", Email: "anna@dunlin.example", Until: story.Today.AddDate(0, 6, 0),
	})
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	plain.Reports{Practice: service}.Routes(mux, func(h http.Handler) http.Handler {
		return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
			h.ServeHTTP(rw, r.WithContext(auth.WithActor(r.Context(), w.Actor)))
		})
	}, func(h http.Handler) http.Handler { return h })
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	it := &told{World: w, t: t, store: s, objects: objects, url: server.URL, share: "/share" + link[strings.LastIndexByte(link, '/'):]}
	_, it.pdf = it.get(it.share + "/report.pdf")
	_, it.page = it.get(it.share + "/report.html")
	page, err := service.Report(t.Context(), w.Actor, w.Of("report"))
	if err != nil {
		t.Fatal(err)
	}
	it.keys = [2]string{*page.PageKey, *page.PdfKey}
	return it
}

func (it *told) get(path string) (int, []byte) {
	it.t.Helper()
	sh := shelf{t: it.t, url: it.url}
	res, body := sh.get(path)
	return res.StatusCode, body
}

// same holds both files, for whoever has the link and for members, to what was first served.
func (it *told) same(after string) {
	it.t.Helper()
	members := "/reports/" + domain.Ref{Kind: domain.ThingReport, ID: it.Of("report")}.String()
	for _, from := range []string{it.share, members} {
		for name, want := range map[string][]byte{"/report.pdf": it.pdf, "/report.html?as-issued": it.page} {
			if status, got := it.get(from + name); status != http.StatusOK || !bytes.Equal(got, want) {
				it.t.Errorf("%s: %s%s answers %d with %d bytes, not the %d that were issued", after, from, name, status, len(got), len(want))
			}
		}
	}
}

// asApp runs a statement as the service's role, in the practice of the story.
func (it *told) asApp(sql string, args ...any) error {
	return pgx.BeginFunc(it.t.Context(), it.store.Pool(), func(tx pgx.Tx) error {
		if _, err := tx.Exec(it.t.Context(), `select set_config('app.practice', $1, true)`, it.Practice.String()); err != nil {
			return err
		}
		_, err := tx.Exec(it.t.Context(), sql, args...)
		return err
	})
}

// Eight ways to change an issued report (promise G1): each is refused, found out, or
// leaves page and PDF byte for byte as they were issued.
func TestEightWaysToChangeAnIssuedReport(t *testing.T) {
	t.Parallel()
	it := tell(t)
	ctx, report, service := t.Context(), it.Of("report"), it.Service
	refused := func(what string, err error) {
		t.Helper()
		if k := domain.KindOf(err); err == nil || k != domain.Conflict && k != domain.Invalid {
			t.Errorf("%s: %v, want it refused", what, err)
		}
	}
	ways := []struct {
		name string
		try  func(t *testing.T)
	}{
		{"1. SQL as the service's own role", func(t *testing.T) {
			for _, sql := range []string{
				`update reports set in_short = 'other words' where id = $1`,
				`update reports set number = '2026-999' where id = $1`,
				`update reports set state = 'draft', number = null where id = $1`,
				`update report_snapshots set content = '{}', sha256 = sha256('{}') where report_id = $1`,
				`delete from report_snapshots where report_id = $1`,
				`update report_issues set pdf_sha256 = sha256('') where report_id = $1`,
				`delete from report_issues where report_id = $1`,
				`update report_sections set body = 'other words' where report_id = $1`,
				`delete from reports where id = $1`,
			} {
				if err := it.asApp(sql, report); err == nil {
					t.Errorf("went through: %s", sql)
				}
			}
		}},
		{"2. a change after issue", func(*testing.T) {
			_, err := service.EditReport(ctx, it.Actor, practice.EditReport{Mutation: id(), ID: report, Version: 99})
			refused("edit", err)
			_, err = service.EditSection(ctx, it.Actor, practice.EditSection{Mutation: id(), ID: it.Of("section"), Version: 2})
			refused("section", err)
			_, err = service.AddSection(ctx, it.Actor, practice.AddSection{Mutation: id(), ID: id(), Report: report, Title: "More"})
			refused("new section", err)
			_, err = service.SendForReview(ctx, it.Actor, practice.SendForReview{Mutation: id(), ID: report, Version: 99})
			refused("review", err)
			_, err = service.TakeSecondLook(ctx, it.Actor, practice.TakeSecondLook{Mutation: id(), ID: report, Version: 99})
			refused("second look", err)
		}},
		{"3. issued again", func(*testing.T) {
			_, err := service.IssueReport(ctx, it.Actor, practice.IssueReport{Mutation: id(), ID: report, Version: 99})
			refused("issue", err)
		}},
		{"4. made again by a job that comes twice", func(t *testing.T) {
			if err := service.MakeReport(ctx, practice.ReportJob{Practice: it.Practice, Report: report}); err != nil {
				t.Error(err)
			}
		}},
		{"5. a reading corrected", func(t *testing.T) {
			var reading uuid.UUID
			err := it.Owner.QueryRow(ctx, `select r.id from readings r join report_passes x on x.practice_id = r.practice_id and x.pass_id = r.pass_id where x.report_id = $1 and r.current order by r.id limit 1`, report).Scan(&reading)
			if err != nil {
				t.Fatal(err)
			}
			done, err := service.SupersedeReading(ctx, it.Actor, practice.SupersedeReading{
				Mutation: id(), ID: id(), Reading: reading, How: "correct", Reason: "read upside down", Placements: []int16{200}, TakenAt: story.Today,
			})
			if err != nil || !done.Asks {
				t.Errorf("asks %v, %v: want an addendum asked for", done.Asks, err)
			}
		}},
		{"6. boat and client renamed, and struck out", func(t *testing.T) {
			for _, sql := range []string{`update vessels set name = 'Another', hull_number_as_read = 'ZZ' where id = $1`, `delete from vessels where id = $1`} {
				_ = it.asApp(sql, it.Of("vessel")) // renamed it may be; what it leaves is looked at below
			}
			for _, sql := range []string{`update parties set name = 'Somebody else' where id = $1`, `delete from parties where id = $1`} {
				_ = it.asApp(sql, it.Of("party"))
			}
		}},
		{"7. wording, settings and the practice's name changed", func(t *testing.T) {
			_, err := service.KeepWording(ctx, it.Actor, practice.KeepWording{Mutation: id(), ID: it.Of("wording"), Version: 2, Title: "Other", Body: "Other words for {vessel}."})
			if err != nil {
				t.Error(err)
			}
			p, err := service.Practice(ctx, it.Actor)
			if err != nil {
				t.Fatal(err)
			}
			other, imperial := "Other name", "imperial"
			if _, err := service.EditPractice(ctx, it.Actor, practice.EditPractice{Mutation: id(), Version: p.Version, Name: &other, Units: &imperial}); err != nil {
				t.Error(err)
			}
		}},
	}
	for _, w := range ways {
		t.Run(w.name, func(t *testing.T) {
			w.try(t)
			it.same(w.name)
		})
	}
	t.Run("8. its files written over in the store", func(t *testing.T) {
		for k, what := range []string{"/report.html", "/report.pdf"} {
			if err := it.objects.Put(ctx, it.keys[k], "application/pdf", []byte("%PDF-1.7 not what was issued")); err != nil {
				t.Fatal(err)
			}
			if status, got := it.get(it.share + what); status != http.StatusInternalServerError || bytes.Contains(got, []byte("not what was issued")) {
				t.Errorf("%s answers %d %.40s: bytes that were not issued are never served", what, status, got)
			}
		}
		sum := sha256.Sum256([]byte("%PDF-1.7 not what was issued"))
		if status, _ := it.get("/issued/" + hex.EncodeToString(sum[:])); status != http.StatusNotFound {
			t.Errorf("the other bytes are told to be issued: %d", status)
		}
		for k, b := range [][]byte{it.page, it.pdf} { // put back, they are served again
			if err := it.objects.Put(ctx, it.keys[k], "application/octet-stream", b); err != nil {
				t.Fatal(err)
			}
		}
		it.same("put back")
	})
}

// An addendum is a file of its own that names its report; the report, wherever it is
// opened, names the addendum. Its bytes are known like the report's.
func TestAnAddendumIsAFileOfItsOwn(t *testing.T) {
	t.Parallel()
	it := tell(t)
	ctx, adds := t.Context(), id()
	if _, err := it.Service.WriteAddendum(ctx, it.Actor, practice.WriteAddendum{Mutation: id(), ID: adds, Report: it.Of("report"), Text: "The window at 13/3 was made good.\nSeen on 9 April."}); err != nil {
		t.Fatal(err)
	}
	if status, _ := it.get(it.share + "/addenda/1"); status != http.StatusNotFound {
		t.Errorf("an addendum that is not issued answers %d", status)
	}
	if _, err := it.Service.IssueAddendum(ctx, it.Actor, practice.IssueAddendum{Mutation: id(), ID: adds, Version: 1}); err != nil {
		t.Fatal(err)
	}
	for range 2 { // a job may run again
		if err := it.Service.MakeAddendum(ctx, practice.AddendumJob{Practice: it.Practice, Addendum: adds}); err != nil {
			t.Fatal(err)
		}
	}
	status, pdf := it.get(it.share + "/addenda/1")
	if status != http.StatusOK || !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Fatalf("%d %.60s", status, pdf)
	}
	if _, members := it.get("/reports/" + domain.Ref{Kind: domain.ThingReport, ID: it.Of("report")}.String() + "/addenda/1"); !bytes.Equal(members, pdf) {
		t.Error("members get other bytes than the holder of the link")
	}
	sum := sha256.Sum256(pdf)
	_, body := it.get("/issued/" + hex.EncodeToString(sum[:]))
	var said struct {
		Number   string
		State    string
		Addendum int
	}
	if err := json.Unmarshal(body, &said); err != nil || said.Addendum != 1 || said.Number == "" || said.State != "amended" {
		t.Errorf("%s, %v: want it known as addendum 1", body, err)
	}
	_, body = it.get(it.share)
	if !bytes.Contains(body, []byte(`"pdfBytes":`)) || !bytes.Contains(body, []byte("The window at 13/3 was made good.")) {
		t.Error("the report's link does not name the addendum")
	}
	status, page := it.get(it.share + "/addenda/1/page")
	if status != http.StatusOK || !bytes.Contains(page, []byte("This addendum belongs to report "+said.Number)) {
		t.Errorf("its page answers %d: %.80s", status, page)
	}
	sum = sha256.Sum256(page)
	if _, body = it.get("/issued/" + hex.EncodeToString(sum[:])); !bytes.Contains(body, []byte(`"file":"page"`)) || !bytes.Contains(body, []byte(`"addendum":1`)) {
		t.Errorf("its page is known as %s", body)
	}
	_, body = it.get(it.share + "/report.html") // the report's page stays as issued, so it is told before it
	if !bytes.Contains(body, []byte("Addendum 1, ")) || !bytes.Contains(body, []byte(`href="report.html?as-issued"`)) || !bytes.Contains(body, []byte(`href="addenda/1/page"`)) {
		t.Errorf("whoever opens the report's page is not told of the addendum: %.400s", body)
	}
	it.same("an addendum was issued")
	if err := it.asApp(`update addendum_issues set pdf_sha256 = sha256('') where addendum_id = $1`, adds); err == nil {
		t.Error("the service's role could change an addendum's file")
	}
}
