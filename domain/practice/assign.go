package practice

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// FitVisit is a visit as it would be planned or moved, before it is kept.
type FitVisit struct {
	Job      uuid.UUID
	Visit    *uuid.UUID // where it is one that exists
	Spell    *uuid.UUID
	Kind     string
	From     time.Time
	To       time.Time
	TimeZone string
}

// Fit is what the diary says of such a visit: against the visit itself, of each surveyor
// who could lead it, and of each instrument. Hard is what the database would refuse, soft
// what may be let pass with a reason.
type Fit struct {
	Hard, Soft  []Check
	Surveyors   []SurveyorFit
	Instruments []InstrumentFit
}

// SurveyorFit is somebody who could lead a visit.
type SurveyorFit struct {
	Member   MemberLine
	Hard     []Check
	Soft     []Check
	Thoughts []Check // for or against, and no rule
}

// InstrumentFit is an instrument that could be taken.
type InstrumentFit struct {
	Instrument DiaryInstrument
	Hard       []Check
	Soft       []Check
	LastTime   bool // she was read with it
}

// FitVisit says how a visit would fit, before it is kept: whom it could be given to and
// which instruments it could take.
func (s *Service) FitVisit(ctx context.Context, a domain.Actor, in FitVisit) (Fit, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Fit{}, err
	}
	if err := zone("timeZone", in.TimeZone); err != nil {
		return Fit{}, err
	}
	if err := checkTimes(in.From, in.To); err != nil {
		return Fit{}, err
	}
	j, err := s.store.Job(ctx, a.Practice, in.Job, s.instant(), sees(a))
	if err != nil {
		return Fit{}, err
	}
	d, err := s.store.Diary(ctx, a.Practice, DiarySpan{From: in.From.Add(-aroundVisit), To: in.To.Add(aroundVisit), Vessel: &j.Vessel.ID}, sees(a))
	if err != nil {
		return Fit{}, err
	}
	return d.fit(j.JobLine, in), nil
}

func (d *Diary) fit(j JobLine, in FitVisit) (f Fit) {
	v := DiaryVisit{
		Kind: in.Kind, From: in.From, To: in.To, TimeZone: in.TimeZone, State: "planned", SpellID: in.Spell, JobID: j.ID, JobNumber: j.Number, JobKind: j.Kind,
		VesselID: j.Vessel.ID, VesselName: j.Vessel.Name, Open: true,
	}
	if in.Visit != nil {
		v.ID = *in.Visit
		for _, known := range d.Visits {
			if known.ID == v.ID {
				v.Overrides = known.Overrides
			}
		}
	}
	x := d.index()
	f.Hard, f.Soft = x.beyond(v), x.checks(v)
	for _, m := range d.Members {
		if m.Active && !slices.Contains(m.Roles, string(domain.Guest)) {
			f.Surveyors = append(f.Surveyors, x.fitSurveyor(v, m))
		}
	}
	for _, i := range d.Instruments {
		f.Instruments = append(f.Instruments, x.fitInstrument(v, i))
	}
	return f
}

// beyond says where a visit lies outside the time ashore that it names. Once she has been
// lifted or launched the whole day counts, as the database has it.
func (x diaryIndex) beyond(v DiaryVisit) []Check {
	if v.SpellID == nil {
		return nil
	}
	s, known := x.spells[*v.SpellID]
	say := func(text string) []Check { return []Check{{Code: "outside", Tag: heldByDatabase, Text: text}} }
	if !known {
		return say("It lies outside the time ashore that was chosen.")
	}
	if s.DatePrecision == "month" || s.DatePrecision == "year" {
		return nil
	}
	begins, ends := s.Lift(), s.Launch()
	if s.ActualLift != nil || s.DatePrecision != "instant" {
		begins = atClock(begins, 0, 0, s.TimeZone)
	}
	if ends != nil && (s.ActualLaunch != nil || s.DatePrecision != "instant") {
		next := atClock(*ends, 1, 0, s.TimeZone)
		ends = &next
	}
	switch {
	case v.From.Before(begins):
		return say("It begins before the lift of " + clock(s.Lift(), s.TimeZone) + ".")
	case ends != nil && v.To.After(*ends):
		return say("It ends after the launch of " + clock(*s.Launch(), s.TimeZone) + ".")
	}
	return nil
}

// fitSurveyor asks of one member what is asked of whoever leads a visit.
func (x diaryIndex) fitSurveyor(v DiaryVisit, m DiaryMember) SurveyorFit {
	v.LeadID = &m.ID
	f := SurveyorFit{Member: m.MemberLine, Hard: x.taken(v)}
	say := func(code, tag, format string, args ...any) {
		f.Soft = append(f.Soft, v.check(code, tag, format, args...))
	}
	x.checkPeople(v, say)
	x.checkDistance(v, say)
	f.Thoughts = x.thoughts(v, m)
	return f
}

// thoughts are for or against somebody, and no rule: where else he or she is that day,
// and who knows the vessel.
func (x diaryIndex) thoughts(v DiaryVisit, m DiaryMember) (list []Check) {
	say := func(code, text string) {
		list = append(list, Check{Code: code, Text: text, Tag: ownRule, Suggestion: true})
	}
	here, known := x.yardOf(v)
	far, _, _, _ := x.own.of(figureFar)
	said := map[uuid.UUID]bool{}
	for _, o := range x.visits[m.ID] {
		there, placed := x.yardOf(o)
		if o.ID == v.ID || !o.Open || !placed || said[there.ID] || !sameDay(v, o) {
			continue
		}
		said[there.ID] = true
		switch km, ok := distanceKm(here, there); {
		case known && there.ID == here.ID:
			say("same-yard", "At "+there.Name+" that day already.")
		case known && ok && km <= float64(far):
			say("near-yard", kilometres(km)+" from "+there.Name+" the same day, as the crow flies.")
		case !ok:
			say("other-yard", "At "+there.Name+" the same day; the distance is not known.")
		}
	}
	if c, judged := m.judged(v.JobKind); judged {
		say("competent", c.sentence(v.JobKind))
	} else if len(m.Kinds) == 0 {
		say("competence-unsaid", "Nobody has said which kinds of job "+m.Name+" does.")
	}
	leads := x.hulls[v.VesselID].Leads
	switch {
	case slices.Contains(leads, m.ID):
		say(SuggestContinuity, "Has visited her before and knows the places.")
	case len(leads) > 0:
		say(SuggestSecondEyes, "Has not led a visit to her: a second pair of eyes.")
	}
	return list
}

// fitInstrument asks of one instrument what is asked of those that a visit takes.
func (x diaryIndex) fitInstrument(v DiaryVisit, i DiaryInstrument) InstrumentFit {
	v.Instruments = []uuid.UUID{i.ID}
	f := InstrumentFit{Instrument: i, Hard: x.taken(v), LastTime: slices.Contains(x.hulls[v.VesselID].MeteredWith, i.ID)}
	x.checkInstruments(v, func(code, tag, format string, args ...any) {
		f.Soft = append(f.Soft, v.check(code, tag, format, args...))
	})
	return f
}
