package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"wordings_pkey":        {domain.Conflict, "id", "A wording with this id is kept already."},
	"report_sections_pkey": {domain.Conflict, "id", "A section with this id is kept already."},
	"draft_comments_pkey":  {domain.Conflict, "id", "A comment with this id is kept already."},
})

func wordingFrom(r queries.WordingsRow) practice.Wording {
	return practice.Wording{ID: r.ID, Kinds: r.Kinds, Title: r.Title, Body: r.Body, Position: r.Position, Retired: r.Retired, Version: r.Version}
}

// Wordings implements practice.WordingReader.
func (s *Store) Wordings(ctx context.Context, p uuid.UUID) ([]practice.Wording, error) {
	var rows []queries.WordingsRow
	var versions []queries.WordingVersionsRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.Wordings, p)
		many(b, &versions, queries.WordingVersions, p)
	})
	if err != nil {
		return nil, err
	}
	earlier := map[uuid.UUID][]practice.WordingVersion{}
	for _, v := range versions {
		earlier[v.WordingID] = append(earlier[v.WordingID], practice.WordingVersion{Version: v.Version, Title: v.Title, Body: v.Body, ByName: v.ByName, At: v.At})
	}
	list := convert(rows, wordingFrom)
	for k := range list {
		list[k].Earlier = earlier[list[k].ID]
	}
	return list, nil
}

// Wordings implements practice.ComposerWriter.
func (tx *inPractice) Wordings(ctx context.Context) ([]practice.Wording, error) {
	rows, err := tx.q.Wordings(ctx, tx.practice)
	return convert(rows, wordingFrom), fault("read wordings", err)
}

// KeepWording implements practice.WordingWriter.
func (tx *inPractice) KeepWording(ctx context.Context, w practice.Wording, by *uuid.UUID, now time.Time) error {
	var err error
	if w.Version == 0 {
		err = tx.q.InsertWording(ctx, queries.InsertWordingParams{
			PracticeID: tx.practice, ID: w.ID, Kinds: w.Kinds, Title: w.Title, Body: w.Body, Position: w.Position, Retired: w.Retired,
		})
	} else {
		err = changed(tx.q.UpdateWording(ctx, queries.UpdateWordingParams{
			PracticeID: tx.practice, ID: w.ID, Version: w.Version, Kinds: w.Kinds, Title: w.Title, Body: w.Body, Position: w.Position, Retired: w.Retired,
		}))
	}
	if err != nil {
		return fault("keep wording", err)
	}
	return fault("keep version of wording", tx.q.InsertWordingVersion(ctx, queries.InsertWordingVersionParams{
		PracticeID: tx.practice, WordingID: w.ID, Version: w.Version + 1, Title: w.Title, Body: w.Body, ByID: by, Now: now,
	}))
}

// ProposeSections implements practice.ComposerWriter.
func (tx *inPractice) ProposeSections(ctx context.Context, report uuid.UUID, ids, wordings []uuid.UUID) error {
	return fault("propose sections", tx.q.ProposeSections(ctx, queries.ProposeSectionsParams{PracticeID: tx.practice, ReportID: report, Ids: ids, Wordings: wordings}))
}

// ReportOfSection implements practice.ComposerWriter.
func (tx *inPractice) ReportOfSection(ctx context.Context, section uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.ReportOfSection(ctx, queries.ReportOfSectionParams{PracticeID: tx.practice, ID: section}))
	return id, fault("find section", err)
}

// InsertSection implements practice.ComposerWriter.
func (tx *inPractice) InsertSection(ctx context.Context, report uuid.UUID, s practice.ReportSection) error {
	return fault("insert section", tx.q.InsertSection(ctx, queries.InsertSectionParams{
		PracticeID: tx.practice, ID: s.ID, ReportID: report, Title: s.Title, Body: s.Body, WordingID: s.WordingID, WordingVersion: s.WordingVersion,
	}))
}

// UpdateSection implements practice.ComposerWriter.
func (tx *inPractice) UpdateSection(ctx context.Context, s practice.ReportSection) error {
	return fault("update section", changed(tx.q.UpdateSection(ctx, queries.UpdateSectionParams{
		PracticeID: tx.practice, ID: s.ID, Version: s.Version, Title: s.Title, Body: s.Body, LeftOut: s.LeftOut,
	})))
}

// OrderSections implements practice.ComposerWriter.
func (tx *inPractice) OrderSections(ctx context.Context, report uuid.UUID, ids []uuid.UUID) error {
	n, err := tx.q.OrderSections(ctx, queries.OrderSectionsParams{PracticeID: tx.practice, ReportID: report, Ids: ids})
	if err == nil && int(n) != len(ids) {
		return domain.ErrNotFound
	}
	return fault("order sections", err)
}

// TouchReport implements practice.ComposerWriter.
func (tx *inPractice) TouchReport(ctx context.Context, report uuid.UUID, by *uuid.UUID, now time.Time) error {
	return fault("touch report", changed(tx.q.TouchReport(ctx, queries.TouchReportParams{PracticeID: tx.practice, ID: report, EditedBy: by, Now: now})))
}

// InsertDraft implements practice.ReviewWriter.
func (tx *inPractice) InsertDraft(ctx context.Context, report uuid.UUID, content []byte, by *uuid.UUID, now time.Time) error {
	return fault("keep draft", tx.q.InsertDraft(ctx, queries.InsertDraftParams{PracticeID: tx.practice, ReportID: report, Content: content, ByID: by, Now: now}))
}

// ReportOfComment implements practice.ReviewWriter.
func (tx *inPractice) ReportOfComment(ctx context.Context, comment uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.ReportOfComment(ctx, queries.ReportOfCommentParams{PracticeID: tx.practice, ID: comment}))
	return id, fault("find comment", err)
}

// InsertComment implements practice.ReviewWriter.
func (tx *inPractice) InsertComment(ctx context.Context, report uuid.UUID, c practice.Comment) error {
	return fault("insert comment", tx.q.InsertComment(ctx, queries.InsertCommentParams{
		PracticeID: tx.practice, ID: c.ID, ReportID: report, Section: c.Section, About: c.About, Text: c.Text, ByID: c.ByID, Now: c.At,
	}))
}

// ResolveComment implements practice.ReviewWriter.
func (tx *inPractice) ResolveComment(ctx context.Context, id uuid.UUID, at *time.Time, by *uuid.UUID) error {
	return fault("resolve comment", changed(tx.q.ResolveComment(ctx, queries.ResolveCommentParams{PracticeID: tx.practice, ID: id, ResolvedAt: at, ResolvedBy: by})))
}
