package inference

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/practice"
)

// leastRanked is the share of hulls whose planted cause must be among the first two live ones.
const leastRanked = 0.85

// causeSet is a kind of hull, of practice and of surveyor. What a surveyor would have
// found is no part of the simulation of water: it is drawn here, from what each check
// would show of the planted cause (plants.go), with errors. The first set takes every
// circumstance written down and both depths read; the second leaves half of it out, errs
// more often, and plants what is blurred, weaker and in a rougher hull.
type causeSet struct {
	name    string
	mark    uint8
	mapped  float64 // share of hulls of which it is known what lies behind
	both    float64 // share read with both depths
	rounds  int     // checks made, each the one that the ledger puts first
	errs    float64 // share of checks that show something else
	weakest float64 // strengths from here to 1
	edge    unit.Millimetres
	texture simulate.Texture
	hand    simulate.Hand
	drift   float64
	deep    func() simulate.Instrument
}

var causeSets = []causeSet{
	{
		name: "causes, by the model", mark: 11, mapped: 1, both: 1, rounds: 4, errs: 0.05, weakest: 1, hand: simulate.Careful(),
		texture: simulate.Texture{SD: 0.8, Reach: 350, Gradient: 1.6}, deep: func() simulate.Instrument { return simulate.DeepSensing("deep") },
	},
	{
		name: "causes, outside it", mark: 12, mapped: 0.5, both: 0.5, rounds: 4, errs: 0.15, weakest: 0.6, edge: 200, hand: simulate.Hand{Relocation: 50}, drift: 0.8,
		texture: simulate.Texture{SD: 1.5, Reach: 300, Gradient: 3},
		deep: func() simulate.Instrument {
			m := simulate.DeepSensing("deep")
			m.Depth, m.Curve, m.Full = 6, 3, 38
			return m
		},
	},
}

// causesOutcome is what a set came to.
type causesOutcome struct {
	Set       string           `json:"set"`
	First     share            `json:"first"`
	FirstTwo  share            `json:"amongFirstTwo"`
	Confirmed share            `json:"confirmedWithoutOpening"`
	Wet       share            `json:"artefactCalledWet"`      // likely or confirmed
	WetFirst  share            `json:"artefactRankedWetFirst"` // only first, and no more than pointed at
	Missed    share            `json:"patchNotFound"`          // of local causes
	ByKind    map[string]share `json:"amongFirstTwoByKind"`
	mu        sync.Mutex
	tally     map[string]*causeTally
}

type causeTally struct{ of, first, two, confirmed, artefacts, wet, wetFirst, local, missed int }

// causes is the part about planted causes.
func causes(ctx context.Context, b *bench, r *ground.Report) error {
	var notes strings.Builder
	figures := make([]*causesOutcome, 0, len(causeSets))
	for _, set := range causeSets {
		out, err := b.plant(ctx, set)
		if err != nil {
			return fmt.Errorf("%s: %w", set.name, err)
		}
		out.claim(r)
		figures = append(figures, out)
		fmt.Fprintf(&notes, "%s: first %v; patch not found %v\n", set.name, out.First, out.Missed)
		for _, p := range plants {
			fmt.Fprintf(&notes, "  %-24s %v\n", p.kind, out.ByKind[p.kind])
		}
	}
	r.Notes += notes.String()
	r.Figures = []any{r.Figures, figures}
	return nil
}

func (o *causesOutcome) claim(r *ground.Report) {
	var all causeTally
	o.ByKind = map[string]share{}
	for kind, t := range o.tally {
		o.ByKind[kind] = shareOf(t.two, t.of)
		all.of, all.first, all.two, all.confirmed = all.of+t.of, all.first+t.first, all.two+t.two, all.confirmed+t.confirmed
		all.artefacts, all.wet, all.wetFirst = all.artefacts+t.artefacts, all.wet+t.wet, all.wetFirst+t.wetFirst
		all.local, all.missed = all.local+t.local, all.missed+t.missed
	}
	o.First, o.FirstTwo, o.Confirmed = shareOf(all.first, all.of), shareOf(all.two, all.of), shareOf(all.confirmed, all.of)
	o.Wet, o.WetFirst, o.Missed = shareOf(all.wet, all.artefacts), shareOf(all.wetFirst, all.artefacts), shareOf(all.missed, all.local)
	r.Claim(o.FirstTwo.above(leastRanked, all.of), o.Set+": the planted cause is among the first two live ones in at least 85 %", "%v", o.FirstTwo)
	r.Claim(all.confirmed == 0, o.Set+": nothing is confirmed where nothing was opened or sampled", "%v", o.Confirmed)
	r.Claim(all.wet == 0, o.Set+": no hull with an artefact is called wet laminate", "%v called likely or confirmed; %v have one ranked first", o.Wet, o.WetFirst)
}

