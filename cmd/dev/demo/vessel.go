package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// afloat is a boat as the acts write her.
type afloat struct {
	*loader
	*book
	boat
	house  string // the practice that knows her
	id     uuid.UUID
	hull   uuid.UUID
	plan   uuid.UUID
	spots  []spot
	places map[string]uuid.UUID // by name
}

// launch tells everything that happens to a boat.
func (l *loader) launch(b *book, of boat, house string) error {
	a := &afloat{loader: l, book: b, boat: of, house: house, spots: of.spots(), places: map[string]uuid.UUID{}}
	a.id, a.hull, a.plan = a.of("vessel"), a.of("hull"), a.of("plan")
	for _, s := range a.spots {
		a.places[s.name] = a.of("place", s.name)
	}
	a.begin()
	for _, s := range of.spells {
		a.spell(s)
	}
	for k := range of.jobs {
		of.jobs[k].begin()
		a.job(&of.jobs[k])
	}
	a.again()
	return a.readings()
}

// of makes the id of something of hers, at the moment the practice came to know her.
func (a *afloat) of(names ...string) uuid.UUID {
	return id(a.since, append([]string{a.key}, names...)...)
}

func (a *afloat) mut(names ...string) uuid.UUID {
	return mutation(a.since, append([]string{a.key}, names...)...)
}

// desk is who writes down what is not a surveyor's to write.
func (a *afloat) desk() domain.Actor {
	if a.house == "marram" {
		return a.as("marram office")
	}
	return a.as("office")
}

// begin makes the vessel with everything that does not change with the years.
func (a *afloat) begin() {
	a.at(a.since, a.vessel.Name, func(ctx context.Context) error {
		v := a.vessel
		v.ID = a.id
		if v.UnderbodyAreaM2 == nil {
			v.UnderbodyAreaM2 = new(areaBelow(a.spec))
		}
		if err := done(a.AddVessel(ctx, a.desk(), practice.AddVessel{Mutation: a.mut("vessel"), Vessel: v, FormerNames: a.former})); err != nil {
			return err
		}
		if err := a.elements(ctx); err != nil {
			return err
		}
		for k, l := range a.layers {
			if err := a.layer(ctx, k, l); err != nil {
				return fmt.Errorf("%s: %w", l.what, err)
			}
		}
		for k, e := range a.events {
			if err := a.event(ctx, k, e); err != nil {
				return fmt.Errorf("%s: %w", e.what, err)
			}
		}
		for k, r := range a.roles {
			if err := a.role(ctx, fmt.Sprint(k), r, nil); err != nil {
				return err
			}
		}
		return a.plans(ctx)
	})
}

func (a *afloat) elements(ctx context.Context) error {
	figure, err := json.Marshal(a.spec)
	if err != nil {
		return err
	}
	hull := practice.Element{ID: a.hull, VesselID: a.id, Kind: "hull", Name: "hull", Figure: figure, BootTopMm: &a.bootTop}
	if err := done(a.AddElement(ctx, a.desk(), practice.AddElement{Mutation: a.mut("hull"), Element: hull})); err != nil {
		return err
	}
	for _, p := range a.parts {
		e := practice.Element{ID: a.of("part", p.name), VesselID: a.id, Kind: p.kind, Name: p.name}
		if err := done(a.AddElement(ctx, a.desk(), practice.AddElement{Mutation: a.mut("part", p.name), Element: e})); err != nil {
			return err
		}
	}
	if a.mark == "" {
		return nil
	}
	return done(a.AddDatum(ctx, a.desk(), practice.AddDatum{Mutation: a.mut("datum"), Datum: practice.Datum{
		ID: a.of("datum"), ElementID: a.hull, DatumVersion: 1, Mark: a.mark, OffsetMm: &a.offset, ValidFrom: a.dayOf(a.since),
	}}))
}

func (a *afloat) layer(ctx context.Context, k int, l layer) error {
	outline, err := json.Marshal(l.outline)
	if err != nil {
		return err
	}
	if l.outline == nil {
		outline = []byte(`[]`)
	}
	of := practice.Layer{ID: a.of("layer", fmt.Sprint(k)), ElementID: a.hull, Kind: l.kind, What: l.what, Outline: outline, HowKnown: l.how, ValidFrom: l.from, ValidTo: l.ends}
	if l.side != "" {
		of.Side = &l.side
	}
	if l.drawn != "" {
		of.Detail = json.RawMessage(fmt.Sprintf(`{"kind":%q}`, l.drawn))
	}
	return done(a.AddLayer(ctx, a.desk(), practice.AddLayer{Mutation: a.mut("layer", fmt.Sprint(k)), Layer: of}))
}

