package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"boottop.example/practice/domain/measure"
)

// Build makes the report of its input: pure, the same bytes for the same input. It
// refuses nothing; Check says what stands in the way of issue, LintReport where free
// text says too much.
func Build(in Input) Report {
	r := Report{
		Format: Format, Issue: in.Issue, GeneratedAt: second(in.GeneratedAt),
		Practice: in.Practice, Client: in.Client, Vessel: in.Vessel, Kind: in.Kind,
		Hulls: in.Hulls, Recommendations: in.Recommendations, Findings: in.Findings, Photos: in.Photos,
		Schedule: in.Schedule, Valuation: in.Valuation, Sections: in.Sections, Cautions: in.Cautions,
		Signature: in.Signature, Review: in.Review, AuditHead: in.AuditHead, Invented: in.Invented,
	}
	r.Issue.At = second(in.Issue.At)
	if in.Issue.Draft {
		r.Issue.On = Day(in.GeneratedAt, in.Zone)
	} else if !in.Issue.At.IsZero() {
		r.Issue.On = Day(in.Issue.At, in.Zone)
	}
	for _, s := range in.Scope {
		r.Scope = append(r.Scope, Say(Agreed, strings.ReplaceAll(s, "*", "∗")))
	}
	for _, p := range in.Today {
		r.Passes = append(r.Passes, buildPass(in, p))
	}
	for k, c := range in.Compared {
		change := buildChange(in, c)
		if k > 0 && alikeUntold(in.Compared[k-1], c) {
			change.Said[0] = UntoldLikewise()
		}
		r.Changes = append(r.Changes, change)
	}
	for _, v := range in.Earlier {
		r.Visits = append(r.Visits, buildVisit(in, v))
	}
	r.Boat = boatFacts(in)
	r.Taken = takenFacts(in)
	r.InShort = inShort(in)
	r.Limits = limits(in)
	r.Plates = plates(r)
	return r
}

func buildPass(in Input, p PassInput) Pass {
	out := Pass{
		ID: p.ID, On: Day(p.At, in.zoned(p.Zone)), Element: p.Element, Instrument: p.Instrument,
		Scale: scaleWords(p), Ashore: Ashore(p.Ashore), Surveyor: p.Surveyor, Surface: p.Surface,
		NoBaseline: p.NoBaseline, Context: passFacts(in, p),
	}
	if b := p.Baseline; b != nil {
		out.Baseline = &Baseline{Places: b.Places, Median: Tenths(b.Median), Scatter: Tenths(b.Scatter)}
		out.Edges = EdgeWords(p.Edges)
	}
	for _, x := range p.Readings {
		out.Readings = append(out.Readings, buildReading(p, x))
	}
	return out
}

func scaleWords(p PassInput) string {
	s := fmt.Sprintf("scale %s to %s, no unit", trimZero(Tenths(p.ScaleLow)), trimZero(Tenths(p.ScaleHigh)))
	if p.Mode != "" {
		s += ", " + p.Mode
	}
	if p.Face != "" && p.Face != "outside" {
		s += ", read from the " + p.Face
	}
	return s
}

func buildReading(p PassInput, x ReadingInput) Reading {
	out := Reading{
		Place: x.Place, At: x.At, Station: x.Station, Row: x.Row, Dry: x.Dry, Step: NoStep,
		Gap: x.Gap, Why: x.Why, Follow: x.Follow, Surface: x.Surface, Corrected: x.Corrected,
	}
	if x.Gap != "" {
		return out
	}
	out.Value, out.Figure = Value(x.Value), Figure(x.Value)
	for _, v := range x.Placements {
		out.Placements = append(out.Placements, Value(v))
	}
	if x.Contrast == nil || p.Baseline == nil {
		return out
	}
	out.Step = Step(*x.Contrast, p.Edges)
	out.Contrast = contrastWords(*x.Contrast, x.Value.Limit)
	return out
}

