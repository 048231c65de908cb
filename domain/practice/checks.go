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
)

// CheckWriter keeps why something that stands against a visit was let pass.
type CheckWriter interface {
	// OverrideCheck keeps a reason; one given with a move holds as long as the move does.
	OverrideCheck(ctx context.Context, visit uuid.UUID, o Override, by, move *uuid.UUID, at time.Time) error
	// Diary reads the diary of a span as the transaction has it, without jobs that have no
	// visit and without moves.
	Diary(ctx context.Context, span DiarySpan, who Sees) (Diary, error)
}

// Check is what the diary has to say of a visit: something that stands against it and may
// be let pass with a reason, or a suggestion.
type Check struct {
	Code       string
	Text       string // a sentence with the figures behind it
	Tag        string // where the rule comes from
	Suggestion bool   // nothing stands against it: a thought
	Passed     string // the reason with which it was let pass; empty where it was not
}

// The checks that may be let pass. The hard ones are the database's.
const (
	CheckLeave      = "leave"
	CheckDistance   = "distance"
	CheckWaiting    = "waiting-time"
	CheckTide       = "tide"
	CheckCompetence = "competence"
	CheckInstrument = "instrument"
	CheckAsked      = "yard-asked"
	CheckWeather    = "weather"
	CheckWash       = "wash"
)

// Two suggestions that pull in opposite directions; which counts is for a person to say.
const (
	SuggestContinuity = "continuity"
	SuggestSecondEyes = "second-pair-of-eyes"
)

var softChecks = map[string]bool{
	CheckLeave: true, CheckDistance: true, CheckWaiting: true, CheckTide: true, CheckCompetence: true, CheckInstrument: true, CheckAsked: true, CheckWeather: true, CheckWash: true,
}

const (
	commonPractice = "common practice, no source"
	ownRule        = "own rule"
)

// Override lets one check of a visit pass, with the reason.
type Override struct {
	Code   string
	Reason string
}

// OverrideCheck lets a check of a visit pass.
type OverrideCheck struct {
	Mutation uuid.UUID `json:"-"`
	Visit    uuid.UUID
	Override Override
}

// OverrideCheck keeps why something that stands against a visit was let pass. The check
// stays to be seen, with its reason; sent again with another reason the newer one counts.
func (s *Service) OverrideCheck(ctx context.Context, a domain.Actor, in OverrideCheck) (Done, error) {
	return s.write(ctx, &a, domain.Book, "overrideCheck", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		v, err := tx.Visit(ctx, in.Visit, sees(a))
		if err != nil {
			return Done{}, err
		}
		return visitDone(v), s.override(ctx, tx, a, v.ID, []Override{in.Override})
	})
}

// override keeps reasons beside a visit.
func (s *Service) override(ctx context.Context, tx Tx, a domain.Actor, visit uuid.UUID, list []Override) error {
	for _, o := range list {
		if !softChecks[o.Code] {
			return domain.Invalidf("check", "There is no check %q that may be let pass.", o.Code)
		}
		if strings.TrimSpace(o.Reason) == "" || len(o.Reason) > 500 {
			return domain.Invalidf("reason", "Say in at most 500 letters why this is let pass.")
		}
		o.Reason = strings.TrimSpace(o.Reason)
		if err := tx.OverrideCheck(ctx, visit, o, entered(a), nil, s.instant()); err != nil {
			return err
		}
	}
	return nil
}

// standsExplained refuses a visit that is still to be made with something against it for
// which nobody gave a reason. The database lets such a visit pass: whether it is made all
// the same is for a person to say, with a name.
func (s *Service) standsExplained(ctx context.Context, tx Tx, v Visit, who Sees) error {
	if v.State != "planned" || !v.To.After(s.instant()) {
		return nil
	}
	d, err := tx.Diary(ctx, daysAbout(v), who)
	if err != nil {
		return err
	}
	owed := d.unexplained(v.ID)
	if len(owed) == 0 {
		return nil
	}
	return &domain.Fault{Kind: domain.Conflict, Field: "overrides", Text: fmt.Sprintf("%s Choose another time, person or instrument, or give a reason why all the same for each of: %s. It is kept with your name.", sentences(owed), codesOf(owed))}
}

// daysAbout is the part of the diary that a visit is judged by.
func daysAbout(v Visit) DiarySpan {
	return DiarySpan{From: v.From.Add(-aroundVisit), To: v.To.Add(aroundVisit), Vessel: &v.VesselID}
}

// unexplained is what stands against a planned visit and was not let pass.
func (d *Diary) unexplained(visit uuid.UUID) []Check {
	x := d.index()
	for _, v := range d.Visits {
		if v.ID == visit && v.State == "planned" {
			return slices.DeleteFunc(x.checks(v), func(c Check) bool { return c.Passed != "" })
		}
	}
	return nil
}

