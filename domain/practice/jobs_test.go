package practice_test

import (
	"context"
	"fmt"
	"maps"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func newJob(vessel uuid.UUID) practice.AddJob {
	return practice.AddJob{Mutation: newID(), ID: newID(), Vessel: vessel, Kind: "limited moisture", Cite: "this client only"}
}

func TestJobNumbersAreGivenOutInOrder(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel := b.vessel(b.ours, "Petrel")
	numbers := func() (out []string) {
		for _, j := range must[[]practice.JobTurn](t)(b.Jobs(t.Context(), office, practice.JobFilter{}, practice.Page{First: 50})) {
			out = append(out, j.Number)
		}
		return out
	}
	hand := newJob(petrel)
	hand.Number = " 2026-040 "
	must[practice.Done](t)(b.AddJob(t.Context(), office, hand))
	old := newJob(petrel)
	old.Number = "1998/7 b"
	must[practice.Done](t)(b.AddJob(t.Context(), office, old))
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if _, err := b.AddJob(t.Context(), office, newJob(petrel)); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
	got := map[string]bool{}
	for _, n := range numbers() {
		got[n] = true
	}
	for n := 40; n <= 48; n++ {
		if !got[fmt.Sprintf("2026-%03d", n)] {
			t.Errorf("there is no 2026-%03d in %v", n, got)
		}
	}
	again := newJob(petrel)
	again.Number = "2026-040"
	_, err := b.AddJob(t.Context(), office, again)
	want(t, err, domain.Conflict, "number")
	// Another practice counts for itself, and the year is that of the practice's zone.
	theirs := b.theirs.of[domain.Office]
	b.clock.pass(time.Date(2026, 12, 31, 23, 30, 0, 0, time.UTC).Sub(b.clock.now()))
	b.exec(`update practices set time_zone = 'Pacific/Auckland' where practice_id = $1`, b.theirs.id)
	must[practice.Done](t)(b.AddJob(t.Context(), theirs, newJob(b.vessel(b.theirs, "x"))))
	if n := value[string](b, `select number from jobs where practice_id = $1`, b.theirs.id); n != "2027-001" {
		t.Errorf("their first number is %s", n)
	}
}

func TestAJobIsKeptOnceAndReadBack(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, lead := b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	petrel, client := b.vessel(b.ours, "Petrel"), b.party(b.ours, "Oda Holm")
	in := newJob(petrel)
	in.Client, in.Lead, in.DueOn, in.Scope = &client, &lead.Member, ptr(time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)), "underbody, port and starboard"
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddJob(ctx, office, in) })
	in.Scope = "other"
	_, err := b.AddJob(t.Context(), office, in)
	want(t, err, domain.Conflict)
	j := must[practice.JobPage](t)(b.Job(t.Context(), lead, in.ID))
	if j.Number != "2026-001" || j.Client.Name != "Oda Holm" || j.Lead.ID != lead.Member || j.Vessel.Name != "Petrel" || j.Stage != "booked" || len(j.Access) != 1 {
		t.Errorf("read back %+v", j)
	}
	_, err = b.EditJob(t.Context(), office, practice.EditJob{Mutation: newID(), ID: in.ID, Version: 1, Stage: ptr("visiting"), StandsBetween: ptr("the second visit")})
	want(t, err, domain.Internal)
	_, err = b.EditJob(t.Context(), office, practice.EditJob{Mutation: newID(), ID: in.ID, Version: 1, Stage: ptr("closed")})
	want(t, err, domain.Conflict)
	_, err = b.EditJob(t.Context(), office, practice.EditJob{Mutation: newID(), ID: in.ID, Version: 2, Stage: ptr("done with")})
	want(t, err, domain.Invalid, "stage")
	_, err = b.EditJob(t.Context(), office, practice.EditJob{Mutation: newID(), ID: in.ID, Version: 2, Cite: ptr("named")})
	want(t, err, domain.Invalid, "citeAgreedOn")
}

