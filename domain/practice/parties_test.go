package practice_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// party adds a person or an organisation through the use case.
func (b *bundle) party(h house, name string, change ...func(*practice.Party)) uuid.UUID {
	b.t.Helper()
	p := practice.Party{ID: newID(), Name: name, Kind: "organisation"}
	for _, c := range change {
		c(&p)
	}
	_, err := b.AddParty(b.t.Context(), h.of[domain.Office], practice.AddParty{Mutation: newID(), Party: p})
	if err != nil {
		b.t.Fatal(err)
	}
	return p.ID
}

// role says what a party is to a vessel, or in a job.
func (b *bundle) role(h house, role string, party, vessel uuid.UUID, job *uuid.UUID) {
	b.t.Helper()
	b.exec(`insert into party_roles (practice_id, id, party_id, role, vessel_id, job_id) values ($1, $2, $3, $4, $5, $6)`, h.id, newID(), party, role, vessel, job)
}

func partyNames(list []practice.PartyPage) []string {
	var names []string
	for _, p := range list {
		names = append(names, p.Name)
	}
	return names
}

func TestParty(t *testing.T) {
	t.Parallel()
	t.Run("is kept once, as given, and changed only from its newest version", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		office := b.ours.of[domain.Office]
		add := practice.AddParty{Mutation: newID(), Party: practice.Party{
			ID: newID(), Name: " Skerrow Boatyard ", Kind: "organisation", Email: "yard@skerrow.example", IsYard: true, TimeZone: ptr("Europe/Dublin"), YardNotes: "gate 4417",
		}}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddParty(ctx, office, add) })
		edit := practice.EditParty{Mutation: newID(), ID: add.Party.ID, Version: 1, Phone: ptr("555 0101"), TimeZone: ptr("")}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditParty(ctx, office, edit) })
		edit.Mutation = newID()
		_, err := b.EditParty(t.Context(), office, edit)
		want(t, err, domain.Conflict)
		p := must[practice.PartyPage](t)(b.Party(t.Context(), b.ours.of[domain.Trainee], add.Party.ID, practice.PartyParts{}))
		expect := practice.Party{ID: add.Party.ID, Name: "Skerrow Boatyard", Kind: "organisation", Email: "yard@skerrow.example", Phone: "555 0101", IsYard: true, YardNotes: "gate 4417", Version: 2}
		if p.Party != expect {
			t.Errorf("kept %+v, want %+v", p.Party, expect)
		}
	})
	t.Run("refuses what cannot be kept, naming the field", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		for field, p := range map[string]practice.Party{
			"name": {ID: newID(), Kind: "person", Name: " "}, "kind": {ID: newID(), Kind: "firm", Name: "x"},
			"email":    {ID: newID(), Kind: "person", Name: "x", Email: "x at y"},
			"timeZone": {ID: newID(), Kind: "person", Name: "x", TimeZone: ptr("Skerrow/Harbour")},
			"id":       {ID: uuid.Must(uuid.NewRandom()), Kind: "person", Name: "x"},
		} {
			_, err := b.AddParty(t.Context(), b.ours.of[domain.Office], practice.AddParty{Mutation: newID(), Party: p})
			want(t, err, domain.Invalid, field)
		}
	})
	t.Run("the same id is taken in one practice and free in another", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		in := practice.AddParty{Mutation: newID(), Party: practice.Party{ID: newID(), Name: "Guillemot Hire", Kind: "organisation"}}
		_, err := b.AddParty(t.Context(), b.theirs.of[domain.Office], in)
		want(t, err, domain.Internal)
		_, err = b.AddParty(t.Context(), b.ours.of[domain.Office], in)
		want(t, err, domain.Internal)
		in.Mutation = newID()
		_, err = b.AddParty(t.Context(), b.ours.of[domain.Office], in)
		want(t, err, domain.Conflict, "id")
		_, err = b.EditParty(t.Context(), b.ours.of[domain.Office], practice.EditParty{Mutation: newID(), ID: b.party(b.theirs, "Puffin Insurance"), Version: 1, Name: ptr("ours")})
		want(t, err, domain.NotFound)
	})
}

