package inference

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"

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
	Likely    share            `json:"wetCalledLikely"`        // water planted, and called likely as what it is
	Otherwise share            `json:"wetCalledOtherwise"`     // water planted, and other water called likely
	ByKind    map[string]share `json:"amongFirstTwoByKind"`
	Called    []int            `json:"artefactCalledWetHulls"` // their numbers, for -hull
	Lower     []int            `json:"notAmongFirstTwoHulls"`
	mu        sync.Mutex
	tally     map[string]*causeTally
	told      string
}

type causeTally struct {
	of, first, two, confirmed, artefacts, wet, wetFirst, local, missed int
	water, likely, otherwise                                           int
}

// causes is the part about planted causes.
func causes(ctx context.Context, b *bench, r *ground.Report) error {
	var notes strings.Builder
	figures := make([]*causesOutcome, 0, len(causeSets))
	for _, set := range causeSets {
		out, err := b.plant(ctx, set)
		if err != nil {
			return fmt.Errorf("%s: %w", set.name, err)
		}
		if b.alone != everyHull {
			notes.WriteString(out.told)
			continue
		}
		out.claim(r)
		figures = append(figures, out)
		fmt.Fprintf(&notes, "%s: first %v; patch not found %v\n", set.name, out.First, out.Missed)
		fmt.Fprintf(&notes, "  water in the laminate planted: called likely %v; other water called likely %v\n", out.Likely, out.Otherwise)
		fmt.Fprintf(&notes, "  hulls whose artefact is called wet: %s; whose cause is not among the first two: %s\n", numbers(out.Called), numbers(out.Lower))
		for _, p := range plants {
			fmt.Fprintf(&notes, "  %-24s %v\n", p.kind, out.ByKind[p.kind])
		}
	}
	if r.Notes += notes.String(); len(figures) > 0 {
		r.Figures = []any{r.Figures, figures}
	}
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
		all.water, all.likely, all.otherwise = all.water+t.water, all.likely+t.likely, all.otherwise+t.otherwise
	}
	o.First, o.FirstTwo, o.Confirmed = shareOf(all.first, all.of), shareOf(all.two, all.of), shareOf(all.confirmed, all.of)
	o.Wet, o.WetFirst, o.Missed = shareOf(all.wet, all.artefacts), shareOf(all.wetFirst, all.artefacts), shareOf(all.missed, all.local)
	o.Likely, o.Otherwise = shareOf(all.likely, all.water), shareOf(all.otherwise, all.water)
	r.Claim(o.FirstTwo.above(leastRanked, all.of), o.Set+": the planted cause is among the first two live ones in at least 85 %", "%v", o.FirstTwo)
	r.Claim(all.confirmed == 0, o.Set+": nothing is confirmed where nothing was opened or sampled", "%v", o.Confirmed)
	r.Claim(all.wet == 0, o.Set+": no hull with an artefact is called wet laminate", "%v called likely or confirmed; %v have one ranked first", o.Wet, o.WetFirst)
}

