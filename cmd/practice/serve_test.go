package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/store/storetest"
)

// running is the service with a database of its own, as `practice serve` starts it.
type running struct {
	address, metrics string
	db               *storetest.DB
	key              string   // an API key of its one member, a principal
	environ          []string // all but the addresses
	stop             context.CancelFunc
	ended            chan struct{}
	fault            error // what it ended with
}

func start(t *testing.T, more ...string) *running {
	t.Helper()
	r := &running{db: storetest.New(t)}
	r.fill(t)
	bucket := storetest.S3(t)
	r.environ = append([]string{
		"BOOTTOP_DATABASE_URL=" + r.db.AppURL, "BOOTTOP_SIGNING_KEY=" + testSeed, "BOOTTOP_MAIL_DIR=" + t.TempDir(), "BOOTTOP_LOG_LEVEL=error",
		"BOOTTOP_S3_ENDPOINT=" + bucket.Endpoint, "BOOTTOP_S3_PUBLIC_URL=" + bucket.URL(), "BOOTTOP_S3_BUCKET=" + bucket.Name,
		"BOOTTOP_S3_REGION=" + bucket.Region, "BOOTTOP_S3_KEY=" + bucket.Key, "BOOTTOP_S3_SECRET=" + bucket.Secret,
	}, more...)
	r.begin(t)
	return r
}

// beside starts another service over the same database, as a new release is.
func (r *running) beside(t *testing.T) *running {
	t.Helper()
	other := &running{db: r.db, key: r.key, environ: r.environ}
	other.begin(t)
	return other
}

