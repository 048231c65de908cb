package inference

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/practice"
)

// plant is a cause that is put into a hull, what a careful surveyor would have on paper
// of it, and what each check would show.
type plant struct {
	kind     string
	is       []cause.Code // any of these names it
	local    bool
	artefact bool
	sandwich bool
	causes   func(g geometry) []simulate.Cause
	layers   func(g geometry) []practice.Layer
	outcomes map[string]cause.SignCode // by check; those not named show what an ordinary hull shows
}

// geometry is where on a hull a thing is planted, and what of it is known.
type geometry struct {
	side        simulate.Side
	along, down unit.Millimetres
	edge        unit.Millimetres
	strength    float64 // factor
	from        time.Time
}

func (g geometry) area(long, high unit.Millimetres) simulate.Area {
	return simulate.Area{Side: g.side, Along: simulate.Span{From: g.along - long/2, To: g.along + long/2}, Down: simulate.Span{From: g.down - high/2, To: g.down + high/2}}
}

func (g geometry) made(c simulate.Cause) []simulate.Cause {
	c.Strength *= g.strength
	c.Edge = max(c.Edge, g.edge)
	return []simulate.Cause{c}
}

func (g geometry) box(kind, what string, a simulate.Area) []practice.Layer {
	at := func(x, y unit.Millimetres) [2]int32 { return [2]int32{int32(x), int32(y)} }
	return g.layer(kind, what, at(a.Along.From, a.Down.From), at(a.Along.To, a.Down.From), at(a.Along.To, a.Down.To), at(a.Along.From, a.Down.To))
}

func (g geometry) spot(what string) []practice.Layer {
	return g.layer("behind", what, [2]int32{int32(g.along), int32(g.down)})
}

func (g geometry) layer(kind, what string, outline ...[2]int32) []practice.Layer {
	side := sides[g.side]
	text, _ := json.Marshal(outline) // whole numbers
	return []practice.Layer{{Kind: kind, What: what, Side: &side, Outline: text, HowKnown: "seen inside"}}
}

// ordinary is what checks show of a hull that has taken up water and nothing else.
var ordinary = map[string]cause.SignCode{
	"repeat": cause.RepeatsAgree, "map": "nothing-in-records", "tap": cause.ClearNote, "raking-light": cause.NoBlisters, "other-depth": cause.BothDepths,
	"ultrasonic": "echo-there", "wipe-repeat": "repeat-dry-stayed", "thermal": "thermal-none", "inside": "inside-nothing", "empty": cause.NotWithTank,
	"rinse-bilge": "rinsed-no-change", "wash": "wash-clean", "series": "stall-flat", "scrape": cause.StaysWhenScraped, "block": cause.BlockAgrees,
	"dew-point": cause.AboveDewPoint, "weather": cause.NoRainNoWash,
}

const skinMm = 9.4 // laminate under the gelcoat

