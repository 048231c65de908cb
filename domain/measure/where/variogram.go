package where

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
)

// Point is a spot on the unrolled skin, in millimetres.
type Point struct{ X, Y float64 }

// Unrolled lays places flat: X along, Y across from the centreline times ratio. A ratio
// above one says that readings change faster down the skin than along it, so that 1 mm
// across counts as ratio mm along.
//
// Errors: places that cannot be used; a ratio that is not above zero.
func Unrolled(places []Place, ratio float64) ([]Point, error) {
	if err := checkPlaces(places); err != nil {
		return nil, err
	}
	if err := measure.Positive("ratio", ratio); err != nil {
		return nil, err
	}
	if ratio > 1e3 || ratio < 1e-3 {
		return nil, &measure.ArgumentError{Argument: "ratio", Why: "must lie between a thousandth and a thousand"}
	}
	ps := make([]Point, len(places))
	for i, p := range places {
		ps[i] = Point{float64(p.Along), float64(p.Across()) * ratio}
	}
	return ps, nil
}

// Lag is one distance class of a sample variogram.
type Lag struct {
	Distance float64 // mean of its pairs
	Gamma    float64 // half the mean squared difference
	Pairs    int
}

// Form of a variogram model.
type Form string

// The forms: Cressie, Statistics for Spatial Data, 1993, §2.3.1.
const (
	Spherical   Form = "spherical"
	Exponential Form = "exponential"
)

// Variogram is a model: Nugget at once, Sill more by distance, Range its scale.
type Variogram struct {
	Form        Form
	Nugget      float64
	Sill        float64 // partial: without the nugget
	Range       float64
	WeightedSSE float64 // of the fit, weights pairs/distance²; 0 where none was made
	Notes       []measure.Note
}

// Gamma is the model's half mean squared difference at distance h; 0 at h = 0.
func (v Variogram) Gamma(h float64) float64 {
	if h <= 0 {
		return 0
	}
	return v.Nugget + v.Sill*(1-v.correlation(h))
}

// correlation of the part without nugget.
func (v Variogram) correlation(h float64) float64 {
	u := h / v.Range
	if v.Form == Exponential {
		return math.Exp(-u)
	}
	if u >= 1 {
		return 0
	}
	return 1 - u*(1.5-0.5*u*u)
}

func (v Variogram) check() error {
	if v.Form != Spherical && v.Form != Exponential {
		return &measure.ArgumentError{Argument: "Form", Why: "must be Spherical or Exponential"}
	}
	for k, x := range [...]float64{v.Nugget, v.Sill} {
		if !(x >= 0) || math.IsInf(x, 1) {
			return &measure.ArgumentError{Argument: [...]string{"Nugget", "Sill"}[k], Why: "must be finite and not below zero"}
		}
	}
	if v.Nugget+v.Sill < 1e-150 {
		return &measure.ArgumentError{Argument: "Sill", Why: "must be above zero, or the nugget"}
	}
	return measure.Positive("Range", v.Range)
}

func checkPoints(points []Point, y []float64, least int) error {
	if err := checkLength("y", len(y), len(points)); err != nil {
		return err
	}
	if len(points) < least {
		return &measure.ArgumentError{Argument: "points", Why: fmt.Sprintf("must be at least %d, not %d", least, len(points))}
	}
	for i, p := range points {
		if !(math.Abs(p.X) <= 1e9 && math.Abs(p.Y) <= 1e9) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("points[%d]", i), Why: "must be finite and within 1e9"}
		}
	}
	for i, v := range y {
		if !(math.Abs(v) <= 1e9) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("y[%d]", i), Why: "must be finite and within 1e9"}
		}
	}
	return nil
}

const lagCount = 15

// SampleVariogram gives half the mean squared difference by distance: Matheron's
// estimator in fifteen classes up to a third of the diagonal of the area, the defaults of
// gstat (Pebesma 2004), whose results it repeats. Classes without pairs are left out.
//
// Errors: lengths that differ, fewer than two points, values not finite.
func SampleVariogram(points []Point, y []float64) ([]Lag, error) {
	if err := checkPoints(points, y, 2); err != nil {
		return nil, err
	}
	cutoff := diagonal(points) / 3
	if cutoff <= 0 {
		return nil, &measure.ArgumentError{Argument: "points", Why: "must not all be the same"}
	}
	width := cutoff / lagCount
	lags := make([]Lag, lagCount)
	for i, p := range points {
		for j, q := range points[:i] {
			h := math.Hypot(p.X-q.X, p.Y-q.Y)
			if h > cutoff || h == 0 {
				continue
			}
			k := min(max(int(math.Ceil(h/width))-1, 0), lagCount-1) // classes are open below, closed above
			d := y[i] - y[j]
			lags[k].Distance += h
			lags[k].Gamma += d * d / 2
			lags[k].Pairs++
		}
	}
	out := lags[:0]
	for _, l := range lags {
		if l.Pairs > 0 {
			n := float64(l.Pairs)
			out = append(out, Lag{l.Distance / n, l.Gamma / n, l.Pairs})
		}
	}
	return out, nil
}

