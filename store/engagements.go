package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"engagements_pkey": {domain.Conflict, "id", "An engagement with this id is kept already."},
	"terms_name_once":  {domain.Conflict, "name", "There are terms of this name already. A version is never changed: give the new one a name of its own."},
	"terms_pkey":       {domain.Conflict, "id", "Terms with this id are kept already."},
	"terms_links_pkey": {domain.Conflict, "id", "An offer with this id is kept already."},
})

// lastID is above every id, for the first page of a list that begins with the newest.
var lastID = uuid.Max

// Engagement implements practice.EngagementReader.
func (s *Store) Engagement(ctx context.Context, p, id uuid.UUID) (practice.Engagement, error) {
	var row *queries.EngagementsOfRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.EngagementsOf, p, id, (*uuid.UUID)(nil), false, lastID, int32(1))
	}); err != nil {
		return practice.Engagement{}, err
	}
	if row == nil {
		return practice.Engagement{}, domain.ErrNotFound
	}
	return engagementFrom(*row)
}

// Engagements implements practice.EngagementReader.
func (s *Store) Engagements(ctx context.Context, p uuid.UUID, open bool, page practice.Page) ([]practice.Engagement, error) {
	var rows []queries.EngagementsOfRow
	before := page.AfterID
	if before == uuid.Nil {
		before = lastID
	}
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.EngagementsOf, p, (*uuid.UUID)(nil), (*uuid.UUID)(nil), open, before, int32(page.First+1))
	})
	list := make([]practice.Engagement, len(rows))
	for k, r := range rows {
		if list[k], err = engagementFrom(r); err != nil {
			return nil, err
		}
	}
	return list, err
}

func engagementFrom(r queries.EngagementsOfRow) (practice.Engagement, error) {
	e := practice.Engagement{
		ID: r.ID, Client: partyOf(r.ClientID, r.ClientName, r.ClientKind, r.ClientIsYard), Vessel: r.VesselID, VesselName: r.VesselName, BoatAsWritten: r.BoatAsWritten,
		AskedOn: r.AskedOn, AskedBy: r.AskedBy, Contact: r.Contact, ForWhom: r.ForWhom, AskedBecause: r.AskedBecause, Kind: r.Kind, Scope: r.Scope, Stage: r.Stage,
		Currency: r.Currency, ConflictDecision: r.ConflictDecision, ConflictNote: r.ConflictNote, ConflictAt: r.ConflictCheckedAt,
		ConflictBy:   memberOf(r.ConflictCheckedBy, r.DeciderName, r.DeciderRoles, r.DeciderActive),
		TermsVersion: r.TermsVersion, TermsAcceptedAt: r.TermsAcceptedAt, TermsAcceptedBy: r.TermsAcceptedBy, EarlyStart: r.EarlyStartRequested,
		Job: orNull(r.JobID), JobNumber: r.JobNumber, Version: r.Version,
	}
	if r.OfferedAt != nil && r.OfferedUntil != nil {
		e.Offered = &practice.Offered{To: r.OfferedTo, At: *r.OfferedAt, Until: *r.OfferedUntil}
	}
	for k, text := range r.QuoteTexts {
		e.Quote = append(e.Quote, practice.QuoteLine{Text: text, AmountMinor: r.QuoteAmounts[k], TaxPermille: r.QuoteTaxes[k]})
	}
	if err := json.Unmarshal(r.ConflictFound, &e.ConflictFound); err != nil {
		return e, fmt.Errorf("read what was shown of engagement %s: %w", r.ID, err)
	}
	return e, nil
}

// Ties implements practice.EngagementReader.
func (s *Store) Ties(ctx context.Context, p, engagement uuid.UUID, who practice.Sees) ([]practice.Tie, error) {
	var there *uuid.UUID
	var rows []queries.TiesOfRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		b.Queue(`select id from engagements where practice_id = $1 and id = $2`, p, engagement).QueryRow(func(row pgx.Row) error {
			if err := row.Scan(&there); !errors.Is(err, pgx.ErrNoRows) {
				return err
			}
			return nil
		})
		many(b, &rows, queries.TiesOf, p, engagement, guest, self, member, time.Now().UTC())
	})
	if err == nil && there == nil {
		err = domain.ErrNotFound
	}
	return convert(rows, tieFrom), err
}

func tieFrom(r queries.TiesOfRow) practice.Tie {
	return practice.Tie{What: r.What, Party: r.Party, Role: r.Role, Number: r.Number, Kind: r.Kind, On: r.OnAt, Open: r.Open}
}

// TiesNow implements practice.EngagementWriter.
func (tx *inPractice) TiesNow(ctx context.Context, engagement uuid.UUID, who practice.Sees) ([]practice.Tie, error) {
	rows, err := tx.q.TiesOf(ctx, queries.TiesOfParams{PracticeID: tx.practice, EngagementID: engagement, Guest: who.Guest, Self: who.Self, Member: who.Member, Today: time.Now().UTC()})
	return convert(rows, tieFrom), fault("read ties", err)
}

