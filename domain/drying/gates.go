package drying

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/unit"
)

// Key names a coating gate.
type Key string

// The gates, in the order of the sheet.
const (
	DewMargin   Key = "dew margin"
	DampAir     Key = "humidity at the surface"
	SkinWarm    Key = "surface temperature"
	AboveDry    Key = "above the dry baseline"
	Stable      Key = "stability"
	HeatOff     Key = "heat off"
	WashWater   Key = "wash water"
	Salts       Key = "soluble salts"
	PlasticFilm Key = "plastic sheet"
)

// Rule is a gate with its figures. They are defaults that a practice edits; Tag says where
// they come from. Nil figures are not set.
type Rule struct {
	Key         Key
	Least, Most *float64
	Unit        string
	Tag         string // as a person reads it
	About       bool   // for information: never met or not met
}

// Rules are the defaults of the sheet.
//
// 3 °C and 85 %: coating-practice pages to ISO 8502-4, written for steel. 10 °C and pH 6.5
// to 7.5 are from memory and practice. No limit of soluble salts exists for glass fibre,
// and none is set; steel's figures stand beside the result (salt.SteelFigures).
func Rules() []Rule {
	f := func(x float64) *float64 { return &x }
	const own = "own rule; common practice, no source"
	return []Rule{
		{Key: DewMargin, Least: f(air.LeastMargin), Unit: "°C", Tag: "coating-practice pages to ISO 8502-4, written for steel"},
		{Key: DampAir, Most: f(85), Unit: "% RH", Tag: "coating-practice pages to ISO 8502-4, written for steel; 70 % RH or less for amine-cured epoxy is from memory"},
		{Key: SkinWarm, Least: f(10), Unit: "°C", Tag: "from memory, often 10 to 15 °C; the coating’s own sheet rules"},
		{Key: AboveDry, Unit: "scale units", Tag: "for information only: peeled laminate and gelcoat topsides are unlike surfaces; common practice, no source", About: true},
		{Key: Stable, Least: f(7), Unit: "days apart", Tag: own},
		{Key: HeatOff, Least: f(24), Most: f(48), Unit: "hours", Tag: own},
		{Key: WashWater, Least: f(6.5), Most: f(7.5), Unit: "pH", Tag: own + "; conductivity near that of the supply water"},
		{Key: Salts, Unit: "mg/m²", Tag: "no limit exists for glass fibre; steel’s figures stand beside it"},
		{Key: PlasticFilm, Least: f(24), Unit: "hours", Tag: "screening only; common practice, no source"},
	}
}

// Verdict is what the figures say of a gate. Whether it is met is for whoever signs.
type Verdict string

// The verdicts.
const (
	Met        Verdict = "figures meet it"
	NotMet     Verdict = "figures do not meet it"
	CannotTell Verdict = "cannot tell"
	Recorded   Verdict = "for information"
	Nothing    Verdict = "nothing recorded"
)

// Gate is a rule held against what was recorded.
type Gate struct {
	Rule
	Verdict Verdict
	Why     string           // a code; the words are domain/report's
	Days    float64          // when what it rests on was recorded, since drying began; NaN where nothing was
	Figure  measure.Estimate // in the rule's unit, or scale units for stability and heat off
	Beside  *float64         // a second figure: the limit, a rise in µS/cm, hours
}

// Moment is air and skin measured together.
type Moment struct {
	Air
	Skin []float64 // °C, one or both sides
}

// Sheet is a plastic sheet of about 1 m² taped to the skin.
type Sheet struct {
	Days      float64 // since drying began, when it was looked at
	Hours     float64 // how long it was on
	Condensed bool
}

// Records is what the gates are held against. Lists are in order of time.
type Records struct {
	Moments []Moment
	Series  Series
	// LeastChange is the least change of the hull's mean that the practice's own repeats let
	// it show, scale units; nil until they are measured. There is no default.
	LeastChange *float64
	HeatOff     []Rebound
	Washes      []Wash
	Sheets      []Sheet
}

