package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivertype"
)

// Handler does one kind of job. A job may run more than once, and after a fault runs
// again later; an error worth no second try is wrapped with Hopeless.
type Handler func(ctx context.Context, args json.RawMessage) error

// Hopeless marks an error after which a job is not tried again.
func Hopeless(err error) error { return river.JobCancel(err) }

// HandlerOf reads a job's arguments for fn.
func HandlerOf[T any](fn func(context.Context, T) error) Handler {
	return func(ctx context.Context, raw json.RawMessage) error {
		var args T
		if err := json.Unmarshal(raw, &args); err != nil {
			return Hopeless(fmt.Errorf("read job: %w", err))
		}
		return fn(ctx, args)
	}
}

// What jobs are given: two minutes to run, and another process takes over what one that
// was killed left behind after five. Jobs under way have eight seconds once Work is to end.
const (
	jobTimeout  = 2 * time.Minute
	rescueAfter = 5 * time.Minute
	softStop    = 8 * time.Second
)

// Work does jobs until ctx ends. url logs in as role worker, which sees the queue alone;
// handlers reach practices through a Store of their own. atOnce is how many run together.
func Work(ctx context.Context, url string, atOnce int, handlers map[string]Handler) error {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return errors.New("work: the database URL cannot be read")
	}
	config.ConnConfig.RuntimeParams["application_name"] = "boottop worker"
	brake(config.ConnConfig)
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return fmt.Errorf("work: %w", err)
	}
	defer pool.Close()
	client, err := river.NewClient(riverpgxv5.New(pool), &river.Config{
		Schema: "queue", Logger: slog.Default(), Workers: workers(handlers),
		Queues:     map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: atOnce}},
		JobTimeout: jobTimeout, RescueStuckJobsAfter: rescueAfter, SoftStopTimeout: softStop, ErrorHandler: faults{},
	})
	if err != nil {
		return fmt.Errorf("work: %w", err)
	}
	// Once ctx ends, River stops fetching and lets jobs finish for softStop.
	if err := client.Start(ctx); err != nil {
		return fmt.Errorf("work: %w", err)
	}
	<-client.Stopped()
	return nil
}

func workers(handlers map[string]Handler) *river.Workers {
	all := river.NewWorkers()
	for kind, handler := range handlers {
		// The kind is known from the map and not from a Go type, hence the variant that
		// takes an example of the arguments.
		river.AddWorkerArgs(all, job{kind: kind}, &worker{handler: handler})
	}
	return all
}

// job is the arguments of any kind, as they were written.
type job struct {
	kind string
	raw  json.RawMessage
}

func (j job) Kind() string { return j.kind }

func (j *job) UnmarshalJSON(raw []byte) error {
	j.raw = append(json.RawMessage(nil), raw...)
	return nil
}

type worker struct {
	river.WorkerDefaults[job]
	handler Handler
}

func (w *worker) Work(ctx context.Context, j *river.Job[job]) error {
	return w.handler(ctx, j.Args.raw)
}

// faults tells the log of jobs that failed: their id and kind, never their arguments.
type faults struct{}

func (faults) HandleError(ctx context.Context, j *rivertype.JobRow, err error) *river.ErrorHandlerResult {
	slog.ErrorContext(ctx, "job failed", "job", j.ID, "kind", j.Kind, "attempt", j.Attempt, "error", err)
	return nil
}

func (faults) HandlePanic(ctx context.Context, j *rivertype.JobRow, value any, trace string) *river.ErrorHandlerResult {
	slog.ErrorContext(ctx, "job panicked", "job", j.ID, "kind", j.Kind, "attempt", j.Attempt, "panic", value, "stack", trace)
	return nil
}

var _ river.ErrorHandler = faults{}
