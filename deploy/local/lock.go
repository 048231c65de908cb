package local

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// ErrInUse means another process has this state folder.
var ErrInUse = errors.New("another process uses this state folder")

// lockDir makes dir and takes it for this process. The kernel gives the lock back when
// the process ends, however it ends.
func lockDir(dir string) (unlock func(), err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the state folder: %w", err)
	}
	f, err := Lock(filepath.Join(dir, "lock"), false)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		pid, _ := os.ReadFile(filepath.Join(dir, "lock"))
		return nil, fmt.Errorf("%w: %s (process %s)", ErrInUse, dir, strings.TrimSpace(string(pid)))
	}
	if err != nil {
		return nil, fmt.Errorf("lock the state folder: %w", err)
	}
	_ = f.Truncate(0)
	_, _ = fmt.Fprintf(f, "%d\n", os.Getpid())
	return func() { _ = f.Close() }, nil
}

// Lock takes the named lock file for this process alone; wait says whether to wait for
// another that has it, else the error is syscall.EWOULDBLOCK. Closing the file gives
// the lock back.
func Lock(name string, wait bool) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	how := syscall.LOCK_EX
	if !wait {
		how |= syscall.LOCK_NB
	}
	if err := flock(f, how); err != nil {
		_ = f.Close()
		return nil, err
	}
	return f, nil
}

// LockOther is Lock for a lock file that belongs to another user; reading it will do.
func LockOther(name string) (*os.File, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	if err := flock(f, syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		_ = f.Close()
		return nil, err
	}
	return f, nil
}

// Share takes the named lock file together with others that share it.
func Share(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	if err := flock(f, syscall.LOCK_SH); err != nil {
		_ = f.Close()
		return nil, err
	}
	return f, nil
}

func flock(f *os.File, how int) error {
	for {
		if err := syscall.Flock(int(f.Fd()), how); !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}
