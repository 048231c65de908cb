package change_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

// Nothing changed, visits drift in zero and gain: at most 5 % of hulls may show a
// changed place, and at most 5 % a changed zone or hull.
func TestHullsThatDidNotChangeAreSaidToHaveChangedInFivePercentAtMost(t *testing.T) {
	t.Parallel()
	whole := usual()
	whole.step = 1
	small := usual()
	small.places, small.dry = 12, 6
	for i, w := range map[string]world{"tenths": usual(), "whole units": whole, "12 places, 6 dry": small} {
		t.Run(i, func(t *testing.T) {
			t.Parallel()
			alarms, zones, hulls, told := tally(t, w, 2, nothing)
			t.Logf("false alarms: places %.1f %%, zones %.1f %%, hull %.1f %%; answered %.1f %%", 100*alarms, 100*zones, 100*hulls, 100*told)
			for _, share := range []float64{alarms, zones, hulls} {
				if share > 0.05+3*math.Sqrt(0.05*0.95/check.Draws) {
					t.Errorf("false alarms %v", share)
				}
			}
			if told < 0.97 {
				t.Errorf("answered only %v", told)
			}
		})
	}
}

// tally gives the shares of hulls with a changed place, zone, hull, and with an answer.
func tally(t *testing.T, w world, pairs int, changed func(int) float64) (places, zones, hulls, told float64) {
	t.Helper()
	r := rand.New(rand.NewPCG(uint64(w.places)*0x9e3779b97f4a7c15, uint64(pairs)*0xd1342543de82ef95))
	for range check.Draws {
		c := compare(t, w.input(r, w.components(t, r, pairs), changed))
		if len(c.Why) == 0 {
			told += 1.0 / check.Draws
		}
		if anyChanged(c.Places) {
			places += 1.0 / check.Draws
		}
		if c.Hull.Answer == change.Changed {
			hulls += 1.0 / check.Draws
		}
		for _, z := range c.Zones {
			if z.Answer == change.Changed {
				zones += 1.0 / check.Draws
				break
			}
		}
	}
	return places, zones, hulls, told
}

// Where what the model assumes does not hold: heavy tails, gain drift without
// blocks, a visit effect on the underbody alone. Each must warn, or hold all the same.
func TestWhereTheAssumptionsFailItWarns(t *testing.T) {
	t.Parallel()
	t.Run("gain drifts and no block was read", func(t *testing.T) {
		t.Parallel()
		w := usual()
		w.noBlocks, w.gain = true, 0.05
		r := rand.New(rand.NewPCG(1, 2))
		c := compare(t, w.input(r, w.components(t, r, 2), nothing))
		if !has(c.Notes, "gain-not-checked") {
			t.Error("no warning")
		}
	})
	t.Run("heavy tails are warned of while few like readings stand behind", func(t *testing.T) {
		t.Parallel()
		w := usual()
		w.tail = true
		r := rand.New(rand.NewPCG(1, 3))
		seen, alarms, despite := 0, 0, 0
		for range 400 {
			c := compare(t, w.input(r, w.components(t, r, 2), nothing))
			long := has(c.Notes, "long-tails")
			if long {
				seen++
			}
			if anyChanged(c.Places) {
				alarms++
				if long {
					despite++
				}
			}
			if !has(c.Notes, "leans-on-normal") {
				t.Fatal("no warning")
			}
		}
		// t with 2 degrees of freedom: longer tails than any hull's, and than the tail that
		// is carried on where they are seen. So the warning stands in every case.
		t.Logf("tails seen in %d of 400, false alarms in %d, %d of them though tails were seen", seen, alarms, despite)
		if seen < 200 {
			t.Errorf("tails seen in %d of 400 only", seen)
		}
		if unseen := float64(alarms-despite) / float64(400-seen); float64(despite)/float64(seen) > unseen/2 {
			t.Errorf("false alarms in %d of %d with tails seen, in %.0f %% without", despite, seen, 100*unseen)
		}
	})
	t.Run("with enough like readings heavy tails do no harm", func(t *testing.T) {
		t.Parallel()
		w := usual()
		w.tail, w.places = true, 12
		r := rand.New(rand.NewPCG(1, 5))
		alarms := 0.0
		const n = 600
		for range n {
			c := compare(t, w.input(r, w.components(t, r, 13), nothing))
			if has(c.Notes, "leans-on-normal") {
				t.Fatal("a needless warning")
			}
			if anyChanged(c.Places) {
				alarms += 1.0 / n
			}
		}
		t.Logf("false alarms %.1f %%", 100*alarms)
		if alarms > 0.05+3*math.Sqrt(0.05*0.95/n) {
			t.Errorf("false alarms %v", alarms)
		}
	})
	t.Run("what the visit does to the underbody alone is in the error once measured", func(t *testing.T) {
		t.Parallel()
		w := usual()
		w.sunny = 1.5
		_, zones, hulls, _ := tally(t, w, 8, nothing)
		t.Logf("false alarms with eight like pairs: zones %.1f %%, hull %.1f %%", 100*zones, 100*hulls)
		if zones > 0.09 || hulls > 0.09 {
			t.Errorf("false alarms: zones %v, hull %v", zones, hulls)
		}
		r := rand.New(rand.NewPCG(1, 4))
		if c := compare(t, w.input(r, w.components(t, r, 2), nothing)); !c.Hull.Change.Has("leans-on-baseline") {
			t.Error("with two like pairs the lean on the baseline is not said")
		}
	})
}

