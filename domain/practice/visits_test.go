package practice_test

import (
	"context"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// survey is a vessel ashore with a job, a visit, an instrument and a plan of places, made
// by the use cases.
type survey struct {
	vessel, element, plan, spell, job, visit, instrument, scale uuid.UUID
	places                                                      []uuid.UUID
}

// leave gives a job a permission, as the database's owner.
func (b *bundle) leave(h house, job uuid.UUID, what string) {
	b.t.Helper()
	b.exec(`insert into permissions (practice_id, id, job_id, what, asked_on, given_on, given_by_name) values ($1, $2, $3, $4, '2026-03-01', '2026-03-02', 'Ada Skerry')`, h.id, newID(), job, what)
}

// survey makes one for a practice, led by its surveyor: lifted on 1 April, visited on the
// 8th from nine to noon. Places 1/1 to 4/2 on either side, the first rows above the water.
func (b *bundle) survey(h house, name string) survey {
	b.t.Helper()
	ctx, lead, office := b.t.Context(), h.of[domain.Surveyor], h.of[domain.Office]
	done := must[practice.Done](b.t)
	s := survey{vessel: newID(), element: newID(), plan: newID(), spell: newID(), job: newID(), visit: newID(), instrument: newID(), scale: newID()}
	done(b.AddVessel(ctx, office, practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: s.vessel, Name: name}}))
	done(b.AddElement(ctx, office, practice.AddElement{Mutation: newID(), Element: practice.Element{ID: s.element, VesselID: s.vessel, Kind: "hull", BootTopMm: ptr[int32](100)}}))
	in := practice.AddPlaces{Mutation: newID(), Element: s.element}
	for station := int32(1); station <= 4; station++ {
		for row := int32(1); row <= 2; row++ {
			for _, side := range []string{"port", "starboard"} {
				in.IDs = append(in.IDs, newID())
				in.Labels = append(in.Labels, string(rune('0'+station))+"/"+string(rune('0'+row)))
				in.Sides = append(in.Sides, side)
				in.Stations, in.Rows = append(in.Stations, station), append(in.Rows, row)
				in.Along, in.Down = append(in.Along, station*500), append(in.Down, row*800-1200)
			}
		}
	}
	s.places = in.IDs
	done(b.AddPlaces(ctx, office, in))
	plan := practice.AddPlan{Mutation: newID(), ID: s.plan, Vessel: s.vessel}
	for k := range in.IDs {
		plan.Places = append(plan.Places, int32(k+1))
		if in.Rows[k] == 1 {
			plan.Dry = append(plan.Dry, int32(k+1))
		}
	}
	done(b.AddPlan(ctx, office, plan))
	done(b.AddInstrument(ctx, office, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: s.instrument, Name: "Skerrow deep No. 2", Kind: "capacitance", Sensing: "deep"}}))
	done(b.AddScale(ctx, office, practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: s.scale, Instrument: s.instrument, Name: "A", LowTenths: 0, HighTenths: 1000, StepTenths: 1}}))
	spell := ashore(s.vessel, nil, nil)
	spell.ID, spell.ActualLift, spell.Yard = s.spell, at(1), ptr(b.yard(h, "Skerrow yard"))
	done(b.AddSpell(ctx, office, spell))
	job := newJob(s.vessel)
	job.ID, job.Lead = s.job, &lead.Member
	done(b.AddJob(ctx, office, job))
	visit := s.planned(s.visit, lead.Member)
	for n := value[int](b, `select count(*) from visits where practice_id = $1 and lead_id = $2`, h.id, lead.Member); n > 0; n-- { // nobody is in two places
		visit.From, visit.To = visit.From.AddDate(0, 0, 1), visit.To.AddDate(0, 0, 1)
	}
	done(b.PlanVisit(ctx, office, visit))
	for _, what := range []string{"board and survey", "scrape", "lift soles"} {
		b.leave(h, s.job, what)
	}
	return s
}

