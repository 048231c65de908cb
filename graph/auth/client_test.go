package auth_test

import (
	"crypto/sha256"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/store"
)

// cases are the use cases, over the database that setup makes after it was told of them.
type cases struct{ *practice.Service }

// shared puts a report and a link to it into a practice, as the owner of the database.
func (b *bundle) shared(p practiceOf, number, email string) (token string, share uuid.UUID) {
	b.t.Helper()
	vessel, job, report := v7(b.t), v7(b.t), v7(b.t)
	share, token = v7(b.t), strings.Repeat("Ab", 20)+number[5:]
	sum := sha256.Sum256([]byte(token))
	b.exec(`insert into vessels (practice_id, id, name, created_at) values ($1, $2, 'Petrel', now())`, p.id, vessel)
	b.exec(`insert into jobs (practice_id, id, vessel_id, number, kind, created_at) values ($1, $2, $3, $4, 'limited moisture', now())`, p.id, job, vessel, number)
	b.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', $4, now())`, p.id, report, job, number)
	b.exec(`insert into shares (practice_id, id, report_id, name, email, token_sha256, created_at, until) values ($1, $2, $3, 'A. Ferrant', $4, $5, now(), now() + interval '90 days')`,
		p.id, share, report, email, sum[:])
	return token, share
}

var codeInLetter = regexp.MustCompile(`code on its page: ([A-Z0-9-]+)`)

// codeOf has a code sent and reads it from the letter.
func (b *bundle) codeOf(c *cases, token string) (code string) {
	b.t.Helper()
	if _, _, err := c.SendShareCode(b.t.Context(), practice.Holder{Link: token}, v7(b.t)); err != nil {
		b.t.Fatal(err)
	}
	var body string
	if err := b.admin.QueryRow(b.t.Context(), `select body from mails where kind = 'share code' order by id desc limit 1`).Scan(&body); err != nil {
		b.t.Fatal(err)
	}
	return codeInLetter.FindStringSubmatch(body)[1]
}

func asClient(r *http.Request) { r.Header.Set("X-Boottop-Client", "1") }

