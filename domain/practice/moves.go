package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// MovePlan is what a new lift would bring with it. Nothing is changed by asking.
type MovePlan struct {
	Spell     DiarySpell
	NewLift   time.Time
	NewLaunch *time.Time
	Lines     []MoveLine
	Conflicts []string // against the time ashore itself
}

// MoveLine is one visit of a move: where it stands, where it would go, and why.
type MoveLine struct {
	Visit     DiaryVisit
	From      time.Time // as it stands
	To        time.Time
	NewFrom   time.Time
	NewTo     time.Time
	Reason    string
	Conflicts []Check // that would stand against it there
	MustMove  bool    // it would lie outside the time ashore where it stands
}

// Move is a move that was made.
type Move struct {
	ID       uuid.UUID
	SpellID  uuid.UUID
	Reason   string
	MadeAt   time.Time
	UndoneAt *time.Time
	Lines    []MovedLine
}

// MovedLine is what a move changed of a visit, or of the spell itself where Visit is nil:
// there From and To are the planned lift and launch.
type MovedLine struct {
	Visit        *uuid.UUID
	FromBefore   *time.Time
	ToBefore     *time.Time
	FromAfter    *time.Time
	ToAfter      *time.Time
	VersionAfter int32
}

// MoveWriter writes moves.
type MoveWriter interface {
	InsertMove(ctx context.Context, m Move, by *uuid.UUID) error
	// Move reads a move with its lines and holds it until the transaction ends.
	Move(ctx context.Context, id uuid.UUID) (Move, error)
	UndoMove(ctx context.Context, id uuid.UUID, now time.Time) error
	// FreeVisits lets go of the people and instruments of visits that are about to be moved
	// together, so that one may take the hours that another leaves.
	FreeVisits(ctx context.Context, visits []uuid.UUID) error
	// Affected are the members who make these visits, with their addresses.
	Affected(ctx context.Context, visits []uuid.UUID) ([]Affected, error)
	// TakeBackSpell sets the planned times of a time ashore, none included.
	TakeBackSpell(ctx context.Context, id uuid.UUID, version int32, lift, launch *time.Time) error
}

// Affected is somebody whose visits a move changed.
type Affected struct {
	Member uuid.UUID
	Name   string
	Email  string
	Visits []uuid.UUID
}

// PlanMove works out what a new lift would bring with it: each planned visit keeps its
// days ashore and its time of day in the yard's zone, and a wet look its place after the
// crane. Where no new launch is given it is moved by as many days.
func (s *Service) PlanMove(ctx context.Context, a domain.Actor, spell uuid.UUID, newLift time.Time, newLaunch *time.Time) (MovePlan, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return MovePlan{}, err
	}
	sp, err := s.store.Spell(ctx, a.Practice, spell)
	if err != nil {
		return MovePlan{}, err
	}
	lift := *first(sp.ActualLift, sp.PlannedLift)
	span := DiarySpan{From: earlier(lift, newLift).Add(-aroundVisit), To: later(lift, newLift).Add(far), Vessel: &sp.Vessel.ID}
	if span.To.Sub(span.From) > 2*longest {
		return MovePlan{}, domain.Invalidf("newLift", "A lift is moved by 400 days at most. Plan another time ashore.")
	}
	d, err := s.store.Diary(ctx, a.Practice, span, sees(a))
	if err != nil {
		return MovePlan{}, err
	}
	return d.move(sp, newLift, newLaunch), nil
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// move proposes where everything goes.
func (d *Diary) move(sp Spell, newLift time.Time, newLaunch *time.Time) MovePlan {
	s := diarySpell(sp)
	for _, known := range d.Spells {
		if known.ID == sp.ID {
			s = known
		}
	}
	p := MovePlan{Spell: s, NewLift: newLift, NewLaunch: newLaunch}
	if newLaunch == nil && s.Launch() != nil {
		moved := shift(*s.Launch(), s.Lift(), newLift, s.TimeZone)
		p.NewLaunch = &moved
	}
	if s.ActualLift != nil {
		p.Conflicts = append(p.Conflicts, "She has been lifted on "+clock(*s.ActualLift, s.TimeZone)+": a lift that was cannot be moved.")
	}
	if p.NewLaunch != nil && !newLift.Before(*p.NewLaunch) {
		p.Conflicts = append(p.Conflicts, "The launch would come before the lift.")
	}
	p.Conflicts = append(p.Conflicts, d.across(s, newLift, p.NewLaunch)...)
	moved := *d
	moved.Visits, moved.Spells = slices.Clone(d.Visits), slices.Clone(d.Spells)
	for k := range moved.Spells {
		if moved.Spells[k].ID == s.ID {
			moved.Spells[k].PlannedLift, moved.Spells[k].PlannedLaunch = &newLift, p.NewLaunch
		}
	}
	for k, v := range d.Visits {
		if v.SpellID == nil || *v.SpellID != s.ID || v.State != "planned" {
			continue
		}
		line := s.carry(v, newLift)
		line.MustMove = v.From.Before(newLift) || p.NewLaunch != nil && v.To.After(*p.NewLaunch)
		moved.Visits[k].From, moved.Visits[k].To = line.NewFrom, line.NewTo
		p.Lines = append(p.Lines, line)
	}
	x := moved.index()
	for k := range p.Lines {
		l := &p.Lines[k]
		there := l.Visit
		there.From, there.To = l.NewFrom, l.NewTo
		l.Conflicts = append(x.taken(there), x.checks(there)...)
		if p.NewLaunch != nil && there.To.After(*p.NewLaunch) {
			l.Conflicts = append(l.Conflicts, Check{Code: "outside", Tag: "held by the database", Text: "It would end after the launch of " + clock(*p.NewLaunch, s.TimeZone) + "."})
		}
		if !l.Visit.Open {
			l.Visit = DiaryVisit{ID: l.Visit.ID, Version: l.Visit.Version, TimeZone: l.Visit.TimeZone, From: l.From, To: l.To, LeadID: l.Visit.LeadID}
		}
	}
	return p
}

