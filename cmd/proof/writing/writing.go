// Package writing measures how fast readings are kept, through the use case, in batches
// as a device sends them, beside plain COPY of the same rows; and proves that each is kept
// once however often it is sent.
package writing

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// Proof is the benchmark of writing readings.
var Proof = ground.Proof{
	Name:  "writing",
	Brief: "readings kept through the use case, beside plain COPY; none lost and none doubled",
	Run:   run,
}

// A batch is as large as the service takes; a pass fills in two of them, so that the second
// writes a grid that is half full. Many is how many callers write beside one alone.
const (
	batch  = 200
	places = 2 * batch
	passes = 10 // of each vessel; five more are read already: a planner that knows an empty table plans for one
	many   = 8
)

// rate is what one number of callers came to, readings a second.
type rate struct {
	Callers int     `json:"callers"`
	Service float64 `json:"service"`
	Copy    float64 `json:"copy"`
	Share   float64 `json:"share"` // service / copy
}

type figures struct {
	Sent    int    `json:"sent"`   // readings that were to be kept
	Resent  int    `json:"resent"` // of them, sent a second time
	Kept    int    `json:"kept"`
	Lost    int    `json:"lost"`
	Doubled int    `json:"doubled"`
	Rates   []rate `json:"rates"`
}

type proof struct {
	figures
	ground.Options
	db      *ground.Database
	fleet   ground.Fleet
	store   *store.Store
	service *practice.Service
	chance  *rand.Rand
	sum     int64 // of the values sent, twentieths
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	o.Keep = false // what was written once cannot be written again
	db, err := ground.Open(ctx, o, "writing")
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	each := max(o.Size(60_000, 4_000)/places, 1) // passes for each number of callers
	shape := ground.Shape{Vessels: (2*each + passes - 1) / passes, Passes: passes + 5, Places: places, Unread: passes}
	fleet, err := ground.LoadFleet(ctx, db.OwnerURL, shape, o.Seed)
	if err != nil {
		return r, err
	}
	s, err := store.Open(ctx, store.Config{URL: db.AppURL, MaxConns: many})
	if err != nil {
		return r, err
	}
	defer s.Close()
	p := &proof{Options: o, db: db, fleet: fleet, store: s, service: practice.New(s), chance: rand.New(rand.NewPCG(o.Seed, 2))}
	if err := p.all(ctx, each); err != nil {
		return r, err
	}
	if err := p.count(ctx, &r); err != nil {
		return r, err
	}
	r.Figures, r.Notes = p.figures, p.table()
	return r, nil
}

// all writes with one caller and with many, each into passes of its own.
func (p *proof) all(ctx context.Context, each int) error {
	list, err := p.passes(ctx)
	if err != nil {
		return err
	}
	var sent []practice.AddReadings
	for k, callers := range []int{1, many} {
		batches := p.batches(list[k*each : (k+1)*each])
		x := rate{Callers: callers}
		if x.Service, err = p.write(ctx, callers, batches); err != nil {
			return err
		}
		if x.Copy, err = p.copy(ctx, callers, list[k*each:(k+1)*each]); err != nil {
			return err
		}
		x.Share = x.Service / x.Copy
		p.Say("%d callers: %.0f readings a second kept, %.0f copied", callers, x.Service, x.Copy)
		p.Rates = append(p.Rates, x)
		sent = append(sent, batches...)
	}
	return p.again(ctx, sent)
}

type openPass struct {
	ID      uuid.UUID
	BeganAt time.Time
}

func (p *proof) passes(ctx context.Context) ([]openPass, error) {
	conn, err := pgx.Connect(ctx, p.db.OwnerURL)
	if err != nil {
		return nil, err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	rows, err := conn.Query(ctx, `select id, began_at from passes where practice_id = $1 and state = 'open' order by id`, p.fleet.Practice)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowToStructByPos[openPass])
}

// batches makes what a device would send of each pass, place after place.
func (p *proof) batches(list []openPass) (out []practice.AddReadings) {
	for _, pass := range list {
		for first := int32(1); first <= places; first += batch {
			in := practice.AddReadings{Mutation: ground.NewID(), Pass: pass.ID}
			for k := range int32(batch) {
				tenths := int16(100 + 5*p.chance.IntN(120))
				in.IDs, in.Ordinals = append(in.IDs, ground.NewID()), append(in.Ordinals, first+k)
				in.Placements = append(in.Placements, []int16{tenths})
				in.TakenAt = append(in.TakenAt, pass.BeganAt.Add(time.Duration(first+k)*20*time.Second))
				p.sum += 2 * int64(tenths)
			}
			p.Sent += batch
			out = append(out, in)
		}
	}
	return out
}

// write keeps the batches and gives readings a second.
func (p *proof) write(ctx context.Context, callers int, batches []practice.AddReadings) (float64, error) {
	began := time.Now()
	err := together(callers, len(batches), func(k int) error {
		done, err := p.service.AddReadings(ctx, p.hand(), batches[k])
		if err == nil && done.Kept != batch {
			err = fmt.Errorf("of a batch of %d readings %d were kept", batch, done.Kept)
		}
		return err
	})
	return float64(len(batches)*batch) / time.Since(began).Seconds(), err
}

func (p *proof) hand() domain.Actor {
	return domain.Actor{Practice: p.fleet.Practice, Member: p.fleet.Member, Means: domain.BySession, Roles: []domain.Role{domain.Surveyor}}
}

// again sends a third of the batches once more, as a device does that got no answer: the
// same change, or, where the device has forgotten what it called it, the same readings
// under another.
func (p *proof) again(ctx context.Context, sent []practice.AddReadings) error {
	p.chance.Shuffle(len(sent), func(i, j int) { sent[i], sent[j] = sent[j], sent[i] })
	sent = sent[:(len(sent)+2)/3]
	p.Resent = len(sent) * batch
	return together(many, len(sent), func(k int) error {
		in := sent[k]
		renamed := k%2 == 1
		if renamed {
			in.Mutation = ground.NewID()
		}
		done, err := p.service.AddReadings(ctx, p.hand(), in)
		if err == nil && (done.Again == renamed || renamed && done.Kept > 0) {
			err = fmt.Errorf("a batch sent again was taken for a new one: %+v", done)
		}
		return err
	})
}

// together does n things, several at a time, and gives the first fault.
func together(callers, n int, do func(k int) error) error {
	var next atomic.Int64
	var once sync.Once
	var failed error
	var all sync.WaitGroup
	for range callers {
		all.Go(func() {
			for k := int(next.Add(1)) - 1; k < n; k = int(next.Add(1)) - 1 {
				if err := do(k); err != nil {
					once.Do(func() { failed = err })
					return
				}
			}
		})
	}
	all.Wait()
	return failed
}

func (p *proof) table() string {
	text := fmt.Sprintf("  %d readings in batches of %d; readings a second\n", p.Sent, batch)
	for _, x := range p.Rates {
		text += fmt.Sprintf("  %d callers: kept %.0f, COPY %.0f: %.2f of it\n", x.Callers, x.Service, x.Copy, x.Share)
	}
	return text
}
