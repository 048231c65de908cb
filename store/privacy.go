package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"parties_stay_erased": {domain.Conflict, "", "The details of this person were erased. Nothing is written there again."},
	"members_stay_erased": {domain.Conflict, "", "The details of this member were erased. Invite him or her anew."},
})

// alike tells which rows of r a trace is about, in one practice.
func (t trace) alike() string { return "r.practice_id = @practice and (" + t.of + ")" }

func (t trace) count() string { return "select count(*) from " + t.table + " r where " + t.alike() }

// rows reads what a trace finds, as JSON, but for what leaves nobody's house.
func (t trace) rows() string {
	row := "to_jsonb(r) - 'practice_id'"
	for _, c := range t.without {
		row += " - '" + c + "'"
	}
	return "select " + row + " from " + t.table + " r where " + t.alike() + " order by 1"
}

// erase is the statement that wipes; only the rows in which there is something to wipe.
func (t trace) erase() string {
	sql := "update " + t.table + " r set " + t.wipe + " where " + t.alike()
	if t.only != "" {
		sql += " and " + t.only
	}
	return sql
}

// PersonKept implements practice.PrivacyReader: whatever there is, in one trip.
func (s *Store) PersonKept(ctx context.Context, p, party uuid.UUID, who practice.Sees) (practice.PersonKept, error) {
	guest, self, member := whom(who)
	var row *queries.GetPersonKeptRow
	var files []queries.FilesOfPersonRow
	var exports []queries.ExportsOfRow
	var counts []practice.KeptRows
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetPersonKept, self, member, guest, p, party)
		many(b, &files, queries.FilesOfPerson, p, party, self, member, guest)
		many(b, &exports, queries.ExportsOf, p, party)
		countTraces(b, traces, pgx.NamedArgs{"practice": p, "person": party}, &counts)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.PersonKept{}, err
	}
	k := personFrom(*row, files)
	k.Rows = counts
	k.Exports = convert(exports, func(x queries.ExportsOfRow) practice.ExportNote { return practice.ExportNote{At: x.At, By: x.ByName} })
	return k, nil
}

func personFrom(row queries.GetPersonKeptRow, files []queries.FilesOfPersonRow) practice.PersonKept {
	return practice.PersonKept{
		Name: row.Name, Kind: row.Kind, IsYard: row.IsYard, ErasedAt: row.ErasedAt, Held: row.Held, Shut: row.Shut, SameAddress: row.SameAddress, SameName: row.SameName,
		Files: convert(files, func(f queries.FilesOfPersonRow) practice.PersonFile {
			return practice.PersonFile{Job: f.ID, Number: f.Number, Vessel: f.Vessel, Stage: f.Stage, DueOn: f.DueOn, Gone: f.Gone}
		}),
	}
}

// countTraces queues a count of each trace; those that find nothing are left out.
func countTraces(b *pgx.Batch, list []trace, args pgx.NamedArgs, into *[]practice.KeptRows) {
	for _, t := range list {
		b.Queue(t.count(), args).QueryRow(func(row pgx.Row) error {
			k := practice.KeptRows{Table: t.table, What: t.what, Goes: t.goes, Stays: t.stays}
			if err := row.Scan(&k.Count); err != nil {
				return fmt.Errorf("count %s: %w", t.table, err)
			}
			if k.Count > 0 {
				*into = append(*into, k)
			}
			return nil
		})
	}
}

// PersonRows implements practice.PrivacyReader. It sees one moment, whatever is written meanwhile.
func (s *Store) PersonRows(ctx context.Context, p, party uuid.UUID, row func(practice.KeptRow) error) (pictures map[string]string, err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return nil, err
	}
	defer conn.Release()
	pictures = map[string]string{}
	args := pgx.NamedArgs{"practice": p, "person": party}
	moment := pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}
	err = pgx.BeginTxFunc(ctx, conn, moment, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, choose, p.String()); err != nil {
			return err
		}
		for _, t := range traces {
			if t.others {
				continue
			}
			if err := t.read(ctx, tx, args, row); err != nil {
				return fmt.Errorf("read %s: %w", t.table, err)
			}
		}
		rows, err := tx.Query(ctx, `select case when u.content_type = 'application/pdf' then u.object_key else c.view_key end, case when u.content_type = 'application/pdf' then 'invoices/' || c.upload_id || '.pdf' else 'photos/' || c.upload_id || '.jpg' end
			  from client_photos c join uploads u on u.practice_id = c.practice_id and u.id = c.upload_id
			where c.practice_id = @practice and c.state = 'ready' and (c.view_key <> '' or u.content_type = 'application/pdf') and c.share_id in (select person_shares(@practice, @person)) order by 1`, args)
		if err != nil {
			return err
		}
		var key, name string
		_, err = pgx.ForEachRow(rows, []any{&key, &name}, func() error {
			pictures[name] = key
			return nil
		})
		return err
	})
	return pictures, fault("read person", err)
}