func TestJobsComeAsTheyHaveToBeDone(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, lead := b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	petrel := b.vessel(b.ours, "Petrel")
	add := func(number string, due *time.Time, stage string) {
		in := newJob(petrel)
		in.Number, in.DueOn, in.Lead = number, due, &lead.Member
		must[practice.Done](t)(b.AddJob(t.Context(), office, in))
		must[practice.Done](t)(b.EditJob(t.Context(), office, practice.EditJob{Mutation: newID(), ID: in.ID, Version: 1, Stage: &stage}))
	}
	add("a", nil, "writing")
	add("b", at(20), "booked")
	add("c", at(10), "closed")
	add("d", at(12), "visiting")
	add("f", at(1), "issued")
	add("g", at(11), "cancelled")
	other := newJob(petrel)
	other.Number = "e"
	must[practice.Done](t)(b.AddJob(t.Context(), office, other))
	walk := func(a domain.Actor, filter practice.JobFilter) (out []string) {
		page := practice.Page{First: 2}
		for range 9 {
			list := must[[]practice.JobTurn](t)(b.Jobs(t.Context(), a, filter, page))
			for k, j := range list {
				if k == page.First {
					break
				}
				out = append(out, j.Number)
				page.AfterText, page.AfterID = j.Cursor(), j.ID
			}
			if len(list) <= page.First {
				break
			}
		}
		return out
	}
	for name, c := range map[string]struct {
		filter practice.JobFilter
		want   []string
	}{
		"all":       {practice.JobFilter{}, []string{"d", "b", "a", "e", "f", "g", "c"}},
		"open":      {practice.JobFilter{Open: true}, []string{"d", "b", "a", "e"}},
		"issued":    {practice.JobFilter{Issued: true}, []string{"f"}},
		"open mine": {practice.JobFilter{Open: true, Mine: true}, []string{"d", "b", "a"}},
	} {
		if got := walk(lead, c.filter); !equalText(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	_, err := b.Jobs(t.Context(), lead, practice.JobFilter{}, practice.Page{First: 5, AfterText: "soon"})
	want(t, err, domain.Invalid, "after")
}

func TestWhatHasToBeDoneNextForAJob(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, lead := b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	done := must[practice.Done](t)
	yard := newID()
	done(b.AddParty(t.Context(), office, practice.AddParty{Mutation: newID(), Party: practice.Party{ID: yard, Name: "Quay yard", Kind: "organisation", IsYard: true}}))
	job := func(number string, change func(*practice.AddJob)) uuid.UUID {
		in := newJob(b.vessel(b.ours, "Petrel "+number))
		in.Number, in.Lead, in.DueOn = number, &lead.Member, at(30)
		if change != nil {
			change(&in)
		}
		done(b.AddJob(t.Context(), office, in))
		return in.ID
	}
	now := b.clock.now()
	visit := func(job uuid.UUID, from time.Time, state string) {
		b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, state, lead_id) values ($1, $2, $3, 'wet look', $4, $5, 'Etc/UTC', $6, $7)`,
			b.ours.id, newID(), job, from, from.Add(time.Hour), state, lead.Member)
	}
	report := func(job uuid.UUID, state string) {
		b.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, $4, case $4 when 'issued' then '2026-901' end, $5)`, b.ours.id, newID(), job, state, now)
	}
	job("plan", nil)
	job("lead", func(j *practice.AddJob) { j.Lead = nil })
	job("paper", func(j *practice.AddJob) { j.Kind = "tonnage" })
	job("over", nil)
	job("out", nil)
	visit(job("visit", nil), now.AddDate(0, 0, 2), "planned")
	visit(job("past", nil), now.AddDate(0, 0, -2), "planned")
	visit(job("write", nil), now.AddDate(0, 0, -2), "done")
	visit(job("seen", func(j *practice.AddJob) { j.DueOn = nil }), now.AddDate(0, 0, -9), "done")
	report(job("draft", nil), "draft")
	report(job("told", nil), "issued")
	report(job("second", nil), "in review")
	asked := job("asked", nil)
	visit(asked, now.AddDate(0, 0, 3), "planned")
	b.exec(`insert into permissions (practice_id, id, job_id, what, asked_on) values ($1, $2, $3, 'scrape', $4)`, b.ours.id, newID(), asked, now.AddDate(0, 0, -4))
	lift := job("lift", nil)
	spell := newID()
	b.exec(`insert into spells (practice_id, id, vessel_id, yard_id, time_zone, planned_lift, asked_only) select $1, $2, vessel_id, $3, 'Etc/UTC', $4, true from jobs where id = $5`, b.ours.id, spell, yard, now.AddDate(0, 0, 1), lift)
	visit(lift, now.AddDate(0, 0, 1).Add(time.Hour), "planned")
	b.exec(`update visits set spell_id = $1 where job_id = $2`, spell, lift)
	b.exec(`update jobs set stage = case number when 'over' then 'closed' else 'issued' end where number in ('over', 'out')`)

	got := map[string]string{}
	var order []string
	for _, j := range must[[]practice.JobTurn](t)(b.Jobs(t.Context(), office, practice.JobFilter{}, practice.Page{First: 50})) {
		order = append(order, j.Number)
		if n := j.Next; n != nil {
			got[j.Number] = fmt.Sprintf("%s | %s | %v", n.What, n.WaitsFor, n.Late)
		}
	}
	want := map[string]string{
		"plan":   "Plan a visit | the office | false",
		"lead":   "Somebody to lead it | the office | false",
		"paper":  "Keep the tonnage document | whoever is authorised to issue it | false",
		"told":   "Close it, if nothing more is owed | the office | false",
		"out":    "Close it, if nothing more is owed | the office | false",
		"visit":  "Wet look | The surveyor | false",
		"past":   "Wet look: say whether it was made | The surveyor | true",
		"write":  "Draft the report | The surveyor | false",
		"seen":   "Draft the report | The surveyor | false",
		"draft":  "Finish the report | The surveyor | false",
		"second": "The second look at the report | whoever looks over it | false",
		"asked":  "Leave, asked and not yet answered: scrape | whoever gives leave | false",
		"lift":   "A yard’s word on the lift | Quay yard | false",
	}
	if !maps.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	if n := len(order); n != 14 || !equalText(order[:5], []string{"seen", "past", "lift", "visit", "asked"}) || !equalText(order[n-2:], []string{"out", "over"}) {
		t.Errorf("in the order %v", order)
	}
}

