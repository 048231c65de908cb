package practice_test

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/minio/minio-go/v7"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// somebody is a client of ours with everything that a practice comes to keep about one:
// a report that was issued and opened, answers with a photo, messages, leave to share, an
// account, letters that went and one that waits, notes that name them, a quote that was accepted.
type somebody struct {
	delivered
	party, account, upload uuid.UUID
	bucket                 *storetest.Bucket
	objects                *store.Objects
}

const turnstone = "wil@turnstone.example"

func known(t *testing.T, ago time.Duration) (*bundle, somebody) {
	t.Helper()
	b, bucket, objects := withFiles(t)
	b.clock.pass(-ago)
	x := somebody{bucket: bucket, objects: objects, account: newID(), upload: newID()}
	x.party = b.party(b.ours, "Wil Turnstone", func(p *practice.Party) {
		p.Kind, p.Email, p.Phone, p.Notes = "person", turnstone, "555 0199", "pays late"
	})
	x.delivered = b.deliverOf(b.survey(b.ours, "Petrel"), x.party, "Wil Turnstone", turnstone)
	p, job := b.ours.id, x.job
	share := value[uuid.UUID](b, `select id from shares where practice_id = $1`, p)
	if _, _, err := b.OpenShare(t.Context(), x.token, "page"); err != nil {
		t.Fatal(err)
	}
	now := b.clock.now()
	b.exec(`insert into accounts (id, email, password_hash, created_at) values ($1, $2, 'x', $3)`, x.account, turnstone, now)
	b.exec(`insert into client_grants (practice_id, id, account_id, email, created_at) values ($1, $2, $3, $4, $5)`, p, newID(), x.account, turnstone, now)
	b.exec(`insert into uploads (practice_id, id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_at, expires_at, finished_at) values ($1, $2, 'photo', $3, 'image/jpeg', 3, '\x01', 'turnstone.jpg', $4, $4, $4)`,
		p, x.upload, x.key(p, ""), now)
	b.exec(`insert into client_photos (practice_id, upload_id, share_id, state, view_key, thumb_key) values ($1, $2, $3, 'ready', $4, $5)`, p, x.upload, share, x.key(p, "-view"), x.key(p, "-thumb"))
	for _, ending := range []string{"", "-view", "-thumb"} {
		if err := objects.Put(t.Context(), x.key(p, ending), "image/jpeg", []byte("\xff\xd8\xff")); err != nil {
			t.Fatal(err)
		}
	}
	b.exec(`insert into client_answers (practice_id, id, share_id, recommendation_id, answer, reason, upload_id, at) values ($1, $2, $3, $4, 'claimed done', 'Turnstone did it', $5, $6)`, p, newID(), share, x.rec, x.upload, now)
	b.exec(`insert into client_messages (practice_id, id, share_id, text, at) values ($1, $2, $3, 'Yours, Wil Turnstone', $4)`, p, newID(), share, now)
	b.exec(`insert into client_permits (practice_id, id, share_id, name, email, given_at) values ($1, $2, $3, 'Pier Mutual', 'claims@pier.example', $4)`, p, newID(), share, now)
	b.exec(`insert into attendance_notes (practice_id, id, job_id, at, kind, with_whom, text, written_at) values ($1, $2, $3, $4, 'call', 'Wil Turnstone', 'Told Wil Turnstone (555 0199) that the keel weeps.', $4)`, p, newID(), job, now)
	b.exec(`insert into permissions (practice_id, id, job_id, what, given_on, given_by_id, given_by_name) values ($1, $2, $3, 'lift', $4, $5, 'Wil Turnstone')`, p, newID(), job, now, x.party)
	engagement := newID()
	b.exec(`insert into engagements (practice_id, id, client_id, asked_on, asked_by, contact, stage, created_at) values ($1, $2, $3, $4::timestamptz, 'Wil Turnstone', $5, 'accepted', $4::timestamptz)`, p, engagement, x.party, now, turnstone)
	b.exec(`insert into parties (practice_id, id, kind, name, email, created_at) values ($1, $2, 'person', 'Nan Sanderling', 'nan@sanderling.example', $3)`, p, newID(), now)
	b.exec(`alter table visits disable trigger user`)
	b.exec(`update visits set spell_id = null, from_at = from_at - $2::interval, to_at = to_at - $2::interval where job_id = $1`, job, ago)
	b.exec(`alter table visits enable trigger user`)
	b.exec(`update jobs set engagement_id = $2, stage = 'closed' where id = $1`, job, engagement)
	if err := b.store.SendMail(t.Context(), p, entry.Letter{Kind: "test", To: turnstone, Subject: "Waits", Body: "Dear Wil Turnstone,"}); err != nil {
		t.Fatal(err)
	}
	if err := b.store.SendMail(t.Context(), p, entry.Letter{Kind: "test", To: "desk@north.example", Subject: "Answered", Body: "Wil Turnstone answered."}); err != nil {
		t.Fatal(err)
	}
	b.clock.pass(ago)
	return b, x
}

