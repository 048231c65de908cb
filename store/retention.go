package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"retention_file_years_range":           {domain.Invalid, "fileYears", "Give 1 to 100 years."},
	"retention_invoice_years_range":        {domain.Invalid, "invoiceYears", "Give 1 to 100 years, or none: then they stay as long as the file."},
	"retention_people_years_range":         {domain.Invalid, "peopleYears", "Give 1 to 100 years, or none: then nobody is listed."},
	"retention_file_jurisdiction_short":    {domain.Invalid, "fileJurisdiction", "Keep it to 500 letters."},
	"retention_invoice_jurisdiction_short": {domain.Invalid, "invoiceJurisdiction", "Keep it to 500 letters."},
	"retention_people_jurisdiction_short":  {domain.Invalid, "peopleJurisdiction", "Keep it to 500 letters."},
	"files_end_in_time":                    {domain.Conflict, "", "The time of this file is not over, or its job is still under way."},
	"erasures_pkey":                        {domain.Conflict, "id", "An erasure with this id is kept already."},
	"erasures_reason_given":                {domain.Invalid, "reason", "Say why, in 1 to 1000 letters."},
})

// Retention implements practice.RetentionReader.
func (s *Store) Retention(ctx context.Context, p uuid.UUID, today time.Time, most int, who practice.Sees) (practice.Retention, error) {
	guest, self, member := whom(who)
	var row *queries.GetRetentionRow
	var files []queries.DueFilesRow
	var people []queries.DuePeopleRow
	var gone []queries.ListErasuresRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetRetention, p)
		many(b, &files, queries.DueFiles, p, today, self, member, guest, int32(most))
		many(b, &people, queries.DuePeople, p, today, int32(most))
		many(b, &gone, queries.ListErasures, p, int32(most))
	})
	if err != nil {
		return practice.Retention{}, err
	}
	r := practice.Retention{FileYears: practice.FileYearsHabit}
	if row != nil {
		r = practice.Retention{
			FileYears: row.FileYears, FileJurisdiction: row.FileJurisdiction, InvoiceYears: row.InvoiceYears, InvoiceJurisdiction: row.InvoiceJurisdiction,
			PeopleYears: row.PeopleYears, PeopleJurisdiction: row.PeopleJurisdiction, SetAt: &row.SetAt, SetBy: row.SetBy, Version: row.Version,
		}
	}
	r.Files = convert(files, func(f queries.DueFilesRow) practice.DueFile {
		return practice.DueFile{Job: f.ID, Number: f.Number, Vessel: f.Vessel, Kind: f.Kind, DueOn: f.DueOn, Held: f.Held}
	})
	r.People = convert(people, func(x queries.DuePeopleRow) practice.DuePerson {
		return practice.DuePerson{Party: x.ID, Name: x.Name, DueOn: x.DueOn, Held: x.Held}
	})
	for _, e := range gone {
		counts := map[string]int64{}
		if err := json.Unmarshal(e.Counts, &counts); err != nil {
			return practice.Retention{}, fmt.Errorf("counts of erasure %s: %w", e.ID, err)
		}
		r.Gone = append(r.Gone, practice.Erasure{
			ID: e.ID, Kind: e.Kind, Party: e.PartyID, Member: e.MemberID, Job: e.JobID, Reason: e.Reason, Counts: spoken(counts), Objects: e.Objects, At: e.At, By: e.ByName, ObjectsGoneAt: e.ObjectsGoneAt,
		})
	}
	return r, nil
}

// SetRetention implements practice.RetentionWriter.
func (tx *inPractice) SetRetention(ctx context.Context, in practice.EditRetention, by *uuid.UUID, now time.Time) error {
	if in.Version == 0 {
		return fault("insert retention", changed(tx.q.InsertRetention(ctx, queries.InsertRetentionParams{
			PracticeID: tx.practice, FileYears: in.FileYears, FileJurisdiction: in.FileJurisdiction, InvoiceYears: in.InvoiceYears, InvoiceJurisdiction: in.InvoiceJurisdiction,
			PeopleYears: in.PeopleYears, PeopleJurisdiction: in.PeopleJurisdiction, Now: now, SetBy: by,
		})))
	}
	return fault("update retention", changed(tx.q.UpdateRetention(ctx, queries.UpdateRetentionParams{
		PracticeID: tx.practice, Version: in.Version, FileYears: in.FileYears, FileJurisdiction: in.FileJurisdiction, InvoiceYears: in.InvoiceYears, InvoiceJurisdiction: in.InvoiceJurisdiction,
		PeopleYears: in.PeopleYears, PeopleJurisdiction: in.PeopleJurisdiction, Now: now, SetBy: by,
	})))
}

// FileToErase implements practice.RetentionWriter.
func (tx *inPractice) FileToErase(ctx context.Context, job uuid.UUID, who practice.Sees) (practice.FileToErase, error) {
	guest, self, member := whom(who)
	row, err := found(tx.q.FileToErase(ctx, queries.FileToEraseParams{PracticeID: tx.practice, ID: job, Self: self, Member: member, Guest: guest}))
	return practice.FileToErase(row), fault("read file", err)
}

// EraseFile implements practice.RetentionWriter. app may not change what was issued: one
// function of the database does, which judges holds and time first.
func (tx *inPractice) EraseFile(ctx context.Context, job uuid.UUID, words string, now time.Time) (practice.Erased, error) {
	keys, err := tx.q.KeysOfFile(ctx, queries.KeysOfFileParams{PracticeID: tx.practice, Job: job})
	if err != nil {
		return practice.Erased{}, fault("find objects of file", err)
	}
	rows, err := tx.tx.Query(ctx, `select what, n from door.erase_file($1, $2, $3, $4)`, tx.practice, job, words, now)
	if err != nil {
		return practice.Erased{}, fault("erase file", err)
	}
	gone := practice.Erased{Counts: map[string]int64{}, Keys: keys}
	var what string
	var n int64
	_, err = pgx.ForEachRow(rows, []any{&what, &n}, func() error {
		if n > 0 {
			gone.Counts[what] = n
		}
		return nil
	})
	return gone, fault("erase file", err)
}
