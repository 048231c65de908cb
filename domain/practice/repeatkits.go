package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// RepeatKit is a practice's measuring of itself: spots from wet to near dry, each read
// several times by each of several people with one instrument on one scale. It is kept
// whole; a correction is another kit that takes its place.
type RepeatKit struct {
	ID         uuid.UUID
	Instrument uuid.UUID
	Scale      uuid.UUID
	MadeOn     time.Time
	Note       string
	Spots      int32
	Repeats    int32
	Hands      []KitHand
	Replacement
}

// KitHand is what one person read.
type KitHand struct {
	Member MemberLine
	// Tenths holds the readings spot by spot, the repeats of a spot together; Null where
	// none was taken; nil where they are not the reader's to see.
	Tenths []int32
}

// Replacement says who recorded a kit or set, what it took the place of and what has
// taken its own.
type Replacement struct {
	RecordedBy      *MemberLine
	RecordedAt      time.Time
	Replaces        *uuid.UUID
	Because         string // why it replaces that one
	ReplacedBy      *uuid.UUID
	ReplacedBecause string // why it was replaced itself
}

// Current tells whether nothing has taken its place.
func (r Replacement) Current() bool { return r.ReplacedBy == nil }

// Measurings are a practice's instruments with what it measured of itself by them, one
// trip's worth. Kits and sets come oldest first, replaced ones too.
type Measurings struct {
	Instruments []Instrument
	Kits        []RepeatKit
	Sets        []CrossReadings
	Checks      []PassCheck // of one instrument only, oldest first
}

// RepeatKitReader reads what a practice measured of itself.
type RepeatKitReader interface {
	// Measurings reads all instruments, kits and sets; the block checks of one instrument
	// with them where it is named.
	Measurings(ctx context.Context, practice uuid.UUID, checksOf *uuid.UUID) (Measurings, error)
}

// RepeatKitWriter keeps kits.
type RepeatKitWriter interface {
	// RepeatKitKept tells that a kit is there.
	RepeatKitKept(ctx context.Context, id uuid.UUID) error
	InsertRepeatKit(ctx context.Context, k RecordRepeatKit, by *uuid.UUID, now time.Time) error
}

// What a kit may hold. The upper bounds only keep a slip of the keyboard out.
const (
	mostSpots   = 60
	mostRepeats = 10
	mostHands   = 12
)

// RecordRepeatKit is a kit, entered as one block.
type RecordRepeatKit struct {
	Mutation   uuid.UUID `json:"-"`
	ID         uuid.UUID
	Instrument uuid.UUID
	Scale      uuid.UUID
	MadeOn     time.Time
	Hands      []uuid.UUID // who read
	Spots      int32
	Repeats    int32
	// Tenths of a scale unit: hand by hand, for each spot by spot, for each its repeats;
	// Null where none was taken.
	Tenths   []int32
	Note     string
	Replaces *uuid.UUID // the kit that this one corrects
	Because  string
}

// RecordRepeatKit keeps a kit. A reading at an end of the scale is refused as one beyond
// it is: what it would have scattered to cannot be seen there.
func (s *Service) RecordRepeatKit(ctx context.Context, a domain.Actor, in RecordRepeatKit) (Done, error) {
	return s.write(ctx, &a, domain.WriteTools, "recordRepeatKit", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(s.instant()); err != nil {
			return Done{}, err
		}
		scale, err := scaleOf(ctx, tx, in.Instrument, in.Scale)
		if err != nil {
			return Done{}, err
		}
		if in.Replaces != nil {
			if err := tx.RepeatKitKept(ctx, *in.Replaces); err != nil {
				return Done{}, err
			}
		}
		if err := in.within(scale); err != nil {
			return Done{}, err
		}
		things := []domain.Ref{ref(domain.ThingRepeatKit, in.ID), ref(domain.ThingInstrument, in.Instrument)}
		return touched(things...), tx.InsertRepeatKit(ctx, in, entered(a), s.instant())
	})
}

// scaleOf reads a scale and holds it to its instrument.
func scaleOf(ctx context.Context, tx Tx, instrument, scale uuid.UUID) (Scale, error) {
	if _, err := tx.Instrument(ctx, instrument); err != nil {
		return Scale{}, err
	}
	sc, err := tx.Scale(ctx, scale)
	if err == nil && sc.Instrument != instrument {
		err = domain.Invalidf("scale", "This scale belongs to another instrument.")
	}
	return sc, err
}

