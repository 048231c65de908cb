package practice

import (
	"cmp"
	"math"
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/order"
)

// The settings of the gate. Places, zones and the hull are three questions put to the
// same readings: together they may answer changed by chance once in twenty times, so they
// share the 5 %. Both passes must share six dry places (design, section 3).
const (
	gateRate  = 0.05 // of all three
	placeRate = 0.03
	meanRate  = 0.01 // of the zones, and of the hull
	leastDry  = 6
)

// Gate is what may be said of two passes of one hull. Differences are later less earlier,
// each above its own day's dry baseline, the visit's effect taken out, scale units;
// columns are aligned with the axis and hold twentieths.
type Gate struct {
	Earlier, Later uuid.UUID
	Hull           GateVerdict
	Zones          []GateZone
	Changed        []ChangedArea
	Verdicts       Column // the answers of package change; Null where neither pass read the place
	Differences    Column
	Lows, Highs    Column
	Leasts         Column
	Whys           []string
	Comparable     int  // places compared
	OfPlaces       int  // of so many below the water
	Tellable       bool // whether the later pass's client may be told of the earlier one
	DryPlaces      int  // common to both
	VisitShift     *Band
	Gain           *Band
	LeastChange    *float64 // median over the places compared
	Explained      []Explanation
	Untold         []Untold
	Statements     []Statement
}

// Band is a figure with its interval; an open end is not finite.
type Band struct{ Value, Low, High float64 }

// GateVerdict is what can be said of a zone or of the hull.
type GateVerdict struct {
	Answer     change.Answer
	Places     int
	Difference *Band
	Median     *float64
	Least      *float64
	Untold     []Untold
}

// GateZone is an area of the hull with its verdict.
type GateZone struct {
	Name    string
	Slots   Column
	Verdict GateVerdict
}

// comparing is a comparison being made: the passes in the order of time, and what of
// each place is put to the question.
type comparing struct {
	h             *History
	before, after *HistoryPass
	components    Components
	stood         Stood
	zones         []string // by slot
	slots         []int    // compared, in the order of in.Places
	in            change.Input
	out           change.Comparison
	gate          *Gate
}

// gate compares two passes that stand to each other as stood says.
func (h *History) gate(one, other *HistoryPass, stood Stood) *Gate {
	c := &comparing{h: h, before: one, after: other, stood: stood}
	if other.BeganAt.Before(one.BeganAt) {
		c.before, c.after = other, one
	}
	c.components = of(h.Components, c.after.PassContext)
	c.gate = &Gate{Earlier: c.before.ID, Later: c.after.ID, Whys: make([]string, len(h.Axis.IDs)), Tellable: c.before.tellable(c.after.JobID, c.after.ClientID)}
	for _, column := range []*Column{&c.gate.Verdicts, &c.gate.Differences, &c.gate.Lows, &c.gate.Highs, &c.gate.Leasts} {
		*column = nulls(len(h.Axis.IDs))
	}
	c.gather()
	if stood.Standing.compares() {
		c.compare()
	} else {
		c.withhold()
	}
	c.say()
	return c.gate
}

func nulls(n int) Column {
	c := make(Column, n)
	for k := range c {
		c[k] = Null
	}
	return c
}

// gather lists the places of the underbody that may be compared, and says of the others
// why not.
func (c *comparing) gather() {
	c.zones = c.h.Axis.zones(c.before.ElementID, c.h.construction(c.after))
	sep := c.separation()
	c.in = change.Input{Alike: c.stood.Standing == Alike, Components: c.components.between(c.before, c.after), Blocks: blocksBetween(c.before, c.after), Rate: placeRate, LeastDry: leastDry}
	for k := range c.h.Axis.IDs {
		a, b := c.before.Flags.At(k), c.after.Flags.At(k)
		if a == Null && b == Null {
			continue
		}
		a, b = max(a, 0), max(b, 0)
		if a&b&FlagDry != 0 {
			c.dry(k)
			continue
		}
		if (a|b)&FlagDry != 0 || c.h.Axis.Down.At(k) <= 0 || !c.concerns(k, a, b) {
			continue
		}
		c.gate.OfPlaces++
		c.gate.Verdicts[k] = int32(change.CannotTell)
		if c.gate.Whys[k] = c.unfit(k, a|b); c.gate.Whys[k] != "" {
			continue
		}
		c.slots = append(c.slots, k)
		c.in.Places = append(c.in.Places, c.pair(k, sep))
	}
	c.gate.DryPlaces = len(c.in.Dry)
}

