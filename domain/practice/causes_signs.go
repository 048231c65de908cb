package practice

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/report"
)

// witness gathers the facts of one pass.
type witness struct {
	src    CauseSources
	pass   *HistoryPass
	layers []lying
	skin   *skin // nil: too few places
	units  report.Units
	unsaid []cause.Fact // of the matter at hand: signs that could not be looked for, and why
}

func (w *witness) fact(sign cause.SignCode, detail string, places []int32, see ...domain.Ref) cause.Fact {
	return cause.Fact{Sign: sign, Detail: detail, Places: places, See: see}
}

func (w *witness) thisPass() domain.Ref { return ref(domain.ThingPass, w.pass.ID) }

// common are facts that bear on the hull at large and on every patch alike: the
// instrument, the hand, the weather, what was done to her.
func (w *witness) common() []cause.Fact {
	var out []cause.Fact
	for _, f := range []func() (cause.Fact, bool){w.block, w.repeats, w.dewPoint, w.weather, w.treated, w.baselineRose} {
		if fact, is := f(); is {
			out = append(out, fact)
		}
	}
	return out
}

// block holds the checks of the pass against each other, block by block.
func (w *witness) block() (cause.Fact, bool) {
	before, after := map[string]int32{}, map[string]int32{}
	var see []domain.Ref
	for _, c := range w.pass.BlockChecks {
		if c.Block == "air" {
			continue
		}
		switch see = append(see, ref(domain.ThingBlockCheck, c.ID)); c.Moment {
		case "before":
			before[c.Block] = c.ValueTenths
		case "after":
			after[c.Block] = c.ValueTenths
		}
	}
	most, both := 0.0, false
	for block, v := range before {
		if x, again := after[block]; again {
			most, both = max(most, float64(abs(x-v))/10), true
		}
	}
	limit, measured := w.limit()
	if both && !measured {
		w.unmeasured(cause.BlockAgrees)
	}
	sign := cause.BlockAgrees
	if most > limit {
		sign = cause.BlockDrifted
	}
	return w.fact(sign, report.BlockMoved(most), nil, see...), both && measured
}

// leastRepeats is how many places read again say something of the hand. Own choice, no source.
const leastRepeats = 3

// repeats holds what was read again against the first readings.
func (w *witness) repeats() (cause.Fact, bool) {
	var apart []float64
	for _, r := range w.src.Repeats {
		if r.PassID == w.pass.ID {
			apart = append(apart, math.Abs(float64(r.Again-r.First))/20)
		}
	}
	enough := len(apart) >= leastRepeats
	limit, measured := w.limit()
	if enough && !measured {
		w.unmeasured(cause.RepeatsAgree)
	}
	sign, m := cause.RepeatsAgree, middleOf(apart)
	if m > limit {
		sign = cause.RepeatsDiffer
	}
	return w.fact(sign, report.RepeatsMoved(m, len(apart)), nil, w.thisPass()), enough && measured
}

// dewMargin is what keeps condensation off: 3 °C, written for coating steel [S25].
const dewMargin = 3

func (w *witness) dewPoint() (cause.Fact, bool) {
	p := w.pass
	skin := colder(p.SkinPortDecidegrees, p.SkinStarboardDecidegrees)
	if p.AirDecidegrees == nil || p.HumidityPermille == nil || skin == nil {
		return cause.Fact{}, false
	}
	dew, err := air.DewPoint(celsius(*p.AirDecidegrees), percent(*p.HumidityPermille))
	margin := float64(celsius(*skin) - dew)
	sign := cause.AboveDewPoint
	if margin < dewMargin {
		sign = cause.AtDewPoint
	}
	return w.fact(sign, report.DewMargin(margin, w.units), nil, w.thisPass()), err == nil
}

func colder(a, b *int16) *int16 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

// surfaceHours is how long rain or a wash is felt by a shallow-sensing instrument [C].
const surfaceHours = 168

func (w *witness) weather() (cause.Fact, bool) {
	p := w.pass
	ashore, dated := p.Ashore()
	wet := p.Rain == "light" || p.Rain == "heavy" || p.HoursSinceWash != nil && *p.HoursSinceWash < surfaceHours || dated && ashore.Most < 7
	clear := p.Rain == "none" && p.HoursSinceWash != nil && !wet && !(dated && ashore.Least < 7)
	sign := cause.NoRainNoWash
	if wet {
		sign = cause.RainOrWash
	}
	return w.fact(sign, "", nil, w.thisPass()), wet || clear
}

