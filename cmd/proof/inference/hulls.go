package inference

import (
	"context"
	"math/rand/v2"
	"slices"
	"time"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// set is a kind of hull and of practice. The first holds what the arithmetic assumes, the
// second what it does not: edges of planted things, places found again 50 mm off, drift
// within a pass, a rough texture, places left out.
type set struct {
	name       string
	mark       uint8
	pairs      int     // like pairs measured beforehand
	zero       float64 // visit effect, standard deviation, units
	gain       float64 // of the instrument's factor between the visits compared
	drift      float64 // further shift within a pass
	placeVisit float64
	missed     float64 // share of places not reached
	hand       simulate.Hand
	texture    simulate.Texture
	planted    bool // something is there all the time
}

var sets = []set{
	{
		name: "by the model", mark: 1, pairs: 3, zero: 4, gain: 0.02, placeVisit: 1, hand: simulate.Careful(),
		texture: simulate.Texture{SD: 1.5, Reach: 900, Gradient: 1},
	},
	{
		name: "outside it", mark: 2, pairs: 6, zero: 4, gain: 0.03, drift: 1, placeVisit: 1.5, missed: 0.04, hand: simulate.Hand{Relocation: 50},
		texture: simulate.Texture{SD: 3, Reach: 300, Gradient: 3}, planted: true,
	},
}

// began is when the hull is put into her shed, in balance with its air: nothing in her
// changes from then on.
var began = time.Date(2020, 1, 6, 9, 0, 0, 0, time.UTC)

// standsAbove is how far a hull stands above her dry baseline, scale units: see the package.
const standsAbove = 24

// The visits: like pairs on one day each, two days apart; then the two that are compared,
// four weeks ashore each, a year apart; the planted change shows at a third, a year on.
func (s set) visits() (like []time.Time, first, second, third time.Time) {
	for k := range s.pairs {
		at := began.AddDate(0, 1, 2*k)
		like = append(like, at, at.Add(5*time.Hour))
	}
	return like, began.AddDate(1, 0, 0), began.AddDate(2, 0, 0), began.AddDate(3, 0, 0)
}

func (s set) hull(r *rand.Rand) (simulate.Hull, error) {
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 8000, Girth: 1500, Every: 1000, Row: 400, DryAt: 300})
	if err != nil {
		return simulate.Hull{}, err
	}
	under := simulate.Area{Along: simulate.Span{From: -1e5, To: 1e5}, Down: simulate.Span{From: 0, To: 1e5}}
	h := simulate.Hull{
		Places: places, Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(8.4)}},
		Begins: began, Start: 0.6, Spells: []simulate.Spell{{Until: began.AddDate(4, 0, 0), Shelter: &simulate.Shelter{At: 18, Air: 60}}},
		Climate: simulate.Skerrow(), Texture: s.texture, Seed: r.Uint64(), Causes: []simulate.Cause{simulate.ConductiveCoating(under, above)},
	}
	if s.planted {
		tank := simulate.TankBehind(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 2000, To: 4000}, Down: simulate.Span{From: 300, To: 1200}}, 9)
		tank.Edge = 400
		tank.Strength = 60
		h.Causes = append(h.Causes, tank, simulate.WetCore(simulate.Starboard, 5500, 1000, 500, time.Time{}))
	}
	return h, nil
}

func (s set) pass(r *rand.Rand, at time.Time) simulate.Pass {
	return simulate.Pass{
		At: at, Instrument: simulate.DeepSensing("deep"), Placements: 3, Hand: s.hand, Seed: r.Uint64(),
		Zero: s.zero * r.NormFloat64(), Drift: s.drift * r.NormFloat64(), PlaceByVisit: s.placeVisit, NotReached: s.missed, Repeats: 0.1,
	}
}

// changeRun is one hull on her way through the service.
type changeRun struct {
	hull  int
	times float64 // what is planted, times the least change stated
	r     *rand.Rand
	tale  *tale
	out   *outcome
}

// one puts a hull through the service: compares two visits between which nothing changed,
// plants a change at one place and asks again.
func (s set) one(ctx context.Context, w *world, run *changeRun) error {
	r := run.r
	h, err := s.hull(r)
	if err != nil {
		return err
	}
	run.tale.say("hull %d, %s", run.hull, s.name)
	run.tale.planted(h.Causes)
	boat, err := s.still(ctx, w, h, r)
	if err != nil {
		return err
	}
	still, err := boat.gate(ctx)
	if err != nil {
		return err
	}
	run.tale.gate("nothing changed", still, h.Places)
	run.out.still(run.hull, still)
	defer run.out.tell(run.tale)
	where := s.where(still, r)
	if where < 0 {
		return nil
	}
	by := run.times * float64(still.Leasts[where]) / 20
	changed, err := s.plant(ctx, boat, h, where, by, r)
	if err != nil {
		return err
	}
	run.tale.say("  then planted: %+.1f units at place %d, %g times the least change", by, where+1, run.times)
	run.tale.gate("beside the visit before", changed, h.Places)
	run.out.planted(changed, where, run.times)
	return nil
}

