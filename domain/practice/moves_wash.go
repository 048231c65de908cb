package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// PlanWash works out what a new time of the planned wash would bring with it: readings
// after it keep their days after the wash, and stay a week from it; a reading of a series
// that stood before it stays before it.
func (s *Service) PlanWash(ctx context.Context, a domain.Actor, spell uuid.UUID, newWash time.Time) (MovePlan, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return MovePlan{}, err
	}
	sp, err := s.store.Spell(ctx, a.Practice, spell)
	if err != nil {
		return MovePlan{}, err
	}
	lift := *first(sp.ActualLift, sp.PlannedLift)
	if newWash.Sub(lift).Abs() > longest {
		return MovePlan{}, domain.Invalidf("newWash", "A wash lies within 400 days of the lift.")
	}
	d, err := s.store.Diary(ctx, a.Practice, DiarySpan{From: earlier(lift, newWash).Add(-aroundVisit), To: later(lift, newWash).Add(far), Vessel: &sp.Vessel.ID}, sees(a))
	if err != nil {
		return MovePlan{}, err
	}
	return d.moveWash(sp, newWash), nil
}

func (d *Diary) moveWash(sp Spell, newWash time.Time) MovePlan {
	s := d.spell(sp)
	p := MovePlan{Spell: s, NewLift: s.Lift(), NewLaunch: s.Launch()}
	if newWash.Before(s.Lift()) || s.Launch() != nil && newWash.After(*s.Launch()) {
		p.Conflicts = append(p.Conflicts, "The wash would lie outside her time ashore, which begins "+clock(s.Lift(), s.TimeZone)+".")
	}
	moved := *d
	moved.Visits, moved.Spells = append([]DiaryVisit(nil), d.Visits...), append([]DiarySpell(nil), d.Spells...)
	for k := range moved.Spells {
		if moved.Spells[k].ID == s.ID {
			moved.Spells[k].WashAt = &newWash
		}
	}
	for k, v := range d.Visits {
		if v.SpellID == nil || *v.SpellID != s.ID || v.State != "planned" {
			continue
		}
		if line, follows := s.afterWash(v, newWash, ownFiguresOf(d.Own)); follows {
			moved.Visits[k].From, moved.Visits[k].To = line.NewFrom, line.NewTo
			p.Lines = append(p.Lines, line)
		}
	}
	p.judge(moved.index(), s.Launch())
	return p
}

// spell is a time ashore with its slot, where the diary holds it.
func (d *Diary) spell(sp Spell) DiarySpell {
	for _, known := range d.Spells {
		if known.ID == sp.ID {
			return known
		}
	}
	return diarySpell(sp)
}

// washSettles is when readings are worth taking again after a wash, the zero time where it
// adds nothing: on the day of the lift she is wet anyhow.
func (s DiarySpell) washSettles(wash time.Time, days int) time.Time {
	if wash.Before(s.Lift()) || sameDayIn(wash, s.Lift(), s.TimeZone) {
		return time.Time{}
	}
	return atClock(wash, days, workBegins, s.TimeZone)
}

// afterWash says where a visit for readings goes when the wash is moved; false where it
// stays where it is.
func (s DiarySpell) afterWash(v DiaryVisit, wash time.Time, own ownFigures) (MoveLine, bool) {
	days, _, tag, says := own.of(figureRain)
	if !reads(v.Kind) {
		return MoveLine{}, false
	}
	l := MoveLine{Visit: v, From: v.From, To: v.To, NewFrom: v.From}
	switch {
	case s.WashAt != nil && !v.To.After(*s.WashAt): // read before the wash
		if v.To.After(wash) {
			l.NewFrom = shift(v.From, *s.WashAt, wash, s.TimeZone)
			l.Reason = "It is read before the wash, and not after."
		}
	default:
		if s.WashAt != nil {
			l.NewFrom = shift(v.From, *s.WashAt, wash, s.TimeZone)
			l.Reason = "It keeps its days after the wash and its time of day."
		}
		if settles := s.washSettles(wash, days); l.NewFrom.Before(settles) && !v.To.Before(wash) {
			at := v.From.In(Zone(s.TimeZone))
			l.NewFrom = later(settles, atClock(settles, 0, at.Hour(), s.TimeZone))
			l.Reason = fmt.Sprintf("After a wash the shallow signal takes about %s to settle (%s).%s", aWeek(days), tag, after(says))
		}
	}
	l.NewTo = l.NewFrom.Add(v.To.Sub(v.From))
	return l, !l.NewFrom.Equal(v.From)
}

