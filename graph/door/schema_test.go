package door

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"
)

// forSchema makes a door before the service's own contract, with nothing behind it.
func forSchema(t testing.TB) *Door {
	t.Helper()
	files, err := filepath.Glob("../schema/*.graphqls")
	if err != nil || len(files) == 0 {
		t.Fatal("the schema is not there")
	}
	var sources []*ast.Source
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sources = append(sources, &ast.Source{Name: filepath.Base(name), Input: string(text)})
	}
	d, err := New(Config{
		Schema:  nothing{gqlparser.MustLoadSchema(sources...)},
		Present: func(_ context.Context, err error) *gqlerror.Error { return gqlerror.Wrap(err) },
	})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

type nothing struct{ schema *ast.Schema }

func (n nothing) Schema() *ast.Schema { return n.schema }

func (nothing) Complexity(context.Context, string, string, int, map[string]any) (int, bool) {
	return 0, false
}

func (nothing) Exec(context.Context) graphql.ResponseHandler {
	return graphql.OneShot(&graphql.Response{Data: []byte("{}")})
}
