package report

import (
	"time"

	"boottop.example/practice/domain/measure"
)

// Input is what a report is built from: rows of the database and results of the
// arithmetic, as figures. Build rounds and words them. What is nil or empty was not
// written down, and the report says so where it matters.
type Input struct {
	Issue       Issue          // On is worked out from At, or from GeneratedAt for a draft
	Zone        *time.Location // the practice's; of what was done in a yard the yard's, where it is given
	Units       Units
	GeneratedAt time.Time

	Practice Practice
	Client   Client
	Vessel   Vessel
	Kind     string
	Scope    []string // the terms, as agreed

	Boat    BoatInput
	Hulls   []Hull
	Today   []PassInput // today's passes, the one the report speaks of first
	Windows *WindowsInput
	Look    string // how the whole underbody was looked over: "wet, in raking light"
	// BlistersFound says that a finding of the report counts blisters: then none may be said
	// not to have been seen.
	BlistersFound bool

	Compared []ComparisonInput // latest first
	Earlier  []VisitInput      // all earlier visits, latest first
	Limits   LimitsInput
	Lead     []string // the surveyor's own first words, before the computed ones

	Recommendations []Recommendation
	Findings        []Finding
	Photos          []Photo
	Schedule        []Area
	Valuation       *Valuation
	Sections        []Section
	Cautions        []string
	Signature       *Signature
	Review          string
	AuditHead       string
	Invented        string
}

// BoatInput is what "The boat" says.
type BoatInput struct {
	Type      string   // "fin-keel sloop"
	LengthMM  int      // 0: not known
	Moulded   string   // "1989", as known
	HullRead  string   // "cut in the transom, as read"
	Underbody []string // construction and coatings, with how known
	Water     string   // "salt water"
	MonthsIn  *int     // months since the last launch, before this lift
	Relaunch  *time.Time
	More      []Fact
}

// PassInput is one of today's passes.
type PassInput struct {
	ID         string
	At         time.Time
	Zone       *time.Location // of the yard; nil for the practice's
	Element    string
	Instrument string // in full
	ScaleLow   float64
	ScaleHigh  float64
	Mode       string
	Face       string // "outside", "inside"
	Ashore     *AshoreInput
	Surveyor   string

	BlockBefore []float64 // low and high block, scale units
	BlockAfter  []float64
	Surface     string // underbody
	DrySurface  string // the baseline's
	WashHours   *float64
	HeatHours   *float64 // since heat off, where there was any
	Rain        string

	Air           *float64 // °C
	Humidity      *float64 // % RH
	SkinPort      *float64 // °C
	SkinStarboard *float64

	Baseline   *BaselineInput
	NoBaseline string
	DryChanged string     // why its dry places differ from those of the plan before; empty where they do not
	Above      *float64   // median contrast of the underbody, scale units
	Edges      [4]float64 // of the value scale; the first is 2.5 times the baseline's scatter
	Readings   []ReadingInput
}

// BaselineInput is median and scatter of the dry places, scale units.
type BaselineInput struct {
	Places  int
	Median  float64
	Scatter float64 // 1.4826 × MAD
}

// ReadingInput is one place of a pass, read or not, in plan order.
type ReadingInput struct {
	Place      string
	At         Spot
	Station    int
	Row        int
	Dry        bool
	Value      measure.Value
	Placements []measure.Value
	Contrast   *float64 // nil without a baseline
	Surface    string
	Gap        Gap
	Why        string
	Follow     bool
	Corrected  string
}

// WindowsInput is what was bared.
type WindowsInput struct {
	Count       int
	Width       int // mm
	Height      int
	To          string  // "scraped to gelcoat for the eye"
	M2          float64 // together
	Blisters    int
	BoundPerM2  float64 // upper 95 % density behind a count of zero
	OtherShapes bool    // windows of several sizes: only the sum is printed
}

// ComparisonInput is today's pass beside an earlier one.
type ComparisonInput struct {
	ID        string // "change-1"
	Pass      string // id of today's pass
	Since     time.Time
	Zone      *time.Location // of the yard then; nil for the practice's
	Standing  Standing
	Why       string
	How       string   // "same instrument, scale, surface and face; 21 and 22 days ashore"
	Least     *float64 // nil: the spread of repeats has not been measured
	Compared  int
	OfPlaces  int // places that might have been compared; 0 leaves the sentence out
	DryPlaces int // dry places common to both
	AtLarge   Verdict
	Untold    string // why nothing can be told, a sentence, where it is not for want of measuring oneself
	Todo      string // what would tell, a sentence

	ExplainedBy string  // what accounts for the difference at large: "days ashore"
	By          float64 // that difference, scale units

	Zones     []Zone
	Places    []PlaceChangeInput
	LeastNote string
}

// PlaceChangeInput is one place between two passes.
type PlaceChangeInput struct {
	Place     string
	Said      Verdict
	Then, Now *float64 // above each day's baseline
	By        *float64
	// How then and now met the end of the scale: what is printed of them is then a bound.
	ThenLimit, NowLimit measure.Limit
	Why                 string
}

// VisitInput is an earlier visit and its standing beside today's.
type VisitInput struct {
	At              time.Time
	Zone            *time.Location // of the yard; nil for the practice's
	AsWritten       string         // a date known to the year only: "1998"
	Ashore          *AshoreInput
	AshoreAsWritten string // by an old report, where nothing else is known: "some weeks"
	Instrument      string
	Surveyor        string
	Standing        Standing
	Why             string
}

// LimitsInput is what the limits are computed from.
type LimitsInput struct {
	Unreached    []Reason
	Void         []Reason
	NotOpened    []string
	NotPermitted []string
	NotExamined  []ItemLeft // of the schedule of a whole-boat survey
	More         []string   // the surveyor's own: "Inside, on 16 October, a lining hid …"
	FlawMM       int        // smallest round flaw met nine times in ten; 0 where there is no grid
	Drying       *DryingInput
	Ortho        bool
	Frozen       bool     // the surface stood below 0 °C
	Missing      []string // circumstances that were not written down
}

// ItemLeft is an item of the schedule that was not examined, or not all of it.
type ItemLeft struct {
	Name   string
	InPart bool
	Why    string
}

// DryingInput is how far drying has reached since the lift.
type DryingInput struct {
	Days          int
	Hours         *int    // while they are under 72 and known
	Air           float64 // °C
	LowMM, HighMM float64
	Left          float64 // share of the signal left to the instrument, for the greatest diffusivity; 0 is not known
}
