// Package reporttest holds the invented boats that reports are tested with.
package reporttest

import (
	"encoding/json"
	"os"
	"path/filepath"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/report"
)

// invented is printed at the foot of every page of these reports.
const invented = "Invented demonstration."

// Root is the folder that holds go.mod, above the working directory.
func Root() string {
	dir, err := os.Getwd()
	if err != nil {
		panic(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			panic("reporttest: no go.mod above the working directory")
		}
		dir = up
	}
}

// tamsel is what testdata/report/tamsel.json holds: one pass beside an earlier one,
// simulated from a seed. Values are tenths; then and by are contrasts in scale units.
type tamsel struct {
	Base, Scatter, Above, Least float64
	Dry, Compared               int
	Readings                    []struct {
		Place, Side, Gap, Why, Said string
		Along, Down, Station, Row   int
		Dry, Follow                 bool
		Placements                  []int32
		Then, By                    *float64
	}
}

func readTamsel() tamsel {
	b, err := os.ReadFile(filepath.Join(Root(), "testdata", "report", "tamsel.json"))
	if err != nil {
		panic(err)
	}
	var t tamsel
	if err := json.Unmarshal(b, &t); err != nil {
		panic(err)
	}
	return t
}

// day is noon in the invented harbour, whose clock is kept an hour east of UTC.
func day(y int, m time.Month, d int) time.Time {
	return time.Date(y, m, d, 12, 0, 0, 0, Zone())
}

// Zone is the zone of the invented harbour.
func Zone() *time.Location { return time.FixedZone("Port Skerrow", 3600) }

func ptr[T any](v T) *T { return &v }

func days(n int) *report.AshoreInput { return &report.AshoreInput{Least: n, Most: n} }

// Tamsel is a limited survey of a fin-keel sloop, read 21 days ashore, with one visit
// to compare.
func Tamsel() report.Input {
	t := readTamsel()
	return report.Input{
		Issue: report.Issue{Number: "2026-117", At: day(2026, 10, 20)}, GeneratedAt: day(2026, 10, 20), Zone: Zone(),
		Practice: report.Practice{Name: "Ebbstone Practice", Place: "Port Skerrow"},
		Client:   report.Client{Name: "A. Ferrant", As: "owner"},
		Vessel:   report.Vessel{Name: "Tamsel", HullNumber: "41"},
		Kind:     "Limited survey, moisture of the underbody",
		Scope:    []string{"Readings over the underbody on the plan of 2021, beside the earlier visits; bared windows; no opinion on rig, engine or systems."},
		Boat: report.BoatInput{
			Type: "fin-keel sloop", LengthMM: 10550, Moulded: "1989", HullRead: "cut in the transom, as read",
			Underbody: []string{"single skin, ortho resin by the yard’s paper", "epoxy 2004, copper-free antifouling 2024"},
			Water:     "salt water", MonthsIn: ptr(29), Relaunch: ptr(day(2026, 10, 30)),
		},
		Hulls:    []report.Hull{sloop()},
		Today:    []report.PassInput{tamselPass(t)},
		Windows:  &report.WindowsInput{Count: 14, Width: 100, Height: 100, To: "scraped to gelcoat for the eye", M2: 0.14, BoundPerM2: 21.4},
		Look:     "wet, in raking light",
		Compared: []report.ComparisonInput{tamselChange(t)},
		Earlier: []report.VisitInput{
			{At: day(2026, 9, 23), Ashore: &report.AshoreInput{Hours: ptr(1)}, Instrument: "no meter", Surveyor: "I. Varrow", Standing: report.WetLook, Why: "in the slings: the whole underbody in raking light, 14 windows bared; no blister seen"},
			{At: day(2023, 10, 17), Ashore: days(22), Instrument: "Skerrow deep No. 2", Surveyor: "S. Maddern", Standing: report.Same, Why: "same instrument, scale, surface and face"},
			{At: day(2022, 4, 4), Ashore: days(195), Instrument: "Skerrow deep No. 2", Surveyor: "R. Quillan", Standing: report.Same, Why: "same, but 195 days ashore"},
			{At: day(2019, 10, 15), Ashore: days(20), Instrument: "Skerrow deep No. 1", Surveyor: "R. Quillan", Standing: report.Alike, Why: "same model and scale, another serial number"},
			{At: day(2017, 10, 11), Ashore: days(9), Instrument: "Skerrow shallow No. 1", Surveyor: "E. Tolland", Standing: report.Unlike, Why: "another instrument depth"},
			{AsWritten: "spring of 2016", Ashore: &report.AshoreInput{Least: 12, Most: 43}, Instrument: "Skerrow shallow No. 1", Surveyor: "E. Tolland", Standing: report.Unlike, Why: "another instrument depth"},
			{AsWritten: "20 October 2015", Instrument: "not stated", Surveyor: "another practice", Standing: report.Quoted, Why: "from a paper report: instrument, scale and days ashore not stated"},
		},
		Limits: report.LimitsInput{
			Unreached: []report.Reason{{N: 4, Why: "under prop pads"}},
			Void:      []report.Reason{{N: 2, Why: "at the garboard, where the pads did not lie flat"}},
			NotOpened: []string{"nothing behind linings", "no fitting was withdrawn", "no permission to drill was asked"},
			More:      []string{"Inside, on 16 October, a lining hid the skin round the heads inlet: not tapped there."},
			FlawMM:    490,
			Drying:    &report.DryingInput{Days: 21, Air: 11, LowMM: 0.5, HighMM: 1.7, Left: 0.64},
			Ortho:     true,
		},
		Recommendations: tamselRecommendations(),
		Signature:       &report.Signature{Name: "I. Varrow", As: "surveyor"},
		Review:          "Second look: S. Maddern, 19 October 2026",
		AuditHead:       "5b1e 77a0",
		Invented:        invented,
	}
}

