package demo

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// marks tells what was noted beside the readings: not reached, void, to be followed up,
// written wrongly.
func (a *afloat) marks(r *round, last time.Duration) {
	reasons := map[string][]string{}
	for _, name := range slices.Sorted(maps.Keys(r.p.unread)) {
		reasons[r.p.unread[name]] = append(reasons[r.p.unread[name]], name)
	}
	for _, why := range slices.Sorted(maps.Keys(reasons)) {
		a.at(r.told(last+4*time.Minute), "not reached", func(ctx context.Context) error { return a.unread(ctx, r, why, reasons[why]) })
	}
	for _, name := range slices.Sorted(maps.Keys(r.p.void)) {
		a.at(r.told(last+5*time.Minute), "void "+name, func(ctx context.Context) error {
			return done(a.VoidReading(ctx, r.by, practice.VoidReading{Mutation: a.mut("void", r.p.key, name), Reading: a.first(r, name), Reason: r.p.void[name]}))
		})
	}
	if len(r.p.follow) > 0 {
		a.at(r.told(last+6*time.Minute), "follow up", func(ctx context.Context) error {
			in := practice.MarkFollowUp{Mutation: a.mut("follow", r.p.key), Pass: r.is, On: true}
			for _, name := range r.p.follow {
				o, err := a.ordinal(name)
				if err != nil {
					return err
				}
				in.Ordinals = append(in.Ordinals, o)
			}
			return done(a.MarkFollowUp(ctx, r.by, in))
		})
	}
	for _, name := range slices.Sorted(maps.Keys(r.p.corrected)) {
		a.at(r.told(last+8*time.Minute), "correct "+name, func(ctx context.Context) error { return a.correct(ctx, r, name, r.p.corrected[name]) })
	}
	for _, name := range slices.Sorted(maps.Keys(r.p.amended)) {
		a.at(r.p.amendedOn, "correct "+name, func(ctx context.Context) error { return a.correct(ctx, r, name, r.p.amended[name]) })
	}
}

func (a *afloat) unread(ctx context.Context, r *round, why string, names []string) error {
	in := practice.MarkNotReached{Mutation: a.mut("not reached", r.p.key, why), Pass: r.is, Reason: why}
	for _, name := range names {
		o, err := a.ordinal(name)
		if err != nil {
			return err
		}
		in.Ordinals, in.IDs = append(in.Ordinals, o), append(in.IDs, a.of("not reached", r.p.key, name))
	}
	return done(a.MarkNotReached(ctx, r.by, in))
}

// first is the reading of a place's first occasion in a pass.
func (a *afloat) first(r *round, name string) uuid.UUID {
	for n, x := range r.kept(a.spots) {
		if a.spots[x.Place].name == name && x.Occasion == 1 {
			return a.readingID(r, r.p.began.Add(pace*time.Duration(n)), x)
		}
	}
	panic(fmt.Sprintf("demo: %s was not read at %s in %s", a.vessel.Name, name, r.p.key))
}

// correct puts a slip of the pen right: a unit up, as the recording sheet has it.
func (a *afloat) correct(ctx context.Context, r *round, name, why string) error {
	for _, x := range r.sheet.Read {
		if a.spots[x.Place].name != name || x.Occasion != 1 {
			continue
		}
		placements, _ := asTaken(x, r.p)
		for k := range placements {
			placements[k] += 10
		}
		return done(a.SupersedeReading(ctx, r.by, practice.SupersedeReading{
			Mutation: a.mut("correct", r.p.key, name), ID: a.of("corrected", r.p.key, name), Reading: a.first(r, name), How: "correct", Reason: why,
			Placements: placements, TakenAt: r.p.began.Add(time.Hour).UTC(),
		}))
	}
	return fmt.Errorf("%s has no place %s", a.vessel.Name, name)
}

// conditions are the weather of the simulation, written when a visit begins and, where
// places were read, once more in the midst of them.
func (a *afloat) conditions(j *job, v *visit) {
	times := []time.Time{v.at.Add(6 * time.Minute)}
	for _, p := range v.passes {
		if p.until == 0 && !p.quoted {
			times = append(times, p.began.Add(50*time.Minute))
		}
	}
	for k, at := range times {
		w := a.weather(at)
		a.at(at, "conditions", func(ctx context.Context) error {
			c := practice.Condition{
				ID: a.of("condition", j.key, v.key, fmt.Sprint(k)), VisitID: a.visitID(j, v), At: at.UTC(),
				AirDecidegrees: tenth(float64(w.At)), HumidityPermille: tenth(float64(w.Air)), SkinPortDecidegrees: tenth(float64(w.At) - 0.6), SkinStarboardDecidegrees: tenth(float64(w.At) + 0.3),
				Sun: sun(w), Wind: "light, from the quay", RainLast72h: "some, the day before", TankLevel: v.tank, BilgeLevel: either(v.bilge, "a cupful"), Indoors: new(a.sheltered(at) != nil),
			}
			if *c.Indoors {
				c.Sun, c.Wind, c.Heating = "", "", "off since the night before"
			}
			return done(a.RecordCondition(ctx, a.as(v.lead), practice.RecordCondition{Mutation: a.mut("condition", j.key, v.key, fmt.Sprint(k)), Condition: c}))
		})
	}
}

// weather is the air that the simulation has at a time, in the shed or out of it.
func (a *afloat) weather(at time.Time) simulate.Weather {
	if s := a.sheltered(at); s != nil {
		return simulate.Weather{At: s.At, Air: s.Air}
	}
	return simulate.Skerrow().Weather(at, number(a.boat.key))
}

func (a *afloat) sheltered(at time.Time) *simulate.Shelter {
	for _, s := range a.spells {
		if s.shelter != nil && at.After(s.lift) && (s.launch.IsZero() || at.Before(s.launch)) {
			return s.shelter
		}
	}
	return nil
}

func tenth(x float64) *int16 { return new(int16(math.Round(10 * x))) }

func sun(w simulate.Weather) string {
	switch {
	case w.Rain:
		return "none"
	case w.Air > 82:
		return "overcast"
	}
	return "broken cloud, starboard side lit after ten"
}
