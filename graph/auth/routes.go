package auth

import (
	"errors"
	"io"
	"mime"
	"net/http"
	"slices"
	"strings"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/strict"
)

// Routes puts sign-in and what belongs to it under /auth/. All take and give JSON.
func (a *Auth) Routes(mux *http.ServeMux) {
	for path, fn := range map[string]func(http.ResponseWriter, *http.Request) (any, error){
		"/auth/sign-in":          a.signIn,
		"/auth/refresh":          a.refresh,
		"/auth/practice":         a.switchPractice,
		"/auth/sign-out":         a.signOut,
		"/auth/reset":            a.askReset,
		"/auth/reset/finish":     a.finishReset,
		"/auth/invitation/look":  a.lookAtInvitation,
		"/auth/invitation":       a.acceptInvitation,
		"/auth/reports":          a.keepReports,
		"/auth/reports/sign-in":  a.clientSignIn,
		"/auth/reports/sign-out": a.clientSignOut,
	} {
		mux.Handle("POST "+path, a.route(fn))
	}
}

func (a *Auth) route(fn func(http.ResponseWriter, *http.Request) (any, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := a.ownPage(r); err != nil {
			answer.Fault(w, r, err)
			return
		}
		said, err := fn(w, r)
		switch {
		case errors.Is(err, errTooMany):
			w.Header().Set("Retry-After", "120")
			answer.JSON(w, http.StatusTooManyRequests, refusal(errTooMany))
		case errors.Is(err, errMedia):
			answer.JSON(w, http.StatusUnsupportedMediaType, refusal(errMedia))
		case errors.Is(err, errTooLarge):
			answer.JSON(w, http.StatusRequestEntityTooLarge, refusal(errTooLarge))
		case err != nil:
			answer.Fault(w, r, err)
		default:
			answer.JSON(w, http.StatusOK, said)
		}
	})
}

func refusal(f *domain.Fault) map[string]map[string]string {
	return map[string]map[string]string{"error": {"code": f.Kind.Code(), "message": f.Text, "field": f.Field}}
}

const bodyMost = 8 << 10

var (
	errMedia    = &domain.Fault{Kind: domain.Invalid, Text: "Send the body as application/json."}
	errTooLarge = &domain.Fault{Kind: domain.Invalid, Text: "The body is larger than 8 kB."}
)

// texts reads a body that is an object of texts with these names; one that ends in ? may
// be left out. No more than the limit is ever read.
func texts(w http.ResponseWriter, r *http.Request, names ...string) (map[string]string, error) {
	media, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if charset := params["charset"]; err != nil || media != "application/json" || (charset != "" && !strings.EqualFold(charset, "utf-8")) || r.Header.Get("Content-Encoding") != "" {
		return nil, errMedia
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, bodyMost))
	if err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return nil, errTooLarge
		}
		return nil, domain.Invalidf("", "The body could not be read.")
	}
	object, err := strict.Object(body, strict.Limits{Depth: 1, List: 1, Values: 16})
	if err != nil {
		return nil, domain.Invalidf(fieldOf(err, names), "%s", err.Error())
	}
	out := map[string]string{}
	for _, name := range names {
		name, optional := strings.CutSuffix(name, "?")
		text, ok := object[name].(string)
		switch {
		case !ok && object[name] != nil:
			return nil, domain.Invalidf(name, "This must be a text.")
		case text == "" && !optional:
			return nil, domain.Invalidf(name, "This is needed.")
		}
		out[name] = text
		delete(object, name)
	}
	if len(object) > 0 {
		return nil, domain.Invalidf("", "The body holds a name that is not known here.")
	}
	return out, nil
}

// fieldOf names the field a body's fault is in, where it is one of ours.
func fieldOf(err error, names []string) string {
	var fault *strict.Error
	if errors.As(err, &fault) && len(fault.Path) == 1 && slices.Contains(names, fault.Path[0]) {
		return fault.Path[0]
	}
	return ""
}
