package practice_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// told is a haul-out of a client's boat at a yard, both with an address.
func (b *bundle) told(lift time.Time) (h hauled, client, yard uuid.UUID) {
	b.t.Helper()
	zone := "Europe/Dublin"
	h = b.haul("Whimbrel", zone, lift, lift.AddDate(0, 1, 0), map[string][2]int{"wet look": {0, 10}, "meter visit": {9, 9}})
	yard, client = b.yard(b.ours, "Quay yard"), newID()
	must[practice.Done](b.t)(b.AddParty(b.t.Context(), b.ours.of[domain.Office], practice.AddParty{Mutation: newID(), Party: practice.Party{ID: client, Kind: "person", Name: "Ulla Knot", Email: "ulla@knot.example"}}))
	b.exec(`update parties set email = 'crane@quay.example' where id = $1`, yard)
	b.exec(`update spells set yard_id = $2 where id = $1`, h.spell, yard)
	b.exec(`update jobs set client_id = $2 where id = $1`, h.job, client)
	return h, client, yard
}

func letters(b *bundle, kind string) []string {
	return value[[]string](b, `select coalesce(array_agg(recipient || E'\n' || body order by created_at, id), '{}') from mails where kind = $1`, kind)
}

// A lift that moves takes wash and chocks along, tells client and yard once each, and is
// taken back with all of it.
func TestAMoveTellsClientAndYardOnce(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	lift := time.Date(2026, 10, 5, 9, 0, 0, 0, practice.Zone("Europe/Dublin"))
	h, _, _ := b.told(lift)
	must[practice.Done](t)(b.DescribeSlot(ctx, office, practice.DescribeSlot{Mutation: newID(), Spell: h.spell, WashAt: ptr(lift.Add(time.Hour)), ChockAt: ptr(lift.AddDate(0, 0, 1)), Pays: "the owner"}))
	slot := func() string {
		return value[string](b, `select concat_ws(' ', wash_at, chock_at, shift_at, pays) from slots where spell_id = $1`, h.spell)
	}
	before := slot()
	plan := must[practice.MovePlan](t)(b.PlanMove(ctx, office, h.spell, lift.AddDate(0, 0, 9).Add(2*time.Hour), nil))
	if len(plan.Slot) != 2 || !plan.Slot[0].NewAt.Equal(lift.AddDate(0, 0, 9).Add(3*time.Hour)) || !plan.Slot[1].NewAt.Equal(lift.AddDate(0, 0, 10)) || !plan.Slot[0].MustMove {
		t.Fatalf("%+v", plan.Slot)
	}
	in := practice.ApplyMove{Mutation: newID(), ID: newID(), Spell: h.spell, Version: plan.Spell.Version, NewLift: plan.NewLift, NewLaunch: plan.NewLaunch, Reason: "quarrel with the crane", TellClient: true, TellYard: true}
	for _, l := range plan.Lines {
		in.Lines = append(in.Lines, practice.AcceptedLine{Visit: l.Visit.ID, Version: l.Visit.Version, From: l.NewFrom, To: l.NewTo})
	}
	_, err := b.ApplyMove(ctx, office, in) // the wash would be left before the lift
	want(t, err, domain.Invalid, "washAt")
	for _, l := range plan.Slot {
		in.Slot = append(in.Slot, practice.AcceptedSlot{What: l.What, At: l.NewAt})
	}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ApplyMove(ctx, office, in) })
	client, yard := letters(b, "move to client"), letters(b, "move to yard")
	if len(client) != 1 || len(yard) != 1 {
		t.Fatalf("%d letters to the client, %d to the yard", len(client), len(yard))
	}
	says := func(letter string, words ...string) {
		t.Helper()
		for _, w := range words {
			if !strings.Contains(letter, w) {
				t.Errorf("not said: %q in\n%s", w, letter)
			}
		}
	}
	says(client[0], "ulla@knot.example", "the lift of Whimbrel is now planned for 14 October 2026, 11:00 at Quay yard", "It was planned for 5 October 2026, 09:00", "- 23 October 2026, 09:00, was 14 October 2026, 09:00", "(Europe/Dublin)")
	says(yard[0], "crane@quay.example", "is now planned for 14 October 2026, 11:00", "The wash: 14 October 2026, 12:00, was 5 October 2026, 10:00.", "The chocking: 15 October 2026, 09:00")
	for _, secret := range []string{"Ulla", "23 October", "quarrel", "2026-001"} {
		if strings.Contains(yard[0], secret) || secret == "quarrel" && strings.Contains(client[0], secret) {
			t.Errorf("a letter tells of %q:\n%s\n%s", secret, yard[0], client[0])
		}
	}
	undo := newID()
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.UndoMove(ctx, office, practice.UndoMove{Mutation: undo, ID: in.ID})
	})
	if after := slot(); after != before {
		t.Errorf("taken back the slot is %s, before %s", after, before)
	}
	if client := letters(b, "move to client"); len(client) != 2 {
		t.Errorf("%d letters to the client once it is taken back", len(client))
	} else {
		says(client[1], "is now planned for 5 October 2026, 09:00", "It was planned for 14 October 2026, 11:00", "- 14 October 2026, 09:00, was 23 October 2026, 09:00")
	}
	if d := must[practice.Diary](t)(b.Board(ctx, office, lift.AddDate(0, 0, -1), lift.AddDate(0, 0, 20))); len(d.Moves) != 0 {
		t.Errorf("a move that was taken back is still listed: %+v", d.Moves)
	}
}

