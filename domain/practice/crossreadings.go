package practice

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
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
