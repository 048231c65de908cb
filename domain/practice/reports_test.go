package practice_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/store"
)

// written is a survey with its readings taken and closed, and a draft that lacks nothing.
type written struct {
	survey
	pass, report uuid.UUID
}

// write makes one for a client; with a store of files, so that it can be issued.
func write(t *testing.T) (*bundle, *store.Objects, written) {
	t.Helper()
	b, _, objects := withFiles(t)
	return b, objects, b.write(b.survey(b.ours, "Petrel"), b.party(b.ours, "A. Ferrant"))
}

func (b *bundle) write(s survey, client uuid.UUID) written {
	b.t.Helper()
	ctx, lead := b.t.Context(), b.ours.of[domain.Surveyor]
	done := must[practice.Done](b.t)
	spec, err := figure.Default("finKeelSloop", figure.Dims{LOA: 10.5, Beam: 3.3, Draught: 1.8})
	if err != nil {
		b.t.Fatal(err)
	}
	shape, err := json.Marshal(spec)
	if err != nil {
		b.t.Fatal(err)
	}
	b.exec(`update elements set figure = $2 where id = $1`, s.element, shape)
	b.exec(`update jobs set client_id = $2 where id = $1`, s.job, client)
	w := written{survey: s, pass: b.pass(b.ours, s), report: newID()}
	tenths := map[int32]int16{}
	for ordinal := int32(1); ordinal <= 16; ordinal++ {
		tenths[ordinal] = 120 + int16(ordinal)
		if (ordinal-1)/2%2 == 1 { // the second row, below the water
			tenths[ordinal] += 100
		}
	}
	done(b.AddReadings(ctx, lead, batch(w.pass, tenths)))
	done(b.ClosePass(ctx, lead, practice.ClosePass{Mutation: newID(), ID: w.pass, Version: 1, At: b.clock.now()}))
	done(b.DraftReport(ctx, lead, practice.DraftReport{Mutation: newID(), ID: w.report, Job: s.job, Paper: "A4"}))
	done(b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: w.report, Version: 1, InShort: ptr("Looked over, nothing more to say.")}))
	return w
}

// issued issues a report and makes its page and PDF, as the job does.
func (b *bundle) issued(w written) {
	b.t.Helper()
	ctx, lead := b.t.Context(), b.ours.of[domain.Surveyor]
	page := must[practice.ReportPage](b.t)(b.Report(ctx, lead, w.report))
	must[practice.Done](b.t)(b.IssueReport(ctx, lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version}))
	if err := b.MakeReport(ctx, practice.ReportJob{Practice: b.ours.id, Report: w.report}); err != nil {
		b.t.Fatal(err)
	}
}

// amended writes an addendum to an issued report, issues it and makes its page and PDF.
func (b *bundle) amended(w written) {
	b.t.Helper()
	ctx, lead, id := b.t.Context(), b.ours.of[domain.Surveyor], newID()
	must[practice.Done](b.t)(b.WriteAddendum(ctx, lead, practice.WriteAddendum{Mutation: newID(), ID: id, Report: w.report, Text: "Row 2 was read on the scraped windows."}))
	must[practice.Done](b.t)(b.IssueAddendum(ctx, lead, practice.IssueAddendum{Mutation: newID(), ID: id, Version: 1}))
	if err := b.MakeAddendum(ctx, practice.AddendumJob{Practice: b.ours.id, Addendum: id}); err != nil {
		b.t.Fatal(err)
	}
}

