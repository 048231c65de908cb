package history

import (
	"context"
	"fmt"
	"io"
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

// heard is a tracer that keeps the statements of the last batch.
type heard struct {
	mu    sync.Mutex
	batch []statement
}

// statement is one that the service sent, with its arguments.
type statement struct {
	sql  string
	args []any
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
	h.batch = append(h.batch, statement{d.SQL, d.Args})
}
func (h *heard) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

var (
	parameter = regexp.MustCompile(`\$(\d+)`)
	comment   = regexp.MustCompile(`(?m)--.*$`)
)

// script is the statements as pgbench prepares them: the same text, with a variable for
// each argument. Variables of pgbench that change are numbers, so the vessel is the :n-th
// of a constant list, and nothing but that subscript is added to what the service sends.
type script struct {
	vessel    uuid.UUID // whose history was heard
	list      string    // every vessel asked for, as a constant
	variables []string  // name=value of the other arguments
	lines     []string
}

func (s *script) add(heard statement) {
	line := len(s.lines)
	text := parameter.ReplaceAllStringFunc(comment.ReplaceAllString(heard.sql, ""), func(p string) string {
		n, _ := strconv.Atoi(p[1:])
		if id, is := heard.args[n-1].(uuid.UUID); is && id == s.vessel {
			return s.list + "[:n]"
		}
		return fmt.Sprintf(":a%d_%d", line, n)
	})
	for k, value := range heard.args {
		s.variables = append(s.variables, fmt.Sprintf("a%d_%d=%v", line, k+1, value))
	}
	s.lines = append(s.lines, strings.Join(strings.Fields(text), " ")+";")
}

// bench is pgbench with the statements that the service sends, nothing else between it
// and the database.
type bench struct {
	program, dir string
	db           *url.URL
	file         string
	variables    []string
}

// newBench learns the statements from the service itself: it asks for one vessel, twice,
// since what a practice measured of its own scatter is read once, and writes what it hears into one script, a pipeline with the vessel as a variable. Each
// connection prepares it once, as the service's do.
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
	c, err := call(s.addr)
	if err != nil {
		return nil, err
	}
	defer c.conn.Close()
	for range 2 { // the second is how a service asks that has been up for a moment
		if _, err := c.ask(s.body(vessels[0]), io.Discard); err != nil {
			return nil, err
		}
	}
	said := &script{vessel: vessels[0], list: constant(vessels)}
	for _, one := range ear.batch {
		said.add(one)
	}
	dir, err := os.MkdirTemp("", "proof-history-")
	if err != nil {
		return nil, err
	}
	b := &bench{program: program, dir: dir, db: db, file: filepath.Join(dir, "history.sql"), variables: said.variables}
	text := fmt.Sprintf("\\set n random(1, %d)\n\\startpipeline\n%s\n\\endpipeline\n", len(vessels), strings.Join(said.lines, "\n"))
	return b, os.WriteFile(b.file, []byte(text), 0o600)
}

// constant writes ids as an array that is read when the statement is prepared.
func constant(ids []uuid.UUID) string {
	list := make([]string, len(ids))
	for k, id := range ids {
		list[k] = id.String()
	}
	return "('{" + strings.Join(list, ",") + "}'::uuid[])"
}

var tps = regexp.MustCompile(`tps = ([0-9.]+)`)

// rate runs pgbench for a while and gives transactions a second.
func (b *bench) rate(ctx context.Context, clients int, d time.Duration) (float64, error) {
	seconds := max(1, int(d.Seconds()+0.5))
	args := []string{"-n", "-M", "prepared", "-c", strconv.Itoa(clients), "-j", strconv.Itoa(min(2, clients)), "-T", strconv.Itoa(seconds)}
	for _, v := range b.variables {
		args = append(args, "-D", v)
	}
	args = append(args, "-f", b.file, "-h", b.db.Hostname(), "-p", b.db.Port(), "-U", b.db.User.Username(), strings.TrimPrefix(b.db.Path, "/"))
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
