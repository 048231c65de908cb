package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

// quernstone is a claim: only those it was opened to see it.
func quernstone(c calendar) boat {
	spec := figure.Spec{
		LWL: 8.2, Fore: 0.95, Beam: 3.1, Body: 0.75, Freeboard: [3]float64{1.05, 1.1, 1.6},
		Plan: figure.Curve{Peak: 0.32, Aft: 0.9, PA: 2, PF: 2.1}, Profile: figure.Curve{Peak: 0.45, Aft: 0.72, PA: 1.5, PF: 2}, Chine: &[2]float64{0.9, 0.3},
		Hung: []figure.Hung{{Name: "rudders", At: [4]float64{0.15, 0.5, 0.15, 0.45}, Span: 0.42, Blade: true, Right: true}},
	}
	b := boat{
		key: "quernstone", since: c.on(-30, "10:00"), bootTop: 40, mark: "Chine at the transom, 120 mm below", spec: spec,
		vessel: vessel("Quernstone", "hard-chine motor boat", 2004, spec, 0.95), grid: metres(0.34, 3), roles: []role{{"iver", "owner", nil}, {"skerrow mutual", "insurer", nil}},
	}
	b.layers = []layer{
		{kind: "behind", what: "fuel tank", outline: box(2400, 3900, 250, 950), how: "drawing", drawn: "tank"},
		{kind: "behind", what: "engine bearer", outline: box(700, 2900, 1160, 1240), how: "seen inside", drawn: "outline"},
		{kind: "behind", what: "raw-water inlet", side: "starboard", outline: [][2]int32{{1750, 900}}, how: "seen inside", drawn: "fitting"},
	}
	b.events = []event{{kind: "collision", what: "Struck by a drifting pontoon at night, starboard quarter", written: "four weeks ago", source: "owner’s statement", from: c.days(-29), to: c.days(-29)}}
	b.jobs = []job{{
		key: "quernstone", kind: "damage", client: "skerrow mutual", as: "insurer", lead: "maddern", restricted: true, opened: c.on(-24, "10:00"), due: c.days(6), scope: "Cause and extent of the damage at the starboard quarter; what a repair would take.",
		between: "insurer’s consent to open the starboard locker", stages: []stage{{c.on(-6, "13:10"), "visiting"}},
		permissions: []permission{{what: "board and survey", asked: c.days(-22), given: c.days(-20), by: "iver"}, {what: "lift soles", extent: "lining of the starboard locker", asked: c.days(-5), note: "Asked of owner and insurer both."}},
		visits: []visit{
			{key: "quernstone first", kind: "other", at: c.on(-6, "13:00"), hours: 2, lead: "maddern", note: "Afloat at Hallow Quay.", findings: []finding{
				{key: "quern crack", form: "cracks", sure: "seen", measured: `{"pattern": "star", "count": 9, "longestMm": 300, "gapMm": 0.5, "depth": "not known", "behind": "a lined locker"}`, text: "Star of cracks 300 mm across in the gelcoat above the chine, starboard quarter; two of them run under the rub rail."},
				{key: "quern joint", form: "bond", sure: "seen", text: "Followed under the rub rail, aft of the star.", measured: `{"joins": "hull-to-deck joint", "followedMm": 900, "partedMm": 220, "gapMm": 1.5, "feelerMm": 18, "resin": "starved"}`},
				{key: "quern warm", form: "thermal", sure: "indicated", text: "An hour after sunset; its upper edge is straight.", measured: `{"pattern": "warmer", "apartKelvin": 1.4, "airCelsius": 8, "sunHours": 1, "emissivity": 0.95, "acrossMm": 500, "heated": "no"}`},
				{key: "quern inside", kind: "not reached", sure: "suspected", text: "Behind it a lined locker. Tapped on the lining: note cannot be judged there."},
			}, photos: []photo{{key: "quern", caption: "Starboard quarter from the quay", shows: "hull", finding: "quern crack"}}},
			{key: "quernstone second", kind: "other", at: c.on(0, "13:00"), hours: 2, lead: "maddern", planned: true, note: "Hallow Quay; owner and the other side’s surveyor there."},
		},
		advice: []advice{{key: "quern locker", grade: report.LookFurther, sure: "suspected", what: "Open the starboard locker’s lining and look at the frame behind the cracks", reason: "Cracks outside end over a frame.", who: "owner / us", byWords: "before she is moved under power", closedBy: "what is seen"}},
	}}
	return b
}

