package practice

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Diary is what the practice has planned in a span of time, with all that decides
// whether it can be so. It is read in one trip.
type Diary struct {
	From, To    time.Time
	Practice    Practice
	Members     []DiaryMember
	Visits      []DiaryVisit
	Spells      []DiarySpell
	Leaves      []Leave
	Tides       []Tide
	Weather     []Weather
	Yards       []DiaryYard
	Instruments []DiaryInstrument
	Hulls       []Hull          // of vessels with a visit planned in the span
	Unplaced    []JobLine       // booked, with no visit planned or made
	Moves       []MadeMove      // of late, not taken back
	Own         []OwnFigure     // the practice's figures in place of the trade's, newest first
	Declined    []DeclinedVisit // proposals of one vessel's jobs that nobody wants
	Washes      []time.Time     // of the vessel asked for, that were made, the last first
}

// DiaryMember is somebody who makes visits; Kinds are the jobs he or she does, empty
// where nobody said.
type DiaryMember struct {
	MemberLine
	Email    string
	Kinds    []string
	JudgedOn []time.Time // of each kind; the zero time where nobody wrote it down
	JudgedBy []string
}

// DiaryVisit is a visit as the diary holds it. Where it is not open to the reader only
// its time, its people and its instruments are told.
type DiaryVisit struct {
	ID          uuid.UUID
	Kind        string
	From        time.Time
	To          time.Time
	TimeZone    string
	State       string
	LeadID      *uuid.UUID
	SpellID     *uuid.UUID
	FollowsID   *uuid.UUID
	Version     int32
	JobID       uuid.UUID
	JobNumber   string
	JobKind     string
	JobStage    string
	VesselID    uuid.UUID
	VesselName  string
	People      []uuid.UUID
	Instruments []uuid.UUID
	Overrides   map[string]string // reasons by the check that was let pass
	Open        bool
	Checks      []Check
}

// DiarySpell is a time ashore as the diary holds it.
type DiarySpell struct {
	ID            uuid.UUID
	VesselID      uuid.UUID
	VesselName    string
	LoaMm         *int32
	YardID        *uuid.UUID
	TimeZone      string
	PlannedLift   *time.Time
	PlannedLaunch *time.Time
	ActualLift    *time.Time
	ActualLaunch  *time.Time
	AskedOnly     bool
	Held          string
	UnderCover    *bool
	WashedAt      *time.Time
	DatePrecision string
	Version       int32
	WashAt        *time.Time // planned, as the lines below
	ChockAt       *time.Time
	ShiftAt       *time.Time // moved within the yard
	Pays          string
	Told          string // what the yard was told
}

// Lift is when she was lifted, or is to be.
func (s DiarySpell) Lift() time.Time { return *first(s.ActualLift, s.PlannedLift) }

// Launch is when she was launched, or is to be; nil where nobody said.
func (s DiarySpell) Launch() *time.Time { return first(s.ActualLaunch, s.PlannedLaunch) }

// DiaryYard is a yard with what planning needs of it.
type DiaryYard struct {
	PartyLine
	Phone             string
	TimeZone          string // its own; empty: the practice's
	LiftHours         string
	Rules             string
	LatitudeE6        *int32 // millionths of a degree
	LongitudeE6       *int32
	TidePlace         string // whose high waters count here; empty: none do
	TideWithinMinutes int32
}

// DiaryInstrument is an instrument with what planning needs of it.
type DiaryInstrument struct {
	ID        uuid.UUID
	Name      string
	Model     string
	Sensing   string
	RetiredOn *time.Time
}

// DiarySpan says what of the diary is asked for. Vessel asks for her hull even where no
// visit is planned in the span; Spell for its moves alone.
type DiarySpan struct {
	From, To   time.Time
	Vessel     *uuid.UUID
	Spell      *uuid.UUID
	MovedSince time.Time // the zero time: moves are left out
}

// DiaryReader reads the diary.
type DiaryReader interface {
	Diary(ctx context.Context, practice uuid.UUID, span DiarySpan, who Sees) (Diary, error)
}

// Board reads the diary of a span with every visit's conflicts named: one trip, whatever
// it holds. Times are instants; a week is one of the practice's own zone, which the caller
// cuts, and each visit and time ashore carries its zone.
func (s *Service) Board(ctx context.Context, a domain.Actor, from, to time.Time) (Diary, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Diary{}, err
	}
	if err := checkSpan(from, to); err != nil {
		return Diary{}, err
	}
	d, err := s.store.Diary(ctx, a.Practice, DiarySpan{From: from, To: to, MovedSince: s.instant().Add(-lately)}, sees(a))
	if err != nil {
		return Diary{}, err
	}
	d.judge()
	d.withhold()
	for k, l := range d.Leaves {
		d.Leaves[k] = l.ToldTo(a)
	}
	d.Weather = slices.DeleteFunc(d.Weather, func(w Weather) bool { return w.At.Before(from) })
	return d, nil
}

// lately is how long a move is shown on the board, where it can be taken back.
const lately = 14 * 24 * time.Hour

// HaulOut is a time ashore with all that hangs on it.
type HaulOut struct {
	Spell  Spell
	Slot   DiarySpell
	Yard   *DiaryYard
	Visits []DiaryVisit
	Tides  []Tide // of the yard's place, about the lift and the launch
	Moves  []MadeMove
}

