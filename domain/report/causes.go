package report

import (
	"fmt"
	"strings"
)

// PointsTo is the claim that evidence points towards a cause. It gives no chance of it.
const PointsTo Claim = "points"

// CauseSaid is a cause as a sentence needs it.
type CauseSaid struct {
	Name     string   // "a leak at a fitting"
	Families []string // kinds of evidence that point towards it
	Opened   string   // what confirmed it: "plug or pilot hole: the core is wet"
}

// CauseConfirmed says what was opened or sampled, and what it showed.
func CauseConfirmed(c CauseSaid) Sentence {
	return Say(WasSeen, fmt.Sprintf("*%s* is confirmed. %s.", capital(c.Name), capital(c.Opened)))
}

// CauseLikely says that independent kinds of evidence agree.
func CauseLikely(c CauseSaid) Sentence {
	return Say(PointsTo, fmt.Sprintf("*%s* is likely: %s evidence agree. Nothing was opened or sampled, so it is not confirmed.", capital(c.Name), list(c.Families)))
}

// CausesPointed says where the evidence points, the two best supported first.
func CausesPointed(first CauseSaid, second string) Sentence {
	s := fmt.Sprintf("The evidence points towards *%s* (%s)", first.Name, list(first.Families))
	if second != "" {
		s += ", next towards " + second
	}
	return Say(PointsTo, s+"; readings alone name no cause.")
}

// NoCausePointed says that nothing points anywhere yet.
func NoCausePointed() Sentence {
	return Say(Untold, "Nothing points towards a cause yet.")
}

// NotExcluded lists what mimics a wet laminate and has not been excluded.
func NotExcluded(names []string) Sentence {
	if len(names) == 0 {
		return Say(Untold, "What mimics a wet laminate is excluded, each by a check of its own.")
	}
	return Say(Untold, "Live until excluded: "+list(names)+".")
}

// CheckNext says what would best tell apart what is left, with what it costs.
func CheckNext(what string, minutes int, consent string) Sentence {
	s := fmt.Sprintf("To tell apart what is left: *%s* (%d%sminutes", lower(what), minutes, nb)
	if consent != "" {
		s += "; needs leave to " + consent
	}
	return Say(ToDo, s+").")
}

// EvidenceLeftOut says how much of what is known may not be told to this client.
func EvidenceLeftOut(n int) Sentence {
	return Say(NotLooked, Count(n, "record comes", "records come")+" from earlier jobs that may not be told to this client, and "+map[bool]string{true: "is", false: "are"}[n == 1]+" left out.")
}

// AtLargeTitle heads what is said of the hull at large.
func AtLargeTitle() string { return "The hull at large" }

// PatchTitle heads what is said of a patch: "Port 12/2 to 14/4, 9 places".
func PatchTitle(side, first, last string, places int) string {
	s := capital(side) + " " + first
	if last != first {
		s += " to " + last
	}
	return s + ", " + Count(places, "place", "places")
}

// StandsOver says by how much some places stand over their row and region.
func StandsOver(units float64, places int) string {
	return fmt.Sprintf("median %s%sscale units above row and region, %s", Signed(units, 1), nb, Count(places, "place", "places"))
}

// OverBaseline says how far the underbody stands above the dry places of its pass.
func OverBaseline(units float64) string {
	return fmt.Sprintf("median %s%sscale units above the dry baseline", Signed(units, 1), nb)
}

// BaselineOver says how far the dry places stand above those of an earlier pass.
func BaselineOver(units float64, on string) string {
	return fmt.Sprintf("dry places %s%sscale units above those of %s", Signed(units, 1), nb, on)
}

// SidesApart says how far a patch stands above its mirror.
func SidesApart(units float64) string {
	return fmt.Sprintf("%s%sscale units above the mirror places", Signed(units, 1), nb)
}

// BlockMoved says how far block checks moved in a pass.
func BlockMoved(units float64) string {
	return "largest difference on one block " + Tenths(units) + nb + "scale units"
}

// RepeatsMoved says how far repeats lie from the first readings.
func RepeatsMoved(units float64, n int) string {
	return fmt.Sprintf("median difference %s%sscale units over %s", Tenths(units), nb, Count(n, "repeat", "repeats"))
}

// DewMargin says how far the skin stood above the dew point.
func DewMargin(kelvin float64, u Units) string {
	if u.Fahrenheit {
		return Signed(kelvin*9/5, 1) + nb + "°F"
	}
	return Signed(kelvin, 1) + nb + "°C"
}

// LiesBehind names what is mapped, and how it is known.
func LiesBehind(what, how string) string {
	if how == "" {
		return what
	}
	return what + " (" + how + ")"
}

// FoundOn says what was found and when.
func FoundOn(kind, on string) string { return kind + ", " + on }

// DepthsSaid says what places read with both depths did between two visits.
//
//	n         places read with both at both visits
//	large     how the hull at large went, in words
//	patterns  how many of them show each pattern, in words, commonest first
func DepthsSaid(n int, large string, patterns []string) Sentence {
	if n == 0 {
		return Say(Untold, "No place was read deep- and shallow-sensing at two visits: how the pair went *cannot be told*. A wide gap between two depths at one visit proves nothing by itself.")
	}
	return Say(Compared, fmt.Sprintf("The hull at large: *%s*. Place by place, of %s read with both depths at both visits: %s. A pattern, each instrument against its own baseline and history; no calibration.", large, Count(n, "place", "places"), list(patterns)))
}

// DepthsWithheld says why nothing can be told of places that were read with both depths.
func DepthsWithheld(n int, why string) Sentence {
	return Say(Untold, fmt.Sprintf("Of %s read with both depths at both visits *cannot be told* how the pair went. %s", Count(n, "place", "places"), capital(why)))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
