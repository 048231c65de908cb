package graph

import (
	"cmp"
	"context"
	"math"

	"github.com/google/uuid"

	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// drying reads a job's drying log.
func (r *Resolver) drying(ctx context.Context, job uuid.UUID) (model.Drying, error) {
	d, err := r.Practice.Drying(ctx, auth.Actor(ctx), job)
	if err != nil {
		return model.Drying{}, err
	}
	return dryingModel(d), nil
}

func dryingModel(d practice.Drying) model.Drying {
	zone := ""
	if len(d.Passes) > 0 {
		zone = d.Passes[0].TimeZone
	}
	m := model.Drying{
		Job: jobLine(d.Job, d.Began), Course: dryingCourseModel(d.Course), Began: wire.Day(inZone(d.Began, cmp.Or(zone, "UTC"))), TimeZone: zone, BeganFrom: d.BeganFrom, Axis: axisModel(d.History.Axis),
		Passes: each(d.Passes, dryingPassModel), Curve: each(d.Fit.Curve, sampleModel), Outdoors: climateModel(d.Outdoors), Tent: climateModel(d.Tent),
		Weather: weatherModel(d), Washes: each(d.Washes, washModel), Rebounds: each(d.Rebounds, reboundModel), Sheets: each(d.Sheets, sheetModel),
		Reached: each(d.Reached, reachedModel), Reasons: each(d.Reasons, stallModel), Gates: each(d.Gates, coatingGateModel), Title: d.Title, Cautions: d.Cautions,
		Statements: each(d.Statements, func(s report.Sentence) model.DryingStatement {
			return model.DryingStatement{Claim: string(s.Claim), Text: s.Text()}
		}),
	}
	if b := d.Fit.Band; b != nil {
		m.Band = &model.DryingBand{Earliest: bounded(b.Earliest), Latest: bounded(b.Latest)}
	}
	if p := d.Physics; p != nil {
		m.Physics = &model.DryingPhysics{
			WallMm: p.Wall, Floor: p.Floor, HalfLowerWeeks: bounded(p.Half.Lower / 7), HalfUpperWeeks: bounded(p.Half.Upper / 7),
			DepthLowerMm: p.Depth.Lower, DepthUpperMm: p.Depth.Upper,
		}
	}
	return m
}

// bounded gives nil for a bound that is none.
func bounded(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}

func dryingCourseModel(c practice.DryingCourse) model.DryingCourse {
	return model.DryingCourse{
		BeganOn: wire.MaybeDay(c.BeganOn), WallMm: long(c.WallMm), Inside: c.Inside, OutdoorsPlace: c.OutdoorsPlace, TentPlace: c.TentPlace,
		TargetTenths: c.TargetTenths, TargetBecause: c.TargetBecause, Note: c.Note, Version: c.Version,
	}
}

func dryingPassModel(p practice.DryingPass) model.DryingPass {
	m := model.DryingPass{
		ID: wire.New(wire.Pass, p.ID), Visit: wire.New(wire.Visit, p.VisitID), Job: wire.New(wire.Job, p.JobID), JobNumber: p.JobNumber,
		At: wire.At(p.BeganAt), On: wire.Day(inZone(p.BeganAt, p.TimeZone)), Days: p.Days, Instrument: p.InstrumentName, Sensing: p.Sensing,
		Hand: p.HandName, Surface: p.Surface, Heated: p.Heated, HoursSinceHeatOff: long(p.HoursSinceHeatOff), AirDecidegrees: long(p.AirDecidegrees),
		HumidityPermille: long(p.HumidityPermille), Part: "left out", Why: p.Why, Level: p.Level, Contrasts: wire.Column(p.Contrasts),
	}
	if m.Instrument == "" {
		m.Instrument, m.Hand = p.InstrumentAsWritten, p.HandAsWritten
	}
	switch {
	case p.In:
		m.Part = "series"
	case p.Shallow:
		m.Part = "shallow series"
	}
	return m
}

func sampleModel(s drying.Sample) model.DryingSample {
	return model.DryingSample{Days: s.Days, Value: s.Height.Value, Lower: bounded(s.Height.Lower), Upper: bounded(s.Height.Upper)}
}

func climateModel(c *drying.Climate) *model.Climate {
	if c == nil {
		return nil
	}
	return &model.Climate{
		Records: int32(c.N), Temperature: c.Temperature, Humidity: c.Humidity, Driest: c.Driest, Dampest: c.Dampest, DewPoint: c.DewPoint, Floor: c.Floor,
	}
}

func reachedModel(r drying.Reached) model.Reached {
	return model.Reached{
		Temperature: r.Celsius, Days: r.Days, Tag: report.ReachedTag,
		Rows: each(r.Rows, func(x drying.ReachedRow) model.ReachedRow {
			return model.ReachedRow{Diffusivity: x.Diffusivity, Depths: x.Depths}
		}),
		Lose: each(r.Lose, func(x drying.Losing) model.Losing {
			return model.Losing{WallMm: x.Wall, Half: x.Half, NineTenths: x.NineTenths}
		}),
	}
}

func weatherModel(d practice.Drying) model.WeatherLog {
	n := len(d.Weather)
	m := model.WeatherLog{Hours: make(wire.Column, n), AirDecidegrees: make(wire.Column, n), HumidityPermille: make(wire.Column, n), Tent: make(wire.Column, n)}
	for k, w := range d.Weather {
		m.Hours[k] = int32(math.Round(w.At.Sub(d.Began).Hours()))
		m.AirDecidegrees[k], m.HumidityPermille[k] = int32(w.AirDecidegrees), int32(w.HumidityPermille)
		if w.Tent {
			m.Tent[k] = 1
		}
	}
	return m
}

func washModel(w practice.Wash) model.Wash {
	m := model.Wash{
		ID: wire.New(wire.Wash, w.ID), At: wire.At(w.At), How: w.How, Extent: w.Extent, PhTenths: long(w.PhTenths), ConductivityTenths: w.ConductivityTenths,
		SupplyTenths: w.SupplyTenths, VolumeUl: w.VolumeUl, AreaMm2: w.AreaMm2, Note: w.Note, By: w.ByName,
	}
	if e := w.Measured().Salts(); e != nil {
		m.Salts = &e.Value
	}
	return m
}

func reboundModel(r practice.Rebound) model.Rebound {
	m := model.Rebound{
		ID: wire.New(wire.Rebound, r.ID), After: r.After, Wash: wire.Maybe(wire.Wash, r.WashID), BeganAt: wire.At(r.BeganAt), ReadAt: wire.At(r.ReadAt),
		Hours: r.Hours(), Instrument: r.InstrumentName, Places: wire.Column(r.Places), BeforeTenths: wire.Column(r.BeforeTenths),
		AfterTenths: wire.Column(r.AfterTenths), Note: r.Note, By: r.ByName,
	}
	if h, err := r.Measured().Height(); err == nil {
		m.Rise, m.RiseLower, m.RiseUpper = &h.Value, bounded(h.Lower), bounded(h.Upper)
	}
	return m
}

func sheetModel(t practice.SheetTest) model.SheetTest {
	return model.SheetTest{
		ID: wire.New(wire.SheetTest, t.ID), Place: t.Place, TapedAt: wire.At(t.TapedAt), LookedAt: wire.At(t.LookedAt), Condensed: t.Condensed, Note: t.Note, By: t.ByName,
	}
}

func stallModel(r practice.StallReason) model.StallReason {
	m := model.StallReason{Code: string(r.Pattern), Head: r.Head, Points: string(r.Points), Evidence: r.Evidence.Text(), Check: r.Check, Places: wire.Column{}}
	for _, slot := range r.Slots {
		m.Places = append(m.Places, int32(slot+1))
	}
	return m
}

func coatingGateModel(g practice.GateLine) model.CoatingGate {
	m := model.CoatingGate{
		Code: string(g.Key), Name: g.Name, Asks: g.Asks, Tag: g.Tag, Least: g.Least, Most: g.Most, Unit: g.Unit, RuleVersion: g.RuleVersion, About: g.About,
		Verdict: string(g.Verdict), Evidence: g.Evidence.Text(), OpenBecause: g.OpenBecause,
	}
	if s := g.Signature; s != nil {
		m.Signature = &model.GateSignature{
			ID: wire.New(wire.GateSignature, s.ID), MetOn: wire.Day(s.MetOn), Evidence: s.Evidence, Shown: s.Shown, By: s.ByName, At: wire.At(s.At),
		}
	}
	return m
}
