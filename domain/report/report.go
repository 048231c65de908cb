// Package report is what a report says, as data: assembled once, frozen when it is
// issued, drawn by package render without a further thought.
//
// Everything a reader sees is already words here: rounded, in the practice's zone and
// units. Only what a drawing needs stays a number (millimetres on the skin, steps of
// the value scale, pixels of a photo). The sentences come from the vocabulary in this
// package, so that screens and reports make the same claims in the same words.
package report

import (
	"encoding/json"
	"time"
)

// Report is one report in one state: a draft as it stood, or what was issued.
// Encode gives its frozen bytes.
type Report struct {
	Format      int       `json:"format"` // version of this shape; see Format
	Issue       Issue     `json:"issue"`
	GeneratedAt time.Time `json:"generatedAt"` // instant of assembly, UTC, whole seconds

	Practice Practice `json:"practice"`
	Client   Client   `json:"client"`
	Vessel   Vessel   `json:"vessel"`
	Kind     string   `json:"kind"` // as the title says it: "Limited survey, moisture of the underbody"

	Scope   []Sentence `json:"scope,omitempty"`   // what was asked and agreed
	InShort []Sentence `json:"inShort,omitempty"` // what, where, how sure, how urgent, by when
	Limits  []Sentence `json:"limits,omitempty"`  // computed from what was not reached, opened, permitted

	Recommendations []Recommendation `json:"recommendations,omitempty"`
	Boat            []Fact           `json:"boat,omitempty"`
	Taken           []Fact           `json:"taken,omitempty"` // how it was read

	Hulls   []Hull      `json:"hulls,omitempty"`
	Passes  []Pass      `json:"passes,omitempty"` // today's first
	Plates  []Plate     `json:"plates,omitempty"`
	Visits  []VisitLine `json:"visits,omitempty"` // earlier visits and whether they can be compared
	Changes []Change    `json:"changes,omitempty"`

	Findings  []Finding  `json:"findings,omitempty"`
	Photos    []Photo    `json:"photos,omitempty"`
	Schedule  []Area     `json:"schedule,omitempty"` // whole-boat surveys
	Valuation *Valuation `json:"valuation,omitempty"`
	Sections  []Section  `json:"sections,omitempty"` // the surveyor's own text

	Cautions  []string   `json:"cautions,omitempty"` // beyond the standing ones, which are always printed
	Signature *Signature `json:"signature,omitempty"`
	Review    string     `json:"review,omitempty"` // the second look, or the self-check, in words
	AuditHead string     `json:"auditHead,omitempty"`
	Invented  string     `json:"invented,omitempty"` // where the boat is made up: the sentence that says so
}

// Issue says which report this is and how far it has got.
type Issue struct {
	Draft      bool      `json:"draft"`
	Number     string    `json:"number,omitempty"`     // "2026-117"; empty for a draft
	On         string    `json:"on,omitempty"`         // "20 October 2026", practice's zone; for a draft the day it stood so
	At         time.Time `json:"at,omitzero"`          // instant of issue, UTC, whole seconds
	AddendumTo string    `json:"addendumTo,omitempty"` // number of the report this one adds to
	Addendum   int       `json:"addendum,omitempty"`   // 1, 2, … where AddendumTo is set
	Because    string    `json:"because,omitempty"`    // why the addendum was needed
	Replaces   string    `json:"replaces,omitempty"`   // number of the report this one stands for now
}

// Practice is who reports.
type Practice struct {
	Name    string   `json:"name"`
	Place   string   `json:"place,omitempty"`   // "Port Skerrow"
	Contact []string `json:"contact,omitempty"` // lines of an address, telephone, e-mail
}

// Client is whom the report is for.
type Client struct {
	Name string `json:"name"`
	As   string `json:"as,omitempty"` // "owner", "buyer", "insurer"
}

// Vessel identifies the boat. The name is never a key.
type Vessel struct {
	ID         string   `json:"id,omitempty"` // vsl_…
	Name       string   `json:"name"`
	Former     []string `json:"former,omitempty"`
	HullNumber string   `json:"hullNumber,omitempty"` // exactly as read
	Registered string   `json:"registered,omitempty"`
}

// Fact is a line of "The boat" or "How it was read": a name and what is so.
type Fact struct {
	Name string `json:"name"`
	Is   string `json:"is"`
}

