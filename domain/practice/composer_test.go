package practice_test

import (
	"bytes"
	"context"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// wording keeps a wording of our practice.
func (b *bundle) wording(title, body string, kinds ...string) uuid.UUID {
	b.t.Helper()
	in := practice.KeepWording{Mutation: newID(), ID: newID(), Title: title, Body: body, Kinds: kinds}
	must[practice.Done](b.t)(b.KeepWording(b.t.Context(), b.ours.of[domain.Principal], in))
	return in.ID
}

func (b *bundle) draftOf(report uuid.UUID) practice.ReportPage {
	b.t.Helper()
	return must[practice.ReportPage](b.t)(b.Report(b.t.Context(), b.ours.of[domain.Surveyor], report))
}

func unmet(page practice.ReportPage) (codes []string) {
	for _, u := range page.InTheWay {
		codes = append(codes, u.Code)
	}
	return codes
}

func TestADraftBeginsWithTheWordingOfItsKind(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.exec(`update jobs set kind = 'damage' where id = $1`, s.job)
	lead := b.ours.of[domain.Surveyor]
	b.wording("What happened", "{vessel} was looked at.", "damage")
	b.wording("Rigging", "Not examined.", "pre-purchase")
	every := b.wording("How she lay", "{vessel} lay at {yard}.")
	retired := practice.KeepWording{Mutation: newID(), ID: newID(), Title: "Old", Body: "Old words.", Retired: true}
	must[practice.Done](t)(b.KeepWording(t.Context(), b.ours.of[domain.Principal], retired))
	id := newID()
	must[practice.Done](t)(b.DraftReport(t.Context(), lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Paper: "A4"}))
	page := b.draftOf(id)
	var titles []string
	for _, x := range page.Sections {
		titles = append(titles, x.Title)
	}
	if !slices.Equal(titles, []string{"What happened", "How she lay"}) {
		t.Errorf("sections %v", titles)
	}
	if !bytes.Contains(page.Content, []byte("Petrel was looked at.")) {
		t.Error("the placeholder is not filled")
	}
	// A wording that changes leaves drafts with the words that they were given.
	must[practice.Done](t)(b.KeepWording(t.Context(), b.ours.of[domain.Principal], practice.KeepWording{Mutation: newID(), ID: every, Version: 1, Title: "How she lay", Body: "Other words."}))
	if page = b.draftOf(id); page.Sections[1].Body != "{vessel} lay at {yard}." || *page.Sections[1].WordingVersion != 1 {
		t.Errorf("the draft's words are now %q", page.Sections[1].Body)
	}
	list := must[[]practice.Wording](t)(b.Wordings(t.Context(), lead))
	k := slices.IndexFunc(list, func(w practice.Wording) bool { return w.ID == every })
	if got := list[k]; got.Version != 2 || len(got.Earlier) != 2 || got.Earlier[1].Body != "{vessel} lay at {yard}." {
		t.Errorf("%+v: want both versions readable", got)
	}
	_, err := b.KeepWording(t.Context(), b.ours.of[domain.Principal], practice.KeepWording{Mutation: newID(), ID: every, Version: 1, Title: "x", Body: "y"})
	want(t, err, domain.Conflict)
	_, err = b.KeepWording(t.Context(), b.ours.of[domain.Principal], practice.KeepWording{Mutation: newID(), ID: newID(), Title: "x", Kinds: []string{"tonnage"}})
	want(t, err, domain.Invalid, "kinds")
}

