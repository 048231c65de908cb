package plain

import (
	"embed"
	"io/fs"
	"net/http"
)

//go:embed dev
var devFiles embed.FS

// Explorer serves, under GET /dev/, a page that reads the schema and tries documents, and
// the style of the developer's pages. For development alone; it asks POST /graphql like
// everybody else.
func Explorer() http.Handler {
	files, err := fs.Sub(devFiles, "dev")
	if err != nil {
		panic(err) // embedded
	}
	server := http.StripPrefix("/dev/", http.FileServerFS(files))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/dev/" {
			http.Redirect(w, r, "/dev/explorer.html", http.StatusSeeOther)
			return
		}
		w.Header().Set("Cache-Control", "no-cache")
		server.ServeHTTP(w, r)
	})
}
