package practice_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// person gives an entry its ways of being reached.
func person(email, phone string) func(*practice.Party) {
	return func(p *practice.Party) { p.Kind, p.Email, p.Phone = "person", email, phone }
}

func (b *bundle) merge(a domain.Actor, kept, lost uuid.UUID) (uuid.UUID, error) {
	id := newID()
	_, err := b.MergeParties(b.t.Context(), a, practice.MergeParties{Mutation: newID(), ID: id, Kept: kept, Lost: lost, Because: "the same telephone"})
	return id, err
}

func TestLikelyDoubles(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why        string
		a, b       practice.Party
		want       []string // what they have in common, by its last word
		differKind bool
	}{
		{why: "one address in two spellings", a: practice.Party{Name: "Ulla Knot", Email: "Ulla@Knot.example"}, b: practice.Party{Name: "Harbour office", Email: "ulla@knot.example"}, want: []string{"address"}},
		{why: "a number with and without the country", a: practice.Party{Name: "Ulla Knot", Phone: "+353 1 555 01 01"}, b: practice.Party{Name: "Per Tern", Phone: "01-5550101"}, want: []string{"number"}},
		{why: "the words of a name turned round", a: practice.Party{Name: "Dunlin, Anna"}, b: practice.Party{Name: "Anna Dunlin"}, want: []string{"name"}},
		{why: "a legal form and a mark", a: practice.Party{Name: "Skärrow Boatyard Ltd"}, b: practice.Party{Name: "The Skaerrow boatyard"}, want: []string{"name"}},
		{why: "an initial", a: practice.Party{Name: "A. Dunlin"}, b: practice.Party{Name: "Anna Dunlin"}, want: []string{"fit"}},
		{why: "a letter left out", a: practice.Party{Name: "Anna Dunlin"}, b: practice.Party{Name: "Anna Dunln"}, want: []string{"letter"}},
		{why: "two letters swapped", a: practice.Party{Name: "Anna Dunlin"}, b: practice.Party{Name: "Anna Dulnin"}, want: []string{"letter"}},
		{why: "one word alone", a: practice.Party{Name: "Guillemot"}, b: practice.Party{Name: "Guilemot"}, want: []string{"letter"}},
		{why: "all three", a: practice.Party{Name: "Anna Dunlin", Email: "a@dunlin.example", Phone: "5550101"}, b: practice.Party{Name: "A Dunlin", Email: "a@dunlin.example", Phone: "555 0101"}, want: []string{"address", "number", "fit"}},
		{why: "a family", a: practice.Party{Name: "Anna Dunlin"}, b: practice.Party{Name: "Per Dunlin"}},
		{why: "two letters' difference", a: practice.Party{Name: "Anna Dunlin"}, b: practice.Party{Name: "Anna Durlan"}},
		{why: "short words", a: practice.Party{Name: "Jan Tern"}, b: practice.Party{Name: "Jon Tern"}},
		{why: "too few digits", a: practice.Party{Name: "Anna", Phone: "5501"}, b: practice.Party{Name: "Berta", Phone: "5501"}},
		{why: "nothing filled in", a: practice.Party{Name: "Anna"}, b: practice.Party{Name: "Berta"}},
		{why: "a firm and its clerk by one telephone", a: practice.Party{Name: "Skerrow Boatyard", Phone: "5550101"}, b: practice.Party{Name: "Odo Rask", Phone: "5550101"}, differKind: true},
		{why: "a firm and a person by one name and address", a: practice.Party{Name: "Odo Rask", Email: "odo@rask.example"}, b: practice.Party{Name: "Odo Rask", Email: "odo@rask.example"}, differKind: true, want: []string{"address", "name"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			b := setup(t)
			for k, p := range []practice.Party{c.a, c.b} {
				b.party(b.ours, p.Name, func(q *practice.Party) {
					q.Email, q.Phone, q.Kind = p.Email, p.Phone, "person"
					if c.differKind && k == 0 {
						q.Kind = "organisation"
					}
				})
			}
			b.party(b.theirs, c.a.Name, person(c.a.Email, c.a.Phone)) // another practice's is nobody's here
			var got []string
			for _, d := range must[[]practice.Double](t)(b.LikelyDoubles(t.Context(), b.ours.of[domain.Office])) {
				for _, text := range d.Because {
					words := strings.Fields(strings.TrimSuffix(text, "."))
					got = append(got, words[len(words)-1])
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("found %v, want %v", got, c.want)
			}
		})
	}
	t.Run("two that were told apart are not asked about again, whichever was named first", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		office := b.ours.of[domain.Office]
		one, two := b.party(b.ours, "Anna Dunlin", person("", "")), b.party(b.ours, "A. Dunlin", person("", ""))
		for range 2 {
			must[practice.Done](t)(b.TellPartiesApart(t.Context(), office, practice.TellPartiesApart{Mutation: newID(), First: two, Second: one, Because: "mother and daughter"}))
		}
		if list := must[[]practice.Double](t)(b.LikelyDoubles(t.Context(), office)); len(list) != 0 {
			t.Errorf("asked again: %+v", list)
		}
	})
}

