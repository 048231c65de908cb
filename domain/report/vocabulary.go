package report

import (
	"fmt"
	"math"
	"strings"
)

// The vocabulary: every statement that the service itself makes about a hull, as a
// function of its figures. Each says which kind of claim it is. None may trip Lint; a
// test holds the whole catalogue to that.

// StoodAbove says where the underbody stood above the hull's own dry places.
//
//	units  median contrast of the underbody, scale units
func StoodAbove(on, ashore string, units float64, instrument string) Sentence {
	return Say(Measured, fmt.Sprintf("On %s, %s, the underbody stood *%s%sscale units* above this hull’s own dry baseline by %s.", on, ashore, Tenths(units), nb, instrument))
}

// NoBaselineToday says that readings stand for themselves, and why.
func NoBaselineToday(on, instrument, why string) Sentence {
	return Say(Untold, fmt.Sprintf("On %s readings were taken by %s; *no dry baseline* could be drawn from them (%s), so they are shown as taken and stand above nothing.", on, instrument, why))
}

// AtLarge says what happened over the hull as a whole since an earlier visit.
func AtLarge(v Verdict, since string) Sentence {
	switch v {
	case Higher, Lower:
		return Say(Compared, fmt.Sprintf("Over the hull at large readings have *%s* since %s, beyond what repeats, finding the places again and the visits themselves explain.", map[Verdict]string{Higher: "risen", Lower: "fallen"}[v], since))
	case NoChange:
		return Say(NotShown, fmt.Sprintf("Over the hull at large *no change is shown* since %s.", since))
	default:
		return Say(Untold, fmt.Sprintf("Whether the hull at large has changed since %s *cannot be told*.", since))
	}
}

// Zone is an area whose change the gate let through.
type Zone struct {
	About   string // "port 13"
	Places  int
	By      float64 // median change, scale units
	Matches string  // what lies there, when something does: "the water tank"
	Around  string  // what it lies around: "the heads inlet"
	Needs   string  // what it asks for: "needs a further look before the relaunch on 30 October"
}

// AreasChanged says which areas changed and what they match. Readings name no cause.
func AreasChanged(zones []Zone) Sentence {
	if len(zones) == 0 {
		return Say(NotShown, "No area is shown to have changed on its own.")
	}
	head := spelled(len(zones)) + " areas have changed: "
	if len(zones) == 1 {
		head = "One area has changed: it "
	}
	return Say(Compared, head+listZones(zones)+": readings alone name no cause.")
}

// fewZones are told one by one; more are named by where they lie.
const fewZones = 3

func listZones(zones []Zone) string {
	if len(zones) > fewZones {
		return gatherZones(zones)
	}
	parts := make([]string, len(zones))
	for i, z := range zones {
		switch {
		case len(zones) == 1:
		case i == 0:
			parts[i] = "one "
		case len(zones) == 2:
			parts[i] = "the other "
		default:
			parts[i] = "another "
		}
		parts[i] += z.says()
	}
	return strings.Join(parts, "; ")
}

// gatherZones names each thing that zones match, lie around or lie about once, with how
// many do: "around the heads inlet (2) and the log; about port 5 and starboard 8".
func gatherZones(zones []Zone) string {
	var parts []string
	for _, how := range []string{"matching", "around", "about"} {
		var names []string
		count := map[string]int{}
		for _, z := range zones {
			lies, name := z.lies()
			if lies != how {
				continue
			}
			if z.Needs != "" {
				name += ", which *" + z.Needs + "*,"
			}
			if count[name]++; count[name] == 1 {
				names = append(names, name)
			}
		}
		for k, name := range names {
			if n := count[name]; n > 1 {
				names[k] = fmt.Sprintf("%s (%d)", name, n)
			}
		}
		if len(names) > 0 {
			parts = append(parts, how+" "+list(names))
		}
	}
	return strings.Join(parts, "; ")
}

// lies tells how a zone is named best, and by what.
func (z Zone) lies() (how, what string) {
	switch {
	case z.Matches != "":
		return "matching", z.Matches
	case z.Around != "":
		return "around", z.Around
	default:
		return "about", z.About
	}
}

