package report

import "encoding/json"

// Side of the hull a place lies on.
type Side string

// The sides of an element.
const (
	Port      Side = "port"
	Starboard Side = "starboard"
	Centre    Side = "centre"
)

// Spot is a point on the unrolled skin of an element.
type Spot struct {
	Side  Side `json:"side"`
	Along int  `json:"along"` // mm forward of the aft perpendicular
	Down  int  `json:"down"`  // mm of skin below the waterline datum, negative above
}

// Hull is the form of one element, as package figure draws it.
type Hull struct {
	Element  string          `json:"element"`            // "hull", "port hull"
	Shape    json.RawMessage `json:"shape"`              // a figure.Spec, metres
	Stations []Station       `json:"stations,omitempty"` // the plan's, from aft; every half metre without them
	Rows     []int           `json:"rows,omitempty"`     // mm down the skin of rows 0, 1, …
	Layers   []Layer         `json:"layers,omitempty"`   // what lies behind the skin
	Fittings []Fitting       `json:"fittings,omitempty"` // what goes through it
	Bared    []Spot          `json:"bared,omitempty"`    // windows opened
}

// Station is one of a plan's, by its number.
type Station struct {
	Number int `json:"number"`
	Along  int `json:"along"` // mm forward of the aft perpendicular
}

// Layer is something behind the skin, or an area of it.
type Layer struct {
	Name    string   `json:"name,omitempty"`
	Side    Side     `json:"side"`    // Centre stands for both sides
	Kind    string   `json:"kind"`    // "tank", "bulkhead" or "outline"
	Outline [][2]int `json:"outline"` // along, down; mm
}

// Fitting goes through the skin.
type Fitting struct {
	Name string `json:"name,omitempty"`
	At   Spot   `json:"at"`
}

// Pass is one going-over, with its context in words and its readings in plan order.
type Pass struct {
	ID         string    `json:"id"` // pas_…
	On         string    `json:"on"` // "14 October 2026"
	Element    string    `json:"element"`
	Instrument string    `json:"instrument"`       // in full, never a letter
	Scale      string    `json:"scale"`            // "scale 0 to 100, no unit"
	Ashore     string    `json:"ashore,omitempty"` // "21 days ashore"
	Surveyor   string    `json:"surveyor,omitempty"`
	Surface    string    `json:"surface,omitempty"`
	Baseline   *Baseline `json:"baseline,omitempty"`
	NoBaseline string    `json:"noBaseline,omitempty"` // why there is none
	Edges      []string  `json:"edges,omitempty"`      // words of the five steps, lowest first
	Context    []Fact    `json:"context,omitempty"`
	Readings   []Reading `json:"readings,omitempty"`
}

// Baseline is the hull's own dry places in one pass.
type Baseline struct {
	Places  int    `json:"places"`
	Median  string `json:"median"`
	Scatter string `json:"scatter"` // 1.4826 × MAD
}

// Gap says why a place has no reading.
type Gap string

// A place without a reading was not reached, or its reading was void.
const (
	Unread Gap = "unread"
	Void   Gap = "void"
)

// NoStep marks a reading without a baseline to stand above.
const NoStep = -1

// Reading is what one place said in one pass.
type Reading struct {
	Place      string   `json:"place"` // label, for ever: "P13/3"
	At         Spot     `json:"at"`
	Station    int      `json:"station"`
	Row        int      `json:"row"`
	Dry        bool     `json:"dry,omitempty"` // a place of the dry baseline
	Value      string   `json:"value,omitempty"`
	Figure     string   `json:"figure,omitempty"`   // as drawn on the hull: whole units
	Contrast   string   `json:"contrast,omitempty"` // above the dry baseline, with its sign
	Step       int      `json:"step"`               // 0 to 4 of the value scale, or NoStep
	Placements []string `json:"placements,omitempty"`
	Surface    string   `json:"surface,omitempty"` // where it is not the pass's
	Gap        Gap      `json:"gap,omitempty"`
	Why        string   `json:"why,omitempty"` // of a gap
	Follow     bool     `json:"follow,omitempty"`
	Corrected  string   `json:"corrected,omitempty"` // what an earlier issue printed here
}

// Plate is one drawing of one hull, with its table twin.
type Plate struct {
	ID        string     `json:"id"` // "plate-1"
	Number    int        `json:"number"`
	Title     string     `json:"title"`
	Mode      PlateMode  `json:"mode"`
	Element   string     `json:"element"`
	Pass      string     `json:"pass,omitempty"`    // id of the pass drawn
	Against   string     `json:"against,omitempty"` // id of the change drawn, for ModeChange
	Cartouche [2]string  `json:"cartouche"`         // large line and small line in the open space
	Note      string     `json:"note,omitempty"`    // what the legend must say, e.g. why there is no baseline
	Caption   []Sentence `json:"caption,omitempty"`
	Alt       string     `json:"alt"`
	Table     string     `json:"table"` // id of what says the same in words: "table-1"
}

// PlateMode is what a plate shows.
type PlateMode string

// The plates of a report: readings as taken, change between two passes, and where
// findings, photos and windows lie.
const (
	ModeReadings PlateMode = "readings"
	ModeChange   PlateMode = "change"
	ModePlaces   PlateMode = "places"
)

// VisitLine is one earlier visit and what may be done with it.
type VisitLine struct {
	On         string   `json:"on"`
	Ashore     string   `json:"ashore,omitempty"`
	Instrument string   `json:"instrument,omitempty"`
	Surveyor   string   `json:"surveyor,omitempty"`
	Standing   Standing `json:"standing"`
	Why        string   `json:"why,omitempty"`
}

// Change is one pass beside an earlier one, as far as the standing allows.
type Change struct {
	ID       string        `json:"id"` // "change-1"
	Pass     string        `json:"pass"`
	Since    string        `json:"since"` // "17 October 2023"
	Standing Standing      `json:"standing"`
	Why      string        `json:"why,omitempty"`
	Least    string        `json:"least,omitempty"` // least change shown at one place, scale units
	Compared int           `json:"compared"`
	Said     []Sentence    `json:"said,omitempty"`
	Places   []PlaceChange `json:"places,omitempty"`
}

// PlaceChange is what can be said of one place between two passes.
type PlaceChange struct {
	Place string  `json:"place"`
	Said  Verdict `json:"said"`
	Then  string  `json:"then,omitempty"` // above that day's baseline
	Now   string  `json:"now,omitempty"`
	By    string  `json:"by,omitempty"`     // "+13.8"
	Mark  string  `json:"mark,omitempty"`   // as drawn: "+14"
	Why   string  `json:"reason,omitempty"` // of "cannot tell"
}
