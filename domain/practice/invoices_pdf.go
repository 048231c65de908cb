package practice

import (
	"context"
	"fmt"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report/render"
)

// InvoicePDF sets an issued invoice on paper, A4 or Letter. All it prints was frozen when
// it was issued, so it comes out the same, byte for byte, whenever it is asked for.
func (s *Service) InvoicePDF(ctx context.Context, a domain.Actor, id uuid.UUID, paper string) (pdf []byte, number string, err error) {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return nil, "", err
	}
	i, err := s.store.Invoice(ctx, a.Practice, id, sees(a))
	if err != nil {
		return nil, "", err
	}
	if i.State != "issued" {
		return nil, "", domain.ErrNotFound
	}
	pdf, err = i.pdf(paper)
	return pdf, i.Number, err
}

// SharedInvoices are the issued invoices of a job whose report is open, or held, for the
// client who holds the link: nobody else is told of them. They can be read while the
// report waits to be paid for.
func (s *Service) SharedInvoices(ctx context.Context, who Holder) ([]Invoice, error) {
	h, err := s.reach(ctx, who, domain.ReadShared)
	if err != nil {
		return nil, err
	}
	return s.store.InvoicesOfShare(ctx, h.practice, h.share)
}

// SharedInvoicePDF sets one of them on paper.
func (s *Service) SharedInvoicePDF(ctx context.Context, who Holder, number, paper string) ([]byte, error) {
	list, err := s.SharedInvoices(ctx, who)
	if err != nil {
		return nil, err
	}
	for _, i := range list {
		if i.Number == number {
			return i.pdf(paper)
		}
	}
	return nil, domain.ErrNotFound
}

// pdf needs an issued invoice.
func (i Invoice) pdf(paper string) ([]byte, error) {
	sheet := render.Invoice{
		Kind: i.Kind, Number: i.Number, Dated: *i.Dated, DueOn: i.DueOn, Credits: i.CreditsNumber, Practice: i.Printed.PracticeName, Address: i.Printed.Address,
		Reach: strings.TrimSpace(i.Printed.Phone + "\n" + i.Printed.Email), Payer: i.PayerName, PayerAt: i.PayerAddress, Boat: i.Printed.Boat, Job: i.Printed.JobNumber,
		Currency: i.Currency, Digits: MinorDigits(i.Currency), Note: i.Note, Foot: i.Printed.Foot, Invented: i.Printed.Invented, At: *i.IssuedAt,
	}
	for _, l := range i.Lines {
		sheet.Lines = append(sheet.Lines, render.InvoiceLine{
			Text: l.Text, Quantity: strings.TrimSpace(quantity(l.Hundredths) + " " + l.Unit), PriceMinor: l.PriceMinor, TaxPermille: l.TaxPermille, NetMinor: l.NetMinor, TaxMinor: l.TaxMinor,
		})
	}
	pdf, err := render.InvoicePDF(sheet, render.Options{Paper: paperOf(paper)})
	if err != nil {
		return nil, fmt.Errorf("set invoice %s: %w", i.Number, err)
	}
	return pdf, nil
}

// quantity writes hundredths without naughts that say nothing.
func quantity(hundredths int64) string {
	text := Decimal(hundredths, 2)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
