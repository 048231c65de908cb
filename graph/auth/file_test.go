package auth_test

import (
	"net/http"
	"testing"
	"time"
)

// A file that is opened without a session: a person is led to the sign-in and back, a
// program is told in JSON, and nobody is led out of the service.
func TestAFileWithoutASession(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ask := func(target, cookie string, headers ...string) *http.Response {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, b.server.URL+target, nil)
		if err != nil {
			t.Fatal(err)
		}
		if cookie != "" {
			req.Header.Set("Cookie", cookie)
		}
		for k := 0; k < len(headers); k += 2 {
			req.Header.Set(headers[k], headers[k+1])
		}
		client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
		res, err := client.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res
	}
	window := []string{"Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document", "Accept", "text/html,*/*;q=0.8"}

	for name, c := range map[string]struct {
		target, cookie string
		headers        []string
		status         int
		to             string
	}{
		"a window":                      {target: "/file/7?paper=a4&x=1", headers: window, status: http.StatusSeeOther, to: "/sign-in?file=%2Ffile%2F7%3Fpaper%3Da4%26x%3D1"},
		"a browser without metadata":    {target: "/file/7", headers: []string{"Accept", "text/html,*/*"}, status: http.StatusSeeOther, to: "/sign-in?file=%2Ffile%2F7"},
		"a session that nobody knows":   {target: "/file/7", cookie: b.browser().cookie(false) + "=made.up", headers: window, status: http.StatusSeeOther, to: "/sign-in?file=%2Ffile%2F7"},
		"a program":                     {target: "/file/7", headers: []string{"Accept", "*/*"}, status: http.StatusUnauthorized},
		"a program that says nothing":   {target: "/file/7", status: http.StatusUnauthorized},
		"a program with a bad key":      {target: "/file/7", headers: append([]string{"Authorization", "Bearer btk_none"}, window...), status: http.StatusUnauthorized},
		"a script of the page":          {target: "/file/7", headers: []string{"Sec-Fetch-Mode", "cors", "Sec-Fetch-Dest", "empty", "Accept", "text/html"}, status: http.StatusUnauthorized},
		"a link that saves what it got": {target: "/file/7", headers: []string{"Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "empty"}, status: http.StatusUnauthorized},
		"a frame":                       {target: "/file/7", headers: []string{"Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "iframe"}, status: http.StatusUnauthorized},
		"an address that leads out":     {target: "/file/7?to=//evil.example", headers: window, status: http.StatusSeeOther, to: "/sign-in?file=%2Ffile%2F7%3Fto%3D%2F%2Fevil.example"},
	} {
		res := ask(c.target, c.cookie, c.headers...)
		if res.StatusCode != c.status || res.Header.Get("Location") != c.to {
			t.Errorf("%s: %d, led to %q", name, res.StatusCode, res.Header.Get("Location"))
		}
	}

	br := b.browser()
	br.signIn(b.ours)
	held := br.cookie(false) + "=" + br.cookies[br.cookie(false)]
	if res := ask("/file/7", held, window...); res.StatusCode != http.StatusOK {
		t.Errorf("a member is answered %d", res.StatusCode)
	}
	b.clock.pass(10 * time.Minute) // longer than an access token holds
	if res := ask("/file/7", held, window...); res.StatusCode != http.StatusSeeOther {
		t.Errorf("an access that ran out is answered %d", res.StatusCode)
	}
}