// across names other times ashore of the vessel that the new one would overlap.
func (d *Diary) across(s DiarySpell, lift time.Time, launch *time.Time) (list []string) {
	for _, o := range d.Spells {
		if o.ID != s.ID && o.VesselID == s.VesselID && (launch == nil || o.Lift().Before(*launch)) && (o.Launch() == nil || lift.Before(*o.Launch())) {
			list = append(list, "She stands ashore from "+clock(o.Lift(), o.TimeZone)+" already, planned or done.")
		}
	}
	return list
}

// diarySpell is a time ashore that the diary's span does not hold.
func diarySpell(s Spell) DiarySpell {
	out := DiarySpell{
		ID: s.ID, VesselID: s.Vessel.ID, VesselName: s.Vessel.Name, TimeZone: s.TimeZone, PlannedLift: s.PlannedLift, PlannedLaunch: s.PlannedLaunch,
		ActualLift: s.ActualLift, ActualLaunch: s.ActualLaunch, AskedOnly: s.AskedOnly, UnderCover: s.UnderCover, DatePrecision: s.DatePrecision, Version: s.Version,
	}
	if s.Yard != nil {
		out.YardID = &s.Yard.ID
	}
	return out
}

// shift moves an instant by as many calendar days as lie between two others, at the same
// time of day in the zone: across a change of the clocks a day keeps its date, not its hours.
func shift(t, from, to time.Time, zone string) time.Time {
	where := Zone(zone)
	days := int(day(to.In(where)).Sub(day(from.In(where))).Hours() / 24)
	l := t.In(where)
	return time.Date(l.Year(), l.Month(), l.Day()+days, l.Hour(), l.Minute(), l.Second(), l.Nanosecond(), where)
}

// carry says where a visit goes with its lift.
func (s DiarySpell) carry(v DiaryVisit, newLift time.Time) MoveLine {
	l := MoveLine{Visit: v, From: v.From, To: v.To}
	if v.Kind == "wet look" {
		l.NewFrom = newLift.Add(v.From.Sub(s.Lift()))
		l.Reason = "The wet look follows the crane."
	} else {
		l.NewFrom = shift(v.From, s.Lift(), newLift, s.TimeZone)
		days, _, _ := DaysAshore(first(s.ActualLift, s.PlannedLift), "day", s.TimeZone, v.From)
		l.Reason = fmt.Sprintf("It keeps its %s ashore and its time of day.", daysWords(days))
		if l.NewFrom.Before(newLift) { // on the day of the lift, before it
			l.NewFrom = newLift
			l.Reason = "It cannot begin before the lift."
		}
	}
	l.NewTo = l.NewFrom.Add(v.To.Sub(v.From))
	return l
}

// taken names whom and what of a visit another one holds at that time.
func (x diaryIndex) taken(v DiaryVisit) (list []Check) {
	for _, who := range v.who() {
		for _, o := range x.visits[who] {
			if o.ID != v.ID && o.From.Before(v.To) && v.From.Before(o.To) {
				c := Clash{Name: x.members[who].Name, Kind: o.Kind, From: o.From, To: o.To, TimeZone: v.TimeZone, Vessel: o.VesselName, Job: o.JobNumber, Open: o.Open}
				list = append(list, Check{Code: "taken", Tag: "held by the database", Text: c.sentence()})
			}
		}
	}
	return list
}

