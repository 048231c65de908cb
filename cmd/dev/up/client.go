package up

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"boottop.example/practice/deploy/local/child"
)

// build makes the client and then the programs, which carry the client in themselves.
func (r *Running) build(ctx context.Context) error {
	if err := r.steps.Step("client", func() (string, error) { return Client(ctx, r.opt.Root, r.steps) }); err != nil {
		return err
	}
	return r.steps.Step("programs", func() (string, error) { return r.buildPrograms(ctx) })
}

// Client brings web/dist/app up to date. A digest of the sources beside the result tells
// whether it is.
func Client(ctx context.Context, root string, steps *Steps) (string, error) {
	web := filepath.Join(root, "web")
	now, err := digest(web)
	if err != nil {
		return "", err
	}
	mark := filepath.Join(web, "dist", "built-from")
	if built, _ := os.ReadFile(mark); string(built) == now && exists(filepath.Join(web, "dist", "app", "index.html")) {
		return "unchanged", nil
	}
	if err := checkNode(ctx); err != nil {
		return "", err
	}
	if err := Packages(ctx, web, steps); err != nil {
		return "", err
	}
	if out, err := command(ctx, web, "npm", "run", "build"); err != nil {
		return "", fmt.Errorf("npm run build: %w\n%s", err, out)
	}
	return "built", os.WriteFile(mark, []byte(now), 0o644)
}

// checkNode says what to do where Node is missing or older than the client's tools take.
func checkNode(ctx context.Context) error {
	const wanted = "the client is built with Node 20.19 or newer and its npm: install it from nodejs.org or your system's packages"
	if _, err := exec.LookPath("npm"); err != nil {
		return fmt.Errorf("there is no npm here; %s", wanted)
	}
	out, err := exec.CommandContext(ctx, "node", "--version").Output()
	if err != nil {
		return fmt.Errorf("there is no Node here; %s", wanted)
	}
	var major, minor int
	version := strings.TrimSpace(string(out))
	if _, err := fmt.Sscanf(version, "v%d.%d", &major, &minor); err == nil && (major < 20 || major == 20 && minor < 19) {
		return fmt.Errorf("this machine has Node %s; %s", version, wanted)
	}
	return nil
}

// Packages installs the npm packages of dir where they are not those of its lock file.
func Packages(ctx context.Context, dir string, steps *Steps) error {
	lock, err := os.ReadFile(filepath.Join(dir, "package-lock.json"))
	if err != nil {
		return err
	}
	now := fmt.Sprintf("%x", sha256.Sum256(lock))
	mark := filepath.Join(dir, "node_modules", ".installed-from")
	if had, _ := os.ReadFile(mark); string(had) == now {
		return nil
	}
	if err := checkNode(ctx); err != nil {
		return err
	}
	steps.Say("installing the packages of %s, once for each state of its package-lock.json", filepath.Base(dir))
	if out, err := command(ctx, dir, "npm", "ci", "--prefer-offline", "--no-audit", "--no-fund"); err != nil {
		return fmt.Errorf("npm ci: %w\n%s", err, out)
	}
	return os.WriteFile(mark, []byte(now), 0o644)
}

// digest is of every file the client is built from: names and contents.
func digest(web string) (string, error) {
	h := sha256.New()
	err := filepath.WalkDir(web, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch base := d.Name(); {
		case d.IsDir() && (base == "node_modules" || base == "dist" || base == "tests" || base == "pictures"):
			return fs.SkipDir
		case !d.Type().IsRegular() || strings.HasSuffix(base, ".go") || strings.Contains(base, ".test."):
			return nil
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(h, "%s %d\n%s", strings.TrimPrefix(name, web), len(text), text)
		return err
	})
	return fmt.Sprintf("%x", h.Sum(nil)), err
}

// command runs a program to its end; what it printed matters only when it fails.
func command(ctx context.Context, dir, name string, args ...string) ([]byte, error) {
	cmd := child.Tie(exec.CommandContext(ctx, name, args...))
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "NO_COLOR=1", "FORCE_COLOR=0") // what is shown of it may go into a file
	return cmd.CombinedOutput()
}
