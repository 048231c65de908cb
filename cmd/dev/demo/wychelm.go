package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/report"
)

// wychElm is a sandwich hull with a wet core round one fitting.
func wychElm(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 11.8, 3.7, 1.95)
	b := boat{
		key: "wych elm", since: c.ago(6, 0, "10:00"), bootTop: 60, mark: "Toe rail at the transom, 1 105 mm above", spec: spec,
		vessel: vessel("Wych Elm", "fin-keel sloop", 1998, spec, 1.95), grid: metres(0.36, 5), roles: []role{{"wenlow", "owner", c.dayOf(c.ago(6, 10, "12:00"))}},
	}
	b.vessel.HullNumberAsRead, b.vessel.HullNumberWhere = "XX-TSL00117H898", "transom, starboard, and under the cockpit sole"
	b.layers = []layer{
		{kind: "construction", what: "sandwich below the water, end-grain balsa 19 mm, solid round fittings by the drawing", how: "builder’s drawing; a plug at the log"},
		{kind: "coating", what: "epoxy, then antifouling with copper", how: "owner’s papers"},
		{kind: "behind", what: "heads outlet", side: "port", outline: [][2]int32{{6000, 450}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "log", side: "starboard", outline: [][2]int32{{6750, 750}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "engine inlet", side: "port", outline: [][2]int32{{3000, 750}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "diesel, 150 L", side: "starboard", outline: box(2700, 3900, 350, 900), how: "measured inside", drawn: "tank"},
	}
	b.spells = []spell{
		{key: "first", yard: "hallow", lift: c.ago(5, -4, "10:00"), launch: c.ago(5, 170, "12:00"), held: "cradle", washed: 2},
		{key: "second", yard: "hallow", lift: c.ago(2, -9, "10:00"), launch: c.ago(2, 172, "12:00"), held: "cradle", washed: 2},
		{key: "last", yard: "hallow", lift: c.on(-33, "10:00"), launch: c.on(-12, "15:30"), held: "cradle", washed: 2},
	}
	wet := simulate.WetCore(simulate.Port, 6000, 450, 520, c.ago(4, 0, "12:00"))
	wet.Strength = 46
	b.water = water{start: 0.9, years: 2, wall: 11, spots: 0.5, epoxy: true, causes: []simulate.Cause{wet}}
	at1, at2, now := c.ago(5, 14, "10:00"), c.ago(2, 9, "10:00"), c.on(-14, "09:30")
	b.jobs = []job{
		{
			key: "wych 1", kind: "limited moisture", client: "wenlow", as: "owner", lead: "quillan", cite: "vessel history without names", opened: at1.AddDate(0, 0, -30), due: c.dayOf(at1.AddDate(0, 0, 12)), scope: "Moisture of the underbody, outside.",
			stages: moved(at1, at1.AddDate(0, 0, 7), at1.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at1, "wenlow")},
			visits: []visit{{key: "wych 1", kind: "meter visit", at: at1, hours: 4, lead: "quillan", spell: "first", weather: true, passes: []pass{metered("wych 1", "quillan", "deep 1", 430)}}},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at1.Add(26 * time.Hour), issued: at1.AddDate(0, 0, 7), signs: "quillan",
				short: "The underbody stands evenly above its own dry baseline. Nothing stands out.", shares: []share{sent("wych 1", "wenlow", "E. Wenlow", "e.wenlow@post.example", at1.AddDate(0, 0, 7).Add(time.Hour))},
			},
		},
		{
			key: "wych 2", kind: "insurance", client: "wenlow", as: "owner", lead: "quillan", cite: "vessel history without names", opened: at2.AddDate(0, 0, -30), due: c.dayOf(at2.AddDate(0, 0, 12)), scope: "Condition for the underwriter; moisture of the underbody.",
			stages: moved(at2, at2.AddDate(0, 0, 10), at2.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at2, "wenlow")},
			visits: []visit{{key: "wych 2", kind: "meter visit", at: at2, hours: 6, lead: "quillan", spell: "second", weather: true, passes: []pass{metered("wych 2", "quillan", "deep 1", 420)}}},
			advice: []advice{{
				key: "wych outlet", grade: report.LookFurther, about: "suspected-wet-core", sure: "indicated", readings: true, what: "Tap round the heads outlet, inside and out, and with leave draw it", reason: "Raised round the outlet, mirror low.", consequence: "A core that is wet does not come back by itself.", who: "owner / us", byWords: "next lift", closedBy: "what is seen",
				steps: []step{{at2.AddDate(0, 0, 15), "agreed", "", "office"}, {now.Add(5 * time.Hour), "seen done", "Tapped and drawn at the visit; see the new report.", "quillan"}},
			}},
			report: &paper{
				title: "Insurance condition survey", drafted: at2.Add(28 * time.Hour), issued: at2.AddDate(0, 0, 10), signs: "quillan",
				short: "In good order. Round the heads outlet the readings are raised on one side only; that asks for a look.", shares: []share{sent("wych 2", "wenlow", "E. Wenlow", "e.wenlow@post.example", at2.AddDate(0, 0, 10).Add(time.Hour), at2.AddDate(0, 0, 10).Add(4*time.Hour))},
			},
		},
		{
			key: "wych now", kind: "limited moisture", client: "wenlow", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.on(-48, "10:00"), due: c.days(0), scope: "The same grid again; heads outlet drawn, with the owner’s leave.",
			between: "second look by I. Varrow; two comments open", stages: []stage{{now, "visiting"}, {c.on(-13, "09:00"), "writing"}, {c.on(-2, "17:30"), "in review"}},
			permissions: []permission{allowed(c, now, "wenlow"), {what: "drill or core", extent: "one plug of 20 mm beside the heads outlet", asked: c.days(-30), given: c.days(-28), by: "wenlow", good: "Hallow Quay, before relaunch"}},
			visits: []visit{{
				key: "wych now", kind: "meter visit", at: now, hours: 6, lead: "quillan", spell: "last", weather: true, passes: []pass{metered("wych now", "quillan", "deep 1", 440)},
				findings: []finding{
					{key: "wych note", form: "sounding", sure: "seen", text: "Within 300 mm of the heads outlet, port.", measured: `{"note": "dull", "hammer": "plastic hammer", "face": "outside", "alongMm": 300, "downMm": 250, "edge": "gradual"}`, places: []string{"P8/2"}},
					{key: "wych core", form: "core", sure: "seen", text: "Plug beside it: balsa dark and wet, skins firm; water ran for a minute.", measured: `{"material": "balsa", "plugMm": 20, "depthMm": 18, "wetGrams": 4.1, "dryGrams": 1.9, "driedAt": 103, "looks": "water ran from it", "skins": "both hold"}`, places: []string{"P8/2"}},
					{key: "wych bed", form: "fitting", sure: "seen", measured: `{"fitting": "heads outlet", "bedding": "parted in part", "fastening": "firm", "drawn": "yes", "hole": "dark"}`, text: "Bedding of the heads outlet hard and parted from the skin along half its round."},
				},
				checks: []check{
					{key: "wych drawn", outcome: "fitting-wet", note: "Bedding hard, parted along half its round; edge of the hole dark", finding: "wych bed", places: []string{"P8/2"}},
					{key: "wych wiped", outcome: "inside-fitting-wet", note: "Backing pad stained", places: []string{"P8/2"}},
				},
				words:  []word{{key: "wych core", by: "varrow", cause: "wet-core", judges: "agrees", reason: "The plug says it. How far it reaches along the core is not known: taps stop where the tank begins.", places: []string{"P8/2"}}},
				photos: []photo{{key: "wych plug", caption: "Plug beside the heads outlet: dark balsa", shows: "core", finding: "wych core", place: "P8/2"}, {key: "wych outlet", caption: "Heads outlet, outside, before it was drawn", shows: "fitting", finding: "wych bed"}},
			}},
			advice: []advice{
				{key: "wych core", grade: report.BeforeAfloat, sure: "seen", what: "Cut the wet core out round the heads outlet, replace it with solid laminate", reason: "Wet balsa in the plug, dull note round it.", consequence: "It spreads along the core and parts the skins.", who: "yard", byWords: "was to be before relaunch; she went afloat with a plug in it", closedBy: "seen open, and the yard’s paper"},
				{key: "wych fittings", grade: report.WhileAshore, sure: "suspected", what: "Draw and bed anew every fitting that goes through the sandwich", reason: "One of them let water in.", consequence: "The others are of the same age.", who: "owner / yard", byWords: "next lift", closedBy: "yard’s invoice"},
			},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: c.on(-13, "09:30"), signs: "quillan",
				short: "Round the heads outlet the core is wet: seen in a plug. The rest of the underbody stands as it did two years ago.",
			},
		},
	}
	return b
}

