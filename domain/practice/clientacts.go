package practice

import (
	"context"
	"crypto/subtle"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/report"
)

const (
	// CodeLasts is how long the code of a letter holds.
	CodeLasts = 24 * time.Hour
	// mostCodes is how many letters with a code one link may ask for in a day.
	mostCodes = 5
	// mostActs is how much one link may say in a day.
	mostActs = 60
)

var errManyActs error = &domain.Fault{Kind: domain.Unavailable, Text: "Much was sent by this link today. Telephone the practice, or go on tomorrow."}

// SendShareCode sends a code to the address that a link names, and tells where it went as
// far as whoever holds the link may know. Only the code's hash is kept.
func (s *Service) SendShareCode(ctx context.Context, who Holder, mutation uuid.UUID) (sentTo string, until time.Time, err error) {
	if who.Link == "" {
		return "", until, domain.ErrUnauthenticated
	}
	h, err := s.reach(ctx, who, domain.AnswerShared)
	if err != nil {
		return "", until, err
	}
	code, err := newCode()
	if err != nil {
		return "", until, err
	}
	now := s.instant()
	until = now.Add(CodeLasts)
	self := domain.Service(h.practice)
	_, err = s.write(ctx, &self, domain.Share, "sendShareCode", mutation, h.share, func(ctx context.Context, tx Tx) (Done, error) {
		desk, err := tx.ShareDesk(ctx, h.share)
		if err != nil {
			return Done{}, err
		}
		if desk.Email == "" {
			return Done{}, domain.Conflictf("This link names no e-mail address. Ask the practice for one that does.")
		}
		sent, err := tx.CodesSince(ctx, h.share, now.Add(-CodeLasts))
		if err != nil {
			return Done{}, err
		}
		if sent >= mostCodes {
			return Done{}, &domain.Fault{Kind: domain.Unavailable, Text: "Several codes were sent today already. Look for the latest letter, or try again tomorrow."}
		}
		sentTo = maskedAddress(desk.Email)
		id := derived("share code", mutation)
		if err := tx.InsertShareCode(ctx, id, h.share, codeHash(code), now, until); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingShareCode, id), ref(domain.ThingShare, h.share)), tx.SendMail(ctx, codeLetter(desk, code), now)
	})
	if err == nil && sentTo == "" { // sent before: the letter is on its way
		var desk Desk
		desk, err = s.store.ShareDesk(ctx, h.practice, h.share)
		sentTo = maskedAddress(desk.Email)
	}
	return sentTo, until, err
}

// maskedAddress shows of an address what its owner knows it by.
func maskedAddress(email string) string {
	name, house, _ := strings.Cut(email, "@")
	if first, _ := utf8.DecodeRuneInString(name); first != utf8.RuneError {
		name = string(first)
	}
	return name + "…@" + house
}

func codeLetter(d Desk, code string) entry.Letter {
	return entry.Letter{
		Kind: "share code", To: d.Email, Subject: fmt.Sprintf("The code to answer report %s, %s", d.Number, d.VesselName),
		Body: fmt.Sprintf("%s,\n\nsomebody, most likely you, wishes to answer report %s of %s. Type this code on its page: %s\n\n"+
			"It holds for a day. If it was not you, do nothing: without the code nothing is answered in your name.\n\n%s\n%s",
			d.Name, d.Number, d.VesselName, code, d.PracticeName, inventedLine(d.Invented)),
	}
}

func inventedLine(invented bool) string {
	if !invented {
		return ""
	}
	return "\nAn invented practice, boat and people: a demonstration.\n"
}

// act reaches a report for something that its reader does. By a link it takes the code of
// the letter, which is tried few times; an account proved its address before.
func (s *Service) act(ctx context.Context, who Holder) (h held, shared Shared, content report.Report, err error) {
	if h, err = s.reach(ctx, who, domain.AnswerShared); err != nil {
		return h, shared, content, err
	}
	if who.Link != "" {
		if err := s.prove(ctx, h, who.Code); err != nil {
			return h, shared, content, err
		}
	}
	shared, content, err = s.open(ctx, h)
	return h, shared, content, err
}