// ApplyMove moves a planned lift and, with it, the lines that were accepted.
type ApplyMove struct {
	Mutation  uuid.UUID `json:"-"`
	ID        uuid.UUID // of the move
	Spell     uuid.UUID
	Version   int32 // of the spell
	NewLift   time.Time
	NewLaunch *time.Time
	Reason    string
	Lines     []AcceptedLine
}

// AcceptedLine is a visit that goes along; what is not named stays where it is.
type AcceptedLine struct {
	Visit   uuid.UUID
	Version int32
	From    time.Time
	To      time.Time
}

// mostLines is how many visits one move may carry.
const mostLines = 100

// ApplyMove moves a planned lift with the accepted visits as one change. What is left
// where it is must still lie in the time ashore. Everybody whose visits moved gets one letter.
func (s *Service) ApplyMove(ctx context.Context, a domain.Actor, in ApplyMove) (Done, error) {
	return s.write(ctx, &a, domain.Book, "applyMove", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if len(in.Lines) > mostLines || len(in.Reason) > 500 {
			return Done{}, domain.Invalidf("lines", "A move carries at most %d visits, and its reason at most 500 letters.", mostLines)
		}
		sp, err := tx.Spell(ctx, in.Spell)
		if err != nil {
			return Done{}, err
		}
		if sp.ActualLift != nil || sp.CancelledAt != nil {
			return Done{}, domain.Conflictf("Only a lift that is still planned can be moved.")
		}
		m := Move{ID: in.ID, SpellID: sp.ID, Reason: strings.TrimSpace(in.Reason), MadeAt: s.instant()}
		m.Lines = []MovedLine{{FromBefore: sp.PlannedLift, ToBefore: sp.PlannedLaunch, FromAfter: &in.NewLift, ToAfter: in.NewLaunch, VersionAfter: in.Version + 1}}
		sp.Version, sp.PlannedLift, sp.PlannedLaunch = in.Version, &in.NewLift, in.NewLaunch
		if err := checkSpell(sp.PlannedLift, sp.PlannedLaunch, nil, nil); err != nil {
			return Done{}, err
		}
		if err := rewrite(ctx, tx, sp); err != nil {
			return Done{}, err
		}
		lines, err := s.carryAll(ctx, tx, a, sp.ID, in.Lines)
		if err != nil {
			return Done{}, err
		}
		m.Lines = append(m.Lines, lines...)
		if err := keepsVisits(ctx, tx, sp.ID, sees(a)); err != nil {
			return Done{}, err
		}
		if err := tx.InsertMove(ctx, m, entered(a)); err != nil {
			return Done{}, err
		}
		return moveDone(m, sp), s.tell(ctx, tx, a, sp, m, false)
	})
}

func moveDone(m Move, sp Spell) Done {
	things := []domain.Ref{ref(domain.ThingMove, m.ID), ref(domain.ThingSpell, sp.ID), ref(domain.ThingVessel, sp.Vessel.ID)}
	for _, l := range m.Lines {
		if l.Visit != nil {
			things = append(things, ref(domain.ThingVisit, *l.Visit))
		}
	}
	return touched(things...)
}

// carryAll moves visits of a spell together: all let go first, so that one may take the
// hours that another leaves.
func (s *Service) carryAll(ctx context.Context, tx Tx, a domain.Actor, spell uuid.UUID, accepted []AcceptedLine) ([]MovedLine, error) {
	visits := make([]Visit, len(accepted))
	ids := make([]uuid.UUID, len(accepted))
	for k, l := range accepted {
		v, err := tx.Visit(ctx, l.Visit, sees(a))
		if err != nil {
			return nil, err
		}
		if v.SpellID == nil || *v.SpellID != spell || v.State != "planned" || slices.Contains(ids, v.ID) {
			return nil, domain.Invalidf("lines", "A move carries the planned visits of its own time ashore, each once.")
		}
		if err := checkTimes(l.From, l.To); err != nil {
			return nil, err
		}
		visits[k], ids[k] = v, v.ID
	}
	if err := tx.FreeVisits(ctx, ids); err != nil {
		return nil, err
	}
	moved := make([]MovedLine, len(accepted))
	for k, l := range accepted {
		v := visits[k]
		moved[k] = MovedLine{Visit: &ids[k], FromBefore: &visits[k].From, ToBefore: &visits[k].To, FromAfter: &accepted[k].From, ToAfter: &accepted[k].To, VersionAfter: l.Version + 1}
		v.Version, v.From, v.To = l.Version, l.From, l.To
		if err := tx.UpdateVisit(ctx, v); err != nil {
			return nil, err
		}
	}
	for k, l := range accepted {
		v := visits[k]
		v.From, v.To = l.From, l.To
		if err := s.book(ctx, tx, v, Booked{}, sees(a)); err != nil {
			return nil, err
		}
	}
	return moved, nil
}

