package demo

import (
	"context"

	"boottop.example/practice/domain"
)

func (a *afloat) photo(ctx context.Context, by domain.Actor, j *job, v *visit, p photo) error {
	return nil
}
