package suite

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/deploy/local"
)

func vet(ctx context.Context, b *bench) (count, error) {
	return b.check(ctx, b.root, "go", "vet", "./...")
}

func static(ctx context.Context, b *bench) (count, error) {
	program, err := b.tool(ctx, "honnef.co/go/tools/cmd/staticcheck")
	if err != nil {
		return count{}, err
	}
	return b.check(ctx, b.root, program, "./...")
}

// format leaves generated code out: its generators format it.
func format(ctx context.Context, b *bench) (count, error) {
	program, err := b.tool(ctx, "mvdan.cc/gofumpt")
	if err != nil {
		return count{}, err
	}
	files, err := tracked(ctx, b.root, "*.go")
	if err != nil {
		return count{}, err
	}
	out, err := exec.CommandContext(ctx, program, append([]string{"-l"}, files...)...).CombinedOutput()
	if err != nil || len(out) > 0 {
		return verdict(false), fmt.Errorf("gofumpt -w would change, or cannot read:\n%s", out)
	}
	return verdict(true), nil
}

func (b *bench) tool(ctx context.Context, pkg string) (string, error) {
	return local.Tool(ctx, local.Options{Root: b.root, Progress: func(text string) { b.steps.Say("%s", text) }}, pkg)
}

// tracked lists the files of the clone that git has or would take, without those that
// say they are generated.
func tracked(ctx context.Context, root string, patterns ...string) ([]string, error) {
	args := append([]string{"-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard", "--"}, patterns...)
	out, err := exec.CommandContext(ctx, "git", args...).Output()
	if err != nil {
		return nil, fmt.Errorf("git ls-files: %w", err)
	}
	var files []string
	for name := range strings.SplitSeq(strings.TrimSuffix(string(out), "\x00"), "\x00") {
		path := filepath.Join(root, name)
		text, err := os.ReadFile(path)
		if err != nil { // removed, not yet committed
			continue
		}
		head, _, _ := bytes.Cut(text, []byte("\npackage "))
		if !bytes.Contains(head, []byte("DO NOT EDIT")) {
			files = append(files, path)
		}
	}
	return files, nil
}

// generated runs every generator and sees whether a file changed.
func generated(ctx context.Context, b *bench) (count, error) {
	before, err := fingerprints(ctx, b.root)
	if err != nil {
		return count{}, err
	}
	if c, err := b.check(ctx, b.root, "go", "generate", "./..."); err != nil {
		return c, err
	}
	if err := up.Packages(ctx, b.web(), b.steps); err != nil {
		return count{}, err
	}
	if c, err := b.check(ctx, b.web(), "npm", "run", "gen"); err != nil {
		return c, err
	}
	after, err := fingerprints(ctx, b.root)
	if err != nil {
		return count{}, err
	}
	var changed []string
	for name, print := range after {
		if before[name] != print {
			changed = append(changed, name)
		}
	}
	if len(changed) > 0 {
		slices.Sort(changed)
		return verdict(false), fmt.Errorf("these were not what their sources say, and now are; commit them:\n%s", strings.Join(changed, "\n"))
	}
	return verdict(true), nil
}

// fingerprints is of every file that git has or would take.
func fingerprints(ctx context.Context, root string) (map[string][32]byte, error) {
	out, err := exec.CommandContext(ctx, "git", "-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output()
	if err != nil {
		return nil, fmt.Errorf("git ls-files: %w", err)
	}
	prints := map[string][32]byte{}
	for name := range strings.SplitSeq(string(out), "\x00") {
		if text, err := os.ReadFile(filepath.Join(root, name)); err == nil {
			prints[name] = sha256.Sum256(text)
		}
	}
	return prints, nil
}
