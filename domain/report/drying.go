package report

import (
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/salt"
)

// DryingCourseSays says how a drying series goes, from its last visits.
func DryingCourseSays(c drying.Course, visits int) Sentence {
	if c.Motion == nil {
		return Say(Untold, fmt.Sprintf("%s of like standing: too few to tell drying from a stall; it takes six.", Count(visits, "visit", "visits")))
	}
	seen := c.Motion.Observed
	over := fmt.Sprintf("over the last visits readings came down by *%s%sscale units* (%s to %s)", Tenths(seen.Value), nb, Tenths(seen.Lower), Tenths(seen.Upper))
	switch c.Motion.Motion {
	case course.Moving:
		return Say(Compared, "She still comes down: "+over+".")
	case course.Slower:
		return Say(Compared, "She comes down *less than her own earlier course foresees*: "+over+"; "+foreseen(*c.Motion)+".")
	case course.Stalled:
		return Say(NotShown, "*No fall is shown where one was foreseen*: "+over+"; "+foreseen(*c.Motion)+".")
	default:
		return Say(Untold, "Whether she still comes down *cannot be told* yet: "+over+"; "+foreseen(*c.Motion)+".")
	}
}

func foreseen(s course.Stall) string {
	return fmt.Sprintf("foreseen were %s to %s", Tenths(s.Expected.Lower), Tenths(s.Expected.Upper))
}

// weeks writes days as whole weeks, outward.
func weeks(days float64, up bool) string {
	if math.IsInf(days, 0) {
		return "no end"
	}
	w := math.Floor(days / 7)
	if up {
		w = math.Ceil(days / 7)
	}
	return Whole(w)
}

// DryingBand says when the course would stand at what somebody asked for: a band of weeks
// from the day that drying began, never a date, and never that she may be coated.
func DryingBand(target float64, because string, b course.Band) Sentence {
	asked := fmt.Sprintf("%s%sscale units above her dry baseline (asked for because %s)", Tenths(target), nb, because)
	switch {
	case math.IsInf(b.Earliest, 1):
		return Say(Modelled, "On this course she does not come to "+asked+": it levels out above.")
	case math.IsInf(b.Latest, 1):
		return Say(Modelled, fmt.Sprintf("On this course she comes to %s *after %s weeks or more*, and the readings do not exclude that she never does. It says nothing of coating.", asked, weeks(b.Earliest, false)))
	default:
		return Say(Modelled, fmt.Sprintf("On this course she comes to %s *%s to %s weeks* after drying began. It says nothing of coating.", asked, weeks(b.Earliest, false), weeks(b.Latest, true)))
	}
}

// DryingPhysics says what diffusion through a plain wall makes of the air.
func DryingPhysics(p drying.Physics, air drying.Climate) Sentence {
	head := fmt.Sprintf("Diffusion through %s%smm of bare laminate at %s%s°C and %s%s%% RH: the air lets it come down to about %s of saturation, no lower", Whole(p.Wall), nb, Whole(air.Temperature), nb, Whole(air.Humidity), nb, fraction(p.Floor))
	if math.IsInf(p.Half.Value, 1) {
		return Say(Modelled, head+"; nothing leaves in this air.")
	}
	return Say(Modelled, fmt.Sprintf("%s; half of what can leave takes *%s to %s weeks*; by now the outer %s to %s%smm are half way there. Values of diffusion are from memory, and residues hold more.", head,
		weeks(float64(p.Half.Lower), false), weeks(float64(p.Half.Upper), true), Tenths(p.Depth.Lower), Tenths(p.Depth.Upper), nb))
}

// fraction says a share of saturation in tenths, which is as fine as it is known.
func fraction(x float64) string {
	return Count(int(math.Round(x*10)), "tenth", "tenths")
}

// ReboundSays says how the last rebound stands to the first: one difference, whatever lies
// between.
func ReboundSays(how drying.Rebounds, last measure.Estimate, cycles int) Sentence {
	switch how {
	case drying.ReboundFalling:
		return Say(Compared, fmt.Sprintf("The last rebound after washing is *less than the first*: by %s%sscale units (%s to %s), over %s.", Tenths(last.Value), nb, Tenths(last.Lower), Tenths(last.Upper), Count(cycles, "cycle", "cycles")))
	case drying.ReboundSame:
		return Say(NotShown, fmt.Sprintf("After the last wash readings rise again, and it is *not shown that they rise less than after the first* (by %s%sscale units, %s to %s): what dissolves may not be exhausted.", Tenths(last.Value), nb, Tenths(last.Lower), Tenths(last.Upper)))
	case drying.ReboundNone:
		return Say(NotShown, fmt.Sprintf("After the last wash *no rebound is shown*; it could hide one of up to %s%sscale units.", Tenths(max(0, last.Upper)), nb))
	default:
		return Say(Untold, "How the rebound goes *cannot be told*: it takes two cycles, read at six places or more after like delays.")
	}
}

