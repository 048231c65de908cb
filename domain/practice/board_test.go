package practice_test

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// trips counts how often a connection is asked something.
type trips struct{ n atomic.Int64 }

func (t *trips) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	t.n.Add(1)
	return ctx
}
func (t *trips) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}
func (t *trips) TraceBatchStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	t.n.Add(1)
	return ctx
}
func (t *trips) TraceBatchQuery(context.Context, *pgx.Conn, pgx.TraceBatchQueryData) {}
func (t *trips) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData)     {}

// season fills a practice with so many people, yards and visits, spread over a year from
// the first of a month, as the database's owner.
func season(t testing.TB, owner *pgx.Conn, practice uuid.UUID, people, visits int, from time.Time) {
	t.Helper()
	_, err := owner.Exec(t.Context(), `
with m as (insert into members (practice_id, id, account_id, name, roles) select $1, gen_random_uuid(), gen_random_uuid(), 'Surveyor ' || k, '{surveyor}' from generate_series(1, $2) k returning id),
     y as (insert into parties (practice_id, id, kind, name, is_yard, created_at) select $1, gen_random_uuid(), 'organisation', 'Yard ' || k, true, $4 from generate_series(1, 12) k returning id),
     v as (insert into vessels (practice_id, id, name, created_at) select $1, gen_random_uuid(), 'Boat ' || k, $4 from generate_series(1, $3 / 2) k returning id, name),
     n as (select id, row_number() over (order by name) - 1 as k from v),
     s as (insert into spells (practice_id, id, vessel_id, yard_id, time_zone, planned_lift, planned_launch)
           select $1, gen_random_uuid(), n.id, (array(select id from y))[1 + n.k % 12], 'Europe/Dublin', $4::timestamptz + (n.k * 365.0 / ($3 / 2)) * interval '1 day', $4::timestamptz + (20 + n.k * 365.0 / ($3 / 2)) * interval '1 day' from n returning id, vessel_id, planned_lift),
     j as (insert into jobs (practice_id, id, vessel_id, number, kind, created_at) select $1, gen_random_uuid(), n.id, '2026-' || n.k, 'limited moisture', $4 from n returning id, vessel_id),
     w as (insert into visits (practice_id, id, job_id, spell_id, kind, from_at, to_at, time_zone, lead_id)
           select $1, gen_random_uuid(), j.id, s.id, case p when 0 then 'wet look' else 'meter visit' end, s.planned_lift + p * interval '6 days', s.planned_lift + p * interval '6 days' + interval '1 hour', 'Europe/Dublin', null
             from j join s on s.vessel_id = j.vessel_id cross join generate_series(0, 1) p returning id, from_at, to_at),
     r as (select id, from_at, to_at, row_number() over (order by from_at, id) as k from w)
insert into visit_people (practice_id, visit_id, member_id, during) select $1, r.id, (array(select id from m))[1 + r.k % $2], tstzrange(r.from_at, r.to_at) from r`, practice, people, visits, from)
	if err != nil {
		t.Fatal(err)
	}
}

// A week of a practice of forty costs one trip, and so does one of a practice of one.
func TestTheBoardIsOneTripWhateverItHolds(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	count := &trips{}
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 1, Tracer: count})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	owner, service := db.Connect(t, db.OwnerURL), practice.New(s)
	from := time.Date(2026, 9, 1, 8, 0, 0, 0, time.UTC)
	for people, visits := range map[int]int{1: 20, 40: 1000} {
		w, members := story.Begin(t, s, owner, service, nil, fmt.Sprintf("Of %d", people))
		season(t, owner, w.Practice, people, visits, from)
		week := func() practice.Diary {
			return must[practice.Diary](t)(service.Board(t.Context(), members[domain.Office], from.AddDate(0, 1, 0), from.AddDate(0, 1, 7)))
		}
		week() // prepares the statements
		before := count.n.Load()
		d := week()
		if n := count.n.Load() - before; n != 1 {
			t.Errorf("a week of %d people took %d trips", people, n)
		}
		if people == 40 && (len(d.Visits) < 15 || len(d.Spells) < 20 || len(d.Members) < 40) {
			t.Errorf("the week holds %d visits, %d times ashore, %d people", len(d.Visits), len(d.Spells), len(d.Members))
		}
	}
}

