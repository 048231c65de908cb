// Package plain is the plain HTTP beside GraphQL: health, metrics, what a developer looks
// at, the headers on every answer, and clients' links.
package plain

import (
	"compress/gzip"
	"net/http"
	"net/url"
	"strings"

	"github.com/klauspost/compress/gzhttp"
)

// Headers puts on every answer what keeps a browser from doing more with it than it is
// for. A handler that needs other words for its own page sets them itself. objects is the
// object store as browsers reach it, for photos and uploads; empty where there is none.
func Headers(next http.Handler, public, objects string) http.Handler {
	words := map[string]string{
		"Content-Security-Policy":      policy(objects),
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer", // a link's secret leaves in no request
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Permissions-Policy":           "camera=(self), geolocation=(), microphone=()",
	}
	if strings.HasPrefix(public, "https://") {
		words["Strict-Transport-Security"] = "max-age=31536000"
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, text := range words {
			w.Header().Set(name, text)
		}
		next.ServeHTTP(w, r)
	})
}

// touchRule is the hash of react-aria's style element for what can be pressed
// (touch-action). Another version may need another: a browser test sees it refused.
const touchRule = "'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='"

// policy lets the page load what it was built with, talk to this service and to the
// object store, and show pictures it made itself. No inline script or style runs but the
// one rule that react-aria adds for touch, named by its hash.
func policy(objects string) string {
	if u, err := url.Parse(objects); err == nil && u.Host != "" {
		objects = " " + u.Scheme + "://" + u.Host
	} else {
		objects = ""
	}
	return strings.Join([]string{
		"default-src 'none'", "script-src 'self'", "style-src 'self' " + touchRule, "font-src 'self'", "manifest-src 'self'", "worker-src 'self'",
		"img-src 'self' blob:" + objects, "connect-src 'self'" + objects, "frame-src 'self' blob:",
		"base-uri 'none'", "form-action 'self'", "frame-ancestors 'self'",
	}, "; ")
}

// Compress compresses answers for those who ask, at the level where it costs a tenth of a
// millisecond for a vessel's history: small answers, PDF and pictures
// stay as they are.
func Compress(next http.Handler) (http.Handler, error) {
	wrap, err := gzhttp.NewWrapper(gzhttp.MinSize(1024), gzhttp.CompressionLevel(gzip.BestSpeed), gzhttp.EnableZstd(true), gzhttp.ZstdCompressionLevel(1))
	if err != nil {
		return nil, err
	}
	return wrap(next), nil
}