var patterns = map[drying.Pattern]struct{ head, check string }{
	drying.ClimateFloor: {"(a) All places flat at a level that the air sets", "change the air: drier, or warmer without adding water"},
	drying.LocalFlat:    {"(b) Some places flat while the others come down: a tank, the bilge, a liner, the keel, a cell of residue", "look inside at those places; empty and wipe; read again"},
	drying.SlowOnly:     {"(c) Flat, then falling when heated: slow diffusion only", "go on with gentle heat, or wait"},
	drying.Deeper:       {"(d) Rises when the heat goes off: a store deeper in", "read 24 to 48 hours after heat off, deep-sensing"},
	drying.Hygroscopic:  {"(e) Shallow readings rise with the air’s humidity: a residue that holds water", "wash, and read shallow again at two humidities"},
	drying.Solutes:      {"(f) Rises after each wash to the same height: solutes not exhausted", "go on washing; measure pH and conductivity of the water"},
	drying.AllTogether:  {"(g) All places move together, the dry places too: instrument or weather", "read the blocks; repeat in 24 hours"},
	drying.OneSide:      {"(h) One side comes down less: sun or draught", "skin temperature on both sides; turn the heat, close the draught"},
}

// StallPattern says what a pattern is.
func StallPattern(p drying.Pattern) string { return patterns[p].head }

// StallCheck says what would tell it from the others.
func StallCheck(p drying.Pattern) string { return patterns[p].check }

// StallEvidence says what stands behind a pattern's line. It names no cause.
func StallEvidence(r drying.Reason, air *drying.Climate) Sentence {
	if r.Points == drying.Unknown {
		return Say(Untold, map[drying.Pattern]string{
			drying.ClimateFloor: "Too few visits, or the air of the tent was not recorded.",
			drying.LocalFlat:    "Too few visits or places.",
			drying.SlowOnly:     "No stretch without heat was followed by one with heat.",
			drying.Deeper:       "Not read again at six places or more after heat went off.",
			drying.Hygroscopic:  "No shallow-sensing series with the humidity noted at five visits.",
			drying.Solutes:      "Fewer than two washes with a rebound read after like delays.",
			drying.AllTogether:  "Too few visits or places.",
			drying.OneSide:      "Too few places on one of the sides.",
		}[r.Pattern])
	}
	return Say(Compared, stallFigures(r, air))
}

func stallFigures(r drying.Reason, air *drying.Climate) string {
	band := fmt.Sprintf("%s (%s to %s)", Tenths(r.Figure.Value), Tenths(r.Figure.Lower), Tenths(r.Figure.Upper))
	switch r.Pattern {
	case drying.ClimateFloor:
		s := fmt.Sprintf("Over the last three visits places came down by %s scale units, median of %d", band, r.Of)
		if air != nil {
			s += fmt.Sprintf("; the air stood at %s%s%% RH", Whole(air.Humidity), nb)
		}
		return s + "."
	case drying.LocalFlat:
		return fmt.Sprintf("%d of %d places came down far less than the rest since the first visit (modified z below −3.5).", r.N, r.Of)
	case drying.SlowOnly:
		return "With heat on the next visit stood lower by " + band + " scale units, after a stretch without heat that shows no fall."
	case drying.Deeper:
		return fmt.Sprintf("After heat off %s rose by %s scale units, median.", Count(r.N, "place", "places"), band)
	case drying.Hygroscopic:
		return fmt.Sprintf("Shallow readings went the way of the humidity at %d of %d steps.", r.N, r.Of)
	case drying.Solutes:
		if r.Points == drying.Towards {
			return fmt.Sprintf("%d rebounds; the last is not shown to be lower than the first (by %s scale units).", r.N, band)
		}
		return fmt.Sprintf("%d rebounds; the last is lower than the first, or none is shown (%s scale units).", r.N, band)
	case drying.AllTogether:
		return fmt.Sprintf("In one step %d of %d places rose as read together with the dry places; none of the other steps shows more.", r.N, r.Of)
	default:
		s := fmt.Sprintf("Port came down more than starboard by %s scale units, median of differences", band)
		if r.Side != "" {
			s += "; " + r.Side + " comes down less"
		}
		return s + "."
	}
}

var gateNames = map[drying.Key]string{
	drying.DewMargin:   "Surface above the dew point, during and for hours after",
	drying.DampAir:     "Relative humidity at the surface",
	drying.SkinWarm:    "Least surface temperature",
	drying.AboveDry:    "Contrast to her own dry baseline",
	drying.Stable:      "Stability: no fall over the last three visits, in like air, no wash since",
	drying.HeatOff:     "No rebound with the heat off",
	drying.WashWater:   "Wash water about neutral, its conductivity near that of the supply",
	drying.Salts:       "Soluble salts",
	drying.PlasticFilm: "Plastic sheet of about 1 m², taped on: no condensation",
}

// GateName says what a gate asks.
func GateName(k drying.Key) string { return gateNames[k] }

