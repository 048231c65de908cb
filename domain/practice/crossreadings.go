package practice

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	crossed "boottop.example/practice/domain/measure/beside"
	"boottop.example/practice/domain/report"
)

// CrossReadings is a set of places read on one day with two instruments, from wet to
// near dry: the only ground on which two relative scales may be held against each other.
// It is kept whole; a correction is another set that takes its place.
type CrossReadings struct {
	ID            uuid.UUID
	FirstScale    uuid.UUID
	SecondScale   uuid.UUID
	MadeOn        time.Time
	Note          string
	EffectTenths  int32   // of the second scale: the least change that matters, said before the fit is seen
	First, Second []int32 // tenths of each scale, spot by spot
	Replacement
}

// CrossReadingWriter keeps cross-reading sets.
type CrossReadingWriter interface {
	// CrossReadingsKept tells that a set is there.
	CrossReadingsKept(ctx context.Context, id uuid.UUID) error
	InsertCrossReadings(ctx context.Context, c RecordCrossReadings, by *uuid.UUID, now time.Time) error
}

// RecordCrossReadings is a set, entered as one block.
type RecordCrossReadings struct {
	Mutation     uuid.UUID `json:"-"`
	ID           uuid.UUID
	FirstScale   uuid.UUID
	SecondScale  uuid.UUID
	MadeOn       time.Time
	First        []int32 // tenths, spot by spot
	Second       []int32
	EffectTenths int32
	Note         string
	Replaces     *uuid.UUID
	Because      string
}

// RecordCrossReadings keeps a cross-reading set. Fewer places than a fit needs are kept
// and said to be too few.
func (s *Service) RecordCrossReadings(ctx context.Context, a domain.Actor, in RecordCrossReadings) (Done, error) {
	return s.write(ctx, &a, domain.WriteTools, "recordCrossReadings", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(s.instant()); err != nil {
			return Done{}, err
		}
		first, err := tx.Scale(ctx, in.FirstScale)
		if err != nil {
			return Done{}, err
		}
		second, err := tx.Scale(ctx, in.SecondScale)
		if err != nil {
			return Done{}, err
		}
		if first.Instrument == second.Instrument && first.ID == second.ID {
			return Done{}, domain.Invalidf("secondScale", "Take another instrument or another scale: one scale read twice is a repeatability kit.")
		}
		if in.Replaces != nil {
			if err := tx.CrossReadingsKept(ctx, *in.Replaces); err != nil {
				return Done{}, err
			}
		}
		if err := in.within(first, second); err != nil {
			return Done{}, err
		}
		things := []domain.Ref{ref(domain.ThingCrossReadings, in.ID), ref(domain.ThingInstrument, first.Instrument), ref(domain.ThingInstrument, second.Instrument)}
		return touched(things...), tx.InsertCrossReadings(ctx, in, entered(a), s.instant())
	})
}

func (in RecordCrossReadings) check(now time.Time) error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	if err := madeBy("madeOn", in.MadeOn, now); err != nil {
		return err
	}
	switch {
	case len(in.First) == 0 || len(in.First) > 200:
		return domain.Invalidf("first", "A set has 1 to 200 places.")
	case len(in.Second) != len(in.First):
		return domain.Invalidf("second", "The first instrument has %d readings, the second %d.", len(in.First), len(in.Second))
	case in.EffectTenths <= 0:
		return domain.Invalidf("effectTenths", "Say which change matters, in units of the second scale, above zero.")
	}
	return replacing(in.Replaces, in.Because)
}

func (in RecordCrossReadings) within(first, second Scale) error {
	for k := range in.First {
		for _, side := range []struct {
			field string
			scale Scale
			v     int32
		}{{"first", first, in.First[k]}, {"second", second, in.Second[k]}} {
			if side.v == Null {
				return domain.Invalidf(fmt.Sprintf("%s[%d]", side.field, k), "Spot %d was read with one instrument only. Leave it out.", k+1)
			}
			if !side.scale.inside(side.v) {
				return side.scale.refuse(fmt.Sprintf("%s[%d]", side.field, k), fmt.Sprintf("Spot %d", k+1), side.v)
			}
		}
	}
	return nil
}

