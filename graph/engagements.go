package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) engagement(ctx context.Context, id uuid.UUID) (model.Engagement, error) {
	e, err := r.Practice.Engagement(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Engagement{}, err
	}
	return engagementModel(e), nil
}

func engagementModel(e practice.Engagement) model.Engagement {
	m := model.Engagement{
		ID: wire.New(wire.Engagement, e.ID), Client: maybeParty(e.Client), Vessel: wire.Maybe(wire.Vessel, e.Vessel), VesselName: e.VesselName, BoatAsWritten: e.BoatAsWritten,
		AskedOn: wire.Day(e.AskedOn), AskedBy: e.AskedBy, Contact: e.Contact, ForWhom: e.ForWhom, AskedBecause: e.AskedBecause, Kind: e.Kind, Scope: e.Scope, Stage: e.Stage,
		Currency: e.Currency, ConflictDecision: e.ConflictDecision,
		ConflictNote: e.ConflictNote, ConflictBy: maybeMember(e.ConflictBy), ConflictAt: wire.MaybeAt(e.ConflictAt), ConflictFound: interestModels(e.ConflictFound),
		TermsVersion: e.TermsVersion, TermsAcceptedAt: wire.MaybeAt(e.TermsAcceptedAt), TermsAcceptedBy: e.TermsAcceptedBy, EarlyStart: e.EarlyStart,
		Job: wire.Maybe(wire.Job, e.Job), JobNumber: e.JobNumber, Missing: obstacles(e.Missing), Version: e.Version,
	}
	if !e.QuoteWithheld {
		net, tax := practice.Sums(e.Quote)
		m.Quote, m.NetMinor, m.TaxMinor = each(e.Quote, quoteLineModel), new(int32(net)), new(int32(tax))
	}
	if o := e.Offered; o != nil {
		m.Offered = &model.Offered{To: o.To, At: wire.At(o.At), Until: wire.At(o.Until)}
	}
	return m
}

func obstacles(list []practice.Obstacle) []model.Obstacle {
	out := make([]model.Obstacle, len(list))
	for k, o := range list {
		out[k] = model.Obstacle(o)
	}
	return out
}

func interestModels(list []practice.Interest) []model.Interest {
	out := make([]model.Interest, len(list))
	for k, i := range list {
		out[k] = model.Interest{Code: i.Code, Text: i.Text, Party: i.Party, Job: i.Job}
	}
	return out
}

func (r *Resolver) termsList(ctx context.Context) ([]model.Terms, error) {
	list, err := r.Practice.Terms(ctx, auth.Actor(ctx))
	if err != nil {
		return nil, err
	}
	out := make([]model.Terms, len(list))
	for k, t := range list {
		out[k] = model.Terms{ID: wire.New(wire.Terms, t.ID), Name: t.Name, Body: t.Body, MadeAt: wire.At(t.MadeAt)}
	}
	return out, nil
}

// offerModel is an offer as whoever holds its link may read it.
func offerModel(l practice.TermsLink) model.TermsOffer {
	o := l.Offer
	net, tax := practice.Sums(o.Lines)
	m := model.TermsOffer{
		PracticeName: o.PracticeName, Invented: o.Invented, ForName: l.Name, Boat: o.Boat, Kind: o.Kind, Scope: o.Scope, Currency: o.Currency,
		Lines: make([]model.OfferLine, len(o.Lines)), NetMinor: int32(net), TaxMinor: int32(tax), TermsName: o.TermsName, TermsBody: o.TermsBody, EarlyWording: o.EarlyWording,
		OpenUntil: wire.At(l.Until), AcceptedAt: wire.MaybeAt(l.AcceptedAt), AcceptedBy: l.AcceptedBy, EarlyStart: l.EarlyStart,
	}
	for k, line := range o.Lines {
		m.Lines[k] = model.OfferLine{Text: line.Text, AmountMinor: int32(line.AmountMinor), TaxPermille: line.TaxPermille, TaxMinor: int32(line.Tax())}
	}
	return m
}