// halse was read with the shallow instrument; the deep one beside it saw what it cannot.
func halse(c calendar) boat {
	spec := usual(figure.FullKeel, 8.6, 2.7, 1.35)
	b := boat{
		key: "halse", since: c.ago(4, -40, "10:00"), bootTop: 50, mark: "Sheer at the stern post, 810 mm above", spec: spec,
		vessel: vessel("Halse", "long-keel cutter", 1979, spec, 1.35), grid: halfMetres(0.34, 5), roles: []role{{"harrack", "owner", nil}},
	}
	b.layers = []layer{
		{kind: "construction", what: "solid laminate, thickness not known", how: "not known"},
		{kind: "coating", what: "antifouling over tie coat", how: "owner, by word"},
		{kind: "behind", what: "wet locker", side: "starboard", outline: box(4000, 5000, 150, 700), how: "seen inside", drawn: "tank"},
	}
	b.spells = []spell{
		{key: "first", yard: "hallow", lift: c.ago(4, -3, "10:00"), launch: c.ago(4, 160, "12:00"), held: "cradle", washed: 2},
		{key: "now", yard: "hallow", plannedLift: c.on(-8, "10:00"), lift: c.on(-8, "10:15"), plannedLaunch: c.on(3, "15:00"), held: "cradle", washed: 2},
	}
	locker := simulate.FilledLocker(simulate.Area{Side: simulate.Starboard, Along: simulate.Span{From: 4000, To: 5000}, Down: simulate.Span{From: 150, To: 700}}, 10)
	locker.Strength = 42
	b.water = water{start: 0.74, years: 2, wall: 9, causes: []simulate.Cause{locker}}
	at := c.ago(4, 6, "10:30")
	shallow, deep := metered("halse shallow", "quillan", "shallow 1", 215), metered("halse deep", "quillan", "deep 2", 217)
	b.jobs = []job{
		{
			key: "halse 1", kind: "limited moisture", client: "harrack", as: "owner", lead: "quillan", cite: "vessel history without names", opened: at.AddDate(0, 0, -20), due: c.dayOf(at.AddDate(0, 0, 10)), scope: "Moisture of the underbody with both depths.",
			stages: moved(at, at.AddDate(0, 0, 8), at.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at, "harrack")},
			visits: []visit{{
				key: "halse 1", kind: "meter visit", at: at, hours: 6, lead: "quillan", spell: "first", weather: true, passes: []pass{shallow, deep},
				findings: []finding{{key: "halse locker", kind: "raised readings", sure: "indicated", text: "Raised with the deep-sensing instrument at starboard 8 to 10, rows 1 and 2, not with the shallow one; straight edges. A locker with wet gear lies behind.", places: []string{"S9/1", "S9/2"}, again: true}},
			}},
			advice: []advice{{key: "halse locker", grade: report.LookFurther, sure: "indicated", readings: true, what: "Empty the starboard locker, air it for a week, read there again", reason: "Deep high, shallow not; straight edges.", who: "owner / us", byWords: "next lift", closedBy: "readings with the locker empty", steps: []step{{at.AddDate(0, 0, 20), "agreed", "", "office"}}}},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at.Add(25 * time.Hour), issued: at.AddDate(0, 0, 8), signs: "quillan",
				short: "Two instruments of different depth were used; they are shown side by side and not subtracted. One field stands out with the deep one only, where a wet locker lies behind.", shares: []share{sent("halse 1", "harrack", "L. Harrack", "l.harrack@post.example", at.AddDate(0, 0, 8).Add(time.Hour))},
			},
		},
		{
			key: "halse now", kind: "limited moisture", client: "harrack", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.on(-25, "10:00"), due: c.days(5), scope: "The same places again, locker empty.", between: "meter visit tomorrow; relaunch in three days",
			permissions: []permission{allowed(c, c.on(-5, "12:00"), "harrack")},
			visits:      []visit{{key: "halse now", kind: "meter visit", at: c.on(1, "14:00"), hours: 3, lead: "quillan", spell: "now", planned: true, note: "9 days ashore, as in the first visit."}},
		},
	}
	return b
}
