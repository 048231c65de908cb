// Package inference holds what the service concludes against hulls whose truth is known:
// simulated, written through the use cases into PostgreSQL and read back as a history.
//
// # How shares are counted
//
// Two visits may come to no answer by chance: the dry places of one scatter by more than a
// quarter of what the underbody stands above them, a block drifts beyond repeatability, the
// dry places move too unlike one another, or too few of them stand in both. The service then
// says that it cannot tell, which is right and costs an answer. So every share has two
// figures, and both are printed.
//
//   - False alarms are judged over all hulls, as the promise counts them. A hull of which
//     nothing is told cannot raise one and thins the share out, by a tenth at most: the
//     share of the hulls told of stands beside, and so does the bound of both.
//   - Cannot tell is judged over all places of all hulls, those without standing included:
//     every pair is made as a like pair with full context, so that its silence counts.
//   - A planted change is judged over the third visits that came to an answer. One that did
//     not belongs to the silences, which have a promise of their own: counted again here,
//     the two promises could contradict each other, since a fifth of the places may stay
//     untold and nine in ten be found. A place that cannot be told though its visit came to
//     an answer counts as not found. The share of all changes planted stands beside.
//
// # How far hulls stand above their baseline
//
// A hull in which nothing changes has to be in balance with the air of her shed, and such a
// hull stands no higher than her topsides. What the water of a hull just lifted would add is
// therefore put on her as a level that stays: 24 units. It is what the same instrument reads
// of the same walls after ten years afloat and 28 days ashore, less a little (a test holds
// it to that). It matters: the dry places' scatter may be a quarter of it, so that a lower
// level silences more visits, and a higher one lets the instrument's gain tell. -above tries
// others.
package inference

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"sync"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain/measure/coverage"
)

var (
	hulls int
	above float64
)

// Proof holds the gate to what it promises.
var Proof = ground.Proof{
	Name:  "inference",
	Brief: "what is concluded of simulated hulls: false alarms, silences, planted changes and causes",
	Flags: func(f *flag.FlagSet) {
		f.IntVar(&hulls, "hulls", 0, "how many hulls of each set; 0: 400, short form 10")
		f.Float64Var(&above, "above", standsAbove, "how far hulls stand above their dry baseline, scale units")
	},
	Run:       run,
	ShortSeed: 1,
}

// The promises (issue of the comparison): shares, and the one-sided 95 % bound of the first.
const (
	mostAlarms      = 0.05
	mostAlarmsBound = 0.075
	mostUntold      = 0.20
	leastFound      = 0.90
	beyondLeast     = 1.5 // times the stated least change is planted
)

// part is one thing that is proved, over sets of hulls of its own. Causes are one, in a
// file of their own.
type part func(context.Context, *bench, *ground.Report) error

var parts = []part{changes, causes}

// bench is what every part works on.
type bench struct {
	ground.Options
	db *ground.Database
	n  int // hulls of a set
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	n := hulls
	if n == 0 {
		n = o.Size(400, 10)
	}
	db, err := ground.Open(ctx, o, "inference")
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	b := &bench{Options: o, db: db, n: n}
	for _, p := range parts {
		if err := p(ctx, b, &r); err != nil {
			return r, err
		}
	}
	return r, nil
}

