// Package answer writes what plain HTTP answers: JSON, and a fault as
// {"error": {"code", "message", "field"}}.
package answer

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net/http"

	"boottop.example/practice/domain"
)

// Seen is what the log tells of one request, filled in on the way. It holds ids and
// names of ours, never what a caller sent.
type Seen struct {
	ID        string
	Operation string // a stored operation's name, or what kind of document it was
	Actor     domain.Actor
}

type seenKey struct{}

// WithSeen gives a request the line that the log will tell of it.
func WithSeen(ctx context.Context, s *Seen) context.Context {
	return context.WithValue(ctx, seenKey{}, s)
}

// Of gives the line of the request in hand; outside of one, a line that nobody reads.
func Of(ctx context.Context) *Seen {
	if s, ok := ctx.Value(seenKey{}).(*Seen); ok {
		return s
	}
	return &Seen{}
}

// Request names the request in hand; empty outside of one.
func Request(ctx context.Context) string { return Of(ctx).ID }

// JSON answers v. What this service says in JSON is for one caller and not to be kept.
func JSON(w http.ResponseWriter, status int, v any) {
	body, err := json.Marshal(v)
	if err != nil {
		slog.Error("answer cannot be written as JSON", "error", err)
		http.Error(w, "", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(append(body, '\n'))
}

type refusal struct {
	Code    string `json:"code"`
	Message string `json:"message"`
	Field   string `json:"field"`
}

// Fault answers an error: what it says to a person, or, where it says nothing, a number
// to quote, with the error in the log under the same number.
func Fault(w http.ResponseWriter, r *http.Request, err error) {
	f := Words(r.Context(), err)
	if f.Kind == domain.Unavailable && w.Header().Get("Retry-After") == "" {
		w.Header().Set("Retry-After", "2")
	}
	JSON(w, Status(f.Kind), map[string]refusal{"error": {f.Kind.Code(), f.Text, f.Field}})
}

// Status is the HTTP status of a kind of fault.
func Status(k domain.Kind) int {
	switch k {
	case domain.Invalid:
		return http.StatusBadRequest
	case domain.Unauthenticated:
		return http.StatusUnauthorized
	case domain.Forbidden:
		return http.StatusForbidden
	case domain.NotFound:
		return http.StatusNotFound
	case domain.Conflict:
		return http.StatusConflict
	case domain.Unavailable:
		return http.StatusServiceUnavailable
	}
	return http.StatusInternalServerError
}

// Words turns any error into one that says something to a person. What nobody classified
// is logged and becomes a number to quote.
func Words(ctx context.Context, err error) domain.Fault {
	var f *domain.Fault
	if errors.As(err, &f) && f.Kind != domain.Internal {
		if f.Err != nil && f.Kind == domain.Unavailable {
			slog.WarnContext(ctx, "unavailable", "request", Request(ctx), "error", err)
		}
		return domain.Fault{Kind: f.Kind, Field: f.Field, Text: f.Text}
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		slog.WarnContext(ctx, "gave up", "request", Request(ctx), "error", err)
		return domain.Fault{Kind: domain.Unavailable, Text: "This took too long and was given up. Please try again."}
	}
	slog.ErrorContext(ctx, "internal error", "request", Request(ctx), "error", err)
	return domain.Fault{Text: Broken(ctx)}
}

// Broken is the one sentence for what is our fault.
func Broken(ctx context.Context) string {
	if id := Request(ctx); id != "" {
		return "Something failed here, and it is not your doing. Please try again; if it stays, quote " + id + "."
	}
	return "Something failed here, and it is not your doing. Please try again."
}
