package figure

import (
	"fmt"
	"slices"
	"strings"
)

// The kinds of hull that Default knows.
const (
	FinKeelSloop          = "finKeelSloop"
	FullKeel              = "longKeel"
	TwinKeel              = "bilgeKeel"
	LiftingKeel           = "liftingKeel"
	ChineMotorBoat        = "chineMotorBoat"
	DisplacementMotorBoat = "displacementMotorBoat"
	OpenBoat              = "openBoat"
)

// Kinds lists them.
var Kinds = []string{FinKeelSloop, FullKeel, TwinKeel, LiftingKeel, ChineMotorBoat, DisplacementMotorBoat, OpenBoat}

// Dims are the four numbers that are on every boat's papers, m.
type Dims struct {
	LOA     float64 `json:"loa"`
	Beam    float64 `json:"beam"`
	Draught float64 `json:"draught"`
	LWL     float64 `json:"lwl,omitempty"` // 0 when unknown: a usual share of LOA
}

// Default gives a fair figure of a kind from its main dimensions. It is a starting point
// that the surveyor corrects against the boat; its shares of length and beam are common
// practice, no source.
//
// Errors: *SpecError, naming kind, loa, beam, draught or lwl.
func Default(kind string, d Dims) (Spec, error) {
	draw, ok := makers[kind]
	if !ok {
		return Spec{}, &SpecError{[]Problem{{"kind", fmt.Sprintf("%q is not known; give one of %s", kind, strings.Join(Kinds, ", "))}}}
	}
	c := &check{}
	c.between("loa", d.LOA, 2, 50)
	if len(c.problems) == 0 {
		c.between("beam", d.Beam, 0.12*d.LOA, 0.6*d.LOA)
		c.between("draught", d.Draught, 0.1, 0.4*d.LOA)
		if d.LWL != 0 {
			c.between("lwl", d.LWL, 0.6*d.LOA, d.LOA)
		}
	}
	if len(c.problems) > 0 {
		return Spec{}, &SpecError{c.problems}
	}
	s := draw(d)
	s.Kind = kind
	s = s.tidy()
	return s, s.Validate()
}

var makers = map[string]func(Dims) Spec{
	FinKeelSloop: finKeelSloop, FullKeel: longKeel, TwinKeel: bilgeKeel, LiftingKeel: liftingKeel,
	ChineMotorBoat: chineMotorBoat, DisplacementMotorBoat: displacementMotorBoat, OpenBoat: openBoat,
}

// ends splits what LOA has over the waterline: share of it aft, the rest before.
func (d Dims) ends(lwlShare, aftShare float64) (lwl, aft, fore float64) {
	lwl = d.LWL
	if lwl == 0 {
		lwl = lwlShare * d.LOA
	}
	over := d.LOA - lwl
	return lwl, aftShare * over, (1 - aftShare) * over
}

// freeboard grows slowly with length: stern and stem as multiples of the lowest.
func (d Dims) freeboard(stern, stem float64) [3]float64 {
	low := 0.25 + 0.066*d.LOA
	return [3]float64{stern * low, low, stem * low}
}

func yachtPlan() Curve    { return Curve{Peak: 0.44, Aft: 0.12, PA: 2.3, PF: 1.75} }
func yachtProfile() Curve { return Curve{Peak: 0.5, PA: 1.9, PF: 2} }

// yacht is a round-bilged sailing hull without its keel.
func yacht(d Dims) Spec {
	lwl, aft, fore := d.ends(0.815, 0.48)
	fb := d.freeboard(0.97, 1.32)
	return Spec{
		LWL: lwl, Aft: aft, Fore: fore, Beam: 0.94 * d.Beam, Body: min(0.06*lwl, 0.7*d.Draught), Freeboard: fb, Counter: 0.45 * fb[0],
		Plan: yachtPlan(), Profile: yachtProfile(), Section: 2.15, Cut: 0.36,
	}
}

func finKeelSloop(d Dims) Spec {
	s := yacht(d)
	l, span := s.LWL, max(0.06, d.Draught-s.Body)
	s.Hung = []Hung{
		{Name: "fin", At: [4]float64{0.39 * l, 0.62 * l, 0.42 * l, 0.58 * l}, Span: span},
		{Name: "rudder", At: [4]float64{0.023 * l, 0.091 * l, 0.035 * l, 0.084 * l}, Span: 0.95 * span, Blade: true, Right: true},
	}
	return s
}

func longKeel(d Dims) Spec {
	lwl, aft, fore := d.ends(0.765, 0.43)
	body := min(0.095*lwl, 0.5*d.Draught)
	fb := d.freeboard(0.97, 1.42)
	return Spec{
		LWL: lwl, Aft: aft, Fore: fore, Beam: 0.94 * d.Beam, Body: body, Freeboard: fb, Counter: 0.5 * fb[0],
		Plan: Curve{Peak: 0.46, PA: 2, PF: 1.7}, Profile: Curve{Peak: 0.48, Aft: 0.1, PA: 1.8, PF: 1.8}, Section: 1.9,
		Keel: &LongKeel{Heel: 0.1 * lwl, Forefoot: 0.9 * lwl, Ramp: 0.47 * lwl, Depth: d.Draught - body},
		Hung: []Hung{{Name: "rudder", At: [4]float64{-0.005 * lwl, 0.098 * lwl, 0.017 * lwl, 0.098 * lwl}, Span: 0.85 * d.Draught, Blade: true}},
	}
}

