package practice

import (
	"context"
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// Places told in words are known to 0.3 to 0.5 m: common practice, no source.
const (
	leastWordError = 300
	mostWordError  = 500
)

// leastDoubt and mostDoubt bound what a person may estimate of a place told in words: less
// is a place that was measured, more is no place.
const (
	leastDoubt = 50
	mostDoubt  = 2000
)

// handError is how near a place that was measured is found again, mm, where nothing else
// is written down: common practice, no source.
const handError = 50

// lostContext lists what keeps an old pass from being more than quoted, each with what it
// costs. It is empty where the context proves that the pass may be computed with: hand,
// instrument, scale, face and both surfaces, days ashore (a range where the lift is dated by a
// month or a year), the day of the visit, and a plan with dry places enough.
func lostContext(p PassContext, dry int) []Warning {
	var list []Warning
	lack := func(lacks bool, code, text string) {
		if lacks {
			list = append(list, Warning{code, text})
		}
	}
	_, ashore := p.Ashore()
	lack(p.InstrumentID == nil, "instrument", "Which instrument it was is not stated"+written(p.InstrumentAsWritten)+": no scale to hold it against.")
	lack(p.ScaleID == nil, "scale", "Its scale and mode are not stated.")
	lack(p.HandID == nil, "hand", "The hand is none of the practice’s"+written(p.HandAsWritten)+": how well it repeats is not known.")
	lack(p.Surface == "", "surface", "What it was read on below the water is not stated.")
	lack(p.DrySurface == "", "dry-surface", "What the dry places were read on is not stated.")
	lack(!ashore, "days-ashore", "Days ashore are not known"+written(p.DaysAshoreAsWritten)+": what they explain cannot be taken out.")
	lack(ashore && p.datedByRange(), "visit-date", "The day of the visit is not known: nothing says which other passes it was read with.")
	lack(dry < leastDry, "dry-places", fmt.Sprintf("%d dry places; a baseline takes %d.", dry, leastDry))
	return list
}

// provesItself refuses a pass typed from paper that claims more than its context carries:
// it is quoted unless the context proves otherwise.
func provesItself(ctx context.Context, tx Tx, in OpenPass, a domain.Actor) error {
	if in.Source != "typed from paper" || in.Quoted {
		return nil
	}
	p, err := tx.PassContext(ctx, in.ID, sees(a))
	if err != nil {
		return err
	}
	if lost := lostContext(p, leastDry); len(lost) > 0 {
		return domain.Invalidf("quoted", "A pass from paper is quoted unless its context proves otherwise. %s Mark it as quoted, or give what is missing.", lost[0].Text)
	}
	return nil
}

// Precision is how far a visit's date is known.
func (in PlanVisit) Precision() string { return orElse(in.DatePrecision, "instant") }

// State is the state that a visit begins in: one from an old report was made.
func (in PlanVisit) State() string {
	if in.Precision() == "instant" {
		return "planned"
	}
	return "done"
}

// dateWords says the date of a visit that is known to a month or a year alone, or as an old
// report has it; empty where the day is known.
func (p PassContext) dateWords() string {
	known := map[string]string{"month": "January 2006", "year": "2006"}[p.VisitPrecision]
	if known != "" {
		known = p.VisitAt.In(Zone(p.TimeZone)).Format(known)
	}
	return orElse(p.VisitAsWritten, known)
}

// date settles when a visit is, or was. One from an old report may be known to the day, the
// month or the year alone: then it stands for that time, from its start to its end in the
// yard's zone, and days ashore are known to a range.
func (in *PlanVisit) date(now time.Time) error {
	if in.State() == "planned" {
		return checkTimes(in.From, in.To)
	}
	from, to, err := spanOf(in.From, in.DatePrecision, in.TimeZone)
	if err != nil {
		return err
	}
	if !from.Before(now) {
		return domain.Invalidf("from", "A visit known to the %s alone is one from an old report: it lies in the past.", in.DatePrecision)
	}
	in.From, in.To = from, to
	return nil
}

// spanOf gives the time that a date known only so far stands for: the day, month or year of
// an instant in a zone.
func spanOf(at time.Time, precision, zone string) (from, to time.Time, err error) {
	where := Zone(zone)
	y, m, d := at.In(where).Date()
	switch precision {
	case "day":
		return time.Date(y, m, d, 0, 0, 0, 0, where), time.Date(y, m, d+1, 0, 0, 0, 0, where), nil
	case "month":
		return time.Date(y, m, 1, 0, 0, 0, 0, where), time.Date(y, m+1, 1, 0, 0, 0, 0, where), nil
	case "year":
		return time.Date(y, 1, 1, 0, 0, 0, 0, where), time.Date(y+1, 1, 1, 0, 0, 0, 0, where), nil
	}
	return from, to, domain.Invalidf("datePrecision", "A date is known to the instant, the day, the month or the year.")
}

func written(as string) string {
	if as == "" {
		return ""
	}
	return " (written: " + as + ")"
}

// Matched is how far a pass on other places names the spots of the pass held.
type Matched struct {
	Comparable int // pairs within reach
	Of         int // places of this pass below the water
	WithinMm   int32
	Ambiguous  int // pairs where another place lay within reach too
	Pairs      []MatchedPair
}

// MatchedPair is two places, by slot, that name one spot as far as positions tell.
type MatchedPair struct {
	Place, Held int // of this pass, of the pass held
	ApartMm     int32
	Ambiguous   bool
}

// matched pairs the places of a pass with those of the pass held within the reach that
// their position errors give (where.WithinFor); nil where it read no place that the pass
// held did not. A pair is no leave to subtract: that is for the standings.
func (h *History) matched(held, other *HistoryPass) *Matched {
	a, b := h.readBelow(other), h.readBelow(held)
	if other.ElementID != held.ElementID || within(a, b) {
		return nil
	}
	reach, err := where.WithinFor(h.positionError(a), h.positionError(b))
	if err != nil {
		return nil
	}
	m, err := where.Match(h.spots(a), h.spots(b), reach)
	if err != nil {
		return nil
	}
	out := &Matched{Comparable: len(m.Pairs), Of: len(a), WithinMm: int32(reach)}
	for _, p := range m.Pairs {
		if p.Ambiguous {
			out.Ambiguous++
		}
		out.Pairs = append(out.Pairs, MatchedPair{Place: a[p.A], Held: b[p.B], ApartMm: int32(math.Round(p.Apart)), Ambiguous: p.Ambiguous})
	}
	return out
}

// within tells whether each of some slots, in order, is among others, in order.
func within(some, others []int) bool {
	k := 0
	for _, slot := range some {
		for k < len(others) && others[k] < slot {
			k++
		}
		if k == len(others) || others[k] != slot {
			return false
		}
	}
	return true
}

// readBelow lists the slots that a pass read below the water, dry and void ones apart.
func (h *History) readBelow(p *HistoryPass) []int {
	slots := make([]int, 0, len(h.Axis.IDs))
	for slot := range h.Axis.IDs {
		if p.Taken.At(slot) != Null && max(p.Flags.At(slot), 0)&(FlagVoid|FlagDry) == 0 && h.Axis.Down.At(slot) > 0 {
			slots = append(slots, slot)
		}
	}
	return slots
}

// positionError is the largest doubt in the position of some places, as written, and at
// least what a hand takes to find a spot again.
func (h *History) positionError(slots []int) unit.Millimetres {
	most := int32(handError)
	for _, slot := range slots {
		most = max(most, h.Axis.Errors.At(slot))
	}
	return unit.Millimetres(most)
}

func (h *History) spots(slots []int) []where.Place {
	var keel int32
	for _, down := range h.Axis.Down {
		keel = max(keel, down)
	}
	sides := map[string]where.Side{"port": where.Port, "starboard": where.Starboard}
	out := make([]where.Place, len(slots))
	for k, slot := range slots {
		out[k] = where.Place{
			Side: sides[h.Axis.Sides[slot]], Along: unit.Millimetres(h.Axis.Along.At(slot)), Down: unit.Millimetres(h.Axis.Down.At(slot)), Keel: unit.Millimetres(keel + 1),
		}
	}
	return out
}
