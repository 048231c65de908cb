package up

import (
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"syscall"

	"boottop.example/practice/deploy/local"
)

// firstPort is where the page is unless something else has it.
const firstPort = 8080

// port is an address held for the service. The service may share a listening address
// with its successor (SO_REUSEPORT), so that the kernel would let two clones share one
// too; a lock in the machine's temporary folder keeps them apart.
type port struct {
	addr string
	note string // for the person at the terminal
	held *os.File
}

func (p *port) url() string { return "http://" + p.addr }

func (p *port) release() { _ = p.held.Close() }

var errTaken = errors.New("the port is taken")

// choosePort holds addr, or, where that is empty, the first free port from 8080 on.
func choosePort(addr string) (*port, error) {
	if addr != "" {
		host, number, err := net.SplitHostPort(addr)
		if err != nil {
			return nil, fmt.Errorf("-addr %q is not of the form 127.0.0.1:8080: %w", addr, err)
		}
		if number == "0" {
			return freePort(host)
		}
		p, err := holdPort(addr)
		if errors.Is(err, errTaken) {
			return nil, fmt.Errorf("%s is taken by another program: choose another with -addr", addr)
		}
		return p, err
	}
	for n := firstPort; n < firstPort+50; n++ {
		p, err := holdPort(net.JoinHostPort("127.0.0.1", strconv.Itoa(n)))
		if errors.Is(err, errTaken) {
			continue
		}
		if err == nil && n != firstPort {
			p.note = fmt.Sprintf("port %d is taken, by another clone or program; this one is at %d", firstPort, n)
		}
		return p, err
	}
	return nil, fmt.Errorf("every port from %d to %d is taken: choose one with -addr", firstPort, firstPort+49)
}

func freePort(host string) (*port, error) {
	l, err := net.Listen("tcp", net.JoinHostPort(host, "0"))
	if err != nil {
		return nil, err
	}
	addr := l.Addr().String()
	if err := l.Close(); err != nil {
		return nil, err
	}
	return holdPort(addr)
}

func holdPort(addr string) (*port, error) {
	_, number, _ := net.SplitHostPort(addr)
	name := filepath.Join(os.TempDir(), "boottop-port-"+number+".lock")
	held, err := local.Lock(name, false)
	if errors.Is(err, os.ErrPermission) { // another user's: reading is enough to ask for the lock
		held, err = local.LockOther(name)
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return nil, errTaken
	}
	if err != nil {
		return nil, err
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		_ = held.Close()
		if errors.Is(err, syscall.EADDRINUSE) {
			return nil, errTaken
		}
		return nil, fmt.Errorf("listen at %s: %w", addr, err)
	}
	return &port{addr: addr, held: held}, l.Close()
}