// GateAsks says a gate's figure with its unit: "at least 3 °C".
func GateAsks(r drying.Rule) string {
	unit := nb + r.Unit
	switch {
	case r.Least != nil && r.Most != nil:
		return trimZero(Tenths(*r.Least)) + " to " + trimZero(Tenths(*r.Most)) + unit
	case r.Least != nil:
		return "at least " + trimZero(Tenths(*r.Least)) + unit
	case r.Most != nil:
		return "at most " + trimZero(Tenths(*r.Most)) + unit
	default:
		return "no figure"
	}
}

// GateEvidence says what the records say of a gate; when is the day of what it rests on.
func GateEvidence(g drying.Gate, when string) Sentence {
	if g.Verdict == drying.Nothing {
		return Say(NotLooked, "Nothing recorded.")
	}
	claim := Measured
	if g.Verdict == drying.CannotTell {
		claim = Untold
	}
	return Say(claim, gateFigures(g)+" ("+when+").")
}

func gateFigures(g drying.Gate) string {
	band := func(unit string) string {
		return fmt.Sprintf("%s%s%s (sensors could hide %s to %s)", Tenths(g.Figure.Value), nb, unit, Tenths(g.Figure.Lower), Tenths(g.Figure.Upper))
	}
	spread := fmt.Sprintf("%s%sscale units (%s to %s)", Tenths(g.Figure.Value), nb, Tenths(g.Figure.Lower), Tenths(g.Figure.Upper))
	switch g.Key {
	case drying.DewMargin:
		return "The colder side stood " + band("°C") + " above the dew point"
	case drying.DampAir:
		return "At the colder side " + band("% RH")
	case drying.SkinWarm:
		return "The colder side stood at " + band("°C")
	case drying.AboveDry:
		return "Median of the places read at every visit: " + spread
	case drying.Stable:
		return stableFigures(g)
	case drying.HeatOff:
		return fmt.Sprintf("%s hours after heat off places rose by %s, median of %d%s", Whole(*g.Beside), spread, g.Figure.N, map[string]string{
			"other delay": "; the rule asks for another delay", "too few places": "; six places give an interval",
		}[g.Why])
	case drying.WashWater:
		s := "pH " + Tenths(g.Figure.Value)
		if g.Beside == nil {
			return s + "; conductivity not measured against the supply"
		}
		return s + fmt.Sprintf("; %s%sµS/cm more than the supply, which is blind to glycol", Signed(*g.Beside, 0), nb)
	case drying.Salts:
		return fmt.Sprintf("%s%smg/m² by conductivity, which is blind to glycol; %s", Tenths(g.Figure.Value), nb, steel())
	default:
		return fmt.Sprintf("Taped on for %s hours: %s", Whole(*g.Beside), map[bool]string{true: "condensation under it", false: "no condensation seen"}[g.Why == "condensed"])
	}
}

func stableFigures(g drying.Gate) string {
	s := fmt.Sprintf("Over the last three visits the median came down by %s%sscale units", Signed(g.Figure.Value, 1), nb)
	switch g.Why {
	case "too few visits":
		return "Fewer than three visits of like standing"
	case "too close":
		return s + "; they lie too close together"
	case "air not noted":
		return s + "; humidity was not noted at all of them"
	case "unlike air":
		return s + "; the air differed by more than ten points of humidity"
	case "washed since":
		return s + "; she was washed since the first of them"
	case "not measured":
		return s + "; what these readings could show has not been measured, so it cannot be told from none"
	default:
		return s + fmt.Sprintf("; the least change shown is %s", Tenths(*g.Beside))
	}
}

func steel() string {
	all := salt.SteelFigures()
	return fmt.Sprintf("for scale, steel: %s, %s and %s%smg/m² offshore, linings and in the atmosphere, not limits for glass fibre", Whole(all[0].Mass), Whole(all[1].Mass), Whole(all[2].Mass), nb)
}

// GateSheetTitle titles the sheet by what was signed and when. It never says that she may
// be coated: whoever coats decides.
//
//	met, of  gates signed as met, of those that can be
//	last     the day of the last signature that stands
func GateSheetTitle(met, of int, last *time.Time) string {
	switch {
	case met == 0 || last == nil:
		return "Coating gates, none met yet"
	case met == of:
		return "Coating gates met on " + Day(*last, nil)
	default:
		return fmt.Sprintf("Coating gates: %d of %d met, the last on %s", met, of, Day(*last, nil))
	}
}

// DryingCautions are printed with every drying log and gate sheet.
func DryingCautions() []string {
	return []string{
		"A record of what was measured and who signed it. Whoever coats decides, by the coating’s own sheet.",
		"A meter number has no unit and is not a share of water. Conductivity is blind to glycol, which holds water and does not leave by drying.",
		"Heat, steam and lamps near a wet hull: earth-fault protection, nobody alone, and no heat beyond what the laminate and the coating’s sheet allow. Liquid in blisters is acid and under pressure: eye shield, gloves. Local rules and licensed people come first.",
	}
}
