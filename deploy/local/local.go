// Package local starts what Boottop stands on, PostgreSQL and an object store that
// speaks S3, on one machine for developers and tests. Both are real, listen on loopback
// only, on ports of their own, and keep everything in one state folder; several clones
// run side by side. A deployment brings its own servers and needs nothing from here.
package local

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"time"
)

// Options says where the services live. Dir is required.
type Options struct {
	Dir string // state folder, made when absent; only one process uses it at a time
	// Root is the clone, whose deploy/tools.mod names the object store's version; ""
	// looks for it from the working folder upwards.
	Root string
	// Tests trades safety against power cuts for speed. Such a database is made anew
	// after every end that was not orderly.
	Tests bool
	// Progress hears of work that takes long, e.g. a first build. May be nil, and may be
	// called from two goroutines at once.
	Progress func(string)
}

func (o Options) say(format string, args ...any) {
	if o.Progress != nil {
		o.Progress(fmt.Sprintf(format, args...))
	}
}

// Services is both services, running.
type Services struct {
	*Postgres
	*Store
	unlock func()
}

// Start starts both services side by side and returns once both answer. Whatever an
// earlier run left behind, after a kill or a power cut, is cleared first.
func Start(ctx context.Context, o Options) (*Services, error) {
	unlock, err := lockDir(o.Dir)
	if err != nil {
		return nil, err
	}
	s := &Services{unlock: unlock}
	var storeErr, postgresErr error
	done := make(chan struct{})
	go func() {
		defer close(done)
		s.Store, storeErr = StartStore(ctx, o)
	}()
	s.Postgres, postgresErr = StartPostgres(ctx, o)
	<-done
	if err := errors.Join(postgresErr, storeErr); err != nil {
		_ = s.Stop()
		return nil, err
	}
	return s, nil
}

// Stop ends both services and returns when no process of theirs is left.
func (s *Services) Stop() error {
	var errs []error
	if s.Store != nil {
		errs = append(errs, s.Store.Stop())
	}
	if s.Postgres != nil {
		errs = append(errs, s.Postgres.Stop())
	}
	s.unlock()
	return errors.Join(errs...)
}

// Ended receives an error when one of the services ends.
func (s *Services) Ended() <-chan error {
	ended := make(chan error, 1)
	postgres, store := s.Postgres.proc.Done(), s.Store.proc.Done()
	go func() {
		select {
		case <-postgres:
			ended <- fmt.Errorf("PostgreSQL ended: see %s", s.Postgres.log)
		case <-store:
			ended <- fmt.Errorf("the object store ended: see %s", s.Store.log)
		}
	}()
	return ended
}

// Remove ends what an earlier run left in a state folder and removes it with all data.
func Remove(dir string) error {
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	unlock, err := lockDir(dir)
	if err != nil {
		return err
	}
	defer unlock()
	p := &Postgres{opt: Options{Dir: dir}}
	if err := load(p.stateFile(), &p.kept); err != nil {
		return err
	}
	s := &Store{opt: Options{Dir: dir}}
	if err := errors.Join(p.clear(), s.clear()); err != nil {
		return err
	}
	if p.kept.Data != "" {
		if err := os.RemoveAll(p.kept.Data); err != nil {
			return err
		}
	}
	return os.RemoveAll(dir)
}

// freePort asks the kernel for a port of 127.0.0.1 that nobody has.
func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, fmt.Errorf("find a free port: %w", err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}

// keepPort returns port if it is free, else another: addresses stay the same from one
// start to the next wherever possible.
func keepPort(port int) (int, error) {
	if port != 0 {
		if l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port)); err == nil {
			_ = l.Close()
			return port, nil
		}
	}
	return freePort()
}

// load reads what an earlier start remembered into v; nothing remembered is no error.
func load(name string, v any) error {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if err := json.Unmarshal(text, v); err != nil {
		return fmt.Errorf("%s cannot be read (%w): start over with -fresh", name, err)
	}
	return nil
}

// save writes v for this user alone, whole or not at all.
func save(name string, v any) error {
	text, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(name+".new", append(text, '\n'), 0o600); err != nil {
		return err
	}
	return os.Rename(name+".new", name)
}

// openLog opens a log to append to; one that has grown past 8 MB starts again.
func openLog(name string) (*os.File, error) {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return nil, err
	}
	mode := os.O_CREATE | os.O_WRONLY | os.O_APPEND
	if info, err := os.Stat(name); err == nil && info.Size() > 8<<20 {
		mode |= os.O_TRUNC
	}
	return os.OpenFile(name, mode, 0o644)
}

// tail is the end of a log, for an error message.
func tail(name string) string {
	text, _ := os.ReadFile(name)
	const most = 2000
	if len(text) > most {
		text = text[len(text)-most:]
	}
	return string(text)
}

func secret() string { return rand.Text() }

// patience is how long a server may take to start or to end: long, since a machine that
// is busy with something else is no reason to give up.
const patience = 2 * time.Minute
