package practice_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// answer writes a permission down as the office does.
func (b *bundle) answer(job uuid.UUID, what string, change func(*practice.Permission)) {
	b.t.Helper()
	p := practice.Permission{ID: newID(), JobID: job, What: what, AskedOn: at(1)}
	change(&p)
	must[practice.Done](b.t)(b.RecordPermission(b.t.Context(), b.ours.of[domain.Office], practice.RecordPermission{Mutation: newID(), Permission: p}))
}

func given(on int) func(*practice.Permission) {
	return func(p *practice.Permission) { p.GivenOn, p.GivenByName = at(on), "Ada Skerry" }
}

func refused(on int) func(*practice.Permission) {
	return func(p *practice.Permission) { p.RefusedOn = at(on) }
}

func asked(*practice.Permission) {}

// stopping is every permission there is with an act that it stops: each act is done by
// somebody who may, in a survey of which nothing else is missing.
var stopping = map[string]func(b *bundle, s survey, lead domain.Actor) error{
	"board and survey": func(b *bundle, s survey, lead domain.Actor) error { // going aboard: a pass read inside
		_, err := b.OpenPass(b.t.Context(), lead, practice.OpenPass{
			Mutation: newID(), ID: newID(), Visit: s.visit, Element: s.element, Plan: s.plan, Hand: &lead.Member, Instrument: &s.instrument, Scale: &s.scale,
			Face: "inside", Source: "metered", BeganAt: s.at(b),
		})
		return err
	},
	"lift": func(b *bundle, s survey, lead domain.Actor) error { // a planned lift that becomes a booking
		b.exec(`update visits set state = 'planned' where job_id = $1`, s.job)
		b.exec(`delete from slots`)
		b.exec(`update spells set actual_launch = $2 where id = $1`, s.spell, *at(10))
		b.exec(`delete from spells where vessel_id = $1 and asked_only`, s.vessel)
		in := ashore(s.vessel, at(20), at(30))
		in.AskedOnly = true
		must[practice.Done](b.t)(b.AddSpell(b.t.Context(), lead, in))
		_, err := b.EditSpell(b.t.Context(), lead, practice.EditSpell{Mutation: newID(), ID: in.ID, Version: 1, AskedOnly: ptr(false)})
		if err == nil {
			b.exec(`delete from spells where id = $1`, in.ID)
		}
		return err
	},
	"scrape": func(b *bundle, s survey, lead domain.Actor) error { return b.bare(s, lead, nil) },
	"open blisters": func(b *bundle, s survey, lead domain.Actor) error {
		_, err := b.RecordFinding(b.t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{
			ID: newID(), VisitID: s.visit, ElementID: &s.element, Form: "blisters", Sure: "seen", Measured: []byte(`{"widthMm": 100, "heightMm": 100, "count": 7, "opened": 2}`),
		}})
		return err
	},
	"drill or core": func(b *bundle, s survey, lead domain.Actor) error {
		_, err := b.RecordFinding(b.t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: newID(), VisitID: s.visit, ElementID: &s.element, Kind: "core sample", Sure: "seen", Text: "balsa, brown"}})
		return err
	},
	"mark the hull": func(b *bundle, s survey, lead domain.Actor) error {
		_, err := b.MarkHull(b.t.Context(), lead, practice.MarkHull{Mutation: newID(), Marks: practice.HullMarks{ID: newID(), VisitID: s.visit, MadeWith: "chalk", Where: "stations 1 to 4", MadeAt: s.at(b)}})
		return err
	},
	"lift soles": func(b *bundle, s survey, lead domain.Actor) error {
		_, err := b.RecordCauseCheck(b.t.Context(), lead, practice.RecordCauseCheck{Mutation: newID(), ID: newID(), Visit: s.visit, Outcome: "inside-nothing", Places: []int32{1}})
		return err
	},
	"photograph": func(b *bundle, s survey, lead domain.Actor) error {
		upload := b.uploaded(lead, "photo", "image/jpeg", photo(b.t, 40, 30))
		_, err := b.AddPhoto(b.t.Context(), lead, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: upload, Vessel: s.vessel, Visit: &s.visit})
		return err
	},
	"share the report": nil, // see TestAReportIsItsClientsUntilTheClientSaysOtherwise
	"approach the previous surveyor": func(b *bundle, s survey, lead domain.Actor) error {
		_, err := b.AddAttendanceNote(b.t.Context(), lead, practice.AddAttendanceNote{Mutation: newID(), Note: practice.AttendanceNote{ID: newID(), JobID: s.job, Kind: "call", At: s.at(b), WithWhom: "Odo Rask", Text: "asked for his readings of 2021", PreviousSurveyor: true}})
		return err
	},
}

