package practice

import (
	"slices"
	"strings"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/report"
)

// What a ledger says of change between visits is what the gate answers, so that the two
// never contradict each other; where the gate cannot tell, the sign is not looked for and
// the ledger says why.

// beside gives the gate between two passes.
func (w *witness) beside(a, b *HistoryPass) *Gate {
	switch w.pass {
	case a:
		return b.Gate
	case b:
		return a.Gate
	}
	return w.src.History.gate(a, b, standing(*b, *a, w.src.History.Components))
}

// withheld says why a gate answers for no place at all; empty where it does.
func (g *Gate) withheld() string {
	k := slices.IndexFunc(g.Untold, func(u Untold) bool { return u.Places == 0 })
	if k < 0 {
		return ""
	}
	return g.Untold[k].Text
}

// went reads the answer at a place as a direction. What days ashore explain went that way
// all the same: the gate asks whether something else must stand behind it.
func (g *Gate) went(k int) cause.Went {
	switch a := change.Answer(g.Verdicts.At(k)); {
	case a == change.NoChangeShown:
		return cause.Flat
	case a != change.Changed && g.Whys[k] != "explained":
		return cause.Untold
	case g.Differences.At(k) > 0:
		return cause.Rose
	}
	return cause.Fell
}

// limit is what two readings may differ by and count as one, scale units: the
// repeatability limit of this practice; false where it has not been measured.
func (w *witness) limit() (float64, bool) {
	sr := of(w.src.History.Components, w.pass.PassContext).Repeatability
	return max(repeat.Limit(sr.S), float64(w.pass.StepTenths)/10), sr.DF >= repeat.Enough
}

// unmeasured keeps a sign from being looked for until s_r is there.
func (w *witness) unmeasured(sign cause.SignCode) {
	w.untold(sign, change.NoRepeatability.Sentence(), nil)
}

// untold notes that a sign could not be looked for, and why.
func (w *witness) untold(sign cause.SignCode, why string, places []int32, see ...domain.Ref) {
	w.unsaid = append(w.unsaid, w.fact(sign, why, places, see...))
}

// baselineRose tells whether all places are high: the dry places too, beside the newest
// like pass of an earlier visit, by more than would show as a change at one place.
func (w *witness) baselineRose() (cause.Fact, bool) {
	earlier := w.likeBefore()
	if earlier == nil || !w.pass.Baseline.Valid() {
		return cause.Fact{}, false
	}
	g, see := w.beside(earlier, w.pass), ref(domain.ThingPass, earlier.ID)
	if why := g.withheld(); why != "" {
		w.untold(cause.AllHigh, why, nil, see)
		return cause.Fact{}, false
	}
	v := g.VisitShift
	rose := v != nil && g.LeastChange != nil && v.Low > 0 && v.Value > *g.LeastChange
	if !rose {
		return cause.Fact{}, false
	}
	return w.fact(cause.AllHigh, report.BaselineOver(v.Value, report.Day(earlier.BeganAt, Zone(earlier.TimeZone))), nil, w.thisPass(), see), true
}

// likeBefore finds the newest pass of an earlier visit that may be subtracted; where none
// may, the newest by the same instrument and scale, to say why.
func (w *witness) likeBefore() (best *HistoryPass) {
	for k := range w.src.History.Passes {
		p := &w.src.History.Passes[k]
		if p.VisitID == w.pass.VisitID || !p.BeganAt.Before(w.pass.BeganAt) || p.quoted() {
			continue
		}
		like := p.Standing.compares()
		tool := equal(p.InstrumentID, w.pass.InstrumentID) && equal(p.ScaleID, w.pass.ScaleID)
		if like || tool && (best == nil || !best.Standing.compares()) {
			best = p
		}
	}
	return best
}

// level holds the patch with what lies behind it full against the same emptied.
func (w *witness) level(l lying, p patch, add adder) {
	full, empty := w.withTank("full", p), w.withTank("empty", p)
	if empty == nil {
		return
	}
	high, _ := w.over(empty, p)
	see := []domain.Ref{ref(domain.ThingLayer, l.ID), ref(domain.ThingPass, empty.ID)}
	if full == nil {
		switch limit, measured := w.limit(); {
		case !measured:
			w.unmeasured(cause.NotWithTank)
		case high > limit:
			add(cause.NotWithTank, l.What, see...)
		}
		return
	}
	see = append(see, ref(domain.ThingPass, full.ID))
	g := w.beside(full, empty)
	over, _ := w.over(full, p)
	switch fell, stayed := g.patchWent(p, full.ID == g.Later); {
	case g.withheld() != "":
		w.untold(cause.LevelWithTank, g.withheld(), ordinals(p.slots), see...)
		w.untold(cause.NotWithTank, g.withheld(), ordinals(p.slots), see...)
	case 2*fell > len(p.slots) && high < over/3:
		add(cause.LevelWithTank, l.What, see...)
	case 2*stayed > len(p.slots) && g.LeastChange != nil && over > *g.LeastChange: // a fall to the level of the rest would have shown
		add(cause.NotWithTank, l.What, see...)
	}
}

// patchWent counts the places of a patch that stood lower with the tank empty, and those
// of which no change is shown.
func (g *Gate) patchWent(p patch, fullLater bool) (fell, stayed int) {
	lower := cause.Fell
	if fullLater {
		lower = cause.Rose
	}
	for _, k := range p.slots {
		switch g.went(k) {
		case lower:
			fell++
		case cause.Flat:
			stayed++
		}
	}
	return fell, stayed
}

// withTank is the newest pass by an instrument of this depth over the patch at a visit
// where the tank was noted so.
func (w *witness) withTank(level string, p patch) (best *HistoryPass) {
	for k := range w.src.History.Passes {
		other := &w.src.History.Passes[k]
		if other.quoted() || other.ElementID != w.pass.ElementID || other.Sensing != w.pass.Sensing {
			continue
		}
		if _, read := w.over(other, p); read && strings.HasPrefix(w.tank(other.VisitID), level) {
			best = other
		}
	}
	return best
}