// What a later report subtracts from is its business too: a correction of an earlier visit
// asks every report that compares with it for an addendum, in words of its own.
func TestACorrectionReachesTheReportsThatCompareWithIt(t *testing.T) {
	t.Parallel()
	b, _, first := write(t)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	client := value[uuid.UUID](b, `select client_id from jobs where id = $1`, first.job)
	b.issued(first)
	b.exec(`update passes set began_at = began_at - interval '2 days' where id = $1`, first.pass)

	again := first.survey
	job := newJob(again.vessel)
	job.Lead = &lead.Member
	again.job, again.visit = job.ID, newID()
	must[practice.Done](t)(b.AddJob(ctx, b.ours.of[domain.Office], job))
	visit := again.planned(again.visit, lead.Member)
	visit.From, visit.To = visit.From.AddDate(0, 0, 3), visit.To.AddDate(0, 0, 3)
	must[practice.Done](t)(b.PlanVisit(ctx, b.ours.of[domain.Office], visit))
	second := b.write(again, client)
	b.issued(second)

	read := func(w written, place int) practice.Reading {
		all := must[practice.Place](t)(b.Place(ctx, lead, w.places[place])).Readings
		return all[slices.IndexFunc(all, func(r practice.Reading) bool { return r.PassID == w.pass })]
	}
	old := read(first, 2)
	done := must[practice.Done](t)(b.VoidReading(ctx, lead, practice.VoidReading{Mutation: newID(), Reading: old.ID, Reason: "pads not flat"}))
	if !done.Asks {
		t.Error("it asks for no addendum")
	}
	for report, because := range map[uuid.UUID]string{
		first.report:  "A reading printed in this report was made void.",
		second.report: "A reading of an earlier visit that this report compares with was made void.",
	} {
		if got := value[string](b, `select coalesce((select required_because from addenda where report_id = $1), '')`, report); got != because {
			t.Errorf("the addendum is required because %q, want %q", got, because)
		}
	}
	if !strings.HasSuffix(old.PrintedIn, "-001") {
		t.Errorf("the reading was printed in %q: comparing prints nothing", old.PrintedIn)
	}
	must[practice.Done](t)(b.VoidReading(ctx, lead, practice.VoidReading{Mutation: newID(), Reading: read(second, 3).ID, Reason: "water on the skin"}))
	if n := value[int](b, `select count(*) from addenda where report_id = $1`, first.report); n != 1 {
		t.Errorf("a correction of the later visit asks the earlier report %d times", n-1)
	}
}

func TestAReportIsFrozenWithItsNumberAndItsBytes(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	in := practice.IssueReport{Mutation: newID(), ID: w.report, Version: 2}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.IssueReport(ctx, lead, in) })
	frozen := value[[]byte](b, `select content from report_snapshots where report_id = $1`, w.report)
	for range 2 { // a job may run again
		if err := b.MakeReport(t.Context(), practice.ReportJob{Practice: b.ours.id, Report: w.report}); err != nil {
			t.Fatal(err)
		}
	}
	page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report))
	if page.State != "issued" || !strings.HasSuffix(page.Number, "-001") || page.PdfPages == nil || *page.PdfPages < 2 {
		t.Errorf("state %s, number %s, pages %v", page.State, page.Number, page.PdfPages)
	}
	if !bytes.Equal(page.Content, frozen) {
		t.Error("an issued report shows other content than was frozen")
	}
	for key, hash := range map[string][]byte{*page.PdfKey: page.PdfSha256, *page.PageKey: page.PageSha256} {
		kept := must[[]byte](t)(objects.Get(t.Context(), key, 1<<26))
		if sum := sha256.Sum256(kept); !bytes.Equal(sum[:], hash) {
			t.Errorf("%s does not fit the hash recorded at issue", key)
		}
	}
	content, err := report.Decode(frozen)
	if err != nil {
		t.Fatal(err)
	}
	if content.Issue.Draft || content.Signature == nil || content.AuditHead == "" || len(content.Passes) != 1 {
		t.Errorf("the frozen report lacks something: %+v", content.Issue)
	}
	if s := value[string](b, `select state from passes where id = $1`, w.pass); s != "frozen" {
		t.Errorf("its pass is %s, want frozen", s)
	}
}

