package practice

import (
	"cmp"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/report"
)

// PassCheck is a reading on a reference block with the pass it belongs to.
type PassCheck struct {
	Pass        uuid.UUID
	Scale       uuid.UUID
	Block       string
	Moment      string
	ValueTenths int32
	At          time.Time
}

// BlockChart is how one block has read with one scale over the years, a point a pass:
// checks of one pass stand closer than those of two days, and would set limits too narrow.
type BlockChart struct {
	Scale   uuid.UUID
	Block   string
	Points  []BlockPoint // oldest first
	Settled int          // how many of the first points set the limits; 0 where none could be set
	Mean    float64      // scale units, as all below
	Sigma   float64      // from pass to pass
	Says    []report.Sentence
}

// BlockPoint is the checks of one pass on one block.
type BlockPoint struct {
	Pass         uuid.UUID
	At           time.Time // of its first check
	Value        float64   // median of the pass's checks
	Checks       int
	Lower, Upper float64 // limits of a single point
	Out          bool    // beyond them
	Weighted     float64 // exponentially weighted mean, which shows a slow drift sooner
	Drifting     bool    // it lies beyond its own limits
	Shift        *float64
	Moved        bool // the shift from before to after is more than repeatability allows

	values        []float64
	before, after *float64
}

// How limits are set: by the first half of what there is, at least 8 and at most 20
// points, so that what drifted later does not widen them (common practice, no source).
const (
	fewestSettled = 8
	mostSettled   = 20
)

// Weight and width of the moving mean: NIST/SEMATECH e-Handbook 6.3.2.4.
const (
	newest = 0.2
	wide   = 3
)

// blockCharts charts the checks of one instrument, by scale and block.
func blockCharts(checks []PassCheck, precisions []Precision, day func(time.Time) string) []BlockChart {
	var out []BlockChart
	for _, c := range checks {
		if c.Block == "air" {
			continue
		}
		n := slices.IndexFunc(out, func(b BlockChart) bool { return b.Scale == c.Scale && b.Block == c.Block })
		if n < 0 {
			n, out = len(out), append(out, BlockChart{Scale: c.Scale, Block: c.Block})
		}
		out[n].take(c)
	}
	for n := range out {
		var sr repeat.Deviation
		for _, p := range precisions {
			if p.Scale.ID == out[n].Scale && p.Enough() {
				sr = p.Repeatability
			}
		}
		out[n].judge(sr)
		out[n].say(day)
	}
	slices.SortStableFunc(out, func(a, b BlockChart) int { return cmp.Compare(b.Block, a.Block) }) // low before high
	return out
}

// take adds a check to the point of its pass.
func (b *BlockChart) take(c PassCheck) {
	n := slices.IndexFunc(b.Points, func(p BlockPoint) bool { return p.Pass == c.Pass })
	if n < 0 {
		n, b.Points = len(b.Points), append(b.Points, BlockPoint{Pass: c.Pass, At: c.At})
	}
	p := &b.Points[n]
	value := float64(c.ValueTenths) / 10
	p.Checks, p.values = p.Checks+1, append(p.values, value)
	switch c.Moment {
	case "before":
		p.before = &value
	case "after":
		p.after = &value
	}
}

func (b *BlockChart) judge(sr repeat.Deviation) {
	for n := range b.Points {
		p := &b.Points[n]
		p.Value, _ = order.Middle(p.values) // never empty
		p.shift(sr)
	}
	b.limits()
}

// shift holds the block before the pass against the block after it.
func (p *BlockPoint) shift(sr repeat.Deviation) {
	if p.before == nil || p.after == nil {
		return
	}
	by := *p.after - *p.before
	p.Shift = &by
	if sr.Measured() {
		_, _, p.Moved, _ = repeat.BlockShift(*p.before, *p.after, 1, sr)
	}
}

// limits sets control limits by the first points and marks what lies beyond them.
func (b *BlockChart) limits() {
	n := len(b.Points)
	if n < 2 {
		return
	}
	values := make([]float64, n)
	for k, p := range b.Points {
		values[k] = p.Value
	}
	settle := min(n, max(fewestSettled, min(mostSettled, n/2)))
	chart, err := repeat.IndividualsChart(values, settle)
	if err != nil || chart.Sigma == 0 {
		return
	}
	b.Settled, b.Mean, b.Sigma = settle, chart.Mean, chart.Sigma
	weighted, err := repeat.EWMA(values, chart.Mean, chart.Sigma, newest, wide)
	if err != nil {
		return
	}
	for k := range b.Points {
		p := &b.Points[k]
		p.Lower, p.Upper, p.Out = chart.Points[k].Lower, chart.Points[k].Upper, chart.Points[k].Out
		p.Weighted, p.Drifting = weighted[k].Value, weighted[k].Out
	}
}

func (b *BlockChart) say(day func(time.Time) string) {
	say := func(s report.Sentence) { b.Says = append(b.Says, s) }
	if moved := b.days(day, func(p BlockPoint) bool { return p.Moved }); len(moved) > 0 {
		say(report.BlockMovedWithin(b.Block, moved))
	}
	switch {
	case len(b.Points) < 2:
		say(report.BlocksTooFew(b.Block, len(b.Points)))
		return
	case b.Settled == 0:
		say(report.BlocksEqual(b.Block))
		return
	}
	out := b.days(day, func(p BlockPoint) bool { return p.Out })
	if len(out) > 0 {
		say(report.BlockOut(b.Block, out))
	}
	last := b.Points[len(b.Points)-1]
	if last.Drifting {
		say(report.BlockDrifts(b.Block, day(b.since())))
	}
	if len(out) == 0 && !last.Drifting {
		say(report.BlockHeld(b.Block, len(b.Points)))
	}
	if b.Settled < mostSettled {
		say(report.BlocksProvisional(b.Block, b.Settled))
	}
}

func (b *BlockChart) days(day func(time.Time) string, which func(BlockPoint) bool) (out []string) {
	for _, p := range b.Points {
		if which(p) {
			out = append(out, day(p.At))
		}
	}
	return out
}

// since is when the drift that still stands began.
func (b *BlockChart) since() time.Time {
	n := len(b.Points) - 1
	for n > 0 && b.Points[n-1].Drifting {
		n--
	}
	return b.Points[n].At
}
