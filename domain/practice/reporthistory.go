package practice

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// mostOpenings is how many openings the history of a report lists; older ones are counted.
const mostOpenings = 500

// ReportStory is what the row of a report and its issue tell of its course.
type ReportStory struct {
	ID               uuid.UUID
	Number           string
	Title            string
	State            string
	JobID            uuid.UUID
	JobNumber        string
	VesselID         uuid.UUID
	VesselName       string
	ClientName       string
	CreatedAt        time.Time
	EditedAt         *time.Time
	EditedBy         string
	SecondLookAt     *time.Time
	SecondLookBy     string
	SignedBy         string
	IssuedAt         *time.Time
	PageSha256       []byte
	PdfSha256        []byte
	PdfPages         *int32
	ReplacedBy       *uuid.UUID
	ReplacedByNumber string
	EndedBecause     string
	EndedAt          *time.Time
	EndedBy          string
}

// ReportParts is everything that is kept of the course of a report.
type ReportParts struct {
	Story    ReportStory
	Snapshot *Snapshot // nil while it is a draft
	Drafts   []SentDraft
	Comments []Comment
	Links    []GivenLink
	Openings []LinkOpening // the latest first, one more than are listed where there are more
	Addenda  []AddendumTold
	Kin      []Numbered
}

// GivenLink is a link as the history tells of it.
type GivenLink struct {
	ID        uuid.UUID
	Name      string
	Purpose   string
	CreatedAt time.Time
	CreatedBy string
	Until     time.Time
	RevokedAt *time.Time
}

// LinkOpening is one opening by a link.
type LinkOpening struct {
	Name string
	What string // page, pdf or photos
	At   time.Time
}

// AddendumTold is an addendum as the history tells of it.
type AddendumTold struct {
	Number          int32
	RequiredBecause string
	Text            string
	State           string
	IssuedAt        *time.Time
	IssuedBy        string
	PdfSha256       []byte
	PageSha256      []byte
}

// ReportEvent is one thing that happened to a report.
type ReportEvent struct {
	At      time.Time
	Kind    string // begun, sent, comment, met, written, looked, issued, shared, opened, taken back, addendum, replaced, withdrawn or replaces
	By      string // who did it, as named then
	Title   string // in a few words
	Text    string // the words that go with it, in full
	About   string // what a comment speaks of
	Report  *uuid.UUID
	Hashes  []FileHash
	Changes []report.Difference // of a draft since the one before, of the issue since the last draft
}

// FileHash is a file and the SHA-256 that was recorded of it.
type FileHash struct {
	Name   string // page, PDF, data
	SHA256 []byte
}

// ReportHistory is the full course of a report, in order.
type ReportHistory struct {
	ReportStory
	Events []ReportEvent
	Older  bool // there are openings before those listed
}

// ReportHistoryReader reads the course of a report in one trip.
type ReportHistoryReader interface {
	ReportParts(ctx context.Context, practice, id uuid.UUID, openings int, who Sees) (ReportParts, error)
}

// ReportHistory tells the full course of a report: its drafts, what was said to them, its
// issue with the hashes, addenda, links and openings, and what ended it.
func (s *Service) ReportHistory(ctx context.Context, a domain.Actor, id uuid.UUID) (ReportHistory, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return ReportHistory{}, err
	}
	p, err := s.store.ReportParts(ctx, a.Practice, id, mostOpenings+1, sees(a))
	if err != nil {
		return ReportHistory{}, err
	}
	h := ReportHistory{ReportStory: p.Story}
	if h.Older = len(p.Openings) > mostOpenings; h.Older {
		p.Openings = p.Openings[:mostOpenings]
	}
	h.Events = append(h.Events, ReportEvent{At: p.Story.CreatedAt, Kind: "begun", Title: "Draft begun"})
	drafts, err := p.draftEvents()
	if err != nil {
		return ReportHistory{}, err
	}
	h.Events = slices.Concat(h.Events, drafts, p.commentEvents(), p.linkEvents(), p.addendumEvents(), p.endEvents())
	slices.SortStableFunc(h.Events, func(x, y ReportEvent) int { return x.At.Compare(y.At) })
	return h, nil
}

