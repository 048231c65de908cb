package practice_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// measurer is a practice with a hull of 44 places, half of them dry, and one instrument
// whose scatter is known to the test: placements ±0.4, like visits as they come.
type measurer struct {
	*bundle
	s      survey
	chance *rand.Rand
	wet    []float64 // what each place shows, scale units
}

func measuring(t *testing.T) *measurer {
	t.Helper()
	b := setup(t)
	m := &measurer{bundle: b, s: b.survey(b.ours, "Petrel"), chance: rand.New(rand.NewPCG(12, 29))}
	m.lay()
	return m
}

// lay adds places to the sixteen of the survey and a plan of them all: rows −400 (dry),
// and three below the water.
func (m *measurer) lay() {
	m.t.Helper()
	office := m.ours.of[domain.Office]
	in := practice.AddPlaces{Mutation: newID(), Element: m.s.element, BesideOld: true}
	for station := int32(5); station <= 11; station++ {
		for row := int32(1); row <= 2; row++ {
			for _, side := range []string{"port", "starboard"} {
				in.IDs, in.Sides = append(in.IDs, newID()), append(in.Sides, side)
				in.Labels = append(in.Labels, fmt.Sprintf("r%ds%d", row, station))
				in.Stations, in.Rows = append(in.Stations, station), append(in.Rows, row)
				in.Along, in.Down = append(in.Along, station*500), append(in.Down, row*800-1200)
			}
		}
	}
	must[practice.Done](m.t)(m.AddPlaces(m.t.Context(), office, in))
	m.s.places = append(m.s.places, in.IDs...)
	m.s.plan = newID()
	plan := practice.AddPlan{Mutation: newID(), ID: m.s.plan, Vessel: m.s.vessel, DryChangeReason: "more stations"}
	for k := range m.s.places {
		plan.Places = append(plan.Places, int32(k+1))
		over := 10 + 6*m.chance.Float64()
		if k%4 < 2 {
			plan.Dry, over = append(plan.Dry, int32(k+1)), 0
		}
		m.wet = append(m.wet, 12+over)
	}
	must[practice.Done](m.t)(m.AddPlan(m.t.Context(), office, plan))
}

// pass reads the whole plan on a day of April: three placements a place, a shift of the
// visit, what changed at some places, and opening details as the test wants them.
func (m *measurer) pass(day int, shift float64, changed map[int]float64, change ...func(*practice.OpenPass)) uuid.UUID {
	m.t.Helper()
	hand := m.ours.of[domain.Surveyor]
	in := m.opening(m.ours, m.s)
	in.BeganAt = time.Date(2026, 4, day, 9, 5, 0, 0, time.UTC)
	for _, c := range change {
		c(&in)
	}
	must[practice.Done](m.t)(m.OpenPass(m.t.Context(), hand, in))
	add := practice.AddReadings{Mutation: newID(), Pass: in.ID}
	for k, wet := range m.wet {
		at := wet + shift + changed[k] + 0.5*m.chance.NormFloat64()
		three := make([]int16, 3)
		for i := range three {
			three[i] = int16(10 * (at + 0.4*m.chance.NormFloat64()))
		}
		add.IDs, add.Ordinals = append(add.IDs, newID()), append(add.Ordinals, int32(k+1))
		add.Placements, add.TakenAt = append(add.Placements, three), append(add.TakenAt, in.BeganAt.Add(time.Duration(k)*time.Minute))
	}
	must[practice.Done](m.t)(m.AddReadings(m.t.Context(), hand, add))
	must[practice.Done](m.t)(m.ClosePass(m.t.Context(), hand, practice.ClosePass{Mutation: newID(), ID: in.ID, Version: 1, At: in.BeganAt.Add(3 * time.Hour)}))
	return in.ID
}

func (m *measurer) history() practice.History {
	m.t.Helper()
	return must[practice.History](m.t)(m.History(m.t.Context(), m.ours.of[domain.Surveyor], m.s.vessel, nil))
}

func codesOf[T any](list []T, code func(T) string) (out []string) {
	for _, x := range list {
		out = append(out, code(x))
	}
	return out
}

func untolds(list []practice.Untold) []string {
	return codesOf(list, func(u practice.Untold) string { return u.Code })
}

func warnings(list []practice.Warning) []string {
	return codesOf(list, func(w practice.Warning) string { return w.Code })
}

