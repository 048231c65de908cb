package store_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

var _ practice.Objects = (*store.Objects)(nil)

func objects(t *testing.T) (*store.Objects, *storetest.Bucket) {
	t.Helper()
	b := storetest.S3(t)
	o, err := store.OpenObjects(store.ObjectsConfig{URL: b.URL(), Region: b.Region, Bucket: b.Name, Key: b.Key, Secret: b.Secret})
	if err != nil {
		t.Fatal(err)
	}
	return o, b
}

func TestTheStoreKeepsWhatUploadsRestOn(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	if err := o.Check(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestAStoreThatAnswersNothingIsSaidToBeAway(t *testing.T) {
	t.Parallel()
	o, err := store.OpenObjects(store.ObjectsConfig{URL: "http://127.0.0.1:9", Region: "us-east-1", Bucket: "bucket", Key: "k", Secret: "s"})
	if err != nil {
		t.Fatal(err)
	}
	if err := o.Check(t.Context()); domain.KindOf(err) != domain.Unavailable {
		t.Errorf("got %v, want Unavailable", err)
	}
	sum := sha256.Sum256([]byte("x"))
	if _, _, err := o.PresignPut(t.Context(), "p/k", "text/csv", 1, sum[:], time.Minute); err != nil {
		t.Errorf("a grant needs the store: %v", err)
	}
}

// misuses of a grant: promises C4 and 52 to 54.
func TestAGrantPutsOneObjectOfItsTypeSizeAndBytesOnce(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	body := []byte("side;station;1\nport;4;35,3\n")
	sum := sha256.Sum256(body)
	address, headers, err := o.PresignPut(t.Context(), "p/one", "text/csv", int64(len(body)), sum[:], time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	put := func(to string, b []byte, change map[string]string) int {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPut, to, bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		for k, v := range headers {
			req.Header.Set(k, v)
		}
		for k, v := range change {
			req.Header.Set(k, v)
		}
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res.StatusCode
	}
	refused := map[string]int{
		"another type":   put(address, body, map[string]string{"Content-Type": "text/html"}),
		"larger":         put(address, append(bytes.Clone(body), ' '), nil),
		"other bytes":    put(address, bytes.ToUpper(body), nil),
		"another key":    put(strings.Replace(address, "/p/one", "/p/two", 1), body, nil),
		"no condition":   put(address, body, map[string]string{"If-None-Match": `"x"`}),
		"another method": 403,
	}
	for what, status := range refused {
		if status < 400 {
			t.Errorf("%s: answered %d", what, status)
		}
	}
	if status := put(address, body, nil); status != http.StatusOK {
		t.Fatalf("as granted: %d", status)
	}
	if status := put(address, body, nil); status != http.StatusPreconditionFailed {
		t.Errorf("a second time: %d, want 412", status)
	}
}

func TestAGrantEnds(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	body := []byte("x")
	sum := sha256.Sum256(body)
	address, headers, err := o.PresignPut(t.Context(), "p/late", "text/csv", 1, sum[:], time.Second)
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(2100 * time.Millisecond)
	req, _ := http.NewRequestWithContext(t.Context(), http.MethodPut, address, bytes.NewReader(body))
	for k, v := range headers {
		req.Header.Set(k, v)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	_ = res.Body.Close()
	if res.StatusCode != http.StatusForbidden {
		t.Errorf("after its time: %d, want 403", res.StatusCode)
	}
}

func TestABrowserMayPutWithTheHeadersOfAGrant(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	sum := sha256.Sum256([]byte("x"))
	address, headers, err := o.PresignPut(t.Context(), "p/browser", "image/jpeg", 1, sum[:], time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	names := make([]string, 0, len(headers))
	for name := range headers {
		names = append(names, strings.ToLower(name))
	}
	req, _ := http.NewRequestWithContext(t.Context(), http.MethodOptions, address, nil)
	req.Header.Set("Origin", "http://127.0.0.1:8080")
	req.Header.Set("Access-Control-Request-Method", "PUT")
	req.Header.Set("Access-Control-Request-Headers", strings.Join(names, ","))
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	_ = res.Body.Close()
	if res.StatusCode >= 300 || res.Header.Get("Access-Control-Allow-Origin") == "" {
		t.Errorf("the browser's question is answered %d %v", res.StatusCode, res.Header)
	}
}

func TestASignedReadCannotBeChanged(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	if err := o.Put(t.Context(), "p/report", "application/pdf", []byte("%PDF-1.7")); err != nil {
		t.Fatal(err)
	}
	signed, err := o.PresignGet(t.Context(), "p/report", "Café \"12\"\r\n.pdf", "application/pdf", time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	get := func(address string) *http.Response {
		t.Helper()
		req, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res
	}
	res := get(signed)
	disposition := res.Header.Get("Content-Disposition")
	if res.StatusCode != http.StatusOK || res.Header.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(disposition, `attachment; filename="Caf_ _12___.pdf"`) {
		t.Errorf("answered %d, %q, %q", res.StatusCode, res.Header.Get("Content-Type"), disposition)
	}
	bare, _, _ := strings.Cut(signed, "?")
	for what, address := range map[string]string{
		"another type": strings.Replace(signed, url.QueryEscape("application/pdf"), url.QueryEscape("text/html"), 1),
		"added type":   signed + "&response-content-type=text%2Fhtml",
		"unsigned":     bare,
		"list":         strings.TrimSuffix(bare, "p/report"),
	} {
		if res := get(address); res.StatusCode != http.StatusForbidden {
			t.Errorf("%s: answered %d, want 403", what, res.StatusCode)
		}
	}
}

func TestObjectsAreReadAsTheyWerePut(t *testing.T) {
	t.Parallel()
	o, _ := objects(t)
	ctx := t.Context()
	body := bytes.Repeat([]byte("0123456789"), 1000)
	for range 2 { // the same bytes again are no fault
		if err := o.Put(ctx, "p/k", "text/plain", body); err != nil {
			t.Fatal(err)
		}
	}
	if n, err := o.Stat(ctx, "p/k"); err != nil || n != int64(len(body)) {
		t.Errorf("stat: %d, %v", n, err)
	}
	if b, err := o.Get(ctx, "p/k", int64(len(body))); err != nil || !bytes.Equal(b, body) {
		t.Errorf("get: %d bytes, %v", len(b), err)
	}
	if _, err := o.Get(ctx, "p/k", 10); domain.KindOf(err) != domain.Conflict {
		t.Errorf("more than allowed: %v", err)
	}
	s, err := o.Open(ctx, "p/k")
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := s.Seek(-3, io.SeekEnd); err != nil {
		t.Fatal(err)
	}
	if tail, err := io.ReadAll(s); err != nil || string(tail) != "789" {
		t.Errorf("from its end: %q, %v", tail, err)
	}
	for what, err := range map[string]error{
		"stat": second(o.Stat(ctx, "p/none")), "get": second(o.Get(ctx, "p/none", 1)), "open": second(o.Open(ctx, "p/none")),
	} {
		if domain.KindOf(err) != domain.NotFound {
			t.Errorf("%s of what is not there: %v", what, err)
		}
	}
	gone, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := o.Stat(gone, "p/k"); err == nil {
		t.Error("a call outlives its caller")
	}
}

func second[T any](_ T, err error) error { return err }
