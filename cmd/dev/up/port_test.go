package up

import (
	"errors"
	"net"
	"strings"
	"testing"
)

// taken listens at a free port and gives its address.
func taken(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = l.Close() })
	return l.Addr().String()
}

func TestAnAddressIsHeldByOneCloneAtATime(t *testing.T) {
	t.Parallel()
	first, err := choosePort("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	// Nobody listens there yet, so only the lock keeps the second one away.
	if _, err := holdPort(first.addr); !errors.Is(err, errTaken) {
		t.Errorf("a second one got %v, want errTaken", err)
	}
	first.release()
	again, err := holdPort(first.addr)
	if err != nil {
		t.Fatalf("given back, it is still taken: %v", err)
	}
	again.release()
}

func TestAnAddressThatAnotherProgramHasIsRefusedWithAWordOnWhatToDo(t *testing.T) {
	t.Parallel()
	_, err := choosePort(taken(t))
	if err == nil || !strings.Contains(err.Error(), "-addr") {
		t.Errorf("got %v", err)
	}
}

func TestWithoutAnAddressTheNextFreePortIsTakenAndSaidSo(t *testing.T) {
	t.Parallel()
	first, err := choosePort("")
	if err != nil {
		t.Fatal(err)
	}
	defer first.release()
	second, err := choosePort("")
	if err != nil {
		t.Fatal(err)
	}
	defer second.release()
	if second.addr == first.addr || !strings.Contains(second.note, "8080 is taken") {
		t.Errorf("the second is at %s with the note %q, the first at %s", second.addr, second.note, first.addr)
	}
}
