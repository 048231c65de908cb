package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// emberGoose stands raised and even: ordinary absorption, nothing behind it.
func emberGoose(c calendar) boat {
	spec := usual(figure.LiftingKeel, 9.2, 3.05, 1.6)
	b := boat{
		key: "ember goose", since: c.ago(3, -30, "10:00"), bootTop: 60, mark: "Stem head, 1 210 mm above", spec: spec,
		vessel: vessel("Ember Goose", "lifting-keel sloop", 1986, spec, 1.6), grid: metres(0.35, 4), roles: []role{{"pascombe", "owner", nil}},
	}
	b.layers = []layer{{kind: "construction", what: "single skin, resin not known", how: "not known"}, {kind: "coating", what: "antifouling with copper", how: "seen"}}
	b.spells = []spell{
		{key: "first", yard: "tarrow", lift: c.ago(3, -14, "10:00"), launch: c.ago(3, 150, "12:00"), held: "props", washed: 2},
		{key: "second", yard: "tarrow", lift: c.ago(1, -20, "10:00"), launch: c.ago(1, 160, "12:00"), held: "props", washed: 2},
	}
	b.water = water{start: 0.80, years: 3, wall: 8.5}
	at1, at2 := c.ago(3, 8, "10:00"), c.ago(1, 2, "10:00")
	slip := metered("ember 2", "maddern", "deep 1", 500)
	slip.battery = "changed the day before"
	slip.amended, slip.amendedOn = map[string]string{"S4/2": "digits changed about when the sheet was typed in"}, c.on(-3, "16:20")
	b.jobs = []job{
		{
			key: "ember 1", kind: "limited moisture", client: "pascombe", as: "owner", lead: "tolland", opened: at1.AddDate(0, 0, -25), due: c.dayOf(at1.AddDate(0, 0, 10)), scope: "Moisture of the underbody, outside.", cite: "vessel history without names",
			stages: []stage{{at1.AddDate(0, 0, -3), "cancelled"}}, visits: []visit{{key: "ember 1", kind: "meter visit", at: at1, hours: 4, lead: "quillan", spell: "first", cancelled: true, note: "Rain for four days; called off."}},
		},
		{
			key: "ember 2", kind: "limited moisture", client: "pascombe", as: "owner", lead: "maddern", cite: "named", opened: at2.AddDate(0, 0, -25), due: c.dayOf(at2.AddDate(0, 0, 10)), scope: "Moisture of the underbody, outside.",
			stages: moved(at2, at2.AddDate(0, 0, 8), time.Time{}), permissions: []permission{allowed(c, at2, "pascombe")},
			visits: []visit{{key: "ember 2", kind: "meter visit", at: at2, hours: 4, lead: "maddern", spell: "second", weather: true, passes: []pass{slip}}},
			advice: []advice{{
				key: "ember watch", grade: report.Watch, about: "raised-uniform", sure: "indicated", readings: true, what: "Raised readings, even over the underbody: again in twelve months, same month, 20 to 24 days ashore", reason: "No blister seen, clear note where tapped.", who: "us", byWords: "twelve months", closedBy: "that visit",
				steps: []step{{at2.AddDate(0, 0, 14), "agreed", "", "office"}},
			}},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at2.Add(25 * time.Hour), issued: at2.AddDate(0, 0, 8), signs: "maddern",
				short: "Raised and even, grading towards the keel, as boats are after long seasons afloat. Nothing stands out of its neighbours.", shares: []share{sent("ember 2", "pascombe", "G. Pascombe", "g.pascombe@post.example", at2.AddDate(0, 0, 8).Add(time.Hour), at2.AddDate(0, 0, 9))},
			},
		},
		{
			key: "ember trial", kind: "pre-purchase", client: "sarne", as: "buyer", lead: "quillan", opened: c.on(-15, "10:00"), due: c.days(9), scope: "Condition before purchase, with a trial afloat.", between: "lift: no slot asked for yet",
			visits: []visit{{key: "ember trial", kind: "other", at: c.on(-2, "10:00"), hours: 2, lead: "quillan", note: "Trial afloat; engine and steering.", findings: []finding{{key: "ember sole", form: "timber", sure: "seen", text: "Under the companion step.", measured: `{"part": "cabin sole bearer", "species": "not known", "readings": [18, 24, 31], "celsius": 9, "corrected": "no", "salt": "no", "spike": "soft at the face"}`}, {key: "ember gland", kind: "drip", sure: "seen", text: "Stern gland drips four to the minute at rest."}}}}, stages: []stage{{c.on(-2, "10:10"), "visiting"}},
			advice: []advice{{
				key: "ember gas", grade: report.StopAndMakeSafe, sure: "seen", what: "Shut the gas at the bottle and use none of it", reason: "Gas smelt in the locker; its drain is blocked.", consequence: "Gas lies in the bilge and goes off.", who: "owner, then a licensed fitter", byWords: "now", closedBy: "fitter’s test sheet",
				warned: &practice.DangerTold{Name: "The owner’s brother", Role: "on board", How: "in person"},
			}},
			whole: &whole{
				looked: []looked{
					{item: "Topsides", examined: "examined", condition: "fair, chalky aft"},
					{item: "Underbody", examined: "not", why: "afloat"},
					{item: "Keel and its joint", examined: "not", why: "afloat"},
					{item: "Deck and coachroof", examined: "examined", condition: "firm underfoot; clear note where tapped"},
					{item: "Mast, boom and standing rigging", examined: "in part", why: "from the deck; nobody went aloft", condition: "wires of 2009 by the papers"},
					{item: "Timber of the accommodation", examined: "in part", why: "soles screwed down forward", condition: "soft at one bearer", finding: "ember sole"},
					{item: "Stern gear", examined: "in part", why: "afloat", condition: "drips at rest", finding: "ember gland"},
					{item: "Gas", examined: "examined", condition: "smelt; shut at the bottle"},
					{item: "Engine and its bed", examined: "examined", condition: "started cold, ran an hour"},
				},
				value: &valued{figure: 24_500, basis: "sale between willing parties, afloat, with the gear on the list", said: "Before the underbody has been seen.", like: [][2]string{{"sister, 1988", "asked 26 900, spring"}, {"sister, 1985", "sold 21 500 by word of a broker, last autumn"}}},
				notes: []noted{
					{c.on(-14, "16:10"), "quillan", "call", "the buyer", "Wants to know before the end of the month. Told that the underbody cannot be judged afloat."},
					{c.on(-2, "12:30"), "quillan", "verbal outline", "the buyer", "Gas first, then the gland; engine runs well. Nothing said of the hull below the water."},
				},
			},
		},
	}
	return b
}

