package cause_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/report"
)

func build(t testing.TB, signs ...cause.SignCode) cause.Ledger {
	t.Helper()
	facts := make([]cause.Fact, len(signs))
	for k, s := range signs {
		facts[k].Sign = s
	}
	l, err := cause.Build(facts)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func entryOf(t testing.TB, l cause.Ledger, c cause.Code) cause.Entry {
	t.Helper()
	k := slices.IndexFunc(l.Entries, func(e cause.Entry) bool { return e.Cause.Code == c })
	if k < 0 {
		t.Fatalf("no entry for %s", c)
	}
	return l.Entries[k]
}

func place(l cause.Ledger, c cause.Code) int {
	return slices.IndexFunc(l.Live(), func(e cause.Entry) bool { return e.Cause.Code == c })
}

// Rows of the trade notes, "Differential diagnosis": what stands in the column "points
// towards" is what something points towards here.
func TestEachRowOfTheTradesListPointsWhereItSays(t *testing.T) {
	t.Parallel()
	for row, c := range map[string]struct {
		signs   []cause.SignCode
		towards []cause.Code
	}{
		"all stations high, baseline high too":                              {[]cause.SignCode{cause.AllHigh}, []cause.Code{cause.Instrument, cause.Condensation, cause.SurfaceWater}},
		"underbody high, baseline low, lifted < 3 d":                        {[]cause.SignCode{cause.UnderbodyFresh}, []cause.Code{cause.SurfaceWater, cause.OrdinaryAbsorption}},
		"high only under coating, falls when scraped":                       {[]cause.SignCode{cause.OnlyUnderCoating, cause.FallsWhenScraped}, []cause.Code{cause.ConductiveCoating}},
		"straight edges, matching a locker or tank":                         {[]cause.SignCode{cause.StraightEdges, cause.OverBehind}, []cause.Code{cause.SomethingBehind}},
		"one side high, mirror low":                                         {[]cause.SignCode{cause.OneSide}, []cause.Code{cause.SomethingBehind, cause.Leak}},
		"high around a fitting":                                             {[]cause.SignCode{cause.RoundFitting, cause.AtFitting}, []cause.Code{cause.Leak, cause.WetCore}},
		"blisters, meter high, liquid acid and greasy":                      {[]cause.SignCode{cause.BlistersSeen, cause.LiquidAcid}, []cause.Code{cause.Hydrolysis}},
		"few large soft bulges":                                             {[]cause.SignCode{cause.SoftBulges}, []cause.Code{cause.Delamination}},
		"dull note, meter low":                                              {[]cause.SignCode{cause.DullLow}, []cause.Code{cause.DryDisbond}},
		"dull note, meter high, sandwich":                                   {[]cause.SignCode{cause.DullHighSandwich}, []cause.Code{cause.WetCore}},
		"clear note, meter high, sandwich":                                  {[]cause.SignCode{cause.ClearHighSandwich}, []cause.Code{cause.SomethingBehind, cause.WetCore}},
		"white crystals, weeps after drying":                                {[]cause.SignCode{cause.Crystals}, []cause.Code{cause.Residue}},
		"treated hull reading high within 5 y":                              {[]cause.SignCode{cause.TreatedHigh}, []cause.Code{cause.ConductiveCoating, cause.LinerOrBilge, cause.Residue}},
		"deep stays high while shallow falls, neighbours and mirror fall":   {[]cause.SignCode{cause.DeepStays}, []cause.Code{cause.SomethingBehind, cause.LinerOrBilge, cause.Leak, cause.WetCore, cause.Delamination}},
		"stall (a): flat at a level that matches RH":                        {[]cause.SignCode{"stall-flat"}, []cause.Code{cause.OrdinaryAbsorption}},
		"stall (b): local flats: tank, bilge, liner, keel, residue cell":    {[]cause.SignCode{"stall-local"}, []cause.Code{cause.SomethingBehind, cause.LinerOrBilge, cause.Residue}},
		"stall (d): rebound after heat off: reservoir deeper":               {[]cause.SignCode{"stall-rebound-heat"}, []cause.Code{cause.LinerOrBilge, cause.WetCore, cause.Delamination}},
		"stall (e): shallow rises with RH: hygroscopic residue":             {[]cause.SignCode{"stall-air"}, []cause.Code{cause.Residue}},
		"stall (f): rises after each wash, same height":                     {[]cause.SignCode{"stall-rebound-wash"}, []cause.Code{cause.Residue}},
		"stall (g): all stations move together: instrument or weather":      {[]cause.SignCode{"stall-together"}, []cause.Code{cause.Instrument, cause.Condensation, cause.SurfaceWater}},
		"check piece: deep goes up, shallow does not: behind (no source)":   {[]cause.SignCode{cause.DeepOnly}, []cause.Code{cause.SomethingBehind, cause.LinerOrBilge, cause.Leak, cause.WetCore, cause.Delamination}},
		"sea water between liner and hull comes first (no source)":          {[]cause.SignCode{cause.OverLiner}, []cause.Code{cause.LinerOrBilge}},
		"parallel or radial cracks plus local wet":                          {[]cause.SignCode{cause.CracksWet}, []cause.Code{cause.Delamination}},
		"blisters in coating only, liquid neutral: none of the catalogue":   {[]cause.SignCode{cause.LiquidNeutral}, nil},
		"fibres standing proud: wicking, which the catalogue does not hold": {[]cause.SignCode{cause.FibresProud}, nil},
	} {
		t.Run(row, func(t *testing.T) {
			t.Parallel()
			l := build(t, c.signs...)
			for _, e := range l.Entries {
				if want := slices.Contains(c.towards, e.Cause.Code); want != (len(e.For) > 0) {
					t.Errorf("%s has %d lines for it, want any: %t", e.Cause.Code, len(e.For), want)
				}
			}
			if len(c.towards) > 0 && !slices.Contains(c.towards, l.Live()[0].Cause.Code) {
				t.Errorf("first stands %s", l.Live()[0].Cause.Code)
			}
		})
	}
}

// Trade notes, "Combining rule".
func TestTheCombiningRule(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		signs []cause.SignCode
		of    cause.Code
		want  cause.State
	}{
		"one family only points":                           {[]cause.SignCode{cause.RoundFitting, cause.OneSide}, cause.Leak, cause.PointTowards},
		"electrical with records only points":              {[]cause.SignCode{cause.RoundFitting, cause.AtFitting}, cause.Leak, cause.PointTowards},
		"two families make it likely":                      {[]cause.SignCode{cause.RoundFitting, cause.WeepAtFitting}, cause.Leak, cause.Likely},
		"not while a live mimic is better spoken for":      {[]cause.SignCode{cause.RoundFitting, cause.WeepAtFitting, cause.StraightEdges, cause.OverBehind, cause.OneSide}, cause.Leak, cause.PointTowards},
		"what a live mimic explains as well names nothing": {[]cause.SignCode{cause.DeepOnly, cause.OneSide, "thermal-patch"}, cause.WetCore, cause.PointTowards},
		"nor does one family of its own beside it":         {[]cause.SignCode{cause.DeepOnly, cause.DullHighSandwich}, cause.WetCore, cause.PointTowards},
		"nor where the mimic is excluded":                  {[]cause.SignCode{cause.DeepOnly, cause.DullHighSandwich, "inside-nothing", cause.NothingMapped}, cause.WetCore, cause.PointTowards},
		"two families that no mimic explains do":           {[]cause.SignCode{cause.RoundFitting, cause.DullHighSandwich}, cause.WetCore, cause.Likely},
		"not while a line points towards a mimic alone":    {[]cause.SignCode{cause.RoundFitting, cause.DullHighSandwich, cause.CopperCoating}, cause.WetCore, cause.PointTowards},
		"with that mimic excluded they do again":           {[]cause.SignCode{cause.RoundFitting, cause.DullHighSandwich, cause.CopperCoating, cause.StaysWhenScraped}, cause.WetCore, cause.Likely},
		"a dew point is not undone by one wipe":            {[]cause.SignCode{cause.AtDewPoint, "repeat-dry-stayed"}, cause.Condensation, cause.PointTowards},
		"one look excludes no mimic that readings show":    {[]cause.SignCode{cause.OneSide, "inside-nothing"}, cause.SomethingBehind, cause.PointTowards},
		"a second family beside it does":                   {[]cause.SignCode{cause.OneSide, "inside-nothing", "nothing-in-records"}, cause.SomethingBehind, cause.Excluded},
		"one that nothing points towards goes at one look": {[]cause.SignCode{"inside-nothing"}, cause.SomethingBehind, cause.Excluded},
		"two electrical lines exclude none of them":        {[]cause.SignCode{cause.OneSide, cause.NotWithTank, cause.Dispersed}, cause.SomethingBehind, cause.PointTowards},
		"two families outweighed only point":               {[]cause.SignCode{cause.RoundFitting, cause.DullHighSandwich, cause.SingleSkin, "thermal-none"}, cause.WetCore, cause.PointTowards},
		"a sample confirms":                                {[]cause.SignCode{cause.CoreWet}, cause.WetCore, cause.Confirmed},
		"an opened blister confirms":                       {[]cause.SignCode{cause.LiquidAcid}, cause.Hydrolysis, cause.Confirmed},
		"an artefact stays live with all against it":       {[]cause.SignCode{cause.NoRainNoWash, cause.DeepOnly}, cause.SurfaceWater, cause.Live},
		"it goes when it is excluded":                      {[]cause.SignCode{"repeat-dry-stayed"}, cause.SurfaceWater, cause.Excluded},
		"contrary outcomes of one check exclude nothing":   {[]cause.SignCode{cause.BlockAgrees, cause.BlockDrifted}, cause.Instrument, cause.PointTowards},
		"what another check says does not undo it":         {[]cause.SignCode{cause.BlockAgrees, cause.AllHigh}, cause.Instrument, cause.Excluded},
		"a sample stands against what would exclude it":    {[]cause.SignCode{cause.CoreWet, "plug-clear"}, cause.WetCore, cause.Confirmed},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if got := entryOf(t, build(t, c.signs...), c.of).State; got != c.want {
				t.Errorf("%s is %s, want %s", c.of, got, c.want)
			}
		})
	}
}

