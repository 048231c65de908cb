package local

import (
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account returns the account PostgreSQL runs as: nil for this process's own, else,
// for root, which PostgreSQL refuses, an account that can do little harm.
func account() *syscall.Credential {
	if os.Geteuid() != 0 {
		return nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, uidErr := strconv.ParseUint(u.Uid, 10, 32)
		gid, gidErr := strconv.ParseUint(u.Gid, 10, 32)
		if uidErr == nil && gidErr == nil && uid != 0 {
			return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
		}
	}
	return &syscall.Credential{Uid: 65534, Gid: 65534}
}

// reaches says whether the account can enter dir. A folder under another user's home
// looks fine to root and is closed to everybody else.
func reaches(who *syscall.Credential, dir string) bool {
	if who == nil {
		return true
	}
	cmd := exec.Command("/bin/sh", "-c", `cd "$1"`, "sh", dir)
	cmd.Dir = "/"
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: who}
	return cmd.Run() == nil
}

// giveTo makes dir, for the account alone.
func giveTo(who *syscall.Credential, dir string) error {
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !os.IsExist(err) {
		return err
	}
	if who == nil {
		return nil
	}
	return os.Chown(dir, int(who.Uid), int(who.Gid))
}
