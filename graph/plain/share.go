package plain

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/wire"
)

// Reports serves issued reports: to whoever holds a link, and to members. Opening a link
// uses nothing up, so a mail scanner that fetches it changes nothing but the log.
type Reports struct {
	Practice *practice.Service
}

// Routes adds the routes to mux. members wraps those for members, which need to know who asks.
func (s Reports) Routes(mux *http.ServeMux, members func(http.Handler) http.Handler) {
	mux.HandleFunc("GET /share/{token}", s.look)
	mux.HandleFunc("GET /share/{token}/report.pdf", s.shared("pdf"))
	mux.HandleFunc("GET /share/{token}/report.html", s.shared("page"))
	mux.HandleFunc("GET /issued/{sha256}", s.known)
	mux.Handle("GET /reports/{id}/report.pdf", members(http.HandlerFunc(s.member("pdf"))))
	mux.Handle("GET /reports/{id}/report.html", members(http.HandlerFunc(s.member("page"))))
}

// look answers what a link opens, as GraphQL's `outside` does, and notes that it was opened.
func (s Reports) look(w http.ResponseWriter, r *http.Request) {
	private(w)
	opened := "page"
	if r.Method == http.MethodHead {
		opened = ""
	}
	shared, content, err := s.Practice.OpenShare(r.Context(), r.PathValue("token"), opened)
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(map[string]any{"data": map[string]any{"report": graph.SharedReport(shared, content)}})
}

func (s Reports) shared(what string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		opened := what
		if r.Method == http.MethodHead || r.Header.Get("Range") != "" {
			opened = "" // a look at the size, or the rest of a download, is no second opening
		}
		shared, _, err := s.Practice.OpenShare(r.Context(), r.PathValue("token"), opened)
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		s.serve(w, r, what, practice.Issued{
			PageKey: shared.PageKey, PageSHA256: shared.PageSha256, PDFKey: shared.PdfKey, PDFSHA256: shared.PdfSha256, At: shared.IssuedAt,
		}, shared.Number)
	}
}

func (s Reports) member(what string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		id, err := wire.ParseID(r.PathValue("id"))
		if err != nil {
			answer.Fault(w, r, domain.ErrNotFound)
			return
		}
		issued, number, err := s.Practice.Issued(r.Context(), auth.Actor(r.Context()), id.As(wire.Report))
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		s.serve(w, r, what, issued, number)
	}
}

// serve sends the issued bytes, or nothing: what does not fit the hash recorded at issue
// is never served.
func (s Reports) serve(w http.ResponseWriter, r *http.Request, what string, issued practice.Issued, number string) {
	key, sum, contentType, name := issued.PDFKey, issued.PDFSHA256, "application/pdf", "report-"+number+".pdf"
	if what == "page" {
		key, sum, contentType, name = issued.PageKey, issued.PageSHA256, "text/html; charset=utf-8", "report-"+number+".html"
	}
	b, err := s.Practice.Object(r.Context(), key)
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	if got := sha256.Sum256(b); !bytes.Equal(got[:], sum) {
		slog.ErrorContext(r.Context(), "an issued report does not fit its hash", "key", key)
		answer.Fault(w, r, fmt.Errorf("object %s does not fit the hash recorded at issue", key))
		return
	}
	h := w.Header()
	h.Set("Content-Type", contentType)
	h.Set("ETag", fmt.Sprintf(`"%x"`, sum))
	if what == "pdf" {
		h.Set("Content-Disposition", `attachment; filename="`+strings.Map(plainName, name)+`"`)
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	} else {
		h.Set("Content-Disposition", "inline")
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'; sandbox allow-same-origin allow-popups allow-modals")
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(b))
}

func plainName(r rune) rune {
	if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '.' {
		return r
	}
	return '-'
}

// private keeps an answer out of caches, searches and other pages' hands.
func private(w http.ResponseWriter) {
	w.Header().Set("Cache-Control", "private, no-store")
	w.Header().Set("X-Robots-Tag", "noindex, nofollow")
	w.Header().Set("Referrer-Policy", "no-referrer")
}
