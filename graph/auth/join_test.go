package auth_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

func TestInvitation(t *testing.T) {
	t.Parallel()
	b := setup(t)
	const newcomer = "sol@north.example"
	token := b.invite(b.ours, newcomer, domain.Trainee)
	t.Run("is shown to whoever holds the letter", func(t *testing.T) {
		r := b.browser().post("/auth/invitation/look", body{"token": token})
		want := `{"practice":"North quay surveys","email":"sol@north.example","name":"S. Tern","roles":["trainee"],"account":false}`
		if r.status != http.StatusOK || r.body != want {
			t.Errorf("got %d %s\nwant %s", r.status, r.body, want)
		}
	})
	t.Run("needs a name and a password that can be one", func(t *testing.T) {
		for field, in := range map[string]body{
			"name":     {"token": token, "name": "  ", "password": goodPassword},
			"password": {"token": token, "name": "Sol Tern", "password": "too short"},
		} {
			if r := b.browser().post("/auth/invitation", in); r.status != http.StatusBadRequest || !strings.Contains(r.body, `"field":"`+field+`"`) {
				t.Errorf("%s: %d %s", field, r.status, r.body)
			}
		}
		if n := b.count(`select count(*) from accounts where email = $1`, newcomer); n != 0 {
			t.Error("an account was made all the same")
		}
	})
	t.Run("makes an account and a member, signs in, and is in the record", func(t *testing.T) {
		br := b.browser()
		r := br.post("/auth/invitation", body{"token": token, "name": " Sol Tern ", "password": goodPassword})
		if r.status != http.StatusOK || !strings.HasSuffix(r.body, `"practice":"`+b.ours.wire()+`"}`) {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		a, _ := br.who()
		if a.Practice != b.ours.id || !a.Has(domain.Trainee) || len(a.Roles) != 1 {
			t.Errorf("seen as %+v", a)
		}
		if n := b.count(`select count(*) from members where practice_id = $1 and id = $2 and name = 'Sol Tern' and email = $3`, b.ours.id, a.Member, newcomer); n != 1 {
			t.Error("the member is not as invited")
		}
		if n := b.count(`select count(*) from mutations where practice_id = $1 and actor = $2 and operation = 'acceptInvitation' and result like '%mem_' || $2 || '%inv_%'`, b.ours.id, a.Member); n != 1 {
			t.Error("the record has no line of it")
		}
	})
	t.Run("works once, and then as an unknown one", func(t *testing.T) {
		in := body{"token": token, "name": "Sol Tern", "password": goodPassword}
		used := b.browser().post("/auth/invitation", in)
		in["token"] = "made up"
		unknown := b.browser().post("/auth/invitation", in)
		if used.status != http.StatusNotFound || used.body != unknown.body {
			t.Errorf("used %d %s, unknown %d %s", used.status, used.body, unknown.status, unknown.body)
		}
	})
	t.Run("of somebody with an account asks for its password", func(t *testing.T) {
		token := b.invite(b.theirs, newcomer, domain.Guest)
		if r := b.browser().post("/auth/invitation/look", body{"token": token}); !strings.HasSuffix(r.body, `"account":true}`) {
			t.Errorf("look: %s", r.body)
		}
		in := body{"token": token, "name": "Sol Tern", "password": "another long password"}
		if r := b.browser().post("/auth/invitation", in); r.status != http.StatusBadRequest || !strings.Contains(r.body, `"field":"password"`) {
			t.Errorf("with another password: %d %s", r.status, r.body)
		}
		in["password"] = goodPassword
		br := b.browser()
		if r := br.post("/auth/invitation", in); r.status != http.StatusOK || strings.Count(r.body, `"id":`) != 2 {
			t.Fatalf("with its own: %d %s", r.status, r.body)
		}
		if a, _ := br.who(); a.Practice != b.theirs.id || !a.OnlyGuest() {
			t.Errorf("seen as %+v", a)
		}
	})
	t.Run("back in a practice once left: the same member", func(t *testing.T) {
		b.exec(`update members set left_at = now() where practice_id = $1 and email = $2`, b.ours.id, newcomer)
		was := b.count(`select count(*) from members where practice_id = $1`, b.ours.id)
		token := b.invite(b.ours, newcomer, domain.Surveyor)
		br := b.browser()
		if r := br.post("/auth/invitation", body{"token": token, "name": "Sol Tern", "password": goodPassword}); r.status != http.StatusOK {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		if a, _ := br.who(); !a.Has(domain.Surveyor) || a.Has(domain.Trainee) {
			t.Errorf("seen as %+v", a)
		}
		if n := b.count(`select count(*) from members where practice_id = $1`, b.ours.id); n != was {
			t.Errorf("%d members, were %d", n, was)
		}
	})
	t.Run("too old", func(t *testing.T) {
		token := b.invite(b.ours, "late@north.example", domain.Office)
		b.clock.pass(7*24*time.Hour + time.Second)
		if r := b.browser().post("/auth/invitation/look", body{"token": token}); r.status != http.StatusNotFound {
			t.Errorf("got %d %s", r.status, r.body)
		}
	})
}

func TestPasswordReset(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ask := func(email string) reply {
		r := b.browser().post("/auth/reset", body{"email": email})
		b.Close() // waits for the letter
		return r
	}
	var token string
	t.Run("answers the same whether the address has an account, and writes to it alone", func(t *testing.T) {
		known, unknown := ask("  INES@north.example"), ask("nobody@north.example")
		if known.status != http.StatusOK || known.body != "{}" || unknown.status != known.status || unknown.body != known.body {
			t.Errorf("known %d %s, unknown %d %s", known.status, known.body, unknown.status, unknown.body)
		}
		if len(b.post.letters) != 1 || b.post.letters[0].To != b.ours.email {
			t.Fatalf("letters: %+v", b.post.letters)
		}
		link := b.server.URL + "/reset/"
		_, rest, ok := strings.Cut(b.post.letters[0].Body, link)
		if !ok {
			t.Fatalf("the letter has no link %s…:\n%s", link, b.post.letters[0].Body)
		}
		token, _, _ = strings.Cut(rest, "\n")
		if n := b.count(`select count(*) from password_resets where token_sha256 = $1`, hashed(token)); n != 1 {
			t.Error("what the database keeps is not the token's hash")
		}
	})
	t.Run("a closed account and one without a practice get no letter", func(t *testing.T) {
		b.account("nowhere@north.example")
		closed := b.account("closed@north.example")
		b.join(b.ours.id, closed, domain.Office)
		b.exec(`update accounts set disabled_at = now() where id = $1`, closed)
		ask("nowhere@north.example")
		ask("closed@north.example")
		if len(b.post.letters) != 1 {
			t.Errorf("letters: %+v", b.post.letters[1:])
		}
	})
	t.Run("five letters to one person, then silence, in the same words", func(t *testing.T) {
		for range 8 {
			if r := ask(b.theirs.email); r.status != http.StatusOK || r.body != "{}" {
				t.Errorf("got %d %s", r.status, r.body)
			}
		}
		if n := len(b.post.letters) - 1; n != 5 {
			t.Errorf("%d letters", n)
		}
	})
	t.Run("what is no address is said", func(t *testing.T) {
		for _, email := range []string{"x", "@y.example", "x@", strings.Repeat("x", 300) + "@y.example"} {
			if r := ask(email); r.status != http.StatusBadRequest || !strings.Contains(r.body, `"field":"email"`) {
				t.Errorf("%q: %d %s", email, r.status, r.body)
			}
		}
	})
	const next = "eleven cormorants drying"
	t.Run("a bad password uses nothing up; a good one signs every browser out", func(t *testing.T) {
		elsewhere := b.browser()
		elsewhere.signIn(b.ours)
		if r := b.browser().post("/auth/reset/finish", body{"token": token, "password": "short"}); r.status != http.StatusBadRequest {
			t.Errorf("short: %d %s", r.status, r.body)
		}
		if r := b.browser().post("/auth/reset/finish", body{"token": token, "password": next}); r.status != http.StatusOK {
			t.Fatalf("got %d %s", r.status, r.body)
		}
		if _, status := elsewhere.who(); status != http.StatusUnauthorized {
			t.Errorf("another browser still answers %d", status)
		}
		if r := elsewhere.post("/auth/refresh", body{}); r.status != http.StatusUnauthorized {
			t.Errorf("and renews: %d", r.status)
		}
		if r := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": goodPassword}); r.status != http.StatusUnauthorized {
			t.Errorf("the old password: %d", r.status)
		}
		if r := b.browser().post("/auth/sign-in", body{"email": b.ours.email, "password": next}); r.status != http.StatusOK {
			t.Errorf("the new password: %d %s", r.status, r.body)
		}
	})
	t.Run("a link works once and for an hour", func(t *testing.T) {
		if r := b.browser().post("/auth/reset/finish", body{"token": token, "password": next}); r.status != http.StatusNotFound {
			t.Errorf("again: %d %s", r.status, r.body)
		}
		b.clock.pass(time.Hour)
		ask(b.ours.email)
		last := b.post.letters[len(b.post.letters)-1]
		_, rest, _ := strings.Cut(last.Body, "/reset/")
		late, _, _ := strings.Cut(rest, "\n")
		b.clock.pass(entry.ResetLasts)
		if r := b.browser().post("/auth/reset/finish", body{"token": late, "password": next}); r.status != http.StatusNotFound {
			t.Errorf("after an hour: %d %s", r.status, r.body)
		}
	})
}
