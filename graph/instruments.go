package graph

import (
	"context"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// instrument reads one with what the selection asks for; checks is where it would ask for block checks.
func (r *Resolver) instrument(ctx context.Context, id uuid.UUID, checks string) (model.Instrument, error) {
	i, err := r.Practice.Instrument(ctx, auth.Actor(ctx), id, graphql.FieldRequested(ctx, checks))
	return instrumentModel(i), err
}

var _ = reads(wire.Instrument, func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Instrument, error) {
	return r.instrument(ctx, id, "blockChecks")
})

func instrumentModel(i practice.Instrument) model.Instrument {
	m := model.Instrument{
		ID: wire.New(wire.Instrument, i.ID), Name: i.Name, Model: i.Model, Serial: i.Serial, Kind: model.InstrumentKind(i.Kind),
		Sensing: i.Sensing, ZeroReset: i.ZeroReset, BatteryNote: i.BatteryNote,
		BoughtOn: wire.MaybeDay(i.BoughtOn), RetiredOn: wire.MaybeDay(i.RetiredOn), Version: i.Version,
	}
	for _, s := range i.Scales {
		m.Scales = append(m.Scales, scaleModel(s))
	}
	for _, c := range i.BlockChecks {
		m.BlockChecks = append(m.BlockChecks, model.InstrumentBlockCheck{
			Block: c.Block, Moment: c.Moment, ValueTenths: c.ValueTenths, At: wire.At(c.At), Scale: wire.New(wire.Scale, c.Scale),
		})
	}
	return m
}

func scaleModel(s practice.Scale) model.Scale {
	return model.Scale{
		ID: wire.New(wire.Scale, s.ID), Name: s.Name, Mode: s.Mode, LowTenths: s.LowTenths, HighTenths: s.HighTenths,
		StepTenths: s.StepTenths, TimberPercent: s.TimberPercent,
	}
}
