package practice

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Holder is a client as one request brings him or her: by the link to a report, or
// signed in to an account, where each report has a key of its own.
type Holder struct {
	Actor  domain.Actor
	Link   string // secret of a link; comes first where there is one
	Code   string // typed from the letter: by a link, only this makes an act of a click, and opens what asks for it
	Report string // key of one of the account's reports
}

// ClientAnswer is what a client says to a recommendation. It stands beside the states that
// the practice sets and changes none of them: a claim is not a look.
type ClientAnswer struct {
	Recommendation uuid.UUID
	Answer         string // agreed, declined, claimed done
	Reason         string
	At             time.Time
	Came           Came
}

// Came is the photo or the invoice that came with an answer.
type Came struct {
	State string // waiting, ready or refused; empty where nothing came
	Type  string // of its bytes
	Key   string // of what may be looked at, once it is ready
	Name  string // as the sender called the file
	File  string // address that holds for some minutes
}

// Invoice tells a document from a photo.
func (c Came) Invoice() bool { return c.Type == invoiceType }

// ClientMessage is what a client wrote to the practice about a report.
type ClientMessage struct {
	Text string
	At   time.Time
}

// ClientPermit is leave that a client gave to share a report with somebody named.
type ClientPermit struct {
	ID          uuid.UUID
	Name        string
	Email       string
	Purpose     string
	GivenAt     time.Time
	WithdrawnAt *time.Time
}

// ClientGrant says that everything shared with an address is open to an account.
type ClientGrant struct {
	Practice     uuid.UUID
	PracticeName string
	Email        string
}

// Desk is where what a client says goes: the job, and the address of whoever leads it.
type Desk struct {
	ReportID     uuid.UUID
	Name         string // of the client
	Email        string
	JobID        uuid.UUID
	VesselID     uuid.UUID
	Number       string
	VesselName   string
	PracticeName string
	Invented     bool
	Desk         string // address of the member responsible, or else the practice's
	OfClient     bool   // the link is that of the client whose report it is
}

// ClientReader reads what clients are shown and said.
type ClientReader interface {
	// ClientGrants lists what is open to an account, in all practices.
	ClientGrants(ctx context.Context, account uuid.UUID) ([]ClientGrant, error)
	SharesOfAddress(ctx context.Context, practice uuid.UUID, email string, now time.Time) ([]uuid.UUID, error)
	// SharedReports reads what several links open; one that opens nothing now is left out.
	SharedReports(ctx context.Context, practice uuid.UUID, shares []uuid.UUID, now time.Time) ([]Shared, error)
	ShareDesk(ctx context.Context, practice, share uuid.UUID) (Desk, error)
	// TryShareCode counts a try before it is made and gives the code's hash; NotFound where
	// there is no code, it is too old, or there were too many tries.
	TryShareCode(ctx context.Context, practice, share uuid.UUID, most int, now time.Time) (code uuid.UUID, hash []byte, err error)
	RightShareCode(ctx context.Context, practice, code uuid.UUID) error
	ClientPhotoToMake(ctx context.Context, practice, upload uuid.UUID) (Making, error)
	// ClientPhotoShare tells which link a photo was granted to that no answer has yet.
	ClientPhotoShare(ctx context.Context, practice, upload uuid.UUID) (share uuid.UUID, err error)
	// PrintedCopies finds where the copies are kept that a report prints.
	PrintedCopies(ctx context.Context, practice uuid.UUID, photos []uuid.UUID) (map[uuid.UUID]string, error)
	ClientWord(ctx context.Context, practice, vessel uuid.UUID, who Sees) (ClientWord, error)
}

