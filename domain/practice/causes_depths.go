package practice

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/google/uuid"

	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/report"
)

// DepthPairs is how places read deep- and shallow-sensing went between two visits, as the
// gate answers for each depth.
type DepthPairs struct {
	From, To DepthVisit      // zero where there are no two visits
	Patterns []cause.Pattern // by slot; empty where the place was not read four times
	Deep     Column          // change of contrast, twentieths
	Shallow  Column
	Large    cause.Pattern // of the hull at large, by its medians
	Withheld string        // why the gate answers for no place; empty where it does
	Says     report.Sentence
}

// DepthVisit is the two passes of a visit, one of each depth.
type DepthVisit struct {
	Deep, Shallow *HistoryPass
}

func (v DepthVisit) whole() bool { return v.Deep != nil && v.Shallow != nil }

// depthVisit finds the passes of a visit with a baseline, one of each depth.
func (w *witness) depthVisit(visit uuid.UUID) (v DepthVisit) {
	for k := range w.src.History.Passes {
		p := &w.src.History.Passes[k]
		if p.VisitID != visit || p.quoted() || p.ElementID != w.pass.ElementID || !p.Baseline.Valid() {
			continue
		}
		switch p.Sensing {
		case "deep":
			v.Deep = p
		case "shallow":
			v.Shallow = p
		}
	}
	return v
}

// depthSteps are the visits up to the pass at which both depths were read, each held
// against the newest earlier one by the same two instruments on the same kind of surface.
func (w *witness) depthSteps() (out []DepthPairs) {
	var visits []DepthVisit
	var seen []uuid.UUID
	for _, p := range w.src.History.Passes {
		if slices.Contains(seen, p.VisitID) || p.BeganAt.After(w.pass.BeganAt) && p.VisitID != w.pass.VisitID {
			continue
		}
		seen = append(seen, p.VisitID)
		to := w.depthVisit(p.VisitID)
		if !to.whole() {
			continue
		}
		for _, from := range slices.Backward(visits) {
			if sameTool(from.Deep, to.Deep) && sameTool(from.Shallow, to.Shallow) {
				d := DepthPairs{From: from, To: to}
				d.fill(w.beside(from.Deep, to.Deep), w.beside(from.Shallow, to.Shallow))
				out = append(out, d)
				break
			}
		}
		visits = append(visits, to)
	}
	return out
}

// lastStep is the step that ends with the visit of the pass, or says that there is none.
func (w *witness) lastStep(steps []DepthPairs) DepthPairs {
	if n := len(steps); n > 0 && steps[n-1].To.Deep.VisitID == w.pass.VisitID {
		return steps[n-1]
	}
	return DepthPairs{Says: report.DepthsSaid(0, "", nil)}
}

func sameTool(a, b *HistoryPass) bool {
	return equal(a.InstrumentID, b.InstrumentID) && equal(a.ScaleID, b.ScaleID) && a.Surface == b.Surface && a.Surface != ""
}

// fill names the pattern of each place of the underbody that was read four times.
func (d *DepthPairs) fill(deep, shallow *Gate) {
	d.Withheld = cmp.Or(deep.withheld(), shallow.withheld())
	d.Deep, d.Shallow = deep.Differences, shallow.Differences
	d.Patterns = make([]cause.Pattern, len(d.Deep))
	deepLeft, shallowLeft := leastLeft(d.From.Deep, d.To.Deep, cause.DeepDepth), leastLeft(d.From.Shallow, d.To.Shallow, cause.ShallowDepth)
	count := map[cause.Pattern]int{}
	paired := 0
	for k := range d.Patterns {
		if !readFour(deep, k) || !readFour(shallow, k) {
			continue
		}
		due := func(p *HistoryPass, left float64) float64 { return float64(max(p.Contrasts[k], 0)) / 20 * (1 - left) }
		d.Patterns[k] = cause.Depths(deep.moved(k, due(d.From.Deep, deepLeft)), shallow.moved(k, due(d.From.Shallow, shallowLeft)))
		count[d.Patterns[k]]++
		paired++
	}
	d.Large = cause.Depths(deep.movedAtLarge(d.From.Deep, deepLeft), shallow.movedAtLarge(d.From.Shallow, shallowLeft))
	d.Says = report.DepthsSaid(paired, patternWords[d.Large], patternsSaid(count))
	if d.Withheld != "" {
		d.Says = report.DepthsWithheld(paired, d.Withheld)
	}
}

// readFour tells whether a place was read at both visits of a gate.
func readFour(g *Gate, k int) bool {
	return g.Verdicts.At(k) != Null && !slices.Contains([]string{"not-read", "void"}, g.Whys[k])
}

// moved is what the gate says of a place, as a pattern takes it.
func (g *Gate) moved(k int, due float64) cause.Moved {
	m := cause.Moved{Went: g.went(k), Due: due}
	if m.Went == cause.Untold || g.Leasts.At(k) == Null {
		return cause.Moved{}
	}
	m.By, m.Limit = float64(g.Differences[k])/20, float64(g.Leasts[k])/20
	m.Around, m.AroundWent = g.Hull.around()
	return m
}

// movedAtLarge is what it says of the underbody as a whole, which has the least change of
// a mean and so tells what single places cannot; left is the share of the signal that
// the diffusion band would leave.
func (g *Gate) movedAtLarge(from *HistoryPass, left float64) cause.Moved {
	by, went := g.Hull.around()
	m := cause.Moved{Went: went, By: by, Around: by, AroundWent: went, Due: float64(from.Baseline.Contrast.Low) / 40 * (1 - left)}
	if g.Hull.Least != nil {
		m.Limit = *g.Hull.Least * medianOfMean
	}
	return m
}