// Nobody outside is written to unless that was asked for, nor twice at one address.
func TestAMoveWritesToNobodyUnasked(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	lift := time.Date(2026, 10, 5, 9, 0, 0, 0, practice.Zone("Europe/Dublin"))
	h, client, yard := b.told(lift)
	move := func(days int, change func(*practice.ApplyMove)) {
		plan := must[practice.MovePlan](t)(b.PlanMove(ctx, office, h.spell, lift.AddDate(0, 0, days), nil))
		in := practice.ApplyMove{Mutation: newID(), ID: newID(), Spell: h.spell, Version: plan.Spell.Version, NewLift: plan.NewLift, NewLaunch: plan.NewLaunch}
		for _, l := range plan.Lines {
			in.Lines = append(in.Lines, practice.AcceptedLine{Visit: l.Visit.ID, Version: l.Visit.Version, From: l.NewFrom, To: l.NewTo})
		}
		change(&in)
		must[practice.Done](t)(b.ApplyMove(ctx, office, in))
	}
	count := func() [2]int { return [2]int{len(letters(b, "move to client")), len(letters(b, "move to yard"))} }
	move(1, func(*practice.ApplyMove) {})
	if n := count(); n != [2]int{} {
		t.Errorf("unasked: %v letters", n)
	}
	move(2, func(in *practice.ApplyMove) { in.TellYard = true })
	if n := count(); n != [2]int{0, 1} {
		t.Errorf("the yard alone: %v letters", n)
	}
	b.exec(`update parties set email = 'Ulla@Knot.example' where id = $1`, yard)
	move(3, func(in *practice.ApplyMove) { in.TellClient, in.TellYard = true, true })
	if n := count(); n != [2]int{1, 1} {
		t.Errorf("both at one address: %v letters", n)
	}
	b.exec(`update parties set email = '' where id = any($1)`, []uuid.UUID{client, yard})
	move(4, func(in *practice.ApplyMove) { in.TellClient, in.TellYard = true, true })
	if n := count(); n != [2]int{1, 1} {
		t.Errorf("with no address: %v letters", n)
	}
	d := must[practice.Diary](t)(b.Board(ctx, office, lift.AddDate(0, 0, -1), lift.AddDate(0, 0, 20)))
	if len(d.Moves) != 4 || d.Moves[0].VesselName != "Whimbrel" || d.Moves[0].Visits != 2 || !d.Moves[0].FromAfter.Equal(lift.AddDate(0, 0, 4)) {
		t.Errorf("listed: %+v", d.Moves)
	}
}

