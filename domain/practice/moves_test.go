package practice_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// hauled is a planned time ashore with visits, in a yard's zone.
type hauled struct {
	vessel, job, spell uuid.UUID
	visits             map[string]uuid.UUID // by kind
}

// haul plans a lift and a launch, and visits so many days after the lift at an hour.
func (b *bundle) haul(name, zone string, lift, launch time.Time, visits map[string][2]int) hauled {
	b.t.Helper()
	done, office, lead := must[practice.Done](b.t), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	h := hauled{vessel: b.vessel(b.ours, name), spell: newID(), visits: map[string]uuid.UUID{}}
	spell := ashore(h.vessel, &lift, &launch)
	spell.ID, spell.TimeZone = h.spell, zone
	done(b.AddSpell(b.t.Context(), office, spell))
	job := newJob(h.vessel)
	h.job = job.ID
	done(b.AddJob(b.t.Context(), office, job))
	for kind, when := range visits {
		l := lift.In(practice.Zone(zone))
		from := time.Date(l.Year(), l.Month(), l.Day()+when[0], when[1], 0, 0, 0, practice.Zone(zone))
		h.visits[kind] = newID()
		done(b.PlanVisit(b.t.Context(), office, practice.PlanVisit{
			Mutation: newID(), ID: h.visits[kind], Job: h.job, Spell: &h.spell, Kind: kind, From: from, To: from.Add(time.Hour), TimeZone: zone, Lead: &lead.Member, Overrides: allTheSame("as the yard has it"),
		}))
	}
	return h
}

// A visit that moves with its lift keeps its days ashore and its time of day, in the
// yard's zone, whatever the clocks do between. Changes of the clocks: IANA tz database.
func TestAMoveKeepsDaysAshoreAcrossTheClocks(t *testing.T) {
	t.Parallel()
	b := setup(t) // the practice is in Dublin
	for name, c := range map[string]struct {
		zone                  string
		lift, to              string // day and hour in the yard's zone
		meter, stands, utcNow string // 14 days ashore at ten: where it goes, and in UTC
	}{
		"clocks back in Dublin, 25 October":            {"Europe/Dublin", "2026-10-05 09:00", "2026-10-14 09:00", "2026-10-28 10:00", "2026-10-19 10:00", "2026-10-28T10:00:00Z"},
		"clocks forward in New York, 8 March":          {"America/New_York", "2027-03-05 09:00", "2027-03-11 09:00", "2027-03-25 10:00", "2027-03-19 10:00", "2027-03-25T14:00:00Z"},
		"by half an hour on Lord Howe, 4 October":      {"Australia/Lord_Howe", "2026-09-12 09:00", "2026-09-25 09:00", "2026-10-09 10:00", "2026-09-26 10:00", "2026-10-08T23:00:00Z"},
		"at the date line, where it is tomorrow":       {"Pacific/Kiritimati", "2026-09-01 00:30", "2026-09-10 00:30", "2026-09-24 10:00", "2026-09-15 10:00", "2026-09-23T20:00:00Z"},
		"back over the change in Dublin, to September": {"Europe/Dublin", "2026-10-20 09:00", "2026-09-08 09:00", "2026-09-22 10:00", "2026-11-03 10:00", "2026-09-22T09:00:00Z"},
	} {
		t.Run(name, func(t *testing.T) {
			zone := practice.Zone(c.zone)
			when := func(text string) time.Time {
				return must[time.Time](t)(time.ParseInLocation("2006-01-02 15:04", text, zone))
			}
			lift := when(c.lift)
			h := b.haul(name, c.zone, lift, lift.AddDate(0, 2, 0), map[string][2]int{"meter visit": {14, 10}, "wet look": {0, lift.Hour() + 1}})
			p := must[practice.MovePlan](t)(b.PlanMove(t.Context(), b.ours.of[domain.Office], h.spell, when(c.to), nil))
			if len(p.Lines) != 2 || len(p.Conflicts) != 0 {
				t.Fatalf("%+v", p)
			}
			wet, meter := p.Lines[0], p.Lines[1]
			if !meter.From.Equal(when(c.stands)) || !meter.NewFrom.Equal(when(c.meter)) || meter.NewFrom.UTC().Format(time.RFC3339) != c.utcNow || !strings.Contains(meter.Reason, "14 days ashore") {
				t.Errorf("the meter visit goes from %s to %s: %s", meter.From.In(zone), meter.NewFrom.In(zone), meter.Reason)
			}
			if wet.NewFrom.Sub(when(c.to)) != wet.From.Sub(lift) {
				t.Errorf("the wet look goes to %s, lifted %s", wet.NewFrom.In(zone), when(c.to))
			}
			if got := p.NewLaunch.In(zone).Format("15:04"); got != lift.Format("15:04") {
				t.Errorf("launched at %s", got)
			}
			b.exec(`delete from visit_people where practice_id = $1`, b.ours.id) // the surveyor is free for the next case
		})
	}
}

