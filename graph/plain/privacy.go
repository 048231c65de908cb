package plain

import (
	"net/http"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/wire"
)

// Privacy serves what is kept about a person, as one archive, to members who may.
type Privacy struct {
	Practice *practice.Service
}

// Routes adds the route to mux. members wraps it: it needs to know who asks.
func (s Privacy) Routes(mux *http.ServeMux, members func(http.Handler) http.Handler) {
	mux.Handle("GET /people/{id}/export.zip", members(http.HandlerFunc(s.export)))
}

// export streams the archive. Every download is noted, so a look at its size is not given.
func (s Privacy) export(w http.ResponseWriter, r *http.Request) {
	private(w)
	if r.Method == http.MethodHead {
		w.Header().Set("Allow", "GET")
		w.WriteHeader(http.StatusMethodNotAllowed)
		return
	}
	id, err := wire.ParseID(r.PathValue("id"))
	if err != nil {
		answer.Fault(w, r, domain.ErrNotFound)
		return
	}
	out := &begun{ResponseWriter: w, head: func(h http.Header) {
		h.Set("Content-Type", "application/zip")
		h.Set("Content-Disposition", `attachment; filename="person.zip"`)
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	}}
	if err := s.Practice.ExportPerson(r.Context(), auth.Actor(r.Context()), id.As(wire.Party), out); err != nil {
		if out.head != nil {
			answer.Fault(w, r, err)
			return
		}
		panic(http.ErrAbortHandler) // half an archive must not look like a whole one
	}
}
