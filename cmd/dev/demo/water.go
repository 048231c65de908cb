package demo

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
)

// The noise of the scenario, scale units and mm: invented.
const (
	placeByVisit = 0.6
	spotReach    = 350
	towardsKeel  = 1.6 // units a metre down
)

// read makes the readings of all her metered passes, in the order of the passes.
func (b boat) read(spots []spot, passes []*pass) ([]simulate.Sheet, error) {
	if len(passes) == 0 {
		return nil, nil
	}
	first := slices.MinFunc(passes, func(a, b *pass) int { return a.began.Compare(b.began) }).began
	hull := simulate.Hull{
		Places: simulated(spots), Begins: first.AddDate(-max(1, b.water.years), 0, 0), Start: b.water.start,
		Climate: simulate.Skerrow(), Causes: b.water.causes, Seed: number(b.key),
		Texture: simulate.Texture{SD: cmp.Or(b.water.spots, 0.8), Reach: spotReach, Gradient: towardsKeel},
	}
	wall := simulate.Laminate(unit.Millimetres(cmp.Or(b.water.wall, 9.4)))
	if b.water.epoxy {
		wall = append([]diffusion.Layer{barrier()}, wall...)
	}
	hull.Regions = []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: wall}}
	last := slices.MaxFunc(passes, func(a, b *pass) int { return a.began.Compare(b.began) }).began
	hull.Spells = b.courses(hull.Begins, last.AddDate(0, 0, 2))
	asked := make([]simulate.Pass, len(passes))
	for k, p := range passes {
		asked[k] = p.simulated(b.key)
	}
	sheets, err := simulate.Read(hull, asked)
	if err != nil {
		return nil, fmt.Errorf("readings of %s: %w", b.vessel.Name, err)
	}
	return sheets, nil
}

// barrier is an epoxy coat: thin, and slow to let water through.
func barrier() diffusion.Layer {
	return diffusion.Layer{Thickness: 0.35, D: 6e-14, ActivationEnergy: 45e3}
}

// courses turns her times ashore into the simulation's, afloat between them.
func (b boat) courses(begins, ends time.Time) []simulate.Spell {
	var out []simulate.Spell
	from := begins
	until := func(t time.Time, s simulate.Spell) {
		if s.Until = t; t.After(from) {
			out, from = append(out, s), t
		}
	}
	spells := slices.Clone(b.spells)
	slices.SortFunc(spells, func(x, y spell) int { return x.lift.Compare(y.lift) })
	for _, s := range spells {
		if s.lift.IsZero() || s.launch.Before(begins) && !s.launch.IsZero() {
			continue
		}
		until(s.lift, simulate.Spell{Afloat: true})
		end := s.launch
		if end.IsZero() {
			end = later(ends, s.lift.Add(time.Hour))
		}
		if s.peel > 0 {
			until(s.lift.AddDate(0, 0, s.peelOn), simulate.Spell{Shelter: s.shelter})
		}
		next := simulate.Spell{Shelter: s.shelter, Peel: unit.Millimetres(s.peel)}
		if s.coatOn > 0 {
			until(s.lift.AddDate(0, 0, s.coatOn), next)
			next = simulate.Spell{Shelter: s.shelter, Coat: []diffusion.Layer{barrier()}}
		}
		until(end, next)
	}
	until(ends, simulate.Spell{Afloat: true})
	return out
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func (p *pass) simulated(boat string) simulate.Pass {
	out := simulate.Pass{
		At: p.began, Instrument: meters[p.instrument].simulated(), Placements: cmp.Or(p.placements, 3), Hand: simulate.Careful(),
		Seed: number(boat, p.key), Zero: meters[p.instrument].zero + p.zero, Gain: cmp.Or(meters[p.instrument].gain, 1) * cmp.Or(p.gain, 1),
		Drift: p.drift, PlaceByVisit: placeByVisit, Repeats: 0.06,
	}
	if p.hands == withoutMarks {
		out.Hand = simulate.Hand{Relocation: 90, Scatter: 1.6}
	}
	return out
}
