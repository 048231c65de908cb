package practice

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/report"
)

// Everything that the service says by itself of 10,000 simulated histories: none of it makes
// a claim that a survey cannot carry (report.Lint, with its allow-list), and each kind of
// sentence always makes the same kind of claim.
func TestNothingSaidOfSimulatedHistoriesClaimsTooMuch(t *testing.T) {
	t.Parallel()
	const histories, ofOne = 10_000, 200
	said := map[string]int{} // by text, so that each is held to the rules once
	claims := map[string]map[report.Claim]bool{}
	for hull := range histories / ofOne {
		r := rand.New(rand.NewPCG(10, uint64(hull)))
		sheets := simulatedSheets(t, r)
		for n := range ofOne {
			h := simulatedHistory(r, sheets)
			if err := h.judge(nil); err != nil {
				t.Fatal(err)
			}
			for _, text := range everyText(h) {
				said[text]++
			}
			if n%20 == 0 { // a report says the same again, at more length
				said[report.Join(assembled(h).InShort)]++
				for _, text := range append(briefText(h), ledgerText(t, h)...) {
					said[text]++
				}
			}
			for _, s := range everyStatement(h) {
				if claims[s.Code] == nil {
					claims[s.Code] = map[report.Claim]bool{}
				}
				claims[s.Code][s.Said.Claim] = true
			}
		}
	}
	for text := range said {
		for _, w := range report.Lint(text) {
			t.Errorf("%q says %q: %s", text, w.Found, w.Why)
		}
	}
	// What may be one claim or another by its figures; all others are one.
	several := map[string]int{"not-compared": 2, "at-large": 3, "areas-changed": 2, "changed-at": 2, "not-reached": 2, "windows-seen": 2}
	for code, kinds := range claims {
		if len(kinds) > max(1, several[code]) {
			t.Errorf("%s claims %v", code, kinds)
		}
	}
	for _, code := range []string{"at-large", "areas-changed", "change-basis", "changed-at", "compared-of", "not-enough-measured", "untold", "not-compared", "explained-by", "two-visits", "next-visit", "too-few-visits", "smallest-flaw", "left-out"} {
		if claims[code] == nil {
			t.Errorf("no history led to %q: the histories are too much alike", code)
		}
	}
	t.Logf("%d texts, %d kinds of sentence", len(said), len(claims))
}

// simulatedSheets reads one hull on eight days of four years with two instruments.
func simulatedSheets(t *testing.T, r *rand.Rand) []simulate.Sheet {
	t.Helper()
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 6000, Girth: 900, Every: 1000, Row: 450, DryAt: 400})
	if err != nil {
		t.Fatal(err)
	}
	begins := time.Date(2018, 1, 1, 0, 0, 0, 0, time.UTC)
	h := simulate.Hull{
		Places: places, Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(8)}}, Begins: begins, Start: 0.7,
		Spells:  []simulate.Spell{{Until: begins.AddDate(6, 0, 0), Shelter: &simulate.Shelter{At: 15, Air: 60}}},
		Climate: simulate.Skerrow(), Texture: simulate.Texture{SD: 1, Reach: 400, Gradient: 1}, Seed: r.Uint64(),
		Causes: []simulate.Cause{simulate.ConductiveCoating(simulate.Area{Along: simulate.Span{From: -1e5, To: 1e5}, Down: simulate.Span{From: 0, To: 1e5}}, 12+8*r.Float64())},
	}
	if r.IntN(2) == 0 {
		tank := simulate.TankBehind(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 1500, To: 3500}, Down: simulate.Span{From: 100, To: 900}}, 9)
		tank.From = begins.AddDate(1+r.IntN(3), 0, 0)
		h.Causes = append(h.Causes, tank)
	}
	var passes []simulate.Pass
	for k := range 8 {
		m := simulate.DeepSensing("deep")
		if r.IntN(5) == 0 {
			m = simulate.ShallowSensing("shallow")
		}
		passes = append(passes, simulate.Pass{
			At: begins.AddDate(0, 6*(k+1), r.IntN(3)), Instrument: m, Placements: 1 + r.IntN(3), Hand: []simulate.Hand{simulate.Careful(), simulate.Careless()}[r.IntN(4)/3],
			Seed: r.Uint64(), Zero: 3 * r.NormFloat64(), Drift: 2 * r.NormFloat64(), NotReached: 0.1 * r.Float64(), Repeats: 0.1,
		})
	}
	sheets, err := simulate.Read(h, passes)
	if err != nil {
		t.Fatal(err)
	}
	return sheets
}

