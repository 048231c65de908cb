package plain

import (
	"io"
	"net/http"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
)

// Unsubscribe ends mails for whoever holds the address that came with one.
type Unsubscribe struct {
	Practice *practice.Service
	Links    Wrap
}

// Routes adds the route to mux. A GET of the same address is the page's: it asks first,
// because mail scanners open links.
func (s Unsubscribe) Routes(mux *http.ServeMux) {
	mux.Handle("POST /unsubscribe/{token}", s.Links.around(http.HandlerFunc(s.end)))
}

// end is one press in a mail program (RFC 8058): no sign-in, no cookie, nothing to read.
func (s Unsubscribe) end(w http.ResponseWriter, r *http.Request) {
	private(w)
	if err := s.Practice.Unsubscribe(r.Context(), r.PathValue("token")); err != nil {
		answer.Fault(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = io.WriteString(w, "You get no more of these mails.\n")
}
