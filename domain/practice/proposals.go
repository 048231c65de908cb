package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Proposed is a visit that a job needs, as a window with its reason and the figures behind it.
type Proposed struct {
	Line     string // which of the job's proposals it is
	Kind     string
	From     time.Time // the window; a visit lies somewhere in it
	To       time.Time
	TimeZone string
	Hours    int // that such a visit usually takes, common practice
	Spell    uuid.UUID
	Follows  string // the kind of visit it waits for; empty: the lift
	Reason   string
	Figures  []string
	Tag      string
	Conflict string     // why it does not fit; empty where it does
	Visit    *uuid.UUID // planned or made already
	Declined *DeclinedVisit
}

// Proposals is what a job needs in the time ashore that it has.
type Proposals struct {
	Job    JobLine
	Spell  *DiarySpell // null: no lift is planned, so nothing can be proposed
	Needs  []string    // what is missing before anything can be proposed
	Visits []Proposed
}

// need is a kind of visit that a kind of job wants.
type need struct {
	kind  string
	hours int
	line  string // empty: the kind
}

// afterAWash is the line of readings that tell what a wash brought.
const afterAWash = "after a wash"

// needs are the visits of each kind of job. Tonnage and code are measured by authorised
// persons: their papers are kept here and no visit is proposed.
var needs = map[string][]need{
	"pre-purchase":       {{"wet look", 1, ""}, {"meter visit", 4, ""}, {"inside", 3, ""}},
	"insurance":          {{"wet look", 1, ""}, {"meter visit", 3, ""}, {"inside", 2, ""}},
	"limited moisture":   {{"wet look", 1, ""}, {"meter visit", 4, ""}},
	"warranty":           {{"wet look", 1, ""}, {"meter visit", 4, ""}},
	"damage":             {{"other", 3, ""}},
	"repair supervision": {{"meter visit", 3, ""}, {"repeat readings", 2, ""}, {"repeat readings", 2, afterAWash}, {"completion", 3, ""}},
	"completion":         {{"completion", 3, ""}},
	"valuation":          {{"other", 1, ""}},
	"expert witness":     {{"other", 2, ""}},
}

// far is how far about a lift visits and weather are looked at.
const far = 200 * 24 * time.Hour

// ProposeVisits says which visits a job needs in the vessel's present or next time ashore,
// each as a window with its reason.
func (s *Service) ProposeVisits(ctx context.Context, a domain.Actor, job uuid.UUID) (Proposals, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Proposals{}, err
	}
	now := s.instant()
	j, err := s.store.Job(ctx, a.Practice, job, now, sees(a))
	if err != nil {
		return Proposals{}, err
	}
	d, err := s.store.Diary(ctx, a.Practice, DiarySpan{From: now.Add(-far), To: now.Add(longest), Vessel: &j.Vessel.ID}, sees(a))
	if err != nil {
		return Proposals{}, err
	}
	return d.propose(j.JobLine, now), nil
}

// propose works out the windows. It takes the time ashore in which a visit of the job is
// planned, else the one that goes on now, else the next.
func (d *Diary) propose(j JobLine, now time.Time) Proposals {
	p := Proposals{Job: j}
	wanted, known := needs[j.Kind]
	if !known {
		p.Needs = append(p.Needs, fmt.Sprintf("A job of kind %s is an authorised person's: its papers are kept here, and no visit is proposed.", j.Kind))
		return p
	}
	s := d.spellFor(j, now)
	if s == nil {
		p.Needs = append(p.Needs, "No lift is planned for "+j.Vessel.Name+": plan one first.")
		return p
	}
	p.Spell = s
	x := d.index()
	var before *Proposed
	for _, n := range wanted {
		if n.line == afterAWash && d.lastWash(*s).IsZero() {
			continue
		}
		v := x.window(d, j, *s, n, before)
		v.Line = either(n.line, n.kind)
		v.Visit = d.serves(j, *s, n.kind, p.lines(n.kind))
		v.Declined = d.declined(j.ID, s.ID, v.Line)
		p.Visits = append(p.Visits, v)
		before = &p.Visits[len(p.Visits)-1]
	}
	return p
}

// lines counts those of a kind that are proposed already.
func (p Proposals) lines(kind string) (n int) {
	for _, v := range p.Visits {
		if v.Kind == kind {
			n++
		}
	}
	return n
}