// The chance that a true change is shown, at one place of sixty and all over, printed
// beside the least change stated.
func TestPowerOfTheGate(t *testing.T) {
	t.Parallel()
	w := usual()
	const hulls = 150
	var least, told float64
	previous := 0.0
	for _, size := range []float64{0, 2, 4, 6, 8, 10, 12} {
		r := rand.New(rand.NewPCG(11, 12)) // the same hulls for every size
		var one, all float64
		for range hulls {
			c := compare(t, w.input(r, w.components(t, r, 2), func(i int) float64 {
				if i == 17 {
					return size
				}
				return 0
			}))
			if c.Places[17].Answer == change.Changed {
				one += 1.0 / hulls
			}
			if v := c.Places[17].Least; !math.IsInf(v, 1) {
				least, told = least+v, told+1
			}
			c = compare(t, w.input(r, w.components(t, r, 2), func(int) float64 { return size / 4 }))
			if c.Hull.Answer == change.Changed {
				all += 1.0 / hulls
			}
		}
		t.Logf("change %4.1f at one place: shown %.2f; %4.1f all over: shown %.2f", size, one, size/4, all)
		if one < previous-0.02 {
			t.Errorf("a larger change is shown less often: %v after %v", one, previous)
		}
		previous = one
	}
	t.Logf("least change stated: %.2f", least/told)
	if least /= told; least < 5 || least > 8 {
		t.Errorf("least change %v", least)
	}
}

