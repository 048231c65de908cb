package demo

import (
	"fmt"
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// corncrake was peeled six weeks ago and dries in a heated shed.
func corncrake(c calendar) boat {
	spec := usual(figure.TwinKeel, 7.9, 2.75, 1.05)
	b := boat{
		key: "corncrake", since: c.ago(1, -30, "10:00"), bootTop: 50, mark: "Stem head, 1 120 mm above; transom corner, 760 mm above", spec: spec,
		vessel: vessel("Corncrake", "bilge-keel sloop", 1981, spec, 1.05), grid: halfMetres(0.34, 4), roles: []role{{"dunmere", "owner", nil}},
	}
	b.vessel.HullNumberAsRead, b.vessel.HullNumberWhere = "TSL00041M81C", "moulded in the transom, starboard"
	b.layers = []layer{
		{kind: "construction", what: "single skin, mat and woven roving, resin not known", how: "seen in the peeled laminate"},
		{kind: "coating", what: "none below the water since she was peeled", how: "seen"},
		{kind: "behind", what: "keel stub, port", side: "port", outline: box(2600, 4000, 700, 860), how: "measured inside", drawn: "outline"},
		{kind: "behind", what: "keel stub, starboard", side: "starboard", outline: box(2600, 4000, 700, 860), how: "measured inside", drawn: "outline"},
		{kind: "behind", what: "water tank, 60 L", side: "starboard", outline: box(3900, 4800, 300, 600), how: "seen inside; emptied", drawn: "tank"},
	}
	b.events = []event{
		{kind: "built", what: "Moulded", written: "1981", source: "hull number", from: yearBegins(1981), to: yearEnds(1981)},
		{kind: "treatment", what: "Gelcoat and outer skin peeled, 2 mm; washed hot on six days", written: "six weeks ago", source: "yard’s sheet", from: c.days(-42), to: c.days(-36)},
	}
	b.spells = []spell{
		{key: "before", yard: "hallow", lift: c.ago(1, -12, "11:00"), launch: c.ago(1, 165, "12:00"), held: "cradle", washed: 2},
		{key: "shed", yard: "hallow", plannedLift: c.on(-55, "10:00"), lift: c.on(-55, "10:40"), plannedLaunch: c.on(150, "12:00"), held: "shed", cover: true, washed: 3, shelter: &simulate.Shelter{At: 19, Air: 42}, peel: 2, peelOn: 13},
	}
	residue := simulate.Residue(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 4200, To: 5600}, Down: simulate.Span{From: 0, To: 500}}, 30, c.on(-42, "12:00"))
	b.water = water{start: 0.98, years: 2, wall: 11, spots: 0.3, causes: []simulate.Cause{residue}}
	b.jobs = corncrakeJobs(c)
	return b
}

