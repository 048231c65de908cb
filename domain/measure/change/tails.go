package change

import (
	"errors"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// twoSided is the chance that Student's t with df degrees of freedom is further from
// zero than t. A very large df is the normal distribution.
func twoSided(t, df float64) float64 {
	if df > 1e7 {
		return math.Erfc(math.Abs(t) / math.Sqrt2)
	}
	return min(1, 2*distuv.StudentsT{Sigma: 1, Nu: df}.Survival(math.Abs(t)))
}

// renamed gives an argument error the name that the caller knows.
func renamed(err error, from, to string) error {
	var arg *measure.ArgumentError
	if errors.As(err, &arg) && strings.HasPrefix(arg.Argument, from) {
		return &measure.ArgumentError{Argument: to + strings.TrimPrefix(arg.Argument, from), Why: arg.Why}
	}
	return err
}