// A wash that moves takes the readings after it along, a week away from it, and leaves
// those that stood before it before it. The week: trade notes, shallow signal after rain or
// washing, computed.
func TestAWashThatMovesProposesWhatFollows(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	where := practice.Zone("Europe/Dublin")
	lift := time.Date(2026, 10, 5, 9, 0, 0, 0, where)
	on := func(day, hour int) time.Time { return time.Date(2026, 10, day, hour, 0, 0, 0, where) }
	h := b.haul("Whimbrel", "Europe/Dublin", lift, lift.AddDate(0, 2, 0), map[string][2]int{"wet look": {0, 10}, "repeat readings": {8, 9}, "meter visit": {20, 9}})
	wash := practice.DescribeSlot{Mutation: newID(), Spell: h.spell, WashAt: ptr(on(14, 14))}
	must[practice.Done](t)(b.DescribeSlot(ctx, office, wash))
	line := func(p practice.MovePlan, kind string) practice.MoveLine {
		for _, l := range p.Lines {
			if l.Visit.Kind == kind {
				return l
			}
		}
		return practice.MoveLine{}
	}
	for name, c := range map[string]struct {
		to            time.Time
		meter, repeat time.Time // zero: stays
	}{
		"later: keeps its days after it, across the clocks": {on(20, 14), on(31, 9), time.Time{}},
		"earlier, over the reading before it":               {on(12, 14), on(23, 9), on(11, 9)},
		"on the day of the lift she is wet anyhow":          {on(5, 14), on(16, 9), on(4, 9)},
	} {
		p := must[practice.MovePlan](t)(b.PlanWash(ctx, office, h.spell, c.to))
		if got := line(p, "meter visit").NewFrom; !got.Equal(c.meter) {
			t.Errorf("%s: the meter visit goes to %s", name, got.In(where))
		}
		if got := line(p, "repeat readings").NewFrom; !got.Equal(c.repeat) {
			t.Errorf("%s: the readings before go to %s", name, got.In(where))
		}
		if line(p, "wet look").Reason != "" {
			t.Errorf("%s: the wet look hangs on no wash", name)
		}
	}
	// Readings that are left too near are named, on the board as in the plan.
	b.exec(`update slots set wash_at = null where spell_id = $1`, h.spell)
	p := must[practice.MovePlan](t)(b.PlanWash(ctx, office, h.spell, on(21, 14)))
	if l := line(p, "meter visit"); !l.NewFrom.Equal(on(28, 9)) || !strings.Contains(l.Reason, "about a week") {
		t.Errorf("a new wash: %+v", l)
	}
	apply := practice.ApplyWash{Mutation: newID(), ID: newID(), Spell: h.spell, NewWash: on(21, 14)}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ApplyWash(ctx, office, apply) })
	d := must[practice.Diary](t)(b.Board(ctx, office, lift, lift.AddDate(0, 1, 0)))
	if c := texts(d, h.visits["meter visit"])[practice.CheckWash]; !strings.Contains(c.Text, "21 October 2026, 14:00") || !strings.Contains(c.Text, "28 October 2026, 08:00") {
		t.Errorf("left too near: %+v", c)
	}
	if len(d.Moves) != 1 || d.Moves[0].What != practice.MoveWash || d.Moves[0].FromBefore != nil {
		t.Errorf("listed: %+v", d.Moves)
	}
	must[practice.Done](t)(b.UndoMove(ctx, office, practice.UndoMove{Mutation: newID(), ID: apply.ID}))
	if n := value[int](b, `select count(*) from slots where wash_at is not null`); n != 0 {
		t.Error("the wash stays although it was taken back")
	}
	again := apply
	again.Mutation, again.ID = newID(), newID()
	again.Lines = []practice.AcceptedLine{{Visit: h.visits["meter visit"], Version: 1, From: on(28, 9), To: on(28, 10)}}
	must[practice.Done](t)(b.ApplyWash(ctx, office, again))
	if n := len(letters(b, "move")); n != 1 {
		t.Errorf("%d letters to the surveyor", n)
	}
	wash.Mutation, wash.WashAt = newID(), ptr(on(22, 14))
	must[practice.Done](t)(b.DescribeSlot(ctx, office, wash))
	_, err := b.UndoMove(ctx, office, practice.UndoMove{Mutation: newID(), ID: again.ID})
	want(t, err, domain.Conflict)
	again.Mutation, again.ID, again.NewWash = newID(), newID(), lift.Add(-time.Hour)
	_, err = b.ApplyWash(ctx, office, again)
	want(t, err, domain.Invalid, "washAt")
}

