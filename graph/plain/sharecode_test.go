package plain_test

import (
	"bytes"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// A link that asks for a code shows nothing of the report before the code of the letter was
// typed on its page, and afterwards opens to that browser alone.
func TestALinkThatAsksForACodeOpensWithItAlone(t *testing.T) {
	t.Parallel()
	sh := open(t)
	sh.exec(`update shares set asks_code = true where id = $1`, sh.share)
	link := "/share/" + sh.token
	shut := func(with ...func(*http.Request)) {
		t.Helper()
		for _, path := range []string{"", "/report.pdf", "/report.html", "/photos.zip", "/addenda/1"} {
			res, body := sh.get(link+path, with...)
			if res.StatusCode != http.StatusBadRequest || !bytes.Contains(body, []byte(`"field":"code"`)) || bytes.Contains(body, []byte("Petrel")) {
				t.Errorf("GET %s answers %d: %.120s", path, res.StatusCode, body)
			}
		}
	}
	shut()
	if _, _, err := sh.service.SendShareCode(t.Context(), practice.Holder{Link: sh.token}, uuid.Must(uuid.NewV7())); err != nil {
		t.Fatal(err)
	}
	var letter string
	if err := sh.db.Connect(t, sh.db.OwnerURL).QueryRow(t.Context(), `select body from mails where kind = 'share code'`).Scan(&letter); err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`code on its page: ([A-Z0-9-]+)`).FindStringSubmatch(letter)
	if found == nil {
		t.Fatalf("no code in %q", letter)
	}
	typed := func(body string) *http.Response {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, sh.url+link+"/code", strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res
	}
	for _, wrong := range []string{``, `{`, `{"code":""}`, `{"code":"AAAA-AAAA"}`, `{"code":"` + strings.Repeat("A", 2000) + `"}`} {
		if res := typed(wrong); res.StatusCode != http.StatusBadRequest || len(res.Cookies()) > 0 {
			t.Errorf("%.20q is answered with %d and cookies %v", wrong, res.StatusCode, res.Cookies())
		}
	}
	right := typed(`{"code":" ` + strings.ToLower(found[1]) + `"}`)
	if right.StatusCode != http.StatusNoContent || len(right.Cookies()) != 1 {
		t.Fatalf("the code is answered with %d and cookies %v", right.StatusCode, right.Cookies())
	}
	cookie := right.Cookies()[0]
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode || cookie.Path != link {
		t.Errorf("the code is kept as %s", cookie)
	}
	shut(func(r *http.Request) { r.AddCookie(&http.Cookie{Name: cookie.Name, Value: "AAAA-AAAA"}) })
	kept := func(r *http.Request) { r.AddCookie(cookie) }
	if res, body := sh.get(link, kept); res.StatusCode != http.StatusOK || !bytes.Contains(body, []byte("Petrel")) {
		t.Errorf("with the code the page answers %d", res.StatusCode)
	}
	if res, body := sh.get(link+"/report.pdf", kept); res.StatusCode != http.StatusOK || !bytes.Equal(body, sh.pdf) {
		t.Errorf("with the code the PDF answers %d", res.StatusCode)
	}
	if n := sh.opened(); n != 2 {
		t.Errorf("it was opened %d times, want 2: what stayed shut is no opening", n)
	}
}