// BenchmarkBoard reads a week of 40 people out of 5,000 visits a year.
func BenchmarkBoard(b *testing.B) {
	x := setup(b)
	from := time.Date(2026, 5, 1, 8, 0, 0, 0, time.UTC)
	season(b, x.owner, x.ours.id, 40, 5000, from)
	for name, days := range map[string]int{"week": 7, "season": 120} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				must[practice.Diary](b)(x.Board(b.Context(), x.ours.of[domain.Office], from.AddDate(0, 3, 0), from.AddDate(0, 3, days)))
			}
		})
	}
}

// texts are the checks of one visit on a board, by code.
func texts(d practice.Diary, visit uuid.UUID) map[string]practice.Check {
	out := map[string]practice.Check{}
	for _, v := range d.Visits {
		if v.ID == visit {
			for _, c := range v.Checks {
				out[c.Code] = c
			}
		}
	}
	return out
}

// What may be let pass is named with its figures, and keeps its reason.
func TestWhatStandsAgainstAVisitIsNamed(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	done := must[practice.Done](t)
	s := b.survey(b.ours, "Petrel")
	near, far := b.yard(b.ours, "Quay yard"), b.yard(b.ours, "Far yard")
	// Paris Observatory and the U.S. Naval Observatory, 6181.63 km apart on the ellipsoid:
	// Meeus, Astronomical Algorithms, 2nd ed., example 11.c (figures from memory).
	b.exec(`insert into yards (practice_id, party_id, latitude_e6, longitude_e6, tide_place, tide_within_minutes) values ($1, $2, 48836389, 2337222, 'Skerrow', 60), ($1, $3, 38921389, -77065556, '', 120)`, b.ours.id, near, far)
	ortho := newID()
	b.exec(`insert into layers (practice_id, id, element_id, kind, what) values ($1, $2, $3, 'construction', 'single skin, ortho resin')`, b.ours.id, ortho, s.element)
	b.exec(`update spells set actual_launch = $2 where id = $1`, s.spell, at(10))
	spell := ashore(s.vessel, at(20), at(30))
	spell.Yard, spell.AskedOnly = &near, true
	done(b.AddSpell(ctx, office, spell))
	other := ashore(b.vessel(b.ours, "Gannet"), at(19), at(29))
	other.Yard = &far
	done(b.AddSpell(ctx, office, other))
	job := newJob(other.Vessel)
	done(b.AddJob(ctx, office, job))
	plan := func(job, spell uuid.UUID, kind string, day, hour int, change func(*practice.PlanVisit)) uuid.UUID {
		in := practice.PlanVisit{Mutation: newID(), ID: newID(), Job: job, Spell: &spell, Kind: kind, From: at(day).Add(time.Duration(hour) * time.Hour), To: at(day).Add(time.Duration(hour+1) * time.Hour), TimeZone: "Europe/Dublin", Lead: &lead.Member}
		in.Overrides = allTheSame("she sails again")
		if change != nil {
			change(&in)
		}
		done(b.PlanVisit(ctx, office, in))
		return in.ID
	}
	wet, meter := plan(s.job, spell.ID, "wet look", 20, 0, nil), plan(s.job, spell.ID, "meter visit", 24, 0, func(v *practice.PlanVisit) { v.Instruments = []uuid.UUID{s.instrument} })
	plan(job.ID, other.ID, "other", 24, 3, func(v *practice.PlanVisit) { v.Overrides = allTheSame("a long day") })
	b.exec(`delete from visit_overrides where practice_id = $1`, b.ours.id) // written by an older program, which asked for no reason
	done(b.AddLeave(ctx, office, practice.AddLeave{Mutation: newID(), Leave: practice.Leave{ID: newID(), MemberID: lead.Member, From: *at(23), To: *at(25), Reason: "an operation"}}))
	done(b.SetCompetences(ctx, office, practice.SetCompetences{Mutation: newID(), Member: lead.Member, Kinds: []string{"valuation"}}))
	done(b.AddTides(ctx, office, practice.AddTides{Mutation: newID(), Place: "Skerrow", Source: "harbour table", Times: []time.Time{at(20).Add(-3 * time.Hour)}}))
	done(b.RecordWeather(ctx, office, practice.RecordWeather{Mutation: newID(), ID: newID(), Place: "Quay yard", At: *at(23), RainMm: ptr[int16](12), Source: "the yard's gauge"}))
	b.exec(`update instruments set retired_on = '2026-04-01' where id = $1`, s.instrument)

	board := func() practice.Diary { return must[practice.Diary](t)(b.Board(ctx, office, *at(17), *at(28))) }
	d := board()
	for code, words := range map[string]string{
		practice.CheckLeave:      "The surveyor is away from 23 April 2026, 13:00 to 25 April 2026, 13:00.",
		practice.CheckDistance:   "The surveyor is at Far yard the same day, 6166 km away",
		practice.CheckWaiting:    "Ortho resin: about a month ashore, better a series over three to four weeks, judged by its course. Readings would be worth taking from 18 May 2026, 08:00.",
		practice.CheckCompetence: "not noted for jobs of kind limited moisture, only for valuation",
		practice.CheckInstrument: "was retired on 1 April 2026",
		practice.CheckAsked:      "Quay yard has not yet agreed to the lift of 20 April 2026, 13:00.",
		practice.CheckWeather:    "12 mm of rain on 23 April (the yard's gauge)",
	} {
		if c := texts(d, meter)[code]; !strings.Contains(c.Text, words) || c.Tag == "" || c.Passed != "" {
			t.Errorf("%s: %+v", code, c)
		}
	}
	if c := texts(d, wet)[practice.CheckTide]; !strings.Contains(c.Text, "3 h 00 min from the nearest high water known at Skerrow") || !strings.Contains(c.Tag, "harbour table") {
		t.Errorf("the tide: %+v", c)
	}
	done(b.OverrideCheck(ctx, office, practice.OverrideCheck{Mutation: newID(), Visit: meter, Override: practice.Override{Code: practice.CheckLeave, Reason: "comes back for it"}}))
	if c := texts(board(), meter)[practice.CheckLeave]; c.Passed != "comes back for it" {
		t.Errorf("let pass: %+v", c)
	}
	for _, bad := range []practice.Override{{Code: "taken", Reason: "please"}, {Code: practice.CheckLeave, Reason: " "}} {
		_, err := b.OverrideCheck(ctx, office, practice.OverrideCheck{Mutation: newID(), Visit: meter, Override: bad})
		want(t, err, domain.Invalid)
	}
	// That somebody is away is everybody's who plans; why is for her and a principal alone.
	for who, reason := range map[domain.Role]string{domain.Surveyor: "an operation", domain.Principal: "an operation", domain.Office: "", domain.Trainee: ""} {
		if l := must[practice.Diary](t)(b.Board(ctx, b.ours.of[who], *at(17), *at(28))).Leaves; len(l) != 1 || l[0].MemberID != lead.Member || l[0].Reason != reason {
			t.Errorf("%s reads of a leave: %+v", who, l)
		}
	}
	// Of a job that is not the reader's own, the board tells the hours alone.
	b.exec(`update jobs set restricted = true where id = $1`, s.job)
	b.exec(`delete from job_access where job_id = $1`, s.job)
	for _, v := range board().Visits {
		if v.ID == meter && (v.Open || v.VesselName != "" || v.JobNumber != "" || len(v.Checks) > 0 || len(v.People) != 1) {
			t.Errorf("a restricted job on the board: %+v", v)
		}
	}
	_, err := b.Board(ctx, b.ours.of[domain.Guest], *at(1), *at(8))
	want(t, err, domain.Forbidden)
}

