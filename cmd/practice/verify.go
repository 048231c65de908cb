package main

import (
	"context"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// verify recomputes a practice's record of changes and ends with a fault where it was
// tampered with. It reads only, while the service runs.
//
//	practice verify -practice ID [-head SEQ:HASH]
//
// A head that is known from elsewhere, such as a printed report, is what shows a record
// that was rewritten whole.
func verify(ctx context.Context, args, environ []string) error {
	which, known, rest, err := verifyFlags(args)
	if err != nil {
		return err
	}
	s, err := load("verify", rest, environ, "BOOTTOP_DATABASE_URL")
	if err != nil {
		return err
	}
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: 1})
	if err != nil {
		return err
	}
	defer db.Close()
	v, err := practice.VerifyChain(ctx, db, which, known)
	if err != nil {
		return err
	}
	return told(os.Stdout, v)
}

func told(out io.Writer, v practice.Verified) error {
	if len(v.Breaks) == 0 {
		fmt.Fprintf(out, "%d changes, unbroken; the head is %d:%x\n", v.Lines, v.Head.Seq, v.Head.Chain)
		return nil
	}
	for _, b := range v.Breaks {
		fmt.Fprintln(out, b)
	}
	return errors.New("the record of changes was tampered with, or damaged")
}

// verifyFlags takes the command's own flags out of the arguments.
func verifyFlags(args []string) (which uuid.UUID, known []practice.Anchor, rest []string, err error) {
	flags := flag.NewFlagSet("practice verify", flag.ContinueOnError)
	id := flags.String("practice", "", "whose record, a UUID or prc_UUID")
	head := flags.String("head", "", "a head known from elsewhere, SEQ:HASH")
	own, rest := ownFlags(flags, args)
	if err = flags.Parse(own); err != nil {
		return which, nil, nil, err
	}
	if which, err = uuid.Parse(strings.TrimPrefix(*id, "prc_")); err != nil {
		return which, nil, nil, errors.New("practice verify needs -practice, the id of one")
	}
	if *head != "" {
		a, err := anchor(*head)
		if err != nil {
			return which, nil, nil, err
		}
		known = append(known, a)
	}
	return which, known, rest, nil
}

// ownFlags parts what a command's own flags take from what the settings take.
func ownFlags(flags *flag.FlagSet, args []string) (own, rest []string) {
	for k := 0; k < len(args); k++ {
		name, _, whole := strings.Cut(strings.TrimLeft(args[k], "-"), "=")
		if flags.Lookup(name) == nil {
			rest = append(rest, args[k])
			continue
		}
		own = append(own, args[k])
		if k++; !whole && k < len(args) {
			own = append(own, args[k])
		} else {
			k--
		}
	}
	return own, rest
}

func anchor(text string) (practice.Anchor, error) {
	number, hash, _ := strings.Cut(text, ":")
	seq, err1 := strconv.ParseInt(number, 10, 64)
	chain, err2 := hex.DecodeString(hash)
	if err1 != nil || err2 != nil || len(chain) != 32 {
		return practice.Anchor{}, errors.New("-head is written SEQ:HASH, a number and 64 hexadecimal digits")
	}
	return practice.Anchor{Seq: seq, Chain: chain, From: "the head given"}, nil
}