// sallow was peeled, dried and coated five years ago; the guarantee runs out this winter.
func sallow(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 9.8, 3.2, 1.7)
	lift := c.ago(5, 20, "10:00")
	b := boat{
		key: "sallow", since: c.ago(5, -10, "10:00"), bootTop: 60, mark: "Sheer amidships, 880 mm above", spec: spec,
		vessel: vessel("Sallow", "fin-keel sloop", 1984, spec, 1.7), grid: metres(0.36, 4), roles: []role{{"thrale", "owner", nil}},
	}
	b.layers = []layer{
		{kind: "construction", what: "single skin; outer 2.5 mm replaced by epoxy", how: "yard’s paper"},
		{kind: "coating", what: "epoxy, 0.35 mm by gauge", how: "yard’s film log", from: c.dayOf(lift.AddDate(0, 0, 130))},
	}
	b.events = []event{{kind: "treatment", what: "Peeled, washed, dried under cover, coated with epoxy; five years’ guarantee", written: "the winter five years ago", source: "yard’s paper", from: c.dayOf(lift.AddDate(0, 0, 10)), to: c.dayOf(lift.AddDate(0, 0, 140))}}
	b.spells = []spell{
		{key: "treatment", yard: "hallow", lift: lift, launch: lift.AddDate(0, 0, 165), held: "shed", cover: true, washed: 2, shelter: &simulate.Shelter{At: 20, Air: 42}, peel: 2.5, peelOn: 12, coatOn: 128},
		{key: "year one", yard: "hallow", lift: c.ago(3, -5, "10:00"), launch: c.ago(3, 140, "12:00"), held: "cradle", washed: 2},
		{key: "year two", yard: "hallow", lift: c.ago(1, -4, "10:00"), launch: c.ago(1, 150, "12:00"), held: "cradle", washed: 2},
	}
	b.water = water{start: 0.97, years: 2, wall: 10, spots: 0.3}
	before, mid, one, two := lift.AddDate(0, 0, 9), lift.AddDate(0, 0, 120), c.ago(3, 17, "10:00"), c.ago(1, 18, "10:00")
	peeled := metered("sallow peeled", "varrow", "deep 2", 2600)
	peeled.surface, peeled.heatOff, peeled.level = "laminate", 16, true
	coated := func(key, hand string) pass {
		p := metered(key, hand, "deep 2", 520)
		p.surface = "epoxy"
		return p
	}
	b.jobs = []job{
		{
			key: "sallow treatment", kind: "completion", client: "thrale", as: "owner", lead: "varrow", cite: "named", opened: lift.AddDate(0, 0, -20), scope: "Was the agreed work done: before peeling, before coating.",
			stages: moved(before, lift.AddDate(0, 0, 125), lift.AddDate(0, 0, 170)), permissions: []permission{allowed(c, before, "thrale")},
			visits: []visit{
				{key: "sallow before", kind: "meter visit", at: before, hours: 4, lead: "varrow", spell: "treatment", weather: true, passes: []pass{metered("sallow before", "varrow", "deep 2", 210)}},
				{key: "sallow peeled", kind: "completion", at: mid, hours: 3, lead: "varrow", spell: "treatment", weather: true, passes: []pass{peeled}, photos: []photo{{key: "sallow laminate", caption: "Peeled laminate before coating", shows: "laminate"}}},
			},
			report: &paper{
				title: "Completion survey, before coating", drafted: mid.Add(20 * time.Hour), issued: lift.AddDate(0, 0, 125), signs: "varrow",
				short: "Peeled over the whole underbody to 50 mm above the waterline. By the log the hull stood under cover for four months. What the gates showed on the day is in the text; whoever coats decides.", shares: []share{sent("sallow treatment", "thrale", "W. Thrale", "w.thrale@post.example", lift.AddDate(0, 0, 126))},
			},
		},
		{
			key: "sallow one", kind: "limited moisture", client: "thrale", as: "owner", lead: "maddern", cite: "named", opened: one.AddDate(0, 0, -20), scope: "Two years after treatment.", stages: moved(one, one.AddDate(0, 0, 7), one.AddDate(0, 1, 0)), permissions: []permission{allowed(c, one, "thrale")},
			visits: []visit{{key: "sallow one", kind: "meter visit", at: one, hours: 3, lead: "maddern", spell: "year one", weather: true, passes: []pass{coated("sallow one", "maddern")}}},
			report: &paper{title: "Limited survey, two years after treatment", drafted: one.Add(25 * time.Hour), issued: one.AddDate(0, 0, 7), signs: "maddern", short: "Read over the epoxy. The coating lies close everywhere it was tapped; no blister seen.", shares: []share{sent("sallow one", "thrale", "W. Thrale", "w.thrale@post.example", one.AddDate(0, 0, 8))}},
		},
		{
			key: "sallow two", kind: "limited moisture", client: "thrale", as: "owner", lead: "maddern", cite: "named", opened: two.AddDate(0, 0, -20), scope: "Four years after treatment.", stages: []stage{{two, "visiting"}, {two.AddDate(0, 0, 1), "closed"}}, permissions: []permission{allowed(c, two, "thrale")},
			visits: []visit{{key: "sallow two", kind: "meter visit", at: two, hours: 3, lead: "maddern", spell: "year two", weather: true, passes: []pass{coated("sallow two", "maddern")}}},
		},
		{key: "sallow guarantee", kind: "warranty", client: "thrale", as: "owner", lead: "varrow", cite: "named", opened: c.on(-20, "10:00"), due: c.days(60), scope: "End of guarantee; drying log asked for first.", between: "the yard’s drying log; lift not asked for yet"},
	}
	return b
}