func (r *running) begin(t *testing.T) {
	t.Helper()
	r.address, r.metrics, r.ended = free(t), free(t), make(chan struct{})
	environ := append(slices.Clone(r.environ), "BOOTTOP_PUBLIC_URL=http://"+r.address, "BOOTTOP_ADDR="+r.address, "BOOTTOP_METRICS_ADDR="+r.metrics)
	ctx, stop := context.WithCancel(context.Background())
	r.stop = stop
	go func() {
		r.fault = serve(ctx, nil, environ)
		close(r.ended)
	}()
	t.Cleanup(func() {
		stop()
		if <-r.ended; r.fault != nil {
			t.Errorf("serve ended with %v", r.fault)
		}
	})
	for range 200 {
		if status, _ := r.get(t, "/readyz"); status == http.StatusOK {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatal("the service does not become ready")
}

func free(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

// fill makes a practice with one principal and a key.
func (r *running) fill(t *testing.T) {
	t.Helper()
	r.key = "btk_" + base64.RawURLEncoding.EncodeToString([]byte(testSeed)[:32])
	sum := sha256.Sum256([]byte(r.key))
	id := func() uuid.UUID { return uuid.Must(uuid.NewV7()) }
	practice, account, member := id(), id(), id()
	owner := r.db.Connect(t, r.db.OwnerURL)
	for _, statement := range []struct {
		sql  string
		args []any
	}{
		{`select door.practice_create($1, 'North quay surveys', 'Etc/UTC', 'EUR', true, now())`, []any{practice}},
		{`select door.account_create($1, 'ines@north.example', 'none', now())`, []any{account}},
		{`insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, 'I. Varrow', '{principal}')`, []any{practice, member, account}},
		{`insert into api_keys (practice_id, id, member_id, name, key_sha256, created_at) values ($1, $2, $3, 'test', $4, now())`, []any{practice, id(), member, sum[:]}},
	} {
		if _, err := owner.Exec(t.Context(), statement.sql, statement.args...); err != nil {
			t.Fatal(err)
		}
	}
}

func (r *running) get(t *testing.T, path string) (int, string) {
	t.Helper()
	res, err := http.Get("http://" + r.address + path)
	if err != nil {
		return 0, err.Error()
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(body)
}

// raw sends bytes and reads the status line of what comes back.
func (r *running) raw(t *testing.T, text string) string {
	t.Helper()
	conn, err := net.Dial("tcp", r.address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.WriteString(conn, text); err != nil {
		return err.Error()
	}
	line, err := bufio.NewReader(conn).ReadString('\n')
	if err != nil {
		return err.Error()
	}
	return strings.TrimSpace(line)
}

func TestServe(t *testing.T) {
	t.Parallel()
	r := start(t)
	t.Run("J1: every route says what a browser may do with it", func(t *testing.T) {
		for _, path := range []string{"/", "/today", "/assets/gone.js", "/healthz", "/readyz", "/auth/nothing", "/graphql", "/share/x", "/nothing.txt", "/dev/mails"} {
			res, err := http.Get("http://" + r.address + path)
			if err != nil {
				t.Fatal(err)
			}
			_ = res.Body.Close()
			for name, want := range map[string]string{
				"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Content-Security-Policy": "default-src 'none'",
				"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
			} {
				if got := res.Header.Get(name); !strings.HasPrefix(got, want) {
					t.Errorf("%s: %s is %q", path, name, got)
				}
			}
			if strings.HasPrefix(res.Header.Get("Content-Type"), "application/") && res.Header.Get("Cache-Control") != "no-store" {
				t.Errorf("%s may be kept: %q", path, res.Header.Get("Cache-Control"))
			}
		}
	})
	t.Run("what a developer looks at is not there", func(t *testing.T) {
		for _, path := range []string{"/dev/mails", "/dev/explorer.html", "/metrics"} {
			if status, _ := r.get(t, path); status != http.StatusNotFound {
				t.Errorf("%s: %d", path, status)
			}
		}
	})
	t.Run("a call of the service that is none is no page", func(t *testing.T) {
		for path, want := range map[string]int{"/auth/sign-in": 404, "/assets/gone.js": 404, "/share/": 404} {
			if status, body := r.get(t, path); status != want || strings.Contains(body, "<!doctype") {
				t.Errorf("%s: %d %s", path, status, body)
			}
		}
	})
	t.Run("73: a header of 20 kB gets 431", func(t *testing.T) {
		got := r.raw(t, "GET /healthz HTTP/1.1\r\nHost: x\r\nCookie: a="+strings.Repeat("x", 20_000)+"\r\n\r\n")
		if !strings.Contains(got, "431") {
			t.Errorf("got %q", got)
		}
	})
	t.Run("metrics name operations that are ours, on their own listener", func(t *testing.T) {
		for _, q := range []string{"{viewer{roles}}", "query Hunter2{viewer{may}}"} {
			req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+"/graphql", strings.NewReader(`{"query":"`+q+`"}`))
			req.Header.Set("Content-Type", "application/json")
			req.Header.Set("Authorization", "Bearer "+r.key)
			res, err := http.DefaultClient.Do(req)
			if err != nil {
				t.Fatal(err)
			}
			body, _ := io.ReadAll(res.Body)
			_ = res.Body.Close()
			if res.StatusCode != http.StatusOK {
				t.Errorf("%s: %d %s", q, res.StatusCode, body)
			}
		}
		res, err := http.Get("http://" + r.metrics + "/metrics")
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		text, _ := io.ReadAll(res.Body)
		if !strings.Contains(string(text), `boottop_requests_total{operation="free",route="/graphql",status="200"} 2`) || strings.Contains(string(text), "Hunter2") {
			t.Errorf("metrics:\n%s", text)
		}
	})
	t.Run("credentials that open nothing get 401 as GraphQL", func(t *testing.T) {
		for name, change := range map[string]func(*http.Request){
			"a key": func(r *http.Request) { r.Header.Set("Authorization", "Bearer btk_"+strings.Repeat("A", 43)) },
			"a cookie": func(r *http.Request) {
				r.Header.Set("X-Boottop", "1")
				r.AddCookie(&http.Cookie{Name: "boottop-" + port(r), Value: "x"})
			},
		} {
			req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+"/graphql", strings.NewReader(`{"query":"{__typename}"}`))
			req.Header.Set("Content-Type", "application/json")
			change(req)
			res, err := http.DefaultClient.Do(req)
			if err != nil {
				t.Fatal(err)
			}
			body, _ := io.ReadAll(res.Body)
			_ = res.Body.Close()
			words := map[string]string{"a key": "This API key opens nothing: it is not whole, or it was ended, or its member has left.", "a cookie": "Please sign in."}
			want := `{"errors":[{"message":"` + words[name] + `","extensions":{"code":"UNAUTHENTICATED"}}]}`
			if res.StatusCode != http.StatusUnauthorized || strings.TrimSpace(string(body)) != want {
				t.Errorf("%s: %d %s", name, res.StatusCode, body)
			}
		}
	})
	t.Run("answers are compressed for those who ask", func(t *testing.T) {
		for coding, want := range map[string]string{"gzip": "gzip", "zstd": "zstd", "identity": "", "br": ""} {
			req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+"/graphql", strings.NewReader(`{"query":"{__schema{types{name description}}}"}`))
			req.Header.Set("Content-Type", "application/json")
			req.Header.Set("Authorization", "Bearer "+r.key)
			req.Header.Set("Accept-Encoding", coding)
			res, err := http.DefaultTransport.RoundTrip(req)
			if err != nil {
				t.Fatal(err)
			}
			_ = res.Body.Close()
			if got := res.Header.Get("Content-Encoding"); got != want {
				t.Errorf("%s: %q", coding, got)
			}
		}
	})
}

func port(r *http.Request) string {
	_, port, _ := net.SplitHostPort(r.Host)
	return port
}

func TestServeInDevelopment(t *testing.T) {
	t.Parallel()
	r := start(t, "BOOTTOP_DEV=1")
	for path, holds := range map[string]string{
		"/dev/mails": "None yet.", "/dev/explorer.html": "explorer.js", "/dev/explorer.js": "introspection", "/dev/page.css": "--ink",
	} {
		if status, body := r.get(t, path); status != http.StatusOK || !strings.Contains(body, holds) {
			t.Errorf("%s: %d %.200s", path, status, body)
		}
	}
}

// TestStop is promise E1: not ready first, what is under way is answered, and the end comes
// within ten seconds.
func TestStop(t *testing.T) {
	t.Parallel()
	r := start(t, "BOOTTOP_DRAIN=500ms")
	const underway = 50
	answers := make(chan string, underway)
	conns := make([]net.Conn, underway)
	body := `{"query":"{__typename}"}`
	for i := range conns { // each has sent its header and half of its body
		conn, err := net.Dial("tcp", r.address)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		conns[i] = conn
		fmt.Fprintf(conn, "POST /graphql HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", r.address, len(body), body[:10])
	}
	time.Sleep(200 * time.Millisecond)
	r.stop()
	time.Sleep(100 * time.Millisecond)
	if status, said := r.get(t, "/readyz"); status != http.StatusServiceUnavailable || !strings.Contains(said, "stopping") {
		t.Errorf("ready answers %d %s", status, said)
	}
	if status, _ := r.get(t, "/healthz"); status != http.StatusOK {
		t.Errorf("alive answers %d", status)
	}
	time.Sleep(time.Second)
	for _, conn := range conns {
		go func() {
			_ = conn.SetDeadline(time.Now().Add(10 * time.Second))
			_, _ = io.WriteString(conn, body[10:])
			all, err := io.ReadAll(conn)
			if err != nil {
				answers <- err.Error()
				return
			}
			answers <- string(all)
		}()
	}
	for range underway {
		if a := <-answers; !strings.HasPrefix(a, "HTTP/1.1 200") || !strings.Contains(a, `"__typename":"Query"`) {
			t.Errorf("answered %q", a)
		}
	}
	select {
	case <-r.ended:
	case <-time.After(10 * time.Second):
		t.Error("still there after ten seconds")
	}
}

// TestSlowCallers is D6: sockets that send nothing hold nobody up.
func TestSlowCallers(t *testing.T) {
	t.Parallel()
	r := start(t)
	for i := range 400 {
		conn, err := net.Dial("tcp", r.address)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if i%2 == 0 {
			_, _ = io.WriteString(conn, "POST /graphql HTTP/1.1\r\nHost: x\r\nX-A: ")
		}
	}
	if status, _ := r.get(t, "/readyz"); status != http.StatusOK {
		t.Errorf("ready answers %d", status)
	}
}

func TestCommands(t *testing.T) {
	t.Parallel()
	if code := run(t.Context(), []string{"nothing"}); code != 2 {
		t.Errorf("an unknown command ends with %d", code)
	}
	if code := run(t.Context(), []string{"migrate"}); code != 1 {
		t.Errorf("migrate without a database ends with %d", code)
	}
}

// TestMoreThanCanBeDone is promise D1: above a bound callers are told at once when to come
// back, those who were let in are answered, and health is told all the while. The database
// is held up by a lock, so that nothing is answered before the test lets go.
func TestMoreThanCanBeDone(t *testing.T) {
	t.Parallel()
	const atOnce, callers = 2, 40
	r := start(t, fmt.Sprint("BOOTTOP_AT_ONCE=", atOnce))
	owner := r.db.Connect(t, r.db.OwnerURL)
	held, err := owner.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := held.Exec(t.Context(), `lock table practices in access exclusive mode`); err != nil {
		t.Fatal(err)
	}
	type said struct {
		status int
		later  string
		body   string
	}
	answers := make(chan said, callers)
	for range callers {
		go func() {
			req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+"/graphql", strings.NewReader(`{"query":"{viewer{practice{name}}}"}`))
			req.Header.Set("Content-Type", "application/json")
			req.Header.Set("Accept", "application/graphql-response+json")
			req.Header.Set("Authorization", "Bearer "+r.key)
			res, err := http.DefaultClient.Do(req)
			if err != nil {
				answers <- said{body: err.Error()}
				return
			}
			defer res.Body.Close()
			body, _ := io.ReadAll(res.Body)
			answers <- said{res.StatusCode, res.Header.Get("Retry-After"), string(body)}
		}()
	}
	for range callers - atOnce {
		a := <-answers // while the others are still held up
		if a.status != http.StatusServiceUnavailable || a.later == "" || !strings.Contains(a.body, `"UNAVAILABLE"`) {
			t.Errorf("turned away with %d, Retry-After %q: %s", a.status, a.later, a.body)
		}
	}
	if status, _ := r.get(t, "/healthz"); status != http.StatusOK {
		t.Errorf("alive answers %d", status)
	}
	if err := held.Rollback(t.Context()); err != nil {
		t.Fatal(err)
	}
	for range atOnce {
		if a := <-answers; a.status == http.StatusServiceUnavailable && strings.Contains(a.body, "more to do") {
			t.Errorf("one that was let in was turned away: %s", a.body)
		}
	}
	if status, body := r.get(t, "/readyz"); status != http.StatusOK {
		t.Errorf("afterwards ready answers %d %s", status, body)
	}
}

// TestGuessedLinks is 86: whoever tries secrets of links that open nothing is slowed by
// address, wherever the secret is brought, and by the first letters of it from wherever.
func TestGuessedLinks(t *testing.T) {
	t.Parallel()
	r := start(t, "BOOTTOP_TRUSTED_HOPS=1")
	ask := func(from string, build func() *http.Request) (int, string) {
		req := build()
		req.Header.Set("X-Forwarded-For", from)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		body, _ := io.ReadAll(res.Body)
		if res.StatusCode == http.StatusTooManyRequests && res.Header.Get("Retry-After") == "" {
			t.Error("turned away without a time to come back")
		}
		return res.StatusCode, string(body)
	}
	path := func(path string) func() *http.Request {
		return func() *http.Request {
			req, _ := http.NewRequest(http.MethodGet, "http://"+r.address+path, nil)
			return req
		}
	}
	post := func(path, body, link string) func() *http.Request {
		return func() *http.Request {
			req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+path, strings.NewReader(body))
			req.Header.Set("Content-Type", "application/json")
			req.Header.Set("X-Boottop-Share", link)
			req.Header.Set("Authorization", "Bearer "+r.key) // the contract's documents are free to a program
			return req
		}
	}
	secret := func(n int) string { return fmt.Sprintf("%043d", (n+1)*10_000_019) }
	for n := range 60 {
		tail := []string{"", "/report.pdf", "/report.html", "/addenda/1", "/photos.zip"}[n%5]
		if status, body := ask("192.0.2.1", path("/share/"+reversed(secret(n))+tail)); status != http.StatusNotFound {
			t.Fatalf("guess %d: %d %s", n, status, body)
		}
	}
	// What was counted leaks away by the clock of the machine, so one more or two may pass.
	soon := func(from string, build func() *http.Request) (status int, body string) {
		for range 4 {
			if status, body = ask(from, build); status == http.StatusTooManyRequests {
				break
			}
		}
		return status, body
	}
	for what, build := range map[string]func() *http.Request{
		"a report": path("/share/" + reversed(secret(99))), "a feed": path("/calendar/" + reversed(secret(98)) + ".ics"),
		"the end of letters": post("/unsubscribe/"+reversed(secret(97)), "", ""), "the contract": post("/graphql", `{"query":"{outside{report{number}}}"}`, reversed(secret(96))),
	} {
		if status, body := soon("192.0.2.1", build); status != http.StatusTooManyRequests || !strings.Contains(body, "UNAVAILABLE") {
			t.Errorf("%s after 60 guesses: %d %s", what, status, body)
		}
	}
	if status, _ := ask("192.0.2.1", post("/graphql", `{"query":"{viewer{practice{name}}}"}`, "")); status != http.StatusOK {
		t.Errorf("without a link that address is answered %d", status)
	}
	if status, _ := ask("192.0.2.2", path("/share/"+reversed(secret(99)))); status != http.StatusNotFound {
		t.Errorf("another address is answered %d", status)
	}
	t.Run("by the contract too", func(t *testing.T) {
		guess := func(n int) func() *http.Request {
			return post("/graphql", `{"query":"{outside{report{number}}}"}`, reversed(secret(200+n)))
		}
		for n := range 60 {
			ask("192.0.2.3", guess(n))
		}
		if status, body := soon("192.0.2.3", guess(60)); status != http.StatusTooManyRequests || !strings.HasPrefix(body, `{"errors":[{`) {
			t.Errorf("after 60: %d %s", status, body)
		}
	})
	t.Run("neighbours of one link, from many addresses", func(t *testing.T) {
		for n := range 100 {
			ask(fmt.Sprintf("198.51.100.%d", n), path(fmt.Sprintf("/share/Abcdefgh%035d", n)))
		}
		if status, body := soon("203.0.113.1", path("/share/Abcdefgh"+strings.Repeat("9", 35))); status != http.StatusTooManyRequests {
			t.Errorf("after 100: %d %s", status, body)
		}
	})
}