// asApp runs a statement as the service's role, in our practice.
func (b *bundle) asApp(ctx context.Context, sql string, args ...any) error {
	return pgx.BeginFunc(ctx, b.store.Pool(), func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `select set_config('app.practice', $1, true)`, b.ours.id.String()); err != nil {
			return err
		}
		_, err := tx.Exec(ctx, sql, args...)
		return err
	})
}

func TestAnIssuedReportIsNeverChanged(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	page := must[practice.ReportPage](t)(b.Report(ctx, lead, w.report))
	_, err := b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: w.report, Version: page.Version, InShort: ptr("other words")})
	want(t, err, domain.Conflict)
	_, err = b.IssueReport(ctx, lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: page.Version})
	want(t, err, domain.Conflict)
	for what, sql := range map[string]string{
		"words":    `update reports set in_short = 'other words' where id = $1`,
		"number":   `update reports set number = '2026-999' where id = $1`,
		"state":    `update reports set state = 'draft', number = null where id = $1`,
		"reissue":  `update reports set state = 'issuing' where id = $1`,
		"snapshot": `update report_snapshots set content = '{}' where report_id = $1`,
		"remove":   `delete from report_snapshots where report_id = $1`,
		"bytes":    `update report_issues set pdf_sha256 = sha256('') where report_id = $1`,
		"readings": `update readings set value = 1 where pass_id = (select pass_id from report_passes where report_id = $1)`,
	} {
		if err := b.asApp(ctx, sql, w.report); err == nil {
			t.Errorf("%s: the service's role could change an issued report", what)
		}
	}
}

func TestACorrectionAfterIssueAsksForAnAddendum(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	reading := value[uuid.UUID](b, `select id from readings where pass_id = $1 order by id limit 1`, w.pass)
	done := must[practice.Done](t)(b.SupersedeReading(ctx, lead, practice.SupersedeReading{
		Mutation: newID(), ID: newID(), Reading: reading, How: "correct", Reason: "typed in the wrong row", Placements: []int16{131}, TakenAt: b.clock.now(),
	}))
	page := must[practice.ReportPage](t)(b.Report(ctx, lead, w.report))
	if !done.Asks || len(page.Addenda) != 1 || page.Addenda[0].State != "required" {
		t.Errorf("asks %v, addenda %+v: want one required", done.Asks, page.Addenda)
	}
}

// Whatever is put right while a report is issued is either in it or asks for an addendum.
func TestAReportPrintsWhatItsPassesAreWhenItIsFrozen(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	err := b.meanwhile(`update passes set surface = 'epoxy' where id = '`+w.pass.String()+`'`, func() error {
		_, err := b.IssueReport(t.Context(), lead, practice.IssueReport{Mutation: newID(), ID: w.report, Version: 2})
		return err
	})
	want(t, err, domain.Internal)
	if frozen := value[[]byte](b, `select content from report_snapshots where report_id = $1`, w.report); !bytes.Contains(frozen, []byte("epoxy")) {
		t.Error("the report prints what its pass was before")
	}
}

// Two addenda that are asked for at once get two numbers.
func TestAddendaAskedForAtOnceAreNumberedApart(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	reading := value[uuid.UUID](b, `select id from readings where pass_id = $1 order by id limit 1`, w.pass)
	err := b.meanwhile(fmt.Sprintf(`select from reports where id = '%[2]s' for update; insert into addenda (practice_id, id, report_id, number, text, state) values ('%[1]s', '%[3]s', '%[2]s', 1, 'First.', 'draft')`, b.ours.id, w.report, newID()), func() error {
		_, err := b.VoidReading(t.Context(), b.ours.of[domain.Surveyor], practice.VoidReading{Mutation: newID(), Reading: reading, Reason: "wrong place"})
		return err
	})
	want(t, err, domain.Internal)
	if last := value[int](b, `select max(number) from addenda where report_id = $1`, w.report); last != 2 {
		t.Errorf("the last is number %d", last)
	}
}

