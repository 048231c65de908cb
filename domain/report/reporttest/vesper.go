package reporttest

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/report"
)

// Photo draws a picture of a hull's side with a patch on it: the same bytes for the same
// number.
func Photo(n, width, height int) []byte {
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			u, v := float64(x)/float64(width), float64(y)/float64(height)
			shade := 150 + 60*math.Sin(3*v+0.4*float64(n)) + 8*math.Sin(40*u)
			c := color.RGBA{uint8(shade * 0.7), uint8(shade * 0.85), uint8(min(255, shade)), 255}
			if dx, dy := u-0.55, v-0.5; dx*dx+dy*dy < 0.02+0.005*float64(n%5) {
				c = color.RGBA{uint8(90 + 20*(n%4)), 80, 60, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 80}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// Photos gives n photos of a report with their bytes by id.
func Photos(n, width, height int) ([]report.Photo, func(id string) ([]byte, error)) {
	kept := map[string][]byte{}
	list := make([]report.Photo, 0, n)
	for i := range n {
		w, h := width, height
		if i%3 == 2 {
			w, h = h, w
		}
		b := Photo(i, w, h)
		sum := sha256.Sum256(b)
		p := report.Photo{
			ID: fmt.Sprintf("pho_%02d", i+1), Number: i + 1, Caption: fmt.Sprintf("Patch of the coating, %s side, station %d", []string{"port", "starboard"}[i%2], i%14+1),
			Alt: "A brown round patch on a blue-grey hull.", Taken: "14 October 2026", By: "E. Tolland", Width: w, Height: h, SHA256: hex.EncodeToString(sum[:]),
			Element: "hull", At: &report.Spot{Side: []report.Side{report.Port, report.Starboard}[i%2], Along: 700 + 500*(i%13), Down: 300 + 150*(i%4)},
		}
		if i%4 == 0 {
			p.Notes = []report.Annotation{{Kind: "ring", X: 550, Y: 500, ToX: 720, ToY: 500}, {Kind: "arrow", X: 200, Y: 200, ToX: 430, ToY: 420}, {Kind: "text", X: 120, Y: 170, Text: "brown stain"}}
		}
		kept[p.ID] = b
		list = append(list, p)
	}
	return list, func(id string) ([]byte, error) {
		if b, ok := kept[id]; ok {
			return b, nil
		}
		return nil, fmt.Errorf("no photo %s", id)
	}
}

// Vesper is a pre-purchase survey of a long-keel ketch: findings, photos, a schedule, a
// value, and an instrument that met the end of its scale.
func Vesper(photos []report.Photo) report.Input {
	p := vesperPass()
	see := func(n int) []string {
		if n <= len(photos) {
			return []string{photos[n-1].ID}
		}
		return nil
	}
	return report.Input{
		Issue: report.Issue{Number: "2026-122", At: day(2026, 11, 2)}, GeneratedAt: day(2026, 11, 2), Zone: Zone(), Units: report.Units{Feet: true},
		Practice: report.Practice{Name: "Ebbstone Practice", Place: "Port Skerrow", Contact: []string{"The Old Sail Loft, Quay Street, Port Skerrow.", "office@ebbstone.example."}},
		Client:   report.Client{Name: "M. Østergård-Páll", As: "buyer"},
		Vessel:   report.Vessel{Name: "Old Vesper", Former: []string{"Κύμα", "Vesper of Skerrow"}, HullNumber: "XX-VSP00017C979", Registered: "PS 448"},
		Kind:     "Condition survey before purchase",
		Scope:    []string{"Hull, deck, keel and rudder ashore; engine looked at, not run; no opinion on sails."},
		Boat:     report.BoatInput{Type: "long-keel ketch", LengthMM: 9950, Moulded: "1979", HullRead: "plate in the cockpit, one letter worn", Underbody: []string{"solid laminate, resin unknown"}, Water: "brackish water"},
		Hulls:    []report.Hull{ketch()}, Today: []report.PassInput{p},
		Windows: &report.WindowsInput{Count: 20, OtherShapes: true, To: "scraped", M2: 0.23, Blisters: 6},
		Limits: report.LimitsInput{
			Unreached: []report.Reason{{N: 1, Why: "behind the cradle"}}, NotOpened: []string{"the tray liner was not lifted"}, NotPermitted: []string{"drilling", "opening of blisters"},
			FlawMM: 560, Missing: []string{"hours since the wash"},
		},
		Recommendations: []report.Recommendation{
			{ID: "rec_1", Grade: report.StopAndMakeSafe, What: "Port aft prop stands on soft ground: yard told at once, in person", Because: "She could fall.", Sure: report.Seen, Who: "yard", By: "at once", ClosedBy: "prop on a spreader, seen", State: "seen done"},
			{ID: "rec_2", Grade: report.BeforeAfloat, What: "Unship the rudder, open its after edge, let it drain", Because: "Water ran from a weep at its foot; its core may be lost.", Sure: report.Seen, Who: "owner", By: "before launch", ClosedBy: "rudder seen open", See: append([]string{"fnd_1"}, see(1)...)},
			{ID: "rec_3", Grade: report.PlannedWork, What: "Coating of the underbody at the end of its life", Sure: report.Seen, Who: "owner", By: "spring 2027", First: "2019-031", State: "agreed"},
			{ID: "rec_4", Grade: report.Watch, What: "Readings over the keel’s after end", Sure: report.Indicated, ReadingsAlone: true, Who: "us", By: "Oct 2027", See: []string{"plate-1"}},
		},
		Findings: []report.Finding{
			{ID: "fnd_1", Number: 1, Kind: "weep", Title: "Rudder weeps at its foot", Where: "rudder, both sides", Sure: report.Seen, At: []report.Spot{{Side: report.Starboard, Along: 300, Down: 800}}, Text: []report.Sentence{report.Own("Brown water ran for some minutes after the lift, smelling of vinegar; pH paper showed 4. The note above the weep is dull over a hand’s breadth.")}, Measured: []report.Fact{{Name: "pH", Is: "4"}, {Name: "dull note", Is: "180 × 90 mm"}}, Photos: see(1)},
			{ID: "fnd_2", Number: 2, Kind: "blisters", Title: "Blisters in the coating, port forward", Where: "port 10 to 12", Sure: report.Seen, At: []report.Spot{{Side: report.Port, Along: 5500, Down: 600}}, Drawn: &report.Drawn{Side: report.Port, Outline: [][2]int{{5000, 400}, {6000, 350}, {6050, 800}, {5300, 850}}}, Text: []report.Sentence{report.Own("Six in the windows there, none deeper than the coating."), report.WindowsSeen(0.23, 6, 0, "", false)}, Measured: []report.Fact{{Name: "diameters", Is: "3 to 8 mm"}, {Name: "class", Is: "3(S3), ISO 4628-2 pictures"}}, Photos: see(2)},
		},
		Photos: photos,
		Schedule: []report.Area{
			{Name: "Deck", Items: []report.Item{{Name: "hull-to-deck joint", Examined: "in part", Why: "hidden by the headlining", Condition: "fair", Note: "clear note where tapped"}, {Name: "chainplates", Examined: "examined", Condition: "good"}}},
			{Name: "Below", Items: []report.Item{{Name: "seacocks", Examined: "examined", Condition: "stiff", Finding: "fnd_1"}, {Name: "tanks", Examined: "not examined", Why: "full"}}},
		},
		Valuation: &report.Valuation{Figure: "18 500 SKR", Basis: "sale between willing parties, as she lies", On: "2 November 2026", Comparables: []report.Fact{{Name: "sister, 1981", Is: "asked 21 000 SKR, May 2026"}}},
		Sections:  []report.Section{{Title: "The engine, looked at", Text: []string{"Turned over by hand. Hoses hard; no leak seen at the pump."}}},
		Signature: &report.Signature{Name: "E. Tolland", As: "surveyor", On: "2 November 2026"}, Review: "Self-check after two days, by the same hand.", AuditHead: "c0de 19f4", Invented: invented,
	}
}

func vesperPass() report.PassInput {
	p := report.PassInput{
		ID: "pas_vesper", At: day(2026, 10, 28), Element: "hull", Instrument: "Skerrow shallow No. 1", ScaleHigh: 40, Face: "outside", Ashore: &report.AshoreInput{Least: 2, Most: 2, Hours: ptr(50)}, Surveyor: "E. Tolland",
		NoBaseline: "4 dry places, at least 6 are needed", Surface: "bare gelcoat where scraped",
	}
	for k := 2; k <= 13; k++ {
		for _, side := range []report.Side{report.Port, report.Starboard} {
			for row, down := range []int{200, 500, 800} {
				r := report.ReadingInput{Place: fmt.Sprintf("%c%d/%d", side[0]-32, k, row+1), At: report.Spot{Side: side, Along: 500 * k, Down: down}, Station: k, Row: row + 1}
				v := measure.FromTenths(int32(150 + 17*((k*7+row*3)%9)))
				r.Value, r.Placements = measure.Value{At: v}, []measure.Value{{At: v}}
				switch {
				case k == 5 && row == 2 && side == report.Port:
					r.Gap, r.Why, r.Value, r.Placements = report.Unread, "behind the cradle", measure.Value{}, nil
				case k == 12 && row == 1:
					r.Value = measure.Value{At: measure.FromTenths(400), Limit: measure.Above}
					r.Placements = []measure.Value{r.Value}
				}
				p.Readings = append(p.Readings, r)
			}
		}
	}
	return p
}

func ketch() report.Hull {
	return report.Hull{
		Element: "hull", Rows: []int{-250, 200, 500, 800, 1100},
		Shape: json.RawMessage(`{"lwl":7.6,"aft":1.0,"fore":1.35,"beam":3.1,"body":0.72,"freeboard":[0.85,0.78,1.25],"counter":0.45,
			"plan":{"peak":0.46,"aft":0,"fore":0,"pa":2,"pf":1.7},"profile":{"peak":0.48,"aft":0.1,"fore":0,"pa":1.8,"pf":1.8},"section":1.9,
			"keel":{"heel":0.75,"forefoot":6.9,"ramp":3.6,"depth":0.82},"hung":[{"name":"rudder","at":[0.02,0.74,0.12,0.74],"span":1.25,"blade":true}]}`),
		Bared: []report.Spot{{Side: report.Port, Along: 5400, Down: 650}, {Side: report.Port, Along: 5800, Down: 500}, {Side: report.Starboard, Along: 3000, Down: 700}},
	}
}
