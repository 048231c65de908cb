package plain_test

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/store/post"
)

func get(t *testing.T, h http.Handler, path string, change ...func(*http.Request)) (*http.Response, string) {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	body, err := io.ReadAll(w.Result().Body)
	if err != nil {
		t.Fatal(err)
	}
	return w.Result(), string(body)
}

func TestWatch(t *testing.T) {
	t.Parallel()
	watcher := plain.NewWatcher()
	mux := http.NewServeMux()
	mux.HandleFunc("GET /share/{token}", func(w http.ResponseWriter, r *http.Request) {
		answer.Of(r.Context()).Operation = "Known"
		_, _ = io.WriteString(w, "ok")
	})
	mux.HandleFunc("GET /broken", func(http.ResponseWriter, *http.Request) { panic("hunter2") })
	mux.HandleFunc("GET /half", func(w http.ResponseWriter, _ *http.Request) {
		_, _ = io.WriteString(w, "half")
		panic("hunter2")
	})
	h := watcher.Watch(mux)
	t.Run("a panic is answered with a number to quote, and nothing of it", func(t *testing.T) {
		res, body := get(t, h, "/broken")
		id := res.Header.Get("X-Request-Id")
		if res.StatusCode != http.StatusInternalServerError || !strings.Contains(body, "quote "+id) || strings.Contains(body, "hunter2") || id == "" {
			t.Errorf("got %d %s", res.StatusCode, body)
		}
	})
	t.Run("one in the midst of an answer leaves it as it is", func(t *testing.T) {
		if res, body := get(t, h, "/half"); res.StatusCode != http.StatusOK || body != "half" {
			t.Errorf("got %d %s", res.StatusCode, body)
		}
	})
	t.Run("metrics hold the route's pattern and not the path", func(t *testing.T) {
		get(t, h, "/share/hunter2")
		get(t, h, "/hunter2")
		_, text := get(t, watcher.Metrics(), "/metrics")
		for _, want := range []string{
			`boottop_requests_total{operation="Known",route="GET /share/{token}",status="200"} 1`,
			`boottop_requests_total{operation="",route="none",status="404"} 1`,
			`boottop_requests_total{operation="",route="GET /broken",status="500"} 1`, "go_goroutines",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("lacks %s", want)
			}
		}
		if strings.Contains(text, "hunter2") {
			t.Error("holds a link's secret")
		}
	})
}

// TestHealth is promise E4.
func TestHealth(t *testing.T) {
	t.Parallel()
	var fault error
	hang := false
	health := &plain.Health{Ready: func(ctx context.Context) error {
		if hang {
			<-ctx.Done()
			return ctx.Err()
		}
		return fault
	}}
	mux := http.NewServeMux()
	health.Routes(mux)
	want := func(path string, status int, says string) {
		t.Helper()
		if res, body := get(t, mux, path); res.StatusCode != status || !strings.Contains(body, says) || strings.Contains(body, "10.0.0.1") {
			t.Errorf("%s: %d %s, want %d %s", path, res.StatusCode, body, status, says)
		}
	}
	want("/readyz", 200, "true")
	fault = errors.New("dial 10.0.0.1: refused")
	want("/readyz", 503, "database")
	want("/healthz", 200, "true")
	hang = true
	want("/readyz", 503, "database")
	hang, fault = false, nil
	health.Stop()
	want("/readyz", 503, "stopping")
	want("/healthz", 200, "true")
}

func TestMails(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	send, err := post.Folder(dir, "Boottop <boottop@practice.example>")
	if err != nil {
		t.Fatal(err)
	}
	day := time.Date(2026, 11, 20, 9, 30, 0, 0, time.UTC)
	for i, subject := range []string{"Der ältere Brief", "Ein <neuer> Brief"} {
		l := entry.Letter{To: "ines@north.example", Subject: subject, Body: "Über Moor.\n\nhttp://127.0.0.1:8080/reset/abc=def\n" + strings.Repeat("long ", 40) + "\n"}
		if err := send(t.Context(), uuid.Must(uuid.NewV7()), l, day.Add(time.Duration(i)*time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "broken.eml"), []byte("\x00"), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("as data, newest first, readable", func(t *testing.T) {
		_, body := get(t, plain.Mails(dir), "/dev/mails", func(r *http.Request) { r.Header.Set("Accept", "application/json") })
		var said struct{ Mails []plain.Mail }
		if err := json.Unmarshal([]byte(body), &said); err != nil || len(said.Mails) != 3 {
			t.Fatalf("%v: %s", err, body)
		}
		m := said.Mails[0]
		if m.Subject != "Ein <neuer> Brief" || !m.At.Equal(day.Add(time.Hour)) || !strings.Contains(m.Body, "Über Moor.\n\nhttp://127.0.0.1:8080/reset/abc=def\nlong") {
			t.Errorf("got %+v", m)
		}
	})
	t.Run("as a page, with links and without their markup", func(t *testing.T) {
		res, body := get(t, plain.Mails(dir), "/dev/mails")
		if !strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") || strings.Contains(body, "<neuer>") ||
			!strings.Contains(body, `<a href="http://127.0.0.1:8080/reset/abc=def">`) || !strings.Contains(body, "This letter cannot be read") {
			t.Errorf("got %s", body)
		}
	})
	t.Run("a folder that is not there is an empty list", func(t *testing.T) {
		if res, body := get(t, plain.Mails(filepath.Join(dir, "gone")), "/dev/mails"); res.StatusCode != http.StatusOK || !strings.Contains(body, "None yet.") {
			t.Errorf("got %d %s", res.StatusCode, body)
		}
	})
}

func TestHeaders(t *testing.T) {
	t.Parallel()
	next := http.HandlerFunc(func(http.ResponseWriter, *http.Request) {})
	for _, c := range []struct{ public, objects, hsts, images string }{
		{"https://practice.example", "https://files.example/bucket", "max-age=31536000", "img-src 'self' blob: https://files.example;"},
		{"http://127.0.0.1:8080", "http://127.0.0.1:9000", "", "img-src 'self' blob: http://127.0.0.1:9000;"},
		{"http://127.0.0.1:8080", "", "", "img-src 'self' blob:;"},
	} {
		res, _ := get(t, plain.Headers(next, c.public, c.objects), "/")
		if got := res.Header.Get("Strict-Transport-Security"); got != c.hsts {
			t.Errorf("%s: HSTS %q", c.public, got)
		}
		policy := res.Header.Get("Content-Security-Policy")
		if !strings.Contains(policy, c.images) || strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") {
			t.Errorf("%s: %s", c.objects, policy)
		}
	}
}