func TestWhatStandsInTheWayOfIssueIsSaid(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	b.pass(b.ours, s)
	id := newID()
	must[practice.Done](t)(b.DraftReport(ctx, lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Paper: "A4"}))
	b.exec(`update practices set review_required = true where practice_id = $1`, b.ours.id)
	page := must[practice.ReportPage](t)(b.Report(ctx, lead, id))
	codes := map[string]bool{}
	for _, w := range page.InTheWay {
		codes[w.Code] = true
	}
	for _, code := range []string{"client.name", "passes", "secondLook"} {
		if !codes[code] {
			t.Errorf("%s is not said to stand in the way: %+v", code, page.InTheWay)
		}
	}
	_, err := b.IssueReport(ctx, lead, practice.IssueReport{Mutation: newID(), ID: id, Version: 1})
	want(t, err, domain.Invalid)
	if n := value[int](b, `select count(*) from report_counters`); n != 0 {
		t.Error("a refused issue took a number")
	}
	_, err = b.IssueReport(ctx, b.ours.of[domain.Trainee], practice.IssueReport{Mutation: newID(), ID: id, Version: 1})
	want(t, err, domain.Forbidden)
}

func TestDocumentsOfAuthorisedPersonsAreNeverMade(t *testing.T) {
	t.Parallel()
	b := setup(t)
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	for _, kind := range []string{"tonnage", "code"} {
		b.exec(`update jobs set kind = $2 where id = $1`, job, kind)
		_, err := b.DraftReport(t.Context(), b.ours.of[domain.Surveyor], practice.DraftReport{Mutation: newID(), ID: newID(), Job: job, Paper: "A4"})
		want(t, err, domain.Invalid, "job")
	}
}

// A buyer's job, then an owner's: nothing of the first may be in what the second gets,
// unless the first client's terms allow it.
func TestOneClientsEvidenceStaysOutOfAnothersReport(t *testing.T) {
	t.Parallel()
	b, _, buyers := write(t)
	ctx, lead := t.Context(), b.ours.of[domain.Surveyor]
	must[practice.Done](t)(b.AddRecommendation(ctx, lead, practice.AddRecommendation{Mutation: newID(), Recommendation: practice.Recommendation{
		ID: newID(), JobID: buyers.job, Grade: "Planned work", Sure: "seen", What: "Renew the seacock of the galley drain.",
	}}))
	b.issued(buyers)
	owners := buyers.survey
	owners.job, owners.visit = newID(), newID()
	b.exec(`insert into jobs (practice_id, id, vessel_id, number, kind, created_at) values ($1, $2, $3, '2026-900', 'insurance', $4)`, b.ours.id, owners.job, owners.vessel, b.clock.now())
	b.exec(`insert into visits (practice_id, id, job_id, spell_id, kind, from_at, to_at, time_zone) select practice_id, $2, $3, spell_id, kind, from_at, to_at, time_zone from visits where id = $1`,
		buyers.visit, owners.visit, owners.job)
	second := b.write(owners, b.party(b.ours, "K. Lorne"))
	page := must[practice.ReportPage](t)(b.Report(ctx, lead, second.report))
	if page.LeftOut == 0 {
		t.Error("the surveyor is not told that something was left out")
	}
	for _, datum := range []string{"A. Ferrant", "seacock of the galley drain", "pas_" + buyers.pass.String()} {
		if bytes.Contains(page.Content, []byte(datum)) {
			t.Errorf("the owner's report holds %q of the buyer's", datum)
		}
	}
	var content report.Report
	if err := json.Unmarshal(page.Content, &content); err != nil {
		t.Fatal(err)
	}
	if len(content.Visits) != 0 || len(content.Changes) != 0 {
		t.Errorf("the owner's report speaks of the buyer's visit: %+v", content.Visits)
	}
	b.exec(`update jobs set cite = 'vessel history without names' where id = $1`, buyers.job)
	page = must[practice.ReportPage](t)(b.Report(ctx, lead, second.report))
	if err := json.Unmarshal(page.Content, &content); err != nil {
		t.Fatal(err)
	}
	if page.LeftOut != 0 || len(content.Visits) != 1 || bytes.Contains(page.Content, []byte("A. Ferrant")) {
		t.Errorf("left out %d, visits %d: want the visit told, without its client", page.LeftOut, len(content.Visits))
	}
}