// simulatedHistory draws some of the sheets, with whatever context may have come down.
func simulatedHistory(r *rand.Rand, sheets []simulate.Sheet) *History {
	vessel, element, plan, client := uuid.New(), uuid.New(), uuid.New(), uuid.New()
	h := &History{Plans: []PlanLine{{ID: plan, PlanVersion: 1}}, Evidence: &Evidence{}}
	places, _ := simulate.Grid(simulate.Dimensions{Waterline: 6000, Girth: 900, Every: 1000, Row: 450, DryAt: 400})
	for k, p := range places {
		a := &h.Axis
		a.IDs, a.Elements = append(a.IDs, uuid.New()), append(a.Elements, element)
		a.Sides = append(a.Sides, map[simulate.Side]string{simulate.Port: "port", simulate.Starboard: "starboard", simulate.Centre: "centre"}[p.Side])
		a.Labels, a.Stations, a.Rows = append(a.Labels, fmt.Sprint(k+1)), append(a.Stations, int32(p.Along)/1000+1), append(a.Rows, int32(p.Down)/450)
		a.Along, a.Down, a.Errors = append(a.Along, int32(p.Along)), append(a.Down, int32(p.Down)), append(a.Errors, int32(300*(r.IntN(20)/19)))
	}
	var layers []Layer
	for _, l := range []Layer{
		{Kind: "coating", What: "epoxy, five coats"},
		{Kind: "coating", What: "antifouling"},
		{Kind: "construction", What: "ortho resin"},
		{Kind: "construction", What: "sandwich, balsa", Outline: json.RawMessage(`[[0,0],[3000,0],[3000,900],[0,900]]`)},
		{Kind: "behind", What: "water tank", Outline: json.RawMessage(`[[1500,0],[3500,0],[3500,900],[1500,900]]`)},
		{Kind: "behind", What: "heads inlet", Outline: json.RawMessage(`[[2500,450]]`)},
	} {
		if r.IntN(4) == 0 {
			l.ElementID = element
			if r.IntN(4) == 0 {
				at := time.Date(2020, 6, 1, 0, 0, 0, 0, time.UTC)
				l.ValidFrom = &at
			}
			layers = append(layers, l)
		}
	}
	h.Draw(layers)
	instrument, scale, hand := uuid.New(), uuid.New(), uuid.New()
	picked := r.Perm(len(sheets))[:2+r.IntN(3)]
	slices.Sort(picked)
	for _, k := range picked {
		p := simulatedPass(r, sheets[k], len(places))
		p.ID, p.VisitID, p.VesselID, p.ElementID, p.PlanID = uuid.New(), uuid.New(), vessel, element, plan
		p.JobID, p.Cite, p.ClientID = uuid.New(), []string{"this client only", "vessel history without names"}[r.IntN(4)/3], &client
		if r.IntN(4) == 0 {
			other := uuid.New()
			p.ClientID = &other
		}
		if p.Quoted = r.IntN(25) == 0; !p.Quoted {
			p.InstrumentID, p.ScaleID, p.HandID = &instrument, &scale, &hand
		}
		h.Passes = append(h.Passes, p)
		if r.IntN(3) == 0 {
			h.Gaps = append(h.Gaps, GapAt{p.ID, int32(r.IntN(len(places)) + 1), []string{"prop pad", "behind the cradle", ""}[r.IntN(3)]})
		}
		if r.IntN(4) == 0 {
			h.Windows = append(h.Windows, WindowAt{p.VisitID, 100, 100, int32(r.IntN(10) / 9)})
		}
	}
	simulatedEvidence(r, h)
	return h
}

