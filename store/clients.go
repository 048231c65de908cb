package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"client_answers_pkey":         {domain.Conflict, "", "This answer is kept already."},
	"client_answers_answer_known": {domain.Invalid, "answer", "Agree, decline, or say that it is done."},
})

// StartClientSession implements auth.Door.
func (d Door) StartClientSession(ctx context.Context, token entry.Token, account uuid.UUID, now, until time.Time) error {
	return d.do(ctx, "start client session", `select door.client_session_start($1, $2, $3, $4)`, token[:], account, now, until)
}

// ClientSession implements auth.Door.
func (d Door) ClientSession(ctx context.Context, token entry.Token, now time.Time) (uuid.UUID, error) {
	found, err := call[oneID](ctx, d, "find client session", `select account_id from door.client_session($1, $2)`, token[:], now)
	return found.ID, err
}

// EndClientSession implements auth.Door.
func (d Door) EndClientSession(ctx context.Context, token entry.Token, now time.Time) error {
	return d.do(ctx, "end client session", `select door.client_session_end($1, $2)`, token[:], now)
}

// ClientGrants implements auth.Door.
func (d Door) ClientGrants(ctx context.Context, account uuid.UUID) ([]practice.ClientGrant, error) {
	return calls[practice.ClientGrant](ctx, d, "find client grants", `select practice_id, practice_name, email from door.client_grants($1)`, account)
}

// ClientGrants implements practice.ClientReader, through the door: an account is of no practice.
func (s *Store) ClientGrants(ctx context.Context, account uuid.UUID) ([]practice.ClientGrant, error) {
	return s.Door().ClientGrants(ctx, account)
}

// SharesOfAddress implements practice.ClientReader.
func (s *Store) SharesOfAddress(ctx context.Context, p uuid.UUID, email string, now time.Time) (ids []uuid.UUID, err error) {
	err = s.ReadInPractice(ctx, p, func(b *pgx.Batch) { column(b, &ids, queries.SharesOfAddress, p, email, now) })
	return ids, err
}

// opened is what one link opens, as its queries bring it.
type opened struct {
	row      *queries.GetShareRow
	held     *queries.HeldShareRow
	desk     *queries.ShareDeskRow
	addenda  []queries.SharedAddendaRow
	others   []string
	answers  []queries.AnswersOfShareRow
	messages []queries.MessagesOfShareRow
	permits  []queries.PermitsOfShareRow
}

func (o *opened) queue(b *pgx.Batch, p, share uuid.UUID, now time.Time) {
	one(b, &o.row, queries.GetShare, p, share, now)
	one(b, &o.held, queries.HeldShare, p, share, now)
	one(b, &o.desk, queries.ShareDesk, p, share)
	many(b, &o.addenda, queries.SharedAddenda, p, share)
	column(b, &o.others, queries.OtherSharedReports, now, p, share)
	many(b, &o.answers, queries.AnswersOfShare, p, share)
	many(b, &o.messages, queries.MessagesOfShare, p, share)
	many(b, &o.permits, queries.PermitsOfShare, p, share)
}

// Shared implements practice.ShareReader.
func (s *Store) Shared(ctx context.Context, p, share uuid.UUID, now time.Time) (practice.Shared, error) {
	var o opened
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { o.queue(b, p, share, now) })
	if err == nil && o.held != nil {
		err = practice.HeldWords(o.held.Number, o.held.VesselName, o.held.PracticeName, o.held.ToClient)
	}
	if err == nil && (o.row == nil || o.desk == nil) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Shared{}, err
	}
	return o.shared(), nil
}

// SharedReports implements practice.ClientReader: all of them in one trip. What waits for
// its job to be paid for is left out.
func (s *Store) SharedReports(ctx context.Context, p uuid.UUID, shares []uuid.UUID, now time.Time) ([]practice.Shared, error) {
	all := make([]opened, len(shares))
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		for k, share := range shares {
			all[k].queue(b, p, share, now)
		}
	})
	if err != nil {
		return nil, err
	}
	var list []practice.Shared
	for _, o := range all {
		if o.row != nil && o.desk != nil && o.held == nil {
			list = append(list, o.shared())
		}
	}
	return list, nil
}