// contrastWords writes a contrast: a bound where the reading met the end of the scale, the
// middle where it was written as a range.
func contrastWords(units float64, limit measure.Limit) string {
	s := Signed(units, 1)
	switch limit {
	case measure.Above:
		return "over " + s
	case measure.Below:
		return "under " + s
	case measure.Range:
		return "about " + s
	}
	return s
}

// Step places a contrast on the value scale: how many of the edges it reaches.
func Step(contrast float64, edges [4]float64) int {
	n := 0
	for _, e := range edges {
		if contrast >= e {
			n++
		}
	}
	return n
}

// EdgeWords says the five steps as the legend prints them.
func EdgeWords(e [4]float64) []string {
	w := func(x float64) string { return trimZero(Tenths(x)) }
	return []string{"under " + w(e[0]), w(e[0]) + " to " + w(e[1]), w(e[1]) + " to " + w(e[2]), w(e[2]) + " to " + w(e[3]), w(e[3]) + " and over"}
}

func buildChange(in Input, c ComparisonInput) Change {
	out := Change{
		ID: c.ID, Pass: c.Pass, Since: Day(c.Since, in.zoned(c.Zone)), Standing: c.Standing, Why: c.Why, Compared: c.Compared,
	}
	if c.Standing != Same && c.Standing != Alike {
		out.Said = []Sentence{NotCompared(out.Since, c.Standing, c.Why)}
		return out
	}
	if c.Least == nil {
		out.Said = []Sentence{untoldSince(c, Month(c.Since, in.zoned(c.Zone)))}
	} else {
		out.Least = Tenths(*c.Least)
		out.Said = []Sentence{ChangeBasis(c.How, *c.Least, c.Compared), ChangedAt(c.Zones)}
	}
	if c.OfPlaces > 0 {
		out.Said = append(out.Said, ComparedOf(c.Compared, c.OfPlaces, c.DryPlaces))
	}
	for _, p := range c.Places {
		out.Places = append(out.Places, buildPlaceChange(p))
	}
	return out
}

// alikeUntold tells whether two comparisons tell nothing for one and the same reason.
func alikeUntold(a, b ComparisonInput) bool {
	untold := func(c ComparisonInput) bool { return c.Least == nil && (c.Standing == Same || c.Standing == Alike) }
	return untold(a) && untold(b) && a.Untold == b.Untold && a.Todo == b.Todo
}

func buildPlaceChange(p PlaceChangeInput) PlaceChange {
	out := PlaceChange{Place: p.Place, Said: p.Said, Why: p.Why}
	if p.Then != nil {
		out.Then = contrastWords(*p.Then, p.ThenLimit)
	}
	if p.Now != nil {
		out.Now = contrastWords(*p.Now, p.NowLimit)
	}
	if p.By != nil {
		out.By, out.Mark = p.by(), Signed(*p.By, 0)
	}
	if p.Said == CannotTell {
		out.Mark = "?"
	}
	return out
}

// by writes a difference. Where a reading met the end of the scale it is a bound: of a
// change the end nearer to none; where nothing can be told, no figure.
func (p PlaceChangeInput) by() string {
	met := func(limit measure.Limit) bool { return limit == measure.Below || limit == measure.Above }
	switch {
	case !met(p.ThenLimit) && !met(p.NowLimit):
		return Signed(*p.By, 1)
	case p.Said == CannotTell:
		return ""
	case *p.By > 0:
		return "over " + Signed(*p.By, 1)
	}
	return "under " + Signed(*p.By, 1)
}

func buildVisit(in Input, v VisitInput) VisitLine {
	out := VisitLine{On: v.AsWritten, Instrument: v.Instrument, Surveyor: v.Surveyor, Standing: v.Standing, Why: v.Why}
	if out.On == "" {
		out.On = ShortDay(v.At, in.zoned(v.Zone))
	}
	switch {
	case v.Ashore != nil || v.Standing != Quoted && v.AshoreAsWritten == "":
		out.Ashore = Ashore(v.Ashore)
	default:
		out.Ashore = AshoreWritten(v.AshoreAsWritten)
	}
	return out
}

