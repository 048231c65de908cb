package auth_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/auth"
)

func TestSignIn(t *testing.T) {
	t.Parallel()
	b := setup(t)
	both := b.account("both@quays.example")
	b.join(b.ours.id, both, domain.Surveyor)
	b.join(b.theirs.id, both, domain.Guest)
	closed := b.account("closed@north.example")
	b.join(b.ours.id, closed, domain.Surveyor)
	b.exec(`update accounts set disabled_at = now() where id = $1`, closed)
	b.account("nowhere@north.example")

	t.Run("one practice: in at once, as its member", func(t *testing.T) {
		br := b.browser()
		r := br.post("/auth/sign-in", body{"email": " Ines@North.example ", "password": goodPassword})
		want := `{"practices":[{"id":"` + b.ours.wire() + `","name":"North quay surveys","roles":["principal","surveyor"]}],"practice":"` + b.ours.wire() + `"}`
		if r.status != http.StatusOK || r.body != want {
			t.Fatalf("got %d %s\nwant %s", r.status, r.body, want)
		}
		a, status := br.who()
		if status != http.StatusOK || a.Practice != b.ours.id || a.Member != b.ours.member || a.Means != domain.BySession || !slices.Equal(a.Roles, []domain.Role{domain.Principal, domain.Surveyor}) {
			t.Errorf("seen as %+v (%d)", a, status)
		}
	})
	t.Run("several practices: choose first, then in", func(t *testing.T) {
		br := b.browser()
		in := body{"email": "both@quays.example", "password": goodPassword}
		if r := br.post("/auth/sign-in", in); r.status != http.StatusOK || !strings.HasSuffix(r.body, `"practice":null}`) || len(br.cookies) != 0 {
			t.Fatalf("got %d %s with cookies %v", r.status, r.body, br.cookies)
		}
		in["practice"] = b.theirs.wire()
		if r := br.post("/auth/sign-in", in); r.status != http.StatusOK {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		if a, _ := br.who(); a.Practice != b.theirs.id || !a.OnlyGuest() {
			t.Errorf("seen as %+v", a)
		}
		if r := br.post("/auth/practice", body{"practice": b.ours.wire()}); r.status != http.StatusOK {
			t.Fatalf("switch: %d %s", r.status, r.body)
		}
		if a, _ := br.who(); a.Practice != b.ours.id || !a.Has(domain.Surveyor) {
			t.Errorf("after the switch seen as %+v", a)
		}
	})
	t.Run("a practice of others is not there", func(t *testing.T) {
		r := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": goodPassword, "practice": b.theirs.wire()})
		none := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": goodPassword, "practice": "prc_01999999-0000-7000-8000-000000000000"})
		if r.status != http.StatusNotFound || r.body != none.body {
			t.Errorf("got %d %s and %s", r.status, r.body, none.body)
		}
	})
	t.Run("unknown address, wrong password and closed account answer the same bytes", func(t *testing.T) {
		want := `{"error":{"code":"UNAUTHENTICATED","message":"The e-mail address or the password is not right.","field":""}}`
		for name, in := range map[string]body{
			"unknown":          {"email": "nobody@north.example", "password": goodPassword},
			"wrong":            {"email": b.ours.email, "password": goodPassword + "!"},
			"closed":           {"email": "closed@north.example", "password": goodPassword},
			"longer than any":  {"email": b.ours.email, "password": strings.Repeat("x", 4000)},
			"another NFC form": {"email": b.ours.email, "password": "séven grey seals asleep"},
		} {
			r := b.browser().post("/auth/sign-in", in)
			if r.status != http.StatusUnauthorized || r.body != want || len(r.header["Set-Cookie"]) > 0 {
				t.Errorf("%s: %d %s %v", name, r.status, r.body, r.header)
			}
		}
	})
	t.Run("an account without a practice is told so", func(t *testing.T) {
		if r := b.browser().post("/auth/sign-in", body{"email": "nowhere@north.example", "password": goodPassword}); r.status != http.StatusForbidden {
			t.Errorf("got %d %s", r.status, r.body)
		}
	})
	t.Run("a sign-in never takes over the session a browser came with", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		first, _ := br.who()
		old := &browser{b: b, cookies: map[string]string{br.cookie(false): br.cookies[br.cookie(false)]}}
		br.signIn(b.ours)
		second, _ := br.who()
		if first.Session == second.Session {
			t.Error("the same session went on")
		}
		if _, status := old.who(); status != http.StatusUnauthorized {
			t.Errorf("the session from before still answers %d", status)
		}
	})
	t.Run("signed out is signed out, for copies of the cookies too", func(t *testing.T) {
		br := b.browser()
		br.signIn(b.ours)
		thief := &browser{b: b, cookies: map[string]string{}}
		for n, v := range br.cookies {
			thief.cookies[n] = v
		}
		if r := br.post("/auth/sign-out", body{}); r.status != http.StatusOK || len(br.cookies) != 0 {
			t.Fatalf("got %d %s, cookies %v", r.status, r.body, br.cookies)
		}
		if _, status := thief.who(); status != http.StatusUnauthorized {
			t.Errorf("the access token still answers %d", status)
		}
		if r := thief.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized {
			t.Errorf("the refresh token still answers %d", r.status)
		}
	})
}

func TestHashOfOldCostsIsMadeAnew(t *testing.T) {
	t.Parallel()
	b := setup(t)
	// argon2id of goodPassword with 8 MiB and one pass, made once with this package.
	b.exec(`update accounts set password_hash = $2 where id = $1`, b.ours.account, auth.HashWith(goodPassword, 8*1024, 1))
	b.browser().signIn(b.ours)
	if n := b.count(`select count(*) from accounts where id = $1 and password_hash like '$argon2id$v=19$m=19456,t=2,p=1$%'`, b.ours.account); n != 1 {
		t.Error("the hash still has its old costs")
	}
	b.browser().signIn(b.ours)
}

