package auth_test

import (
	"crypto/sha256"
	"net/http"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/graph/auth"
)

func hashed(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

// TestPasswords is 77.
func TestPasswords(t *testing.T) {
	t.Parallel()
	b := setup(t)
	t.Run("an é is one character however a keyboard makes it", func(t *testing.T) {
		composed, apart := "caf\u00e9 caf\u00e9 caf\u00e9", "cafe\u0301 cafe\u0301 cafe\u0301"
		b.exec(`update accounts set password_hash = $2 where id = $1`, b.theirs.account, mustHash(t, composed))
		for _, password := range []string{composed, apart} {
			if r := b.browser().post("/auth/sign-in", body{"email": b.theirs.email, "password": password}); r.status != http.StatusOK {
				t.Errorf("%q: %d %s", password, r.status, r.body)
			}
		}
	})
	t.Run("more than 72 bytes all count", func(t *testing.T) {
		long := strings.Repeat("sea ", 30)
		b.exec(`update accounts set password_hash = $2 where id = $1`, b.theirs.account, mustHash(t, long+"a"))
		if r := b.browser().post("/auth/sign-in", body{"email": b.theirs.email, "password": long + "b"}); r.status != http.StatusUnauthorized {
			t.Errorf("got %d", r.status)
		}
	})
	for name, c := range map[string]struct {
		password string
		status   int
	}{
		"1 MB":              {strings.Repeat("x", 1<<20), http.StatusRequestEntityTooLarge},
		"more than 1 kB":    {strings.Repeat("xy", 600), http.StatusBadRequest},
		"a zero character":  {"seven grey\x00 seals", http.StatusBadRequest},
		"eleven characters": {"elevenchars", http.StatusBadRequest},
		"one repeated":      {strings.Repeat("a", 20), http.StatusBadRequest},
		"one umlaut":        {strings.Repeat("ä", 20), http.StatusBadRequest},
		"six umlauts are six characters, not twelve": {"ääääöö", http.StatusBadRequest},
	} {
		r := b.browser().post("/auth/reset/finish", body{"token": "x", "password": c.password})
		if r.status != c.status || strings.Contains(r.body, c.password) {
			t.Errorf("%s: %d %s", name, r.status, r.body)
		}
	}
}

func mustHash(t *testing.T, password string) string {
	t.Helper()
	hash, err := auth.Hash(t.Context(), password)
	if err != nil {
		t.Fatal(err)
	}
	return hash
}

func TestBodies(t *testing.T) {
	t.Parallel()
	b := setup(t)
	const secret = "hunter2hunter2"
	good := `{"email":"` + b.ours.email + `","password":"` + secret + `"}`
	set := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	for name, c := range map[string]struct {
		text   string
		change func(*http.Request)
		status int
	}{
		"a form":              {"email=a&password=" + secret, set("Content-Type", "application/x-www-form-urlencoded"), 415},
		"text":                {good, set("Content-Type", "text/plain"), 415},
		"nothing said":        {good, func(r *http.Request) { r.Header.Del("Content-Type") }, 415},
		"gzip":                {good, set("Content-Encoding", "gzip"), 415},
		"UTF-16":              {good, set("Content-Type", "application/json; charset=utf-16"), 415},
		"UTF-8":               {good, set("Content-Type", "application/json; charset=UTF-8"), 401},
		"cut":                 {good[:len(good)-1], nil, 400},
		"a list":              {"[" + good + "]", nil, 400},
		"two values":          {good + good, nil, 400},
		"a key twice":         {`{"email":"a","email":"b","password":"` + secret + `"}`, nil, 400},
		"a number":            {`{"email":1,"password":"` + secret + `"}`, nil, 400},
		"an object":           {`{"email":{"$ne":null},"password":"` + secret + `"}`, nil, 400},
		"a name not known":    {`{"email":"a@b.example","password":"` + secret + `","admin":"yes"}`, nil, 400},
		"a name in capitals":  {`{"Email":"a@b.example","password":"` + secret + `"}`, nil, 400},
		"half a surrogate":    {`{"email":"\ud800","password":"` + secret + `"}`, nil, 400},
		"no password":         {`{"email":"a@b.example"}`, nil, 400},
		"an empty password":   {`{"email":"a@b.example","password":""}`, nil, 400},
		"9 kB":                {`{"email":"` + strings.Repeat("x", 9000) + `","password":"` + secret + `"}`, nil, 413},
		"a practice of no id": {`{"email":"a@b.example","password":"` + secret + `","practice":"' or 1=1"}`, nil, 401},
	} {
		change := []func(*http.Request){}
		if c.change != nil {
			change = append(change, c.change)
		}
		r := b.browser().send(http.MethodPost, "/auth/sign-in", c.text, change...)
		if r.status != c.status || strings.Contains(r.body, secret) || !strings.HasPrefix(r.body, `{"error":{"code":"`) {
			t.Errorf("%s: %d %s, want %d", name, r.status, r.body, c.status)
		}
		if r.header.Get("Cache-Control") != "no-store" {
			t.Errorf("%s may be kept", name)
		}
	}
	if r := b.browser().send(http.MethodGet, "/auth/sign-in", ""); r.status != http.StatusMethodNotAllowed {
		t.Errorf("GET: %d", r.status)
	}
}

// TestGuessingIsSlow holds the limits: by address and account together, by address, and
// 78, that a forged X-Forwarded-For changes nothing.
func TestGuessingIsSlow(t *testing.T) {
	t.Parallel()
	b := setup(t, func(c *auth.Config) { c.Hops = 1 })
	from := func(list string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set("X-Forwarded-For", list) }
	}
	guess := func(email, address string) int {
		return b.browser().send(http.MethodPost, "/auth/sign-in", `{"email":"`+email+`","password":"wrong wrong wrong"}`, from(address)).status
	}
	right := func(address string) int {
		return b.browser().send(http.MethodPost, "/auth/sign-in", `{"email":"`+b.ours.email+`","password":"`+goodPassword+`"}`, from(address)).status
	}
	for range 10 {
		if got := guess(b.ours.email, "192.0.2.1"); got != http.StatusUnauthorized {
			t.Fatalf("got %d", got)
		}
	}
	if got := guess(b.ours.email, "198.51.100.7, 192.0.2.1"); got != http.StatusTooManyRequests {
		t.Errorf("the eleventh, with a forged address in front: %d", got)
	}
	if got := right("192.0.2.1"); got != http.StatusTooManyRequests {
		t.Errorf("the right password from there: %d", got)
	}
	if got := right("203.0.113.5"); got != http.StatusOK {
		t.Errorf("the right password from elsewhere: %d", got)
	}
	known, unknown := 0, 0
	for range 12 {
		known, unknown = guess(b.theirs.email, "192.0.2.9"), guess("nobody@north.example", "192.0.2.10")
	}
	if known != http.StatusTooManyRequests || unknown != known {
		t.Errorf("a known account answers %d, an unknown one %d", known, unknown)
	}
	b.clock.pass(2 * time.Minute)
	if got := right("192.0.2.1"); got != http.StatusOK {
		t.Errorf("two minutes later: %d", got)
	}
	t.Run("one /64 is one caller", func(t *testing.T) {
		for i := range 10 {
			guess("v6@north.example", "2001:db8::"+string(rune('1'+i%9)))
		}
		if got := guess("v6@north.example", "2001:db8::ffff"); got != http.StatusTooManyRequests {
			t.Errorf("got %d", got)
		}
		if got := guess("v6@north.example", "2001:db8:0:1::1"); got != http.StatusUnauthorized {
			t.Errorf("the next /64: %d", got)
		}
	})
}
