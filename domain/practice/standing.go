package practice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/repeat"
)

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

// Stood is a standing with its reasons, the first of them the one that decided.
type Stood struct {
	Standing Standing
	Reasons  []Warning
}

// compares tells whether passes that stand so may be subtracted from one another.
func (s Standing) compares() bool { return s == Same || s == Alike }

// Because is the reason that decided, in words.
func (s Stood) Because() string {
	if len(s.Reasons) == 0 {
		return ""
	}
	return s.Reasons[0].Text
}

func stood(s Standing, code, text string) Stood { return Stood{s, []Warning{{code, text}}} }

// less takes from a standing what a member lowered it to, or what the pass itself lost.
func (s Stood) less(p HistoryPass, whose string) Stood {
	if o := p.Lowered; o != nil && lower(o.Standing, s.Standing) {
		return Stood{o.Standing, slices.Concat([]Warning{{"lowered", whose + o.because()}}, s.Reasons)}
	}
	if len(p.Lost) == 0 || !lower(Unlike, s.Standing) {
		return s
	}
	lost := make([]Warning, len(p.Lost))
	for k, w := range p.Lost {
		lost[k] = Warning{w.Code, whose + strings.ToLower(w.Text[:1]) + strings.TrimSuffix(w.Text[1:], ".")}
	}
	return Stood{Unlike, slices.Concat(lost, s.Reasons)}
}

// lower tells whether a standing is less than another.
func lower(a, b Standing) bool {
	order := []Standing{Reference, Same, Alike, Unlike, Quoted}
	return slices.Index(order, a) > slices.Index(order, b)
}

// standing says how other stands to ref, and why. Surface state and face count; a pass
// that lost its context is quoted whatever else it shares; what cost either of them its
// own standing costs it here. Alike passes need the practice's own s_R.
func standing(ref, other HistoryPass, components []Components) Stood {
	if other.ID == ref.ID {
		return stood(Reference, "reference", "the pass that the others are held against")
	}
	s := inContext(ref.PassContext, other.PassContext, components).less(other, "")
	if o := ref.Lowered; o != nil && o.Standing == Quoted { // what is held against it keeps its own context
		held := *o
		held.Standing, ref.Lowered = Unlike, &held
	}
	return s.less(ref, "the pass held against: ")
}

// inContext is the standing by the contexts alone.
func inContext(ref, other PassContext, components []Components) Stood {
	switch {
	case other.Quoted:
		return stood(Quoted, "quoted", "from an old report: instrument, scale or days ashore not stated")
	case ref.Quoted:
		return stood(Unlike, "against-quoted", "the pass held against has lost its own context")
	case other.ElementID != ref.ElementID:
		return stood(Unlike, "element", "another part of the boat")
	case other.Face != ref.Face:
		return stood(Unlike, "face", "read from the "+other.Face+", not from the "+ref.Face)
	case other.Sensing != ref.Sensing:
		return stood(Unlike, "sensing", "another sensing depth")
	case other.ScaleName != ref.ScaleName || other.ScaleMode != ref.ScaleMode || other.LowTenths != ref.LowTenths || other.HighTenths != ref.HighTenths:
		return stood(Unlike, "scale", "another scale or mode")
	case other.Surface == "" || ref.Surface == "":
		return stood(Unlike, "surface-unknown", "the surface was not noted")
	case other.Surface != ref.Surface:
		return stood(Unlike, "surface", "read on "+other.Surface+", not on "+ref.Surface)
	case other.DrySurface != ref.DrySurface && other.DrySurface != "" && ref.DrySurface != "":
		return stood(Unlike, "dry-surface", "dry places read on "+other.DrySurface+", not on "+ref.DrySurface)
	case equal(other.InstrumentID, ref.InstrumentID):
		return stood(Same, "same", "same instrument, scale, surface and face")
	case other.InstrumentModel == "" || other.InstrumentModel != ref.InstrumentModel:
		return stood(Unlike, "instrument", "another instrument")
	case !of(components, ref).Reproducible.Measured():
		return stood(Unlike, "no-reproducibility", "same model and scale, another serial number; not subtracted until the two were read side by side")
	default:
		return stood(Alike, "alike", "same model and scale, another serial number; how far two of them differ is counted in")
	}
}

// of finds the components of the group that a pass belongs to.
func of(components []Components, p PassContext) Components {
	g := p.group()
	for _, c := range components {
		if c.Group == g {
			return c
		}
	}
	return Components{}
}

