package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Invoice asks for money, or, as a credit note, takes back what was asked for. All amounts
// are whole minor units of its currency; a credit note's are below zero. Once issued
// nothing of it changes.
type Invoice struct {
	ID            uuid.UUID
	JobID         uuid.UUID
	JobNumber     string
	VesselName    string
	Kind          string // invoice, deposit, abort fee or credit note
	State         string // draft, issued or dropped
	Number        string
	PayerName     string
	PayerAddress  string
	Currency      string
	Dated         *time.Time
	DueOn         *time.Time
	Note          string
	Lines         []InvoiceLine
	Credits       *uuid.UUID
	CreditsNumber string
	NetMinor      int64
	TaxMinor      int64
	IssuedAt      *time.Time
	Printed       Letterhead
	PaidMinor     int64
	PaidOn        *time.Time // the last payment
	CreditedMinor int64      // 0 or below
	OwedMinor     int64      // below zero: to be paid back
	Payments      []Payment
	Version       int32
}

// InvoiceLine is a line of an invoice, frozen with it.
type InvoiceLine struct {
	Kind        string `json:"kind"` // work, mileage, expense, deposit taken off, abort fee
	Text        string `json:"text"`
	Hundredths  int64  `json:"hundredths"` // of the unit
	Unit        string `json:"unit"`
	PriceMinor  int64  `json:"priceMinor"` // of one unit, before tax; below zero takes off
	TaxPermille int32  `json:"taxPermille"`
	NetMinor    int64  `json:"netMinor"`
	TaxMinor    int64  `json:"taxMinor"`
}

// Letterhead is what an issued invoice's page says beside the lines, as it was that day.
type Letterhead struct {
	PracticeName string `json:"practiceName"`
	Address      string `json:"address"`
	Email        string `json:"email"`
	Phone        string `json:"phone"`
	Foot         string `json:"foot"`
	Boat         string `json:"boat"`
	JobNumber    string `json:"jobNumber"`
	Invented     bool   `json:"invented"`
}

// Payment is money that came, or, below zero, went back.
type Payment struct {
	ID          uuid.UUID
	InvoiceID   uuid.UUID
	AmountMinor int64
	PaidOn      time.Time
	How         string
}

var (
	invoiceKinds = []string{"invoice", "deposit", "abort fee"}
	lineKinds    = []string{"work", "mileage", "expense", "deposit taken off", "abort fee"}
)

// portion gives a part of an amount, halves rounded away from zero, so that what is taken
// back is exactly what was asked for.
func portion(amount, part, of int64) int64 {
	if amount < 0 {
		return -portion(-amount, part, of)
	}
	return (amount*part + of/2) / of
}

// sum works a line's amounts out.
func (l *InvoiceLine) sum() {
	l.NetMinor = portion(l.PriceMinor, l.Hundredths, 100)
	l.TaxMinor = portion(l.NetMinor, int64(l.TaxPermille), 1000)
}

// sum works all lines and their sums out.
func (i *Invoice) sum() {
	i.NetMinor, i.TaxMinor = 0, 0
	for k := range i.Lines {
		i.Lines[k].sum()
		i.NetMinor += i.Lines[k].NetMinor
		i.TaxMinor += i.Lines[k].TaxMinor
	}
}

// TotalMinor is what an invoice comes to, tax included.
func (i Invoice) TotalMinor() int64 { return i.NetMinor + i.TaxMinor }

// mostHundredths is the most of a unit that a line may speak of: ten thousand.
const mostHundredths = 10_000_00