// lastWash is the last wash of a time ashore, planned or made; the zero time where there is
// none, or where it was on the day of the lift, when she is wet anyhow.
func (d *Diary) lastWash(s DiarySpell) (last time.Time) {
	for _, at := range append([]time.Time{}, d.Washes...) {
		if !s.washSettles(at, 1).IsZero() && at.After(last) && (s.Launch() == nil || at.Before(*s.Launch())) {
			last = at
		}
	}
	for _, at := range []*time.Time{s.WashAt, s.WashedAt} {
		if at != nil && !s.washSettles(*at, 1).IsZero() && at.After(last) {
			last = *at
		}
	}
	return last
}

// spellFor finds the time ashore that a job's visits belong to.
func (d *Diary) spellFor(j JobLine, now time.Time) *DiarySpell {
	for _, v := range d.Visits {
		if v.JobID == j.ID && v.SpellID != nil && v.State == "planned" {
			for k := range d.Spells {
				if d.Spells[k].ID == *v.SpellID {
					return &d.Spells[k]
				}
			}
		}
	}
	for k, s := range d.Spells { // in the order of their lifts
		if launch := s.Launch(); s.VesselID == j.Vessel.ID && (launch == nil || launch.After(now)) {
			return &d.Spells[k]
		}
	}
	return nil
}

// serves finds a visit of the job that is one of these already: of several of a kind the
// first line is served by the first visit, the next by the next.
func (d *Diary) serves(j JobLine, s DiarySpell, kind string, earlier int) *uuid.UUID {
	for _, v := range d.Visits { // by their start
		if v.JobID != j.ID || v.Kind != kind || v.State == "cancelled" || v.SpellID == nil || *v.SpellID != s.ID {
			continue
		}
		if earlier == 0 {
			return &v.ID
		}
		earlier--
	}
	return nil
}

// window works out when one visit may be made.
func (x diaryIndex) window(d *Diary, j JobLine, s DiarySpell, n need, before *Proposed) Proposed {
	lift := s.Lift()
	hours, _, _, longer := x.own.of(n.hoursCode(j.Kind))
	v := Proposed{Kind: n.kind, Hours: hours, TimeZone: s.TimeZone, Spell: s.ID, Tag: commonPractice}
	lifted := "Lift " + clock(lift, s.TimeZone) + "."
	v.Figures = append(v.Figures, lifted)
	if longer != "" {
		v.Figures = append(v.Figures, fmt.Sprintf("%d h at the boat. %s", hours, longer))
	}
	y := DiaryYard{}
	if s.YardID != nil {
		y = x.yards[*s.YardID]
	}
	switch n.kind {
	case "wet look":
		_, hours, tag, says := x.own.of(figureWetLook)
		v.From, v.To = lift, lift.Add(time.Duration(hours)*time.Hour)
		v.Reason = "Blisters are easiest to see wet, just after the lift; the meter cannot be used yet." + after(says)
		v.Tag = tag
	case "meter visit":
		w := x.hulls[j.Vessel.ID].waiting(s, x.own)
		v.From, v.To, v.Reason, v.Tag = w.begins(s), endOf(w, s), w.Reason, w.Tag
		v.Figures = append(v.Figures, waitWords(w))
		if n, known := x.hulls[j.Vessel.ID].monthsAfloat(lift); known {
			v.Figures = append(v.Figures, fmt.Sprintf("%d months afloat before this lift.", n))
		}
		x.settle(&v, s, y)
	case "repeat readings":
		if n.line == afterAWash {
			x.rebound(&v, d.lastWash(s), before)
		} else {
			x.course(&v, lift, before)
		}
		x.settle(&v, s, y)
	case "inside":
		v.From, v.To = lift, atClock(lift, 14, workEnds, s.TimeZone)
		v.Reason = "What lies behind high readings is looked for inside, best once the readings are known."
		if before != nil {
			_, days, tag, says := x.own.of(figureInside)
			v.From, v.To, v.Follows = before.From, later(before.To, atClock(before.From, days, workEnds, s.TimeZone)), before.Kind
			v.Reason, v.Tag = v.Reason+after(says), tag
		}
	case "completion":
		v.From, v.To = lift, atClock(lift, 14, workEnds, s.TimeZone)
		v.Reason = "The work is looked at before coating closes it in."
		if launch := s.Launch(); launch != nil {
			days, _, tag, says := x.own.of(figureCompletion)
			v.From, v.To = later(lift, atClock(*launch, -days, workBegins, s.TimeZone)), atClock(*launch, -1, workEnds, s.TimeZone)
			v.Reason, v.Tag = v.Reason+after(says), tag
			v.Figures = append(v.Figures, "Launch "+clock(*launch, s.TimeZone)+".")
		}
		if before != nil {
			v.Follows = before.Kind
		}
	default:
		v.From, v.To, v.Reason = lift, atClock(lift, 7, workEnds, s.TimeZone), "She can be seen out of the water from the lift on."
		if j.Kind == "damage" {
			v.Reason = "Damage is seen as found, as soon as she is out of the water."
		}
	}
	return v.fit(s)
}

