// Package restart proves that nothing acknowledged is lost when PostgreSQL is stopped at
// once under load, and that the service goes on by itself: promise B2.
package restart

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// Proof is promise B2.
var Proof = ground.Proof{
	Name:  "restart",
	Brief: "PostgreSQL stopped at once under load, again and again: nothing acknowledged is lost",
	Run:   run,
}

const writers = 8

// within is how soon the service must serve once the database answers again.
const within = 5 * time.Second

// Figures is what happened.
type Figures struct {
	Stops   int     `json:"stops"`
	Acked   int64   `json:"acked"`
	Unknown int64   `json:"unknown"` // the call failed, and whether it was kept was not known
	Kept    int64   `json:"kept"`    // of those: it was
	Lost    int64   `json:"lost"`
	Doubled int64   `json:"doubled"`
	Slowest float64 `json:"slowest"` // seconds until served again, the slowest
}

type proof struct {
	Figures
	*ground.House
	down   atomic.Bool  // from the stop until the database answers again
	served atomic.Int64 // writes acknowledged since it answers
	mu     sync.Mutex
	acked  map[uuid.UUID]bool
	failed error
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	err = ground.Housed(ctx, o, writers, func(db *ground.Database, house *ground.House) error {
		p := &proof{House: house, acked: map[uuid.UUID]bool{}}
		if err := p.stops(ctx, o, db); err != nil {
			return err
		}
		verified, err := practice.VerifyChain(ctx, house.Store, house.ID, nil)
		if err != nil {
			return err
		}
		if err := p.count(ctx, verified); err != nil {
			return err
		}
		p.claim(&r, verified)
		return nil
	})
	return r, err
}

// stops writes from all sides while the server is stopped and started again.
func (p *proof) stops(ctx context.Context, o ground.Options, db *ground.Database) error {
	writing, done := context.WithCancel(ctx)
	var all sync.WaitGroup
	for range writers {
		all.Go(func() { p.write(writing) })
	}
	chance := rand.New(rand.NewPCG(o.Seed, 3))
	var err error
	for p.Stops = 0; p.Stops < o.Size(50, 2) && err == nil && ctx.Err() == nil; p.Stops++ {
		time.Sleep(time.Duration(100+chance.IntN(400)) * time.Millisecond)
		p.down.Store(true)
		if err = db.Server.Crash(); err == nil {
			err = db.Server.Run(ctx)
		}
		if err == nil {
			err = p.back(ctx)
			o.Say("stop %d of %d: %d acknowledged so far", p.Stops+1, o.Size(50, 2), atomic.LoadInt64(&p.Acked))
		}
	}
	done()
	all.Wait()
	return errors.Join(err, p.failed, ctx.Err())
}

// back waits until the service serves again and notes how long it took.
func (p *proof) back(ctx context.Context) error {
	answers := time.Now()
	p.served.Store(0)
	p.down.Store(false)
	for p.served.Load() == 0 {
		if time.Since(answers) > time.Minute {
			return errors.New("a minute after the database answers, nothing is served")
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		time.Sleep(time.Millisecond)
	}
	p.Slowest = max(p.Slowest, time.Since(answers).Seconds())
	return nil
}

// write makes one change after another; one whose answer was lost is sent again until it
// is answered, as a device does.
func (p *proof) write(ctx context.Context) {
	for ctx.Err() == nil {
		in := practice.AddInstrument{Mutation: ground.NewID(), Instrument: practice.Instrument{ID: ground.NewID(), Name: "Deep", Kind: "other"}}
		for tries := 0; ; tries++ {
			one, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
			done, err := p.Service.AddInstrument(one, p.Actor, in)
			cancel()
			if err == nil {
				p.answered(in.Instrument.ID, tries > 0, done.Again)
				break
			}
			if tries == 0 {
				atomic.AddInt64(&p.Unknown, 1)
			}
			if kind := domain.KindOf(err); kind != domain.Unavailable && kind != domain.Internal {
				p.fail(fmt.Errorf("a change that should go through: %w", err))
				return
			}
			time.Sleep(20 * time.Millisecond)
		}
	}
}

func (p *proof) answered(id uuid.UUID, hadFailed, again bool) {
	atomic.AddInt64(&p.Acked, 1)
	if hadFailed && again {
		atomic.AddInt64(&p.Kept, 1)
	}
	if !p.down.Load() {
		p.served.Add(1)
	}
	p.mu.Lock()
	p.acked[id] = true
	p.mu.Unlock()
}

func (p *proof) fail(err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.failed = errors.Join(p.failed, err)
}

// count looks for every change that was acknowledged.
func (p *proof) count(ctx context.Context, v practice.Verified) error {
	seen, err := p.Instruments(ctx)
	if err != nil {
		return err
	}
	for id := range p.acked {
		if seen[id] == 0 {
			p.Lost++
		}
	}
	p.Doubled = max(0, v.Lines-int64(len(seen)))
	return nil
}

func (p *proof) claim(r *ground.Report, v practice.Verified) {
	r.Figures = &p.Figures
	r.Notes = fmt.Sprintf("  %d stops, %d acknowledged, %d failed on the way, of which %d were kept\n", p.Stops, p.Acked, p.Unknown, p.Kept)
	r.Claim(p.Lost == 0, "nothing acknowledged is lost", "%d lost of %d", p.Lost, p.Acked)
	r.Claim(p.Doubled == 0, "nothing sent again is done twice", "%d doubled", p.Doubled)
	r.Claim(len(v.Breaks) == 0, "the record of changes is unbroken", "%d lines %v", v.Lines, v.Breaks)
	r.ClaimTime(p.Slowest <= within.Seconds(), fmt.Sprintf("served within %s of the database's first answer", within), "%.2f s at the slowest", p.Slowest)
}
