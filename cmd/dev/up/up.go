// Package up starts all of Boottop on one machine: the servers it stands on, the client,
// the service and the demo. What it does once it does not do again, so that a second
// start takes seconds; what it starts ends with it.
package up

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/deploy/local"
	"boottop.example/practice/deploy/local/child"
)

// Options says what to start and where its state goes.
type Options struct {
	Root  string // the clone
	State string // state folder; everything that is kept is in it
	Addr  string // "host:port" to serve at; "" takes 127.0.0.1:8080 or the next free port
	Fresh bool   // throw away what is there and start over
	Tests bool   // the database may lose its last writes in a power cut
	Out   io.Writer
}

// Running is everything, running.
type Running struct {
	Demo Demo // address, sign-ins and development key

	opt      Options
	steps    *Steps
	lock     *os.File
	port     *port
	metrics  int
	services *local.Services
	serve    *child.Proc
	work     *child.Proc
}

// Start starts everything and returns once the page can be opened.
func Start(ctx context.Context, o Options) (*Running, error) {
	r := &Running{opt: o, steps: NewSteps(o.Out)}
	err := r.start(ctx)
	if err != nil {
		return nil, errors.Join(err, r.Stop())
	}
	return r, nil
}

func (r *Running) start(ctx context.Context) error {
	if err := r.takeState(); err != nil {
		return err
	}
	if r.opt.Fresh {
		if err := r.steps.Step("fresh start", r.forget); err != nil {
			return err
		}
	}
	if err := r.takePort(); err != nil {
		return err
	}
	if err := r.gather(ctx); err != nil {
		return err
	}
	for _, s := range []struct {
		name string
		do   func(context.Context) (string, error)
	}{{"database", r.migrate}, {"demo", r.loadDemo}, {"service", r.run}} {
		if err := r.steps.Step(s.name, func() (string, error) { return s.do(ctx) }); err != nil {
			return err
		}
	}
	return r.writeDemo()
}

// gather starts the servers while the programs are built.
func (r *Running) gather(ctx context.Context) error {
	var buildErr error
	built := make(chan struct{})
	go func() {
		defer close(built)
		buildErr = r.build(ctx)
	}()
	err := r.steps.Step("servers", func() (string, error) {
		var err error
		r.services, err = local.Start(ctx, local.Options{
			Dir: r.path("services"), Root: r.opt.Root, Tests: r.opt.Tests,
			Progress: func(text string) { r.steps.Say("%s", text) },
		})
		if err != nil {
			return "", err
		}
		return "PostgreSQL " + r.services.Version + " and an object store", nil
	})
	<-built
	return errors.Join(err, buildErr)
}

// path is a place in the state folder.
func (r *Running) path(name ...string) string {
	return filepath.Join(append([]string{r.opt.State}, name...)...)
}

// ErrRunning means this clone is running already.
var ErrRunning = errors.New("already running")

// takeState makes the state folder this process's own until it ends.
func (r *Running) takeState() error {
	if err := os.MkdirAll(r.opt.State, 0o755); err != nil {
		return err
	}
	lock, err := local.Lock(r.path("run.lock"), false)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		who, _ := os.ReadFile(r.path("run.lock"))
		return fmt.Errorf("this clone is %w: %s. Stop that one first", ErrRunning, strings.TrimSpace(string(who)))
	}
	r.lock = lock
	return err
}

// forget removes all data and keys; what was built stays.
func (r *Running) forget() (string, error) {
	if err := local.Remove(r.path("services")); err != nil {
		return "", err
	}
	for _, name := range []string{"demo.json", "demo.loaded.json", "mail", "signing.key", "log"} {
		if err := os.RemoveAll(r.path(name)); err != nil {
			return "", err
		}
	}
	return "all data and keys removed", nil
}

// takePort decides on the address and notes it where a second start can read it.
func (r *Running) takePort() (err error) {
	if r.port, err = choosePort(r.opt.Addr); err != nil {
		return err
	}
	if r.port.note != "" {
		r.steps.Say("%s", r.port.note)
	}
	_ = r.lock.Truncate(0)
	_, err = r.lock.WriteAt(fmt.Appendf(nil, "process %d at %s\n", os.Getpid(), r.port.url()), 0)
	return err
}

// Wait returns nil when ctx ends, or an error when something that should run ended.
func (r *Running) Wait(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return nil
	case err := <-r.services.Ended():
		return err
	case <-r.serve.Done():
		return fmt.Errorf("the service ended (%v): see %s", r.serve.Err(), r.path("log", "serve.log"))
	case <-r.work.Done():
		return fmt.Errorf("the worker ended (%v): see %s", r.work.Err(), r.path("log", "work.log"))
	}
}

// Stop ends everything, the service before what it stands on, and returns when no
// process is left.
func (r *Running) Stop() error {
	var errs []error
	for _, p := range []*child.Proc{r.serve, r.work} {
		if p != nil {
			errs = append(errs, p.Stop(15*time.Second))
		}
	}
	if r.services != nil {
		errs = append(errs, r.services.Stop())
	}
	if r.port != nil {
		r.port.release()
	}
	if r.lock != nil {
		errs = append(errs, r.lock.Close())
	}
	return errors.Join(errs...)
}

// Folder is the state folder as a person would type it.
func (r *Running) Folder() string {
	if short, err := filepath.Rel(r.opt.Root, r.opt.State); err == nil && !strings.HasPrefix(short, "..") {
		return short
	}
	return r.opt.State
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return !errors.Is(err, fs.ErrNotExist)
}