// inShort says what, where, how sure and by when, from the figures; the surveyor's own
// words come first.
func inShort(in Input) []Sentence {
	var out []Sentence
	for _, s := range in.Lead {
		out = append(out, Own(s))
	}
	if len(in.Today) > 0 {
		p := in.Today[0]
		on := Day(p.At, in.zoned(p.Zone))
		switch {
		case p.Baseline != nil && p.Above != nil:
			out = append(out, StoodAbove(on, Ashore(p.Ashore), *p.Above, p.Instrument).Proved("plate-1"))
		case len(p.Readings) > 0:
			out = append(out, NoBaselineToday(on, p.Instrument, orElse(p.NoBaseline, "its dry places were too few")).Proved("plate-1"))
		}
	}
	for _, c := range in.Compared {
		if c.Standing != Same && c.Standing != Alike {
			continue
		}
		out = append(out, sinceSentences(in, c)...)
		break
	}
	if w := in.Windows; w != nil && w.Count > 0 {
		out = append(out, WindowsSeen(w.M2, w.Blisters, w.BoundPerM2, in.Look, in.BlistersFound))
	}
	return out
}

func sinceSentences(in Input, c ComparisonInput) []Sentence {
	since := Month(c.Since, in.zoned(c.Zone))
	if c.Least == nil {
		return []Sentence{untoldSince(c, since)}
	}
	out := []Sentence{AtLarge(c.AtLarge, since).Proved(c.ID)}
	if c.ExplainedBy != "" {
		out[0] = ExplainedBy(c.ExplainedBy, since, c.By).Proved(c.ID)
	}
	if len(c.Zones) > 0 {
		out = append(out, AreasChanged(c.Zones).Proved(c.ID))
	}
	return out
}

// untoldSince says why nothing can be told of a comparison.
func untoldSince(c ComparisonInput, since string) Sentence {
	if c.Untold == "" {
		return NotEnoughMeasured(since)
	}
	return UntoldSince(since, c.Untold, c.Todo)
}

func limits(in Input) []Sentence {
	l := in.Limits
	var out []Sentence
	if len(in.Today) > 0 || len(l.Unreached) > 0 {
		out = append(out, NotReached(l.Unreached))
	}
	if len(l.Void) > 0 {
		out = append(out, VoidPlaces(l.Void))
	}
	if len(l.NotOpened) > 0 { // what is not written down is not said to have stayed closed
		out = append(out, NotOpened(l.NotOpened))
	}
	if in.Windows == nil || in.Windows.Count == 0 {
		out = append(out, NothingBared())
	}
	if len(l.NotPermitted) > 0 {
		out = append(out, NotPermitted(l.NotPermitted))
	}
	if len(l.NotExamined) > 0 {
		out = append(out, ItemsLeft(l.NotExamined)...)
	}
	for _, s := range l.More {
		out = append(out, Own(s))
	}
	if l.FlawMM > 0 {
		out = append(out, SmallestFlaw(l.FlawMM, in.Units))
	}
	if d := l.Drying; d != nil {
		out = append(out, DryingReached(d.since(), Temperature(d.Air, in.Units), d.LowMM, d.HighMM, d.Left))
		if l.Ortho {
			out = append(out, OrthoAtDays(d.Days))
		}
	}
	if l.Frozen {
		out = append(out, FrozenSkin(in.Units))
	}
	if len(l.Missing) > 0 {
		out = append(out, ContextMissing(l.Missing))
	}
	return out
}

// since says the time ashore: hours while they are few, then days.
func (d DryingInput) since() string {
	if d.Hours != nil {
		return Count(*d.Hours, "hour", "hours")
	}
	return Count(d.Days, "day", "days")
}

// zoned gives the zone in which a day is told: the yard's, or the practice's where it is not
// given.
func (in Input) zoned(yard *time.Location) *time.Location {
	if yard != nil {
		return yard
	}
	return in.Zone
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func hoursWords(h float64) string {
	if h < 72 {
		return Count(int(math.Round(h)), "hour", "hours")
	}
	return Count(int(math.Floor(h/24)), "day", "days")
}
