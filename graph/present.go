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
)

// Present turns any error into what an answer says of it: a sentence, and in the
// extensions a code and the input field it speaks of. It is the one place where errors
// become answers; what nobody classified goes to the log and becomes a number to quote.
func Present(ctx context.Context, err error) *gqlerror.Error {
	out := &gqlerror.Error{Extensions: map[string]any{}}
	var where *gqlerror.Error
	if errors.As(err, &where) {
		out.Path, out.Locations = where.Path, where.Locations
	}
	f, isInput := input(ctx, err, out.Path)
	if isInput {
		out.Path = graphql.GetFieldContext(ctx).Path()
	} else {
		f = answer.Words(ctx, err)
	}
	if out.Path == nil {
		out.Path = graphql.GetPath(ctx)
	}
	out.Message = f.Text
	out.Extensions["code"] = f.Kind.Code()
	if f.Field != "" {
		out.Extensions["field"] = f.Field
	}
	return out
}

// input tells whether an error says that arguments could not be read: then the field has
// arguments and none were kept. The scalars' own sentences are repeated; those of the
// library are not, for they quote the value.
func input(ctx context.Context, err error, path ast.Path) (domain.Fault, bool) {
	field := graphql.GetFieldContext(ctx)
	if field == nil || field.Args != nil || field.Field.Field == nil || field.Field.Definition == nil || len(field.Field.Definition.Arguments) == 0 {
		return domain.Fault{}, false
	}
	var broken *panicked
	if errors.As(err, &broken) {
		return domain.Fault{}, false
	}
	f := domain.Fault{Kind: domain.Invalid, Text: "This value is not of the kind that is asked for here."}
	var said *domain.Fault
	if errors.As(err, &said) && said.Kind == domain.Invalid {
		f.Text = said.Text
	}
	f.Field = inputField(path, len(field.Path()))
	return f, true
}

// inputField writes the part of a path that lies below a field as input fields are named
// everywhere: without the argument `input` that a mutation has.
func inputField(path ast.Path, above int) string {
	if above > len(path) {
		return ""
	}
	var out strings.Builder
	for _, step := range path[above:] {
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
