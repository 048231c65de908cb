package baseline

import "fmt"

// Why says why a pass has no baseline, or why a dry place was not used.
type Why uint8

// Reasons why there is no baseline.
const (
	TooFew      Why = iota + 1 // fewer usable dry places than needed: Have, Need
	OneSide                    // no usable place on one of the sides: Have 0, Need 1
	AtScaleEnd                 // so many dry readings are at the scale's end that median or scatter is open: Have of them
	TooSpread                  // scatter above its share of the underbody's contrast: Have, Need at most
	NotBelow                   // the dry level is not below the underbody's: Have the contrast, in units
	NoUnderbody                // nothing of the underbody was read
)

// Reasons why a dry place was left out. HeightUnknown is a reason why there is no baseline
// as well, where it leaves too few: Have of them.
const (
	TooLow        Why = iota + 101 // too near the boot-top, or below it
	HeightUnknown                  // its height above the boot-top was not recorded
	OtherSurface                   // not the surface of the others
)

var codes = map[Why]string{
	TooFew: "too-few", OneSide: "one-side", AtScaleEnd: "at-scale-end", TooSpread: "too-spread",
	NotBelow: "not-below", NoUnderbody: "no-underbody",
	TooLow: "too-low", HeightUnknown: "height-unknown", OtherSurface: "other-surface",
}

// String gives the code programs use, e.g. "too-few".
func (w Why) String() string {
	if c, ok := codes[w]; ok {
		return c
	}
	return fmt.Sprintf("why-%d", uint8(w))
}

// Reason is one reason why there is no baseline, with the figures behind it.
type Reason struct {
	Why        Why
	Have, Need float64 // counts, or scale units: see the constants
}

// LeftOut is a dry place that was not used.
type LeftOut struct {
	Index int // in the places given
	Why   Why
}

func (b *Baseline) because(w Why, have, need float64) {
	b.Reasons = append(b.Reasons, Reason{w, have, need})
}

// Sentence says the reason to a person and what would mend it.
func (r Reason) Sentence() string {
	switch r.Why {
	case TooFew:
		return fmt.Sprintf("%.0f usable dry places, %.0f needed: read more topsides places clear of the boot-top.", r.Have, r.Need)
	case HeightUnknown:
		return fmt.Sprintf("How far up the boot-top reaches was not written down, so none of %.0f dry places can be judged clear of it: write it in the vessel's brief.", r.Have)
	case OneSide:
		return "Dry places on one side only: read some on the other side too."
	case AtScaleEnd:
		return fmt.Sprintf("%.0f readings at dry places are at the end of the scale, so their middle or scatter is not known: use a scale that reaches further.", r.Have)
	case TooSpread:
		return fmt.Sprintf("The dry places scatter by %.2g units, more than the %.2g that the underbody's contrast allows.", r.Have, r.Need)
	case NotBelow:
		return "The dry places do not read below the underbody: nothing can be set against them."
	case NoUnderbody:
		return "Nothing of the underbody was read in this pass."
	default:
		return r.Why.String()
	}
}
