package practice

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
)

// Axis is the places of a vessel, by ordinal: slot k is the place of ordinal k + 1.
type Axis struct {
	IDs      []uuid.UUID
	Labels   []string
	Elements []uuid.UUID
	Sides    []string // port, starboard, centre
	Stations Column
	Rows     Column
	Along    Column // mm forward of the aft perpendicular
	Down     Column // mm down the skin below the datum; negative above it
	Errors   Column // mm of doubt in the position

	mirrors Column // once they were worked out
}

// History is a vessel's places once, and her passes in columns aligned with them, with
// what comparing them takes.
type History struct {
	Seq    int64
	Axis   Axis
	Passes []HistoryPass // oldest first

	Layers      []drawn
	Evidence    *Evidence
	Plans       []PlanLine
	Gaps        []GapAt
	Windows     []WindowAt
	UnderbodyM2 *float64

	Components []Components // by group, in the order of the passes
	Ahead      *Outlook     // of one more visit like the pass held
	Course     *Course      // of the like visits up to it
	LeftOut    int          // passes that the client of the pass held may not be told of

	held int // of the passes, which the others are held against
}

// PlanLine is what a history says of a plan.
type PlanLine struct {
	ID              uuid.UUID
	PlanVersion     int32
	DryChangeReason string
	CreatedAt       time.Time
	Places          []int32 // ordinals
}

// WindowAt is a scrape window of a visit.
type WindowAt struct {
	VisitID      uuid.UUID
	WidthMm      int32
	HeightMm     int32
	BlistersSeen int32
}

// Draw takes the layers of the vessel's parts.
func (h *History) Draw(layers []Layer) { h.Layers = draw(layers) }

// HistoryPass is one pass in a history.
type HistoryPass struct {
	PassContext
	Grid
	BlockChecks []BlockCheck

	Baseline  baseline.Baseline
	Contrasts Column // twentieths above the pass's own baseline; Null without one
	Missing   []Warning
	Lost      []Warning // what costs it its standing whatever it is held beside
	Lowered   *Lowered  // by a member's judgement; nil where nobody did
	Standing  Standing
	Because   string    // why it stands so to the pass held against
	Reasons   []Warning // the same as data
	Gate      *Gate     // beside the pass held; nil for that pass itself
	Plan      PlanLine  // that it followed
	NotSeen   NotSeen

	Matched     *Matched  // with the places of the pass held; nil where it read the same
	LostContext []Warning // why an old pass is quoted and no more

	Told bool // whether the client of the pass held may be told of it
}

// Warning is something worth a second look. It never stops the work.
type Warning struct {
	Code string
	Text string
}

// HistoryReader reads a vessel's history in one trip.
type HistoryReader interface {
	History(ctx context.Context, practice, vessel uuid.UUID, who Sees) (History, error)
}

// History reads a vessel's passes, each with its baseline, its contrasts and how it
// stands to the pass held against: the one named, or the newest.
func (s *Service) History(ctx context.Context, a domain.Actor, vessel uuid.UUID, against *uuid.UUID) (History, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return History{}, err
	}
	h, err := s.store.History(ctx, a.Practice, vessel, sees(a))
	if err != nil {
		return History{}, err
	}
	if err := s.gated(a, &h, vessel, against); err != nil {
		return History{}, err
	}
	shared := h.Components
	h.Components = make([]Components, len(shared))
	for k, c := range shared {
		h.Components[k] = c.seenBy(a)
	}
	return h, nil
}

// judge fills all that is computed of a history held against a pass of it, or the newest.
func (h *History) judge(against *uuid.UUID) error {
	if err := h.stand(against); err != nil || len(h.Passes) == 0 {
		return err
	}
	h.say()
	return nil
}

// stand fills baselines, contrasts and standings.
func (h *History) stand(against *uuid.UUID) error {
	if err := h.hold(against); err != nil {
		return err
	}
	h.weigh()
	h.beside()
	return nil
}

// hold finds the pass that the others are held against: the one named, or the newest.
func (h *History) hold(against *uuid.UUID) error {
	h.held = len(h.Passes) - 1
	if against == nil {
		return nil
	}
	h.held = slices.IndexFunc(h.Passes, func(p HistoryPass) bool { return p.ID == *against })
	if h.held < 0 {
		return domain.ErrNotFound
	}
	return nil
}