func (t trace) read(ctx context.Context, tx pgx.Tx, args pgx.NamedArgs, row func(practice.KeptRow) error) error {
	rows, err := tx.Query(ctx, t.rows(), args)
	if err != nil {
		return err
	}
	var raw json.RawMessage
	_, err = pgx.ForEachRow(rows, []any{&raw}, func() error { return row(practice.KeptRow{Table: t.table, What: t.what, Row: raw}) })
	return err
}

// ErasedLink implements practice.PrivacyReader.
func (s *Store) ErasedLink(ctx context.Context, hash [32]byte) (practice.ErasedLink, error) {
	return call[practice.ErasedLink](ctx, s.Door(), "find erased link", `select practice_name, time_zone, erased_at from door.erased_link($1)`, hash[:])
}

// ErasedKeys implements practice.PrivacyReader.
func (s *Store) ErasedKeys(ctx context.Context, p, erasure uuid.UUID) ([]string, error) {
	row, err := readOne[struct{ Keys []string }](ctx, s, p, queries.ErasedKeys, p, erasure)
	return row.Keys, err
}

// MemberKept implements practice.PrivacyReader.
func (s *Store) MemberKept(ctx context.Context, p, member uuid.UUID) (practice.MemberKept, error) {
	var row *queries.MemberKeptRow
	var counts []practice.KeptRows
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.MemberKept, p, member)
		countTraces(b, staff, pgx.NamedArgs{"practice": p, "member": member}, &counts)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.MemberKept{}, err
	}
	return practice.MemberKept{Name: row.Name, LeftAt: row.LeftAt, ErasedAt: row.ErasedAt, Rows: counts}, nil
}

// PersonToErase implements practice.PrivacyWriter.
func (tx *inPractice) PersonToErase(ctx context.Context, party uuid.UUID, who practice.Sees) (practice.PersonKept, error) {
	guest, self, member := whom(who)
	row, err := found(tx.q.PersonToErase(ctx, queries.PersonToEraseParams{Self: self, Member: member, Guest: guest, PracticeID: tx.practice, ID: party}))
	if err != nil {
		return practice.PersonKept{}, fault("read person", err)
	}
	files, err := tx.q.FilesOfPerson(ctx, queries.FilesOfPersonParams{PracticeID: tx.practice, Party: party, Self: self, Member: member, Guest: guest})
	return personFrom(queries.GetPersonKeptRow(row), files), fault("read files of person", err)
}

// ErasePerson implements practice.PrivacyWriter. The database refuses each row that a hold keeps.
func (tx *inPractice) ErasePerson(ctx context.Context, party uuid.UUID, words string, now time.Time) (practice.Erased, error) {
	keys, err := tx.q.KeysOfPerson(ctx, queries.KeysOfPersonParams{PracticeID: tx.practice, Party: party})
	if err != nil {
		return practice.Erased{}, fault("find objects of person", err)
	}
	accounts, err := tx.q.AccountsOfPerson(ctx, queries.AccountsOfPersonParams{PracticeID: tx.practice, Party: party})
	if err != nil {
		return practice.Erased{}, fault("find accounts of person", err)
	}
	gone, err := tx.wipe(ctx, traces, pgx.NamedArgs{"practice": tx.practice, "person": party, "by": words, "now": now})
	if err != nil {
		return practice.Erased{}, fault("erase person", err)
	}
	gone.Keys = keys
	return gone, fault("close accounts", tx.closeAccounts(ctx, accounts, now))
}

