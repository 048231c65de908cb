// Command practice is the service and what keeps it.
//
//	practice serve      answers browsers and programs
//	practice work       does the jobs: letters, report pages and PDF, photos
//	practice migrate    brings the database to the form this program knows
//	practice found      begins a practice: makes it and invites its first principal
//	practice rebuild    makes the read model of readings anew from the readings
//	practice verify     tells whether a practice's record of changes was tampered with
//	practice scrub      holds every file kept against its hash in the database
//	practice issued     tells whether a file is a report as it was issued, byte for byte
//	practice calc …     answers a surveyor's everyday questions, without a database
//
// Settings come from flags, the environment (BOOTTOP_…) and, for secrets, from files that
// BOOTTOP_…_FILE points at; `practice serve -help` lists them.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"boottop.example/practice/cmd/practice/calc"
)

// command is one of the program's. It ends when ctx does.
type command struct {
	name, brief string
	run         func(ctx context.Context, args, environ []string) error
}

func commands() []command {
	return []command{
		{"serve", "answers browsers and programs", serve},
		{"work", "does the jobs: letters, report pages and PDF, photos", work},
		{"migrate", "brings the database to the form this program knows", migrate},
		{"found", "begins a practice: makes it and invites its first principal", found},
		{"rebuild", "makes the read model of readings anew from the readings", rebuild},
		{"verify", "tells whether a practice's record of changes was tampered with", verify},
		{"scrub", "holds every file kept against its hash in the database", scrub},
		{"issued", "tells whether a file is a report as it was issued, byte for byte", issued},
	}
}

func main() {
	if len(os.Args) > 1 && os.Args[1] == "calc" {
		os.Exit(calc.Run(os.Args[2:], os.Stdout, os.Stderr))
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:]))
}

func run(ctx context.Context, args []string) int {
	if len(args) > 0 {
		for _, c := range commands() {
			if c.name != args[0] {
				continue
			}
			err := c.run(ctx, args[1:], os.Environ())
			if errors.Is(err, flag.ErrHelp) {
				return 0
			}
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
				return 1
			}
			return 0
		}
	}
	fmt.Fprintln(os.Stderr, "practice COMMAND [flags]")
	for _, c := range append(commands(), command{name: "calc", brief: "answers a surveyor's everyday questions"}) {
		fmt.Fprintf(os.Stderr, "  %-9s %s\n", c.name, c.brief)
	}
	return 2
}
