package calc

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"
	"strings"

	"boottop.example/practice/domain/measure"
)

// input is the flags of one question.
type input struct {
	flags   *flag.FlagSet
	command command
	needed  []*number
	given   map[string]*number
	flagFor map[string]string // argument of the arithmetic → flag
	most    int               // operands taken
	words   []string          // operands
}

func newInput(c command) *input {
	f := flag.NewFlagSet(c.name, flag.ContinueOnError)
	f.SetOutput(io.Discard) // errors are returned and worded once
	return &input{flags: f, command: c, given: map[string]*number{}, flagFor: map[string]string{}}
}

// number is a flag that takes a decimal comma like a point and knows if it was given.
type number struct {
	name, what string
	value      float64
	set        bool
}

func (n *number) String() string {
	if n == nil {
		return ""
	}
	return strconv.FormatFloat(n.value, 'g', -1, 64)
}

// Set implements flag.Value.
func (n *number) Set(s string) error {
	text := strings.TrimSpace(s)
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		if _, after, _ := strings.Cut(text, ","); len(after) == 3 {
			return errors.New("the comma could mean thousands or decimals: write it with a point")
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	if err != nil {
		return errors.New("is not a number")
	}
	n.value, n.set = x, true
	return nil
}

// need declares a flag that must be given, and the arguments of the arithmetic that
// its value becomes, so that an error can name the flag.
func (in *input) need(name, what string, arguments ...string) *number {
	n := in.may(name, 0, what+" (needed)", arguments...)
	in.needed = append(in.needed, n)
	return n
}

// may declares a flag with a default.
func (in *input) may(name string, value float64, what string, arguments ...string) *number {
	n := &number{name: name, what: what, value: value}
	in.flags.Var(n, name, what)
	in.given[name] = n
	for _, a := range arguments {
		in.flagFor[a] = "-" + name
	}
	return n
}

func (in *input) read(args []string) error {
	for len(args) > 0 { // flags may follow operands
		if err := in.flags.Parse(args); err != nil {
			return err
		}
		if args = in.flags.Args(); len(args) > 0 {
			in.words, args = append(in.words, args[0]), args[1:]
		}
	}
	for _, n := range in.needed {
		if !n.set {
			return fmt.Errorf("-%s is missing: %s", n.name, strings.TrimSuffix(n.what, " (needed)"))
		}
	}
	if len(in.words) > in.most {
		return fmt.Errorf("%q is left over: every figure follows its flag", in.words[in.most])
	}
	return nil
}

// inFlags names the flag where the arithmetic names its argument.
func (in *input) inFlags(err error) error {
	var arg *measure.ArgumentError
	if !errors.As(err, &arg) {
		return err
	}
	if f, ok := in.flagFor[arg.Argument]; ok {
		return fmt.Errorf("%s %s", f, arg.Why)
	}
	return err
}

func (in *input) help(w io.Writer) {
	fmt.Fprintf(w, "calc %s %s\n%s\n\n", in.command.name, in.command.usage, in.command.brief)
	in.flags.VisitAll(func(f *flag.Flag) {
		standing := ""
		if n, ok := in.given[f.Name]; ok && n.value != 0 {
			standing = fmt.Sprintf(" (%s)", f.DefValue)
		}
		fmt.Fprintf(w, "  -%-12s %s%s\n", f.Name, f.Usage, standing)
	})
}
