package demo

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// pace is how long a place takes.
const pace = 40 * time.Second

// round is a pass of a visit with its sheet.
type round struct {
	j     *job
	v     *visit
	p     *pass
	sheet simulate.Sheet
	is    uuid.UUID
	by    domain.Actor
}

// readings makes what all her passes read and tells it.
func (a *afloat) readings() error {
	var rounds []*round
	var passes []*pass
	for k := range a.jobs {
		j := &a.jobs[k]
		for n := range j.visits {
			v := &j.visits[n]
			for m := range v.passes {
				p := &v.passes[m]
				rounds, passes = append(rounds, &round{j: j, v: v, p: p, is: a.of("pass", p.key)}), append(passes, p)
			}
		}
	}
	a.knock(passes)
	sheets, err := a.read(a.spots, passes)
	if err != nil {
		return err
	}
	for k, r := range rounds {
		r.sheet, r.by = sheets[k], a.as(either(r.p.hand, r.v.lead))
		a.pass(r)
	}
	return nil
}

// told is when a pass is entered: on the day, or long after where it is quoted.
func (r *round) told(after time.Duration) time.Time {
	if r.p.quoted {
		return r.j.opened.Add(time.Hour + after)
	}
	return r.p.began.Add(after)
}

// pass tells one going-over.
func (a *afloat) pass(r *round) {
	a.at(r.told(0), "pass "+r.p.key, func(ctx context.Context) error { return a.openPass(ctx, r) })
	a.block(r, simulate.Before, "before", -8*time.Minute)
	read, last := r.kept(a.spots), time.Duration(0)
	for k, batch := range slices.Collect(slices.Chunk(read, 180)) {
		last = pace * time.Duration(180*k+len(batch))
		a.at(r.told(last), "readings of "+r.p.key, func(ctx context.Context) error { return a.batch(ctx, r, k, batch) })
	}
	if r.p.until == 0 {
		a.block(r, simulate.Midway, "midway", last/2)
		a.block(r, simulate.After, "after", last+3*time.Minute)
	}
	a.marks(r, last)
	if r.p.until > 0 {
		return
	}
	a.at(r.told(last+30*time.Minute), "close "+r.p.key, func(ctx context.Context) error {
		return done(a.ClosePass(ctx, r.by, practice.ClosePass{Mutation: a.mut("close", r.p.key), ID: r.is, Version: 1, At: r.p.began.Add(last + 30*time.Minute).UTC()}))
	})
}

func (a *afloat) openPass(ctx context.Context, r *round) error {
	p := r.p
	in := practice.OpenPass{
		Mutation: a.mut("pass", p.key), ID: r.is, Visit: a.visitID(r.j, r.v), Element: a.hull, Plan: a.plan, InstrumentAsWritten: p.instWords, HandAsWritten: p.handWords,
		Face: "outside", Surface: p.surface, DrySurface: p.dry, HoursSinceWash: counted(p.wash), HoursSinceHeatOff: counted(p.heatOff), Rain: a.rain(p), Battery: p.battery,
		Source: either(p.source, "metered"), Quoted: p.quoted, BeganAt: p.began.UTC(), Note: p.note,
	}
	if !p.quoted {
		in.Hand, in.Instrument, in.Scale = &r.by.Member, new(meterID(a.loader, p.instrument)), new(scaleID(a.loader, p.instrument))
		in.Heated, in.SaltWiped = new(p.heatOff > 0), new(true)
		if meters[p.instrument].reset {
			in.ZeroReset = new(true)
		}
	}
	return done(a.OpenPass(ctx, r.by, in))
}

// rain is what was written of it, or what the simulated sky did when the pass began.
func (a *afloat) rain(p *pass) string {
	if p.rain == "none" && !p.quoted && a.weather(p.began).Rain {
		return "light"
	}
	return p.rain
}

func (a *afloat) block(r *round, when simulate.When, moment string, after time.Duration) {
	for _, b := range r.sheet.Blocks {
		if b.When != when || r.p.quoted {
			continue
		}
		for block, value := range map[string]simulate.Placement{"low": b.Low, "high": b.High} {
			at := r.told(after)
			a.at(later(at, r.told(time.Second)), moment+" block", func(ctx context.Context) error {
				return done(a.RecordBlockCheck(ctx, r.by, practice.RecordBlockCheck{Mutation: a.mut("block", r.p.key, moment, block), Check: practice.BlockCheck{
					ID: a.of("block", r.p.key, moment, block), PassID: r.is, Block: block, Moment: moment, ValueTenths: value.Tenths, At: at.UTC(),
				}}))
			})
		}
	}
}

// kept is what of the sheet was written down: not what could not be reached, nor what an
// old paper left out, nor what of an open pass is still to be read.
func (r *round) kept(spots []spot) []simulate.Reading {
	var out []simulate.Reading
	for _, x := range r.sheet.Read {
		s := spots[x.Place]
		_, gap := r.p.unread[s.name]
		switch {
		case gap:
		case r.p.only != nil && !slices.Contains(r.p.only, s.row):
		case r.p.quoted && x.Occasion > 1:
		case r.p.until > 0 && (x.Occasion > 1 || !s.dry && s.station > r.p.until):
		default:
			out = append(out, x)
		}
	}
	return out
}

func (a *afloat) batch(ctx context.Context, r *round, k int, read []simulate.Reading) error {
	in := practice.AddReadings{Mutation: a.mut("readings", r.p.key, fmt.Sprint(k)), Pass: r.is}
	ended := false
	for n, x := range read {
		at := r.p.began.Add(pace * time.Duration(180*k+n))
		in.IDs = append(in.IDs, a.readingID(r, at, x))
		in.Ordinals, in.Occasions, in.TakenAt = append(in.Ordinals, int32(x.Place+1)), append(in.Occasions, int32(x.Occasion)), append(in.TakenAt, at.UTC())
		placements, written := asTaken(x, r.p)
		ended = ended || written != ""
		in.Placements, in.Written = append(in.Placements, placements), append(in.Written, written)
	}
	if !ended {
		in.Written = nil
	}
	return done(a.AddReadings(ctx, r.by, in))
}

func (a *afloat) readingID(r *round, at time.Time, x simulate.Reading) uuid.UUID {
	return id(at, a.key, "reading", r.p.key, fmt.Sprint(x.Place), fmt.Sprint(x.Occasion))
}

// asTaken gives the placements, or the sign of the end of the scale that was met.
func asTaken(x simulate.Reading, p *pass) (placements []int16, written string) {
	if v, ok := x.Median(); ok && v.Limit == measure.Above {
		return nil, ">"
	} else if ok && v.Limit == measure.Below {
		return nil, "<"
	}
	for _, t := range x.Placements {
		tenths := int16(t.Tenths)
		if p.quoted { // old papers keep whole units
			tenths = (tenths + 5) / 10 * 10
		}
		placements = append(placements, tenths)
	}
	return placements, ""
}
