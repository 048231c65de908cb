package auth

import (
	"context"
	"net/http"
)

type shareKey struct{}

// ShareHeader carries the secret of a client's link to GraphQL, whose `outside` is all
// that it opens. It is a header and not a cookie, so that no other page can send it.
const ShareHeader = "X-Boottop-Share"

// WithShare puts the secret of a client's link, where a request carries one, into the context.
func WithShare(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if token := r.Header.Get(ShareHeader); token != "" {
			r = r.WithContext(context.WithValue(r.Context(), shareKey{}, token))
		}
		next.ServeHTTP(w, r)
	})
}

// ShareToken is the secret of the client's link in this request; empty where there is none.
func ShareToken(ctx context.Context) string {
	token, _ := ctx.Value(shareKey{}).(string)
	return token
}