// medianOfMean is how much wider the error of a median is than that of a mean: √(π/2).
const medianOfMean = 1.2533

// around is how the underbody at large went, by its median, which one field does not
// carry, held against the hull's least change.
func (v GateVerdict) around() (by float64, went cause.Went) {
	if v.Median == nil || v.Least == nil {
		return 0, cause.Untold
	}
	switch by, least := *v.Median, *v.Least*medianOfMean; {
	case by > least:
		return by, cause.Rose
	case by < -least:
		return by, cause.Fell
	default:
		return by, cause.Flat
	}
}

// leastLeft is the share of the first visit's signal that the slowest diffusivity of the
// band would leave at the second, 1 where they are not of one time ashore.
func leastLeft(from, to *HistoryPass, depth unit.Millimetres) float64 {
	one, _, known := from.DaysAshore()
	two, _, also := to.DaysAshore()
	if !known || !also || !equal(from.LiftedAt, to.LiftedAt) || two <= one {
		return 1
	}
	seen, err := cause.SeenAfter(diffusion.PolyesterLaminate().Low, unit.Days(one), unit.Days(two))
	if err != nil {
		return 1
	}
	if depth == cause.DeepDepth {
		return seen[1].Deep / seen[0].Deep
	}
	return seen[1].Shallow / seen[0].Shallow
}

// patternWords are the patterns in a sentence.
var patternWords = map[cause.Pattern]string{
	cause.SurfaceJumped: "as surface water goes", cause.NormalDrying: "as ordinary drying goes", cause.Stalled: "flat on both where a fall was due",
	cause.BehindOrStored: "deep stays while the rest falls", cause.NothingShown: "no pattern shown", cause.CannotTell: "cannot be told",
}

func patternsSaid(count map[cause.Pattern]int) (out []string) {
	var seen []cause.Pattern
	for p := range count {
		seen = append(seen, p)
	}
	slices.SortFunc(seen, func(a, b cause.Pattern) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b))
	})
	for _, p := range seen {
		out = append(out, report.Count(count[p], "place", "places")+" "+patternWords[p])
	}
	return out
}

// depthsAt are the facts that the two depths give of a patch: its pattern over time, and
// how the other depth read it at the same visit.
func (w *witness) depthsAt(p patch, pairs DepthPairs) (out []cause.Fact) {
	places := ordinals(p.slots)
	if pairs.Withheld != "" {
		w.untold(cause.DeepStays, pairs.Withheld, places, w.thisPass())
		w.untold(cause.ShallowJumped, pairs.Withheld, places, w.thisPass())
	}
	count := map[cause.Pattern]int{}
	for _, k := range p.slots {
		if k < len(pairs.Patterns) && pairs.Patterns[k] != "" {
			count[pairs.Patterns[k]]++
		}
	}
	for pattern, sign := range map[cause.Pattern]cause.SignCode{cause.BehindOrStored: cause.DeepStays, cause.SurfaceJumped: cause.ShallowJumped} {
		if 2*count[pattern] > len(p.slots) {
			out = append(out, w.fact(sign, "", places, w.thisPass()))
		}
	}
	if other, is := w.otherDepth(); is && p.high() {
		if sign, says := alike(p, other); says {
			out = append(out, w.fact(sign, other.pass.InstrumentName, places, w.thisPass()))
		}
	}
	return out
}

// otherDepth is the skin of the same visit as the instrument of the other depth read it.
func (w *witness) otherDepth() (*skin, bool) {
	for k := range w.src.History.Passes {
		p := &w.src.History.Passes[k]
		if p.VisitID == w.pass.VisitID && p.Sensing != w.pass.Sensing && (p.Sensing == "deep" || p.Sensing == "shallow") && !p.quoted() && p.ElementID == w.pass.ElementID {
			if s := skinOf(w.src.History.Axis, p, w.layers); s != nil {
				return s, true
			}
		}
	}
	return nil, false
}

// alike tells what a patch found with one depth shows with the other. A patch of the
// deep-sensing instrument that the shallow one does not see lies deep; one of the
// shallow alone says nothing of its own.
func alike(p patch, other *skin) (cause.SignCode, bool) {
	there := patch{slots: p.slots}
	other.weigh(&there)
	switch {
	case math.IsNaN(there.z):
		return "", false
	case there.z >= mirrorCut:
		return cause.BothDepths, true
	case other.pass.Sensing == "shallow" && there.z < mirrorCut/2:
		return cause.DeepOnly, true
	}
	return "", false
}

// DepthTable is what is left of the starting signal as instruments of three depths would
// see it: after days ashore, and after days since rain. The trade's worked table, computed.
func DepthTable() (ashore, sinceRain []cause.Seen) { return depthTable() }

var depthTable = sync.OnceValues(func() (ashore, sinceRain []cause.Seen) {
	d := diffusion.PolyesterLaminate().Typical
	ashore, err := cause.SeenAfter(d, 0, 1, 7, 21, 60, 240)
	if err == nil {
		sinceRain, err = cause.SeenAfterRain(d, 60, 2, 0, 1, 7)
	}
	if err != nil { // cannot be: the figures are the package's own
		return nil, nil
	}
	return ashore, sinceRain
})
