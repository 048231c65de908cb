package child

import (
	"os/exec"
	"syscall"
	"time"
)

// Tie makes a command that has a context end as a whole with it: the program and what
// it started in turn, as npm does.
func Tie(cmd *exec.Cmd) *exec.Cmd {
	if cmd.SysProcAttr == nil {
		cmd.SysProcAttr = new(syscall.SysProcAttr)
	}
	cmd.SysProcAttr.Setpgid = true
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGTERM) }
	cmd.WaitDelay = 5 * time.Second
	return cmd
}