// Side by side it is said what speaks against: nobody is her buyer and her seller.
func TestSideBySideSaysWhatSpeaksAgainst(t *testing.T) {
	t.Parallel()
	b := setup(t)
	vessel := b.vessel(b.ours, "Kittiwake")
	one, two := b.party(b.ours, "Anna Dunlin", person("anna@dunlin.example", "")), b.party(b.ours, "A. Dunlin", person("a@dunlin.example", ""))
	b.role(b.ours, "buyer", one, vessel, nil)
	b.role(b.ours, "seller", two, vessel, nil)
	s := must[practice.Beside](t)(b.PartiesBeside(t.Context(), b.ours.of[domain.Office], one, two))
	if !slices.Equal(s.Alike, []string{"A name and an initial that fit."}) || !slices.Equal(s.Against, []string{"Their e-mail addresses differ.", "Of Kittiwake one is the buyer, the other the seller."}) {
		t.Errorf("for %q, against %q", s.Alike, s.Against)
	}
	if len(s.First.Points) != 1 || s.First.Points[0] != (practice.Points{Place: "party_roles.party_id", Count: 1}) {
		t.Errorf("what points to the first: %+v", s.First.Points)
	}
	_, err := b.PartiesBeside(t.Context(), b.ours.of[domain.Office], one, one)
	want(t, err, domain.Invalid, "second")
	_, err = b.PartiesBeside(t.Context(), b.ours.of[domain.Office], one, b.party(b.theirs, "Anna Dunlin"))
	want(t, err, domain.NotFound)
}