// Until a practice has measured itself nothing is called changed or unchanged; then a
// change is shown where there was one and nowhere else, with what it rests on.
func TestTheGateAnswersOnlyFromWhatThePracticeMeasured(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	m.pass(8, 0, nil)
	m.pass(20, 3, nil)
	h := m.history()
	c := h.Components[0]
	if c.Replacements < 30 || c.LikePairs != 0 || !slices.Equal(untolds(c.Missing), []string{"no-like-pairs"}) {
		t.Errorf("two passes twelve days apart: %d re-placements, %d like pairs, missing %v", c.Replacements, c.LikePairs, untolds(c.Missing))
	}
	g := h.Passes[0].Gate
	if g.Hull.Answer != change.CannotTell || slices.ContainsFunc(g.Verdicts, func(v int32) bool { return v > 0 }) || g.LeastChange != nil {
		t.Errorf("unmeasured, the gate answers %+v", g.Hull)
	}
	for _, s := range g.Statements {
		if s.Code == "at-large" || s.Code == "areas-changed" {
			t.Errorf("unmeasured, it says %q", s.Said.Text())
		}
	}
	m.pass(22, 1, nil) // within the week of the second: a like pair
	jump := map[int]float64{2: 9, 3: -9}
	m.pass(30, -2, jump)
	h = m.history()
	c = h.Components[0]
	if c.LikePairs != 1 || len(c.Missing) > 0 {
		t.Fatalf("%d like pairs, missing %v", c.LikePairs, untolds(c.Missing))
	}
	g = h.Passes[0].Gate
	if g.Earlier != h.Passes[0].ID || g.Later != h.Passes[3].ID || g.Comparable != 22 || g.OfPlaces != 22 || g.DryPlaces != 22 {
		t.Errorf("%d of %d places, %d dry", g.Comparable, g.OfPlaces, g.DryPlaces)
	}
	for k := range m.wet {
		want := int32(change.NoChangeShown)
		if jump[k] != 0 {
			want = int32(change.Changed)
		}
		if k%4 < 2 {
			want = practice.Null
		}
		if g.Verdicts[k] != want {
			t.Errorf("place %d: verdict %d, want %d; difference %d twentieths, least %d", k+1, g.Verdicts[k], want, g.Differences[k], g.Leasts[k])
		}
	}
	if g.Hull.Answer != change.NoChangeShown || g.VisitShift == nil || g.VisitShift.Value > -1 || len(g.Changed) != 2 {
		t.Errorf("hull %+v, visit %+v, areas %+v", g.Hull, g.VisitShift, g.Changed)
	}
	if names := codesOf(g.Zones, func(z practice.GateZone) string { return z.Name }); !slices.Equal(names, []string{"port aft", "port amidships", "port forward", "starboard aft", "starboard amidships", "starboard forward"}) {
		t.Errorf("zones %v", names)
	}
	if h.Passes[3].Gate != nil || h.Ahead == nil || h.Ahead.Place.True <= h.Ahead.Hull.True {
		t.Errorf("the pass held has a gate, or nothing is said of the next: %+v", h.Ahead)
	}
	if h.Course != nil {
		t.Errorf("passes of one visit make a course: %+v", h.Course)
	}
}