// beside fills how weighed passes stand to the one held.
func (h *History) beside() {
	for k := range h.Passes {
		p := &h.Passes[k]
		if k := slices.IndexFunc(h.Plans, func(l PlanLine) bool { return l.ID == p.PlanID }); k >= 0 {
			p.Plan = h.Plans[k]
		}
		s := standing(h.Passes[h.held], *p, h.Components)
		p.Standing, p.Because, p.Reasons = s.Standing, s.Because(), s.Reasons
		if k != h.held {
			p.Matched = h.matched(&h.Passes[h.held], p)
		}
		if p.Told = p.tellable(h.Passes[h.held].JobID, h.Passes[h.held].ClientID); !p.Told {
			h.LeftOut++
		}
	}
}

// say fills what may be said of passes that stand already: gates, what was not seen, what
// comes next, the course.
func (h *History) say() {
	held := &h.Passes[h.held]
	for k := range h.Passes {
		p := &h.Passes[k]
		p.NotSeen = h.unseen(p)
		if k != h.held {
			p.Gate = h.gate(p, held, Stood{p.Standing, p.Reasons})
		}
	}
	h.Ahead, h.Course = h.ahead(held), h.course(h.held)
}

// weigh fills what a pass is by itself: its baseline, its contrasts, what its context
// lacks and what costs it its standing.
func (h *History) weigh() {
	h.Components = h.Evidence.componentsOf(h.Passes)
	for k := range h.Passes {
		p := &h.Passes[k]
		p.judge(h.Axis)
		if w, is := h.dryBehind(p); is {
			p.Missing = append(p.Missing, w)
		}
		p.Lost = h.lost(p)
		if p.Quoted {
			p.LostContext = lostContext(p.PassContext, len(p.Dry))
		}
	}
}

// judge fills a pass's baseline, contrasts and what its context lacks.
func (p *HistoryPass) judge(axis Axis) {
	p.Missing = missing(p.PassContext, p.BlockChecks)
	p.Contrasts = make(Column, len(axis.IDs))
	for k := range p.Contrasts {
		p.Contrasts[k] = Null
	}
	if p.quoted() {
		return
	}
	p.Baseline = p.baseline(axis)
	if !p.Baseline.Valid() {
		return
	}
	median := int32(p.Baseline.Median.Low)
	for k := range p.Contrasts {
		if v := p.Taken.At(k); v != Null && p.Flags.At(k)&FlagVoid == 0 {
			p.Contrasts[k] = halved(2*v - median)
		}
	}
}

// halved turns fortieths into twentieths, half a twentieth away from zero.
func halved(fortieths int32) int32 {
	if fortieths < 0 {
		return -((1 - fortieths) / 2)
	}
	return (fortieths + 1) / 2
}

func (p *HistoryPass) baseline(axis Axis) baseline.Baseline {
	dry := make([]baseline.Place, 0, len(p.Dry))
	under := make([]measure.Value, 0, len(p.Taken))
	for k := range p.Taken {
		v, ok := p.value(k)
		switch {
		case !ok:
		case p.Flags[k]&FlagDry != 0:
			dry = append(dry, p.dryPlace(axis, k, v))
		case p.Flags[k]&(FlagTargeted|FlagOtherSurface) == 0 && axis.Down.At(k) > 0:
			under = append(under, v)
		}
	}
	settings := baseline.Defaults()
	settings.Step = max(float64(p.StepTenths)/10, 0.1)
	b, err := baseline.Of(dry, under, settings)
	if err != nil { // cannot be: values come from the scale's own limits
		return baseline.Baseline{}
	}
	return b
}

// otherThan marks the surface of a dry place that was read on another than its pass's.
const otherThan = "other than "

func (p *HistoryPass) dryPlace(axis Axis, k int, v measure.Value) baseline.Place {
	place := baseline.Place{Value: v, Surface: p.DrySurface, AboveNone: p.BootTopMm == nil}
	if p.Flags.At(k)&FlagOtherSurface != 0 {
		place.Surface = otherThan + p.DrySurface
	}
	switch axis.Sides[k] {
	case "port":
		place.Side = baseline.Port
	case "starboard":
		place.Side = baseline.Starboard
	default:
		place.Side = baseline.Centre
	}
	if p.BootTopMm != nil {
		place.Above = -axis.Down.At(k) - *p.BootTopMm
	}
	return place
}