// Engagement implements practice.EngagementWriter.
func (tx *inPractice) Engagement(ctx context.Context, id uuid.UUID) (practice.Engagement, error) {
	if _, err := found(tx.q.HoldEngagement(ctx, queries.HoldEngagementParams{PracticeID: tx.practice, ID: id})); err != nil {
		return practice.Engagement{}, fault("read engagement", err)
	}
	rows, err := tx.q.EngagementsOf(ctx, queries.EngagementsOfParams{PracticeID: tx.practice, ID: &id, BeforeID: lastID, Most: 1})
	if err != nil || len(rows) == 0 {
		return practice.Engagement{}, fault("read engagement", err)
	}
	return engagementFrom(rows[0])
}

// InsertEngagement implements practice.EngagementWriter.
func (tx *inPractice) InsertEngagement(ctx context.Context, e practice.Engagement, now time.Time) error {
	return fault("insert engagement", tx.q.InsertEngagement(ctx, queries.InsertEngagementParams{
		PracticeID: tx.practice, ID: e.ID, ClientID: clientOf(e), VesselID: e.Vessel, BoatAsWritten: e.BoatAsWritten, AskedOn: e.AskedOn, AskedBy: e.AskedBy, Contact: e.Contact,
		ForWhom: e.ForWhom, AskedBecause: e.AskedBecause, Kind: e.Kind, Scope: e.Scope, Stage: e.Stage, Currency: e.Currency, Now: now,
	}))
}

func clientOf(e practice.Engagement) *uuid.UUID {
	if e.Client == nil {
		return nil
	}
	return &e.Client.ID
}

// UpdateEngagement implements practice.EngagementWriter.
func (tx *inPractice) UpdateEngagement(ctx context.Context, e practice.Engagement) error {
	return fault("update engagement", changed(tx.q.UpdateEngagement(ctx, queries.UpdateEngagementParams{
		PracticeID: tx.practice, ID: e.ID, Version: e.Version, ClientID: clientOf(e), VesselID: e.Vessel, BoatAsWritten: e.BoatAsWritten, AskedBy: e.AskedBy, Contact: e.Contact,
		ForWhom: e.ForWhom, AskedBecause: e.AskedBecause, Kind: e.Kind, Scope: e.Scope, Stage: e.Stage, Currency: e.Currency, ConflictDecision: e.ConflictDecision,
	})))
}

// DecideConflict implements practice.EngagementWriter.
func (tx *inPractice) DecideConflict(ctx context.Context, e practice.Engagement, found []byte, by *uuid.UUID, now time.Time) error {
	return fault("decide conflict", changed(tx.q.DecideConflict(ctx, queries.DecideConflictParams{
		PracticeID: tx.practice, ID: e.ID, Version: e.Version, ConflictDecision: e.ConflictDecision, ConflictNote: e.ConflictNote, Found: found, ByID: by, Now: &now, Stage: e.Stage,
	})))
}

// SetQuote implements practice.EngagementWriter. Ids of their time keep the lines in order.
func (tx *inPractice) SetQuote(ctx context.Context, engagement uuid.UUID, currency string, lines []practice.QuoteLine) error {
	b := &pgx.Batch{}
	b.Queue(queries.ForgetQuote, tx.practice, engagement)
	for _, l := range lines {
		id, err := uuid.NewV7()
		if err != nil {
			return fmt.Errorf("keep quote: %w", err)
		}
		b.Queue(queries.InsertQuoteLine, tx.practice, id, engagement, l.Text, l.AmountMinor, l.TaxPermille, currency)
	}
	return fault("keep quote", tx.tx.SendBatch(ctx, b).Close())
}

// PartyThere implements practice.EngagementWriter.
func (tx *inPractice) PartyThere(ctx context.Context, party uuid.UUID) error {
	_, err := found(tx.q.PartyThere(ctx, queries.PartyThereParams{PracticeID: tx.practice, ID: party}))
	return fault("read party", err)
}

// LinkJob implements practice.EngagementWriter.
func (tx *inPractice) LinkJob(ctx context.Context, job, engagement uuid.UUID) error {
	return fault("link job", tx.q.LinkJob(ctx, queries.LinkJobParams{PracticeID: tx.practice, ID: job, EngagementID: &engagement}))
}

// Terms implements practice.TermsReader.
func (s *Store) Terms(ctx context.Context, p uuid.UUID) ([]practice.Terms, error) {
	var rows []queries.ListTermsRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.ListTerms, p) })
	return convert(rows, func(r queries.ListTermsRow) practice.Terms { return practice.Terms(r) }), err
}

// InsertTerms implements practice.TermsWriter.
func (tx *inPractice) InsertTerms(ctx context.Context, t practice.Terms) error {
	return fault("insert terms", tx.q.InsertTerms(ctx, queries.InsertTermsParams{PracticeID: tx.practice, ID: t.ID, Name: t.Name, Body: t.Body, MadeAt: t.MadeAt}))
}

