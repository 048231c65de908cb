package practice_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest"
)

// office is somebody who does anything with the diary, in any order.
type sequence struct {
	*bundle
	zone    string    // of the yards
	from    time.Time // the first of the forty days that it plans in
	chance  *rand.Rand
	actor   domain.Actor
	vessels []uuid.UUID
	jobs    map[uuid.UUID]uuid.UUID // by vessel
	people  []uuid.UUID
	tools   []uuid.UUID
	spells  []uuid.UUID
	visits  map[uuid.UUID]planned // as last accepted
	leaves  []uuid.UUID
	counts  map[string]int
}

// planned is what a visit was given, as far as it must not be lost.
type planned struct {
	people, tools  []uuid.UUID
	follows, spell *uuid.UUID
}

// judgement is what the database says of the diary; each query counts what may not be.
var judgement = map[string]string{
	"somebody in two places": `select count(*) from visit_people a join visit_people b on b.practice_id = a.practice_id and b.member_id = a.member_id and b.visit_id > a.visit_id
		join visits x on x.id = a.visit_id join visits y on y.id = b.visit_id
		where x.state <> 'cancelled' and y.state <> 'cancelled' and x.from_at < y.to_at and y.from_at < x.to_at`,
	"an instrument in two places": `select count(*) from visit_instruments a join visit_instruments b on b.practice_id = a.practice_id and b.instrument_id = a.instrument_id and b.visit_id > a.visit_id
		join visits x on x.id = a.visit_id join visits y on y.id = b.visit_id
		where x.state <> 'cancelled' and y.state <> 'cancelled' and x.from_at < y.to_at and y.from_at < x.to_at`,
	"a visit outside its time ashore": `select count(*) from visits w join spells s on s.id = w.spell_id
		where w.state = 'planned' and (s.cancelled_at is not null or w.from_at < s.planned_lift or w.to_at > s.planned_launch)`,
	"times ashore that overlap": `select count(*) from spells a join spells b on b.vessel_id = a.vessel_id and b.id > a.id
		where a.cancelled_at is null and b.cancelled_at is null and a.planned_lift < coalesce(b.planned_launch, 'infinity') and b.planned_lift < coalesce(a.planned_launch, 'infinity')`,
	"a visit whose hours are not those held": `select count(*) from visits w join visit_people o on o.visit_id = w.id where o.during <> tstzrange(w.from_at, w.to_at) or o.holds <> (w.state <> 'cancelled')`,
	"a lead who is not held":                 `select count(*) from visits w where w.lead_id is not null and not exists (select from visit_people o where o.visit_id = w.id and o.member_id = w.lead_id)`,
}

func (s *sequence) judge() {
	s.t.Helper()
	for what, sql := range judgement {
		if n := value[int](s.bundle, sql); n != 0 {
			s.t.Fatalf("%d times %s", n, what)
		}
	}
	for id, p := range s.visits {
		people := value[[]uuid.UUID](s.bundle, `select coalesce(array_agg(member_id order by member_id), '{}') from visit_people where visit_id = $1`, id)
		tools := value[[]uuid.UUID](s.bundle, `select coalesce(array_agg(instrument_id order by instrument_id), '{}') from visit_instruments where visit_id = $1`, id)
		for _, who := range p.people {
			if !slices.Contains(people, who) {
				s.t.Fatalf("a visit lost somebody")
			}
		}
		if !slices.Equal(tools, p.tools) {
			s.t.Fatalf("a visit has instruments %v, was given %v", tools, p.tools)
		}
		if follows := value[*uuid.UUID](s.bundle, `select follows_visit_id from visits where id = $1`, id); p.follows != nil && (follows == nil || *follows != *p.follows) {
			s.t.Fatalf("a visit lost the one it waits for")
		}
		if spell := value[*uuid.UUID](s.bundle, `select spell_id from visits where id = $1`, id); p.spell != nil && (spell == nil || *spell != *p.spell) {
			s.t.Fatalf("a visit lost its time ashore")
		}
	}
}

// explained fails where a visit that is still to be made has something against it without a reason.
func (s *sequence) explained(visit uuid.UUID) {
	s.t.Helper()
	if value[time.Time](s.bundle, `select to_at from visits where id = $1`, visit).Before(s.clock.now()) {
		return
	}
	for _, c := range must[[]practice.Check](s.t)(s.VisitChecks(s.t.Context(), s.actor, visit)) {
		if !c.Suggestion && c.Passed == "" {
			s.t.Fatalf("a visit was kept with this against it and no reason: %s", c.Text)
		}
	}
}

// why is a reason, most of the time.
func (s *sequence) why() string {
	if s.chance.IntN(6) == 0 {
		return ""
	}
	return "the crane is away"
}

