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
	"invoices_pkey":           {domain.Conflict, "id", "An invoice with this id is kept already."},
	"invoices_number_once":    {domain.Conflict, "", "An invoice of this number was issued before the numbers began anew. Change what stands before the number in the settings."},
	"invoices_stay_as_issued": {domain.Conflict, "", "An issued invoice is never changed: a credit note takes it back."},
	"invoice_payments_pkey":   {domain.Conflict, "id", "A payment with this id is kept already."},
	"early_starts_pkey":       {domain.Conflict, "id", "A request with this id is kept already."},
})

func moneySettings(row *queries.MoneySettingsRow) practice.MoneySettings {
	return (*practice.MoneySettings)(row).Usual()
}

// MoneySettings implements practice.MoneyReader.
func (s *Store) MoneySettings(ctx context.Context, p uuid.UUID) (practice.MoneySettings, error) {
	var row *queries.MoneySettingsRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.MoneySettings, p) })
	if err != nil {
		return practice.MoneySettings{}, err
	}
	return moneySettings(row), nil
}

// MoneySettings implements practice.MoneyWriter.
func (tx *inPractice) MoneySettings(ctx context.Context) (practice.MoneySettings, error) {
	row, err := tx.q.MoneySettings(ctx, tx.practice)
	if errors.Is(err, pgx.ErrNoRows) {
		return moneySettings(nil), nil
	}
	return practice.MoneySettings(row), fault("read money settings", err)
}

// KeepMoneySettings implements practice.MoneyWriter.
func (tx *inPractice) KeepMoneySettings(ctx context.Context, s practice.MoneySettings) error {
	if s.Version == 0 {
		return fault("keep money settings", changed(tx.q.KeepMoneySettings(ctx, queries.KeepMoneySettingsParams{
			PracticeID: tx.practice, TaxPermille: s.TaxPermille, MileageMinor: s.MileageMinor, MileageUnit: s.MileageUnit, AbortFeeMinor: s.AbortFeeMinor,
			PaymentDays: s.PaymentDays, NumberPrefix: s.NumberPrefix, Foot: s.Foot, EarlyStartWording: s.EarlyStartWording, EarlyStartJurisdiction: s.EarlyStartJurisdiction,
		})))
	}
	return fault("keep money settings", changed(tx.q.UpdateMoneySettings(ctx, queries.UpdateMoneySettingsParams{
		PracticeID: tx.practice, TaxPermille: s.TaxPermille, MileageMinor: s.MileageMinor, MileageUnit: s.MileageUnit, AbortFeeMinor: s.AbortFeeMinor,
		PaymentDays: s.PaymentDays, NumberPrefix: s.NumberPrefix, Foot: s.Foot, EarlyStartWording: s.EarlyStartWording, EarlyStartJurisdiction: s.EarlyStartJurisdiction,
		Version: s.Version,
	})))
}

func jobMoneyFrom(r queries.MoneyOfJobRow) practice.JobMoney {
	m := practice.JobMoney{
		Job: r.ID, Number: r.Number, VesselName: r.VesselName, PayerName: r.PayerName, PayerAddress: r.PayerAddress, Currency: r.Currency, ReleaseOnPayment: r.ReleaseOnPayment,
		ReleasedBecause: r.ReleasedBecause, ReleasedAt: r.ReleasedAt, ReleasedBy: r.ReleasedBy, Held: r.Held, OwesMinor: r.Owes, EarlyStart: r.EarlyStart,
		TermsAcceptedAt: r.TermsAcceptedAt, TermsAcceptedBy: r.TermsAcceptedBy,
	}
	if r.QuoteCurrency != "" {
		m.Currency = r.QuoteCurrency
	}
	for k, text := range r.QuoteTexts {
		m.Quote = append(m.Quote, practice.QuoteLine{Text: text, AmountMinor: r.QuoteAmounts[k], TaxPermille: r.QuoteTaxes[k]})
	}
	return m
}

