package practice

import (
	"context"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// Addendum adds to an issued report, which itself is never changed. One is required
// where a reading was corrected after the report printed it.
type Addendum struct {
	ID              uuid.UUID
	Number          int32 // counted within its report
	RequiredBecause string
	Text            string
	State           string // required, draft, issued
	IssuedAt        *time.Time
	Version         int32
	PdfKey          *string // of its file; nil until that is made
	PdfSha256       []byte
	PdfBytes        *int64
	PdfPages        *int32
	PageKey         *string // of its page; nil until that is made
	PageSha256      []byte
}

// HeldAddendum is an addendum as its writer sees it.
type HeldAddendum struct {
	ID       uuid.UUID
	ReportID uuid.UUID
	Number   int32
	Text     string
	State    string
	Version  int32
}

// Recipient is somebody who holds a link that is open.
type Recipient struct{ Name, Email string }

// AddendumWriter writes addenda, and what takes a report's place.
type AddendumWriter interface {
	// Addendum reads one of a report that the actor may see and holds it.
	Addendum(ctx context.Context, id uuid.UUID, who Sees) (HeldAddendum, error)
	InsertAddendum(ctx context.Context, id, report uuid.UUID, text string) error
	UpdateAddendum(ctx context.Context, id uuid.UUID, version int32, text string) error
	IssueAddendum(ctx context.Context, id uuid.UUID, version int32, by *uuid.UUID, chain string, now time.Time) error
	ReplaceReport(ctx context.Context, id uuid.UUID, version int32, by uuid.UUID, e Ending) error
	// InsertAddendumIssue keeps where an addendum's file is; the first run's stays.
	InsertAddendumIssue(ctx context.Context, addendum uuid.UUID, f AddendumFile, content []byte) error
	// OpenShares names those who hold a link to a report that still opens it.
	OpenShares(ctx context.Context, report uuid.UUID, now time.Time) ([]Recipient, error)
}

// longestAddendum is how many letters one may have.
const longestAddendum = 20_000

// WriteAddendum is an addendum's text; version 0 begins a new one.
type WriteAddendum struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Report   uuid.UUID
	Version  int32
	Text     string
}

// WriteAddendum begins an addendum to an issued report, or writes one that is required
// or begun.
func (s *Service) WriteAddendum(ctx context.Context, a domain.Actor, in WriteAddendum) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "writeAddendum", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if len(in.Text) > longestAddendum {
			return Done{}, domain.Invalidf("text", "Keep an addendum to %d letters. A report that needs more is better replaced.", longestAddendum)
		}
		r, _, err := tx.ReportSources(ctx, in.Report, sees(a))
		if err != nil {
			return Done{}, err
		}
		if !r.added() {
			return Done{}, domain.Conflictf("An addendum adds to an issued report. This one is %s.", r.State)
		}
		done := touched(ref(domain.ThingAddendum, in.ID), ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID))
		if in.Version == 0 {
			if err := newID("id", in.ID); err != nil {
				return Done{}, err
			}
			return done, tx.InsertAddendum(ctx, in.ID, r.ID, in.Text)
		}
		held, err := tx.Addendum(ctx, in.ID, sees(a))
		switch {
		case err != nil:
			return Done{}, err
		case held.ReportID != r.ID:
			return Done{}, domain.ErrNotFound
		case held.State == "issued":
			return Done{}, domain.Conflictf("This addendum was issued and is never changed. Write another.")
		}
		return done, tx.UpdateAddendum(ctx, in.ID, in.Version, in.Text)
	})
}

// added tells whether a report can have an addendum.
func (r Report) added() bool { return r.State == "issued" || r.State == "amended" }

// IssueAddendum issues an addendum.
type IssueAddendum struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
}