func (s survey) planned(id, lead uuid.UUID) practice.PlanVisit {
	return practice.PlanVisit{
		Mutation: newID(), ID: id, Job: s.job, Spell: &s.spell, Kind: "meter visit", TimeZone: "Europe/Dublin", Lead: &lead,
		From: time.Date(2026, 4, 8, 9, 0, 0, 0, time.UTC), To: time.Date(2026, 4, 8, 12, 0, 0, 0, time.UTC),
		Overrides: allTheSame("agreed with the client"),
	}
}

// pass opens one in the survey's visit.
func (b *bundle) pass(h house, s survey) uuid.UUID {
	b.t.Helper()
	id, hand := newID(), h.of[domain.Surveyor]
	must[practice.Done](b.t)(b.OpenPass(b.t.Context(), hand, practice.OpenPass{
		Mutation: newID(), ID: id, Visit: s.visit, Element: s.element, Plan: s.plan, Hand: &hand.Member, Instrument: &s.instrument, Scale: &s.scale,
		Face: "outside", Surface: "bare gelcoat", DrySurface: "bare gelcoat", Source: "metered", BeganAt: time.Date(2026, 4, 8, 9, 5, 0, 0, time.UTC),
	}))
	return id
}

var everything = practice.VisitParts{Spell: true, Conditions: true, Passes: true, Findings: true, Windows: true, Photos: true}

func TestAVisitIsReadWithAllThatWasFound(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	lead := b.ours.of[domain.Surveyor]
	pass := b.pass(b.ours, s)
	must[practice.Done](t)(b.AddReadings(t.Context(), lead, practice.AddReadings{
		Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID(), newID(), newID()}, Ordinals: []int32{1, 2, 3},
		Placements: [][]int16{{180}, {190, 200}, {420}}, TakenAt: []time.Time{b.clock.now(), b.clock.now(), b.clock.now()},
	}))
	void := value[uuid.UUID](b, `select id from readings where value = 840`)
	must[practice.Done](t)(b.VoidReading(t.Context(), lead, practice.VoidReading{Mutation: newID(), Reading: void, Reason: "pads rocked"}))
	must[practice.Done](t)(b.RecordBlockCheck(t.Context(), lead, practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: "before", ValueTenths: 102, At: b.clock.now()}}))
	must[practice.Done](t)(b.MarkNotReached(t.Context(), lead, practice.MarkNotReached{Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{4}, Reason: "prop pad"}))
	must[practice.Done](t)(b.RecordCondition(t.Context(), lead, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{ID: newID(), VisitID: s.visit, At: b.clock.now(), AirDecidegrees: ptr[int16](200), HumidityPermille: ptr[int16](600)}}))
	must[practice.Done](t)(b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: newID(), VisitID: s.visit, Kind: "blister", Sure: "seen", Places: []int32{7, 3}, Measured: json.RawMessage(`{"across mm":4}`)}}))
	must[practice.Done](t)(b.RecordWindow(t.Context(), lead, practice.RecordWindow{Mutation: newID(), Window: practice.Window{ID: newID(), VisitID: s.visit, ElementID: s.element, Side: "port", AlongMm: 900, DownMm: 300, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}}))
	v := must[practice.VisitPage](t)(b.Visit(t.Context(), lead, s.visit, everything))
	days, ok := v.DaysAshore()
	if !ok || days != 7 || v.Yard != "Skerrow yard" || v.JobNumber != "2026-001" || v.Job.ID != s.job || v.Spell == nil || v.Spell.ID != s.spell {
		t.Errorf("days %d %v, %+v", days, ok, v.VisitLine)
	}
	if len(v.Conditions) != 1 || *v.Conditions[0].DewPointDecidegrees != 120 || len(v.Windows) != 1 || len(v.Findings) != 1 || !slices.Equal(v.Findings[0].Places, []int32{3, 7}) {
		t.Errorf("%+v %+v %+v", v.Conditions, v.Windows, v.Findings)
	}
	must[practice.History](t)(b.History(t.Context(), lead, s.vessel, nil))
	alone := must[practice.PassPage](t)(b.Pass(t.Context(), lead, pass))
	if len(v.Passes) != 1 {
		t.Fatalf("%d passes", len(v.Passes))
	}
	if !reflect.DeepEqual(v.Passes[0], alone) {
		t.Errorf("with its visit the pass is\n%+v\nalone\n%+v", v.Passes[0], alone)
	}
	lines := must[[]practice.VisitLine](t)(b.Visits(t.Context(), lead, *at(1), *at(30), true))
	if len(lines) != 1 || len(lines[0].Passes) != 1 || lines[0].Passes[0].Read != 2 || lines[0].Passes[0].Planned != 16 || lines[0].Passes[0].Instrument != "Skerrow deep No. 2" {
		t.Errorf("as a line: %+v", lines)
	}
	bare := must[practice.VisitPage](t)(b.Visit(t.Context(), lead, s.visit, practice.VisitParts{}))
	if bare.Spell != nil || bare.Passes != nil || len(bare.Conditions) > 0 {
		t.Errorf("more was read than was asked for: %+v", bare)
	}
}

