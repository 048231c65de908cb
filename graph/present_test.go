package graph_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// service answers documents as a member of a practice, over a database of its own.
type service struct {
	t       *testing.T
	handler http.Handler
	actor   domain.Actor
	store   *store.Store
	owner   *pgx.Conn // sees all rows
}

func setup(t *testing.T) *service {
	t.Helper()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	p, account, member := uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), p, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Door().CreateAccount(t.Context(), account, "ines@north.example", "none", time.Now()); err != nil {
		t.Fatal(err)
	}
	owner := db.Connect(t, db.OwnerURL)
	if _, err := owner.Exec(t.Context(), `insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, 'I. Varrow', '{principal}')`, p, member, account); err != nil {
		t.Fatal(err)
	}
	d, err := graph.Serve(&graph.Resolver{Practice: practice.New(s)}, true)
	if err != nil {
		t.Fatal(err)
	}
	return &service{t, d, domain.Actor{Practice: p, Member: member, Means: domain.ByKey, Roles: []domain.Role{domain.Principal}}, s, owner}
}

func (s *service) ask(body string) (int, string) {
	s.t.Helper()
	r := httptest.NewRequest(http.MethodPost, "/graphql", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	ctx := auth.WithActor(answer.WithSeen(r.Context(), &answer.Seen{ID: "request1"}), s.actor)
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r.WithContext(ctx))
	said, err := io.ReadAll(w.Result().Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return w.Code, strings.TrimSpace(string(said))
}

// TestValuesThatCannotBeRead: the answer names the
// field and says what is wanted, and does not hold what was sent.
func TestValuesThatCannotBeRead(t *testing.T) {
	t.Parallel()
	s := setup(t)
	const mut = `"mutation":"mut_01999999-0000-7000-8000-000000000000"`
	const visits = `query($from:Time!,$to:Time!){visits(from:$from,to:$to){id}}`
	instant := func(text string) string { return fmt.Sprintf(`{"from":%q,"to":"2026-10-14T09:00:00Z"}`, text) }
	for _, c := range []struct{ name, document, variables, field, says string }{
		{"39 an Int beyond 32 bits", `query($n:Int!){head(since:$n){seq}}`, `{"n":2147483648}`, "since", "whole number between"},
		{"an id of no form", `query($id:ID!){node(id:$id){id}}`, `{"id":"hunter2"}`, "id", "three letters"},
		{"a bare UUID", `query($id:ID!){node(id:$id){id}}`, `{"id":"01999999-0000-7000-8000-000000000000"}`, "id", "three letters"},
		{"an id in capitals", `query($id:ID!){node(id:$id){id}}`, `{"id":"vsl_01999999-0000-7000-8000-00000000000A"}`, "id", "lower case"},
		{"44 year 0", visits, instant("0000-00-00T00:00:00Z"), "from", "between the years"},
		{"44 year 10000", visits, instant("10000-01-01T00:00:00Z"), "from", "between the years"},
		{"44 a leap second", visits, instant("2016-12-31T23:59:60Z"), "from", "written 2026-10-14T09:00:00Z"},
		{"44 30 February", visits, instant("2026-02-30T00:00:00Z"), "from", "written 2026"},
		{"44 without an offset: which hour of a DST gap is meant", visits, instant("2026-03-29T02:30:00"), "from", "offset"},
		{"44 a number", visits, `{"from":1,"to":"2026-10-14T09:00:00Z"}`, "from", "An instant"},
		{"inside an input", `mutation($input:EditPracticeInput!){editPractice(input:$input){practice{id}}}`, `{"input":{"mutation":"hunter2","version":1}}`, "mutation", "three letters"},
		{"an Int inside an input's list", `mutation($input:EditPracticeInput!){editPractice(input:$input){practice{id}}}`, `{"input":{` + mut + `,"version":1,"contrastEdges":[9,99999999999]}}`, "contrastEdges[1]", "whole number between"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			status, said := s.ask(fmt.Sprintf(`{"query":%q,"variables":%s}`, c.document, c.variables))
			if !strings.Contains(said, c.says) || !strings.Contains(said, `"code":"INVALID","field":"`+c.field+`"`) || strings.Contains(said, "hunter2") || status >= 500 {
				t.Errorf("got %d %s", status, said)
			}
		})
	}
}

