// Package restore is the drill of a restore: the database is destroyed under load and comes
// back from a base backup and the archive as it stood at an instant: promise G3.
package restore

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// Proof is promise G3.
var Proof = ground.Proof{
	Name:  "restore",
	Brief: "the database destroyed under load, and restored to an instant: all acknowledged before it, nothing begun after",
	Run:   run,
}

const (
	writers = 4
	within  = 10 * time.Minute
)

// Figures is what happened.
type Figures struct {
	Before  int     `json:"before"`  // acknowledged before the instant
	Across  int     `json:"across"`  // under way at it: kept or not
	After   int     `json:"after"`   // begun after it, and acknowledged
	Lost    int     `json:"lost"`    // of those before
	Stayed  int     `json:"stayed"`  // of those after
	Seconds float64 `json:"seconds"` // from the order to restore until a change was acknowledged
}

// write is one change with when it was begun and when it was acknowledged.
type write struct {
	id           uuid.UUID
	begun, acked time.Time
}

type drill struct {
	Figures
	*ground.House
	mu     sync.Mutex
	writes []write
	failed error
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	err = ground.Housed(ctx, o, writers, func(db *ground.Database, house *ground.House) error {
		d := &drill{House: house}
		return d.run(ctx, o, db, &r)
	})
	return r, err
}

// run destroys the database under load and brings it back.
func (d *drill) run(ctx context.Context, o ground.Options, db *ground.Database, r *ground.Report) (err error) {
	backup, err := db.Server.Backup(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, backup.Close()) }()
	instant, err := d.load(ctx, o, func() error { return errors.Join(backup.Archived(ctx), db.Server.Crash()) })
	if err != nil {
		return err
	}
	o.Say("destroyed; to be restored as of %s", instant.Format(time.RFC3339Nano))
	ordered := time.Now()
	if err := backup.Restore(ctx, instant); err != nil {
		return err
	}
	if err := d.again(ctx); err != nil {
		return err
	}
	d.Seconds = time.Since(ordered).Seconds()
	if err := d.count(ctx, instant); err != nil {
		return err
	}
	verified, err := practice.VerifyChain(ctx, d.Store, d.ID, nil)
	d.claim(r, verified)
	return err
}

// load writes from all sides, chooses an instant in the midst of it, writes on, and then
// has the database destroyed while it still writes.
func (d *drill) load(ctx context.Context, o ground.Options, destroy func() error) (instant time.Time, err error) {
	writing, done := context.WithCancel(ctx)
	var all sync.WaitGroup
	for range writers {
		all.Go(func() {
			for writing.Err() == nil {
				d.write(writing)
			}
		})
	}
	half := time.Duration(o.Size(20_000, 1_000)) * time.Millisecond
	d.more(half)
	instant = time.Now()
	d.more(half)
	err = destroy()
	done()
	all.Wait()
	return instant, errors.Join(err, d.failed, ctx.Err())
}

// fewest is what has to be acknowledged on either side of the instant: a machine that is
// busy with other things takes its time over it.
const fewest = 20

// more waits so long, and until enough was acknowledged meanwhile; a minute at most.
func (d *drill) more(least time.Duration) {
	acked := func() int {
		d.mu.Lock()
		defer d.mu.Unlock()
		return len(d.writes)
	}
	before, began := acked(), time.Now()
	time.Sleep(least)
	for acked() < before+fewest && time.Since(began) < time.Minute {
		time.Sleep(10 * time.Millisecond)
	}
}

// write makes one change. One that fails while the database is destroyed is no news.
func (d *drill) write(ctx context.Context) {
	w := write{id: ground.NewID(), begun: time.Now()}
	one, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer cancel()
	_, err := d.Service.AddInstrument(one, d.Actor, practice.AddInstrument{Mutation: ground.NewID(), Instrument: practice.Instrument{ID: w.id, Name: "Deep", Kind: "other"}})
	d.mu.Lock()
	defer d.mu.Unlock()
	switch kind := domain.KindOf(err); {
	case err == nil:
		w.acked = time.Now()
		d.writes = append(d.writes, w)
	case kind != domain.Unavailable && kind != domain.Internal:
		d.failed = errors.Join(d.failed, fmt.Errorf("a change that should go through: %w", err))
	}
}

// again writes until something is acknowledged.
func (d *drill) again(ctx context.Context) error {
	before := len(d.writes)
	for began := time.Now(); len(d.writes) == before; {
		if time.Since(began) > time.Minute {
			return errors.New("a minute after the restore, nothing is served")
		}
		d.write(ctx)
	}
	d.writes = d.writes[:before]
	return errors.Join(d.failed, ctx.Err())
}

// count holds what is there against the instant.
func (d *drill) count(ctx context.Context, instant time.Time) error {
	seen, err := d.Instruments(ctx)
	if err != nil {
		return err
	}
	for _, w := range d.writes {
		switch {
		case w.acked.Before(instant):
			d.Before++
			if seen[w.id] == 0 {
				d.Lost++
			}
		case w.begun.After(instant):
			d.After++
			if seen[w.id] > 0 {
				d.Stayed++
			}
		default:
			d.Across++
		}
	}
	return nil
}

func (d *drill) claim(r *ground.Report, v practice.Verified) {
	r.Figures = &d.Figures
	r.Notes = fmt.Sprintf("  %d acknowledged before the instant, %d across it, %d after\n", d.Before, d.Across, d.After)
	r.Claim(d.Before > 0 && d.After > 0, "there was something to keep and something to leave", "%d and %d", d.Before, d.After)
	r.Claim(d.Lost == 0, "all that was acknowledged before the instant is there", "%d lost of %d", d.Lost, d.Before)
	r.Claim(d.Stayed == 0, "nothing that was begun after it is", "%d of %d", d.Stayed, d.After)
	r.Claim(len(v.Breaks) == 0, "the record of changes is unbroken", "%d lines %v", v.Lines, v.Breaks)
	r.ClaimTime(d.Seconds <= within.Seconds(), fmt.Sprintf("served within %s of the order", within), "%.1f s", d.Seconds)
}