// TamselDraft is the same report five days earlier, before the look inside.
func TamselDraft() report.Input {
	in := Tamsel()
	in.Issue = report.Issue{Draft: true}
	in.GeneratedAt = day(2026, 10, 15)
	in.Limits.More = []string{"Inside: not looked at yet; the visit is on 16 October."}
	in.Signature, in.AuditHead = nil, ""
	in.Review = "Second look: S. Maddern, not before the look inside on 16 October."
	return in
}

func tamselRecommendations() []report.Recommendation {
	return []report.Recommendation{
		{Grade: report.WhileAshore, What: "Make good the 14 windows: epoxy, antifouling", Sure: report.Seen, Who: "yard", By: "28 Oct 2026", ClosedBy: "photo of each"},
		{Grade: report.LookFurther, What: "Tap round the heads inlet inside and out before relaunch; with the owner’s leave withdraw it", Sure: report.Indicated, Who: "us / yard", By: "27 Oct 2026", ClosedBy: "what is seen; graded anew", ReadingsAlone: true, See: []string{"plate-2"}},
		{Grade: report.LookFurther, What: "Empty the water tank, wait a day, read port 12 to 14 again", Sure: report.Indicated, Who: "owner / us", By: "27 Oct 2026", ClosedBy: "below 15 above baseline", ReadingsAlone: true, See: []string{"plate-2"}},
		{Grade: report.Watch, What: "Raised readings: the whole plan again, same month, days ashore, instrument", Sure: report.Indicated, Who: "us", By: "Oct 2027", ClosedBy: "that visit; moves up if blisters show", ReadingsAlone: true, See: []string{"plate-1"}},
		{Grade: report.ForTheRecord, What: "Old fair repair, starboard 3/2, clear note under the hammer", Sure: report.Seen},
	}
}

