package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
)

// alderCarr was read with both depths each time: wet through, after three months in a
// shed, and again after a fortnight afloat. A wet locker stands behind one field.
func alderCarr(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 8.8, 2.9, 1.55)
	b := boat{
		key: "alder carr", since: c.on(-150, "10:00"), bootTop: 50, mark: "Sheer at the transom, 870 mm above", spec: spec,
		vessel: vessel("Alder Carr", "fin-keel sloop", 1983, spec, 1.55), grid: halfMetres(0.34, 4), roles: []role{{"lorne", "owner", nil}},
	}
	b.layers = []layer{
		{kind: "construction", what: "single skin, mat and woven roving, resin not known", how: "seen inside"},
		{kind: "coating", what: "thin antifouling, most of it gone", how: "seen"},
		{kind: "behind", what: "sail locker", side: "port", outline: box(4200, 5700, 150, 800), how: "seen inside", drawn: "tank"},
	}
	b.spells = []spell{
		{key: "shed", yard: "hallow", lift: c.on(-130, "10:00"), launch: c.on(-24, "12:00"), held: "shed", cover: true, washed: 2, shelter: &simulate.Shelter{At: 21, Air: 40}},
		{key: "now", yard: "hallow", lift: c.on(-8, "14:00"), held: "cradle", washed: 2},
	}
	locker := simulate.FilledLocker(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 4200, To: 5700}, Down: simulate.Span{From: 150, To: 800}}, 30)
	locker.Strength = 40
	b.water = water{start: 0.98, years: 2, wall: 8, spots: 0.3, causes: []simulate.Cause{locker}}
	look := func(key string, days int, clock, spell string, wash int16) visit {
		deep, shallow := metered("alder deep "+key, "quillan", "deep 2", wash), metered("alder shallow "+key, "quillan", "shallow 1", wash+2)
		return visit{key: "alder " + key, kind: "repeat readings", at: c.on(days, clock), hours: 6, lead: "quillan", spell: spell, weather: true, passes: []pass{deep, shallow}}
	}
	wet, dried, again, now := look("wet", -125, "09:00", "shed", 118), look("dried", -34, "09:00", "shed", 2_300), look("again", -33, "09:00", "shed", 2_324), look("now", -3, "09:00", "now", 112)
	wet.kind, again.note = "meter visit", "Read anew the next day, places found again, so that the scatter of two like visits is known for both depths."
	b.jobs = []job{{
		key: "alder", kind: "limited moisture", client: "lorne", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.on(-140, "10:00"), due: c.days(12),
		scope: "How she dries over the summer in the shed, and what a fortnight afloat does, with both depths.", between: "the report; a look into the locker",
		stages: []stage{{wet.at, "visiting"}, {now.at.Add(25 * time.Hour), "writing"}}, permissions: []permission{allowed(c, wet.at, "lorne")},
		visits: []visit{wet, dried, again, now},
	}}
	return b
}
