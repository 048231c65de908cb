// Package cause keeps the ledger of what may stand behind high readings: live causes,
// the evidence for and against each, what has not been done, and the check that would
// best tell apart what is left.
//
// The catalogue is the author's starting judgement (trade notes, "Differential
// diagnosis"), without data behind it: a line points towards a cause, it gives no
// chance of it. Electrical evidence alone names no cause; two independent families of
// evidence are needed before "likely", a sample or an opened place before "confirmed".
// Causes that mimic a wet laminate stay live until something excludes them.
//
// Everything here is a pure function of its arguments.
package cause

import "slices"

// Code names a cause of the catalogue.
type Code string

// The causes, in the order in which equals are listed: what mimics comes first, so that
// a reader meets the harmless before the costly.
const (
	Instrument         Code = "instrument"
	Hand               Code = "hand"
	Condensation       Code = "condensation"
	SurfaceWater       Code = "surface-water"
	ConductiveCoating  Code = "conductive-coating"
	SomethingBehind    Code = "something-behind"
	LinerOrBilge       Code = "liner-or-bilge"
	OrdinaryAbsorption Code = "ordinary-absorption"
	Residue            Code = "treatment-residue"
	Leak               Code = "leak-at-a-fitting"
	DryDisbond         Code = "dry-disbond"
	WetCore            Code = "wet-core"
	Hydrolysis         Code = "hydrolysis-or-blistering"
	Delamination       Code = "delamination"
)

// Cause is an entry of the catalogue.
type Cause struct {
	Code     Code
	Name     string // as in a sentence: "a leak at a fitting"
	Artefact bool   // it mimics a wet laminate: live until excluded
	Wet      bool   // water in the laminate or its core beyond what every hull takes up
}

// Catalogue lists the causes.
func Catalogue() []Cause { return slices.Clone(catalogue) }

var catalogue = []Cause{
	{Code: Instrument, Name: "the instrument", Artefact: true},
	{Code: Hand, Name: "the hand that held it", Artefact: true},
	{Code: Condensation, Name: "condensation", Artefact: true},
	{Code: SurfaceWater, Name: "water on or just under the surface", Artefact: true},
	{Code: ConductiveCoating, Name: "a conductive coating or filler", Artefact: true},
	{Code: SomethingBehind, Name: "something behind the skin", Artefact: true},
	{Code: LinerOrBilge, Name: "water behind a liner or in the bilge"},
	{Code: OrdinaryAbsorption, Name: "ordinary absorption"},
	{Code: Residue, Name: "residue of a treatment", Wet: true},
	{Code: Leak, Name: "a leak at a fitting", Wet: true},
	{Code: DryDisbond, Name: "a dry disbond or void"},
	{Code: WetCore, Name: "a wet core", Wet: true},
	{Code: Hydrolysis, Name: "hydrolysis or blistering", Wet: true},
	{Code: Delamination, Name: "a delamination that holds water", Wet: true},
}

// Of finds a cause of the catalogue.
func Of(c Code) (Cause, bool) {
	k := slices.IndexFunc(catalogue, func(x Cause) bool { return x.Code == c })
	if k < 0 {
		return Cause{}, false
	}
	return catalogue[k], true
}

// Family is a kind of evidence. Two lines of one family are not independent.
type Family string

// The families (trade notes, "Combining rule"). Records and circumstances weigh in the
// order of live causes, but are not among the families that can name one.
const (
	Electrical Family = "electrical"
	Acoustic   Family = "acoustic"
	Visual     Family = "visual"
	Chemical   Family = "chemical"
	Sample     Family = "physical sample"
	Records    Family = "records"
)

// Families lists the families of evidence.
func Families() []Family {
	return []Family{Electrical, Acoustic, Visual, Chemical, Sample, Records}
}

// Names tells whether the family counts as one of the two that "likely" needs.
func (f Family) Names() bool { return f != Records }

// Tag is what stands behind every entry of the catalogue.
const Tag = "starting judgement, no data"