func checkLines(lines []InvoiceLine) error {
	if len(lines) > 50 {
		return domain.Invalidf("lines", "An invoice has at most 50 lines.")
	}
	for k, l := range lines {
		at := func(field string) string { return fmt.Sprintf("lines[%d].%s", k, field) }
		switch {
		case !slices.Contains(lineKinds, l.Kind):
			return domain.Invalidf(at("kind"), "A line is for one of: %s.", strings.Join(lineKinds, ", "))
		case strings.TrimSpace(l.Text) == "" || len(l.Text) > 300:
			return domain.Invalidf(at("text"), "Say in at most 300 letters what the line is for.")
		case l.Hundredths < 1 || l.Hundredths > mostHundredths:
			return domain.Invalidf(at("hundredths"), "A quantity lies between a hundredth and ten thousand.")
		case len(l.Unit) > 20:
			return domain.Invalidf(at("unit"), "A unit has at most 20 letters.")
		case l.PriceMinor > mostMinor || l.PriceMinor < -mostMinor:
			return domain.Invalidf(at("priceMinor"), "A price is at most %d, in whole minor units.", int64(mostMinor))
		case l.PriceMinor < 0 && l.Kind != "deposit taken off":
			return domain.Invalidf(at("priceMinor"), "Only a deposit is taken off. What was issued too high is taken back by a credit note.")
		case l.TaxPermille < 0 || l.TaxPermille > 1000:
			return domain.Invalidf(at("taxPermille"), "Tax lies between 0 and 1000 parts in a thousand.")
		}
	}
	return nil
}

// check refuses an invoice that cannot be kept.
func (i Invoice) check() error {
	switch {
	case len(i.PayerName) > 200 || len(i.PayerAddress) > 1000:
		return domain.Invalidf("payerName", "A payer's name has at most 200 letters, the address 1,000.")
	case len(i.Note) > 2000:
		return domain.Invalidf("note", "At most 2,000 letters fit here.")
	}
	if err := checkLines(i.Lines); err != nil {
		return err
	}
	if total := i.TotalMinor(); total > mostMinor || total < -mostMinor {
		return domain.Invalidf("lines", "An invoice comes to at most %d minor units.", int64(mostMinor))
	}
	return nil
}

// Invoice reads one invoice with its payments.
func (s *Service) Invoice(ctx context.Context, a domain.Actor, id uuid.UUID) (Invoice, error) {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return Invoice{}, err
	}
	return s.store.Invoice(ctx, a.Practice, id, sees(a))
}

// DraftInvoice is a new invoice of a job.
type DraftInvoice struct {
	Mutation     uuid.UUID `json:"-"`
	ID           uuid.UUID
	Job          uuid.UUID
	Kind         string
	PayerName    string // empty: the job's client, with the address
	PayerAddress string
	Note         string
	Lines        []InvoiceLine
}

// DraftInvoice begins an invoice, a deposit or an abort fee. A draft has no number and is
// owed by nobody.
func (s *Service) DraftInvoice(ctx context.Context, a domain.Actor, in DraftInvoice) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "draftInvoice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if !slices.Contains(invoiceKinds, in.Kind) {
			return Done{}, domain.Invalidf("kind", "It is an invoice, a deposit or an abort fee; a credit note takes back an invoice that was issued.")
		}
		j, err := tx.JobMoney(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		i := Invoice{
			ID: in.ID, JobID: j.Job, Kind: in.Kind, State: "draft", Currency: j.Currency, PayerName: strings.TrimSpace(in.PayerName), PayerAddress: in.PayerAddress,
			Note: in.Note, Lines: slices.Clone(in.Lines),
		}
		if i.PayerName == "" {
			i.PayerName, i.PayerAddress = j.PayerName, j.PayerAddress
		}
		i.sum()
		if err := i.check(); err != nil {
			return Done{}, err
		}
		return invoiceDone(i), tx.InsertInvoice(ctx, i, s.instant())
	})
}

func invoiceDone(i Invoice) Done {
	return touched(ref(domain.ThingInvoice, i.ID), ref(domain.ThingJob, i.JobID))
}

// EditInvoice is a change to a draft; nil leaves a field as it is.
type EditInvoice struct {
	Mutation     uuid.UUID `json:"-"`
	ID           uuid.UUID
	Version      int32
	PayerName    *string
	PayerAddress *string
	Note         *string
	Lines        *[]InvoiceLine
}

