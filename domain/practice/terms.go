package practice

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// Terms is a version of the practice's terms. Wording and jurisdiction are the practice's.
type Terms struct {
	ID     uuid.UUID
	Name   string
	Body   string
	MadeAt time.Time
}

// Offer is what a client is shown, frozen when it was offered.
type Offer struct {
	PracticeName string      `json:"practiceName"`
	Invented     bool        `json:"invented"`
	Boat         string      `json:"boat"`
	Kind         string      `json:"kind"`
	Scope        string      `json:"scope"`
	Currency     string      `json:"currency"`
	Lines        []QuoteLine `json:"lines"`
	EarlyWording string      `json:"earlyWording"` // of the request to begin early; the practice's own
	TermsName    string      `json:"termsName"`
	TermsBody    string      `json:"termsBody"`
}

// TermsLink is a link by which a client reads an offer and accepts it by typing a code.
type TermsLink struct {
	ID         uuid.UUID
	Engagement uuid.UUID
	TermsID    uuid.UUID
	Name       string
	Email      string
	Offer      Offer
	CodeSHA256 []byte
	Until      time.Time
	RevokedAt  *time.Time
	AcceptedAt *time.Time
	AcceptedBy string
	EarlyStart bool
	OfferedBy  *uuid.UUID // known where it is held to be accepted
}

// TermsReader reads terms, for those inside and for whoever holds a link.
type TermsReader interface {
	Terms(ctx context.Context, practice uuid.UUID) ([]Terms, error)
	TermsLinkByToken(ctx context.Context, hash [32]byte, now time.Time) (practice, link uuid.UUID, err error)
	TermsLink(ctx context.Context, practice, link uuid.UUID) (TermsLink, error)
	// TryCode counts a try before it is made; false once there were too many.
	TryCode(ctx context.Context, practice, link uuid.UUID, most int) (bool, error)
}

// TermsWriter writes terms.
type TermsWriter interface {
	InsertTerms(ctx context.Context, t Terms) error
	TermsNamed(ctx context.Context, id uuid.UUID) (Terms, error)
	InsertTermsLink(ctx context.Context, l TermsLink, offer []byte, token, code [32]byte, by *uuid.UUID, now time.Time) error
	// RevokeTermsLinks ends the links of an engagement that nobody accepted.
	RevokeTermsLinks(ctx context.Context, engagement uuid.UUID, now time.Time) error
	AcceptTermsLink(ctx context.Context, link uuid.UUID, name string, early bool, now time.Time) error
	AcceptedTerms(ctx context.Context, l TermsLink, name string, early bool, now time.Time) error
	TermsLinkToAccept(ctx context.Context, link uuid.UUID) (TermsLink, error)
}

// Terms lists the versions of the practice's terms, the newest first.
func (s *Service) Terms(ctx context.Context, a domain.Actor) ([]Terms, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	return s.store.Terms(ctx, a.Practice)
}

// WriteTerms is a new version of the practice's terms.
type WriteTerms struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Name     string
	Body     string
}

// WriteTerms keeps a new version of the practice's terms. A version is never changed.
func (s *Service) WriteTerms(ctx context.Context, a domain.Actor, in WriteTerms) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "writeTerms", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := oneLine("name", strings.TrimSpace(in.Name), 60); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Body) == "" || len(in.Body) > 60_000 {
			return Done{}, domain.Invalidf("body", "The terms have 1 to 60,000 letters.")
		}
		return touched(ref(domain.ThingTerms, in.ID)), tx.InsertTerms(ctx, Terms{ID: in.ID, Name: strings.TrimSpace(in.Name), Body: in.Body, MadeAt: s.instant()})
	})
}

// OfferTerms is an offer to a client.
type OfferTerms struct {
	Mutation   uuid.UUID `json:"-"`
	ID         uuid.UUID // of the link
	Engagement uuid.UUID
	Terms      uuid.UUID
	Name       string
	Email      string
	Until      time.Time
}

