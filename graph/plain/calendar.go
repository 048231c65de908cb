package plain

import (
	"crypto/sha256"
	"fmt"
	"net/http"
	"strings"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
)

// Calendars serves calendar feeds to whoever holds their secret address.
type Calendars struct {
	Practice *practice.Service
	Links    Wrap
}

// Routes adds the route to mux.
func (s Calendars) Routes(mux *http.ServeMux) {
	mux.Handle("GET /calendar/{file}", s.Links.around(http.HandlerFunc(s.feed)))
}

// feed answers the feed that a token opens. The secret is the path and nothing else: an
// address with anything behind it is not there.
func (s Calendars) feed(w http.ResponseWriter, r *http.Request) {
	private(w)
	token, isFeed := strings.CutSuffix(r.PathValue("file"), ".ics")
	if !isFeed || r.URL.RawQuery != "" {
		answer.Fault(w, r, domain.ErrNotFound)
		return
	}
	body, err := s.Practice.Feed(r.Context(), token)
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	tag := fmt.Sprintf(`"%x"`, sha256.Sum256(body))
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", "text/calendar; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="boottop.ics"`)
	_, _ = w.Write(body)
}