func TestReportsKeptInAnAccount(t *testing.T) {
	t.Parallel()
	c := &cases{}
	b := setup(t, func(config *auth.Config) { config.Clients = c })
	kept, err := store.Open(t.Context(), store.Config{URL: b.db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(kept.Close)
	c.Service = practice.New(kept, practice.WithClock(b.clock.now))
	const ferrant = "ferrant@post.example"
	token, share := b.shared(b.ours, "2026-001", ferrant)
	code := b.codeOf(c, token)

	br := b.browser()
	for what, in := range map[string]body{
		"the link alone": {"link": token, "code": "AAAA-AAAA", "password": goodPassword}, "no link": {"link": "made up", "code": code, "password": goodPassword},
		"a poor password": {"link": token, "code": code, "password": "short"},
	} {
		if r := br.post("/auth/reports", in); r.status == http.StatusOK || len(br.cookies) > 0 {
			t.Errorf("%s: %d %s", what, r.status, r.body)
		}
	}
	if n := b.count(`select count(*) from accounts where email = $1`, ferrant); n != 0 {
		t.Fatal("an account was made all the same")
	}
	if r := br.post("/auth/reports", body{"link": token, "code": code, "password": goodPassword}); r.status != http.StatusOK || len(br.cookies) != 1 {
		t.Fatalf("%d %s, cookies %v", r.status, r.body, br.cookies)
	}
	if n := b.count(`select count(*) from accounts where email = $1 and password_hash like '$argon2id$%'`, ferrant); n != 1 {
		t.Error("the account is not as asked")
	}
	t.Run("is a client's session and nothing of a member's", func(t *testing.T) {
		a, _ := br.who()
		if a.Means != "" {
			t.Errorf("without its header the session is seen as %+v", a)
		}
		if r := br.send(http.MethodGet, "/who", "", asClient); !strings.Contains(r.body, `"Means":"client"`) || strings.Contains(r.body, b.ours.id.String()) {
			t.Errorf("seen as %s", r.body)
		}
		if n := b.count(`select count(*) from members where email = $1`, ferrant); n != 0 {
			t.Error("a client became a member")
		}
		if r := br.post("/auth/sign-in", body{"email": ferrant, "password": goodPassword}); r.status != http.StatusForbidden {
			t.Errorf("the office's door answers %d %s", r.status, r.body)
		}
	})
	t.Run("a member's session is no client's", func(t *testing.T) {
		member := b.browser()
		member.signIn(b.ours)
		if r := member.send(http.MethodGet, "/who", "", asClient); !strings.Contains(r.body, `"Means":""`) {
			t.Errorf("seen as %s", r.body)
		}
		if r := b.browser().post("/auth/reports/sign-in", body{"email": b.ours.email, "password": goodPassword}); r.status != http.StatusForbidden {
			t.Errorf("a member without reports gets %d", r.status)
		}
	})
	t.Run("is written to by its own page alone", func(t *testing.T) {
		r := br.send(http.MethodPost, "/who", "{}", asClient, func(r *http.Request) { r.Header.Del("X-Boottop") })
		if r.status != http.StatusForbidden {
			t.Errorf("%d", r.status)
		}
	})
	t.Run("takes a second practice with the password it has", func(t *testing.T) {
		theirs, _ := b.shared(b.theirs, "2026-777", ferrant)
		b.clock.pass(time.Second)
		second := b.codeOf(c, theirs)
		if r := b.browser().post("/auth/reports", body{"link": theirs, "code": second, "password": "another password"}); r.status != http.StatusBadRequest || !strings.Contains(r.body, `"field":"password"`) {
			t.Errorf("another password: %d %s", r.status, r.body)
		}
		if r := b.browser().post("/auth/reports", body{"link": theirs, "code": second, "password": goodPassword}); r.status != http.StatusOK {
			t.Errorf("%d %s", r.status, r.body)
		}
		if n := b.count(`select count(*) from client_grants where email = $1`, ferrant); n != 2 {
			t.Errorf("%d grants", n)
		}
	})
	t.Run("a new password ends it", func(t *testing.T) {
		other := b.browser()
		if r := other.post("/auth/reports/sign-in", body{"email": strings.ToUpper(ferrant), "password": goodPassword}); r.status != http.StatusOK {
			t.Fatalf("%d %s", r.status, r.body)
		}
		b.browser().post("/auth/reset", body{"email": ferrant})
		b.Close()
		letter := b.post.letters[len(b.post.letters)-1]
		secret := regexp.MustCompile(`/reset/([A-Za-z0-9_-]{43})`).FindStringSubmatch(letter.Body)
		if letter.To != ferrant || secret == nil {
			t.Fatalf("the letter is %+v", letter)
		}
		if r := b.browser().post("/auth/reset/finish", body{"token": secret[1], "password": goodPassword + " new"}); r.status != http.StatusOK {
			t.Fatalf("%d %s", r.status, r.body)
		}
		for _, each := range []*browser{br, other} {
			if r := each.send(http.MethodGet, "/who", "", asClient); !strings.Contains(r.body, `"Means":""`) {
				t.Errorf("seen as %s", r.body)
			}
		}
	})
	t.Run("signing out ends it, and a link that ended makes none", func(t *testing.T) {
		out := b.browser()
		if r := out.post("/auth/reports/sign-in", body{"email": ferrant, "password": goodPassword + " new"}); r.status != http.StatusOK {
			t.Fatalf("%d %s", r.status, r.body)
		}
		held := map[string]string{}
		for name, value := range out.cookies {
			held[name] = value
		}
		out.post("/auth/reports/sign-out", body{})
		out.cookies = held
		if r := out.send(http.MethodGet, "/who", "", asClient); !strings.Contains(r.body, `"Means":""`) {
			t.Errorf("seen as %s", r.body)
		}
		b.clock.pass(time.Second)
		last := b.codeOf(c, token)
		b.exec(`update shares set revoked_at = now() where id = $1`, share)
		if r := b.browser().post("/auth/reports", body{"link": token, "code": last, "password": goodPassword + " new"}); r.status != http.StatusNotFound {
			t.Errorf("%d %s", r.status, r.body)
		}
	})
}