func TestAVesselsPageHoldsItsJobsSpellsAndPhotos(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office, principal := b.ours.of[domain.Office], b.ours.of[domain.Principal]
	hidden := newJob(s.vessel)
	hidden.Restricted = true
	must[practice.Done](t)(b.AddJob(t.Context(), office, hidden))
	parts := practice.VesselParts{Spells: true, Jobs: true, Reports: true, Photos: true}
	for a, jobs := range map[*domain.Actor]int{&office: 2, &principal: 1} {
		v := must[practice.VesselPage](t)(b.Vessel(t.Context(), *a, s.vessel, parts, nil))
		if len(v.Spells) != 1 || len(v.Jobs) != jobs || v.Jobs[len(v.Jobs)-1].ID != s.job || v.Spells[0].ID != s.spell {
			t.Errorf("%s: %d spells, %d jobs", a.Roles, len(v.Spells), len(v.Jobs))
		}
	}
}

func TestAVisitBooksItsLead(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office, lead, trainee := b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Trainee]
	booked := func() string {
		return value[string](b, `select coalesce(string_agg(m.roles[1] || ' ' || extract(hour from lower(o.during) at time zone 'UTC') || '-' || extract(hour from upper(o.during) at time zone 'UTC'), ', ' order by m.roles[1]), '')
			from visit_people o join members m on m.id = o.member_id where o.visit_id = $1 and o.holds`, s.visit)
	}
	edit := func(a domain.Actor, in practice.EditVisit) error {
		in.Mutation, in.ID = newID(), s.visit
		_, err := b.EditVisit(t.Context(), a, in)
		return err
	}
	if got := booked(); got != "surveyor 9-12" {
		t.Errorf("planned: %q", got)
	}
	b.exec(`insert into visit_people (practice_id, visit_id, member_id, during) select practice_id, visit_id, $2, during from visit_people where visit_id = $1`, s.visit, b.ours.of[domain.Guest].Member)
	want(t, edit(office, practice.EditVisit{Version: 1, From: ptr(time.Date(2026, 4, 8, 13, 0, 0, 0, time.UTC)), To: ptr(time.Date(2026, 4, 8, 15, 0, 0, 0, time.UTC))}), domain.Internal)
	if got := booked(); got != "guest 13-15, surveyor 13-15" {
		t.Errorf("moved: %q", got)
	}
	want(t, edit(office, practice.EditVisit{Version: 2, Lead: &trainee.Member}), domain.Internal)
	if got := booked(); got != "guest 13-15, trainee 13-15" {
		t.Errorf("handed over: %q", got)
	}
	want(t, edit(trainee, practice.EditVisit{Version: 3, State: ptr("done"), Note: ptr("in the rain")}), domain.Internal)
	want(t, edit(trainee, practice.EditVisit{Version: 4, State: ptr("cancelled")}), domain.Forbidden)
	want(t, edit(office, practice.EditVisit{Version: 4, State: ptr("cancelled")}), domain.Internal)
	if got := booked(); got != "" {
		t.Errorf("called off: %q", got)
	}
	_, err := b.RecordCondition(t.Context(), lead, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{ID: newID(), VisitID: s.visit, At: b.clock.now()}})
	want(t, err, domain.Conflict) // nobody was there
	want(t, edit(office, practice.EditVisit{Version: 5, State: ptr("planned")}), domain.Internal)
	if got := booked(); got != "guest 13-15, trainee 13-15" { // who went along is not lost
		t.Errorf("planned again: %q", got)
	}
	want(t, edit(office, practice.EditVisit{Version: 1, Note: ptr("late")}), domain.Conflict)
	want(t, edit(office, practice.EditVisit{Version: 6, To: at(1)}), domain.Invalid, "to")
	want(t, edit(office, practice.EditVisit{Version: 6, State: ptr("over")}), domain.Invalid, "state")
}