// ClientWriter writes what clients say.
type ClientWriter interface {
	ShareDesk(ctx context.Context, share uuid.UUID) (Desk, error)
	CodesSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error)
	InsertShareCode(ctx context.Context, id, share uuid.UUID, hash [32]byte, now, until time.Time) error
	ClientActsSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error)
	InsertClientAnswer(ctx context.Context, id, share uuid.UUID, a ClientAnswer, upload *uuid.UUID) error
	InsertClientMessage(ctx context.Context, id, share uuid.UUID, m ClientMessage) error
	InsertClientPermit(ctx context.Context, share uuid.UUID, p ClientPermit) error
	// ClientPermits tells whether the client of a report gave leave to share it with an address.
	ClientPermits(ctx context.Context, report uuid.UUID, email string) (bool, error)
	WithdrawClientPermit(ctx context.Context, id uuid.UUID, now time.Time) error
	// RevokeSharesWith ends the links to a report that an address holds.
	RevokeSharesWith(ctx context.Context, report uuid.UUID, email string, now time.Time) ([]uuid.UUID, error)
	InsertClientPhoto(ctx context.Context, upload, share uuid.UUID) error
	ClientPhotosSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error)
	// SentClientPhoto says that an answer came with it; false where another answer has it.
	SentClientPhoto(ctx context.Context, upload uuid.UUID) (bool, error)
	MadeClientPhoto(ctx context.Context, m Made) error
	InsertClientGrant(ctx context.Context, id, account uuid.UUID, email string, now time.Time) error
}

// held is one link that an outsider reached.
type held struct {
	practice, share uuid.UUID
	key             string
}

// reach finds the link that an outsider speaks of. An account reaches exactly the links
// that are open and name an address which its owner has proved.
func (s *Service) reach(ctx context.Context, who Holder, do domain.Action) (held, error) {
	if who.Link != "" {
		return s.reachByLink(ctx, who.Link)
	}
	all, err := s.reachAll(ctx, who.Actor, do)
	if err != nil {
		return held{}, err
	}
	for _, h := range all {
		if subtle.ConstantTimeCompare([]byte(h.key), []byte(who.Report)) == 1 {
			return h, nil
		}
	}
	return held{}, domain.ErrNotFound
}

func (s *Service) reachByLink(ctx context.Context, token string) (h held, err error) {
	if len(token) != tokenLength {
		return h, domain.ErrNotFound
	}
	hash := sha256.Sum256([]byte(token))
	h.practice, h.share, err = s.store.ShareByToken(ctx, hash, s.instant())
	if domain.KindOf(err) == domain.NotFound {
		err = s.erasedLink(ctx, hash)
	}
	return h, err
}

func (s *Service) reachAll(ctx context.Context, a domain.Actor, do domain.Action) (all []held, err error) {
	if err := domain.May(a, do); err != nil {
		return nil, err
	}
	grants, err := s.store.ClientGrants(ctx, a.Account)
	if err != nil {
		return nil, err
	}
	for _, g := range grants {
		shares, err := s.store.SharesOfAddress(ctx, g.Practice, g.Email, s.instant())
		if err != nil {
			return nil, err
		}
		for _, share := range shares {
			all = append(all, held{practice: g.Practice, share: share, key: reportKey(a.Account, share)})
		}
	}
	return all, nil
}

// reportKey is what an account calls one of its reports: no id leaves the practice, and
// to another account the same report has another key.
func reportKey(account, share uuid.UUID) string {
	sum := sha256.Sum256(append(append([]byte("a client's report|"), account[:]...), share[:]...))
	return base64.RawURLEncoding.EncodeToString(sum[:16])
}

// OpenShared reads a report that is open to an outsider and notes that it was opened;
// with nothing in `what` nothing is noted.
func (s *Service) OpenShared(ctx context.Context, who Holder, what string) (Shared, report.Report, error) {
	h, err := s.reach(ctx, who, domain.ReadShared)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	shared, content, err := s.openTo(ctx, who, h)
	if err != nil || what == "" {
		return shared, content, err
	}
	return shared, content, s.store.InsertOpening(ctx, h.practice, uuid.Must(uuid.NewV7()), h.share, what, s.instant())
}

// openTo reads what is open to a reader; a link that asks for the code of a letter opens
// with it alone.
func (s *Service) openTo(ctx context.Context, who Holder, h held) (Shared, report.Report, error) {
	shared, content, err := s.open(ctx, h)
	if err == nil && who.Link != "" && shared.AsksCode {
		err = s.prove(ctx, h, who.Code)
	}
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	return shared, content, nil
}

func (s *Service) open(ctx context.Context, h held) (Shared, report.Report, error) {
	shared, err := s.store.Shared(ctx, h.practice, h.share, s.instant())
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	shared.Key = h.key
	if err := s.addressAnswers(ctx, shared.Answers); err != nil {
		return Shared{}, report.Report{}, err
	}
	content, err := report.Decode(shared.Content)
	return shared, content, err
}