// bare bares a window of a hundred millimetres.
func (b *bundle) bare(s survey, who domain.Actor, unasked *practice.Unasked) error {
	_, err := b.RecordWindow(b.t.Context(), who, practice.RecordWindow{Mutation: newID(), Unasked: unasked, Window: practice.Window{
		ID: newID(), VisitID: s.visit, ElementID: s.element, Side: "port", AlongMm: 900, DownMm: 300, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat",
	}})
	return err
}

// A permission that is missing, unanswered or refused stops what needs it, in words, and
// the newest answer counts: permissions are dated records with a name.
// The kinds are those that the database keeps, so none is without an act that it stops.
func TestWhatNeedsLeaveWaitsForIt(t *testing.T) {
	t.Parallel()
	known := setup(t)
	definition := value[string](known, `select pg_get_constraintdef(oid) from pg_constraint where conname = 'permissions_what_known'`)
	kinds := regexp.MustCompile(`'([^']+)'`).FindAllStringSubmatch(definition, -1)
	if len(kinds) != len(stopping) {
		t.Errorf("%d kinds of permission, %d with an act", len(kinds), len(stopping))
	}
	for _, kind := range kinds {
		what := kind[1]
		try, there := stopping[what]
		if !there {
			t.Errorf("nothing is stopped by %q", what)
		}
		if try == nil {
			continue
		}
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			b, _, _ := withFiles(t)
			lead := b.ours.of[domain.Surveyor]
			s := b.survey(b.ours, "Petrel")
			b.exec(`delete from permissions where job_id = $1 and (what = $2 or $2 = 'photograph')`, s.job, what) // leave to board would cover photographs
			for _, step := range []struct {
				says string
				then func(*practice.Permission)
				kind domain.Kind
				text string
			}{
				{"missing", nil, domain.Conflict, "Nobody has been asked yet"},
				{"asked and unanswered", asked, domain.Conflict, "not yet answered"},
				{"given", given(3), domain.Internal, ""},
				{"asked for more, which leaves what was given", asked, domain.Internal, ""},
				{"taken back", refused(5), domain.Conflict, "Refused on"},
				{"given anew", given(7), domain.Internal, ""},
			} {
				if step.then != nil {
					b.answer(s.job, what, step.then)
				}
				err := try(b, s, lead)
				if domain.KindOf(err) != step.kind || err == nil != (step.kind == domain.Internal) {
					t.Errorf("%s: %v, want %v", step.says, err, step.kind)
				}
				if err != nil && !(strings.Contains(err.Error(), step.text) && strings.Contains(err.Error(), "Write down in the job who gave leave") || strings.Contains(err.Error(), "or write down in the job")) {
					t.Errorf("%s: it does not say what is missing and what to do: %v", step.says, err)
				}
			}
		})
	}
}

// Lifting soles is going aboard: leave to lift them alone does not do.
func TestLiftingSolesNeedsLeaveToBoard(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.leave(b.ours, s.job, "lift soles")
	lift := func() error { return stopping["lift soles"](b, s, b.ours.of[domain.Surveyor]) }
	want(t, lift(), domain.Internal)
	b.answer(s.job, "board and survey", refused(5))
	want(t, lift(), domain.Conflict, "withoutLeave")
}