func tamselPass(t tamsel) report.PassInput {
	p := report.PassInput{
		ID: "pas_today", At: day(2026, 10, 14), Element: "hull", Instrument: "Skerrow deep No. 2", ScaleHigh: 100, Face: "outside",
		Ashore: days(21), Surveyor: "I. Varrow", BlockBefore: []float64{31.2}, BlockAfter: []float64{31.6},
		Surface: "over its antifouling", DrySurface: "bare gelcoat", WashHours: ptr(20 * 24.0),
		Air: ptr(11.0), Humidity: ptr(74.0), SkinPort: ptr(10.1), SkinStarboard: ptr(11.4),
		Baseline: &report.BaselineInput{Places: t.Dry, Median: t.Base, Scatter: t.Scatter}, Above: &t.Above, Edges: [4]float64{4, 9, 15, 22},
	}
	for _, x := range t.Readings {
		in := report.ReadingInput{
			Place: x.Place, At: report.Spot{Side: report.Side(x.Side), Along: x.Along, Down: x.Down}, Station: x.Station, Row: x.Row,
			Dry: x.Dry, Gap: report.Gap(x.Gap), Why: x.Why, Follow: x.Follow,
		}
		if in.Gap == "" {
			for _, v := range x.Placements {
				in.Placements = append(in.Placements, measure.Value{At: measure.FromTenths(v)})
			}
			in.Value = measure.Value{At: middle(x.Placements)}
			in.Contrast = ptr(in.Value.At.Units() - t.Base)
		}
		p.Readings = append(p.Readings, in)
	}
	return p
}

// middle of three placements.
func middle(x []int32) measure.Twentieth {
	a, b, c := x[0], x[1], x[2]
	return measure.FromTenths(max(min(a, b), min(max(a, b), c)))
}

func tamselChange(t tamsel) report.ComparisonInput {
	c := report.ComparisonInput{
		ID: "change-1", Pass: "pas_today", Since: day(2023, 10, 17), Standing: report.Same,
		How: "same instrument, scale, surface and face; 21 and 22 days ashore", Least: &t.Least, Compared: t.Compared, AtLarge: report.NoChange,
		Zones: []report.Zone{
			{About: "port 13", Places: 7, By: 13.8, Matches: "the water tank"},
			{About: "starboard 9", Places: 4, By: 9.0, Around: "the heads inlet", Needs: "needs a further look before the relaunch"},
		},
	}
	for _, x := range t.Readings {
		if x.Said == "" {
			continue
		}
		p := report.PlaceChangeInput{Place: x.Place, Said: report.Verdict(x.Said), Then: x.Then, By: x.By}
		if x.Then != nil && x.By != nil {
			p.Now = ptr(*x.Then + *x.By)
		}
		if x.Gap != "" {
			p.Why = x.Why
		}
		c.Places = append(c.Places, p)
	}
	return c
}

func sloop() report.Hull {
	box := func(a, b, c, d int) [][2]int { return [][2]int{{a, c}, {b, c}, {b, d}, {a, d}} }
	return report.Hull{
		Element: "hull",
		Shape: json.RawMessage(`{"lwl":8.6,"aft":0.95,"fore":1.0,"beam":3.3,"body":0.52,"freeboard":[0.92,0.95,1.25],"counter":0.42,
			"plan":{"peak":0.44,"aft":0.12,"fore":0,"pa":2.3,"pf":1.75},"profile":{"peak":0.5,"aft":0,"fore":0,"pa":1.9,"pf":2},"section":2.15,"cut":0.36,
			"hung":[{"name":"iron fin, not metered","at":[3.35,5.35,3.6,5.0],"span":1.15},{"name":"rudder","right":true,"at":[0.2,0.78,0.3,0.72],"span":1.25,"blade":true}]}`),
		Rows: []int{-250, 150, 450, 750, 1050, 1350, 1650},
		Layers: []report.Layer{
			{Name: "water tank, 110 L", Side: report.Port, Kind: "tank", Outline: box(5620, 7120, 300, 1200)},
			{Name: "fuel", Side: report.Starboard, Kind: "tank", Outline: box(1700, 2550, 300, 900)},
			{Name: "bulkhead", Side: report.Centre, Kind: "bulkhead", Outline: [][2]int{{7350, -450}, {7350, 780}}},
		},
		Fittings: []report.Fitting{
			{Name: "heads inlet", At: report.Spot{Side: report.Starboard, Along: 4720, Down: 600}},
			{Name: "log", At: report.Spot{Side: report.Starboard, Along: 5750, Down: 1200}},
			{Name: "galley drain", At: report.Spot{Side: report.Port, Along: 3250, Down: 600}},
			{Name: "engine inlet", At: report.Spot{Side: report.Starboard, Along: 2750, Down: 1200}},
		},
	}
}
