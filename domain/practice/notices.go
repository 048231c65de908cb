package practice

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// What notices tell of.
const (
	toldBooked     = "visit booked"
	toldMoved      = "visit moved"
	toldPeople     = "people of a visit"
	toldHandedOn   = "visit handed on"
	toldCalledOff  = "visit called off"
	toldPermission = "permission given"
	toldRefused    = "permission refused"
	toldAnswer     = "recommendation answered"
	toldTerms      = "terms accepted"
	toldPayment    = "payment"
	toldComment    = "draft commented"
	toldLooked     = "draft looked through"
	toldDownload   = "report fetched" // written where a link is opened, see store/shares.go
)

// telling is something in a change that others should hear of. The visit's people are
// told, else the job's lead, and the members named; never whoever made the change, nor
// anybody who may not see the job.
type telling struct {
	What       string
	Job        *uuid.UUID
	Visit      *uuid.UUID
	Engagement *uuid.UUID
	About      string      // a word or number that the sentence needs, no name
	Members    []uuid.UUID // beside those whose visit or job it is
	Only       bool        // the members named, nobody else
	Roles      []string    // who of them may hear of it; none: all
}

// Telling is a telling as it is written down with its change.
type Telling struct {
	telling
	Mutation uuid.UUID
	By       *uuid.UUID
	At       time.Time
}

// tell adds what others should hear of. A person hears of a change once: of the first
// telling that is for him or her.
func (d Done) tell(t telling) Done {
	d.tells = append(slices.Clip(d.tells), t)
	return d
}

// tellAll writes the notices of a change in its own transaction.
func tellAll(ctx context.Context, tx Tx, line Line, tells []telling) error {
	for _, t := range tells {
		if err := tx.Tell(ctx, Telling{t, line.ID, entered(line.Actor), line.At}); err != nil {
			return err
		}
	}
	return nil
}

// writerOf is whoever wrote in a draft last, to be told beside the job's lead.
func writerOf(r Report) []uuid.UUID {
	if r.EditedBy == nil {
		return nil
	}
	return []uuid.UUID{*r.EditedBy}
}

// Notice is something that changed for a member.
type Notice struct {
	ID         uuid.UUID
	What       string
	About      string
	Job        *uuid.UUID
	JobNumber  string
	Visit      *uuid.UUID
	VisitKind  string
	VisitFrom  *time.Time
	VisitZone  string
	Engagement *uuid.UUID
	Boat       string
	By         string // empty: nobody of the practice
	At         time.Time
	SeenAt     *time.Time
}

// Notices are a member's notices, the newest first.
type Notices struct {
	List   []Notice
	Unseen int32
	Digest string // none, daily or weekly
}

// NoticeReader reads a member's notices.
type NoticeReader interface {
	// Notices reads those before one; one more than most where there are more.
	Notices(ctx context.Context, practice, member uuid.UUID, beforeAt time.Time, before uuid.UUID, most int, who Sees) (Notices, error)
	// DigestMembers are those who get a mail on a day; and whether anybody ever gets one.
	DigestMembers(ctx context.Context, practice uuid.UUID, weekly bool) (due []uuid.UUID, wanted bool, err error)
	// DigestByToken finds whose mails a token ends.
	DigestByToken(ctx context.Context, hash [32]byte) (practice, member uuid.UUID, err error)
	DigestOf(ctx context.Context, practice, member uuid.UUID) (string, error)
}

// NoticeWriter writes notices.
type NoticeWriter interface {
	Tell(ctx context.Context, t Telling) error
	// SeeNotices marks notices of the member and counts those that are his or hers.
	SeeNotices(ctx context.Context, member uuid.UUID, ids []uuid.UUID, now time.Time) (int, error)
	SetDigest(ctx context.Context, member uuid.UUID, digest string) error
	// NoticesToMail are a member's notices that he or she has neither seen nor been mailed.
	NoticesToMail(ctx context.Context, member uuid.UUID) (to Addressee, list []Notice, err error)
	InsertDigest(ctx context.Context, member uuid.UUID, hash [32]byte, until, now time.Time) error
}

// Addressee is a member whom a digest goes to.
type Addressee struct {
	Name         string
	Email        string
	PracticeName string
	Invented     bool
}