// The other ways to open and drill are stopped too.
func TestEachWayToOpenNeedsLeave(t *testing.T) {
	t.Parallel()
	b := setup(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	find := func(form, measured string) (uuid.UUID, error) {
		id := newID()
		_, err := b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: id, VisitID: s.visit, ElementID: &s.element, Form: form, Sure: "seen", Measured: []byte(measured)}})
		return id, err
	}
	_, err := find("thickness", `{"method": "drilled hole", "of": "laminate alone", "valuesMm": [9.5]}`)
	want(t, err, domain.Conflict, "withoutLeave")
	_, err = b.RecordCauseCheck(t.Context(), lead, practice.RecordCauseCheck{Mutation: newID(), ID: newID(), Visit: s.visit, Outcome: "liquid-acid-greasy", Places: []int32{1}})
	want(t, err, domain.Conflict, "withoutLeave")
	count, err := find("blisters", `{"widthMm": 100, "heightMm": 100, "count": 7}`)
	want(t, err, domain.Internal) // counted, not opened
	// Nor is it put in afterwards.
	_, err = b.EditFinding(t.Context(), lead, practice.EditFinding{Mutation: newID(), Finding: practice.Finding{ID: count, Version: 1, ElementID: &s.element, Form: "blisters", Sure: "seen", Measured: []byte(`{"widthMm": 100, "heightMm": 100, "count": 7, "opened": 1}`)}})
	want(t, err, domain.Conflict, "withoutLeave")
}

// The fifteenth window of fourteen is stopped, in words, until the number is a larger one.
func TestTheFifteenthWindowOfFourteenIsStopped(t *testing.T) {
	t.Parallel()
	b := setup(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	fourteen := func(n int32) func(*practice.Permission) {
		return func(p *practice.Permission) {
			given(3)(p)
			p.Extent, p.Windows = "windows of 100 × 100 mm below the waterline", &n
		}
	}
	b.answer(s.job, "scrape", fourteen(14))
	for range 14 {
		want(t, b.bare(s, lead, nil), domain.Internal)
	}
	err := b.bare(s, lead, nil)
	want(t, err, domain.Conflict, "withoutLeave")
	if err == nil || !strings.Contains(err.Error(), "for 14 windows in all, and 14 are bared") {
		t.Errorf("it does not say how many: %v", err)
	}
	b.answer(s.job, "scrape", asked) // asking for more is no leave
	want(t, b.bare(s, lead, nil), domain.Conflict, "withoutLeave")
	b.answer(s.job, "scrape", func(p *practice.Permission) { fourteen(16)(p); p.GivenOn = at(6) })
	want(t, b.bare(s, lead, nil), domain.Internal)
	for what, n := range map[string]int32{"lift": 4, "scrape": 0} {
		p := practice.Permission{ID: newID(), JobID: s.job, What: what, AskedOn: at(1), Windows: &n}
		_, err := b.RecordPermission(t.Context(), b.ours.of[domain.Office], practice.RecordPermission{Mutation: newID(), Permission: p})
		want(t, err, domain.Invalid, "windows")
	}
}

// Of many at once that want the last window, one gets it.
func TestTheLastWindowIsBaredOnce(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.answer(s.job, "scrape", func(p *practice.Permission) { given(3)(p); p.Windows = ptr[int32](1) })
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() { _ = b.bare(s, b.ours.of[domain.Surveyor], nil) })
	}
	all.Wait()
	if n := value[int](b, `select count(*) from windows`); n != 1 {
		t.Errorf("%d windows of the one that was allowed", n)
	}
}