// Continuity and a second pair of eyes are thoughts that pull in two directions.
func TestWhoWentBeforeIsSuggested(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office, lead, trainee := b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Trainee]
	b.exec(`update visits set state = 'done' where id = $1`, s.visit)
	for who, code := range map[uuid.UUID]string{lead.Member: practice.SuggestSecondEyes, trainee.Member: practice.SuggestContinuity} {
		in := s.planned(newID(), who)
		in.From, in.To = in.From.AddDate(0, 0, 20), in.To.AddDate(0, 0, 20)
		must[practice.Done](t)(b.PlanVisit(t.Context(), office, in))
		var found bool
		for _, c := range must[[]practice.Check](t)(b.VisitChecks(t.Context(), office, in.ID)) {
			found = found || c.Code == code && c.Suggestion
		}
		if !found {
			t.Errorf("%s is not suggested", code)
		}
	}
}

// The visits a job needs, by what is known of the hull. Defaults of the trade with low
// confidence; each carries its tag.
func TestProposedVisitsFollowFromTheHull(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	done := must[practice.Done](t)
	for name, c := range map[string]struct {
		construction, coating string
		first, last           string // of the meter visit, in the yard's zone; lifted on 20 October 2026 at 10:00
		reason                string
	}{
		"nothing known":   {"", "", "2026-10-23 08:00", "2026-10-27 17:00", "resin not known"},
		"sandwich, bare":  {"sandwich, end-grain balsa", "", "2026-10-21 08:00", "2026-11-17 17:00", "a core does not dry"},
		"sandwich":        {"sandwich, end-grain balsa", "antifouling", "2026-10-23 08:00", "2026-11-17 17:00", "a core does not dry"},
		"isolated":        {"tanks isolated, isometric drawing", "", "2026-10-23 08:00", "2026-10-27 17:00", "resin not known"},
		"epoxy":           {"single skin", "epoxy barrier", "2026-11-10 08:00", "2026-11-17 17:00", "three to four weeks"},
		"ortho":           {"single skin, ortho resin", "antifouling", "2026-11-17 08:00", "2026-11-24 17:00", "about a month"},
		"iso, new to us":  {"single skin, iso-NPG resin", "", "2026-10-21 08:00", "2026-10-27 17:00", "a day or more"},
		"iso, coated":     {"single skin, iso resin", "antifouling", "2026-10-23 08:00", "2026-10-27 17:00", "three to seven days"},
		"iso, one summer": {"single skin, iso", "one summer", "2026-10-20 16:00", "2026-10-27 17:00", "a few hours"},
	} {
		t.Run(name, func(t *testing.T) {
			vessel, hull := b.vessel(b.ours, name), newID()
			b.exec(`insert into elements (practice_id, id, vessel_id, kind) values ($1, $2, $3, 'hull')`, b.ours.id, hull, vessel)
			for kind, what := range map[string]string{"construction": c.construction, "coating": c.coating} {
				if what != "" {
					b.exec(`insert into layers (practice_id, id, element_id, kind, what) values ($1, $2, $3, $4, $5)`, b.ours.id, newID(), hull, kind, what)
				}
			}
			if c.coating == "one summer" {
				b.exec(`insert into spells (practice_id, id, vessel_id, time_zone, actual_lift, actual_launch) values ($1, $2, $3, 'Europe/Dublin', '2025-11-10T10:00Z', '2026-04-01T10:00Z')`, b.ours.id, newID(), vessel)
			}
			zone := practice.Zone("Europe/Dublin") // whose clocks change on 25 October
			lift := time.Date(2026, 10, 20, 10, 0, 0, 0, zone)
			spell := ashore(vessel, &lift, ptr(lift.AddDate(0, 5, 0)))
			done(b.AddSpell(t.Context(), office, spell))
			job := newJob(vessel)
			done(b.AddJob(t.Context(), office, job))
			p := must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, job.ID))
			if p.Spell == nil || len(p.Visits) != 2 || p.Visits[0].Kind != "wet look" || !p.Visits[0].From.Equal(lift) {
				t.Fatalf("%+v", p)
			}
			v := p.Visits[1]
			if got := v.From.In(zone).Format("2006-01-02 15:04"); got != c.first {
				t.Errorf("begins %s, want %s", got, c.first)
			}
			if got := v.To.In(zone).Format("2006-01-02 15:04"); got != c.last {
				t.Errorf("ends %s, want %s", got, c.last)
			}
			if !strings.Contains(v.Reason, c.reason) || v.Tag == "" || len(v.Figures) < 2 {
				t.Errorf("%+v", v)
			}
		})
	}
	// Rain and frost move the window, and it says so; a hull under cover stays dry.
	b.clock.pass(205 * 24 * time.Hour) // to the end of October
	zone := practice.Zone("Europe/Dublin")
	wet := b.vessel(b.ours, "rained on")
	yard := b.yard(b.ours, "Quay yard")
	lift := time.Date(2026, 10, 20, 10, 0, 0, 0, zone)
	spell := ashore(wet, &lift, ptr(lift.AddDate(0, 5, 0)))
	spell.Yard = &yard
	done(b.AddSpell(t.Context(), office, spell))
	job := newJob(wet)
	done(b.AddJob(t.Context(), office, job))
	for day, w := range map[int]practice.RecordWeather{22: {RainMm: ptr[int16](9)}, 29: {AirDecidegrees: ptr[int16](-15)}} {
		w.Mutation, w.ID, w.Place, w.Source, w.At = newID(), newID(), "Quay yard", "the yard's gauge", time.Date(2026, 10, day, 12, 0, 0, 0, zone)
		done(b.RecordWeather(t.Context(), office, w))
	}
	window := func() practice.Proposed {
		return must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, job.ID)).Visits[1]
	}
	if v := window(); v.From.In(zone).Format("2006-01-02 15:04") != "2026-10-30 08:00" || !strings.Contains(v.Reason, "Moved by the weather record") || !strings.Contains(v.Reason, "-1.5 °C on 29 October (the yard's gauge)") {
		t.Errorf("rained on and frozen: from %s, %s", v.From.In(zone), v.Reason)
	}
	b.exec(`update spells set under_cover = true where id = $1`, spell.ID)
	if v := window(); v.From.In(zone).Format(time.DateOnly) != "2026-10-23" || strings.Contains(v.Reason, "weather") {
		t.Errorf("under cover: from %s, %s", v.From.In(zone), v.Reason)
	}
	tonnage := newJob(b.vessel(b.ours, "measured"))
	tonnage.Kind = "tonnage"
	done(b.AddJob(t.Context(), office, tonnage))
	if p := must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, tonnage.ID)); len(p.Visits) != 0 || len(p.Needs) != 1 || !strings.Contains(p.Needs[0], "authorised person") {
		t.Errorf("tonnage: %+v", p)
	}
}