func diagonal(points []Point) float64 {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return math.Hypot(hi.X-lo.X, hi.Y-lo.Y)
}

// FitVariogram fits a form to sample lags with weights pairs/distance² (Cressie's
// recommendation simplified, the default of gstat): for each range the nugget and sill
// that fit best without being negative, then the best range.
//
// Errors: fewer than three lags, a form that is not known.
func FitVariogram(lags []Lag, form Form) (Variogram, error) {
	if form != Spherical && form != Exponential {
		return Variogram{}, &measure.ArgumentError{Argument: "form", Why: "must be Spherical or Exponential"}
	}
	if len(lags) < 3 {
		return Variogram{}, &measure.ArgumentError{Argument: "lags", Why: fmt.Sprintf("must be at least three distances that hold pairs, not %d", len(lags))}
	}
	first, last := math.Inf(1), 0.0
	for i, l := range lags {
		if !(l.Distance > 0 && l.Gamma >= 0 && l.Pairs > 0) || math.IsInf(l.Distance+l.Gamma, 1) {
			return Variogram{}, &measure.ArgumentError{Argument: fmt.Sprintf("lags[%d]", i), Why: "must have a distance, pairs and a finite gamma"}
		}
		first, last = min(first, l.Distance), max(last, l.Distance)
	}
	at := func(u float64) Variogram { return atRange(lags, form, math.Exp(u)) }
	lo, hi := math.Log(first/3), math.Log(last*5)
	const steps = 80
	best := 0
	var bestSSE float64
	for i := range steps + 1 {
		if v := at(lo + (hi-lo)*float64(i)/steps); i == 0 || v.WeightedSSE < bestSSE {
			best, bestSSE = i, v.WeightedSSE
		}
	}
	step := (hi - lo) / steps
	u := narrow(lo+step*float64(max(best-1, 0)), lo+step*float64(min(best+1, steps)), func(u float64) float64 { return at(u).WeightedSSE })
	v := at(u)
	if v.WeightedSSE > bestSSE {
		v = at(lo + step*float64(best))
	}
	v.remark(lags, last)
	return v, nil
}

func (v *Variogram) remark(lags []Lag, last float64) {
	for _, l := range lags {
		if l.Pairs < 30 {
			v.Notes = append(v.Notes, measure.Note{Code: "few-pairs", Text: "Some distances rest on fewer than 30 pairs of places (Journel and Huijbregts 1978, from memory): the variogram is rough."})
			break
		}
	}
	switch {
	case v.Sill == 0:
		v.Notes = append(v.Notes, measure.Note{Code: "no-structure", Text: "Near places are no more alike than far ones: between places a map knows no more than the mean."})
	case v.Range > last:
		v.Notes = append(v.Notes, measure.Note{Code: "range-open", Text: "Readings still differ more at the greatest distance looked at: the range is open."})
	}
}

// atRange finds the nugget and sill by weighted least squares at one range.
func atRange(lags []Lag, form Form, rang float64) Variogram {
	v := Variogram{Form: form, Range: rang}
	var sw, sx, sy, sxx, sxy float64
	for _, l := range lags {
		w := float64(l.Pairs) / (l.Distance * l.Distance)
		x := 1 - v.correlation(l.Distance)
		sw += w
		sx += w * x
		sy += w * l.Gamma
		sxx += w * x * x
		sxy += w * x * l.Gamma
	}
	d := sw*sxx - sx*sx
	if d > 1e-12*sw*sxx {
		v.Sill = (sw*sxy - sx*sy) / d
		v.Nugget = (sy - v.Sill*sx) / sw
	}
	switch {
	case d <= 1e-12*sw*sxx || v.Sill < 0:
		v.Sill, v.Nugget = 0, sy/sw
	case v.Nugget < 0:
		v.Nugget, v.Sill = 0, sxy/sxx
	}
	for _, l := range lags {
		r := l.Gamma - v.Gamma(l.Distance)
		v.WeightedSSE += float64(l.Pairs) / (l.Distance * l.Distance) * r * r
	}
	return v
}

// narrow finds a minimum by the golden section.
func narrow(lo, hi float64, f func(float64) float64) float64 {
	const ratio = 0.6180339887498949
	c, d := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fc, fd := f(c), f(d)
	for range 45 {
		if fc < fd {
			hi, d, fd = d, c, fc
			c = hi - ratio*(hi-lo)
			fc = f(c)
		} else {
			lo, c, fc = c, d, fd
			d = lo + ratio*(hi-lo)
			fd = f(d)
		}
	}
	return (lo + hi) / 2
}