// OfferTerms freezes scope, quote and terms as they stand and sends a client the link to
// them, with the code to type. A link alone accepts nothing: mail scanners open links.
// Both are answered once; only their hashes are kept. An earlier offer that nobody
// accepted ends.
func (s *Service) OfferTerms(ctx context.Context, a domain.Actor, in OfferTerms) (done Done, link, code string, err error) {
	token, err := newToken()
	if err != nil {
		return Done{}, "", "", err
	}
	if code, err = newCode(); err != nil {
		return Done{}, "", "", err
	}
	done, err = s.write(ctx, &a, domain.Book, "offerTerms", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		if err := in.check(now); err != nil {
			return Done{}, err
		}
		l, zone, err := offer(ctx, tx, in)
		if err != nil {
			return Done{}, err
		}
		raw, err := json.Marshal(l.Offer)
		if err != nil {
			return Done{}, fmt.Errorf("freeze the offer: %w", err)
		}
		if err := tx.RevokeTermsLinks(ctx, in.Engagement, now); err != nil {
			return Done{}, err
		}
		if err := tx.InsertTermsLink(ctx, l, raw, sha256.Sum256([]byte(token)), codeHash(code), entered(a), now); err != nil {
			return Done{}, err
		}
		letter := entry.Letter{
			Kind: "terms", To: in.Email, Subject: fmt.Sprintf("%s: our offer for %s", l.Offer.PracticeName, l.Offer.Boat), Body: termsLetter(l, s.publicURL+"/t/"+token, code, zone),
		}
		return touched(ref(domain.ThingTermsLink, in.ID), ref(domain.ThingEngagement, in.Engagement)), tx.SendMail(ctx, letter, now)
	})
	if err != nil || done.Again {
		return done, "", "", err
	}
	return done, s.publicURL + "/t/" + token, code, nil
}

func (in OfferTerms) check(now time.Time) error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	return ShareReport{Name: in.Name, Email: in.Email, Until: in.Until}.check(now)
}

// offer puts together what the client is shown, and on whose clock it ends.
func offer(ctx context.Context, tx Tx, in OfferTerms) (TermsLink, *time.Location, error) {
	e, err := tx.Engagement(ctx, in.Engagement)
	if err != nil {
		return TermsLink{}, nil, err
	}
	t, err := tx.TermsNamed(ctx, in.Terms)
	if err != nil {
		return TermsLink{}, nil, err
	}
	p, err := tx.Practice(ctx)
	if err != nil {
		return TermsLink{}, nil, err
	}
	money, err := tx.MoneySettings(ctx)
	if err != nil {
		return TermsLink{}, nil, err
	}
	switch {
	case e.ended():
		return TermsLink{}, nil, domain.Conflictf("This engagement is %s.", e.Stage)
	case e.TermsAcceptedAt != nil:
		return TermsLink{}, nil, domain.Conflictf("The client accepted terms already, on %s.", e.TermsAcceptedAt.Format("2 January 2006"))
	case e.ConflictDecision != "go on":
		return TermsLink{}, nil, domain.Conflictf("Nobody has decided yet that no conflict of interest stands against it.")
	case len(e.Quote) == 0:
		return TermsLink{}, nil, domain.Conflictf("There is no quote to offer.")
	}
	return TermsLink{
		ID: in.ID, Engagement: e.ID, TermsID: t.ID, Name: in.Name, Email: in.Email, Until: in.Until,
		Offer: Offer{
			PracticeName: p.Name, Invented: p.Invented, Boat: either(e.VesselName, either(e.BoatAsWritten, "your boat")), Kind: e.Kind, Scope: e.Scope,
			Currency: e.Currency, Lines: e.Quote, TermsName: t.Name, TermsBody: t.Body, EarlyWording: money.EarlyStartWording,
		},
	}, Zone(p.TimeZone), nil
}

func termsLetter(l TermsLink, link, code string, zone *time.Location) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s offers you a survey of %s. Scope, price and terms are here: %s\n\n", l.Name, l.Offer.PracticeName, l.Offer.Boat, link)
	fmt.Fprintf(&b, "To accept, type this code on that page: %s\n\nThe offer holds until %s. Opening the page accepts nothing.\n", code, l.Until.In(zone).Format("2 January 2006"))
	if l.Offer.Invented {
		b.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
	}
	return b.String()
}

// codeLetters leave out what is mistaken for something else when read aloud or typed.
const codeLetters = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"