// concerns tells whether either pass read a place or should have.
func (c *comparing) concerns(k int, a, b int32) bool {
	return c.before.Taken.At(k) != Null || c.after.Taken.At(k) != Null || (a|b)&FlagNotReached != 0
}

func (c *comparing) dry(k int) {
	if (c.before.Flags.At(k)|c.after.Flags.At(k))&(FlagVoid|FlagOtherSurface) != 0 {
		return
	}
	if c.before.Taken.At(k) == Null || c.after.Taken.At(k) == Null {
		return
	}
	p := c.pair(k, nil)
	p.Zone = ""
	c.in.Dry = append(c.in.Dry, p)
}

// unfit says why a place is not compared; empty where it is.
func (c *comparing) unfit(k int, flags int32) string {
	switch {
	case c.before.Taken.At(k) == Null || c.after.Taken.At(k) == Null:
		return "not-read"
	case flags&FlagVoid != 0:
		return "void"
	case flags&FlagOtherSurface != 0:
		return "other-surface"
	case flags&FlagRange != 0: // the grid keeps the middle alone, which nobody read
		return "range"
	case c.h.recoated(k, c.before, c.after):
		return "coating-changed"
	}
	return ""
}

func (c *comparing) pair(k int, sep *separation) change.Pair {
	before, _ := c.before.value(k)
	after, _ := c.after.value(k)
	extra := sep.of(float64(max(c.h.Axis.Errors.At(k), 0)))
	if hand := c.anotherHand(); hand > 0 {
		extra = math.Hypot(extra, hand)
	}
	return change.Pair{
		Before: before, After: after, KBefore: placements(c.before.Placed.At(k)), KAfter: placements(c.after.Placed.At(k)),
		Zone: c.zones[k], Extra: extra,
	}
}

// anotherHand is what two people differ by at single places beyond repeatability, once
// each one's own level is out: √2 times person × spot, where a kit measured it.
func (c *comparing) anotherHand() float64 {
	if equal(c.before.HandID, c.after.HandID) {
		return 0
	}
	return math.Sqrt2 * c.components.Taste
}

// between gives the components as these two passes may use them: what two instruments
// differ by is known of these two only where they themselves were read side by side; of
// two others of the model it is known from as many pairs as were.
func (c Components) between(a, b *HistoryPass) change.Components {
	out := c.Components
	if a.InstrumentID != nil && b.InstrumentID != nil && out.Reproducible.Measured() && !slices.ContainsFunc(c.crossed, func(p [2]uuid.UUID) bool {
		return p == [2]uuid.UUID{*a.InstrumentID, *b.InstrumentID} || p == [2]uuid.UUID{*b.InstrumentID, *a.InstrumentID}
	}) {
		out.Reproducible.DF = len(c.crossed)
	}
	return out
}

// blocksBetween gives the block checks of two passes, each block the median of its
// moments; nil where either block was not read in both.
func blocksBetween(a, b *HistoryPass) *change.Blocks {
	out := change.Blocks{K: math.MaxInt}
	for _, x := range []struct {
		p     *HistoryPass
		block string
		into  *float64
	}{{a, "low", &out.LowBefore}, {a, "high", &out.HighBefore}, {b, "low", &out.LowAfter}, {b, "high", &out.HighAfter}} {
		var read []float64
		for _, check := range x.p.BlockChecks {
			if check.Block == x.block {
				read = append(read, float64(check.ValueTenths)/10)
			}
		}
		middle, err := order.Middle(read)
		if err != nil {
			return nil
		}
		*x.into, out.K = middle, min(out.K, placements(int32(len(read))))
	}
	if out.HighBefore-out.LowBefore <= 0.01 || out.HighAfter-out.LowAfter <= 0.01 {
		return nil // an instrument that does not tell the blocks apart shows no gain
	}
	return &out
}

