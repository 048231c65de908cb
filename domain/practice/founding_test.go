package practice_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestAPracticeBeginsWithAPrincipalWhomNobodyInvited(t *testing.T) {
	t.Parallel()
	b := setup(t)
	found := func() practice.FoundPractice {
		return practice.FoundPractice{
			Mutation: newID(), ID: newID(), Name: "East quay surveys", TimeZone: "Europe/Dublin", Currency: "EUR",
			Invitation: newID(), Person: "Sigrid Tern", Email: "Sigrid@tern.example",
		}
	}
	in := found()
	for range 2 { // and sent again it is the same
		done, err := b.FoundPractice(t.Context(), in)
		want(t, err, domain.Internal)
		if done.Seq != 1 {
			t.Errorf("it is change %d of the practice's record", done.Seq)
		}
	}
	if n := value[int](b, `select count(*) from mails where practice_id = $1`, in.ID); n != 1 {
		t.Errorf("%d letters went out", n)
	}
	i, err := b.store.Door().InvitationByToken(t.Context(), b.tokenTo("sigrid@tern.example"), b.clock.now())
	if err != nil || i.Practice != in.ID || !slices.Equal(i.Roles, []domain.Role{domain.Principal, domain.Surveyor}) {
		t.Fatalf("the link opens %+v, %v", i, err)
	}
	account, err := b.store.Door().CreateAccount(t.Context(), newID(), i.Email, "hash", b.clock.now())
	want(t, err, domain.Internal)
	member, err := b.store.Door().AcceptInvitation(t.Context(), i, newcomer(account), b.clock.now())
	want(t, err, domain.Internal)
	first := domain.Actor{Practice: in.ID, Member: member, Means: domain.BySession, Roles: i.Roles}
	_, err = b.InviteMember(t.Context(), first, practice.InviteMember{Mutation: newID(), ID: newID(), Email: "second@tern.example", Name: "A second", Roles: []string{"office"}})
	want(t, err, domain.Internal)
	if letter := b.letter("second@tern.example"); !strings.Contains(letter, "Sigrid Tern asks you to join East quay surveys") {
		t.Errorf("the next letter says %q", letter)
	}
	if v, err := practice.VerifyChain(t.Context(), b.store, in.ID, nil); err != nil || len(v.Breaks) > 0 || v.Lines != 3 {
		t.Errorf("its record: %+v, %v", v, err)
	}

	for field, spoil := range map[string]func(*practice.FoundPractice){
		"name": func(in *practice.FoundPractice) { in.Name = " " }, "timeZone": func(in *practice.FoundPractice) { in.TimeZone = "Port Skerrow" },
		"currency": func(in *practice.FoundPractice) { in.Currency = "euro" }, "email": func(in *practice.FoundPractice) { in.Email = "nowhere" },
		"id": func(in *practice.FoundPractice) { in.ID = uuid.Nil }, "invitation": func(in *practice.FoundPractice) { in.Invitation = uuid.Nil },
	} {
		in := found()
		spoil(&in)
		_, err := b.FoundPractice(t.Context(), in)
		want(t, err, domain.Invalid, field)
		if n := value[int](b, `select count(*) from practices where practice_id = $1`, in.ID); n != 0 {
			t.Errorf("a practice without %s was made", field)
		}
	}
	taken := found()
	taken.ID = b.theirs.id
	_, err = b.FoundPractice(t.Context(), taken)
	want(t, err, domain.Conflict, "id")
}
