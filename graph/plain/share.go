package plain

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/shed"
	"boottop.example/practice/graph/wire"
)

// Reports serves issued reports: to whoever holds a link, and to members. Opening a link
// uses nothing up, so a mail scanner that fetches it changes nothing but the log.
type Reports struct {
	Practice *practice.Service
	Bound    *shed.Bound // how many are served at once; nil: all
	Links    Wrap        // makes guessing at links slow; nil: nothing does
	Secure   bool        // the service is reached over https: cookies go nowhere else
}

// Wrap puts a handler into another.
type Wrap func(http.Handler) http.Handler

func (w Wrap) around(h http.Handler) http.Handler {
	if w == nil {
		return h
	}
	return w(h)
}

// Routes adds the routes to mux. members wraps those for members, which need to know who
// asks, clients those for who is signed in to an account of reports.
func (s Reports) Routes(mux *http.ServeMux, members, clients func(http.Handler) http.Handler) {
	handle := func(pattern string, h http.Handler) { mux.Handle(pattern, s.Bound.Limit(h)) }
	link := func(pattern string, h http.HandlerFunc) { handle(pattern, s.Links.around(h)) }
	link("GET /share/{token}", s.look)
	link("POST /share/{token}/code", s.prove)
	link("GET /share/{token}/report.pdf", s.shared("pdf", byLink))
	link("GET /share/{token}/report.html", s.shared("page", byLink))
	link("GET /share/{token}/addenda/{number}", s.sharedAddendum("pdf", byLink))
	link("GET /share/{token}/addenda/{number}/page", s.sharedAddendum("page", byLink))
	link("GET /share/{token}/photos.zip", s.photos(byLink))
	handle("GET /kept/{key}/report.pdf", clients(s.shared("pdf", byAccount)))
	handle("GET /kept/{key}/report.html", clients(s.shared("page", byAccount)))
	handle("GET /kept/{key}/addenda/{number}", clients(s.sharedAddendum("pdf", byAccount)))
	handle("GET /kept/{key}/addenda/{number}/page", clients(s.sharedAddendum("page", byAccount)))
	handle("GET /kept/{key}/photos.zip", clients(s.photos(byAccount)))
	handle("GET /issued/{sha256}", http.HandlerFunc(s.known))
	handle("GET /reports/{id}/report.pdf", members(s.member("pdf")))
	handle("GET /reports/{id}/report.html", members(s.member("page")))
	handle("GET /reports/{id}/addenda/{number}", members(s.memberAddendum("pdf")))
	handle("GET /reports/{id}/addenda/{number}/page", members(s.memberAddendum("page")))
	handle("GET /reports/{id}/draft.pdf", members(http.HandlerFunc(s.draft)))
}

// look answers what a link opens, as GraphQL's `outside` does, and notes that it was opened.
func (s Reports) look(w http.ResponseWriter, r *http.Request) {
	private(w)
	opened := "page"
	if r.Method == http.MethodHead {
		opened = ""
	}
	shared, content, err := s.Practice.OpenShared(r.Context(), byLink(r), opened)
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(map[string]any{"data": map[string]any{"report": graph.SharedReport(shared, content)}})
}

func byLink(r *http.Request) practice.Holder {
	return practice.Holder{Link: r.PathValue("token"), Code: codeOf(r)}
}

func byAccount(r *http.Request) practice.Holder {
	return practice.Holder{Actor: auth.Actor(r.Context()), Report: r.PathValue("key")}
}

func (s Reports) shared(what string, from func(*http.Request) practice.Holder) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		shared, err := s.open(r, from(r), what)
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		if what == "page" && told(w, r, after{
			number: shared.Number, state: shared.State, by: shared.PracticeName, issuedAt: shared.IssuedAt, replacedBy: shared.ReplacedBy,
			because: shared.EndedBecause, addenda: shared.Addenda, invented: shared.Invented,
		}) {
			return
		}
		s.serve(w, r, what, practice.Issued{
			PageKey: shared.PageKey, PageSHA256: shared.PageSha256, PDFKey: shared.PdfKey, PDFSHA256: shared.PdfSha256, At: shared.IssuedAt,
		}, shared.Number)
	}
}

// restWithin is how long after an opening the rest of a download is still part of it.
const restWithin = time.Hour

// open reads what is open to an outsider and notes that it was opened. A look at the size
// is no opening, and the rest of a download no second one; a part asked for long after
// the last opening is one, or a report could be fetched in parts and nobody told.
func (s Reports) open(r *http.Request, who practice.Holder, what string) (practice.Shared, error) {
	if r.Method != http.MethodHead && r.Header.Get("Range") == "" {
		shared, _, err := s.Practice.OpenShared(r.Context(), who, what)
		return shared, err
	}
	shared, _, err := s.Practice.OpenShared(r.Context(), who, "")
	if err != nil || r.Method == http.MethodHead || shared.Openings > 0 && time.Since(shared.LastOpenedAt) < restWithin {
		return shared, err
	}
	_, _, err = s.Practice.OpenShared(r.Context(), who, what)
	return shared, err
}

