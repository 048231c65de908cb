package practice_test

import (
	"fmt"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/picture"
)

const ferrant = "ferrant@post.example"

// delivered is an issued report with one recommendation, and its client's link.
type delivered struct {
	written
	rec   uuid.UUID
	token string
}

func deliver(t *testing.T) (*bundle, delivered) {
	t.Helper()
	b, _, _ := withFiles(t)
	return b, b.deliver("Petrel", "A. Ferrant", ferrant)
}

func (b *bundle) deliver(boat, client, email string) delivered {
	b.t.Helper()
	party := b.party(b.ours, client, func(p *practice.Party) { p.Email = email })
	return b.deliverOf(b.survey(b.ours, boat), party, client, email)
}

func (b *bundle) deliverOf(s survey, party uuid.UUID, client, email string) delivered {
	b.t.Helper()
	d := delivered{written: b.write(s, party)}
	d.rec = must[uuid.UUID](b.t)(b.advise(b.ours.of[domain.Surveyor], d.job))
	b.issued(d.written)
	d.token = b.share(d.written, client, email)
	return d
}

func (b *bundle) share(w written, name, email string) (token string) {
	b.t.Helper()
	_, link, err := b.ShareReport(b.t.Context(), b.ours.of[domain.Office], practice.ShareReport{
		Mutation: newID(), ID: newID(), Report: w.report, Name: name, Email: email, Until: b.clock.now().AddDate(0, 6, 0),
	})
	if err != nil {
		b.t.Fatal(err)
	}
	return link[strings.LastIndexByte(link, '/')+1:]
}

// allow notes the client's leave to share the report of a job, as the office does.
func (b *bundle) allow(d delivered) {
	b.t.Helper()
	b.exec(`insert into permissions (practice_id, id, job_id, what, given_on, given_by_name) values ($1, $2, $3, 'share the report', now(), 'the client')`, b.ours.id, newID(), d.job)
}

var codeWords = regexp.MustCompile(`Type this code on its page: ([A-Z0-9]{4}-[A-Z0-9]{4})`)

// code asks for a code and reads it from the letter.
func (b *bundle) code(token, email string) string {
	b.t.Helper()
	sentTo, _, err := b.SendShareCode(b.t.Context(), practice.Holder{Link: token}, newID())
	if err != nil {
		b.t.Fatal(err)
	}
	if strings.Contains(sentTo, strings.Split(email, "@")[0]) {
		b.t.Errorf("%q tells the whole address to whoever holds the link", sentTo)
	}
	b.clock.pass(time.Second)
	found := codeWords.FindStringSubmatch(b.letter(email))
	if found == nil {
		b.t.Fatalf("no code in\n%s", b.letter(email))
	}
	return found[1]
}

func (b *bundle) say(who practice.Holder, in practice.AnswerTask) error {
	in.Mutation = newID()
	_, _, err := b.AnswerTask(b.t.Context(), who, in)
	b.clock.pass(time.Second)
	return err
}