// What was done out of reach of the service is kept, whatever the permissions say, with a
// mark and a question; so is what was done all the same and says why. Sent again it is the
// same. The question stands before the report until somebody says why, with a name.
func TestNothingNotedIsLostForWantOfLeave(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	b.exec(`delete from permissions where job_id = $1`, s.job)
	noted := s.at(b).Add(40 * time.Minute)
	offline := &practice.Unasked{NotedAt: &noted}
	upload := b.uploaded(lead, "photo", "image/jpeg", photo(t, 40, 30))
	for name, send := range map[string]func() (practice.Done, error){
		"window": func() (practice.Done, error) { return practice.Done{}, b.bare(s, lead, offline) },
		"finding": func() (practice.Done, error) {
			return b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Unasked: offline, Finding: practice.Finding{ID: newID(), VisitID: s.visit, Kind: "core sample", Sure: "seen", Text: "balsa"}})
		},
		"check": func() (practice.Done, error) {
			return b.RecordCauseCheck(t.Context(), lead, practice.RecordCauseCheck{Mutation: newID(), Unasked: offline, ID: newID(), Visit: s.visit, Outcome: "inside-nothing", Places: []int32{1}})
		},
		"pass": func() (practice.Done, error) {
			return b.OpenPass(t.Context(), lead, practice.OpenPass{Mutation: newID(), Unasked: offline, ID: newID(), Visit: s.visit, Element: s.element, Plan: s.plan, Hand: &lead.Member, Instrument: &s.instrument, Scale: &s.scale, Face: "inside", Source: "metered", BeganAt: s.at(b)})
		},
		"photo": func() (practice.Done, error) {
			return b.AddPhoto(t.Context(), lead, practice.AddPhoto{Mutation: newID(), Unasked: offline, ID: newID(), Upload: upload, Vessel: s.vessel, Visit: &s.visit})
		},
		"marks": func() (practice.Done, error) {
			return b.MarkHull(t.Context(), lead, practice.MarkHull{Mutation: newID(), Unasked: offline, Marks: practice.HullMarks{ID: newID(), VisitID: s.visit, MadeWith: "tape", Where: "round the patch", MadeAt: noted}})
		},
		"call": func() (practice.Done, error) {
			return b.AddAttendanceNote(t.Context(), lead, practice.AddAttendanceNote{Mutation: newID(), Unasked: offline, Note: practice.AttendanceNote{ID: newID(), JobID: s.job, Kind: "call", At: noted, Text: "he had no plan", PreviousSurveyor: true}})
		},
	} {
		if _, err := send(); err != nil {
			t.Errorf("%s: what was noted offline is lost: %v", name, err)
		}
	}
	page := func() practice.JobPage { return must[practice.JobPage](t)(b.Job(t.Context(), lead, s.job)) }
	acts := page().WithoutLeave
	if len(acts) != 8 { // the check needs two permissions
		t.Fatalf("%d are marked: %+v", len(acts), acts)
	}
	said := map[string]practice.ActWithoutLeave{}
	for _, x := range acts {
		if x.Reason != "" || x.Stood == "" || x.NotedAt == nil || !x.NotedAt.Equal(noted) || x.ByName != "The surveyor" {
			t.Errorf("kept as %+v", x)
		}
		said[x.Text] = x
	}
	window, there := said["A window was bared on 8 April 2026 without recorded leave: scraping coatings."]
	if !there {
		t.Fatalf("the window is not told: %v", said)
	}
	waits := func(text string) bool {
		return slices.ContainsFunc(page().Stands, func(o practice.Obstacle) bool { return o.Code == "without-leave" && strings.Contains(o.Text, text) })
	}
	if !waits(window.Text) {
		t.Error("nobody is asked why")
	}
	explain := practice.ExplainAct{Mutation: newID(), ID: window.ID, Reason: " the owner stood by and agreed "}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ExplainAct(ctx, lead, explain) })
	if waits(window.Text) {
		t.Error("it is asked again")
	}
	for _, x := range page().WithoutLeave {
		if x.ID == window.ID && (x.Reason != "the owner stood by and agreed" || x.ReasonBy != "The surveyor" || x.ReasonAt == nil) {
			t.Errorf("explained: %+v", x)
		}
	}
	explain.Mutation = newID()
	_, err := b.ExplainAct(t.Context(), lead, explain)
	want(t, err, domain.Conflict)
	// On the spot the service can be asked: a reason, or nothing is kept.
	want(t, b.bare(s, lead, &practice.Unasked{Reason: "  "}), domain.Conflict, "withoutLeave")
	want(t, b.bare(s, lead, &practice.Unasked{Reason: "the owner said yes on the quay"}), domain.Internal)
	if n := len(page().WithoutLeave); n != 9 {
		t.Errorf("%d are marked", n)
	}
	// With leave there is nothing to explain.
	b.answer(s.job, "scrape", given(3))
	want(t, b.bare(s, lead, offline), domain.Internal)
	if n := len(page().WithoutLeave); n != 9 {
		t.Errorf("%d are marked, and one of them had leave", n)
	}
}

