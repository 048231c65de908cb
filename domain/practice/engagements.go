package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Engagement is what somebody asks the practice to do, from the first call to the job.
// The boat may be unknown for a while, and whoever asks may be no party yet.
type Engagement struct {
	ID               uuid.UUID
	Client           *PartyLine
	Vessel           *uuid.UUID
	VesselName       string
	BoatAsWritten    string
	AskedOn          time.Time
	AskedBy          string // who called, in words
	Contact          string
	ForWhom          string // whom the survey is for, where that is somebody else
	AskedBecause     string
	Kind             string
	Scope            string
	Stage            string // enquiry, quoted, accepted, declined or closed
	Currency         string
	ConflictDecision string // go on, decline, or empty: nobody decided
	ConflictNote     string
	ConflictBy       *MemberLine
	ConflictAt       *time.Time
	ConflictFound    []Interest // as shown to whoever decided
	TermsVersion     string
	TermsAcceptedAt  *time.Time
	TermsAcceptedBy  string
	Offered          *Offered
	EarlyStart       bool // a consumer asked expressly to begin before the time to withdraw is over
	Job              *uuid.UUID
	JobNumber        string
	Version          int32
	Quote            []QuoteLine
	QuoteWithheld    bool       // from whoever may not read money; nothing is told of it then
	Missing          []Obstacle // before it can be booked
}

// Offered says to whom the offer went that stands, and until when it holds.
type Offered struct {
	To    string
	At    time.Time
	Until time.Time
}

// QuoteLine is a line of a quote, in whole minor units of the engagement's currency.
type QuoteLine struct {
	Text        string
	AmountMinor int64 // before tax
	TaxPermille int32
}

// Tax is a line's tax, half a minor unit rounded up.
func (l QuoteLine) Tax() int64 { return (l.AmountMinor*int64(l.TaxPermille) + 500) / 1000 }

// Sums adds a quote up.
func Sums(lines []QuoteLine) (net, tax int64) {
	for _, l := range lines {
		net += l.AmountMinor
		tax += l.Tax()
	}
	return net, tax
}

// Obstacle is something that is missing, in words, and what it stops.
type Obstacle struct {
	Code  string
	Text  string
	Stops string
}

// Interest is an earlier or present tie that a person looks at before an engagement is
// taken on. The service names it and decides nothing.
type Interest struct {
	Code  string `json:"code"` // other-client, party-is-client, other-enquiry, asks-as-party, hidden-job
	Text  string `json:"text"`
	Party string `json:"party,omitempty"`
	Job   string `json:"job,omitempty"`
}

// EngagementReader reads engagements.
type EngagementReader interface {
	Engagement(ctx context.Context, practice, id uuid.UUID) (Engagement, error)
	// Engagements lists those that are open, or all, the newest first.
	Engagements(ctx context.Context, practice uuid.UUID, open bool, page Page) ([]Engagement, error)
	// Ties are the earlier and present ties of a vessel and a client, as facts.
	Ties(ctx context.Context, practice, engagement uuid.UUID, who Sees) ([]Tie, error)
}

// Tie is a fact that may be an interest.
type Tie struct {
	What   string // job, party, enquiry or own
	Party  string
	Role   string // of a party to the vessel
	Number string // of a job
	Kind   string
	On     time.Time
	Open   bool
}

// EngagementWriter writes engagements.
type EngagementWriter interface {
	// Engagement reads one and holds it until the transaction ends.
	Engagement(ctx context.Context, id uuid.UUID) (Engagement, error)
	InsertEngagement(ctx context.Context, e Engagement, now time.Time) error
	UpdateEngagement(ctx context.Context, e Engagement) error
	SetQuote(ctx context.Context, engagement uuid.UUID, currency string, lines []QuoteLine) error
	DecideConflict(ctx context.Context, e Engagement, found []byte, by *uuid.UUID, now time.Time) error
	TiesNow(ctx context.Context, engagement uuid.UUID, who Sees) ([]Tie, error)
	PartyThere(ctx context.Context, party uuid.UUID) error
	LinkJob(ctx context.Context, job, engagement uuid.UUID) error
}