func sentences(list []Check) string {
	words := make([]string, len(list))
	for k, c := range list {
		words[k] = c.Text
	}
	return strings.Join(words, " ")
}

// codesOf lists the codes of checks, each once, in their order.
func codesOf(list []Check) string {
	var codes []string
	for _, c := range list {
		if !slices.Contains(codes, c.Code) {
			codes = append(codes, c.Code)
		}
	}
	return strings.Join(codes, ", ")
}

// aroundVisit is how far about a visit the diary is read to judge it: its own day in any zone.
const aroundVisit = 36 * time.Hour

// VisitChecks says what stands against a visit that is planned, and what suggests itself.
func (s *Service) VisitChecks(ctx context.Context, a domain.Actor, visit uuid.UUID) ([]Check, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	v, err := s.store.Visit(ctx, a.Practice, visit, VisitParts{}, sees(a))
	if err != nil {
		return nil, err
	}
	d, err := s.store.Diary(ctx, a.Practice, DiarySpan{From: v.From.Add(-aroundVisit), To: v.To.Add(aroundVisit), Vessel: &v.Vessel.ID}, sees(a))
	if err != nil {
		return nil, err
	}
	x := d.index()
	for _, known := range d.Visits {
		if known.ID == visit && known.State == "planned" {
			return append(x.checks(known), x.suggestions(known)...), nil
		}
	}
	return nil, nil
}

// checks names what stands against a planned visit, in the order in which a person would ask.
func (x diaryIndex) checks(v DiaryVisit) []Check {
	var list []Check
	say := func(code, tag, format string, args ...any) { list = append(list, v.check(code, tag, format, args...)) }
	x.checkPeople(v, say)
	x.checkDistance(v, say)
	x.checkInstruments(v, say)
	x.checkSpell(v, say)
	return list
}

// check is something said of a visit, with the reason where it was let pass.
func (v DiaryVisit) check(code, tag, format string, args ...any) Check {
	return Check{Code: code, Text: fmt.Sprintf(format, args...), Tag: tag, Passed: v.Overrides[code]}
}

// kilometres writes a distance for a sentence.
func kilometres(km float64) string { return fmt.Sprintf("%.0f km", km) }

type sayer func(code, tag, format string, args ...any)

func (x diaryIndex) checkPeople(v DiaryVisit, say sayer) {
	for _, who := range v.who() {
		m := x.members[who]
		for _, l := range x.leaves[who] {
			if l.From.Before(v.To) && v.From.Before(l.To) {
				say(CheckLeave, ownRule, "%s is away from %s to %s.", m.Name, clock(l.From, x.zone), clock(l.To, x.zone))
				break
			}
		}
	}
	if v.LeadID == nil {
		return
	}
	if m := x.members[*v.LeadID]; len(m.Kinds) > 0 && !slices.Contains(m.Kinds, v.JobKind) {
		say(CheckCompetence, ownRule, "%s is not noted for jobs of kind %s, only for %s.", m.Name, v.JobKind, strings.Join(m.Kinds, ", "))
	}
}

// checkDistance looks at where those who make the visit are on the same day of its zone.
func (x diaryIndex) checkDistance(v DiaryVisit, say sayer) {
	here, known := x.yardOf(v)
	if !known {
		return
	}
	far, _, tag, says := x.own.of(figureFar)
	said := map[uuid.UUID]bool{}
	for _, who := range v.who() {
		for _, o := range x.visits[who] {
			there, known := x.yardOf(o)
			if o.ID == v.ID || !known || there.ID == here.ID || said[there.ID] || !sameDay(v, o) {
				continue
			}
			if km, ok := distanceKm(here, there); ok && km > float64(far) {
				said[there.ID] = true
				where := "at " + there.Name
				if !o.Open {
					where = "on another job"
				}
				say(CheckDistance, tag, "%s is %s the same day, %.0f km away as the crow flies.%s", x.members[who].Name, where, km, after(says))
			}
		}
	}
}

// sameDay tells whether two visits touch one calendar day, as the first's zone counts it.
func sameDay(v, o DiaryVisit) bool {
	zone := Zone(v.TimeZone)
	return !day(o.To.In(zone)).Before(day(v.From.In(zone))) && !day(o.From.In(zone)).After(day(v.To.In(zone)))
}

// earthKm is the mean radius of the Earth, (2a + b)/3 of GRS 80, km.
const earthKm = 6371.0088

// distanceKm is the great-circle distance by the haversine formula; false where a place is
// not known. On a sphere: within 0.6 % of the ellipsoid's, far less than a road differs.
func distanceKm(a, b DiaryYard) (float64, bool) {
	if a.LatitudeE6 == nil || b.LatitudeE6 == nil {
		return 0, false
	}
	rad := func(e6 *int32) float64 { return float64(*e6) / 1e6 * math.Pi / 180 }
	la, lb := rad(a.LatitudeE6), rad(b.LatitudeE6)
	hav := func(x float64) float64 { s := math.Sin(x / 2); return s * s }
	h := hav(lb-la) + math.Cos(la)*math.Cos(lb)*hav(rad(b.LongitudeE6)-rad(a.LongitudeE6))
	return 2 * earthKm * math.Asin(math.Sqrt(min(1, h))), true
}