// treated looks for a treatment in the five years before.
func (w *witness) treated() (cause.Fact, bool) {
	known := false
	for _, e := range w.src.Events {
		if e.Kind != "treatment" || e.FromOn.After(w.pass.BeganAt) {
			continue
		}
		known = true
		if e.ToOn.After(w.pass.BeganAt.AddDate(-5, 0, 0)) {
			return w.fact(cause.TreatedHigh, e.What, nil, ref(domain.ThingEvent, e.ID)), true
		}
	}
	return w.fact(cause.Untreated, "", nil), !known && len(w.src.Events) > 0
}

// atLarge are the facts of the hull as a whole.
func (w *witness) atLarge(patches int) []cause.Fact {
	var out []cause.Fact
	if b := w.pass.Baseline; b.Valid() {
		ashore, dated := w.pass.Ashore()
		sign := cause.UnderbodyHigh
		if dated && ashore.Most < 3 {
			sign = cause.UnderbodyFresh
		}
		if above := float64(b.Contrast.Low) / 40; above > 2.5*b.Scatter {
			out = append(out, w.fact(sign, report.OverBaseline(above), nil, w.thisPass()))
		}
	}
	if patches == 0 && w.skin != nil {
		out = append(out, w.fact(cause.NoPatch, "", nil, w.thisPass()))
	}
	if l, is := w.metalCoating(); is {
		out = append(out, w.fact(cause.CopperCoating, report.LiesBehind(l.What, l.HowKnown), nil, ref(domain.ThingLayer, l.ID)))
	}
	return append(out, w.built(nil)...)
}

// metalCoating finds a coating with metal in it over the whole hull.
func (w *witness) metalCoating() (lying, bool) {
	for _, l := range w.layers {
		what := strings.ToLower(l.What)
		if l.Kind == "coating" && (strings.Contains(what, "copper") || strings.Contains(what, "flake") || strings.Contains(what, "metal")) && !strings.Contains(what, "without") && w.part(l, nil) > overlapPart {
			return l, true
		}
	}
	return lying{}, false
}

// part is the share of slots that a layer covers; a layer of the whole element covers all.
func (w *witness) part(l lying, slots []int) float64 {
	if len(slots) == 0 {
		if len(l.outline) == 0 && l.Side == nil {
			return 1
		}
		return 0
	}
	n := 0
	for _, k := range slots {
		if l.covers(w.src.History.Axis, k) {
			n++
		}
	}
	return float64(n) / float64(len(slots))
}

// built says what the construction there is, as far as known.
func (w *witness) built(slots []int) (out []cause.Fact) {
	for _, l := range w.layers {
		if l.Kind != "construction" || w.part(l, slots) <= overlapPart {
			continue
		}
		if sign, is := builtAs(l.What); is {
			out = append(out, w.fact(sign, report.LiesBehind(l.What, l.HowKnown), nil, ref(domain.ThingLayer, l.ID)))
		}
	}
	return out
}

func builtAs(what string) (cause.SignCode, bool) {
	what = strings.ToLower(what)
	for _, word := range []string{"single skin", "solid laminate"} {
		if strings.HasPrefix(what, word) {
			return cause.SingleSkin, true
		}
	}
	return cause.Sandwich, strings.HasPrefix(what, "sandwich")
}

// sandwich tells whether the patch is known to be sandwich.
func (w *witness) sandwich(slots []int) bool {
	return slices.ContainsFunc(w.built(slots), func(f cause.Fact) bool { return f.Sign == cause.Sandwich })
}

// ofPatch are the facts that readings and the map give of a patch.
func (w *witness) ofPatch(p patch) []cause.Fact {
	places := ordinals(p.slots)
	var out []cause.Fact
	add := func(sign cause.SignCode, detail string, see ...domain.Ref) {
		out = append(out, w.fact(sign, detail, places, see...))
	}
	if p.high() {
		add(cause.Patch, report.StandsOver(p.by, len(p.slots)), w.thisPass())
		w.edges(p, add)
		w.sides(p, add)
		w.coated(p, add)
	}
	w.behind(p, add)
	return append(out, w.built(p.slots)...)
}

// adder takes a fact of the patch at hand.
type adder func(sign cause.SignCode, detail string, see ...domain.Ref)