// value gives slot k as the arithmetic takes it; false where it does not count.
func (p *HistoryPass) value(k int) (measure.Value, bool) {
	at, flags := p.Taken.At(k), p.Flags.At(k)
	if at == Null || flags&FlagVoid != 0 {
		return measure.Value{}, false
	}
	v := measure.Value{At: measure.Twentieth(at)}
	switch {
	case flags&FlagBelow != 0:
		v.Limit = measure.Below
	case flags&FlagAbove != 0:
		v.Limit = measure.Above
	case flags&FlagRange != 0:
		// The grid keeps a range's middle; half a unit either side is the least such a note
		// can mean. It counts by its place in an order, and is never subtracted.
		v.Limit, v.Low, v.High = measure.Range, v.At-10, v.At+10
	}
	return v, true
}

// DaysAshore counts the calendar days from the lift to a time, in the yard's zone, and
// the whole hours while they are under 72. ok is false where the lift is not known to the day.
func DaysAshore(lift *time.Time, precision, zone string, at time.Time) (days, hours int, ok bool) {
	if lift == nil || (precision != "instant" && precision != "day") {
		return 0, 0, false
	}
	where := Zone(zone)
	days = int(day(at.In(where)).Sub(day(lift.In(where))).Hours() / 24)
	return days, int(at.Sub(*lift).Hours()), days >= 0
}

func day(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// mirrorWithin is how far, in millimetres, a place's twin on the other side may lie
// from its exact mirror: that of two places told apart (design, elements and places).
const mirrorWithin = 100

// Mirrors gives for each slot the ordinal of the nearest place on the other side at the
// same distances, Null where none lies within 100 mm each way.
func (a Axis) Mirrors() Column {
	if a.mirrors != nil {
		return a.mirrors
	}
	type cell struct { // 100 mm square, so that a mirror lies in this one or one beside it
		element, side, along, down int32
	}
	elements := a.elementNumbers()
	at := func(k int, side string, da, dd int32) cell {
		return cell{elements[k], sideNumber(side), a.Along[k]/mirrorWithin + da, a.Down[k]/mirrorWithin + dd}
	}
	first := make(map[cell]int32, len(a.Sides)) // slot + 1 of the last place put into a cell
	next := make([]int32, len(a.Sides))         // and of the one put there before it
	for k, side := range a.Sides {
		c := at(k, side, 0, 0)
		first[c], next[k] = int32(k+1), first[c]
	}
	out := make(Column, len(a.Sides))
	for k, side := range a.Sides {
		out[k] = Null
		other := otherSide(side)
		if other == "" {
			continue
		}
		best := int32(2*mirrorWithin + 1)
		for da := int32(-1); da <= 1; da++ {
			for dd := int32(-1); dd <= 1; dd++ {
				for t := first[at(k, other, da, dd)]; t > 0; t = next[t-1] {
					x, y := abs(a.Along[t-1]-a.Along[k]), abs(a.Down[t-1]-a.Down[k])
					if x <= mirrorWithin && y <= mirrorWithin && (x+y < best || x+y == best && t < out[k]) {
						best, out[k] = x+y, t
					}
				}
			}
		}
	}
	return out
}

// elementNumbers numbers the elements as they come: a number is a quicker key than an id.
func (a Axis) elementNumbers() []int32 {
	known := map[uuid.UUID]int32{}
	out := make([]int32, len(a.Elements))
	for k, id := range a.Elements {
		if k > 0 && id == a.Elements[k-1] {
			out[k] = out[k-1]
			continue
		}
		n, there := known[id]
		if !there {
			n = int32(len(known))
			known[id] = n
		}
		out[k] = n
	}
	return out
}

func sideNumber(side string) int32 {
	switch side {
	case "port":
		return 1
	case "starboard":
		return 2
	}
	return 0
}

// otherSide is empty for the centre, which has none.
func otherSide(side string) string {
	switch side {
	case "port":
		return "starboard"
	case "starboard":
		return "port"
	}
	return ""
}

func abs(x int32) int32 { return max(x, -x) }

// Judge fills baselines, contrasts and standings of a history held against its newest pass.
func Judge(h *History) { _ = h.stand(nil) } // without a pass named there is none to miss
