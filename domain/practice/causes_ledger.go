package practice

import (
	"cmp"
	"math"
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/report"
)

// Causes is the ledgers of a vessel as one pass shows her.
type Causes struct {
	Seq     int64
	Axis    Axis
	Pass    PassContext
	Matters []Matter     // the hull at large first, then patches, heaviest first
	Depths  DepthPairs   // the step that ends with the pass's visit
	Steps   []DepthPairs // from visit to visit, oldest first
	Checks  []CauseCheck // made, withdrawn ones too, oldest first
	LeftOut int          // records that may not be told to the client
	Notes   []report.Sentence
}

// Matter is what a ledger speaks of: the hull at large, or a patch.
type Matter struct {
	Title      string
	Places     []int32 // ordinals; none: the hull at large
	Found      bool    // something was found there, and the readings do not stand out
	Ledger     cause.Ledger
	Judgements []CauseJudgement
	Says       []report.Sentence
}

// causes draws the ledgers: pure, but for what the sources hold.
func causes(src CauseSources, in CauseAsk) (Causes, error) {
	held, err := heldFor(src.History.Passes, in.Pass)
	if err != nil {
		return Causes{}, err
	}
	out := Causes{Seq: src.History.Seq, Axis: src.History.Axis}
	if held == uuid.Nil {
		out.Notes = []report.Sentence{report.NoCausePointed()}
		return out, nil
	}
	if in.ForClient {
		out.LeftOut = src.onlyTold(held)
	}
	if err := src.History.judge(&held); err != nil {
		return Causes{}, err
	}
	k := slices.IndexFunc(src.History.Passes, func(p HistoryPass) bool { return p.ID == held })
	w := witnessOf(src, &src.History.Passes[k])
	out.Pass, out.Steps, out.Checks = w.pass.PassContext, w.depthSteps(), src.Checks
	out.Depths = w.lastStep(out.Steps)
	out.Matters, err = w.matters(out.Depths)
	if out.LeftOut > 0 {
		out.Notes = append(out.Notes, report.EvidenceLeftOut(out.LeftOut))
	}
	return out, err
}

// heldFor finds the pass asked for; or of the newest visit with metered passes the
// deep-sensing one. Nil where nothing was metered.
func heldFor(passes []HistoryPass, asked *uuid.UUID) (uuid.UUID, error) {
	if asked != nil {
		if !slices.ContainsFunc(passes, func(p HistoryPass) bool { return p.ID == *asked }) {
			return uuid.Nil, domain.ErrNotFound
		}
		return *asked, nil
	}
	var best *HistoryPass
	for k := range passes {
		p := &passes[k]
		if p.quoted() || best != nil && p.VisitID == best.VisitID && best.Sensing == "deep" && p.Sensing != "deep" {
			continue
		}
		best = p
	}
	if best == nil {
		return uuid.Nil, nil
	}
	return best.ID, nil
}

// onlyTold drops what may not be told to the client of the pass, and counts it.
func (src *CauseSources) onlyTold(held uuid.UUID) (left int) {
	k := slices.IndexFunc(src.History.Passes, func(p HistoryPass) bool { return p.ID == held })
	pass := src.History.Passes[k]
	client := pass.ClientID
	visits := map[uuid.UUID]bool{pass.VisitID: true}
	src.History.Passes = kept(src.History.Passes, &left, func(p HistoryPass) bool {
		ok := p.JobID == pass.JobID || Told{ClientID: p.ClientID, Cite: p.Cite}.to(client)
		visits[p.VisitID] = visits[p.VisitID] || ok
		return ok
	})
	src.Findings = kept(src.Findings, &left, func(f CauseFinding) bool { return f.to(client) || visits[f.VisitID] })
	src.Windows = kept(src.Windows, &left, func(x CauseWindow) bool { return x.to(client) || visits[x.VisitID] })
	src.Checks = kept(src.Checks, &left, func(c CauseCheck) bool { return c.to(client) || visits[c.VisitID] })
	src.Judgements = kept(src.Judgements, &left, func(j CauseJudgement) bool { return j.to(client) || j.VisitID != nil && visits[*j.VisitID] })
	none := 0
	src.Conditions = kept(src.Conditions, &none, func(c CauseCondition) bool { return visits[c.VisitID] })
	return left
}

func kept[T any](list []T, left *int, keep func(T) bool) (out []T) {
	for _, x := range list {
		if keep(x) {
			out = append(out, x)
		} else {
			*left++
		}
	}
	return out
}

func witnessOf(src CauseSources, p *HistoryPass) *witness {
	w := &witness{src: src, pass: p, layers: lyingOf(src.Layers, *p)}
	if src.Units == "imperial" {
		w.units = report.Units{Feet: true, Fahrenheit: true}
	}
	w.skin = skinOf(src.History.Axis, p, w.layers)
	return w
}

