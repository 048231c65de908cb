package figure

import (
	"math"
	"slices"
)

// Shape is a spec with its curves worked out. All methods take along, m.
type Shape struct {
	Spec
	Xs   []float64 // where curves are sampled: even steps and every point where something begins
	Half float64   // from the waterline to the middle of the sheet, m
	Top  float64   // highest sheer, m

	wetFrom, wetTo float64 // where the skin dips below the waterline
	quarter        []Point // corners of a round section of half-beam 1 and depth 1
}

const (
	samples         = 96
	overhangSamples = 12
)

// Shape works out a valid spec.
func (s Spec) Shape() *Shape {
	h := &Shape{Spec: s}
	if s.Chine == nil {
		h.quarter = quarter(s.Section)
	}
	h.wetFrom = crossing(h.Girth, 0, -s.Aft)
	h.wetTo = crossing(h.Girth, s.LWL, s.LWL+s.Fore)
	h.Xs = h.sampled()
	var deepest, roots, hangs float64
	for _, x := range h.Xs {
		deepest = max(deepest, h.Girth(x))
		roots = max(roots, h.Root(x))
		h.Top = max(h.Top, h.Sheer(x))
	}
	for _, p := range s.Hung {
		hangs = max(hangs, h.Root(h.rootAt(p))+p.Span)
	}
	if s.Cut > 0 {
		hangs = min(hangs, roots+s.Cut)
	}
	h.Half = max(deepest, hangs) + gap
	return h
}

// gap is what keels facing each other keep clear of the middle of the sheet, m.
const gap = 0.08

func (h *Shape) sampled() []float64 {
	from, to := -h.Aft, h.LWL+h.Fore
	xs := make([]float64, 0, samples+16)
	for i := range samples + 1 {
		xs = append(xs, from+(to-from)*float64(i)/samples)
	}
	marks := []float64{0, h.LWL, h.wetFrom, h.wetTo}
	for i := 1; i < overhangSamples; i++ { // short ends bend most
		t := float64(i) / overhangSamples
		marks = append(marks, -h.Aft*t, h.LWL+h.Fore*t)
	}
	if k := h.Keel; k != nil {
		marks = append(marks, k.Heel-heelStep, k.Heel, k.Forefoot, k.Heel+heelRise)
	}
	for _, p := range h.Hung {
		marks = append(marks, p.At[0], p.At[1])
	}
	for _, x := range marks {
		if x > from && x < to {
			xs = append(xs, x)
		}
	}
	slices.Sort(xs)
	return slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(b-a) < 1e-9 })
}

// crossing finds where f passes zero between in, where it is positive, and out.
func crossing(f func(float64) float64, in, out float64) float64 {
	if f(out) >= 0 {
		return out
	}
	if f(in) <= 0 {
		return in
	}
	for range 40 {
		mid := (in + out) / 2
		if f(mid) > 0 {
			in = mid
		} else {
			out = mid
		}
	}
	return in
}

func (c Curve) at(u float64) float64 {
	if u < c.Peak {
		return 1 - (1-c.Aft)*math.Pow((c.Peak-u)/c.Peak, c.PA)
	}
	return 1 - (1-c.Fore)*math.Pow((u-c.Peak)/(1-c.Peak), c.PF)
}

// halves gives half-beam and body depth at u, 0…1 of the waterline.
func (h *Shape) halves(u float64) (b, d float64) {
	u = min(1, max(0, u))
	return h.Beam / 2 * h.Plan.at(u), h.Body * h.Profile.at(u)
}

func (h *Shape) inWater(u float64) float64 {
	b, d := h.halves(u)
	if h.Chine == nil {
		return arc(h.quarter, b, d)
	}
	c := h.Chine
	return math.Hypot(b*(1-c[0]), d*c[1]) + math.Hypot(b*c[0], d*(1-c[1]))
}

