package plain

import (
	"crypto/rand"
	"errors"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"boottop.example/practice/graph/answer"
)

// Watcher writes one line and counts one sample for each request. Both name the route's
// pattern and the operation by a name of ours, never the path or the document: a path may
// hold a link's secret, and a label that strangers choose is a series that they mint.
type Watcher struct {
	registry *prometheus.Registry
	requests *prometheus.CounterVec
	seconds  *prometheus.HistogramVec
	underway prometheus.Gauge
}

// NewWatcher makes the metrics of one process.
func NewWatcher() *Watcher {
	w := &Watcher{
		registry: prometheus.NewRegistry(),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "boottop_requests_total", Help: "Requests answered."},
			[]string{"route", "operation", "status"}),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name: "boottop_request_seconds", Help: "Time from the first header to the end of the answer.",
			Buckets: []float64{.002, .005, .01, .02, .05, .1, .2, .5, 1, 2, 5, 10},
		}, []string{"route", "operation"}),
		underway: prometheus.NewGauge(prometheus.GaugeOpts{Name: "boottop_requests_underway", Help: "Requests being answered."}),
	}
	w.registry.MustRegister(w.requests, w.seconds, w.underway, collectors.NewGoCollector(), collectors.NewBuildInfoCollector(),
		collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return w
}

// Gauge adds a figure that is read when asked for, such as connections in use.
func (m *Watcher) Gauge(name, help string, read func() float64) {
	m.registry.MustRegister(prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: "boottop_" + name, Help: help}, read))
}

// Metrics is the handler of GET /metrics, for a listener that strangers cannot reach.
func (m *Watcher) Metrics() http.Handler {
	return promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{})
}

// Watch gives each request an id, contains its panic, and tells the log and the metrics.
// next must be the router itself, or pass its own *http.Request on to it, because the
// router notes the route there.
func (m *Watcher) Watch(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		seen := &answer.Seen{ID: strings.ToLower(rand.Text()[:12])}
		r = r.WithContext(answer.WithSeen(r.Context(), seen))
		out := &counted{ResponseWriter: w}
		out.Header().Set("X-Request-Id", seen.ID)
		start := time.Now()
		m.underway.Inc()
		defer func() {
			m.underway.Dec()
			p := recover()
			if p != nil && p != http.ErrAbortHandler { //nolint:errorlint // a sentinel that is panicked with as it is
				contain(out, r, p)
			}
			m.tell(r, seen, out, time.Since(start))
			if p == http.ErrAbortHandler { //nolint:errorlint // as above
				panic(p)
			}
		}()
		next.ServeHTTP(out, r)
	})
}

// contain answers what a panic left unanswered. The stack goes to the log under the id
// that the caller is given.
func contain(w *counted, r *http.Request, p any) {
	slog.ErrorContext(r.Context(), "panic", "request", answer.Request(r.Context()), "panic", p, "stack", string(debug.Stack()))
	if w.status == 0 {
		answer.Fault(w, r, errors.New("a panic was contained"))
	}
}

func (m *Watcher) tell(r *http.Request, seen *answer.Seen, out *counted, took time.Duration) {
	status := out.status
	if status == 0 {
		status = http.StatusOK
	}
	route := r.Pattern
	if route == "" {
		route = "none"
	}
	m.requests.WithLabelValues(route, seen.Operation, strconv.Itoa(status)).Inc()
	m.seconds.WithLabelValues(route, seen.Operation).Observe(took.Seconds())
	level := slog.LevelInfo
	if status >= 500 {
		level = slog.LevelError
	} else if route == "GET /healthz" || route == "GET /readyz" {
		level = slog.LevelDebug
	}
	line := []any{"request", seen.ID, "route", route, "status", status, "bytes", out.bytes, "ms", float64(took.Microseconds()) / 1000}
	if seen.Operation != "" {
		line = append(line, "operation", seen.Operation)
	}
	if seen.Actor.Member != uuid.Nil {
		line = append(line, "practice", seen.Actor.Practice, "member", seen.Actor.Member, "by", seen.Actor.Means)
	}
	slog.Log(r.Context(), level, "request", line...)
}

// counted remembers what was answered.
type counted struct {
	http.ResponseWriter
	status int
	bytes  int64
}

func (c *counted) WriteHeader(status int) {
	if c.status == 0 && status >= 200 {
		c.status = status
	}
	c.ResponseWriter.WriteHeader(status)
}

func (c *counted) Write(b []byte) (int, error) {
	if c.status == 0 {
		c.status = http.StatusOK
	}
	n, err := c.ResponseWriter.Write(b)
	c.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach what is below.
func (c *counted) Unwrap() http.ResponseWriter { return c.ResponseWriter }