// simulatedPass is a sheet as the service keeps it, with some of its context left out.
func simulatedPass(r *rand.Rand, s simulate.Sheet, places int) HistoryPass {
	maybe := func(x int16) *int16 {
		if r.IntN(8) == 0 {
			return nil
		}
		return &x
	}
	bootTop := int32(60)
	lift := s.Pass.At.Add(-time.Duration(1+r.IntN(40)) * 24 * time.Hour)
	p := HistoryPass{PassContext: PassContext{
		BootTopMm: &bootTop, TimeZone: "Europe/Dublin", LiftedAt: &lift, DatePrecision: []string{"instant", "day", "month"}[r.IntN(10)/4], HandName: "A hand",
		InstrumentName: "Skerrow " + s.Pass.Instrument.Name, InstrumentModel: "Skerrow " + s.Pass.Instrument.Name, Sensing: s.Pass.Instrument.Name, ScaleName: "0 to 100",
		HighTenths: 1000, StepTenths: 10, Face: []string{"outside", "inside"}[r.IntN(12)/11], Surface: []string{"antifouling", "bare gelcoat", ""}[r.IntN(20)/9],
		DrySurface: "bare gelcoat", HoursSinceWash: maybe(int16(r.IntN(400))), Rain: []string{"", "none", "light", "heavy"}[r.IntN(4)], Source: "metered",
		State: "closed", BeganAt: s.Pass.At, AirDecidegrees: maybe(int16(r.IntN(250))), HumidityPermille: maybe(700),
		SkinPortDecidegrees: maybe(int16(r.IntN(250) - 10)), HoursSinceHeatOff: maybe(int16(r.IntN(30))),
	}}
	heated := r.IntN(12) == 0
	p.Heated = &heated
	p.Taken, p.Flags, p.Placed = nulls(places), make(Column, places), make(Column, places)
	for _, x := range s.Read {
		v, ok := x.Median()
		if x.Occasion > 1 {
			continue
		}
		if !ok {
			p.Flags[x.Place] |= FlagNotReached
			continue
		}
		p.Taken[x.Place], p.Placed[x.Place] = int32(v.At), int32(len(x.Placements))
		switch v.Limit {
		case measure.Below:
			p.Flags[x.Place] |= FlagBelow
		case measure.Above:
			p.Flags[x.Place] |= FlagAbove
		case measure.Range:
			p.Flags[x.Place] |= FlagRange
		}
		for bit, odds := range map[int32]int{FlagVoid: 80, FlagTargeted: 40, FlagOtherSurface: 60} {
			if r.IntN(odds) == 0 {
				p.Flags[x.Place] |= bit
			}
		}
	}
	dry, _ := simulate.Grid(simulate.Dimensions{Waterline: 6000, Girth: 900, Every: 1000, Row: 450, DryAt: 400})
	for k, x := range dry {
		if x.Dry {
			p.Flags[k] |= FlagDry
		}
	}
	for _, b := range s.Blocks {
		for block, x := range map[string]simulate.Placement{"low": b.Low, "high": b.High} {
			p.BlockChecks = append(p.BlockChecks, BlockCheck{Block: block, Moment: []string{"before", "midway", "after"}[b.When], ValueTenths: x.Tenths, At: s.Pass.At})
		}
	}
	return p
}

// simulatedEvidence is what the practice may have measured: nothing, something, or enough,
// of scatters from fine to coarse.
func simulatedEvidence(r *rand.Rand, h *History) {
	sd := 0.2 + 1.5*r.Float64()
	for _, p := range h.Passes {
		g := p.group()
		if g == "" || r.IntN(4) == 0 || slices.ContainsFunc(h.Evidence.Replaced, func(x Replaced) bool { return x.Group == g }) {
			continue
		}
		for spot := range 20 {
			var three []int16
			for range 3 {
				three = append(three, int16(10*(20+float64(spot)+sd*r.NormFloat64())))
			}
			h.Evidence.Replaced = append(h.Evidence.Replaced, Replaced{Group: g, Placements: three})
		}
		for range r.IntN(7) {
			pair := LikePasses{Group: g, Earlier: uuid.New(), Later: uuid.New()}
			for k := range 24 {
				flags := int32(FlagDry)
				if k >= 6 {
					flags = 0
				}
				at := int32(20 * (20 + k))
				pair.EarlierGrid.Taken, pair.EarlierGrid.Flags = append(pair.EarlierGrid.Taken, at), append(pair.EarlierGrid.Flags, flags)
				pair.LaterGrid.Taken, pair.LaterGrid.Flags = append(pair.LaterGrid.Taken, at+int32(20*sd*r.NormFloat64())), append(pair.LaterGrid.Flags, flags)
			}
			h.Evidence.Pairs = append(h.Evidence.Pairs, pair)
		}
	}
}