// EditInvoice changes a draft.
func (s *Service) EditInvoice(ctx context.Context, a domain.Actor, in EditInvoice) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "editInvoice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		i, err := draftOf(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		i.Version = in.Version
		set(&i.PayerName, in.PayerName)
		set(&i.PayerAddress, in.PayerAddress)
		set(&i.Note, in.Note)
		if in.Lines != nil {
			i.Lines = slices.Clone(*in.Lines)
		}
		i.sum()
		if err := i.check(); err != nil {
			return Done{}, err
		}
		return invoiceDone(i), tx.UpdateInvoice(ctx, i)
	})
}

// draftOf reads an invoice that may still be changed.
func draftOf(ctx context.Context, tx Tx, a domain.Actor, id uuid.UUID) (Invoice, error) {
	i, err := tx.Invoice(ctx, id, sees(a))
	if err == nil && i.State != "draft" {
		err = domain.Conflictf("Invoice %s is issued: it is never changed. A credit note takes it back.", i.Number)
	}
	return i, err
}

// DropInvoice lets a draft go. It never had a number.
type DropInvoice struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
}

// DropInvoice lets a draft go.
func (s *Service) DropInvoice(ctx context.Context, a domain.Actor, in DropInvoice) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "dropInvoice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		i, err := draftOf(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		return invoiceDone(i), tx.DropInvoice(ctx, i.ID, in.Version)
	})
}

// IssueInvoice gives a draft its number.
type IssueInvoice struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	DueOn    *time.Time // nil: as many days from today as the practice gives
}

// IssueInvoice gives a draft the practice's next number and today's date, and freezes it
// with everything that its page says.
func (s *Service) IssueInvoice(ctx context.Context, a domain.Actor, in IssueInvoice) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "issueInvoice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		i, err := draftOf(ctx, tx, a, in.ID)
		if err != nil {
			return Done{}, err
		}
		switch {
		case i.PayerName == "":
			return Done{}, domain.Invalidf("payerName", "Say who pays.")
		case len(i.Lines) == 0:
			return Done{}, domain.Invalidf("lines", "An invoice without a line asks for nothing.")
		case i.TotalMinor() < 0:
			return Done{}, domain.Invalidf("lines", "It comes to less than nothing. What was issued too high is taken back by a credit note.")
		}
		i.Version, i.DueOn = in.Version, in.DueOn
		return invoiceDone(i), s.issue(ctx, tx, a, i)
	})
}

// issue numbers, dates and freezes an invoice. The number is taken last, since from there
// on others wait.
func (s *Service) issue(ctx context.Context, tx Tx, a domain.Actor, i Invoice) error {
	p, err := tx.Practice(ctx)
	if err != nil {
		return err
	}
	settings, err := tx.MoneySettings(ctx)
	if err != nil {
		return err
	}
	now := s.instant()
	today := day(now.In(Zone(p.TimeZone)))
	i.Dated, i.IssuedAt = &today, &now
	if i.DueOn == nil {
		due := today.AddDate(0, 0, int(settings.PaymentDays))
		i.DueOn = &due
	}
	if i.DueOn.Before(today) {
		return domain.Invalidf("dueOn", "It cannot be due before it is issued.")
	}
	i.Printed = Letterhead{
		PracticeName: p.Name, Address: p.Address, Email: p.Email, Phone: p.Phone, Foot: settings.Foot, Boat: i.VesselName, JobNumber: i.JobNumber, Invented: p.Invented,
	}
	n, err := tx.NextInvoiceNumber(ctx, today.Year())
	if err != nil {
		return err
	}
	i.Number = invoiceNumber(settings.NumberPrefix, today.Year(), n)
	return tx.IssueInvoice(ctx, i, entered(a))
}

// CreditInvoice takes an issued invoice back, wholly or in part.
type CreditInvoice struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the credit note
	Invoice  uuid.UUID
	Note     string
	Lines    []InvoiceLine // what is taken back, prices above zero; none: all of it
}