// course is the next readings of a hull that dries ashore.
func (x diaryIndex) course(v *Proposed, lift time.Time, before *Proposed) {
	from := lift
	if before != nil {
		from, v.Follows = before.From, before.Kind
	}
	first, last, tag, says := x.own.of(figureRepeat)
	v.From, v.To = atClock(from, first, workBegins, v.TimeZone), atClock(from, last, workEnds, v.TimeZone)
	v.Reason, v.Tag = "A hull drying ashore is read weekly to fortnightly, before each wash and not after."+after(says), tag
	v.Figures = append(v.Figures, fmt.Sprintf("%d to %s after the readings before.", first, daysWords(last)))
}

// rebound is the readings after a wash: how far they come back tells what the wash left.
func (x diaryIndex) rebound(v *Proposed, wash time.Time, before *Proposed) {
	if before != nil {
		v.Follows = before.Kind
	}
	days, _, tag, says := x.own.of(figureRain)
	v.From, v.To = atClock(wash, days, workBegins, v.TimeZone), atClock(wash, days+3, workEnds, v.TimeZone)
	v.Reason, v.Tag = "After a wash the shallow signal settles first; how far the readings come back, at a fixed delay, tells what the wash left."+after(says), tag
	v.Figures = append(v.Figures, "Washed "+clock(wash, v.TimeZone)+".", fmt.Sprintf("%s after the wash.", daysWords(days)))
}

// settle moves readings past a planned wash, and past rain and frost that a weather record
// tells of.
func (x diaryIndex) settle(v *Proposed, s DiarySpell, y DiaryYard) {
	days, _, tag, _ := x.own.of(figureRain)
	if s.WashAt != nil && s.WashAt.Before(v.From) {
		if settled := s.washSettles(*s.WashAt, days); settled.After(v.From) {
			why := fmt.Sprintf("She is washed on %s: the shallow signal takes about %s to settle.", clock(*s.WashAt, s.TimeZone), aWeek(days))
			v.moveTo(settled, s, " Moved by the wash: ", why, tag)
		}
	}
	if moved, why := x.afterWeather(s, y, v.From); moved.After(v.From) {
		v.moveTo(moved, s, " Moved by the weather record: ", why.Text, why.Tag)
	}
}

func (v *Proposed) moveTo(from time.Time, s DiarySpell, moved, why, tag string) {
	v.From, v.To = from, later(v.To, atClock(from, 3, workEnds, s.TimeZone))
	v.Reason += moved + why
	v.Figures = append(v.Figures, why+" ("+tag+")")
}

// fit ends a window at the launch, or says that it does not fit before it.
func (v Proposed) fit(s DiarySpell) Proposed {
	launch := s.Launch()
	if launch == nil {
		return v
	}
	if !v.From.Add(time.Duration(v.Hours) * time.Hour).After(*launch) {
		if v.To.After(*launch) {
			v.To = *launch
		}
		return v
	}
	v.Conflict = fmt.Sprintf("It does not fit before the launch of %s. Ask the yard for more time, or make it anyway with the reason kept.", clock(*launch, s.TimeZone))
	return v
}

func endOf(w Wait, s DiarySpell) time.Time {
	end := w.Last.of(s.Lift(), s.TimeZone)
	if w.Last.Days > 0 {
		end = atClock(s.Lift(), w.Last.Days, workEnds, s.TimeZone)
	}
	return end
}

func waitWords(w Wait) string {
	if w.First.Days == 0 {
		return fmt.Sprintf("From %d h to %s after the lift.", w.First.Hours, daysWords(w.Last.Days))
	}
	return strings.TrimSpace(fmt.Sprintf("%d to %s after the lift.", w.First.Days, daysWords(w.Last.Days)))
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