func TestAMoveIsOneChangeAndIsTakenBackWhole(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	zone := practice.Zone("Europe/Dublin")
	lift := time.Date(2026, 10, 5, 9, 0, 0, 0, zone)
	h := b.haul("Whimbrel", "Europe/Dublin", lift, lift.AddDate(0, 1, 0), map[string][2]int{"wet look": {0, 9}, "meter visit": {9, 9}, "inside": {20, 9}})
	rows := func() string {
		return value[string](b, `select string_agg(x::text, E'\n' order by x::text) from (
			select planned_lift as a, planned_launch as b, id from spells where id = $1
			union all select from_at, to_at, id from visits where spell_id = $1
			union all select lower(during), upper(during), visit_id from visit_people where holds) x`, h.spell)
	}
	before := rows()
	plan := must[practice.MovePlan](t)(b.PlanMove(ctx, office, h.spell, lift.AddDate(0, 0, 9), nil))
	if len(plan.Lines) != 3 || !plan.Lines[0].MustMove || plan.Lines[2].MustMove {
		t.Fatalf("%+v", plan.Lines)
	}
	apply := practice.ApplyMove{Mutation: newID(), ID: newID(), Spell: h.spell, Version: plan.Spell.Version, NewLift: plan.NewLift, NewLaunch: plan.NewLaunch, Reason: "the crane is away"}
	accept := func(lines ...int) []practice.AcceptedLine {
		var out []practice.AcceptedLine
		for _, k := range lines {
			l := plan.Lines[k]
			out = append(out, practice.AcceptedLine{Visit: l.Visit.ID, Version: l.Visit.Version, From: l.NewFrom, To: l.NewTo})
		}
		return out
	}
	// The wet look may not be left before the lift.
	apply.Lines = accept(1, 2)
	_, err := b.ApplyMove(ctx, office, apply)
	want(t, err, domain.Conflict)
	if err != nil && !strings.Contains(err.Error(), "a wet look of 5 October 2026, 09:00") {
		t.Errorf("what would lie outside is not named: %v", err)
	}
	if rows() != before {
		t.Error("something moved although it was refused")
	}
	// The wet look takes the hours that the meter visit leaves; the visit inside stays.
	apply.Lines = accept(0, 1)
	seq := value[int64](b, `select seq from heads where practice_id = $1`, b.ours.id)
	thrice(t, func(ctx2 context.Context) (practice.Done, error) { return b.ApplyMove(ctx2, office, apply) })
	if n := value[int64](b, `select seq from heads where practice_id = $1`, b.ours.id); n != seq+1 {
		t.Errorf("%d changes", n-seq)
	}
	if n := value[int](b, `select count(*) from mails where kind = 'move'`); n != 1 {
		t.Errorf("%d letters, want one", n)
	}
	letter := value[string](b, `select body from mails where kind = 'move'`)
	for _, words := range []string{"14 October 2026, 09:00", "- 23 October 2026, 09:00, was 14 October 2026, 09:00", "the crane is away"} {
		if !strings.Contains(letter, words) {
			t.Errorf("the letter does not say %q:\n%s", words, letter)
		}
	}
	if strings.Contains(letter, "25 October") {
		t.Errorf("the letter speaks of what stayed:\n%s", letter)
	}
	undo := practice.UndoMove{Mutation: newID(), ID: apply.ID}
	thrice(t, func(ctx2 context.Context) (practice.Done, error) { return b.UndoMove(ctx2, office, undo) })
	if after := rows(); after != before {
		t.Errorf("taken back it is\n%s\nbefore it was\n%s", after, before)
	}
	_, err = b.UndoMove(ctx, office, practice.UndoMove{Mutation: newID(), ID: apply.ID})
	want(t, err, domain.Conflict)
	// What was touched since stands in the way.
	again := apply
	again.Mutation, again.ID, again.Version = newID(), newID(), value[int32](b, `select version from spells where id = $1`, h.spell)
	for k := range again.Lines {
		again.Lines[k].Version = value[int32](b, `select version from visits where id = $1`, again.Lines[k].Visit)
	}
	must[practice.Done](t)(b.ApplyMove(ctx, office, again))
	must[practice.Done](t)(b.EditVisit(ctx, lead, practice.EditVisit{Mutation: newID(), ID: again.Lines[0].Visit, Version: again.Lines[0].Version + 1, Note: ptr("bring the long ladder")}))
	_, err = b.UndoMove(ctx, office, practice.UndoMove{Mutation: newID(), ID: again.ID})
	want(t, err, domain.Conflict)
	// A lift that was cannot be moved.
	must[practice.Done](t)(b.EditSpell(ctx, office, practice.EditSpell{Mutation: newID(), ID: h.spell, Version: again.Version + 1, ActualLift: &again.NewLift}))
	again.Mutation, again.ID = newID(), newID()
	_, err = b.ApplyMove(ctx, office, again)
	want(t, err, domain.Conflict)
}