// any facts, for the properties.
func facts(r *rand.Rand, keep func(cause.Sign) bool) []cause.Fact {
	var out []cause.Fact
	all := cause.Signs()
	for range r.IntN(14) {
		s := all[r.IntN(len(all))]
		if keep == nil || keep(s) {
			out = append(out, cause.Fact{Sign: s.Code, Detail: fmt.Sprint(r.IntN(2)), Places: []int32{int32(r.IntN(3))}})
		}
	}
	return out
}

func mustBuild(t testing.TB, f []cause.Fact) cause.Ledger {
	t.Helper()
	l, err := cause.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// families counts those of a cause that could name it.
func families(e cause.Entry) (n int) {
	for _, f := range e.Families {
		if f.Names() {
			n++
		}
	}
	return n
}

func TestProperties(t *testing.T) {
	t.Parallel()
	strength := map[cause.State]int{cause.Confirmed: 3, cause.Likely: 2, cause.PointTowards: 1, cause.Live: 0, cause.Excluded: -1}
	property := func(name string, holds func(t *testing.T, r *rand.Rand)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for seed := range uint64(400) {
				if holds(t, rand.New(rand.NewPCG(seed, 14))); t.Failed() {
					t.Fatalf("seed %d", seed)
				}
			}
		})
	}
	property("the order of facts and telling one twice do not matter", func(t *testing.T, r *rand.Rand) {
		f := facts(r, nil)
		want := mustBuild(t, f)
		again := append(slices.Clone(f), f...)
		r.Shuffle(len(again), func(i, j int) { again[i], again[j] = again[j], again[i] })
		if got := mustBuild(t, again); !reflect.DeepEqual(got, want) {
			t.Errorf("got %+v, want %+v", got, want)
		}
	})
	property("electrical evidence and records alone name no cause", func(t *testing.T, r *rand.Rand) {
		l := mustBuild(t, facts(r, func(s cause.Sign) bool { return s.Family == cause.Electrical || s.Family == cause.Records }))
		for _, e := range l.Entries {
			if strength[e.State] > 1 {
				t.Errorf("%s is %s", e.Cause.Code, e.State)
			}
		}
	})
	property("nothing is confirmed without a sample or an opened place", func(t *testing.T, r *rand.Rand) {
		l := mustBuild(t, facts(r, func(s cause.Sign) bool { return len(s.Confirms) == 0 }))
		for _, e := range l.Entries {
			if e.State == cause.Confirmed {
				t.Errorf("%s is confirmed", e.Cause.Code)
			}
		}
	})
	property("excluding an artefact confirms nothing, makes none live and none likely without two families", func(t *testing.T, r *rand.Rand) {
		f := facts(r, nil)
		before := mustBuild(t, f)
		for _, s := range []cause.SignCode{cause.BlockAgrees, cause.RepeatsAgree, cause.AboveDewPoint, "repeat-dry-stayed", cause.StaysWhenScraped, cause.NotWithTank} {
			after := mustBuild(t, append(slices.Clone(f), cause.Fact{Sign: s, Detail: "more"}))
			if len(after.Live()) > len(before.Live()) {
				t.Errorf("%s leaves more causes live", s)
			}
			for _, e := range after.Entries {
				if strength[e.State] > strength[entryOf(t, before, e.Cause.Code).State] && (e.State != cause.Likely || families(e) < 2) {
					t.Errorf("%s raised %s to %s", s, e.Cause.Code, e.State)
				}
			}
		}
	})
	property("a line for a cause alone never lowers its place", func(t *testing.T, r *rand.Rand) {
		f := facts(r, nil)
		before, after := mustBuild(t, f), mustBuild(t, append(slices.Clone(f), cause.Fact{Sign: cause.WeepAtFitting, Detail: "one more"}))
		if p, q := place(before, cause.Leak), place(after, cause.Leak); p >= 0 && q > p {
			t.Errorf("the leak went from %d to %d", p, q)
		}
	})
	property("artefacts are live until something excludes them", func(t *testing.T, r *rand.Rand) {
		l := mustBuild(t, facts(r, func(s cause.Sign) bool { return len(s.Excludes) == 0 }))
		if len(l.Live()) != len(cause.Catalogue()) {
			t.Errorf("%d causes are live", len(l.Live()))
		}
	})
	property("a check that was done is not proposed, and none of no power", func(t *testing.T, r *rand.Rand) {
		f := facts(r, nil)
		for _, c := range mustBuild(t, f).Next {
			if c.Power <= 0 || c.Power > 1 || len(c.Tells) == 0 {
				t.Errorf("%s has power %v over %v", c.Check.Code, c.Power, c.Tells)
			}
			for _, x := range f {
				if s, _ := cause.SignOf(x.Sign); s.Check == c.Check.Code {
					t.Errorf("%s was done", c.Check.Code)
				}
			}
		}
	})
}

