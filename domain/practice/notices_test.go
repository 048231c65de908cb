package practice_test

import (
	"context"
	"net/mail"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

// hears lists what a member is told of, the newest first.
func (b *bundle) hears(a domain.Actor) (whats []string) {
	b.t.Helper()
	for _, n := range must[practice.Notices](b.t)(b.Notices(b.t.Context(), a, practice.Page{First: 50})).List {
		whats = append(whats, n.What)
	}
	return whats
}

func TestAVisitsPeopleHearOfIt(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead, trainee := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Trainee]
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	from := b.clock.now().Add(48 * time.Hour)
	plan := practice.PlanVisit{Mutation: newID(), ID: newID(), Job: job, Kind: "meter visit", From: from, To: from.Add(time.Hour), TimeZone: "Europe/Dublin", Lead: &lead.Member}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.PlanVisit(ctx, office, plan) })
	edit := func(change func(*practice.EditVisit)) {
		t.Helper()
		b.clock.pass(time.Minute)
		in := practice.EditVisit{Mutation: newID(), ID: plan.ID, Version: value[int32](b, `select version from visits where id = $1`, plan.ID)}
		change(&in)
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditVisit(ctx, office, in) })
	}
	edit(func(in *practice.EditVisit) { in.Note = ptr("bring the ladder") }) // tells nobody
	edit(func(in *practice.EditVisit) { in.From, in.To = ptr(from.Add(2*time.Hour)), ptr(from.Add(3*time.Hour)) })
	if got := b.hears(lead); !slices.Equal(got, []string{"visit moved", "visit booked"}) {
		t.Errorf("the lead is told %v", got)
	}
	edit(func(in *practice.EditVisit) { in.Lead = &trainee.Member })
	edit(func(in *practice.EditVisit) { in.State = ptr("cancelled") })
	if got := b.hears(lead); got[0] != "visit handed on" || len(got) != 3 {
		t.Errorf("who led it is told %v", got)
	}
	if got := b.hears(trainee); !slices.Equal(got, []string{"visit called off", "people of a visit"}) {
		t.Errorf("who leads it now is told %v", got)
	}
	if got := b.hears(office); len(got) != 0 {
		t.Errorf("the office is told of its own acts: %v", got)
	}
	n := must[practice.Notices](t)(b.Notices(ctx, lead, practice.Page{First: 1}))
	if n.Unseen != 3 || n.List[0].By != "The office" || !strings.Contains(n.List[0].Text(), "Petrel") {
		t.Errorf("%d unseen, %+v", n.Unseen, n.List[0])
	}
}

func TestNobodyHearsOfWhatIsNotTheirsToSee(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead, guest := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Guest]
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), true)
	b.let(office, job)
	b.exec(`update jobs set lead_id = $2 where id = $1`, job, lead.Member)
	give := func() {
		t.Helper()
		day := b.clock.now()
		must[practice.Done](t)(b.RecordPermission(ctx, office, practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: newID(), JobID: job, What: "photograph", GivenOn: &day, GivenByName: "A. Ferrant"}}))
	}
	give()
	if got := b.hears(lead); len(got) != 0 {
		t.Errorf("a lead who may not see the job is told %v", got)
	}
	b.let(lead, job)
	give()
	if got := b.hears(lead); !slices.Equal(got, []string{"permission given"}) {
		t.Errorf("let into it, the lead is told %v", got)
	}
	b.exec(`delete from job_access where job_id = $1 and member_id = $2`, job, lead.Member)
	if n := must[practice.Notices](t)(b.Notices(ctx, lead, practice.Page{First: 10})); len(n.List) != 0 || n.Unseen != 0 {
		t.Errorf("shut out again, the lead reads %+v", n)
	}
	b.exec(`update jobs set restricted = false, lead_id = $2 where id = $1`, job, guest.Member)
	give()
	if got := b.hears(guest); len(got) != 0 {
		t.Errorf("a guest who was not let in is told %v", got)
	}
}

func TestAFailedChangeTellsNobody(t *testing.T) {
	t.Parallel()
	b := setup(t)
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	lead, from := b.ours.of[domain.Surveyor].Member, b.clock.now()
	_, err := b.PlanVisit(t.Context(), b.ours.of[domain.Office], practice.PlanVisit{
		Mutation: newID(), ID: newID(), Job: job, Kind: "no such kind", From: from, To: from.Add(time.Hour), TimeZone: "Europe/Dublin", Lead: &lead,
	})
	want(t, err, domain.Invalid)
	if n := value[int](b, `select count(*) from notices`); n != 0 {
		t.Errorf("%d notices", n)
	}
}