func TestPartiesAreFound(t *testing.T) {
	t.Parallel()
	b := setup(t)
	b.party(b.ours, "Skerrow Boatyard", func(p *practice.Party) { p.IsYard = true })
	b.party(b.ours, "anna dunlin", func(p *practice.Party) { p.Kind, p.Email = "person", "Anna@skerrow.example" })
	b.party(b.ours, "Puffin 100% Insurance")
	b.party(b.theirs, "Skerrow of theirs")
	b.exec(`update parties set erased_at = now() where id = $1`, b.party(b.ours, "Skerrow erased"))
	for _, c := range []struct {
		say    string
		filter practice.PartyFilter
		want   []string
	}{
		{"all, by name whatever its letters", practice.PartyFilter{}, []string{"anna dunlin", "Puffin 100% Insurance", "Skerrow Boatyard"}},
		{"by part of a name or an address", practice.PartyFilter{Search: " SKERROW"}, []string{"anna dunlin", "Skerrow Boatyard"}},
		{"by a sign that patterns use", practice.PartyFilter{Search: "100%"}, []string{"Puffin 100% Insurance"}},
		{"yards alone", practice.PartyFilter{YardsOnly: true}, []string{"Skerrow Boatyard"}},
	} {
		list := must[[]practice.PartyPage](t)(b.Parties(t.Context(), b.ours.of[domain.Trainee], c.filter, practice.Page{First: 10}, practice.PartyParts{}))
		if got := partyNames(list); !slices.Equal(got, c.want) {
			t.Errorf("%s: found %q, want %q", c.say, got, c.want)
		}
	}
	next := must[[]practice.PartyPage](t)(b.Parties(t.Context(), b.ours.of[domain.Trainee], practice.PartyFilter{}, practice.Page{First: 1, AfterText: "anna dunlin", AfterID: uuid.Max}, practice.PartyParts{}))
	if got := partyNames(next); !slices.Equal(got, []string{"Puffin 100% Insurance", "Skerrow Boatyard"}) {
		t.Errorf("after the first: %q", got)
	}
	_, err := b.Parties(t.Context(), b.ours.of[domain.Trainee], practice.PartyFilter{Search: string(make([]byte, 101))}, practice.Page{First: 1}, practice.PartyParts{})
	want(t, err, domain.Invalid, "search")
}

func TestPartyRole(t *testing.T) {
	t.Parallel()
	t.Run("stands with the party, with the vessel, and with its job", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		vessel, owner := b.vessel(b.ours, "Kittiwake"), b.party(b.ours, "Anna Dunlin")
		job := b.job(b.ours, vessel, false)
		b.exec(`update jobs set client_id = $2, lead_id = $3 where id = $1`, job, owner, b.ours.of[domain.Surveyor].Member)
		from, to := time.Date(2019, 5, 1, 0, 0, 0, 0, time.UTC), time.Date(2024, 9, 30, 0, 0, 0, 0, time.UTC)
		in := practice.AddPartyRole{Mutation: newID(), ID: newID(), Party: owner, Vessel: vessel, Job: &job, Role: "owner", From: &from, To: &to}
		thrice(t, func(ctx context.Context) (practice.Done, error) {
			return b.AddPartyRole(ctx, b.ours.of[domain.Surveyor], in)
		})
		p := must[practice.PartyPage](t)(b.Party(t.Context(), b.ours.of[domain.Trainee], owner, practice.PartyParts{Roles: true, Jobs: true}))
		if len(p.Roles) != 1 || len(p.Jobs) != 1 || p.Jobs[0].ID != job {
			t.Fatalf("the party has roles %+v and jobs %+v", p.Roles, p.Jobs)
		}
		r := p.Roles[0]
		if r.Role != "owner" || r.Vessel.Name != "Kittiwake" || r.Party.Name != "Anna Dunlin" || r.Job.Lead.Name != "The surveyor" || r.Job.Client.ID != owner || !r.From.Equal(from) || !r.To.Equal(to) {
			t.Errorf("the role is %+v, its job %+v", r, r.Job)
		}
		v := must[practice.VesselPage](t)(b.Vessel(t.Context(), b.ours.of[domain.Trainee], vessel, practice.VesselParts{People: true}, nil))
		if len(v.People) != 1 || v.People[0].ID != in.ID {
			t.Errorf("the vessel's people are %+v", v.People)
		}
		list := must[[]practice.PartyPage](t)(b.Parties(t.Context(), b.ours.of[domain.Trainee], practice.PartyFilter{}, practice.Page{First: 10}, practice.PartyParts{Roles: true, Jobs: true}))
		if len(list) != 1 || len(list[0].Roles) != 1 || len(list[0].Jobs) != 1 {
			t.Errorf("the list has %+v", list)
		}
	})
	t.Run("names things of this practice that belong together", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		vessel, other, party := b.vessel(b.ours, "Kittiwake"), b.vessel(b.ours, "Fulmar"), b.party(b.ours, "Anna Dunlin")
		secret, theirs := b.job(b.ours, vessel, true), b.vessel(b.theirs, "Kittiwake")
		day := time.Date(2024, 9, 30, 0, 0, 0, 0, time.UTC)
		for say, c := range map[string]struct {
			in    practice.AddPartyRole
			kind  domain.Kind
			field string
		}{
			"another's party":      {practice.AddPartyRole{Party: b.party(b.theirs, "Theirs"), Vessel: vessel, Role: "owner"}, domain.NotFound, ""},
			"another's vessel":     {practice.AddPartyRole{Party: party, Vessel: theirs, Role: "owner"}, domain.NotFound, ""},
			"another's job":        {practice.AddPartyRole{Party: party, Vessel: vessel, Job: ptr(b.job(b.theirs, theirs, false)), Role: "owner"}, domain.NotFound, ""},
			"a restricted job":     {practice.AddPartyRole{Party: party, Vessel: vessel, Job: &secret, Role: "owner"}, domain.NotFound, ""},
			"another vessel's":     {practice.AddPartyRole{Party: party, Vessel: other, Job: ptr(b.job(b.ours, vessel, false)), Role: "owner"}, domain.Invalid, "job"},
			"an unknown part":      {practice.AddPartyRole{Party: party, Vessel: vessel, Role: "mascot"}, domain.Invalid, "role"},
			"it ends, then begins": {practice.AddPartyRole{Party: party, Vessel: vessel, Role: "owner", From: &day, To: ptr(day.AddDate(0, 0, -1))}, domain.Invalid, "to"},
		} {
			t.Run(say, func(t *testing.T) {
				c.in.Mutation, c.in.ID = newID(), newID()
				_, err := b.AddPartyRole(t.Context(), b.ours.of[domain.Office], c.in)
				want(t, err, c.kind, c.field)
			})
		}
	})
	t.Run("in a restricted job is told to those the job names", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		vessel, party := b.vessel(b.ours, "Kittiwake"), b.party(b.ours, "Puffin Insurance")
		secret := b.job(b.ours, vessel, true)
		b.exec(`update jobs set client_id = $2 where id = $1`, secret, party)
		b.let(b.ours.of[domain.Surveyor], secret)
		b.role(b.ours, "insurer", party, vessel, &secret)
		b.role(b.ours, "insurer", party, vessel, nil)
		for role, n := range map[domain.Role]int{domain.Surveyor: 2, domain.Principal: 1, domain.Office: 1} {
			v := must[practice.VesselPage](t)(b.Vessel(t.Context(), b.ours.of[role], vessel, practice.VesselParts{People: true}, nil))
			p := must[practice.PartyPage](t)(b.Party(t.Context(), b.ours.of[role], party, practice.PartyParts{Roles: true, Jobs: true}))
			if len(v.People) != n || len(p.Roles) != n || len(p.Jobs) != n-1 {
				t.Errorf("the %s sees %d of the vessel's people, %d roles, %d jobs; want %d, %d, %d", role, len(v.People), len(p.Roles), len(p.Jobs), n, n, n-1)
			}
		}
	})
}