// compare puts the question and reads the answers into the gate.
func (c *comparing) compare() {
	var err error
	if c.out, err = change.Compare(c.in); err != nil { // cannot be: readings come from the scale's own limits
		c.stood = stood(Unlike, "cannot-compute", "these figures cannot be compared")
		c.withhold()
		return
	}
	means := c.means()
	c.gate.VisitShift, c.gate.Gain = bandOf(c.out.Visit), nil
	if c.in.Blocks != nil {
		c.gate.Gain = bandOf(c.out.Gain)
	}
	c.gate.Hull = c.verdict(means.Hull, c.untargeted(""))
	c.explain()
	c.places()
	for _, name := range zoneOrder(means.Zones) {
		slots := c.untargeted(name)
		zone := GateZone{Name: name, Slots: slots, Verdict: c.verdict(means.Zones[name], slots)}
		c.discount(&zone.Verdict, c.contrast(slots))
		c.gate.Zones = append(c.gate.Zones, zone)
	}
	c.gate.Comparable = len(c.slots)
	c.gate.Changed = c.changedAreas()
	c.causes()
}

// means is the comparison of zones and hull, at their rate and without the places that a
// plan targets over an anomaly: they have their own verdict and no part in averages.
func (c *comparing) means() change.Comparison {
	in := c.in
	in.Places, in.Rate = nil, meanRate
	for i, k := range c.slots {
		if (c.before.Flags.At(k)|c.after.Flags.At(k))&FlagTargeted == 0 {
			in.Places = append(in.Places, c.in.Places[i])
		}
	}
	out, _ := change.Compare(in) // what the whole may be asked, its part may
	return out
}

// untargeted lists the slots of a zone that count in its mean; of the hull for "".
func (c *comparing) untargeted(zone string) (slots Column) {
	for _, k := range c.slots {
		if (zone == "" || c.zones[k] == zone) && (c.before.Flags.At(k)|c.after.Flags.At(k))&FlagTargeted == 0 {
			slots = append(slots, int32(k))
		}
	}
	return slots
}

func (c *comparing) verdict(v change.Verdict, slots Column) GateVerdict {
	out := GateVerdict{Answer: v.Answer, Places: v.Places, Least: finite(v.Least)}
	if v.Places > 0 {
		out.Difference = bandOf(v.Change)
		if v.Low != v.High {
			out.Difference.Low, out.Difference.High = math.Inf(-1), math.Inf(1)
		}
		out.Median = c.median(slots)
	}
	for _, why := range v.Why {
		out.Untold = append(out.Untold, untold(why))
	}
	return out
}

// median is the median of the exact differences at some slots.
func (c *comparing) median(slots Column) *float64 {
	var d []float64
	for i, k := range c.slots {
		if v := c.out.Places[i]; slices.Contains(slots, int32(k)) && v.Low == v.High {
			d = append(d, v.Change.Value)
		}
	}
	m, err := order.Middle(d)
	if err != nil {
		return nil
	}
	return &m
}

