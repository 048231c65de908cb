package figure

// Mode is what a plate shows of its readings.
type Mode string

// The modes: one pass as read (today or any other), what changed since an earlier one, and
// the map drawn between the readings.
const (
	Today  Mode = "today"
	Change Mode = "change"
	Map    Mode = "map"
)

// Side of the hull.
type Side string

// The sides. Centre is the centreline, drawn once, between the keels.
const (
	Port      Side = "port"
	Starboard Side = "starboard"
	Centre    Side = "centre"
	Both      Side = "both" // layers only
)

// NoStep marks a reading of a pass without a baseline: a bare figure.
const NoStep = -1

// Options say what is drawn on a shape. Width is needed, the rest may be left out.
type Options struct {
	Width    float64   `json:"width"`           // px
	Small    bool      `json:"small,omitempty"` // marks without figures, for 390 px
	Mode     Mode      `json:"mode,omitempty"`  // Today when empty
	Readings []Reading `json:"readings,omitempty"`
	Chosen   string    `json:"chosen,omitempty"` // id of the place under the cross-bearings

	Stations []Tick `json:"stations,omitempty"` // the plan's; every half metre when empty
	Rows     []Tick `json:"rows,omitempty"`     // the plan's, down the skin

	Layers   []Layer   `json:"layers,omitempty"`
	Fittings []Fitting `json:"fittings,omitempty"`
	Pins     []Pin     `json:"pins,omitempty"`

	// Map only: lower limits of steps 1 to 4 above the baseline, in scale units, how far
	// from a place the map is drawn, m (0.45 when nought), and what lies between places.
	Edges   [4]float64 `json:"edges,omitzero"`
	Reach   float64    `json:"reach,omitempty"`
	Surface *Surface   `json:"surface,omitempty"`

	Title string `json:"title,omitempty"` // the cartouche; neither title nor scale when empty
	Under string `json:"under,omitempty"`
	Label string `json:"label,omitempty"` // accessible name of the whole figure

	Radius float64 `json:"radius,omitempty"` // of a mark, px; chosen to fit when nought
	Bare   bool    `json:"bare,omitempty"`   // without the words Port and Starboard
}

// Surface holds contrasts between the places with their doubt, on a lattice over the
// skin laid flat: metres along, and metres from the centreline over the skin, port
// negative. Row by row; beyond it nothing is known.
type Surface struct {
	Along  float64   `json:"along"`
	Across float64   `json:"across"`
	Step   float64   `json:"step"`
	Cols   int       `json:"cols"`
	Rows   int       `json:"rows"`
	Above  []float64 `json:"above"` // scale units

	// Doubt is the standard error as a share of what one would be off by knowing of no
	// place (measure/where); the map is hatched from HatchFrom.
	Doubt     []float64 `json:"doubt"`
	HatchFrom float64   `json:"hatchFrom"`
}

// Tick is a station or a row: its word and its distance, m. An empty word is its number.
type Tick struct {
	Word string  `json:"word,omitempty"`
	At   float64 `json:"at"`
}

// Gap says why a place has no figure.
type Gap string

// The gaps.
const (
	NoGap   Gap = ""
	NotRead Gap = "unread" // could not be reached
	Void    Gap = "void"   // read, and thrown out
	Due     Gap = "due"    // still to be read in this pass
)

// Reading is one place of a pass.
type Reading struct {
	ID     string  `json:"id"`
	Side   Side    `json:"side"`
	Along  float64 `json:"along"`
	Down   float64 `json:"down"`
	Value  string  `json:"value,omitempty"` // as it stands on the hull: whole units, "<5", "15–20"
	Above  float64 `json:"above,omitempty"` // contrast with the dry baseline, scale units; for the map
	Step   int     `json:"step"`            // of Above, 0 to 4, or NoStep
	Gap    Gap     `json:"gap,omitempty"`
	Follow bool    `json:"follow,omitempty"` // follow up inside
	Dry    bool    `json:"dry,omitempty"`    // a place of the baseline
	Said   Said    `json:"said,omitempty"`   // Change only
	By     string  `json:"by,omitempty"`     // the change, signed; Change only. With Untold a difference without a verdict
}

// Said is what may be said of a change.
type Said string

// What may be said. Anything else is drawn as Untold.
const (
	Up     Said = "up"
	Down   Said = "down"
	None   Said = "none"
	Untold Said = "untold"
)

// Layer is something behind the skin, or an area of it. Its outline is in along, down.
type Layer struct {
	Name    string    `json:"name,omitempty"`
	Side    Side      `json:"side"` // Port, Starboard or Both
	Kind    LayerKind `json:"kind"`
	Outline []Point   `json:"outline"`
	Label   *Point    `json:"label,omitempty"` // where the name stands; found when nil
}

// LayerKind is how a layer is drawn.
type LayerKind string

// The kinds: a shaded outline, a line across the skin, a plain outline.
const (
	Tank     LayerKind = "tank"
	Bulkhead LayerKind = "bulkhead"
	Outline  LayerKind = "outline"
)

// Fitting goes through the skin.
type Fitting struct {
	Name  string  `json:"name,omitempty"`
	Side  Side    `json:"side"`
	Along float64 `json:"along"`
	Down  float64 `json:"down"`
	Label *Point  `json:"label,omitempty"`
}

// Pin marks a finding, a window opened or a photograph.
type Pin struct {
	ID    string  `json:"id"`
	Side  Side    `json:"side"`
	Along float64 `json:"along"`
	Down  float64 `json:"down"`
	Kind  PinKind `json:"kind"`
	Word  string  `json:"word,omitempty"` // its number in the report

	Outline []Point `json:"outline,omitempty"` // as drawn on the skin, in along, down; none where it is a spot
}

// PinKind is how a pin is drawn.
type PinKind string

// The kinds of pins.
const (
	Finding PinKind = "finding" // a lozenge
	Window  PinKind = "window"  // a square of 100 mm, to scale
	Photo   PinKind = "photo"   // a triangle
)

// StepOf counts the edges that a contrast reaches: the first two-and-a-half times the
// scatter of the pass's baseline, the others a setting of the practice.
func StepOf(above float64, edges [4]float64) int {
	n := 0
	for _, e := range edges {
		if above >= e {
			n++
		}
	}
	return n
}
