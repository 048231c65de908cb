package suite

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/deploy/local/child"
)

func (b *bench) web() string { return filepath.Join(b.root, "web") }

func lint(ctx context.Context, b *bench) (count, error) {
	if err := up.Packages(ctx, b.web(), b.steps); err != nil {
		return count{}, err
	}
	return b.check(ctx, b.web(), "npm", "run", "--silent", "lint")
}

func unit(ctx context.Context, b *bench) (count, error) {
	if err := up.Packages(ctx, b.web(), b.steps); err != nil {
		return count{}, err
	}
	return b.vitest(ctx, "unit", nil)
}

// client is built before Go tests and the demo run beside each other: the service carries it
// in itself, and both compile the service.
func client(ctx context.Context, b *bench) (count, error) {
	_, err := up.Client(ctx, b.root, b.steps)
	return verdict(err == nil), err
}

// browser walks through the demo's pages.
func browser(ctx context.Context, b *bench) (count, error) {
	chromium, err := findChromium()
	if err != nil {
		return count{}, err
	}
	demo, err := b.startDemo(ctx)
	if err != nil {
		return count{}, err
	}
	env := []string{
		"BOOTTOP_URL=" + demo.Address, "BOOTTOP_API_KEY=" + demo.APIKey,
		"BOOTTOP_DEMO=" + filepath.Join(b.root, demoState, "demo.json"), "CHROMIUM=" + chromium,
	}
	if err := up.Packages(ctx, b.web(), b.steps); err != nil {
		return count{}, err
	}
	projects := []string{"browser", "looking"} // the second changes nothing that others look at: it takes the core that waits
	found, errs := make([]count, len(projects)), make([]error, len(projects))
	var both sync.WaitGroup
	for k, project := range projects {
		both.Go(func() { found[k], errs[k] = b.vitest(ctx, project, env) })
	}
	both.Wait()
	var sum count
	for _, c := range found {
		sum.add(c)
	}
	return sum, errors.Join(errs...)
}

func findChromium() (string, error) {
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser", "google-chrome", "google-chrome-stable"} {
		if path, err := exec.LookPath(name); name != "" && err == nil {
			return path, nil
		}
	}
	return "", errors.New("the browser tests need Chromium: install it (Debian: apt-get install chromium) or name its program in CHROMIUM")
}

// vitest runs one project of the client's tests, whose packages are installed.
func (b *bench) vitest(ctx context.Context, project string, env []string) (count, error) {
	report := filepath.Join(b.root, ".local", "vitest-"+project+".json")
	if err := os.MkdirAll(filepath.Dir(report), 0o755); err != nil {
		return count{}, err
	}
	_ = os.Remove(report) // one of an earlier run must not be read as this one's
	// A slow machine is no fault: a test hangs only after minutes.
	cmd := child.Tie(exec.CommandContext(ctx, "npx", "vitest", "run", "--project", project, "--testTimeout=180000", "--reporter=json", "--reporter=verbose", "--outputFile.json="+report))
	cmd.Dir, cmd.Env = b.web(), append(slices.Clip(b.env), env...)
	cmd.Env = append(cmd.Env, "NO_COLOR=1", "FORCE_COLOR=0")
	said := &listener{say: func(text string) { b.steps.Say("%s", text) }, spoke: time.Now()}
	cmd.Stdout, cmd.Stderr = said, said
	err := cmd.Run()
	c, failures, readErr := readVitest(report)
	if readErr != nil {
		return c, fmt.Errorf("vitest: %w\n%s", errors.Join(err, readErr), said.all.String())
	}
	fmt.Fprint(b.out, failures)
	if err != nil && c.failed == 0 {
		return c, fmt.Errorf("vitest: %w\n%s", err, said.all.String())
	}
	return c, nil
}

// listener keeps all that a program prints, and passes on its latest line twice a minute.
type listener struct {
	all   strings.Builder
	say   func(string)
	spoke time.Time
}

func (l *listener) Write(text []byte) (int, error) {
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	if last := strings.TrimSpace(lines[len(lines)-1]); last != "" && time.Since(l.spoke) > 30*time.Second {
		l.spoke = time.Now()
		l.say(last)
	}
	return l.all.Write(text)
}

// readVitest counts the tests in a report of vitest's json reporter.
func readVitest(name string) (c count, failures string, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return c, "", err
	}
	var report struct {
		TestResults []struct {
			Name, Status, Message string
			AssertionResults      []struct {
				Status, FullName string
				FailureMessages  []string
			}
		}
	}
	if err := json.Unmarshal(text, &report); err != nil {
		return c, "", err
	}
	var said strings.Builder
	for _, file := range report.TestResults {
		if file.Status == "failed" && len(file.AssertionResults) == 0 {
			c.failed++
			fmt.Fprintf(&said, "\n--- %s\n%s\n", file.Name, file.Message)
		}
		for _, a := range file.AssertionResults {
			switch a.Status {
			case "passed":
				c.passed++
			case "failed":
				c.failed++
				fmt.Fprintf(&said, "\n--- %s: %s\n%s\n", filepath.Base(file.Name), a.FullName, strings.Join(a.FailureMessages, "\n"))
			default:
				c.skipped++
			}
		}
	}
	return c, said.String(), nil
}
