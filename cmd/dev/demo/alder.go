package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
)

// alderCarr was read with both depths: wet through, after two months in a shed, and a
// few hours after a month afloat. A locker behind one field got wet while she dried.
func alderCarr(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 8.8, 2.9, 1.55)
	b := boat{
		key: "alder carr", since: c.on(-120, "10:00"), bootTop: 50, mark: "Sheer at the transom, 870 mm above", spec: spec,
		vessel: vessel("Alder Carr", "fin-keel sloop", 1983, spec, 1.55), grid: halfMetres(0.34, 4), roles: []role{{"lorne", "owner", nil}},
	}
	b.layers = []layer{
		{kind: "construction", what: "single skin, mat and woven roving, resin not known", how: "seen inside"},
		{kind: "coating", what: "none below the water since she was blasted", how: "seen"},
		{kind: "behind", what: "sail locker", side: "port", outline: box(4200, 5700, 150, 800), how: "seen inside", drawn: "tank"},
	}
	b.spells = []spell{
		{key: "shed", yard: "hallow", lift: c.on(-100, "10:00"), launch: c.on(-40, "12:00"), held: "shed", cover: true, washed: 2, shelter: &simulate.Shelter{At: 18, Air: 50}},
		{key: "now", yard: "hallow", lift: c.on(-3, "06:30"), held: "cradle"},
	}
	locker := simulate.FilledLocker(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 4200, To: 5700}, Down: simulate.Span{From: 150, To: 800}}, 8)
	locker.Strength, locker.From = 70, c.on(-70, "12:00") // a hose burst over it while she dried
	b.water = water{start: 0.98, years: 2, wall: 8, spots: 0.3, causes: []simulate.Cause{locker}}
	look := func(key string, days int, clock, spell string, wash int16) visit {
		deep, shallow := metered("alder deep "+key, "quillan", "deep 2", wash), metered("alder shallow "+key, "quillan", "shallow 1", wash)
		deep.surface, shallow.surface = "bare gelcoat", "bare gelcoat"
		return visit{key: "alder " + key, kind: "repeat readings", at: c.on(days, clock), hours: 6, lead: "quillan", spell: spell, weather: true, passes: []pass{deep, shallow}}
	}
	wet, dried, again, now := look("wet", -91, "09:00", "shed", 213), look("dried", -45, "09:00", "shed", 1_317), look("next day", -44, "09:00", "shed", 1_341), look("now", -3, "13:00", "now", 0)
	now.booked = c.on(-4, "09:00")
	wet.kind, again.passes = "meter visit", again.passes[1:]
	again.note = "Shallow-sensing again the next day, places found anew, so that its scatter between two like visits is known."
	b.jobs = []job{{
		key: "alder", kind: "limited moisture", client: "lorne", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.on(-112, "10:00"), due: c.days(12),
		scope: "How she dries over the summer in the shed, and what a month afloat does, with both depths.", between: "the report; a look into the locker",
		stages: []stage{{wet.at, "visiting"}, {now.at.Add(25 * time.Hour), "writing"}}, permissions: []permission{allowed(c, wet.at, "lorne")},
		visits: []visit{wet, dried, again, now},
	}}
	return b
}
