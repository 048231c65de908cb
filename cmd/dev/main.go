// Command dev runs Boottop on one machine, and its tests.
//
//	go run ./cmd/dev                 starts everything and prints where to look
//	go run ./cmd/dev -fresh          the same, from nothing
//	go run ./cmd/dev test            runs every test
//	go run ./cmd/dev test -only go   one part of them; -list names the parts
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/cmd/dev/suite"
	"boottop.example/practice/cmd/dev/up"
	"boottop.example/practice/deploy/local"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	ctx, abandoned := context.WithCancel(ctx)
	go whenAbandoned(ctx, abandoned)
	err := dev(ctx, os.Args[1:])
	stop()
	if err != nil {
		fmt.Fprintf(os.Stderr, "\n%v\n", err)
		os.Exit(1)
	}
}

// whenAbandoned calls stop when `go run`, which built this program and started it, is
// gone: killed, it passes nothing on, and everything started here would stay.
func whenAbandoned(ctx context.Context, stop func()) {
	self, _ := os.Executable()
	if !strings.Contains(self, string(filepath.Separator)+"go-build") {
		return
	}
	for parent := os.Getppid(); ctx.Err() == nil && os.Getppid() == parent; {
		time.Sleep(500 * time.Millisecond)
	}
	stop()
}

func dev(ctx context.Context, args []string) error {
	root, err := local.FindRoot()
	if err != nil {
		return err
	}
	if len(args) > 0 && args[0] == "test" {
		return suite.Main(ctx, root, args[1:])
	}
	flags := flag.NewFlagSet("dev", flag.ExitOnError)
	o := up.Options{Root: root, Out: os.Stdout}
	flags.BoolVar(&o.Fresh, "fresh", false, "throw away all data and start over")
	flags.StringVar(&o.Addr, "addr", "", "`host:port` to serve at (default 127.0.0.1:8080, or the next free port)")
	flags.StringVar(&o.State, "state", filepath.Join(root, ".local"), "state `folder`")
	_ = flags.Parse(args) // ExitOnError
	if flags.NArg() > 0 {
		return fmt.Errorf("what is %q? `go run ./cmd/dev` starts everything, `go run ./cmd/dev test` runs the tests", flags.Arg(0))
	}
	if o.State, err = filepath.Abs(o.State); err != nil {
		return err
	}
	return run(ctx, o)
}

func run(ctx context.Context, o up.Options) error {
	begin := time.Now()
	fmt.Println("Boottop, all of it on this machine")
	r, err := up.Start(ctx, o)
	if ctx.Err() != nil {
		return fmt.Errorf("stopped before everything was up")
	}
	if err != nil {
		return err
	}
	welcome(r, time.Since(begin))
	err = r.Wait(ctx)
	fmt.Println("\nstopping")
	if stopErr := r.Stop(); err == nil {
		err = stopErr
	}
	return err
}

func welcome(r *up.Running, took time.Duration) {
	fmt.Printf("\nOpen %s (ready after %.1f s)\n\n", r.Demo.Address, took.Seconds())
	fmt.Println("The demo is invented: its harbour, practices, people and boats. Sign in as")
	width := map[string]int{}
	for _, s := range r.Demo.SignIns {
		width["practice"] = max(width["practice"], len([]rune(s.Practice)))
		width["role"] = max(width["role"], len([]rune(s.Role)))
		width["email"] = max(width["email"], len([]rune(s.Email)))
	}
	for _, s := range r.Demo.SignIns {
		fmt.Printf("  %-*s  %-*s  %-*s  %s\n", width["practice"], s.Practice, width["role"], s.Role, width["email"], s.Email, s.Password)
	}
	if c := r.Demo.Client; c.Email != "" {
		fmt.Printf("\nA client keeps the reports of two boats at %s/my: %s  %s\n", r.Demo.Address, c.Email, c.Password)
	}
	fmt.Printf("\nAPI key for development: %s\n", r.Demo.APIKey)
	fmt.Printf("All this is in %s too, with the logs and the data. Ctrl-C stops everything.\n", filepath.Join(r.Folder(), "demo.json"))
}
