//go:build !linux

package child

import (
	"os/exec"
	"strconv"
	"strings"
	"syscall"
)

// diesWithParent is Linux's alone; elsewhere the pid file has to do.
func diesWithParent(*syscall.SysProcAttr, syscall.Signal) {}

// bornAt is the start time of a process as ps words it, "" for none.
func bornAt(pid int) string {
	out, _ := exec.Command("ps", "-o", "lstart=", "-p", strconv.Itoa(pid)).Output()
	return strings.TrimSpace(string(out))
}

func alive(pid int) bool { return syscall.Kill(pid, 0) == nil }

// In lists the processes that have dir as their working folder; unknown here.
func In(string) []int { return nil }
