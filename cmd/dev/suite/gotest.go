package suite

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"time"

	"boottop.example/practice/deploy/local/child"
)

func goTests(ctx context.Context, b *bench) (count, error) {
	return b.goTest(ctx, nil, "./...")
}

// onePool is promise D2: nothing takes a second connection inside a transaction.
func onePool(ctx context.Context, b *bench) (count, error) {
	return b.goTest(ctx, []string{"BOOTTOP_TEST_POOL=1"}, "./store/...", "./domain/practice/...", "./graph/...")
}

// goTest leaves out the vetting that go test does, since vet is a part of its own and does
// more, and what a debugger needs of a test program.
func (b *bench) goTest(ctx context.Context, env []string, packages ...string) (count, error) {
	servers, err := b.servers(ctx)
	if err != nil {
		return count{}, err
	}
	args := append([]string{"test", "-json", "-count=1", "-vet=off", "-ldflags=-w", "-timeout", "30m"}, packages...)
	cmd := child.Tie(exec.CommandContext(ctx, "go", args...))
	cmd.Dir, cmd.Env = b.root, append(slices.Clip(servers), env...)
	out, err := cmd.StdoutPipe()
	if err != nil {
		return count{}, err
	}
	var complaints strings.Builder
	cmd.Stderr = &complaints
	if err := cmd.Start(); err != nil {
		return count{}, err
	}
	tally := newTally()
	tally.progress = func(text string) { b.steps.Say("%s", text) }
	readErr := tally.read(out)
	err = cmd.Wait()
	c := tally.count()
	fmt.Fprint(b.out, tally.failures())
	if err != nil && c.failed == 0 {
		return c, fmt.Errorf("go test: %w\n%s", err, complaints.String())
	}
	return c, readErr
}

// event is a line of `go test -json` (go doc test2json).
type event struct {
	Action, Package, Test, Output, ImportPath string
	FailedBuild                               string
}

// tally counts tests from their events. A test that only gathers others (t.Run) does
// not count beside them.
type tally struct {
	result   map[string]string // by package and test: pass, fail, skip
	output   map[string][]string
	parents  map[string]bool
	broken   []string // packages that failed outside any test
	packages int
	progress func(string)
	spoke    time.Time
}

func newTally() *tally {
	return &tally{result: map[string]string{}, output: map[string][]string{}, parents: map[string]bool{}, progress: func(string) {}, spoke: time.Now()}
}

func (t *tally) read(r io.Reader) error {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 16<<20)
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			continue // words of the go command itself
		}
		t.take(e)
		if time.Since(t.spoke) > 30*time.Second {
			t.spoke = time.Now()
			t.progress(fmt.Sprintf("%d packages and %d tests so far", t.packages, len(t.result)-len(t.parents)))
		}
	}
	return lines.Err()
}

func (t *tally) take(e event) {
	id := e.Package + "\x00" + e.Test
	switch e.Action {
	case "output":
		t.output[id] = append(t.output[id], e.Output)
	case "build-output":
		t.output[e.ImportPath] = append(t.output[e.ImportPath], e.Output)
	case "pass", "fail", "skip":
		if e.Test != "" {
			t.result[id] = e.Action
			for name := e.Test; strings.Contains(name, "/"); {
				name = name[:strings.LastIndexByte(name, '/')]
				t.parents[e.Package+"\x00"+name] = true
			}
			return
		}
		t.packages++
		if e.Action == "fail" && !t.blamed(e.Package) {
			t.broken = append(t.broken, id)
			t.output[id] = append(t.output[id], t.output[e.FailedBuild]...)
		}
	}
}

// blamed says whether a failed test explains why the package failed.
func (t *tally) blamed(pkg string) bool {
	for id, result := range t.result {
		if result == "fail" && strings.HasPrefix(id, pkg+"\x00") {
			return true
		}
	}
	return false
}

// counts says whether a test counts: all but those that only gather others, unless one
// failed by itself.
func (t *tally) counts(id string) bool {
	if !t.parents[id] {
		return true
	}
	if t.result[id] != "fail" {
		return false
	}
	for other, result := range t.result {
		if result == "fail" && strings.HasPrefix(other, id+"/") {
			return false
		}
	}
	return true
}

func (t *tally) count() count {
	c := count{failed: len(t.broken)}
	for id, result := range t.result {
		if !t.counts(id) {
			continue
		}
		c.add(map[string]count{"pass": {passed: 1}, "fail": {failed: 1}, "skip": {skipped: 1}}[result])
	}
	return c
}

// failures is what the failed tests printed.
func (t *tally) failures() string {
	failed := slices.Clone(t.broken)
	for id, result := range t.result {
		if result == "fail" && t.counts(id) {
			failed = append(failed, id)
		}
	}
	slices.Sort(failed)
	var text strings.Builder
	for _, id := range failed {
		fmt.Fprintf(&text, "\n--- %s\n%s", strings.ReplaceAll(id, "\x00", " "), strings.Join(t.output[id], ""))
	}
	return text.String()
}

// proofLine is what cmd/proof prints for each proof of `all`.
var proofLine = regexp.MustCompile(`^(\S+) +(held|BROKEN|COULD NOT RUN) in `)

// proofs run in their short form, each a test.
func proofs(ctx context.Context, b *bench) (count, error) {
	servers, err := b.servers(ctx)
	if err != nil {
		return count{}, err
	}
	cmd := child.Tie(exec.CommandContext(ctx, "go", "run", "./cmd/proof", "-short", "all"))
	cmd.Dir, cmd.Env = b.root, servers
	out, err := cmd.CombinedOutput()
	c := countProofs(string(out))
	for line := range strings.Lines(string(out)) {
		if proofLine.MatchString(line) {
			b.steps.Say("%s", strings.TrimSpace(line))
		}
	}
	if err != nil {
		return c, fmt.Errorf("go run ./cmd/proof -short all: %w\n%s", err, out)
	}
	return c, nil
}

func countProofs(out string) (c count) {
	for line := range strings.Lines(out) {
		if found := proofLine.FindStringSubmatch(line); found != nil {
			c.add(verdict(found[2] == "held"))
		}
	}
	return c
}

// check runs a program that succeeds or fails as a whole, and shows its output when it
// fails.
func (b *bench) check(ctx context.Context, dir, name string, args ...string) (count, error) {
	cmd := child.Tie(exec.CommandContext(ctx, name, args...))
	cmd.Dir, cmd.Env = dir, b.env
	out, err := cmd.CombinedOutput()
	if err != nil {
		return verdict(false), fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, out)
	}
	return verdict(true), nil
}
