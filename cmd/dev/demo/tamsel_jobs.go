package demo

import (
	"time"

	"boottop.example/practice/domain/report"
)

// pads are where her props stand, the same each time: nothing is read under them.
var pads = map[string]string{"P5/4": "prop pad", "S5/4": "prop pad", "P13/4": "prop pad", "S13/4": "prop pad"}

var garboard = map[string]string{"P8/6": "pads not flat at the garboard", "S7/6": "pads not flat at the garboard"}

func tamselJobs(c calendar) []job {
	return []job{
		tamselQuoted(c), tamselBought(c), tamsel2019(c), tamsel2021(c), tamselEmptied(c), tamsel2023(c), tamselAgain(c), tamselToday(c),
	}
}

// tamselQuoted is what survived of a paper report of another practice.
func tamselQuoted(c calendar) job {
	at := c.ago(11, 6, "10:00")
	return job{
		key: "quoted", kind: "pre-purchase", scope: "Readings of another practice, copied from a paper report that the seller handed over.", lead: "tolland",
		cite: "vessel history without names", opened: c.ago(9, -18, "11:00"), stages: []stage{{c.ago(9, -17, "17:00"), "closed"}},
		visits: []visit{{
			key: "quoted", kind: "other", at: at, hours: 3, lead: "tolland", written: "not stated", booked: c.ago(9, -18, "11:10"),
			note: "Typed from the paper report. Instrument, scale and days ashore are not stated in it.",
			passes: []pass{{
				key: "quoted", instrument: "deep 1", quoted: true, instWords: "not stated", handWords: "another practice", source: "typed from paper",
				hands: withoutMarks, placements: 1, zero: 2, gain: 1.1, only: []int{2, 3, 4}, note: "Values in whole units, one a place; no baseline row.",
			}},
		}},
	}
}

func tamselBought(c calendar) job {
	at := c.ago(9, -3, "09:30")
	return job{
		key: "2017", kind: "pre-purchase", client: "ferrant", as: "buyer", lead: "tolland", cite: "vessel history without names", opened: c.ago(9, -17, "11:00"),
		scope:  "Condition before purchase: hull outside and in, deck, rig from deck level, moisture of the underbody. Engine and sails left out.",
		due:    c.dayOf(c.ago(9, 8, "12:00")),
		stages: []stage{{at, "visiting"}, {at.Add(28 * time.Hour), "writing"}, {c.ago(9, 6, "15:00"), "issued"}, {c.ago(9, 60, "12:00"), "closed"}},
		permissions: []permission{
			{what: "board and survey", asked: c.dayOf(c.ago(9, -16, "12:00")), given: c.dayOf(c.ago(9, -14, "12:00")), name: "the seller, by letter"},
			{what: "scrape", extent: "6 windows of 100 × 100 mm", asked: c.dayOf(c.ago(9, -16, "12:00")), given: c.dayOf(c.ago(9, -14, "12:00")), name: "the seller, by letter", good: "the buyer’s yard, epoxy and antifouling, before relaunch"},
			{what: "drill or core", asked: c.dayOf(c.ago(9, -16, "12:00")), refused: c.dayOf(c.ago(9, -14, "12:00")), name: "the seller, by letter"},
		},
		visits: []visit{{
			key: "2017", kind: "meter visit", at: at, hours: 6, lead: "tolland", spell: "2017", weather: true,
			passes: []pass{{key: "2017", hand: "tolland", instrument: "shallow 1", surface: "antifouling", dry: "bare gelcoat", wash: 190, rain: "light", unread: pads}},
			findings: []finding{
				{key: "2017 repair", kind: "old repair", sure: "seen", text: "Old fair repair, 200 mm across, just below the waterline. Clear note under the hammer, edges firm.", places: []string{"S3/2"}},
				{key: "2017 hose", kind: "hose", sure: "seen", text: "Galley drain hose hard and cracked at the clip; one clip where two belong.", places: []string{"P7/2"}},
			},
			windows: row("port", 1500, 700, 3, 750, "epoxy"),
		}},
		advice: []advice{
			{
				key: "2017 hose", grade: report.BeforeAfloat, sure: "seen", what: "Renew the galley drain hose and double its clips", reason: "Hose hard and cracked at the clip.", consequence: "A hose that lets go below the water floods her.",
				who: "owner / yard", byWords: "before relaunch", closedBy: "seen at the next visit",
				steps: []step{{c.ago(9, 12, "10:00"), "agreed", "", "office"}, {c.ago(9, 180, "10:00"), "claimed done", "", "office"}, {c.ago(7, 1, "15:30"), "seen done", "New hose, two clips each end.", "quillan"}, {c.ago(7, 12, "16:00"), "closed", "Seen done at the visit of 2019.", "quillan"}},
			},
			{
				key: "2017 repair", grade: report.ForTheRecord, sure: "seen", what: "Old fair repair, starboard 3/2, clear note under the hammer", reason: "Seen from outside; no record of it.",
				steps: []step{{c.ago(9, 60, "12:00"), "closed", "For the record.", "tolland"}},
			},
		},
		report: &paper{
			title: "Pre-purchase condition survey", drafted: at.Add(30 * time.Hour), issued: c.ago(9, 6, "14:40"), signs: "tolland",
			short:  "A well-kept boat of her age. One hose needs work before she goes afloat again. By the shallow-sensing instrument the underbody stood above her own dry baseline, evenly; no blister was seen in what was bared.",
			shares: []share{{key: "2017", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "your survey", at: c.ago(9, 6, "16:00"), until: c.ago(8, 6, "16:00"), opened: []time.Time{c.ago(9, 6, "19:12"), c.ago(9, 9, "08:05")}}},
		},
	}
}