// plant puts the hulls of a set through the service.
func (b *bench) plant(ctx context.Context, s causeSet) (*causesOutcome, error) {
	out := &causesOutcome{Set: s.name, tally: map[string]*causeTally{}}
	return out, b.each(ctx, s.name, s.mark, func(ctx context.Context, w *world, k int, r *rand.Rand) error {
		return s.one(ctx, w, &causeRun{hull: k, plant: plants[k%len(plants)], r: r, tale: b.tale(), out: out})
	})
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

// causeRun is one hull on her way through the service.
type causeRun struct {
	hull int
	plant
	geometry
	r    *rand.Rand
	tale *tale
	out  *causesOutcome
}

// one plants a cause in a hull, has her read twice, follows what the ledger proposes and
// looks where the planted cause stands in the end.
func (s causeSet) one(ctx context.Context, w *world, run *causeRun) error {
	r := run.r
	run.geometry = geometry{
		side: []simulate.Side{simulate.Port, simulate.Starboard}[r.IntN(2)], along: unit.Millimetres(2500 + 3000*r.Float64()), down: unit.Millimetres(550 + 250*r.Float64()),
		edge: s.edge, strength: s.weakest + (1-s.weakest)*r.Float64(), from: secondAt.AddDate(0, 0, -1),
	}
	h, err := s.hull(run.plant, run.geometry, r)
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
	mapped := r.Float64() < s.mapped
	if err := boat.paper(ctx, run.plant, run.geometry, mapped); err != nil {
		return err
	}
	run.tale.say("hull %d, %s: %s; what lies behind is mapped: %t; read with both depths: %t", run.hull, s.name, run.kind, mapped, len(sheets) > 2)
	run.tale.planted(h.Causes)
	half := len(sheets) / 2
	if _, err := boat.round(ctx, sheets[:half], false); err != nil {
		return err
	}
	visit, err := boat.round(ctx, sheets[half:], run.is[0] == cause.Condensation)
	if err != nil {
		return err
	}
	c, err := s.checks(ctx, boat, visit, run, h.Places)
	if err != nil {
		return err
	}
	run.out.note(run, c, h.Places)
	return nil
}

// checks makes the checks that the ledger puts first, one after the other, and gives the
// ledgers as they stand in the end.
func (s causeSet) checks(ctx context.Context, boat *boat, visit uuid.UUID, run *causeRun, places []simulate.Place) (practice.Causes, error) {
	for round := 0; ; round++ {
		c, err := boat.Causes(ctx, boat.hand, practice.CauseAsk{Vessel: boat.vessel})
		if err != nil || round == s.rounds {
			return c, err
		}
		m, _ := run.matterOf(c, run.geometry, places)
		more, err := boat.follow(ctx, visit, m, round+1, s.errs, run)
		if err != nil || !more {
			return c, err
		}
	}
}

// note counts what the ledgers of a hull say of what was planted.
func (o *causesOutcome) note(run *causeRun, c practice.Causes, places []simulate.Place) {
	m, found := run.matterOf(c, run.geometry, places)
	run.tale.ledgers(c, m)
	o.mu.Lock()
	defer o.mu.Unlock()
	if run.tale != nil {
		o.told = run.tale.String()
	}
	t := o.tally[run.kind]
	if t == nil {
		t = &causeTally{}
		o.tally[run.kind] = t
	}
	live := m.Ledger.Live()
	t.of++
	switch slices.IndexFunc(live, run.names) {
	case 0:
		t.first, t.two = t.first+1, t.two+1
	case 1:
		t.two++
	default:
		o.Lower = append(o.Lower, run.hull)
	}
	if run.local {
		t.local++
		if !found {
			t.missed++
		}
	}
	if run.artefact {
		t.artefacts++
		if t.calledWet(c) {
			o.Called = append(o.Called, run.hull)
		}
		if len(live) > 0 && live[0].Cause.Wet {
			t.wetFirst++
		}
	}
	t.named(m, run)
	t.opened(c)
}

// names tells whether an entry is what was planted.
func (p plant) names(e cause.Entry) bool { return slices.Contains(p.is, e.Cause.Code) }

func called(e cause.Entry) bool { return e.State == cause.Likely || e.State == cause.Confirmed }

// calledWet counts a hull with an artefact of which any ledger calls water in the laminate.
func (t *causeTally) calledWet(c practice.Causes) bool {
	wet := slices.ContainsFunc(c.Matters, func(m practice.Matter) bool {
		return slices.ContainsFunc(m.Ledger.Entries, func(e cause.Entry) bool { return e.Cause.Wet && called(e) })
	})
	if wet {
		t.wet++
	}
	return wet
}

// named counts what is called likely of a hull with water in the laminate.
func (t *causeTally) named(m practice.Matter, run *causeRun) {
	if c, _ := cause.Of(run.is[0]); !c.Wet {
		return
	}
	t.water++
	if slices.ContainsFunc(m.Ledger.Entries, func(e cause.Entry) bool { return called(e) && run.names(e) }) {
		t.likely++
	}
	if slices.ContainsFunc(m.Ledger.Entries, func(e cause.Entry) bool { return called(e) && e.Cause.Wet && !run.names(e) }) {
		t.otherwise++
	}
}

// opened counts what is confirmed without a sample or an opened place.
func (t *causeTally) opened(c practice.Causes) {
	for _, m := range c.Matters {
		for _, e := range m.Ledger.Entries {
			if e.State == cause.Confirmed && !slices.ContainsFunc(e.For, func(x cause.Line) bool { return x.Opens }) {
				t.confirmed++
			}
		}
	}
}
