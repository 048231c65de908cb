package auth

import (
	"context"
	"net/http"
	"sync/atomic"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
)

// errGuesses is answered to whoever tried many secrets that open nothing, whether or not
// the one in hand opens something.
var errGuesses = &domain.Fault{Kind: domain.Unavailable, Text: "Many links that open nothing were tried from here. Please wait a few minutes."}

// guessPrefix is how many letters of a secret are counted together: 48 bits of it. Whoever
// walks the neighbours of one link is slowed however many addresses that is done from.
const guessPrefix = 8

type missedKey struct{}

// Missed notes that the secret which this request brought opened nothing.
func Missed(ctx context.Context) {
	if missed, ok := ctx.Value(missedKey{}).(*atomic.Bool); ok {
		missed.Store(true)
	}
}

// Links makes guessing at the secrets of links slow: reports, terms, yards, feeds, and the
// end of letters. A request without a secret passes.
func (a *Auth) Links(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secret, byHeader := secretIn(r)
		if secret == "" {
			next.ServeHTTP(w, r)
			return
		}
		from, like := "link from "+a.from(r), "link like "+secret[:min(len(secret), guessPrefix)]
		if a.slow.full(from, perAddress) || a.slow.full(like, perEmail) {
			w.Header().Set("Retry-After", "60")
			answer.JSON(w, http.StatusTooManyRequests, guessed(byHeader))
			return
		}
		missed := &atomic.Bool{}
		next.ServeHTTP(&watched{w, missed}, r.WithContext(context.WithValue(r.Context(), missedKey{}, missed)))
		if missed.Load() {
			a.slow.add(from, perAddress)
			a.slow.add(like, perEmail)
		}
	})
}

// guessed says it in the shape of whatever was asked: GraphQL brings its link in a header.
func guessed(graphql bool) any {
	if !graphql {
		return refusal(errGuesses)
	}
	return map[string]any{"errors": []any{map[string]any{"message": errGuesses.Text, "extensions": map[string]string{"code": errGuesses.Kind.Code()}}}}
}

// secretIn is the secret of a link, and whether it came in the header.
func secretIn(r *http.Request) (secret string, byHeader bool) {
	for _, name := range []string{"token", "file"} {
		if secret := r.PathValue(name); secret != "" {
			return secret, false
		}
	}
	secret = r.Header.Get(ShareHeader)
	return secret, secret != ""
}

// watched notes an answer that says there is no such thing.
type watched struct {
	http.ResponseWriter
	missed *atomic.Bool
}

func (w *watched) WriteHeader(status int) {
	if status == http.StatusNotFound {
		w.missed.Store(true)
	}
	w.ResponseWriter.WriteHeader(status)
}

// Unwrap is for http.ResponseController.
func (w *watched) Unwrap() http.ResponseWriter { return w.ResponseWriter }