func TestARestrictedJobIsThereForThoseItIsOpenTo(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, lead, principal, guest := b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Principal], b.ours.of[domain.Guest]
	in := newJob(b.vessel(b.ours, "Petrel"))
	in.Lead, in.Restricted = &lead.Member, true
	must[practice.Done](t)(b.AddJob(t.Context(), office, in))
	seen := func(a domain.Actor) bool {
		_, err := b.Job(t.Context(), a, in.ID)
		list := must[[]practice.JobTurn](t)(b.Jobs(t.Context(), a, practice.JobFilter{}, practice.Page{First: 5}))
		if (err == nil) != (len(list) == 1) {
			t.Errorf("the list has %d, the page says %v", len(list), err)
		}
		return err == nil
	}
	for name, c := range map[string]struct {
		a    domain.Actor
		want bool
	}{"who made it": {office, true}, "its lead": {lead, true}, "a principal": {principal, false}, "a guest": {guest, false}} {
		if seen(c.a) != c.want {
			t.Errorf("%s: seen is not %v", name, c.want)
		}
	}
	give := func(a domain.Actor, member uuid.UUID, allowed bool) error {
		_, err := b.GiveAccess(t.Context(), a, practice.GiveAccess{Mutation: newID(), Job: in.ID, Member: member, Allowed: allowed})
		return err
	}
	want(t, give(principal, principal.Member, true), domain.NotFound) // nobody opens what is hidden to him or her
	want(t, give(office, guest.Member, true), domain.Internal)
	if !seen(guest) {
		t.Error("the guest was let in and does not see it")
	}
	want(t, give(office, guest.Member, false), domain.Internal)
	if seen(guest) {
		t.Error("the guest was let out and still sees it")
	}
	want(t, give(office, b.theirs.of[domain.Surveyor].Member, true), domain.NotFound)
	want(t, give(office, lead.Member, false), domain.Internal)
	want(t, give(office, office.Member, false), domain.Conflict) // nobody would be left
}

func TestAnotherPracticesJobIsNotThere(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ours := b.ours.of[domain.Principal]
	theirs := newJob(b.vessel(b.theirs, "theirs"))
	must[practice.Done](t)(b.AddJob(t.Context(), b.theirs.of[domain.Office], theirs))
	_, err := b.Job(t.Context(), ours, theirs.ID)
	want(t, err, domain.NotFound)
	_, err = b.EditJob(t.Context(), ours, practice.EditJob{Mutation: newID(), ID: theirs.ID, Version: 1})
	want(t, err, domain.NotFound)
	_, err = b.AddJob(t.Context(), ours, newJob(theirs.Vessel))
	want(t, err, domain.NotFound)
	mine := newJob(b.vessel(b.ours, "ours"))
	mine.Client = ptr(b.party(b.theirs, "their client"))
	_, err = b.AddJob(t.Context(), ours, mine)
	want(t, err, domain.NotFound)
	for _, a := range []domain.Actor{{}, b.ours.of[domain.Guest]} {
		_, err = b.AddJob(t.Context(), a, newJob(mine.Vessel))
		if a.Means == "" {
			want(t, err, domain.Unauthenticated)
		} else {
			want(t, err, domain.Forbidden)
		}
	}
}