// matters builds a ledger for the hull at large and for each patch.
func (w *witness) matters(pairs DepthPairs) ([]Matter, error) {
	patches := w.patches()
	standing := 0
	for _, p := range patches {
		if p.high() {
			standing++
		}
	}
	common := w.common()
	shared := w.unsaid
	anywhere := func(places []int32) bool { return len(places) == 0 }
	facts := slices.Concat(common, w.atLarge(standing), w.found(nil, anywhere), w.checked(anywhere), w.bared(func(CauseWindow) bool { return true }), w.widely())
	large, err := w.matter(report.AtLargeTitle(), nil, facts, anywhere)
	if err != nil {
		return nil, err
	}
	out := []Matter{large}
	for _, p := range patches {
		near := func(places []int32) bool {
			return slices.ContainsFunc(places, func(o int32) bool { return p.near(w.skin, w.src.History.Axis, int(o)-1) })
		}
		w.unsaid = slices.Clone(shared)
		facts := slices.Concat(common, w.ofPatch(p), w.depthsAt(p, pairs), w.found(&p, near), w.checked(near), w.bared(func(x CauseWindow) bool { return w.inPatch(x, p) }))
		m, err := w.matter(w.title(p), ordinals(p.slots), facts, near)
		if err != nil {
			return nil, err
		}
		m.Found = p.found
		out = append(out, m)
	}
	return out, nil
}

// patches are those that stand out, and the places of recent findings away from them.
func (w *witness) patches() []patch {
	var out []patch
	if w.skin != nil {
		out = w.skin.patches(w.layers)
	}
	for _, f := range w.src.Findings {
		here := patch{found: true, z: math.NaN()}
		taken := false
		for _, o := range f.Places {
			slot := int(o) - 1
			here.slots = append(here.slots, slot)
			taken = taken || slices.ContainsFunc(out, func(p patch) bool { return p.near(w.skin, w.src.History.Axis, slot) })
		}
		if w.skin != nil {
			w.skin.weigh(&here)
		}
		if len(f.Places) == 0 || len(f.Places) > 12 || taken || f.Sure == "suspected" || !w.current(f.VisitAt, nil) || len(w.signsOf(f, &here)) == 0 {
			continue
		}
		slices.Sort(here.slots)
		out = append(out, here)
	}
	return out
}

// widely are findings made at more places than a patch has: they speak of the hull.
func (w *witness) widely() []cause.Fact {
	return w.found(nil, func(places []int32) bool { return len(places) > 12 })
}

func (w *witness) inPatch(x CauseWindow, p patch) bool {
	a := w.src.History.Axis
	return slices.ContainsFunc(p.slots, func(k int) bool {
		return a.Elements[k] == x.ElementID && a.Sides[k] == x.Side && abs(a.Along[k]-x.AlongMm) <= 300+x.WidthMm && abs(a.Down[k]-x.DownMm) <= 200+x.HeightMm
	})
}

// title names a patch by its first and its last place.
func (w *witness) title(p patch) string {
	a := w.src.History.Axis
	sorted := slices.Clone(p.slots)
	slices.SortFunc(sorted, func(x, y int) int {
		return cmp.Or(cmp.Compare(a.Along[x], a.Along[y]), cmp.Compare(a.Down[x], a.Down[y]))
	})
	first, last := sorted[0], sorted[len(sorted)-1]
	side := a.Sides[first]
	if slices.ContainsFunc(sorted, func(k int) bool { return a.Sides[k] != side }) {
		side = "both sides,"
	}
	return report.PatchTitle(side, a.Labels[first], a.Labels[last], len(p.slots))
}

func (w *witness) matter(title string, places []int32, facts []cause.Fact, near func([]int32) bool) (Matter, error) {
	ledger, err := cause.Build(facts, w.unsaid...)
	if err != nil {
		return Matter{}, err
	}
	m := Matter{Title: title, Places: places, Ledger: ledger, Says: says(ledger)}
	for _, j := range w.src.Judgements {
		if len(j.Ordinals) == 0 && len(places) == 0 || len(places) > 0 && near(j.Ordinals) {
			m.Judgements = append(m.Judgements, j)
		}
	}
	return m, nil
}

// says puts a ledger into words: where it points, what is still live, what to do next.
func says(l cause.Ledger) []report.Sentence {
	var out []report.Sentence
	live := l.Live()
	for _, e := range live {
		switch e.State {
		case cause.Confirmed:
			out = append(out, report.CauseConfirmed(saidOf(e)))
		case cause.Likely:
			out = append(out, report.CauseLikely(saidOf(e)))
		}
	}
	switch {
	case len(out) > 0:
	case len(live) == 0 || live[0].State == cause.Live:
		out = append(out, report.NoCausePointed())
	default:
		second := ""
		if len(live) > 1 && live[1].State == cause.PointTowards {
			second = live[1].Cause.Name
		}
		out = append(out, report.CausesPointed(saidOf(live[0]), second))
	}
	var mimics []string
	for _, e := range live {
		if e.Cause.Artefact {
			mimics = append(mimics, e.Cause.Name)
		}
	}
	out = append(out, report.NotExcluded(mimics))
	if len(l.Next) > 0 {
		c := l.Next[0].Check
		out = append(out, report.CheckNext(c.Text, c.Minutes, c.Consent))
	}
	return out
}

func saidOf(e cause.Entry) report.CauseSaid {
	said := report.CauseSaid{Name: e.Cause.Name}
	for _, f := range e.Families {
		if f.Names() || e.State != cause.Likely { // records made nothing likely
			said.Families = append(said.Families, string(f))
		}
	}
	for _, x := range e.For {
		if x.Opens {
			said.Opened = x.Text
		}
	}
	return said
}