func TestAnEmptyPlaceholderStandsInTheWay(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	section := practice.AddSection{Mutation: newID(), ID: newID(), Report: w.report, Title: "Identity", Body: "Hull number {hull number}, for {client}, seen by {nobody}."}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddSection(ctx, lead, section) })
	page := b.draftOf(w.report)
	var texts []string
	for _, u := range page.InTheWay {
		if u.Code == "placeholder" {
			texts = append(texts, u.Text)
			if u.Thing.ID != section.ID {
				t.Errorf("%+v does not lead to its section", u)
			}
		}
	}
	if len(texts) != 2 || !strings.Contains(texts[0], "{hull number}") || !strings.Contains(texts[1], "no placeholder {nobody}") {
		t.Errorf("said: %v", texts)
	}
	if !bytes.Contains(page.Content, []byte("Hull number [hull number], for A. Ferrant")) {
		t.Errorf("the draft prints %s", page.Content)
	}
	_, err := b.IssueReport(t.Context(), lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version})
	want(t, err, domain.Invalid, "placeholder")
	// Filled where it belongs, it stands in the way no more: computed parts follow until issue.
	b.exec(`update vessels set hull_number_as_read = 'XX-41' where id = $1`, w.vessel)
	must[practice.Done](t)(b.EditSection(t.Context(), lead, practice.EditSection{Mutation: newID(), ID: section.ID, Version: 1, Body: ptr("Hull number {hull number}, for {client}.")}))
	if page = b.draftOf(w.report); len(page.InTheWay) != 0 || !bytes.Contains(page.Content, []byte("Hull number XX-41, for A. Ferrant.")) {
		t.Errorf("in the way: %+v", page.InTheWay)
	}
}

func TestTheSectionsOfADraft(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	done := must[practice.Done](t)
	one, two := newID(), newID()
	done(b.AddSection(ctx, lead, practice.AddSection{Mutation: newID(), ID: one, Report: w.report, Title: "Keel", Body: "Tapped all round."}))
	done(b.AddSection(ctx, lead, practice.AddSection{Mutation: newID(), ID: two, Report: w.report, Title: "Rudder"}))
	if page := b.draftOf(w.report); !slices.Contains(unmet(page), "section") || !bytes.Contains(page.Content, []byte(`"title":"Rudder","text":[]`)) {
		t.Errorf("a section without a word does not stand in the way, or is no empty list: %s", page.Content)
	}
	done(b.OrderSections(ctx, lead, practice.OrderSections{Mutation: newID(), Report: w.report, Sections: []uuid.UUID{two, one}}))
	_, err := b.OrderSections(ctx, lead, practice.OrderSections{Mutation: newID(), Report: w.report, Sections: []uuid.UUID{newID()}})
	want(t, err, domain.NotFound)
	if page := b.draftOf(w.report); page.Sections[0].ID != two {
		t.Error("the order was not kept")
	}
	done(b.EditSection(ctx, lead, practice.EditSection{Mutation: newID(), ID: two, Version: 1, LeftOut: ptr(true)}))
	_, err = b.EditSection(ctx, lead, practice.EditSection{Mutation: newID(), ID: two, Version: 1, Body: ptr("Written over older words.")})
	want(t, err, domain.Conflict)
	_, err = b.EditSection(ctx, b.theirs.of[domain.Surveyor], practice.EditSection{Mutation: newID(), ID: two, Version: 2, Body: ptr("Not theirs.")})
	want(t, err, domain.NotFound)
	_, err = b.EditSection(ctx, b.ours.of[domain.Office], practice.EditSection{Mutation: newID(), ID: two, Version: 2, Body: ptr("Not the office's.")})
	want(t, err, domain.Forbidden)
	page := b.draftOf(w.report)
	var content report.Report
	if err := json.Unmarshal(page.Content, &content); err != nil {
		t.Fatal(err)
	}
	if len(content.Sections) != 1 || content.Sections[0].Title != "Keel" || len(page.InTheWay) != 0 {
		t.Errorf("prints %+v, in the way %+v", content.Sections, page.InTheWay)
	}
	b.issued(w)
	_, err = b.EditSection(ctx, lead, practice.EditSection{Mutation: newID(), ID: one, Version: 1, Body: ptr("After issue.")})
	want(t, err, domain.Conflict)
	if err := b.asApp(ctx, `update report_sections set body = 'After issue.' where id = $1`, one); err == nil {
		t.Error("the service's role could change a section of an issued report")
	}
}

func TestWhatSaysTooMuchIsTold(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	id := newID()
	must[practice.Done](t)(b.AddSection(t.Context(), lead, practice.AddSection{Mutation: newID(), ID: id, Report: w.report, Title: "Hull", Body: "The hull is dry, at 12 % throughout."}))
	page := b.draftOf(w.report)
	var said []string
	for _, x := range page.Wording {
		said = append(said, x.Where+" "+x.Code)
	}
	if where := "sec_" + id.String(); !slices.Equal(said, []string{where + " dry", where + " percent"}) {
		t.Errorf("said %v", said)
	}
	if page.Sections[0].Body != "The hull is dry, at 12 % throughout." || slices.Contains(unmet(page), "wording") {
		t.Error("the words were changed, or stand in the way")
	}
}