func TestAClientsAnswerStandsBesideTheStates(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	b.exec(`update members set email = 'lead@north.example' where id = $1`, b.ours.of[domain.Surveyor].Member)
	b.exec(`update jobs set lead_id = $2 where id = $1`, d.job, b.ours.of[domain.Surveyor].Member)
	who := practice.Holder{Link: d.token, Code: b.code(d.token, ferrant)}
	want(t, b.say(who, practice.AnswerTask{Task: 1, Answer: "declined", Reason: " "}), domain.Invalid, "reason")
	want(t, b.say(who, practice.AnswerTask{Task: 1, Answer: "seen done"}), domain.Invalid, "answer")
	want(t, b.say(who, practice.AnswerTask{Task: 2, Answer: "agreed"}), domain.NotFound)
	want(t, b.say(who, practice.AnswerTask{Task: 0, Answer: "agreed"}), domain.NotFound)
	want(t, b.say(who, practice.AnswerTask{Task: 1, Answer: "agreed"}), domain.Internal)
	claim := practice.AnswerTask{Mutation: newID(), Task: 1, Answer: "claimed done", Reason: "The yard did it."}
	for range 3 { // a lost reply sends it again
		shared, _, err := b.AnswerTask(t.Context(), who, claim)
		if err != nil || len(shared.Answers) != 2 || shared.Answers[1].Answer != "claimed done" || shared.Answers[1].Recommendation != d.rec {
			t.Fatalf("%+v, %v", shared.Answers, err)
		}
	}
	if state := value[string](b, `select state from recommendations where id = $1`, d.rec); state != "issued" {
		t.Errorf("the client's claim moved the recommendation to %q", state)
	}
	if n := value[int](b, `select count(*) from mails where recipient = 'lead@north.example'`); n != 2 {
		t.Errorf("the member responsible got %d letters for 2 answers", n)
	}
	claim.Reason = "Other words."
	_, _, err := b.AnswerTask(t.Context(), who, claim)
	want(t, err, domain.Conflict)
	word := must[practice.ClientWord](t)(b.ClientWord(t.Context(), b.ours.of[domain.Office], d.vessel))
	if len(word.Answers) != 2 || word.Answers[1].ByName != "A. Ferrant" || word.Answers[1].Reason != "The yard did it." || word.Answers[1].JobID != d.job {
		t.Errorf("the office reads %+v", word.Answers)
	}
	_, err = b.ClientWord(t.Context(), b.theirs.of[domain.Principal], d.vessel)
	want(t, err, domain.NotFound)
	b.exec(`update jobs set restricted = true where id = $1`, d.job)
	if shut := must[practice.ClientWord](t)(b.ClientWord(t.Context(), b.ours.of[domain.Office], d.vessel)); len(shut.Answers) != 0 {
		t.Error("the answers of a restricted job are open to who was not let in")
	}
}

func TestOnlyTheCodeOfTheLetterActsByALink(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	agree := practice.AnswerTask{Task: 1, Answer: "agreed"}
	by := func(code string) practice.Holder { return practice.Holder{Link: d.token, Code: code} }
	want(t, b.say(by(""), agree), domain.Invalid, "code")
	want(t, b.say(by("AAAA-AAAA"), agree), domain.Forbidden) // none was sent
	first := b.code(d.token, ferrant)
	want(t, b.say(by(strings.ToLower(strings.Replace(first, "-", " ", 1))), agree), domain.Internal)
	second := b.code(d.token, ferrant)
	want(t, b.say(by(first), agree), domain.Invalid, "code") // the latest letter counts
	b.allow(d)
	other := b.share(d.written, "B. Knot", "knot@post.example")
	want(t, b.say(practice.Holder{Link: other, Code: second}, agree), domain.Forbidden)
	for range 9 {
		want(t, b.say(by("AAAA-AAAA"), agree), domain.Invalid, "code")
	}
	want(t, b.say(by(second), agree), domain.Forbidden) // the tries are used up
	third := b.code(d.token, ferrant)
	b.clock.pass(25 * time.Hour)
	want(t, b.say(by(third), agree), domain.Forbidden)
	for range 5 {
		b.code(d.token, ferrant)
	}
	_, _, err := b.SendShareCode(t.Context(), practice.Holder{Link: d.token}, newID())
	want(t, err, domain.Unavailable)
	if n := value[int](b, `select count(*) from share_codes where encode(code_sha256, 'escape') like '%' || $1 || '%'`, third); n != 0 {
		t.Error("a code is kept as it is")
	}
	b.exec(`update shares set revoked_at = now()`)
	want(t, b.say(by(third), agree), domain.NotFound)
	_, _, err = b.SendShareCode(t.Context(), practice.Holder{Link: d.token}, newID())
	want(t, err, domain.NotFound)
	_, _, err = b.SendShareCode(t.Context(), practice.Holder{}, newID())
	want(t, err, domain.Unauthenticated)
}

// account signs a client up by the link and its code, as the door does.
func (b *bundle) account(token, email string) domain.Actor {
	b.t.Helper()
	proved := must[string](b.t)(b.ProveShare(b.t.Context(), token, b.code(token, email)))
	if proved != email {
		b.t.Fatalf("the code proved %q", proved)
	}
	account := must[uuid.UUID](b.t)(b.store.Door().CreateAccount(b.t.Context(), newID(), email, "no password opens this", b.clock.now()))
	if err := b.GrantClient(b.t.Context(), token, account); err != nil {
		b.t.Fatal(err)
	}
	return domain.Actor{Account: account, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}
}

