package plain

import (
	"context"
	"log/slog"
	"net/http"
	"sync/atomic"
	"time"

	"boottop.example/practice/graph/answer"
)

// Health tells a supervisor two things: that the process lives (GET /healthz), and that
// it can serve (GET /readyz): its database answers within a second and has the form this
// program knows. An object store that is away leaves it ready, because most work goes on.
type Health struct {
	// Ready asks the database.
	Ready    func(context.Context) error
	stopping atomic.Bool
}

// Stop makes the service not ready, before it stops taking requests.
func (h *Health) Stop() { h.stopping.Store(true) }

// Routes adds the two.
func (h *Health) Routes(mux *http.ServeMux) {
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, _ *http.Request) {
		answer.JSON(w, http.StatusOK, map[string]bool{"alive": true})
	})
	mux.HandleFunc("GET /readyz", h.ready)
}

func (h *Health) ready(w http.ResponseWriter, r *http.Request) {
	if h.stopping.Load() {
		answer.JSON(w, http.StatusServiceUnavailable, map[string]any{"ready": false, "because": "stopping"})
		return
	}
	ctx, cancel := context.WithTimeout(r.Context(), time.Second)
	defer cancel()
	if err := h.Ready(ctx); err != nil {
		slog.WarnContext(ctx, "not ready", "request", answer.Request(ctx), "error", err)
		answer.JSON(w, http.StatusServiceUnavailable, map[string]any{"ready": false, "because": "database"})
		return
	}
	answer.JSON(w, http.StatusOK, map[string]bool{"ready": true})
}
