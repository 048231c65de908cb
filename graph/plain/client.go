package plain

import (
	"net/http"
	"strings"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// ours are the paths that belong to the service; the page has no routes there.
var ours = []string{"/auth/", "/dev/", "/share/", "/kept/", "/graphql/", "/healthz/", "/readyz/", "/metrics"}

// Client gives every path that is nobody else's to the page, which has routes of its own.
// It is read and not written to; and what looks like a call of the service and is none
// gets a 404 that a program can read, not a page.
func Client(page http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for _, prefix := range ours {
			if strings.HasPrefix(r.URL.Path, prefix) {
				answer.Fault(w, r, domain.ErrNotFound)
				return
			}
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			w.WriteHeader(http.StatusMethodNotAllowed)
			return
		}
		page.ServeHTTP(w, r)
	})
}