func TestAShareOpensWhatItNamesAndNothingElse(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	in := practice.ShareReport{
		Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "ferrant@post.example", Purpose: "your survey", Until: b.clock.now().Add(30 * 24 * time.Hour),
	}
	_, _, err := b.ShareReport(ctx, office, in)
	want(t, err, domain.Conflict) // a draft is shared with nobody
	b.issued(w)
	_, link, err := b.ShareReport(ctx, office, in)
	if err != nil {
		t.Fatal(err)
	}
	if _, again, err := b.ShareReport(ctx, office, in); err != nil || again != "" {
		t.Errorf("sent again: link %q, %v: the secret is told once", again, err)
	}
	token := link[strings.LastIndexByte(link, '/')+1:]
	if !strings.Contains(b.letter("ferrant@post.example"), token) {
		t.Error("the letter does not hold the link")
	}
	for range 3 { // a scanner, then the person: opening uses nothing up
		shared, content, err := b.OpenShare(ctx, token, "page")
		if err != nil || shared.ReportID != w.report || content.Vessel.Name != "Petrel" {
			t.Fatalf("%+v, %v", shared, err)
		}
	}
	for _, bad := range []string{token[:42], token + "a", swapCase(token), "", strings.Repeat("a", 43)} {
		_, _, err := b.OpenShare(ctx, bad, "page")
		want(t, err, domain.NotFound)
	}
	page := must[practice.ReportPage](t)(b.Report(ctx, office, w.report))
	if len(page.Shares) != 1 || page.Shares[0].Openings != 3 {
		t.Errorf("shares %+v: want one, opened three times", page.Shares)
	}
	must[practice.Done](t)(b.WithdrawReport(ctx, b.ours.of[domain.Surveyor], practice.WithdrawReport{Mutation: newID(), ID: w.report, Version: page.Version, Reason: "read with the wrong scale"}))
	if shared, _, err := b.OpenShare(ctx, token, ""); err != nil || shared.State != "withdrawn" || shared.EndedBecause != "read with the wrong scale" {
		t.Errorf("state %q because %q, %v: a withdrawn report stays readable and says so, and why", shared.State, shared.EndedBecause, err)
	}
	if letter := b.letter("ferrant@post.example"); !strings.Contains(letter, "withdrawn") || !strings.Contains(letter, "read with the wrong scale") {
		t.Errorf("who holds the link is told %q", letter)
	}
	b.exec(`update jobs set restricted = true where id = $1`, w.job) // a job that is closed to her is none of hers
	_, err = b.RevokeShare(ctx, office, practice.RevokeShare{Mutation: newID(), ID: in.ID})
	want(t, err, domain.NotFound)
	b.exec(`update jobs set restricted = false where id = $1`, w.job)
	must[practice.Done](t)(b.RevokeShare(ctx, office, practice.RevokeShare{Mutation: newID(), ID: in.ID}))
	_, _, err = b.OpenShare(ctx, token, "page")
	want(t, err, domain.NotFound)
}

func TestAShareEndsWithItsDay(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	_, link, err := b.ShareReport(t.Context(), b.ours.of[domain.Office], practice.ShareReport{
		Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "ferrant@post.example", Until: b.clock.now().Add(time.Hour),
	})
	if err != nil {
		t.Fatal(err)
	}
	b.clock.pass(2 * time.Hour)
	_, _, err = b.OpenShare(t.Context(), link[strings.LastIndexByte(link, '/')+1:], "page")
	want(t, err, domain.NotFound)
}

func swapCase(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return r
	}, s)
}