// One person stood twice: as the seller who was a client, and as whoever asks now. Merged,
// the check for ties sees it, what was decided before is asked anew, and what was issued
// and recorded is byte for byte as it was.
func TestAMergeBringsTogetherWhatWasOnesAndChangesNothingIssued(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	done := must[practice.Done](t)
	kept := b.party(b.ours, "Ona Skua", person("ona@skua.example", ""))
	lost := b.party(b.ours, "O. Skua", func(p *practice.Party) { p.Kind, p.Phone, p.Notes = "person", "555 0188", "rings before eight" })
	b.exec(`update jobs set client_id = $2 where id = $1`, w.job, lost)
	b.exec(`update permissions set given_by_id = $2 where job_id = $1`, w.job, lost)
	b.issued(w)
	done(b.AddPartyRole(ctx, office, practice.AddPartyRole{Mutation: newID(), ID: newID(), Party: lost, Vessel: w.vessel, Role: "seller"}))
	enquiry := newID()
	done(b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: enquiry, Client: &kept, Vessel: &w.vessel, Kind: "pre-purchase"}))
	codes := func() (list []string) {
		for _, f := range must[[]practice.Interest](t)(b.ConflictCheck(ctx, office, enquiry)) {
			list = append(list, f.Code)
		}
		return list
	}
	if got := codes(); !slices.Equal(got, []string{"other-client"}) {
		t.Errorf("ties before: %v", got)
	}
	done(b.DecideConflict(ctx, office, practice.DecideConflict{Mutation: newID(), Engagement: enquiry, Version: 1, Decision: "go on", Note: "somebody else’s survey of last year"}))

	as := func(sql string, args ...any) string { return value[string](b, sql, args...) }
	issued := func() string {
		return as(`select concat((select string_agg(to_jsonb(r)::text, '|' order by id) from reports r), (select string_agg(to_jsonb(s)::text, '|' order by report_id) from report_snapshots s))`)
	}
	record := func(until int64) string {
		return as(`select string_agg(to_jsonb(m)::text, '|' order by seq) from mutations m where practice_id = $1 and seq <= $2`, b.ours.id, until)
	}
	seq := value[int64](b, `select seq from heads where practice_id = $1`, b.ours.id)
	frozen, recorded := issued(), record(seq)

	_, err := b.MergeParties(ctx, office, practice.MergeParties{Mutation: newID(), ID: newID(), Kept: kept, Lost: lost, Because: " "})
	want(t, err, domain.Invalid, "because")
	_, err = b.merge(b.ours.of[domain.Trainee], kept, lost)
	want(t, err, domain.Forbidden)
	merge := must[uuid.UUID](t)(b.merge(office, kept, lost))

	p := must[practice.PartyPage](t)(b.Party(ctx, office, lost, practice.PartyParts{Roles: true, Jobs: true}))
	if p.ID != kept || p.Name != "Ona Skua" || p.Email != "ona@skua.example" || p.Phone != "555 0188" || p.Notes != "rings before eight" || len(p.Roles) != 1 || len(p.Jobs) != 1 {
		t.Errorf("the id that is gone names %+v", p)
	}
	if names := partyNames(must[[]practice.PartyPage](t)(b.Parties(ctx, office, practice.PartyFilter{Search: "o. sk"}, practice.Page{First: 10}, practice.PartyParts{}))); !slices.Equal(names, []string{"Ona Skua"}) {
		t.Errorf("looked for by the name that is gone: %v", names)
	}
	if got := codes(); !slices.Equal(got, []string{"asks-as-party"}) {
		t.Errorf("ties after: %v", got)
	}
	if e := must[practice.Engagement](t)(b.Engagement(ctx, office, enquiry)); e.ConflictDecision != "" || !slices.ContainsFunc(e.Missing, func(o practice.Obstacle) bool { return o.Code == "conflict" }) {
		t.Errorf("what was decided before stands: %+v", e)
	}
	if by := value[uuid.UUID](b, `select distinct given_by_id from permissions where job_id = $1 and given_by_id is not null`, w.job); by != kept {
		t.Errorf("the consent is %v's", by)
	}
	if issued() != frozen || record(seq) != recorded {
		t.Error("a merge changed what was issued or recorded")
	}
	_, err = b.merge(office, b.party(b.ours, "Per Tern"), lost)
	want(t, err, domain.NotFound)
	_, err = b.AddPartyRole(ctx, office, practice.AddPartyRole{Mutation: newID(), ID: newID(), Party: b.party(b.theirs, "Per Tern"), Vessel: w.vessel, Role: "seller"})
	want(t, err, domain.NotFound)

	list := must[[]practice.PartyMerge](t)(b.PartyMerges(ctx, office, practice.Page{First: 5}))
	if len(list) != 1 || list[0].KeptName != "Ona Skua" || list[0].LostName != "O. Skua" || list[0].Because != "the same telephone" || list[0].Followed < 3 || list[0].By != "The office" {
		t.Errorf("recorded as %+v", list)
	}

	done(b.UndoPartyMerge(ctx, office, practice.UndoPartyMerge{Mutation: newID(), ID: merge, Because: "a cousin"}))
	_, err = b.UndoPartyMerge(ctx, office, practice.UndoPartyMerge{Mutation: newID(), ID: merge, Because: "a cousin"})
	want(t, err, domain.Conflict)
	k, l := must[practice.PartyPage](t)(b.Party(ctx, office, kept, practice.PartyParts{Jobs: true})), must[practice.PartyPage](t)(b.Party(ctx, office, lost, practice.PartyParts{Jobs: true}))
	if k.Phone != "" || k.Notes != "" || len(k.Jobs) != 0 || l.ID != lost || len(l.Jobs) != 1 {
		t.Errorf("undone: %+v and %+v", k, l)
	}
	if issued() != frozen {
		t.Error("the undoing changed what was issued")
	}
	anchorHolds(t, b)
}