var plants = []plant{
	{kind: "ordinary absorption", is: []cause.Code{cause.OrdinaryAbsorption}},
	{
		kind: "tank behind", is: []cause.Code{cause.SomethingBehind}, local: true, artefact: true,
		causes: func(g geometry) []simulate.Cause { return g.made(simulate.TankBehind(g.area(1600, 1000), skinMm)) },
		layers: func(g geometry) []practice.Layer { return g.box("behind", "water tank", g.area(1600, 1000)) },
		outcomes: map[string]cause.SignCode{
			"map": cause.OverBehind, "other-depth": cause.DeepOnly, "thermal": "thermal-patch", "inside": "inside-behind", "empty": cause.LevelWithTank, "series": "stall-local",
		},
	},
	{
		kind: "filled locker", is: []cause.Code{cause.SomethingBehind}, local: true, artefact: true,
		causes:   func(g geometry) []simulate.Cause { return g.made(simulate.FilledLocker(g.area(1600, 1000), skinMm)) },
		layers:   func(g geometry) []practice.Layer { return g.box("behind", "locker", g.area(1600, 1000)) },
		outcomes: map[string]cause.SignCode{"map": cause.OverBehind, "other-depth": cause.DeepOnly, "inside": "inside-behind", "empty": cause.LevelWithTank, "series": "stall-local"},
	},
	{
		kind: "conductive coating", is: []cause.Code{cause.ConductiveCoating}, local: true, artefact: true,
		causes:   func(g geometry) []simulate.Cause { return g.made(simulate.ConductiveCoating(g.area(1800, 1100), 14)) },
		layers:   func(g geometry) []practice.Layer { return g.box("coating", "repainted patch", g.area(1800, 1100)) },
		outcomes: map[string]cause.SignCode{"scrape": cause.FallsWhenScraped},
	},
	{
		kind: "condensation", is: []cause.Code{cause.Condensation}, artefact: true,
		causes: func(g geometry) []simulate.Cause {
			return g.made(simulate.Condensation(simulate.Everywhere(), g.from, g.from.AddDate(1, 0, 0)))
		},
		outcomes: map[string]cause.SignCode{"wipe-repeat": "repeat-dry-fell", "series": "stall-together", "dew-point": cause.AtDewPoint},
	},
	{
		kind: "water behind a liner", is: []cause.Code{cause.LinerOrBilge}, local: true,
		causes: func(g geometry) []simulate.Cause {
			return g.made(simulate.BilgeWaterBehind(g.area(1600, 700), skinMm, g.from.AddDate(-1, 0, 0)))
		},
		layers: func(g geometry) []practice.Layer { return g.box("behind", "liner, bonded", g.area(2000, 900)) },
		outcomes: map[string]cause.SignCode{
			"map": cause.OverLiner, "other-depth": cause.DeepOnly, "thermal": "thermal-patch", "inside": "inside-liner-water", "rinse-bilge": "salt-film-rinsed", "series": "stall-local",
		},
	},
	{
		kind: "residue of a treatment", is: []cause.Code{cause.Residue},
		causes: func(g geometry) []simulate.Cause {
			return g.made(simulate.Residue(simulate.Everywhere(), 30, g.from.AddDate(-2, 0, 0)))
		},
		outcomes: map[string]cause.SignCode{"wash": "wash-carries", "series": "stall-air"},
	},
	{
		kind: "leak at a fitting", is: []cause.Code{cause.Leak}, local: true,
		causes: leaking, layers: func(g geometry) []practice.Layer { return g.spot("seacock") },
		outcomes: map[string]cause.SignCode{"map": cause.AtFitting, "other-depth": cause.DeepOnly, "thermal": "thermal-patch", "inside": "inside-fitting-wet", "series": "stall-local"},
	},
	{
		kind: "wet core at a fitting", is: []cause.Code{cause.WetCore}, local: true, sandwich: true,
		causes: leaking, layers: func(g geometry) []practice.Layer { return g.spot("heads outlet") },
		outcomes: map[string]cause.SignCode{
			"map": cause.AtFitting, "other-depth": cause.DeepOnly, "thermal": "thermal-patch", "inside": "inside-fitting-wet", "tap": cause.DullHighSandwich, "series": "stall-rebound-heat",
		},
	},
	{
		kind: "delamination", is: []cause.Code{cause.Delamination}, local: true,
		causes: func(g geometry) []simulate.Cause {
			return g.made(simulate.Delamination(g.side, g.along, g.down, 450, 5, g.from.AddDate(-1, 0, 0)))
		},
		outcomes: map[string]cause.SignCode{"other-depth": cause.DeepOnly, "thermal": "thermal-patch", "tap": cause.DullHigh, "ultrasonic": "echo-lost", "series": "stall-rebound-heat"},
	},
}

func leaking(g geometry) []simulate.Cause {
	return g.made(simulate.WetCore(g.side, g.along, g.down, 450, g.from.AddDate(-1, 0, 0)))
}

// truly is what a check made without error brings to light of a planted cause; false where
// the simulation does not know.
func (p plant) truly(c cause.Check) (cause.SignCode, bool) {
	sign, own := p.outcomes[c.Code]
	if !own {
		sign, own = ordinary[c.Code]
	}
	if c.Code == "tap" && p.sandwich && sign == cause.ClearNote {
		sign = cause.ClearHighSandwich
	}
	return sign, own
}

// shows is that, or once in so often another outcome of the same check.
func shows(c cause.Check, truly cause.SignCode, errs float64, r *rand.Rand) cause.SignCode {
	if list := c.Outcomes(); r.Float64() < errs {
		return list[r.IntN(len(list))].Code
	}
	return truly
}

// paper writes down what is known of the boat: construction, treatment, and where it is
// mapped what lies behind.
func (b *boat) paper(ctx context.Context, p plant, g geometry, mapped bool) error {
	what := "single skin, mat and woven roving"
	if p.sandwich {
		what = "sandwich, end-grain balsa"
	}
	layers := []practice.Layer{{Kind: "construction", What: what, HowKnown: "drawing"}}
	if mapped && p.layers != nil {
		layers = append(layers, p.layers(g)...)
	}
	for _, l := range layers {
		l.ID, l.ElementID = ground.NewID(), b.element
		if err := done(b.AddLayer(ctx, b.hand, practice.AddLayer{Mutation: ground.NewID(), Layer: l})); err != nil {
			return err
		}
	}
	kind, when := "built", g.from.AddDate(-30, 0, 0)
	if p.is[0] == cause.Residue {
		kind, when = "treatment", g.from.AddDate(-2, 0, 0)
	}
	day := time.Date(when.Year(), when.Month(), when.Day(), 0, 0, 0, 0, time.UTC)
	return done(b.AddEvent(ctx, b.hand, practice.AddEvent{Mutation: ground.NewID(), Vessel: b.vessel, Event: practice.Event{ID: ground.NewID(), Kind: kind, What: kind, FromOn: day, ToOn: day}}))
}

