package plain_test

import (
	"net/http"
	"net/http/httptest"
	"net/mail"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store"
	"boottop.example/practice/store/post"
	"boottop.example/practice/store/storetest"
)

// A mail program presses for its owner: a POST with a form, no cookie, no sign-in.
func TestOnePressEndsTheMails(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	house, member := id(), id()
	if err := s.Door().CreatePractice(t.Context(), house, "North quay surveys", "Europe/Dublin", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	token := strings.Repeat("Zq", 21) + "7"
	owner := db.Connect(t, db.OwnerURL)
	exec := func(sql string, args ...any) {
		t.Helper()
		if _, err := owner.Exec(t.Context(), sql, args...); err != nil {
			t.Fatal(err)
		}
	}
	exec(`insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $2, 'A. Ferrant', '{surveyor}')`, house, member)
	exec(`insert into notice_settings (practice_id, member_id, digest) values ($1, $2, 'daily')`, house, member)
	exec(`insert into digests (practice_id, id, member_id, token_sha256, until_at, at) values ($1, $2, $3, sha256($4), now(), now())`, house, id(), member, []byte(token))
	mux := http.NewServeMux()
	plain.Unsubscribe{Practice: practice.New(s)}.Routes(mux)
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	press := func(token string) int {
		t.Helper()
		res, err := http.PostForm(server.URL+"/unsubscribe/"+token, url.Values{"List-Unsubscribe": {"One-Click"}})
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res.StatusCode
	}
	if got := press(strings.Repeat("a", 43)); got != http.StatusNotFound {
		t.Errorf("an address of nothing answers %d", got)
	}
	for range 2 {
		if got := press(token); got != http.StatusOK {
			t.Errorf("the press answers %d", got)
		}
	}
	var digest string
	if err := owner.QueryRow(t.Context(), `select digest from notice_settings where member_id = $1`, member).Scan(&digest); err != nil || digest != "none" {
		t.Errorf("digest %q, %v", digest, err)
	}
}

// The press is in the letter itself: its header gives the address, and what to post there.
func TestTheLetterBringsItsPress(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	mux := http.NewServeMux()
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	service := practice.New(s, practice.WithPublicURL(server.URL))
	plain.Unsubscribe{Practice: service}.Routes(mux)
	house, day := id(), time.Now()
	if err := s.Door().CreatePractice(t.Context(), house, "North quay surveys", "Europe/Dublin", "EUR", true, day); err != nil {
		t.Fatal(err)
	}
	owner := db.Connect(t, db.OwnerURL)
	person := func(name string) domain.Actor {
		t.Helper()
		a := domain.Actor{Practice: house, Member: id(), Means: domain.BySession, Roles: []domain.Role{domain.Principal}}
		if _, err := owner.Exec(t.Context(), `insert into members (practice_id, id, account_id, name, email, roles) values ($1, $2, $2, $3, 'post@quay.example', '{principal}')`, house, a.Member, name); err != nil {
			t.Fatal(err)
		}
		return a
	}
	lead, desk := person("A. Ferrant"), person("T. Tressock")
	did := func(_ practice.Done, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	vessel, job := id(), id()
	did(service.SetDigest(t.Context(), lead, practice.SetDigest{Mutation: id(), Digest: "daily"}))
	did(service.AddVessel(t.Context(), desk, practice.AddVessel{Mutation: id(), Vessel: practice.Vessel{ID: vessel, Name: "Petrel"}}))
	did(service.AddJob(t.Context(), desk, practice.AddJob{Mutation: id(), ID: job, Vessel: vessel, Lead: &lead.Member, Kind: "damage", Cite: "this client only"}))
	did(service.RecordPermission(t.Context(), desk, practice.RecordPermission{Mutation: id(), Permission: practice.Permission{ID: id(), JobID: job, What: "photograph", GivenOn: &day, GivenByName: "the owner"}}))
	if err := service.SendDigests(t.Context(), practice.DigestJob{Practice: house, Day: day.Format(time.DateOnly)}); err != nil {
		t.Fatal(err)
	}
	var letter uuid.UUID
	if err := owner.QueryRow(t.Context(), `select id from mails where kind = 'digest'`).Scan(&letter); err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	send, err := post.Folder(folder, "Boottop <post@boottop.example>")
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Deliver(t.Context(), store.MailArgs{Practice: house, Mail: letter}, send); err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(filepath.Join(folder, "*.eml"))
	if len(files) != 1 {
		t.Fatalf("%d letters", len(files))
	}
	file, err := os.Open(files[0])
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	read, err := mail.ReadMessage(file)
	if err != nil {
		t.Fatal(err)
	}
	// RFC 8058, 3.1 and 3.2: the body of the POST is the header's key and value, as a form.
	address := strings.Trim(read.Header.Get("List-Unsubscribe"), "<>")
	res, err := http.Post(address, "application/x-www-form-urlencoded", strings.NewReader(read.Header.Get("List-Unsubscribe-Post")))
	if err != nil {
		t.Fatal(err)
	}
	_ = res.Body.Close()
	told, err := service.Notices(t.Context(), lead, practice.Page{First: 10})
	if err != nil {
		t.Fatal(err)
	}
	if res.StatusCode != http.StatusOK || told.Digest != "none" {
		t.Errorf("the press answers %d, and mails come %s", res.StatusCode, told.Digest)
	}
}