// By hand, over the whole catalogue of 14: scraping shows "fell" (for the coating,
// against five) were it the coating, and "stayed" (excludes the coating) were it any other.
func TestSplitPowerByHand(t *testing.T) {
	t.Parallel()
	var got float64
	for _, c := range build(t).Next {
		if c.Check.Code == "scrape" {
			got = c.Power
		}
	}
	coating := (5*1.0 + 8*0.5) / 13
	others := 13 * (0.5 / 13)
	if want := (coating + others) / 14; got < want-1e-12 || got > want+1e-12 {
		t.Errorf("power %.6f, by hand %.6f", got, want)
	}
}

// Trade notes, "Each method and what it adds": visual look is the cheapest separator;
// nothing that makes a hole comes before it for a patch at a fitting.
func TestAPatchAtAFittingIsLookedAtBeforeAnythingIsDrilled(t *testing.T) {
	t.Parallel()
	l := build(t, cause.Patch, cause.RoundFitting, cause.AtFitting, cause.OneSide, cause.BlockAgrees)
	if l.Live()[0].Cause.Code != cause.Leak {
		t.Errorf("first stands %s", l.Live()[0].Cause.Code)
	}
	first := slices.IndexFunc(l.Next, func(c cause.Choice) bool { return c.Check.Harm == cause.NoHarm })
	if first != 0 {
		t.Errorf("first is proposed: %s", l.Next[0].Check.Text)
	}
}