// key is where the photo that was sent lies in the store, or a copy of it.
func (x somebody) key(p uuid.UUID, ending string) string {
	return p.String() + "/" + x.upload.String() + ending
}

func (x somebody) erase(name string) practice.ErasePerson {
	return practice.ErasePerson{Mutation: newID(), ID: newID(), Party: x.party, Reason: "asked for it by letter", Name: name}
}

// naming lists the tables of a practice in which a word still stands.
func (b *bundle) naming(word string) (tables []string) {
	b.t.Helper()
	for _, name := range value[[]string](b, `select array_agg(c.relname::text order by c.relname) from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attname = 'practice_id'
		where c.relnamespace = 'public'::regnamespace and c.relkind = 'r'`) {
		if value[int](b, `select count(*) from `+name+` x where practice_id = $1 and x::text ilike '%' || $2 || '%'`, b.ours.id, word) > 0 {
			tables = append(tables, name)
		}
	}
	return tables
}

// listed are the keys of every object of ours in the store.
func (x somebody) listed(t *testing.T) (keys []string) {
	t.Helper()
	for o := range x.bucket.Client().ListObjects(t.Context(), x.bucket.Name, minio.ListObjectsOptions{Recursive: true}) {
		if o.Err != nil {
			t.Fatal(o.Err)
		}
		keys = append(keys, o.Key)
	}
	return keys
}

func verified(t *testing.T, b *bundle) {
	t.Helper()
	v, err := practice.VerifyChain(t.Context(), b.store, b.ours.id, nil)
	if err != nil || len(v.Breaks) > 0 || v.Lines == 0 {
		t.Errorf("the record of changes: %d lines, %v, %v", v.Lines, v.Breaks, err)
	}
}

func TestAPersonIsErasedAndTheRecordStays(t *testing.T) {
	t.Parallel()
	b, x := known(t, 0)
	ctx, principal := t.Context(), b.ours.of[domain.Principal]
	before := must[practice.PersonKept](t)(b.PersonKept(ctx, principal, x.party))
	if len(before.Stops()) > 0 || len(before.Rows) < 14 || len(before.Files) != 1 || before.Files[0].DueOn.Before(b.clock.now().AddDate(14, 0, 0)) {
		t.Errorf("before: stops %v, %d kinds of rows, files %+v", before.Stops(), len(before.Rows), before.Files)
	}
	_, err := b.ErasePerson(ctx, principal, x.erase("Wil Turnston"))
	want(t, err, domain.Invalid, "name")
	named := x.erase("Wil Turnstone")
	named.Reason = "Wil Turnstone asked"
	_, err = b.ErasePerson(ctx, principal, named)
	want(t, err, domain.Invalid, "reason")

	page := must[practice.ReportPage](t)(b.Report(ctx, principal, x.report))
	in := x.erase(" wil  turnstone ")
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ErasePerson(ctx, principal, in) })
	_, err = b.ErasePerson(ctx, principal, x.erase("Wil Turnstone"))
	want(t, err, domain.Conflict) // there is nobody left

	for _, word := range []string{"turnstone", "555 0199", "pays late"} {
		if left := b.naming(word); len(left) > 0 {
			t.Errorf("%q still stands in %v", word, left)
		}
	}
	if !strings.Contains(value[string](b, `select text from attendance_notes where job_id = $1`, x.job), "that the keel weeps") {
		t.Error("what was said of the boat went with the name")
	}
	if left := b.naming("sanderling"); len(left) != 1 {
		t.Errorf("the other person stands in %v", left)
	}
	if n := value[int](b, `select count(*) from readings where practice_id = $1`, b.ours.id); n == 0 {
		t.Error("the hull's readings went")
	}
	x.linksAndLetters(t, b)

	after := must[practice.ReportPage](t)(b.Report(ctx, principal, x.report))
	if !bytes.Equal(after.Content, page.Content) {
		t.Error("the issued report changed")
	}
	pdf := must[[]byte](t)(x.objects.Get(ctx, *page.PdfKey, 1<<26))
	if found, err := b.Authentic(ctx, sha256.Sum256(pdf)); err != nil || !found.Pdf {
		t.Errorf("the issued PDF is not known any more: %v", err)
	}
	verified(t, b)
	kept := must[practice.PersonKept](t)(b.PersonKept(ctx, principal, x.party))
	if kept.ErasedAt == nil || !strings.HasPrefix(kept.Name, "a person whose details were erased on ") {
		t.Errorf("erased, it reads %+v", kept)
	}
	_, err = b.EditParty(ctx, principal, practice.EditParty{Mutation: newID(), ID: x.party, Version: 2, Name: ptr("Wil Turnstone")})
	want(t, err, domain.Conflict)
	x.objectsGo(t, b, in.ID, 3)
	gone := must[practice.Retention](t)(b.Retention(ctx, principal)).Gone
	if len(gone) != 1 || gone[0].Kind != "person" || gone[0].ObjectsGoneAt == nil || gone[0].Counts["links to reports"] != 1 || gone[0].Objects != 3 {
		t.Errorf("the list of what went says %+v", gone)
	}
}

