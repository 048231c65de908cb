package plain_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// A feed is fetched by its path alone, is never kept by caches, and is not sent again to
// whoever has it already.
func TestAFeedAsCalendarsFetchIt(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	service := practice.New(s, practice.WithPublicURL("https://boottop.example"))
	w, _ := story.Begin(t, s, db.Connect(t, db.OwnerURL), service, nil, "North quay surveys")
	_, address, err := service.MakeFeed(t.Context(), w.Actor, practice.MakeFeed{Mutation: id(), ID: id(), Purpose: "my visits"})
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	plain.Calendars{Practice: service}.Routes(mux)
	server := httptest.NewServer(plain.Headers(mux, "https://boottop.example", ""))
	t.Cleanup(server.Close)
	path := strings.TrimPrefix(address, "https://boottop.example")
	get := func(path, etag string) (*http.Response, string) {
		t.Helper()
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, server.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		if etag != "" {
			r.Header.Set("If-None-Match", etag)
		}
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		body, err := io.ReadAll(a.Body)
		if err != nil {
			t.Fatal(err)
		}
		return a, string(body)
	}
	a, body := get(path, "")
	if a.StatusCode != http.StatusOK || !strings.HasPrefix(body, "BEGIN:VCALENDAR\r\n") {
		t.Fatalf("%d %s", a.StatusCode, body)
	}
	for name, want := range map[string]string{"Content-Type": "text/calendar; charset=utf-8", "X-Content-Type-Options": "nosniff", "Cache-Control": "private, no-store", "Referrer-Policy": "no-referrer"} {
		if got := a.Header.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if again, body := get(path, a.Header.Get("ETag")); again.StatusCode != http.StatusNotModified || body != "" {
		t.Errorf("fetched again it answers %d with %d bytes", again.StatusCode, len(body))
	}
	_, none := get("/calendar/"+strings.Repeat("A", 43)+".ics", "")
	for what, other := range map[string]string{
		"somebody else named": path + "?user=other", "the token in the query": "/calendar/feed.ics?token=" + strings.TrimSuffix(strings.TrimPrefix(path, "/calendar/"), ".ics"),
		"no ending": strings.TrimSuffix(path, ".ics"), "another ending": strings.TrimSuffix(path, ".ics") + ".csv",
	} {
		if a, body := get(other, ""); a.StatusCode != http.StatusNotFound || body != none {
			t.Errorf("%s: %d %s", what, a.StatusCode, body)
		}
	}
}
