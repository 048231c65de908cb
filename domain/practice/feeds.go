package practice

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/calendar"
	"boottop.example/practice/domain/entry"
)

// Feed is a calendar feed of a member: one secret address for one purpose.
type Feed struct {
	ID            uuid.UUID
	Purpose       string // my visits, all visits, reinspections
	Boats         bool   // names the boats
	Clients       bool   // names the clients
	CreatedAt     time.Time
	LastFetchedAt *time.Time
}

// Fed is what a feed's address opens.
type Fed struct {
	Feed
	Hash          []byte
	MemberName    string
	PracticeName  string
	Visits        []FedVisit
	Reinspections []FedReinspection
}

// FedVisit is a visit as a feed tells it.
type FedVisit struct {
	ID         uuid.UUID
	Kind       string
	From, To   time.Time
	State      string
	Sequence   int32
	RevisedAt  time.Time
	JobNumber  string
	VesselName string
	ClientName string
	YardName   string
}

// FedReinspection is a window as a feed tells it.
type FedReinspection struct {
	ID         uuid.UUID
	From, To   time.Time
	Version    int32
	VesselName string
	RevisedAt  time.Time
}

// FeedReader reads feeds, for those inside and for whoever holds an address.
type FeedReader interface {
	Feeds(ctx context.Context, practice, member uuid.UUID) ([]Feed, error)
	// Fed reads all of a feed in one trip and notes that it was fetched; NotFound where
	// the token opens nothing now.
	Fed(ctx context.Context, hash [32]byte, now time.Time) (Fed, error)
}

// FeedWriter writes feeds and invitations.
type FeedWriter interface {
	// InsertFeed ends the member's earlier feed of the same purpose.
	InsertFeed(ctx context.Context, in MakeFeed, member uuid.UUID, hash [32]byte, now time.Time) error
	RevokeFeed(ctx context.Context, id, member uuid.UUID, now time.Time) error
	VisitToInvite(ctx context.Context, visit uuid.UUID, who Sees) (VisitToInvite, error)
	// InvitedBehind lists who was asked to a visit by mail and knows an older time of it.
	InvitedBehind(ctx context.Context, visit uuid.UUID) ([]Invited, error)
	InsertVisitInvitation(ctx context.Context, in InviteToVisit, method string, sequence int32, by *uuid.UUID, now time.Time) error
}

// Feeds lists the actor's own feeds, without their addresses: those are shown once.
func (s *Service) Feeds(ctx context.Context, a domain.Actor) ([]Feed, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	return s.store.Feeds(ctx, a.Practice, a.Member)
}

// feedPurposes are what a feed is of, and what each asks of its member.
var feedPurposes = map[string]domain.Action{"my visits": domain.ReadPractice, "all visits": domain.ReadDiary, "reinspections": domain.ReadDiary}

// MakeFeed is a new feed of the actor.
type MakeFeed struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Purpose  string
	Boats    bool
	Clients  bool
}

// MakeFeed makes a secret address for one purpose and ends the earlier one. The address is
// answered once; only its hash is kept.
func (s *Service) MakeFeed(ctx context.Context, a domain.Actor, in MakeFeed) (done Done, address string, err error) {
	token, err := newToken()
	if err != nil {
		return Done{}, "", err
	}
	done, err = s.write(ctx, &a, domain.ReadPractice, "makeFeed", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		asks, known := feedPurposes[in.Purpose]
		if !known {
			return Done{}, domain.Invalidf("purpose", "A feed is of my visits, of all visits or of reinspections.")
		}
		if err := domain.May(a, asks); err != nil {
			return Done{}, err
		}
		if a.Member == uuid.Nil {
			return Done{}, domain.Forbiddenf("A feed belongs to a person. Sign in as one.")
		}
		return touched(ref(domain.ThingFeed, in.ID)), tx.InsertFeed(ctx, in, a.Member, sha256.Sum256([]byte(token)), s.instant())
	})
	if err != nil || done.Again {
		return done, "", err
	}
	return done, s.publicURL + "/calendar/" + token + ".ics", nil
}