// Interval and least change hold what they state: the interval of one place covers
// the true change, and Ahead foretells what Compare then finds.
func TestAheadForetellsWhatCompareFinds(t *testing.T) {
	t.Parallel()
	w := usual()
	r := rand.New(rand.NewPCG(21, 22))
	known := w.components(t, r, 60)
	known.Left = repeat.Deviation{}
	plan := change.Plan{Places: w.places, Dry: w.dry, KBefore: 3, KAfter: 3, VisitsBefore: 1, VisitsAfter: 1, Contrast: 24, BlockDistance: 60}
	out, err := change.Ahead(known, plan, 0.8, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", out)
	var single, simultaneous, hull int
	const n = 1500
	covered := 0
	for range n {
		c := compare(t, w.input(r, known, func(i int) float64 {
			if i == 0 {
				return out.Place.True
			}
			return 0
		}))
		if v := c.Places[0]; v.Answer == change.Changed {
			simultaneous++
		}
		if v := c.Places[0].Change; v.Lower <= out.Place.True && out.Place.True <= v.Upper {
			covered++
		}
		c = compare(t, w.input(r, known, func(int) float64 { return out.Hull.True }))
		if c.Hull.Answer == change.Changed {
			hull++
		}
		if v := c.Places[1]; v.P >= 0.05 && math.Abs(v.Change.Value) > v.LeastAlone {
			single++
		}
	}
	check.About(t, "interval of a place's change", float64(covered)/n)
	for what, got := range map[string]int{"place": simultaneous, "hull": hull} {
		t.Logf("%s: shown in %.3f, foretold 0.8", what, float64(got)/n)
		if share := float64(got) / n; share < 0.76 || share > 0.84 {
			t.Errorf("%s: shown in %v, foretold 0.8", what, share)
		}
	}
	if single > 0 {
		t.Errorf("LeastAlone and P disagree in %d", single)
	}
	more := plan
	more.KAfter, more.KBefore = 5, 5
	visits := plan
	visits.VisitsAfter = 3
	for name, p := range map[string]change.Plan{"more placements": more, "more visits": visits} {
		better, err := change.Ahead(known, p, 0.8, 0.05)
		if err != nil || better.Place.Shown >= out.Place.Shown || better.Place.Shown < better.Floor {
			t.Errorf("%s: %+v, was %+v (%v)", name, better, out, err)
		}
	}
	if out.Alone.Shown >= out.Place.Shown || out.BaselineFloor > out.Hull.Shown || out.Hull.True < out.Hull.Shown {
		t.Errorf("%+v", out)
	}
}

func TestUntilItIsMeasuredTheAnswerIsCannotTell(t *testing.T) {
	t.Parallel()
	w := usual()
	r := rand.New(rand.NewPCG(31, 32))
	measured := w.components(t, r, 2)
	far := func(int) float64 { return 50 }
	for name, c := range map[string]struct {
		alter func(*change.Input)
		want  []change.Why
	}{
		"nothing measured":      {func(in *change.Input) { in.Components = change.Components{} }, []change.Why{change.NoRepeatability, change.NoLikePairs}},
		"29 re-placements":      {func(in *change.Input) { in.Components.Repeatability.DF = 29 }, []change.Why{change.NoRepeatability}},
		"few like readings":     {func(in *change.Input) { in.Components.Like.DF = 19 }, []change.Why{change.NoLikePairs}},
		"alike, no s_R":         {func(in *change.Input) { in.Alike = true }, []change.Why{change.NoReproducibility}},
		"five dry places":       {func(in *change.Input) { in.Dry = in.Dry[:5] }, []change.Why{change.TooFewDry}},
		"no dry places at all":  {func(in *change.Input) { in.Dry = nil }, []change.Why{change.TooFewDry}},
		"dry places that moved": {func(in *change.Input) { in.Dry[0].After.At += 600; in.Dry[3].After.At -= 600 }, []change.Why{change.DryMoved}},
	} {
		in := w.input(r, measured, far)
		c.alter(&in)
		got := compare(t, in)
		if !slices.Equal(got.Why, c.want) {
			t.Errorf("%s: %v, want %v", name, got.Why, c.want)
		}
		for _, v := range append(got.Places, got.Hull) {
			if v.Answer != change.CannotTell || !math.IsInf(v.Least, 1) || len(v.Why) == 0 || v.Why[0].Sentence() == "" {
				t.Fatalf("%s: %+v", name, v)
			}
		}
	}
}

func TestLimitsGiveBounds(t *testing.T) {
	t.Parallel()
	w := usual()
	r := rand.New(rand.NewPCG(41, 42))
	in := w.input(r, w.components(t, r, 2), nothing)
	in.Places[0].After = measure.Value{At: 2000, Limit: measure.Above} // 100 and beyond, from about 30
	in.Places[1].Before = measure.Value{At: in.Places[1].After.At, Limit: measure.Below}
	c := compare(t, in)
	if v := c.Places[0]; v.Answer != change.Changed || !math.IsInf(v.High, 1) || v.Low < 40 {
		t.Errorf("a reading that left the scale: %+v", v)
	}
	if v := c.Places[1]; v.Answer != change.CannotTell || !slices.Equal(v.Why, []change.Why{change.AtScaleEnd}) || math.IsInf(v.Least, 1) {
		t.Errorf("a bound that decides nothing: %+v", v)
	}
	in.Places[2].Extra = 6
	if a, b := c.Places[2], compare(t, in).Places[2]; math.Abs(b.LeastAlone/a.LeastAlone-math.Hypot(a.LeastAlone/2, 6)/(a.LeastAlone/2)) > 0.12 {
		t.Errorf("a place matched at a distance: %.2f, was %.2f", b.LeastAlone, a.LeastAlone)
	}
	in.Matters = 0.5
	if v := compare(t, in).Places[5]; v.Answer != change.CannotTell || v.Why[0] != change.TooCoarse {
		t.Errorf("a least change above what matters: %+v", v)
	}
}

// The zero of either visit, the order of places, and the direction of time.
func TestVerdictsDoNotDependOnZeroOrderOrDirection(t *testing.T) {
	t.Parallel()
	w := usual()
	r := rand.New(rand.NewPCG(51, 52))
	for range 30 {
		in := w.input(r, w.components(t, r, 2), func(i int) float64 { return float64(i % 9) })
		in.Blocks = nil // the gain is not symmetric in time
		a := compare(t, in)
		moved := in
		moved.Places, moved.Dry = shifted(in.Places), shifted(in.Dry)
		slices.Reverse(moved.Places)
		b := compare(t, moved)
		for i, v := range a.Places {
			u := b.Places[len(b.Places)-1-i]
			if u.Answer != v.Answer || math.Abs(u.Change.Value+v.Change.Value) > 1e-9 || math.Abs(u.Least-v.Least) > 1e-9 {
				t.Fatalf("%+v became %+v", v, u)
			}
		}
	}
}

// shifted swaps before and after, and moves one of them by 7 units.
func shifted(ps []change.Pair) []change.Pair {
	out := slices.Clone(ps)
	for i, p := range ps {
		out[i].Before, out[i].After = p.After, p.Before
		out[i].After.At += 140
	}
	return out
}

func TestComponentsAreFoundAgain(t *testing.T) {
	t.Parallel()
	w := usual()
	r := rand.New(rand.NewPCG(61, 62))
	var sr, placing, placeVisit float64
	const n = 200
	for range n {
		c := w.components(t, r, 3)
		var blind []change.Again
		for range 40 {
			// Blind repeats share the visit, and its place × visit.
			at := 20 + w.placeVisit*r.NormFloat64()
			still := w
			still.placeVisit = 0
			blind = append(blind, change.Again{First: still.read(r, visit{gain: 1}, at, true).At.Units(), Later: still.read(r, visit{gain: 1}, at, true).At.Units(), K: 3})
		}
		again, err := change.Measure(c.Repeatability, blind, likePairs(w, r, 3))
		if err != nil {
			t.Fatal(err)
		}
		sr += c.Repeatability.S * c.Repeatability.S / n
		placing += again.Placing * again.Placing / n
		placeVisit += again.PlaceVisit * again.PlaceVisit / n
	}
	for what, v := range map[string][2]float64{"s_r": {math.Sqrt(sr), w.sr}, "placing": {math.Sqrt(placing), w.placing}, "place × visit": {math.Sqrt(placeVisit), w.placeVisit}} {
		t.Logf("%s: %.3f, true %.3f", what, v[0], v[1])
		if math.Abs(v[0]/v[1]-1) > 0.06 {
			t.Errorf("%s: %.3f, true %.3f", what, v[0], v[1])
		}
	}
}

func likePairs(w world, r *rand.Rand, n int) (like []change.LikePair) {
	for range n {
		a, b := w.visit(r), w.visit(r)
		a.gain, b.gain = 1, 1
		p := change.LikePair{KBefore: 3, KAfter: 3}
		for i := range 20 {
			p.Differences = append(p.Differences, w.read(r, b, float64(i), true).At.Units()-w.read(r, a, float64(i), true).At.Units())
		}
		like = append(like, p)
	}
	return like
}

// The variance of the Hodges-Lehmann centre of 6 to 20 dry places is that of a mean
// times 1.07 at most, within the error of 20 000 draws.
func TestTheDryCentreIsAsSureAsTaken(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(71, 72))
	for _, n := range []int{6, 8, 12, 20} {
		var v float64
		const draws = 20000
		x := make([]float64, n)
		for range draws {
			for i := range x {
				x[i] = r.NormFloat64()
			}
			e, _ := order.HodgesLehmann(x, 0.95)
			v += e.Value * e.Value * float64(n) / draws
		}
		t.Logf("n = %d: %.3f", n, v)
		if v > 1.07*1.03 {
			t.Errorf("n = %d: %.3f", n, v)
		}
	}
}

