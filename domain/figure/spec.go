package figure

// Spec describes a hull well enough to draw its unrolled skin. Lengths are metres.
type Spec struct {
	Kind string `json:"kind,omitempty"` // one of [Kinds], or empty when drawn by hand

	LWL       float64    `json:"lwl"`               // waterline length
	Aft       float64    `json:"aft"`               // overhang behind the waterline; 0 for a transom in the water
	Fore      float64    `json:"fore"`              // overhang before it
	Beam      float64    `json:"beam"`              // at the waterline
	Body      float64    `json:"body"`              // depth of the hull without keel, below the waterline
	Freeboard [3]float64 `json:"freeboard"`         // at the stern, at its lowest, at the stem
	Counter   float64    `json:"counter,omitempty"` // height of the underside at the stern above the waterline

	Plan    Curve `json:"plan"`    // half-beam along the waterline
	Profile Curve `json:"profile"` // body depth along the waterline

	// One of the two: how full a round section is (2 is an ellipse, more is boxier,
	// 1 a straight V), or a chine as shares of half-beam out and of body depth down.
	Section float64     `json:"section,omitempty"`
	Chine   *[2]float64 `json:"chine,omitempty"`

	Keel  *LongKeel  `json:"keel,omitempty"`
	Bilge *BilgeKeel `json:"bilge,omitempty"`
	Hung  []Hung     `json:"hung,omitempty"`
	Cut   float64    `json:"cut,omitempty"` // what hangs is drawn this far below the hull, then broken off; 0 never
}

// Curve is a fullness along the waterline: 1 at Peak, falling to Aft at its after end and
// to Fore at its fore end, with powers PA and PF (1 falls straight, 2 as a parabola).
type Curve struct {
	Peak float64 `json:"peak"` // 0…1 of the waterline, from aft
	Aft  float64 `json:"aft"`
	Fore float64 `json:"fore"`
	PA   float64 `json:"pa"`
	PF   float64 `json:"pf"`
}

// LongKeel deepens the skin between Heel and Forefoot by up to Depth; the sole rises over
// Ramp towards the forefoot.
type LongKeel struct {
	Heel     float64 `json:"heel"`
	Forefoot float64 `json:"forefoot"`
	Ramp     float64 `json:"ramp"`
	Depth    float64 `json:"depth"`
}

// BilgeKeel is one keel a side, standing on the skin between From and To, at the share
// Out of the girth (0 the waterline, 1 the centreline), Thick along the skin, Span long.
type BilgeKeel struct {
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Out   float64 `json:"out"`
	Thick float64 `json:"thick"`
	Span  float64 `json:"span"`
	Name  string  `json:"name,omitempty"`
}

// Hung is a fin, skeg or rudder below the hull: At holds the after and fore edge at the
// root and then at the tip; Span is measured below the root.
type Hung struct {
	Name  string     `json:"name,omitempty"`
	At    [4]float64 `json:"at"`
	Span  float64    `json:"span"`
	Blade bool       `json:"blade,omitempty"` // a rudder or plate rather than ballast: ruled along, not hatched
	Right bool       `json:"right,omitempty"` // its name stands forward of it
}

// Length over all, m.
func (s Spec) Length() float64 { return s.Aft + s.LWL + s.Fore }
