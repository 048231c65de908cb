package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// ReportParts implements practice.ReportHistoryReader.
func (s *Store) ReportParts(ctx context.Context, p, id uuid.UUID, openings int, who practice.Sees) (practice.ReportParts, error) {
	var (
		story    *queries.ReportStoryRow
		snapshot *queries.GetSnapshotRow
		drafts   []queries.DraftsOfReportRow
		comments []queries.CommentsOfReportRow
		links    []queries.LinksOfReportRow
		opened   []queries.OpeningsOfReportRow
		addenda  []queries.AddendaToldRow
		kin      []queries.KinOfReportRow
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &story, queries.ReportStory, p, id, guest, self, member)
		one(b, &snapshot, queries.GetSnapshot, p, id)
		many(b, &drafts, queries.DraftsOfReport, p, id)
		many(b, &comments, queries.CommentsOfReport, p, id)
		many(b, &links, queries.LinksOfReport, p, id)
		many(b, &opened, queries.OpeningsOfReport, p, id, int32(openings))
		many(b, &addenda, queries.AddendaTold, p, id)
		many(b, &kin, queries.KinOfReport, p, id, guest, self, member)
	})
	if err == nil && story == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.ReportParts{}, err
	}
	parts := practice.ReportParts{
		Story:    practice.ReportStory(*story),
		Drafts:   convert(drafts, func(r queries.DraftsOfReportRow) practice.SentDraft { return practice.SentDraft(r) }),
		Comments: convert(comments, func(r queries.CommentsOfReportRow) practice.Comment { return practice.Comment(r) }),
		Links:    convert(links, func(r queries.LinksOfReportRow) practice.GivenLink { return practice.GivenLink(r) }),
		Openings: convert(opened, func(r queries.OpeningsOfReportRow) practice.LinkOpening { return practice.LinkOpening(r) }),
		Addenda:  convert(addenda, func(r queries.AddendaToldRow) practice.AddendumTold { return practice.AddendumTold(r) }),
		Kin:      convert(kin, func(r queries.KinOfReportRow) practice.Numbered { return practice.Numbered(r) }),
	}
	if snapshot != nil {
		parts.Snapshot = &practice.Snapshot{Content: snapshot.Content, SHA256: snapshot.Sha256, AuditSeq: snapshot.AuditSeq, AuditChain: snapshot.AuditChain}
	}
	return parts, nil
}
