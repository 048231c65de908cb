package auth

import (
	"net/http"
	"net/url"
	"strings"
)

// Files is Identify for what members open as a file. A person whose session has ended, or
// whose access has run out while the page lay open, is shown the sign-in, which comes back
// to the file afterwards; a program hears what every program hears.
func (a *Auth) Files(next http.Handler) http.Handler {
	return a.Identify(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if Actor(r.Context()).Means != "" || !inWindow(r) {
			next.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Cache-Control", "no-store")
		http.Redirect(w, r, "/sign-in?file="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
	}))
}

// inWindow tells whether a browser asks for something to show in a window of its own: by
// the fetch metadata that browsers send (W3C Fetch Metadata Request Headers, section 2),
// and where they send none by the page that they would take. A frame and a link that
// saves what it gets are shown no sign-in.
func inWindow(r *http.Request) bool {
	if bringsKey(r) || r.Header.Get(ClientHeader) == "1" || r.Method != http.MethodGet {
		return false
	}
	if mode := r.Header.Get("Sec-Fetch-Mode"); mode != "" {
		return mode == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
	}
	return strings.Contains(r.Header.Get("Accept"), "text/html")
}
