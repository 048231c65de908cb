package practice

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/unit"
)

// Explanation is one ordinary thing that could account for a difference: days ashore,
// weather, coating, instrument. It is taken before any other (design, section 3.3).
type Explanation struct {
	Code     string
	Text     string
	Expected *Band // of the hull at large, later less earlier, scale units; nil where it cannot be said
	Covers   *bool // whether that covers the hull's difference; nil where it cannot be said
}

// explain lists the four explanations and takes what they cover from the hull's verdict.
func (c *comparing) explain() {
	above := c.contrast(c.untargeted(""))
	c.gate.Explained = []Explanation{c.ashore(above), c.weather(), c.coating(), c.instrument()}
	d := c.gate.Hull.Difference
	for k := range c.gate.Explained {
		x := &c.gate.Explained[k]
		if d == nil || x.Expected == nil || x.Code == "weather" {
			continue
		}
		covers := x.Expected.Low <= d.Value && d.Value <= x.Expected.High
		x.Covers = &covers
	}
	c.discount(&c.gate.Hull, above)
}

// discount takes back a change of a mean that days ashore and the instrument's drift
// leave smaller than the least change.
func (c *comparing) discount(v *GateVerdict, above float64) {
	if v.Answer != change.Changed || v.Difference == nil || v.Least == nil {
		return
	}
	band := sum(c.expectedAshore(above), c.drift())
	if beyondBand(v.Difference.Value, band) >= *v.Least {
		return
	}
	v.Answer = change.CannotTell
	v.Untold = []Untold{placeUntold("explained")}
}

// covered tells whether a place's difference, less what days ashore would do there, falls
// short of the least change. Drift within a pass is part of the scatter between like visits.
func (c *comparing) covered(difference, least, above float64) bool {
	band := c.expectedAshore(above)
	return band != nil && beyondBand(difference, band) < least
}

// beyondBand is how far a difference lies outside a band.
func beyondBand(d float64, b *Band) float64 {
	if b == nil {
		return math.Abs(d)
	}
	return max(0, d-b.High, b.Low-d)
}

func sum(a, b *Band) *Band {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return &Band{a.Value + b.Value, a.Low + b.Low, a.High + b.High}
}

func (c *comparing) ashore(above float64) Explanation {
	x := Explanation{Code: "days-ashore", Expected: c.expectedAshore(above)}
	a, knowA := c.before.Ashore()
	b, knowB := c.after.Ashore()
	switch {
	case !knowA || !knowB:
		x.Text = "Days ashore are not known at both visits."
	case x.Expected == nil:
		x.Text = capitalised(fmt.Sprintf("%s days ashore, then %s; the air was not noted at both visits.", a, b))
	default:
		x.Text = capitalised(fmt.Sprintf("%s days ashore, then %s: by diffusion from one wet start, bare laminate; less under coating.", a, b))
	}
	return x
}

// expectedAshore is what standing ashore for longer or shorter than last time would do to
// a place that stood so far above the dry baseline: the signal of a laminate that came out
// saturated, by diffusion, over the range of diffusivities. From nothing, for a coating may
// hold it all back, to what bare laminate would show. Where days ashore are known to a range
// the band spans both its ends; nil where it cannot be said.
func (c *comparing) expectedAshore(above float64) *Band {
	if c.before.Sensing != "deep" && c.before.Sensing != "shallow" {
		return nil
	}
	a, knowA := equivalentDays(c.before.PassContext)
	b, knowB := equivalentDays(c.after.PassContext)
	if !knowA || !knowB {
		return nil
	}
	d := diffusion.PolyesterLaminate()
	band := Band{Low: math.Inf(1), High: math.Inf(-1)}
	pairs := c.lifts(a, b)
	for _, ends := range pairs {
		for _, speed := range []unit.Diffusivity{d.Low, d.Typical, d.High} {
			faster := float64(speed / d.Typical)
			x := above * (signal(c.before.Sensing, ends[1]*faster)/signal(c.before.Sensing, ends[0]*faster) - 1)
			if speed == d.Typical {
				band.Value += x / float64(len(pairs))
			}
			band.Low, band.High = min(band.Low, x, 0), max(band.High, x, 0)
		}
	}
	return &band
}

// lifts pairs the days that two passes may have stood ashore. Of one time ashore both count
// from the same lift, the least with the least; of two, any goes with any.
func (c *comparing) lifts(a, b [2]float64) [][2]float64 {
	pairs := [][2]float64{{a[0], b[0]}}
	if a[0] != a[1] || b[0] != b[1] {
		pairs = append(pairs, [2]float64{a[1], b[1]})
		if c.before.LiftedAt == nil || c.after.LiftedAt == nil || !c.before.LiftedAt.Equal(*c.after.LiftedAt) || c.before.datedByRange() || c.after.datedByRange() {
			pairs = append(pairs, [2]float64{a[0], b[1]}, [2]float64{a[1], b[0]})
		}
	}
	return pairs
}

// equivalentDays is the time ashore in days at 20 °C, the least and the most, by the one
// temperature known: that of the visit.
func equivalentDays(p PassContext) (out [2]float64, ok bool) {
	ashore, known := p.Ashore()
	if !known || p.AirDecidegrees == nil {
		return out, false
	}
	least, most := float64(ashore.Least), float64(ashore.Most)
	if hours, exact := ashoreHours(p); exact {
		least, most = float64(hours)/24, float64(hours)/24
	}
	for k, days := range []float64{least, most} {
		stretch := []diffusion.Stretch{{Days: unit.Days(days), At: unit.Celsius(*p.AirDecidegrees) / 10}}
		equivalent, err := diffusion.EquivalentDays(stretch, diffusion.PolyesterLaminate().ActivationEnergy)
		if err != nil {
			return out, false
		}
		out[k] = float64(equivalent)
	}
	return out, true
}