// places reads the answers place by place.
func (c *comparing) places() {
	var leasts []float64
	for i, k := range c.slots {
		v := c.out.Places[i]
		c.gate.Verdicts[k], c.gate.Differences[k] = int32(v.Answer), inTwentieths(v.Change.Value)
		c.gate.Lows[k], c.gate.Highs[k], c.gate.Leasts[k] = inTwentieths(v.Change.Lower), inTwentieths(v.Change.Upper), inTwentieths(v.Least)
		if v.Answer == change.CannotTell && len(v.Why) > 0 {
			c.gate.Whys[k] = v.Why[0].String()
		}
		if v.Answer == change.Changed && c.covered(v.Change.Value, v.Least, c.above(k)) {
			c.gate.Verdicts[k], c.gate.Whys[k] = int32(change.CannotTell), "explained"
		}
		if !math.IsInf(v.Least, 0) {
			leasts = append(leasts, v.Least)
		}
	}
	if m, err := order.Middle(leasts); err == nil {
		c.gate.LeastChange = &m
	}
}

// above is how far a place stood above the dry baseline at the earlier pass.
func (c *comparing) above(k int) float64 {
	if x := c.before.Contrasts.At(k); x != Null {
		return float64(x) / 20
	}
	return 0
}

// contrast is the median of that over some slots.
func (c *comparing) contrast(slots Column) float64 {
	above := make([]float64, len(slots))
	for i, k := range slots {
		above[i] = c.above(int(k))
	}
	m, _ := order.Middle(above) // none stand at 0
	return m
}

// withhold says why nothing is compared.
func (c *comparing) withhold() {
	for _, k := range c.slots {
		c.gate.Whys[k] = c.stood.Reasons[0].Code
	}
	for _, r := range c.stood.Reasons {
		u := Untold{Code: r.Code, Text: r.Text}
		if r.Code == "no-reproducibility" {
			u = untold(change.NoReproducibility)
		}
		c.gate.Untold = append(c.gate.Untold, u)
	}
	c.gate.Hull.Untold = c.gate.Untold
	c.explain()
}

// causes lists why it cannot be told, what holds for all first, then the commonest.
func (c *comparing) causes() {
	for _, why := range c.out.Why {
		c.gate.Untold = append(c.gate.Untold, untold(why))
	}
	counts := map[string]int{}
	for k, why := range c.gate.Whys {
		if why != "" && c.gate.Verdicts[k] == int32(change.CannotTell) {
			counts[why]++
		}
	}
	var list []Untold
	for why, n := range counts {
		if slices.ContainsFunc(c.gate.Untold, func(u Untold) bool { return u.Code == why }) {
			continue
		}
		u := placeUntold(why)
		u.Places = n
		list = append(list, u)
	}
	slices.SortFunc(list, func(a, b Untold) int { return cmp.Or(b.Places-a.Places, cmp.Compare(a.Code, b.Code)) })
	c.gate.Untold = append(c.gate.Untold, list...)
}

// placeUntold words why single places cannot be told.
func placeUntold(code string) Untold {
	u := Untold{Code: code}
	switch code {
	case "not-read":
		u.Text, u.Todo = "Read at one visit only.", "Read them at the next visit."
	case "void":
		u.Text, u.Todo = "Void at one visit.", "Read them again where the pad lies flat."
	case "other-surface":
		u.Text, u.Todo = "Read on another surface than the rest of the pass.", "Read them on the like surface next time."
	case "range":
		u.Text, u.Todo = "Written as a range at one of the two visits.", "Write down one figure for each placement next time."
	case "coating-changed":
		u.Text = "The coating or the laminate there was changed between the visits."
	case "explained":
		u.Text, u.Todo = "What days ashore would do covers the difference.", "Read again as many days ashore as last time."
	default:
		if why, known := change.WhyOf(code); known {
			return untold(why)
		}
		u = untold(change.AtScaleEnd)
		u.Todo = "An instrument that reads further would tell."
	}
	return u
}

func bandOf(e measure.Estimate) *Band { return &Band{e.Value, e.Lower, e.Upper} }

func finite(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}

// inTwentieths rounds scale units to what columns hold; Null where there is no number.
func inTwentieths(units float64) int32 {
	if math.IsInf(units, 0) || math.IsNaN(units) || math.Abs(units) > 1e7 {
		return Null
	}
	return int32(math.Round(units * 20))
}