// MemberToErase implements practice.PrivacyWriter.
func (tx *inPractice) MemberToErase(ctx context.Context, member uuid.UUID) (practice.MemberKept, error) {
	row, err := found(tx.q.MemberToErase(ctx, queries.MemberToEraseParams{PracticeID: tx.practice, ID: member}))
	return practice.MemberKept{Name: row.Name, LeftAt: row.LeftAt, ErasedAt: row.ErasedAt}, fault("read member", err)
}

// EraseMember implements practice.PrivacyWriter.
func (tx *inPractice) EraseMember(ctx context.Context, member uuid.UUID, words string, now time.Time) (practice.Erased, error) {
	row, err := found(tx.q.MemberKept(ctx, queries.MemberKeptParams{PracticeID: tx.practice, ID: member}))
	if err != nil {
		return practice.Erased{}, fault("read member", err)
	}
	gone, err := tx.wipe(ctx, staff, pgx.NamedArgs{"practice": tx.practice, "member": member, "by": words, "now": now})
	if err != nil {
		return practice.Erased{}, fault("erase member", err)
	}
	return gone, fault("close account", tx.closeAccounts(ctx, []uuid.UUID{row.AccountID}, now))
}

// wipe runs the erasure of each trace, first to last, in one trip, and counts.
func (tx *inPractice) wipe(ctx context.Context, list []trace, args pgx.NamedArgs) (practice.Erased, error) {
	gone := practice.Erased{Counts: map[string]int64{}}
	b := &pgx.Batch{}
	for _, t := range list {
		if t.wipe == "" {
			continue
		}
		b.Queue(t.erase(), args).Exec(func(tag pgconn.CommandTag) error {
			if n := tag.RowsAffected(); n > 0 {
				gone.Counts[t.table] += n
			}
			return nil
		})
	}
	return gone, tx.tx.SendBatch(ctx, b).Close()
}

// closeAccounts ends sign-ins that nothing is open to any more.
func (tx *inPractice) closeAccounts(ctx context.Context, accounts []uuid.UUID, now time.Time) error {
	for _, id := range accounts {
		if _, err := tx.tx.Exec(ctx, `select door.account_close($1, $2)`, id, now); err != nil {
			return err
		}
	}
	return nil
}

// InsertErasure implements practice.PrivacyWriter.
func (tx *inPractice) InsertErasure(ctx context.Context, e practice.Erasure, by *uuid.UUID) error {
	counts, err := json.Marshal(e.Counts)
	if err != nil {
		return fmt.Errorf("insert erasure: %w", err)
	}
	keys := e.Keys
	if keys == nil {
		keys = []string{}
	}
	return fault("insert erasure", tx.q.InsertErasure(ctx, queries.InsertErasureParams{
		PracticeID: tx.practice, ID: e.ID, Kind: e.Kind, PartyID: e.Party, MemberID: e.Member, JobID: e.Job, Reason: e.Reason, Counts: counts,
		ObjectKeys: keys, Objects: e.Objects, Now: e.At, ByID: by, ObjectsGoneAt: e.ObjectsGoneAt,
	}))
}

// ObjectsGone implements practice.PrivacyWriter.
func (tx *inPractice) ObjectsGone(ctx context.Context, erasure uuid.UUID, now time.Time) error {
	return fault("note objects gone", tx.q.ObjectsGone(ctx, queries.ObjectsGoneParams{PracticeID: tx.practice, ID: erasure, Now: now}))
}

// InsertPersonExport implements practice.PrivacyWriter.
func (tx *inPractice) InsertPersonExport(ctx context.Context, id, party uuid.UUID, by *uuid.UUID, now time.Time) error {
	return fault("insert export", tx.q.InsertPersonExport(ctx, queries.InsertPersonExportParams{PracticeID: tx.practice, ID: id, PartyID: party, Now: now, ByID: by}))
}

// spoken says counts by what the tables hold, in words.
func spoken(counts map[string]int64) map[string]int64 {
	words := map[string]string{"report_snapshots": "words of issued reports", "addenda": "words of addenda"}
	for _, list := range [][]trace{staff, traces} {
		for _, t := range list {
			if !t.others {
				words[t.table] = t.what
			}
		}
	}
	out := make(map[string]int64, len(counts))
	for table, n := range counts {
		what := words[table]
		if what == "" {
			what = table
		}
		out[what] += n
	}
	return out
}