// CrossFit is what a cross-reading set lets say of its two scales.
type CrossFit struct {
	CrossReadings
	FirstOf, SecondOf Instrument
	Fit               *crossed.Crossing // nil where nothing can be drawn
	RatioMeasured     bool              // whether the ratio of errors comes from both scales' s_r
	Band              []BandPoint       // along the span of the first; empty without a usable fit
	Says              []report.Sentence
}

// BandPoint is what must be expected of the second scale where the first reads At, scale units.
type BandPoint struct {
	At, Value, Lower, Upper float64
	Comparable              bool // narrow enough for the change that matters
}

// bandSteps is how many stretches the band is drawn in.
const bandSteps = 24

// fit draws the line of a set, with errors in both axes in the ratio that the kits give.
func (c CrossReadings) fit(first, second Precision) CrossFit {
	f := CrossFit{CrossReadings: c, FirstOf: first.Instrument, SecondOf: second.Instrument}
	names := report.Pair{First: first.Instrument.Name, Second: second.Instrument.Name}
	ratio := 1.0
	if f.RatioMeasured = first.Enough() && second.Enough(); f.RatioMeasured {
		ratio = first.Repeatability.S / second.Repeatability.S
		ratio *= ratio
	}
	cross, err := crossed.Cross(units(c.First), units(c.Second), ratio, confidence)
	few := len(c.First) < crossed.Least
	if err == nil {
		f.Fit = &cross
	}
	switch {
	case few:
		f.Says = append(f.Says, report.CrossedTooFew(names, len(c.First), crossed.Least))
	case err != nil || slices.Contains(cross.Why, crossed.NoRelation):
		f.Says = append(f.Says, report.CrossedNoRelation(names))
	default:
		f.judge(names)
	}
	if f.Fit != nil && !f.RatioMeasured {
		f.Says = append(f.Says, report.CrossedRatioGuessed())
	}
	return f
}

// judge walks the span and holds the band against the change that matters.
func (f *CrossFit) judge(names report.Pair) {
	effect := float64(f.EffectTenths) / 10
	for k := range bandSteps + 1 {
		at := f.Fit.Low + (f.Fit.High-f.Fit.Low)*float64(k)/bandSteps
		band, why, err := f.Fit.Band(at)
		if err != nil || len(why) > 0 {
			continue
		}
		v, err := f.Fit.Judge(at, band.Value, effect)
		f.Band = append(f.Band, BandPoint{At: at, Value: band.Value, Lower: band.Lower, Upper: band.Upper, Comparable: err == nil && v.Answer != crossed.NotComparable})
	}
	half := func(p BandPoint) float64 { return p.Upper - p.Value }
	narrow := slices.MinFunc(f.Band, func(a, b BandPoint) int { return cmp.Compare(half(a), half(b)) })
	widest := slices.MaxFunc(f.Band, func(a, b BandPoint) int { return cmp.Compare(half(a), half(b)) })
	f.Says = append(f.Says, report.CrossedBand(names, f.Fit.Low, f.Fit.High, half(narrow), half(widest), len(f.First)))
	from, to := -1, -1
	for k, p := range f.Band {
		if p.Comparable {
			to = k
			if from < 0 {
				from = k
			}
		}
	}
	if from < 0 {
		f.Says = append(f.Says, report.CrossedNotComparable(names, effect))
		return
	}
	f.Says = append(f.Says, report.CrossedComparable(names, effect, f.Band[from].At, f.Band[to].At, to-from == bandSteps))
}

// Comparable tells whether the two scales may be held side by side anywhere.
func (f CrossFit) Comparable() bool {
	return slices.ContainsFunc(f.Band, func(p BandPoint) bool { return p.Comparable })
}