// What costs a pass its standing, one thing at a time, and that its readings stay.
func TestAPassLosesItsStandingAndKeepsItsReadings(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	m.pass(20, 0, nil)
	hand := m.ours.of[domain.Surveyor]
	lose := func(code string, day int, changed ...func(*practice.OpenPass)) {
		t.Helper()
		id := m.pass(day, 0, nil, changed...)
		h := m.history()
		k := slices.IndexFunc(h.Passes, func(p practice.HistoryPass) bool { return p.ID == id })
		p := h.Passes[k]
		if !slices.Contains(warnings(p.Lost), code) {
			t.Errorf("%s: lost by %v", code, warnings(p.Lost))
		}
		if p.Standing != practice.Unlike && p.Standing != practice.Reference || p.Contrasts.At(2) == practice.Null {
			t.Errorf("%s: stands %s (%s), contrast %d", code, p.Standing, p.Because, p.Contrasts.At(2))
		}
	}
	lose("heat", 9, func(p *practice.OpenPass) { p.Heated, p.HoursSinceHeatOff = ptr(true), ptr[int16](3) })
	lose("wash", 10, func(p *practice.OpenPass) { p.HoursSinceWash = ptr[int16](5) })
	must[practice.Done](t)(m.AddLayer(t.Context(), m.ours.of[domain.Office], practice.AddLayer{Mutation: newID(), Layer: practice.Layer{ID: newID(), ElementID: m.s.element, Kind: "coating", What: "epoxy, five coats"}}))
	lose("too-soon", 11)
	h := m.history()
	if last := h.Passes[len(h.Passes)-1]; last.Standing != practice.Reference || !slices.Contains(warnings(last.Lost), "too-soon") {
		t.Errorf("19 days ashore on epoxy: %v", warnings(last.Lost))
	}
	if p := h.Passes[0]; !strings.HasPrefix(p.Because, "read ") && p.Standing == practice.Same {
		t.Errorf("held against a pass without standing, another stands %s: %s", p.Standing, p.Because)
	}
	must[practice.Done](t)(m.RecordCondition(t.Context(), hand, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
		ID: newID(), VisitID: m.s.visit, At: m.clock.now(), SkinPortDecidegrees: ptr[int16](-5),
	}}))
	if h := m.history(); !slices.Contains(warnings(h.Passes[0].Lost), "frost") {
		t.Errorf("a skin of −0.5 °C: %v", warnings(h.Passes[0].Lost))
	}
}

// A resin that nobody knows asks for no rest; one that is known does, and a name that only
// holds its letters does not.
func TestUnknownResinIsNeverGuessed(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	m.pass(9, 0, nil)
	layer := func(what string) {
		must[practice.Done](t)(m.AddLayer(t.Context(), m.ours.of[domain.Office], practice.AddLayer{Mutation: newID(), Layer: practice.Layer{ID: newID(), ElementID: m.s.element, Kind: "construction", What: what}}))
	}
	for _, what := range []string{"", "single skin, resin unknown", "orthodox layup"} {
		if what != "" {
			layer(what)
		}
		if p := m.history().Passes[0]; len(p.Lost) > 0 {
			t.Errorf("with %q it lost its standing: %v", what, p.Lost)
		}
	}
	layer("mat and woven roving, ortho resin")
	if p := m.history().Passes[0]; !slices.Equal(warnings(p.Lost), []string{"too-soon"}) || !strings.Contains(p.Lost[0].Text, "no source") {
		t.Errorf("an ortho hull at 8 days: %v", p.Lost)
	}
}

func TestAStandingIsLoweredByNameAndNeverRaised(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	first := m.pass(8, 0, nil)
	m.pass(20, 0, nil)
	hand := m.ours.of[domain.Surveyor]
	lower := practice.LowerStanding{Mutation: newID(), ID: newID(), Pass: first, Standing: practice.Unlike, Reason: "the pads were worn"}
	for _, bad := range []practice.Standing{practice.Same, practice.Alike, practice.Reference} {
		in := lower
		in.Mutation, in.Standing = newID(), bad
		_, err := m.LowerStanding(t.Context(), hand, in)
		want(t, err, domain.Invalid, "standing")
	}
	for range 2 {
		must[practice.Done](t)(m.LowerStanding(t.Context(), hand, lower))
	}
	p := m.history().Passes[0]
	if p.Standing != practice.Unlike || !strings.Contains(p.Because, "The surveyor") || !strings.Contains(p.Because, "worn") || p.Lowered == nil {
		t.Errorf("lowered, it stands %s: %s", p.Standing, p.Because)
	}
	again := lower
	again.Mutation, again.ID = newID(), newID()
	_, err := m.LowerStanding(t.Context(), hand, again)
	want(t, err, domain.Conflict)
	_, err = m.LowerStanding(t.Context(), m.theirs.of[domain.Surveyor], practice.LowerStanding{Mutation: newID(), ID: newID(), Pass: first, Standing: practice.Unlike, Reason: "x"})
	want(t, err, domain.NotFound)
	must[practice.Done](t)(m.RestoreStanding(t.Context(), hand, practice.RestoreStanding{Mutation: newID(), Pass: first}))
	if p := m.history().Passes[0]; p.Standing != practice.Same || p.Lowered != nil {
		t.Errorf("taken back, it stands %s: %s", p.Standing, p.Because)
	}
}

