package practice

import "math"

// Null stands for an empty slot of a Column.
const Null = math.MinInt32

// Column is a column of whole numbers aligned with a vessel's axis: slot k speaks of
// the place of ordinal k + 1. Null where there is none. A column is shorter than the
// axis where places were added after it was written.
type Column []int32

// At gives slot k, Null beyond the end.
func (c Column) At(k int) int32 {
	if k < 0 || k >= len(c) {
		return Null
	}
	return c[k]
}

// Flags of a reading in a grid. They go out on the wire as they are.
const (
	FlagBelow        = 1 << iota // under the lower end of the scale: the value is that end
	FlagAbove                    // over the upper end: the value is that end
	FlagRange                    // a range as written: the value is its middle
	FlagVoid                     // it does not count
	FlagFollowUp                 // to be followed up inside
	FlagNotReached               // could not be read
	FlagCorrected                // took the place of an earlier record
	FlagRepeated                 // read again on a later occasion
	FlagDry                      // a dry place of this pass
	FlagKnown                    // the hand had seen the earlier value
	FlagTargeted                 // over an anomaly: kept out of averages
	FlagOtherSurface             // read on another surface than the pass's
)

// Grid is the read model of a pass: what was taken, with flags, and its dry places.
type Grid struct {
	Taken  Column  // twentieths of a scale unit, first occasions only
	Flags  Column  // see the flags
	Dry    []int32 // ordinals
	Placed Column  // placements behind each value
}