func TestGuestsSeeThePartiesOfTheirJobs(t *testing.T) {
	t.Parallel()
	b := setup(t)
	guest, vessel := b.ours.of[domain.Guest], b.vessel(b.ours, "Kittiwake")
	noted := func(p *practice.Party) { p.Notes, p.YardNotes = "pays late", "gate 4417" }
	client, broker := b.party(b.ours, "Client", noted), b.party(b.ours, "Broker", noted)
	stranger := b.party(b.ours, "Stranger", noted)
	b.party(b.ours, "Yard", noted, func(p *practice.Party) { p.IsYard = true })
	job := b.job(b.ours, vessel, false)
	b.exec(`update jobs set client_id = $2 where id = $1`, job, client)
	b.role(b.ours, "broker", broker, vessel, &job)
	b.role(b.ours, "owner", stranger, vessel, nil)
	all := func() []practice.PartyPage {
		return must[[]practice.PartyPage](t)(b.Parties(t.Context(), guest, practice.PartyFilter{}, practice.Page{First: 10}, practice.PartyParts{Roles: true}))
	}
	if got := partyNames(all()); !slices.Equal(got, []string{"Yard"}) {
		t.Errorf("before being let in a guest sees %q", got)
	}
	b.let(guest, job)
	list := all()
	if got := partyNames(list); !slices.Equal(got, []string{"Broker", "Client", "Yard"}) {
		t.Errorf("let into the job a guest sees %q", got)
	}
	for _, p := range list {
		if p.Notes != "" || p.YardNotes != "" {
			t.Errorf("a guest reads the notes on %s: %q, %q", p.Name, p.Notes, p.YardNotes)
		}
	}
	_, err := b.Party(t.Context(), guest, stranger, practice.PartyParts{})
	want(t, err, domain.NotFound)
	v := must[practice.VesselPage](t)(b.Vessel(t.Context(), guest, vessel, practice.VesselParts{People: true}, nil))
	if len(v.People) != 1 || v.People[0].Party.ID != broker {
		t.Errorf("a guest sees of the vessel's people %+v", v.People)
	}
}