func TestABuyerCannotGiveTheOwnersConsent(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	petrel := b.vessel(b.ours, "Petrel")
	buyer, owner, client := b.party(b.ours, "Bo Rasmus"), b.party(b.ours, "Ada Skerry"), b.party(b.ours, "Cy Holm")
	in := newJob(petrel)
	in.Kind, in.Client = "pre-purchase", &client
	must[practice.Done](t)(b.AddJob(t.Context(), office, in))
	role := func(party uuid.UUID, role string, job *uuid.UUID) {
		b.exec(`insert into party_roles (practice_id, id, party_id, role, vessel_id, job_id) values ($1, $2, $3, $4, $5, $6)`, b.ours.id, newID(), party, role, petrel, job)
	}
	role(buyer, "buyer", &in.ID)
	role(owner, "owner", nil)
	ask := func(what string, by *uuid.UUID, name string) error {
		_, err := b.RecordPermission(t.Context(), office, practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{
			ID: newID(), JobID: in.ID, What: what, AskedOn: at(1), GivenOn: at(2), GivenByID: by, GivenByName: name,
		}})
		return err
	}
	for _, what := range []string{"board and survey", "lift", "scrape", "open blisters", "drill or core", "mark the hull", "lift soles"} {
		want(t, ask(what, &buyer, ""), domain.Invalid, "givenBy")
		want(t, ask(what, &client, ""), domain.Invalid, "givenBy") // whoever orders a pre-purchase survey buys
		want(t, ask(what, &owner, ""), domain.Internal)
	}
	want(t, ask("photograph", &buyer, ""), domain.Internal)
	want(t, ask("share the report", &client, ""), domain.Internal)
	want(t, ask("scrape", nil, ""), domain.Invalid, "givenBy")
	want(t, ask("scrape", nil, "the owner's brother, by telephone"), domain.Internal)
	want(t, ask("paint her", nil, "somebody"), domain.Invalid, "what")
	// In one breath: what one person said on one day, all of it or nothing.
	several := func(by *uuid.UUID, whats ...string) practice.RecordPermissions {
		out := practice.RecordPermissions{Mutation: newID()}
		for _, what := range whats {
			out.Permissions = append(out.Permissions, practice.Permission{ID: newID(), JobID: in.ID, What: what, GivenOn: at(2), GivenByID: by})
		}
		return out
	}
	count := func() int {
		return value[int](b, `select count(*) from permissions where job_id = $1`, in.ID)
	}
	before := count()
	for field, bad := range map[string]practice.RecordPermissions{"givenBy": several(&buyer, "photograph", "scrape"), "permissions": several(&owner)} {
		_, err := b.RecordPermissions(t.Context(), office, bad)
		want(t, err, domain.Invalid, field)
	}
	if n := count(); n != before {
		t.Errorf("%d of several were kept though one was refused", n-before)
	}
	all := several(&owner, "lift", "scrape", "photograph")
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordPermissions(ctx, office, all) })
	if n := count(); n != before+3 {
		t.Errorf("%d kept, want 3", n-before)
	}
	role(buyer, "owner", nil) // since then she has bought her
	want(t, ask("scrape", &buyer, ""), domain.Internal)
}

func TestAPermissionIsAskedThenGiven(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	in := newJob(b.vessel(b.ours, "Petrel"))
	must[practice.Done](t)(b.AddJob(t.Context(), office, in))
	p := practice.Permission{ID: newID(), JobID: in.ID, What: "scrape", Extent: "six windows", AskedOn: at(1)}
	record := func(version int32) error {
		_, err := b.RecordPermission(t.Context(), office, practice.RecordPermission{Mutation: newID(), Version: version, Permission: p})
		return err
	}
	want(t, record(1), domain.NotFound)
	want(t, record(0), domain.Internal)
	p.GivenOn, p.GivenByName, p.MakesGood = at(3), "Ada Skerry", "the yard, with antifouling, before relaunch"
	want(t, record(0), domain.Conflict)
	want(t, record(1), domain.Internal)
	want(t, record(1), domain.Conflict)
	p.RefusedOn = at(4)
	want(t, record(2), domain.Invalid, "refusedOn")
	p.RefusedOn, p.GivenOn = nil, at(0)
	want(t, record(2), domain.Invalid, "givenOn")
	j := must[practice.JobPage](t)(b.Job(t.Context(), office, in.ID))
	if len(j.Permissions) != 1 || j.Permissions[0].GivenByName != "Ada Skerry" || j.Permissions[0].Version != 2 {
		t.Errorf("read back %+v", j.Permissions)
	}
	other := newJob(b.vessel(b.ours, "Gannet"))
	must[practice.Done](t)(b.AddJob(t.Context(), office, other))
	p.JobID, p.GivenOn = other.ID, at(3)
	want(t, record(2), domain.NotFound) // it belongs to the first job
}
