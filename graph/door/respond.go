package door

import (
	"encoding/json"
	"net/http"
	"strings"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// refusal is an answer without data.
type refusal struct {
	status int
	always bool // with application/json too; otherwise that gets 200, as the standard has it
	header http.Header
	path   []string // where in the body; the caller's words, see field
	errors gqlerror.List
}

// broken refuses what is no GraphQL request at all.
func broken(status int, text string) *refusal {
	return &refusal{status: status, always: true, errors: list(says(domain.Invalid.Code(), "", text))}
}

// malformed refuses a body that does not say what one must.
func malformed(field, text string) *refusal {
	return &refusal{status: http.StatusBadRequest, always: true, errors: list(says(domain.Invalid.Code(), field, text))}
}

// unreadable refuses a document with broken syntax or too much of something.
func unreadable(e *gqlerror.Error) *refusal {
	return &refusal{status: http.StatusBadRequest, errors: list(e)}
}

// unprocessable refuses what can be read and does not fit.
func unprocessable(field, text string) *refusal {
	return &refusal{status: http.StatusUnprocessableEntity, errors: list(says(domain.Invalid.Code(), field, text))}
}

func list(e ...*gqlerror.Error) gqlerror.List { return e }

func says(code, field, text string) *gqlerror.Error {
	e := &gqlerror.Error{Message: text, Extensions: map[string]any{"code": code}}
	if field != "" {
		e.Extensions["field"] = field
	}
	return e
}

func (d *Door) refuse(w http.ResponseWriter, media string, r *refusal) {
	if field := d.field(r.path); field != "" {
		r.errors[0].Extensions["field"] = field
	}
	for name, values := range r.header {
		w.Header()[name] = values
	}
	status := r.status
	if media == plainJSON && !r.always {
		status = http.StatusOK
	}
	write(w, media, status, nil, r.errors)
}

// field names the input field a path leads to, without the variable it is in. A path may
// hold words of the caller's, so only names that the schema has are said back.
func (d *Door) field(path []string) string {
	if len(path) > 0 && path[0] == "variables" {
		path = path[1:]
	}
	if len(path) > 1 && path[0] == "input" {
		path = path[1:]
	}
	var out strings.Builder
	for i, step := range path {
		switch {
		case step != "" && strings.Trim(step, "0123456789") == "":
			out.WriteString("[" + step + "]")
		case !d.inputs[step]:
			return ""
		case i > 0:
			out.WriteString("." + step)
		default:
			out.WriteString(step)
		}
	}
	return out.String()
}

// inputNames collects every name that an argument or an input's field has.
func inputNames(s *ast.Schema) map[string]bool {
	names := map[string]bool{"query": true, "operationName": true, "variables": true, "extensions": true}
	for _, def := range s.Types {
		for _, f := range def.Fields {
			if def.Kind == ast.InputObject {
				names[f.Name] = true
			}
			for _, a := range f.Arguments {
				names[a.Name] = true
			}
		}
	}
	return names
}

// answer writes what the schema resolved.
func (d *Door) answer(w http.ResponseWriter, media string, r *graphql.Response) {
	if r == nil { // the caller has gone
		return
	}
	write(w, media, statusOf(media, r), r.Data, r.Errors)
}

// statusOf: 200; 294 where part of the data is missing; and where nothing came of it at
// all, the status of the first fault. An answer as application/json has 200 for all.
func statusOf(media string, r *graphql.Response) int {
	if len(r.Errors) == 0 || media == plainJSON {
		return http.StatusOK
	}
	if len(r.Data) > 0 && string(r.Data) != "null" {
		return 294
	}
	switch code := r.Errors[0].Extensions["code"]; code {
	case domain.Unauthenticated.Code():
		return answer.Status(domain.Unauthenticated)
	case domain.Internal.Code():
		return answer.Status(domain.Internal)
	case domain.Unavailable.Code():
		return answer.Status(domain.Unavailable)
	}
	return 294
}

// write writes the answer around its data, which are finished JSON: a second pass of the
// encoder over them costs as much as reading them from the database.
func write(w http.ResponseWriter, media string, status int, data json.RawMessage, errs gqlerror.List) {
	head := []byte{'{'}
	if len(errs) > 0 {
		said, err := json.Marshal(errs[:min(len(errs), errorsMost)])
		if err != nil { // cannot be: texts and numbers only
			said = []byte(`[{"message":"","extensions":{"code":"INTERNAL"}}]`)
		}
		head = append(append(head, `"errors":`...), said...)
		if data != nil {
			head = append(head, ',')
		}
	}
	if data != nil {
		head = append(head, `"data":`...)
	}
	h := w.Header()
	h.Set("Content-Type", media+"; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	if status == http.StatusServiceUnavailable && h.Get("Retry-After") == "" {
		h.Set("Retry-After", "2")
	}
	w.WriteHeader(status)
	for _, part := range [][]byte{head, data, []byte("}\n")} {
		_, _ = w.Write(part)
	}
}

func at(p *ast.Position) []gqlerror.Location {
	if p == nil {
		return nil
	}
	return []gqlerror.Location{{Line: p.Line, Column: p.Column}}
}
