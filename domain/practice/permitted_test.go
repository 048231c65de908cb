package practice_test

import (
	"strings"
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

// A permission that is missing, unanswered or refused stops what needs it, and the newest
// answer counts: permissions are dated records with a name.
func TestWhatNeedsLeaveWaitsForIt(t *testing.T) {
	t.Parallel()
	b, _, objects := withFiles(t)
	lead := b.ours.of[domain.Surveyor]
	s := b.survey(b.ours, "Petrel")
	do := map[string]func() error{
		"scrape": func() error {
			_, err := b.RecordWindow(t.Context(), lead, practice.RecordWindow{Mutation: newID(), Window: practice.Window{ID: newID(), VisitID: s.visit, ElementID: s.element, Side: "port", AlongMm: 900, DownMm: 300, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}})
			return err
		},
		"drill or core": func() error {
			_, err := b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: newID(), VisitID: s.visit, ElementID: &s.element, Kind: "core sample", Sure: "seen", Text: "balsa, brown"}})
			return err
		},
		"open blisters": func() error {
			_, err := b.RecordCauseCheck(t.Context(), lead, practice.RecordCauseCheck{Mutation: newID(), ID: newID(), Visit: s.visit, Outcome: "liquid-acid-greasy", Places: []int32{1}})
			return err
		},
		"photograph": func() error {
			upload := b.uploaded(lead, "photo", "image/jpeg", photo(t, 40, 30))
			_, err := b.AddPhoto(t.Context(), lead, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: upload, Vessel: s.vessel, Visit: &s.visit})
			return err
		},
	}
	_ = objects
	for what, try := range do {
		t.Run(what, func(t *testing.T) {
			b.exec(`delete from permissions where job_id = $1`, s.job)
			for _, step := range []struct {
				says string
				then func(*practice.Permission)
				kind domain.Kind
			}{
				{"missing", nil, domain.Conflict},
				{"asked and unanswered", asked, domain.Conflict},
				{"given", given(3), domain.Internal},
				{"asked for more, which leaves what was given", asked, domain.Internal},
				{"taken back", refused(5), domain.Conflict},
				{"given anew", given(7), domain.Internal},
			} {
				if step.then != nil {
					b.answer(s.job, what, step.then)
				}
				if err := try(); domain.KindOf(err) != step.kind || err == nil != (step.kind == domain.Internal) {
					t.Errorf("%s: %v, want %v", step.says, err, step.kind)
				}
			}
		})
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
	want(t, add(), domain.Conflict, "visit")
	b.answer(s.job, "board and survey", given(5))
	b.answer(s.job, "photograph", asked)
	want(t, add(), domain.Conflict, "visit")
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
