package practice

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// MovePlan is what a new lift, or a new wash, would bring with it. Nothing is changed by asking.
type MovePlan struct {
	Spell     DiarySpell
	NewLift   time.Time // as it stands where the wash is moved
	NewLaunch *time.Time
	Slot      []SlotLine // what the yard does beside lift and launch
	Lines     []MoveLine
	Conflicts []string // against the time ashore itself
}

// SlotLine is a wash, chocking or move within the yard that would go along with a lift.
type SlotLine struct {
	What     string // wash, chock or shift
	At       time.Time
	NewAt    time.Time
	Reason   string
	MustMove bool // it would lie outside the time ashore where it stands
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

// The two things that a move may be of.
const (
	MoveLift = "lift"
	MoveWash = "wash"
)

// Move is a move that was made.
type Move struct {
	ID          uuid.UUID
	SpellID     uuid.UUID
	What        string // MoveLift or MoveWash
	Reason      string
	MadeAt      time.Time
	UndoneAt    *time.Time
	TellsClient bool // and is told to them once more where it is taken back
	TellsYard   bool
	Lines       []MovedLine // first what was moved, then what went along
}

// MadeMove is a move that was made and not taken back, as the board lists it.
type MadeMove struct {
	ID         uuid.UUID
	SpellID    uuid.UUID
	What       string
	Reason     string
	MadeAt     time.Time
	MadeBy     string
	VesselName string
	TimeZone   string
	FromBefore *time.Time
	FromAfter  *time.Time
	Visits     int32 // that went along
}

// MovedLine is what a move changed: of a visit; of the yard's slot, by What, where only
// From counts; or, where it is neither, of the spell itself, whose From and To are the
// planned lift and launch.
type MovedLine struct {
	What         string // wash, chock or shift; empty: a visit, or the spell
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
	// ToldOfMove are the clients whose visits are planned in a time ashore, each with those
	// of the visits that moved, and its yard; only who has an address.
	ToldOfMove(ctx context.Context, spell uuid.UUID, visits []uuid.UUID) ([]Outsider, error)
	// Slot reads what the yard does in a time ashore and holds it until the transaction
	// ends; empty where nothing is kept.
	Slot(ctx context.Context, spell uuid.UUID) (DescribeSlot, error)
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

// Outsider is somebody outside the practice whom a move concerns.
type Outsider struct {
	Party  uuid.UUID
	Name   string
	Email  string
	IsYard bool
	Visits []uuid.UUID // of the client, that moved
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
	s := d.spell(sp)
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
	p.Slot = s.carrySlot(newLift, p.NewLaunch)
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
	p.judge(moved.index(), p.NewLaunch)
	return p
}

// judge names what would stand against each line where it would go, and leaves of visits
// that the reader may not see only the hours.
func (p *MovePlan) judge(x diaryIndex, launch *time.Time) {
	for k := range p.Lines {
		l := &p.Lines[k]
		there := l.Visit
		there.From, there.To = l.NewFrom, l.NewTo
		l.Conflicts = append(x.taken(there), x.checks(there)...)
		if launch != nil && there.To.After(*launch) {
			l.Conflicts = append(l.Conflicts, Check{Code: "outside", Tag: heldByDatabase, Text: "It would end after the launch of " + clock(*launch, p.Spell.TimeZone) + "."})
		}
		if !l.Visit.Open {
			l.Visit = DiaryVisit{ID: l.Visit.ID, Version: l.Visit.Version, TimeZone: l.Visit.TimeZone, From: l.From, To: l.To, LeadID: l.Visit.LeadID}
		}
	}
}

// heldByDatabase marks what cannot be let pass.
const heldByDatabase = "held by the database"

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

// carrySlot says where the yard's own work goes with a lift: what is done at the crane
// follows it, the rest keeps its days after the lift and its time of day.
func (s DiarySpell) carrySlot(newLift time.Time, newLaunch *time.Time) (list []SlotLine) {
	for _, x := range []struct {
		what string
		at   *time.Time
	}{{"wash", s.WashAt}, {"chock", s.ChockAt}, {"shift", s.ShiftAt}} {
		if x.at == nil {
			continue
		}
		l := SlotLine{What: x.what, At: *x.at}
		if sameDayIn(*x.at, s.Lift(), s.TimeZone) {
			l.NewAt, l.Reason = newLift.Add(x.at.Sub(s.Lift())), "It follows the crane."
		} else {
			l.NewAt = later(newLift, shift(*x.at, s.Lift(), newLift, s.TimeZone))
			l.Reason = "It keeps its days after the lift and its time of day."
		}
		l.MustMove = x.at.Before(newLift) || newLaunch != nil && x.at.After(*newLaunch)
		list = append(list, l)
	}
	return list
}

// sameDayIn tells whether two instants fall on one calendar day of a zone.
func sameDayIn(a, b time.Time, zone string) bool {
	return day(a.In(Zone(zone))).Equal(day(b.In(Zone(zone))))
}

// taken names whom and what of a visit another one holds at that time, each once.
func (x diaryIndex) taken(v DiaryVisit) (list []Check) {
	say := func(name string, held []DiaryVisit) {
		for _, o := range held {
			if o.ID != v.ID && o.From.Before(v.To) && v.From.Before(o.To) {
				c := Clash{Name: name, Kind: o.Kind, From: o.From, To: o.To, TimeZone: v.TimeZone, Vessel: o.VesselName, Job: o.JobNumber, Open: o.Open}
				list = append(list, Check{Code: "taken", Tag: heldByDatabase, Text: c.sentence()})
				return
			}
		}
	}
	for _, who := range v.who() {
		say(x.members[who].Name, x.visits[who])
	}
	for _, tool := range v.Instruments {
		say(x.instruments[tool].Name, x.held[tool])
	}
	return list
}