// Gates holds every rule against the records, in the order given.
func Gates(rules []Rule, r Records) []Gate {
	out := make([]Gate, 0, len(rules))
	for _, rule := range rules {
		g := Gate{Rule: rule, Verdict: Nothing, Why: "nothing", Days: math.NaN()}
		switch rule.Key {
		case DewMargin, DampAir, SkinWarm:
			g.air(r.Moments)
		case AboveDry:
			g.aboveDry(r.Series)
		case Stable:
			g.stable(r)
		case HeatOff:
			g.heatOff(r.HeatOff)
		case WashWater:
			g.washWater(r.Washes)
		case Salts:
			g.salts(r.Washes)
		case PlasticFilm:
			g.sheet(r.Sheets)
		}
		out = append(out, g)
	}
	return out
}

// air judges the newest moment at which air and skin were both measured, at the colder side.
func (g *Gate) air(moments []Moment) {
	for k := len(moments) - 1; k >= 0; k-- {
		m := moments[k]
		if len(m.Skin) == 0 {
			continue
		}
		skin := m.Skin[0]
		for _, t := range m.Skin {
			skin = min(skin, t)
		}
		e, err := g.atSkin(m.Air, skin)
		if err != nil {
			continue
		}
		g.Days, g.Figure, g.Why = m.Days, e, "air"
		g.Verdict = g.within(e)
		return
	}
}

// atSkin gives the gate's figure with what hand-held sensors could hide (air.Margin).
func (g *Gate) atSkin(a Air, skin float64) (measure.Estimate, error) {
	t, h, s := unit.Celsius(a.Temperature), unit.Humidity(a.Humidity), unit.Celsius(skin)
	off := air.HandheldSensors()
	switch g.Key {
	case DewMargin:
		return air.Margin(t, h, s, off)
	case SkinWarm:
		return measure.Estimate{Value: skin, Lower: skin - float64(off.Surface), Upper: skin + float64(off.Surface), N: 1}, nil
	default:
		mid, err := air.AtSurface(t, h, s)
		if err != nil {
			return measure.Estimate{}, err
		}
		low, errLow := air.AtSurface(t-off.Air, max(0.1, h-off.Humidity), s+off.Surface)
		high, errHigh := air.AtSurface(t+off.Air, min(100, h+off.Humidity), s-off.Surface)
		if errLow != nil || errHigh != nil {
			return measure.Estimate{}, errLow
		}
		return measure.Estimate{Value: float64(mid), Lower: float64(low), Upper: float64(high), N: 1}, nil
	}
}

// within holds a figure with its bounds against the rule's.
func (g *Gate) within(e measure.Estimate) Verdict {
	switch {
	case g.Least == nil && g.Most == nil:
		return CannotTell
	case g.Least != nil && e.Upper < *g.Least, g.Most != nil && e.Lower > *g.Most:
		return NotMet
	case (g.Least == nil || e.Lower >= *g.Least) && (g.Most == nil || e.Upper <= *g.Most):
		return Met
	default:
		return CannotTell
	}
}

func (g *Gate) aboveDry(s Series) {
	n := len(s.Visits) - 1
	if n < 0 || len(s.Common) == 0 {
		return
	}
	e, err := order.Median(s.at(n, s.Common), Level)
	if err != nil {
		return
	}
	g.Verdict, g.Why, g.Days, g.Figure = Recorded, "contrast", s.Visits[n].Days, e
}

// The rest of the stability gate's rule, our own: how many visits, how far their air may differ.
const (
	stableVisits  = 3
	sameAirWithin = 10 // points of relative humidity
	aboutADay     = 0.5
)

