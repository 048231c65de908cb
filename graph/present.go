package graph

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"strconv"
	"strings"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
)

// Present turns any error into what an answer says of it: a sentence, and in the
// extensions a code and the input field it speaks of. It is the one place where errors
// become answers; what nobody classified goes to the log and becomes a number to quote.
func Present(schema *ast.Schema) graphql.ErrorPresenterFunc {
	return func(ctx context.Context, err error) *gqlerror.Error { return present(ctx, schema, err) }
}

func present(ctx context.Context, schema *ast.Schema, err error) *gqlerror.Error {
	out := &gqlerror.Error{Extensions: map[string]any{}}
	var where *gqlerror.Error
	if errors.As(err, &where) {
		out.Path, out.Locations = where.Path, where.Locations
	}
	f, isInput := input(ctx, schema, err, out.Path)
	if isInput {
		out.Path = graphql.GetFieldContext(ctx).Path()
	} else {
		f = answer.Words(ctx, err)
	}
	if out.Path == nil {
		out.Path = graphql.GetPath(ctx)
	}
	if f.Kind == domain.NotFound {
		auth.Missed(ctx)
	}
	out.Message = f.Text
	out.Extensions["code"] = f.Kind.Code()
	if f.Field != "" {
		out.Extensions["field"] = f.Field
	}
	return out
}

// input tells whether an error says that arguments could not be read: then the field has
// arguments and none were kept. What the library says of a value quotes it, so what is
// wrong is said by the kind of value that is asked for.
func input(ctx context.Context, schema *ast.Schema, err error, path ast.Path) (domain.Fault, bool) {
	field := graphql.GetFieldContext(ctx)
	if field == nil || field.Args != nil || field.Field.Field == nil || field.Field.Definition == nil || len(field.Field.Definition.Arguments) == 0 {
		return domain.Fault{}, false
	}
	var broken *panicked
	if errors.As(err, &broken) {
		return domain.Fault{}, false
	}
	if above := len(field.Path()); above <= len(path) {
		path = path[above:]
	} else {
		path = nil
	}
	f := domain.Fault{Kind: domain.Invalid, Field: inputField(path), Text: "This value is not of the kind that is asked for here."}
	if text, known := wanted[kindAt(schema, field.Field.Definition, path)]; known {
		f.Text = text
	}
	return f, true
}

// wanted says what a value of each scalar is, as graph/wire reads them.
var wanted = map[string]string{
	"Int":        "This is a whole number between -2147483648 and 2147483647.",
	"ID":         "An id is the three letters of its kind, an underscore and a UUID in lower case.",
	"Time":       "An instant is written 2026-10-14T09:00:00Z, or with an offset, between the years 1800 and 2200.",
	"Date":       "A day is written 2026-10-14, between the years 1800 and 2200.",
	"Column":     "A column is a list of whole numbers and nulls.",
	"Columns":    "This is a list of lists of whole numbers; a null where a slot has none.",
	"IdColumn":   "A column of ids is a list of ids and nulls.",
	"TextColumn": "A column of texts is a list of texts and nulls.",
	"Sha256":     "A SHA-256 is 64 hexadecimal digits.",
}

// kindAt names the type of the value that a path below a field's arguments leads to.
func kindAt(schema *ast.Schema, field *ast.FieldDefinition, path ast.Path) string {
	var at *ast.Type
	for i, step := range path {
		name, ok := step.(ast.PathName)
		if !ok {
			continue // into a list: the same named type
		}
		if i == 0 {
			if arg := field.Arguments.ForName(string(name)); arg != nil {
				at = arg.Type
			}
		} else if at != nil {
			def := schema.Types[at.Name()]
			if def == nil || def.Fields.ForName(string(name)) == nil {
				return ""
			}
			at = def.Fields.ForName(string(name)).Type
		}
	}
	if at == nil {
		return ""
	}
	return at.Name()
}

// inputField writes a path as input fields are named everywhere: without the argument
// `input` that a mutation has.
func inputField(path ast.Path) string {
	var out strings.Builder
	for _, step := range path {
		switch step := step.(type) {
		case ast.PathName:
			if step == "input" && out.Len() == 0 {
				continue
			}
			if out.Len() > 0 {
				out.WriteByte('.')
			}
			out.WriteString(string(step))
		case ast.PathIndex:
			out.WriteString("[" + strconv.Itoa(int(step)) + "]")
		}
	}
	return out.String()
}

// panicked is a panic that was contained, with where it came from for the log.
type panicked struct {
	value any
	stack []byte
}

func (p *panicked) Error() string { return fmt.Sprintf("panic: %v\n%s", p.value, p.stack) }

// Recover contains a resolver's panic. The other fields of the answer, and the other
// requests, go on.
func Recover(_ context.Context, value any) error { return &panicked{value, debug.Stack()} }