// home lists "boat number" of what an account opens.
func (b *bundle) home(a domain.Actor) (list []string) {
	b.t.Helper()
	h := must[practice.ClientHome](b.t)(b.ClientHome(b.t.Context(), practice.Holder{Actor: a}))
	for _, r := range h.Reports {
		list = append(list, fmt.Sprint(r.Content.Vessel.Name, " ", r.Number))
	}
	return list
}

func TestAnAccountOpensWhatNamesItsAddressAndIsOpen(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	second := b.deliver("Dunlin", "A. Ferrant", strings.ToUpper(ferrant))
	buyer := b.deliverOf(b.survey(b.ours, "Knot"), b.party(b.ours, "B. Vane"), "B. Vane", "vane@post.example")
	owner, other := b.account(d.token, ferrant), b.account(buyer.token, "vane@post.example")
	if got := b.home(owner); len(got) != 2 || !strings.HasPrefix(got[0], "Petrel") || !strings.HasPrefix(got[1], "Dunlin") {
		t.Fatalf("the account opens %q", got)
	}
	if got := b.home(other); len(got) != 1 || !strings.HasPrefix(got[0], "Knot") {
		t.Fatalf("the buyer's account opens %q", got)
	}
	mine := must[practice.ClientHome](t)(b.ClientHome(t.Context(), practice.Holder{Actor: owner})).Reports[0]
	agree := practice.AnswerTask{Task: 1, Answer: "agreed"}
	want(t, b.say(practice.Holder{Actor: owner, Report: mine.Key}, agree), domain.Internal)
	for what, key := range map[string]string{"none": "", "a guess": strings.Repeat("A", 22), "the id": mine.ID.String()} {
		_, _, err := b.OpenShared(t.Context(), practice.Holder{Actor: owner, Report: key}, "pdf")
		t.Run(what, func(t *testing.T) { want(t, err, domain.NotFound) })
	}
	// The same key from another account opens nothing; nor does any member's session.
	want(t, b.say(practice.Holder{Actor: other, Report: mine.Key}, agree), domain.NotFound)
	for role, member := range b.ours.of {
		_, err := b.ClientHome(t.Context(), practice.Holder{Actor: member})
		t.Run(string(role), func(t *testing.T) { want(t, err, domain.Forbidden) })
		want(t, b.say(practice.Holder{Actor: member, Report: mine.Key}, agree), domain.Forbidden)
	}
	_, err := b.ClientHome(t.Context(), practice.Holder{})
	want(t, err, domain.Unauthenticated)
	b.exec(`update shares set revoked_at = now() where report_id = $1`, second.report)
	if got := b.home(owner); len(got) != 1 {
		t.Errorf("a link that was taken back is still open: %q", got)
	}
	b.clock.pass(200 * 24 * time.Hour)
	if got := b.home(owner); len(got) != 0 {
		t.Errorf("links that ran out are still open: %q", got)
	}
	want(t, b.say(practice.Holder{Actor: owner, Report: mine.Key}, agree), domain.NotFound)
	b.exec(`update client_grants set ended_at = now()`)
	if h := must[practice.ClientHome](t)(b.ClientHome(t.Context(), practice.Holder{Actor: owner})); len(h.Grants) != 0 {
		t.Errorf("a grant that ended opens %+v", h)
	}
}

// A client's session calls what is a client's and nothing else: every use case there is.
func TestAClientCallsNothingOfThePractice(t *testing.T) {
	t.Parallel()
	b := setup(t)
	client := domain.Actor{Account: newID(), Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}
	for _, do := range domain.Actions() {
		if may := domain.May(client, do) == nil; may != (do == domain.ReadShared || do == domain.AnswerShared) {
			t.Errorf("a client may %s: %v", do, may)
		}
	}
	for _, u := range b.useCases() {
		results, err := u.call(t.Context(), client)
		t.Run(u.name, func(t *testing.T) {
			want(t, err, domain.Forbidden)
			blank(t, results)
		})
	}
}