func (z Zone) says() string {
	how, what := z.lies()
	s := map[string]string{"matching": "matches ", "around": "lies around ", "about": "lies about "}[how] + what
	if z.Needs != "" {
		s += " and *" + z.Needs + "*"
	}
	return s
}

// ChangeBasis says how two passes were compared and what the least change is.
func ChangeBasis(how string, least float64, compared int) Sentence {
	return Say(Compared, fmt.Sprintf("Each reading above its own day’s dry baseline: %s. Least change at one place, all %d compared at once: %s (repeats, finding the place again, place by visit, both baselines).", how, compared, Tenths(least)))
}

// ChangedAt says where and by how much, zone by zone.
func ChangedAt(zones []Zone) Sentence {
	if len(zones) == 0 {
		return Say(NotShown, "At no place is a change shown.")
	}
	var parts, single []string
	for _, z := range zones {
		if z.Places == 1 {
			single = append(single, fmt.Sprintf("%s (%s)", z.About, Signed(z.By, 1)))
			continue
		}
		parts = append(parts, fmt.Sprintf("at %s about %s by %s", Count(z.Places, "place", "places"), z.About, Signed(z.By, 1)))
	}
	switch len(single) {
	case 0:
	case 1:
		parts = append(parts, "at one place about "+single[0])
	default:
		parts = append(parts, "at one place each about "+list(single))
	}
	return Say(Compared, "Changed "+list(parts)+".")
}

// NotCompared says why an earlier visit stands beside today's without a difference.
func NotCompared(on string, s Standing, why string) Sentence {
	switch s {
	case Unlike:
		return Say(Untold, fmt.Sprintf("%s: shown beside today’s, not subtracted (%s).", on, why))
	case Quoted:
		return Say(QuotedFrom, fmt.Sprintf("%s: quoted as found, not computed with (%s).", on, why))
	case WetLook:
		return Say(WasSeen, fmt.Sprintf("%s: looked at, not metered (%s).", on, why))
	default:
		return Say(Untold, fmt.Sprintf("%s: cannot be compared (%s).", on, why))
	}
}

// NotEnoughMeasured says that the gate has nothing to stand on, and the way out.
func NotEnoughMeasured(since string) Sentence {
	return Say(Untold, fmt.Sprintf("Whether places have changed since %s *cannot be told*: the spread of repeated readings by this practice has not been measured. Half an hour with 10 spots, read three times by each hand, gives it.", since))
}

// TwoVisits reminds that a difference is no course.
func TwoVisits() Sentence {
	return Say(Untold, "Two visits give a difference, not a trend.")
}

// WindowsSeen says what the bared windows showed, what they could have missed, and what
// the look over the whole underbody adds, all in one statement.
//
//	m2     area bared, m²
//	seen   blisters counted in it
//	bound  one-sided upper 95 % density per m² behind a count of zero: −ln 0.05 / m2
//	look   how the whole underbody was looked over, or empty where that was not written down
//	found  whether blisters were found outside the windows
func WindowsSeen(m2 float64, seen int, bound float64, look string, found bool) Sentence {
	if seen > 0 {
		return Say(WasSeen, fmt.Sprintf("In the %s bared *%s* %s seen; the windows speak for themselves alone.", SquareMetres(m2), Count(seen, "blister", "blisters"), map[bool]string{true: "was", false: "were"}[seen == 1]))
	}
	s := fmt.Sprintf("In the %s bared no blister was seen; blisters too small to show through the coating could still average up to %s to the square metre", SquareMetres(m2), Whole(math.Ceil(bound-1e-9)))
	if look == "" {
		return Say(Bounded, s+"; no look over the whole underbody is noted beside them.")
	}
	if found {
		return Say(Bounded, s+"; the whole underbody was looked over "+look+": what was found stands among the findings.")
	}
	return Say(Bounded, s+"; the whole underbody was looked over "+look+": none larger seen.")
}