func (s *Service) prove(ctx context.Context, h held, typed string) error {
	if strings.TrimSpace(typed) == "" {
		return domain.Invalidf("code", "Type the code from the letter.")
	}
	code, hash, err := s.store.TryShareCode(ctx, h.practice, h.share, mostTries, s.instant())
	if domain.KindOf(err) == domain.NotFound {
		return domain.Forbiddenf("The code is too old, or was typed wrong too often. Have another one sent.")
	}
	if err != nil {
		return err
	}
	if sum := codeHash(typed); subtle.ConstantTimeCompare(sum[:], hash) != 1 {
		return domain.Invalidf("code", "This is not the code of the latest letter.")
	}
	return s.store.RightShareCode(ctx, h.practice, code)
}

// AnswerTask is a client's answer to a recommendation of a report.
type AnswerTask struct {
	Mutation uuid.UUID `json:"-"`
	Task     int32     // its place in the report, from 1
	Answer   string
	Reason   string
	Photo    *uuid.UUID // an upload granted to the same link: a photo or an invoice
}

func (in AnswerTask) check() error {
	switch {
	case !slices.Contains([]string{"agreed", "declined", "claimed done"}, in.Answer):
		return domain.Invalidf("answer", "Agree, decline, or say that it is done.")
	case in.Answer == "declined" && strings.TrimSpace(in.Reason) == "":
		return domain.Invalidf("reason", "Say why: a reason helps whoever reads the file later, you among them.")
	case utf8.RuneCountInString(in.Reason) > 2000:
		return domain.Invalidf("reason", "Keep it to 2000 letters.")
	case in.Photo != nil && in.Answer != "claimed done":
		return domain.Invalidf("upload", "A photo or an invoice goes with what is done.")
	}
	return nil
}

// AnswerTask keeps what a client says to a recommendation, and writes once to the member
// responsible. The recommendation's own state stays: only a person who saw it sets "seen done".
func (s *Service) AnswerTask(ctx context.Context, who Holder, in AnswerTask) (Shared, report.Report, error) {
	h, _, content, err := s.act(ctx, who)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	if err := in.check(); err != nil {
		return Shared{}, report.Report{}, err
	}
	rec, what, err := taskOf(content, in.Task)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	if err := s.arrived(ctx, h, in.Photo); err != nil {
		return Shared{}, report.Report{}, err
	}
	err = s.say(ctx, h, "answerTask", in.Mutation, in, func(ctx context.Context, tx Tx, d Desk) (Done, string, error) {
		id := derived("client answer", in.Mutation)
		done := touched(ref(domain.ThingClientAnswer, id), ref(domain.ThingRecommendation, rec), ref(domain.ThingReport, d.ReportID), ref(domain.ThingJob, d.JobID))
		came := ""
		if in.Photo != nil {
			u, err := tx.Upload(ctx, *in.Photo)
			if err != nil {
				return Done{}, "", err
			}
			if err := s.takePhoto(ctx, tx, h, *in.Photo); err != nil {
				return Done{}, "", err
			}
			came = u.ContentType
		}
		answer := ClientAnswer{Recommendation: rec, Answer: in.Answer, Reason: strings.TrimSpace(in.Reason), At: s.instant()}
		return done, answerWords(answer, what, came), tx.InsertClientAnswer(ctx, id, h.share, answer, in.Photo)
	})
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	return s.open(ctx, h)
}

// taskOf finds a recommendation by its place in the report as issued.
func taskOf(content report.Report, task int32) (id uuid.UUID, what string, err error) {
	if task < 1 || int(task) > len(content.Recommendations) {
		return id, "", domain.ErrNotFound
	}
	r := content.Recommendations[task-1]
	id, err = uuid.Parse(strings.TrimPrefix(r.ID, string(domain.ThingRecommendation)+"_"))
	if err != nil {
		return id, "", domain.Conflictf("This recommendation can be read and not answered here. Write to the practice.")
	}
	return id, r.What, nil
}

