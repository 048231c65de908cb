// Package web holds the built client, so that the service is one file.
package web

import (
	"embed"
	"io/fs"
	"net/http"
	"path"
	"strings"
)

//go:embed all:dist
var dist embed.FS

// Files returns the built client, rooted at its index.html, and false where the
// service was compiled before the client was built.
func Files() (files fs.FS, built bool) {
	files, err := fs.Sub(dist, "dist/app")
	if err != nil {
		return nil, false
	}
	if _, err := fs.Stat(files, "index.html"); err != nil {
		return nil, false
	}
	return files, true
}

// Manifest returns the stored operations of the client, {"sha256": "document"} as JSON.
// It is committed source, so it is there whether or not the client was built.
func Manifest() []byte { return manifest }

//go:embed src/graphql/gen/persisted-documents.json
var manifest []byte

// Handler serves the client: hashed assets for a year, everything else fresh. A path
// without a file is a route of the page, but a missing asset is a 404: a page sent in
// its place would be kept by browsers as that script for ever.
func Handler() http.Handler {
	files, built := Files()
	if !built {
		return http.HandlerFunc(notBuilt)
	}
	return client{files: files, server: http.FileServerFS(files)}
}

type client struct {
	files  fs.FS
	server http.Handler
}

func (c client) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
	if name == "" || name == "index.html" {
		c.page(w, r)
		return
	}
	info, err := fs.Stat(c.files, name)
	switch {
	case err == nil && !info.IsDir():
		if strings.HasPrefix(name, "assets/") {
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		} else {
			w.Header().Set("Cache-Control", "no-cache")
		}
		c.server.ServeHTTP(w, r)
	case isFile(name):
		http.NotFound(w, r)
	default:
		c.page(w, r)
	}
}

func (c client) page(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-cache")
	http.ServeFileFS(w, r, c.files, "index.html")
}

// isFile tells what asks for a file from what asks for the page: a missing file is
// answered as missing, never with a page that a browser would take for a script.
func isFile(name string) bool { return strings.HasPrefix(name, "assets/") || path.Ext(name) != "" }

const notBuiltPage = `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Boottop: the client is not built</title>
<style>body{font:16px/1.5 system-ui,sans-serif;background:#f5f2e8;color:#14202b;max-width:36em;margin:3em auto;padding:0 1em}code{border-bottom:1px solid}</style>
<h1>The client is not built</h1>
<p>The service runs, but was compiled before its client was built. Run <code>npm ci &amp;&amp; npm run build</code> in
<code>web</code> and start the service again, or start everything with <code>go run ./cmd/dev</code>, which does both.</p>
</html>
`

func notBuilt(w http.ResponseWriter, r *http.Request) {
	if isFile(strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")) {
		http.NotFound(w, r)
		return
	}
	// The page's own style; nothing else runs here.
	w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(http.StatusServiceUnavailable)
	_, _ = w.Write([]byte(notBuiltPage))
}
