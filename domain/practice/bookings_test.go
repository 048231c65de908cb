package practice_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// The surveyor and the instrument of a visit are in one place at a time, and whoever asks
// is told where they are, unless the job is none of his or hers.
func TestNobodyIsInTwoPlaces(t *testing.T) {
	t.Parallel()
	b := setup(t)
	petrel, gannet := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
	office, lead, trainee := b.ours.of[domain.Office], b.ours.of[domain.Surveyor].Member, b.ours.of[domain.Trainee].Member
	plan := func(change func(*practice.PlanVisit)) error {
		in := gannet.planned(newID(), trainee)
		change(&in)
		_, err := b.PlanVisit(t.Context(), office, in)
		return err
	}
	says := func(err error, field, text string) {
		t.Helper()
		want(t, err, domain.Conflict, field)
		if err != nil && !strings.Contains(err.Error(), text) {
			t.Errorf("got %v, want it to say %q", err, text)
		}
	}
	says(plan(func(v *practice.PlanVisit) { v.Lead = &lead }), "lead", "The surveyor is taken from 8 April 2026, 10:00 to 13:00: a meter visit of Petrel (2026-001).")
	says(plan(func(v *practice.PlanVisit) { v.People = []uuid.UUID{lead} }), "lead", "The surveyor is taken")
	noon := time.Date(2026, 4, 8, 12, 0, 0, 0, time.UTC)
	next := newID()
	want(t, plan(func(v *practice.PlanVisit) { // begins as the other ends
		v.ID, v.Lead, v.From, v.To, v.Instruments = next, &lead, noon, noon.Add(time.Hour), []uuid.UUID{gannet.instrument}
	}), domain.Internal)
	says(plan(func(v *practice.PlanVisit) {
		v.From, v.To, v.Instruments = noon.Add(-time.Hour), noon.Add(time.Minute), []uuid.UUID{gannet.instrument}
	}), "instruments", "Skerrow deep No. 2 is taken from 8 April 2026, 13:00 to 14:00")

	// Called off it holds nobody; planned again it holds whom it had, if they are still free.
	edit := func(in practice.EditVisit) error {
		in.Mutation, in.ID = newID(), next
		_, err := b.EditVisit(t.Context(), office, in)
		return err
	}
	want(t, edit(practice.EditVisit{Version: 1, State: ptr("cancelled")}), domain.Internal)
	want(t, plan(func(v *practice.PlanVisit) {
		v.From, v.To, v.Instruments = noon, noon.Add(time.Hour), []uuid.UUID{gannet.instrument}
	}), domain.Internal)
	says(edit(practice.EditVisit{Version: 2, State: ptr("planned")}), "instruments", "Skerrow deep No. 2")
	want(t, edit(practice.EditVisit{Version: 2, State: ptr("planned"), Instruments: &[]uuid.UUID{}}), domain.Internal)

	// What is written down after it has been takes nobody's time.
	past := noon.AddDate(0, 0, -3)
	for range 2 {
		want(t, plan(func(v *practice.PlanVisit) { v.Spell, v.Lead, v.From, v.To = nil, &lead, past, past.Add(time.Hour) }), domain.Internal)
	}

	// A restricted job is not told of.
	b.exec(`update jobs set restricted = true where id = $1`, petrel.job)
	err := plan(func(v *practice.PlanVisit) { v.Lead = &lead })
	says(err, "lead", "on another job")
	if strings.Contains(err.Error(), "Petrel") {
		t.Errorf("the restricted job is given away: %v", err)
	}
}

func TestAPlannedVisitLiesInItsTimeAshore(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel") // ashore since 1 April, noon; a visit on the 8th from nine to noon
	office := b.ours.of[domain.Office]
	b.leave(b.ours, s.job, "lift")
	later := ashore(s.vessel, at(20), at(24))
	b.exec(`update spells set actual_launch = $2 where id = $1`, s.spell, at(15))
	must[practice.Done](t)(b.AddSpell(t.Context(), office, later))
	plan := func(from time.Time, hours int) error {
		in := s.planned(newID(), b.ours.of[domain.Trainee].Member)
		in.Spell, in.From, in.To = &later.ID, from, from.Add(time.Duration(hours)*time.Hour)
		_, err := b.PlanVisit(t.Context(), office, in)
		return err
	}
	want(t, plan(at(20).Add(-time.Hour), 1), domain.Conflict, "from")
	want(t, plan(at(24).Add(-time.Hour), 2), domain.Conflict, "from")
	want(t, plan(*at(20), 1), domain.Internal)
	if err := plan(*at(26), 1); err == nil || !strings.Contains(err.Error(), "from 20 April 2026, 13:00 to 24 April 2026, 13:00") {
		t.Errorf("the time ashore is not named: %v", err)
	}
	move := func(in practice.EditSpell) error {
		in.Mutation, in.ID, in.Version = newID(), later.ID, value[int32](b, `select version from spells where id = $1`, later.ID)
		_, err := b.EditSpell(t.Context(), office, in)
		return err
	}
	err := move(practice.EditSpell{PlannedLift: at(21)})
	want(t, err, domain.Conflict)
	if err != nil && !strings.Contains(err.Error(), "a meter visit of 20 April 2026, 13:00 (2026-001)") {
		t.Errorf("the visit is not named: %v", err)
	}
	want(t, move(practice.EditSpell{Cancelled: ptr(true)}), domain.Conflict)
	want(t, move(practice.EditSpell{PlannedLift: at(19)}), domain.Internal)
	want(t, move(practice.EditSpell{ActualLift: ptr(at(20).Add(2 * time.Hour))}), domain.Internal) // a late crane on the day
	want(t, move(practice.EditSpell{ActualLift: at(21)}), domain.Conflict)                         // but not a day late
	// The database judges whoever goes past the use cases.
	for name, sql := range map[string]string{
		"visits_stay_in_spell": `update visits set from_at = from_at - interval '30 days' where practice_id = $1 and spell_id = $2`,
		"spells_keep_visits":   `update spells set actual_lift = null, planned_lift = planned_lift + interval '3 days' where practice_id = $1 and id = $2`,
	} {
		_, err := b.owner.Exec(t.Context(), sql, b.ours.id, later.ID)
		if err == nil || !strings.Contains(err.Error(), "outside") {
			t.Errorf("%s let it pass: %v", name, err)
		}
	}
}