// round is a visit with its passes, deep and where it was at hand shallow.
func (b *boat) round(ctx context.Context, sheets []simulate.Sheet, wet bool) (visit uuid.UUID, err error) {
	at := sheets[0].Pass.At
	if visit, err = b.visit(ctx, at); err != nil {
		return visit, err
	}
	if wet {
		air, damp, skin := int16(120), int16(920), int16(105)
		if err := done(b.RecordCondition(ctx, b.hand, practice.RecordCondition{Mutation: ground.NewID(), Condition: practice.Condition{
			ID: ground.NewID(), VisitID: visit, At: at.Add(time.Minute), AirDecidegrees: &air, HumidityPermille: &damp, SkinPortDecidegrees: &skin, SkinStarboardDecidegrees: &skin,
		}})); err != nil {
			return visit, err
		}
	}
	for _, s := range sheets {
		if err := b.metered(ctx, visit, s); err != nil {
			return visit, err
		}
	}
	return visit, nil
}

func (b *boat) metered(ctx context.Context, visit uuid.UUID, s simulate.Sheet) error {
	pass, yes, wash := ground.NewID(), true, int16(600)
	instrument, scale := b.instrument, b.scale
	if s.Pass.Instrument.Name == shallowName {
		instrument, scale = b.shallow, b.shallowScale
	}
	at := s.Pass.At.Add(2 * time.Minute)
	return errors.Join(
		done(b.OpenPass(ctx, b.hand, practice.OpenPass{
			Mutation: ground.NewID(), ID: pass, Visit: visit, Element: b.element, Plan: b.plan, Hand: &b.hand.Member, Instrument: &instrument, Scale: &scale,
			Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", HoursSinceWash: &wash, Rain: "none", SaltWiped: &yes, Source: "metered", BeganAt: at,
		})),
		b.blocks(ctx, pass, s), b.read(ctx, pass, s),
		done(b.ClosePass(ctx, b.hand, practice.ClosePass{Mutation: ground.NewID(), ID: pass, Version: 1, At: at.Add(3 * time.Hour)})),
	)
}

const shallowName = "shallow"

// secondInstrument adds the shallow-sensing one.
func (b *boat) secondInstrument(ctx context.Context) error {
	b.shallow, b.shallowScale = ground.NewID(), ground.NewID()
	return errors.Join(
		done(b.AddInstrument(ctx, b.hand, practice.AddInstrument{Mutation: ground.NewID(), Instrument: practice.Instrument{
			ID: b.shallow, Name: "Shallow", Model: "Of the proofs, shallow", Serial: "2", Kind: "capacitance", Sensing: "shallow",
		}})),
		done(b.AddScale(ctx, b.hand, practice.AddScale{Mutation: ground.NewID(), Scale: practice.Scale{
			ID: b.shallowScale, Instrument: b.shallow, Name: "A", LowTenths: 0, HighTenths: 1000, StepTenths: 1,
		}})),
	)
}

// follow makes the check that the ledger of a matter puts first and that harms no more
// than a patch of coating, and writes down what came of it; false where nothing is left.
func (b *boat) follow(ctx context.Context, visit uuid.UUID, m practice.Matter, round int, errs float64, run *causeRun) (bool, error) {
	for _, c := range m.Ledger.Next {
		if c.Check.Harm > cause.Surface {
			continue
		}
		truly, known := run.truly(c.Check)
		sign := shows(c.Check, truly, errs, run.r)
		if !known {
			continue
		}
		run.tale.made(round, c.Check, sign, truly)
		return true, done(b.RecordCauseCheck(ctx, b.hand, practice.RecordCauseCheck{Mutation: ground.NewID(), ID: ground.NewID(), Visit: visit, Outcome: string(sign), Places: m.Places}))
	}
	return false, nil
}

// matterOf finds the matter that the planted thing lies in: the patch that holds most of
// the places within its reach; the hull at large for what is everywhere, and where no
// patch was found.
func (p plant) matterOf(c practice.Causes, g geometry, places []simulate.Place) (practice.Matter, bool) {
	best, most := c.Matters[0], 0
	if !p.local {
		return best, true
	}
	for _, m := range c.Matters[1:] {
		n := 0
		for _, o := range m.Places {
			at := places[o-1]
			if at.Side == g.side && math.Abs(float64(at.Along-g.along)) <= 900 && math.Abs(float64(at.Down-g.down)) <= 600 {
				n++
			}
		}
		if n > most {
			best, most = m, n
		}
	}
	return best, most > 0
}

func (p plant) String() string { return fmt.Sprintf("%s %v", p.kind, p.is) }