// linksAndLetters looks at what was sent: the link says politely why it is shut, an account
// opens nothing, and a letter that waited goes nowhere.
func (x somebody) linksAndLetters(t *testing.T, b *bundle) {
	t.Helper()
	_, _, err := b.OpenShare(t.Context(), x.token, "page")
	var f *domain.Fault
	if !errors.As(err, &f) || f.Kind != domain.NotFound || f.Field != "erased" || !strings.Contains(f.Text, b.clock.now().Format("2006")) {
		t.Errorf("the old link says %v", err)
	}
	if open := value[int](b, `select count(*) from accounts where email = $1 or id = $2 and disabled_at is null`, turnstone, x.account); open != 0 {
		t.Error("the account is still open")
	}
	for _, id := range value[[]uuid.UUID](b, `select array_agg(id) from mails where practice_id = $1 and erased_at is not null`, b.ours.id) {
		err := b.store.Deliver(t.Context(), store.MailArgs{Practice: b.ours.id, Mail: id}, func(context.Context, uuid.UUID, entry.Letter, time.Time) error {
			t.Error("an erased letter was sent")
			return nil
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// objectsGo runs the job of an erasure, twice and once with the store away, and lists the store.
func (x somebody) objectsGo(t *testing.T, b *bundle, erasure uuid.UUID, n int) {
	t.Helper()
	keys := must[[]string](t)(b.store.ErasedKeys(t.Context(), b.ours.id, erasure))
	if len(keys) != n {
		t.Fatalf("%d objects are to go, want %d: %v", len(keys), n, keys)
	}
	away, err := store.OpenObjects(store.ObjectsConfig{URL: "http://127.0.0.1:1", Region: "x", Bucket: "x", Key: "x", Secret: "x"})
	if err != nil {
		t.Fatal(err)
	}
	job := practice.EraseJob{Practice: b.ours.id, Erasure: erasure}
	if err := practice.New(b.store, practice.WithObjects(away)).EraseObjects(t.Context(), job); err == nil {
		t.Error("with the store away the job says that all is well")
	}
	for range 2 {
		if err := b.EraseObjects(t.Context(), job); err != nil {
			t.Fatal(err)
		}
	}
	there := strings.Join(x.listed(t), "\n")
	for _, key := range keys {
		if strings.Contains(there, key) {
			t.Errorf("%s is still in the store", key)
		}
	}
}

func TestAnExportIsOneArchive(t *testing.T) {
	t.Parallel()
	b, x := known(t, 0)
	principal := b.ours.of[domain.Principal]
	var out bytes.Buffer
	if err := b.ExportPerson(t.Context(), principal, x.party, &out); err != nil {
		t.Fatal(err)
	}
	archive, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range archive.File {
		r := must[io.ReadCloser](t)(f.Open())
		files[f.Name] = string(must[[]byte](t)(io.ReadAll(r)))
	}
	var said struct {
		Export struct{ About string }
		Rows   []struct{ Table string }
	}
	if err := json.Unmarshal([]byte(files["person.json"]), &said); err != nil || said.Export.About != "Wil Turnstone" || len(said.Rows) < 14 {
		t.Errorf("%v, about %q, %d rows", err, said.Export.About, len(said.Rows))
	}
	for _, page := range []string{"person.json", "read-me-first.html"} {
		for word, there := range map[string]bool{"the keel weeps": true, "555 0199": true, "pays late": true, "sanderling": false, "token_sha256": false} {
			if strings.Contains(files[page], word) != there {
				t.Errorf("%s holds %q: want %v", page, word, there)
			}
		}
	}
	if files["photos/"+x.upload.String()+".jpg"] != "\xff\xd8\xff" {
		t.Errorf("the photo that was sent is not among %d files", len(files))
	}
	kept := must[practice.PersonKept](t)(b.PersonKept(t.Context(), principal, x.party))
	if len(kept.Exports) != 1 || kept.Exports[0].By != "The principal" {
		t.Errorf("the download was noted as %+v", kept.Exports)
	}
	b.exec(`update jobs set restricted = true where id = $1`, x.job)
	want(t, b.ExportPerson(t.Context(), principal, x.party, io.Discard), domain.Forbidden)
	_, err = b.ErasePerson(t.Context(), principal, x.erase("Wil Turnstone"))
	want(t, err, domain.Conflict)
}

func TestAHoldStopsErasureWhateverItIsOn(t *testing.T) {
	t.Parallel()
	b, x := known(t, 20*365*24*time.Hour)
	ctx, principal := t.Context(), b.ours.of[domain.Principal]
	b.exec(`update jobs set stage = 'closed' where id = $1`, x.job)
	for what, on := range map[string]practice.HoldOn{"person": {Party: &x.party}, "job": {Job: &x.job}, "vessel": {Vessel: &x.vessel}} {
		hold := practice.PlaceHold{Mutation: newID(), ID: newID(), On: on, Reason: "a claim was announced"}
		thrice(t, func(ctx context.Context) (practice.Done, error) {
			return b.PlaceHold(ctx, b.ours.of[domain.Office], hold)
		})
		for _, of := range []practice.HoldOn{{Party: &x.party}, {Job: &x.job}} {
			list := must[[]practice.Hold](t)(b.Holds(ctx, b.ours.of[domain.Surveyor], of))
			if len(list) == 0 || list[0].Reason != hold.Reason || list[0].PlacedBy != "The office" || list[0].LiftedAt != nil {
				t.Errorf("a hold on the %s is shown as %+v", what, list)
			}
		}
		_, err := b.ErasePerson(ctx, principal, x.erase("Wil Turnstone"))
		want(t, err, domain.Conflict)
		_, err = b.EraseFile(ctx, principal, practice.EraseFile{Mutation: newID(), ID: newID(), Job: x.job, Reason: "its time", Number: value[string](b, `select number from jobs where id = $1`, x.job)})
		want(t, err, domain.Conflict)
		b.heldInTheDatabase(what, x)
		_, err = b.LiftHold(ctx, b.ours.of[domain.Office], practice.LiftHold{Mutation: newID(), ID: hold.ID, Reason: "settled"})
		want(t, err, domain.Forbidden)
		lift := practice.LiftHold{Mutation: newID(), ID: hold.ID, Reason: "settled"}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.LiftHold(ctx, principal, lift) })
		_, err = b.LiftHold(ctx, principal, practice.LiftHold{Mutation: newID(), ID: hold.ID, Reason: "again"})
		want(t, err, domain.Conflict)
	}
	if n := len(b.naming("turnstone")); n == 0 {
		t.Error("something was erased under a hold")
	}
	must[practice.Done](t)(b.ErasePerson(ctx, principal, x.erase("Wil Turnstone")))
}

// heldInTheDatabase tries to erase by statements of its own, as the service's role.
func (b *bundle) heldInTheDatabase(what string, x somebody) {
	b.t.Helper()
	for _, sql := range []string{
		`update parties set erased_at = now() where id = $1`, `update parties set name = 'a person whose details were erased on 1 May 2026' where id = $1`,
		`update parties set email = '', phone = '' where id = $1`, `update parties set notes = '' where id = $1`,
		`update engagements set contact = '' where client_id = $1`, `update shares set erased_at = now() where $1::uuid is not null`, `update shares set email = '' where $1::uuid is not null`,
		`update mails set body = '' where recipient = 'wil@turnstone.example' and $1::uuid is not null`, `update mails set erased_at = now() where recipient = 'wil@turnstone.example' and $1::uuid is not null`,
		`update client_messages set text = '' where $1::uuid is not null`, `update client_answers set reason = '' where $1::uuid is not null`,
		`update client_permits set name = '', email = '' where $1::uuid is not null`, `update client_photos set view_key = '' where $1::uuid is not null`,
		`update client_grants set email = '' where $1::uuid is not null`, `update uploads set swept_at = now() where file_name = 'turnstone.jpg' and $1::uuid is not null`,
		`update attendance_notes set text = '' where $1::uuid is not null`, `update permissions set given_by_name = '' where given_by_id = $1`,
		`update jobs set erased_at = now() where client_id = $1`,
		`select door.erase_file(practice_id, id, 'x', now()) from jobs where client_id = $1`,
	} {
		var pg *pgconn.PgError
		err := b.asApp(b.t.Context(), sql, x.party)
		if !errors.As(err, &pg) || pg.ConstraintName != "holds_stop_erasure" {
			b.t.Errorf("a hold on the %s lets through %s: %v", what, sql, err)
		}
	}
	for _, sql := range []string{`delete from holds where party_id = $1`, `update holds set reason = 'none' where party_id = $1`} {
		var pg *pgconn.PgError
		if err := b.asApp(b.t.Context(), sql, x.party); !errors.As(err, &pg) || pg.Code != "42501" {
			b.t.Errorf("%s: %v", sql, err)
		}
	}
	if err := b.asApp(b.t.Context(), `update parties set phone = '555 0199' where id = $1`, x.party); err != nil {
		b.t.Errorf("work stops under a hold on the %s: %v", what, err)
	}
}

func TestAFileGoesOnlyWhenItsTimeIsOver(t *testing.T) {
	t.Parallel()
	const ago = 9 * 365 * 24 * time.Hour
	b, x := known(t, ago)
	b.clock.pass(-ago)
	b.amended(x.written)
	b.clock.pass(ago)
	ctx, principal := t.Context(), b.ours.of[domain.Principal]
	number := value[string](b, `select number from jobs where id = $1`, x.job)
	in := practice.EraseFile{Mutation: newID(), ID: newID(), Job: x.job, Reason: "its time is over", Number: number}
	_, err := b.EraseFile(ctx, principal, in) // fifteen years stand where the practice stated none
	want(t, err, domain.Conflict)
	var pg *pgconn.PgError
	if err := b.asApp(ctx, `update jobs set erased_at = now() where id = $1`, x.job); !errors.As(err, &pg) || pg.ConstraintName != "files_end_in_time" {
		t.Errorf("the database lets a file go before its time: %v", err)
	}
	err = b.asApp(ctx, `select door.erase_file($1, $2, 'x', now())`, b.theirs.id, x.job)
	if !errors.As(err, &pg) || pg.Code != "42501" {
		t.Errorf("another practice's file: %v", err)
	}
	if due := must[practice.Retention](t)(b.Retention(ctx, principal)); len(due.Files) != 0 || due.FileYears != 15 || due.SetAt != nil {
		t.Errorf("before anything is stated: %+v", due)
	}
	state := practice.EditRetention{Mutation: newID(), FileYears: 8, FileJurisdiction: "as our counsel says, for this harbour", InvoiceYears: ptr[int32](6), PeopleYears: ptr[int32](2)}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditRetention(ctx, principal, state) })
	stale := state
	stale.Mutation = newID()
	_, err = b.EditRetention(ctx, principal, stale)
	want(t, err, domain.Conflict)
	state.Mutation, state.Version, state.FileYears = newID(), 1, 0
	_, err = b.EditRetention(ctx, principal, state)
	want(t, err, domain.Invalid, "fileYears")

	due := must[practice.Retention](t)(b.Retention(ctx, principal))
	if len(due.Files) != 1 || due.Files[0].Number != number || due.Files[0].Held || due.SetBy != "The principal" {
		t.Errorf("due: %+v", due.Files)
	}
	if len(due.People) != 1 || due.People[0].Name != "Nan Sanderling" { // the client still has a file
		t.Errorf("people due: %+v", due.People)
	}
	page := must[practice.ReportPage](t)(b.Report(ctx, principal, x.report))
	wrong := in
	wrong.Mutation, wrong.Number = newID(), "2026-999"
	_, err = b.EraseFile(ctx, principal, wrong)
	want(t, err, domain.Invalid, "number")
	in.Mutation = newID()
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EraseFile(ctx, principal, in) })

	if left := strings.Join(b.naming("turnstone"), " "); left != "mails parties" && left != "client_grants mails parties" {
		t.Errorf("the name still stands in %s", left)
	}
	after := must[practice.ReportPage](t)(b.Report(ctx, principal, x.report))
	if after.Number != page.Number || !strings.Contains(string(after.Content), "were erased") || strings.Contains(string(after.Content), "Turnstone") {
		t.Errorf("of the report is left %s", after.Content)
	}
	if _, _, err := b.Issued(ctx, principal, x.report); domain.KindOf(err) != domain.NotFound || !strings.Contains(err.Error(), "hashes stay") {
		t.Errorf("its files answer %v", err)
	}
	if found, err := b.Authentic(ctx, [32]byte(page.PdfSha256)); err != nil || found.Number != page.Number {
		t.Errorf("its hash is not known any more: %v", err)
	}
	x.objectsGo(t, b, in.ID, 7) // page and PDF, those of an addendum, and a photo with its copies
	verified(t, b)
	if n := value[int](b, `select count(*) from readings where practice_id = $1`, b.ours.id); n == 0 {
		t.Error("the hull's readings went")
	}
	_, err = b.EraseFile(ctx, principal, practice.EraseFile{Mutation: newID(), ID: newID(), Job: x.job, Reason: "again", Number: number})
	want(t, err, domain.Conflict)
}

