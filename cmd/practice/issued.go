package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// issued tells of files whether they are issued reports, byte for byte, and what came
// after. It ends with a fault where one is not.
//
//	practice issued FILE…
func issued(ctx context.Context, args, environ []string) error {
	var files, flags []string
	for k := 0; k < len(args); k++ {
		switch {
		case !strings.HasPrefix(args[k], "-"):
			files = append(files, args[k])
		case strings.Contains(args[k], "=") || k+1 == len(args):
			flags = append(flags, args[k])
		default:
			flags = append(flags, args[k], args[k+1])
			k++
		}
	}
	s, err := load("issued", flags, environ, "BOOTTOP_DATABASE_URL")
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return errors.New("practice issued needs the name of a file: a report's PDF or page as it was sent")
	}
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: 1})
	if err != nil {
		return err
	}
	defer db.Close()
	return tellIssued(ctx, practice.New(db), files, os.Stdout)
}

func tellIssued(ctx context.Context, service *practice.Service, files []string, out io.Writer) error {
	strangers := 0
	for _, name := range files {
		hash, err := hashOf(name)
		if err != nil {
			return err
		}
		found, err := service.Authentic(ctx, hash)
		switch {
		case domain.KindOf(err) == domain.NotFound:
			strangers++
			fmt.Fprintf(out, "%s: not issued here, or changed since\n", name)
		case err != nil:
			return err
		default:
			fmt.Fprintf(out, "%s: as issued\n  report %s of %s, %s\n", name, found.Number, found.PracticeName, found.IssuedAt.Format(time.DateOnly))
			tellAfter(out, found)
		}
	}
	if strangers > 0 {
		return fmt.Errorf("%d of %d files are not issued reports, byte for byte", strangers, len(files))
	}
	return nil
}

func tellAfter(out io.Writer, found practice.Authentic) {
	for k, at := range found.Addenda {
		fmt.Fprintf(out, "  addendum %d, %s\n", k+1, at.Format(time.DateOnly))
	}
	switch {
	case found.ReplacedBy != "":
		fmt.Fprintf(out, "  replaced by report %s\n", found.ReplacedBy)
	case found.State == "withdrawn":
		fmt.Fprintln(out, "  withdrawn since")
	}
	if found.EndedBecause != "" {
		fmt.Fprintf(out, "  because: %s\n", strings.Join(strings.Fields(found.EndedBecause), " "))
	}
}

func hashOf(name string) (sum [sha256.Size]byte, err error) {
	f, err := os.Open(name)
	if err != nil {
		return sum, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return sum, err
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}