// UndoMove takes a move back.
type UndoMove struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// UndoMove puts the lift and every visit that went along back where they were. What was
// touched since the move stands in its way, and is named.
func (s *Service) UndoMove(ctx context.Context, a domain.Actor, in UndoMove) (Done, error) {
	return s.write(ctx, &a, domain.Book, "undoMove", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		m, err := tx.Move(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if m.UndoneAt != nil {
			return Done{}, domain.Conflictf("This move was taken back already.")
		}
		sp, err := tx.Spell(ctx, m.SpellID)
		if err != nil {
			return Done{}, err
		}
		spell := m.Lines[0]
		if sp.Version != spell.VersionAfter {
			return Done{}, domain.Conflictf("The time ashore was changed after the move: it cannot be taken back as a whole. Move it again instead.")
		}
		back := make([]AcceptedLine, 0, len(m.Lines)-1)
		for _, l := range m.Lines[1:] {
			v, err := tx.Visit(ctx, *l.Visit, sees(a))
			if err != nil {
				return Done{}, err
			}
			if v.Version != l.VersionAfter {
				return Done{}, domain.Conflictf("The visit of %s was changed after the move: it cannot be taken back as a whole. Move it again instead.", clock(v.From, v.TimeZone))
			}
			back = append(back, AcceptedLine{Visit: v.ID, Version: v.Version, From: *l.FromBefore, To: *l.ToBefore})
		}
		if err := standsApart(ctx, tx, sp.Vessel.ID, sp.ID, *first(spell.FromBefore, sp.ActualLift), spell.ToBefore); err != nil {
			return Done{}, err
		}
		if err := tx.TakeBackSpell(ctx, sp.ID, sp.Version, spell.FromBefore, spell.ToBefore); err != nil {
			return Done{}, err
		}
		if _, err := s.carryAll(ctx, tx, a, sp.ID, back); err != nil {
			return Done{}, err
		}
		if err := keepsVisits(ctx, tx, sp.ID, sees(a)); err != nil {
			return Done{}, err
		}
		if err := tx.UndoMove(ctx, m.ID, s.instant()); err != nil {
			return Done{}, err
		}
		return moveDone(m, sp), s.tell(ctx, tx, a, sp, m, true)
	})
}

// tell sends one letter to everybody whose visits a move changed, but to whoever made it.
func (s *Service) tell(ctx context.Context, tx Tx, a domain.Actor, sp Spell, m Move, undone bool) error {
	lines := map[uuid.UUID]MovedLine{}
	var ids []uuid.UUID
	for _, l := range m.Lines[1:] {
		lines[*l.Visit] = l
		ids = append(ids, *l.Visit)
	}
	people, err := tx.Affected(ctx, ids)
	if err != nil {
		return err
	}
	for _, p := range people {
		if p.Email == "" || p.Member == a.Member {
			continue
		}
		letter := entry.Letter{Kind: "move", To: p.Email, Subject: "Moved: the lift of " + sp.Vessel.Name, Body: moveLetter(p, sp, m, lines, undone)}
		if undone {
			letter.Subject = "Moved back: the lift of " + sp.Vessel.Name
		}
		if err := tx.SendMail(ctx, letter, s.instant()); err != nil {
			return err
		}
	}
	return nil
}

func moveLetter(p Affected, sp Spell, m Move, lines map[uuid.UUID]MovedLine, undone bool) string {
	var b strings.Builder
	lift := m.Lines[0].FromAfter
	if undone {
		lift = m.Lines[0].FromBefore
	}
	fmt.Fprintf(&b, "%s,\n\nthe lift of %s is now planned for %s", p.Name, sp.Vessel.Name, clock(*lift, sp.TimeZone))
	if sp.Yard != nil {
		fmt.Fprintf(&b, " at %s", sp.Yard.Name)
	}
	b.WriteString(".\n")
	if m.Reason != "" && !undone {
		fmt.Fprintf(&b, "Reason: %s\n", m.Reason)
	}
	b.WriteString("\nYour visits that moved with it:\n")
	for _, id := range p.Visits {
		from, to := lines[id].FromBefore, lines[id].FromAfter
		if undone {
			from, to = to, from
		}
		fmt.Fprintf(&b, "- %s, was %s\n", clock(*to, sp.TimeZone), clock(*from, sp.TimeZone))
	}
	fmt.Fprintf(&b, "\nTimes are those of the yard (%s).\n", sp.TimeZone)
	return b.String()
}