// JobMoney implements practice.MoneyReader.
func (s *Store) JobMoney(ctx context.Context, p, job uuid.UUID, who practice.Sees) (practice.JobMoney, error) {
	var (
		row      *queries.MoneyOfJobRow
		settings *queries.MoneySettingsRow
		early    []queries.EarlyStartsOfJobRow
		invoices []queries.GetInvoiceRow
		payments []queries.PaymentsOfInvoiceRow
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.MoneyOfJob, p, job, guest, self, member)
		one(b, &settings, queries.MoneySettings, p)
		many(b, &early, queries.EarlyStartsOfJob, p, job)
		many(b, &invoices, queries.InvoicesOfJob, p, job)
		many(b, &payments, queries.PaymentsOfJob, p, job)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.JobMoney{}, err
	}
	m := jobMoneyFrom(*row)
	m.Settings = moneySettings(settings)
	for _, e := range early {
		m.EarlyStarts = append(m.EarlyStarts, practice.EarlyStart{ID: e.ID, JobID: job, AskedOn: e.AskedOn, AskedBy: e.AskedBy, How: e.How, Wording: e.Wording, Jurisdiction: e.Jurisdiction})
	}
	m.Invoices, err = invoicesFrom(invoices, payments)
	return m, err
}

// invoicesFrom puts payments to their invoices.
func invoicesFrom(rows []queries.GetInvoiceRow, payments []queries.PaymentsOfInvoiceRow) ([]practice.Invoice, error) {
	list := make([]practice.Invoice, len(rows))
	for k, r := range rows {
		var err error
		if list[k], err = invoiceFrom(r); err != nil {
			return nil, err
		}
		for _, p := range payments {
			if p.InvoiceID == r.ID {
				list[k].Payments = append(list[k].Payments, practice.Payment(p))
			}
		}
	}
	return list, nil
}

// invoiceFrom is for every query whose columns are those of an invoice.
func invoiceFrom(r queries.GetInvoiceRow) (practice.Invoice, error) {
	i := practice.Invoice{
		ID: r.ID, JobID: r.JobID, JobNumber: r.JobNumber, VesselName: r.VesselName, Kind: r.Kind, State: r.State, Number: r.Number, PayerName: r.PayerName,
		PayerAddress: r.PayerAddress, Currency: r.Currency, Dated: r.Dated, DueOn: r.DueOn, Note: r.Note, Credits: r.CreditsID, CreditsNumber: r.CreditsNumber,
		NetMinor: r.NetMinor, TaxMinor: r.TaxMinor, IssuedAt: r.IssuedAt, PaidMinor: r.PaidMinor, PaidOn: r.PaidOn, CreditedMinor: r.CreditedMinor, OwedMinor: r.OwedMinor,
		Version: r.Version,
	}
	if err := errors.Join(json.Unmarshal(r.Lines, &i.Lines), json.Unmarshal(r.Printed, &i.Printed)); err != nil {
		return i, fmt.Errorf("read invoice %s: %w", r.ID, err)
	}
	return i, nil
}

// Invoice implements practice.MoneyReader.
func (s *Store) Invoice(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Invoice, error) {
	var row *queries.GetInvoiceRow
	var payments []queries.PaymentsOfInvoiceRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetInvoice, p, id, guest, self, member)
		many(b, &payments, queries.PaymentsOfInvoice, p, id)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Invoice{}, err
	}
	list, err := invoicesFrom([]queries.GetInvoiceRow{*row}, payments)
	if err != nil {
		return practice.Invoice{}, err
	}
	return list[0], nil
}

// InvoicesOfShare implements practice.MoneyReader.
func (s *Store) InvoicesOfShare(ctx context.Context, p, share uuid.UUID) ([]practice.Invoice, error) {
	var rows []queries.GetInvoiceRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.InvoicesOfShare, p, share) }); err != nil {
		return nil, err
	}
	return invoicesFrom(rows, nil)
}

