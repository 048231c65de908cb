package diffusion

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Weighing is one weighing of a plug or coupon that takes up water.
type Weighing struct {
	After unit.Days
	Gain  float64 // percent of the mass when dried out
}

// FromWeighings gives a diffusivity from two weighings early in the uptake of a
// coupon, both faces open, and its gain at saturation in percent:
//
//	D = π (h/(4 M∞))² ((M₂ − M₁)/(√t₂ − √t₁))²
//
// the slope method of Shen and Springer 1976, J. Composite Materials 10, 2–20, as
// ASTM D5229 uses it (coefficients from memory). It holds on the straight part; the
// note "bent" says when the second weighing lies beyond about 0.6 of saturation.
//
// Errors: *measure.ArgumentError for a weighing that does not follow the first, a gain
// above saturation, a diffusivity that is no solid's.
func FromWeighings(thickness unit.Millimetres, a, b Weighing, saturation float64) (unit.Diffusivity, []measure.Note, error) {
	if err := thick("thickness", thickness); err != nil {
		return 0, nil, err
	}
	if err := measure.Positive("saturation", saturation); err != nil {
		return 0, nil, err
	}
	if err := a.check("a"); err != nil {
		return 0, nil, err
	}
	if err := b.check("b"); err != nil {
		return 0, nil, err
	}
	if b.After <= a.After || b.Gain <= a.Gain || b.Gain > saturation {
		return 0, nil, &measure.ArgumentError{Argument: "b", Why: "must come after a, with a greater gain that is not above saturation"}
	}
	slope := (b.Gain - a.Gain) / saturation / (math.Sqrt(b.After.Seconds()) - math.Sqrt(a.After.Seconds()))
	d := unit.Diffusivity(math.Pi * math.Pow(thickness.Metres()/4*slope, 2))
	if err := diffusivity("the diffusivity from a and b", d); err != nil {
		return 0, nil, err
	}
	if b.Gain > 0.6*saturation {
		return d, []measure.Note{{Code: "bent", Text: "the later weighing lies beyond the straight part of the uptake: the diffusivity comes out low"}}, nil
	}
	return d, nil, nil
}

func (w Weighing) check(name string) error {
	if err := elapsed(name+".After", w.After); err != nil {
		return err
	}
	return notNegative(name+".Gain", w.Gain)
}

// WithoutEdges takes the share of the cut edges off a coupon's apparent diffusivity:
// D = Dₐ/(1 + h/l + h/w)², all edges open, equal in all directions (Shen and
// Springer 1976). Fibres carry water along themselves up to ten times better than
// across, so the edges of a laminate can matter more than this.
//
// Errors: *measure.ArgumentError for a size or diffusivity out of range.
func WithoutEdges(apparent unit.Diffusivity, thickness, length, width unit.Millimetres) (unit.Diffusivity, error) {
	if err := diffusivity("apparent", apparent); err != nil {
		return 0, err
	}
	if err := thick("thickness", thickness); err != nil {
		return 0, err
	}
	if err := thick("length", length); err != nil {
		return 0, err
	}
	if err := thick("width", width); err != nil {
		return 0, err
	}
	f := 1 + float64(thickness/length) + float64(thickness/width)
	return apparent / unit.Diffusivity(f*f), nil
}