// Another serial number of the model is not subtracted until the two were read side by
// side; then it is, with what they differ by counted in.
func TestAlikeNeedsACrossReading(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	m.exec(`update instruments set model = 'Skerrow deep' where id = $1`, m.s.instrument)
	other, scale := newID(), newID()
	office := m.ours.of[domain.Office]
	must[practice.Done](t)(m.AddInstrument(t.Context(), office, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: other, Name: "Skerrow deep No. 3", Model: "Skerrow deep", Kind: "capacitance", Sensing: "deep"}}))
	must[practice.Done](t)(m.AddScale(t.Context(), office, practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: scale, Instrument: other, Name: "A", LowTenths: 0, HighTenths: 1000, StepTenths: 1}}))
	m.pass(8, 0, nil, func(p *practice.OpenPass) { p.Instrument, p.Scale = &other, &scale })
	m.pass(20, 0, nil)
	m.pass(22, 0, nil)
	p := m.history().Passes[0]
	if p.Standing != practice.Unlike || p.Reasons[0].Code != "no-reproducibility" || p.Gate.Untold[0].Todo == "" {
		t.Errorf("without a cross-reading it stands %s: %v", p.Standing, p.Reasons)
	}
	cross := practice.RecordCrossReadings{Mutation: newID(), ID: newID(), FirstScale: m.s.scale, SecondScale: scale, MadeOn: time.Date(2026, 4, 1, 0, 0, 0, 0, time.UTC), EffectTenths: 20}
	for spot := range int32(12) {
		cross.First, cross.Second = append(cross.First, 100+20*spot), append(cross.Second, 106+20*spot+spot%3)
	}
	must[practice.Done](t)(m.RecordCrossReadings(t.Context(), m.ours.of[domain.Surveyor], cross))
	h := m.history()
	if p := h.Passes[0]; p.Standing != practice.Alike || p.Gate.LeastChange == nil {
		t.Fatalf("read side by side it stands %s (%s), missing %v", p.Standing, p.Because, p.Gate.Untold)
	}
	alike, same := h.Passes[0].Gate, h.Passes[1].Gate
	if *alike.Hull.Least <= *same.Hull.Least {
		t.Errorf("two instruments show a change of %.2f at large, one of %.2f", *alike.Hull.Least, *same.Hull.Least)
	}
	for _, c := range h.Components {
		if c.CrossReadings != 12 || !c.Reproducible.Measured() {
			t.Errorf("components %+v", c)
		}
	}
}

// Passes that lost their standing by frost, a wash, heat or their blocks are held against
// nothing, and no scatter is measured from them either.
func TestALikePairWithoutStandingMeasuresNothing(t *testing.T) {
	t.Parallel()
	like := func(m *measurer) int {
		t.Helper()
		return m.history().Components[0].LikePairs
	}
	for what, opened := range map[string]func(*practice.OpenPass){
		"a wash": func(p *practice.OpenPass) { p.HoursSinceWash = ptr[int16](5) },
		"heat":   func(p *practice.OpenPass) { p.Heated, p.HoursSinceHeatOff = ptr(true), ptr[int16](3) },
	} {
		m := measuring(t)
		m.pass(20, 0, nil, opened)
		m.pass(22, 0, nil, opened)
		if n := like(m); n != 0 {
			t.Errorf("%s: %d like pairs", what, n)
		}
	}
	for moved, pairs := range map[int]int{1: 1, 200: 0} { // tenths of a scale unit
		m := measuring(t)
		m.pass(20, 0, nil)
		last := m.pass(22, 0, nil)
		for k, moment := range []string{"before", "after"} {
			m.exec(`insert into block_checks (practice_id, id, pass_id, block, moment, value_tenths, at) values ($1, $2, $3, 'low', $4, $5, $6)`,
				m.ours.id, newID(), last, moment, 120+k*moved, m.clock.now().Add(time.Duration(k)*time.Hour))
		}
		if n := like(m); n != pairs {
			t.Errorf("%d like pairs where a block moved by %d tenths, want %d", n, moved, pairs)
		}
	}
	cold := measuring(t)
	cold.pass(20, 0, nil)
	cold.pass(22, 0, nil)
	must[practice.Done](t)(cold.RecordCondition(t.Context(), cold.ours.of[domain.Surveyor], practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
		ID: newID(), VisitID: cold.s.visit, At: cold.clock.now(), SkinPortDecidegrees: ptr[int16](-5), SkinStarboardDecidegrees: ptr[int16](40),
	}}))
	if n := like(cold); n != 0 {
		t.Errorf("%d like pairs on a skin of −0.5 °C", n)
	}
}