// edges says whether the patch fills its rectangle evenly, or does not: what lies behind
// ends at a line, what spreads from a spot fades. Six places at least, three by two:
// fewer have no shape. Own choice, no source.
func (w *witness) edges(p patch, add adder) {
	a := w.src.History.Axis
	low, high := box(a, p.slots)
	stations, rows := (high[0]-low[0])/w.skin.along+1, (high[1]-low[1])/w.skin.down+1
	inBox := 0
	for _, k := range w.skin.slots {
		if p.onSide(a, a.Sides[k]) && a.Along[k] >= low[0] && a.Along[k] <= high[0] && a.Down[k] >= low[1] && a.Down[k] <= high[1] {
			inBox++
		}
	}
	read := len(w.skin.read(p))
	switch filled := float64(read) / float64(max(inBox, 1)); {
	case read < 6 || min(stations, rows) < 2:
	case filled >= 0.85 && w.even(p):
		add(cause.StraightEdges, "", w.thisPass())
	case filled < 0.65 || !w.even(p):
		add(cause.Dispersed, "", w.thisPass())
	}
	top := int32(0)
	if w.pass.BootTopMm != nil {
		top = -*w.pass.BootTopMm
	}
	if high[1] <= top+w.skin.down && stations >= 4 {
		add(cause.BandAtBootTop, "", w.thisPass())
	}
}

// even tells whether the patch stands about equally high all over: its lower quartile at
// least 0.6 of its upper one.
func (w *witness) even(p patch) bool {
	var by []float64
	for _, i := range w.skin.read(p) {
		by = append(by, w.skin.left.Residual[i])
	}
	slices.Sort(by)
	return by[len(by)/4] >= 0.6*by[len(by)-1-len(by)/4]
}

// onSide tells whether a place of the patch lies on a side.
func (p patch) onSide(a Axis, side string) bool {
	return slices.ContainsFunc(p.slots, func(k int) bool { return a.Sides[k] == side })
}

func box(a Axis, slots []int) (low, high [2]int32) {
	low, high = [2]int32{math.MaxInt32, math.MaxInt32}, [2]int32{math.MinInt32, math.MinInt32}
	for _, k := range slots {
		low[0], low[1] = min(low[0], a.Along[k]), min(low[1], a.Down[k])
		high[0], high[1] = max(high[0], a.Along[k]), max(high[1], a.Down[k])
	}
	return low, high
}

// sides holds the patch against its mirror.
func (w *witness) sides(p patch, add adder) {
	var z, apart []float64
	for _, i := range w.skin.read(p) {
		if twin := w.skin.mirror[i]; twin >= 0 {
			z, apart = append(z, w.skin.left.Z[twin]), append(apart, w.skin.values[i]-w.skin.values[twin])
		}
	}
	switch m := middleOf(z); {
	case len(z) == 0:
	case m < p.z/3:
		add(cause.OneSide, report.SidesApart(middleOf(apart)), w.thisPass())
	case m >= mirrorCut:
		add(cause.BothSides, "", w.thisPass())
	}
}

// coated says whether the patch lies just where a coating was drawn. One that lies over
// the whole hull explains no patch.
func (w *witness) coated(p patch, add adder) {
	for _, l := range w.layers {
		if l.Kind == "coating" && len(l.outline) > 2 && w.part(l, p.slots) >= overlapPart && w.filled(l, p) >= overlapPart {
			add(cause.OnlyUnderCoating, report.LiesBehind(l.What, l.HowKnown), ref(domain.ThingLayer, l.ID))
		}
	}
}

// filled is the share of the places read over a layer that belong to the patch.
func (w *witness) filled(l lying, p patch) float64 {
	over, in := 0, 0
	for _, k := range w.skin.slots {
		if l.covers(w.src.History.Axis, k) {
			if over++; slices.Contains(p.slots, k) {
				in++
			}
		}
	}
	if over == 0 {
		return 0
	}
	return float64(in) / float64(over)
}

// behind holds the patch against the map of what lies behind.
func (w *witness) behind(p patch, add adder) {
	mapped, matched := false, false
	for _, l := range w.layers {
		if l.Kind != "behind" {
			continue
		}
		mapped = true
		switch {
		case l.fitting():
			matched = w.atFitting(l, p, add) || matched
		case len(l.outline) > 2 && w.part(l, p.slots) >= overlapPart:
			matched = true
			w.overLayer(l, p, add)
		}
	}
	if mapped && !matched && p.high() {
		add(cause.NothingMapped, "")
	}
}

