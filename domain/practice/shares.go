package practice

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/report"
)

// Share is a link for a named person, for a purpose, until a day.
type Share struct {
	ID           uuid.UUID
	Name         string
	Email        string
	Purpose      string
	AsksCode     bool // the report opens with a code from the address alone
	CreatedAt    time.Time
	Until        time.Time
	RevokedAt    *time.Time
	Openings     int32
	LastOpenedAt time.Time // means nothing while Openings is 0
}

// Shared is what a link opens: an issued report, read from its frozen snapshot.
type Shared struct {
	ID           uuid.UUID
	ReportID     uuid.UUID
	Name         string
	Purpose      string
	AsksCode     bool
	Until        time.Time
	State        string
	Number       string
	Title        string
	Content      []byte // a report.Report as JSON
	PracticeName string
	Invented     bool
	ReplacedBy   string // number of the report that took its place
	EndedBecause string // why it was replaced or withdrawn
	EndedAt      *time.Time
	IssuedAt     time.Time
	PageKey      string
	PageBytes    int64
	PageSha256   []byte
	PdfKey       string
	PdfSha256    []byte
	PdfBytes     int64
	PdfPages     int32
	Openings     int32
	LastOpenedAt time.Time
	Addenda      []Addendum
	OtherReports []string

	Key      string // what a client's account calls it; empty by link
	VesselID uuid.UUID
	OfClient bool // the link is that of the client whose report it is
	Answers  []ClientAnswer
	Messages []ClientMessage
	Permits  []ClientPermit
}

// ShareReader reads shares, for those inside and for whoever holds a link.
type ShareReader interface {
	// ShareByToken finds what a token's hash opens; NotFound where it opens nothing now.
	ShareByToken(ctx context.Context, hash [32]byte, now time.Time) (practice, share uuid.UUID, err error)
	// Shared reads what a link opens; where it waits for the job to be paid for, that, in words.
	Shared(ctx context.Context, practice, share uuid.UUID, now time.Time) (Shared, error)
	// InsertOpening notes that a link was opened; it is no change to what the practice keeps.
	InsertOpening(ctx context.Context, practice, id, share uuid.UUID, what string, now time.Time) error
}

// ShareWriter writes shares.
type ShareWriter interface {
	InsertShare(ctx context.Context, in ShareReport, hash [32]byte, by *uuid.UUID, now time.Time) error
	RevokeShare(ctx context.Context, id uuid.UUID, who Sees, now time.Time) (report uuid.UUID, err error)
}

// ShareReport is a new link to an issued report.
type ShareReport struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Report   uuid.UUID
	Party    *uuid.UUID
	Name     string
	Email    string
	Purpose  string
	AsksCode bool // before the report opens, a code goes to the address
	Until    time.Time
}

// ShareReport makes a link to an issued report and sends it to the person named. The
// link is answered once, to whoever made it; only its hash is kept.
func (s *Service) ShareReport(ctx context.Context, a domain.Actor, in ShareReport) (done Done, link string, err error) {
	token, err := newToken()
	if err != nil {
		return Done{}, "", err
	}
	done, err = s.write(ctx, &a, domain.Share, "shareReport", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		now := s.instant()
		if err := in.check(now); err != nil {
			return Done{}, err
		}
		r, sources, err := tx.ReportSources(ctx, in.Report, sees(a))
		if err != nil {
			return Done{}, err
		}
		if r.Draft() || r.State == "issuing" {
			return Done{}, domain.Conflictf("Only an issued report can be shared. This one is still %s.", r.State)
		}
		if in.Party != nil {
			if err := tx.PartyThere(ctx, *in.Party); err != nil {
				return Done{}, err
			}
		}
		if err := mayShare(ctx, tx, in, sources.Facts); err != nil {
			return Done{}, err
		}
		release, err := tx.JobRelease(ctx, r.JobID)
		if err != nil {
			return Done{}, err
		}
		if err := tx.InsertShare(ctx, in, sha256.Sum256([]byte(token)), entered(a), now); err != nil {
			return Done{}, err
		}
		letter := entry.Letter{
			Kind: "share", To: in.Email, Subject: fmt.Sprintf("Report %s, %s", r.Number, sources.Facts.Name),
			Body: shareLetter(in, r, sources, s.publicURL+"/s/"+token, release.Held),
		}
		if err := tx.SendMail(ctx, letter, now); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingShare, in.ID), ref(domain.ThingReport, r.ID)), nil
	})
	if err != nil || done.Again {
		return done, "", err
	}
	return done, s.publicURL + "/s/" + token, nil
}