// addressAnswers gives what came with answers addresses that hold for some minutes. An invoice
// is handed out as a file of its name and opens in no page of ours.
func (s *Service) addressAnswers(ctx context.Context, answers []ClientAnswer) error {
	for k := range answers {
		if err := s.addressCame(ctx, &answers[k].Came); err != nil {
			return err
		}
	}
	return nil
}

func (s *Service) addressCame(ctx context.Context, c *Came) (err error) {
	if c.Key == "" || s.objects == nil {
		return nil
	}
	name, kind := "", "image/jpeg"
	if c.Invoice() {
		name, kind = orElse(c.Name, "invoice.pdf"), invoiceType
	}
	c.File, err = s.objects.PresignGet(ctx, c.Key, name, kind, addressLasts)
	return err
}

// ClientReport is a report of an account, with what it says.
type ClientReport struct {
	Shared
	Content report.Report
}

// ClientHome is what an account of reports opens.
type ClientHome struct {
	Grants  []ClientGrant
	Reports []ClientReport // the latest issued first
}

// ClientHome reads every report that is open to the client who signed in.
func (s *Service) ClientHome(ctx context.Context, who Holder) (ClientHome, error) {
	all, err := s.reachAll(ctx, who.Actor, domain.ReadShared)
	if err != nil {
		return ClientHome{}, err
	}
	home := ClientHome{}
	if home.Grants, err = s.store.ClientGrants(ctx, who.Actor.Account); err != nil {
		return ClientHome{}, err
	}
	keys, of := map[uuid.UUID]string{}, map[uuid.UUID][]uuid.UUID{}
	var practices []uuid.UUID
	for _, h := range all {
		if of[h.practice] == nil {
			practices = append(practices, h.practice)
		}
		of[h.practice] = append(of[h.practice], h.share)
		keys[h.share] = h.key
	}
	for _, p := range practices {
		list, err := s.store.SharedReports(ctx, p, of[p], s.instant())
		if err != nil {
			return ClientHome{}, err
		}
		for _, shared := range onePerReport(list) {
			content, err := report.Decode(shared.Content)
			if err != nil {
				return ClientHome{}, err
			}
			shared.Key = keys[shared.ID]
			if err := s.addressAnswers(ctx, shared.Answers); err != nil {
				return ClientHome{}, err
			}
			home.Reports = append(home.Reports, ClientReport{shared, content})
		}
	}
	return home, nil
}

// onePerReport keeps of several links to one report that which holds longest; the latest
// issued comes first.
func onePerReport(list []Shared) (out []Shared) {
	at := map[uuid.UUID]int{}
	for _, shared := range list {
		if k, there := at[shared.ReportID]; !there {
			at[shared.ReportID] = len(out)
			out = append(out, shared)
		} else if shared.Until.After(out[k].Until) {
			out[k] = shared
		}
	}
	return out
}

// ClientWord is what clients said about a vessel, as the practice reads it.
type ClientWord struct {
	Answers  []ToldAnswer
	Messages []ToldMessage
	Permits  []ToldPermit
}

// Teller says who told it, of which report and job.
type Teller struct {
	ID     uuid.UUID
	ByName string
	Number string // of the report
	JobID  uuid.UUID
}

// ToldAnswer is a client's answer with what came with it.
type ToldAnswer struct {
	Teller
	ClientAnswer
	RefusedBecause string
	ThumbKey       string
	Thumb          string // address that holds for some minutes
}

// ToldMessage is a client's message.
type ToldMessage struct {
	Teller
	ClientMessage
}

// ToldPermit is a client's leave to share.
type ToldPermit struct {
	Teller
	ClientPermit
}

// ClientWord reads what clients answered, wrote and allowed about a vessel.
func (s *Service) ClientWord(ctx context.Context, a domain.Actor, vessel uuid.UUID) (ClientWord, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return ClientWord{}, err
	}
	word, err := s.store.ClientWord(ctx, a.Practice, vessel, sees(a))
	if err != nil || s.objects == nil {
		return word, err
	}
	for k := range word.Answers {
		t := &word.Answers[k]
		if err := s.addressCame(ctx, &t.Came); err != nil {
			return ClientWord{}, err
		}
		if t.ThumbKey == "" {
			continue
		}
		if t.Thumb, err = s.objects.PresignGet(ctx, t.ThumbKey, "", "image/jpeg", addressLasts); err != nil {
			return ClientWord{}, err
		}
	}
	return word, nil
}
