//go:build linux

package child_test

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"boottop.example/practice/deploy/local/child"
)

// TestMain lets this test program play a parent that is killed: it starts a child that
// would sleep for a minute, prints the child's id and waits.
func TestMain(m *testing.M) {
	pidFile := os.Getenv("CHILD_TEST_PARENT")
	if pidFile == "" {
		os.Exit(m.Run())
	}
	p, err := child.Start(child.Spec{Path: "/bin/sleep", Args: []string{"60"}, PidFile: pidFile, Stop: syscall.SIGTERM})
	if err != nil {
		panic(err)
	}
	_, _ = os.Stdout.WriteString(strconv.Itoa(p.Pid()) + "\n")
	select {}
}

func gone(pid int) bool {
	text, err := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/stat")
	return err != nil || strings.Contains(string(text), ") Z ")
}

func eventually(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if ok() {
			return
		}
	}
	t.Fatalf("never happened: %s", what)
}

func start(t *testing.T, pidFile, path string, args ...string) *child.Proc {
	t.Helper()
	p, err := child.Start(child.Spec{Path: path, Args: args, PidFile: pidFile, Stop: syscall.SIGTERM})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = p.Stop(0) })
	return p
}

func TestAChildDiesWithItsParent(t *testing.T) {
	t.Parallel()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	parent := exec.Command(self)
	parent.Env = append(os.Environ(), "CHILD_TEST_PARENT="+filepath.Join(t.TempDir(), "pid"))
	out, err := parent.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := parent.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(line))
	if err != nil || gone(pid) {
		t.Fatalf("the child %q does not run", line)
	}
	if err := parent.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = parent.Wait()
	eventually(t, "the child ends", func() bool { return gone(pid) })
}

func TestClearEndsWhatAnEarlierRunLeft(t *testing.T) {
	t.Parallel()
	pidFile := filepath.Join(t.TempDir(), "pid")
	p := start(t, pidFile, "/bin/sleep", "60")
	if err := child.Clear(pidFile, syscall.SIGTERM, time.Second); err != nil {
		t.Fatal(err)
	}
	eventually(t, "the child ends", func() bool { return gone(p.Pid()) })
	if _, err := os.Stat(pidFile); err == nil {
		t.Error("the pid file is still there")
	}
}

func TestClearLeavesAProcessThatOnlyHasTheIdAlone(t *testing.T) {
	t.Parallel()
	p := start(t, "", "/bin/sleep", "60")
	pidFile := filepath.Join(t.TempDir(), "pid")
	if err := os.WriteFile(pidFile, []byte(strconv.Itoa(p.Pid())+" 12345\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := child.Clear(pidFile, syscall.SIGTERM, time.Second); err != nil {
		t.Fatal(err)
	}
	if gone(p.Pid()) {
		t.Error("another program was ended")
	}
}

func TestStopKillsAChildThatDoesNotListen(t *testing.T) {
	t.Parallel()
	p := start(t, "", "/bin/sh", "-c", `trap "" TERM; while :; do sleep 1; done`)
	time.Sleep(50 * time.Millisecond) // until the shell has set its trap
	if err := p.Stop(100 * time.Millisecond); err == nil {
		t.Error("no word about the kill")
	}
	if !gone(p.Pid()) {
		t.Error("the child still runs")
	}
}

func TestATiedCommandEndsWithWhatItStarted(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cmd := child.Tie(exec.CommandContext(ctx, "/bin/sh", "-c", "sleep 60 & echo $!; wait"))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(line))
	if err != nil || gone(pid) {
		t.Fatalf("the grandchild %q does not run", line)
	}
	cancel()
	_ = cmd.Wait()
	eventually(t, "the grandchild ends", func() bool { return gone(pid) })
}