func merrybegot(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 10.1, 3.3, 1.75)
	b := boat{
		key: "merrybegot", since: c.on(-12, "10:00"), bootTop: 60, mark: "", spec: spec, vessel: vessel("Merrybegot", "fin-keel sloop", 1992, spec, 1.75), grid: metres(0.36, 4),
		roles: []role{{"lorne", "owner", nil}, {"roskill", "broker", nil}}, former: []string{"Wet Foot", "Second Wind of Skerrow"},
	}
	b.jobs = []job{{
		key: "merrybegot", kind: "pre-purchase", client: "oake", as: "buyer", lead: "varrow", opened: c.on(-11, "11:00"), due: c.days(15), scope: "Condition before purchase; moisture of the underbody; eight windows.",
		between: "owner’s permission to scrape, asked of K. Lorne; a buyer cannot give it",
		permissions: []permission{
			{what: "board and survey", asked: c.days(-10), given: c.days(-9), by: "lorne"},
			{what: "lift", asked: c.days(-10), given: c.days(-9), by: "lorne"},
			{what: "scrape", extent: "8 windows of 100 × 100 mm", asked: c.days(-6), note: "Asked of K. Lorne through the broker."},
		},
	}}
	return b
}

func thirdReef(c calendar) boat {
	spec := usual(figure.DisplacementMotorBoat, 11.2, 3.6, 1.1)
	b := boat{key: "third reef", since: c.on(-9, "10:00"), bootTop: 70, spec: spec, vessel: vessel("Third Reef", "displacement motor boat", 1990, spec, 1.1), grid: metres(0.38, 5), roles: []role{{"harrack", "owner", nil}}}
	b.jobs = []job{
		{key: "third reef", kind: "insurance", client: "harrack", as: "owner", lead: "quillan", opened: c.on(-8, "10:00"), due: c.days(30), scope: "Condition with a value, for new cover; she is past thirty years.", between: "terms, version 4, not yet accepted; yard not chosen", stages: []stage{{c.on(-2, "11:00"), "quoted"}}, guests: []string{"guest"}},
		{key: "third reef value", kind: "valuation", client: "harrack", as: "owner", lead: "varrow", opened: c.on(-8, "10:30"), scope: "A value for a lender; she may be afloat.", between: "papers of the engine", stages: []stage{{c.on(-8, "10:40"), "enquiry"}}},
	}
	return b
}