func (o opened) shared() practice.Shared {
	shared := practice.Shared{
		ID: o.row.ID, ReportID: o.row.ReportID, Name: o.row.Name, Purpose: o.row.Purpose, AsksCode: o.row.AsksCode, Until: o.row.Until, State: o.row.State, Number: o.row.Number, Title: o.row.Title,
		Content: o.row.Content, PracticeName: o.row.PracticeName, Invented: o.row.Invented, ReplacedBy: o.row.ReplacedBy, EndedBecause: o.row.EndedBecause, EndedAt: o.row.EndedAt, IssuedAt: o.row.IssuedAt,
		PageKey: o.row.PageKey, PageBytes: o.row.PageBytes, PageSha256: o.row.PageSha256, PdfKey: o.row.PdfKey, PdfSha256: o.row.PdfSha256, PdfBytes: o.row.PdfBytes, PdfPages: o.row.PdfPages,
		Openings: o.row.Openings, LastOpenedAt: o.row.LastOpenedAt, OtherReports: o.others, VesselID: o.desk.VesselID, OfClient: o.desk.OfClient,
		Answers: convert(o.answers, func(r queries.AnswersOfShareRow) practice.ClientAnswer {
			return practice.ClientAnswer{
				Recommendation: r.RecommendationID, Answer: r.Answer, Reason: r.Reason, At: r.At, Came: practice.Came{State: r.Photo, Type: r.ContentType, Key: r.FileKey, Name: r.FileName},
			}
		}),
		Messages: convert(o.messages, func(r queries.MessagesOfShareRow) practice.ClientMessage { return practice.ClientMessage(r) }),
		Permits:  convert(o.permits, func(r queries.PermitsOfShareRow) practice.ClientPermit { return practice.ClientPermit(r) }),
	}
	for _, a := range o.addenda {
		shared.Addenda = append(shared.Addenda, practice.Addendum{
			Number: a.Number, Text: a.Text, IssuedAt: a.IssuedAt, State: "issued", PdfKey: a.PdfKey, PdfSha256: a.PdfSha256, PdfBytes: a.PdfBytes, PageKey: a.PageKey, PageSha256: a.PageSha256,
		})
	}
	return shared
}

// ShareDesk implements practice.ClientReader.
func (s *Store) ShareDesk(ctx context.Context, p, share uuid.UUID) (practice.Desk, error) {
	row, err := readOne[queries.ShareDeskRow](ctx, s, p, queries.ShareDesk, p, share)
	return practice.Desk(row), err
}

// TryShareCode implements practice.ClientReader.
func (s *Store) TryShareCode(ctx context.Context, p, share uuid.UUID, most int, now time.Time) (code uuid.UUID, hash []byte, err error) {
	err = s.InPractice(ctx, p, func(tx practice.Tx) error {
		row, err := found(tx.(*inPractice).q.TryShareCode(ctx, queries.TryShareCodeParams{PracticeID: p, ShareID: share, Now: now, Most: int32(most)}))
		code, hash = row.ID, row.CodeSha256
		return fault("try code", err)
	})
	return code, hash, err
}

// RightShareCode implements practice.ClientReader.
func (s *Store) RightShareCode(ctx context.Context, p, code uuid.UUID) error {
	return s.ReadInPractice(ctx, p, func(b *pgx.Batch) { b.Queue(queries.RightShareCode, p, code) })
}

// ClientPhotoToMake implements practice.ClientReader.
func (s *Store) ClientPhotoToMake(ctx context.Context, p, upload uuid.UUID) (practice.Making, error) {
	r, err := readOne[queries.ClientPhotoToMakeRow](ctx, s, p, queries.ClientPhotoToMake, p, upload)
	return practice.Making{ID: r.UploadID, State: r.State, Key: r.ObjectKey, ContentType: r.ContentType, SizeBytes: r.SizeBytes, Sha256: r.Sha256}, err
}

// ClientPhotoShare implements practice.ClientReader.
func (s *Store) ClientPhotoShare(ctx context.Context, p, upload uuid.UUID) (uuid.UUID, error) {
	var shares []uuid.UUID
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { column(b, &shares, queries.ClientPhotoShare, p, upload) }); err != nil {
		return uuid.Nil, err
	}
	if len(shares) == 0 {
		return uuid.Nil, domain.ErrNotFound
	}
	return shares[0], nil
}

