package practice

// Standing says how far two passes may be compared.
type Standing string

// The standings, from the firmest.
const (
	Reference Standing = "reference" // the pass the others are held against
	Same      Standing = "same"      // one instrument, scale, mode and face: differences allowed
	Alike     Standing = "alike"     // same model and scale, another serial number
	Unlike    Standing = "unlike"    // shown side by side, never subtracted
	Quoted    Standing = "quoted"    // shown, never computed with
)

// standing says how other stands to ref, and why, in words. Surface state and face
// count; a pass that lost its context is quoted whatever else it shares.
func standing(ref, other PassContext) (Standing, string) {
	switch {
	case other.ID == ref.ID:
		return Reference, "the pass that the others are held against"
	case other.Quoted:
		return Quoted, "from an old report: instrument, scale or days ashore not stated"
	case ref.Quoted:
		return Unlike, "the pass held against has lost its own context"
	case other.Face != ref.Face:
		return Unlike, "read from the " + other.Face + ", not from the " + ref.Face
	case other.Sensing != ref.Sensing:
		return Unlike, "another sensing depth"
	case other.ScaleName != ref.ScaleName || other.ScaleMode != ref.ScaleMode || other.LowTenths != ref.LowTenths || other.HighTenths != ref.HighTenths:
		return Unlike, "another scale or mode"
	case other.Surface == "" || ref.Surface == "":
		return Unlike, "the surface was not noted"
	case other.Surface != ref.Surface:
		return Unlike, "read on " + other.Surface + ", not on " + ref.Surface
	case equal(other.InstrumentID, ref.InstrumentID):
		return Same, "same instrument, scale, surface and face"
	case other.InstrumentModel != "" && other.InstrumentModel == ref.InstrumentModel:
		return Alike, "same model and scale, another serial number; not subtracted until the two were read side by side"
	default:
		return Unlike, "another instrument"
	}
}

// missing lists what a pass's context lacks, each with what it costs.
func missing(p PassContext, checks []BlockCheck) []Warning {
	if p.Quoted {
		return []Warning{{"quoted", "Its context did not survive: shown, never computed with."}}
	}
	var list []Warning
	lack := func(lacks bool, code, text string) {
		if lacks {
			list = append(list, Warning{code, text})
		}
	}
	has := func(moment string) bool {
		for _, c := range checks {
			if c.Moment == moment && c.Block != "air" {
				return true
			}
		}
		return false
	}
	_, _, ashore := DaysAshore(p.LiftedAt, p.DatePrecision, p.TimeZone, p.BeganAt)
	lack(!ashore, "days-ashore", "Days ashore are not known: how far drying has reached cannot be said.")
	lack(p.Surface == "", "surface", "The surface below the water was not noted: no other pass can be held against this one.")
	lack(p.DrySurface == "", "dry-surface", "The surface of the dry places was not noted.")
	lack(!has("before"), "block-before", "No block check before the pass: drift of the instrument cannot be told from a change of the hull.")
	lack(p.State != "open" && !has("after"), "block-after", "No block check after the pass: drift of the instrument cannot be told from a change of the hull.")
	lack(p.AirDecidegrees == nil || p.HumidityPermille == nil, "air", "Air temperature or humidity was not noted: the dew point is not known.")
	lack(p.SkinPortDecidegrees == nil && p.SkinStarboardDecidegrees == nil, "skin", "The surface temperature was not noted: frost or condensation cannot be excluded.")
	lack(p.HoursSinceWash == nil, "wash", "Hours since the wash are not known: surface water cannot be excluded.")
	lack(p.Rain == "", "rain", "Rain was not noted.")
	lack(p.HasZeroReset && p.ZeroReset == nil, "zero", "Whether the instrument was zeroed was not noted.")
	lack(frost(p), "frost", "The skin stood below 0 \u00b0C: readings tend to come out low there (common practice, no source; laboratory work has disputed it).")
	return list
}

// frost tells whether either side of the skin stood below freezing.
func frost(p PassContext) bool {
	below := func(t *int16) bool { return t != nil && *t < 0 }
	return below(p.SkinPortDecidegrees) || below(p.SkinStarboardDecidegrees)
}

func equal[T comparable](a, b *T) bool { return a != nil && b != nil && *a == *b }