// quarter is the superellipse y^n + z^n = 1 from the waterline (1, 0) to the centreline
// (0, 1), by 24 chords.
func quarter(n float64) []Point {
	const chords = 24
	list := make([]Point, chords+1)
	for i := range list {
		t := math.Pi / 2 * float64(i) / chords
		list[i] = Point{math.Pow(math.Abs(math.Cos(t)), 2/n), math.Pow(math.Sin(t), 2/n)}
	}
	list[0], list[chords] = Point{1, 0}, Point{0, 1}
	return list
}

// arc is the length of a quarter section of half-beam b and depth d.
func arc(q []Point, b, d float64) float64 {
	sum := 0.0
	for i := 1; i < len(q); i++ {
		sum += math.Sqrt(sq(b*(q[i][0]-q[i-1][0])) + sq(d*(q[i][1]-q[i-1][1])))
	}
	return sum
}

// slopeStep is how far inside the waterline the slope of an overhang is taken, as a share
// of the waterline.
const slopeStep = 0.01

// overhang leaves the waterline's end at g with the slope found there and reaches end at
// t = 1: a parabola, never turning back on itself, so that the underside runs fair.
func overhang(g, slope, end, t float64) float64 {
	fall := end - g
	m := min(0, max(2*fall, slope))
	return g + m*t + (fall-m)*t*t
}

// Root is the skin from the waterline to where a keel would begin, m; negative where the
// hull is clear of the water.
func (h *Shape) Root(x float64) float64 { return h.along(x, h.inWater) }

// Depth is the same in side view: the depth of the body below the waterline, m.
func (h *Shape) Depth(x float64) float64 {
	return h.along(x, func(u float64) float64 { _, d := h.halves(u); return d })
}

func (h *Shape) along(x float64, f func(float64) float64) float64 {
	switch {
	case x < 0 && h.Aft > 0:
		g := f(0)
		return overhang(g, (g-f(slopeStep))/(slopeStep*h.LWL)*h.Aft, -h.Counter, min(1, -x/h.Aft))
	case x > h.LWL && h.Fore > 0:
		g := f(1)
		return overhang(g, (g-f(1-slopeStep))/(slopeStep*h.LWL)*h.Fore, -h.Freeboard[2], min(1, (x-h.LWL)/h.Fore))
	}
	return f(min(1, max(0, x/h.LWL)))
}

// The after edge of a long keel: it stands at once at heelShare of its depth and has all
// of it heelRise further forward.
const (
	heelShare = 0.55
	heelRise  = 0.11
	heelStep  = 1e-4
)

func (h *Shape) keel(x float64) float64 {
	k := h.Keel
	if k == nil || x < k.Heel || x > k.Forefoot {
		return 0
	}
	ramp := math.Pow(math.Sin(min(1, (k.Forefoot-x)/k.Ramp)*math.Pi/2), 1.4)
	return k.Depth * ramp * min(1, heelShare+(1-heelShare)*(x-k.Heel)/heelRise)
}

// Girth is the skin from the waterline to the keel's edge, m: [Shape.Root] and a long keel.
func (h *Shape) Girth(x float64) float64 { return h.Root(x) + h.keel(x) }

// Sheer is the height of the topsides, m.
func (h *Shape) Sheer(x float64) float64 {
	const lowest = 0.4
	u, f := (x+h.Aft)/h.Length(), h.Freeboard
	if u < lowest {
		return f[1] + (f[0]-f[1])*sq((lowest-u)/lowest)
	}
	return f[1] + (f[2]-f[1])*sq((u-lowest)/(1-lowest))
}

func sq(v float64) float64 { return v * v }

// Corner is where a hard chine runs, m below the waterline along the skin.
func (h *Shape) Corner(x float64) (down float64, ok bool) {
	if h.Chine == nil {
		return 0, false
	}
	b, d := h.halves(x / h.LWL)
	return min(h.Root(x), math.Hypot(b*(1-h.Chine[0]), d*h.Chine[1])), true
}

// rootAt is where a hung part's span is measured from: the fore edge of its root.
func (h *Shape) rootAt(p Hung) float64 { return min(h.LWL+h.Fore, max(-h.Aft, p.At[1])) }
