// Package booking proves that the diary holds nobody twice, whoever races for the same
// hours: promise J2.
package booking

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

// Proof is promise J2.
var Proof = ground.Proof{
	Name:  "booking",
	Brief: "500 race for one surveyor, one instrument and one boat's time ashore: exactly one wins each",
	Run: func(ctx context.Context, o ground.Options) (r ground.Report, err error) {
		db, err := ground.Open(ctx, o, "booking")
		if err != nil {
			return r, err
		}
		defer func() { err = errors.Join(err, db.Close()) }()
		return Run(ctx, db.OwnerURL, db.AppURL, o.Seed, o.Size(500, 60))
	},
}

// callers is how many race at a time.
const callers = 24

// Counts is how one race ended.
type Counts struct {
	Race    string `json:"race"`
	Asked   int    `json:"asked"`
	Won     int64  `json:"won"`
	Refused int64  `json:"refused"` // as a conflict
	Busy    int64  `json:"busy"`    // told to try again; nothing was kept
	Kept    int    `json:"kept"`    // what the database holds afterwards
}

// diary is a practice with one surveyor, one instrument and boats enough.
type diary struct {
	service    *practice.Service
	owner      *pgx.Conn // sees all rows
	actor      domain.Actor
	surveyor   uuid.UUID
	instrument uuid.UUID
	vessel     uuid.UUID // whose time ashore is raced for
	begin      time.Time
}

// hour is what every span of a race has in common.
const hour = 12

// Run races n bookings for one surveyor, n for one instrument and n for one vessel's time
// ashore. Their spans differ by chance and all share one hour.
func Run(ctx context.Context, ownerURL, appURL string, seed uint64, n int) (r ground.Report, err error) {
	db, err := store.Open(ctx, store.Config{URL: appURL, MaxConns: 8})
	if err != nil {
		return r, err
	}
	defer db.Close()
	owner, err := pgx.Connect(ctx, ownerURL)
	if err != nil {
		return r, err
	}
	defer owner.Close(context.WithoutCancel(ctx))
	d, err := open(ctx, db, owner)
	if err != nil {
		return r, err
	}
	races := []struct {
		name  string
		enter func(context.Context, time.Time, time.Time) error
		kept  string // counts what is held at the common hour
	}{
		{"one surveyor", d.book(&d.surveyor, nil), `select count(*) from visit_people where practice_id = $1 and during @> $2::timestamptz`},
		{"one instrument", d.book(nil, []uuid.UUID{d.instrument}), `select count(*) from visit_instruments where practice_id = $1 and during @> $2::timestamptz`},
		{"one vessel's time ashore", d.ashore, `select count(*) from spells where practice_id = $1 and during @> $2::timestamptz`},
	}
	var counts []Counts
	for k, race := range races {
		c, err := d.race(ctx, race.name, rand.New(rand.NewPCG(seed, uint64(k))), n, race.enter)
		if err != nil {
			return r, err
		}
		if err := owner.QueryRow(ctx, race.kept, d.actor.Practice, d.begin.Add(hour*time.Hour)).Scan(&c.Kept); err != nil {
			return r, err
		}
		counts = append(counts, c)
		r.Notes += fmt.Sprintf("  %s: %d asked, %d won, %d refused, %d told to try again\n", c.Race, c.Asked, c.Won, c.Refused, c.Busy)
		r.Claim(c.Won == 1 && c.Kept == 1, "of all who race for "+race.name+" exactly one gets it", "%d won, %d kept, of %d", c.Won, c.Kept, c.Asked)
	}
	r.Figures = counts
	return r, nil
}

// open makes the practice. Its surveyor has an account that nobody can sign in with.
func open(ctx context.Context, db *store.Store, owner *pgx.Conn) (*diary, error) {
	p := ground.NewID()
	d := &diary{
		service: practice.New(db), owner: owner, actor: domain.Service(p), surveyor: ground.NewID(), instrument: ground.NewID(), vessel: ground.NewID(),
		begin: time.Now().UTC().Truncate(24*time.Hour).AddDate(0, 0, 30),
	}
	if err := db.Door().CreatePractice(ctx, p, "The race", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		return nil, err
	}
	_, err := owner.Exec(ctx, `insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, 'Una Rask', '{surveyor}')`, p, d.surveyor, ground.NewID())
	if err != nil {
		return nil, err
	}
	_, err = d.service.AddInstrument(ctx, d.actor, practice.AddInstrument{
		Mutation: ground.NewID(), Instrument: practice.Instrument{ID: d.instrument, Name: "Skerrow deep No. 2", Kind: "capacitance"},
	})
	if err != nil {
		return nil, err
	}
	_, err = d.service.AddVessel(ctx, d.actor, practice.AddVessel{Mutation: ground.NewID(), Vessel: practice.Vessel{ID: d.vessel, Name: "Whimbrel"}})
	return d, err
}

// book makes bookings of a job each, on one boat.
func (d *diary) book(lead *uuid.UUID, instruments []uuid.UUID) func(context.Context, time.Time, time.Time) error {
	return func(ctx context.Context, from, to time.Time) error {
		job := ground.NewID()
		if _, err := d.service.AddJob(ctx, d.actor, practice.AddJob{Mutation: ground.NewID(), ID: job, Vessel: d.vessel, Kind: "limited moisture", Cite: "this client only"}); err != nil {
			return err
		}
		_, err := d.service.PlanVisit(ctx, d.actor, practice.PlanVisit{
			Mutation: ground.NewID(), ID: ground.NewID(), Job: job, Kind: "meter visit", From: from, To: to, TimeZone: "Etc/UTC", Lead: lead, Instruments: instruments,
		})
		return err
	}
}

func (d *diary) ashore(ctx context.Context, from, to time.Time) error {
	_, err := d.service.AddSpell(ctx, d.actor, practice.AddSpell{
		Mutation: ground.NewID(), ID: ground.NewID(), Vessel: d.vessel, TimeZone: "Etc/UTC", PlannedLift: &from, PlannedLaunch: &to, DatePrecision: "instant",
		AskedOnly: true, // jobs of hers wait for the owner's leave to lift: a booking would
	})
	return err
}

// race lets n callers ask, so many at a time, each for a span of its own.
func (d *diary) race(ctx context.Context, name string, chance *rand.Rand, n int, enter func(context.Context, time.Time, time.Time) error) (Counts, error) {
	c := Counts{Race: name, Asked: n}
	spans := make(chan [2]time.Time, n)
	for range n {
		spans <- [2]time.Time{d.begin.Add(time.Duration(chance.IntN(hour*60)) * time.Minute), d.begin.Add((hour+1)*time.Hour + time.Duration(chance.IntN(600))*time.Minute)}
	}
	close(spans)
	var failed atomic.Pointer[error]
	var all sync.WaitGroup
	for range callers {
		all.Go(func() {
			for span := range spans {
				err := enter(ctx, span[0], span[1])
				switch domain.KindOf(err) {
				case domain.Conflict:
					atomic.AddInt64(&c.Refused, 1)
				case domain.Unavailable:
					atomic.AddInt64(&c.Busy, 1)
				default:
					if err != nil {
						failed.CompareAndSwap(nil, &err)
						return
					}
					atomic.AddInt64(&c.Won, 1)
				}
			}
		})
	}
	all.Wait()
	if err := failed.Load(); err != nil {
		return c, *err
	}
	return c, ctx.Err()
}
