// Package report is what a report says, as data: assembled once, frozen when it is
// issued, drawn by package render without a further thought.
//
// Everything a reader sees is already words here: rounded, in the practice's zone and
// units. Only what a drawing needs stays a number (millimetres on the skin, steps of
// the value scale, pixels of a photo). The sentences come from the vocabulary in this
// package, so that screens and reports make the same claims in the same words.
package report

import "time"

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

// Signature is the name under an issued report.
type Signature struct {
	Name string `json:"name"`
	As   string `json:"as"`           // "surveyor"
	On   string `json:"on,omitempty"` // day of signing
}
