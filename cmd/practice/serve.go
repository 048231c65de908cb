package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/plain"
	"boottop.example/practice/graph/shed"
	"boottop.example/practice/migrations"
	"boottop.example/practice/store"
	"boottop.example/practice/store/picture"
	"boottop.example/practice/web"
)

// collectAt is how much may be allocated over what is live before memory is collected, in
// percent. A history's answer lives for milliseconds: 400 gave a quarter more answers a
// second for 60 MB than Go's own 100. GOGC in the environment comes first.
const collectAt = 400

// serve answers until it is told to stop.
func serve(ctx context.Context, args, environ []string) error {
	s, err := load("serve", args, environ, append(needsStores, "BOOTTOP_SIGNING_KEY", "BOOTTOP_PUBLIC_URL")...)
	if err != nil {
		return err
	}
	drain, err := time.ParseDuration(s.Drain)
	if err != nil {
		return fmt.Errorf("BOOTTOP_DRAIN: %w", err)
	}
	s.logTo(os.Stderr)
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	slog.Info("starting", s.report()...)
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: s.MaxConns})
	if err != nil {
		return err
	}
	defer db.Close()
	if err := s.checkFiles(ctx); err != nil {
		return err
	}
	watcher := plain.NewWatcher()
	health := &plain.Health{Ready: func(ctx context.Context) error { return db.Door().Ready(ctx, migrations.Version) }}
	watchPool(watcher, db)
	handler, door, err := s.handler(db, watcher, health)
	if err != nil {
		return err
	}
	defer door.Close()
	return s.listen(ctx, watcher, health, handler, drain)
}

// downloadsAtOnce bounds the reports that are held in memory while slow lines take them.
const downloadsAtOnce = 48

// handler puts the routes together.
func (s *settings) handler(db *store.Store, watcher *plain.Watcher, health *plain.Health) (http.Handler, *auth.Auth, error) {
	uses, err := s.practice(db)
	if err != nil {
		return nil, nil, err
	}
	way, err := s.wayIn(db, uses)
	if err != nil {
		return nil, nil, err
	}
	graphql, err := graph.Serve(&graph.Resolver{Practice: uses}, s.Dev, web.Manifest())
	if err != nil {
		return nil, nil, err
	}
	requests, downloads := shed.New(s.AtOnce), shed.New(downloadsAtOnce)
	watcher.Gauge("turned_away", "Callers told to come back since the start.", func() float64 { return float64(requests.Turned() + downloads.Turned()) })
	mux := http.NewServeMux()
	health.Routes(mux)
	way.Routes(mux)
	mux.Handle("/graphql", way.Identify(way.Links(auth.WithShare(graphql.Within(requests)))))
	plain.Reports{Practice: uses, Bound: downloads, Links: way.Links, Secure: strings.HasPrefix(s.PublicURL, "https:")}.Routes(mux, way.Files, way.AsClient)
	plain.Calendars{Practice: uses, Links: way.Links}.Routes(mux)
	plain.Unsubscribe{Practice: uses, Links: way.Links}.Routes(mux)
	plain.Money{Practice: uses, Bound: downloads, Links: way.Links}.Routes(mux, way.Files, way.AsClient)
	plain.Privacy{Practice: uses}.Routes(mux, way.Files)
	if s.Dev {
		mux.Handle("GET /dev/mails", plain.Mails(s.MailDir))
		mux.Handle("GET /dev/", plain.Explorer())
	}
	mux.Handle("/", plain.Client(web.Handler()))
	compressed, err := plain.Compress(plain.Headers(mux, s.PublicURL, s.objects()))
	return compressed, way, err
}

// files is the store of files.
func (s *settings) files() (*store.Objects, error) {
	return store.OpenObjects(store.ObjectsConfig{
		URL: s.store(), PublicURL: s.objects(), Bucket: s.S3Bucket, Region: s.S3Region, Key: string(s.S3Key), Secret: string(s.S3Secret),
	})
}

// checkFilesWithin is how long a start waits to learn whether uploads can be trusted.
const checkFilesWithin = 5 * time.Second