// signal is the share of the starting water signal that is left after so many days at
// 20 °C and typical diffusivity: 10 mm of laminate, inner face sealed, weights that fall
// off over 8 mm (deep) or 2 mm (shallow); trade notes, section 3, whose table a test holds
// it to. Contrast is above topsides in balance with the same air, so that the air's own
// level drops out of a ratio.
func signal(sensing string, days float64) float64 {
	curve := curves()[map[string]int{"deep": 0, "shallow": 1}[sensing]]
	at := math.Sqrt(max(0, days)) * curveStep // the curve bends with √t
	k := int(at)
	if k >= len(curve)-1 {
		return curve[len(curve)-1]
	}
	return curve[k] + (curve[k+1]-curve[k])*(at-float64(k))
}

// The curves are kept at points evenly spaced in √days, to 900 days.
const (
	curveStep  = 10 // points for each √day
	curveRoots = 30
)

var curves = sync.OnceValue(func() (out [2][]float64) {
	wall, err := diffusion.NewWall(diffusion.Layer{Thickness: 10, D: diffusion.PolyesterLaminate().Typical})
	if err != nil {
		panic("practice: the wall of the trade's table: " + err.Error())
	}
	start, _ := wall.Uniform(1)
	course := make([]diffusion.Exposure, curveStep*curveRoots)
	for k := range course {
		from, to := float64(k)/curveStep, float64(k+1)/curveStep
		course[k] = diffusion.Exposure{Days: unit.Days(to*to - from*from), At: 20, Outside: diffusion.Air(0), Inside: diffusion.Sealed()}
	}
	out = [2][]float64{{1}, {1}}
	_, _ = wall.Follow(start, course, func(_ int, p diffusion.Profile) {
		for k, depth := range []unit.Millimetres{8, 2} {
			seen, _ := wall.Seen(p, depth)
			out[k] = append(out[k], seen)
		}
	})
	return out
})

// weather is what the dry places show of the visit itself: it is taken out of every
// difference. Rain at one visit only is said and not reckoned.
func (c *comparing) weather() Explanation {
	x := Explanation{Code: "weather", Expected: c.gate.VisitShift}
	var told []string
	if a, b := c.before.AirDecidegrees, c.after.AirDecidegrees; a != nil && b != nil {
		told = append(told, fmt.Sprintf("air %.0f\u00a0°C, then %.0f\u00a0°C", float64(*a)/10, float64(*b)/10))
	}
	wet := func(p *HistoryPass) bool { return p.Rain == "light" || p.Rain == "heavy" }
	if wet(c.before) != wet(c.after) && c.before.Rain != "" && c.after.Rain != "" {
		told = append(told, "rain at one visit only")
	}
	x.Text = "The weather was not noted at both visits."
	if len(told) > 0 {
		x.Text = strings.ToUpper(told[0][:1]) + strings.Join(told, ", ")[1:] + "."
	}
	if s := c.gate.VisitShift; s != nil {
		x.Text += fmt.Sprintf(" The dry places moved by %+.1f between the visits; that is taken out.", s.Value)
	}
	return x
}

func (c *comparing) coating() Explanation {
	x := Explanation{Code: "coating", Text: "Read on " + orElse(c.after.Surface, "a surface not noted") + " both times; no change of coating is on the map."}
	changed := 0
	for _, why := range c.gate.Whys {
		if why == "coating-changed" {
			changed++
		}
	}
	switch {
	case c.before.Surface != c.after.Surface:
		x.Text = fmt.Sprintf("Read on %s, then on %s.", orElse(c.before.Surface, "a surface not noted"), orElse(c.after.Surface, "a surface not noted"))
		return x
	case changed > 0:
		x.Text = fmt.Sprintf("The coating or laminate was changed at %d places between the visits; they are not compared.", changed)
	}
	x.Expected = &Band{}
	return x
}

// instrument is what the drift of its blocks within the passes would make of the mean:
// the dry places are read first, the grid over the whole of the drift.
func (c *comparing) instrument() Explanation {
	x := Explanation{Code: "instrument", Expected: c.drift()}
	switch {
	case x.Expected == nil:
		x.Text = "The blocks were not read before and after both passes."
	default:
		x.Text = fmt.Sprintf("The blocks moved by %+.1f in the earlier pass and by %+.1f in the later.", c.drifted(c.before), c.drifted(c.after))
	}
	if !equal(c.before.InstrumentID, c.after.InstrumentID) {
		x.Text += " Two instruments of one model."
	}
	return x
}

func (c *comparing) drift() *Band {
	for _, p := range []*HistoryPass{c.before, c.after} {
		if !slices.ContainsFunc([]string{"low", "high"}, func(block string) bool { _, _, both := beforeAndAfter(p.BlockChecks, block); return both }) {
			return nil
		}
	}
	d := c.drifted(c.after) - c.drifted(c.before)
	return &Band{Value: d / 2, Low: min(0, d), High: max(0, d)}
}

// drifted is the mean of what the blocks moved by within a pass, scale units.
func (c *comparing) drifted(p *HistoryPass) float64 {
	var moved []float64
	for _, block := range []string{"low", "high"} {
		if before, after, both := beforeAndAfter(p.BlockChecks, block); both {
			moved = append(moved, after-before)
		}
	}
	m, _ := order.MomentsOf(moved)
	return m.Mean
}