// digests are the letters of notices that a member was sent.
func (b *bundle) digests(member domain.Actor) (bodies []string) {
	b.t.Helper()
	rows, err := b.owner.Query(b.t.Context(), `select m.body from mails m join members x on x.email = m.recipient where m.kind = 'digest' and x.id = $1 order by m.created_at`, member.Member)
	if err != nil {
		b.t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var body string
		if err := rows.Scan(&body); err != nil {
			b.t.Fatal(err)
		}
		bodies = append(bodies, body)
	}
	return bodies
}

func TestADigestComesOnceADayAndEndsWithOnePress(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	b.exec(`update jobs set lead_id = $2 where id = $1`, job, lead.Member)
	must[practice.Done](t)(b.SetDigest(ctx, lead, practice.SetDigest{Mutation: newID(), Digest: "daily"}))
	if n := value[int](b, `select count(*) from queue.river_job where kind = 'digest'`); n != 1 {
		t.Fatalf("%d jobs are asked for", n)
	}
	give := func() {
		b.clock.pass(time.Minute)
		day := b.clock.now()
		must[practice.Done](t)(b.RecordPermission(ctx, office, practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: newID(), JobID: job, What: "photograph", GivenOn: &day, GivenByName: "A. Ferrant"}}))
	}
	send := func(day string) {
		t.Helper()
		for range 3 {
			want(t, b.SendDigests(ctx, practice.DigestJob{Practice: b.ours.id, Day: day}), domain.Internal)
		}
	}
	give()
	send("2026-04-08")
	give()
	send("2026-04-09")
	send("2026-04-10") // nothing new
	got := b.digests(lead)
	if len(got) != 2 || strings.Count(got[0], "Leave was given for Petrel") != 1 || strings.Count(got[1], "Leave was given for Petrel") != 1 {
		t.Fatalf("the lead was sent\n%s", strings.Join(got, "\n---\n"))
	}
	var l entry.Letter
	row := b.owner.QueryRow(ctx, `select recipient, subject, unsubscribe from mails where kind = 'digest' order by created_at limit 1`)
	if err := row.Scan(&l.To, &l.Subject, &l.Unsubscribe); err != nil {
		t.Fatal(err)
	}
	if _, err := mail.ParseAddress(l.To); err != nil || !strings.HasPrefix(l.Unsubscribe, publicURL+"/unsubscribe/") {
		t.Errorf("%+v, %v", l, err)
	}
	token := l.Unsubscribe[strings.LastIndexByte(l.Unsubscribe, '/')+1:]
	if n := value[int](b, `select count(*) from digests where position($1 in encode(token_sha256, 'escape')) > 0`, token); n != 0 {
		t.Error("the token itself is kept")
	}
	for _, bad := range []string{"", token[:42], token + "a", strings.Repeat("a", 43)} {
		want(t, b.Unsubscribe(ctx, bad), domain.NotFound)
	}
	for range 2 {
		want(t, b.Unsubscribe(ctx, token), domain.Internal)
	}
	give()
	send("2026-04-11")
	if got := b.digests(lead); len(got) != 2 {
		t.Errorf("after the press %d letters", len(got))
	}
	if n := must[practice.Notices](t)(b.Notices(ctx, lead, practice.Page{First: 10})); n.Digest != "none" || n.Unseen != 3 {
		t.Errorf("digest %s, %d unseen", n.Digest, n.Unseen)
	}
}

func TestNoticesAreMarkedByTheirOwner(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office, lead := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	b.exec(`update jobs set lead_id = $2 where id = $1`, job, lead.Member)
	day := b.clock.now()
	must[practice.Done](t)(b.RecordPermission(ctx, office, practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: newID(), JobID: job, What: "photograph", GivenOn: &day, GivenByName: "A. Ferrant"}}))
	id := must[practice.Notices](t)(b.Notices(ctx, lead, practice.Page{First: 10})).List[0].ID
	_, err := b.SeeNotices(ctx, office, practice.SeeNotices{Mutation: newID(), Notices: []uuid.UUID{id}})
	want(t, err, domain.NotFound)
	in := practice.SeeNotices{Mutation: newID(), Notices: []uuid.UUID{id, id}}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SeeNotices(ctx, lead, in) })
	if n := must[practice.Notices](t)(b.Notices(ctx, lead, practice.Page{First: 10})); n.Unseen != 0 || n.List[0].SeenAt == nil {
		t.Errorf("%+v", n)
	}
}
