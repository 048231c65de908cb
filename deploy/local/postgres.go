package local

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/deploy/local/child"
)

// Database is the name of the service's database.
const Database = "boottop"

// Postgres is a PostgreSQL server with the database and the roles of a deployment.
// Each URL reaches the database as one role.
type Postgres struct {
	AdminURL  string // superuser: for tests of what happens when the server fails
	OwnerURL  string // owns the database, runs the migrations
	AppURL    string // the service
	WorkerURL string // the job queue
	Version   string // e.g. "15.18"

	opt     Options
	kept    keptPostgres
	bin     programs
	account *syscall.Credential
	proc    *child.Proc
	log     string
}

// keptPostgres is remembered from one start to the next.
type keptPostgres struct {
	Data      string            // data folder
	Port      int               // of 127.0.0.1
	Passwords map[string]string // by role
	Made      bool              // initdb has come to its end
	Running   bool              // started and not yet ended in order
}

// superuser is the role that initdb makes.
const superuser = "postgres"

// StartPostgres starts the server alone. The caller sees to it that nobody else starts
// one in o.Dir; Start does.
func StartPostgres(ctx context.Context, o Options) (*Postgres, error) {
	p := &Postgres{opt: o, account: account(), log: filepath.Join(o.Dir, "log", "postgres.log")}
	if err := p.start(ctx); err != nil {
		return nil, fmt.Errorf("start PostgreSQL: %w", err)
	}
	return p, nil
}

func (p *Postgres) start(ctx context.Context) error {
	if err := os.MkdirAll(p.opt.Dir, 0o755); err != nil {
		return err
	}
	if err := load(p.stateFile(), &p.kept); err != nil {
		return err
	}
	if err := p.place(); err != nil {
		return err
	}
	if err := p.clear(); err != nil {
		return err
	}
	if p.opt.Tests && p.kept.Running { // without fsync a kill may have torn its files
		p.kept.Made = false
	}
	major := 0
	if p.kept.Made {
		text, err := os.ReadFile(filepath.Join(p.kept.Data, "PG_VERSION"))
		if err != nil {
			return fmt.Errorf("the data folder is damaged, start over with -fresh: %w", err)
		}
		major, _ = strconv.Atoi(strings.TrimSpace(string(text)))
	}
	var err error
	if p.bin, err = findPrograms(ctx, p.opt, p.account, major); err != nil {
		return err
	}
	p.Version = p.bin.version
	if !p.kept.Made {
		if err := p.initdb(ctx); err != nil {
			return err
		}
	}
	if err := p.Run(ctx); err != nil {
		return err
	}
	if err := p.prepare(ctx); err != nil {
		_ = p.Stop()
		return err
	}
	return nil
}

func (p *Postgres) stateFile() string { return filepath.Join(p.opt.Dir, "postgres.json") }
func (p *Postgres) pidFile() string   { return filepath.Join(p.opt.Dir, "postgres.pid") }
func (p *Postgres) save() error       { return save(p.stateFile(), p.kept) }

// place chooses the data folder: in the state folder, or, where the account cannot
// enter that (a clone in root's home, say), in /var/tmp.
func (p *Postgres) place() error {
	if p.kept.Data == "" {
		dir, err := filepath.Abs(p.opt.Dir)
		if err != nil {
			return err
		}
		if dir, err = filepath.EvalSymlinks(dir); err != nil {
			return err
		}
		p.kept.Data = filepath.Join(dir, "postgres")
		if !reaches(p.account, dir) {
			p.kept.Data = fmt.Sprintf("/var/tmp/boottop-%x", sha256.Sum256([]byte(dir)))[:30]
		}
		p.kept.Passwords = map[string]string{superuser: secret(), "owner": secret(), "app": secret(), "worker": secret()}
	}
	if err := giveTo(p.account, p.kept.Data); err != nil {
		return fmt.Errorf("make the data folder: %w", err)
	}
	return nil
}