// stable asks for no fall beyond the least detectable change over the last three visits,
// as far apart as the rule says, in like air, with no wash since the first of them.
func (g *Gate) stable(r Records) {
	from := len(r.Series.Level) - stableVisits
	if from < 0 {
		if len(r.Series.Level) > 0 {
			g.Verdict, g.Why = CannotTell, "too few visits"
		}
		return
	}
	visits := r.Series.Visits[from:]
	last := visits[stableVisits-1]
	fall := r.Series.Level[from] - r.Series.Level[len(r.Series.Level)-1]
	g.Days, g.Beside = last.Days, r.LeastChange
	g.Figure = measure.Estimate{Value: fall, Lower: math.Inf(-1), Upper: math.Inf(1), N: stableVisits}
	g.Verdict, g.Why = CannotTell, g.notLike(visits, r.Washes)
	if g.Why != "" {
		return
	}
	switch {
	case r.LeastChange == nil:
		g.Why = "not measured"
	case fall > *r.LeastChange:
		g.Verdict, g.Why = NotMet, "falls"
	default:
		g.Verdict, g.Why = Met, "no fall shown"
	}
}

func (g *Gate) notLike(visits []Visit, washes []Wash) string {
	low, high := math.Inf(1), math.Inf(-1)
	for k, v := range visits {
		if k > 0 && g.Least != nil && v.Days-visits[k-1].Days < *g.Least-aboutADay {
			return "too close"
		}
		if v.Humidity == nil {
			return "air not noted"
		}
		low, high = min(low, *v.Humidity), max(high, *v.Humidity)
	}
	if high-low > sameAirWithin {
		return "unlike air"
	}
	for _, w := range washes {
		if w.Days >= visits[0].Days {
			return "washed since"
		}
	}
	return ""
}

func (g *Gate) heatOff(list []Rebound) {
	list = inOrder(list)
	if len(list) == 0 {
		return
	}
	last := list[len(list)-1]
	e, err := last.Height()
	if err != nil {
		return
	}
	hours := last.Hours
	g.Days, g.Figure, g.Beside, g.Verdict = last.Days, e, &hours, CannotTell
	switch {
	case g.Least != nil && hours < *g.Least, g.Most != nil && hours > *g.Most:
		g.Why = "other delay"
	case e.N < order.NeededForMedian(Level):
		g.Why = "too few places"
	case e.Lower > 0:
		g.Verdict, g.Why = NotMet, "rises"
	default:
		g.Verdict, g.Why = Met, "no rise shown"
	}
}

func (g *Gate) washWater(washes []Wash) {
	for k := len(washes) - 1; k >= 0; k-- {
		w := washes[k]
		if w.PH == nil {
			continue
		}
		e := measure.Estimate{Value: *w.PH, Lower: *w.PH, Upper: *w.PH, N: 1}
		g.Days, g.Figure, g.Beside, g.Why = w.Days, e, w.Rise(), "wash"
		if g.Verdict = g.within(e); g.Verdict == Met && g.Beside == nil {
			g.Verdict, g.Why = CannotTell, "no conductivity"
		}
		return
	}
}

// salts gives the newest figure. It is met or not met only where a practice has set a
// limit of its own.
func (g *Gate) salts(washes []Wash) {
	for k := len(washes) - 1; k >= 0; k-- {
		e := washes[k].Salts()
		if e == nil {
			continue
		}
		g.Days, g.Figure, g.Why, g.Verdict = washes[k].Days, *e, "salts", Recorded
		if g.Most != nil {
			g.Verdict = g.within(*e)
		}
		return
	}
}

func (g *Gate) sheet(list []Sheet) {
	if len(list) == 0 {
		return
	}
	last := list[len(list)-1]
	hours := last.Hours
	g.Days, g.Beside = last.Days, &hours
	switch {
	case last.Condensed:
		g.Verdict, g.Why = NotMet, "condensed"
	case g.Least != nil && hours < *g.Least:
		g.Verdict, g.Why = CannotTell, "too short"
	default:
		g.Verdict, g.Why = Met, "clear"
	}
}
