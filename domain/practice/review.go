package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Comment is what somebody said to a draft. It is never printed; while it is open it
// stands in the way of issue.
type Comment struct {
	ID         uuid.UUID
	Section    string // inShort, scope, limits, recommendations …, or sec_… of a section
	About      string // the statement it speaks of, as it stood
	Text       string
	ByID       uuid.UUID
	ByName     string
	At         time.Time
	ResolvedAt *time.Time
	ResolvedBy string
}

// SentDraft is a draft as it stood when it was sent for review.
type SentDraft struct {
	Number  int32 // counted within its report
	Content []byte
	ByName  string
	At      time.Time
}

// ReviewWriter writes what a review says.
type ReviewWriter interface {
	InsertDraft(ctx context.Context, report uuid.UUID, content []byte, by *uuid.UUID, now time.Time) error
	ReportOfComment(ctx context.Context, comment uuid.UUID) (uuid.UUID, error)
	InsertComment(ctx context.Context, report uuid.UUID, c Comment) error
	ResolveComment(ctx context.Context, id uuid.UUID, at *time.Time, by *uuid.UUID) error
}

// SendForReview is a draft that its writer holds to be ready for a second look.
type SendForReview struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
}

// SendForReview keeps the draft's words as they stand, so that what changes from here on
// can be shown, and says that it waits for a second look.
func (s *Service) SendForReview(ctx context.Context, a domain.Actor, in SendForReview) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "sendForReview", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r, sources, err := draft(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		built, _ := assemble(r, sources, report.Issue{Draft: true}, now)
		content, err := report.Encode(built)
		if err != nil {
			return Done{}, fmt.Errorf("encode draft: %w", err)
		}
		r.Version, r.State = in.Version, "in review"
		if err := tx.UpdateReport(ctx, r); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID)), tx.InsertDraft(ctx, r.ID, content, entered(a), now)
	})
}

// CommentOnDraft is something said to a draft.
type CommentOnDraft struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Report   uuid.UUID
	Section  string
	About    string
	Text     string
}

// CommentOnDraft says something to a section or a statement of a draft.
func (s *Service) CommentOnDraft(ctx context.Context, a domain.Actor, in CommentOnDraft) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "commentOnDraft", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if text := strings.TrimSpace(in.Text); text == "" || len(text) > 4000 {
			return Done{}, domain.Invalidf("text", "A comment has 1 to 4000 letters.")
		}
		if len(in.Section) > 60 || len(in.About) > 2000 {
			return Done{}, domain.Invalidf("section", "Name the section by its code, and quote one statement at most.")
		}
		r, _, err := draft(ctx, tx, a, in.Report)
		if err != nil {
			return Done{}, err
		}
		c := Comment{ID: in.ID, Section: in.Section, About: in.About, Text: strings.TrimSpace(in.Text), ByID: a.Member, At: s.instant()}
		done := touched(ref(domain.ThingComment, in.ID), ref(domain.ThingReport, r.ID)).tell(telling{What: toldComment, Job: &r.JobID, Members: writerOf(r)})
		return done, tx.InsertComment(ctx, r.ID, c)
	})
}

// ResolveComment puts a comment aside, or opens it again.
type ResolveComment struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Open     bool
}

// ResolveComment says that a comment was met, or opens it again.
func (s *Service) ResolveComment(ctx context.Context, a domain.Actor, in ResolveComment) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "resolveComment", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		of, err := tx.ReportOfComment(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		r, _, err := draft(ctx, tx, a, of)
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingComment, in.ID), ref(domain.ThingReport, r.ID))
		if in.Open {
			return done, tx.ResolveComment(ctx, in.ID, nil, nil)
		}
		now := s.instant()
		return done, tx.ResolveComment(ctx, in.ID, &now, entered(a))
	})
}

// mayLook tells whether an actor's look at a draft is the one that the practice asks for.
func mayLook(r Report, f ReportFacts, a domain.Actor, now time.Time) error {
	if !f.ReviewRequired || !equal(r.EditedBy, entered(a)) {
		return nil
	}
	from := lookFrom(r, f)
	switch {
	case from == nil:
		return domain.Invalidf("secondLook", "You wrote in it last. Somebody else who signs must look it through.")
	case now.Before(*from):
		return domain.Invalidf("secondLook", "Let it lie first: with nobody else to look, the practice waits %d hours after the last word before a self-check.", f.SelfCheckHours)
	}
	return nil
}

// lookFrom is from when on the only one who signs may look a draft through again; nil
// where somebody else does.
func lookFrom(r Report, f ReportFacts) *time.Time {
	if !f.ReviewRequired || f.Signers > 1 || r.EditedAt == nil {
		return nil
	}
	from := r.EditedAt.Add(time.Duration(f.SelfCheckHours) * time.Hour)
	return &from
}

// reviewWords says under a report who has looked it through.
func reviewWords(r Report, src Sources) string {
	switch {
	case src.SecondLook == "":
		return ""
	case !equal(r.SecondLookBy, r.SignedBy):
		return "Second look: " + src.SecondLook + "."
	case r.EditedBy != nil && !equal(r.EditedBy, r.SecondLookBy) && src.Editor != "":
		return "Written up by " + src.Editor + "; looked through by " + src.SecondLook + ", who signs it."
	}
	return "Self-check by " + src.SecondLook + "; nobody else has looked it through."
}