func TestTheTableIsWhole(t *testing.T) {
	t.Parallel()
	seen := map[cause.SignCode]bool{}
	known := func(where cause.SignCode, list ...[]cause.Code) {
		for _, codes := range list {
			for _, c := range codes {
				if _, ok := cause.Of(c); !ok {
					t.Errorf("%s speaks of %q", where, c)
				}
			}
		}
	}
	for _, s := range cause.Signs() {
		if seen[s.Code] {
			t.Errorf("%s stands twice", s.Code)
		}
		seen[s.Code] = true
		known(s.Code, s.For, s.Against, s.Excludes, s.Confirms)
		if len(s.Confirms) > 0 && s.Family != cause.Sample && s.Family != cause.Chemical && s.Family != cause.Visual {
			t.Errorf("%s confirms by %s evidence", s.Code, s.Family)
		}
		for _, c := range s.For {
			if slices.Contains(s.Against, c) || slices.Contains(s.Excludes, c) {
				t.Errorf("%s speaks both for and against %s", s.Code, c)
			}
		}
		if s.Check != "" {
			if _, ok := cause.CheckOf(s.Check); !ok {
				t.Errorf("%s is an outcome of %q", s.Code, s.Check)
			}
		}
		if s.Source == "" || s.Text == "" {
			t.Errorf("%s has no text or source", s.Code)
		}
	}
	for _, c := range cause.Checks() {
		if len(c.Outcomes()) == 0 || c.Minutes <= 0 || c.Harm.String() == "" || c.Harm > cause.NoHarm && c.Consent == "" {
			t.Errorf("%s: %+v", c.Code, c)
		}
	}
	for _, c := range cause.Catalogue() {
		if c.Artefact && c.Wet {
			t.Errorf("%s is both", c.Code)
		}
		if c.Artefact && !slices.ContainsFunc(cause.Signs(), func(s cause.Sign) bool { return slices.Contains(s.Excludes, c.Code) }) {
			t.Errorf("nothing can exclude %s", c.Code)
		}
	}
}

