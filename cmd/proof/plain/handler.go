package plain

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"sync"

	"github.com/99designs/gqlgen/graphql"
	"github.com/99designs/gqlgen/graphql/executor"
	"github.com/vektah/gqlparser/v2/ast"
)

// Handler answers POST /graphql with the steps of gqlgen's own POST transport. That
// itself is not taken, because it brings libraries for sockets and caches with it.
func Handler(r *Resolver) http.Handler {
	exec := executor.New(NewExecutableSchema(Config{Resolvers: r}))
	exec.SetQueryCache(&documents{})
	return http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		ctx := graphql.StartOperationTrace(req.Context())
		body, err := io.ReadAll(req.Body)
		params := &graphql.RawParams{}
		if err == nil {
			err = json.Unmarshal(body, params)
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
			return
		}
		params.Headers = req.Header
		op, faults := exec.CreateOperationContext(ctx, params)
		if faults != nil {
			http.Error(w, faults.Error(), http.StatusUnprocessableEntity)
			return
		}
		responses, ctx := exec.DispatchOperation(ctx, op)
		out, err := json.Marshal(responses(ctx))
		if err != nil {
			panic(fmt.Errorf("write answer: %w", err))
		}
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(out)
	})
}

// documents keeps parsed documents, as gqlgen's own cache would.
type documents struct{ kept sync.Map }

func (d *documents) Get(_ context.Context, text string) (*ast.QueryDocument, bool) {
	doc, there := d.kept.Load(text)
	if !there {
		return nil, false
	}
	return doc.(*ast.QueryDocument), true
}

func (d *documents) Add(_ context.Context, text string, doc *ast.QueryDocument) {
	d.kept.Store(text, doc)
}