// A window that comes late and comes again is kept once, with one mark.
func TestALateWindowIsKeptOnce(t *testing.T) {
	t.Parallel()
	b := setup(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	b.exec(`delete from permissions where job_id = $1`, s.job)
	in := practice.RecordWindow{Mutation: newID(), Unasked: &practice.Unasked{NotedAt: ptr(s.at(b))}, Window: practice.Window{
		ID: newID(), VisitID: s.visit, ElementID: s.element, Side: "port", AlongMm: 900, DownMm: 300, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat",
	}}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordWindow(ctx, lead, in) })
	if n, marks := value[int](b, `select count(*) from windows`), value[int](b, `select count(*) from acts_without_leave`); n != 1 || marks != 1 {
		t.Errorf("%d windows and %d marks", n, marks)
	}
}

// A lift that the owner has not allowed is asked for and not booked; the owner's word in
// any open job of hers counts, and one whom no job needs lifted is booked without.
func TestLeaveToLiftStandsBeforeTheBooking(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel := b.vessel(b.ours, "Petrel")
	book := func(askedOnly bool) (uuid.UUID, error) {
		in := ashore(petrel, at(20), at(30))
		in.AskedOnly = askedOnly
		_, err := b.AddSpell(t.Context(), office, in)
		return in.ID, err
	}
	nobodys, err := book(false)
	want(t, err, domain.Internal)
	b.exec(`delete from spells where id = $1`, nobodys)
	job := b.job(b.ours, petrel, false) // limited moisture
	_, err = book(false)
	want(t, err, domain.Conflict, "askedOnly")
	if err == nil || !strings.Contains(err.Error(), "Nobody has been asked yet for leave: lifting her. Job 2026-") {
		t.Errorf("it does not say which job needs it: %v", err)
	}
	spell, err := book(true)
	want(t, err, domain.Internal)
	agree := func(version int32) error {
		_, err := b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: spell, Version: version, AskedOnly: ptr(false)})
		return err
	}
	want(t, agree(1), domain.Conflict, "askedOnly")
	_, err = b.EditSpell(t.Context(), office, practice.EditSpell{Mutation: newID(), ID: spell, Version: 1, Notes: ptr("by the east crane")})
	want(t, err, domain.Internal)
	b.answer(b.job(b.ours, petrel, false), "lift", given(3)) // the owner's own job
	want(t, agree(2), domain.Internal)
	b.exec(`update spells set asked_only = true where id = $1`, spell)
	b.answer(job, "lift", refused(5))
	want(t, agree(3), domain.Conflict, "askedOnly")
	// Others' job numbers are not told.
	b.exec(`update permissions set job_id = job_id, refused_on = null where job_id = $1`, job)
	b.exec(`delete from permissions`)
	b.exec(`update jobs set restricted = true where vessel_id = $1`, petrel)
	if err := agree(3); err == nil || strings.Contains(err.Error(), "2026-") {
		t.Errorf("a job is told of that is not the reader's: %v", err)
	}
}