func (x diaryIndex) checkInstruments(v DiaryVisit, say sayer) {
	for _, id := range v.Instruments {
		if i := x.instruments[id]; i.RetiredOn != nil && !day(v.From.In(Zone(v.TimeZone))).Before(*i.RetiredOn) {
			say(CheckInstrument, ownRule, "%s was retired on %s.", i.Name, i.RetiredOn.Format("2 January 2006"))
		}
	}
	if !reads(v.Kind) {
		return
	}
	last := x.hulls[v.VesselID].MeteredWith
	if len(v.Instruments) > 0 && len(last) > 0 && !slices.ContainsFunc(v.Instruments, func(id uuid.UUID) bool { return slices.Contains(last, id) }) {
		say(CheckInstrument, ownRule, "She was read with %s last time. Readings of another instrument stand beside those and are not subtracted.", x.instruments[last[0]].Name)
	}
}

// reads tells whether readings are taken at a kind of visit.
func reads(kind string) bool { return kind == "meter visit" || kind == "repeat readings" }

// checkSpell holds a visit against the lift it hangs on.
func (x diaryIndex) checkSpell(v DiaryVisit, say sayer) {
	if v.SpellID == nil {
		return
	}
	s, known := x.spells[*v.SpellID]
	if !known {
		return
	}
	y, _ := x.yardOf(v)
	if s.AskedOnly && s.ActualLift == nil {
		say(CheckAsked, ownRule, "%s has not yet agreed to the lift of %s.", either(y.Name, "The yard"), clock(s.Lift(), s.TimeZone))
	}
	if v.Kind == "wet look" && s.ActualLift == nil {
		x.checkTide(s, y, say)
	}
	if !reads(v.Kind) {
		return
	}
	hull := x.hulls[v.VesselID]
	w := hull.waiting(s, x.own)
	if earliest := w.begins(s); v.From.Before(earliest) {
		say(CheckWaiting, w.Tag, "%s Readings would be worth taking from %s.", w.Reason, clock(earliest, s.TimeZone))
	}
	x.checkWash(s, v, say)
	if moved, why := x.afterWeather(s, y, v.From); moved.After(v.From) {
		say(CheckWeather, why.Tag, "%s", why.Text)
	}
}

// after puts a sentence behind another; nothing where there is none.
func after(sentence string) string {
	if sentence == "" {
		return ""
	}
	return " " + sentence
}

func either(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

// checkTide looks whether a lift falls near a high water of the yard's place.
func (x diaryIndex) checkTide(s DiarySpell, y DiaryYard, say sayer) {
	tides := x.tides[y.TidePlace]
	if y.TidePlace == "" || len(tides) == 0 {
		return
	}
	nearest := tides[0]
	for _, t := range tides {
		if t.HighAt.Sub(s.Lift()).Abs() < nearest.HighAt.Sub(s.Lift()).Abs() {
			nearest = t
		}
	}
	if off := nearest.HighAt.Sub(s.Lift()).Abs(); off > time.Duration(y.TideWithinMinutes)*time.Minute {
		say(CheckTide, "the yard's own rule; times by "+nearest.Source, "The lift at %s is %s from the nearest high water known at %s, %s; the yard lifts within %d min of one.",
			clock(s.Lift(), s.TimeZone), hoursAndMinutes(off), nearest.Place, clock(nearest.HighAt, s.TimeZone), y.TideWithinMinutes)
	}
}

func hoursAndMinutes(d time.Duration) string {
	return fmt.Sprintf("%d h %02d min", int(d.Hours()), int(d.Minutes())%60)
}

// suggestions are thoughts about who should go.
func (x diaryIndex) suggestions(v DiaryVisit) []Check {
	hull := x.hulls[v.VesselID]
	if v.LeadID == nil || len(hull.Leads) == 0 {
		return nil
	}
	lead := x.members[*v.LeadID].Name
	if slices.Contains(hull.Leads, *v.LeadID) {
		return []Check{{Code: SuggestSecondEyes, Suggestion: true, Tag: ownRule, Text: lead + " has visited her before. A second pair of eyes may see what has grown familiar."}}
	}
	for _, id := range hull.Leads {
		if m, known := x.members[id]; known && m.Active {
			return []Check{{Code: SuggestContinuity, Suggestion: true, Tag: ownRule, Text: m.Name + " has visited her before and knows the places; " + lead + " has not."}}
		}
	}
	return nil
}
