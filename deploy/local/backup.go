package local

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// Backup is a base backup with the archive of what was written since: as deploy/BACKUP.md
// has it, by the same commands. It is for drills.
type Backup struct {
	p             *Postgres
	base, archive string
}

// Backup begins the archive, which takes a restart, and takes the base.
func (p *Postgres) Backup(ctx context.Context) (*Backup, error) {
	b := &Backup{p: p, base: p.kept.Data + "-base", archive: p.kept.Data + "-archive"}
	if err := giveTo(p.account, b.archive); err != nil {
		return nil, err
	}
	if err := p.exec(ctx, fmt.Sprintf(`alter system set archive_command = 'test ! -f %[1]s/%%f && cp %%p %[1]s/%%f.part && mv %[1]s/%%f.part %[1]s/%%f'`, b.archive)); err != nil {
		return nil, err
	}
	if err := p.exec(ctx, `alter system set archive_mode = on`); err != nil {
		return nil, err
	}
	if err := p.Stop(); err != nil {
		return nil, err
	}
	if err := p.Run(ctx); err != nil {
		return nil, err
	}
	return b, p.command(ctx, filepath.Join(p.bin.bin, "pg_basebackup"), "-d", p.urlOf(superuser, "postgres"), "-D", b.base, "-X", "none", "-c", "fast", "--no-sync")
}

// Archived ends the piece of the log that is being written, and returns when the archive has it.
func (b *Backup) Archived(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, b.p.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var piece string
	if err := conn.QueryRow(ctx, `select pg_walfile_name(pg_switch_wal())`).Scan(&piece); err != nil {
		return err
	}
	for {
		if _, err := os.Stat(filepath.Join(b.archive, piece)); err == nil {
			return nil
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("the archive waits for %s: %w", piece, ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// Restore puts the base in the place of whatever data there is and writes again what the
// archive holds, up to an instant. The server has ended before; it serves when this returns.
func (b *Backup) Restore(ctx context.Context, until time.Time) error {
	if err := os.RemoveAll(b.p.kept.Data); err != nil {
		return err
	}
	if err := giveTo(b.p.account, b.p.kept.Data); err != nil {
		return err
	}
	settings := fmt.Sprintf("restore_command = 'cp %s/%%f %%p'\nrecovery_target_time = '%s'\nrecovery_target_action = 'promote'\n",
		b.archive, until.UTC().Format("2006-01-02 15:04:05.999999+00"))
	script := `cp -a "$1"/. "$2"/ && touch "$2/recovery.signal" && printf '%s' "$3" >> "$2/postgresql.auto.conf"`
	if err := b.p.command(ctx, "/bin/sh", "-c", script, "sh", b.base, b.p.kept.Data, settings); err != nil {
		return err
	}
	if err := b.p.Run(ctx); err != nil {
		return err
	}
	return b.p.promoted(ctx)
}

// Close takes the backup away.
func (b *Backup) Close() error {
	return b.p.command(context.Background(), "/bin/rm", "-rf", b.base, b.archive)
}

// promoted returns when the server takes writes again.
func (p *Postgres) promoted(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, p.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	for {
		var recovering bool
		if err := conn.QueryRow(ctx, `select pg_is_in_recovery()`).Scan(&recovering); err != nil {
			return fmt.Errorf("its log %s ends with:\n%s: %w", p.log, tail(p.log), err)
		}
		if !recovering {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func (p *Postgres) exec(ctx context.Context, sql string) error {
	conn, err := pgx.Connect(ctx, p.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	_, err = conn.Exec(ctx, sql)
	return err
}

// command runs a program as the server's account.
func (p *Postgres) command(ctx context.Context, program string, args ...string) error {
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir, cmd.Env = "/", plainEnv()
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: p.account}
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w\n%s", filepath.Base(program), err, strings.TrimSpace(string(out)))
	}
	return nil
}
