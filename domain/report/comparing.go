package report

import (
	"fmt"
	"strings"
)

// What the comparison of visits says beside the verdicts themselves: how much was
// compared, what explains a difference, why it cannot be told, what comes next.

// UntoldSince says why it cannot be told whether anything changed, and what would tell.
//
//	why, todo  sentences; todo may be empty
func UntoldSince(since, why, todo string) Sentence {
	s := fmt.Sprintf("Whether places have changed since %s *cannot be told*: %s", since, headless(why))
	if todo != "" {
		s += " " + todo
	}
	return Say(Untold, s)
}

// UntoldLikewise stands where what was said of the visit before holds for this one, too.
func UntoldLikewise() Sentence {
	return Say(Untold, "The same holds here: it *cannot be told*, for the same reason.")
}

// headless takes a sentence into another behind a colon: its first letter goes small.
func headless(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// ComparedOf says how many places could be compared of those that might have been.
func ComparedOf(n, of, dry int) Sentence {
	return Say(Compared, fmt.Sprintf("%d of %s comparable, against %s common to both visits.", n, Count(of, "place", "places"), Count(dry, "dry place", "dry places")))
}

// VisitTakenOut says what the visit did to every reading: it is no change of the hull.
func VisitTakenOut(shift float64) Sentence {
	return Say(Compared, fmt.Sprintf("The dry places moved by %s between the visits, by weather, hand or zero; that is taken out of every difference.", Signed(shift, 1)))
}

// ExplainedBy says that an ordinary thing accounts for what the hull at large shows, so
// that it is not called changed.
//
//	what  "days ashore", "the instrument’s drift"
//	by    mean difference, scale units
func ExplainedBy(what, since string, by float64) Sentence {
	return Say(Untold, fmt.Sprintf("Over the hull at large readings differ by %s since %s, and *%s would do as much*: whether the hull has changed cannot be told from it.", Signed(by, 1), since, what))
}

// NextVisit says what one more visit, read like the last, could show.
//
//	place, hull  true change found four times in five, at one place and at large, scale units
func NextVisit(place, hull float64, places int) Sentence {
	return Say(Modelled, fmt.Sprintf("One more visit, read like this one, would show a change of %s scale units at one of %s, or of %s over the hull at large, four times in five.", Tenths(place), Count(places, "place", "places"), Tenths(hull)))
}

// MorePlacements says what more settings-down could reach at the most.
func MorePlacements(floor float64) Sentence {
	return Say(Modelled, fmt.Sprintf("More placements at each place cannot bring the least change below %s: finding the place again and the visit itself remain.", Tenths(floor)))
}

// CourseShown says that like visits go one way; the word trend is allowed here alone,
// where the count of visits carries it.
func CourseShown(rising bool, visits, places int, p float64) Sentence {
	way := map[bool]string{true: "risen", false: "fallen"}[rising]
	often := "about " + Tenths(100*p)
	if p < 0.001 {
		often = "fewer than 0.1"
	}
	return Say(Compared, fmt.Sprintf("Over %d like visits readings have *%s from visit to visit* at the %s common to all: a course that chance alone would give in %s of a hundred such rows.", visits, way, Count(places, "place", "places"), often))
}

// NoCourseShown says that so many like visits show none.
func NoCourseShown(visits, places int) Sentence {
	return Say(NotShown, fmt.Sprintf("Over %d like visits no course is shown at the %s common to all.", visits, Count(places, "place", "places")))
}

// TooFewVisits says how many like visits it takes before a course may be spoken of.
func TooFewVisits(have, need int) Sentence {
	if have == 2 {
		return TwoVisits()
	}
	return Say(Untold, fmt.Sprintf("%s give differences, not a trend; it takes %d.", spelled(have)+" like visits", need))
}

// LeftOut tells the surveyor how many passes this client may not be told of.
func LeftOut(n int) Sentence {
	return Say(Agreed, fmt.Sprintf("%s of earlier jobs may not be told to this client and %s left out.", Count(n, "pass", "passes"), map[bool]string{true: "is", false: "are"}[n == 1]))
}