func TestAVisitIsPlannedOnceAndFitsItsJob(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
	theirs := b.survey(b.theirs, "theirs")
	office, guest := b.ours.of[domain.Office], b.ours.of[domain.Guest]
	in := s.planned(newID(), guest.Member)
	in.Follows, in.FollowsReason = &s.visit, "the surface dries first"
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.PlanVisit(ctx, office, in) })
	must[practice.VisitPage](t)(b.Visit(t.Context(), guest, in.ID, everything)) // its lead was let into the job
	for name, c := range map[string]struct {
		change func(*practice.PlanVisit)
		kind   domain.Kind
		field  string
	}{
		"ends first":          {func(v *practice.PlanVisit) { v.To = v.From }, domain.Invalid, "to"},
		"two months":          {func(v *practice.PlanVisit) { v.To = v.From.AddDate(0, 2, 0) }, domain.Invalid, "to"},
		"no zone":             {func(v *practice.PlanVisit) { v.TimeZone = "" }, domain.Invalid, "timeZone"},
		"unknown kind":        {func(v *practice.PlanVisit) { v.Kind = "tea" }, domain.Invalid, "kind"},
		"another's spell":     {func(v *practice.PlanVisit) { v.Spell = &other.spell }, domain.Invalid, "spell"},
		"their spell":         {func(v *practice.PlanVisit) { v.Spell = &theirs.spell }, domain.NotFound, ""},
		"their job":           {func(v *practice.PlanVisit) { v.Job = theirs.job }, domain.NotFound, ""},
		"their lead":          {func(v *practice.PlanVisit) { v.Lead = ptr(b.theirs.of[domain.Surveyor].Member) }, domain.NotFound, ""},
		"follows another job": {func(v *practice.PlanVisit) { v.Follows = &other.visit }, domain.Invalid, "follows"},
		"follows a later one": {func(v *practice.PlanVisit) { v.From, v.Follows = v.From.Add(-time.Hour), &s.visit }, domain.Invalid, "from"},
		"kept already":        {func(v *practice.PlanVisit) { v.ID = s.visit }, domain.Conflict, "id"},
	} {
		in := s.planned(newID(), guest.Member)
		c.change(&in)
		_, err := b.PlanVisit(t.Context(), office, in)
		if domain.KindOf(err) != c.kind {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want(t, err, c.kind, c.field)
	}
	_, err := b.Visit(t.Context(), office, theirs.visit, everything)
	want(t, err, domain.NotFound)
	_, err = b.PlanVisit(t.Context(), domain.Actor{}, s.planned(newID(), guest.Member))
	want(t, err, domain.Unauthenticated)
}