// RevokeFeed ends a feed of the actor.
type RevokeFeed struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// RevokeFeed ends a feed: the next time it is fetched it is not there.
func (s *Service) RevokeFeed(ctx context.Context, a domain.Actor, in RevokeFeed) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "revokeFeed", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingFeed, in.ID)), tx.RevokeFeed(ctx, in.ID, a.Member, s.instant())
	})
}

// lookEvery is how often calendars are asked to fetch a feed.
const lookEvery = time.Hour

// Feed gives the iCalendar object that a token opens. It holds times and places, the
// boats' names unless they were left out, and the clients' only where that was chosen.
func (s *Service) Feed(ctx context.Context, token string) ([]byte, error) {
	if len(token) != tokenLength {
		return nil, domain.ErrNotFound
	}
	hash := sha256.Sum256([]byte(token))
	fed, err := s.store.Fed(ctx, hash, s.instant())
	if err != nil {
		return nil, err
	}
	if subtle.ConstantTimeCompare(hash[:], fed.Hash) != 1 {
		return nil, domain.ErrNotFound
	}
	c := calendar.Calendar{Name: fed.name(), Look: lookEvery}
	for _, v := range fed.Visits {
		c.Events = append(c.Events, fed.visit(v))
	}
	for _, r := range fed.Reinspections {
		c.Events = append(c.Events, fed.reinspection(r))
	}
	return c.Bytes(), nil
}

func (f Fed) name() string {
	switch f.Purpose {
	case "my visits":
		return "Visits of " + f.MemberName
	case "all visits":
		return "Visits, " + f.PracticeName
	}
	return "To be seen again, " + f.PracticeName
}

func (f Fed) visit(v FedVisit) calendar.Event {
	e := calendar.Event{
		UID: ref(domain.ThingVisit, v.ID).String(), Sequence: int(v.Sequence), Revised: v.RevisedAt, From: v.From, To: v.To,
		Summary: capitalised(v.Kind) + ", job " + v.JobNumber, Place: v.YardName, Called: v.State == "cancelled",
	}
	if f.Boats {
		e.Summary = capitalised(v.Kind) + ", " + v.VesselName
	}
	if f.Clients && v.ClientName != "" {
		e.About = "For " + v.ClientName
	}
	return e
}

func (f Fed) reinspection(r FedReinspection) calendar.Event {
	e := calendar.Event{
		UID: ref(domain.ThingReinspection, r.ID).String(), Sequence: int(r.Version) - 1, Revised: r.RevisedAt, From: r.From, To: r.To, Days: true, Summary: "To be seen again",
	}
	if f.Boats {
		e.Summary += ": " + r.VesselName
	}
	return e
}

func capitalised(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// VisitToInvite is what an invitation to a visit says.
type VisitToInvite struct {
	ID            uuid.UUID
	Kind          string
	From, To      time.Time
	TimeZone      string
	State         string
	Sequence      int32
	RevisedAt     time.Time
	JobNumber     string
	Vessel        uuid.UUID
	VesselName    string
	Job           uuid.UUID
	YardName      string
	PracticeName  string
	PracticeEmail string
	Invented      bool
}

// InviteToVisit asks somebody to a visit by mail.
type InviteToVisit struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Visit    uuid.UUID
	Name     string
	Email    string
}

// InviteToVisit sends a visit to a person's calendar by mail (RFC 5546): asks to it, or,
// once it was called off, takes it back. Sent again after a move it moves there too.
func (s *Service) InviteToVisit(ctx context.Context, a domain.Actor, in InviteToVisit) (Done, error) {
	return s.write(ctx, &a, domain.Book, "inviteToVisit", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		v, err := tx.VisitToInvite(ctx, in.Visit, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := in.check(v); err != nil {
			return Done{}, err
		}
		now, method := s.instant(), v.method()
		if err := tx.InsertVisitInvitation(ctx, in, string(method), v.Sequence, entered(a), now); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingVisit, v.ID), ref(domain.ThingJob, v.Job)), tx.SendMail(ctx, v.letter(in, method), now)
	})
}