func TestAMemberWhoLeftKeepsTheNameAlone(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, principal := t.Context(), b.ours.of[domain.Principal]
	m := b.ours.of[domain.Surveyor].Member
	address := value[string](b, `select email from members where id = $1`, m)
	account := value[uuid.UUID](b, `select account_id from members where id = $1`, m)
	b.exec(`insert into leaves (practice_id, id, member_id, during, reason) values ($1, $2, $3, '[2026-05-01Z,2026-05-03Z)', 'a knee')`, b.ours.id, newID(), m)
	b.exec(`insert into devices (practice_id, id, member_id, name, first_seen) values ($1, $2, $3, 'Sigrid''s telephone', now())`, b.ours.id, newID(), m)
	if _, _, err := b.MakeFeed(ctx, b.ours.of[domain.Surveyor], practice.MakeFeed{Mutation: newID(), ID: newID(), Purpose: "my visits"}); err != nil {
		t.Fatal(err)
	}
	if err := b.store.SendMail(ctx, b.ours.id, entry.Letter{Kind: "test", To: address, Subject: "Waits", Body: "One line."}); err != nil {
		t.Fatal(err)
	}
	in := practice.EraseMember{Mutation: newID(), ID: newID(), Member: m, Reason: "left", Name: "The surveyor"}
	_, err := b.EraseMember(ctx, principal, in)
	want(t, err, domain.Conflict) // he or she has not left
	must[practice.Done](t)(b.EditMember(ctx, principal, practice.EditMember{Mutation: newID(), ID: m, Version: 1, Left: ptr(true)}))
	if kept := must[practice.MemberKept](t)(b.MemberKept(ctx, principal, m)); len(kept.Stops()) > 0 || len(kept.Rows) < 5 {
		t.Errorf("before: %+v", kept)
	}
	in.Mutation = newID()
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EraseMember(ctx, principal, in) })
	for _, word := range []string{address, "a knee", "telephone"} {
		if left := b.naming(word); len(left) > 0 {
			t.Errorf("%q still stands in %v", word, left)
		}
	}
	if name := value[string](b, `select name from members where id = $1`, m); name != "The surveyor" {
		t.Errorf("the name is now %q", name)
	}
	if n := value[int](b, `select count(*) from calendar_feeds where member_id = $1 and revoked_at is null`, m); n != 0 {
		t.Error("a feed still opens")
	}
	if n := value[int](b, `select count(*) from accounts where id = $1 and (disabled_at is null or email = $2)`, account, address); n != 0 {
		t.Error("the sign-in still opens")
	}
	_, err = b.EditMember(ctx, principal, practice.EditMember{Mutation: newID(), ID: m, Version: 3, Left: ptr(false)})
	want(t, err, domain.Conflict)
	verified(t, b)
}