// Exact tests call no more than they state; Student's holds for normal differences.
func TestPairedTestsCallNoMoreThanTheyState(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range []int{6, 12, 40} {
			signed := check.Share(uint64(800+10*i+n), func(r *rand.Rand) bool {
				// The difference of two draws of anything is even about zero.
				w, err := change.SignedRank(minus(p.Fill(r, n), p.Fill(r, n)), change.Drop)
				return err == nil && w.P > 0.05
			})
			check.AtLeast(t, fmt.Sprintf("signed rank, %s, n = %d", p.Name, n), signed, 0.95)
			student := check.Share(uint64(900+10*i+n), func(r *rand.Rand) bool {
				w, err := change.PairedT(minus(p.Fill(r, n), p.Fill(r, n)), 0.95)
				return err == nil && w.P > 0.05
			})
			if p.Name == "normal" {
				check.About(t, fmt.Sprintf("paired t, n = %d", n), student)
			} else {
				check.AtLeast(t, fmt.Sprintf("paired t, %s, n = %d", p.Name, n), student, 0.95)
			}
		}
	}
}

func FuzzCompare(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 200, 201}, 1.0, 2.0, 60.0)
	f.Fuzz(func(t *testing.T, raw []byte, sr, like, high float64) {
		c := change.Components{
			Repeatability: repeat.Deviation{S: math.Abs(sr), DF: 40}, Like: repeat.Deviation{S: math.Abs(like), DF: 40}, LikeRep: 0.9,
		}
		if math.IsNaN(sr+like) || sr*sr+like*like > 1e100 {
			return
		}
		in := change.Input{Components: c, Rate: 0.05, LeastDry: 2, Blocks: &change.Blocks{LowBefore: 10, LowAfter: 11, HighBefore: 70, HighAfter: high, K: 2}}
		for i := 0; i+1 < len(raw); i += 2 {
			p := change.Pair{
				Before:  measure.Value{At: measure.Twentieth(raw[i]) * 8, Limit: measure.Limit(raw[i+1] % 3)},
				After:   measure.Value{At: measure.Twentieth(raw[i+1]) * 8, Limit: measure.Limit(raw[i] % 3)},
				KBefore: 1 + int(raw[i]%5), KAfter: 3, Zone: string(rune('a' + raw[i]%2)),
			}
			if i%3 == 0 {
				in.Dry = append(in.Dry, p)
			} else {
				in.Places = append(in.Places, p)
			}
		}
		got, err := change.Compare(in)
		if err != nil {
			return
		}
		for _, v := range append(got.Places, got.Hull) {
			for _, x := range []float64{v.P, v.Adjusted, v.Least, v.LeastAlone, v.Low, v.High, v.Change.Value, v.Change.Lower, v.Change.Upper} {
				if math.IsNaN(x) {
					t.Fatalf("NaN in %+v", v)
				}
			}
		}
	})
}

func BenchmarkCompare300Places(b *testing.B) {
	w := usual()
	w.places, w.dry = 288, 12
	r := rand.New(rand.NewPCG(1, 1))
	in := w.input(r, w.components(b, r, 2), nothing)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := change.Compare(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSignedRank60(b *testing.B) {
	d := check.Populations()[0].Fill(rand.New(rand.NewPCG(1, 1)), 60)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := change.SignedRank(d, change.Drop); err != nil {
			b.Fatal(err)
		}
	}
}