// Books implements practice.MoneyReader: a page, the sums and what is held in one trip.
func (s *Store) Books(ctx context.Context, p uuid.UUID, show string, from time.Time, page practice.Page, now time.Time, who practice.Sees) (practice.Books, error) {
	var (
		rows   []queries.GetInvoiceRow
		ages   []queries.OwedByAgeRow
		held   []queries.HeldJobsRow
		hidden []int32
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		if show == "owed" {
			many(b, &rows, queries.OwedInvoices, p, from, page.AfterID, guest, self, member, int32(page.First+1))
		} else {
			many(b, &rows, queries.ListInvoices, p, show, from, page.AfterID, guest, self, member, int32(page.First+1))
		}
		many(b, &ages, queries.OwedByAge, now, p, guest, self, member)
		many(b, &held, queries.HeldJobs, p, guest, self, member)
		column(b, &hidden, queries.HiddenInvoices, p, guest, self, member)
	})
	if err != nil {
		return practice.Books{}, err
	}
	books := practice.Books{Ages: convert(ages, func(r queries.OwedByAgeRow) practice.Age { return practice.Age(r) }), Hidden: hidden[0]}
	for _, h := range held {
		books.Held = append(books.Held, practice.HeldJob{ID: h.ID, Number: h.Number, VesselName: h.VesselName, ClientName: h.ClientName, Currency: h.Currency, OwesMinor: h.Owes, Reports: h.Reports})
	}
	books.Invoices, err = invoicesFrom(rows, nil)
	return books, err
}

// InvoicesBetween implements practice.MoneyReader.
func (s *Store) InvoicesBetween(ctx context.Context, p uuid.UUID, from, to, afterAt time.Time, after uuid.UUID, most int, who practice.Sees) ([]practice.Invoice, error) {
	var rows []queries.GetInvoiceRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.InvoicesToExport, p, from, to, afterAt, after, guest, self, member, int32(most))
	})
	if err != nil {
		return nil, err
	}
	return invoicesFrom(rows, nil)
}