// An account that another practice has open stays, and so does what is shared there.
func TestAnAccountThatIsOpenElsewhereStays(t *testing.T) {
	t.Parallel()
	b, x := known(t, 0)
	b.exec(`insert into client_grants (practice_id, id, account_id, email, created_at) values ($1, $2, $3, $4, now())`, b.theirs.id, newID(), x.account, turnstone)
	must[practice.Done](t)(b.ErasePerson(t.Context(), b.ours.of[domain.Principal], x.erase("Wil Turnstone")))
	if n := value[int](b, `select count(*) from accounts where id = $1 and disabled_at is null and email = $2`, x.account, turnstone); n != 1 {
		t.Error("what is open in another practice was closed")
	}
	if n := value[int](b, `select count(*) from client_grants where practice_id = $1 and ended_at is null`, b.theirs.id); n != 1 {
		t.Error("a grant of another practice ended")
	}
}

// While a letter is on its way to the mail server its person is erased: the letter may
// arrive, nothing of it is kept, and it does not go twice.
func TestErasedWhileALetterIsSent(t *testing.T) {
	t.Parallel()
	b, x := known(t, 0)
	mail := value[uuid.UUID](b, `select id from mails where subject = 'Waits'`)
	job := store.MailArgs{Practice: b.ours.id, Mail: mail}
	sent := 0
	send := func(ctx context.Context, _ uuid.UUID, _ entry.Letter, _ time.Time) error {
		sent++
		_, err := b.ErasePerson(ctx, b.ours.of[domain.Principal], x.erase("Wil Turnstone"))
		return err
	}
	for range 2 {
		if err := b.store.Deliver(t.Context(), job, send); err != nil {
			t.Fatal(err)
		}
	}
	if sent != 1 {
		t.Errorf("it went %d times", sent)
	}
	if n := value[int](b, `select count(*) from mails where id = $1 and recipient = '' and body = '' and erased_at is not null`, mail); n != 1 {
		t.Error("something of the letter is kept")
	}
}

