package change

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

// Verdict is what can be said of one place, one zone or the whole hull.
type Verdict struct {
	Answer Answer
	Why    []Why // for cannot tell

	// Change is the difference, after less before, with the visit taken out, scale
	// units; its interval is for this one alone. Where a reading met the scale's end
	// Value is the known end and [Low, High] is open.
	Change    measure.Estimate
	Low, High float64

	P, Adjusted float64 // chance of so large a difference without change; for all compared

	// Least is the least change that could have been shown here among all compared
	// (simultaneous limit); a true change of that size had about an even chance. LeastAlone
	// is what it would be if this were the only place looked at. Both +Inf where
	// nothing can be told.
	Least, LeastAlone float64

	Places int
}

// Comparison is the answer for two passes.
type Comparison struct {
	Visit measure.Estimate // what the visit did to every reading, from the dry places, scale units
	Gain  measure.Estimate // instrument's gain, after over before, from the blocks; 1 where not read

	Places []Verdict // in the order given
	Zones  map[string]Verdict
	Hull   Verdict // mean over all places

	Why     []Why // why nothing at all can be told; empty otherwise
	Notes   []measure.Note
	Assumes []string
}

// Compare answers for every place, every zone of at least 3 places, and the hull.
//
// The difference at a place is yₐ/g − y_b − v̂: v̂ the Hodges-Lehmann centre of the
// same at the dry places, g the gain from the blocks. Its variance is that of design
// section 3.3; v̂ and g are common to all places and are not averaged away in zones.
// P is two-sided from Student's t, degrees of freedom by Satterthwaite. Places are
// called changed at false-discovery rate Rate ([Discover]); a lone changed place must
// then reach t(1−Rate/2n), which is what Least gives. And no place is called changed
// by a difference such as one of n unchanged places shows more often than Rate by the
// ranks of the like differences alone, whatever their distribution; where those are
// too few to say so (N+1 < n/Rate) the largest of them is taken, or, with the note
// "long-tails", what their tail leads to if it goes on as it began; the note
// "leans-on-normal" is then there.
//
// With a component unmeasured, too few dry places, or dry places that moved among
// themselves (χ² beyond 99 %), every answer is cannot tell, with the reasons.
//
// Errors: *measure.ArgumentError for a value, count or setting that cannot be.
func Compare(in Input) (Comparison, error) {
	if err := in.check(); err != nil {
		return Comparison{}, err
	}
	w := work{in: in, gain: 1}
	w.reckonGain()
	w.reckonVisit()
	c := Comparison{Visit: w.visit, Gain: w.gainEstimate(), Why: w.why, Notes: w.notes, Assumes: []string{
		"scatter about normal, as between the practice's own like passes",
		"the visit moves dry places and underbody alike",
	}}
	c.Notes = append(c.Notes, in.Components.Notes...)
	if _, sure := in.Components.seen(max(1, len(in.Places)), in.Rate); !sure {
		as := "scatter is normal"
		if in.Components.longTails() {
			as = "the tail of their scatter goes on as it began"
		}
		c.Notes = append(c.Notes, measure.Note{
			Code: "leans-on-normal",
			Text: fmt.Sprintf("With %d like readings behind it, a lone changed place among %d is sure only as far as %s.", len(in.Components.Seen), len(in.Places), as),
		})
	}
	c.Places = w.places()
	c.Zones = w.zones()
	c.Hull = w.hull()
	return c, nil
}

// work carries what all verdicts share.
type work struct {
	in         Input
	gain       float64
	gainShare  float64 // variance of gain, in units of s_r²
	visit      measure.Estimate
	visitShare shares
	level      float64 // dry level after, gain taken out: contrasts count from here
	why        []Why
	notes      []measure.Note
}

