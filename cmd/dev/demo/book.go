package demo

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// act is one change at its moment.
type act struct {
	at   time.Time
	what string
	do   func(ctx context.Context) error
}

// book is everything that happens, in the order it is told until it is sorted.
type book struct {
	acts  []act
	ahead []ahead
}

// ahead is work of the processor that an act will want done.
type ahead struct {
	at   time.Time
	work func()
}

func (b *book) at(t time.Time, what string, do func(ctx context.Context) error) {
	b.acts = append(b.acts, act{t, what, do})
}

// run does the acts in the order of their moments; the clock stands still within one.
// What an earlier load has behind it is left out: its last change tells how far it came.
func (l *loader) run(ctx context.Context, b *book) error {
	reached, err := l.reached(ctx)
	if err != nil {
		return err
	}
	slices.SortStableFunc(b.acts, func(x, y act) int { return x.at.Compare(y.at) })
	go b.workAhead(ctx, reached)
	shown := 0
	for _, a := range b.acts {
		if a.at.Before(reached) {
			continue
		}
		if y := a.at.In(l.zone).Year(); y > shown {
			shown = y
			l.Progress(fmt.Sprintf("%d", y))
		}
		l.now = a.at
		if err := a.do(ctx); err != nil {
			return fmt.Errorf("demo: %s, %s: %w", a.at.In(l.zone).Format("2 January 2006 15:04"), a.what, err)
		}
	}
	return nil
}

// workAhead draws pictures while the database is busy with what comes before them.
func (b *book) workAhead(ctx context.Context, reached time.Time) {
	slices.SortStableFunc(b.ahead, func(x, y ahead) int { return x.at.Compare(y.at) })
	for _, a := range b.ahead {
		if ctx.Err() == nil && !a.at.Before(reached) {
			a.work()
		}
	}
}

// reached is the moment of the last change that is recorded, of either practice.
func (l *loader) reached(ctx context.Context) (last time.Time, err error) {
	for _, home := range l.homes {
		head, err := l.Head(ctx, domain.Service(home), 0)
		if err != nil || head.Seq == 0 {
			return last, err
		}
		if head, err = l.Head(ctx, domain.Service(home), head.Seq-1); err != nil {
			return last, err
		}
		for _, m := range head.Moved {
			last = later(last, m.At)
		}
	}
	return last, nil
}

// mutation is the id of a change.
func mutation(at time.Time, names ...string) uuid.UUID {
	return id(at, append([]string{"mutation"}, names...)...)
}

// done drops what a use case answers.
func done(_ practice.Done, err error) error { return err }

// as gives a member as the actor; an unknown key is a slip of the scenario.
func (l *loader) as(key string) domain.Actor {
	a, known := l.actors[key]
	if !known {
		panic("demo: nobody is called " + key)
	}
	return a
}

func (l *loader) member(key string) *uuid.UUID {
	if key == "" {
		return nil
	}
	return new(l.as(key).Member)
}

func (l *loader) party(key string) *uuid.UUID {
	if key == "" {
		return nil
	}
	p, known := l.parties[key]
	if !known {
		panic("demo: no party is called " + key)
	}
	return &p
}

// version is what a thing's version is before the next edit told of it, counted here:
// asking for it would give another answer at the second load.
func (l *loader) version(thing uuid.UUID) int32 {
	l.versions[thing]++
	return l.versions[thing]
}

// either takes the first text that says anything.
func either(texts ...string) string { return cmp.Or(texts...) }