// checkWash says where readings come too soon after a wash, planned or made.
func (x diaryIndex) checkWash(s DiarySpell, v DiaryVisit, say sayer) {
	days, _, tag, says := x.own.of(figureRain)
	for _, wash := range []*time.Time{s.WashAt, s.WashedAt} {
		if wash == nil || !wash.Before(v.From) {
			continue
		}
		if settles := s.washSettles(*wash, days); v.From.Before(settles) {
			say(CheckWash, tag, "She is washed on %s: the shallow signal takes about %s to settle, until %s. Wait, or do block and baseline again.%s", clock(*wash, s.TimeZone), aWeek(days), clock(settles, s.TimeZone), after(says))
			return
		}
	}
}

// ApplyWash moves the planned wash of a time ashore and, with it, the lines that were accepted.
type ApplyWash struct {
	Mutation   uuid.UUID `json:"-"`
	ID         uuid.UUID // of the move
	Spell      uuid.UUID
	NewWash    time.Time
	Reason     string
	Lines      []AcceptedLine
	TellClient bool
	TellYard   bool
}

// ApplyWash moves the planned wash with the accepted visits as one change, which undoMove
// takes back.
func (s *Service) ApplyWash(ctx context.Context, a domain.Actor, in ApplyWash) (Done, error) {
	return s.write(ctx, &a, domain.Book, "applyWash", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		sp, err := toMove(ctx, tx, in.ID, in.Spell, in.Lines, in.Reason)
		if err != nil {
			return Done{}, err
		}
		if sp.CancelledAt != nil || sp.WashedAt != nil {
			return Done{}, domain.Conflictf("Only a wash that is still to come can be moved.")
		}
		slot, err := tx.Slot(ctx, sp.ID)
		if err != nil {
			return Done{}, err
		}
		m := Move{ID: in.ID, SpellID: sp.ID, What: MoveWash, Reason: strings.TrimSpace(in.Reason), MadeAt: s.instant(), TellsClient: in.TellClient, TellsYard: in.TellYard}
		m.Lines = []MovedLine{{What: "wash", FromBefore: slot.WashAt, FromAfter: &in.NewWash}}
		slot.Spell, slot.WashAt = sp.ID, &in.NewWash
		if err := slot.within(sp); err != nil {
			return Done{}, err
		}
		if err := tx.SetSlot(ctx, slot); err != nil {
			return Done{}, err
		}
		visits, err := s.carryAll(ctx, tx, a, sp.ID, in.Lines)
		if err != nil {
			return Done{}, err
		}
		m.Lines = append(m.Lines, visits...)
		return s.keepMove(ctx, tx, a, sp, m)
	})
}

// within refuses times of a slot that lie outside the time ashore.
func (d DescribeSlot) within(sp Spell) error {
	lift, launch := first(sp.ActualLift, sp.PlannedLift), first(sp.ActualLaunch, sp.PlannedLaunch)
	for _, what := range []string{"wash", "chock", "shift"} {
		if t := *d.at(what); t != nil && (t.Before(*lift) || launch != nil && t.After(*launch)) {
			return domain.Invalidf(what+"At", "The %s of %s lies outside the time ashore, which begins %s.", slotWords[what], clock(*t, sp.TimeZone), clock(*lift, sp.TimeZone))
		}
	}
	return nil
}