// everyStatement is every sentence with its code.
func everyStatement(h *History) (out []Statement) {
	for _, p := range h.Passes {
		out = append(out, p.NotSeen.Statements...)
		if p.Gate != nil {
			out = append(out, p.Gate.Statements...)
		}
	}
	if h.Ahead != nil {
		out = append(out, h.Ahead.Statements...)
	}
	if h.Course != nil {
		out = append(out, h.Course.Statements...)
	}
	return out
}

// everyText is everything that is said in words, sentences or not.
func everyText(h *History) (out []string) {
	for _, s := range everyStatement(h) {
		out = append(out, s.Said.Text())
	}
	for _, c := range h.Components {
		for _, u := range c.Missing {
			out = append(out, u.Text, u.Todo)
		}
	}
	for _, p := range h.Passes {
		for _, w := range slices.Concat(p.Missing, p.Lost, p.Reasons) {
			out = append(out, w.Text)
		}
		for _, b := range p.Baseline.Reasons {
			out = append(out, b.Sentence())
		}
		if p.Gate == nil {
			continue
		}
		for _, u := range slices.Concat(p.Gate.Untold, p.Gate.Hull.Untold) {
			out = append(out, u.Text, u.Todo)
		}
		for _, x := range p.Gate.Explained {
			out = append(out, x.Text)
		}
	}
	return out
}

// assembled is the report that the newest pass's job would make of it.
func assembled(h *History) report.Report {
	last := h.Passes[len(h.Passes)-1]
	built, _ := assemble(Report{JobID: last.JobID}, Sources{History: *h, Facts: ReportFacts{TimeZone: "Europe/Dublin", ClientID: last.ClientID, Kind: "limited moisture"}}, report.Issue{Draft: true}, last.BeganAt)
	return built
}

// briefText is what the brief of a next visit to her says by itself.
func briefText(h *History) (out []string) {
	last := h.Passes[len(h.Passes)-1]
	b := Brief{Job: JobLine{ID: last.JobID, Kind: "limited moisture"}, Visits: []VisitLine{{State: "planned", From: last.BeganAt.AddDate(0, 5, 0), To: last.BeganAt.AddDate(0, 5, 1)}}}
	b.History = *h
	b.History.Passes = slices.Clone(h.Passes)
	if last.ClientID != nil {
		b.Job.Client = &PartyLine{ID: *last.ClientID}
	}
	_ = b.judge(last.BeganAt) // no pass is named, so that none is missing
	for _, p := range slices.Concat(b.Weak, b.Again) {
		out = append(out, p.What, p.Why)
	}
	return slices.Concat(out, b.Like, b.Next, b.Safety, b.Left)
}

// ledgerText is what her ledgers of causes say, with each line of evidence.
func ledgerText(t *testing.T, h *History) (out []string) {
	t.Helper()
	src := CauseSources{History: *h}
	src.History.Passes = slices.Clone(h.Passes)
	for _, l := range h.Layers {
		src.Layers = append(src.Layers, l.Layer)
	}
	c, err := causes(src, CauseAsk{})
	if err != nil {
		t.Fatal(err)
	}
	out = append(out, report.Join(c.Notes), c.Depths.Says.Text())
	for _, m := range c.Matters {
		out = append(out, m.Title, report.Join(m.Says))
		for _, e := range m.Ledger.Entries {
			for _, x := range slices.Concat(e.For, e.Against, e.Unsaid) {
				out = append(out, x.Text, x.Detail)
			}
		}
	}
	return out
}
