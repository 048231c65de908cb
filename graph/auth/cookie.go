package auth

import (
	"net/http"
	"net/url"
	"time"

	"boottop.example/practice/domain/entry"
)

// cookies names and writes the two cookies of a session, and the one of a client. All are HttpOnly and
// SameSite=Strict. Over https they carry __Host-, which a sibling host cannot set; over
// http (a developer's machine) their name holds the port, because two services on one
// host would sign each other out otherwise.
type cookies struct {
	access, renew, client string
	secure                bool
}

func newCookies(public *url.URL) cookies {
	if public.Scheme == "https" {
		return cookies{"__Host-boottop", "__Host-boottop-refresh", "__Host-boottop-reports", true}
	}
	tail := ""
	if p := public.Port(); p != "" {
		tail = "-" + p
	}
	return cookies{"boottop" + tail, "boottop-refresh" + tail, "boottop-reports" + tail, false}
}

func (c cookies) set(w http.ResponseWriter, access string, renew secret) {
	c.write(w, c.access, access, accessLasts)
	c.write(w, c.renew, string(renew), entry.SessionLasts)
}

func (c cookies) clear(w http.ResponseWriter) {
	c.write(w, c.access, "", -time.Second)
	c.write(w, c.renew, "", -time.Second)
}

func (c cookies) write(w http.ResponseWriter, name, value string, lasts time.Duration) {
	http.SetCookie(w, &http.Cookie{
		Name: name, Value: value, Path: "/", MaxAge: int(lasts / time.Second),
		HttpOnly: true, Secure: c.secure, SameSite: http.SameSiteStrictMode,
	})
}

// read gives a cookie's value. The same name twice means that somebody else set one of
// them: then neither counts.
func (c cookies) read(r *http.Request, name string) string {
	found := r.CookiesNamed(name)
	if len(found) != 1 {
		return ""
	}
	return found[0].Value
}