// A hull that was read before is read after about as many days again.
func TestProposedAsLastTime(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office := b.ours.of[domain.Office]
	b.exec(`update visits set state = 'done', from_at = from_at + interval '14 days', to_at = to_at + interval '14 days' where id = $1`, s.visit) // on the 22nd, 21 days ashore
	b.exec(`update spells set actual_launch = '2026-04-25T12:00Z' where id = $1`, s.spell)
	next := ashore(s.vessel, ptr(at(1).AddDate(0, 6, 0)), ptr(at(20).AddDate(0, 6, 0))) // launched again on the 20th of October
	must[practice.Done](t)(b.AddSpell(t.Context(), office, next))
	b.clock.pass(150 * 24 * time.Hour)
	p := must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, s.job))
	if v := p.Visits[1]; !strings.Contains(v.Reason, "21 days ashore on 22 April 2026") || v.From.Format(time.DateOnly) != "2026-10-18" || !v.To.Equal(*next.PlannedLaunch) {
		t.Errorf("%+v", v)
	}
	b.exec(`update spells set planned_launch = planned_launch - interval '10 days' where id = $1`, next.ID)
	p = must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, s.job))
	if v := p.Visits[1]; !strings.Contains(v.Conflict, "does not fit before the launch of 10 October 2026, 13:00") {
		t.Errorf("%+v", v)
	}
}
