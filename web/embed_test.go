package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
)

func TestClient(t *testing.T) {
	files := fstest.MapFS{
		"index.html":       {Data: []byte("<title>Boottop</title>")},
		"theme.js":         {Data: []byte("1")},
		"assets/a-1234.js": {Data: []byte("2")},
	}
	h := client{files: files, server: http.FileServerFS(files)}
	for _, c := range []struct {
		name, path  string
		status      int
		body, cache string
	}{
		{"the root is the page, always fresh", "/", 200, "Boottop", "no-cache"},
		{"a route of the page is the page", "/vessels/vsl_1/resurvey", 200, "Boottop", "no-cache"},
		{"a hashed asset is kept for a year", "/assets/a-1234.js", 200, "2", "public, max-age=31536000, immutable"},
		{"other files are asked for again", "/theme.js", 200, "1", "no-cache"},
		{"a missing asset is not the page", "/assets/gone.js", 404, "", ""},
		{"nor is a missing file", "/favicon.ico", 404, "", ""},
		{"dots do not climb out", "/../../go.mod", 404, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w := httptest.NewRecorder()
			h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, c.path, nil))
			if w.Code != c.status {
				t.Fatalf("status %d, want %d", w.Code, c.status)
			}
			if !strings.Contains(w.Body.String(), c.body) {
				t.Errorf("body %q lacks %q", w.Body, c.body)
			}
			if got := w.Header().Get("Cache-Control"); got != c.cache {
				t.Errorf("Cache-Control %q, want %q", got, c.cache)
			}
		})
	}
}

func TestNotBuiltSaysWhatToDo(t *testing.T) {
	w := httptest.NewRecorder()
	notBuilt(w, httptest.NewRequest(http.MethodGet, "/", nil))
	if w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "npm run build") {
		t.Errorf("got %d %q", w.Code, w.Body)
	}
}