// A report is issued while its client is erased: either way round the report is whole, its
// bytes are those of its hash, and the person is gone from everything else.
func TestErasedWhileAReportIsIssued(t *testing.T) {
	t.Parallel()
	b, x := known(t, 0)
	ctx, lead, principal := t.Context(), b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	second := newID()
	must[practice.Done](t)(b.DraftReport(ctx, lead, practice.DraftReport{Mutation: newID(), ID: second, Job: x.job, Paper: "A4"}))
	must[practice.Done](t)(b.EditReport(ctx, lead, practice.EditReport{Mutation: newID(), ID: second, Version: 1, InShort: ptr("The same once more.")}))
	b.exec(`update jobs set stage = 'closed' where id = $1`, x.job)
	var both sync.WaitGroup
	var issued, erased error
	both.Go(func() {
		_, issued = b.IssueReport(ctx, lead, practice.IssueReport{Mutation: newID(), ID: second, Version: 2})
	})
	both.Go(func() { _, erased = b.ErasePerson(ctx, principal, x.erase("Wil Turnstone")) })
	both.Wait()
	if issued != nil || erased != nil && domain.KindOf(erased) != domain.Conflict {
		t.Fatalf("issue: %v, erase: %v", issued, erased)
	}
	if erased != nil { // the job was open again for a moment: erased once the report is out
		b.exec(`update jobs set stage = 'closed' where id = $1`, x.job)
		must[practice.Done](t)(b.ErasePerson(ctx, principal, x.erase("Wil Turnstone")))
	}
	if err := b.MakeReport(ctx, practice.ReportJob{Practice: b.ours.id, Report: second}); err != nil {
		t.Fatal(err)
	}
	page := must[practice.ReportPage](t)(b.Report(ctx, principal, second))
	if sum := sha256.Sum256(page.Content); page.State != "issued" || !bytes.Equal(sum[:], value[[]byte](b, `select sha256 from report_snapshots where report_id = $1`, second)) {
		t.Errorf("the report is %s, and its words do not fit their hash", page.State)
	}
	pdf := must[[]byte](t)(x.objects.Get(ctx, *page.PdfKey, 1<<26))
	if sum := sha256.Sum256(pdf); !bytes.Equal(sum[:], page.PdfSha256) {
		t.Error("the PDF does not fit its hash")
	}
	if left := b.naming("turnstone"); len(left) > 0 {
		t.Errorf("the name still stands in %v", left)
	}
	verified(t, b)
}