// CreditInvoice issues a credit note, in the same row of numbers as invoices. Together
// credit notes take back no more than was asked for.
func (s *Service) CreditInvoice(ctx context.Context, a domain.Actor, in CreditInvoice) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "creditInvoice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		of, err := tx.Invoice(ctx, in.Invoice, sees(a))
		if err != nil {
			return Done{}, err
		}
		if of.State != "issued" || of.Kind == "credit note" {
			return Done{}, domain.Conflictf("A credit note takes back an invoice that was issued; a draft is dropped.")
		}
		c, err := of.credit(in)
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingInvoice, c.ID), ref(domain.ThingInvoice, of.ID), ref(domain.ThingJob, of.JobID))
		return done, s.opening(ctx, tx, of.JobID, func() error {
			if err := tx.InsertInvoice(ctx, c, s.instant()); err != nil {
				return err
			}
			return s.issue(ctx, tx, a, c)
		})
	})
}

// credit is the note that takes an invoice back.
func (i Invoice) credit(in CreditInvoice) (Invoice, error) {
	c := Invoice{
		ID: in.ID, JobID: i.JobID, JobNumber: i.JobNumber, VesselName: i.VesselName, Kind: "credit note", State: "draft", Currency: i.Currency,
		PayerName: i.PayerName, PayerAddress: i.PayerAddress, Note: strings.TrimSpace(in.Note), Credits: &i.ID, Version: 1,
	}
	lines := in.Lines
	if len(lines) == 0 {
		if i.CreditedMinor != 0 {
			return c, domain.Conflictf("Part of invoice %s was taken back already. Name the lines that are left.", i.Number)
		}
		lines = i.Lines
	} else if err := checkLines(lines); err != nil {
		return c, err
	}
	c.Lines = slices.Clone(lines)
	for k := range c.Lines {
		c.Lines[k].PriceMinor = -c.Lines[k].PriceMinor
	}
	c.sum()
	switch {
	case c.Note == "" || len(c.Note) > 2000:
		return c, domain.Invalidf("note", "Say on the credit note, in up to 2,000 letters, why it takes the invoice back.")
	case c.TotalMinor() > 0:
		return c, domain.Invalidf("lines", "A credit note takes back; its lines are written as they stood on the invoice.")
	case i.TotalMinor()+i.CreditedMinor+c.TotalMinor() < 0:
		return c, domain.Invalidf("lines", "Credit notes take back no more than invoice %s asked for.", i.Number)
	}
	return c, nil
}

// RecordPayment notes money that came for an invoice, or went back.
type RecordPayment struct {
	Mutation uuid.UUID `json:"-"`
	Payment
}

// mayReadMoney are the roles that hear of payments.
var mayReadMoney = domain.Allowed(domain.ReadMoney)

// RecordPayment notes a payment. A slip of the pen is put right by a second one of the
// opposite sign: nothing that was noted is changed.
func (s *Service) RecordPayment(ctx context.Context, a domain.Actor, in RecordPayment) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "recordPayment", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		i, err := tx.Invoice(ctx, in.InvoiceID, sees(a))
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		switch {
		case i.State != "issued" || i.Kind == "credit note":
			return Done{}, domain.Conflictf("Money comes for an invoice that was issued.")
		case in.AmountMinor == 0 || in.AmountMinor > mostMinor || in.AmountMinor < -mostMinor:
			return Done{}, domain.Invalidf("amountMinor", "Give the amount in whole minor units; below zero it was paid back.")
		case in.AmountMinor < 0 && i.PaidMinor+in.AmountMinor < 0:
			return Done{}, domain.Invalidf("amountMinor", "More would go back than ever came.")
		case in.PaidOn.IsZero() || in.PaidOn.After(now.AddDate(0, 0, 1)):
			return Done{}, domain.Invalidf("paidOn", "Say on which day it was paid, today at the latest.")
		case len(in.How) > 200:
			return Done{}, domain.Invalidf("how", "At most 200 letters fit here.")
		}
		done := touched(ref(domain.ThingPayment, in.ID), ref(domain.ThingInvoice, i.ID), ref(domain.ThingJob, i.JobID))
		done = done.tell(telling{What: toldPayment, Job: &i.JobID, About: i.Number, Roles: mayReadMoney})
		return done, s.opening(ctx, tx, i.JobID, func() error { return tx.InsertPayment(ctx, in.Payment, entered(a), now) })
	})
}