// Notices lists what changed for the actor.
func (s *Service) Notices(ctx context.Context, a domain.Actor, page Page) (Notices, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Notices{}, err
	}
	if err := page.check(); err != nil {
		return Notices{}, err
	}
	before := lastDay
	if page.AfterText == "" {
		page.AfterID = uuid.Max
	} else {
		var err error
		if before, err = time.Parse(time.RFC3339Nano, page.AfterText); err != nil {
			return Notices{}, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
		}
	}
	return s.store.Notices(ctx, a.Practice, a.Member, before, page.AfterID, page.First+1, sees(a))
}

// Text is a notice as a sentence.
func (n Notice) Text() string {
	visit := strings.TrimSpace(fmt.Sprintf("the %s of %s", visitNamed(n.VisitKind), n.Boat))
	when := ""
	if n.VisitFrom != nil {
		when = n.VisitFrom.In(Zone(n.VisitZone)).Format("Monday 2 January, 15:04")
	}
	switch n.What {
	case toldBooked:
		return fmt.Sprintf("You are booked for %s on %s.", visit, when)
	case toldMoved:
		return fmt.Sprintf("%s was moved: it is now on %s.", capitalised(visit), when)
	case toldPeople:
		return fmt.Sprintf("Who goes to %s on %s was changed.", visit, when)
	case toldHandedOn:
		return fmt.Sprintf("%s on %s was handed to somebody else.", capitalised(visit), when)
	case toldCalledOff:
		return fmt.Sprintf("%s on %s is called off.", capitalised(visit), when)
	case toldPermission:
		return fmt.Sprintf("Leave was given for %s: %s.", n.Boat, consentTo(n.About))
	case toldRefused:
		return fmt.Sprintf("Leave was refused for %s: %s.", n.Boat, consentTo(n.About))
	case toldAnswer:
		return fmt.Sprintf("A recommendation for %s now stands at: %s.", n.Boat, n.About)
	case toldTerms:
		return fmt.Sprintf("Our offer for %s was accepted.", either(n.Boat, "a survey"))
	case toldPayment:
		return fmt.Sprintf("A payment was noted for %s, %s.", n.Boat, n.About)
	case toldComment:
		return fmt.Sprintf("Something was said to the draft report of %s.", n.Boat)
	case toldLooked:
		return fmt.Sprintf("The draft report of %s was looked through.", n.Boat)
	case toldDownload:
		return fmt.Sprintf("Report %s of %s was fetched as PDF by a link.", n.About, n.Boat)
	}
	return fmt.Sprintf("%s: %s.", capitalised(n.What), n.Boat)
}

// SeeNotices marks notices as seen.
type SeeNotices struct {
	Mutation uuid.UUID `json:"-"`
	Notices  []uuid.UUID
}

// SeeNotices marks notices of the actor as seen.
func (s *Service) SeeNotices(ctx context.Context, a domain.Actor, in SeeNotices) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "seeNotices", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if len(in.Notices) == 0 || len(in.Notices) > maxPage {
			return Done{}, domain.Invalidf("notices", "Name 1 to %d notices.", maxPage)
		}
		ids := slices.Clone(in.Notices)
		slices.SortFunc(ids, func(a, b uuid.UUID) int { return strings.Compare(a.String(), b.String()) })
		ids = slices.Compact(ids)
		n, err := tx.SeeNotices(ctx, a.Member, ids, s.instant())
		if err == nil && n < len(ids) {
			err = domain.ErrNotFound
		}
		return touched(ref(domain.ThingMember, a.Member)), err
	})
}

var digests = []string{"none", "daily", "weekly"}

// SetDigest is how often the actor's notices come by mail.
type SetDigest struct {
	Mutation uuid.UUID `json:"-"`
	Digest   string    // none, daily or weekly
}

// SetDigest chooses how often the actor's notices come by mail.
func (s *Service) SetDigest(ctx context.Context, a domain.Actor, in SetDigest) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "setDigest", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		switch {
		case !slices.Contains(digests, in.Digest):
			return Done{}, domain.Invalidf("digest", "A mail comes daily, weekly or not at all: daily, weekly, none.")
		case a.Member == uuid.Nil:
			return Done{}, domain.Forbiddenf("Notices belong to a person. Sign in as one.")
		}
		if err := tx.SetDigest(ctx, a.Member, in.Digest); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingMember, a.Member))
		if in.Digest == "none" {
			return done, nil
		}
		return done, s.nextDigest(ctx, tx, a.Practice)
	})
}

// JobDigest is the kind of the job that sends a practice's mails of a day.
const JobDigest = "digest"