func (s Reports) member(what string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		id, err := wire.ParseID(r.PathValue("id"))
		if err != nil {
			answer.Fault(w, r, domain.ErrNotFound)
			return
		}
		issued, page, err := s.Practice.Issued(r.Context(), auth.Actor(r.Context()), id.As(wire.Report))
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		if what == "page" && told(w, r, after{
			number: page.Number, state: page.State, issuedAt: issued.At, replacedBy: page.ReplacedByNumber, because: page.EndedBecause, addenda: page.Addenda,
		}) {
			return
		}
		s.serve(w, r, what, issued, page.Number)
	}
}

// sharedAddendum serves the PDF or the page of an addendum to whoever the report is open to.
func (s Reports) sharedAddendum(what string, from func(*http.Request) practice.Holder) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		shared, _, err := s.Practice.OpenShared(r.Context(), from(r), "")
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		for _, a := range shared.Addenda {
			if r.PathValue("number") != strconv.Itoa(int(a.Number)) {
				continue
			}
			switch {
			case what == "page" && a.PageKey != nil:
				s.send(w, r, file{key: *a.PageKey, sum: a.PageSha256, page: true})
				return
			case what == "pdf" && a.PdfKey != nil:
				s.send(w, r, file{key: *a.PdfKey, sum: a.PdfSha256, name: addendumName(shared.Number, a.Number)})
				return
			}
		}
		answer.Fault(w, r, domain.ErrNotFound)
	}
}

func (s Reports) memberAddendum(what string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		id, err := wire.ParseID(r.PathValue("id"))
		number, wrong := strconv.ParseInt(r.PathValue("number"), 10, 32)
		if err != nil || wrong != nil {
			answer.Fault(w, r, domain.ErrNotFound)
			return
		}
		f, err := s.Practice.AddendumFile(r.Context(), auth.Actor(r.Context()), id.As(wire.Report), int32(number))
		switch {
		case err != nil:
			answer.Fault(w, r, err)
		case what == "pdf":
			s.send(w, r, file{key: f.Key, sum: f.SHA256, name: addendumName(f.ReportNumber, f.Number)})
		case f.PageKey == "":
			answer.Fault(w, r, domain.ErrNotFound)
		default:
			s.send(w, r, file{key: f.PageKey, sum: f.PageSHA256, page: true})
		}
	}
}

func addendumName(report string, number int32) string {
	return fmt.Sprintf("report-%s-addendum-%d.pdf", report, number)
}

// draft sends the PDF of a draft as it stands: marked, without number and signature.
func (s Reports) draft(w http.ResponseWriter, r *http.Request) {
	private(w)
	id, err := wire.ParseID(r.PathValue("id"))
	if err != nil {
		answer.Fault(w, r, domain.ErrNotFound)
		return
	}
	pdf, err := s.Practice.DraftPDF(r.Context(), auth.Actor(r.Context()), id.As(wire.Report))
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", `inline; filename="draft.pdf"`)
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	_, _ = w.Write(pdf)
}

// serve sends the issued bytes of a report.
func (s Reports) serve(w http.ResponseWriter, r *http.Request, what string, issued practice.Issued, number string) {
	if what == "page" {
		s.send(w, r, file{key: issued.PageKey, sum: issued.PageSHA256, name: "report-" + number + ".html", page: true})
		return
	}
	s.send(w, r, file{key: issued.PDFKey, sum: issued.PDFSHA256, name: "report-" + number + ".pdf"})
}

// file is issued bytes: a PDF, or a page.
type file struct {
	key  string
	sum  []byte
	name string
	page bool
}

// send sends issued bytes, or nothing: what does not fit the hash recorded at issue is
// never served.
func (s Reports) send(w http.ResponseWriter, r *http.Request, f file) {
	b, err := s.Practice.Object(r.Context(), f.key)
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	if got := sha256.Sum256(b); !bytes.Equal(got[:], f.sum) {
		slog.ErrorContext(r.Context(), "an issued report does not fit its hash", "key", f.key)
		answer.Fault(w, r, fmt.Errorf("object %s does not fit the hash recorded at issue", f.key))
		return
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(takes(len(b)))) // where there is none to set, none ends it
	h := w.Header()
	h.Set("ETag", fmt.Sprintf(`"%x"`, f.sum))
	if f.page {
		pageHeaders(h)
	} else {
		h.Set("Content-Type", "application/pdf")
		h.Set("Content-Disposition", `attachment; filename="`+strings.Map(plainName, f.name)+`"`)
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(b))
}

// slowest is the slowest line, in bytes a second, over which a report still arrives.
const slowest = 32 << 10

// takes is how long so many bytes may take.
func takes(size int) time.Duration {
	return time.Minute + time.Duration(size/slowest)*time.Second
}

// pageHeaders let a page show what it holds and ask for nothing else.
func pageHeaders(h http.Header) {
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Disposition", "inline")
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'; sandbox allow-same-origin allow-popups allow-modals")
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