// newCode makes eight letters, 39 bits, which ten tries a link do not find.
func newCode() (string, error) {
	var b [8]byte
	for k := range b {
		for {
			if _, err := rand.Read(b[k : k+1]); err != nil {
				return "", fmt.Errorf("make a code: %w", err)
			}
			if int(b[k]) < 256/len(codeLetters)*len(codeLetters) { // else some letters would come more often
				break
			}
		}
		b[k] = codeLetters[int(b[k])%len(codeLetters)]
	}
	return string(b[:4]) + "-" + string(b[4:]), nil
}

// codeHash is the hash of a code as people type it: case, spaces and hyphens do not count.
func codeHash(code string) [32]byte {
	return sha256.Sum256([]byte(strings.NewReplacer(" ", "", "-", "").Replace(strings.ToUpper(code))))
}

// mostTries is how often a code may be typed on one link.
const mostTries = 10

// OpenTerms reads the offer that a link opens. Opening uses nothing up.
func (s *Service) OpenTerms(ctx context.Context, token string) (TermsLink, error) {
	_, l, err := s.termsLink(ctx, token)
	return l, err
}

func (s *Service) termsLink(ctx context.Context, token string) (practice uuid.UUID, l TermsLink, err error) {
	if len(token) != tokenLength {
		return practice, l, domain.ErrNotFound
	}
	hash := sha256.Sum256([]byte(token))
	practice, link, err := s.store.TermsLinkByToken(ctx, hash, s.instant())
	if domain.KindOf(err) == domain.NotFound {
		err = s.erasedLink(ctx, hash)
	}
	if err != nil {
		return practice, l, err
	}
	l, err = s.store.TermsLink(ctx, practice, link)
	return practice, l, err
}

// AcceptTerms is a client's word, typed on the page of an offer.
type AcceptTerms struct {
	Mutation   uuid.UUID `json:"-"`
	Code       string
	Name       string // as typed by whoever accepts
	EarlyStart bool   // asks expressly to begin before the time to withdraw is over
}

// AcceptTerms takes a client's word for an offer: the code makes it an act and not a
// click. It is the service's change in the record; who accepted stands beside it.
func (s *Service) AcceptTerms(ctx context.Context, token string, in AcceptTerms) (TermsLink, error) {
	p, l, err := s.termsLink(ctx, token)
	if err != nil {
		return TermsLink{}, err
	}
	if err := oneLine("name", strings.TrimSpace(in.Name), 200); err != nil {
		return TermsLink{}, err
	}
	if ok, err := s.store.TryCode(ctx, p, l.ID, mostTries); err != nil || !ok {
		if err == nil {
			err = domain.Forbiddenf("The code was typed wrong too often. Ask the practice for a new offer.")
		}
		return TermsLink{}, err
	}
	if hash := codeHash(in.Code); subtle.ConstantTimeCompare(hash[:], l.CodeSHA256) != 1 {
		return TermsLink{}, domain.Invalidf("code", "This is not the code of the letter.")
	}
	if in.EarlyStart && l.Offer.EarlyWording == "" {
		return TermsLink{}, domain.Invalidf("earlyStart", "This offer has no words for a request to begin early. Write to the practice instead.")
	}
	a := domain.Service(p)
	_, err = s.write(ctx, &a, domain.Book, "acceptTerms", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		now, name := s.instant(), strings.TrimSpace(in.Name)
		e, err := tx.Engagement(ctx, l.Engagement) // held before its links, as whoever takes an offer back does
		if err != nil {
			return Done{}, err
		}
		held, err := tx.TermsLinkToAccept(ctx, l.ID)
		if err != nil {
			return Done{}, err
		}
		if held.AcceptedAt != nil || held.RevokedAt != nil || e.ended() {
			return Done{}, domain.Conflictf("This offer was accepted already, or taken back.")
		}
		if err := tx.AcceptTermsLink(ctx, l.ID, name, in.EarlyStart, now); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingEngagement, l.Engagement), ref(domain.ThingTermsLink, l.ID))
		if held.OfferedBy != nil {
			done = done.tell(telling{What: toldTerms, Engagement: &l.Engagement, Members: []uuid.UUID{*held.OfferedBy}, Only: true})
		}
		return done, tx.AcceptedTerms(ctx, l, name, in.EarlyStart, now)
	})
	if err != nil {
		return TermsLink{}, err
	}
	return s.store.TermsLink(ctx, p, l.ID)
}