func TestErrorsBecomeAnswers(t *testing.T) {
	t.Parallel()
	leak := &pgconn.PgError{Code: "42P01", Message: `relation "secrets" does not exist`, Detail: "hunter2"}
	for _, c := range []struct {
		name string
		err  error
		want string
	}{
		{"invalid, with its field", domain.Invalidf("placements[2]", "Too high."), `{"message":"Too high.","extensions":{"code":"INVALID","field":"placements[2]"}}`},
		{"wrapped on the way up", fmt.Errorf("add reading: %w", domain.Conflictf("Somebody was first.")), `{"message":"Somebody was first.","extensions":{"code":"CONFLICT"}}`},
		{"with what lies behind it", &domain.Fault{Kind: domain.Forbidden, Text: "Not you.", Err: leak}, `{"message":"Not you.","extensions":{"code":"FORBIDDEN"}}`},
		{"nobody signed in", domain.ErrUnauthenticated, `{"message":"Please sign in.","extensions":{"code":"UNAUTHENTICATED"}}`},
		{"unclassified", fmt.Errorf("read vessel: %w", leak), `{"message":"Something failed here, and it is not your doing. Please try again; if it stays, quote request1.","extensions":{"code":"INTERNAL"}}`},
		{"classified as internal", &domain.Fault{Text: "hunter2", Err: leak}, `{"message":"Something failed here, and it is not your doing. Please try again; if it stays, quote request1.","extensions":{"code":"INTERNAL"}}`},
		{"plain", errors.New("hunter2"), `{"message":"Something failed here, and it is not your doing. Please try again; if it stays, quote request1.","extensions":{"code":"INTERNAL"}}`},
	} {
		ctx := answer.WithSeen(t.Context(), &answer.Seen{ID: "request1"})
		got := graph.Present(nil)(ctx, c.err)
		text := fmt.Sprintf(`{"message":%q,"extensions":{"code":%q`, got.Message, got.Extensions["code"])
		if field, ok := got.Extensions["field"]; ok {
			text += fmt.Sprintf(`,"field":%q`, field)
		}
		if text += "}}"; text != c.want || len(got.Extensions) > 2 {
			t.Errorf("%s: %s\nwant %s", c.name, text, c.want)
		}
	}
}

// TestPanicIsContained is 46: 500, one id in answer and log, others unaffected. The
// resolvers have no use cases behind them, so that each of them panics.
func TestPanicIsContained(t *testing.T) {
	var log bytes.Buffer
	before := slog.Default()
	slog.SetDefault(slog.New(slog.NewJSONHandler(&log, nil)))
	defer slog.SetDefault(before)
	d, err := graph.Serve(&graph.Resolver{}, true)
	if err != nil {
		t.Fatal(err)
	}
	s := &service{t: t, handler: d, actor: domain.Actor{Means: domain.ByKey, Roles: []domain.Role{domain.Principal}}}
	status, said := s.ask(`{"query":"{viewer{roles} head{seq} apiKeys{id}}"}`)
	if status != http.StatusInternalServerError || !strings.Contains(said, "quote request1.") || strings.Contains(said, "nil pointer") || strings.Contains(said, ".go") {
		t.Errorf("got %d %s", status, said)
	}
	if !regexp.MustCompile(`"request":"request1","error":"[^"]*panic: .*nil pointer.*resolvers\.go`).MatchString(log.String()) {
		t.Errorf("the log says:\n%.2000s", log.String())
	}
	if status, said := s.ask(`{"query":"{__typename}"}`); status != http.StatusOK {
		t.Errorf("the next one got %d %s", status, said)
	}
}

// TestThereAndHiddenAreOne: an id of another kind, of another practice and of nothing
// answer the same bytes.
func TestThereAndHiddenAreOne(t *testing.T) {
	t.Parallel()
	s := setup(t)
	status, none := s.ask(`{"query":"{vessel(id:\"vsl_01999999-0000-7000-8000-000000000000\"){id}}"}`)
	for _, id := range []string{"job_01999999-0000-7000-8000-000000000000", "vsl_00000000-0000-0000-0000-000000000000", "zzz_01999999-0000-7000-8000-000000000000"} {
		if got, said := s.ask(`{"query":"{vessel(id:\"` + id + `\"){id}}"}`); said != none || got != status {
			t.Errorf("%s: %d %s, none: %d %s", id, got, said, status, none)
		}
	}
}
