package practice_test

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestPrincipals(t *testing.T) {
	t.Parallel()
	edit := func(id uuid.UUID, roles ...string) practice.EditMember {
		return practice.EditMember{Mutation: newID(), ID: id, Version: 1, Roles: roles}
	}
	t.Run("the last one neither leaves nor lends the role away", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		p := b.ours.of[domain.Principal]
		_, err := b.EditMember(t.Context(), p, edit(p.Member, "surveyor"))
		want(t, err, domain.Conflict)
		_, err = b.EditMember(t.Context(), p, practice.EditMember{Mutation: newID(), ID: p.Member, Version: 1, Left: ptr(true)})
		want(t, err, domain.Conflict)
		second := b.member(b.ours, domain.Principal, domain.Surveyor)
		_, err = b.EditMember(t.Context(), p, practice.EditMember{Mutation: newID(), ID: p.Member, Version: 1, Left: ptr(true)})
		want(t, err, domain.Internal)
		_, err = b.EditMember(t.Context(), second, edit(second.Member, "surveyor"))
		want(t, err, domain.Conflict)
	})
	t.Run("of two who leave at once one stays", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		for range 5 {
			two := []domain.Actor{b.member(b.ours, domain.Principal), b.member(b.ours, domain.Principal)}
			b.exec(`update members set roles = '{surveyor}' where practice_id = $1 and not id = any($2)`, b.ours.id, []uuid.UUID{two[0].Member, two[1].Member})
			var all sync.WaitGroup
			for _, a := range two {
				all.Go(func() {
					_, _ = b.EditMember(t.Context(), a, practice.EditMember{Mutation: newID(), ID: a.Member, Version: 1, Left: ptr(true)})
				})
			}
			all.Wait()
			if n := value[int](b, `select count(*) from members where practice_id = $1 and left_at is null and 'principal' = any(roles)`, b.ours.id); n != 1 {
				t.Fatalf("%d principals are left, want 1", n)
			}
		}
	})
	t.Run("only a principal makes one, takes that away, or changes one", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		office, principal, surveyor := b.ours.of[domain.Office], b.ours.of[domain.Principal], b.ours.of[domain.Surveyor]
		other := b.member(b.ours, domain.Principal)
		_, err := b.EditMember(t.Context(), office, edit(office.Member, "office", "principal"))
		want(t, err, domain.Forbidden)
		_, err = b.EditMember(t.Context(), office, edit(other.Member, "guest"))
		want(t, err, domain.Forbidden)
		_, err = b.EditMember(t.Context(), office, practice.EditMember{Mutation: newID(), ID: other.Member, Version: 1, Name: ptr("Somebody")})
		want(t, err, domain.Forbidden)
		_, err = b.EditMember(t.Context(), office, edit(surveyor.Member, "surveyor", "office"))
		want(t, err, domain.Internal)
		_, err = b.EditMember(t.Context(), office, edit(office.Member, "office", "surveyor"))
		want(t, err, domain.Forbidden)
		_, err = b.EditMember(t.Context(), office, practice.EditMember{Mutation: newID(), ID: office.Member, Version: 1, Name: ptr("The front desk")})
		want(t, err, domain.Internal)
		named := edit(office.Member, "office", "principal")
		named.Version = 2
		_, err = b.EditMember(t.Context(), principal, named)
		want(t, err, domain.Internal)
	})
	t.Run("one who was a principal when the page was opened is none any more", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		was := b.member(b.ours, domain.Principal, domain.Office)
		b.exec(`update members set roles = '{office}' where id = $1`, was.Member)
		_, err := b.EditMember(t.Context(), was, edit(b.ours.of[domain.Surveyor].Member, "principal"))
		want(t, err, domain.Forbidden)
	})
}

