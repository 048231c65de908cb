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
//
// # Looking at one hull
//
// A broken promise names the hulls that broke it. `proof inference -seed N -hull K` tells of
// that hull in each set: what was planted, which checks were made and what each answered,
// where one erred and what it should have shown, each line of the ledgers for and against,
// and what the gate says with its figures.
//
// # What "never" stands on
//
// In the set outside the model one check in seven answers something else than what is there,
// so that no rule keeps a hull with an artefact from ever being called wet: enough errors in
// one direction name anything. The ledger asks for so many that agree, by what the trade
// says of artefacts and of families of evidence, not by a seed: two families to exclude a
// mimic that something points towards; two to call water in the laminate likely, by lines
// that no mimic explains; and no mimic left that a line points towards alone or that has
// more for it than against it. It costs answers: the share of planted water that is called
// likely after four checks is printed beside the promise (figures in this package’s README.md).
package inference

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain/measure/coverage"
)

var (
	hulls int
	hull  int
	above float64
	times string
	only  string
)

// everyHull is what -hull holds where none is asked for by itself.
const everyHull = -1

// Proof holds the gate to what it promises.
var Proof = ground.Proof{
	Name:  "inference",
	Brief: "what is concluded of simulated hulls: false alarms, silences, planted changes and causes",
	Flags: func(f *flag.FlagSet) {
		f.IntVar(&hulls, "hulls", 0, "how many hulls of each set; 0: 400, short form 10")
		f.IntVar(&hull, "hull", everyHull, "tell of this hull alone, numbered from 0: what was planted, done and said")
		f.Float64Var(&above, "above", standsAbove, "how far hulls stand above their dry baseline, scale units")
		f.StringVar(&only, "only", "", "prove this part alone: changes or causes")
		f.StringVar(&times, "times", "1.5", "what is planted, times the least change stated; several, with commas, take turns from hull to hull")
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
	beyondLeast     = 1.5 // times the stated least change, planted
)

// part is one thing that is proved, over sets of hulls of its own. Causes are one, in a
// file of their own.
type part struct {
	name  string
	prove func(context.Context, *bench, *ground.Report) error
}

var parts = []part{{"changes", changes}, {"causes", causes}}

// bench is what every part works on.
type bench struct {
	ground.Options
	db    *ground.Database
	n     int // hulls of a set
	alone int // the one that is told of; everyHull: none by itself
	times []float64
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	n := hulls
	if n == 0 {
		n = o.Size(400, 10)
	}
	planted, err := multiples(times)
	if err != nil {
		return r, err
	}
	if only != "" && !slices.ContainsFunc(parts, func(p part) bool { return p.name == only }) {
		return r, fmt.Errorf("-only takes changes or causes, not %q", only)
	}
	db, err := ground.Open(ctx, o, "inference")
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	b := &bench{Options: o, db: db, n: n, alone: hull, times: planted}
	for _, p := range parts {
		if only != "" && only != p.name {
			continue
		}
		if err := p.prove(ctx, b, &r); err != nil {
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
		if b.alone != everyHull {
			notes.WriteString(out.told)
			continue
		}
		out.claim(r, b)
		figures = append(figures, out)
		fmt.Fprintf(&notes, "%s: %d hulls, %g units above their baseline; least change stated %.1f units (median); %d without any answer: %v; of all %d changes planted %.1f %% found; hulls of which something is called changed: %s\n",
			set.name, b.n, above, out.Least, out.Silent, out.Why, out.FoundOfAll.Of, 100*out.FoundOfAll.Share, numbers(out.Alarmed))
		for _, x := range out.ByTimes {
			fmt.Fprintf(&notes, "  planted %g times the least change: found %v\n", x.Times, x.Found)
		}
	}
	if r.Notes += notes.String(); len(figures) > 0 {
		r.Figures = figures
	}
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
	ByTimes    []foundAt      `json:"plantedFoundByTimes"`
	Alarmed    []int          `json:"falseAnyHulls"` // their numbers, for -hull
	leasts     []float64
	mu         sync.Mutex
	tallied    tally
	found      map[float64]*foundTally
	told       string
}

type tally struct{ places, zones, hulls, any, untold, untoldKept, of, ofKept, silent int }

// foundAt is what was found of changes planted so many times the least change stated, of
// the visits that came to an answer and of all.
type foundAt struct {
	Times float64 `json:"times"`
	Found share   `json:"found"`
	OfAll share   `json:"ofAll"`
}

type foundTally struct{ found, planted, answered int }

func (o *outcome) claim(r *ground.Report, b *bench) {
	t, n := o.tallied, b.n
	o.Places, o.Zones, o.Hulls, o.Any, o.AnyTold = shareOf(t.places, n), shareOf(t.zones, n), shareOf(t.hulls, n), shareOf(t.any, n), shareOf(t.any, n-t.silent)
	o.Untold, o.UntoldKept, o.Silent, o.Least = shareOf(t.untold, t.of), shareOf(t.untoldKept, t.ofKept), t.silent, middle(o.leasts)
	o.sumFound()
	r.Claim(o.Any.below(mostAlarms, n), o.Set+": nothing changed, and something is called changed (a place, a zone or the hull) in at most 5 %",
		"%v; places %.1f %%, zones %.1f %%, hull %.1f %%; of the hulls told of %v", o.Any, 100*o.Places.Share, 100*o.Zones.Share, 100*o.Hulls.Share, o.AnyTold)
	r.Claim(o.Any.upper() <= mostAlarmsBound || n < enough, o.Set+": the one-sided 95 % bound of that is at most 7.5 %", "%.1f %%; of the hulls told of %.1f %%", 100*o.Any.upper(), 100*o.AnyTold.upper())
	r.Claim(o.Untold.Share <= mostUntold || n < enough, o.Set+": cannot tell at most at a fifth of the places, hulls without any answer included",
		"%v; of hulls told of %.1f %%", o.Untold, 100*o.UntoldKept.Share)
	if slices.Contains(b.times, beyondLeast) {
		r.Claim(o.Found.above(leastFound, o.FoundOfAll.Of), o.Set+": 1.5 times the stated least change is found in at least 90 % of the visits that came to an answer", "%v; of all planted %v", o.Found, o.FoundOfAll)
	}
}

// sumFound counts what was found, by how much was planted; what is promised speaks of one.
func (o *outcome) sumFound() {
	for _, x := range slices.Sorted(maps.Keys(o.found)) {
		t := o.found[x]
		at := foundAt{Times: x, Found: shareOf(t.found, t.answered), OfAll: shareOf(t.found, t.planted)}
		if x == beyondLeast {
			o.Found, o.FoundOfAll = at.Found, at.OfAll
		}
		o.ByTimes = append(o.ByTimes, at)
	}
}

func middle(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	return medianOf(x)
}

// multiples reads what -times was given.
func multiples(text string) (out []float64, err error) {
	for _, word := range strings.Split(text, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		if err != nil || !(x > 0 && x <= 10) {
			return nil, fmt.Errorf("-times takes figures above 0 and up to 10, not %q", word)
		}
		out = append(out, x)
	}
	return out, nil
}

// over reads the hulls of a set.
func (b *bench) over(ctx context.Context, s set) (*outcome, error) {
	out := &outcome{Set: s.name, Above: above, Why: map[string]int{}, SilentThen: map[string]int{}, found: map[float64]*foundTally{}}
	return out, b.each(ctx, s.name, s.mark, func(ctx context.Context, w *world, k int, r *rand.Rand) error {
		return s.one(ctx, w, &changeRun{hull: k, times: b.times[k%len(b.times)], r: r, tale: b.tale(), out: out})
	})
}

// tale is where a hull that was asked for by itself is told of.
func (b *bench) tale() *tale {
	if b.alone == everyHull {
		return nil
	}
	return &tale{}
}

// each does the same with every hull of a set, or with the one asked for, as many at once
// as there are processors. What chance gives a hull depends on its number alone.
func (b *bench) each(ctx context.Context, name string, mark uint8, do func(context.Context, *world, int, *rand.Rand) error) error {
	first, last := 0, b.n-1
	if b.alone != everyHull {
		first, last = b.alone, b.alone
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan int)
	var group sync.WaitGroup
	for range min(last-first+1, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			w, err := open(ctx, b.db)
			if err != nil {
				stop(err)
				return
			}
			defer w.close()
			for k := range next {
				if err := do(ctx, w, k, rand.New(rand.NewPCG(b.Seed, uint64(k)<<8|uint64(mark)))); err != nil {
					stop(fmt.Errorf("hull %d: %w", k, err))
					return
				}
			}
		})
	}
	for k := first; k <= last && ctx.Err() == nil; k++ {
		if k > first && k%50 == 0 {
			b.Say("%s: %d of %d hulls", name, k, b.n)
		}
		select {
		case next <- k:
		case <-ctx.Done():
		}
	}
	close(next)
	group.Wait()
	return context.Cause(ctx)
}
