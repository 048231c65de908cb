package baseline

import (
	"fmt"
	"strings"
)

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

// Sentence says the reason to the surveyor, and what would mend it.
func (r Reason) Sentence() string {
	said := strings.ToUpper(r.Said()[:1]) + r.Said()[1:]
	if todo, is := mends[r.Why]; is {
		return said + ": " + todo + "."
	}
	return said + "."
}

var mends = map[Why]string{
	TooFew:        "read more topsides places clear of the boot-top",
	HeightUnknown: "write it in the vessel's brief",
	OneSide:       "read some on the other side too",
	AtScaleEnd:    "use a scale that reaches further",
	NotBelow:      "nothing can be set against them",
}

// Said gives the reason alone, as it stands inside a sentence of a report.
func (r Reason) Said() string {
	switch r.Why {
	case TooFew:
		return fmt.Sprintf("%.0f usable dry places, %.0f needed", r.Have, r.Need)
	case HeightUnknown:
		return fmt.Sprintf("how far up the boot-top reaches was not written down, so none of %.0f dry places can be judged clear of it", r.Have)
	case OneSide:
		return "dry places on one side only"
	case AtScaleEnd:
		return fmt.Sprintf("%.0f readings at dry places are at the end of the scale, so their middle or scatter is not known", r.Have)
	case TooSpread:
		return fmt.Sprintf("the dry places scatter by %.2g units, more than the %.2g that the underbody's contrast allows", r.Have, r.Need)
	case NotBelow:
		return "the dry places do not read below the underbody"
	case NoUnderbody:
		return "nothing of the underbody was read in this pass"
	default:
		return r.Why.String()
	}
}
