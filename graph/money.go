package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) moneySettings(ctx context.Context) (model.MoneySettings, error) {
	s, err := r.Practice.MoneySettings(ctx, auth.Actor(ctx))
	return moneySettingsModel(s), err
}

func moneySettingsModel(s practice.MoneySettings) model.MoneySettings {
	return model.MoneySettings{
		TaxPermille: s.TaxPermille, MileageMinor: int32(s.MileageMinor), MileageUnit: s.MileageUnit, AbortFeeMinor: int32(s.AbortFeeMinor), PaymentDays: s.PaymentDays,
		NumberPrefix: s.NumberPrefix, Foot: s.Foot, EarlyStartWording: s.EarlyStartWording, EarlyStartJurisdiction: s.EarlyStartJurisdiction, Version: s.Version,
	}
}

func (r *Resolver) jobMoney(ctx context.Context, job uuid.UUID) (model.JobMoney, error) {
	m, err := r.Practice.JobMoney(ctx, auth.Actor(ctx), job)
	if err != nil {
		return model.JobMoney{}, err
	}
	return model.JobMoney{
		Job: wire.New(wire.Job, m.Job), PayerName: m.PayerName, PayerAddress: m.PayerAddress, Currency: m.Currency, Quote: each(m.Quote, quoteLineModel),
		ReleaseOnPayment: m.ReleaseOnPayment, ReleasedBecause: m.ReleasedBecause, ReleasedAt: wire.MaybeAt(m.ReleasedAt), ReleasedBy: m.ReleasedBy, Held: m.Held,
		OwesMinor: int32(m.OwesMinor), EarlyStart: m.EarlyStart, TermsAcceptedAt: wire.MaybeAt(m.TermsAcceptedAt), TermsAcceptedBy: m.TermsAcceptedBy,
		EarlyStarts: each(m.EarlyStarts, func(e practice.EarlyStart) model.EarlyStart {
			return model.EarlyStart{ID: wire.New(wire.EarlyStart, e.ID), AskedOn: wire.Day(e.AskedOn), AskedBy: e.AskedBy, How: e.How, Wording: e.Wording, Jurisdiction: e.Jurisdiction}
		}),
		Invoices: each(m.Invoices, invoiceModel), Settings: moneySettingsModel(m.Settings),
	}, nil
}

func (r *Resolver) invoice(ctx context.Context, id uuid.UUID) (model.Invoice, error) {
	i, err := r.Practice.Invoice(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Invoice{}, err
	}
	return invoiceModel(i), nil
}

func invoiceModel(i practice.Invoice) model.Invoice {
	return model.Invoice{
		ID: wire.New(wire.Invoice, i.ID), Job: wire.New(wire.Job, i.JobID), JobNumber: i.JobNumber, VesselName: i.VesselName, Kind: i.Kind, State: i.State, Number: i.Number,
		PayerName: i.PayerName, PayerAddress: i.PayerAddress, Currency: i.Currency, Dated: wire.MaybeDay(i.Dated), DueOn: wire.MaybeDay(i.DueOn), Note: i.Note,
		Lines: each(i.Lines, func(l practice.InvoiceLine) model.InvoiceLine {
			return model.InvoiceLine{
				Kind: l.Kind, Text: l.Text, Hundredths: int32(l.Hundredths), Unit: l.Unit, PriceMinor: int32(l.PriceMinor), TaxPermille: l.TaxPermille,
				NetMinor: int32(l.NetMinor), TaxMinor: int32(l.TaxMinor),
			}
		}),
		Credits: wire.Maybe(wire.Invoice, i.Credits), CreditsNumber: i.CreditsNumber, NetMinor: int32(i.NetMinor), TaxMinor: int32(i.TaxMinor), PaidMinor: int32(i.PaidMinor),
		PaidOn: wire.MaybeDay(i.PaidOn), CreditedMinor: int32(i.CreditedMinor), OwedMinor: int32(i.OwedMinor), Printed: model.Letterhead(i.Printed), Version: i.Version,
		Payments: each(i.Payments, func(p practice.Payment) model.Payment {
			return model.Payment{ID: wire.New(wire.Payment, p.ID), AmountMinor: int32(p.AmountMinor), PaidOn: wire.Day(p.PaidOn), How: p.How}
		}),
	}
}

func quoteLineModel(l practice.QuoteLine) model.QuoteLine {
	return model.QuoteLine{Text: l.Text, AmountMinor: int32(l.AmountMinor), TaxPermille: l.TaxPermille, TaxMinor: int32(l.Tax())}
}

func invoiceLine(l model.InvoiceLineInput) practice.InvoiceLine {
	return practice.InvoiceLine{Kind: l.Kind, Text: l.Text, Hundredths: int64(l.Hundredths), Unit: l.Unit, PriceMinor: int64(l.PriceMinor), TaxPermille: l.TaxPermille}
}

func booksModel(b practice.Books, show string, first int) *model.InvoiceConnection {
	list, more := cut(b.Invoices, first)
	c, end := &model.InvoiceConnection{
		Edges: make([]model.InvoiceEdge, len(list)), Hidden: b.Hidden,
		Ages: each(b.Ages, func(a practice.Age) model.OwedAge {
			return model.OwedAge{Currency: a.Currency, Age: a.Age, Invoices: a.Invoices, OwedMinor: float64(a.OwedMinor)}
		}),
		Held: each(b.Held, func(h practice.HeldJob) model.HeldJob {
			return model.HeldJob{Job: wire.New(wire.Job, h.ID), Number: h.Number, VesselName: h.VesselName, ClientName: h.ClientName, Currency: h.Currency, OwesMinor: int32(h.OwesMinor), Reports: h.Reports}
		}),
	}, ""
	for k, i := range list {
		end = cursor(i.Cursor(show), i.ID)
		c.Edges[k] = model.InvoiceEdge{Cursor: end, Node: invoiceModel(i)}
	}
	c.PageInfo = pageInfo(more, end)
	return c
}

// wide is a whole number of the contract as amounts are kept.
func wide(x *int32) *int64 {
	if x == nil {
		return nil
	}
	n := int64(*x)
	return &n
}