// still enters the like pairs and the two visits between which nothing changes.
func (s set) still(ctx context.Context, w *world, h simulate.Hull, r *rand.Rand) (*boat, error) {
	like, first, second, _ := s.visits()
	var passes []simulate.Pass
	for k, at := range append(slices.Clone(like), first, second) {
		p := s.pass(r, at)
		if k >= len(like) { // like pairs are read before a gain can move
			p.Gain = 1 + s.gain*r.NormFloat64()
		}
		passes = append(passes, p)
	}
	sheets, err := simulate.Read(h, passes)
	if err != nil {
		return nil, err
	}
	boat, err := w.boat(ctx, h)
	if err != nil {
		return nil, err
	}
	for _, sheet := range sheets {
		if err := boat.enter(ctx, sheet); err != nil {
			return nil, err
		}
	}
	return boat, nil
}

// plant lets a place read higher from the second visit on and gives what is said at a third.
func (s set) plant(ctx context.Context, boat *boat, h simulate.Hull, where int, by float64, r *rand.Rand) (*practice.Gate, error) {
	_, _, second, third := s.visits()
	at := h.Places[where]
	h.Causes = append(h.Causes, simulate.Cause{
		Name: "wetter", Strength: by, From: second.AddDate(0, 1, 0),
		Where: simulate.Area{Side: at.Side, Along: simulate.Span{From: at.Along - 250, To: at.Along + 250}, Down: simulate.Span{From: at.Down - 150, To: at.Down + 150}},
	})
	p := s.pass(r, third)
	p.Gain, p.NotReached = 1+s.gain*r.NormFloat64(), 0
	sheets, err := simulate.Read(h, []simulate.Pass{p})
	if err != nil {
		return nil, err
	}
	if err := boat.enter(ctx, sheets[0]); err != nil {
		return nil, err
	}
	return boat.gate(ctx)
}

// where picks a place that was compared; −1 where none was.
func (s set) where(g *practice.Gate, r *rand.Rand) int {
	var compared []int
	for k, v := range g.Verdicts {
		if v == int32(change.NoChangeShown) && g.Leasts[k] != practice.Null {
			compared = append(compared, k)
		}
	}
	if len(compared) == 0 {
		return -1
	}
	return compared[r.IntN(len(compared))]
}

// still counts what is said of two visits between which nothing changed.
func (o *outcome) still(hull int, g *practice.Gate) {
	o.mu.Lock()
	defer o.mu.Unlock()
	t := &o.tallied
	places, zones, hulls := slices.Contains(g.Verdicts, int32(change.Changed)), false, g.Hull.Answer == change.Changed
	for _, z := range g.Zones {
		zones = zones || z.Verdict.Answer == change.Changed
	}
	for _, x := range []struct {
		is bool
		n  *int
	}{{places, &t.places}, {zones, &t.zones}, {hulls, &t.hulls}, {places || zones || hulls, &t.any}, {g.LeastChange == nil, &t.silent}} {
		if x.is {
			*x.n++
		}
	}
	if places || zones || hulls {
		o.Alarmed = append(o.Alarmed, hull)
	}
	of, untold := counted(g)
	t.of, t.untold = t.of+of, t.untold+untold
	if g.LeastChange != nil {
		t.ofKept, t.untoldKept = t.ofKept+of, t.untoldKept+untold
		o.leasts = append(o.leasts, *g.LeastChange)
	} else if len(g.Untold) > 0 {
		o.Why[g.Untold[0].Code]++
	}
}

// counted gives the places that a gate speaks of, and those that it cannot tell.
func counted(g *practice.Gate) (of, untold int) {
	for _, v := range g.Verdicts {
		if v != practice.Null {
			of++
		}
		if v == int32(change.CannotTell) {
			untold++
		}
	}
	return of, untold
}

// planted counts what is said of a place where a change was planted.
func (o *outcome) planted(g *practice.Gate, where int, times float64) {
	o.mu.Lock()
	defer o.mu.Unlock()
	t := o.found[times]
	if t == nil {
		t = &foundTally{}
		o.found[times] = t
	}
	t.planted++
	switch {
	case g.LeastChange != nil:
		t.answered++
	case len(g.Untold) > 0:
		o.SilentThen[g.Untold[0].Code]++
	}
	if g.Verdicts[where] == int32(change.Changed) {
		t.found++
	}
}

// tell keeps what befell the hull that was asked for by itself.
func (o *outcome) tell(t *tale) {
	if t != nil {
		o.told = t.String()
	}
}

func medianOf(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}