// Recommendation is one thing to do, or to know.
type Recommendation struct {
	ID            string   `json:"id,omitempty"` // rec_…: the same across reports
	Grade         Grade    `json:"grade"`
	What          string   `json:"what"`
	Because       string   `json:"because,omitempty"` // reason and consequence
	Sure          Sure     `json:"sure"`
	Who           string   `json:"who,omitempty"`
	By            string   `json:"by,omitempty"`       // "28 Oct 2026"
	ClosedBy      string   `json:"closedBy,omitempty"` // what closes it
	State         string   `json:"state,omitempty"`    // where it stands, when it came from an earlier report
	First         string   `json:"first,omitempty"`    // number of the report that first made it
	ReadingsAlone bool     `json:"readingsAlone,omitempty"`
	See           []string `json:"see,omitempty"` // ids of findings, plates, photos
}

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
	Rows     []int           `json:"rows,omitempty"`     // mm down the skin of rows 0, 1, …
	Layers   []Layer         `json:"layers,omitempty"`   // what lies behind the skin
	Fittings []Fitting       `json:"fittings,omitempty"` // what goes through it
	Bared    []Spot          `json:"bared,omitempty"`    // windows opened
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

// Finding is something seen, heard, smelt or opened.
type Finding struct {
	ID       string     `json:"id"`
	Number   int        `json:"number"`
	Kind     string     `json:"kind"` // "blisters", "crack pattern"
	Title    string     `json:"title"`
	Where    string     `json:"where,omitempty"`
	Sure     Sure       `json:"sure"`
	At       []Spot     `json:"at,omitempty"`
	Element  string     `json:"element,omitempty"`
	Text     []Sentence `json:"text,omitempty"`
	Measured []Fact     `json:"measured,omitempty"`
	Photos   []string   `json:"photos,omitempty"` // ids
}

// Photo is one picture in the report. Its bytes are handed to the renderer, which
// checks them against the hash kept here.
type Photo struct {
	ID       string       `json:"id"`
	Number   int          `json:"number"`
	Caption  string       `json:"caption"`
	Alt      string       `json:"alt"` // what it shows, for who cannot see it
	Taken    string       `json:"taken,omitempty"`
	By       string       `json:"by,omitempty"`
	Place    string       `json:"place,omitempty"`
	Element  string       `json:"element,omitempty"`
	At       *Spot        `json:"at,omitempty"`
	Width    int          `json:"width"` // pixels of the copy printed
	Height   int          `json:"height"`
	SHA256   string       `json:"sha256"`             // hex, of the copy printed (JPEG)
	Original string       `json:"original,omitempty"` // hex, of the file as taken
	OnDevice bool         `json:"onDevice,omitempty"` // the copy was made on the device from an original kept as it is
	Notes    []Annotation `json:"notes,omitempty"`
}

// Annotation is drawn over a photo and never alters it.
type Annotation struct {
	Kind string `json:"kind"` // "arrow", "ring" or "text"
	X    int    `json:"x"`    // thousandths of the width, from the left
	Y    int    `json:"y"`    // thousandths of the height, from the top
	ToX  int    `json:"toX,omitempty"`
	ToY  int    `json:"toY,omitempty"` // arrow: its point; ring: a point on it
	Text string `json:"text,omitempty"`
}

// Area of a whole-boat survey.
type Area struct {
	Name  string `json:"name"`
	Items []Item `json:"items,omitempty"`
}

// Item is one thing of an area: looked at, in part, or not.
type Item struct {
	Name      string `json:"name"`
	Examined  string `json:"examined"` // "examined", "in part", "not examined"
	Why       string `json:"why,omitempty"`
	Condition string `json:"condition,omitempty"`
	Note      string `json:"note,omitempty"`
	Finding   string `json:"finding,omitempty"` // id
}

// Valuation is an opinion of value on a day.
type Valuation struct {
	Figure      string     `json:"figure"` // with its currency, in words of the practice
	Basis       string     `json:"basis"`
	On          string     `json:"on"`
	Said        []Sentence `json:"said,omitempty"`
	Comparables []Fact     `json:"comparables,omitempty"`
}

// Section is the surveyor's own text under a heading of its own.
type Section struct {
	Title string   `json:"title"`
	Text  []string `json:"text"` // paragraphs
}

// Signature is the name under an issued report.
type Signature struct {
	Name string `json:"name"`
	As   string `json:"as"`           // "surveyor"
	On   string `json:"on,omitempty"` // day of signing
}