// JobMoney implements practice.MoneyWriter.
func (tx *inPractice) JobMoney(ctx context.Context, job uuid.UUID, who practice.Sees) (practice.JobMoney, error) {
	row, err := found(tx.q.MoneyOfJob(ctx, queries.MoneyOfJobParams{PracticeID: tx.practice, ID: job, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return jobMoneyFrom(row), fault("read money of job", err)
}

// Invoice implements practice.MoneyWriter.
func (tx *inPractice) Invoice(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Invoice, error) {
	if _, err := found(tx.q.HoldInvoice(ctx, queries.HoldInvoiceParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member})); err != nil {
		return practice.Invoice{}, fault("hold invoice", err)
	}
	row, err := found(tx.q.GetInvoice(ctx, queries.GetInvoiceParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	if err != nil {
		return practice.Invoice{}, fault("read invoice", err)
	}
	return invoiceFrom(row)
}

// InsertInvoice implements practice.MoneyWriter.
func (tx *inPractice) InsertInvoice(ctx context.Context, i practice.Invoice, now time.Time) error {
	lines, err := linesOf(i)
	if err != nil {
		return err
	}
	return fault("insert invoice", tx.q.InsertInvoice(ctx, queries.InsertInvoiceParams{
		PracticeID: tx.practice, ID: i.ID, JobID: i.JobID, Kind: i.Kind, PayerName: i.PayerName, PayerAddress: i.PayerAddress, Currency: i.Currency, Note: i.Note,
		Lines: lines, CreditsID: i.Credits, NetMinor: i.NetMinor, TaxMinor: i.TaxMinor, Now: now,
	}))
}

func linesOf(i practice.Invoice) (json.RawMessage, error) {
	if i.Lines == nil {
		i.Lines = []practice.InvoiceLine{}
	}
	raw, err := json.Marshal(i.Lines)
	if err != nil {
		return nil, fmt.Errorf("keep lines of invoice %s: %w", i.ID, err)
	}
	return raw, nil
}

// UpdateInvoice implements practice.MoneyWriter.
func (tx *inPractice) UpdateInvoice(ctx context.Context, i practice.Invoice) error {
	lines, err := linesOf(i)
	if err != nil {
		return err
	}
	return fault("update invoice", changed(tx.q.UpdateInvoice(ctx, queries.UpdateInvoiceParams{
		PracticeID: tx.practice, ID: i.ID, Version: i.Version, PayerName: i.PayerName, PayerAddress: i.PayerAddress, Note: i.Note, Lines: lines, NetMinor: i.NetMinor, TaxMinor: i.TaxMinor,
	})))
}

// DropInvoice implements practice.MoneyWriter.
func (tx *inPractice) DropInvoice(ctx context.Context, id uuid.UUID, version int32) error {
	return fault("drop invoice", changed(tx.q.DropInvoice(ctx, queries.DropInvoiceParams{PracticeID: tx.practice, ID: id, Version: version})))
}

// NextInvoiceNumber implements practice.MoneyWriter.
func (tx *inPractice) NextInvoiceNumber(ctx context.Context, year int) (int32, error) {
	n, err := tx.q.NextInvoiceNumber(ctx, queries.NextInvoiceNumberParams{PracticeID: tx.practice, Year: int32(year)})
	return n, fault("take invoice number", err)
}

// IssueInvoice implements practice.MoneyWriter.
func (tx *inPractice) IssueInvoice(ctx context.Context, i practice.Invoice, by *uuid.UUID) error {
	printed, err := json.Marshal(i.Printed)
	if err != nil {
		return fmt.Errorf("freeze invoice %s: %w", i.ID, err)
	}
	return fault("issue invoice", changed(tx.q.IssueInvoice(ctx, queries.IssueInvoiceParams{
		PracticeID: tx.practice, ID: i.ID, Version: i.Version, Number: i.Number, Dated: *i.Dated, DueOn: *i.DueOn, Printed: printed, Now: *i.IssuedAt, IssuedBy: by,
	})))
}

// InsertPayment implements practice.MoneyWriter.
func (tx *inPractice) InsertPayment(ctx context.Context, p practice.Payment, by *uuid.UUID, now time.Time) error {
	return fault("insert payment", tx.q.InsertPayment(ctx, queries.InsertPaymentParams{
		PracticeID: tx.practice, ID: p.ID, InvoiceID: p.InvoiceID, AmountMinor: p.AmountMinor, PaidOn: p.PaidOn, How: p.How, Now: now, RecordedBy: by,
	}))
}

// JobRelease implements practice.MoneyWriter.
func (tx *inPractice) JobRelease(ctx context.Context, job uuid.UUID) (practice.Release, error) {
	row, err := found(tx.q.JobRelease(ctx, queries.JobReleaseParams{PracticeID: tx.practice, ID: job}))
	return practice.Release{OnPayment: row.ReleaseOnPayment, Because: row.ReleasedBecause, Held: row.Held}, fault("read release of job", err)
}

// OpenLinksOfJob implements practice.MoneyWriter.
func (tx *inPractice) OpenLinksOfJob(ctx context.Context, job uuid.UUID, now time.Time) ([]practice.OpenLink, error) {
	rows, err := tx.q.OpenLinksOfJob(ctx, queries.OpenLinksOfJobParams{PracticeID: tx.practice, JobID: job, Now: now})
	return convert(rows, func(r queries.OpenLinksOfJobRow) practice.OpenLink { return practice.OpenLink(r) }), fault("read open links", err)
}

// ToldOpen implements practice.MoneyWriter.
func (tx *inPractice) ToldOpen(ctx context.Context, links []uuid.UUID, now time.Time) error {
	return fault("note who was told", tx.q.ToldOpen(ctx, queries.ToldOpenParams{PracticeID: tx.practice, Ids: links, Now: &now}))
}

// HoldReports implements practice.MoneyWriter.
func (tx *inPractice) HoldReports(ctx context.Context, job uuid.UUID, hold bool, because string, at *time.Time, by *uuid.UUID) error {
	return fault("hold reports", tx.q.HoldReports(ctx, queries.HoldReportsParams{PracticeID: tx.practice, ID: job, Hold: hold, Because: because, ReleasedAt: at, ReleasedBy: by}))
}

// InsertEarlyStart implements practice.MoneyWriter.
func (tx *inPractice) InsertEarlyStart(ctx context.Context, e practice.EarlyStart, by *uuid.UUID, now time.Time) error {
	return fault("insert request to begin early", tx.q.InsertEarlyStart(ctx, queries.InsertEarlyStartParams{
		PracticeID: tx.practice, ID: e.ID, JobID: e.JobID, AskedOn: e.AskedOn, AskedBy: e.AskedBy, How: e.How, Wording: e.Wording, Jurisdiction: e.Jurisdiction,
		Now: now, RecordedBy: by,
	}))
}
