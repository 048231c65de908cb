package demo

import (
	"context"
	"maps"
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain"

	"boottop.example/practice/domain/practice"
)

// founding writes what the practices set out with: their particulars, instruments and
// the people they deal with.
func (l *loader) founding(b *book) {
	for _, h := range houses {
		b.at(l.founded(), h.name+": particulars", func(ctx context.Context) error {
			return done(l.EditPractice(ctx, l.head(h.key), practice.EditPractice{
				Mutation: mutation(l.now, "particulars", h.key), Version: 1, Address: &h.address, Email: &h.email, Phone: &h.phone, Units: &h.units, ReviewRequired: &h.review,
			}))
		})
	}
	for _, key := range slices.Sorted(maps.Keys(meters)) {
		l.meter(b, meters[key])
	}
	l.measuring(b)
	for _, f := range others {
		l.acquaint(b, f)
	}
	for _, p := range members {
		if p.gone > 0 {
			at := l.on(-p.gone, "17:00")
			b.at(at, p.name+" leaves", func(ctx context.Context) error {
				return done(l.EditMember(ctx, l.head(p.house), practice.EditMember{Mutation: mutation(at, "leaves", p.key), ID: l.as(p.key).Member, Version: 2, Left: new(true)}))
			})
		}
	}
}

// head is a practice's principal.
func (l *loader) head(house string) domain.Actor {
	for _, p := range members {
		if p.house == house {
			return l.as(p.key)
		}
	}
	panic("demo: no practice is called " + house)
}

func (l *loader) meter(b *book, m meter) {
	at := l.ago(m.bought, -200, "10:00")
	if at.Before(l.founded()) {
		at = l.founded()
	}
	b.at(at, m.name, func(ctx context.Context) error {
		err := done(l.AddInstrument(ctx, l.head(m.practice), practice.AddInstrument{
			Mutation: mutation(at, "instrument", m.key),
			Instrument: practice.Instrument{
				ID: meterID(l, m.key), Name: m.name, Model: m.model, Serial: m.serial, Kind: m.kind, Sensing: m.sensing,
				ZeroReset: m.reset, BatteryNote: m.battery, BoughtOn: l.dayOf(at),
			},
		}))
		if err != nil {
			return err
		}
		return done(l.AddScale(ctx, l.head(m.practice), practice.AddScale{
			Mutation: mutation(at, "scale", m.key),
			Scale: practice.Scale{
				ID: scaleID(l, m.key), Instrument: meterID(l, m.key), Name: m.scale, Mode: m.mode, LowTenths: m.low, HighTenths: m.high, StepTenths: m.step, TimberPercent: m.timber,
			},
		}))
	})
}

func meterID(l *loader, key string) uuid.UUID { return id(l.founded(), "instrument", key) }

func scaleID(l *loader, key string) uuid.UUID { return id(l.founded(), "scale", key) }

// development makes the development key of the first practice's principal. Its text is answered
// once; a second load has none to give.
func (l *loader) development(ctx context.Context) (string, error) {
	l.now = l.on(0, "08:00")
	head := l.head("ebbstone")
	_, text, err := l.CreateAPIKey(ctx, head, practice.CreateAPIKey{
		Mutation: mutation(l.now, "api key"), ID: id(l.now, "api key"), Member: head.Member, Name: "development",
	})
	return text, err
}
