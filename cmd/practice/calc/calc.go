// Package calc answers a surveyor's everyday questions at a prompt: dew point and
// margin, drying depth, what a grid meets, what a count of zero leaves open, salt on
// the skin, a hull number. It asks no database and keeps nothing.
package calc

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
)

// command is one question.
type command struct {
	name  string
	brief string
	usage string // what follows the name
	// ask declares its flags on in and returns what to do once they are read.
	ask func(in *input) func() (answer, error)
}

func commands() []command {
	return []command{
		{"dew-point", "where dew begins, and how far a surface stands above it", "-air C -rh % [-surface C]", dewPoint},
		{"drying-depth", "how far drying has reached into bare laminate", "-days N -temp C [-wall mm] [-rh %]", dryingDepth},
		{"coverage", "what a grid of readings or taps meets", "-along mm [-down mm] [-pad mm] [-flaw mm]", gridCoverage},
		{"zero-count", "what a count of blisters leaves open", "-windows N -width mm -height mm | -area m2 [-count N]", zeroCount},
		{"salt", "soluble salts on the skin from a patch", "-volume mL -rise uS/cm [-area mm2]", saltOnSkin},
		{"hull-number", "what a hull or craft identification number says", "[-on DATE] NUMBER", hullNumber},
	}
}

// Exit codes.
const (
	done  = 0
	wrong = 2 // the question could not be answered as it was asked
)

// Run answers one question. args begin with its name, as in
//
//	dew-point -air 15 -rh 75 -surface 12
//
// The answer goes to stdout, as text or with -json as one object; what is wrong with
// the question goes to stderr. It returns the exit code: 0, or 2 for a question that
// cannot be answered as asked. A decimal comma is taken like a point.
func Run(args []string, stdout, stderr io.Writer) int {
	if len(args) == 0 {
		overview(stderr)
		return wrong
	}
	if args[0] == "help" || args[0] == "-h" || args[0] == "-help" || args[0] == "--help" {
		overview(stdout)
		return done
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(args[1:], stdout, stderr)
		}
	}
	fmt.Fprintf(stderr, "calc: there is no question %q\n\n", args[0])
	overview(stderr)
	return wrong
}

func overview(w io.Writer) {
	fmt.Fprintln(w, "Everyday calculations. Ask for one of:")
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-13s %s\n  %-13s   %s\n", c.name, c.brief, "", c.usage)
	}
	fmt.Fprintln(w, "\nEach takes -json, and -h for its flags.")
}

func (c command) run(args []string, stdout, stderr io.Writer) int {
	in := newInput(c)
	asJSON := in.flags.Bool("json", false, "answer as one JSON object")
	answerIt := c.ask(in)
	switch err := in.read(args); {
	case errors.Is(err, flag.ErrHelp):
		in.help(stdout)
		return done
	case err != nil:
		return c.refuse(stderr, err)
	}
	a, err := answerIt()
	if err != nil {
		return c.refuse(stderr, in.inFlags(err))
	}
	a.Calculation = c.name
	if *asJSON {
		e := json.NewEncoder(stdout)
		e.SetIndent("", "  ")
		e.SetEscapeHTML(false)
		if err := e.Encode(a); err != nil {
			return c.refuse(stderr, err)
		}
		return done
	}
	a.write(stdout)
	return done
}

func (c command) refuse(stderr io.Writer, err error) int {
	fmt.Fprintf(stderr, "calc %s: %v\n", c.name, err)
	fmt.Fprintf(stderr, "usage: calc %s %s\n", c.name, c.usage)
	return wrong
}
