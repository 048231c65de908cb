// Package suite runs every test of the project, part by part.
package suite

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/deploy/local"
)

// count is what a part found. A check that is no test counts as one.
type count struct{ passed, failed, skipped int }

func (c *count) add(d count) {
	c.passed += d.passed
	c.failed += d.failed
	c.skipped += d.skipped
}

// verdict is the count of a check that holds or does not.
func verdict(holds bool) count {
	if holds {
		return count{passed: 1}
	}
	return count{failed: 1}
}

// part is one line of the run.
type part struct {
	name string
	what string
	// needs names a path in the clone without which there is nothing to test.
	needs string
	lane  lane
	run   func(context.Context, *bench) (count, error)
}

// lane says what a part may run beside. Those without one run by themselves; after them
// the others, each lane in its order and the lanes beside each other: a page waits for
// answers most of its time, and the Go tests take the core that waits.
type lane int

const (
	alone lane = iota
	onServers
	onDemo
)

// parts in the order they run: what fails fast comes first. What writes into the clone, or
// fills both cores by itself, is alone.
var parts = []part{
	{"format", "gofumpt has nothing to change", "go.mod", alone, format},
	{"vet", "go vet", "go.mod", alone, vet},
	{"static", "staticcheck", "go.mod", alone, static},
	{"lint", "Biome and the TypeScript compiler", "web/package.json", alone, lint},
	{"unit", "the client's unit tests", "web/package.json", alone, unit},
	{"generated", "generated code is what its sources say", "graph/gqlgen.yml", alone, generated},
	{"client", "the client builds", "web/package.json", alone, client},
	{"go", "every Go test, on a real PostgreSQL and a real object store", "go.mod", onServers, goTests},
	{"pool", "the store's tests with one connection for each process", "store", onServers, onePool},
	{"proofs", "the short forms of the proofs", "cmd/proof", onServers, proofs},
	{"audits", "GraphQL over HTTP, by its reference audits", "go.mod", onDemo, audits},
	{"browser", "the main job through the page, in Chromium", "web/tests/browser", onDemo, browser},
}

// bench is what the parts share: where they work and what they started.
type bench struct {
	root  string
	out   io.Writer
	steps *up.Steps
	env   []string

	testing []string    // env with the addresses of the servers, once they run; of their lane alone
	demo    *up.Running // of its lane alone
	closing sync.Mutex
	close   []func() error // what was started, to be stopped in the other order
}

// started notes what is to be stopped in the end.
func (b *bench) started(stop func() error) {
	b.closing.Lock()
	defer b.closing.Unlock()
	b.close = append(b.close, stop)
}

// Main runs the parts that args ask for, all of them without any, and prints the sum.
func Main(ctx context.Context, root string, args []string) error {
	flags := flag.NewFlagSet("dev test", flag.ExitOnError)
	only := flags.String("only", "", "run only these `parts`, by name, with commas between")
	list := flags.Bool("list", false, "name the parts")
	_ = flags.Parse(args) // ExitOnError
	if *list {
		for _, p := range parts {
			fmt.Printf("%-10s %s\n", p.name, p.what)
		}
		return nil
	}
	chosen, err := choose(root, *only)
	if err != nil {
		return err
	}
	b := &bench{root: root, out: os.Stdout, steps: up.NewSteps(os.Stdout), env: os.Environ()}
	sum, err := b.all(ctx, chosen)
	if sum.skipped > 0 {
		b.steps.Say("%d tests were skipped, each says why: go test -v", sum.skipped)
	}
	fmt.Printf("\n%d passed, %d failed\n", sum.passed, sum.failed)
	if err == nil && sum.failed > 0 {
		os.Exit(1) // the line above is the last
	}
	return err
}

func choose(root, only string) ([]part, error) {
	var chosen []part
	names := strings.FieldsFunc(only, func(r rune) bool { return r == ',' })
	for _, p := range parts {
		if i := slices.Index(names, p.name); i >= 0 {
			names = slices.Delete(names, i, i+1)
		} else if only != "" {
			continue
		}
		if _, err := os.Stat(filepath.Join(root, p.needs)); err == nil {
			chosen = append(chosen, p)
		}
	}
	if len(names) > 0 {
		return nil, fmt.Errorf("no part is called %s: see -list", strings.Join(names, ", "))
	}
	return chosen, nil
}

func (b *bench) all(ctx context.Context, chosen []part) (sum count, err error) {
	defer func() {
		for _, stop := range slices.Backward(b.close) {
			err = errors.Join(err, stop())
		}
	}()
	begin := time.Now()
	for _, stage := range stages(chosen) {
		found := make([]count, len(stage))
		var lanes sync.WaitGroup
		for k, lane := range stage {
			lanes.Go(func() { found[k] = b.along(ctx, lane, chosen) })
		}
		lanes.Wait()
		for _, c := range found {
			sum.add(c)
		}
		if ctx.Err() != nil {
			return sum, errors.New("stopped before the end")
		}
	}
	b.steps.Say("%d parts in %.0f s", len(chosen), time.Since(begin).Seconds())
	return sum, nil
}

// stages are what runs beside each other: each part by itself, then all lanes.
func stages(chosen []part) (all [][][]part) {
	lanes := map[lane][]part{}
	for _, p := range chosen {
		if p.lane == alone {
			all = append(all, [][]part{{p}})
		} else {
			lanes[p.lane] = append(lanes[p.lane], p)
		}
	}
	return append(all, slices.Collect(maps.Values(lanes)))
}

// along runs the parts of a lane one after the other.
func (b *bench) along(ctx context.Context, lane, chosen []part) (sum count) {
	for _, p := range lane {
		at := slices.IndexFunc(chosen, func(other part) bool { return other.name == p.name })
		b.steps.Say("%d of %d, %s: %s", at+1, len(chosen), p.name, p.what)
		sum.add(b.one(ctx, p))
		if ctx.Err() != nil {
			break
		}
	}
	return sum
}

func (b *bench) one(ctx context.Context, p part) count {
	var c count
	err := b.steps.Step(p.name, func() (string, error) {
		var err error
		c, err = p.run(ctx, b)
		if err == nil && c.failed > 0 {
			err = fmt.Errorf("%d failed", c.failed)
		}
		return fmt.Sprintf("%d passed", c.passed), err
	})
	if err != nil {
		fmt.Fprintf(b.out, "%v\n\n", err)
		c.failed = max(c.failed, 1)
	}
	return c
}

// servers starts PostgreSQL and the object store for the parts that need them, once, and
// gives the environment that leads to them.
func (b *bench) servers(ctx context.Context) ([]string, error) {
	if b.testing != nil {
		return b.testing, nil
	}
	err := b.steps.Step("servers", func() (string, error) {
		s, err := local.Start(ctx, local.Options{
			Dir: filepath.Join(b.root, ".local", "suite"), Root: b.root, Tests: true,
			Progress: func(text string) { b.steps.Say("%s", text) },
		})
		if err != nil {
			return "", err
		}
		b.started(s.Stop)
		b.testing = append(
			slices.Clip(b.env),
			"TEST_DATABASE_URL="+s.OwnerURL, "TEST_APP_DATABASE_URL="+s.AppURL,
			"TEST_WORKER_DATABASE_URL="+s.WorkerURL, "TEST_ADMIN_DATABASE_URL="+s.AdminURL,
			"TEST_S3_ENDPOINT="+s.Endpoint, "TEST_S3_KEY="+s.Key, "TEST_S3_SECRET="+s.Secret, "TEST_S3_FILES="+s.Files,
		)
		return "PostgreSQL " + s.Version + " and an object store", nil
	})
	return b.testing, err
}