func (a *afloat) event(ctx context.Context, k int, e event) error {
	return done(a.AddEvent(ctx, a.desk(), practice.AddEvent{Mutation: a.mut("event", fmt.Sprint(k)), Vessel: a.id, Event: practice.Event{
		ID: a.of("event", fmt.Sprint(k)), Kind: e.kind, What: e.what, FromOn: *e.from, ToOn: *e.to, AsWritten: e.written, Source: e.source,
	}}))
}

// plans adds her places and the plan: ordinals in the order of reading.
func (a *afloat) plans(ctx context.Context) error {
	if len(a.spots) == 0 {
		return nil
	}
	in := practice.AddPlaces{Mutation: a.mut("places"), Element: a.hull}
	plan := practice.AddPlan{Mutation: a.mut("plan"), ID: a.plan, Vessel: a.id, Note: fmt.Sprintf("Every %.2g m, the dry row first.", a.grid.every)}
	for k, s := range a.spots {
		in.IDs, in.Labels, in.Sides = append(in.IDs, a.places[s.name]), append(in.Labels, s.label), append(in.Sides, s.side)
		in.Along, in.Down = append(in.Along, s.along), append(in.Down, s.down)
		in.Stations, in.Rows = append(in.Stations, int32(s.station)), append(in.Rows, int32(s.row))
		plan.Places = append(plan.Places, int32(k+1))
		if s.dry {
			plan.Dry = append(plan.Dry, int32(k+1))
		}
	}
	if err := done(a.AddPlaces(ctx, a.desk(), in)); err != nil {
		return err
	}
	return done(a.AddPlan(ctx, a.desk(), plan))
}

// bookedAhead is how long before a lift the yard is asked.
const bookedAhead = 65

// spell tells a time ashore: booked, lifted, launched. What is only known from papers is
// told at once.
func (a *afloat) spell(s spell) {
	is := a.of("spell", s.key)
	in := practice.AddSpell{
		Mutation: a.mut("spell", s.key), ID: is, Vessel: a.id, TimeZone: a.zoneOf(a.house), Yard: a.party(s.yard), AskedOnly: s.asked, Held: s.held, UnderCover: new(s.cover),
		DatePrecision: either(s.precision, "instant"), AsWritten: s.written, Source: s.source, Notes: s.note,
	}
	told := later(a.since, earliest(s.plannedLift, s.lift).AddDate(0, 0, -bookedAhead))
	if s.asked {
		told = later(a.since, a.on(-9, "10:30"))
	}
	if s.precision != "" || !s.lift.IsZero() && s.lift.Before(told) {
		in.ActualLift, in.ActualLaunch = some(s.lift), some(s.launch)
		in.WashedAt = s.wash()
		a.at(told, "time ashore "+s.key, func(ctx context.Context) error { return done(a.AddSpell(ctx, a.desk(), in)) })
		return
	}
	in.PlannedLift, in.PlannedLaunch = some(s.plannedLift), some(s.plannedLaunch)
	if in.PlannedLift == nil {
		in.PlannedLift = new(s.lift.Truncate(time.Hour))
	}
	if in.PlannedLaunch == nil && !s.launch.IsZero() {
		in.PlannedLaunch = new(s.launch.Truncate(time.Hour))
	}
	a.at(told, "time ashore "+s.key, func(ctx context.Context) error {
		if err := done(a.AddSpell(ctx, a.desk(), in)); err != nil || s.slot == (slot{}) {
			return err
		}
		return done(a.DescribeSlot(ctx, a.desk(), s.slot.of(a, s.key, is, *in.PlannedLift)))
	})
	if s.lift.IsZero() {
		return
	}
	a.at(s.lift, "lift "+s.key, func(ctx context.Context) error {
		return done(a.EditSpell(ctx, a.desk(), practice.EditSpell{Mutation: a.mut("lift", s.key), ID: is, Version: 1, ActualLift: &s.lift, WashedAt: s.wash()}))
	})
	if s.launch.IsZero() {
		return
	}
	a.at(s.launch, "launch "+s.key, func(ctx context.Context) error {
		return done(a.EditSpell(ctx, a.desk(), practice.EditSpell{Mutation: a.mut("launch", s.key), ID: is, Version: 2, ActualLaunch: &s.launch}))
	})
}

// of puts a slot's times beside the lift that is planned.
func (s slot) of(a *afloat, key string, spell uuid.UUID, lift time.Time) practice.DescribeSlot {
	in := practice.DescribeSlot{Mutation: a.mut("slot", key), Spell: spell, Pays: s.pays, Told: s.told}
	if s.wash > 0 {
		in.WashAt = new(lift.Add(s.wash))
	}
	if s.chock > 0 {
		in.ChockAt = new(lift.Add(s.chock))
	}
	if s.shift > 0 {
		in.ShiftAt = new(lift.AddDate(0, 0, s.shift).Add(2 * time.Hour))
	}
	return in
}

func (s spell) wash() *time.Time {
	if s.washed == 0 {
		return nil
	}
	return new(s.lift.Add(time.Duration(s.washed) * time.Hour))
}

func earliest(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}
