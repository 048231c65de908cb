package measure_test

import (
	"slices"
	"testing"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// What is planted in a simulated hull is what the arithmetic finds in it, and where
// nothing is planted it finds nothing. The hulls come from domain/measure/simulate.

var lifted = time.Date(2021, 10, 1, 0, 0, 0, 0, time.UTC)

// yacht lay afloat for three seasons and was then lifted into a shed or a yard.
func yacht(t *testing.T, seed uint64, shelter *simulate.Shelter, causes ...simulate.Cause) simulate.Hull {
	t.Helper()
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 8000, Girth: 1500, Every: 500, Row: 300, DryAt: 300})
	if err != nil {
		t.Fatal(err)
	}
	return simulate.Hull{
		Places:  places,
		Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(9.4)}},
		Begins:  time.Date(2019, 4, 1, 0, 0, 0, 0, time.UTC), Start: 0.7,
		Spells:  []simulate.Spell{{Until: lifted, Afloat: true}, {Until: lifted.AddDate(0, 9, 0), Shelter: shelter}},
		Climate: simulate.Skerrow(), Texture: simulate.Texture{SD: 0.8, Reach: 100, Gradient: 1}, Causes: causes, Seed: seed,
	}
}

func shed() *simulate.Shelter { return &simulate.Shelter{At: 18, Air: 45} }

func passOn(day int, seed uint64) simulate.Pass {
	return simulate.Pass{At: lifted.AddDate(0, 0, day), Instrument: simulate.DeepSensing("deep"), Placements: 3, Hand: simulate.Careful(), Seed: seed}
}