func (w *witness) atFitting(l lying, p patch, add adder) bool {
	a := w.src.History.Axis
	near := slices.ContainsFunc(p.slots, func(k int) bool { return l.onSide(a, k) && l.away(a, k) <= fittingMm })
	if !near {
		return false
	}
	see := ref(domain.ThingLayer, l.ID)
	add(cause.AtFitting, report.LiesBehind(l.What, l.HowKnown), see)
	if p.high() && w.round(l, p) {
		add(cause.RoundFitting, l.What, see, w.thisPass())
	}
	return true
}

// round tells whether the patch is highest at the fitting and no wider than three
// stations and four rows.
func (w *witness) round(l lying, p patch) bool {
	a := w.src.History.Axis
	low, high := box(a, p.slots)
	peak := slices.MaxFunc(w.skin.read(p), func(x, y int) int { return cmp.Compare(w.skin.left.Z[x], w.skin.left.Z[y]) })
	return l.away(a, w.skin.slots[peak]) <= fittingMm && high[0]-low[0] <= 3*w.skin.along && high[1]-low[1] <= 4*w.skin.down
}

func (w *witness) overLayer(l lying, p patch, add adder) {
	what, see := strings.ToLower(l.What), ref(domain.ThingLayer, l.ID)
	sign := cause.OverBehind
	if strings.Contains(what, "liner") || strings.Contains(what, "bilge") {
		sign = cause.OverLiner
	}
	if sign == cause.OverLiner || w.skin == nil || w.filled(l, p) >= overlapPart {
		add(sign, report.LiesBehind(l.What, l.HowKnown), see)
	}
	if strings.Contains(what, "tank") && w.skin != nil {
		w.level(l, p, add)
	}
}

// over is how far the places of a patch stood above the rest of the underbody in a pass.
func (w *witness) over(other *HistoryPass, p patch) (float64, bool) {
	var in, out []float64
	for k := range w.src.History.Axis.IDs {
		if w.src.History.Axis.Down[k] <= 0 {
			continue
		}
		v, ok := other.value(k)
		if !ok {
			continue
		}
		if slices.Contains(p.slots, k) {
			in = append(in, v.At.Units())
		} else {
			out = append(out, v.At.Units())
		}
	}
	return middleOf(in) - middleOf(out), len(in)*2 >= len(p.slots) && len(out) >= 6
}

// tank is what was noted of the tanks at a visit, lower case.
func (w *witness) tank(visit uuid.UUID) string {
	for _, c := range w.src.Conditions {
		if c.VisitID == visit && c.TankLevel != "" {
			return strings.ToLower(c.TankLevel)
		}
	}
	return ""
}

// found turns what was seen, heard, smelt or opened into facts. near says which
// findings belong to the matter.
func (w *witness) found(p *patch, near func(places []int32) bool) (out []cause.Fact) {
	for _, f := range w.src.Findings {
		if !near(f.Places) || f.Sure == "suspected" || !w.current(f.VisitAt, f.Places) {
			continue
		}
		detail := report.FoundOn(f.Kind, report.Day(f.VisitAt, Zone(f.TimeZone)))
		for _, sign := range w.signsOf(f, p) {
			out = append(out, w.fact(sign, detail, f.Places, ref(domain.ThingFinding, f.ID)))
		}
	}
	return out
}

// current tells whether a finding still speaks: of the year before the pass, or of a
// place and no older than six years; and not of later than half a year after it, unless
// the pass is the newest. Own choice, no source.
func (w *witness) current(at time.Time, places []int32) bool {
	years := -1
	if len(places) > 0 {
		years = -6
	}
	newest := !slices.ContainsFunc(w.src.History.Passes, func(p HistoryPass) bool { return p.BeganAt.After(w.pass.BeganAt.AddDate(0, 0, 1)) })
	return at.After(w.pass.BeganAt.AddDate(years, 0, 0)) && (newest || at.Before(w.pass.BeganAt.AddDate(0, 6, 0)))
}

// measured are the figures of a finding that the ledger understands.
func (f CauseFinding) measured(name string) (float64, bool) {
	figures := map[string]any{}
	if json.Unmarshal(f.Measured, &figures) != nil {
		return 0, false
	}
	for key, v := range figures {
		if x, number := v.(float64); number && strings.HasPrefix(strings.ToLower(key), name) {
			return x, true
		}
	}
	return 0, false
}

