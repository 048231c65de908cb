package plain

import (
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
)

// codeCookie keeps a code that was typed on a link's page beside that link alone, so that
// the report's files open with it too. It is what its reader typed, and ends with the day
// that the code holds.
const (
	codeCookie = "boottop-code"
	maxCode    = 1 << 10 // bytes of a body that holds a code
)

// prove takes the code of a letter for a link that asks for one before it opens.
func (s Reports) prove(w http.ResponseWriter, r *http.Request) {
	private(w)
	var in struct {
		Code string `json:"code"`
	}
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxCode)).Decode(&in); err != nil {
		answer.Fault(w, r, domain.Invalidf("code", "Type the code from the letter."))
		return
	}
	if _, err := s.Practice.ProveShare(r.Context(), r.PathValue("token"), in.Code); err != nil {
		answer.Fault(w, r, err)
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: codeCookie, Value: strings.Join(strings.Fields(in.Code), ""), Path: "/share/" + r.PathValue("token"), MaxAge: int(practice.CodeLasts / time.Second),
		HttpOnly: true, Secure: s.Secure, SameSite: http.SameSiteStrictMode,
	})
	w.WriteHeader(http.StatusNoContent)
}

// codeOf is the code that was typed for the link of a request.
func codeOf(r *http.Request) string {
	c, err := r.Cookie(codeCookie)
	if err != nil {
		return ""
	}
	return c.Value
}
