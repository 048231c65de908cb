package plain

import (
	"net/http"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
)

// Money serves the export for bookkeeping to members.
type Money struct {
	Practice *practice.Service
}

// Routes adds the route to mux. members wraps it: it needs to know who asks.
func (s Money) Routes(mux *http.ServeMux, members func(http.Handler) http.Handler) {
	mux.Handle("GET /money/invoices.csv", members(http.HandlerFunc(s.export)))
}

// export streams the issued invoices dated from one day to another, both included.
func (s Money) export(w http.ResponseWriter, r *http.Request) {
	private(w)
	from, err := queryDay(r, "from")
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	to, err := queryDay(r, "to")
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	out := &begun{ResponseWriter: w, head: func(h http.Header) {
		h.Set("Content-Type", "text/csv; charset=utf-8; header=present")
		h.Set("Content-Disposition", `attachment; filename="invoices-`+from.Format(time.DateOnly)+"-"+to.Format(time.DateOnly)+`.csv"`)
	}}
	if err := s.Practice.ExportInvoices(r.Context(), auth.Actor(r.Context()), from, to, out); err != nil {
		if out.head != nil {
			answer.Fault(w, r, err)
			return
		}
		panic(http.ErrAbortHandler) // half a file must not look like a whole one
	}
}

func queryDay(r *http.Request, name string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, r.URL.Query().Get(name))
	if err != nil {
		return t, domain.Invalidf(name, "Give the first and the last day, as 2026-01-31.")
	}
	return t, nil
}

// begun sets an answer's head when its first byte is written.
type begun struct {
	http.ResponseWriter
	head func(http.Header)
}

func (b *begun) Write(p []byte) (int, error) {
	if b.head != nil {
		b.head(b.Header())
		b.head = nil
	}
	return b.ResponseWriter.Write(p)
}