// lanternJack is overdue: a few blisters, mapped, and a yard that has not answered.
func lanternJack(c calendar) boat {
	spec := usual(figure.FullKeel, 9.4, 2.9, 1.5)
	b := boat{key: "lantern jack", since: c.ago(2, -60, "10:00"), bootTop: 60, mark: "Sheer at the stern post, 860 mm above", spec: spec, vessel: vessel("Lantern Jack", "long-keel sloop", 1977, spec, 1.5), grid: metres(0.35, 5), roles: []role{{"iver", "owner", nil}}}
	b.layers = []layer{{kind: "construction", what: "solid laminate", how: "seen at the log hole"}}
	b.spells = []spell{
		{key: "first", yard: "tarrow", lift: c.ago(2, -35, "10:00"), launch: c.ago(2, 130, "12:00"), held: "props", washed: 2},
		{key: "asked", yard: "hallow", plannedLift: c.on(4, "10:00"), plannedLaunch: c.on(60, "12:00"), held: "shed", cover: true, asked: true},
	}
	b.water = water{start: 0.82, years: 2, wall: 11}
	at := c.ago(2, -15, "10:00")
	b.jobs = []job{
		{
			key: "lantern 1", kind: "limited moisture", client: "iver", as: "owner", lead: "varrow", cite: "vessel history without names", opened: at.AddDate(0, 0, -30), due: c.dayOf(at.AddDate(0, 0, 10)), scope: "Moisture of the underbody; blisters mapped.",
			stages: moved(at, at.AddDate(0, 0, 9), at.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at, "iver"), {what: "share the report", extent: "A. Ferrant", asked: c.days(-36), given: c.days(-35), by: "iver"}, {what: "open blisters", extent: "two", asked: c.dayOf(at.AddDate(0, 0, -20)), refused: c.dayOf(at.AddDate(0, 0, -18)), by: "iver"}},
			visits: []visit{{
				key: "lantern 1", kind: "meter visit", at: at, hours: 5, lead: "varrow", spell: "first", weather: true, passes: []pass{metered("lantern 1", "varrow", "deep 2", 470)},
				findings: []finding{{key: "lantern blisters", form: "blisters", sure: "seen", text: "Nine blisters of 4 to 9 mm within one square metre, starboard amidships. None opened: no leave.", measured: `{"widthMm": 1000, "heightMm": 1000, "count": 9, "diametersMm": [4, 5, 5, 6, 6, 7, 7, 8, 9], "pictures": "ISO 4628-2", "opened": 0}`, places: []string{"S5/2", "S6/2"}}},
				windows:  []window{{side: "starboard", along: 4100, down: 450, width: 150, high: 100, to: "gelcoat", good: "epoxy, by the yard", blisters: 3}, {side: "port", along: 4100, down: 450, width: 150, high: 100, to: "gelcoat", good: "epoxy, by the yard"}},
				photos:   []photo{{key: "lantern", caption: "Blisters in the window, starboard 5/2", shows: "blisters", finding: "lantern blisters", place: "S5/2"}},
			}},
			advice: []advice{
				{key: "lantern blisters", grade: report.Watch, about: "few-blisters", sure: "seen", what: "Nine mapped blisters: count and measure them again in twelve months", reason: "Seen; none opened.", consequence: "More or larger ones move this up.", who: "us", byWords: "twelve months", closedBy: "that visit", steps: []step{{at.AddDate(1, 0, 10), "declined", "“Not before the boat is lifted.”", "office"}}},
				{key: "lantern open", grade: report.LookFurther, sure: "seen", what: "Open two of them, with leave: depth, smell, pH", reason: "What is in them tells more than their number.", who: "owner / us", byWords: "next lift", closedBy: "what is found"},
			},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at.Add(25 * time.Hour), issued: at.AddDate(0, 0, 9), signs: "varrow",
				short: "Nine blisters in one place, mapped. Whether they lie in the coating or deeper cannot be said: none was opened.", shares: []share{
					sent("lantern 1", "iver", "N. Iver", "n.iver@post.example", at.AddDate(0, 0, 9).Add(time.Hour), at.AddDate(0, 0, 10)),
					{key: "lantern ferrant", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "you asked about her; her owner gave leave", at: c.on(-34, "10:00"), until: c.on(90, "12:00"), opened: []time.Time{c.on(-34, "19:20")}},
				},
			},
		},
		{
			key: "lantern 2", kind: "limited moisture", client: "iver", as: "owner", lead: "varrow", cite: "vessel history without names", opened: c.on(-9, "10:00"), due: c.days(30), scope: "The mapped blisters again.", between: "Hallow Quay has not answered",
			visits: []visit{{key: "lantern 2", kind: "meter visit", at: c.on(25, "10:00"), hours: 4, lead: "varrow", spell: "asked", booked: c.on(-8, "10:00"), planned: true}},
		},
	}
	return b
}

