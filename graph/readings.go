package graph

import (
	"context"
	"fmt"
	"math"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var (
	_ = reads(wire.Pass, (*Resolver).pass)
	_ = reads(wire.Place, (*Resolver).place)
	_ = reads(wire.Reading, (*Resolver).reading)
)

func (r *Resolver) pass(ctx context.Context, id uuid.UUID) (model.Pass, error) {
	p, err := r.Practice.Pass(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Pass{}, err
	}
	return passModel(p), nil
}

func (r *Resolver) place(ctx context.Context, id uuid.UUID) (model.Place, error) {
	p, err := r.Practice.Place(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Place{}, err
	}
	m := model.Place{
		ID: wire.New(wire.Place, p.ID), Ordinal: p.Ordinal, Label: p.Label, Side: model.Side(p.Side), Station: long(p.Station), Row: long(p.RowNo),
		AlongMm: p.AlongMm, DownMm: p.DownMm, PositionErrorMm: p.PositionErrorMm, ToldAs: p.ToldAs, Readings: make([]model.Reading, len(p.Readings)),
	}
	for k, reading := range p.Readings {
		m.Readings[k] = readingModel(reading)
	}
	return m, nil
}

func (r *Resolver) reading(ctx context.Context, id uuid.UUID) (model.Reading, error) {
	reading, err := r.Practice.Reading(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Reading{}, err
	}
	return readingModel(reading), nil
}

func passModel(p practice.PassPage) model.Pass {
	m := model.Pass{
		ID: wire.New(wire.Pass, p.ID), Visit: wire.New(wire.Visit, p.VisitID), Element: wire.New(wire.Element, p.ElementID),
		Plan: planModel(p.Plan), Axis: axisModel(p.Axis), Hand: handLine(p.PassContext), HandAsWritten: p.HandAsWritten,
		Instrument: instrumentOf(p.PassContext), InstrumentAsWritten: p.InstrumentAsWritten, Scale: scaleOf(p.PassContext),
		Face: p.Face, Surface: p.Surface, DrySurface: p.DrySurface, HoursSinceWash: long(p.HoursSinceWash), HoursSinceHeatOff: long(p.HoursSinceHeatOff),
		Heated: p.Heated, Rain: p.Rain, SaltWiped: p.SaltWiped, ZeroReset: p.ZeroReset, Battery: p.Battery, Source: p.Source, Quoted: p.Quoted,
		State: p.State, BeganAt: wire.At(p.BeganAt), ClosedAt: wire.MaybeAt(p.ClosedAt), Note: p.Note,
		BlockChecks: blockCheckModels(p.BlockChecks), Missing: warningModels(p.Missing), Baseline: baselineModel(p.HistoryPass),
		Entries: entriesModel(p), NotReached: make([]model.NotReached, len(p.NotReached)), Version: p.Version,
	}
	for k, n := range p.NotReached {
		m.NotReached[k] = model.NotReached{ID: wire.New(wire.NotReached, n.ID), Place: n.Ordinal, Reason: n.Reason}
	}
	return m
}

// entriesModel lays the entries out along the axis.
func entriesModel(p practice.PassPage) model.Entries {
	n := len(p.Axis.IDs)
	m := model.Entries{
		Ids: make(wire.IDColumn, n), Values: full(p.Taken, n), Placements: make(wire.Columns, n), Flags: full(p.Flags, n),
		Written: make(wire.TextColumn, n), Surfaces: make(wire.TextColumn, n),
	}
	for _, e := range p.Entries {
		k := int(e.Ordinal) - 1
		if k < 0 || k >= n {
			continue
		}
		m.Ids[k], m.Placements[k], m.Written[k], m.Surfaces[k] = wire.New(wire.Reading, e.ID), e.Placements, e.AsWritten, e.Surface
	}
	return m
}

func readingModel(r practice.Reading) model.Reading {
	m := model.Reading{
		ID: wire.New(wire.Reading, r.ID), Pass: wire.New(wire.Pass, r.PassID), Place: wire.New(wire.Place, r.PlaceID), Occasion: int32(r.Occasion),
		Value: r.Value, Limit: r.LimitFlag, AsWritten: r.AsWritten, Placements: make(wire.Column, len(r.Placements)), Surface: r.Surface,
		TakenAt: wire.At(r.TakenAt), ReceivedAt: wire.At(r.ReceivedAt), KnownBefore: r.KnownBefore, FollowUp: r.FollowUp, VoidReason: r.VoidReason,
		Supersedes: wire.Maybe(wire.Reading, r.SupersedesID), Supersession: r.Supersession, SupersessionReason: r.SupersessionReason, Current: r.Current,
	}
	for k, v := range r.Placements {
		m.Placements[k] = int32(v)
	}
	if r.PrintedIn != "" {
		m.PrintedIn = &r.PrintedIn
	}
	return m
}

func planModel(p practice.Plan) model.Plan {
	return model.Plan{
		ID: wire.New(wire.Plan, p.ID), PlanVersion: p.PlanVersion, Kind: p.Kind, Note: p.Note, DryChangeReason: p.DryChangeReason,
		CreatedAt: wire.At(p.CreatedAt), Places: p.Places, Dry: p.Dry, Targeted: p.Targeted,
	}
}

// seconds reads a column of instants, seconds since 1970 by the device's clock.
func seconds(field string, c wire.Column) ([]time.Time, error) {
	out := make([]time.Time, len(c))
	for k, s := range c {
		if s == wire.Null {
			return nil, domain.Invalidf(fmt.Sprintf("%s[%d]", field, k), "Every reading needs the time it was taken.")
		}
		out[k] = time.Unix(int64(s), 0).UTC()
	}
	return out, nil
}

// tenths reads a column of placements.
func tenths(field string, c wire.Column) ([]int16, error) {
	out := make([]int16, len(c))
	for k, x := range c {
		if x == wire.Null || x < math.MinInt16 || x > math.MaxInt16 {
			return nil, domain.Invalidf(fmt.Sprintf("%s[%d]", field, k), "A placement is a whole number of tenths.")
		}
		out[k] = int16(x)
	}
	return out, nil
}

// truths reads a column of yes and no: 1 is yes, 0 and null are no.
func truths(c wire.Column) []bool {
	if c == nil {
		return nil
	}
	out := make([]bool, len(c))
	for k, x := range c {
		out[k] = x == 1
	}
	return out
}

func orEmpty(c []int32) wire.Column {
	if c == nil {
		return wire.Column{}
	}
	return c
}

func orBlank(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// short narrows a number of the contract to what the database keeps.
func short(x *int32) *int16 {
	if x == nil {
		return nil
	}
	s := int16(min(max(*x, math.MinInt16), math.MaxInt16))
	return &s
}

// long widens a number the database keeps to the contract's.
func long(x *int16) *int32 {
	if x == nil {
		return nil
	}
	l := int32(*x)
	return &l
}