func bilgeKeel(d Dims) Spec {
	s := yacht(d)
	l, span := s.LWL, max(0.06, d.Draught-s.Body)
	s.Bilge = &BilgeKeel{From: 0.38 * l, To: 0.62 * l, Out: 0.62, Thick: 0.02 * l, Span: span, Name: "bilge keel"}
	s.Hung = []Hung{{Name: "rudder and skeg", At: [4]float64{0.02 * l, 0.11 * l, 0.03 * l, 0.085 * l}, Span: 0.85 * span, Blade: true, Right: true}}
	return s
}

func liftingKeel(d Dims) Spec {
	s := yacht(d)
	l, span := s.LWL, max(0.06, d.Draught-s.Body)
	s.Hung = []Hung{
		{Name: "plate", At: [4]float64{0.42 * l, 0.58 * l, 0.4 * l, 0.5 * l}, Span: span, Blade: true},
		{Name: "rudder", At: [4]float64{0.01 * l, 0.07 * l, 0.02 * l, 0.065 * l}, Span: 0.8 * span, Blade: true, Right: true},
	}
	return s
}

func chineMotorBoat(d Dims) Spec {
	lwl, _, fore := d.ends(0.895, 0)
	body := min(0.092*lwl, 0.85*d.Draught)
	fb := d.freeboard(1.1, 1.75)
	return Spec{
		LWL: lwl, Fore: fore, Beam: 0.95 * d.Beam, Body: body, Freeboard: fb,
		Plan: Curve{Peak: 0.32, Aft: 0.9, PA: 2, PF: 2.1}, Profile: Curve{Peak: 0.45, Aft: 0.72, PA: 1.5, PF: 2}, Chine: &[2]float64{0.9, 0.3},
		Hung: []Hung{{Name: "rudders", At: [4]float64{0.018 * lwl, 0.06 * lwl, 0.018 * lwl, 0.055 * lwl}, Span: max(0.05, d.Draught-0.8*body), Blade: true, Right: true}},
	}
}

func displacementMotorBoat(d Dims) Spec {
	lwl, _, fore := d.ends(0.9, 0)
	body := min(0.085*lwl, 0.7*d.Draught)
	fb := d.freeboard(1.05, 1.7)
	return Spec{
		LWL: lwl, Fore: fore, Beam: 0.95 * d.Beam, Body: body, Freeboard: fb,
		Plan: Curve{Peak: 0.42, Aft: 0.55, PA: 2.2, PF: 1.9}, Profile: Curve{Peak: 0.5, Aft: 0.15, PA: 1.8, PF: 2}, Section: 2.3,
		Keel: &LongKeel{Heel: 0.14 * lwl, Forefoot: 0.85 * lwl, Ramp: 0.6 * lwl, Depth: d.Draught - body},
		Hung: []Hung{{Name: "rudder", At: [4]float64{0.03 * lwl, 0.1 * lwl, 0.03 * lwl, 0.1 * lwl}, Span: 0.75 * d.Draught, Blade: true}},
	}
}

func openBoat(d Dims) Spec {
	lwl, _, fore := d.ends(0.94, 0)
	body := min(0.045*lwl, 0.8*d.Draught)
	low := 0.2 + 0.05*d.LOA
	return Spec{
		LWL: lwl, Fore: fore, Beam: 0.88 * d.Beam, Body: body, Freeboard: [3]float64{1.05 * low, low, 1.4 * low},
		Plan: Curve{Peak: 0.42, Aft: 0.7, PA: 2.2, PF: 1.8}, Profile: Curve{Peak: 0.5, Aft: 0.2, PA: 1.8, PF: 2}, Section: 2.4,
	}
}

// tidy rounds lengths to the millimetre, so that what is stored reads like a person's.
func (s Spec) tidy() Spec {
	for _, v := range []*float64{&s.LWL, &s.Aft, &s.Fore, &s.Beam, &s.Body, &s.Freeboard[0], &s.Freeboard[1], &s.Freeboard[2], &s.Counter} {
		*v = milli(*v)
	}
	if k := s.Keel; k != nil {
		k.Heel, k.Forefoot, k.Ramp, k.Depth = milli(k.Heel), milli(k.Forefoot), milli(k.Ramp), milli(k.Depth)
	}
	if b := s.Bilge; b != nil {
		b.From, b.To, b.Thick, b.Span = milli(b.From), milli(b.To), milli(b.Thick), milli(b.Span)
	}
	s.Hung = slices.Clone(s.Hung)
	for i := range s.Hung {
		h := &s.Hung[i]
		h.Span = milli(h.Span)
		for j := range h.At {
			h.At[j] = milli(h.At[j])
		}
	}
	return s
}