func TestWordsSayNoMoreThanASurveyCarries(t *testing.T) {
	t.Parallel()
	var texts []string
	for _, s := range cause.Signs() {
		texts = append(texts, s.Text, s.Points)
	}
	for _, c := range cause.Checks() {
		texts = append(texts, c.Text, c.Harm.String())
	}
	for _, c := range cause.Catalogue() {
		texts = append(texts, c.Name)
	}
	for _, text := range texts {
		if w := report.Lint(text); len(w) > 0 {
			t.Errorf("%q: %+v", text, w)
		}
	}
}

func TestAnUnknownSignIsRefused(t *testing.T) {
	t.Parallel()
	if _, err := cause.Build([]cause.Fact{{Sign: "a hunch"}}); err == nil {
		t.Error("it was taken")
	}
}

// What could not be looked for stands beside the causes it would bear on, with the reason,
// and weighs nothing.
func TestWhatIsUnsaidWeighsNothing(t *testing.T) {
	t.Parallel()
	facts := []cause.Fact{{Sign: cause.OneSide}, {Sign: cause.AtFitting}}
	plain, err := cause.Build(facts)
	if err != nil {
		t.Fatal(err)
	}
	unsaid, err := cause.Build(facts, cause.Fact{Sign: cause.DeepStays, Detail: "nothing was measured"})
	if err != nil {
		t.Fatal(err)
	}
	for k, e := range unsaid.Entries {
		s, _ := cause.SignOf(cause.DeepStays)
		bears := slices.Contains(s.For, e.Cause.Code) || slices.Contains(s.Against, e.Cause.Code)
		if p := plain.Entries[k]; p.Cause != e.Cause || p.State != e.State || len(p.For) != len(e.For) || len(p.Against) != len(e.Against) {
			t.Errorf("%s moved from %s to %s", p.Cause.Code, p.State, e.State)
		}
		if (len(e.Unsaid) == 1) != bears {
			t.Errorf("%s has %d lines not said", e.Cause.Code, len(e.Unsaid))
		}
	}
	if _, err := cause.Build(nil, cause.Fact{Sign: "no-such"}); err == nil {
		t.Error("an unknown sign is not said, and nobody minds")
	}
}
