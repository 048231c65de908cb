package plain

import (
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/shed"
	"boottop.example/practice/graph/wire"
)

// Money serves invoices, and the export for bookkeeping to members.
type Money struct {
	Practice *practice.Service
	Bound    *shed.Bound // how many are made at once; nil: all
	Links    Wrap        // makes guessing at links slow; nil: nothing does
}

// Routes adds the routes to mux. members wraps those for members, clients those for who is
// signed in to an account of reports: they need to know who asks.
func (s Money) Routes(mux *http.ServeMux, members, clients func(http.Handler) http.Handler) {
	handle := func(pattern string, h http.Handler) { mux.Handle(pattern, s.Bound.Limit(h)) }
	handle("GET /money/invoices.csv", members(http.HandlerFunc(s.export)))
	handle("GET /invoices/{id}/invoice.pdf", members(http.HandlerFunc(s.invoice)))
	handle("GET /share/{token}/invoices", s.Links.around(s.shared(byLink)))
	handle("GET /share/{token}/invoices/{number}", s.Links.around(s.sharedPDF(byLink)))
	handle("GET /kept/{key}/invoices", clients(s.shared(byAccount)))
	handle("GET /kept/{key}/invoices/{number}", clients(s.sharedPDF(byAccount)))
}

// invoice serves an issued invoice to a member who may read money.
func (s Money) invoice(w http.ResponseWriter, r *http.Request) {
	private(w)
	id, err := wire.ParseID(r.PathValue("id"))
	if err != nil {
		answer.Fault(w, r, domain.ErrNotFound)
		return
	}
	pdf, number, err := s.Practice.InvoicePDF(r.Context(), auth.Actor(r.Context()), id.As(wire.Invoice), r.URL.Query().Get("paper"))
	sendInvoice(w, r, pdf, number, err)
}

// sharedInvoice is what whoever pays is told of an invoice beside its PDF.
type sharedInvoice struct {
	Number     string `json:"number"`
	Kind       string `json:"kind"`
	Dated      string `json:"dated"`
	DueOn      string `json:"dueOn"`
	Currency   string `json:"currency"`
	TotalMinor int64  `json:"totalMinor"`
	OwedMinor  int64  `json:"owedMinor"`
}

// shared lists the invoices of a job to its client, while the report is held too; to
// anybody else who holds a link there are none.
func (s Money) shared(from func(*http.Request) practice.Holder) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		list, err := s.Practice.SharedInvoices(r.Context(), from(r))
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		out := make([]sharedInvoice, len(list))
		for k, i := range list {
			out[k] = sharedInvoice{Number: i.Number, Kind: i.Kind, Dated: day(i.Dated), DueOn: day(i.DueOn), Currency: i.Currency, TotalMinor: i.TotalMinor(), OwedMinor: i.OwedMinor}
		}
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(map[string]any{"data": map[string]any{"invoices": out}})
	}
}

func (s Money) sharedPDF(from func(*http.Request) practice.Holder) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		number := r.PathValue("number")
		pdf, err := s.Practice.SharedInvoicePDF(r.Context(), from(r), number, r.URL.Query().Get("paper"))
		sendInvoice(w, r, pdf, number, err)
	}
}

func day(t *time.Time) string {
	if t == nil {
		return ""
	}
	return t.Format(time.DateOnly)
}

func sendInvoice(w http.ResponseWriter, r *http.Request, pdf []byte, number string, err error) {
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", `attachment; filename="`+strings.Map(plainName, number)+`.pdf"`)
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	_, _ = w.Write(pdf)
}

// export streams the issued invoices dated from one day to another, both included.
func (s Money) export(w http.ResponseWriter, r *http.Request) {
	private(w)
	from, err := queryDay(r, "from")
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	to, err := queryDay(r, "to")
	if err != nil {
		answer.Fault(w, r, err)
		return
	}
	out := &begun{ResponseWriter: w, head: func(h http.Header) {
		h.Set("Content-Type", "text/csv; charset=utf-8; header=present")
		h.Set("Content-Disposition", `attachment; filename="invoices-`+from.Format(time.DateOnly)+"-"+to.Format(time.DateOnly)+`.csv"`)
	}}
	if err := s.Practice.ExportInvoices(r.Context(), auth.Actor(r.Context()), from, to, out); err != nil {
		if out.head != nil {
			answer.Fault(w, r, err)
			return
		}
		panic(http.ErrAbortHandler) // half a file must not look like a whole one
	}
}

func queryDay(r *http.Request, name string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, r.URL.Query().Get(name))
	if err != nil {
		return t, domain.Invalidf(name, "Give the first and the last day, as 2026-01-31.")
	}
	return t, nil
}

// begun sets an answer's head when its first byte is written.
type begun struct {
	http.ResponseWriter
	head func(http.Header)
}

func (b *begun) Write(p []byte) (int, error) {
	if b.head != nil {
		b.head(b.Header())
		b.head = nil
	}
	return b.ResponseWriter.Write(p)
}