func TestAnOpenCommentStandsInTheWay(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, lead, second := t.Context(), b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	in := practice.CommentOnDraft{Mutation: newID(), ID: newID(), Report: w.report, Section: "limits", About: "Nothing was opened.", Text: "Was the anchor locker not looked into?"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.CommentOnDraft(ctx, second, in) })
	page := b.draftOf(w.report)
	if !slices.Contains(unmet(page), "comment") || len(page.Comments) != 1 || page.Comments[0].ByID != second.Member {
		t.Errorf("in the way %v, comments %+v", unmet(page), page.Comments)
	}
	if bytes.Contains(page.Content, []byte("anchor locker")) {
		t.Error("a comment is printed")
	}
	_, err := b.IssueReport(ctx, lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version})
	want(t, err, domain.Invalid, "comment")
	must[practice.Done](t)(b.ResolveComment(ctx, lead, practice.ResolveComment{Mutation: newID(), ID: in.ID}))
	must[practice.Done](t)(b.ResolveComment(ctx, lead, practice.ResolveComment{Mutation: newID(), ID: in.ID, Open: true}))
	if page = b.draftOf(w.report); page.Comments[0].ResolvedAt != nil || !slices.Contains(unmet(page), "comment") {
		t.Error("an opened comment does not stand in the way again")
	}
	must[practice.Done](t)(b.ResolveComment(ctx, lead, practice.ResolveComment{Mutation: newID(), ID: in.ID}))
	if page = b.draftOf(w.report); len(page.InTheWay) != 0 || page.Comments[0].ResolvedBy == "" {
		t.Errorf("in the way %v", unmet(page))
	}
	b.issued(w)
	_, err = b.CommentOnDraft(ctx, second, practice.CommentOnDraft{Mutation: newID(), ID: newID(), Report: w.report, Text: "Too late."})
	want(t, err, domain.Conflict)
}

func TestWhatChangedSinceItWasSentForReview(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	must[practice.Done](t)(b.SendForReview(ctx, lead, practice.SendForReview{Mutation: newID(), ID: w.report, Version: 2}))
	page := b.draftOf(w.report)
	if page.State != "in review" || page.Sent == nil || page.Sent.Number != 1 || len(page.Differences) != 0 {
		t.Fatalf("state %s, sent %+v, differences %+v", page.State, page.Sent, page.Differences)
	}
	must[practice.Done](t)(b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: w.report, Version: page.Version, InShort: ptr("Looked over twice, nothing more to say.")}))
	page = b.draftOf(w.report)
	if page.State != "in review" || len(page.Differences) != 1 || page.Differences[0].Where != "inShort" {
		t.Fatalf("state %s, differences %+v", page.State, page.Differences)
	}
	if !slices.Contains(page.Differences[0].Runs, report.DifferenceRun{Kind: "new", Text: "over twice, "}) {
		t.Errorf("%+v", page.Differences[0].Runs)
	}
}

func TestWhoTakesTheSecondLook(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, lead, second := t.Context(), b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	b.exec(`update practices set review_required = true where practice_id = $1`, b.ours.id)
	look := func(a domain.Actor) error {
		_, err := b.TakeSecondLook(ctx, a, practice.TakeSecondLook{Mutation: newID(), ID: w.report, Version: b.draftOf(w.report).Version})
		return err
	}
	want(t, look(lead), domain.Invalid, "secondLook") // the writer cannot while another signs, too
	if err := look(second); err != nil {
		t.Fatal(err)
	}
	must[practice.Done](t)(b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: w.report, Version: b.draftOf(w.report).Version, Limits: ptr("The bilge was full.")}))
	if page := b.draftOf(w.report); page.SecondLookBy != nil || !slices.Contains(unmet(page), "secondLook") {
		t.Error("words that came after it do not ask for another second look")
	}
	// A practice of one waits, then looks again.
	b.exec(`update members set left_at = $2 where practice_id = $1 and id <> $3`, b.ours.id, b.clock.now(), lead.Member)
	page := b.draftOf(w.report)
	if page.LookFrom == nil {
		t.Fatal("nobody is told from when on a self-check counts")
	}
	want(t, look(lead), domain.Invalid, "secondLook")
	b.clock.pass(12 * time.Hour)
	if err := look(lead); err != nil {
		t.Fatal(err)
	}
	b.issued(w)
	if page = b.draftOf(w.report); !bytes.Contains(page.Content, []byte("Self-check by")) {
		t.Errorf("the report does not print that it was a self-check: %s", page.Content)
	}
}

