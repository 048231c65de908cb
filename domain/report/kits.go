package report

import "fmt"

// Scatter is a measured standard deviation as a sentence needs it, scale units.
type Scatter struct {
	S, Low, High float64 // with its 95 in 100 interval
	DF           int
}

// scatter gives a standard deviation two significant figures below ten.
func scatter(s float64) string {
	if s < 1 {
		return fixed(s, 2)
	}
	return fixed(s, 1)
}

func (s Scatter) says() string {
	return fmt.Sprintf("%s (95 in 100: %s to %s)", scatter(s.S), scatter(s.Low), scatter(s.High))
}

// Repeats says how closely an instrument comes back under one hand.
func Repeats(instrument string, s Scatter, limit float64) Sentence {
	return Say(Measured, fmt.Sprintf("Lifted off and set down again, %s comes back with a standard deviation s_r of *%s* scale units, from %d re-placements. Two single readings of one hand differ by more than %s in about 1 of 20 cases.", instrument, s.says(), s.DF, Tenths(limit)))
}

// RepeatsTooFew says that a scatter rests on too little to judge anything by.
func RepeatsTooFew(instrument string, df, needed int) Sentence {
	return Say(Untold, fmt.Sprintf("%s has %s on this scale; %d are needed before anything is judged by them. Until then the gate answers *cannot tell*. Half an hour more gives them.", instrument, Count(df, "re-placement", "re-placements"), needed))
}

// RepeatsOfOne says that a scatter was measured and why it is not shown: it would tell one
// person's own.
func RepeatsOfOne(instrument string, df int) Sentence {
	return Say(Untold, fmt.Sprintf("How closely %s comes back was measured, from %s, by so few people that the figure would tell one person’s own, which only he or she and the principal see. What is judged rests on it all the same; a kit with one more hand shows it to everybody.", instrument, Count(df, "re-placement", "re-placements")))
}

// RepeatsUnmeasured says that nothing is known of a scatter, and the way out.
func RepeatsUnmeasured(instrument string) Sentence {
	return Say(Untold, fmt.Sprintf("How closely %s comes back has not been measured on this scale, and no published figure holds for hulls. Until it is, the gate answers *cannot tell*. Half an hour with 10 spots, read three times by each hand, gives it.", instrument))
}

// Reproduces says how far two people differ.
//
//	people, spots  behind the figure
func Reproduces(s Scatter, limit float64, people, spots int) Sentence {
	text := fmt.Sprintf("Between people, s_R is *%s* scale units, from %d people at %d spots: single readings by two of them differ by more than %s in about 1 of 20 cases.", s.says(), people, spots, Tenths(limit))
	if people < 5 {
		text += " With so few people its upper end lies far out, which is the truth."
	}
	return Say(Measured, text)
}

// ReproducesUnmeasured says why nothing is known of how far people differ.
func ReproducesUnmeasured() Sentence {
	return Say(Untold, "How far two people differ has not been measured: it takes two who read the same spots, three better.")
}

// OwnRepeats says how closely a person's own placements come back, as an aid to that person.
func OwnRepeats(instrument string, own Scatter, needed int) Sentence {
	if own.DF < needed {
		return Say(Untold, fmt.Sprintf("%s: %s of your own so far, too few to say anything of (%d are needed).", instrument, Count(own.DF, "re-placement", "re-placements"), needed))
	}
	return Say(Measured, fmt.Sprintf("%s: your own placements come back with s_r *%s*, from %d re-placements.", instrument, own.says(), own.DF))
}

// OwnIsAnAid says what a person's own figure is for. It ranks nobody.
func OwnIsAnAid() Sentence {
	return Say(Caution, "An aid and not a score: spots, instrument and the day stand behind it as much as the hand. Where it lies well above the practice’s, place the instrument more often and keep the median; only you and the principal see it.")
}

// Pair names two scales that were read side by side.
type Pair struct{ First, Second string }

// CrossedTooFew says that a set is kept and carries no fit.
func CrossedTooFew(p Pair, places, needed int) Sentence {
	return Say(Untold, fmt.Sprintf("%s were read with %s and %s; at least %d, from the wettest to near the topsides, carry a fit. Too few: the two are *not comparable* by this set.", Count(places, "place", "places"), p.First, p.Second, needed))
}

