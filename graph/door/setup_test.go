package door_test

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/door"
)

// schema is the service's own contract.
var schema = sync.OnceValue(func() *ast.Schema {
	files, err := filepath.Glob("../schema/*.graphqls")
	if err != nil || len(files) == 0 {
		panic("the schema is not there")
	}
	var sources []*ast.Source
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			panic(err)
		}
		sources = append(sources, &ast.Source{Name: filepath.Base(name), Input: string(text)})
	}
	return gqlparser.MustLoadSchema(sources...)
})

// resolvers stands where the resolvers are, and tells whether it was reached.
type resolvers struct {
	reached atomic.Int64
	answer  func(context.Context) *graphql.Response
}

func (r *resolvers) Schema() *ast.Schema { return schema() }

func (r *resolvers) Complexity(context.Context, string, string, int, map[string]any) (int, bool) {
	return 0, false
}

func (r *resolvers) Exec(ctx context.Context) graphql.ResponseHandler {
	r.reached.Add(1)
	if r.answer != nil {
		return graphql.OneShot(r.answer(ctx))
	}
	return graphql.OneShot(&graphql.Response{Data: []byte(`{"ok":true}`)})
}

const stored = `query Stored($first: Int! = 20, $after: String) { vessels(first: $first, after: $after) { edges { node { id name } } } }`

type bundle struct {
	*resolvers
	handler http.Handler
}

func setup(t testing.TB, options ...func(*door.Config)) *bundle {
	t.Helper()
	b := &bundle{resolvers: &resolvers{}}
	c := door.Config{
		Schema: b.resolvers, Stored: [][]byte{manifest(stored)}, Present: present,
		Recover: func(_ context.Context, p any) error { return errors.New("a panic") },
	}
	for _, o := range options {
		o(&c)
	}
	d, err := door.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if left := d.Leftover(); len(left) > 0 {
		t.Fatalf("left out: %v", left)
	}
	b.handler = d
	return b
}

func present(_ context.Context, err error) *gqlerror.Error {
	return &gqlerror.Error{Message: "presented", Extensions: map[string]any{"code": domain.KindOf(err).Code()}}
}

func manifest(documents ...string) []byte {
	var out []string
	for _, d := range documents {
		out = append(out, quote("sha256:"+door.HashOf(d))+":"+quote(d))
	}
	return []byte("{" + strings.Join(out, ",") + "}")
}

// the kinds of caller
var (
	program = domain.Actor{Means: domain.ByKey, Roles: []domain.Role{domain.Surveyor}}
	browser = domain.Actor{Means: domain.BySession, Roles: []domain.Role{domain.Surveyor}}
	nobody  = domain.Actor{}
)

type reply struct {
	status int
	body   string
	header http.Header
}

func (b *bundle) send(as domain.Actor, body string, change ...func(*http.Request)) reply {
	r := httptest.NewRequest(http.MethodPost, "/graphql", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	b.handler.ServeHTTP(w, r.WithContext(auth.WithActor(r.Context(), as)))
	said, _ := io.ReadAll(w.Result().Body)
	return reply{w.Code, strings.TrimSpace(string(said)), w.Result().Header}
}

// ask sends a document as a program does.
func (b *bundle) ask(document string) reply { return b.send(program, `{"query":`+quote(document)+`}`) }