func tamsel2019(c calendar) job {
	at := c.ago(7, 1, "10:00")
	return job{
		key: "2019", kind: "limited moisture", client: "ferrant", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.ago(7, -40, "10:20"),
		scope:       "Moisture of the underbody, outside, by the grid of 0.5 m and 0.3 m; two years after purchase.",
		due:         c.dayOf(c.ago(7, 14, "12:00")),
		stages:      []stage{{at, "visiting"}, {at.Add(26 * time.Hour), "writing"}, {c.ago(7, 12, "15:00"), "issued"}, {c.ago(7, 70, "12:00"), "closed"}},
		permissions: []permission{{what: "board and survey", asked: c.dayOf(c.ago(7, -30, "12:00")), given: c.dayOf(c.ago(7, -29, "12:00")), by: "ferrant"}},
		visits: []visit{{
			key: "2019", kind: "meter visit", tank: "full", at: at, hours: 5, lead: "quillan", spell: "2019", weather: true,
			passes:   []pass{{key: "2019", hand: "quillan", instrument: "deep 1", surface: "antifouling", dry: "bare gelcoat", wash: 474, rain: "none", unread: pads, void: garboard, follow: []string{"P12/2", "P13/3"}}},
			findings: []finding{{key: "2019 tank", kind: "raised readings", sure: "indicated", text: "Straight-edged field of raised readings, port 12 to 14, rows 2 to 4; the mirror places are low. It lies where the water tank is drawn. The tank was full.", places: []string{"P12/2", "P12/3", "P13/2", "P13/3", "P14/2", "P14/3"}, again: true}},
			photos:   []photo{{key: "2019 bow", caption: "Port side forward, station 13 marked in chalk", shows: "hull", place: "P13/2"}},
		}},
		advice: []advice{
			{
				key: "2019 tank", grade: report.LookFurther, sure: "indicated", readings: true, what: "Empty the water tank, wait a day, read port 12 to 14 again", reason: "Raised there, with straight edges; the mirror places are low.", consequence: "If they stay raised with the tank empty, something else lies behind.",
				who: "owner / us", byWords: "next lift", closedBy: "readings with the tank empty",
				steps: []step{{c.ago(7, 15, "10:00"), "acknowledged", "", "office"}, {c.ago(5, 12, "12:00"), "agreed", "", "office"}, {c.ago(5, 172, "13:00"), "seen done", "Read with the tank empty, 195 days ashore: level with the mirror places.", "quillan"}, {c.ago(5, 180, "11:00"), "closed", "The field was the tank.", "quillan"}},
			},
			{
				key: "2019 watch", grade: report.Watch, about: "raised-uniform", sure: "indicated", readings: true, what: "Raised readings over the underbody: the whole plan again in two years", reason: "Even, grading towards the keel; no blister seen.", who: "us", byWords: "autumn, two years on", closedBy: "that visit",
				steps: []step{{c.ago(7, 15, "10:00"), "agreed", "", "office"}, {c.ago(5, -2, "15:00"), "seen done", "Read again with Skerrow deep No. 2.", "quillan"}, {c.ago(5, 12, "11:00"), "closed", "Taken over by the report of 2021.", "quillan"}},
			},
		},
		report: &paper{
			title: "Limited survey, moisture of the underbody", drafted: at.Add(27 * time.Hour), issued: c.ago(7, 12, "14:30"), signs: "quillan", look: &look{"varrow", c.ago(7, 11, "18:00")},
			short:  "The underbody stood above this hull’s own dry baseline, evenly and grading towards the keel, except for one field forward on the port side that matches the water tank.",
			shares: []share{{key: "2019", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "your survey", at: c.ago(7, 12, "15:30"), until: c.ago(6, 12, "15:30"), opened: []time.Time{c.ago(7, 12, "20:41")}}},
		},
	}
}