// Two people have reports of one boat: what the buyer was told and said stays the buyer's.
func TestTheOwnerDoesNotSeeTheBuyersReport(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	buyers := b.survey(b.ours, "Petrel again")
	b.exec(`update jobs set vessel_id = $2 where id = $1`, d.job, buyers.vessel) // one hull, two jobs
	buyer := b.deliverOf(buyers, b.party(b.ours, "B. Vane"), "B. Vane", "vane@post.example")
	by := practice.Holder{Link: buyer.token, Code: b.code(buyer.token, "vane@post.example")}
	want(t, b.say(by, practice.AnswerTask{Task: 1, Answer: "declined", Reason: "Too dear at that price."}), domain.Internal)
	_, _, err := b.WriteToPractice(t.Context(), by, practice.WriteToPractice{Mutation: newID(), Text: "Shall I offer less?"})
	want(t, err, domain.Internal)
	owner := b.account(d.token, ferrant)
	h := must[practice.ClientHome](t)(b.ClientHome(t.Context(), practice.Holder{Actor: owner}))
	if len(h.Reports) != 1 || h.Reports[0].ReportID != d.report || len(h.Reports[0].Answers) != 0 || len(h.Reports[0].Messages) != 0 || len(h.Reports[0].OtherReports) != 0 {
		t.Errorf("the owner reads %+v", h.Reports)
	}
	// The owner's word about a number that the buyer's report prints reaches the owner's own report alone.
	shared, _, err := b.OpenShared(t.Context(), practice.Holder{Link: d.token}, "")
	if err != nil || len(shared.Answers) != 0 {
		t.Errorf("%+v, %v", shared.Answers, err)
	}
}

func TestOnlyTheClientGivesLeaveToShare(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	lender := practice.PermitSharing{Mutation: newID(), Name: "Skerrow Mutual", Email: "desk@mutual.example", Purpose: "the policy"}
	b.allow(d)
	third := b.share(d.written, "C. Rail", "rail@broker.example")
	b.exec(`delete from permissions where job_id = $1`, d.job)
	_, _, err := b.PermitSharing(t.Context(), practice.Holder{Link: third, Code: b.code(third, "rail@broker.example")}, lender)
	want(t, err, domain.Forbidden)
	who := practice.Holder{Link: d.token, Code: b.code(d.token, ferrant)}
	lender.Mutation = newID()
	shared, _, err := b.PermitSharing(t.Context(), who, lender)
	if err != nil || len(shared.Permits) != 1 || shared.Permits[0].Email != "desk@mutual.example" {
		t.Fatalf("%+v, %v", shared.Permits, err)
	}
	if n := value[int](b, `select count(*) from shares where email = 'desk@mutual.example'`); n != 0 {
		t.Error("leave made a link by itself")
	}
	give := practice.ShareReport{Mutation: newID(), ID: newID(), Report: d.report, Name: "Somebody", Email: "somebody@mutual.example", Until: b.clock.now().AddDate(0, 6, 0)}
	_, _, err = b.ShareReport(t.Context(), b.ours.of[domain.Office], give)
	want(t, err, domain.Conflict, "name") // leave for one is none for another
	link := b.share(d.written, "Skerrow Mutual", "DESK@mutual.example")
	if _, _, err := b.OpenShare(t.Context(), link, ""); err != nil {
		t.Fatal(err)
	}
	shared, _, err = b.WithdrawSharing(t.Context(), who, practice.WithdrawSharing{Mutation: newID(), Number: 1})
	if err != nil || shared.Permits[0].WithdrawnAt == nil {
		t.Fatalf("%+v, %v", shared.Permits, err)
	}
	_, _, err = b.OpenShare(t.Context(), link, "")
	want(t, err, domain.NotFound)
	give.Mutation, give.ID, give.Email = newID(), newID(), "desk@mutual.example"
	_, _, err = b.ShareReport(t.Context(), b.ours.of[domain.Office], give)
	want(t, err, domain.Conflict, "name")
	_, _, err = b.WithdrawSharing(t.Context(), who, practice.WithdrawSharing{Mutation: newID(), Number: 2})
	want(t, err, domain.NotFound)
	if _, _, err := b.OpenShare(t.Context(), d.token, ""); err != nil {
		t.Errorf("the client's own link ended with it: %v", err)
	}
}