func (in InviteToVisit) check(v VisitToInvite) error {
	switch {
	case strings.TrimSpace(in.Name) == "":
		return domain.Invalidf("name", "Name the person.")
	case !plausibleEmail(in.Email):
		return domain.Invalidf("email", "Give the person's e-mail address; the invitation is sent there.")
	case !plausibleEmail(v.PracticeEmail):
		return domain.Invalidf("visit", "An invitation comes from the practice's own e-mail address. Add it in the settings first.")
	case !slices.Contains([]string{"planned", "cancelled"}, v.State):
		return domain.Conflictf("This visit has been made.")
	}
	return nil
}

// Invited is somebody who was asked to a visit by mail, by the last letter to the address.
type Invited struct {
	Name     string
	Email    string
	SentAt   time.Time
	Sequence int32 // of the visit, as that letter told it
	Called   bool  // that letter took it back
}

// tellInvited tells those who were asked to a visit by mail that it was moved or called
// off: the same UID with its sequence raised (RFC 5546). Who was never asked hears
// nothing, and nobody hears one thing twice.
func (s *Service) tellInvited(ctx context.Context, tx Tx, visit uuid.UUID, who Sees) error {
	behind, err := tx.InvitedBehind(ctx, visit)
	if err != nil || len(behind) == 0 {
		return err
	}
	v, err := tx.VisitToInvite(ctx, visit, who)
	if err != nil || v.State == "done" {
		return err
	}
	now, method := s.instant(), v.method()
	for _, i := range behind {
		in := InviteToVisit{ID: derived(fmt.Sprintf("invitation %d to %s", v.Sequence, i.Email), visit), Visit: visit, Name: i.Name, Email: i.Email}
		if err := tx.InsertVisitInvitation(ctx, in, string(method), v.Sequence, nil, now); err != nil {
			return err
		}
		if err := tx.SendMail(ctx, v.letter(in, method), now); err != nil {
			return err
		}
	}
	return nil
}

// method is what a letter about a visit does: asks to it, or takes it back.
func (v VisitToInvite) method() calendar.Method {
	if v.State == "cancelled" {
		return calendar.Cancel
	}
	return calendar.Request
}

// letter is the invitation as text, with the object that calendars read.
func (v VisitToInvite) letter(in InviteToVisit, method calendar.Method) entry.Letter {
	when := v.From.In(Zone(v.TimeZone)).Format("Monday 2 January 2006, 15:04")
	what := fmt.Sprintf("%s of %s", visitNamed(v.Kind), v.VesselName)
	var b strings.Builder
	if method == calendar.Cancel {
		fmt.Fprintf(&b, "%s,\n\nthe %s on %s is called off.\n", in.Name, what, when)
	} else {
		fmt.Fprintf(&b, "%s,\n\nyou are asked to the %s: %s (%s).\n", in.Name, what, when, v.TimeZone)
	}
	if v.YardName != "" {
		fmt.Fprintf(&b, "Where: %s\n", v.YardName)
	}
	fmt.Fprintf(&b, "\n%s\n", v.PracticeName)
	if v.Invented {
		b.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
	}
	c := calendar.Calendar{Method: method, Events: []calendar.Event{{
		UID: ref(domain.ThingVisit, v.ID).String(), Sequence: int(v.Sequence), Revised: v.RevisedAt, From: v.From, To: v.To, Summary: capitalised(what), Place: v.YardName,
		Called: method == calendar.Cancel, Organizer: calendar.Person{Name: v.PracticeName, Email: v.PracticeEmail}, Attendee: calendar.Person{Name: in.Name, Email: in.Email},
	}}}
	return entry.Letter{Kind: "invitation to a visit", To: in.Email, Subject: capitalised(what), Body: b.String(), Calendar: string(c.Bytes()), Method: string(method)}
}