func reversed(s string) string {
	b := []byte(s)
	slices.Reverse(b)
	return string(b)
}

// TestHandover is promise E2 as a proxy in front has it, which sends nobody to a service
// that does not say it is ready: a release takes over from the one before under load, and
// no request fails.
func TestHandover(t *testing.T) {
	t.Parallel()
	now := start(t, "BOOTTOP_DRAIN=3s")
	var to atomic.Pointer[running]
	to.Store(now)
	ask := func(r *running) (int, string) {
		req, _ := http.NewRequest(http.MethodPost, "http://"+r.address+"/graphql", strings.NewReader(`{"query":"{viewer{practice{name}}}"}`))
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("Authorization", "Bearer "+r.key)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			return 0, err.Error()
		}
		defer res.Body.Close()
		body, err := io.ReadAll(res.Body)
		if err != nil {
			return 0, err.Error()
		}
		return res.StatusCode, string(body)
	}
	load, enough := context.WithCancel(t.Context())
	var callers sync.WaitGroup
	var answered atomic.Int64
	for range 4 {
		callers.Go(func() {
			for load.Err() == nil {
				if status, body := ask(to.Load()); status != http.StatusOK || !strings.Contains(body, "North quay") {
					t.Errorf("a request failed in a handover: %d %s", status, body)
					return
				}
				answered.Add(1)
			}
		})
	}
	for range 2 {
		next := now.beside(t)
		now.stop()
		for status := 0; status != http.StatusServiceUnavailable; { // not ready is said first, and served on
			status, _ = now.get(t, "/readyz")
		}
		to.Store(next)
		<-now.ended
		now = next
	}
	before := answered.Load()
	for answered.Load() == before && !t.Failed() {
		time.Sleep(time.Millisecond)
	}
	enough()
	callers.Wait()
}