// NothingBared says that no coating was taken off.
func NothingBared() Sentence {
	return Say(NotLooked, "No coating was taken off: what lies under it was not seen.")
}

// BaredUnknown says that an old report is silent about what was bared.
func BaredUnknown() Sentence {
	return Say(NotLooked, "Whether coating was taken off was not written down.")
}

// Reason counts places and says why.
type Reason struct {
	N   int
	Why string // "under prop pads"
}

func reasons(rs []Reason) string {
	parts := make([]string, 0, len(rs))
	for _, r := range rs {
		s := Count(r.N, "place", "places")
		switch first, _, _ := strings.Cut(r.Why, " "); {
		case r.Why == "":
		case strings.Contains(" under behind at in on where near over below above inside beside between by for because since after before too ", " "+first+" "):
			s += " " + r.Why
		default: // a bare thing: "prop pad"
			s += " (" + r.Why + ")"
		}
		parts = append(parts, s)
	}
	return list(parts)
}

// NotReached says which places could not be read.
func NotReached(rs []Reason) Sentence {
	if len(rs) == 0 {
		return Say(Measured, "Every place of the plan was reached.")
	}
	return Say(NotLooked, "Not reached: "+reasons(rs)+".")
}

// StillToRead says how much of its plan an open pass has before it.
func StillToRead(places int) Sentence {
	return Say(NotLooked, Count(places, "place", "places")+" of the plan still to be read.")
}

// Silent says for how many places of a plan nothing is written down.
func Silent(places int) Sentence {
	return Say(NotLooked, "Not known: "+Count(places, "place", "places")+" of the plan with neither a reading nor a reason why not.")
}

// VoidPlaces says which readings do not count.
func VoidPlaces(rs []Reason) Sentence { return Say(NotLooked, "Void: "+reasons(rs)+".") }

// NotOpened says what was left closed.
func NotOpened(what []string) Sentence {
	return Say(NotLooked, "Not opened: "+strings.Join(what, "; ")+".")
}

// NotPermitted says what was not allowed, or not asked for.
func NotPermitted(what []string) Sentence {
	return Say(NotLooked, "Not permitted, or not asked: "+list(what)+".")
}

// SmallestFlaw says what the grid would have met nine times in ten.
func SmallestFlaw(mm int, u Units) Sentence {
	size := Metres(mm, u)
	if mm < 100 && !u.Feet {
		size = fmt.Sprintf("%d%smm", mm, nb)
	}
	return Say(Bounded, "The smallest round flaw that this grid meets nine times in ten is "+size+" across.")
}

// DryingReached says how far drying has come since the lift: a band, never a date.
//
//	ashore         how long, in words
//	lowMM, highMM  half-dried depth for the least and the greatest diffusivity, mm
//	left           share of the signal at the lift that the greatest diffusivity leaves to
//	               the instrument; that most is as she came out is said above a half alone
func DryingReached(ashore, air string, lowMM, highMM, left float64) Sentence {
	s := fmt.Sprintf("In %s at %s drying has reached about the outer %s to %s%smm (bare laminate; less under coating)", ashore, air, Tenths(lowMM), Tenths(highMM), nb)
	if left > 0.5 {
		s += "; most of what the instrument senses is as she came out"
	}
	return Say(Modelled, s+".")
}

// OrthoAtDays warns that an ortho hull settles slowly: common practice, no source.
func OrthoAtDays(days int) Sentence {
	return Say(Caution, fmt.Sprintf("An ortho hull at %s may still hold surface wet that a month ashore would lose.", Count(days, "day", "days")))
}

// FrozenSkin warns of readings taken on a surface below 0 °C: common practice, no source.
func FrozenSkin(u Units) Sentence {
	return Say(Caution, "The surface stood below "+Temperature(0, u)+": readings there tend to come out low and are shown for the record alone.")
}

// ContextMissing says which of a pass's circumstances were not written down.
func ContextMissing(what []string) Sentence {
	return Say(Untold, "Not written down: "+list(what)+"; the readings are worth less for it.")
}