// Engagement reads an engagement with its quote and what is missing before it can be booked.
func (s *Service) Engagement(ctx context.Context, a domain.Actor, id uuid.UUID) (Engagement, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Engagement{}, err
	}
	e, err := s.store.Engagement(ctx, a.Practice, id)
	if err != nil {
		return Engagement{}, err
	}
	e.Missing = e.missing()
	e.withhold(a)
	return e, nil
}

// withhold keeps what it costs from whoever may not read money.
func (e *Engagement) withhold(a domain.Actor) {
	if domain.May(a, domain.ReadMoney) != nil {
		e.Quote, e.QuoteWithheld = nil, true
	}
}

// Engagements lists a page of engagements, the newest first.
func (s *Service) Engagements(ctx context.Context, a domain.Actor, open bool, page Page) ([]Engagement, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	list, err := s.store.Engagements(ctx, a.Practice, open, page)
	for k := range list {
		list[k].Missing = list[k].missing()
		list[k].withhold(a)
	}
	return list, err
}

// ended tells whether the practice takes it on no more.
func (e Engagement) ended() bool { return e.Stage == "declined" || e.Stage == "closed" }

// missing lists what an engagement lacks before it can be booked, each in words.
func (e Engagement) missing() []Obstacle {
	if e.Job != nil || e.ended() {
		return nil
	}
	var list []Obstacle
	lack := func(lacks bool, code, text string) {
		if lacks {
			list = append(list, Obstacle{code, text, "booking"})
		}
	}
	lack(e.Client == nil, "client", "The client is not yet a party of the practice.")
	lack(e.Vessel == nil, "vessel", "The boat is not known yet.")
	lack(e.Kind == "", "kind", "The kind of survey is not agreed.")
	lack(e.ConflictDecision == "", "conflict", "Nobody has looked yet whether earlier clients or parties of this boat stand against it.")
	lack(len(e.Quote) == 0, "quote", "There is no quote.")
	lack(e.TermsAcceptedAt == nil, "terms", "The client has not accepted terms.")
	return list
}

// AddEnquiry is what a first call tells.
type AddEnquiry struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Client        *uuid.UUID
	Vessel        *uuid.UUID
	BoatAsWritten string
	AskedBy       string
	Contact       string
	ForWhom       string
	AskedBecause  string
	Kind          string
	Scope         string
}

// AddEnquiry keeps an enquiry. Nothing but who asks is needed.
func (s *Service) AddEnquiry(ctx context.Context, a domain.Actor, in AddEnquiry) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addEnquiry", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if in.Client == nil && strings.TrimSpace(in.AskedBy) == "" {
			return Done{}, domain.Invalidf("askedBy", "Say who asks.")
		}
		p, err := tx.Practice(ctx)
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		e := Engagement{
			ID: in.ID, Vessel: in.Vessel, BoatAsWritten: in.BoatAsWritten, AskedOn: day(now.In(Zone(p.TimeZone))), AskedBy: strings.TrimSpace(in.AskedBy),
			Contact: in.Contact, ForWhom: in.ForWhom, AskedBecause: in.AskedBecause, Kind: in.Kind, Scope: in.Scope, Stage: "enquiry", Currency: p.Currency,
		}
		if in.Client != nil {
			e.Client = &PartyLine{ID: *in.Client}
		}
		if err := e.check(ctx, tx); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingEngagement, e.ID)), tx.InsertEngagement(ctx, e, now)
	})
}

