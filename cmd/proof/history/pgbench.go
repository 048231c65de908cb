package history

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/proof/ground"
)

// heard is a tracer that writes down the statements of the last batch.
type heard struct {
	mu    sync.Mutex
	batch []string
}

func (h *heard) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	return ctx
}
func (h *heard) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

func (h *heard) TraceBatchStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.batch = nil
	return ctx
}

func (h *heard) TraceBatchQuery(_ context.Context, _ *pgx.Conn, d pgx.TraceBatchQueryData) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.batch = append(h.batch, written(d.SQL, d.Args))
}
func (h *heard) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

var (
	parameter = regexp.MustCompile(`\$(\d+)`)
	comment   = regexp.MustCompile(`(?m)--.*$`)
)

// written is a statement with its arguments in it, on one line, as pgbench wants it.
func written(sql string, args []any) string {
	text := parameter.ReplaceAllStringFunc(comment.ReplaceAllString(sql, ""), func(p string) string {
		n, _ := strconv.Atoi(p[1:])
		switch v := args[n-1].(type) {
		case uuid.UUID:
			return "'" + v.String() + "'::uuid"
		case bool:
			return strconv.FormatBool(v)
		case string:
			return "'" + v + "'"
		default:
			return fmt.Sprint(v)
		}
	})
	return strings.Join(strings.Fields(text), " ")
}

// bench is pgbench with the statements that the service sends, nothing else between it
// and the database.
type bench struct {
	program, dir string
	db           *url.URL
	files        []string
}

// newBench learns the statements from the service itself: it asks for each vessel once
// and writes what it hears into a script of its own, one pipeline each.
func newBench(ctx context.Context, f ground.Fleet, open func(*heard) (*side, error), appURL string, vessels []uuid.UUID) (*bench, error) {
	program, err := ground.Program("pgbench")
	if err != nil {
		return nil, err
	}
	db, err := url.Parse(appURL)
	if err != nil {
		return nil, err
	}
	ear := &heard{}
	s, err := open(ear)
	if err != nil {
		return nil, err
	}
	defer s.stop()
	dir, err := os.MkdirTemp("", "proof-history-")
	if err != nil {
		return nil, err
	}
	b := &bench{program: program, dir: dir, db: db}
	for k, v := range vessels {
		c, err := call(s.addr)
		if err == nil {
			_, err = c.ask(s.body(v), &strings.Builder{})
			_ = c.conn.Close()
		}
		if err != nil {
			return nil, err
		}
		script := "\\startpipeline\n" + strings.Join(ear.batch, ";\n") + ";\n\\endpipeline\n"
		name := filepath.Join(dir, fmt.Sprintf("vessel%d.sql", k))
		if err := os.WriteFile(name, []byte(script), 0o600); err != nil {
			return nil, err
		}
		b.files = append(b.files, name)
	}
	return b, nil
}

var tps = regexp.MustCompile(`tps = ([0-9.]+)`)

// rate runs pgbench for a while and gives transactions a second.
func (b *bench) rate(ctx context.Context, clients int, d time.Duration) (float64, error) {
	seconds := max(1, int(d.Seconds()+0.5))
	args := []string{"-n", "-M", "prepared", "-c", strconv.Itoa(clients), "-j", strconv.Itoa(min(2, clients)), "-T", strconv.Itoa(seconds)}
	for _, f := range b.files {
		args = append(args, "-f", f)
	}
	args = append(args, "-h", b.db.Hostname(), "-p", b.db.Port(), "-U", b.db.User.Username(), strings.TrimPrefix(b.db.Path, "/"))
	cmd := exec.CommandContext(ctx, b.program, args...)
	password, _ := b.db.User.Password()
	cmd.Env = append(os.Environ(), "PGPASSWORD="+password)
	out, err := cmd.CombinedOutput()
	found := tps.FindSubmatch(out)
	if err != nil || found == nil {
		return 0, fmt.Errorf("pgbench: %w\n%s", err, out)
	}
	return strconv.ParseFloat(string(found[1]), 64)
}

func (b *bench) stop() { _ = os.RemoveAll(b.dir) }
