// Package door stands in front of gqlgen. It reads the request as GraphQL over HTTP
// (September 2026 edition) has it, finds or checks the document, counts what it may cost,
// and only then lets the schema resolve it. What it refuses, it refuses in words of its
// own: no answer holds anything of what was sent.
//
// A document is checked before gqlgen sees it because some checks of the libraries behind
// are themselves the attack: merging fields is quadratic, and gqlgen's own complexity
// walks every fragment again at every spread.
package door

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"github.com/99designs/gqlgen/graphql"
	"github.com/99designs/gqlgen/graphql/executor"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/shed"
)

// Config is what a Door stands on.
type Config struct {
	Schema  graphql.ExecutableSchema
	Stored  [][]byte // manifests of the client's operations, {"sha256:…": "document"}, newest first
	Open    bool     // development: free documents and introspection for everybody
	Present graphql.ErrorPresenterFunc
	Recover graphql.RecoverFunc
}

// Door is the handler of POST /graphql.
type Door struct {
	schema    *ast.Schema
	exec      *executor.Executor
	stored    map[string]*document // by sha256, hex
	free      *kept
	open      bool
	present   graphql.ErrorPresenterFunc
	bound     *shed.Bound
	inputs    map[string]bool // names an input field may have
	leftovers []string        // stored operations that this schema no longer takes
}

// New checks the stored operations and makes the door. One that the schema no longer
// takes is left out (Leftover tells which): an old client is told to load the page again.
func New(c Config) (*Door, error) {
	d := &Door{
		schema: c.Schema.Schema(), exec: executor.New(c.Schema), stored: map[string]*document{}, free: newKept(),
		open: c.Open, present: c.Present, inputs: inputNames(c.Schema.Schema()),
	}
	d.exec.SetErrorPresenter(c.Present)
	d.exec.SetRecoverFunc(c.Recover)
	d.exec.SetQueryCache(fromContext{})
	for _, manifest := range c.Stored {
		var documents map[string]string
		if err := json.Unmarshal(manifest, &documents); err != nil {
			return nil, fmt.Errorf("stored operations: %w", err)
		}
		for name, text := range documents {
			d.store(name, text)
		}
	}
	// GraphQL over HTTP's health check; anybody may ask it.
	d.store("", "{__typename}")
	return d, nil
}

// Within keeps to a bound of how many are answered at once. It is set before the door opens.
func (d *Door) Within(b *shed.Bound) *Door {
	d.bound = b
	return d
}

// Leftover lists the stored operations that were left out.
func (d *Door) Leftover() []string { return d.leftovers }

func (d *Door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	seen := answer.Of(r.Context())
	seen.Operation = "none"
	media, refused := accepts(r)
	if refused == nil {
		refused = d.serve(w, r, media, seen)
	}
	if refused != nil {
		d.refuse(w, media, refused)
	}
}

// serve answers the operation, or tells why not.
func (d *Door) serve(w http.ResponseWriter, r *http.Request, media string, seen *answer.Seen) *refusal {
	ctx := graphql.StartOperationTrace(r.Context()) // the executor panics without
	if err := auth.Refused(ctx); err != nil {
		return d.fault(ctx, err)
	}
	in, refused := read(w, r)
	if refused != nil {
		return refused
	}
	leave, err := d.bound.EnterFor(ctx, auth.Actor(ctx).Practice) // whoever sends slowly has held no place meanwhile
	if err != nil {
		refused := d.fault(ctx, err)
		refused.header = http.Header{"Retry-After": {shed.Later()}}
		return refused
	}
	defer leave()
	doc, refused := d.find(in, d.open || auth.Actor(ctx).Means == domain.ByKey)
	if refused != nil {
		return refused
	}
	seen.Operation = doc.name
	op, refused := d.prepare(ctx, doc, in, r.Header)
	if refused != nil {
		return refused
	}
	responses, ctx := d.exec.DispatchOperation(ctx, op)
	d.answer(w, media, responses(ctx))
	return nil
}

// prepare picks the operation, reads its variables and counts what it may cost.
func (d *Door) prepare(ctx context.Context, doc *document, in *request, header http.Header) (*graphql.OperationContext, *refusal) {
	picked := doc.query.Operations.ForName(in.operation)
	if picked == nil {
		return nil, unprocessable("operationName", "The document holds several operations, or none of that name: say in operationName which one to run.")
	}
	if doc.introspects && !d.open && auth.Actor(ctx).Means != domain.ByKey {
		return nil, unprocessable("", "Introspection is disabled.")
	}
	op, errs := d.exec.CreateOperationContext(withDocument(ctx, doc), &graphql.RawParams{
		Query: doc.text, OperationName: in.operation, Variables: in.variables, Extensions: in.extensions, Headers: header,
	})
	if len(errs) > 0 {
		return nil, d.badVariable(errs[0])
	}
	op.DisableIntrospection = false // asked above
	c := counter{doc: doc.query, variables: op.Variables, schema: d.schema, memo: map[string]int{}}
	if cost := c.operation(picked); c.fault != nil {
		return nil, c.fault
	} else if cost > costMost {
		return nil, unprocessable("", fmt.Sprintf("This asks for too much at once: it counts as more than %d values. Ask for shorter pages (first), or in parts.", costMost))
	}
	return op, nil
}

// fault turns an error of ours into a refusal with its kind's status.
func (d *Door) fault(ctx context.Context, err error) *refusal {
	f := answer.Words(ctx, err)
	return &refusal{status: answer.Status(f.Kind), always: true, errors: gqlerror.List{says(f.Kind.Code(), f.Field, f.Text)}}
}
