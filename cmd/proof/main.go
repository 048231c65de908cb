// Command proof runs the long proofs and the benchmarks, by name:
//
//	proof NAME [flags]       one of them
//	proof -short all         the short form of each, a line each
//
// Every proof takes -seed (printed, and replayed by giving it again), -n for its size
// where it names no other flag, -short, and -json. The exit status tells whether its
// promise held: 0 held, 1 broken, 2 it could not run. Times are judged in long forms
// alone (-judge=false leaves them out): they say nothing on a busy machine.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/cmd/proof/apart"
	"boottop.example/practice/cmd/proof/booking"
	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/cmd/proof/history"
	"boottop.example/practice/cmd/proof/inference"
	"boottop.example/practice/cmd/proof/kill"
	"boottop.example/practice/cmd/proof/restart"
	"boottop.example/practice/cmd/proof/restore"
	"boottop.example/practice/cmd/proof/writing"
)

// proofs in the order in which `all` runs them.
var proofs = []ground.Proof{
	apart.Proof,
	booking.Proof,
	restart.Proof,
	kill.Proof,
	restore.Proof,
	history.Proof,
	history.Compared,
	writing.Proof,
	inference.Proof,
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

func run(ctx context.Context, args []string, out, errs io.Writer) int {
	// The name may stand before the flags or after them.
	var name string
	for k, a := range args {
		if !strings.HasPrefix(a, "-") && (k == 0 || args[k-1] == "-short" || args[k-1] == "-json") {
			name, args = a, append(append([]string{}, args[:k]...), args[k+1:]...)
			break
		}
	}
	if name == "all" {
		return all(ctx, args, out, errs)
	}
	for _, p := range proofs {
		if p.Name == name {
			return one(ctx, p, args, out, errs)
		}
	}
	fmt.Fprintln(errs, "proof NAME [-seed N] [-n SIZE] [-short] [-json]")
	for _, p := range proofs {
		fmt.Fprintf(errs, "  %-9s %s\n", p.Name, p.Brief)
	}
	return 2
}

func all(ctx context.Context, args []string, out, errs io.Writer) int {
	worst := 0
	for _, p := range proofs {
		begin := time.Now()
		var said strings.Builder
		code := one(ctx, p, args, &said, errs)
		word := map[int]string{0: "held", 1: "BROKEN", 2: "COULD NOT RUN"}[code]
		fmt.Fprintf(out, "%-9s %s in %.1f s: %s\n", p.Name, word, time.Since(begin).Seconds(), p.Brief)
		if code != 0 {
			fmt.Fprint(out, said.String())
		}
		worst = max(worst, code)
	}
	return worst
}

func one(ctx context.Context, p ground.Proof, args []string, out, errs io.Writer) int {
	flags := flag.NewFlagSet("proof "+p.Name, flag.ContinueOnError)
	flags.SetOutput(errs)
	o := ground.Options{Say: func(format string, args ...any) { fmt.Fprintf(errs, format+"\n", args...) }}
	flags.Uint64Var(&o.Seed, "seed", rand.Uint64N(1_000_000), "what chance begins with")
	flags.IntVar(&o.N, "n", 0, "its size; 0 takes the proof's own")
	flags.BoolVar(&o.Short, "short", false, "the short form, which the test command runs")
	flags.BoolVar(&o.Keep, "keep", false, "keep the database, and take it again where it is there")
	asJSON := flags.Bool("json", false, "print the figures as JSON")
	judge := flags.Bool("judge", true, "judge times too, in the long form")
	if p.Flags != nil {
		p.Flags(flags)
	}
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(errs, "proof %s takes no %q\n", p.Name, flags.Arg(0))
		return 2
	}
	if given := false; o.Short && p.ShortSeed != 0 {
		flags.Visit(func(f *flag.Flag) { given = given || f.Name == "seed" })
		if !given {
			o.Seed = p.ShortSeed
		}
	}
	o.Judge = *judge && !o.Short
	report, err := p.Run(ctx, o)
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			fmt.Fprintf(errs, "proof %s, seed %d: %v\n", p.Name, o.Seed, err)
		}
		return 2
	}
	report.Proof, report.Seed, report.Held = p.Name, o.Seed, true
	for _, c := range report.Claims {
		report.Held = report.Held && (c.Holds || c.Time && !o.Judge)
	}
	if *asJSON {
		text, _ := json.MarshalIndent(report, "", "  ") // plain figures
		fmt.Fprintln(out, string(text))
	} else {
		fmt.Fprint(out, report.Text(o.Judge))
	}
	if !report.Held {
		return 1
	}
	return 0
}
