package plain_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// shelf is one issued report and a link to it, over a real database and a real store of
// files, served as in production.
type shelf struct {
	t       *testing.T
	bucket  *storetest.Bucket
	url     string
	token   string
	pdf     []byte
	pdfKey  string
	db      *storetest.DB
	house   uuid.UUID
	report  uuid.UUID
	share   uuid.UUID
	service *practice.Service
	files   *store.Objects
}

func id() uuid.UUID { return uuid.Must(uuid.NewV7()) }

func open(t *testing.T) *shelf {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	files, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	sh := &shelf{t: t, bucket: bucket, db: db, house: id(), report: id(), share: id(), files: files}
	sh.service = practice.New(s, practice.WithObjects(files), practice.WithPublicURL("https://boottop.example"))
	if err := s.Door().CreatePractice(t.Context(), sh.house, "North quay surveys", "Europe/Dublin", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	sh.fill(files)
	mux := http.NewServeMux()
	plain.Reports{Practice: sh.service}.Routes(mux, func(h http.Handler) http.Handler { return h }, func(h http.Handler) http.Handler { return h })
	server := httptest.NewServer(plain.Headers(mux, "https://boottop.example", ""))
	t.Cleanup(server.Close)
	sh.url = server.URL
	return sh
}

// fill puts an issued report on the shelf and a link beside it, as the owner of the database.
func (sh *shelf) fill(files *store.Objects) {
	sh.t.Helper()
	content, err := report.Encode(report.Build(report.Input{
		Issue: report.Issue{Number: "2026-001", At: time.Now()}, GeneratedAt: time.Now(), Zone: time.UTC, Practice: report.Practice{Name: "North quay surveys"},
		Client: report.Client{Name: "A. Ferrant"}, Vessel: report.Vessel{Name: "Petrel"}, Kind: "Limited survey",
	}))
	if err != nil {
		sh.t.Fatal(err)
	}
	sh.pdf, sh.pdfKey = bytes.Repeat([]byte("%PDF-1.7 issued bytes "), 500), "issued.pdf"
	page := []byte("<!doctype html><title>issued page</title>")
	for key, body := range map[string][]byte{sh.pdfKey: sh.pdf, "issued.html": page} {
		if err := files.Put(sh.t.Context(), key, "application/octet-stream", body); err != nil {
			sh.t.Fatal(err)
		}
	}
	vessel, job := id(), id()
	sh.exec(`insert into vessels (practice_id, id, name, created_at) values ($1, $2, 'Petrel', now())`, sh.house, vessel)
	sh.exec(`insert into jobs (practice_id, id, vessel_id, number, kind, created_at) values ($1, $2, $3, '2026-001', 'limited moisture', now())`, sh.house, job, vessel)
	sh.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', '2026-001', now())`, sh.house, sh.report, job)
	sh.exec(`insert into report_snapshots (practice_id, report_id, content, sha256, audit_seq, audit_chain, at) values ($1, $2, $3, sha256($3), 1, '', now())`, sh.house, sh.report, content)
	sh.exec(`insert into report_issues (practice_id, report_id, page_key, page_sha256, page_bytes, pdf_key, pdf_sha256, pdf_bytes, pdf_pages, issued_at)
	         values ($1, $2, 'issued.html', sha256($3), 1, $4, sha256($5), $6, 3, now())`, sh.house, sh.report, page, sh.pdfKey, sh.pdf, len(sh.pdf))
	sh.token = strings.Repeat("Zq", 21) + "7"
	sum := sha256.Sum256([]byte(sh.token))
	sh.exec(`insert into shares (practice_id, id, report_id, name, email, token_sha256, created_at, until) values ($1, $2, $3, 'A. Ferrant', 'ferrant@post.example', $4, now(), now() + interval '1 day')`,
		sh.house, sh.share, sh.report, sum[:])
}

func (sh *shelf) exec(sql string, args ...any) {
	sh.t.Helper()
	if _, err := sh.db.Connect(sh.t, sh.db.OwnerURL).Exec(sh.t.Context(), sql, args...); err != nil {
		sh.t.Fatal(err)
	}
}

func (sh *shelf) get(path string, change ...func(*http.Request)) (*http.Response, []byte) {
	sh.t.Helper()
	req, err := http.NewRequestWithContext(sh.t.Context(), http.MethodGet, sh.url+path, nil)
	if err != nil {
		sh.t.Fatal(err)
	}
	for _, c := range change {
		c(req)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		sh.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		sh.t.Fatal(err)
	}
	return res, body
}

func (sh *shelf) opened() int {
	sh.t.Helper()
	var n int
	if err := sh.db.Connect(sh.t, sh.db.OwnerURL).QueryRow(sh.t.Context(), `select count(*) from share_openings`).Scan(&n); err != nil {
		sh.t.Fatal(err)
	}
	return n
}

func TestALinkOpensThePageAndThePdf(t *testing.T) {
	t.Parallel()
	sh := open(t)
	res, body := sh.get("/share/" + sh.token)
	var answer struct {
		Data struct {
			Report struct {
				Number, State, ForName string
				Content                map[string]any
				PdfSha256              string
			}
		}
	}
	if err := json.Unmarshal(body, &answer); err != nil || res.StatusCode != 200 {
		t.Fatalf("%d %s", res.StatusCode, body)
	}
	if r := answer.Data.Report; r.Number != "2026-001" || r.State != "issued" || r.ForName != "A. Ferrant" || r.Content == nil || len(r.PdfSha256) != 64 {
		t.Errorf("%+v", r)
	}
	if sh.opened() != 1 {
		t.Errorf("%d openings logged, want 1", sh.opened())
	}
	res, body = sh.get("/share/" + sh.token + "/report.pdf")
	if !bytes.Equal(body, sh.pdf) {
		t.Error("the PDF is not the issued bytes")
	}
	for name, want := range map[string]string{
		"Content-Type": "application/pdf", "Content-Disposition": `attachment; filename="report-2026-001.pdf"`, "X-Content-Type-Options": "nosniff",
		"Referrer-Policy": "no-referrer", "Cache-Control": "private, no-store", "X-Robots-Tag": "noindex, nofollow", "Content-Security-Policy": "default-src 'none'; sandbox",
	} {
		if got := res.Header.Get(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

func TestADownloadGoesOnWhereItStopped(t *testing.T) {
	t.Parallel()
	sh := open(t)
	res, body := sh.get("/share/"+sh.token+"/report.pdf", func(r *http.Request) { r.Header.Set("Range", "bytes=100-199") })
	if res.StatusCode != http.StatusPartialContent || !bytes.Equal(body, sh.pdf[100:200]) {
		t.Errorf("%d, %d bytes", res.StatusCode, len(body))
	}
	if sh.opened() != 1 {
		t.Errorf("%d openings after a part, want 1: a report fetched in parts is fetched", sh.opened())
	}
	part := func(r *http.Request) { r.Header.Set("Range", "bytes=200-") }
	if sh.get("/share/"+sh.token+"/report.pdf", part); sh.opened() != 1 {
		t.Errorf("%d openings, want 1: the rest is no second one", sh.opened())
	}
	sh.exec(`update share_openings set at = at - interval '2 hours'`)
	if sh.get("/share/"+sh.token+"/report.pdf", part); sh.opened() != 2 {
		t.Errorf("%d openings two hours later, want 2", sh.opened())
	}
}

// A long report arrives over a line that takes longer than other answers may.
func TestALongReportArrivesOverASlowLine(t *testing.T) {
	t.Parallel()
	sh := open(t)
	long := bytes.Repeat(sh.pdf, 2000) // 22 MB, more than any buffer on the way takes
	if err := sh.files.Put(t.Context(), "long.pdf", "application/pdf", long); err != nil {
		t.Fatal(err)
	}
	sh.exec(`update report_issues set pdf_key = 'long.pdf', pdf_sha256 = $1, pdf_bytes = $2`, sum(long), len(long))
	mux := http.NewServeMux()
	as := func(h http.Handler) http.Handler { return h }
	plain.Reports{Practice: sh.service}.Routes(mux, as, as)
	server := httptest.NewUnstartedServer(mux)
	server.Config.WriteTimeout = time.Second
	server.Start()
	defer server.Close()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, server.URL+"/share/"+sh.token+"/report.pdf", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	time.Sleep(1200 * time.Millisecond)
	if got, err := io.ReadAll(res.Body); err != nil || !bytes.Equal(got, long) {
		t.Errorf("%d bytes of %d came: %v", len(got), len(long), err)
	}
}

func sum(b []byte) []byte {
	h := sha256.Sum256(b)
	return h[:]
}

func TestALinkThatEndedOpensNothing(t *testing.T) {
	t.Parallel()
	for what, sql := range map[string]string{
		"revoked": `update shares set revoked_at = now()`,
		"expired": `update shares set until = now() - interval '1 second'`,
	} {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			sh := open(t)
			if res, _ := sh.get("/share/" + sh.token); res.StatusCode != 200 {
				t.Fatal(res.StatusCode)
			}
			sh.exec(sql)
			_, guessed := sh.get("/share/" + strings.Repeat("A", 43))
			for _, path := range []string{"", "/report.pdf", "/report.html"} {
				res, body := sh.get("/share/" + sh.token + path)
				if res.StatusCode != http.StatusNotFound || !bytes.Equal(body, guessed) {
					t.Errorf("%s: %d %s, want what a guessed link gets", path, res.StatusCode, body)
				}
			}
		})
	}
}

// 86: a link is its secret to the letter.
func TestALinkIsItsSecretToTheLetter(t *testing.T) {
	t.Parallel()
	sh := open(t)
	_, nothing := sh.get("/share/" + strings.Repeat("A", 43))
	for what, token := range map[string]string{
		"cut": sh.token[:42], "a letter more": sh.token + "A", "capitals": strings.ToUpper(sh.token), "small letters": strings.ToLower(sh.token),
		"the last letter's unused bits": sh.token[:42] + "6", "a blank behind": sh.token + "%20", "a zero behind": sh.token + "%00", "its hash": hex.EncodeToString(hashOf(sh.token)),
		"of 1 kB": strings.Repeat(sh.token, 24), "any": "%25", "or 1=1": "'%20or%20'1'='1",
	} {
		for _, path := range []string{"", "/report.pdf", "/report.html", "/photos.zip"} {
			if res, body := sh.get("/share/" + token + path); res.StatusCode != http.StatusNotFound || !bytes.Equal(body, nothing) {
				t.Errorf("%s%s: %d %s", what, path, res.StatusCode, body)
			}
		}
	}
	if sh.opened() != 0 {
		t.Errorf("%d openings are noted", sh.opened())
	}
}

func hashOf(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

// A report's id opens nothing for somebody with a link, and what it answers is, byte for
// byte, what an id of nothing answers (promise A3).
func TestALinkWithAnotherReportsIdOpensNothing(t *testing.T) {
	t.Parallel()
	sh := open(t)
	theirs, nothing := domain.Ref{Kind: domain.ThingReport, ID: sh.report}.String(), domain.Ref{Kind: domain.ThingReport, ID: id()}.String()
	for _, path := range []string{"/share/" + sh.token + "/%s", "/share/%s", "/share/%s/report.pdf", "/share/%s/report.html", "/reports/%s/report.pdf", "/reports/%s/report.html"} {
		var said [2]string
		for k, ref := range []string{theirs, nothing} {
			res, body := sh.get(fmt.Sprintf(path, ref))
			if res.StatusCode != http.StatusNotFound && res.StatusCode != http.StatusUnauthorized {
				t.Errorf("%s: %d %.80s", path, res.StatusCode, body)
			}
			said[k] = fmt.Sprint(res.StatusCode, res.Header.Get("Content-Type"), string(body))
		}
		if said[0] != said[1] {
			t.Errorf("%s: a report that is there answers\n%s\none of nothing\n%s", path, said[0], said[1])
		}
	}
}

func TestASupersededReportSaysSoWhereverItIsOpened(t *testing.T) {
	t.Parallel()
	sh := open(t)
	newer := id()
	sh.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) select practice_id, $2, job_id, 'issued', '2026-002', now() from reports where id = $1`, sh.report, newer)
	sh.exec(`update reports set state = 'replaced', replaced_by = $2 where id = $1`, sh.report, newer)
	sh.exec(`insert into addenda (practice_id, id, report_id, number, text, state, issued_at) values ($1, $2, $3, 1, 'Row 3 was read as row 2.', 'issued', now())`, sh.house, id(), sh.report)
	_, body := sh.get("/share/" + sh.token)
	for _, want := range []string{`"replaced"`, `2026-002`, `Row 3 was read as row 2.`} {
		if !bytes.Contains(body, []byte(want)) {
			t.Errorf("%s is not in what the old link answers", want)
		}
	}
}

func TestBytesThatDoNotFitTheirHashAreNeverServed(t *testing.T) {
	t.Parallel()
	sh := open(t)
	sh.exec(`update report_issues set pdf_sha256 = sha256('other')`)
	res, body := sh.get("/share/" + sh.token + "/report.pdf")
	if res.StatusCode != http.StatusInternalServerError || bytes.Contains(body, []byte("%PDF")) {
		t.Errorf("%d, %d bytes", res.StatusCode, len(body))
	}
}

// Whoever holds the bytes is told that they were issued; one byte more and nothing is.
func TestIssuedBytesAreKnown(t *testing.T) {
	t.Parallel()
	sh := open(t)
	ask := func(b []byte) (int, map[string]any) {
		sum := sha256.Sum256(b)
		res, body := sh.get("/issued/" + hex.EncodeToString(sum[:]))
		var said map[string]any
		if err := json.Unmarshal(body, &said); err != nil {
			t.Fatalf("%d %s: %v", res.StatusCode, body, err)
		}
		return res.StatusCode, said
	}
	if status, said := ask(sh.pdf); status != http.StatusOK || said["number"] != "2026-001" || said["state"] != "issued" || said["file"] != "pdf" {
		t.Errorf("%d %v", status, said)
	}
	if status, said := ask(append(bytes.Clone(sh.pdf), 'x')); status != http.StatusNotFound || said["number"] != nil {
		t.Errorf("changed bytes: %d %v", status, said)
	}
	sh.exec(`insert into addenda (practice_id, id, report_id, number, text, state, issued_at) values ($1, $2, $3, 1, 'more', 'issued', now())`, sh.house, id(), sh.report)
	if _, said := ask(sh.pdf); len(said["addenda"].([]any)) != 1 {
		t.Errorf("an addendum is not told: %v", said)
	}
	for _, bad := range []string{"x", strings.Repeat("0", 63), strings.Repeat("g", 64)} {
		if res, _ := sh.get("/issued/" + bad); res.StatusCode != http.StatusBadRequest {
			t.Errorf("%q answered %d", bad, res.StatusCode)
		}
	}
}