// bryonyAnn is lifted for an hour tomorrow.
func bryonyAnn(c calendar) boat {
	spec := usual(figure.TwinKeel, 8.8, 2.9, 1.15)
	b := boat{key: "bryony ann", since: c.ago(4, -20, "10:00"), bootTop: 50, mark: "Sheer at the transom, 790 mm above", spec: spec, vessel: vessel("Bryony Ann", "bilge-keel sloop", 1988, spec, 1.15), grid: metres(0.34, 4), roles: []role{{"sarne", "owner", nil}}}
	b.spells = []spell{
		{key: "first", yard: "tarrow", lift: c.ago(4, -6, "10:00"), launch: c.ago(4, 150, "12:00"), held: "props", washed: 2},
		{key: "hold", yard: "tarrow", plannedLift: c.on(1, "08:30"), plannedLaunch: c.on(1, "09:45"), held: "slings", note: "Lift and hold, one hour in the slings. Nobody works under her."},
	}
	b.water = water{start: 0.7, years: 2}
	at := c.ago(4, 4, "10:00")
	b.jobs = []job{
		{
			key: "bryony 1", kind: "pre-purchase", client: "sarne", as: "buyer", lead: "quillan", cite: "vessel history without names", opened: at.AddDate(0, 0, -10), scope: "Condition before purchase.", stages: moved(at, at.AddDate(0, 0, 5), at.AddDate(0, 1, 0)),
			permissions: []permission{{what: "board and survey", asked: c.dayOf(at.AddDate(0, 0, -9)), given: c.dayOf(at.AddDate(0, 0, -8)), name: "the seller"}},
			visits:      []visit{{key: "bryony 1", kind: "meter visit", at: at, hours: 5, lead: "quillan", spell: "first", weather: true, passes: []pass{{key: "bryony 1", hand: "quillan", instrument: "shallow 1", surface: "antifouling", dry: "bare gelcoat", wash: 230, rain: "heavy", hands: withoutMarks}}}},
			report:      &paper{title: "Pre-purchase condition survey", drafted: at.Add(25 * time.Hour), issued: at.AddDate(0, 0, 5), signs: "quillan", short: "A tidy boat. Heavy rain until the morning: the shallow instrument reads its water too, and the report says so.", shares: []share{sent("bryony 1", "sarne", "P. Sarne", "p.sarne@post.example", at.AddDate(0, 0, 5).Add(time.Hour))}},
		},
		{key: "bryony tonnage", kind: "tonnage", client: "sarne", as: "owner", lead: "varrow", opened: c.ago(3, 0, "10:00"), scope: "Measured by an authorised person; the paper is kept here.", stages: []stage{{c.ago(3, 20, "10:00"), "closed"}}},
		{
			key: "bryony now", kind: "insurance", client: "sarne", as: "owner", lead: "varrow", cite: "vessel history without names", opened: c.on(-18, "10:00"), due: c.days(4), scope: "Wet look at the lift for new antifouling; keels and rudder by eye.", between: "slings tomorrow 08:30: ring the yard", guests: []string{"guest"},
			permissions: []permission{{what: "board and survey", asked: c.days(-17), given: c.days(-16), by: "sarne"}, {what: "lift", asked: c.days(-17), given: c.days(-16), by: "sarne"}},
			visits:      []visit{{key: "bryony now", kind: "wet look", at: c.on(1, "08:30"), hours: 1, lead: "varrow", spell: "hold", planned: true, note: "One hour held. Stay clear while she hangs."}},
		},
	}
	return b
}

// pennywort is a buyer's hour: no grid.
func pennywort(c calendar) boat {
	spec := usual(figure.OpenBoat, 6.1, 2.2, 0.5)
	b := boat{key: "pennywort", since: c.on(-4, "10:00"), bootTop: 40, spec: spec, vessel: vessel("Pennywort", "open boat", 2009, spec, 0.5), grid: grid{every: 1, rows: []float64{0.15, 0.45}, dry: 0.3, from: 1}, roles: []role{{"dunmere", "owner", nil}}}
	b.jobs = []job{
		{
			key: "pennywort", kind: "pre-purchase", client: "brask", as: "buyer", lead: "quillan", opened: c.on(-3, "10:00"), due: c.days(2), scope: "A buyer’s hour on the trailer: what can be seen, no grid.", between: "today’s hour on the trailer",
			permissions: []permission{{what: "board and survey", asked: c.days(-3), given: c.days(-2), by: "dunmere"}},
			visits:      []visit{{key: "pennywort", kind: "other", at: c.on(0, "11:00"), hours: 1, lead: "quillan", planned: true}},
		},
		{key: "pennywort witness", kind: "expert witness", client: "dunmere", as: "owner", lead: "varrow", restricted: true, opened: c.on(-2, "15:00"), scope: "An opinion on papers for a small claim; duty to the court first.", between: "the other side’s papers"},
	}
	return b
}

