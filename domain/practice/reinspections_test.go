package practice_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/due"
	"boottop.example/practice/domain/practice"
)

func on(s string) time.Time {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return d
}

// surveyed is a vessel with a job whose visit was made, as the database's owner.
type surveyed struct {
	*bundle
	vessel, job, client uuid.UUID
}

func (b *bundle) surveyed(name string) surveyed {
	b.t.Helper()
	s := surveyed{b, b.vessel(b.ours, name), uuid.Nil, newID()}
	b.exec(`insert into parties (practice_id, id, kind, name, email, created_at) values ($1, $2, 'person', 'Anna Dunlin', 'anna@dunlin.example', $3)`, b.ours.id, s.client, b.clock.now())
	s.job = s.again("2026-04-06", "meter visit")
	return s
}

// again is another job of hers, with one visit of a kind on a day.
func (s surveyed) again(day, kind string) uuid.UUID {
	s.t.Helper()
	job := s.bundle.job(s.ours, s.vessel, false)
	s.exec(`update jobs set client_id = $2 where id = $1`, job, s.client)
	s.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, state) values ($1, $2, $3, $4, $5::date + interval '9 hours', $5::date + interval '12 hours', 'Europe/Dublin', 'done')`,
		s.ours.id, newID(), job, kind, day)
	return job
}

// issue drafts and issues a report of a job.
func (s surveyed) issue(job uuid.UUID) {
	s.t.Helper()
	surveyor, id := s.ours.of[domain.Surveyor], newID()
	must[practice.Done](s.t)(s.DraftReport(s.t.Context(), surveyor, practice.DraftReport{Mutation: newID(), ID: id, Job: job, Title: "Limited survey", Paper: "A4"}))
	must[practice.Done](s.t)(s.EditReport(s.t.Context(), surveyor, practice.EditReport{Mutation: newID(), ID: id, Version: 1, InShort: ptr("Looked over."), Scope: ptr("The underbody."), Limits: ptr("Nothing inside.")}))
	must[practice.Done](s.t)(s.IssueReport(s.t.Context(), surveyor, practice.IssueReport{Mutation: newID(), ID: id, Version: 2}))
}

// windows lists what stands for her: rule, window, state.
func (s surveyed) windows() string {
	s.t.Helper()
	v := must[practice.VesselPage](s.t)(s.Vessel(s.t.Context(), s.ours.of[domain.Office], s.vessel, practice.VesselParts{Reinspections: true}, nil))
	var lines []string
	for _, r := range v.Reinspections {
		until := r.DueTo.Format(time.DateOnly)
		if r.WaitsFor != "" {
			until = r.WaitsFor
		}
		lines = append(lines, r.Code+" "+r.DueFrom.Format(time.DateOnly)+" "+until+" "+r.State)
	}
	return strings.Join(lines, "\n")
}

func (s surveyed) only(t testing.TB) practice.Reinspection {
	t.Helper()
	v := must[practice.VesselPage](t)(s.Vessel(t.Context(), s.ours.of[domain.Office], s.vessel, practice.VesselParts{Reinspections: true}, nil))
	if len(v.Reinspections) != 1 {
		t.Fatalf("she has %d reinspections, want 1: %+v", len(v.Reinspections), v.Reinspections)
	}
	return v.Reinspections[0]
}

func TestAnIssueProposesWhenToLookAgain(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	for about, grade := range map[string]string{"raised-uniform": "watch", "few-blisters": "planned", "suspected-wet-core": "further", "": "afloat"} {
		must[uuid.UUID](t)(b.advise(b.ours.of[domain.Surveyor], s.job, func(r *practice.Recommendation) { r.About, r.Grade, r.Sure = about, grade, "indicated" }))
	}
	s.issue(s.job)
	// The dates follow from the defaults of domain/measure/due, which its own tests hold to
	// the trade notes: common practice, no source.
	const want = "before-afloat 2026-04-07 launch due\nlook-further 2026-04-07 access due\nsuspected-wet-core 2026-05-06 2026-07-06 due\n" +
		"few-blisters 2026-10-06 2027-04-06 due\nraised-uniform 2027-04-01 2027-04-30 due"
	got := strings.Split(s.windows(), "\n")
	if slices.Compare(slices.Sorted(slices.Values(got)), slices.Sorted(strings.SplitSeq(want, "\n"))) != 0 {
		t.Errorf("proposed\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
	list, counts, err := b.Reinspections(t.Context(), b.ours.of[domain.Office], "waiting", practice.Page{First: 10})
	if err != nil || len(list) != 2 || counts.Waiting != 2 || counts.Due != 1 || counts.Later != 2 || counts.Overdue != 0 {
		t.Errorf("listed %d, %+v, %v", len(list), counts, err)
	}
	for _, r := range list {
		if r.Tag == "" || r.Recommended == "" || r.Grade == "" {
			t.Errorf("%+v does not say where it comes from", r)
		}
	}
}

func TestANewSurveyAnswersWhatItCovers(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	surveyor := b.ours.of[domain.Surveyor]
	must[uuid.UUID](t)(b.advise(surveyor, s.job, func(r *practice.Recommendation) { r.About, r.Grade = "few-blisters", "watch" }))
	done := must[uuid.UUID](t)(b.advise(surveyor, s.job))
	s.issue(s.job)
	before := s.windows()
	if !strings.Contains(before, "few-blisters 2026-10-06 2027-04-06 due") {
		t.Fatalf("proposed %s", before)
	}
	// A look inside sees no blisters; a wet look does, and starts the next window.
	b.clock.pass(200 * 24 * time.Hour)
	s.issue(s.again("2026-10-20", "inside"))
	if got := s.windows(); got != before {
		t.Errorf("a visit inside changed\n%s\ninto\n%s", before, got)
	}
	s.issue(s.again("2026-10-21", "wet look"))
	got := s.windows()
	if !strings.Contains(got, "few-blisters 2026-10-06 2027-04-06 answered") || !strings.Contains(got, "few-blisters 2027-04-21 2027-10-21 due") {
		t.Errorf("after a wet look\n%s", got)
	}
	if note := value[string](b, `select state_reason from reinspections where state = 'answered'`); !strings.HasPrefix(note, "Seen on 21 October 2026, report 2026-") {
		t.Errorf("it is answered by %q", note)
	}
	// What has to be seen done is answered by whoever sees it done, not by a survey.
	if !strings.Contains(got, "while-ashore 2026-04-07 launch due") {
		t.Errorf("a survey answered what nobody saw done:\n%s", got)
	}
	must[practice.Done](t)(b.SetRecommendationState(t.Context(), surveyor, practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: done, State: "seen done"}))
	if got := s.windows(); !strings.Contains(got, "while-ashore 2026-04-07 launch answered") {
		t.Errorf("seen done, yet\n%s", got)
	}
}

func TestReinspectionsMoveWithReasons(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	office := b.ours.of[domain.Office]
	id := newID()
	add := practice.AddReinspection{Mutation: newID(), ID: id, Vessel: s.vessel, From: on("2026-03-01"), To: on("2026-03-31"), Reason: "the rudder stock"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddReinspection(ctx, office, add) })
	other := b.job(b.ours, b.vessel(b.ours, "Fulmar"), false)
	version := int32(1)
	for _, step := range []struct {
		state, reason string
		until         string
		job           *uuid.UUID
		kind          domain.Kind
		field         string
	}{
		{"snoozed", " ", "2026-09-01", nil, domain.Invalid, "reason"},
		{"snoozed", "she is abroad", "", nil, domain.Invalid, "until"},
		{"snoozed", "she is abroad", "2026-04-01", nil, domain.Invalid, "until"}, // past
		{"declined", "", "", nil, domain.Invalid, "reason"},
		{"booked", "", "", nil, domain.Invalid, "job"},
		{"booked", "", "", &other, domain.Invalid, "job"}, // of another vessel
		{"answered", "", "", nil, domain.Invalid, "state"},
		{"booked", "", "", &s.job, domain.Internal, ""},
		{"declined", "the owner sells her", "", nil, domain.Internal, ""},
		{"due", "", "", nil, domain.Internal, ""},
		{"snoozed", "she is abroad", "2026-09-01", nil, domain.Internal, ""},
	} {
		in := practice.MoveReinspection{Mutation: newID(), ID: id, Version: version, State: step.state, Reason: step.reason, Job: step.job}
		if step.until != "" {
			in.Until = ptr(on(step.until))
		}
		_, err := b.MoveReinspection(t.Context(), office, in)
		if step.field != "" {
			want(t, err, step.kind, step.field)
			continue
		}
		want(t, err, step.kind)
		version++
	}
	if r := s.only(t); r.State != "snoozed" || r.StateReason != "she is abroad" || r.MovedBy != "The office" {
		t.Errorf("kept %+v", r)
	}
	stale := practice.MoveReinspection{Mutation: newID(), ID: id, Version: 1, State: "due"}
	_, err := b.MoveReinspection(t.Context(), office, stale)
	want(t, err, domain.Conflict)
	// Put off until a day, it is due again from that day on, and overdue at once.
	b.clock.pass(150 * 24 * time.Hour)
	list, counts, err := b.Reinspections(t.Context(), office, "overdue", practice.Page{First: 10})
	if err != nil || len(list) != 1 || list[0].State != "due" || counts.Overdue != 1 || counts.Snoozed != 0 {
		t.Errorf("listed %+v, %+v, %v", list, counts, err)
	}
	for state, sql := range map[string]string{
		"declined": `update reinspections set state = 'declined', state_reason = ''`, "snoozed": `update reinspections set state = 'snoozed', snoozed_until = null`,
	} {
		if _, err := b.owner.Exec(t.Context(), sql); err == nil {
			t.Errorf("the database keeps one %s without what that needs", state)
		}
	}
}

func TestAGuaranteeIsDiariedThreeMonthsBefore(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	g := practice.Guarantee{ID: newID(), Vessel: s.vessel, What: "the epoxy scheme", GivenBy: "the yard", EndsOn: on("2027-05-31")}
	in := practice.AddGuarantee{Mutation: newID(), Guarantee: g}
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.AddGuarantee(ctx, b.ours.of[domain.Office], in)
	})
	if got := s.windows(); got != "guarantee-end 2027-02-28 2027-05-31 due" {
		t.Errorf("diaried %s", got)
	}
	// One that ends sooner than that is looked at from now on.
	soon := b.surveyed("Fulmar")
	g = practice.Guarantee{ID: newID(), Vessel: soon.vessel, What: "the keel joint", EndsOn: on("2026-05-01")}
	must[practice.Done](t)(b.AddGuarantee(t.Context(), b.ours.of[domain.Office], practice.AddGuarantee{Mutation: newID(), Guarantee: g}))
	if got := soon.windows(); got != "guarantee-end 2026-04-07 2026-05-01 due" {
		t.Errorf("diaried %s", got)
	}
}

func TestAPracticeChangesItsRules(t *testing.T) {
	t.Parallel()
	b := setup(t)
	principal := b.ours.of[domain.Principal]
	marks := []due.Mark{{From: due.Span{Months: 4}, To: due.Span{Months: 5}}}
	edit := practice.EditReinspectionSettings{Mutation: newID(), Rules: []practice.EditRule{{Kind: "few-blisters", Marks: marks}}, AheadDays: ptr(int32(30))}
	unsaid := edit
	unsaid.Mutation = newID()
	_, err := b.EditReinspectionSettings(t.Context(), principal, unsaid)
	want(t, err, domain.Invalid, "reason")
	edit.Reason = "our season is short"
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.EditReinspectionSettings(ctx, principal, edit)
	})
	s := b.surveyed("Kittiwake")
	must[uuid.UUID](t)(b.advise(b.ours.of[domain.Surveyor], s.job, func(r *practice.Recommendation) { r.About, r.Grade = "few-blisters", "watch" }))
	s.issue(s.job)
	r := s.only(t)
	if r.DueFrom != on("2026-08-06") || r.DueTo != on("2026-09-06") || r.Tag != "the practice’s own rule" || strings.Contains(r.Reason, "within the year") {
		t.Errorf("proposed %+v", r)
	}
	for field, rule := range map[string]practice.EditRule{
		"rules[0].kind":  {Kind: "rust", Marks: marks},
		"rules[0].marks": {Kind: "few-blisters", Marks: []due.Mark{{From: due.Span{Months: 5}, To: due.Span{Months: 4}}}},
	} {
		_, err := b.EditReinspectionSettings(t.Context(), principal, practice.EditReinspectionSettings{Mutation: newID(), Version: 1, Rules: []practice.EditRule{rule}, Reason: "try"})
		want(t, err, domain.Invalid, field)
	}
	b.clock.pass(time.Minute) // changes are told newest first
	back := practice.EditReinspectionSettings{Mutation: newID(), Version: 1, Rules: []practice.EditRule{{Kind: "few-blisters"}}, Reason: "the habit does"}
	must[practice.Done](t)(b.EditReinspectionSettings(t.Context(), principal, back))
	kept := must[practice.ReinspectionSettings](t)(b.ReinspectionSettings(t.Context(), principal))
	if len(kept.Rules) != 0 || kept.AheadDays != 30 || kept.Version != 2 {
		t.Errorf("kept %+v", kept)
	}
	if said := kept.Changes(); len(said) != 2 || said[0].Words != "" || said[1].Words != "after 4 months to 5 months" || said[1].Reason != "our season is short" || said[1].By != "The principal" {
		t.Errorf("the older rules are not kept: %+v", said)
	}
	_, err = b.EditReinspectionSettings(t.Context(), principal, practice.EditReinspectionSettings{Mutation: newID(), Version: 1, RecallMonthly: ptr(true)})
	want(t, err, domain.Conflict)
}

func TestARecallTellsOnlyWhatMayBeTold(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	surveyor, office := b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	must[uuid.UUID](t)(b.advise(surveyor, s.job, func(r *practice.Recommendation) { r.About, r.Grade = "suspected-wet-core", "watch" }))
	s.issue(s.job)
	owner := newID()
	b.exec(`insert into parties (practice_id, id, kind, name, email, created_at) values ($1, $2, 'person', 'Per Ousel', 'per@ousel.example', $3)`, b.ours.id, owner, b.clock.now())
	letter := must[practice.Recall](t)(b.Recall(t.Context(), office, s.vessel, nil))
	if letter.PartyName != "Anna Dunlin" || len(letter.Lines) != 1 || letter.LeftOut != 0 || !strings.Contains(letter.Body, "between 6 May 2026 and 6 July 2026: ") {
		t.Errorf("drafted %+v", letter)
	}
	// The job says: this client only. Another party hears nothing of it.
	other := must[practice.Recall](t)(b.Recall(t.Context(), office, s.vessel, &owner))
	if len(other.Lines) != 0 || other.LeftOut != 1 || strings.Contains(other.Body, "core") {
		t.Errorf("to another it tells %+v", other)
	}
	send := practice.SendRecall{Mutation: newID(), Vessel: s.vessel, Party: owner, Reinspections: []uuid.UUID{letter.Lines[0].ID}, Subject: "Kittiwake", Body: letter.Body}
	_, err := b.SendRecall(t.Context(), office, send)
	want(t, err, domain.NotFound)
	send.Party, send.Mutation = s.client, newID()
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SendRecall(ctx, office, send) })
	if n := value[int](b, `select count(*) from mails where kind = 'recall'`); n != 1 {
		t.Errorf("%d letters went out, want 1", n)
	}
	if r := s.only(t); r.RecalledAt == nil || r.RecalledTo != "Anna Dunlin" {
		t.Errorf("kept %+v", r)
	}
	b.exec(`update parties set email = '' where id = $1`, s.client)
	send.Mutation = newID()
	_, err = b.SendRecall(t.Context(), office, send)
	want(t, err, domain.Invalid, "party")
}

func TestMonthlyRecallsGoOutOnceAMonth(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	must[uuid.UUID](t)(b.advise(b.ours.of[domain.Surveyor], s.job, func(r *practice.Recommendation) { r.About, r.Grade = "suspected-wet-core", "watch" }))
	s.issue(s.job)
	run := func() int {
		t.Helper()
		if err := b.RecallMonthly(t.Context(), b.ours.id); err != nil {
			t.Fatal(err)
		}
		return value[int](b, `select count(*) from mails where kind = 'recall'`)
	}
	if n := run(); n != 0 {
		t.Errorf("%d letters went out of a practice that looks through each", n)
	}
	must[practice.Done](t)(b.EditReinspectionSettings(t.Context(), b.ours.of[domain.Principal], practice.EditReinspectionSettings{Mutation: newID(), RecallMonthly: ptr(true)}))
	for range 3 {
		if n := run(); n != 1 {
			t.Errorf("%d letters went out, want 1", n)
		}
	}
	b.clock.pass(30 * 24 * time.Hour)
	if n := run(); n != 1 {
		t.Errorf("a month on %d letters went out: one in three months is enough", n)
	}
	b.clock.pass(60 * 24 * time.Hour)
	if n := run(); n != 2 {
		t.Errorf("three months on %d letters went out, want a second", n)
	}
}

// Once a practice lets letters go by themselves, each month's job asks for the next one,
// once however often it runs, until the practice goes back to looking each through.
func TestRecallsAskForTheNextMonth(t *testing.T) {
	t.Parallel()
	b := setup(t)
	settings := func(version int32, on bool) {
		t.Helper()
		must[practice.Done](t)(b.EditReinspectionSettings(t.Context(), b.ours.of[domain.Principal], practice.EditReinspectionSettings{Mutation: newID(), Version: version, RecallMonthly: &on}))
	}
	waiting := func(month string) int {
		return value[int](b, `select count(*) from queue.river_job where kind = 'recall' and args = jsonb_build_object('practice', $1::text, 'month', $2::text)`, b.ours.id, month)
	}
	settings(0, true)
	next := b.clock.now().AddDate(0, 1, 1-b.clock.now().Day())
	month := next.Format("2006-01")
	if waiting(month) != 1 {
		t.Fatalf("%d jobs wait for %s, want 1", waiting(month), month)
	}
	if at := value[time.Time](b, `select scheduled_at from queue.river_job where kind = 'recall'`).In(practice.Zone("Europe/Dublin")); at.Day() != 1 || at.Hour() != 8 {
		t.Errorf("it waits until %s, want the first at eight", at)
	}
	b.clock.pass(next.Sub(b.clock.now()) + time.Hour)
	after := next.AddDate(0, 1, 0).Format("2006-01")
	for range 3 {
		if err := b.RecallByItself(t.Context(), practice.RecallJob{Practice: b.ours.id, Month: month}); err != nil {
			t.Fatal(err)
		}
	}
	if waiting(after) != 1 {
		t.Errorf("%d jobs wait for %s, want 1", waiting(after), after)
	}
	settings(1, false)
	b.clock.pass(31 * 24 * time.Hour)
	if err := b.RecallByItself(t.Context(), practice.RecallJob{Practice: b.ours.id, Month: after}); err != nil {
		t.Fatal(err)
	}
	if n := value[int](b, `select count(*) from queue.river_job where kind = 'recall'`); n != 2 {
		t.Errorf("%d jobs were asked for, want 2", n)
	}
}
