package practice_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// softly are the checks that may be let pass.
var softly = []string{
	practice.CheckLeave, practice.CheckDistance, practice.CheckWaiting, practice.CheckTide, practice.CheckCompetence, practice.CheckInstrument,
	practice.CheckAsked, practice.CheckWeather, practice.CheckWash,
}

// allTheSame lets everything pass that may be let pass.
func allTheSame(reason string) (list []practice.Override) {
	for _, code := range softly {
		list = append(list, practice.Override{Code: code, Reason: reason})
	}
	return list
}

// conflict is something that stands against a visit on a day.
type conflict struct {
	code string
	says string
	make func(b *bundle, in *practice.PlanVisit)
}

// Soft conflicts are let pass with a reason and not without one, whoever asks: the rule is
// the service's and no form's.
func TestNothingIsLetPassWithoutAReason(t *testing.T) {
	t.Parallel()
	at := func(day, hour int) time.Time { return time.Date(2026, 6, day, hour, 0, 0, 0, time.UTC) }
	for _, c := range []conflict{
		{practice.CheckLeave, "is away from", func(b *bundle, in *practice.PlanVisit) {
			must[practice.Done](b.t)(b.AddLeave(b.t.Context(), b.ours.of[domain.Office], practice.AddLeave{Mutation: newID(), Leave: practice.Leave{ID: newID(), MemberID: *in.Lead, From: at(19, 0), To: at(22, 0)}}))
		}},
		{practice.CheckDistance, "the same day", func(b *bundle, in *practice.PlanVisit) {
			far := b.haul("Gannet", "Europe/Dublin", at(2, 9), at(28, 9), nil)
			yard := b.yard(b.ours, "Far yard")
			b.exec(`update spells set yard_id = $2 where id = $1`, far.spell, yard)
			b.exec(`insert into yards (practice_id, party_id, latitude_e6, longitude_e6) select practice_id, yard_id, case when yard_id = $1 then 38921389 else 48836389 end, 2337222 from spells where yard_id is not null`, yard)
			other := practice.PlanVisit{Mutation: newID(), ID: newID(), Job: far.job, Spell: &far.spell, Kind: "other", From: at(20, 15), To: at(20, 16), TimeZone: "Europe/Dublin", Lead: in.Lead}
			must[practice.Done](b.t)(b.PlanVisit(b.t.Context(), b.ours.of[domain.Office], other))
		}},
		{practice.CheckWaiting, "Readings would be worth taking from", func(_ *bundle, in *practice.PlanVisit) {
			in.Kind, in.From, in.To = "meter visit", at(2, 12), at(2, 14)
		}},
		{practice.CheckTide, "from the nearest high water", func(b *bundle, in *practice.PlanVisit) {
			in.Kind, in.From, in.To = "wet look", at(2, 10), at(2, 11)
			b.exec(`insert into yards (practice_id, party_id, tide_place, tide_within_minutes) select practice_id, yard_id, 'Skerrow', 30 from spells where yard_id is not null`)
			must[practice.Done](b.t)(b.AddTides(b.t.Context(), b.ours.of[domain.Office], practice.AddTides{Mutation: newID(), Place: "Skerrow", Source: "harbour table", Times: []time.Time{at(2, 13)}}))
		}},
		{practice.CheckCompetence, "only for valuation", func(b *bundle, in *practice.PlanVisit) {
			must[practice.Done](b.t)(b.SetCompetences(b.t.Context(), b.ours.of[domain.Office], practice.SetCompetences{Mutation: newID(), Member: *in.Lead, Kinds: []string{"valuation"}}))
		}},
		{practice.CheckInstrument, "was retired on", func(b *bundle, in *practice.PlanVisit) {
			id := newID()
			must[practice.Done](b.t)(b.AddInstrument(b.t.Context(), b.ours.of[domain.Office], practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: id, Name: "Skerrow deep No. 2", Kind: "capacitance"}}))
			b.exec(`update instruments set retired_on = '2026-04-01' where id = $1`, id)
			in.Instruments = []uuid.UUID{id}
		}},
		{practice.CheckAsked, "has not yet agreed", func(b *bundle, _ *practice.PlanVisit) {
			b.exec(`update spells set asked_only = true where practice_id = $1`, b.ours.id)
		}},
		{practice.CheckWeather, "of rain on", func(b *bundle, in *practice.PlanVisit) {
			in.Kind = "meter visit"
			must[practice.Done](b.t)(b.RecordWeather(b.t.Context(), b.ours.of[domain.Office], practice.RecordWeather{Mutation: newID(), ID: newID(), Place: "Skerrow yard", At: at(18, 12), RainMm: ptr[int16](9), Source: "the yard's gauge"}))
		}},
		{practice.CheckWash, "She is washed on", func(b *bundle, in *practice.PlanVisit) {
			in.Kind = "meter visit"
			must[practice.Done](b.t)(b.DescribeSlot(b.t.Context(), b.ours.of[domain.Office], practice.DescribeSlot{Mutation: newID(), Spell: *in.Spell, WashAt: ptr(at(17, 9))}))
		}},
	} {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			b := setup(t)
			office := b.ours.of[domain.Office]
			h := b.haul("Petrel", "Europe/Dublin", at(2, 9), at(28, 9), nil)
			b.exec(`update spells set yard_id = $2 where id = $1`, h.spell, b.yard(b.ours, "Skerrow yard"))
			lead := b.ours.of[domain.Surveyor].Member
			in := practice.PlanVisit{Mutation: newID(), ID: newID(), Job: h.job, Spell: &h.spell, Kind: "other", From: at(20, 9), To: at(20, 11), TimeZone: "Europe/Dublin", Lead: &lead}
			c.make(b, &in)
			plan := func(list ...practice.Override) error {
				in.Mutation, in.Overrides = newID(), list
				_, err := b.PlanVisit(t.Context(), office, in)
				return err
			}
			err := plan()
			want(t, err, domain.Conflict, "overrides")
			if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), c.code) {
				t.Errorf("it does not say what stands against it, and what to do: %v", err)
			}
			want(t, plan(practice.Override{Code: c.code, Reason: "  "}), domain.Invalid, "reason")
			for _, other := range softly {
				if other != c.code {
					want(t, plan(practice.Override{Code: other, Reason: "beside the point"}), domain.Conflict, "overrides")
					break
				}
			}
			if n := value[int](b, `select count(*) from visits where id = $1`, in.ID); n != 0 {
				t.Fatal("a refused visit is kept")
			}
			want(t, plan(practice.Override{Code: c.code, Reason: "the client insists"}), domain.Internal)
			said := value[string](b, `select reason || ', ' || m.name from visit_overrides o join members m on m.id = o.by_id where visit_id = $1 and code = $2`, in.ID, c.code)
			if said != "the client insists, The office" {
				t.Errorf("kept: %q", said)
			}
			// It is moved by an hour: the reason stands. A visit without one may not be moved either.
			move := func() error {
				v := value[int32](b, `select version from visits where id = $1`, in.ID)
				_, err := b.EditVisit(t.Context(), office, practice.EditVisit{Mutation: newID(), ID: in.ID, Version: v, To: ptr(in.To.Add(10 * time.Minute))})
				return err
			}
			want(t, move(), domain.Internal)
			b.exec(`delete from visit_overrides where visit_id = $1`, in.ID)
			want(t, move(), domain.Conflict, "overrides")
			v := value[int32](b, `select version from visits where id = $1`, in.ID)
			_, err = b.EditVisit(t.Context(), office, practice.EditVisit{Mutation: newID(), ID: in.ID, Version: v, Note: ptr("bring the long ladder")})
			want(t, err, domain.Internal)
		})
	}
}