// share is a count out of so many with its exact binomial interval (Clopper and Pearson).
type share struct {
	Met   int     `json:"met"`
	Of    int     `json:"of"`
	Share float64 `json:"share"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

func shareOf(met, of int) share {
	s := share{Met: met, Of: of}
	if e, err := coverage.Proportion(met, of, 0.95); err == nil {
		s.Share, s.Low, s.High = e.Value, e.Lower, e.Upper
	}
	return s
}

func (s share) String() string {
	return fmt.Sprintf("%d of %d, %.1f %% (95 %%: %.1f to %.1f)", s.Met, s.Of, 100*s.Share, 100*s.Low, 100*s.High)
}

// below tells whether a share keeps a promise as far as n hulls can tell: the share itself
// where they are enough, its lower bound where they are too few to judge it.
func (s share) below(most float64, n int) bool {
	return s.Share <= most || n < enough && s.Low <= most
}

func (s share) above(least float64, n int) bool {
	return s.Share >= least || n < enough && s.High >= least
}

// enough is how many hulls a share is judged by itself from. Places that cannot be told come
// a hull at a time, so that few hulls say nothing of their share.
const enough = 400

// upper is the one-sided 95 % bound.
func (s share) upper() float64 {
	e, err := coverage.Proportion(s.Met, s.Of, 0.90)
	if err != nil {
		return 1
	}
	return e.Upper
}

// changes is the part about change.
func changes(ctx context.Context, b *bench, r *ground.Report) error {
	var notes strings.Builder
	var figures []*outcome
	for _, set := range sets {
		out, err := b.over(ctx, set)
		if err != nil {
			return fmt.Errorf("%s: %w", set.name, err)
		}
		out.claim(r, b.n)
		figures = append(figures, out)
		fmt.Fprintf(&notes, "%s: %d hulls, %g units above their baseline; least change stated %.1f units (median); %d without any answer: %v; of all %d changes planted %.1f %% found\n",
			set.name, b.n, above, out.Least, out.Silent, out.Why, out.FoundOfAll.Of, 100*out.FoundOfAll.Share)
	}
	r.Figures, r.Notes = figures, notes.String()
	return nil
}

// outcome is what a set came to.
type outcome struct {
	Set        string         `json:"set"`
	Above      float64        `json:"above"`       // how far the hulls stand above their baseline, scale units
	Places     share          `json:"falsePlaces"` // hulls with a place falsely called changed
	Zones      share          `json:"falseZones"`
	Hulls      share          `json:"falseHulls"`
	Any        share          `json:"falseAny"`
	AnyTold    share          `json:"falseAnyWhereTold"` // of the hulls of which anything was told
	Untold     share          `json:"untoldPlaces"`      // of all hulls
	UntoldKept share          `json:"untoldPlacesWhereTold"`
	Found      share          `json:"plantedFound"` // where the third visit came to an answer
	FoundOfAll share          `json:"plantedFoundOfAll"`
	Silent     int            `json:"silentHulls"` // of which nothing at all could be told
	Why        map[string]int `json:"silentWhy"`
	SilentThen map[string]int `json:"plantedSilentWhy"` // why a third visit answered nothing
	Least      float64        `json:"leastChange"`      // median stated, scale units
	leasts     []float64
	mu         sync.Mutex
	tallied    tally
}

type tally struct{ places, zones, hulls, any, untold, untoldKept, of, ofKept, found, planted, answered, silent int }

func (o *outcome) claim(r *ground.Report, n int) {
	t := o.tallied
	o.Places, o.Zones, o.Hulls, o.Any, o.AnyTold = shareOf(t.places, n), shareOf(t.zones, n), shareOf(t.hulls, n), shareOf(t.any, n), shareOf(t.any, n-t.silent)
	o.Untold, o.UntoldKept, o.Silent, o.Least = shareOf(t.untold, t.of), shareOf(t.untoldKept, t.ofKept), t.silent, middle(o.leasts)
	o.Found, o.FoundOfAll = shareOf(t.found, t.answered), shareOf(t.found, t.planted)
	r.Claim(o.Any.below(mostAlarms, n), o.Set+": nothing changed, and something is called changed (a place, a zone or the hull) in at most 5 %",
		"%v; places %.1f %%, zones %.1f %%, hull %.1f %%; of the hulls told of %v", o.Any, 100*o.Places.Share, 100*o.Zones.Share, 100*o.Hulls.Share, o.AnyTold)
	r.Claim(o.Any.upper() <= mostAlarmsBound || n < enough, o.Set+": the one-sided 95 % bound of that is at most 7.5 %", "%.1f %%; of the hulls told of %.1f %%", 100*o.Any.upper(), 100*o.AnyTold.upper())
	r.Claim(o.Untold.Share <= mostUntold || n < enough, o.Set+": cannot tell at most at a fifth of the places, hulls without any answer included",
		"%v; of hulls told of %.1f %%", o.Untold, 100*o.UntoldKept.Share)
	r.Claim(o.Found.above(leastFound, n), o.Set+": 1.5 times the stated least change is found in at least 90 % of the visits that came to an answer", "%v; of all planted %v", o.Found, o.FoundOfAll)
}

func middle(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	return medianOf(x)
}

// over reads so many hulls of a set, as many at once as there are processors.
func (b *bench) over(ctx context.Context, s set) (*outcome, error) {
	out := &outcome{Set: s.name, Above: above, Why: map[string]int{}, SilentThen: map[string]int{}}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan int)
	var group sync.WaitGroup
	for range min(b.n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			w, err := open(ctx, b.db)
			if err != nil {
				stop(err)
				return
			}
			defer w.close()
			for k := range next {
				if err := s.one(ctx, w, rand.New(rand.NewPCG(b.Seed, uint64(k)<<8|uint64(s.mark))), out); err != nil {
					stop(fmt.Errorf("hull %d: %w", k, err))
					return
				}
			}
		})
	}
	for k := 0; k < b.n && ctx.Err() == nil; k++ {
		if k > 0 && k%50 == 0 {
			b.Say("%s: %d of %d hulls", s.name, k, b.n)
		}
		select {
		case next <- k:
		case <-ctx.Done():
		}
	}
	close(next)
	group.Wait()
	return out, context.Cause(ctx)
}