func TestADraftsPDFIsMarked(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	pdf := must[[]byte](t)(b.DraftPDF(t.Context(), b.ours.of[domain.Surveyor], w.report))
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) || !bytes.Contains(pdf, []byte("/Watermark")) && len(pdf) < 10_000 {
		t.Errorf("%d bytes", len(pdf))
	}
	_, err := b.DraftPDF(t.Context(), b.theirs.of[domain.Surveyor], w.report)
	want(t, err, domain.NotFound)
	b.issued(w)
	_, err = b.DraftPDF(t.Context(), b.ours.of[domain.Surveyor], w.report)
	want(t, err, domain.NotFound)
}

// What has neither a reading nor a reason was not reached; the report never says that
// every place was.
func TestThePlacesThatNobodyReadAreLimits(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, lead, done := t.Context(), b.ours.of[domain.Surveyor], must[practice.Done](t)
	pass, id := b.pass(b.ours, s), newID()
	done(b.DraftReport(ctx, lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Paper: "A4"}))
	tenths := map[int32]int16{}
	for k := range len(s.places) - 3 {
		tenths[int32(k+1)] = 140
	}
	done(b.AddReadings(ctx, lead, batch(pass, tenths)))
	if page := b.draftOf(id); !bytes.Contains(page.Content, []byte("(no reason written down)")) || bytes.Contains(page.Content, []byte("Every place of the plan was reached.")) {
		t.Errorf("three places without a reading or a reason are not told: %s", page.Content)
	}
	last := map[int32]int16{}
	for k := range 3 {
		last[int32(len(s.places)-k)] = 140
	}
	done(b.AddReadings(ctx, lead, batch(pass, last)))
	b.exec(`insert into windows (practice_id, id, visit_id, element_id, side, along_mm, down_mm, width_mm, height_mm) values ($1, $2, $3, $4, 'port', 1000, 400, 100, 100)`, b.ours.id, newID(), s.visit, s.element)
	if page := b.draftOf(id); bytes.Contains(page.Content, []byte("othing was opened")) || bytes.Contains(page.Content, []byte("no window was scraped")) {
		t.Errorf("with a window scraped, and nothing known of what was opened, it says %s", page.Content)
	}
	if page := b.draftOf(id); !bytes.Contains(page.Content, []byte("Every place of the plan was reached.")) {
		t.Errorf("with every place read it says %s", page.Content)
	}
}

// A report is dated by the visit that was made, on its yard's clock, not by one to come.
func TestTheDateOfAReportIsOfTheVisitThatWasMade(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	b.exec(`update visits set state = 'done', from_at = '2026-04-08T22:30Z', to_at = '2026-04-08T23:30Z', time_zone = 'Pacific/Auckland' where id = $1`, w.visit)
	next := w.planned(newID(), lead.Member)
	next.Spell, next.From, next.To = nil, b.clock.now().AddDate(0, 1, 0), b.clock.now().AddDate(0, 1, 0).Add(time.Hour)
	must[practice.Done](t)(b.PlanVisit(t.Context(), b.ours.of[domain.Office], next))
	must[practice.Done](t)(b.AddSection(t.Context(), lead, practice.AddSection{Mutation: newID(), ID: newID(), Report: w.report, Title: "Attendance", Body: "Seen on {date} at {yard}."}))
	if page := b.draftOf(w.report); !bytes.Contains(page.Content, []byte("Seen on 9 April 2026 at Skerrow yard.")) {
		t.Errorf("the draft says %s", regexp.MustCompile(`Seen on[^"]*`).Find(page.Content))
	}
}