func TestWhatIsFoundBelongsToTheVessel(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other, theirs := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet"), b.survey(b.theirs, "theirs")
	lead := b.ours.of[domain.Surveyor]
	finding := func(change func(*practice.Finding)) error {
		f := practice.Finding{ID: newID(), VisitID: s.visit, Kind: "crack", Sure: "seen"}
		change(&f)
		_, err := b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: f})
		return err
	}
	want(t, finding(func(*practice.Finding) {}), domain.Internal)
	want(t, finding(func(f *practice.Finding) { f.VisitID = theirs.visit }), domain.NotFound)
	want(t, finding(func(f *practice.Finding) { f.ElementID = &other.element }), domain.Invalid, "element")
	want(t, finding(func(f *practice.Finding) { f.Places = []int32{1, 99} }), domain.Invalid, "places[1]")
	want(t, finding(func(f *practice.Finding) { f.Sure = "certain" }), domain.Invalid, "sure")
	want(t, finding(func(f *practice.Finding) { f.Kind = " " }), domain.Invalid, "kind")
	want(t, finding(func(f *practice.Finding) { f.Measured = json.RawMessage(`[1]`) }), domain.Invalid, "measured")
	want(t, finding(func(f *practice.Finding) { f.Text = strings.Repeat("x", 9000) }), domain.Invalid, "text")
	window := practice.Window{ID: newID(), VisitID: s.visit, ElementID: other.element, Side: "port", WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}
	record := func() error {
		_, err := b.RecordWindow(t.Context(), lead, practice.RecordWindow{Mutation: newID(), Window: window})
		return err
	}
	want(t, record(), domain.Invalid, "element")
	window.ElementID, window.WidthMm = s.element, 0
	want(t, record(), domain.Invalid, "widthMm")
	window.WidthMm, window.BlistersSeen = 100, -1
	want(t, record(), domain.Invalid, "blistersSeen")
	_, err := b.RecordFinding(t.Context(), b.ours.of[domain.Guest], practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: newID(), VisitID: s.visit, Kind: "crack", Sure: "seen"}})
	want(t, err, domain.NotFound) // the guest was not let in
}

func TestConditionsSayWhatAReadingWouldBeWorth(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	lead := b.ours.of[domain.Surveyor]
	n := func(x int16) *int16 { return &x }
	for name, c := range map[string]struct {
		in     practice.Condition
		dew    *int32
		advice string
	}{
		// Dew points: Magnus formula with Sonntag's constants (testdata/measure/everyday.json).
		"a fair day":         {practice.Condition{AirDecidegrees: n(200), HumidityPermille: n(600), SkinPortDecidegrees: n(210), SkinStarboardDecidegrees: n(190)}, ptr[int32](120), ""},
		"no humidity":        {practice.Condition{AirDecidegrees: n(200), SkinPortDecidegrees: n(210)}, nil, ""},
		"nothing known":      {practice.Condition{}, nil, ""},
		"frost to starboard": {practice.Condition{AirDecidegrees: n(30), HumidityPermille: n(500), SkinPortDecidegrees: n(40), SkinStarboardDecidegrees: n(-5)}, ptr[int32](-64), "frost-starboard"},
		"just above":         {practice.Condition{SkinPortDecidegrees: n(5)}, nil, "near-frost-port"},
		"condensing":         {practice.Condition{AirDecidegrees: n(150), HumidityPermille: n(700), SkinPortDecidegrees: n(90)}, ptr[int32](96), "condensing-port"},
		"too near to tell":   {practice.Condition{AirDecidegrees: n(150), HumidityPermille: n(700), SkinPortDecidegrees: n(110)}, ptr[int32](96), "near-dew-port"},
		"cold air, no skin":  {practice.Condition{AirDecidegrees: n(-20)}, nil, "skin-unknown"},
		"bone dry air":       {practice.Condition{AirDecidegrees: n(200), HumidityPermille: n(0)}, nil, ""},
	} {
		in := c.in
		in.ID, in.VisitID, in.At = newID(), s.visit, b.clock.now()
		must[practice.Done](t)(b.RecordCondition(t.Context(), lead, practice.RecordCondition{Mutation: newID(), Condition: in}))
		got := must[practice.Condition](t)(b.Condition(t.Context(), lead, in.ID))
		var codes []string
		for _, w := range got.Advice {
			codes = append(codes, w.Code)
		}
		if (got.DewPointDecidegrees == nil) != (c.dew == nil) || c.dew != nil && *got.DewPointDecidegrees != *c.dew || strings.Join(codes, " ") != c.advice {
			t.Errorf("%s: dew point %v, advice %v", name, got.DewPointDecidegrees, codes)
		}
		if (got.AirDecidegrees == nil) != (c.in.AirDecidegrees == nil) || (got.SkinPortDecidegrees == nil) != (c.in.SkinPortDecidegrees == nil) {
			t.Errorf("%s: something was guessed: %+v", name, got)
		}
	}
	_, err := b.RecordCondition(t.Context(), lead, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{ID: newID(), VisitID: s.visit, At: b.clock.now(), HumidityPermille: n(1001)}})
	want(t, err, domain.Invalid, "humidityPermille")
}