// DigestJob is that job's arguments; the day, 2006-01-02, is the practice's own.
type DigestJob struct {
	Practice uuid.UUID `json:"practice"`
	Day      string    `json:"day"`
}

// digestHour is when mails of notices go, in the practice's zone; weekly ones on Mondays.
const digestHour = 7

// nextDigest asks for tomorrow's mails.
func (s *Service) nextDigest(ctx context.Context, tx Tx, practice uuid.UUID) error {
	p, err := tx.Practice(ctx)
	if err != nil {
		return err
	}
	now := s.instant().In(Zone(p.TimeZone))
	at := time.Date(now.Year(), now.Month(), now.Day()+1, digestHour, 0, 0, 0, now.Location())
	return tx.Enqueue(ctx, JobDigest, DigestJob{Practice: practice, Day: at.Format(time.DateOnly)}, at.UTC())
}

// SendDigests is the job: it sends the mails of its day, each once however often it runs,
// and asks for the next day's while anybody wants one.
func (s *Service) SendDigests(ctx context.Context, job DigestJob) error {
	on, err := time.Parse(time.DateOnly, job.Day)
	if err != nil {
		return fmt.Errorf("send digests: %w", err)
	}
	due, wanted, err := s.store.DigestMembers(ctx, job.Practice, on.Weekday() == time.Monday)
	if err != nil {
		return err
	}
	for _, member := range due {
		if err := s.sendDigest(ctx, job, member); err != nil {
			return fmt.Errorf("digest of member %s: %w", member, err)
		}
	}
	if !wanted {
		return nil
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.ManagePractice, "nextDigest", derived("nextDigest "+job.Day, job.Practice), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingPractice, job.Practice)), s.nextDigest(ctx, tx, job.Practice)
	})
	return err
}

// sendDigest mails a member what is new. The letter commits with the note that it went, so
// it is written once; sent again by a retry it is the same letter.
func (s *Service) sendDigest(ctx context.Context, job DigestJob, member uuid.UUID) error {
	token, err := newToken()
	if err != nil {
		return err
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.ManagePractice, "sendDigest", derived("digest "+job.Day, member), job, func(ctx context.Context, tx Tx) (Done, error) {
		done := touched(ref(domain.ThingMember, member))
		to, list, err := tx.NoticesToMail(ctx, member)
		if err != nil || len(list) == 0 || !plausibleEmail(to.Email) {
			return done, err
		}
		now := s.instant()
		if err := tx.InsertDigest(ctx, member, sha256.Sum256([]byte(token)), list[0].At, now); err != nil {
			return Done{}, err
		}
		done.Kept = len(list)
		return done, tx.SendMail(ctx, digestLetter(to, list, s.publicURL, token), now)
	})
	return err
}

func digestLetter(to Addressee, list []Notice, publicURL, token string) entry.Letter {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\nnew for you at %s:\n\n", to.Name, to.PracticeName)
	for _, n := range list {
		fmt.Fprintf(&b, "- %s\n", n.Text())
	}
	fmt.Fprintf(&b, "\nAll of it: %s/notices\n", publicURL)
	end := publicURL + "/unsubscribe/" + token
	fmt.Fprintf(&b, "\nYou chose to get these mails. No more of them: %s\n", end)
	if to.Invented {
		b.WriteString("\nAn invented practice, boats and people: a demonstration.\n")
	}
	subject := fmt.Sprintf("%s: %d new for you", to.PracticeName, len(list))
	return entry.Letter{Kind: "digest", To: to.Email, Subject: subject, Body: b.String(), Unsubscribe: end}
}

// Unsubscribe ends the mails that a token came with (RFC 8058). It needs no sign-in, and
// done twice it is done once.
func (s *Service) Unsubscribe(ctx context.Context, token string) error {
	if len(token) != tokenLength {
		return domain.ErrNotFound
	}
	p, member, err := s.store.DigestByToken(ctx, sha256.Sum256([]byte(token)))
	if err != nil {
		return err
	}
	digest, err := s.store.DigestOf(ctx, p, member)
	if err != nil || digest == "none" {
		return err
	}
	id, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("unsubscribe: %w", err)
	}
	self := domain.Service(p)
	_, err = s.write(ctx, &self, domain.ManagePractice, "unsubscribe", id, member, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingMember, member)), tx.SetDigest(ctx, member, "none")
	})
	return err
}