// CrossedNoRelation says that one scale does not follow the other.
func CrossedNoRelation(p Pair) Sentence {
	return Say(Untold, fmt.Sprintf("%s does not rise with %s over these places: the two are *not comparable*.", p.Second, p.First))
}

// CrossedBand says what must be expected of the second scale for readings of the first.
//
//	low, high        span of the first scale's readings in the set
//	narrow, widest   half the prediction band where it is narrowest and widest, units of the second
func CrossedBand(p Pair, low, high, narrow, widest float64, places int) Sentence {
	half := Tenths(narrow)
	if w := Tenths(widest); w != half {
		half += " to " + w
	}
	return Say(Measured, fmt.Sprintf("Where %s reads between %s and %s, %s must be expected within %s units either side of the line (95 in 100, from %d places, errors in both). Outside that span the set says nothing.", p.First, Tenths(low), Tenths(high), p.Second, half, places))
}

// CrossedNotComparable says that the band is wider than the change that matters.
func CrossedNotComparable(p Pair, effect float64) Sentence {
	return Say(Untold, fmt.Sprintf("A change of %s units of %s matters here, and the band is wider than that all along: the two are *not comparable*. Show their readings side by side and subtract nothing.", Tenths(effect), p.Second))
}

// CrossedComparable says where the band is narrow enough.
func CrossedComparable(p Pair, effect, from, to float64, throughout bool) Sentence {
	where := "throughout its span"
	if !throughout {
		where = fmt.Sprintf("where %s reads between %s and %s, and nowhere else", p.First, Tenths(from), Tenths(to))
	}
	return Say(Measured, fmt.Sprintf("For a change of %s units of %s the two may be held side by side %s, within the band. It is no conversion: nothing read with one is rewritten as the other.", Tenths(effect), p.Second, where))
}

// CrossedRatioGuessed says that the fit took both errors as equal for want of a measured one.
func CrossedRatioGuessed() Sentence {
	return Say(Caution, "The scatter of one of the two has not been measured, so the fit takes both as equal. Measure both, and it will be drawn anew.")
}

// BlockHeld says that no check stands out.
func BlockHeld(block string, passes int) Sentence {
	return Say(Measured, fmt.Sprintf("On its %s block no check of %s stands out.", block, Count(passes, "pass", "passes")))
}

// BlockOut names checks beyond the limits that the first ones set.
func BlockOut(block string, on []string) Sentence {
	return Say(Measured, fmt.Sprintf("On its %s block the checks of %s lie *beyond the control limits*: readings of those passes are in doubt, and earlier and later ones compare with care.", block, list(on)))
}

// BlockDrifts says since when the weighted mean lies beyond its limits.
func BlockDrifts(block, since string) Sentence {
	return Say(Measured, fmt.Sprintf("On its %s block the instrument has *drifted*: the weighted mean of its checks lies beyond its limits since %s. Differences across that day hold the drift too.", block, since))
}

// BlockMovedWithin names passes during which the block came out differently.
func BlockMovedWithin(block string, on []string) Sentence {
	return Say(Measured, fmt.Sprintf("On its %s block the instrument *moved within the pass* of %s by more than its repeatability allows: every reading between the two checks is in doubt.", block, list(on)))
}

// BlocksTooFew says that a chart needs more checks.
func BlocksTooFew(block string, passes int) Sentence {
	return Say(Untold, fmt.Sprintf("On its %s block %s checked so far: two passes show whether it drifts, twenty set firm limits.", block, map[bool]string{true: "one pass was", false: fmt.Sprintf("%d passes were", passes)}[passes == 1]))
}

// BlocksProvisional says that limits rest on few checks.
func BlocksProvisional(block string, settled int) Sentence {
	return Say(Caution, fmt.Sprintf("The limits of its %s block rest on the first %d passes; fewer than 20 are provisional.", block, settled))
}

// BlocksEqual says that no limits can be set.
func BlocksEqual(block string) Sentence {
	return Say(Untold, fmt.Sprintf("The first checks on its %s block came out equal to the step of the scale: no limits can be set from them.", block))
}