// draftEvents tell of each draft that was sent, the last words, the second look and the
// issue, each with the words that changed since the one before.
func (p ReportParts) draftEvents() (out []ReportEvent, err error) {
	var before *report.Report
	since := func(content []byte) ([]report.Difference, error) {
		now, err := report.Decode(content)
		if err != nil {
			return nil, fmt.Errorf("draft of report %s: %w", p.Story.ID, err)
		}
		was := before
		before = &now
		if was == nil {
			return nil, nil
		}
		return report.Differences(*was, now), nil
	}
	for _, d := range p.Drafts {
		e := ReportEvent{At: d.At, Kind: "sent", By: d.ByName, Title: fmt.Sprintf("Draft %d sent for review", d.Number)}
		if e.Changes, err = since(d.Content); err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	st := p.Story
	if st.EditedAt != nil {
		out = append(out, ReportEvent{At: *st.EditedAt, Kind: "written", By: st.EditedBy, Title: "Last written in"})
	}
	if st.SecondLookAt != nil {
		out = append(out, ReportEvent{At: *st.SecondLookAt, Kind: "looked", By: st.SecondLookBy, Title: "Looked through"})
	}
	if p.Snapshot == nil {
		return out, nil
	}
	e := ReportEvent{Kind: "issued", By: st.SignedBy, Title: "Issued as report " + st.Number, Hashes: []FileHash{{"data", p.Snapshot.SHA256}}}
	if e.Changes, err = since(p.Snapshot.Content); err != nil {
		return nil, err
	}
	e.At = before.Issue.At
	e.Text = fmt.Sprintf("Frozen and signed. Head of the record of changes: %s.", before.AuditHead)
	if st.IssuedAt != nil {
		e.Hashes = append(e.Hashes, FileHash{"page", st.PageSha256}, FileHash{"PDF", st.PdfSha256})
	}
	return append(out, e), nil
}

func (p ReportParts) commentEvents() (out []ReportEvent) {
	for _, c := range p.Comments {
		out = append(out, ReportEvent{At: c.At, Kind: "comment", By: c.ByName, Title: "Said to the draft", About: c.About, Text: c.Text})
		if c.ResolvedAt != nil {
			out = append(out, ReportEvent{At: *c.ResolvedAt, Kind: "met", By: c.ResolvedBy, Title: "A comment was met", About: c.Text})
		}
	}
	return out
}

func (p ReportParts) linkEvents() (out []ReportEvent) {
	for _, l := range p.Links {
		out = append(out, ReportEvent{At: l.CreatedAt, Kind: "shared", By: l.CreatedBy, Title: "Link for " + l.Name, Text: l.Purpose})
		if l.RevokedAt != nil {
			out = append(out, ReportEvent{At: *l.RevokedAt, Kind: "taken back", Title: "Link of " + l.Name + " taken back"})
		}
	}
	fetched := map[string]string{"page": "Opened", "pdf": "PDF fetched", "photos": "Photos fetched"}
	for _, o := range p.Openings {
		out = append(out, ReportEvent{At: o.At, Kind: "opened", By: o.Name, Title: fetched[o.What] + " by link"})
	}
	return out
}

func (p ReportParts) addendumEvents() (out []ReportEvent) {
	for _, a := range p.Addenda {
		if a.IssuedAt == nil {
			continue // it has not happened yet; the report's page shows it
		}
		e := ReportEvent{At: *a.IssuedAt, Kind: "addendum", By: a.IssuedBy, Title: fmt.Sprintf("Addendum %d issued", a.Number), About: a.RequiredBecause, Text: a.Text}
		if a.PageSha256 != nil {
			e.Hashes = append(e.Hashes, FileHash{"page", a.PageSha256})
		}
		if a.PdfSha256 != nil {
			e.Hashes = append(e.Hashes, FileHash{"PDF", a.PdfSha256})
		}
		out = append(out, e)
	}
	return out
}

// endEvents tell what took the report's place or took it back, and whose place it took.
func (p ReportParts) endEvents() (out []ReportEvent) {
	st := p.Story
	switch {
	case st.EndedAt == nil:
	case st.ReplacedBy != nil:
		out = append(out, ReportEvent{At: *st.EndedAt, Kind: "replaced", By: st.EndedBy, Title: "Replaced by report " + st.ReplacedByNumber, Text: st.EndedBecause, Report: st.ReplacedBy})
	default:
		out = append(out, ReportEvent{At: *st.EndedAt, Kind: "withdrawn", By: st.EndedBy, Title: "Withdrawn", Text: st.EndedBecause})
	}
	for _, k := range slices.SortedFunc(slices.Values(p.Kin), func(x, y Numbered) int { return cmp.Compare(x.Number, y.Number) }) {
		if k.ReplacedBy != nil && *k.ReplacedBy == st.ID && st.IssuedAt != nil {
			at := *st.IssuedAt // those of long ago do not say when
			if k.EndedAt != nil {
				at = *k.EndedAt
			}
			out = append(out, ReportEvent{At: at, Kind: "replaces", Title: "Took the place of report " + k.Number, Report: &k.ID})
		}
	}
	return out
}