// anchorHolds verifies the practice's record of changes from its beginning.
func anchorHolds(t *testing.T, b *bundle) {
	t.Helper()
	v, err := practice.VerifyChain(t.Context(), b.store, b.ours.id, nil)
	if err != nil || len(v.Breaks) != 0 {
		t.Errorf("the record does not hold: %v %v", v.Breaks, err)
	}
}

// Merged twice over, an old id names whoever stands in the end, and it is undone from the
// last merge back.
func TestMergesInARowAreUndoneFromTheLast(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	one, two, three := b.party(b.ours, "A. Dunlin"), b.party(b.ours, "Anna Dunlin"), b.party(b.ours, "Anna Dunlin-Knot")
	vessel := b.vessel(b.ours, "Kittiwake")
	b.role(b.ours, "owner", one, vessel, nil)
	first := must[uuid.UUID](t)(b.merge(office, two, one))
	second := must[uuid.UUID](t)(b.merge(office, three, two))
	named := func(id uuid.UUID) uuid.UUID {
		return must[practice.PartyPage](t)(b.Party(ctx, office, id, practice.PartyParts{})).ID
	}
	owner := func() uuid.UUID {
		return value[uuid.UUID](b, `select party_id from party_roles where vessel_id = $1`, vessel)
	}
	if named(one) != three || named(two) != three || owner() != three {
		t.Error("an old id does not name whoever stands")
	}
	_, err := b.UndoPartyMerge(ctx, office, practice.UndoPartyMerge{Mutation: newID(), ID: first, Because: "two after all"})
	want(t, err, domain.Conflict)
	for _, id := range []uuid.UUID{second, first} {
		must[practice.Done](t)(b.UndoPartyMerge(ctx, office, practice.UndoPartyMerge{Mutation: newID(), ID: id, Because: "two after all"}))
	}
	if named(one) != one || named(two) != two || owner() != one {
		t.Error("undone from the last, they do not stand as they stood")
	}
}

// Of many who merge the same entries at once, either way round, one does.
func TestEntriesAreMergedOnce(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	one, two := b.party(b.ours, "A. Dunlin"), b.party(b.ours, "Anna Dunlin")
	var went sync.Map
	var all sync.WaitGroup
	for k := range 8 {
		all.Go(func() {
			kept, lost := one, two
			if k%2 == 0 {
				kept, lost = lost, kept
			}
			if _, err := b.merge(office, kept, lost); err == nil {
				went.Store(k, true)
			} else if kind := domain.KindOf(err); kind != domain.NotFound && kind != domain.Conflict && kind != domain.Unavailable {
				t.Errorf("refused with %v", err)
			}
		})
	}
	all.Wait()
	n := 0
	went.Range(func(any, any) bool { n++; return true })
	if n != 1 {
		t.Errorf("merged %d times", n)
	}
}

// Two yards that were one: the sheet of the one kept counts, its slots come together.
func TestYardsAreMergedWithTheirSheets(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	kept, lost := b.yard(b.ours, "Skerrow Boatyard"), b.yard(b.ours, "Skerrow Boat Yard")
	for yard, hours := range map[uuid.UUID]string{kept: "8 to 16", lost: "9 to 17"} {
		must[practice.Done](t)(b.DescribeYard(ctx, office, practice.DescribeYard{Mutation: newID(), Yard: yard, LiftHours: hours, TideWithinMinutes: 60}))
	}
	if s := must[practice.Beside](t)(b.PartiesBeside(ctx, office, kept, lost)); !strings.Contains(strings.Join(s.Against, " "), "Both have a yard’s sheet") {
		t.Errorf("against: %q", s.Against)
	}
	merge := must[uuid.UUID](t)(b.merge(office, kept, lost))
	hours := func(yard uuid.UUID) string {
		return value[string](b, `select lift_hours from yards where party_id = $1`, yard)
	}
	if hours(kept) != "8 to 16" || hours(lost) != "9 to 17" {
		t.Error("a sheet was overwritten")
	}
	must[practice.Done](t)(b.UndoPartyMerge(ctx, office, practice.UndoPartyMerge{Mutation: newID(), ID: merge, Because: "two gates"}))
	if hours(kept) != "8 to 16" || hours(lost) != "9 to 17" {
		t.Error("undone, a sheet is not where it was")
	}
}