// check refuses parties and vessels that are none, and kinds that are not known.
func (e Engagement) check(ctx context.Context, tx Tx) error {
	if e.Kind != "" && !slices.Contains(jobKinds, e.Kind) && !storedOnly[e.Kind] {
		return domain.Invalidf("kind", "The kinds of survey are %s; tonnage and code are kept with their papers and never made here.", strings.Join(jobKinds, ", "))
	}
	for field, text := range map[string]string{"askedBy": e.AskedBy, "contact": e.Contact, "forWhom": e.ForWhom, "boatAsWritten": e.BoatAsWritten} {
		if len(text) > 300 {
			return domain.Invalidf(field, "At most 300 letters fit here.")
		}
	}
	if len(e.AskedBecause) > 4000 || len(e.Scope) > 4000 {
		return domain.Invalidf("scope", "At most 4000 letters fit here.")
	}
	if e.Client != nil {
		if err := tx.PartyThere(ctx, e.Client.ID); err != nil {
			return err
		}
	}
	if e.Vessel != nil {
		if _, err := tx.Vessel(ctx, *e.Vessel); err != nil {
			return err
		}
	}
	return nil
}

// EditEngagement is a change to an engagement; nil leaves a field as it is.
type EditEngagement struct {
	Mutation      uuid.UUID `json:"-"`
	ID            uuid.UUID
	Version       int32
	Client        *uuid.UUID
	Vessel        *uuid.UUID
	BoatAsWritten *string
	AskedBy       *string
	Contact       *string
	ForWhom       *string
	AskedBecause  *string
	Kind          *string
	Scope         *string
	Stage         *string // declined or closed; the others follow from what is done
}

// EditEngagement changes an engagement. What the client accepted, its kind and scope,
// stays as accepted; another client or boat is looked at anew for conflicts.
func (s *Service) EditEngagement(ctx context.Context, a domain.Actor, in EditEngagement) (Done, error) {
	return s.write(ctx, &a, domain.Book, "editEngagement", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		e, err := tx.Engagement(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if e.TermsAcceptedAt != nil && (in.Kind != nil && *in.Kind != e.Kind || in.Scope != nil && *in.Scope != e.Scope) {
			return Done{}, domain.Conflictf("The client accepted this kind and scope. Close this engagement and begin another for others.")
		}
		if in.Stage != nil && *in.Stage != "declined" && *in.Stage != "closed" {
			return Done{}, domain.Invalidf("stage", "An engagement is declined or closed by hand; the other stages follow from what is done.")
		}
		otherClient := in.Client != nil && e.Client != nil && e.Client.ID != *in.Client
		if in.Client != nil && e.Client == nil || otherClient || in.Vessel != nil && !equal(in.Vessel, e.Vessel) {
			e.ConflictDecision = ""
		}
		in.apply(&e)
		if err := e.check(ctx, tx); err != nil {
			return Done{}, err
		}
		if otherClient || in.otherOffer() { // what somebody else was offered is nobody's to accept
			if err := tx.RevokeTermsLinks(ctx, e.ID, s.instant()); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingEngagement, e.ID)), tx.UpdateEngagement(ctx, e)
	})
}

// otherOffer tells whether the change touches what an offer shows, which is frozen: then
// one that nobody accepted yet ends, and a new one is sent.
func (in EditEngagement) otherOffer() bool {
	return in.Vessel != nil || in.Kind != nil || in.Scope != nil || in.Stage != nil
}

func (in EditEngagement) apply(e *Engagement) {
	e.Version = in.Version
	if in.Client != nil {
		e.Client = &PartyLine{ID: *in.Client}
	}
	setPtr(&e.Vessel, in.Vessel)
	set(&e.BoatAsWritten, in.BoatAsWritten)
	set(&e.AskedBy, in.AskedBy)
	set(&e.Contact, in.Contact)
	set(&e.ForWhom, in.ForWhom)
	set(&e.AskedBecause, in.AskedBecause)
	set(&e.Kind, in.Kind)
	set(&e.Scope, in.Scope)
	set(&e.Stage, in.Stage)
}

// SetQuote is the lines of a quote, all of them.
type SetQuote struct {
	Mutation   uuid.UUID `json:"-"`
	Engagement uuid.UUID
	Version    int32
	Currency   string // three letters; empty: as it is
	Lines      []QuoteLine
}

