package change

import "fmt"

// Answer is the three-way answer.
type Answer uint8

// The answers. The zero Answer promises nothing.
const (
	CannotTell Answer = iota
	NoChangeShown
	Changed
)

// String gives the answer in words.
func (a Answer) String() string {
	switch a {
	case Changed:
		return "changed"
	case NoChangeShown:
		return "no change shown"
	default:
		return "cannot tell"
	}
}

// Why says why it cannot be told.
type Why uint8

// The reasons.
const (
	NoRepeatability   Why = iota + 1 // s_r not measured, or from fewer than 30 re-placements
	NoLikePairs                      // scatter between like passes not measured, or too little
	NoReproducibility                // alike instruments, and s_R not measured
	TooFewDry                        // fewer dry places common to both passes than needed
	DryMoved                         // the dry places moved among themselves more than the components explain
	AtScaleEnd                       // a reading met the end of its scale and the bound decides nothing
	TooCoarse                        // the least change that could have been shown exceeds what matters
)

var codes = map[Why]string{
	NoRepeatability: "no-repeatability", NoLikePairs: "no-like-pairs", NoReproducibility: "no-reproducibility",
	TooFewDry: "too-few-dry", DryMoved: "dry-moved", AtScaleEnd: "at-scale-end", TooCoarse: "too-coarse",
}

var sentences = map[Why]string{
	NoRepeatability:   "This instrument's repeatability has not been measured: set it down again 30 times, ten places of four placements.",
	NoLikePairs:       "The scatter between like visits has not been measured: read 21 places again within the week, found anew.",
	NoReproducibility: "How far two instruments of this model differ has not been measured: read ten spots with both.",
	TooFewDry:         "Too few dry places were read at both visits.",
	DryMoved:          "The dry places moved among themselves more than a visit explains: look at weather, sun and surface first.",
	AtScaleEnd:        "A reading met the end of the scale.",
	TooCoarse:         "The least change that could have been shown is larger than what matters here.",
}

// String gives the code programs use.
func (w Why) String() string {
	if c, ok := codes[w]; ok {
		return c
	}
	return fmt.Sprintf("why-%d", uint8(w))
}

// WhyOf finds the reason that a code of String names; 0 and false for none of them.
func WhyOf(code string) (Why, bool) {
	for w, c := range codes {
		if c == code {
			return w, true
		}
	}
	return 0, false
}

// Sentence says the reason to a person and what would mend it.
func (w Why) Sentence() string { return sentences[w] }