// HaulOut reads a time ashore with its visits, each with what stands against it.
func (s *Service) HaulOut(ctx context.Context, a domain.Actor, id uuid.UUID) (HaulOut, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return HaulOut{}, err
	}
	sp, err := s.store.Spell(ctx, a.Practice, id)
	if err != nil {
		return HaulOut{}, err
	}
	lift, end := *first(sp.ActualLift, sp.PlannedLift), first(sp.ActualLaunch, sp.PlannedLaunch)
	span := DiarySpan{From: lift.Add(-aroundVisit), To: lift.Add(far), Vessel: &sp.Vessel.ID, Spell: &id, MovedSince: s.instant().Add(-longest)}
	if end != nil {
		span.To = end.Add(aroundVisit)
	}
	d, err := s.store.Diary(ctx, a.Practice, span, sees(a))
	if err != nil {
		return HaulOut{}, err
	}
	d.judge()
	d.Visits = slices.DeleteFunc(d.Visits, func(v DiaryVisit) bool { return v.SpellID == nil || *v.SpellID != id })
	d.withhold()
	h := HaulOut{Spell: sp, Slot: d.spell(sp), Visits: d.Visits, Moves: d.Moves}
	for k, y := range d.Yards {
		if sp.Yard != nil && y.ID == sp.Yard.ID {
			h.Yard = &d.Yards[k]
			h.Tides = slices.DeleteFunc(d.Tides, func(t Tide) bool { return t.Place != y.TidePlace || !near(t.HighAt, &lift) && !near(t.HighAt, end) })
		}
	}
	return h, nil
}

// near tells whether an instant lies within a day and a half of another.
func near(t time.Time, of *time.Time) bool { return of != nil && t.Sub(*of).Abs() <= aroundVisit }

// withhold leaves of visits that the reader may not see what a board needs to keep others
// out of the way.
func (d *Diary) withhold() {
	for k, v := range d.Visits {
		if !v.Open {
			d.Visits[k] = DiaryVisit{ID: v.ID, From: v.From, To: v.To, TimeZone: v.TimeZone, State: v.State, LeadID: v.LeadID, People: v.People, Instruments: v.Instruments}
		}
	}
}

// judge names what stands against each planned visit.
func (d *Diary) judge() {
	x := d.index()
	for k := range d.Visits {
		if v := &d.Visits[k]; v.State == "planned" {
			v.Checks = x.checks(*v)
		}
	}
}

// diaryIndex finds what belongs together without looking through all of it.
type diaryIndex struct {
	zone        string
	own         ownFigures
	members     map[uuid.UUID]DiaryMember
	spells      map[uuid.UUID]DiarySpell
	yards       map[uuid.UUID]DiaryYard
	hulls       map[uuid.UUID]Hull
	instruments map[uuid.UUID]DiaryInstrument
	leaves      map[uuid.UUID][]Leave
	visits      map[uuid.UUID][]DiaryVisit // by who makes them, called-off ones left out, by their start
	held        map[uuid.UUID][]DiaryVisit // the same by instrument
	tides       map[string][]Tide
	weather     map[string][]Weather
}

func (d *Diary) index() diaryIndex {
	x := diaryIndex{
		zone: d.Practice.TimeZone, own: ownFiguresOf(d.Own), members: by(d.Members, func(m DiaryMember) uuid.UUID { return m.ID }), spells: by(d.Spells, func(s DiarySpell) uuid.UUID { return s.ID }),
		yards: by(d.Yards, func(y DiaryYard) uuid.UUID { return y.ID }), hulls: by(d.Hulls, func(h Hull) uuid.UUID { return h.VesselID }),
		instruments: by(d.Instruments, func(i DiaryInstrument) uuid.UUID { return i.ID }), leaves: map[uuid.UUID][]Leave{},
		visits: map[uuid.UUID][]DiaryVisit{}, held: map[uuid.UUID][]DiaryVisit{}, tides: map[string][]Tide{}, weather: map[string][]Weather{},
	}
	for _, l := range d.Leaves {
		x.leaves[l.MemberID] = append(x.leaves[l.MemberID], l)
	}
	for _, t := range d.Tides {
		x.tides[t.Place] = append(x.tides[t.Place], t)
	}
	for _, w := range d.Weather {
		x.weather[w.Place] = append(x.weather[w.Place], w)
	}
	for _, v := range d.Visits {
		if v.State != "cancelled" {
			for _, who := range v.who() {
				x.visits[who] = append(x.visits[who], v)
			}
			for _, tool := range v.Instruments {
				x.held[tool] = append(x.held[tool], v)
			}
		}
	}
	return x
}

// who makes a visit: its lead and those who go along, each once.
func (v DiaryVisit) who() []uuid.UUID {
	if v.LeadID == nil || slices.Contains(v.People, *v.LeadID) {
		return v.People
	}
	return append(v.People[:len(v.People):len(v.People)], *v.LeadID)
}

func by[K comparable, T any](list []T, key func(T) K) map[K]T {
	out := make(map[K]T, len(list))
	for _, x := range list {
		out[key(x)] = x
	}
	return out
}

// yardOf is the yard of a visit's time ashore; false where none is known.
func (x diaryIndex) yardOf(v DiaryVisit) (DiaryYard, bool) {
	if v.SpellID == nil {
		return DiaryYard{}, false
	}
	s, known := x.spells[*v.SpellID]
	if !known || s.YardID == nil {
		return DiaryYard{}, false
	}
	y, known := x.yards[*s.YardID]
	return y, known
}