func TestCookies(t *testing.T) {
	t.Parallel()
	t.Run("over http: HttpOnly and SameSite, one name a port", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		r := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": goodPassword})
		port := b.server.Listener.Addr().String()
		port = port[strings.LastIndexByte(port, ':')+1:]
		for i, name := range []string{"boottop-" + port, "boottop-refresh-" + port} {
			got := r.header["Set-Cookie"][i]
			if !strings.HasPrefix(got, name+"=") || !strings.HasSuffix(got, "; HttpOnly; SameSite=Strict") || strings.Contains(got, "Secure") {
				t.Errorf("cookie %d: %s", i, got)
			}
		}
	})
	t.Run("over https: __Host- and Secure", func(t *testing.T) {
		t.Parallel()
		b := setup(t, func(c *auth.Config) { c.Public, _ = url.Parse("https://practice.example") })
		r := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": goodPassword})
		for i, name := range []string{"__Host-boottop", "__Host-boottop-refresh"} {
			got := r.header["Set-Cookie"][i]
			if !strings.HasPrefix(got, name+"=") || !strings.Contains(got, "; Path=/;") || !strings.HasSuffix(got, "; HttpOnly; Secure; SameSite=Strict") || strings.Contains(got, "Domain") {
				t.Errorf("cookie %d: %s", i, got)
			}
		}
	})
	t.Run("the same name twice counts for nobody", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		br := b.browser()
		br.signIn(b.ours)
		name := br.cookie(false)
		r := br.send(http.MethodGet, "/who", "", func(r *http.Request) { r.AddCookie(&http.Cookie{Name: name, Value: "x"}) })
		if strings.Contains(r.body, b.ours.id.String()) {
			t.Errorf("seen as %s", r.body)
		}
	})
}

func TestOtherSitesCannotWrite(t *testing.T) {
	t.Parallel()
	b := setup(t)
	br := b.browser()
	br.signIn(b.ours)
	key := b.key(b.ours)
	for name, c := range map[string]struct {
		change func(*http.Request)
		status int
	}{
		"our page":                      {func(*http.Request) {}, 200},
		"without the header":            {func(r *http.Request) { r.Header.Del("X-Boottop") }, 403},
		"from another origin":           {func(r *http.Request) { r.Header.Set("Origin", "https://elsewhere.example") }, 403},
		"from a sibling host":           {func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }, 403},
		"from another site":             {func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		"as the browser tells our page": {func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-origin") }, 200},
		"a program with a key needs no header": {func(r *http.Request) {
			r.Header.Del("X-Boottop")
			r.Header.Del("Cookie")
			r.Header.Set("Authorization", "Bearer "+key)
		}, 200},
	} {
		if r := br.send(http.MethodPost, "/who", "{}", c.change); r.status != c.status {
			t.Errorf("%s: %d %s, want %d", name, r.status, r.body, c.status)
		}
	}
	for _, path := range []string{"/auth/sign-in", "/auth/refresh", "/auth/sign-out", "/auth/practice", "/auth/reset", "/auth/reset/finish", "/auth/invitation", "/auth/invitation/look"} {
		r := b.browser().send(http.MethodPost, path, "{}", func(r *http.Request) { r.Header.Del("X-Boottop") })
		if r.status != http.StatusForbidden {
			t.Errorf("%s without the header: %d %s", path, r.status, r.body)
		}
	}
}

func TestWhatIsTakenAwayStopsWorking(t *testing.T) {
	t.Parallel()
	b := setup(t)
	colleague := practiceOf{id: b.ours.id, email: "bo@north.example"}
	colleague.account = b.account(colleague.email)
	colleague.member = b.join(b.ours.id, colleague.account, domain.Surveyor, domain.Office)
	br := b.browser()
	br.signIn(colleague)
	br.who()
	b.exec(`update members set roles = '{office}' where id = $1`, colleague.member)
	b.clock.pass(29 * time.Second)
	if a, _ := br.who(); !a.Has(domain.Surveyor) {
		t.Error("the database was asked again within 30 seconds")
	}
	b.clock.pass(2 * time.Second)
	if a, _ := br.who(); a.Has(domain.Surveyor) || !a.Has(domain.Office) {
		t.Errorf("after 31 seconds still seen as %+v", a)
	}
	b.exec(`update accounts set disabled_at = now() where id = $1`, colleague.account)
	b.clock.pass(31 * time.Second)
	if _, status := br.who(); status != http.StatusUnauthorized {
		t.Errorf("a closed account still answers %d", status)
	}
	if r := br.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized || len(br.cookies) != 0 {
		t.Errorf("refresh of a closed account: %d %s, cookies %v", r.status, r.body, br.cookies)
	}
	key := b.key(b.ours)
	as := func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+key) }
	if r := b.browser().send(http.MethodGet, "/who", "", as); r.status != http.StatusOK || !strings.Contains(r.body, `"Means":"api key"`) {
		t.Fatalf("key: %d %s", r.status, r.body)
	}
	b.exec(`update api_keys set revoked_at = now()`)
	b.clock.pass(31 * time.Second)
	if r := b.browser().send(http.MethodGet, "/who", "", as); r.status != http.StatusUnauthorized {
		t.Errorf("a revoked key still answers %d %s", r.status, r.body)
	}
}
