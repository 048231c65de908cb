package history

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"
)

// caller asks over one connection that stays open, and costs next to nothing itself: it
// shares the machine with what it measures.
type caller struct {
	conn net.Conn
	in   *bufio.Reader
}

func call(addr string) (*caller, error) {
	conn, err := net.Dial("tcp", addr)
	if err != nil {
		return nil, err
	}
	return &caller{conn, bufio.NewReaderSize(conn, 64<<10)}, nil
}

// ask sends one body and gives what came back; into may be io.Discard.
func (c *caller) ask(body []byte, into io.Writer) (int64, error) {
	head := "POST /graphql HTTP/1.1\r\nHost: proof\r\nContent-Type: application/json\r\nAccept: application/json\r\nContent-Length: " + strconv.Itoa(len(body)) + "\r\n\r\n"
	if _, err := c.conn.Write(append([]byte(head), body...)); err != nil {
		return 0, err
	}
	res, err := http.ReadResponse(c.in, nil)
	if err != nil {
		return 0, err
	}
	n, err := io.Copy(into, res.Body)
	if err == nil && res.StatusCode != http.StatusOK {
		err = fmt.Errorf("answer %s", res.Status)
	}
	return n, err
}

// rate asks with several callers for a while and gives answers a second.
func (s *side) rate(ctx context.Context, callers int, vessels []uuid.UUID, d time.Duration) (float64, error) {
	ctx, cancel := context.WithTimeout(ctx, d)
	defer cancel()
	var answers atomic.Int64
	var once sync.Once
	var failed error
	var all sync.WaitGroup
	begin := time.Now()
	for k := range callers {
		all.Go(func() {
			c, err := call(s.addr)
			for n := k * 7; err == nil && ctx.Err() == nil; n++ {
				if _, err = c.ask(s.body(vessels[n%len(vessels)]), io.Discard); err == nil {
					answers.Add(1)
				}
			}
			if c != nil {
				_ = c.conn.Close()
			}
			if err != nil {
				once.Do(func() { failed = fmt.Errorf("%s: %w", s.name, err) })
			}
		})
	}
	all.Wait()
	return float64(answers.Load()) / time.Since(begin).Seconds(), failed
}