// clear ends what a killed run left: the server, by its pid file or by the folder it
// works in, and then the note PostgreSQL leaves for itself.
func (p *Postgres) clear() error {
	if err := child.Clear(p.pidFile(), syscall.SIGINT, patience); err != nil {
		return err
	}
	if p.kept.Data == "" {
		return nil
	}
	for _, pid := range child.In(p.kept.Data) {
		if err := child.End(pid, syscall.SIGQUIT, 5*time.Second); err != nil {
			return err
		}
	}
	if err := os.Remove(filepath.Join(p.kept.Data, "postmaster.pid")); err != nil && !os.IsNotExist(err) {
		return err
	}
	return nil
}

// Run starts the server again after Stop or Kill, on the same port and data.
func (p *Postgres) Run(ctx context.Context) error {
	var err error
	for range 3 { // another program may take the port between the look and the start
		if p.kept.Port, err = keepPort(p.kept.Port); err != nil {
			return err
		}
		p.kept.Running = true
		if err := p.save(); err != nil {
			return err
		}
		if err = p.run(ctx); err == nil || ctx.Err() != nil || !strings.Contains(tail(p.log), "could not bind") {
			return err
		}
		p.kept.Port = 0
	}
	return err
}

func (p *Postgres) run(ctx context.Context) error {
	log, err := openLog(p.log)
	if err != nil {
		return err
	}
	defer log.Close()
	p.proc, err = child.Start(child.Spec{
		Path: filepath.Join(p.bin.bin, "postgres"), Args: p.settings(), Dir: "/", Env: plainEnv(),
		Output: log, PidFile: p.pidFile(), Stop: syscall.SIGINT, Account: p.account,
	})
	if err != nil {
		return err
	}
	p.AdminURL, p.OwnerURL, p.AppURL, p.WorkerURL = p.url(superuser), p.url("owner"), p.url("app"), p.url("worker")
	if err := p.wait(ctx); err != nil {
		_ = p.proc.Stop(patience)
		return err
	}
	return nil
}

// settings are the server's, as arguments, so that nothing in the data folder is edited.
func (p *Postgres) settings() []string {
	set := []string{
		"listen_addresses=127.0.0.1", "port=" + strconv.Itoa(p.kept.Port),
		"unix_socket_directories=", // its path may be too long, and loopback does
		"max_connections=100", "shared_buffers=256MB", "timezone=UTC", "log_timezone=UTC",
		"log_line_prefix=%m [%p] %q%u@%d ", "jit=off",
	}
	if p.opt.Tests {
		set = append(set, "max_connections=400", "shared_buffers=128MB", "fsync=off",
			"synchronous_commit=off", "full_page_writes=off", "max_wal_size=2GB")
	}
	args := []string{"-D", p.kept.Data}
	for _, s := range set {
		args = append(args, "-c", s)
	}
	return args
}

func (p *Postgres) url(role string) string { return p.urlOf(role, Database) }

func (p *Postgres) urlOf(role, database string) string {
	u := url.URL{
		Scheme: "postgres", User: url.UserPassword(role, p.kept.Passwords[role]),
		Host: "127.0.0.1:" + strconv.Itoa(p.kept.Port), Path: database, RawQuery: "sslmode=disable",
	}
	return u.String()
}

// Stop ends the server in order. A client that is still connected loses its connection.
func (p *Postgres) Stop() error {
	if p.proc == nil {
		return nil
	}
	if err := p.proc.Stop(patience); err != nil {
		return err
	}
	if p.proc.Err() == nil {
		p.kept.Running = false
	}
	p.proc = nil
	return p.save()
}

// Crash ends the server as a power cut of its process would, without writing anything
// down, and returns when it is gone; Run starts it again. For tests of that.
func (p *Postgres) Crash() error {
	_ = p.proc.Signal(syscall.SIGQUIT)
	select {
	case <-p.proc.Done():
		return nil
	case <-time.After(patience):
		return errors.New("PostgreSQL does not end")
	}
}