func TestAClientsPhotoIsOneThatWasGranted(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	ctx, body := t.Context(), photo(t, 400, 300)
	b.allow(d)
	other := b.share(d.written, "B. Knot", "knot@post.example")
	who := practice.Holder{Link: d.token, Code: b.code(d.token, ferrant)}
	stranger := practice.Holder{Link: other, Code: b.code(other, "knot@post.example")}
	done := func(upload uuid.UUID) practice.AnswerTask {
		return practice.AnswerTask{Task: 1, Answer: "claimed done", Photo: &upload}
	}
	in := grantFor("photo", "image/jpeg", body)
	_, err := b.GrantClientPhoto(ctx, practice.Holder{Link: d.token}, in)
	want(t, err, domain.Invalid, "code")
	bad := grantFor("photo", "image/gif", body)
	_, err = b.GrantClientPhoto(ctx, who, bad)
	want(t, err, domain.Invalid, "contentType")
	g := must[practice.Grant](t)(b.GrantClientPhoto(ctx, who, in))
	rest := in
	rest.Sha256 = grantFor("photo", "image/jpeg", []byte("\xff\xd8\xffanother")).Sha256
	_, err = b.GrantClientPhoto(ctx, who, rest)
	want(t, err, domain.Conflict)                              // the same change with other bytes
	want(t, b.say(who, done(in.ID)), domain.Invalid, "upload") // it has not arrived
	if status := put(t, g, body); status != 200 {
		t.Fatalf("PUT answered %d", status)
	}
	want(t, b.say(stranger, done(in.ID)), domain.NotFound)
	want(t, b.say(who, done(newID())), domain.NotFound)
	members := b.uploaded(b.ours.of[domain.Surveyor], "photo", "image/jpeg", body)
	want(t, b.say(who, done(members)), domain.NotFound)
	_, err = b.AddPhoto(ctx, b.ours.of[domain.Surveyor], practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: in.ID, Vessel: d.vessel})
	want(t, err, domain.NotFound) // nor does a member pin a client's
	want(t, b.say(who, practice.AnswerTask{Task: 1, Answer: "agreed", Photo: &in.ID}), domain.Invalid, "upload")
	want(t, b.say(who, done(in.ID)), domain.Internal)
	want(t, b.say(who, done(in.ID)), domain.NotFound) // it went with an answer
	for range 2 {
		if err := b.MakeClientPhoto(ctx, practice.PhotoJob{Practice: b.ours.id, Photo: in.ID}); err != nil {
			t.Fatal(err)
		}
	}
	word := must[practice.ClientWord](t)(b.ClientWord(ctx, b.ours.of[domain.Surveyor], d.vessel))
	if len(word.Answers) != 1 || word.Answers[0].Came.State != "ready" || word.Answers[0].Came.File == "" || word.Answers[0].Thumb == "" {
		t.Errorf("%+v", word.Answers)
	}
	for range 18 {
		must[practice.Grant](t)(b.GrantClientPhoto(ctx, who, grantFor("photo", "image/jpeg", body)))
	}
	must[practice.Grant](t)(b.GrantClientPhoto(ctx, who, grantFor("photo", "image/jpeg", body)))
	_, err = b.GrantClientPhoto(ctx, who, grantFor("photo", "image/jpeg", body))
	want(t, err, domain.Unavailable)
}

