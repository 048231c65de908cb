package child

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"
)

func diesWithParent(attr *syscall.SysProcAttr, sig syscall.Signal) { attr.Pdeathsig = sig }

// stat returns the fields of /proc/PID/stat from the third (state) on; the second is a
// name that may hold spaces and brackets (proc(5)).
func stat(pid int) []string {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return nil
	}
	_, rest, _ := strings.Cut(string(text[strings.LastIndexByte(string(text), ')')+1:]), " ")
	return strings.Fields(rest)
}

// bornAt is the start time of a process in clock ticks since boot, "" for none.
func bornAt(pid int) string {
	if f := stat(pid); len(f) > 19 {
		return f[19]
	}
	return ""
}

// alive is false for a zombie too: it holds nothing any more.
func alive(pid int) bool {
	f := stat(pid)
	return len(f) > 0 && f[0] != "Z" && f[0] != "X"
}

// In lists the processes that have dir as their working folder.
func In(dir string) []int {
	entries, _ := os.ReadDir("/proc")
	var found []int
	for _, e := range entries {
		pid, err := strconv.Atoi(e.Name())
		if err != nil || !alive(pid) {
			continue
		}
		if at, err := os.Readlink("/proc/" + e.Name() + "/cwd"); err == nil && at == dir {
			found = append(found, pid)
		}
	}
	return found
}