// TermsNamed implements practice.TermsWriter.
func (tx *inPractice) TermsNamed(ctx context.Context, id uuid.UUID) (practice.Terms, error) {
	row, err := found(tx.q.GetTerms(ctx, queries.GetTermsParams{PracticeID: tx.practice, ID: id}))
	return practice.Terms(row), fault("read terms", err)
}

// InsertTermsLink implements practice.TermsWriter.
func (tx *inPractice) InsertTermsLink(ctx context.Context, l practice.TermsLink, offer []byte, token, code [32]byte, by *uuid.UUID, now time.Time) error {
	return fault("insert offer", tx.q.InsertTermsLink(ctx, queries.InsertTermsLinkParams{
		PracticeID: tx.practice, ID: l.ID, EngagementID: l.Engagement, TermsID: l.TermsID, Name: l.Name, Email: l.Email, Offered: offer,
		TokenSha256: token[:], CodeSha256: code[:], Now: now, ByID: by, Until: l.Until,
	}))
}

// RevokeTermsLinks implements practice.TermsWriter.
func (tx *inPractice) RevokeTermsLinks(ctx context.Context, engagement uuid.UUID, now time.Time) error {
	return fault("end offers", tx.q.RevokeTermsLinks(ctx, queries.RevokeTermsLinksParams{PracticeID: tx.practice, EngagementID: engagement, Now: &now}))
}

// TermsLinkByToken implements practice.TermsReader, through the door: no practice is known yet.
func (s *Store) TermsLinkByToken(ctx context.Context, hash [32]byte, now time.Time) (p, link uuid.UUID, err error) {
	return s.linkByToken(ctx, `select practice_id, link_id from door.terms_link_by_token($1, $2)`, hash, now)
}

// linkByToken finds whose link a token's hash is.
func (s *Store) linkByToken(ctx context.Context, sql string, hash [32]byte, now time.Time) (p, link uuid.UUID, err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return p, link, err
	}
	defer conn.Release()
	err = conn.QueryRow(ctx, sql, hash[:], now).Scan(&p, &link)
	if errors.Is(err, pgx.ErrNoRows) {
		err = domain.ErrNotFound
	}
	return p, link, fault("find link", err)
}

// TermsLink implements practice.TermsReader.
func (s *Store) TermsLink(ctx context.Context, p, link uuid.UUID) (practice.TermsLink, error) {
	var row *queries.GetTermsLinkRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetTermsLink, p, link) })
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.TermsLink{}, err
	}
	l := practice.TermsLink{
		ID: row.ID, Engagement: row.EngagementID, TermsID: row.TermsID, Name: row.Name, Email: row.Email, CodeSHA256: row.CodeSha256, Until: row.Until,
		RevokedAt: row.RevokedAt, AcceptedAt: row.AcceptedAt, AcceptedBy: row.AcceptedBy, EarlyStart: row.EarlyStart,
	}
	if err := json.Unmarshal(row.Offered, &l.Offer); err != nil {
		return l, fmt.Errorf("read offer %s: %w", link, err)
	}
	return l, nil
}

// TryCode implements practice.TermsReader.
func (s *Store) TryCode(ctx context.Context, p, link uuid.UUID, most int) (bool, error) {
	var tries []int32
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { column(b, &tries, queries.TryCode, p, link, int32(most)) })
	return len(tries) == 1, err
}

// TermsLinkToAccept implements practice.TermsWriter.
func (tx *inPractice) TermsLinkToAccept(ctx context.Context, link uuid.UUID) (practice.TermsLink, error) {
	row, err := found(tx.q.TermsLinkToAccept(ctx, queries.TermsLinkToAcceptParams{PracticeID: tx.practice, ID: link}))
	return practice.TermsLink{ID: row.ID, RevokedAt: row.RevokedAt, AcceptedAt: row.AcceptedAt, OfferedBy: row.CreatedBy}, fault("read offer", err)
}

// AcceptTermsLink implements practice.TermsWriter.
func (tx *inPractice) AcceptTermsLink(ctx context.Context, link uuid.UUID, name string, early bool, now time.Time) error {
	return fault("accept offer", tx.q.AcceptTermsLink(ctx, queries.AcceptTermsLinkParams{PracticeID: tx.practice, ID: link, Name: name, EarlyStart: early, Now: &now}))
}

// AcceptedTerms implements practice.TermsWriter.
func (tx *inPractice) AcceptedTerms(ctx context.Context, l practice.TermsLink, name string, early bool, now time.Time) error {
	return fault("note accepted terms", tx.q.AcceptedTerms(ctx, queries.AcceptedTermsParams{
		PracticeID: tx.practice, ID: l.Engagement, TermsID: &l.TermsID, TermsName: l.Offer.TermsName, Now: &now, Name: name, EarlyStart: early,
	}))
}
