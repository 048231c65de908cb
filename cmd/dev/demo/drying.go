package demo

import (
	"context"
	"fmt"
	"time"

	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// dryingLog is what a job that watches a hull dry keeps beside its passes.
type dryingLog struct {
	course   practice.DryingCourse
	said     time.Time // when the course was said
	logged   time.Time // when the air's log was read in
	from     time.Time // of the air's log, every six hours
	washes   []washed
	heatOff  []rebound
	sheets   []sheetOn
	signed   []signedGate
	by       string
	with     string // the instrument of the rebounds
	rebounds []string
}

// washed is a wash and what rebounded after it, scale units at each of the rebounds' places.
type washed struct {
	at        time.Time
	how       string
	extent    string
	ph        int16 // tenths
	off, from int32 // tenths of a µS/cm: water that came off, supply
	rose      float64
}

// rebound is what rose once the heat was off.
type rebound struct {
	off   time.Time
	hours int
	rose  float64
}

type sheetOn struct {
	place  string
	looked time.Time
	hours  int
}

type signedGate struct {
	at       time.Time
	gate     string
	evidence string
}

// watch tells a drying log.
func (a *afloat) watch(j *job, d dryingLog) {
	by, is := a.as(d.by), a.of("job", j.key)
	a.at(d.said, "drying course", func(ctx context.Context) error {
		return done(a.SetDryingCourse(ctx, by, practice.SetDryingCourse{Mutation: a.mut("drying course", j.key), Job: is, Course: d.course}))
	})
	a.logAir(j, d)
	for k, w := range d.washes {
		wash := a.of("wash", j.key, fmt.Sprint(k))
		a.at(w.at, "wash", func(ctx context.Context) error {
			return done(a.RecordWash(ctx, by, practice.RecordWash{Mutation: a.mut("wash", j.key, fmt.Sprint(k)), Wash: practice.Wash{
				ID: wash, JobID: is, At: w.at.UTC(), How: w.how, Extent: w.extent, PhTenths: &w.ph, ConductivityTenths: &w.off, SupplyTenths: &w.from,
				VolumeUl: new(int32(10_000)), AreaMm2: new(int32(1250)),
			}}))
		})
		a.rose(j, d, fmt.Sprint("after wash ", k), practice.Rebound{After: "wash", WashID: &wash, BeganAt: w.at.Add(time.Hour).UTC(), ReadAt: w.at.Add(49 * time.Hour).UTC()}, w.rose)
	}
	for k, r := range d.heatOff {
		a.rose(j, d, fmt.Sprint("heat off ", k), practice.Rebound{After: "heat off", BeganAt: r.off.UTC(), ReadAt: r.off.Add(time.Duration(r.hours) * time.Hour).UTC()}, r.rose)
	}
	for k, t := range d.sheets {
		a.at(t.looked, "plastic sheet", func(ctx context.Context) error {
			return done(a.RecordSheetTest(ctx, by, practice.RecordSheetTest{Mutation: a.mut("plastic sheet", j.key, fmt.Sprint(k)), Test: practice.SheetTest{
				ID: a.of("plastic sheet", j.key, fmt.Sprint(k)), JobID: is, Place: t.place, TapedAt: t.looked.Add(-time.Duration(t.hours) * time.Hour).UTC(), LookedAt: t.looked.UTC(),
			}}))
		})
	}
	for k, g := range d.signed {
		a.at(g.at, "gate signed", func(ctx context.Context) error {
			return done(a.SignGate(ctx, by, practice.SignGate{Mutation: a.mut("gate", j.key, fmt.Sprint(k)), ID: a.of("gate", j.key, fmt.Sprint(k)), Job: is, Gate: g.gate, MetOn: *a.dayOf(g.at), Evidence: g.evidence}))
		})
	}
}

// rose tells one rebound: each place by about as much as it is told, a pattern of its own.
func (a *afloat) rose(j *job, d dryingLog, key string, r practice.Rebound, by float64) {
	a.at(r.ReadAt, "rebound "+key, func(ctx context.Context) (err error) {
		r.ID, r.JobID, r.ScaleID = a.of("rebound", j.key, key), a.of("job", j.key), scaleID(a.loader, d.with)
		if r.Places, err = a.ordinals(d.rebounds); err != nil {
			return err
		}
		for k := range r.Places {
			before := int32(310 + 7*((k*5)%9))
			r.BeforeTenths = append(r.BeforeTenths, before)
			r.AfterTenths = append(r.AfterTenths, before+int32(10*by)+int32((k*7)%9)-4)
		}
		return done(a.RecordRebound(ctx, a.as(d.by), practice.RecordRebound{Mutation: a.mut("rebound", j.key, key), Rebound: r}))
	})
}

// logAir reads in the shed's logger and the quay's, a week at a time.
func (a *afloat) logAir(j *job, d dryingLog) {
	for _, of := range []struct {
		place, source string
		air           func(time.Time) (decidegrees, permille int32)
	}{
		{d.course.TentPlace, "the shed’s logger", func(t time.Time) (int32, int32) {
			h := t.Hour()
			return 190 + int32(h%12) - 6, 420 + int32((t.YearDay()*7+h)%50) - 25
		}},
		{d.course.OutdoorsPlace, "the harbour’s weather station", func(t time.Time) (int32, int32) {
			w := simulate.Skerrow().Weather(t, number(a.boat.key))
			return int32(float64(w.At) * 10), int32(min(float64(w.Air)*10, 1000))
		}},
	} {
		in := practice.RecordAir{Mutation: a.mut("air", j.key, of.place), Job: a.of("job", j.key), Place: of.place, Source: of.source}
		for t := d.from; t.Before(d.logged); t = t.Add(6 * time.Hour) {
			air, humidity := of.air(t)
			in.At, in.AirDecidegrees, in.HumidityPermille = append(in.At, t.UTC()), append(in.AirDecidegrees, air), append(in.HumidityPermille, humidity)
		}
		a.at(d.logged, "air of "+of.place, func(ctx context.Context) error { return done(a.RecordAir(ctx, a.as(d.by), in)) })
	}
}