// SetQuote puts these lines in the place of the quote, and ends an offer of the old one
// that nobody accepted yet. Accepted terms keep the quote that the client saw.
func (s *Service) SetQuote(ctx context.Context, a domain.Actor, in SetQuote) (Done, error) {
	return s.write(ctx, &a, domain.Book, "setQuote", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		e, err := tx.Engagement(ctx, in.Engagement)
		if err != nil {
			return Done{}, err
		}
		if e.TermsAcceptedAt != nil {
			return Done{}, domain.Conflictf("The client accepted the quote on %s. Close this engagement and begin another for a new one.", e.TermsAcceptedAt.Format("2 January 2006"))
		}
		if in.Currency != "" {
			e.Currency = in.Currency
		}
		if err := in.check(e.Currency); err != nil {
			return Done{}, err
		}
		e.Version = in.Version
		if e.Stage == "enquiry" {
			e.Stage = "quoted"
		}
		if err := tx.UpdateEngagement(ctx, e); err != nil {
			return Done{}, err
		}
		if err := tx.RevokeTermsLinks(ctx, e.ID, s.instant()); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingEngagement, e.ID)), tx.SetQuote(ctx, e.ID, e.Currency, in.Lines)
	})
}

// mostMinor is the most that a quote may come to: the API's whole numbers end a little above.
const mostMinor = 20_000_000_00

func (in SetQuote) check(currency string) error {
	if len(currency) != 3 || strings.ToUpper(currency) != currency {
		return domain.Invalidf("currency", "A currency is three capital letters, such as EUR (ISO 4217).")
	}
	if len(in.Lines) == 0 || len(in.Lines) > 50 {
		return domain.Invalidf("lines", "A quote has 1 to 50 lines.")
	}
	for k, l := range in.Lines {
		switch {
		case strings.TrimSpace(l.Text) == "" || len(l.Text) > 300:
			return domain.Invalidf(fmt.Sprintf("lines[%d].text", k), "Say in at most 300 letters what the line is for.")
		case l.AmountMinor < 0 || l.AmountMinor > mostMinor:
			return domain.Invalidf(fmt.Sprintf("lines[%d].amountMinor", k), "An amount is 0 or more, in whole minor units.")
		case l.TaxPermille < 0 || l.TaxPermille > 1000:
			return domain.Invalidf(fmt.Sprintf("lines[%d].taxPermille", k), "Tax lies between 0 and 1000 parts in a thousand.")
		}
	}
	if net, tax := Sums(in.Lines); net+tax > mostMinor {
		return domain.Invalidf("lines", "A quote comes to at most %d minor units.", int64(mostMinor))
	}
	return nil
}

// ConflictCheck names the earlier and present ties that somebody should look at before
// the engagement is taken on.
func (s *Service) ConflictCheck(ctx context.Context, a domain.Actor, engagement uuid.UUID) ([]Interest, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	ties, err := s.store.Ties(ctx, a.Practice, engagement, sees(a))
	return interests(ties), err
}

// interests puts facts into words.
func interests(ties []Tie) []Interest {
	list := make([]Interest, 0, len(ties))
	for _, t := range ties {
		on := t.On.Format("2 January 2006")
		switch {
		case t.What == "job" && !t.Open:
			list = append(list, Interest{Code: "hidden-job", Text: "There is a job of this boat that is not open to you. Ask the principal before you decide."})
		case t.What == "job":
			list = append(list, Interest{Code: "other-client", Party: t.Party, Job: t.Number, Text: fmt.Sprintf("She was surveyed for %s: %s, job %s of %s.", either(t.Party, "a client who is not named"), t.Kind, t.Number, on)})
		case t.What == "party":
			list = append(list, Interest{Code: "party-is-client", Party: t.Party, Job: t.Number, Text: fmt.Sprintf("%s, her %s, is a client of the practice: %s, job %s of %s.", t.Party, t.Role, t.Kind, t.Number, on)})
		case t.What == "enquiry":
			list = append(list, Interest{Code: "other-enquiry", Party: t.Party, Text: fmt.Sprintf("%s asks about the same boat, since %s.", either(t.Party, "Somebody else"), on)})
		case t.What == "own":
			list = append(list, Interest{Code: "asks-as-party", Party: t.Party, Text: fmt.Sprintf("The client is known as her %s. Who may give which consent follows from that.", t.Role)})
		}
	}
	return list
}