func TestTodayIsTheDayOfThePracticesZone(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.survey(b.theirs, "theirs")
	lead, office, trainee := b.ours.of[domain.Surveyor], b.ours.of[domain.Office], b.ours.of[domain.Trainee]
	day := func(a domain.Actor) practice.Today { return must[practice.Today](t)(b.Today(t.Context(), a, nil)) }
	if got := day(lead); got.On.Format(time.DateOnly) != "2026-04-07" || len(got.Visits) != 0 || len(got.InHand) != 1 {
		t.Errorf("the day before: %+v", got)
	}
	b.clock.pass(13*time.Hour + 45*time.Minute) // 23:15 UTC: in Dublin it is the 8th
	for name, c := range map[string]struct {
		a              domain.Actor
		visits, inHand int
	}{"its lead": {lead, 1, 1}, "the office": {office, 1, 1}, "a trainee": {trainee, 0, 0}} {
		if got := day(c.a); got.On.Format(time.DateOnly) != "2026-04-08" || len(got.Visits) != c.visits || len(got.InHand) != c.inHand {
			t.Errorf("%s: %s, %d visits, %d in hand", name, got.On, len(got.Visits), len(got.InHand))
		}
	}
	asked := func(what string, given *time.Time) {
		must[practice.Done](t)(b.RecordPermission(t.Context(), office, practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{
			ID: newID(), JobID: s.job, What: what, AskedOn: at(2), GivenOn: given, GivenByName: "Ada Skerry",
		}}))
	}
	asked("scrape", nil)
	asked("lift", at(3))
	asking := ashore(s.vessel, at(28), at(29))
	asking.AskedOnly = true
	b.exec(`update spells set actual_launch = $2 where id = $1`, s.spell, at(20))
	must[practice.Done](t)(b.AddSpell(t.Context(), office, asking))
	later := s.planned(newID(), lead.Member)
	later.Spell, later.From, later.To = &asking.ID, *at(28), at(28).Add(time.Hour)
	must[practice.Done](t)(b.PlanVisit(t.Context(), office, later))
	for _, due := range [][2]int{{-90, -60}, {59, 80}, {60, 80}, {61, 90}} {
		b.exec(`insert into reinspections (practice_id, id, vessel_id, due_from, due_to, reason) values ($1, $2, $3, date '2026-04-08' + $4::int, date '2026-04-08' + $5::int, 'watch')`, b.ours.id, newID(), s.vessel, due[0], due[1])
	}
	got := day(lead)
	var waits []string
	for _, w := range got.Waiting {
		waits = append(waits, w.What)
	}
	if !equalText(waits, []string{"Permission asked, not yet answered: scrape", "The yard has not yet agreed to the haul-out"}) || !got.Waiting[0].Since.Equal(*at(2)) && got.Waiting[0].Since.Format(time.DateOnly) != "2026-04-02" {
		t.Errorf("waiting: %q", waits)
	}
	if len(got.Due) != 3 || got.Due[0].Vessel.Name != "Petrel" {
		t.Errorf("due: %+v", got.Due)
	}
	if next := must[practice.Today](t)(b.Today(t.Context(), lead, at(28))); len(next.Visits) != 1 || next.Visits[0].ID != later.ID {
		t.Errorf("on the 28th: %+v", next.Visits)
	}
	if got := day(trainee); len(got.Waiting) != 0 {
		t.Errorf("a trainee waits for %+v", got.Waiting)
	}
}

// Nothing is read at a visit that was called off.
func TestNoPassIsOpenedOnAVisitThatWasCalledOff(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.exec(`update visits set state = 'cancelled' where id = $1`, s.visit)
	_, err := b.OpenPass(t.Context(), b.ours.of[domain.Surveyor], b.opening(b.ours, s))
	want(t, err, domain.Conflict)
}