func TestLeaveToBoardCoversPhotographsNobodySpokeOf(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	add := func() error {
		upload := b.uploaded(lead, "photo", "image/jpeg", photo(t, 40, 30))
		_, err := b.AddPhoto(t.Context(), lead, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: upload, Vessel: s.vessel, Visit: &s.visit})
		return err
	}
	want(t, add(), domain.Internal)
	b.answer(s.job, "board and survey", refused(4))
	want(t, add(), domain.Conflict, "withoutLeave")
	b.answer(s.job, "board and survey", given(5))
	b.answer(s.job, "photograph", asked)
	want(t, add(), domain.Conflict, "withoutLeave")
}

func TestAReportIsItsClientsUntilTheClientSaysOtherwise(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	client := b.party(b.ours, "Ada Skerry")
	b.exec(`update jobs set client_id = $1 where id = $2`, client, w.job)
	share := func(name string, party *uuid.UUID) error {
		_, _, err := b.ShareReport(t.Context(), b.ours.of[domain.Office], practice.ShareReport{
			Mutation: newID(), ID: newID(), Report: w.report, Party: party, Name: name, Email: "somebody@post.example", Until: b.clock.now().Add(time.Hour),
		})
		return err
	}
	want(t, share("ada skerry", nil), domain.Internal)
	want(t, share("A. S.", &client), domain.Internal)
	want(t, share("The underwriter", nil), domain.Conflict, "name")
	broker := b.party(b.ours, "K. Lorne")
	_, err := b.RecordPermission(t.Context(), b.ours.of[domain.Office], practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: newID(), JobID: w.job, What: "share the report", GivenOn: at(3), GivenByID: &broker}})
	want(t, err, domain.Invalid, "givenBy")
	b.answer(w.job, "share the report", func(p *practice.Permission) { p.GivenOn, p.GivenByID = at(3), &client })
	want(t, share("The underwriter", nil), domain.Internal)
}

func TestABuyersNameIsABuyers(t *testing.T) {
	t.Parallel()
	b := setup(t)
	petrel := b.vessel(b.ours, "Petrel")
	buyer := b.party(b.ours, "Bo Rasmus")
	in := newJob(petrel)
	in.Kind, in.Client = "pre-purchase", &buyer
	must[practice.Done](t)(b.AddJob(t.Context(), b.ours.of[domain.Office], in))
	_, err := b.RecordPermission(t.Context(), b.ours.of[domain.Office], practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: newID(), JobID: in.ID, What: "scrape", GivenOn: at(2), GivenByName: " bo rasmus "}})
	want(t, err, domain.Invalid, "givenBy")
}

func TestWhatWasAskedForStandsInTheWay(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.answer(s.job, "open blisters", refused(4))
	var found bool
	for _, o := range must[practice.JobPage](t)(b.Job(t.Context(), b.ours.of[domain.Office], s.job)).Stands {
		found = found || o.Code == "permission-refused" && o.Stops == "opening" && strings.Contains(o.Text, "opening blisters")
	}
	if !found {
		t.Error("the refusal is not named")
	}
}