func answerWords(a ClientAnswer, what, came string) string {
	said := map[string]string{"agreed": "agrees to", "declined": "declines", "claimed done": "says that this is done (the client's word; nobody of the practice has seen it)"}[a.Answer]
	words := fmt.Sprintf("%s:\n%s\n", said, what)
	if a.Reason != "" {
		words += "\nIn the client's words: " + a.Reason + "\n"
	}
	switch came {
	case "":
	case invoiceType:
		words += "\nAn invoice came with it. It tells what was charged, not what was done.\n"
	default:
		words += "\nA photo came with it.\n"
	}
	return words
}

// WriteToPractice is a client's message about a report.
type WriteToPractice struct {
	Mutation uuid.UUID `json:"-"`
	Text     string
}

// WriteToPractice keeps a client's message and writes once to the member responsible.
func (s *Service) WriteToPractice(ctx context.Context, who Holder, in WriteToPractice) (Shared, report.Report, error) {
	h, _, _, err := s.act(ctx, who)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	in.Text = strings.TrimSpace(in.Text)
	if n := utf8.RuneCountInString(in.Text); n == 0 || n > 5000 {
		return Shared{}, report.Report{}, domain.Invalidf("text", "A message has 1 to 5000 letters.")
	}
	err = s.say(ctx, h, "writeToPractice", in.Mutation, in, func(ctx context.Context, tx Tx, d Desk) (Done, string, error) {
		id := derived("client message", in.Mutation)
		done := touched(ref(domain.ThingClientMessage, id), ref(domain.ThingReport, d.ReportID), ref(domain.ThingJob, d.JobID))
		return done, "writes:\n\n" + in.Text + "\n", tx.InsertClientMessage(ctx, id, h.share, ClientMessage{in.Text, s.instant()})
	})
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	return s.open(ctx, h)
}

// PermitSharing is leave to share a report with somebody named.
type PermitSharing struct {
	Mutation uuid.UUID `json:"-"`
	Name     string
	Email    string
	Purpose  string
}

// PermitSharing keeps the leave that the client of a report gives to the practice. The
// practice makes the link: whoever else holds a link to the report gives no leave.
func (s *Service) PermitSharing(ctx context.Context, who Holder, in PermitSharing) (Shared, report.Report, error) {
	h, _, _, err := s.act(ctx, who)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	in.Name, in.Email = strings.TrimSpace(in.Name), strings.TrimSpace(in.Email)
	switch {
	case oneLine("name", in.Name, 200) != nil:
		return Shared{}, report.Report{}, domain.Invalidf("name", "Name the person it may be shared with.")
	case !plausibleEmail(in.Email):
		return Shared{}, report.Report{}, domain.Invalidf("email", "Give the person's e-mail address; the practice sends the link there.")
	case utf8.RuneCountInString(in.Purpose) > 500:
		return Shared{}, report.Report{}, domain.Invalidf("purpose", "Keep it to 500 letters.")
	}
	err = s.say(ctx, h, "permitSharing", in.Mutation, in, func(ctx context.Context, tx Tx, d Desk) (Done, string, error) {
		if !d.OfClient {
			return Done{}, "", domain.Forbiddenf("Only the client of a report gives leave to share it.")
		}
		p := ClientPermit{ID: derived("client permit", in.Mutation), Name: in.Name, Email: in.Email, Purpose: strings.TrimSpace(in.Purpose), GivenAt: s.instant()}
		words := fmt.Sprintf("gives leave to share the report with %s, %s", p.Name, p.Email)
		if p.Purpose != "" {
			words += " (" + p.Purpose + ")"
		}
		return touched(ref(domain.ThingClientPermit, p.ID), ref(domain.ThingReport, d.ReportID), ref(domain.ThingJob, d.JobID)), words + ".\n\nNo link was made: that is for you to do.\n", tx.InsertClientPermit(ctx, h.share, p)
	})
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	return s.open(ctx, h)
}

// WithdrawSharing takes leave to share back, by its place in the list, from 1.
type WithdrawSharing struct {
	Mutation uuid.UUID `json:"-"`
	Number   int32
}