// PrintedCopies implements practice.ClientReader.
func (s *Store) PrintedCopies(ctx context.Context, p uuid.UUID, photos []uuid.UUID) (map[uuid.UUID]string, error) {
	var rows []queries.PrintedCopiesRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.PrintedCopies, p, photos) })
	keys := make(map[uuid.UUID]string, len(rows))
	for _, r := range rows {
		keys[r.ID] = r.ViewKey
	}
	return keys, err
}

// ClientWord implements practice.ClientReader.
func (s *Store) ClientWord(ctx context.Context, p, vessel uuid.UUID, who practice.Sees) (practice.ClientWord, error) {
	var answers []queries.AnswersOfVesselRow
	var messages []queries.MessagesOfVesselRow
	var permits []queries.PermitsOfVesselRow
	var known []bool
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		column(b, &known, queries.VesselKnown, p, vessel, who.Guest, who.Member)
		many(b, &answers, queries.AnswersOfVessel, p, vessel, guest, self, member)
		many(b, &messages, queries.MessagesOfVessel, p, vessel, guest, self, member)
		many(b, &permits, queries.PermitsOfVessel, p, vessel, guest, self, member)
	})
	if err == nil && (len(known) != 1 || !known[0]) {
		err = domain.ErrNotFound
	}
	return practice.ClientWord{
		Answers: convert(answers, func(r queries.AnswersOfVesselRow) practice.ToldAnswer {
			return practice.ToldAnswer{
				Teller: practice.Teller{ID: r.ID, ByName: r.Name, Number: r.Number, JobID: r.JobID},
				ClientAnswer: practice.ClientAnswer{
					Recommendation: r.RecommendationID, Answer: r.Answer, Reason: r.Reason, At: r.At, Came: practice.Came{State: r.PhotoState, Type: r.ContentType, Key: r.FileKey, Name: r.FileName},
				},
				RefusedBecause: r.RefusedBecause, ThumbKey: r.ThumbKey,
			}
		}),
		Messages: convert(messages, func(r queries.MessagesOfVesselRow) practice.ToldMessage {
			return practice.ToldMessage{Teller: practice.Teller{ID: r.ID, ByName: r.Name, Number: r.Number, JobID: r.JobID}, ClientMessage: practice.ClientMessage{Text: r.Text, At: r.At}}
		}),
		Permits: convert(permits, func(r queries.PermitsOfVesselRow) practice.ToldPermit {
			return practice.ToldPermit{
				Teller:       practice.Teller{ID: r.ID, ByName: r.Name, Number: r.Number, JobID: r.JobID},
				ClientPermit: practice.ClientPermit{ID: r.ID, Name: r.Whom, Email: r.Email, Purpose: r.Purpose, GivenAt: r.GivenAt, WithdrawnAt: r.WithdrawnAt},
			}
		}),
	}, err
}

// ShareDesk implements practice.ClientWriter.
func (tx *inPractice) ShareDesk(ctx context.Context, share uuid.UUID) (practice.Desk, error) {
	row, err := found(tx.q.ShareDesk(ctx, queries.ShareDeskParams{PracticeID: tx.practice, ID: share}))
	return practice.Desk(row), fault("read share", err)
}

// CodesSince implements practice.ClientWriter.
func (tx *inPractice) CodesSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error) {
	n, err := tx.q.CodesSince(ctx, queries.CodesSinceParams{PracticeID: tx.practice, ShareID: share, Since: since})
	return n, fault("count codes", err)
}

// InsertShareCode implements practice.ClientWriter.
func (tx *inPractice) InsertShareCode(ctx context.Context, id, share uuid.UUID, hash [32]byte, now, until time.Time) error {
	return fault("insert code", tx.q.InsertShareCode(ctx, queries.InsertShareCodeParams{PracticeID: tx.practice, ID: id, ShareID: share, CodeSha256: hash[:], Now: now, Until: until}))
}

// ClientActsSince implements practice.ClientWriter.
func (tx *inPractice) ClientActsSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error) {
	n, err := tx.q.ClientActsSince(ctx, queries.ClientActsSinceParams{PracticeID: tx.practice, ShareID: share, Since: since})
	return int64(n), fault("count acts", err)
}

// InsertClientAnswer implements practice.ClientWriter.
func (tx *inPractice) InsertClientAnswer(ctx context.Context, id, share uuid.UUID, a practice.ClientAnswer, upload *uuid.UUID) error {
	return fault("insert answer", tx.q.InsertClientAnswer(ctx, queries.InsertClientAnswerParams{
		PracticeID: tx.practice, ID: id, ShareID: share, RecommendationID: a.Recommendation, Answer: a.Answer, Reason: a.Reason, UploadID: upload, Now: a.At,
	}))
}