// DecideConflict is a person's word on the ties that were found.
type DecideConflict struct {
	Mutation   uuid.UUID `json:"-"`
	Engagement uuid.UUID
	Version    int32
	Decision   string // go on or decline
	Note       string
}

// DecideConflict keeps what a person decided, with what was shown. Where ties were found,
// going on needs a note that says why.
func (s *Service) DecideConflict(ctx context.Context, a domain.Actor, in DecideConflict) (Done, error) {
	return s.write(ctx, &a, domain.Book, "decideConflict", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		e, err := tx.Engagement(ctx, in.Engagement)
		if err != nil {
			return Done{}, err
		}
		ties, err := tx.TiesNow(ctx, e.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		found := interests(ties)
		note := strings.TrimSpace(in.Note)
		switch {
		case in.Decision != "go on" && in.Decision != "decline":
			return Done{}, domain.Invalidf("decision", "Go on or decline.")
		case e.Vessel == nil:
			return Done{}, domain.Invalidf("engagement", "The boat is not known yet, so nothing can be looked at.")
		case len(found) > 0 && note == "" || len(note) > 1000:
			return Done{}, domain.Invalidf("note", "Say in at most 1000 letters why, since there is something to look at.")
		}
		raw, err := json.Marshal(found)
		if err != nil {
			return Done{}, fmt.Errorf("keep what was shown: %w", err)
		}
		e.Version, e.ConflictDecision, e.ConflictNote = in.Version, in.Decision, note
		if in.Decision == "decline" {
			e.Stage = "declined"
			if err := tx.RevokeTermsLinks(ctx, e.ID, s.instant()); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingEngagement, e.ID)), tx.DecideConflict(ctx, e, raw, entered(a), s.instant())
	})
}

// BookEngagement makes the job of an engagement.
type BookEngagement struct {
	Mutation   uuid.UUID `json:"-"`
	Engagement uuid.UUID
	Version    int32
	Job        uuid.UUID // its new id
	Lead       *uuid.UUID
	DueOn      *time.Time
}

// BookEngagement makes the job of an engagement once nothing is missing; what is, it says.
func (s *Service) BookEngagement(ctx context.Context, a domain.Actor, in BookEngagement) (Done, error) {
	return s.write(ctx, &a, domain.Book, "bookEngagement", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("job", in.Job); err != nil {
			return Done{}, err
		}
		e, err := tx.Engagement(ctx, in.Engagement)
		if err != nil {
			return Done{}, err
		}
		if err := e.bookable(); err != nil {
			return Done{}, err
		}
		number, err := s.nextJobNumber(ctx, tx)
		if err != nil {
			return Done{}, err
		}
		job := AddJob{ID: in.Job, Vessel: *e.Vessel, Client: &e.Client.ID, Number: number, Kind: e.Kind, Scope: e.Scope, Lead: in.Lead, Cite: "this client only", DueOn: in.DueOn}
		if err := tx.InsertJob(ctx, job, s.instant()); err != nil {
			return Done{}, err
		}
		if err := tx.LinkJob(ctx, job.ID, e.ID); err != nil {
			return Done{}, err
		}
		e.Version, e.Stage = in.Version, "accepted"
		if err := tx.UpdateEngagement(ctx, e); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingJob, job.ID), ref(domain.ThingEngagement, e.ID), ref(domain.ThingVessel, *e.Vessel)), openTo(ctx, tx, a, job.ID, in.Lead, false)
	})
}

func (e Engagement) bookable() error {
	if e.Job != nil {
		return domain.Conflictf("This engagement has its job already: %s.", e.JobNumber)
	}
	if e.ended() {
		return domain.Conflictf("This engagement is %s.", e.Stage)
	}
	missing := e.missing()
	if len(missing) == 0 {
		return nil
	}
	words := make([]string, len(missing))
	for k, m := range missing {
		words[k] = m.Text
	}
	return domain.Conflictf("It cannot be booked yet. %s", strings.Join(words, " "))
}