// plant puts so many hulls of a set through the service, as many at once as there are processors.
func (b *bench) plant(ctx context.Context, s causeSet) (*causesOutcome, error) {
	out := &causesOutcome{Set: s.name, tally: map[string]*causeTally{}}
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
				if err := s.one(ctx, w, plants[k%len(plants)], rand.New(rand.NewPCG(b.Seed, uint64(k)<<8|uint64(s.mark))), out); err != nil {
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

// launched is when the story of a hull begins; she is lifted a month before each visit.
var (
	launched = time.Date(2019, 3, 4, 9, 0, 0, 0, time.UTC)
	firstAt  = launched.AddDate(2, 0, 0)
	secondAt = launched.AddDate(4, 0, 0)
)

func (s causeSet) hull(p plant, g geometry, r *rand.Rand) (simulate.Hull, error) {
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 8000, Girth: 1500, Every: 500, Row: 300, DryAt: 320})
	if err != nil {
		return simulate.Hull{}, err
	}
	var spells []simulate.Spell
	for _, at := range []time.Time{firstAt, secondAt} {
		spells = append(spells, simulate.Spell{Until: at.AddDate(0, 0, -28), Afloat: true}, simulate.Spell{Until: at.AddDate(0, 0, 60), Shelter: &simulate.Shelter{At: 14, Air: 68}})
	}
	h := simulate.Hull{
		Places: places, Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(skinMm)}},
		Begins: launched, Start: 0.75, Spells: spells, Climate: simulate.Skerrow(), Texture: s.texture, Seed: r.Uint64(),
	}
	if p.causes != nil {
		h.Causes = p.causes(g)
	}
	return h, nil
}

// passes are a deep one at each visit, the shallow one where it was at hand.
func (s causeSet) passes(r *rand.Rand) (list []simulate.Pass) {
	both := r.Float64() < s.both
	for _, at := range []time.Time{firstAt, secondAt} {
		for _, m := range []simulate.Instrument{s.deep(), simulate.ShallowSensing(shallowName)} {
			if m.Name == shallowName && !both {
				continue
			}
			list = append(list, simulate.Pass{
				At: at, Instrument: m, Placements: 3, Hand: s.hand, Seed: r.Uint64(), Zero: 0.5 * r.NormFloat64(), Drift: s.drift * r.NormFloat64(), PlaceByVisit: 0.6, Repeats: 0.1,
			})
		}
	}
	return list
}

// one plants a cause in a hull, has her read twice, follows what the ledger proposes and
// looks where the planted cause stands in the end.
func (s causeSet) one(ctx context.Context, w *world, p plant, r *rand.Rand, out *causesOutcome) error {
	g := geometry{
		side: []simulate.Side{simulate.Port, simulate.Starboard}[r.IntN(2)], along: unit.Millimetres(2500 + 3000*r.Float64()), down: unit.Millimetres(550 + 250*r.Float64()),
		edge: s.edge, strength: s.weakest + (1-s.weakest)*r.Float64(), from: secondAt.AddDate(0, 0, -1),
	}
	h, err := s.hull(p, g, r)
	if err != nil {
		return err
	}
	sheets, err := simulate.Read(h, s.passes(r))
	if err != nil {
		return err
	}
	boat, err := w.boat(ctx, h)
	if err != nil {
		return err
	}
	if err := boat.secondInstrument(ctx); err != nil {
		return err
	}
	if err := boat.paper(ctx, p, g, r.Float64() < s.mapped); err != nil {
		return err
	}
	half := len(sheets) / 2
	if _, err := boat.round(ctx, sheets[:half], false); err != nil {
		return err
	}
	visit, err := boat.round(ctx, sheets[half:], p.is[0] == cause.Condensation)
	if err != nil {
		return err
	}
	ask := practice.CauseAsk{Vessel: boat.vessel}
	for range s.rounds {
		c, err := boat.Causes(ctx, boat.hand, ask)
		if err != nil {
			return err
		}
		m, _ := p.matterOf(c, g, h.Places)
		if more, err := boat.follow(ctx, visit, m, p, s.errs, r); err != nil || !more {
			return err
		}
	}
	c, err := boat.Causes(ctx, boat.hand, ask)
	if err != nil {
		return err
	}
	out.note(p, c, g, h.Places)
	return nil
}

// note counts what the ledgers of a hull say of what was planted.
func (o *causesOutcome) note(p plant, c practice.Causes, g geometry, places []simulate.Place) {
	m, found := p.matterOf(c, g, places)
	o.mu.Lock()
	defer o.mu.Unlock()
	t := o.tally[p.kind]
	if t == nil {
		t = &causeTally{}
		o.tally[p.kind] = t
	}
	live := m.Ledger.Live()
	t.of++
	at := slices.IndexFunc(live, func(e cause.Entry) bool { return slices.Contains(p.is, e.Cause.Code) })
	if at == 0 {
		t.first++
	}
	if at == 0 || at == 1 {
		t.two++
	}
	if p.local {
		t.local++
		if !found {
			t.missed++
		}
	}
	for _, m := range c.Matters {
		for _, e := range m.Ledger.Entries {
			opened := slices.ContainsFunc(e.For, func(x cause.Line) bool { return x.Opens })
			if e.State == cause.Confirmed && !opened {
				t.confirmed++
			}
		}
	}
	if !p.artefact {
		return
	}
	t.artefacts++
	called := slices.ContainsFunc(c.Matters, func(m practice.Matter) bool {
		return slices.ContainsFunc(m.Ledger.Entries, func(e cause.Entry) bool {
			return e.Cause.Wet && (e.State == cause.Likely || e.State == cause.Confirmed)
		})
	})
	if called {
		t.wet++
	}
	if len(live) > 0 && live[0].Cause.Wet {
		t.wetFirst++
	}
}
