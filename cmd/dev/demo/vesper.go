package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/report"
)

// vesper has a rudder stock that leaks into the after end of her keel.
func vesper(c calendar) boat {
	spec := figure.Spec{
		LWL: 7.6, Aft: 1.0, Fore: 1.35, Beam: 3.1, Body: 0.72, Freeboard: [3]float64{0.85, 0.78, 1.25}, Counter: 0.45,
		Plan: figure.Curve{Peak: 0.46, PA: 2, PF: 1.7}, Profile: figure.Curve{Peak: 0.48, Aft: 0.1, PA: 1.8, PF: 1.8}, Section: 1.9,
		Keel: &figure.LongKeel{Heel: 0.75, Forefoot: 6.9, Ramp: 3.6, Depth: 0.82},
		Hung: []figure.Hung{{Name: "rudder", At: [4]float64{-0.05, 0.74, 0.12, 0.74}, Span: 1.25, Blade: true}},
	}
	b := boat{
		key: "vesper", since: c.ago(9, 40, "10:00"), bootTop: 70, mark: "Sheer at the stern post, 920 mm above", spec: spec, former: []string{"Vesper"},
		vessel: vessel("Old Vesper", "long-keel ketch", 1974, spec, 1.54), grid: halfMetres(0.37, 7),
		parts: []part{{"rudder", "rudder, keel-hung"}}, roles: []role{{"brask", "owner", c.dayOf(c.ago(9, 30, "12:00"))}},
	}
	b.vessel.Builder, b.vessel.HullNumberAsRead, b.vessel.HullNumberWhere = "Hallow Quay", "HQ 7 / 74", "plate on the bridge deck"
	b.vessel.Notes = "Stock tube was glassed over at some time; no record of it."
	b.layers = []layer{
		{kind: "construction", what: "solid laminate, 12 to 16 mm, more in the keel", how: "two drilled holes, cockpit drain and heads inlet"},
		{kind: "coating", what: "antifouling with copper, many coats", how: "seen in the windows"},
		{kind: "behind", what: "ballast, encapsulated", outline: box(2100, 5000, 1720, 2350), how: "drawing of a sister", drawn: "tank"},
		{kind: "behind", what: "fuel", side: "port", outline: box(1200, 2100, 250, 900), how: "measured inside", drawn: "tank"},
		{kind: "behind", what: "rudder stock tube", outline: [][2]int32{{950, 1050}}, how: "seen from outside; glassed over inside", drawn: "fitting"},
		{kind: "behind", what: "heads inlet", side: "port", outline: [][2]int32{{5220, 600}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "cockpit drain", side: "starboard", outline: [][2]int32{{1720, 300}}, how: "seen from both sides", drawn: "fitting"},
	}
	b.events = []event{
		{kind: "built", what: "Moulded; finished by her first owner", written: "1974 to 1976", source: "owner’s papers", from: yearBegins(1974), to: yearEnds(1976)},
		{kind: "collision", what: "Struck at her mooring, port quarter; rail and topsides made good", written: "some years before 2010", source: "owner, by word", from: yearBegins(2005), to: yearEnds(2009)},
	}
	b.spells = []spell{
		{key: "first", yard: "tarrow", lift: c.ago(8, -11, "10:00"), launch: c.ago(8, 170, "11:00"), held: "props", washed: 3},
		{key: "second", yard: "tarrow", lift: c.ago(5, -6, "10:00"), launch: c.ago(5, 181, "15:00"), held: "props", washed: 3},
		{key: "third", yard: "tarrow", lift: c.ago(2, -2, "12:30"), launch: c.ago(2, 175, "10:30"), held: "props", washed: 2},
		{key: "now", yard: "tarrow", plannedLift: c.on(-2, "14:00"), lift: c.on(-1, "15:10"), plannedLaunch: c.on(170, "11:00"), held: "props", washed: 1, note: "Lift moved by a day: wind over the slip."},
	}
	stock := func(side simulate.Side, from time.Time, strength float64) simulate.Cause {
		w := simulate.WetCore(side, 950, 1050, 420, from)
		w.Name, w.Strength = "leaking rudder stock", strength
		return w
	}
	b.water = water{start: 0.78, years: 2, wall: 13, causes: []simulate.Cause{
		stock(simulate.Port, c.ago(6, 0, "12:00"), 17), stock(simulate.Starboard, c.ago(6, 0, "12:00"), 19),
		stock(simulate.Port, c.ago(3, 0, "12:00"), 8), stock(simulate.Starboard, c.ago(3, 0, "12:00"), 9),
	}}
	b.jobs = vesperJobs(c)
	return b
}

func vesperJobs(c calendar) []job {
	at1, at2, at3 := c.ago(8, 10, "10:00"), c.ago(5, 18, "10:00"), c.ago(2, 22, "09:30")
	return []job{
		{
			key: "vesper 1", kind: "insurance", client: "brask", as: "owner", lead: "tolland", cite: "named", opened: at1.AddDate(0, 0, -30), due: c.dayOf(at1.AddDate(0, 0, 14)),
			scope: "Condition for the underwriter; moisture of the underbody by the grid.", stages: moved(at1, at1.AddDate(0, 0, 9), at1.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at1, "brask")},
			visits: []visit{{key: "vesper 1", kind: "meter visit", at: at1, hours: 6, lead: "tolland", spell: "first", weather: true, passes: []pass{metered("vesper 1", "tolland", "deep 1", 470)}}},
			report: &paper{
				title: "Insurance condition survey", drafted: at1.Add(30 * time.Hour), issued: at1.AddDate(0, 0, 9), signs: "tolland",
				short:  "An old boat in steady care. Below the water she stands well above her own dry baseline, evenly; nothing was found that keeps her ashore.",
				shares: []share{sent("vesper 1", "brask", "M. Brask", "m.brask@post.example", at1.AddDate(0, 0, 10), at1.AddDate(0, 0, 10).Add(3*time.Hour))},
			},
		},
		{
			key: "vesper 2", kind: "limited moisture", client: "brask", as: "owner", lead: "quillan", cite: "named", opened: at2.AddDate(0, 0, -40), due: c.dayOf(at2.AddDate(0, 0, 14)),
			scope: "Moisture of the underbody, outside.", stages: moved(at2, at2.AddDate(0, 0, 11), at2.AddDate(0, 3, 0)), permissions: []permission{allowed(c, at2, "brask")},
			visits: []visit{{
				key: "vesper 2", kind: "meter visit", at: at2, hours: 5, lead: "quillan", spell: "second", weather: true, passes: []pass{metered("vesper 2", "quillan", "deep 2", 560)},
				findings: []finding{{key: "vesper stock", form: "weep", sure: "seen", measured: `{"liquid": "clear", "againHours": 1, "smell": "none"}`, text: "Weep at the after edge of the keel below the stock tube, both sides; clear water, no smell. It came again within an hour of being wiped.", places: []string{"P2/3", "S2/3"}, again: true}},
				photos:   []photo{{key: "vesper weep", caption: "Weep below the stock tube, starboard", shows: "weep", finding: "vesper stock", place: "S2/3"}},
			}},
			advice: []advice{{
				shown: []shown{{at: c.on(-1, "16:45"), by: "varrow", kind: "reinspection", job: "vesper now", visit: "vesper wet", text: "weeps in the slings, both sides"}},
				key:   "vesper stock", grade: report.BeforeAfloat, sure: "seen", what: "Open the stock tube’s glassing from inside and find where the water comes from", reason: "A weep at the after edge of the keel, both sides, with raised readings round it.", consequence: "Water in the heel of the keel works on whatever is there, frost too.",
				who: "owner / yard", byWords: "before relaunch", closedBy: "opened and seen",
				steps: []step{{at2.AddDate(0, 0, 14), "acknowledged", "", "office"}, {at2.AddDate(0, 0, 30), "declined", "“She has wept there for twenty years.”", "office"}, {c.on(-1, "16:40"), "reopened", "She weeps there still, seen in the slings; the owner wants it settled.", "varrow"}},
			}},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at2.Add(28 * time.Hour), issued: at2.AddDate(0, 0, 11), signs: "quillan",
				short:  "Raised readings at the after end of the keel on both sides, with a weep there that comes again. Elsewhere the underbody stands evenly above its own dry baseline.",
				shares: []share{sent("vesper 2", "brask", "M. Brask", "m.brask@post.example", at2.AddDate(0, 0, 11).Add(time.Hour))},
			},
		},
		{
			key: "vesper 3", kind: "limited moisture", client: "brask", as: "owner", lead: "varrow", cite: "named", opened: at3.AddDate(0, 0, -35), due: c.dayOf(at3.AddDate(0, 0, 14)),
			scope: "The same grid and instrument again.", stages: moved(at3, at3.AddDate(0, 0, 8), at3.AddDate(0, 2, 0)), permissions: []permission{allowed(c, at3, "brask")},
			visits: []visit{{key: "vesper 3", kind: "meter visit", at: at3, hours: 5, lead: "varrow", spell: "third", weather: true, passes: []pass{metered("vesper 3", "varrow", "deep 2", 570)}}},
			advice: []advice{{
				key: "vesper heel", grade: report.LookFurther, about: "suspected-wet-core", sure: "indicated", readings: true, what: "Drill two pilot holes in the heel of the keel, with the owner’s leave, and see what runs", reason: "Readings round the stock stand higher than three years before.", consequence: "What the heel is filled with is not known.", who: "owner / us", byWords: "next lift", closedBy: "what runs",
				steps: []step{{at3.AddDate(0, 0, 12), "agreed", "", "office"}},
			}},
			report: &paper{
				title: "Limited survey, moisture of the underbody", drafted: at3.Add(27 * time.Hour), issued: at3.AddDate(0, 0, 8), signs: "varrow",
				short:  "Over the hull at large as three years ago. Round the rudder stock the readings stand higher than then; two pilot holes would tell more than another year of readings.",
				shares: []share{sent("vesper 3", "brask", "M. Brask", "m.brask@post.example", at3.AddDate(0, 0, 8).Add(time.Hour), at3.AddDate(0, 0, 9))},
			},
		},
		{
			key: "vesper now", kind: "limited moisture", client: "brask", as: "owner", lead: "varrow", cite: "named", opened: c.on(-60, "11:00"), due: c.days(28),
			scope: "Moisture of the underbody; two pilot holes in the heel of the keel.", between: "meter visit in 23 days, 24 days ashore as two years ago", stages: []stage{{c.on(-1, "15:20"), "visiting"}},
			permissions: []permission{allowed(c, c.on(-20, "12:00"), "brask"), {what: "drill or core", extent: "two holes of 6 mm in the heel of the keel", asked: c.days(-12), given: c.days(-8), by: "brask", good: "Tarrow Slip, epoxy plugs, before relaunch"}},
			visits: []visit{
				{
					key: "vesper wet", kind: "wet look", at: c.on(-1, "15:30"), hours: 1, lead: "varrow", spell: "now", booked: c.on(-50, "11:00"), note: "In the slings.", weather: true,
					findings: []finding{{key: "vesper wet", form: "weep", of: "vesper stock", sure: "seen", measured: `{"liquid": "clear", "smell": "none"}`, text: "Weep below the stock tube again, both sides, while she hung in the slings.", places: []string{"P2/3", "S2/3"}, again: true}},
					photos:   []photo{{key: "vesper rudder", caption: "Rudder and heel in the slings, water running from the foot", shows: "rudder", finding: "vesper wet"}},
				},
				{key: "vesper meter", kind: "meter visit", at: c.on(23, "09:30"), hours: 5, lead: "varrow", spell: "now", follows: "vesper wet", why: "24 days ashore, as two years ago", booked: c.on(-50, "11:05"), planned: true},
			},
		},
	}
}