// WithdrawSharing takes leave back, and with it every link to the report that the address
// holds. What was read until then was read.
func (s *Service) WithdrawSharing(ctx context.Context, who Holder, in WithdrawSharing) (Shared, report.Report, error) {
	h, shared, _, err := s.act(ctx, who)
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	if in.Number < 1 || int(in.Number) > len(shared.Permits) {
		return Shared{}, report.Report{}, domain.ErrNotFound
	}
	p := shared.Permits[in.Number-1]
	err = s.say(ctx, h, "withdrawSharing", in.Mutation, in, func(ctx context.Context, tx Tx, d Desk) (Done, string, error) {
		if !d.OfClient || strings.EqualFold(p.Email, d.Email) {
			return Done{}, "", domain.Forbiddenf("Only the client of a report takes back leave to share it.")
		}
		if err := tx.WithdrawClientPermit(ctx, p.ID, s.instant()); err != nil {
			return Done{}, "", err
		}
		ended, err := tx.RevokeSharesWith(ctx, d.ReportID, p.Email, s.instant())
		done := touched(ref(domain.ThingClientPermit, p.ID), ref(domain.ThingReport, d.ReportID), ref(domain.ThingJob, d.JobID))
		for _, share := range ended {
			done.Touched = append(done.Touched, ref(domain.ThingShare, share).String())
		}
		return done, fmt.Sprintf("takes back the leave to share the report with %s, %s.\n\nLinks that this address held: %d, all ended.\n", p.Name, p.Email, len(ended)), err
	})
	if err != nil {
		return Shared{}, report.Report{}, err
	}
	return s.open(ctx, h)
}

// say is one act of a client: the service's change in the record, and a letter to the
// member responsible that goes once, however often the act is sent.
func (s *Service) say(ctx context.Context, h held, operation string, mutation uuid.UUID, input any, fn func(context.Context, Tx, Desk) (Done, string, error)) error {
	self := domain.Service(h.practice)
	hashed := struct {
		Share uuid.UUID
		Input any
	}{h.share, input}
	_, err := s.write(ctx, &self, domain.Share, operation, mutation, hashed, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		d, err := tx.ShareDesk(ctx, h.share)
		if err != nil {
			return Done{}, err
		}
		acts, err := tx.ClientActsSince(ctx, h.share, now.Add(-24*time.Hour))
		if err != nil {
			return Done{}, err
		}
		if acts >= mostActs {
			return Done{}, errManyActs
		}
		done, words, err := fn(ctx, tx, d)
		if err != nil || d.Desk == "" {
			return done, err
		}
		return done, tx.SendMail(ctx, deskLetter(d, words), now)
	})
	return err
}

func deskLetter(d Desk, words string) entry.Letter {
	return entry.Letter{
		Kind: "client's word", To: d.Desk, Subject: fmt.Sprintf("%s, report %s: word from the client", d.VesselName, d.Number),
		Body: fmt.Sprintf("%s (%s), about report %s of %s, %s\n%s", d.Name, d.Email, d.Number, d.VesselName, words, inventedLine(d.Invented)),
	}
}

// ProveShare tells whose address the code of a link has proved: the account is for that one.
func (s *Service) ProveShare(ctx context.Context, link, code string) (email string, err error) {
	h, err := s.reachByLink(ctx, link)
	if err != nil {
		return "", err
	}
	if err := s.prove(ctx, h, code); err != nil {
		return "", err
	}
	d, err := s.store.ShareDesk(ctx, h.practice, h.share)
	return d.Email, err
}

// GrantClient opens to an account what is shared with the address of a link. Whoever
// calls it has proved the address (ProveShare) and the account.
func (s *Service) GrantClient(ctx context.Context, link string, account uuid.UUID) error {
	h, err := s.reachByLink(ctx, link)
	if err != nil {
		return err
	}
	self := domain.Service(h.practice)
	id := uuid.Must(uuid.NewV7())
	_, err = s.write(ctx, &self, domain.Share, "grantClient", id, h.share, func(ctx context.Context, tx Tx) (Done, error) {
		d, err := tx.ShareDesk(ctx, h.share)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingClientGrant, id), ref(domain.ThingShare, h.share)), tx.InsertClientGrant(ctx, id, account, strings.ToLower(d.Email), s.instant())
	})
	return err
}