// What drying explains is taken first: the whole underbody lower after three weeks ashore than
// after two days is no change of the hull; higher by as much, which no drying does, is one.
func TestWhatDaysAshoreExplainIsNotCalledAChange(t *testing.T) {
	t.Parallel()
	for by, answer := range map[float64]change.Answer{-2: change.CannotTell, 2: change.Changed} {
		m := measuring(t)
		must[practice.Done](t)(m.RecordCondition(t.Context(), m.ours.of[domain.Surveyor], practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
			ID: newID(), VisitID: m.s.visit, At: m.clock.now(), AirDecidegrees: ptr[int16](200), HumidityPermille: ptr[int16](600),
		}}))
		under := map[int]float64{}
		for k := range m.wet {
			if k%4 >= 2 {
				under[k] = by
			}
		}
		m.pass(3, 0, nil) // two days after the lift
		m.pass(20, 0, under)
		m.pass(22, 0, under)
		g := m.history().Passes[0].Gate
		said := codesOf(g.Statements, func(s practice.Statement) string { return s.Code })
		if g.Hull.Answer != answer || slices.Contains(said, "explained-by") != (by < 0) || slices.Contains(said, "at-large") == (by < 0) {
			t.Errorf("%+g units: %v, least %v, not told by %v, said %v", by, g.Hull.Answer, *g.Hull.Least, untolds(g.Hull.Untold), said)
		}
		if days := g.Explained[0]; days.Code != "days-ashore" || days.Covers == nil || *days.Covers != (by < 0) {
			t.Errorf("%+g units: days ashore explain %+v", by, days)
		}
	}
}

// All that a comparison takes comes in one trip to the database: the first time, again, and
// after another pass was read.
func TestAComparedHistoryIsOneTrip(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	for day := 18; day <= 22; day += 2 {
		m.pass(day, 0, nil)
	}
	count := &trips{}
	s, err := store.Open(t.Context(), store.Config{URL: m.store.Pool().Config().ConnString(), MaxConns: 1, Tracer: count})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	service := practice.New(s, practice.WithClock(m.clock.now))
	ask := func() (int64, practice.History) {
		before := count.n.Load()
		h := must[practice.History](t)(service.History(t.Context(), m.ours.of[domain.Surveyor], m.s.vessel, nil))
		return count.n.Load() - before, h
	}
	ask() // prepares the statements
	for passes := 3; passes <= 4; passes++ {
		for range 2 {
			if n, h := ask(); n != 1 || len(h.Passes) != passes || h.Passes[0].Gate.LeastChange == nil {
				t.Errorf("%d passes took %d trips", len(h.Passes), n)
			}
		}
		m.pass(24, 0, nil)
	}
}

// Trade notes, section 4: dry places have no lockers behind. Where the map draws something
// there the pass says so, from the day that it was there, and the readings stay.
func TestDryPlacesOverATankAreToldOf(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	m.pass(8, 0, nil)
	m.pass(20, 0, nil)
	from := time.Date(2026, 4, 15, 0, 0, 0, 0, time.UTC)
	tank := practice.Layer{ID: newID(), ElementID: m.s.element, Kind: "behind", What: "water tank", Side: ptr("port"), Outline: json.RawMessage(`[[0,-600],[1200,-600],[1200,600],[0,600]]`), ValidFrom: &from}
	must[practice.Done](t)(m.AddLayer(t.Context(), m.ours.of[domain.Office], practice.AddLayer{Mutation: newID(), Layer: tank}))
	h := m.history()
	for k, is := range []bool{false, true} {
		w := slices.IndexFunc(h.Passes[k].Missing, func(w practice.Warning) bool { return w.Code == "dry-behind" })
		if (w >= 0) != is || is && !strings.HasPrefix(h.Passes[k].Missing[w].Text, "2 of 22 dry places lie over what is behind the skin (water tank)") {
			t.Errorf("pass %d is told of: %t, %v", k, w >= 0, h.Passes[k].Missing)
		}
		if !h.Passes[k].Baseline.Valid() {
			t.Errorf("pass %d has no baseline", k)
		}
	}
}