// A visit that was is written down as it was: nobody gives reasons for the past.
func TestThePastIsAskedForNoReasons(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	in := s.planned(newID(), b.ours.of[domain.Surveyor].Member)
	in.From, in.To, in.Overrides = in.From.AddDate(0, 0, -6), in.To.AddDate(0, 0, -6), nil // a meter visit on the day after the lift
	must[practice.Done](t)(b.PlanVisit(t.Context(), b.ours.of[domain.Office], in))
}

// What a move brings upon its visits is let pass with the move's reason, for as long as the
// move lasts.
func TestAMoveGivesItsReason(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	lift := time.Date(2026, 6, 2, 9, 0, 0, 0, time.UTC)
	h := b.haul("Petrel", "Europe/Dublin", lift, lift.AddDate(0, 0, 40), map[string][2]int{"meter visit": {10, 10}})
	b.exec(`delete from visit_overrides where practice_id = $1`, b.ours.id)
	meter := h.visits["meter visit"]
	stands := func() string {
		var list []string
		for _, c := range must[[]practice.Check](t)(b.VisitChecks(t.Context(), office, meter)) {
			if !c.Suggestion {
				list = append(list, c.Code+":"+c.Passed)
			}
		}
		return fmt.Sprint(list)
	}
	if got := stands(); got != "[]" {
		t.Fatalf("before the move: %s", got)
	}
	// The lift goes nine days on, the visit stays where it is: a day ashore, too soon to read.
	in := practice.ApplyMove{ID: newID(), Spell: h.spell, Version: 1, NewLift: lift.AddDate(0, 0, 9), NewLaunch: ptr(lift.AddDate(0, 0, 49))}
	apply := func(reason string) error {
		in.Mutation, in.Reason = newID(), reason
		_, err := b.ApplyMove(t.Context(), office, in)
		return err
	}
	err := apply(" ")
	want(t, err, domain.Conflict, "reason")
	if err == nil || !strings.Contains(err.Error(), "Readings would be worth taking from") {
		t.Errorf("it does not say what stands against it: %v", err)
	}
	want(t, apply("the crane is away"), domain.Internal)
	if got := stands(); got != "[waiting-time:the crane is away]" {
		t.Errorf("after the move: %s", got)
	}
	must[practice.Done](t)(b.UndoMove(t.Context(), office, practice.UndoMove{Mutation: newID(), ID: in.ID}))
	if got := stands(); got != "[]" {
		t.Errorf("taken back: %s", got)
	}
	b.exec(`update visits set from_at = $2::timestamptz, to_at = $2::timestamptz + interval '1 hour' where id = $1`, meter, lift.AddDate(0, 0, 1))
	if got := stands(); got != "[waiting-time:]" {
		t.Errorf("the reason of a move that was taken back still counts: %s", got)
	}
}

// Ties of interest are let pass by a person with a reason, and by nobody without one.
func TestTiesAreLetPassWithAReason(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel := b.vessel(b.ours, "Petrel")
	owner, buyer := b.party(b.ours, "Ada Skerry"), b.party(b.ours, "Bo Rasmus")
	earlier := newJob(petrel)
	earlier.Client = &owner
	must[practice.Done](t)(b.AddJob(t.Context(), office, earlier))
	id := newID()
	must[practice.Done](t)(b.AddEnquiry(t.Context(), office, practice.AddEnquiry{Mutation: newID(), ID: id, Client: &buyer, Vessel: &petrel, Kind: "pre-purchase"}))
	decide := func(note string) error {
		_, err := b.DecideConflict(t.Context(), office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 1, Decision: "go on", Note: note})
		return err
	}
	want(t, decide(" "), domain.Invalid, "note")
	want(t, decide("both were told and agree"), domain.Internal)
	if by := value[string](b, `select m.name from engagements e join members m on m.id = e.conflict_checked_by where e.id = $1`, id); by != "The office" {
		t.Errorf("decided by %q", by)
	}
}