func TestAClientsInvoiceIsKeptAsItCameForWhoMayReadIt(t *testing.T) {
	t.Parallel()
	b, d := deliver(t)
	ctx, body := t.Context(), []byte("%PDF-1.7\nAn invoice of an invented yard.\n%%EOF\n")
	b.allow(d)
	who := practice.Holder{Link: d.token, Code: b.code(d.token, ferrant)}
	sent := func(body []byte) practice.AnswerTask {
		in := grantFor("document", "application/pdf", body)
		in.FileName = "launch & paint.pdf"
		if status := put(t, must[practice.Grant](t)(b.GrantClientPhoto(ctx, who, in)), body); status != 200 {
			t.Fatalf("PUT answered %d", status)
		}
		return practice.AnswerTask{Task: 1, Answer: "claimed done", Photo: &in.ID}
	}
	want(t, b.say(who, sent([]byte("<html>not one"))), domain.Invalid, "upload") // it does not begin as a PDF does
	in := sent(body)
	want(t, b.say(who, in), domain.Internal)
	read := func() practice.Came {
		return must[practice.ClientWord](t)(b.ClientWord(ctx, b.ours.of[domain.Office], d.vessel)).Answers[0].Came
	}
	if c := read(); c.State != "waiting" || c.File != "" || !c.Invoice() {
		t.Errorf("before it was made ready: %+v", c)
	}
	if err := b.MakeClientPhoto(ctx, practice.PhotoJob{Practice: b.ours.id, Photo: *in.Photo}); err != nil {
		t.Fatal(err)
	}
	answer, err := http.Get(read().File)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if got := must[[]byte](t)(io.ReadAll(answer.Body)); string(got) != string(body) {
		t.Errorf("the office fetched %q", got)
	}
	if as := answer.Header.Get("Content-Disposition"); !strings.HasPrefix(as, "attachment") || !strings.Contains(as, "launch%20%26%20paint.pdf") {
		t.Errorf("handed out as %q", as)
	}
	shared, _, err := b.OpenShare(ctx, d.token, "")
	if err != nil || len(shared.Answers) != 1 || shared.Answers[0].Came.File == "" {
		t.Errorf("its sender reads %+v, %v", shared.Answers, err)
	}
	other := b.share(d.written, "B. Knot", "knot@post.example")
	if shared, _, err := b.OpenShare(ctx, other, ""); err != nil || len(shared.Answers) != 0 {
		t.Errorf("another reader of the report reads %+v, %v", shared.Answers, err)
	}
	if state := value[string](b, `select state from recommendations where id = $1`, d.rec); state != "issued" {
		t.Errorf("an invoice moved the recommendation to %q", state)
	}
	if mail := value[string](b, `select body from mails where kind = 'client''s word' order by id desc limit 1`); !strings.Contains(mail, "An invoice came with it.") {
		t.Errorf("the practice was told\n%s", mail)
	}
}

func TestAnArchiveHoldsThePhotosOfItsReportAndNoOther(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	shown, kept := b.pinned(w, "weep below the log", 900), b.pinned(w, "the trailer", 60)
	must[practice.Done](t)(b.EditPhoto(t.Context(), b.ours.of[domain.Surveyor], practice.EditPhoto{Mutation: newID(), ID: kept, Version: 1, Printed: ptr(false)}))
	b.issued(w)
	token := b.share(w, "A. Ferrant", ferrant)
	later := b.pinned(w, "after the issue", 70)
	shared, list, err := b.SharedPhotos(t.Context(), practice.Holder{Link: token})
	if err != nil || len(list) != 1 || shared.ReportID != w.report {
		t.Fatalf("%+v, %v; shown %s, kept back %s, later %s", list, err, shown, kept, later)
	}
	if !regexp.MustCompile(`^photo-001(-[A-Za-z0-9-]+)?\.jpg$`).MatchString(list[0].Name) {
		t.Errorf("named %q", list[0].Name)
	}
	bytes := must[[]byte](t)(b.PhotoBytes(t.Context(), list[0]))
	if _, err := (picture.Maker{}).Copies(bytes); err != nil {
		t.Errorf("no picture: %v", err)
	}
	if n := value[int](b, `select count(*) from share_openings where what = 'photos'`); n != 1 {
		t.Errorf("%d downloads logged", n)
	}
	if err := objects.Put(t.Context(), "another", "image/jpeg", photo(t, 30, 30)); err != nil {
		t.Fatal(err)
	}
	list[0].Key = "another"
	if _, err := b.PhotoBytes(t.Context(), list[0]); err == nil {
		t.Error("another picture is handed out for it")
	}
	_, _, err = b.SharedPhotos(t.Context(), practice.Holder{Link: strings.Repeat("A", 43)})
	want(t, err, domain.NotFound)
}