// Before a visit is kept the form is told, of each surveyor and each instrument, what the
// database would refuse, what may be let pass, and what suggests itself.
func TestFitTellsHardFromSoft(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
	ctx, office := t.Context(), b.ours.of[domain.Office]
	lead, trainee := b.ours.of[domain.Surveyor].Member, b.ours.of[domain.Trainee].Member
	b.exec(`update visits set state = 'done' where id = $1`, s.visit)
	busy := other.planned(newID(), lead)
	busy.From, busy.To, busy.Instruments = *at(12), at(12).Add(3*time.Hour), []uuid.UUID{s.instrument}
	must[practice.Done](t)(b.PlanVisit(ctx, office, busy))
	must[practice.Done](t)(b.AddLeave(ctx, office, practice.AddLeave{Mutation: newID(), Leave: practice.Leave{ID: newID(), MemberID: trainee, From: *at(11), To: *at(13)}}))
	in := practice.FitVisit{Job: s.job, Spell: &s.spell, Kind: "meter visit", From: at(12).Add(time.Hour), To: at(12).Add(2 * time.Hour), TimeZone: "Europe/Dublin"}
	f := must[practice.Fit](t)(b.FitVisit(ctx, office, in))
	of := func(f practice.Fit, who uuid.UUID) practice.SurveyorFit {
		for _, x := range f.Surveyors {
			if x.Member.ID == who {
				return x
			}
		}
		t.Fatal("somebody is missing")
		return practice.SurveyorFit{}
	}
	code := func(list []practice.Check, code string) bool {
		for _, c := range list {
			if c.Code == code {
				return true
			}
		}
		return false
	}
	if x := of(f, lead); !code(x.Hard, "taken") || !strings.Contains(x.Hard[0].Text, "a meter visit of Gannet") || !code(x.Thoughts, practice.SuggestContinuity) {
		t.Errorf("who is taken: %+v", x)
	}
	if x := of(f, trainee); len(x.Hard) > 0 || !code(x.Soft, practice.CheckLeave) || !code(x.Thoughts, practice.SuggestSecondEyes) {
		t.Errorf("who is away: %+v", x)
	}
	for _, i := range f.Instruments {
		if i.Instrument.ID == s.instrument && !code(i.Hard, "taken") {
			t.Errorf("the instrument is elsewhere: %+v", i)
		}
	}
	// Its own hours do not stand in its way.
	in.Job, in.Visit, in.Spell = other.job, &busy.ID, &other.spell
	if x := of(must[practice.Fit](t)(b.FitVisit(ctx, office, in)), lead); len(x.Hard) > 0 {
		t.Errorf("it stands in its own way: %+v", x)
	}
	// Where a restricted job takes somebody is not told, neither as a conflict nor as a thought.
	near, far := b.yard(b.ours, "Quay yard"), b.yard(b.ours, "Far yard")
	b.exec(`insert into yards (practice_id, party_id, latitude_e6, longitude_e6) values ($1, $2, 51900000, -11400000), ($1, $3, 53900000, -11400000)`, b.ours.id, near, far)
	b.exec(`update spells set yard_id = case when id = $1 then $2::uuid else $3::uuid end where id in ($1, $4)`, s.spell, near, far, other.spell)
	ask := practice.FitVisit{Job: s.job, Spell: &s.spell, Kind: "meter visit", From: at(12).Add(4 * time.Hour), To: at(12).Add(5 * time.Hour), TimeZone: "Europe/Dublin"}
	if x := of(must[practice.Fit](t)(b.FitVisit(ctx, office, ask)), lead); len(x.Soft) != 1 || !strings.Contains(x.Soft[0].Text, "is at Far yard the same day, 222 km away") {
		t.Errorf("far away the same day: %+v", x.Soft)
	}
	b.exec(`update jobs set restricted = true where id = $1`, other.job)
	b.exec(`delete from job_access where job_id = $1`, other.job)
	x := of(must[practice.Fit](t)(b.FitVisit(ctx, office, ask)), lead)
	for _, c := range slices.Concat(x.Hard, x.Soft, x.Thoughts) {
		if strings.Contains(c.Text, "Far yard") || strings.Contains(c.Text, "Gannet") {
			t.Errorf("a restricted job is given away: %s", c.Text)
		}
	}
	if len(x.Soft) != 1 || !strings.Contains(x.Soft[0].Text, "is on another job the same day, 222 km away") {
		t.Errorf("far away for a restricted job: %+v", x.Soft)
	}
	b.exec(`update jobs set restricted = false where id = $1`, other.job)
	in.From, in.To = at(1).AddDate(0, -1, 0), at(1).AddDate(0, -1, 0).Add(time.Hour)
	if f := must[practice.Fit](t)(b.FitVisit(ctx, office, in)); !code(f.Hard, "outside") {
		t.Errorf("before the lift: %+v", f.Hard)
	}
	if h := must[practice.HaulOut](t)(b.HaulOut(ctx, office, other.spell)); len(h.Visits) < 2 || h.Slot.ID != other.spell {
		t.Errorf("the haul-out: %+v", h)
	}
}

