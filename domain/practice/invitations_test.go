package practice_test

import (
	"context"
	"crypto/sha256"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

func hashOf(text string) entry.Token { return sha256.Sum256([]byte(text)) }

var invitationLink = regexp.MustCompile(regexp.QuoteMeta(publicURL) + `/invitation/([\w-]{43})\s`)

// tokenTo takes the token out of the newest letter to an address.
func (b *bundle) tokenTo(email string) entry.Token {
	b.t.Helper()
	found := invitationLink.FindStringSubmatch(b.letter(email))
	if found == nil {
		b.t.Fatalf("no link in the letter:\n%s", b.letter(email))
	}
	return hashOf(found[1])
}

func TestInvitation(t *testing.T) {
	t.Parallel()
	invite := func(email string, roles ...string) practice.InviteMember {
		return practice.InviteMember{Mutation: newID(), ID: newID(), Email: email, Name: "Sigrid Tern", Roles: roles}
	}
	t.Run("the letter's link opens the door for fourteen days, and makes the member it names", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		in := invite(" Sigrid@Tern.example ", "surveyor", "office")
		thrice(t, func(ctx context.Context) (practice.Done, error) {
			return b.InviteMember(ctx, b.ours.of[domain.Office], in)
		})
		if n := value[int](b, `select count(*) from mails`); n != 1 {
			t.Errorf("%d letters went out, want 1", n)
		}
		if n := value[int](b, `select count(*) from queue.river_job where kind = 'mail'`); n != 1 {
			t.Errorf("%d jobs wait to send letters, want 1", n)
		}
		body := b.letter("sigrid@tern.example")
		for _, part := range []string{"Sigrid Tern,", "The office asks you to join North quay surveys as surveyor, office", "21 April 2026", "demonstration"} {
			if !strings.Contains(body, part) {
				t.Errorf("the letter does not say %q:\n%s", part, body)
			}
		}
		token := b.tokenTo("sigrid@tern.example")
		if kept := value[string](b, `select invitations::text from invitations`); strings.Contains(kept, invitationLink.FindStringSubmatch(body)[1]) {
			t.Error("the token itself is kept")
		}
		list := must[[]practice.Invitation](t)(b.Invitations(t.Context(), b.ours.of[domain.Surveyor]))
		if len(list) != 1 || list[0].ID != in.ID || list[0].Email != "sigrid@tern.example" || !list[0].ExpiresAt.Equal(b.clock.now().Add(14*24*time.Hour)) {
			t.Errorf("those that stand: %+v", list)
		}
		door := b.store.Door()
		b.clock.pass(14*24*time.Hour - time.Second)
		i, err := door.InvitationByToken(t.Context(), token, b.clock.now())
		if err != nil || i.ID != in.ID || i.PracticeName != "North quay surveys" || !slices.Equal(i.Roles, []domain.Role{domain.Surveyor, domain.Office}) {
			t.Fatalf("the link opens %+v, %v", i, err)
		}
		account, err := door.CreateAccount(t.Context(), newID(), i.Email, "hash", b.clock.now())
		if err != nil {
			t.Fatal(err)
		}
		member, err := door.AcceptInvitation(t.Context(), i, newcomer(account), b.clock.now())
		if err != nil {
			t.Fatal(err)
		}
		m := must[practice.Member](t)(b.Member(t.Context(), b.ours.of[domain.Guest], member))
		if m.Email != i.Email || !slices.Equal(m.Roles, in.Roles) {
			t.Errorf("the new member is %+v", m)
		}
		if list := must[[]practice.Invitation](t)(b.Invitations(t.Context(), b.ours.of[domain.Office])); len(list) != 0 {
			t.Errorf("an accepted invitation still stands: %+v", list)
		}
	})
	t.Run("makes the one who left the same member again, and changes nothing of one who is there", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		door, here := b.store.Door(), b.ours.of[domain.Surveyor]
		account := value[uuid.UUID](b, `select account_id from members where id = $1`, here.Member)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], invite("sigrid@tern.example", "guest"))
		want(t, err, domain.Internal)
		i, err := door.InvitationByToken(t.Context(), b.tokenTo("sigrid@tern.example"), b.clock.now())
		want(t, err, domain.Internal)
		_, err = door.AcceptInvitation(t.Context(), i, newcomer(account), b.clock.now()) // whose account has another address
		want(t, err, domain.Conflict)
		if m := must[practice.Member](t)(b.Member(t.Context(), here, here.Member)); m.Name != "The surveyor" || m.Roles[0] != "surveyor" || m.Version != 1 {
			t.Errorf("the member became %+v", m)
		}
		b.exec(`update members set left_at = now() where id = $1`, here.Member)
		member, err := door.AcceptInvitation(t.Context(), i, newcomer(account), b.clock.now())
		want(t, err, domain.Internal)
		if m := must[practice.Member](t)(b.Member(t.Context(), b.ours.of[domain.Office], here.Member)); member != here.Member || m.LeftAt != nil || !slices.Equal(m.Roles, []string{"guest"}) {
			t.Errorf("the member who came back is %+v", m)
		}
	})
	t.Run("ends after fourteen days", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], invite("sigrid@tern.example", "trainee"))
		want(t, err, domain.Internal)
		b.clock.pass(14 * 24 * time.Hour)
		_, err = b.store.Door().InvitationByToken(t.Context(), b.tokenTo("sigrid@tern.example"), b.clock.now())
		want(t, err, domain.NotFound)
		if list := must[[]practice.Invitation](t)(b.Invitations(t.Context(), b.ours.of[domain.Office])); len(list) != 0 {
			t.Errorf("it still stands: %+v", list)
		}
	})
	t.Run("a newer one to the same address ends the one before", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Principal], invite("sigrid@tern.example", "principal"))
		want(t, err, domain.Internal)
		old := b.tokenTo("sigrid@tern.example")
		b.clock.pass(time.Minute)
		_, err = b.InviteMember(t.Context(), b.ours.of[domain.Office], invite("SIGRID@tern.example", "guest"))
		want(t, err, domain.Internal)
		_, err = b.store.Door().InvitationByToken(t.Context(), old, b.clock.now())
		want(t, err, domain.NotFound)
		_, err = b.store.Door().InvitationByToken(t.Context(), b.tokenTo("sigrid@tern.example"), b.clock.now())
		want(t, err, domain.Internal)
	})
	t.Run("only a principal asks somebody to be one", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], invite("sigrid@tern.example", "office", "principal"))
		want(t, err, domain.Forbidden)
		_, err = b.InviteMember(t.Context(), b.ours.of[domain.Principal], invite("sigrid@tern.example", "office", "principal"))
		want(t, err, domain.Internal)
	})
	t.Run("a member's address is refused: accepting would change what the member is", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		there := value[string](b, `select email from members where id = $1`, b.ours.of[domain.Principal].Member)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], invite(strings.ToUpper(there), "guest"))
		want(t, err, domain.Conflict)
		_, err = b.InviteMember(t.Context(), b.theirs.of[domain.Office], invite(there, "guest"))
		want(t, err, domain.Internal) // another practice is told nothing of ours
	})
	t.Run("what is refused sends no letter", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		for field, in := range map[string]practice.InviteMember{
			"email": invite("sigrid at tern", "guest"), "roles": invite("sigrid@tern.example"),
			"name": {Mutation: newID(), ID: newID(), Email: "s@tern.example", Name: "S\nBcc: x@y.z", Roles: []string{"guest"}},
			"id":   {Mutation: newID(), Email: "s@tern.example", Name: "S", Roles: []string{"guest"}},
		} {
			_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], in)
			want(t, err, domain.Invalid, field)
		}
		if n := value[int](b, `select (select count(*) from mails) + (select count(*) from queue.river_job) + (select count(*) from invitations)`); n != 0 {
			t.Errorf("%d rows were kept", n)
		}
	})
	t.Run("a guest is told of none", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		_, err := b.InviteMember(t.Context(), b.ours.of[domain.Office], invite("sigrid@tern.example", "guest"))
		want(t, err, domain.Internal)
		if list := must[[]practice.Invitation](t)(b.Invitations(t.Context(), b.ours.of[domain.Guest])); len(list) != 0 {
			t.Errorf("a guest sees %+v", list)
		}
	})
}

func newcomer(account uuid.UUID) entry.Newcomer {
	return entry.Newcomer{Account: account, Name: "Sigrid Tern", Member: newID(), Mutation: newID()}
}