func tamsel2021(c calendar) job {
	at := c.ago(5, -2, "09:00")
	return job{
		key: "2021", kind: "insurance", client: "ferrant", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.ago(5, -45, "14:00"),
		scope:       "Condition for the underwriter: hull, deck, rig from deck level, steering, gas and electrics by eye; moisture of the underbody by the grid.",
		due:         c.dayOf(c.ago(5, 14, "12:00")),
		stages:      []stage{{at, "visiting"}, {at.Add(30 * time.Hour), "writing"}, {c.ago(5, 12, "12:00"), "issued"}, {c.ago(5, 90, "12:00"), "closed"}},
		permissions: []permission{{what: "board and survey", asked: c.dayOf(c.ago(5, -40, "12:00")), given: c.dayOf(c.ago(5, -39, "12:00")), by: "ferrant"}, {what: "share the report", extent: "Skerrow Mutual", asked: c.dayOf(c.ago(5, -40, "12:00")), given: c.dayOf(c.ago(5, -39, "12:00")), by: "ferrant"}},
		visits: []visit{{
			key: "2021", kind: "meter visit", tank: "full", at: at, hours: 7, lead: "quillan", spell: "2021", weather: true,
			passes:   []pass{{key: "2021", hand: "quillan", instrument: "deep 2", drift: 0.5, surface: "antifouling", dry: "bare gelcoat", wash: 480, rain: "none", unread: pads, void: garboard, follow: []string{"P13/3"}}},
			findings: []finding{{key: "2021 inlet", kind: "corroded seacock", sure: "seen", text: "Heads inlet: seacock pink at the tail where the paint was scratched, stiff in its travel.", places: []string{"S9/2"}}},
		}},
		advice: []advice{
			{
				key: "2021 inlet", grade: report.BeforeAfloat, sure: "seen", what: "Renew the heads inlet and its seacock", reason: "Pink at the tail: zinc has gone out of the metal.", consequence: "It may break when it is turned, below the water.", who: "yard", byWords: "before relaunch", closedBy: "invoice and a look",
				steps: []step{{c.ago(5, 14, "09:00"), "agreed", "", "office"}, {c.ago(5, 60, "09:00"), "in hand", "", "office"}, {c.ago(5, 187, "09:00"), "claimed done", "", "office"}, {c.ago(3, 3, "16:00"), "seen done", "New inlet and seacock, turns freely.", "maddern"}, {c.ago(3, 20, "16:00"), "closed", "Seen done.", "maddern"}},
			},
			{
				key: "2021 gas", grade: report.WhileAshore, sure: "seen", what: "Date-stamp on the gas hose is nine years old: have it renewed and the installation tested by a licensed fitter", reason: "Hose past the age that its maker gives.", consequence: "Gas below the sole.", who: "licensed gas fitter", byWords: "this winter", closedBy: "the fitter’s paper",
				steps: []step{{c.ago(5, 14, "09:00"), "agreed", "", "office"}, {c.ago(5, 150, "09:00"), "claimed done", "", "office"}, {c.ago(5, 172, "14:00"), "seen done", "Fitter’s paper seen.", "quillan"}, {c.ago(5, 182, "14:00"), "closed", "Paper filed.", "quillan"}},
			},
		},
		report: &paper{
			title: "Insurance condition survey", drafted: at.Add(32 * time.Hour), issued: c.ago(5, 12, "11:30"), signs: "quillan", look: &look{"varrow", c.ago(5, 11, "17:00")},
			short: "In good order for her age and use, with one seacock to be renewed before she goes afloat and one gas hose this winter. The readings below the water are described with this report; by themselves they ask for nothing but another look.",
			shares: []share{
				{key: "2021", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "your survey", at: c.ago(5, 12, "12:30"), until: c.ago(4, 12, "12:30"), opened: []time.Time{c.ago(5, 12, "18:30"), c.ago(5, 13, "07:50")}},
				{key: "2021 mutual", party: "skerrow mutual", name: "Claims desk, Skerrow Mutual", email: "desk@skerrow-mutual.example", purpose: "renewal of cover", at: c.ago(5, 14, "09:30"), until: c.ago(3, 14, "09:30"), opened: []time.Time{c.ago(5, 16, "10:10")}, revoked: c.ago(4, 60, "09:00")},
			},
		},
	}
}