// A move is not taken back into a time ashore that no longer holds what it moved.
func TestAMoveIsNotTakenBackOutOfTheTimeAshore(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	lift := time.Date(2026, 10, 5, 9, 0, 0, 0, practice.Zone("Europe/Dublin"))
	h := b.haul("Whimbrel", "Europe/Dublin", lift, lift.AddDate(0, 2, 0), nil)
	must[practice.Done](t)(b.DescribeSlot(ctx, office, practice.DescribeSlot{Mutation: newID(), Spell: h.spell, WashAt: ptr(lift.AddDate(0, 0, 2))}))
	wash := practice.ApplyWash{Mutation: newID(), ID: newID(), Spell: h.spell, NewWash: lift.AddDate(0, 0, 12)}
	must[practice.Done](t)(b.ApplyWash(ctx, office, wash))
	later := practice.ApplyMove{Mutation: newID(), ID: newID(), Spell: h.spell, Version: 1, NewLift: lift.AddDate(0, 0, 8), NewLaunch: ptr(lift.AddDate(0, 2, 0))}
	must[practice.Done](t)(b.ApplyMove(ctx, office, later))
	undo := func(move uuid.UUID) error {
		_, err := b.UndoMove(ctx, office, practice.UndoMove{Mutation: newID(), ID: move})
		return err
	}
	want(t, undo(wash.ID), domain.Conflict) // it would stand six days before the lift
	if at := value[time.Time](b, `select wash_at from slots where spell_id = $1`, h.spell); !at.Equal(wash.NewWash) {
		t.Errorf("the wash stands at %s", at)
	}
	want(t, undo(later.ID), domain.Internal)
	want(t, undo(wash.ID), domain.Internal)
}
