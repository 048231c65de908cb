package history

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"time"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/store"
)

// Compared is the benchmark of the whole comparison of a vessel's passes.
var Compared = ground.Proof{
	Name:  "compared",
	Brief: "what may be said of 12 passes of 300 places, beside the same history without it",
	Run:   compared,
}

// wholeWithin is what the whole comparison is aimed at, at one caller on one core.
const wholeWithin = 120 * time.Millisecond

// comparedFigures are medians over vessels, and their ratios within one run.
type comparedFigures struct {
	Vessels int     `json:"vessels"`
	Bytes   int     `json:"bytes"`
	First   float64 `json:"firstMs"` // nothing was worked out before
	Again   float64 `json:"againMs"` // the record has not moved since
	Plain   float64 `json:"plainMs"` // the history without comparisons
	Trips   int64   `json:"trips"`   // of all answers together
	Answers int64   `json:"answers"` // with comparisons, the first time and again
	Pings   int64   `json:"pings"`   // trips of the pool's: see pingedAfter
}

// pingedAfter is how long a connection lies idle before the pool asks it whether it still
// lives, a trip before the answer's own: pgxpool's default. A busy machine may leave one
// idle for so long between two answers; such trips are counted apart.
const pingedAfter = time.Second

func compared(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	n := o.Size(40, 8)
	db, err := ground.Open(ctx, o, "compared")
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	const warm = 6 // vessels by which connections learn their statements
	fleet, err := ground.LoadFleet(ctx, db.OwnerURL, ground.Shape{Vessels: n + warm, Passes: passes, Places: places, Like: true}, o.Seed)
	if err != nil {
		return r, err
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1)) // one core for the service
	relay, through, err := ground.NewRelay(db.AppURL)
	if err != nil {
		return r, err
	}
	defer relay.Close()
	whole, err := serveDocument(ctx, "compared", gated, fleet, store.Config{URL: through, MaxConns: 1})
	if err != nil {
		return r, err
	}
	defer whole.stop()
	light, err := serveOurs(ctx, fleet, store.Config{URL: db.AppURL, MaxConns: 1})
	if err != nil {
		return r, err
	}
	defer light.stop()
	f := comparedFigures{Vessels: n}
	var first, again, without []float64
	var said bytes.Buffer
	var idle time.Time // since when the connection that is counted has been
	for k, vessel := range fleet.Vessels {
		before := relay.Trips()
		var took [3]float64
		for i, s := range []*side{whole, whole, light} {
			if s == whole && k >= warm && time.Since(idle) > pingedAfter {
				f.Pings++
			}
			if took[i], err = timed(s, s.body(vessel), &said); err != nil {
				return r, err
			}
			if s == whole {
				idle = time.Now()
			}
			if k >= warm && i == 0 {
				f.Bytes = said.Len()
			}
			if i == 0 && !strings.Contains(said.String(), `"leastChange":`) || i == 0 && strings.Contains(said.String(), "no-like-pairs") {
				return r, fmt.Errorf("the fleet has nothing to compare by: %.300s", said.String())
			}
		}
		if k < warm {
			continue
		}
		f.Trips, f.Answers = f.Trips+relay.Trips()-before, f.Answers+2
		first, again, without = append(first, took[0]), append(again, took[1]), append(without, took[2])
	}
	f.First, f.Again, f.Plain = mid(first), mid(again), mid(without)
	r.Figures = f
	r.Notes = fmt.Sprintf("  %d vessels; %.1f ms the first time (%.1f times the history without), %.1f ms again (%.1f times), %.1f ms without; %d bytes\n",
		n, f.First, f.First/f.Plain, f.Again, f.Again/f.Plain, f.Plain, f.Bytes)
	r.Claim(f.Trips == f.Answers+f.Pings, "one round trip in all, the first time and again", "%d for %d answers, and %d of the pool's that asked whether an idle connection lives",
		f.Trips-f.Pings, f.Answers, f.Pings)
	r.ClaimTime(f.First < float64(wholeWithin.Milliseconds()), "the whole comparison within 120 ms at one caller on one core", "%.1f ms", f.First)
	return r, nil
}

func timed(s *side, body []byte, said *bytes.Buffer) (ms float64, err error) {
	c, err := call(s.addr)
	if err != nil {
		return 0, err
	}
	defer c.conn.Close()
	said.Reset()
	begin := time.Now()
	if _, err := c.ask(body, said); err != nil {
		return 0, fmt.Errorf("%s: %w: %.300s", s.name, err, said.String())
	}
	return float64(time.Since(begin).Microseconds()) / 1000, nil
}

func mid(x []float64) float64 {
	slices.Sort(x)
	return x[len(x)/2]
}