func TestWhoWasInvitedHearsOfAMoveOnce(t *testing.T) {
	t.Parallel()
	b := setup(t)
	b.exec(`update practices set email = 'office@quay.example' where practice_id = $1`, b.ours.id)
	s := b.survey(b.ours, "Petrel")
	office := b.ours.of[domain.Office]
	visit := newID()
	from := s.at(b).AddDate(0, 0, 20)
	must[practice.Done](t)(b.PlanVisit(t.Context(), office, practice.PlanVisit{Mutation: newID(), ID: visit, Job: s.job, Kind: "other", From: from, To: from.Add(time.Hour), TimeZone: "Europe/Dublin"}))
	version := int32(1)
	edit := func(change func(*practice.EditVisit)) {
		t.Helper()
		in := practice.EditVisit{Mutation: newID(), ID: visit, Version: version}
		change(&in)
		must[practice.Done](t)(b.EditVisit(t.Context(), office, in))
		version++
	}
	letters := func() int {
		return value[int](b, `select count(*) from mails where kind = 'invitation to a visit'`)
	}
	move := func(hours int) {
		edit(func(in *practice.EditVisit) {
			in.From, in.To = ptr(from.Add(time.Duration(hours)*time.Hour)), ptr(from.Add(time.Duration(hours+1)*time.Hour))
		})
	}
	move(1)
	if n := letters(); n != 0 {
		t.Fatalf("%d letters went to people who were never asked", n)
	}
	must[practice.Done](t)(b.InviteToVisit(t.Context(), office, practice.InviteToVisit{Mutation: newID(), ID: newID(), Visit: visit, Name: "Anna Dunlin", Email: "anna@dunlin.example"}))
	edit(func(in *practice.EditVisit) { in.Note = ptr("bring the long ladder") })
	if n := letters(); n != 1 {
		t.Fatalf("%d letters, want the invitation alone: nothing moved", n)
	}
	move(3)
	edit(func(in *practice.EditVisit) { in.State = ptr("cancelled") })
	sent := strings.Split(value[string](b, `select string_agg(replace(calendar, E'\r\n ', ''), '|' order by created_at, id) from mails where kind = 'invitation to a visit'`), "|")
	if len(sent) != 3 {
		t.Fatalf("%d letters, want the invitation, the move and the end", len(sent))
	}
	for k, lines := range [][]string{{"METHOD:REQUEST", "SEQUENCE:1"}, {"METHOD:REQUEST", "SEQUENCE:2"}, {"METHOD:CANCEL", "SEQUENCE:3", "STATUS:CANCELLED"}} {
		for _, line := range append(lines, "UID:vis_"+visit.String()) {
			if !strings.Contains(sent[k], line) {
				t.Errorf("letter %d lacks %q:\n%s", k, line, sent[k])
			}
		}
	}
	page := must[practice.VisitPage](t)(b.Visit(t.Context(), office, visit, practice.VisitParts{Invited: true}))
	if len(page.Invited) != 1 || !page.Invited[0].Called || page.Invited[0].Sequence != 3 {
		t.Errorf("invited: %+v", page.Invited)
	}
}

// at is when the survey's visit begins.
func (s survey) at(b *bundle) time.Time {
	return value[time.Time](b, `select from_at from visits where id = $1`, s.visit)
}

// What a report and a brief say is not permitted follows the last word, whatever was
// refused or asked before.
func TestTheLastWordOnAPermissionIsPrinted(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.answer(w.job, "drill or core", refused(2))
	b.answer(w.job, "drill or core", given(4))
	b.answer(w.job, "open blisters", given(2))
	b.answer(w.job, "open blisters", refused(5))
	b.answer(w.job, "photograph", asked)
	b.answer(w.job, "photograph", asked)
	b.answer(w.job, "mark the hull", given(2))
	b.answer(w.job, "mark the hull", refused(5))
	b.answer(w.job, "share the report", refused(5)) // no limit of what was seen
	page := must[practice.ReportPage](t)(b.Report(t.Context(), b.ours.of[domain.Surveyor], w.report))
	if !strings.Contains(string(page.Content), "Not permitted, or not asked: mark the hull, open blisters and photograph.") {
		t.Errorf("of permissions the report says %v", regexp.MustCompile(`Not permitted[^"]*`).FindAllString(string(page.Content), -1))
	}
	brief := must[practice.Brief](t)(b.Brief(t.Context(), b.ours.of[domain.Surveyor], w.job))
	if !slices.Contains(brief.Missing, "mark the hull") {
		t.Errorf("what was taken back is not among the missing: %v", brief.Missing)
	}
}
