package storetest

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/deploy/local"
)

const (
	// keeperEnv is set, to the kind of server, for the program that keeps a shared one.
	keeperEnv = "BOOTTOP_STORETEST_KEEPS"
	// idle is how long a shared server stays when no test program uses it.
	idle = 3 * time.Minute
	// startWithin covers the first build of the object store on a slow machine.
	startWithin = 9 * time.Minute
)

// A shared server must outlive the test program that needs it first. So that program
// starts itself once more in the background, as the server's keeper; which of the two
// this is shows here, before any test begins.
func init() {
	kind := os.Getenv(keeperEnv)
	if kind == "" {
		return
	}
	if err := keep(kind); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// place is the state folder of one kind of shared server, with three locks: "use" is
// shared by all test programs while they run, "begin" taken by the one that starts a
// keeper, "keep" by the keeper.
type place string

func placeOf(kind string) (place, error) {
	root, err := local.FindRoot()
	if err != nil {
		return "", err
	}
	p := place(filepath.Join(root, ".local", "test", kind))
	return p, os.MkdirAll(string(p), 0o755)
}

func (p place) file(name string) string { return filepath.Join(string(p), name) }

// shared fills address with what the keeper of this kind of server wrote down, and
// starts a keeper where there is none. The server stays while this program runs.
func shared(kind string, address any, answers func() bool) error {
	p, err := placeOf(kind)
	if err != nil {
		return err
	}
	if inUse[kind], err = local.Share(p.file("use")); err != nil { // closed by the end of the program
		return err
	}
	if p.read(address) == nil && answers() {
		return nil
	}
	begin, err := local.Lock(p.file("begin"), true)
	if err != nil {
		return err
	}
	defer begin.Close()
	if p.read(address) == nil && answers() {
		return nil
	}
	return p.begin(kind, address)
}

// inUse keeps lock files from being closed by the garbage collector.
var inUse = map[string]*os.File{}

func (p place) read(address any) error {
	text, err := os.ReadFile(p.file("address.json"))
	if err != nil {
		return err
	}
	return json.Unmarshal(text, address)
}

func (p place) begin(kind string, address any) error {
	if err := os.Remove(p.file("address.json")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	log, err := os.Create(p.file("keeper.log"))
	if err != nil {
		return err
	}
	defer log.Close()
	cmd := exec.Command(self)
	cmd.Dir = string(p)
	cmd.Env = append(os.Environ(), keeperEnv+"="+kind)
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} // a Ctrl-C ends the tests, not the server of others
	if err := cmd.Start(); err != nil {
		return err
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for late := time.After(startWithin); ; {
		select {
		case <-ended:
			text, _ := os.ReadFile(log.Name())
			return fmt.Errorf("the shared server ended at once: %s", strings.TrimSpace(string(text)))
		case <-late:
			return fmt.Errorf("the shared server does not start: see %s", log.Name())
		case <-time.After(20 * time.Millisecond):
			if p.read(address) == nil {
				return nil
			}
		}
	}
}

// keep is the keeper's whole life: start the server, write down its address, wait until
// nobody uses it, stop it.
func keep(kind string) error {
	p, err := placeOf(kind)
	if err != nil {
		return err
	}
	mine, err := local.Lock(p.file("keep"), true)
	if err != nil {
		return err
	}
	defer mine.Close()
	address, stop, err := startKind(kind, string(p))
	if err != nil {
		return err
	}
	text, err := json.Marshal(address)
	if err != nil {
		return err
	}
	if err := os.WriteFile(p.file("address.new"), text, 0o600); err != nil {
		return err
	}
	if err := os.Rename(p.file("address.new"), p.file("address.json")); err != nil {
		return err
	}
	alone := p.waitIdle()
	defer alone.Close() // only now may another test program look for a server
	_ = os.Remove(p.file("address.json"))
	return stop()
}

// waitIdle returns with the lock of all users once none has been there for a while.
func (p place) waitIdle() *os.File {
	last := time.Now()
	for ; ; time.Sleep(time.Second) {
		alone, err := local.Lock(p.file("use"), false)
		if err != nil {
			last = time.Now()
			continue
		}
		if time.Since(last) > idle {
			return alone
		}
		_ = alone.Close()
	}
}
