package practice_test

import (
	"context"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// yard adds a yard as the database's owner.
func (b *bundle) yard(h house, name string) uuid.UUID {
	b.t.Helper()
	id := newID()
	b.exec(`insert into parties (practice_id, id, kind, name, is_yard, created_at) values ($1, $2, 'organisation', $3, true, $4)`, h.id, id, name, b.clock.now())
	return id
}

// at is an instant in April 2026 at noon, UTC.
func at(day int) *time.Time { return ptr(time.Date(2026, 4, day, 12, 0, 0, 0, time.UTC)) }

func ashore(vessel uuid.UUID, lift, launch *time.Time) practice.AddSpell {
	return practice.AddSpell{
		Mutation: newID(), ID: newID(), Vessel: vessel, TimeZone: "Europe/Dublin", PlannedLift: lift, PlannedLaunch: launch, DatePrecision: "instant",
	}
}

func TestSpellsStandApart(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel, gannet := b.vessel(b.ours, "Petrel"), b.vessel(b.ours, "Gannet")
	add := func(in practice.AddSpell) error { _, err := b.AddSpell(t.Context(), office, in); return err }
	first := ashore(petrel, at(1), at(10))
	want(t, add(first), domain.Internal)
	want(t, add(ashore(petrel, at(9), at(12))), domain.Conflict, "plannedLift")
	want(t, add(ashore(petrel, at(5), nil)), domain.Conflict)
	want(t, add(ashore(gannet, at(5), at(7))), domain.Internal)   // another vessel
	want(t, add(ashore(petrel, at(10), at(12))), domain.Internal) // lifted as she is launched
	_, err := b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: first.ID, Version: 1, PlannedLaunch: at(11)})
	want(t, err, domain.Conflict)
	_, err = b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: first.ID, Version: 1, Cancelled: ptr(true)})
	want(t, err, domain.Internal)
	want(t, add(ashore(petrel, at(5), at(8))), domain.Internal) // the first was called off
	_, err = b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: first.ID, Version: 2, Cancelled: ptr(false)})
	want(t, err, domain.Conflict)
}

func TestASpellNeedsTimesThatCanBe(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel := b.vessel(b.ours, "Petrel")
	for name, c := range map[string]struct {
		change func(*practice.AddSpell)
		field  string
	}{
		"no lift":               {func(s *practice.AddSpell) { s.PlannedLift = nil }, "plannedLift"},
		"launched before":       {func(s *practice.AddSpell) { s.PlannedLaunch = at(1) }, "plannedLaunch"},
		"launched at once":      {func(s *practice.AddSpell) { s.PlannedLaunch = at(2) }, "plannedLaunch"},
		"launched, not lifted":  {func(s *practice.AddSpell) { s.ActualLaunch = at(4) }, "actualLift"},
		"no zone":               {func(s *practice.AddSpell) { s.TimeZone = "Local" }, "timeZone"},
		"an unknown zone":       {func(s *practice.AddSpell) { s.TimeZone = "Atlantis/Main" }, "timeZone"},
		"held by hope":          {func(s *practice.AddSpell) { s.Held = "hope" }, "held"},
		"a yard that is none":   {func(s *practice.AddSpell) { s.Yard = ptr(b.party(b.ours, "Ines Skerry")) }, "yard"},
		"an unknown precision":  {func(s *practice.AddSpell) { s.DatePrecision = "about" }, "datePrecision"},
		"an id that is not new": {func(s *practice.AddSpell) { s.ID = uuid.New() }, "id"},
	} {
		in := ashore(petrel, at(2), at(9))
		c.change(&in)
		_, err := b.AddSpell(t.Context(), office, in)
		if domain.KindOf(err) != domain.Invalid {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want(t, err, domain.Invalid, c.field)
	}
}

func TestASpellIsKeptOnceAndReadBack(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel, yard := b.vessel(b.ours, "Petrel"), b.yard(b.ours, "Skerrow yard")
	in := ashore(petrel, at(1), at(20))
	in.Yard, in.Held, in.ActualLift, in.WashedAt = &yard, "cradle", at(2), at(2)
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddSpell(ctx, office, in) })
	s := must[practice.Spell](t)(b.Spell(t.Context(), office, in.ID))
	if s.Vessel.Name != "Petrel" || s.Yard == nil || s.Yard.Name != "Skerrow yard" || !s.ActualLift.Equal(*at(2)) || s.Held != "cradle" || s.Version != 1 {
		t.Errorf("read back %+v", s)
	}
	if s.Vessel.Yard != "Skerrow yard" || s.Vessel.LiftedAt == nil {
		t.Errorf("the vessel's line does not know where she stands: %+v", s.Vessel)
	}
	_, err := b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: in.ID, Version: 1, ActualLaunch: at(19), Notes: ptr("antifouled")})
	want(t, err, domain.Internal)
	_, err = b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: in.ID, Version: 1, Notes: ptr("late")})
	want(t, err, domain.Conflict)
	_, err = b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: in.ID, Version: 2, Cancelled: ptr(true)})
	want(t, err, domain.Invalid, "cancelled")
	if s = must[practice.Spell](t)(b.Spell(t.Context(), office, in.ID)); s.Vessel.LiftedAt != nil || s.Notes != "antifouled" {
		t.Errorf("launched, she still stands ashore: %+v", s)
	}
}

