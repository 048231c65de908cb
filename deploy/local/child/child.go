// Package child runs programs that must not outlive the one that started them, and
// clears those that did.
//
// Three things see to it. Stop ends a child, first politely. On Linux the kernel signals
// it when its parent dies, however that comes about. And a pid file names it, so that
// the next start can end what is left after all.
package child

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Spec says what to run. Path and Stop are required.
type Spec struct {
	Path   string
	Args   []string
	Env    []string // the whole environment, nil: that of this process
	Dir    string
	Output *os.File // takes what the child prints; nil: thrown away
	// PidFile is written while the child runs. It is what Clear reads.
	PidFile string
	// Stop is the signal that asks the child to end: by Stop, or by the death of this process.
	Stop syscall.Signal
	// Account is the account to run as, nil: that of this process. Only root may choose.
	Account *syscall.Credential
}

// Proc is a running child.
type Proc struct {
	cmd  *exec.Cmd
	spec Spec
	done chan struct{}
	err  error
}

// Start runs a child in a process group of its own, so that a Ctrl-C at the terminal
// reaches only this process, which then ends its children in the order it wants.
func Start(spec Spec) (*Proc, error) {
	cmd := exec.Command(spec.Path, spec.Args...)
	cmd.Env, cmd.Dir = spec.Env, spec.Dir
	if spec.Output != nil {
		cmd.Stdout, cmd.Stderr = spec.Output, spec.Output
	}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Credential: spec.Account}
	diesWithParent(cmd.SysProcAttr, spec.Stop)

	p := &Proc{cmd: cmd, spec: spec, done: make(chan struct{})}
	started := make(chan error)
	go p.run(started)
	if err := <-started; err != nil {
		return nil, fmt.Errorf("start %s: %w", spec.Path, err)
	}
	if err := writePid(spec.PidFile, cmd.Process.Pid); err != nil {
		_ = p.Stop(0)
		return nil, err
	}
	return p, nil
}

// run starts the child and waits for it on one thread kept for that: the kernel's "my
// parent died" means the thread that started the child, and Go ends idle threads as it
// likes.
func (p *Proc) run(started chan<- error) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := p.cmd.Start(); err != nil {
		started <- err
		return
	}
	started <- nil
	p.err = p.cmd.Wait()
	if p.spec.PidFile != "" {
		_ = os.Remove(p.spec.PidFile)
	}
	close(p.done)
}

// Pid is the child's process id.
func (p *Proc) Pid() int { return p.cmd.Process.Pid }

// Done is closed when the child has ended.
func (p *Proc) Done() <-chan struct{} { return p.done }

// Err is how the child ended, nil for exit status 0. Valid once Done is closed.
func (p *Proc) Err() error { return p.err }

// Signal sends the child a signal.
func (p *Proc) Signal(sig syscall.Signal) error { return p.cmd.Process.Signal(sig) }

// Stop asks the child to end and returns when it has. A child that takes longer than
// patience is killed with all of its process group, which is an error.
func (p *Proc) Stop(patience time.Duration) error {
	select {
	case <-p.done:
		return nil
	default:
	}
	_ = p.Signal(p.spec.Stop)
	select {
	case <-p.done:
		return nil
	case <-time.After(patience):
	}
	_ = syscall.Kill(-p.Pid(), syscall.SIGKILL)
	<-p.done
	return fmt.Errorf("%s did not end within %s and was killed", p.spec.Path, patience)
}

// Clear ends the process that pidFile names if an earlier run left it, and removes the
// file. A process id that has gone to another program since is left alone.
func Clear(pidFile string, stop syscall.Signal, patience time.Duration) error {
	pid, born, err := readPid(pidFile)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err == nil && bornAt(pid) == born {
		if err := End(pid, stop, patience); err != nil {
			return err
		}
	}
	if err := os.Remove(pidFile); !errors.Is(err, os.ErrNotExist) { // its parent may have
		return err
	}
	return nil
}

// End ends any process by its id: a signal, patience, then the signal nobody ignores.
func End(pid int, stop syscall.Signal, patience time.Duration) error {
	born := bornAt(pid)
	for _, step := range []struct {
		sig  syscall.Signal
		wait time.Duration
	}{{stop, patience}, {syscall.SIGKILL, 5 * time.Second}} {
		if err := syscall.Kill(pid, step.sig); errors.Is(err, syscall.ESRCH) {
			return nil
		} else if err != nil {
			return fmt.Errorf("end process %d: %w", pid, err)
		}
		for end := time.Now().Add(step.wait); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			if bornAt(pid) != born || !alive(pid) {
				return nil
			}
		}
	}
	return fmt.Errorf("process %d does not end", pid)
}

// writePid keeps the time the process began beside its id, because ids are used again.
func writePid(name string, pid int) error {
	if name == "" {
		return nil
	}
	return os.WriteFile(name, fmt.Appendf(nil, "%d %s\n", pid, bornAt(pid)), 0o600)
}

func readPid(name string) (pid int, born string, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return 0, "", err
	}
	id, born, _ := strings.Cut(strings.TrimSpace(string(text)), " ")
	pid, err = strconv.Atoi(id)
	if err != nil || pid <= 1 {
		return 0, "", fmt.Errorf("%s names no process", name)
	}
	return pid, born, nil
}