func corncrakeJobs(c calendar) []job {
	before := c.ago(1, 8, "10:00")
	drying := job{
		key: "corncrake drying", kind: "repair supervision", client: "dunmere", as: "owner", lead: "maddern", opened: c.on(-70, "10:00"),
		scope:   "Drying of the peeled hull: a pass each week by the same hand, instrument and plan, heat off the night before. Coating gates, each with its evidence.",
		between: "the last three passes still fall; the air at the skin and the coating’s own sheet stand open", stages: []stage{{c.on(-40, "11:00"), "visiting"}},
		permissions: []permission{{what: "board and survey", asked: c.days(-68), given: c.days(-66), by: "dunmere"}, {what: "drill or core", extent: "three plugs of 20 mm", asked: c.days(-10), note: "For a burn-off and a drying curve."}},
	}
	for k := range 6 {
		at := c.on(-40+7*k, "11:00")
		p := metered(fmt.Sprintf("drying %d", k+1), "maddern", "deep 1", int16(min(24*(k*7+2), 30_000)))
		p.surface, p.heatOff = "laminate", 14
		if k == 2 {
			p.hand = "trainee"
		}
		v := visit{key: fmt.Sprintf("drying %d", k+1), kind: "repeat readings", at: at, hours: 2.5, lead: "maddern", spell: "shed", weather: true, passes: []pass{p}, tank: "empty, lid off", bilge: "wiped out"}
		if k == 0 {
			v.findings = []finding{{key: "drying blisters", kind: "blisters", sure: "seen", text: "In the peeled laminate, port 9 to 11: pale rings where cells were opened, greasy to the touch, sour smell; wash water pH 4 by paper.", measured: `{"pH": 4, "rings": 31}`, places: []string{"P9/1", "P10/1", "P11/1"}}}
			v.photos = []photo{{key: "peeled", caption: "Peeled laminate, port 10, after the first wash", shows: "laminate", finding: "drying blisters", place: "P10/1"}}
		}
		drying.visits = append(drying.visits, v)
	}
	drying.visits = append(drying.visits, visit{key: "drying 7", kind: "repeat readings", at: c.on(2, "11:00"), hours: 2, lead: "maddern", spell: "shed", follows: "drying 6", why: "seven days, heat off 24 h", booked: c.on(-5, "14:00"), planned: true})
	drying.advice = []advice{{key: "drying wash", grade: report.WhileAshore, sure: "seen", what: "Wash port 9 to 11 hot until the wash water is neutral, and only then go on", reason: "Greasy, sour rings there; readings come down less than on the mirror side.", consequence: "What holds water under a new coating lifts it.", who: "yard", byWords: "this week", closedBy: "pH of the wash water, written down"}}
	drying.drying = corncrakeLog(c)
	return []job{
		{
			key: "corncrake before", kind: "pre-purchase", client: "dunmere", as: "buyer", lead: "maddern", opened: before.AddDate(0, 0, -25), due: c.dayOf(before.AddDate(0, 0, 10)),
			scope: "Condition before purchase; moisture of the underbody.", stages: moved(before, before.AddDate(0, 0, 6), before.AddDate(0, 1, 0)),
			permissions: []permission{{what: "board and survey", asked: c.dayOf(before.AddDate(0, 0, -20)), given: c.dayOf(before.AddDate(0, 0, -19)), name: "the seller, P. Sarne"}, {what: "open blisters", extent: "three", asked: c.dayOf(before.AddDate(0, 0, -20)), given: c.dayOf(before.AddDate(0, 0, -19)), name: "the seller, P. Sarne", good: "buyer’s yard"}},
			visits: []visit{{
				key: "corncrake before", kind: "meter visit", at: before, hours: 6, lead: "maddern", spell: "before", weather: true, passes: []pass{metered("corncrake before", "maddern", "deep 1", 440)},
				findings: []finding{
					{key: "corncrake blisters", form: "blisters", sure: "seen", text: "Some forty blisters of 5 to 12 mm under the antifouling, most of them port forward. Three opened: greasy liquid, sour smell, pH 4 by paper.", measured: `{"widthMm": 1200, "heightMm": 800, "count": 40, "diametersMm": [5, 6, 6, 8, 9, 12], "pattern": "scattered", "pictures": "neither", "opened": 3, "depthMm": 1.5, "pressure": "spurted", "liquid": "greasy or sticky", "smell": "vinegar", "pH": 4, "bed": "pale, fibres bare"}`, places: []string{"P9/1", "P10/1"}, side: "port", outline: box(4200, 5400, 200, 1000)},
					{key: "corncrake thickness", form: "thickness", sure: "seen", text: "At the three holes that were drilled for fittings.", measured: `{"method": "drilled hole", "of": "laminate with gelcoat", "valuesMm": [9.2, 9.8, 10.1]}`},
					{key: "corncrake hardness", form: "hardness", sure: "seen", text: "On the bared laminate amidships.", measured: `{"procedure": "ASTM D2583", "values": [38, 41, 36, 40, 42, 37, 39, 41, 35, 40], "setting": "45 before, 45 after", "surface": "laminate", "celsius": 12}`},
				},
				windows: []window{{side: "port", along: 4800, down: 260, width: 100, high: 100, to: "gelcoat", good: "left open", blisters: 4}, {side: "port", along: 5200, down: 260, width: 100, high: 100, to: "gelcoat", good: "left open", blisters: 3}, {side: "starboard", along: 4800, down: 260, width: 100, high: 100, to: "gelcoat", good: "left open", blisters: 1}},
				photos:  []photo{{key: "blisters", caption: "Window at port 10, seven blisters round its edge", shows: "blisters", finding: "corncrake blisters", place: "P10/1"}},
			}},
			advice: []advice{{key: "corncrake peel", grade: report.PlannedWork, about: "active-blisters", sure: "seen", what: "Take the gelcoat off below the water, wash, let it dry, coat", reason: "Blisters with sour, greasy liquid, opened.", consequence: "They grow in number and size.", who: "owner / yard", byWords: "next winter", closedBy: "the yard’s drying log", steps: []step{{before.AddDate(0, 1, 0), "agreed", "", "office"}, {c.on(-42, "16:00"), "in hand", "", "maddern"}}}},
			report: &paper{
				title: "Pre-purchase condition survey", drafted: before.Add(26 * time.Hour), issued: before.AddDate(0, 0, 6), signs: "maddern",
				short:  "Blisters below the water, most of them forward on the port side. Three were opened: sour and greasy. The price should carry a winter’s work on the underbody.",
				shares: []share{sent("corncrake before", "dunmere", "R. Dunmere", "dunmere@post.example", before.AddDate(0, 0, 6).Add(time.Hour), before.AddDate(0, 0, 7))},
			},
		},
		drying,
	}
}

// corncrakeLog is what was kept beside her passes: four washes, each with less rebound
// than the one before, the shed's air, and the gates that were signed so far.
func corncrakeLog(c calendar) *dryingLog {
	const patch = "port 9 to 11, with the same reach of starboard"
	return &dryingLog{
		by: "maddern", with: "deep 1", said: c.on(-40, "16:00"), from: c.on(-42, "00:00"), logged: c.on(-1, "09:00"),
		course: practice.DryingCourse{
			BeganOn: c.days(-42), WallMm: new(int16(9)), Inside: "no water", TentPlace: "Hallow shed", OutdoorsPlace: "Skerrow harbour",
			TargetTenths: new(int32(50)), TargetBecause: "the owner asks when to book the coater",
		},
		rebounds: []string{"P9/1", "P10/1", "P11/1", "P9/2", "P10/2", "S9/1", "S10/1", "S11/1"},
		washes: []washed{
			{c.on(-38, "10:00"), "hot", patch, 42, 1870, 620, 6.1},
			{c.on(-31, "10:00"), "hot", patch, 53, 1240, 620, 4.2},
			{c.on(-24, "10:00"), "hot", patch, 62, 860, 620, 2.4},
			{c.on(-17, "10:00"), "fresh", patch, 68, 690, 620, 1.3},
		},
		heatOff: []rebound{{c.on(-4, "18:00"), 36, 0}},
		sheets:  []sheetOn{{"port 10, below the first row", c.on(-3, "09:00"), 40}},
		signed: []signedGate{
			{c.on(-15, "17:00"), "wash water", "Paper and meter, two samples of the last wash; the meter was set in two buffers that morning."},
			{c.on(-3, "10:00"), "plastic sheet", "One square metre at port 10, taped all round, 40 hours: no drop, no mist."},
			{c.on(-2, "16:00"), "heat off", "Eight places, 36 hours after the heaters went off, marks on the hull."},
		},
	}
}