func pick[T any](s *sequence, list []T) T { return list[s.chance.IntN(len(list))] }

// some picks up to n of a list, each once, sorted.
func (s *sequence) some(list []uuid.UUID, n int) []uuid.UUID {
	out := []uuid.UUID{}
	for range s.chance.IntN(n + 1) {
		if x := pick(s, list); !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	slices.SortFunc(out, func(a, b uuid.UUID) int { return strings.Compare(a.String(), b.String()) })
	return out
}

// hour is an hour of the yard's clock within forty days.
func (s *sequence) hour() time.Time {
	return time.Date(s.from.Year(), s.from.Month(), s.from.Day()+s.chance.IntN(40), s.chance.IntN(17), 0, 0, 0, practice.Zone(s.zone))
}

func (s *sequence) visit() (uuid.UUID, bool) {
	ids := slices.SortedFunc(maps.Keys(s.visits), func(a, b uuid.UUID) int { return strings.Compare(a.String(), b.String()) })
	if len(ids) == 0 {
		return uuid.Nil, false
	}
	return pick(s, ids), true
}

func (s *sequence) version(table string, id uuid.UUID) int32 {
	return value[int32](s.bundle, `select version from `+table+` where id = $1`, id)
}

// took counts how an act ended: kept, or refused in a way that a person understands.
func (s *sequence) took(what string, err error) bool {
	s.t.Helper()
	switch kind := domain.KindOf(err); {
	case err == nil:
		s.counts[what]++
	case kind == domain.Conflict || kind == domain.Invalid:
		s.counts[what+" refused"]++
	default:
		s.t.Fatalf("%s: %v", what, err)
	}
	return err == nil
}

func (s *sequence) addSpell() {
	lift := s.hour()
	in := ashore(pick(s, s.vessels), &lift, ptr(lift.AddDate(0, 0, 4+s.chance.IntN(14))))
	in.TimeZone = s.zone
	if _, err := s.AddSpell(s.t.Context(), s.actor, in); s.took("spell", err) {
		s.spells = append(s.spells, in.ID)
	}
}

func (s *sequence) editSpell() {
	if len(s.spells) == 0 {
		return
	}
	in := practice.EditSpell{Mutation: newID(), ID: pick(s, s.spells)}
	in.Version = s.version("spells", in.ID)
	switch s.chance.IntN(3) {
	case 0:
		in.PlannedLift = ptr(s.hour())
	case 1:
		in.PlannedLaunch = ptr(s.hour())
	case 2:
		in.Cancelled = ptr(s.chance.IntN(2) == 0)
	}
	_, err := s.EditSpell(s.t.Context(), s.actor, in)
	s.took("spell changed", err)
}

func (s *sequence) plan() {
	vessel := pick(s, s.vessels)
	in := practice.PlanVisit{Mutation: newID(), ID: newID(), Job: s.jobs[vessel], Kind: "meter visit", TimeZone: s.zone, From: s.hour(), People: s.some(s.people, 2), Instruments: s.some(s.tools, 2)}
	in.To = in.From.Add(time.Duration(1+s.chance.IntN(5)) * time.Hour)
	if s.chance.IntN(5) > 0 {
		in.Lead = ptr(pick(s, s.people))
	}
	if len(s.spells) > 0 && s.chance.IntN(4) > 0 {
		in.Spell = ptr(pick(s, s.spells))
	}
	if s.chance.IntN(8) > 0 {
		in.Overrides = allTheSame("as it comes")
	}
	if s.chance.IntN(2) == 0 {
		in.Follows = s.before(in.Job, in.From)
	}
	if _, err := s.PlanVisit(s.t.Context(), s.actor, in); s.took("visit", err) {
		s.visits[in.ID] = planned{in.People, in.Instruments, in.Follows, in.Spell}
		if in.Follows != nil {
			s.counts["visit that waits"]++
		}
		s.explained(in.ID)
	}
}

// before is the last visit of a job before an hour: another may wait for it.
func (s *sequence) before(job uuid.UUID, at time.Time) *uuid.UUID {
	return value[*uuid.UUID](s.bundle, `select (select id from visits where job_id = $1 and from_at < $2 order by from_at desc limit 1)`, job, at)
}

func (s *sequence) edit() {
	id, there := s.visit()
	if !there {
		return
	}
	in := practice.EditVisit{Mutation: newID(), ID: id, Version: s.version("visits", id)}
	p := s.visits[id]
	switch s.chance.IntN(6) {
	case 0, 1:
		in.From = ptr(s.hour())
		in.To = ptr(in.From.Add(time.Duration(1+s.chance.IntN(5)) * time.Hour))
	case 2:
		in.State = ptr(pick(s, []string{"planned", "cancelled", "done"}))
	case 3:
		in.Lead = ptr(pick(s, s.people))
	case 4:
		p.people = s.some(s.people, 2)
		in.People = &p.people
	case 5:
		p.tools = s.some(s.tools, 2)
		in.Instruments = &p.tools
	}
	before := value[*uuid.UUID](s.bundle, `select lead_id from visits where id = $1`, id)
	if _, err := s.EditVisit(s.t.Context(), s.actor, in); s.took("visit changed", err) {
		if in.Lead != nil && before != nil && *in.Lead != *before { // who led it goes
			p.people = slices.DeleteFunc(slices.Clone(p.people), func(x uuid.UUID) bool { return x == *before })
		}
		s.visits[id] = p
	}
}

// leave lets somebody go away or come back; nothing hard hangs on it.
func (s *sequence) leave() {
	if len(s.leaves) > 0 && s.chance.IntN(2) == 0 {
		id := s.leaves[0]
		s.leaves = s.leaves[1:]
		_, err := s.EndLeave(s.t.Context(), s.actor, practice.EndLeave{Mutation: newID(), ID: id})
		s.took("leave ended", err)
		return
	}
	from := s.hour()
	l := practice.Leave{ID: newID(), MemberID: pick(s, s.people), From: from, To: from.AddDate(0, 0, 3)}
	if _, err := s.AddLeave(s.t.Context(), s.actor, practice.AddLeave{Mutation: newID(), Leave: l}); s.took("leave", err) {
		s.leaves = append(s.leaves, l.ID)
	}
}

// ashore is an hour of a planned time ashore, most often; else any.
func (s *sequence) ashore(spell uuid.UUID) time.Time {
	if s.chance.IntN(4) == 0 {
		return s.hour()
	}
	lift := value[time.Time](s.bundle, `select planned_lift from spells where id = $1`, spell)
	launch := value[time.Time](s.bundle, `select planned_launch from spells where id = $1`, spell)
	return lift.Add(time.Duration(s.chance.Int64N(int64(launch.Sub(lift)/time.Hour)+1)) * time.Hour)
}

// slot lets the yard do something in a time ashore, or nothing any more.
func (s *sequence) slot() {
	if len(s.spells) == 0 {
		return
	}
	in := practice.DescribeSlot{Mutation: newID(), Spell: pick(s, s.spells), Pays: "the owner"}
	for _, at := range []**time.Time{&in.WashAt, &in.ChockAt, &in.ShiftAt} {
		if s.chance.IntN(2) == 0 {
			*at = ptr(s.ashore(in.Spell))
		}
	}
	_, err := s.DescribeSlot(s.t.Context(), s.actor, in)
	s.took("slot", err)
}

// wash moves the wash with some of what follows, and often takes it back at once.
func (s *sequence) wash() {
	if len(s.spells) == 0 {
		return
	}
	spell := pick(s, s.spells)
	at := s.ashore(spell)
	plan, err := s.PlanWash(s.t.Context(), s.actor, spell, at)
	if err != nil {
		s.t.Fatal(err)
	}
	in := practice.ApplyWash{Mutation: newID(), ID: newID(), Spell: spell, NewWash: at, Lines: s.accept(plan), Reason: s.why()}
	before := s.diary()
	if _, err = s.ApplyWash(s.t.Context(), s.actor, in); !s.took("wash", err) {
		if s.diary() != before {
			s.t.Fatal("a refused wash changed something")
		}
		return
	}
	s.judge()
	s.takeBack(in.ID, before)
}

// accept takes most lines of a plan.
func (s *sequence) accept(plan practice.MovePlan) (lines []practice.AcceptedLine) {
	for _, l := range plan.Lines {
		if s.chance.IntN(4) > 0 {
			lines = append(lines, practice.AcceptedLine{Visit: l.Visit.ID, Version: l.Visit.Version, From: l.NewFrom, To: l.NewTo})
		}
	}
	return lines
}

// takeBack takes a move back, every other time: then all is as it was, to the last hour.
// What lay outside the time ashore already, where she was lifted later than planned, is not
// put back there; then nothing changes at all.
func (s *sequence) takeBack(move uuid.UUID, before string) {
	if s.chance.IntN(2) == 0 {
		return
	}
	moved := s.diary()
	if _, err := s.UndoMove(s.t.Context(), s.actor, practice.UndoMove{Mutation: newID(), ID: move}); !s.took("move taken back", err) {
		if !strings.Contains(err.Error(), "lies outside the time ashore") {
			s.t.Fatalf("a move could not be taken back at once: %v", err)
		}
		if s.diary() != moved {
			s.t.Fatal("a move that was not taken back changed something")
		}
		return
	}
	if after := s.diary(); after != before {
		s.t.Fatalf("taken back it is\n%s\nbefore it was\n%s", after, before)
	}
}

// diary is all that a move may change, but for versions.
func (s *sequence) diary() string {
	return value[string](s.bundle, `select coalesce(string_agg(x, E'\n' order by x), '') from (
		select concat_ws(' ', id, planned_lift, planned_launch, cancelled_at, during) as x from spells
		union all select concat_ws(' ', id, spell_id, from_at, to_at, state, lead_id, follows_visit_id) from visits
		union all select concat_ws(' ', visit_id, member_id, during, holds) from visit_people
		union all select concat_ws(' ', spell_id, wash_at, chock_at, shift_at, pays) from slots where coalesce(wash_at, chock_at, shift_at) is not null
		union all select concat_ws(' ', visit_id, instrument_id, during, holds) from visit_instruments) y`)
}

// move moves a lift with some of what hangs on it, and often takes it back at once: then
// all is as it was, to the last hour.
func (s *sequence) move() {
	if len(s.spells) == 0 {
		return
	}
	spell := pick(s, s.spells)
	plan, err := s.PlanMove(s.t.Context(), s.actor, spell, s.hour(), nil)
	if err != nil {
		s.t.Fatal(err)
	}
	in := practice.ApplyMove{Mutation: newID(), ID: newID(), Spell: spell, Version: s.version("spells", spell), NewLift: plan.NewLift, NewLaunch: plan.NewLaunch, Lines: s.accept(plan), Reason: s.why()}
	for _, l := range plan.Slot {
		if s.chance.IntN(5) > 0 {
			in.Slot = append(in.Slot, practice.AcceptedSlot{What: l.What, At: l.NewAt})
		}
	}
	before := s.diary()
	if _, err = s.ApplyMove(s.t.Context(), s.actor, in); !s.took("move", err) {
		if s.diary() != before {
			s.t.Fatal("a refused move changed something")
		}
		return
	}
	s.judge()
	s.takeBack(in.ID, before)
}

// Any sequence of bookings, moves, leaves and cancellations keeps what the diary
// promises, with the database as judge: about changes of the clocks in three zones, one of
// them of half an hour, and at the date line. Changes of the clocks: IANA tz database.
func TestAnySequenceKeepsTheDiarysPromises(t *testing.T) {
	t.Parallel()
	came := map[string]int{}
	for zone, from := range map[string]time.Time{
		"Europe/Dublin":       time.Date(2026, 10, 5, 0, 0, 0, 0, time.UTC), // back on 25 October
		"America/New_York":    time.Date(2027, 2, 16, 0, 0, 0, 0, time.UTC), // forward on 14 March
		"Australia/Lord_Howe": time.Date(2026, 9, 14, 0, 0, 0, 0, time.UTC), // forward by half an hour on 4 October
		"Pacific/Kiritimati":  time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC),  // where it is tomorrow
	} {
		seed := rand.Uint64N(1_000_000)
		t.Run(fmt.Sprintf("%s, seed %d", zone, seed), func(t *testing.T) {
			b := setup(t)
			s := &sequence{bundle: b, zone: zone, from: from, chance: rand.New(rand.NewPCG(seed, 17)), actor: b.ours.of[domain.Principal], jobs: map[uuid.UUID]uuid.UUID{}, visits: map[uuid.UUID]planned{}, counts: map[string]int{}}
			for k := range 4 {
				v := b.vessel(b.ours, fmt.Sprintf("Boat %d", k))
				s.vessels, s.jobs[v] = append(s.vessels, v), b.job(b.ours, v, false)
				b.leave(b.ours, s.jobs[v], "lift")
			}
			for range 3 {
				s.people = append(s.people, b.member(b.ours, domain.Surveyor).Member)
				id := newID()
				must[practice.Done](t)(b.AddInstrument(t.Context(), s.actor, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: id, Name: "Skerrow deep", Kind: "capacitance"}}))
				s.tools = append(s.tools, id)
			}
			acts := []func(){s.addSpell, s.editSpell, s.plan, s.plan, s.plan, s.edit, s.edit, s.leave, s.slot, s.wash, s.wash, s.move, s.move}
			for range 180 {
				pick(s, acts)()
				s.judge()
			}
			for what, n := range s.counts {
				came[what] += n
			}
			t.Log(s.counts)
		})
		if storetest.OneConnection() {
			return // where only connections are asked about (promise D2), one will do
		}
	}
	// One of the four may miss one of these by chance, all of them hardly ever.
	for _, must := range []string{"spell", "visit", "visit that waits", "visit refused", "visit changed", "move", "move taken back", "wash", "slot", "leave"} {
		if came[must] == 0 {
			t.Errorf("it never came to %q: %v", must, came)
		}
	}
}
