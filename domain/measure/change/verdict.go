package change

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// figure is a difference with its error, before the question is asked.
type figure struct {
	low, high float64 // equal unless a reading met the scale's end
	at        float64 // the end or middle that is shown
	se, df    float64
	n         int
}

// figure of a set of places: their mean difference. The places' own errors are
// averaged, what they share is not.
func (w *work) figure(ps []Pair) figure {
	f := figure{n: len(ps)}
	n := float64(len(ps))
	var own shares
	var contrast, least float64
	for _, p := range ps {
		low, high := w.bounds(p)
		f.low, f.high = f.low+low/n, f.high+high/n
		f.at += (p.After.At.Units()/w.gain - p.Before.At.Units() - w.visit.Value) / n
		contrast += (p.After.At.Units()/w.gain - w.level) / n
		own = own.plus(w.difference(p).times(1 / (n * n)))
		v, _ := placements(p.KBefore, p.KAfter)
		least += v / (n * n)
	}
	v, df := w.in.Components.total(own.plus(w.common(contrast)), least)
	f.se, f.df = math.Sqrt(v), df
	return f
}

// bounds gives what a place's difference is known to lie between.
func (w *work) bounds(p Pair) (low, high float64) {
	bl, bh := p.Before.Bounds()
	al, ah := p.After.Bounds()
	return al/w.gain - bh - w.visit.Value, ah/w.gain - bl - w.visit.Value
}

// near is the bound nearer to zero; 0 where the bounds hold zero.
func (f figure) near() float64 {
	switch {
	case f.low > 0:
		return f.low
	case f.high < 0:
		return f.high
	default:
		return 0
	}
}

// p is the chance, two-sided, of a difference at least as far from zero as the nearer
// bound, with df degrees of freedom.
func (f figure) p(df float64) float64 {
	switch near := f.near(); {
	case near == 0:
		return 1
	case f.se == 0:
		return 0
	default:
		return twoSided(near/f.se, df)
	}
}

func (w *work) places() []Verdict {
	fs := make([]figure, len(w.in.Places))
	for i, p := range w.in.Places {
		fs[i] = w.figure([]Pair{p})
	}
	n := len(fs)
	seen, _ := w.in.Components.seen(max(1, n), w.in.Rate)
	alone, _ := w.in.Components.seen(1, w.in.Rate)
	return w.judge(fs, seen, alone)
}

func (w *work) zones() map[string]Verdict {
	names := zoneNames(w.in.Places)
	fs := make([]figure, len(names))
	for i, name := range names {
		var ps []Pair
		for _, p := range w.in.Places {
			if p.Zone == name {
				ps = append(ps, p)
			}
		}
		fs[i] = w.figure(ps)
	}
	zones := map[string]Verdict{}
	for i, v := range w.judge(fs, 0, 0) {
		zones[names[i]] = v
	}
	return zones
}

func (w *work) hull() Verdict {
	if len(w.in.Places) == 0 {
		return Verdict{Why: w.why, P: 1, Adjusted: 1, Least: math.Inf(1), LeastAlone: math.Inf(1)}
	}
	return w.judge([]figure{w.figure(w.in.Places)}, 0, 0)[0]
}

// judge answers for figures that are looked at together. All take the fewest degrees
// of freedom any of them has: a little wide, and one quantile for all. seen and
// seenAlone are what like passes show, in standard errors.
func (w *work) judge(fs []figure, seen, seenAlone float64) []Verdict {
	out := make([]Verdict, len(fs))
	if len(w.why) > 0 || len(fs) == 0 {
		for i, f := range fs {
			out[i] = w.withheld(f)
		}
		return out
	}
	df := math.Inf(1)
	for _, f := range fs {
		df = min(df, f.df)
	}
	p := make([]float64, len(fs))
	for i, f := range fs {
		p[i] = f.p(df)
	}
	d, _ := Discover(p, w.in.Rate) // chances and rate are in range
	among, alone := order.T(1-w.in.Rate/(2*float64(len(fs))), df), order.T(1-w.in.Rate/2, df)
	for i, f := range fs {
		out[i] = Verdict{
			Low: f.low, High: f.high, P: p[i], Adjusted: d.Adjusted[i], Places: f.n,
			Least: max(among, seen) * f.se, LeastAlone: max(alone, seenAlone) * f.se,
			Change: measure.Estimate{
				Value: f.at, Lower: f.low - alone*f.se, Upper: f.high + alone*f.se, Level: 1 - w.in.Rate, N: f.n,
			},
		}
		w.answer(&out[i], f, d.Found[i] && math.Abs(f.near()) > seen*f.se)
	}
	return out
}

// withheld is the verdict where nothing can be told.
func (w *work) withheld(f figure) Verdict {
	return Verdict{
		Why: w.why, Low: f.low, High: f.high, P: 1, Adjusted: 1, Places: f.n, Least: math.Inf(1), LeastAlone: math.Inf(1),
		Change: measure.Estimate{Value: f.at, Lower: math.Inf(-1), Upper: math.Inf(1), N: f.n},
	}
}

func (w *work) answer(v *Verdict, f figure, found bool) {
	switch {
	case found:
		v.Answer = Changed
	case f.low != f.high:
		v.Why = []Why{AtScaleEnd}
	case w.in.Matters > 0 && v.Least > w.in.Matters:
		v.Why = []Why{TooCoarse}
	default:
		v.Answer = NoChangeShown
	}
	if w.in.Components.Left.DF == 0 && f.n > 1 {
		v.Change.Notes = append(v.Change.Notes, measure.Note{
			Code: "leans-on-baseline",
			Text: "What dry places leave of a visit's effect was not measured: five like pairs would show it.",
		})
	}
}
