package local

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/deploy"
)

// initdb makes an empty data folder into one of PostgreSQL's.
func (p *Postgres) initdb(ctx context.Context) error {
	if err := os.RemoveAll(p.kept.Data); err != nil {
		return err
	}
	if err := giveTo(p.account, p.kept.Data); err != nil {
		return err
	}
	word, err := p.passwordFile()
	if err != nil {
		return err
	}
	defer os.Remove(word)
	args := []string{
		"-D", p.kept.Data, "-U", superuser, "--pwfile=" + word,
		"--auth=scram-sha-256", "--encoding=UTF8", "--locale=C", "--data-checksums",
	}
	if p.opt.Tests {
		args = append(args, "--no-sync")
	}
	cmd := exec.CommandContext(ctx, filepath.Join(p.bin.bin, "initdb"), args...)
	cmd.Dir, cmd.Env = "/", plainEnv()
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: p.account}
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w\n%s", err, out)
	}
	p.kept.Made = true
	return p.save()
}

// passwordFile holds the superuser's password where initdb's account can read it.
func (p *Postgres) passwordFile() (string, error) {
	f, err := os.CreateTemp("", "boottop-*")
	if err != nil {
		return "", err
	}
	defer f.Close()
	if p.account != nil {
		if err := f.Chown(int(p.account.Uid), int(p.account.Gid)); err != nil {
			return "", err
		}
	}
	_, err = f.WriteString(p.kept.Passwords[superuser] + "\n")
	return f.Name(), err
}

// plainEnv is the environment without PG… variables, which would steer the server, and
// without a locale this machine may not have.
func plainEnv() []string {
	var env []string
	for _, e := range os.Environ() {
		if !strings.HasPrefix(e, "PG") && !strings.HasPrefix(e, "LC_") && !strings.HasPrefix(e, "LANG") {
			env = append(env, e)
		}
	}
	return append(env, "LC_ALL=C")
}

// wait returns once the server answers; after a crash it first repairs itself.
func (p *Postgres) wait(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	for {
		conn, err := pgx.Connect(ctx, p.urlOf(superuser, "postgres"))
		if err == nil {
			return conn.Close(ctx)
		}
		select {
		case <-p.proc.Done():
			return fmt.Errorf("it ended at once, its log %s ends with:\n%s", p.log, tail(p.log))
		case <-ctx.Done():
			return fmt.Errorf("it does not answer: %w", err)
		case <-time.After(25 * time.Millisecond):
		}
	}
}

// prepare makes the database and the roles, and gives the roles their passwords. Done
// again it changes nothing, so a start that was cut short is no trouble.
func (p *Postgres) prepare(ctx context.Context) error {
	server, err := pgx.Connect(ctx, p.urlOf(superuser, "postgres"))
	if err != nil {
		return err
	}
	defer server.Close(ctx)
	var there bool
	if err := server.QueryRow(ctx, `select exists (select from pg_database where datname = $1)`, Database).Scan(&there); err != nil {
		return err
	}
	if !there {
		if _, err := server.Exec(ctx, `create database `+Database); err != nil {
			return err
		}
	}
	conn, err := pgx.Connect(ctx, p.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	if _, err := conn.Exec(ctx, deploy.Roles); err != nil {
		return fmt.Errorf("make the roles: %w", err)
	}
	for _, role := range []string{"owner", "app", "worker"} {
		// The password is letters and digits of our own (secret), so it needs no escaping,
		// and a parameter is not possible here.
		_, err := conn.Exec(ctx, fmt.Sprintf(`alter role %s password '%s'`, role, p.kept.Passwords[role]))
		if err != nil {
			return errors.Join(errors.New("give a role its password"), err)
		}
	}
	return nil
}