// signsOf reads a finding by its kind and its figures, never by its sentences: those may
// say that something was not seen.
func (w *witness) signsOf(f CauseFinding, p *patch) (out []cause.SignCode) {
	kind := strings.ToLower(f.Kind)
	is := func(words ...string) bool {
		return slices.ContainsFunc(words, func(x string) bool { return strings.Contains(kind, x) })
	}
	_, dull := f.measured("dull note")
	_, plug := f.measured("plug")
	count, counted := f.measured("count")
	switch {
	case is("blister") && counted && count == 0: // looked for and none seen: of that area alone
	case is("blister"):
		out = append(out, map[bool]cause.SignCode{true: cause.BlistersLow, false: cause.BlistersSeen}[p != nil && p.low()])
		if pH, tested := f.measured("ph"); tested && pH <= 6 {
			out = append(out, cause.LiquidAcid)
		} else if tested && pH < 8.5 { // report.Acidity; what is alkaline says neither
			out = append(out, cause.LiquidNeutral)
		}
	case is("clear note"):
		out = append(out, w.note(cause.ClearHighSandwich, cause.ClearNote, cause.ClearNote, p)...)
	case is("weep", "stain", "seep"):
		out = append(out, w.weep(f))
	case is("crack") && p != nil && p.high():
		out = append(out, cause.CracksWet)
	case is("bulge"):
		out = append(out, cause.SoftBulges)
	case is("crystal"):
		out = append(out, cause.Crystals)
	case is("proud fibre", "fibres proud"):
		out = append(out, cause.FibresProud)
	case is("wet core") && plug:
		out = append(out, cause.CoreWet)
	case is("delamination") && plug:
		out = append(out, cause.PliesParted)
	}
	if is("dull") || dull {
		out = append(out, w.note(cause.DullHighSandwich, cause.DullHigh, cause.DullLow, p)...)
	}
	return out
}

// note picks what a note under the hammer says where the instrument reads high in
// sandwich, high elsewhere, or low. Of the hull at large and of places that were not read
// nobody knows which: then a clear note alone says anything.
func (w *witness) note(sandwich, other, low cause.SignCode, p *patch) []cause.SignCode {
	switch {
	case p != nil && p.low():
		return []cause.SignCode{low}
	case p != nil && p.high() && w.sandwich(p.slots):
		return []cause.SignCode{sandwich}
	case p != nil && p.high() || other == low:
		return []cause.SignCode{other}
	}
	return nil
}

// weep tells whether a weep lies at a fitting.
func (w *witness) weep(f CauseFinding) cause.SignCode {
	for _, o := range f.Places {
		if _, near := fittingAt(w.layers, w.src.History.Axis, int(o)-1); near {
			return cause.WeepAtFitting
		}
	}
	return cause.Weep
}

// checked turns checks into facts: those made at places of the matter, and those made
// of the hull at large, which bear on every matter.
func (w *witness) checked(near func(places []int32) bool) (out []cause.Fact) {
	for _, c := range w.src.Checks {
		if c.WithdrawnAt != nil || len(c.Ordinals) > 0 && !near(c.Ordinals) || !w.current(c.VisitAt, c.Ordinals) {
			continue
		}
		out = append(out, w.fact(cause.SignCode(c.Outcome), checkDetail(c), c.Ordinals, ref(domain.ThingCauseCheck, c.ID)))
	}
	return out
}

func checkDetail(c CauseCheck) string {
	on := report.Day(c.VisitAt, Zone(c.TimeZone))
	if c.ByName != "" {
		on = fmt.Sprintf("%s, %s", c.ByName, on)
	}
	if c.Note != "" {
		return c.Note + " (" + on + ")"
	}
	return on
}

// bared turns windows into facts: blisters in a window were seen; a window without one
// rules out almost nothing (trade notes, fact 4) and says nothing.
func (w *witness) bared(in func(x CauseWindow) bool) []cause.Fact {
	seen, on := 0, ""
	var see []domain.Ref
	for _, x := range w.src.Windows {
		if x.BlistersSeen > 0 && in(x) && w.current(x.VisitAt, nil) {
			seen, on = seen+int(x.BlistersSeen), report.Day(x.VisitAt, Zone(x.TimeZone))
			see = append(see, ref(domain.ThingWindow, x.ID))
		}
	}
	if seen == 0 {
		return nil
	}
	return []cause.Fact{w.fact(cause.BlistersSeen, report.FoundOn(report.Count(seen, "blister in a window", "blisters in windows"), on), nil, see...)}
}

func ordinals(slots []int) []int32 {
	out := make([]int32, len(slots))
	for i, k := range slots {
		out[i] = int32(k + 1)
	}
	return out
}