// lost lists what costs a pass its standing whatever it is held beside. Its readings stay.
func (h *History) lost(p *HistoryPass) []Warning {
	if p.quoted() {
		return nil
	}
	var list []Warning
	add := func(is bool, code, text string) {
		if is {
			list = append(list, Warning{code, text})
		}
	}
	add(frost(p.PassContext), "frost", "Read on a skin below 0\u00a0°C: readings tend to come out low there (common practice, no source; laboratory work has disputed it).")
	add(heated(p.PassContext), "heat", "Read less than twelve hours after the heat went off, or it is not known how long after (common practice, no source).")
	if text := drifted(p.BlockChecks, of(h.Components, p.PassContext).Repeatability); text != "" {
		add(true, "block-drift", text)
	}
	if text := washed(p.PassContext); text != "" {
		add(true, "wash", text)
	}
	if text := h.tooSoon(p.PassContext); text != "" {
		add(true, "too-soon", text)
	}
	if !p.Baseline.Valid() {
		text := "No dry baseline: its readings stand above nothing."
		if len(p.Baseline.Reasons) > 0 {
			text = "No dry baseline: " + lowered(p.Baseline.Reasons[0].Sentence())
		}
		add(true, "no-baseline", text)
	}
	return list
}

func lowered(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// heatOff is how long the heat must have been off, so that the skin is at the air's
// temperature: the night before (trade notes, section 4, common practice, no source).
const heatOff = 12

func heated(p PassContext) bool {
	return p.Heated != nil && *p.Heated && (p.HoursSinceHeatOff == nil || *p.HoursSinceHeatOff < heatOff)
}

// drifted tells where the blocks after a pass differ from those before by more than the
// repeatability limit; nothing until that was measured.
func drifted(checks []BlockCheck, sr repeat.Deviation) string {
	for _, block := range []string{"low", "high"} {
		before, after, both := beforeAndAfter(checks, block)
		if both && tooFar(after-before, sr) {
			return fmt.Sprintf("The %s block read %.1f before and %.1f after: more apart than the repeatability limit of %.1f.", block, before, after, repeat.Limit(sr.S))
		}
	}
	return ""
}

// tooFar tells whether a block moved by more than the repeatability limit; never until
// that was measured.
func tooFar(moved float64, sr repeat.Deviation) bool {
	return sr.DF >= repeat.Enough && math.Abs(moved) > repeat.Limit(sr.S)
}

// beforeAndAfter gives what a block read before a pass and after it, scale units.
func beforeAndAfter(checks []BlockCheck, block string) (before, after float64, both bool) {
	var first, last bool
	for _, c := range checks {
		switch {
		case c.Block != block:
		case c.Moment == "before" && !first:
			before, first = float64(c.ValueTenths)/10, true
		case c.Moment == "after":
			after, last = float64(c.ValueTenths)/10, true
		}
	}
	return before, after, first && last
}

// How long a wash must be past: a week for a shallow signal (trade notes, section 4,
// computed), a day for a deep one (common practice, no source).
const (
	washShallow = 7 * 24
	washDeep    = 24
)

func washed(p PassContext) string {
	least, why := washDeep, "common practice, no source"
	if p.Sensing != "deep" {
		least, why = washShallow, "a week for what is sensed near the surface, computed"
	}
	if p.HoursSinceWash == nil || int(*p.HoursSinceWash) >= least {
		return ""
	}
	return fmt.Sprintf("Read %d hours after a wash, sooner than %d hours (%s).", *p.HoursSinceWash, least, why)
}

// tooSoon tells where a pass was read sooner after the lift than its laminate and its
// coating allow: see [rest]. What is not known of them asks for nothing: resin is never guessed.
func (h *History) tooSoon(p PassContext) string {
	known, dated := p.Ashore()
	if !dated {
		return ""
	}
	if !known.Exact() {
		return h.surelyTooSoon(p, known)
	}
	days, hours, _ := p.DaysAshore()
	for _, r := range h.rests(p) {
		// Days are those of the calendar: at eight on the third day it is three days.
		if least := r.least; days < least.Days || p.DatePrecision == "instant" && least.Days == 0 && hours < least.Hours {
			ashore, _ := ashoreHours(p)
			return fmt.Sprintf("Read %s after the lift, sooner than %s for %s (%s).", spelt(ashore), spelt(least.hours()), r.what, r.tag)
		}
	}
	return ""
}

// surelyTooSoon is the same of days ashore that are known to a range: too soon is what even
// the most of them leave too short.
func (h *History) surelyTooSoon(p PassContext, known Ashore) string {
	for _, r := range h.rests(p) {
		if known.Most < r.least.Days {
			return fmt.Sprintf("Read %s days after the lift, sooner than %s for %s (%s).", known, spelt(r.least.hours()), r.what, r.tag)
		}
	}
	return ""
}

// rests lists what the layers on the outside of the part ask for, the longest first.
func (h *History) rests(p PassContext) []rest {
	var out []rest
	for _, l := range h.Layers {
		if l.ElementID == p.ElementID && l.there(p.BeganAt) && len(l.corners) == 0 {
			out = append(out, restsFor(l.Kind, l.What)...)
		}
	}
	slices.SortStableFunc(out, func(a, b rest) int { return b.least.hours() - a.least.hours() })
	return out
}

const aDay = 24 // hours

// ashoreHours counts from the lift: by the hour where it is known to the hour, by days else.
func ashoreHours(p PassContext) (hours int, known bool) {
	if hours, known = p.HoursAshore(); known {
		return hours, true
	}
	days, _, known := p.DaysAshore()
	return days * aDay, known
}

func spelt(hours int) string {
	if hours < 3*aDay {
		return fmt.Sprintf("%d hours", hours)
	}
	return fmt.Sprintf("%d days", hours/aDay)
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
	ashore, dated := p.Ashore()
	lack(!dated, "days-ashore", "Days ashore are not known: how far drying has reached cannot be said.")
	lack(dated && !ashore.Exact(), "days-ashore-range", fmt.Sprintf("Days ashore are %s, since the lift or the visit is dated by a month or a year alone: what they explain is reckoned with both ends.", ashore))
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

// notWritten names what a pass lacks as the limits of a report list it.
var notWritten = map[string]string{
	"quoted": "how it was read", "days-ashore": "days ashore", "surface": "the surface below the water", "dry-surface": "the surface of the dry places",
	"block-before": "a block check before the pass", "block-after": "a block check after the pass", "air": "air temperature or humidity",
	"skin": "the surface temperature", "wash": "hours since the wash", "rain": "rain", "zero": "whether the instrument was zeroed",
}

// frost tells whether either side of the skin stood below freezing.
func frost(p PassContext) bool {
	below := func(t *int16) bool { return t != nil && *t < 0 }
	return below(p.SkinPortDecidegrees) || below(p.SkinStarboardDecidegrees)
}

func equal[T comparable](a, b *T) bool { return a != nil && b != nil && *a == *b }

// Lowered is a standing that a member lowered by judgement.
type Lowered struct {
	ID       uuid.UUID
	Pass     uuid.UUID
	Standing Standing
	Reason   string
	By       string
	At       time.Time
}

func (l Lowered) because() string { return fmt.Sprintf("lowered by %s: %s", l.By, l.Reason) }

// quoted tells whether a pass is shown and never computed with: its context did not survive,
// or a member lowered it so far.
func (p *HistoryPass) quoted() bool {
	return p.Quoted || p.Lowered != nil && p.Lowered.Standing == Quoted
}

// StandingWriter writes standings that members lowered.
type StandingWriter interface {
	LowerStanding(ctx context.Context, in LowerStanding, by uuid.UUID, now time.Time) error
	RestoreStanding(ctx context.Context, pass, by uuid.UUID, now time.Time) error
}

// LowerStanding lowers the standing of a pass by judgement.
type LowerStanding struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Pass     uuid.UUID
	Standing Standing
	Reason   string
}

// LowerStanding lowers the standing of a pass to unlike or quoted, with a reason that is
// shown with the member's name. It never raises one: what the context took stays taken.
func (s *Service) LowerStanding(ctx context.Context, a domain.Actor, in LowerStanding) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "lowerStanding", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if in.Standing != Unlike && in.Standing != Quoted {
			return Done{}, domain.Invalidf("standing", "A standing can only be lowered: to unlike, or to quoted.")
		}
		if strings.TrimSpace(in.Reason) == "" || len(in.Reason) > 500 {
			return Done{}, domain.Invalidf("reason", "Say why, in up to 500 letters: the reason is shown with your name.")
		}
		p, by, err := s.judged(ctx, tx, in.Pass, a)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, p.ID), ref(domain.ThingVessel, p.VesselID)), tx.LowerStanding(ctx, in, by, s.instant())
	})
}

// RestoreStanding takes a lowered standing back.
type RestoreStanding struct {
	Mutation uuid.UUID `json:"-"`
	Pass     uuid.UUID
}

// RestoreStanding takes a lowered standing back: the pass stands as its context gives.
func (s *Service) RestoreStanding(ctx context.Context, a domain.Actor, in RestoreStanding) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "restoreStanding", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, by, err := s.judged(ctx, tx, in.Pass, a)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, p.ID), ref(domain.ThingVessel, p.VesselID)), tx.RestoreStanding(ctx, p.ID, by, s.instant())
	})
}

// judged finds the pass and the member whose judgement it is: a judgement has a name.
func (s *Service) judged(ctx context.Context, tx Tx, pass uuid.UUID, a domain.Actor) (PassContext, uuid.UUID, error) {
	if a.Member == uuid.Nil {
		return PassContext{}, uuid.Nil, domain.Invalidf("pass", "A judgement needs a member's name.")
	}
	p, err := tx.PassContext(ctx, pass, sees(a))
	return p, a.Member, err
}
