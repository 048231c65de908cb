package plain_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store"
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
