package simulate_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"sort"
	"testing"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
)

func day(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

// sloop is a hull that lay afloat for three seasons and was then lifted.
func sloop(t testing.TB) simulate.Hull {
	t.Helper()
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 8000, Girth: 1500, Every: 1000, Row: 400, DryAt: 300})
	if err != nil {
		t.Fatal(err)
	}
	return simulate.Hull{
		Places:  places,
		Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(9.4)}},
		Begins:  day("2019-04-01"),
		Start:   0.7,
		Spells: []simulate.Spell{
			{Until: day("2021-10-01"), Afloat: true},
			{Until: day("2022-03-01")},
		},
		Climate: simulate.Skerrow(),
		Texture: simulate.Texture{SD: 1.5, Reach: 400, Gradient: 1},
		Seed:    7,
	}
}

func pass(at string, m simulate.Instrument) simulate.Pass {
	return simulate.Pass{At: day(at), Instrument: m, Placements: 3, Hand: simulate.Careful(), Seed: 11}
}

func read(t testing.TB, h simulate.Hull, passes ...simulate.Pass) []simulate.Sheet {
	t.Helper()
	s, err := simulate.Read(h, passes)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// middle is the median reading of the places that keep says.
func middle(t testing.TB, h simulate.Hull, s simulate.Sheet, keep func(simulate.Place) bool) float64 {
	t.Helper()
	var xs []float64
	for _, r := range s.Read {
		if v, ok := r.Median(); ok && r.Occasion == 1 && keep(h.Places[r.Place]) {
			xs = append(xs, v.At.Units())
		}
	}
	if len(xs) == 0 {
		t.Fatal("no such places were read")
	}
	sort.Float64s(xs)
	return xs[len(xs)/2]
}

func isDry(p simulate.Place) bool { return p.Dry }
func isWet(p simulate.Place) bool { return !p.Dry }

func TestSameSeedSameReadings(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	p := pass("2021-11-01", simulate.DeepSensing("Skerrow deep No. 2"))
	a, b := read(t, h, p), read(t, h, p)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
	h.Seed++
	if reflect.DeepEqual(a[0].Read, read(t, h, p)[0].Read) {
		t.Error("another seed made the same readings")
	}
}

func TestSheetsComeInTheOrderOfThePassesAskedFor(t *testing.T) {
	t.Parallel()
	h, m := sloop(t), simulate.ShallowSensing("Skerrow shallow No. 1")
	early, late := pass("2021-10-20", m), pass("2022-02-01", m)
	a, b := read(t, h, early, late), read(t, h, late, early)
	if !reflect.DeepEqual(a[0], b[1]) || !reflect.DeepEqual(a[1], b[0]) {
		t.Error("the order of asking changed what was read")
	}
}

func TestUnderbodyStandsAboveTheBaselineAfterSeasonsAfloat(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	for _, m := range []simulate.Instrument{simulate.DeepSensing("deep"), simulate.ShallowSensing("shallow")} {
		s := read(t, h, pass("2021-10-05", m))[0]
		dry, wet := middle(t, h, s, isDry), middle(t, h, s, isWet)
		if wet < dry+10 || dry < 4 || dry > 26 {
			t.Errorf("%s: underbody %.1f, baseline %.1f", m.Name, wet, dry)
		}
	}
}

// Normal drying: the shallow instrument falls first, the deep one follows slowly.
func TestShallowFallsBeforeDeep(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	h.Spells[1].Shelter = &simulate.Shelter{At: 18, Air: 45}
	fall := func(m simulate.Instrument) float64 {
		s := read(t, h, pass("2021-10-02", m), pass("2021-11-01", m))
		return (middle(t, h, s[0], isWet) - middle(t, h, s[1], isWet)) / m.Full
	}
	shallow, deep := fall(simulate.ShallowSensing("shallow")), fall(simulate.DeepSensing("deep"))
	if shallow < deep+0.05 || deep <= 0 {
		t.Errorf("in a month the shallow one fell by %.3f of its range, the deep one by %.3f", shallow, deep)
	}
}

func TestPeelingTakesTheOuterSkinAndItsWater(t *testing.T) {
	t.Parallel()
	h, m := sloop(t), simulate.ShallowSensing("shallow")
	h.Start = 1 // wet through, so that peeling meets wetter laminate
	h.Spells = []simulate.Spell{
		{Until: day("2021-10-01"), Afloat: true},
		{Until: day("2021-10-15")},
		{Until: day("2022-03-01"), Peel: 3, Shelter: &simulate.Shelter{At: 20, Air: 45}},
		{Until: day("2022-05-01"), Coat: []diffusion.Layer{{Thickness: 0.4, D: 5e-14, ActivationEnergy: 45e3}}},
		{Until: day("2024-05-01"), Afloat: true},
		{Until: day("2024-06-01")},
	}
	s := read(t, h, pass("2021-10-14", m), pass("2021-10-16", m), pass("2022-02-20", m), pass("2024-05-10", m))
	var v [4]float64
	for i := range s {
		v[i] = middle(t, h, s[i], isWet)
	}
	if v[1] < v[0] || v[2] > v[1]-10 || v[3] < v[2] {
		t.Errorf("before peeling %.1f, after %.1f, dried %.1f, two seasons coated %.1f", v[0], v[1], v[2], v[3])
	}
	if a := s[2].Context.Ashore; a < 140 {
		t.Errorf("peeling began the days ashore anew: %v", a)
	}
}

func TestWhatCannotBeSimulatedIsNamed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*simulate.Hull, *simulate.Pass)
		want   string
	}{
		"a pass after the last spell": {func(_ *simulate.Hull, p *simulate.Pass) { p.At = day("2030-01-01") }, "Pass.At"},
		"six placements":              {func(_ *simulate.Hull, p *simulate.Pass) { p.Placements = 6 }, "Pass.Placements"},
		"spells out of order":         {func(h *simulate.Hull, _ *simulate.Pass) { h.Spells[0], h.Spells[1] = h.Spells[1], h.Spells[0] }, "Spells[1].Until"},
		"a place in no region":        {func(h *simulate.Hull, _ *simulate.Pass) { h.Regions[0].Over = simulate.At(1, 0, 0) }, "Places[0]"},
		"a peel through the wall":     {func(h *simulate.Hull, _ *simulate.Pass) { h.Spells[1].Peel = 40 }, "Peel"},
		"a thousand years":            {func(h *simulate.Hull, _ *simulate.Pass) { h.Begins = day("1020-01-01") }, "Spells"},
		"a humidity over 100":         {func(h *simulate.Hull, _ *simulate.Pass) { h.Climate.Air = 120 }, "Climate"},
		"an instrument without depth": {func(_ *simulate.Hull, p *simulate.Pass) { p.Instrument.Depth = 0 }, "Instrument.Depth"},
	} {
		h, p := sloop(t), pass("2021-11-01", simulate.DeepSensing("deep"))
		c.change(&h, &p)
		_, err := simulate.Read(h, []simulate.Pass{p})
		var arg *measure.ArgumentError
		if !errors.As(err, &arg) || arg.Argument != c.want {
			t.Errorf("%s: got %v, want an error that names %s", name, err, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(0.7, 9.0, 8.0, 4.0, 76.0, 0.12, 240.0, 20.0, uint64(1))
	f.Add(1.0, 0.5, 0.01, 1e-3, 100.0, 1.0, -1e6, 0.0, uint64(2))
	f.Fuzz(func(t *testing.T, start, wall, depth, curve, air, rain, strength, relocation float64, seed uint64) {
		h := simulate.Hull{
			Places:  []simulate.Place{{Side: simulate.Port, Along: 500, Down: -300, Dry: true}, {Side: simulate.Port, Along: 500, Down: 300}},
			Regions: []simulate.Region{{Over: simulate.Everywhere(), Wall: simulate.Laminate(unit.Millimetres(wall))}},
			Begins:  day("2021-05-01"), Start: start,
			Spells:  []simulate.Spell{{Until: day("2021-06-01"), Afloat: true}, {Until: day("2021-06-20")}},
			Climate: simulate.Climate{Mean: 12, Air: unit.Humidity(air), Rain: rain},
			Causes:  []simulate.Cause{{Where: simulate.Everywhere(), Strength: strength, Depth: 3, Feeds: seed%2 == 0}},
			Seed:    seed,
		}
		p := pass("2021-06-10", simulate.DeepSensing("deep"))
		p.Instrument.Depth, p.Instrument.Curve, p.Hand.Relocation = unit.Millimetres(depth), curve, unit.Millimetres(relocation)
		sheets, err := simulate.Read(h, []simulate.Pass{p})
		if err != nil {
			return
		}
		for _, r := range sheets[0].Read {
			if math.IsNaN(r.Truth) {
				t.Fatalf("%+v", r)
			}
			for _, x := range r.Placements {
				if x.Tenths < 0 || x.Tenths > 1000 {
					t.Fatalf("wrote %+v on a scale of 0 to 100", x)
				}
			}
		}
	})
}

func BenchmarkTenYears(b *testing.B) {
	h := sloop(b)
	h.Spells = nil
	var passes []simulate.Pass
	for year := 2015; year < 2025; year++ {
		h.Spells = append(h.Spells,
			simulate.Spell{Until: time.Date(year, 10, 15, 0, 0, 0, 0, time.UTC), Afloat: true},
			simulate.Spell{Until: time.Date(year+1, 4, 10, 0, 0, 0, 0, time.UTC)})
		passes = append(passes, pass(fmt.Sprintf("%d-11-10", year), simulate.DeepSensing("deep")))
	}
	h.Begins = day("2015-04-01")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := simulate.Read(h, passes); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleRead() {
	places, err := simulate.Grid(simulate.Dimensions{Waterline: 6000, Girth: 1200, Every: 1000, Row: 400, DryAt: 300})
	if err != nil {
		fmt.Println(err)
		return
	}
	hull := simulate.Hull{
		Places:  places,
		Regions: []simulate.Region{{Name: "hull", Over: simulate.Everywhere(), Wall: simulate.Laminate(9)}},
		Begins:  time.Date(2019, 4, 1, 0, 0, 0, 0, time.UTC),
		Start:   0.7,
		Spells: []simulate.Spell{
			{Until: time.Date(2021, 10, 1, 0, 0, 0, 0, time.UTC), Afloat: true},
			{Until: time.Date(2021, 12, 1, 0, 0, 0, 0, time.UTC)},
		},
		Climate: simulate.Skerrow(),
	}
	sheets, err := simulate.Read(hull, []simulate.Pass{{
		At:         time.Date(2021, 10, 22, 9, 0, 0, 0, time.UTC),
		Instrument: simulate.DeepSensing("Skerrow deep No. 2"),
		Placements: 3,
		Hand:       simulate.Careful(),
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := sheets[0]
	fmt.Printf("%d places on %.0f days ashore, %d block checks\n", len(places), float64(s.Context.Ashore), len(s.Blocks))
	// Output: 38 places on 21 days ashore, 3 block checks
}