func TestEditMember(t *testing.T) {
	t.Parallel()
	t.Run("changes what is named and nothing else, once", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		in := practice.EditMember{Mutation: newID(), ID: b.ours.of[domain.Trainee].Member, Version: 1, Qualification: ptr("MSc, in training"), Roles: []string{"surveyor"}}
		thrice(t, func(ctx context.Context) (practice.Done, error) {
			return b.EditMember(ctx, b.ours.of[domain.Principal], in)
		})
		m := must[practice.Member](t)(b.Member(t.Context(), b.ours.of[domain.Guest], in.ID))
		if m.Name != "The trainee" || m.Qualification != "MSc, in training" || !slices.Equal(m.Roles, []string{"surveyor"}) || m.Version != 2 {
			t.Errorf("kept %+v", m)
		}
		in.Name = ptr("Somebody else")
		_, err := b.EditMember(t.Context(), b.ours.of[domain.Principal], in)
		want(t, err, domain.Conflict) // the same change with other content
		in.Mutation = newID()
		_, err = b.EditMember(t.Context(), b.ours.of[domain.Principal], in)
		want(t, err, domain.Conflict) // an old version
	})
	t.Run("refuses what cannot be kept, naming the field", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		for name, c := range map[string]struct {
			in    practice.EditMember
			field string
		}{
			"no role":        {practice.EditMember{Roles: []string{}}, "roles"},
			"unknown role":   {practice.EditMember{Roles: []string{"captain"}}, "roles"},
			"a role twice":   {practice.EditMember{Roles: []string{"office", "office"}}, "roles"},
			"no name":        {practice.EditMember{Name: ptr("  ")}, "name"},
			"two lines":      {practice.EditMember{Name: ptr("Ines\r\nBcc: all")}, "name"},
			"a name too far": {practice.EditMember{Name: ptr(string(make([]rune, 201)))}, "name"},
		} {
			t.Run(name, func(t *testing.T) {
				c.in.Mutation, c.in.ID, c.in.Version = newID(), b.ours.of[domain.Trainee].Member, 1
				_, err := b.EditMember(t.Context(), b.ours.of[domain.Principal], c.in)
				want(t, err, domain.Invalid, c.field)
			})
		}
	})
	t.Run("leaving ends access at the next write, every session and every key", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		gone, principal := b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
		_, text, err := b.CreateAPIKey(t.Context(), principal, practice.CreateAPIKey{Mutation: newID(), ID: newID(), Member: gone.Member, Name: "sync"})
		want(t, err, domain.Internal)
		session := newID()
		b.exec(`insert into sessions (id, account_id, practice_id, member_id, created_at, expires_at)
			select $1, account_id, practice_id, id, $3::timestamptz, $3::timestamptz + interval '30 days' from members where id = $2`, session, gone.Member, b.clock.now())
		leave := func(left bool, version int32) {
			_, err := b.EditMember(t.Context(), principal, practice.EditMember{Mutation: newID(), ID: gone.Member, Version: version, Left: &left})
			want(t, err, domain.Internal)
		}
		leave(true, 1)
		_, err = b.AddVessel(t.Context(), gone, practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: newID(), Name: "Kittiwake"}})
		want(t, err, domain.Unauthenticated)
		closed := func() {
			t.Helper()
			_, err = b.store.Door().SessionMember(t.Context(), session, b.clock.now())
			want(t, err, domain.NotFound)
			_, err = b.store.Door().KeyMember(t.Context(), hashOf(text))
			want(t, err, domain.NotFound)
		}
		closed()
		leave(false, 2) // back again: what was ended stays ended
		closed()
		_, err = b.AddVessel(t.Context(), gone, practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: newID(), Name: "Kittiwake"}})
		want(t, err, domain.Internal)
	})
	t.Run("another practice's member is nobody", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		_, err := b.EditMember(t.Context(), b.ours.of[domain.Principal], practice.EditMember{Mutation: newID(), ID: b.theirs.of[domain.Surveyor].Member, Version: 1, Left: ptr(true)})
		want(t, err, domain.NotFound)
	})
}

func TestMembersByName(t *testing.T) {
	t.Parallel()
	b := setup(t)
	var names []string
	page := practice.Page{First: 2}
	for {
		list := must[[]practice.Member](t)(b.Members(t.Context(), b.ours.of[domain.Guest], page))
		more := len(list) > page.First
		for _, m := range list[:min(len(list), page.First)] {
			names = append(names, m.Name)
			page.AfterText, page.AfterID = m.Name, m.ID
		}
		if !more {
			break
		}
	}
	if !slices.Equal(names, []string{"The guest", "The office", "The principal", "The surveyor", "The trainee"}) {
		t.Errorf("listed %v", names)
	}
	_, err := b.Members(t.Context(), b.ours.of[domain.Guest], practice.Page{First: 201})
	want(t, err, domain.Invalid, "first")
}

func TestAPIKeys(t *testing.T) {
	t.Parallel()
	b := setup(t)
	principal, surveyor := b.ours.of[domain.Principal], b.ours.of[domain.Surveyor]
	in := practice.CreateAPIKey{Mutation: newID(), ID: newID(), Member: surveyor.Member, Name: "weather import"}
	_, text, err := b.CreateAPIKey(t.Context(), principal, in)
	want(t, err, domain.Internal)

	s, err := b.store.Door().KeyMember(t.Context(), hashOf(text))
	if err != nil || s.Member != surveyor.Member || s.ID != in.ID {
		t.Errorf("the key opens %+v, %v", s, err)
	}
	if kept := value[string](b, `select api_keys::text from api_keys where id = $1`, in.ID); len(text) != 47 || text[:4] != "btk_" || strings.Contains(kept, text[4:]) {
		t.Errorf("%q is kept as %s", text, kept)
	}
	done, again, err := b.CreateAPIKey(t.Context(), principal, in)
	if err != nil || again != "" || !done.Again {
		t.Errorf("sent again it answered %q, %+v, %v", again, done, err)
	}
	revoke := practice.RevokeAPIKey{Mutation: newID(), ID: in.ID}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RevokeAPIKey(ctx, principal, revoke) })
	when := b.clock.now()
	b.clock.pass(time.Hour)
	revoke.Mutation = newID()
	_, err = b.RevokeAPIKey(t.Context(), principal, revoke)
	want(t, err, domain.Internal)
	k := must[practice.APIKey](t)(b.APIKey(t.Context(), principal, in.ID))
	if k.RevokedAt == nil || !k.RevokedAt.Equal(when) || k.Member.Name != "The surveyor" {
		t.Errorf("the key is now %+v", k)
	}
	_, err = b.store.Door().KeyMember(t.Context(), hashOf(text))
	want(t, err, domain.NotFound)

	_, _, err = b.CreateAPIKey(t.Context(), principal, practice.CreateAPIKey{Mutation: newID(), ID: newID(), Member: b.theirs.of[domain.Surveyor].Member, Name: "x"})
	want(t, err, domain.NotFound)
	b.exec(`update members set left_at = now() where id = $1`, surveyor.Member)
	_, _, err = b.CreateAPIKey(t.Context(), principal, practice.CreateAPIKey{Mutation: newID(), ID: newID(), Member: surveyor.Member, Name: "x"})
	want(t, err, domain.Invalid, "member")
	_, err = b.RevokeAPIKey(t.Context(), b.theirs.of[domain.Principal], practice.RevokeAPIKey{Mutation: newID(), ID: in.ID})
	want(t, err, domain.NotFound)
	if list := must[[]practice.APIKey](t)(b.APIKeys(t.Context(), b.theirs.of[domain.Principal])); len(list) != 0 {
		t.Errorf("another practice sees %v", list)
	}
}
