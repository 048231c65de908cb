package local

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"

	"boottop.example/practice/deploy/local/child"
)

// cacheDir is where programs are kept from one clone to the next. Root's own cache is
// closed to the account PostgreSQL runs as, so root's is the machine's.
func cacheDir() (string, error) {
	if os.Geteuid() == 0 {
		return "/var/cache/boottop", nil
	}
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("find the cache folder: %w", err)
	}
	return filepath.Join(dir, "boottop"), nil
}

// cached returns the folder `key` of the cache. Where it is not there, fill puts its
// content into a new folder, which takes the name once it is whole. Others who want the
// same wait for the first.
func cached(key string, fill func(dir string) error) (string, error) {
	cache, err := cacheDir()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(cache, key)
	if _, err := os.Stat(dir); err == nil {
		return dir, nil
	}
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return "", err
	}
	lock, err := Lock(dir+".lock", true)
	if err != nil {
		return "", err
	}
	defer lock.Close()
	if _, err := os.Stat(dir); err == nil {
		return dir, nil
	}
	part := dir + ".part"
	if err := os.RemoveAll(part); err != nil {
		return "", err
	}
	if err := os.Mkdir(part, 0o755); err != nil {
		return "", err
	}
	if err := fill(part); err != nil {
		_ = os.RemoveAll(part)
		return "", err
	}
	return dir, os.Rename(part, dir)
}

// FindRoot returns the clone that the working folder is in.
func FindRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for ; ; dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "deploy", "tools.mod")); err == nil {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			return "", errors.New("no clone of Boottop here: run this from inside one")
		}
	}
}

// Tool returns the program that deploy/tools.mod pins for the package path, e.g.
// "mvdan.cc/gofumpt", and builds it the first time this machine needs that version.
func Tool(ctx context.Context, o Options, pkg string) (string, error) {
	if o.Root == "" {
		root, err := FindRoot()
		if err != nil {
			return "", err
		}
		o.Root = root
	}
	version, err := toolVersion(filepath.Join(o.Root, "deploy", "tools.mod"), pkg)
	if err != nil {
		return "", err
	}
	name := filepath.Base(pkg)
	key := fmt.Sprintf("%s-%s-%s-%s", name, version, runtime.GOOS, runtime.GOARCH)
	dir, err := cached(key, func(dir string) error {
		o.say("building %s %s, once on this machine; it takes a few minutes", name, version)
		cmd := child.Tie(exec.CommandContext(ctx, "go", "build", "-modfile=deploy/tools.mod", "-trimpath", "-ldflags=-s -w", "-o", filepath.Join(dir, name), pkg))
		cmd.Dir = o.Root
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("build %s %s: %w\n%s", name, version, err, out)
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, name), nil
}

// toolVersion finds the module of pkg among the requirements of a module file.
func toolVersion(modfile, pkg string) (string, error) {
	text, err := os.ReadFile(modfile)
	if err != nil {
		return "", err
	}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) > 1 && (f[0] == pkg || strings.HasPrefix(pkg, f[0]+"/")) && strings.HasPrefix(f[1], "v") {
			return f[1], nil
		}
	}
	return "", fmt.Errorf("%s does not require %s", modfile, pkg)
}
