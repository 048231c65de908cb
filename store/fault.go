package store

import (
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5/pgconn"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// rule is what a broken constraint says to a person.
type rule struct {
	kind  domain.Kind
	field string
	text  string
}

// rules collects what every area's constraints say, by constraint name.
var rules = map[string]rule{}

// say adds an area's rules; each area calls it once from its own file.
func say(area map[string]rule) struct{} {
	for name, r := range area {
		rules[name] = r
	}
	return struct{}{}
}

// fault turns a database error into one that a person can act on, or that the
// harness can act on (practice.ErrAgain: nothing was kept and the same may go through).
// What was classified on the way stays as it is.
func fault(doing string, err error) error {
	if err == nil {
		return nil
	}
	var already *domain.Fault
	if errors.As(err, &already) {
		return err
	}
	if doing != "" {
		err = fmt.Errorf("%s: %w", doing, err)
	}
	var pg *pgconn.PgError
	if !errors.As(err, &pg) {
		return err
	}
	if r, known := rules[pg.ConstraintName]; known {
		return &domain.Fault{Kind: r.kind, Field: r.field, Text: r.text, Err: err}
	}
	switch pg.Code {
	case "40001", "40P01": // serialization failure, deadlock
		return fmt.Errorf("%w: %w", practice.ErrAgain, err)
	case "23503": // a key that names nothing here: the same answer as for what is hidden
		return &domain.Fault{Kind: domain.NotFound, Text: domain.ErrNotFound.(*domain.Fault).Text, Err: err}
	case "23505":
		return &domain.Fault{Kind: domain.Conflict, Text: "Something with this id or number is kept already.", Err: err}
	case "23514", "22P02", "22003", "22021", "22007", "22008", "22000":
		return &domain.Fault{Kind: domain.Invalid, Text: "One of the values cannot be kept as it is.", Err: err}
	case "53100", "53200", "53300", "57P01", "57P02", "57P03", "57014", "55P03":
		return &domain.Fault{Kind: domain.Unavailable, Text: "The database could not do this just now, and nothing was changed. Please try again.", Err: err}
	}
	return err
}