func tamselEmptied(c calendar) job {
	at := c.ago(5, 172, "10:00")
	return job{
		key: "2022", kind: "limited moisture", client: "ferrant", as: "owner", lead: "quillan", cite: "vessel history without names", opened: c.ago(5, 150, "10:00"),
		scope:  "The whole plan again with the water tank empty, 195 days ashore.",
		stages: []stage{{at, "visiting"}, {at.Add(24 * time.Hour), "writing"}, {c.ago(5, 181, "12:00"), "issued"}, {c.ago(5, 240, "12:00"), "closed"}},
		visits: []visit{{
			key: "2022", kind: "repeat readings", tank: "empty, lid off", at: at, hours: 4, lead: "quillan", spell: "2021", weather: true, note: "Tank drained and its lid off for five weeks.",
			passes: []pass{{key: "2022", hand: "quillan", instrument: "deep 2", surface: "antifouling", dry: "bare gelcoat", wash: 4600, rain: "light", unread: pads, void: garboard}},
		}},
		report: &paper{
			title: "Limited survey, readings with the tank empty", drafted: at.Add(25 * time.Hour), issued: c.ago(5, 181, "11:00"), signs: "quillan",
			short:  "With the water tank empty the field forward on the port side is level with its mirror. It pointed at the tank. After 195 days ashore the whole underbody stands lower than in October; that is what days ashore do.",
			shares: []share{{key: "2022", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "your survey", at: c.ago(5, 181, "12:00"), until: c.ago(4, 181, "12:00")}},
		},
	}
}

func tamsel2023(c calendar) job {
	at := c.ago(3, 3, "09:30")
	return job{
		key: "2023", kind: "limited moisture", client: "ferrant", as: "owner", lead: "maddern", cite: "vessel history without names", opened: c.ago(3, -50, "15:00"),
		scope:       "Moisture of the underbody, outside, by the same grid and instrument as in 2021.",
		due:         c.dayOf(c.ago(3, 21, "12:00")),
		stages:      []stage{{at, "visiting"}, {at.Add(25 * time.Hour), "writing"}, {c.ago(3, 20, "15:00"), "issued"}, {c.ago(3, 80, "12:00"), "closed"}},
		permissions: []permission{{what: "board and survey", asked: c.dayOf(c.ago(3, -45, "12:00")), given: c.dayOf(c.ago(3, -44, "12:00")), by: "ferrant"}, {what: "scrape", extent: "10 windows of 100 × 100 mm", asked: c.dayOf(c.ago(3, -45, "12:00")), given: c.dayOf(c.ago(3, -44, "12:00")), by: "ferrant", good: "Tarrow Slip, epoxy and antifouling, before relaunch"}},
		visits: []visit{{
			key: "2023", kind: "meter visit", tank: "empty", at: at, hours: 6, lead: "maddern", spell: "2023", weather: true,
			passes:   []pass{{key: "2023", hand: "maddern", instrument: "deep 2", surface: "antifouling", dry: "bare gelcoat", wash: 500, rain: "none", unread: pads, void: garboard, corrected: map[string]string{"S11/1": "digits changed about"}}},
			findings: []finding{{key: "2023 drain", form: "weep", sure: "seen", measured: `{"liquid": "brown", "longMm": 40, "watchedHours": 3}`, text: "Rust-brown weep below the galley drain outside, 40 mm long; wiped, it had not come again after three hours.", places: []string{"P6/2"}}},
			windows:  append(row("port", 1800, 650, 5, 600, "epoxy"), row("starboard", 1800, 650, 5, 600, "epoxy")...),
			photos:   []photo{{key: "2023 weep", caption: "Weep below the galley drain, port 6/2", shows: "weep", finding: "2023 drain", place: "P6/2"}, {key: "2023 window", caption: "Window 3, port, scraped to gelcoat: no blister seen", shows: "window"}},
		}},
		advice: []advice{
			{
				key: "2023 watch", grade: report.Watch, about: "raised-uniform", sure: "indicated", readings: true, what: "Raised readings: the whole plan again, same month, days ashore and instrument", reason: "Even over the underbody, as in 2021.", who: "us", byWords: "in three years", closedBy: "that visit; moves up if blisters show",
				steps: []step{{c.ago(3, 24, "10:00"), "agreed", "", "office"}, {c.on(-40, "11:00"), "in hand", "", "office"}},
			},
			{
				key: "2023 drain", grade: report.WhileAshore, sure: "seen", what: "Draw the galley drain and bed it anew", reason: "A weep below it outside.", consequence: "Water may get into the edge of the laminate.", who: "yard", byWords: "this winter", closedBy: "seen at the next visit",
				steps: []step{{c.ago(3, 24, "10:00"), "declined", "“We will watch it another season.”", "office"}},
			},
		},
		report: &paper{
			title: "Limited survey, moisture of the underbody", drafted: at.Add(26 * time.Hour), issued: c.ago(3, 20, "14:20"), signs: "maddern", look: &look{"varrow", c.ago(3, 19, "16:00")},
			short: "The underbody stood above this hull’s own dry baseline much as in 2021. The field at the water tank is gone with the tank empty. One fitting weeps outside.",
			shares: []share{{key: "2023", party: "ferrant", name: "A. Ferrant", email: "a.ferrant@post.example", purpose: "your survey", at: c.ago(3, 20, "15:00"), until: c.on(120, "12:00"), opened: []time.Time{c.ago(3, 20, "17:45"), c.ago(3, 22, "21:10"), c.on(-33, "08:20")}, says: []said{
				{c.on(-33, "08:31"), "Draw the galley drain", "declined", "We will watch it another season."},
				{c.on(-33, "08:34"), "Raised readings", "agreed", ""},
			}}},
			adds:   []added{{c.ago(3, 34, "11:20"), "The photo of the weep was taken in the afternoon, three hours after it had been wiped; its caption does not say so.\nThe battery of the instrument was new on the day of the visit."}},
			letter: &letter{c.on(-30, "10:10"), "Skerrow Mutual, small craft", "insurer", "SM 4471"},
		},
	}
}