func (in ShareReport) check(now time.Time) error {
	switch {
	case strings.TrimSpace(in.Name) == "":
		return domain.Invalidf("name", "Name the person the link is for.")
	case !plausibleEmail(in.Email):
		return domain.Invalidf("email", "Give the person's e-mail address; the link is sent there.")
	case !in.Until.After(now):
		return domain.Invalidf("until", "The link must hold until some time in the future.")
	case in.Until.After(now.AddDate(5, 0, 0)):
		return domain.Invalidf("until", "A link holds five years at most. Make another one then.")
	}
	return nil
}

func plausibleEmail(s string) bool {
	at := strings.LastIndexByte(s, '@')
	return at > 0 && at < len(s)-1 && len(s) <= 254 && !strings.ContainsAny(s, " \r\n\t<>,;\"")
}

func shareLetter(in ShareReport, r Report, sources Sources, link string, held bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s has issued report %s of %s", in.Name, sources.Facts.PracticeName, r.Number, sources.Facts.Name)
	if !held {
		b.WriteString(" and opened it to you")
	}
	if in.Purpose != "" {
		fmt.Fprintf(&b, " (%s)", in.Purpose)
	}
	if held {
		b.WriteString(". The practice has not opened it yet; the link says when it is open and stays the same")
	}
	fmt.Fprintf(&b, ".\n\nRead it here: %s\n\nThe link is for you and holds until %s. Looking at it uses nothing up.\n", link, in.Until.In(Zone(sources.Facts.TimeZone)).Format("2 January 2006"))
	if in.AsksCode {
		b.WriteString("Before the report opens its page sends a code to this address; type it there.\n")
	}
	b.WriteString("\nAn opinion on the condition on the day, within the limits stated in the report. Not a certificate of seaworthiness, class, safety or compliance.\n")
	if sources.Facts.Invented {
		b.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
	}
	return b.String()
}

// RevokeShare ends a link.
type RevokeShare struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// RevokeShare ends a link: the next time it is opened it opens nothing.
func (s *Service) RevokeShare(ctx context.Context, a domain.Actor, in RevokeShare) (Done, error) {
	return s.write(ctx, &a, domain.Share, "revokeShare", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		of, err := tx.RevokeShare(ctx, in.ID, sees(a), s.instant())
		return touched(ref(domain.ThingShare, in.ID), ref(domain.ThingReport, of)), err
	})
}

// OpenShare reads what a link opens and notes that it was opened. Opening uses nothing
// up: a mail scanner that fetches the link changes nothing for the person named.
func (s *Service) OpenShare(ctx context.Context, token, what string) (Shared, report.Report, error) {
	if token == "" {
		return Shared{}, report.Report{}, domain.ErrNotFound
	}
	return s.OpenShared(ctx, Holder{Link: token}, what)
}

// maxReport is the most that an issued report's page or PDF may weigh.
const maxReport = 100 << 20

// Object reads an issued report's page or PDF from the store.
func (s *Service) Object(ctx context.Context, key string) ([]byte, error) {
	if s.objects == nil {
		return nil, &domain.Fault{Kind: domain.Unavailable, Text: "The store of files is not connected."}
	}
	return s.objects.Get(ctx, key, maxReport)
}

// Issued tells where an issued report's bytes are, and what came after it, for a member
// who may see its job.
func (s *Service) Issued(ctx context.Context, a domain.Actor, id uuid.UUID) (Issued, ReportPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Issued{}, ReportPage{}, err
	}
	page, _, err := s.store.Report(ctx, a.Practice, id, sees(a))
	if err != nil {
		return Issued{}, ReportPage{}, err
	}
	if page.IssuedAt == nil || page.PageKey == nil || page.PdfKey == nil {
		return Issued{}, ReportPage{}, domain.ErrNotFound
	}
	if page.gone() {
		return Issued{}, ReportPage{}, &domain.Fault{Kind: domain.NotFound, Text: goneWords}
	}
	return Issued{
		Report: id, PageKey: *page.PageKey, PageSHA256: page.PageSha256, PDFKey: *page.PdfKey, PDFSHA256: page.PdfSha256, At: *page.IssuedAt,
	}, page, nil
}

// tokenLength is how long a link's secret is: 256 bits in URL-safe letters.
const tokenLength = 43

func newToken() (string, error) {
	var b [32]byte
	if _, err := rand.Read(b[:]); err != nil {
		return "", fmt.Errorf("make a secret: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b[:]), nil
}