func readings(t *testing.T, h simulate.Hull, passes ...simulate.Pass) []simulate.Sheet {
	t.Helper()
	s, err := simulate.Read(h, passes)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// grid gives the places of the underbody, their rows and what was read there.
func grid(h simulate.Hull, s simulate.Sheet) (places []where.Place, row []int, values []measure.Value) {
	for _, r := range s.Read {
		p := h.Places[r.Place]
		v, ok := r.Median()
		if p.Dry || !ok || r.Occasion != 1 {
			continue
		}
		side := where.Port
		if p.Side == simulate.Starboard {
			side = where.Starboard
		}
		places = append(places, where.Place{Side: side, Along: p.Along, Down: p.Down, Keel: 1650})
		row, values = append(row, int(p.Down/300)), append(values, v)
	}
	return places, row, values
}

// clusters are the heaviest cluster's places, and its chance, with rows taken out.
func clusters(t *testing.T, places []where.Place, row []int, values []measure.Value) where.Clusters {
	t.Helper()
	y := make([]float64, len(values))
	for i, v := range values {
		y[i] = v.At.Units()
	}
	left, err := where.TakeOut(y, make([]int, len(y)), row, 1)
	if err != nil {
		t.Fatal(err)
	}
	g, err := where.Joined(places, where.ReachOver(500, 300))
	if err != nil {
		t.Fatal(err)
	}
	found, err := where.Find(g, left.Z, where.ClusterDefaults(1))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestAWetCoreIsFoundWhereItWasPlanted(t *testing.T) {
	t.Parallel()
	core := simulate.WetCore(simulate.Starboard, 4000, 700, 420, time.Time{})
	h := yacht(t, 5, shed(), core)
	places, row, values := grid(h, readings(t, h, passOn(60, 1))[0])
	found := clusters(t, places, row, values)
	if len(found.Found) == 0 || found.Found[0].P > 0.01 {
		t.Fatalf("%+v", found)
	}
	if len(found.Notes) > 0 {
		t.Errorf("a planted core is called %v", codes(found.Notes))
	}
	peak := places[found.Found[0].Peak]
	if peak.Side != where.Starboard || peak.Along < 3200 || peak.Along > 4800 {
		t.Errorf("the peak stands at %+v", peak)
	}
	for _, i := range found.Found[0].Places {
		if p := places[i]; p.Side != where.Starboard || p.Along < 2500 || p.Along > 5500 {
			t.Errorf("%+v is in the cluster", p)
		}
	}
	m, err := where.Mirrors(places, values, 50, 1)
	if err != nil {
		t.Fatal(err)
	}
	flagged := 0
	for _, p := range m.Pairs {
		if p.Flagged {
			flagged++
			if at := places[p.Starboard].Along; at < 2500 || at > 5500 || p.High > m.Middle {
				t.Errorf("flagged far from the core: %+v at %v mm", p, at)
			}
		}
	}
	if flagged < 3 {
		t.Errorf("%d mirror pairs flagged", flagged)
	}
}

// Ordinary absorption alone: a cluster at 5 % in about one hull of twenty, and not more
// than a binomial of that chance lets 60 hulls show. Where layup and thickness wander over
// metres, patches are part of the hull: they are clusters, rightly, and no cause: the
// result warns of that.
func TestOrdinaryAbsorptionMakesNoClusters(t *testing.T) {
	t.Parallel()
	alarms := func(reach unit.Millimetres) (n, warned int) {
		for seed := range uint64(60) {
			h := yacht(t, seed, shed())
			h.Texture.SD, h.Texture.Reach = 2, reach
			h.Begins, h.Spells[0].Until = lifted.AddDate(0, 0, -1), lifted // the history of water is the same for all; keep it short
			places, row, values := grid(h, readings(t, h, passOn(60, seed))[0])
			found := clusters(t, places, row, values)
			if len(found.Found) > 0 && found.Found[0].P <= 0.05 {
				n++
				if slices.ContainsFunc(found.Notes, func(n measure.Note) bool { return n.Code == "patchy" }) {
					warned++
				}
			}
		}
		return n, warned
	}
	spots, _ := alarms(150)
	metres, warned := alarms(900)
	t.Logf("a cluster in %d of 60 hulls without a cause whose texture wanders over 150 mm; in %d where it wanders over 900, %d of them warned of", spots, metres, warned)
	if 10*warned < 8*metres {
		t.Errorf("only %d of %d clusters of a patchy hull are warned of", warned, metres)
	}
	if spots > 8 { // P(B ≥ 9), B ~ Binomial(60, 0.05), is 0.003
		t.Errorf("%d of 60 hulls", spots)
	}
}

func TestABaselineIsVoidWhereTheTopsidesAreWet(t *testing.T) {
	t.Parallel()
	of := func(h simulate.Hull, p simulate.Pass) baseline.Baseline {
		s := readings(t, h, p)[0]
		_, _, under := grid(h, s)
		var dry []baseline.Place
		for _, r := range s.Read {
			if place := h.Places[r.Place]; place.Dry && r.Occasion == 1 {
				v, _ := r.Median()
				dry = append(dry, baseline.Place{Value: v, Side: baseline.Side(place.Side), Above: int32(-place.Down), Surface: "gelcoat"})
			}
		}
		settings := baseline.Defaults()
		settings.Step = 1
		b, err := baseline.Of(dry, under, settings)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if b := of(yacht(t, 1, shed()), passOn(3, 1)); !b.Valid() {
		t.Errorf("an ordinary hull: %+v", b.Reasons)
	}
	day := lifted.AddDate(0, 0, 3)
	topsides := simulate.Area{Along: simulate.Span{From: -1e5, To: 1e5}, Down: simulate.Span{From: -1e5, To: 0}}
	film := simulate.ConductiveCoating(topsides, 60)
	b := of(yacht(t, 1, shed(), film), passOn(3, 1))
	if b.Valid() || !slices.ContainsFunc(b.Reasons, func(r baseline.Reason) bool { return r.Why == baseline.NotBelow }) {
		t.Errorf("a hull with conductive topsides: %+v", b)
	}
	side := simulate.Area{Side: simulate.Port, Along: topsides.Along, Down: topsides.Down}
	if b := of(yacht(t, 1, shed(), simulate.Condensation(side, day.AddDate(0, 0, -1), day.AddDate(0, 0, 1))), passOn(3, 1)); b.Valid() && b.Scatter < 1 {
		t.Errorf("dew on one side left no trace: %+v", b)
	}
}

// A hull drying in a shed moves as the fit of its first visits foresees; with matter that
// holds water left in it, or water behind, it stalls.
func TestAStallIsToldFromDrying(t *testing.T) {
	t.Parallel()
	days := []int{1, 8, 15, 29, 43, 57, 71, 92, 113, 141, 169, 211}
	middle := func(h simulate.Hull) (ts, ys []float64) {
		var passes []simulate.Pass
		for i, d := range days {
			p := passOn(d, uint64(i))
			p.Instrument = simulate.ShallowSensing("shallow")
			passes = append(passes, p)
		}
		for i, s := range readings(t, h, passes...) {
			_, _, values := grid(h, s)
			sum := 0.0
			for _, v := range values {
				sum += v.At.Units() / float64(len(values))
			}
			ts, ys = append(ts, float64(days[i])), append(ys, sum)
		}
		return ts, ys
	}
	ts, ys := middle(yacht(t, 3, shed()))
	free, err := course.DetectStall(ts, ys, 43, 0.3, 0.95)
	if err != nil || free.Motion == course.Stalled {
		t.Errorf("a hull that dries: %s, %v", free.Motion, err)
	}
	trend, err := course.MannKendall(ts, ys, 0.95)
	if err != nil || trend.Verdict != course.Falling {
		t.Errorf("a hull that dries: %+v, %v", trend, err)
	}
	// The air of the shed turns damp after seven weeks: from there on nothing leaves.
	h := yacht(t, 3, shed())
	h.Spells[1].Until = lifted.AddDate(0, 0, 44)
	h.Spells = append(h.Spells, simulate.Spell{Until: lifted.AddDate(0, 9, 0), Shelter: &simulate.Shelter{At: 8, Air: 78}})
	ts, ys = middle(h)
	damp, err := course.DetectStall(ts, ys, 57, 0.3, 0.95)
	if err != nil || damp.Motion != course.Stalled {
		t.Errorf("a shed gone damp: %+v, %v", damp, err)
	}
}

func TestADriftingInstrumentIsSeenOnItsBlock(t *testing.T) {
	t.Parallel()
	h := yacht(t, 2, shed())
	p := passOn(3, 1)
	p.Instrument = simulate.ShallowSensing("shallow")
	drifted := p
	drifted.Drift = 8
	sheets := readings(t, h, p, drifted)
	known := repeat.Deviation{S: p.Instrument.Placement, DF: 60}
	for i, want := range []bool{false, true} {
		b := sheets[i].Blocks
		first, last := b[0].High.Value().At.Units(), b[len(b)-1].High.Value().At.Units()
		if shift, allowed, moved, err := repeat.BlockShift(first, last, 1, known); err != nil || moved != want {
			t.Errorf("drift %v: shift %.1f of %.1f allowed, moved %v, %v", sheets[i].Pass.Drift, shift, allowed, moved, err)
		}
	}
}

// A careless hand has a larger s_r, and with it a larger least difference.
func TestACarelessHandNeedsALargerDifference(t *testing.T) {
	t.Parallel()
	h := yacht(t, 4, shed())
	h.Begins, h.Spells[0].Until = lifted.AddDate(0, 0, -1), lifted
	least := func(hand simulate.Hand) float64 {
		p := passOn(3, 1)
		p.Hand = hand
		var places [][]float64
		for _, r := range readings(t, h, p)[0].Read {
			var one []float64
			for _, x := range r.Placements {
				one = append(one, x.Value().At.Units())
			}
			places = append(places, one)
		}
		d, err := repeat.OfPlacements(places, 1, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		x, err := repeat.SmallestDifference(d, 3, 3, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	careful, careless := least(simulate.Careful()), least(simulate.Careless())
	t.Logf("least difference of two readings: careful %.1f, careless %.1f units", careful, careless)
	if careless < 2*careful {
		t.Errorf("careless %.2f, careful %.2f", careless, careful)
	}
}

// A map of a hull with a stretch not reached is hatched there and nowhere else.
func TestAStretchNotReachedIsHatched(t *testing.T) {
	t.Parallel()
	h := yacht(t, 6, shed())
	h.Begins, h.Spells[0].Until = lifted.AddDate(0, 0, -1), lifted
	h.Texture = simulate.Texture{SD: 4, Reach: 500}
	places, _, values := grid(h, readings(t, h, passOn(5, 1))[0])
	var reached []where.Place
	var y []float64
	for i, p := range places {
		if p.Along < 3000 || p.Along > 6000 {
			reached, y = append(reached, p), append(y, values[i].At.Units())
		}
	}
	points, err := where.Unrolled(reached, 1)
	if err != nil {
		t.Fatal(err)
	}
	lags, err := where.SampleVariogram(points, y)
	if err != nil {
		t.Fatal(err)
	}
	v, err := where.FitVariogram(lags, where.Spherical)
	if err != nil {
		t.Fatal(err)
	}
	k, err := where.Krige(points, y, v, true)
	if err != nil {
		t.Fatal(err)
	}
	at := func(along unit.Millimetres) bool {
		m, err := k.Map(where.Window{Corner: where.Point{X: float64(along), Y: 900}, Step: where.Point{X: 1, Y: 1}, Cols: 1, Rows: 1})
		if err != nil {
			t.Fatal(err)
		}
		hatch, err := m.Unknown(where.HatchFrom)
		if err != nil {
			t.Fatal(err)
		}
		return hatch[0]
	}
	for along, want := range map[unit.Millimetres]bool{1000: false, 2000: false, 4500: true, 7000: false} {
		if at(along) != want {
			t.Errorf("%v mm: hatched %v (range %.0f mm)", along, !want, v.Range)
		}
	}
}