// InsertClientMessage implements practice.ClientWriter.
func (tx *inPractice) InsertClientMessage(ctx context.Context, id, share uuid.UUID, m practice.ClientMessage) error {
	return fault("insert message", tx.q.InsertClientMessage(ctx, queries.InsertClientMessageParams{PracticeID: tx.practice, ID: id, ShareID: share, Text: m.Text, Now: m.At}))
}

// InsertClientPermit implements practice.ClientWriter.
func (tx *inPractice) InsertClientPermit(ctx context.Context, share uuid.UUID, p practice.ClientPermit) error {
	return fault("insert leave to share", tx.q.InsertClientPermit(ctx, queries.InsertClientPermitParams{
		PracticeID: tx.practice, ID: p.ID, ShareID: share, Name: p.Name, Email: p.Email, Purpose: p.Purpose, Now: p.GivenAt,
	}))
}

// ClientPermits implements practice.ClientWriter.
func (tx *inPractice) ClientPermits(ctx context.Context, report uuid.UUID, email string) (bool, error) {
	given, err := tx.q.ClientPermits(ctx, queries.ClientPermitsParams{PracticeID: tx.practice, ReportID: report, Email: email})
	return given, fault("read leave to share", err)
}

// WithdrawClientPermit implements practice.ClientWriter.
func (tx *inPractice) WithdrawClientPermit(ctx context.Context, id uuid.UUID, now time.Time) error {
	return fault("withdraw leave to share", tx.q.WithdrawClientPermit(ctx, queries.WithdrawClientPermitParams{PracticeID: tx.practice, ID: id, Now: now}))
}

// RevokeSharesWith implements practice.ClientWriter.
func (tx *inPractice) RevokeSharesWith(ctx context.Context, report uuid.UUID, email string, now time.Time) ([]uuid.UUID, error) {
	ids, err := tx.q.RevokeSharesWith(ctx, queries.RevokeSharesWithParams{PracticeID: tx.practice, ReportID: report, Email: email, Now: now})
	return ids, fault("end links", err)
}

// InsertClientPhoto implements practice.ClientWriter.
func (tx *inPractice) InsertClientPhoto(ctx context.Context, upload, share uuid.UUID) error {
	return fault("insert client's photo", tx.q.InsertClientPhoto(ctx, queries.InsertClientPhotoParams{PracticeID: tx.practice, UploadID: upload, ShareID: share}))
}

// ClientPhotosSince implements practice.ClientWriter.
func (tx *inPractice) ClientPhotosSince(ctx context.Context, share uuid.UUID, since time.Time) (int64, error) {
	n, err := tx.q.OpenClientPhotos(ctx, queries.OpenClientPhotosParams{PracticeID: tx.practice, ShareID: share, Since: since})
	return n, fault("count client's photos", err)
}

// SentClientPhoto implements practice.ClientWriter.
func (tx *inPractice) SentClientPhoto(ctx context.Context, upload uuid.UUID) (bool, error) {
	n, err := tx.q.SentClientPhoto(ctx, queries.SentClientPhotoParams{PracticeID: tx.practice, UploadID: upload})
	return n == 1, fault("send client's photo", err)
}

// MadeClientPhoto implements practice.ClientWriter. Where another run was first there is nothing left to do.
func (tx *inPractice) MadeClientPhoto(ctx context.Context, m practice.Made) error {
	_, err := tx.q.MadeClientPhoto(ctx, queries.MadeClientPhotoParams{
		PracticeID: tx.practice, UploadID: m.ID, State: m.State, RefusedBecause: m.RefusedBecause, ViewKey: m.ViewKey, ThumbKey: m.ThumbKey,
	})
	return fault("mark client's photo made", err)
}

// InsertClientGrant implements practice.ClientWriter.
func (tx *inPractice) InsertClientGrant(ctx context.Context, id, account uuid.UUID, email string, now time.Time) error {
	return fault("grant client", tx.q.InsertClientGrant(ctx, queries.InsertClientGrantParams{PracticeID: tx.practice, ID: id, AccountID: account, Email: email, Now: now}))
}