// tamselAgain is the practice's measuring of its own visits: the whole plan again on three
// days of the week after the survey, each place found anew, nothing done to her between.
func tamselAgain(c calendar) job {
	j := job{
		key: "again", kind: "limited moisture", lead: "maddern", cite: "vessel history without names", opened: c.ago(3, 3, "17:00"),
		scope:  "Our own measuring, with the owner’s leave: what stands between two like visits.",
		stages: []stage{{c.ago(3, 4, "09:00"), "visiting"}, {c.ago(3, 7, "12:00"), "closed"}},
	}
	for k, key := range []string{"again 1", "again 2", "again 3"} {
		j.visits = append(j.visits, visit{
			key: key, kind: "repeat readings", tank: "empty", at: c.ago(3, 4+k, "09:30"), hours: 4, lead: "maddern", spell: "2023", weather: true,
			passes: []pass{{key: key, hand: "maddern", instrument: "deep 2", zero: 0.4 * float64(1-k), surface: "antifouling", dry: "bare gelcoat", wash: int16(524 + 24*k), rain: "none", unread: pads, void: garboard}},
		})
	}
	return j
}

// tamselToday is the job in hand: the wet look is done, the pass is open.
func tamselToday(c calendar) job {
	return job{
		key: "now", kind: "limited moisture", client: "ferrant", as: "owner", lead: "varrow", opened: c.on(-52, "10:00"), due: c.days(6),
		scope:   "Moisture of the underbody, outside, by the same grid and instrument as in 2021 and 2023. A look inside where readings ask for one.",
		between: "today’s readings; the look inside in two days",
		stages:  []stage{{c.on(-21, "15:00"), "visiting"}},
		permissions: []permission{
			{what: "board and survey", asked: c.days(-50), given: c.days(-49), by: "ferrant"},
			{what: "scrape", extent: "14 windows of 100 × 100 mm", asked: c.days(-50), given: c.days(-26), by: "ferrant", good: "Tarrow Slip, epoxy and antifouling, before relaunch"},
			{what: "mark the hull", extent: "chalk, wiped off afterwards", asked: c.days(-50), given: c.days(-49), by: "ferrant"},
			{what: "photograph", asked: c.days(-50), given: c.days(-49), by: "ferrant"},
			{what: "lift soles", extent: "over the heads inlet and the liner’s edge", asked: c.days(-3), note: "Asked by e-mail; A. Ferrant is there on the day of the look inside."},
		},
		visits: []visit{
			{
				key: "wet look", kind: "wet look", at: c.on(-21, "14:40"), hours: 1, lead: "varrow", spell: "now", booked: c.on(-45, "10:00"), weather: true, tank: "full",
				note:    "In the slings, then on props: the whole underbody in raking light.",
				windows: append(row("port", 1200, 900, 7, 450, "epoxy"), row("starboard", 1200, 900, 7, 450, "epoxy")...),
				findings: []finding{
					{key: "wet look", kind: "look over", sure: "seen", text: "Whole underbody looked over wet, in raking light. Fourteen windows bared to gelcoat: no blister seen. The old repair at starboard 3/2 shows as before.", places: []string{"S3/2"}},
					{key: "wet inlet", kind: "stain", sure: "seen", text: "Faint brown ring round the flange of the heads inlet outside, 10 mm wide.", places: []string{"S9/2", "S10/2"}, again: true},
				},
				checks: []check{{key: "wet light", outcome: "no-blisters-seen", note: "Wet, in raking light, the whole underbody", finding: "wet look"}},
				words:  []word{{key: "wet inlet", by: "varrow", cause: "leak-at-a-fitting", judges: "agrees", reason: "Readings stood a little higher here in 2023, and the ring outside is new. The inlet was renewed five years ago and bedded in sealant: a look inside comes before it is drawn.", places: []string{"S9/2", "S10/2"}}},
				photos: []photo{
					{key: "wet window", caption: "Window 5, port, bared to gelcoat in the slings", shows: "window"},
					{key: "wet hull", caption: "Starboard side in raking light, in the slings", shows: "hull"},
					{key: "wet ring", caption: "Brown ring round the flange of the heads inlet", shows: "fitting", finding: "wet inlet", place: "S9/2"},
				},
			},
			{
				key: "meter", kind: "meter visit", at: c.on(0, "09:00"), hours: 5, lead: "varrow", spell: "now", follows: "wet look", why: "21 days ashore, as in 2021 and 2023", booked: c.on(-45, "10:05"), planned: true, weather: true, tank: "full, by the gauge",
				passes: []pass{{key: "now", hand: "varrow", instrument: "deep 2", surface: "antifouling", dry: "bare gelcoat", wash: 497, rain: "none", until: 9, unread: map[string]string{"P5/4": "prop pad", "S5/4": "prop pad"}, void: map[string]string{"P8/6": "pads not flat at the garboard", "S7/6": "pads not flat at the garboard"}, follow: []string{"S9/2"}}},
				photos: []photo{{key: "now meter", caption: "Skerrow deep No. 2 on port 7/2, chalk marks on the antifouling", shows: "meter", place: "P7/2"}},
			},
			{key: "inside", kind: "inside", at: c.on(2, "10:00"), hours: 2, lead: "varrow", spell: "now", follows: "meter", why: "follow up inside what the readings ask for", booked: c.on(-44, "16:00"), planned: true, note: "With the owner there; soles up over the heads inlet."},
		},
		advice: []advice{
			{key: "now windows", grade: report.WhileAshore, sure: "seen", what: "Make good the 14 windows: epoxy, then antifouling", reason: "Bared for the eye on the day of the wet look.", consequence: "Left bare, the gelcoat there goes back without its coating.", who: "yard", by: c.days(14), closedBy: "photo of each"},
			{key: "now repair", grade: report.ForTheRecord, sure: "seen", what: "Old fair repair, starboard 3/2, clear note under the hammer"},
		},
		report: &paper{
			title: "Limited survey, moisture of the underbody", drafted: c.on(-20, "17:00"), signs: "varrow",
			short: "Wet look: the whole underbody was looked over in raking light, fourteen windows bared, no blister seen in them. The readings follow.",
		},
	}
}

// row lays windows of 100 × 100 mm out along a row.
func row(side string, from, step int32, count int, down int32, to string) []window {
	out := make([]window, count)
	for k := range out {
		out[k] = window{side: side, along: from + int32(k)*step, down: down, width: 100, high: 100, to: "gelcoat", good: to + " and antifouling, by the yard"}
	}
	return out
}