// IssueAddendum issues an addendum under the actor's name. From then on the report says
// wherever it is opened that it was added to, and everybody who holds an open link is told.
func (s *Service) IssueAddendum(ctx context.Context, a domain.Actor, in IssueAddendum) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "issueAddendum", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		held, err := tx.Addendum(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(held.Text) == "" {
			return Done{}, domain.Invalidf("text", "Write the addendum first.")
		}
		r, sources, err := tx.ReportSources(ctx, held.ReportID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if !r.added() {
			return Done{}, domain.Conflictf("An addendum adds to an issued report. This one is %s.", r.State)
		}
		now := s.instant()
		seq, chain, err := tx.HeadNow(ctx)
		if err != nil {
			return Done{}, err
		}
		head := fmt.Sprintf("%d %s", seq, hex.EncodeToString(chain[:6]))
		if err := tx.IssueAddendum(ctx, held.ID, in.Version, entered(a), head, now); err != nil {
			return Done{}, err
		}
		if r.State == "issued" {
			if err := tx.SetReportState(ctx, r.ID, "amended", "issued"); err != nil {
				return Done{}, err
			}
		}
		if err := tx.Enqueue(ctx, JobMakeAddendum, AddendumJob{Practice: sources.Practice, Addendum: held.ID}, now); err != nil {
			return Done{}, err
		}
		subject := fmt.Sprintf("Addendum %d to report %s, %s", held.Number, r.Number, sources.Facts.Name)
		if err := tellHolders(ctx, tx, r.ID, subject, held.Text, sources, now); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingAddendum, held.ID), ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID)), nil
	})
}

// ReplaceReport puts another issued report in a report's place.
type ReplaceReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	By       uuid.UUID
	Because  string // told to every reader of the old one
}

// ReplaceReport says that another issued report of the same boat takes a report's place.
// The old one stays readable and says by which it was replaced, and why; everybody who
// holds an open link to it is told.
func (s *Service) ReplaceReport(ctx context.Context, a domain.Actor, in ReplaceReport) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "replaceReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		end, err := s.ending(a, "because", in.Because, "Say why another report takes its place: its readers are told.")
		if err != nil {
			return Done{}, err
		}
		old, sources, err := tx.ReportSources(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		by, _, err := tx.ReportSources(ctx, in.By, sees(a))
		if err != nil {
			return Done{}, err
		}
		switch {
		case in.ID == in.By:
			return Done{}, domain.Invalidf("by", "A report cannot replace itself.")
		case !old.added():
			return Done{}, domain.Conflictf("Only an issued report is replaced. This one is %s.", old.State)
		case by.VesselID != old.VesselID || !equal(by.ClientID, old.ClientID):
			return Done{}, domain.Invalidf("by", "The report that takes its place must be of the same boat, for the same client.")
		case !by.added():
			return Done{}, domain.Conflictf("The report that takes its place must be issued first. It is %s.", by.State)
		}
		if err := tx.ReplaceReport(ctx, old.ID, in.Version, by.ID, end); err != nil {
			return Done{}, err
		}
		subject := fmt.Sprintf("Report %s, %s: replaced by %s", old.Number, sources.Facts.Name, by.Number)
		if err := tellHolders(ctx, tx, old.ID, subject, end.Because+"\n\nReport "+by.Number+" takes its place. Ask us for it where it has not reached you.", sources, end.At); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, old.ID), ref(domain.ThingReport, by.ID), ref(domain.ThingJob, old.JobID)), nil
	})
}

// tellHolders writes once to everybody who holds an open link to a report. The link
// itself is not known any more; the one that they have shows what is new.
func tellHolders(ctx context.Context, tx Tx, report uuid.UUID, subject, text string, sources Sources, now time.Time) error {
	holders, err := tx.OpenShares(ctx, report, now)
	if err != nil {
		return err
	}
	for _, h := range holders {
		var body strings.Builder
		fmt.Fprintf(&body, "%s,\n\n%s\n\n%s\n\nThe link that you hold shows it beside the report, which stays as it was issued.\n", h.Name, subject, text)
		fmt.Fprintf(&body, "\n%s\n", sources.Facts.PracticeName)
		if sources.Facts.Invented {
			body.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
		}
		if err := tx.SendMail(ctx, entry.Letter{Kind: "addendum", To: h.Email, Subject: subject, Body: body.String()}, now); err != nil {
			return err
		}
	}
	return nil
}