// hesperVane belongs to the other practice.
func hesperVane(c calendar) boat {
	spec := usual(figure.FinKeelSloop, 9.2, 3.0, 1.6)
	b := boat{key: "hesper vane", since: c.ago(2, -30, "12:00"), bootTop: 60, mark: "Sheer at the transom, 34 in above", spec: spec, vessel: vessel("Hesper Vane", "fin-keel sloop", 1987, spec, 1.6), grid: metres(0.36, 4), roles: []role{{"corley", "owner", nil}}}
	b.spells = []spell{{key: "first", yard: "landing", lift: c.ago(2, -15, "14:00"), launch: c.ago(2, 190, "14:00"), held: "cradle", washed: 3}, {key: "second", yard: "landing", plannedLift: c.on(-6, "14:00"), lift: c.on(-6, "14:20"), plannedLaunch: c.on(170, "14:00"), held: "cradle", washed: 3}}
	b.water = water{start: 0.72, years: 2}
	at := c.ago(2, -2, "14:00")
	b.jobs = []job{
		{
			key: "hesper 1", kind: "insurance", client: "corley", as: "owner", lead: "aldane", opened: at.AddDate(0, 0, -20), due: c.dayOf(at.AddDate(0, 0, 10)), scope: "Condition for the underwriter.", stages: moved(at, at.AddDate(0, 0, 6), at.AddDate(0, 1, 0)), permissions: []permission{allowed(c, at, "corley")},
			visits: []visit{{key: "hesper 1", kind: "meter visit", at: at, hours: 4, lead: "aldane", spell: "first", weather: true, passes: []pass{metered("hesper 1", "aldane", "marram deep", 300)}}},
			report: &paper{title: "Insurance condition survey", page: "Letter", drafted: at.Add(25 * time.Hour), issued: at.AddDate(0, 0, 6), signs: "aldane", short: "In good order for her age. The underbody stands evenly above its own dry baseline.", shares: []share{sent("hesper 1", "corley", "D. Corley", "d.corley@post.example", at.AddDate(0, 0, 6).Add(time.Hour))}},
		},
		{key: "hesper 2", kind: "limited moisture", client: "corley", as: "owner", lead: "aldane", opened: c.on(-20, "14:00"), due: c.days(12), scope: "The same places again.", between: "meter visit in nine days", visits: []visit{{key: "hesper 2", kind: "meter visit", at: c.on(9, "14:00"), hours: 4, lead: "aldane", spell: "second", planned: true}}},
	}
	return b
}

func smallMercy(c calendar) boat {
	spec := usual(figure.ChineMotorBoat, 7.2, 2.6, 0.7)
	b := boat{key: "small mercy", since: c.on(-40, "14:00"), bootTop: 40, spec: spec, vessel: vessel("Small Mercy", "hard-chine motor boat", 2011, spec, 0.7), grid: metres(0.32, 2), roles: []role{{"weir", "owner", nil}}}
	b.jobs = []job{{key: "small mercy", kind: "valuation", client: "weir", as: "owner", lead: "aldane", opened: c.on(-39, "14:00"), due: c.days(3), scope: "A value for a sale.", between: "the visit tomorrow", visits: []visit{{key: "small mercy", kind: "other", at: c.on(1, "15:00"), hours: 1, lead: "aldane", planned: true}}}}
	return b
}
