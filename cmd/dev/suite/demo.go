package suite

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"

	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/deploy/local/child"
)

// demoState is the state folder of the demo that the tests use.
const demoState = ".local/browser"

// startDemo starts everything once, as `go run ./cmd/dev` does, from nothing and beside
// whatever the developer has running.
func (b *bench) startDemo(ctx context.Context) (up.Demo, error) {
	if b.demo == nil {
		r, err := up.Start(ctx, up.Options{
			Root: b.root, State: filepath.Join(b.root, demoState),
			Addr: "127.0.0.1:0", Fresh: true, Tests: true, Out: b.out,
		})
		if err != nil {
			return up.Demo{}, err
		}
		b.demo = r
		b.started(r.Stop)
	}
	return b.demo.Demo, nil
}

// warned lists the audits that may warn: the standard says SHOULD there, and why we do
// otherwise stands beside it. One that warns and is not here is a failure, and so is one
// that is here and no longer warns.
var warned = map[string]string{
	// GraphQL over HTTP, "Legacy watershed": since 1 January 2025 a request that names no
	// media type is to be answered as application/graphql-response+json. The audits still
	// ask for what held before.
	"47DE": "*/* gets application/graphql-response+json",
	"80D8": "no Accept gets application/graphql-response+json",
	// The standard asks for a 4xx here (MUST) and prefers 400 (SHOULD). Ours tells what
	// cannot be read, 400, from what can be read and not be done, 422.
	"86EE": "variables that do not fit get 422",
}

// audits asks the running service what the standard says it must answer.
func audits(ctx context.Context, b *bench) (count, error) {
	dir := filepath.Join(b.root, "cmd", "dev", "audits")
	if err := up.Packages(ctx, dir, b.steps); err != nil {
		return count{}, err
	}
	demo, err := b.startDemo(ctx)
	if err != nil {
		return count{}, err
	}
	cmd := child.Tie(exec.CommandContext(ctx, "node", "audits.mjs", demo.Address+"/graphql", demo.APIKey))
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		var ended *exec.ExitError
		if errors.As(err, &ended) {
			out = ended.Stderr
		}
		return count{}, fmt.Errorf("node audits.mjs: %w\n%s", err, out)
	}
	var found []audit
	if err := json.Unmarshal(out, &found); err != nil {
		return count{}, fmt.Errorf("the audits' report: %w", err)
	}
	c, failures := judge(found, warned)
	fmt.Fprint(b.out, failures)
	return c, nil
}

// audit is what one of them found. Its status is ok, notice (a MAY), warn (a SHOULD) or
// error (a MUST).
type audit struct{ ID, Name, Status, Reason string }

func judge(found []audit, expected map[string]string) (c count, failures string) {
	seen := map[string]bool{}
	for _, a := range found {
		_, listed := expected[a.ID]
		seen[a.ID] = true
		fine := a.Status == "ok" || a.Status == "notice"
		if a.Status != "error" && fine != listed {
			c.passed++
			continue
		}
		c.failed++
		failures += fmt.Sprintf("\n--- audit %s, %s: %s\n%s\n", a.ID, a.Status, a.Name, a.Reason)
		if fine {
			failures += "it is on the list of those that may warn: take it off\n"
		}
	}
	var absent []string
	for id := range expected {
		if !seen[id] {
			absent = append(absent, id)
		}
	}
	slices.Sort(absent)
	for _, id := range absent {
		c.failed++
		failures += fmt.Sprintf("\n--- audit %s is on the list of those that may warn, and there is none\n", id)
	}
	return c, failures
}