// reckonGain: g = (Hₐ−Lₐ)/(H_b−L_b), variance by the delta method.
func (w *work) reckonGain() {
	b := w.in.Blocks
	if b == nil {
		w.note("gain-not-checked", "The blocks were not read in both passes: the gain is taken as unchanged.")
		return
	}
	before, after := b.HighBefore-b.LowBefore, b.HighAfter-b.LowAfter
	w.gain = after / before
	v, _ := repeat.MedianVariance(b.K)
	w.gainShare = w.gain * w.gain * 2 * v * (1/(before*before) + 1/(after*after))
}

// reckonVisit takes the visit effect from the dry places and judges them.
func (w *work) reckonVisit() {
	var d, after []float64
	for _, p := range w.in.Dry {
		if p.Before.Limit == measure.Exact && p.After.Limit == measure.Exact {
			d = append(d, p.After.At.Units()/w.gain-p.Before.At.Units())
			after = append(after, p.After.At.Units()/w.gain)
			w.visitShare = w.visitShare.plus(w.difference(p))
		}
	}
	w.why = w.in.Components.Missing(w.in.Alike)
	if len(d) < w.in.LeastDry {
		w.why = append(w.why, TooFewDry)
	}
	w.visit = measure.Estimate{N: len(d), Lower: math.Inf(-1), Upper: math.Inf(1)}
	if len(d) == 0 {
		return
	}
	n := float64(len(d))
	each := w.visitShare.times(1 / n)
	w.visitShare = each.times(centreVariance / n)
	centre, _ := order.HodgesLehmann(d, 0.95)
	w.visit.Value = centre.Value
	w.level, _ = order.Middle(after)
	if len(w.why) > 0 {
		return
	}
	w.judgeDry(d, each)
	v, df := w.in.Components.total(w.visitShare, 0)
	half := order.T(0.975, df) * math.Sqrt(v)
	w.visit.Lower, w.visit.Upper, w.visit.Level = centre.Value-half, centre.Value+half, 0.95
}

// judgeDry holds the scatter of the dry differences against the components.
func (w *work) judgeDry(d []float64, each shares) {
	v, df := w.in.Components.total(each, 0)
	m, _ := order.MomentsOf(d)
	// Their variance against an estimated one is an F.
	if v > 0 && m.N > 1 && (distuv.F{D1: float64(m.N - 1), D2: min(df, 1e6)}).Survival(m.SD*m.SD/v) < 0.01 {
		w.why = append(w.why, DryMoved)
	}
}

// difference is the variance of one place's difference, without the common terms.
func (w *work) difference(p Pair) shares {
	c := w.in.Components
	return c.reading(p.KBefore).plus(c.reading(p.KAfter)).plus(shares{known: p.Extra * p.Extra})
}

// common is the variance all places share, at a mean contrast above the dry level.
func (w *work) common(contrast float64) shares {
	s := w.visitShare.plus(shares{rep: contrast * contrast * w.gainShare, left: 1})
	if w.in.Alike {
		s.alike += 2
	}
	return s
}

func (w *work) gainEstimate() measure.Estimate {
	e := measure.Estimate{Value: w.gain, Lower: math.Inf(-1), Upper: math.Inf(1)}
	d := w.in.Components.Repeatability
	if w.in.Blocks == nil || !d.Measured() {
		return e
	}
	half := order.T(0.975, float64(d.DF)) * d.S * math.Sqrt(w.gainShare)
	e.Lower, e.Upper, e.Level, e.N = w.gain-half, w.gain+half, 0.95, 4
	return e
}

func (w *work) note(code, text string) {
	w.notes = append(w.notes, measure.Note{Code: code, Text: text})
}

// zoneNames gives the zones with at least 3 places, in the alphabet.
func zoneNames(ps []Pair) (names []string) {
	n := map[string]int{}
	for _, p := range ps {
		n[p.Zone]++
	}
	for z, k := range n {
		if z != "" && k >= 3 {
			names = append(names, z)
		}
	}
	slices.Sort(names)
	return names
}