func TestSpellsTouchASpanOfTime(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	for name, of := range map[string][2]*time.Time{"early": {at(1), at(5)}, "long": {at(3), nil}, "late": {at(12), at(14)}} {
		_, err := b.AddSpell(t.Context(), office, ashore(b.vessel(b.ours, name), of[0], of[1]))
		want(t, err, domain.Internal)
	}
	_, err := b.AddSpell(t.Context(), b.theirs.of[domain.Office], ashore(b.vessel(b.theirs, "theirs"), at(1), nil))
	want(t, err, domain.Internal)
	names := func(from, to int) (out []string) {
		for _, s := range must[[]practice.Spell](t)(b.Spells(t.Context(), office, *at(from), *at(to))) {
			out = append(out, s.Vessel.Name)
		}
		return out
	}
	for _, c := range []struct {
		from, to int
		want     []string
	}{{1, 2, []string{"early"}}, {4, 6, []string{"early", "long"}}, {5, 12, []string{"long"}}, {5, 13, []string{"long", "late"}}} {
		if got := names(c.from, c.to); !equalText(got, c.want) {
			t.Errorf("from %d to %d: %v, want %v", c.from, c.to, got, c.want)
		}
	}
	_, err = b.Spells(t.Context(), office, *at(2), *at(1))
	want(t, err, domain.Invalid, "to")
	_, err = b.Spells(t.Context(), office, at(2).AddDate(-2, 0, 0), *at(1))
	want(t, err, domain.Invalid, "to")
}

func equalText(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range a {
		if a[k] != b[k] {
			return false
		}
	}
	return true
}

func TestAnotherPracticesSpellIsNotThere(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ours, theirs := b.ours.of[domain.Office], b.theirs.of[domain.Office]
	in := ashore(b.vessel(b.theirs, "theirs"), at(1), nil)
	_, err := b.AddSpell(t.Context(), theirs, in)
	want(t, err, domain.Internal)
	_, err = b.Spell(t.Context(), ours, in.ID)
	want(t, err, domain.NotFound)
	_, err = b.EditSpell(t.Context(), ours, practice.EditSpell{Mutation: newID(), ID: in.ID, Version: 1, Notes: ptr("x")})
	want(t, err, domain.NotFound)
	other := ashore(in.Vessel, at(1), nil)
	_, err = b.AddSpell(t.Context(), ours, other)
	want(t, err, domain.NotFound)
	mine := ashore(b.vessel(b.ours, "ours"), at(1), nil)
	mine.Yard = ptr(b.yard(b.theirs, "their yard"))
	_, err = b.AddSpell(t.Context(), ours, mine)
	want(t, err, domain.NotFound)
	_, err = b.AddSpell(t.Context(), b.ours.of[domain.Trainee], ashore(b.vessel(b.ours, "x"), at(1), nil))
	want(t, err, domain.Forbidden)
	_, err = b.AddSpell(t.Context(), domain.Actor{}, ashore(in.Vessel, at(1), nil))
	want(t, err, domain.Unauthenticated)
}