// checkFiles refuses a store of files that does not keep what uploads rest on. One that
// is away for the moment keeps nobody from readings: uploads say so until it is back.
func (s *settings) checkFiles(ctx context.Context) error {
	files, err := s.files()
	if err != nil {
		return err
	}
	limited, cancel := context.WithTimeout(ctx, checkFilesWithin)
	defer cancel()
	err = files.Check(limited)
	if domain.KindOf(err) == domain.Unavailable {
		slog.Warn("the store of files is away: what uploads rest on could not be tried", "error", err)
		return nil
	}
	return err
}

// practice is the use cases over the database and the store of files.
func (s *settings) practice(db *store.Store) (*practice.Service, error) {
	files, err := s.files()
	if err != nil {
		return nil, err
	}
	return practice.New(db, practice.WithObjects(files), practice.WithPictures(picture.Maker{}), practice.WithPublicURL(s.PublicURL)), nil
}

func (s *settings) wayIn(db *store.Store, uses *practice.Service) (*auth.Auth, error) {
	public, err := url.Parse(s.PublicURL)
	if err != nil {
		return nil, err
	}
	seeds := [][]byte{}
	for _, key := range []secret{s.SigningKey, s.SigningKeyOld} {
		if key == "" {
			continue
		}
		raw, err := seed(key)
		if err != nil {
			return nil, err
		}
		seeds = append(seeds, raw)
	}
	keys, err := auth.NewKeys(s.PublicURL, time.Now, seeds...)
	if err != nil {
		return nil, err
	}
	return auth.New(auth.Config{Door: db.Door(), Post: db, Clients: uses, Keys: keys, Public: public, Hops: s.Hops})
}

// objects is the object store as browsers reach it.
func (s *settings) objects() string {
	if s.S3PublicURL != "" {
		return s.S3PublicURL
	}
	return s.store()
}

// store is the object store as the service reaches it; a bare host:port is one of a
// private network, without TLS.
func (s *settings) store() string {
	if s.S3Endpoint != "" && !strings.Contains(s.S3Endpoint, "://") {
		return "http://" + s.S3Endpoint
	}
	return s.S3Endpoint
}

func watchPool(w *plain.Watcher, db *store.Store) {
	w.Gauge("database_connections", "Connections to the database.", func() float64 { return float64(db.Pool().Stat().TotalConns()) })
	w.Gauge("database_connections_used", "Connections in use.", func() float64 { return float64(db.Pool().Stat().AcquiredConns()) })
	w.Gauge("database_waits", "Times a request had to wait for a connection.", func() float64 { return float64(db.Pool().Stat().EmptyAcquireCount()) })
}

// server limits what a connection may cost: a header has five seconds and 12 kB, a
// request half a minute, so that a crowd that sends nothing holds nothing.
func server(handler http.Handler) *http.Server {
	return &http.Server{
		Handler: handler, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second,
		IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 12 << 10,
		ErrorLog: slog.NewLogLogger(slog.Default().Handler(), slog.LevelDebug), // handshakes that strangers break
	}
}

// listen serves until ctx ends; then it says not ready, waits for the balancer to notice,
// and lets what is under way finish.
func (s *settings) listen(ctx context.Context, watcher *plain.Watcher, health *plain.Health, handler http.Handler, drain time.Duration) error {
	main := server(watcher.Watch(handler))
	at, err := net.Listen("tcp", s.Addr)
	if err != nil {
		return err
	}
	slog.Info("serving", "addr", at.Addr().String())
	failed := make(chan error, 2)
	go func() { failed <- main.Serve(at) }()
	if s.MetricsAddr != "" {
		beside, err := net.Listen("tcp", s.MetricsAddr)
		if err != nil {
			return errors.Join(err, main.Close())
		}
		mux := http.NewServeMux()
		mux.Handle("GET /metrics", watcher.Metrics())
		metrics := server(mux)
		defer metrics.Close()
		go func() { failed <- metrics.Serve(beside) }()
	}
	select {
	case err := <-failed:
		return errors.Join(err, main.Close())
	case <-ctx.Done():
	}
	health.Stop()
	slog.Info("stopping")
	time.Sleep(drain)
	finish, cancel := context.WithTimeout(context.WithoutCancel(ctx), 8*time.Second)
	defer cancel()
	if err := main.Shutdown(finish); err != nil {
		return errors.Join(fmt.Errorf("some requests did not finish: %w", err), main.Close())
	}
	slog.Info("stopped")
	return nil
}