func (in RecordRepeatKit) check(now time.Time) error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	if err := madeBy("madeOn", in.MadeOn, now); err != nil {
		return err
	}
	if err := replacing(in.Replaces, in.Because); err != nil {
		return err
	}
	switch {
	case len(in.Hands) < 1 || len(in.Hands) > mostHands:
		return domain.Invalidf("hands", "Name who read: 1 to %d people.", mostHands)
	case in.Spots < 2 || in.Spots > mostSpots:
		return domain.Invalidf("spots", "A kit has 2 to %d spots; ten from wet to near dry are usual.", mostSpots)
	case in.Repeats < 2 || in.Repeats > mostRepeats:
		return domain.Invalidf("repeats", "A kit reads each spot 2 to %d times by the same hand; three times is usual.", mostRepeats)
	case len(in.Tenths) != len(in.Hands)*int(in.Spots*in.Repeats):
		return domain.Invalidf("tenths", "%d people, %d spots and %d repeats make %d slots; %d came.", len(in.Hands), in.Spots, in.Repeats, len(in.Hands)*int(in.Spots*in.Repeats), len(in.Tenths))
	}
	for k, h := range in.Hands {
		if slices.Contains(in.Hands[:k], h) {
			return domain.Invalidf(fmt.Sprintf("hands[%d]", k), "Name each person once.")
		}
	}
	return in.twice()
}

// twice asks that every named person read some spot more than once: what does not come
// back tells nothing of how closely it would.
func (in RecordRepeatKit) twice() error {
	cell := int(in.Repeats)
	for h := range in.Hands {
		own := in.Tenths[h*int(in.Spots)*cell : (h+1)*int(in.Spots)*cell]
		if !slices.ContainsFunc(slices.Collect(slices.Chunk(own, cell)), func(c []int32) bool { return len(taken(c)) > 1 }) {
			return domain.Invalidf("tenths", "Person %d read no spot twice. Leave him or her out, or enter what is missing.", h+1)
		}
	}
	return nil
}

// taken leaves the empty slots out.
func taken(tenths []int32) []int32 {
	return slices.DeleteFunc(slices.Clone(tenths), func(v int32) bool { return v == Null })
}

func (in RecordRepeatKit) within(sc Scale) error {
	for k, v := range in.Tenths {
		if v != Null && !sc.inside(v) {
			cell := k / int(in.Repeats)
			return sc.refuse(fmt.Sprintf("tenths[%d]", k), fmt.Sprintf("Spot %d, person %d, repeat %d", cell%int(in.Spots)+1, cell/int(in.Spots)+1, k%int(in.Repeats)+1), v)
		}
	}
	return nil
}

// inside tells whether a reading lies within the scale and off its ends.
func (sc Scale) inside(tenths int32) bool { return tenths > sc.LowTenths && tenths < sc.HighTenths }

func (sc Scale) refuse(field, where string, tenths int32) error {
	return domain.Invalidf(field, "%s reads %s; the scale %s runs from %s to %s. A reading at or beyond its end tells nothing of scatter: take another spot.",
		where, unitsText(tenths), sc.Name, unitsText(sc.LowTenths), unitsText(sc.HighTenths))
}

// madeBy refuses a day that has not come yet in any zone.
func madeBy(field string, day, now time.Time) error {
	if day.After(now.Add(14 * time.Hour)) {
		return domain.Invalidf(field, "This day has not come yet.")
	}
	return nil
}

// replacing asks a reason of what takes another's place, and of nothing else.
func replacing(replaces *uuid.UUID, because string) error {
	switch given := strings.TrimSpace(because) != ""; {
	case replaces != nil && !given:
		return domain.Invalidf("because", "Say why it takes the place of the earlier one.")
	case replaces == nil && given:
		return domain.Invalidf("because", "A reason belongs to what takes the place of another.")
	case utf8.RuneCountInString(because) > 500:
		return domain.Invalidf("because", "A reason has at most 500 letters.")
	}
	return nil
}
