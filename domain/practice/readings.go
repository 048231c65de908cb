package practice

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// maxBatch is the most readings that one call may bring.
const maxBatch = 200

// Reading is one place, one occasion, with everything that is kept of it. Values are
// twentieths of a scale unit, placements tenths.
type Reading struct {
	ID                 uuid.UUID
	PassID             uuid.UUID
	PlaceID            uuid.UUID
	Ordinal            int32
	Occasion           int16
	Value              int32
	LimitFlag          string // empty, below, above or range
	Low                *int32 // of a range
	High               *int32
	AsWritten          string
	Placements         []int16
	Surface            string // where it differs from the pass's own
	TakenAt            time.Time
	ReceivedAt         time.Time
	KnownBefore        bool
	FollowUp           bool
	VoidReason         string
	SupersedesID       *uuid.UUID
	Supersession       string // correct or replace
	SupersessionReason string
	Current            bool
	PrintedIn          string // number of the report that printed it
}

// Place is a spot that is read again, with its whole story.
type Place struct {
	ID        uuid.UUID
	VesselID  uuid.UUID
	ElementID uuid.UUID
	Ordinal   int32
	Label     string
	Side      string
	Station   *int16
	RowNo     *int16
	AlongMm   int32
	DownMm    int32

	PositionErrorMm int32  // how far off it may lie; 0 where it was measured
	ToldAs          string // what an old report calls it

	Readings []Reading // oldest first, superseded and void ones too
}

// Batch is readings to be kept, with how they came to be.
type Batch struct {
	Pass          uuid.UUID
	Readings      []Reading
	ClockOffsetMs *int32
	EnteredBy     *uuid.UUID
}

// ReadingWriter writes readings and the read model of their pass.
type ReadingWriter interface {
	// PlacesByOrdinal finds places of a vessel; what does not exist is left out.
	PlacesByOrdinal(ctx context.Context, vessel uuid.UUID, ordinals []int32) (map[int32]uuid.UUID, error)
	// TakenOccasions finds which of these places were read in the pass already.
	TakenOccasions(ctx context.Context, pass uuid.UUID, places []uuid.UUID) (map[uuid.UUID]Taken, error)
	// ReadingsKept finds which of these ids are kept already.
	ReadingsKept(ctx context.Context, ids []uuid.UUID) ([]uuid.UUID, error)
	InsertReadings(ctx context.Context, b Batch, now time.Time) (kept int64, err error)
	Reading(ctx context.Context, id uuid.UUID) (Reading, error)
	RetireReading(ctx context.Context, id uuid.UUID) error
	VoidReading(ctx context.Context, id uuid.UUID, reason string) error
	MarkFollowUp(ctx context.Context, pass uuid.UUID, places []uuid.UUID, on bool) error
	InsertNotReached(ctx context.Context, pass uuid.UUID, ids, places []uuid.UUID, reason string, now time.Time) error
	WithdrawNotReached(ctx context.Context, pass uuid.UUID, places []uuid.UUID, now time.Time) error
	// WriteGrid makes the read model of a pass anew from its rows.
	WriteGrid(ctx context.Context, pass uuid.UUID) error
	// RequireAddendum notes that issued reports printed, or set their own readings against,
	// what has now been corrected, and how; it answers how many reports did.
	RequireAddendum(ctx context.Context, pass uuid.UUID, how string, id uuid.UUID) (int64, error)
}

// Taken is the occasions that a place has in a pass already.
type Taken struct {
	First bool  // whether the first is among them
	Last  int16 // the highest
}

// AddReadings is a batch as it travels: columns of one length, slot k of each speaking
// of the same reading.
type AddReadings struct {
	Mutation      uuid.UUID `json:"-"`
	Pass          uuid.UUID
	IDs           []uuid.UUID
	Ordinals      []int32
	Occasions     []int32     // nil: all 1
	Placements    [][]int16   // tenths; nil where only Written holds
	Written       []string    // nil: none
	Surfaces      []string    // nil: all as the pass
	TakenAt       []time.Time // by the device's clock
	KnownBefore   []bool      // nil: none
	FollowUp      []bool      // nil: none
	ClockOffsetMs *int32
}

// AddReadings keeps a batch of readings, once however often it is sent. A first
// occasion that another device holds already is kept as a repeat, and the answer says
// so: both hands' readings stand.
func (s *Service) AddReadings(ctx context.Context, a domain.Actor, in AddReadings) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "addReadings", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(); err != nil {
			return Done{}, err
		}
		pass, err := openPass(ctx, tx, in.Pass, a)
		if err != nil {
			return Done{}, err
		}
		readings, err := in.readings(pass)
		if err != nil {
			return Done{}, err
		}
		return keepReadings(ctx, tx, a, pass, readings, in.ClockOffsetMs, s.instant())
	})
}

// keepReadings places a batch, turns taken first occasions into repeats, keeps it and
// writes the pass's grid anew.
func keepReadings(ctx context.Context, tx Tx, a domain.Actor, pass PassContext, readings []Reading, offset *int32, now time.Time) (Done, error) {
	kept, err := tx.ReadingsKept(ctx, ids(readings))
	if err != nil {
		return Done{}, err
	}
	readings = slices.DeleteFunc(readings, func(r Reading) bool { return slices.Contains(kept, r.ID) })
	if err := locate(ctx, tx, pass, readings); err != nil {
		return Done{}, err
	}
	repeats, err := asRepeats(ctx, tx, pass.ID, readings)
	if err != nil {
		return Done{}, err
	}
	n, err := tx.InsertReadings(ctx, Batch{Pass: pass.ID, Readings: readings, ClockOffsetMs: offset, EnteredBy: entered(a)}, now)
	if err != nil {
		return Done{}, err
	}
	done := touched(ref(domain.ThingPass, pass.ID), ref(domain.ThingVessel, pass.VesselID))
	done.Kept, done.Repeats = int(n), repeats
	return done, tx.WriteGrid(ctx, pass.ID)
}

// locate finds the places of a batch by their ordinals.
func locate(ctx context.Context, tx Tx, pass PassContext, readings []Reading) error {
	ordinals := make([]int32, len(readings))
	for k, r := range readings {
		ordinals[k] = r.Ordinal
	}
	places, err := tx.PlacesByOrdinal(ctx, pass.VesselID, ordinals)
	if err != nil {
		return err
	}
	for k := range readings {
		id, known := places[readings[k].Ordinal]
		if !known {
			return domain.Invalidf(fmt.Sprintf("places[%d]", k), "The vessel has no place of ordinal %d.", readings[k].Ordinal)
		}
		readings[k].PlaceID = id
	}
	return nil
}

// asRepeats gives each reading an occasion that is free, earlier ones of the batch
// counted, and tells whose first occasion was taken already.
func asRepeats(ctx context.Context, tx Tx, pass uuid.UUID, readings []Reading) ([]int32, error) {
	places := make([]uuid.UUID, len(readings))
	for k, r := range readings {
		places[k] = r.PlaceID
	}
	taken, err := tx.TakenOccasions(ctx, pass, places)
	if err != nil {
		return nil, err
	}
	var repeats []int32
	for k := range readings {
		r := &readings[k]
		at := taken[r.PlaceID]
		switch {
		case r.Occasion == 1 && !at.First: // free, even where a later one came before it
			at.First = true
		case r.Occasion <= at.Last:
			if r.Occasion == 1 {
				repeats = append(repeats, r.Ordinal)
			}
			r.Occasion = at.Last + 1
		}
		at.Last = max(at.Last, r.Occasion)
		taken[r.PlaceID] = at
	}
	return repeats, nil
}

// SupersedeReading puts another reading in the place of one.
type SupersedeReading struct {
	Mutation   uuid.UUID `json:"-"`
	ID         uuid.UUID // of the new reading
	Reading    uuid.UUID
	How        string // correct or replace
	Reason     string
	Placements []int16
	Written    string
	TakenAt    time.Time
}

// SupersedeReading corrects a reading (the record was wrong) or replaces it (it was read
// anew and the old one does not stand). The old one is kept. Where an issued report
// printed it, the report now asks for an addendum, and Done.Asks says so.
func (s *Service) SupersedeReading(ctx context.Context, a domain.Actor, in SupersedeReading) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "supersedeReading", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if in.How != "correct" && in.How != "replace" {
			return Done{}, domain.Invalidf("how", "Say correct (the record was wrong) or replace (read anew).")
		}
		if in.Reason == "" {
			return Done{}, domain.Invalidf("reason", "Say why: the reason stays beside the reading.")
		}
		old, pass, err := currentReading(ctx, tx, a, in.Reading)
		if err != nil {
			return Done{}, err
		}
		r, err := newReading(pass, in.Placements, in.Written, "placements")
		if err != nil {
			return Done{}, err
		}
		r.ID, r.PlaceID, r.Ordinal, r.Occasion, r.Surface = in.ID, old.PlaceID, old.Ordinal, old.Occasion, old.Surface
		r.TakenAt, r.FollowUp, r.KnownBefore = in.TakenAt, old.FollowUp, true
		r.SupersedesID, r.Supersession, r.SupersessionReason = &old.ID, in.How, in.Reason
		if err := tx.RetireReading(ctx, old.ID); err != nil {
			return Done{}, err
		}
		if _, err := tx.InsertReadings(ctx, Batch{Pass: pass.ID, Readings: []Reading{r}, EnteredBy: entered(a)}, s.instant()); err != nil {
			return Done{}, err
		}
		return afterChange(ctx, tx, pass, old, "superseded: "+in.How, in.ID, r.ID)
	})
}

// VoidReading says that a reading does not count, and why.
type VoidReading struct {
	Mutation uuid.UUID `json:"-"`
	Reading  uuid.UUID
	Reason   string
}

// VoidReading says that a reading does not count. It stays, crossed out, with the reason.
func (s *Service) VoidReading(ctx context.Context, a domain.Actor, in VoidReading) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "voidReading", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if in.Reason == "" {
			return Done{}, domain.Invalidf("reason", "Say why it does not count: pads not flat, wrong place, water on the skin.")
		}
		old, pass, err := currentReading(ctx, tx, a, in.Reading)
		if err != nil {
			return Done{}, err
		}
		if err := tx.VoidReading(ctx, old.ID, in.Reason); err != nil {
			return Done{}, err
		}
		return afterChange(ctx, tx, pass, old, "made void", old.ID, in.Mutation)
	})
}

// afterChange writes the grid anew and asks for an addendum where a report had printed
// the reading, or compared with it. addendum is the id it would get; several reports get
// ids made from it.
func afterChange(ctx context.Context, tx Tx, pass PassContext, old Reading, how string, touchedReading, addendum uuid.UUID) (Done, error) {
	if err := tx.WriteGrid(ctx, pass.ID); err != nil {
		return Done{}, err
	}
	done := touched(ref(domain.ThingReading, touchedReading), ref(domain.ThingReading, old.ID), ref(domain.ThingPass, pass.ID), ref(domain.ThingVessel, pass.VesselID))
	if pass.State == "open" {
		return done, nil // no report rests on it yet
	}
	n, err := tx.RequireAddendum(ctx, pass.ID, how, addendum)
	done.Asks = n > 0
	return done, err
}

// currentReading reads a reading that still stands, with its pass held.
func currentReading(ctx context.Context, tx Tx, a domain.Actor, id uuid.UUID) (Reading, PassContext, error) {
	r, err := tx.Reading(ctx, id)
	if err != nil {
		return r, PassContext{}, err
	}
	pass, err := tx.PassContext(ctx, r.PassID, sees(a))
	if err != nil {
		return r, pass, err
	}
	if pass.State, err = tx.LockPass(ctx, pass.ID); err != nil {
		return r, pass, err
	}
	if r, err = tx.Reading(ctx, id); err != nil { // again, now that nobody else can move it
		return r, pass, err
	}
	if !r.Current {
		return r, pass, domain.Conflictf("Another reading took the place of this one already. Look at the newer one.")
	}
	return r, pass, nil
}

// MarkFollowUp marks places to be followed up inside.
type MarkFollowUp struct {
	Mutation uuid.UUID `json:"-"`
	Pass     uuid.UUID
	Ordinals []int32
	On       bool
}

// MarkFollowUp marks places to be followed up inside, or takes the mark away.
func (s *Service) MarkFollowUp(ctx context.Context, a domain.Actor, in MarkFollowUp) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "markFollowUp", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		pass, places, err := passPlaces(ctx, tx, a, in.Pass, in.Ordinals)
		if err != nil {
			return Done{}, err
		}
		if err := tx.MarkFollowUp(ctx, pass.ID, places, in.On); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, pass.ID), ref(domain.ThingVessel, pass.VesselID)), tx.WriteGrid(ctx, pass.ID)
	})
}

// MarkNotReached notes places that could not be read.
type MarkNotReached struct {
	Mutation  uuid.UUID `json:"-"`
	Pass      uuid.UUID
	IDs       []uuid.UUID
	Ordinals  []int32
	Reason    string
	Withdrawn bool
}

// MarkNotReached notes places that could not be read, and why; with Withdrawn that they
// were reached after all.
func (s *Service) MarkNotReached(ctx context.Context, a domain.Actor, in MarkNotReached) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "markNotReached", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		pass, places, err := passPlaces(ctx, tx, a, in.Pass, in.Ordinals)
		if err != nil {
			return Done{}, err
		}
		switch {
		case in.Withdrawn:
			err = tx.WithdrawNotReached(ctx, pass.ID, places, s.instant())
		case in.Reason == "":
			err = domain.Invalidf("reason", "Say what was in the way: prop pad, keel, another boat.")
		case len(in.IDs) != len(in.Ordinals):
			err = domain.Invalidf("ids", "Give an id for each place.")
		default:
			err = tx.InsertNotReached(ctx, pass.ID, in.IDs, places, in.Reason, s.instant())
		}
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, pass.ID), ref(domain.ThingVessel, pass.VesselID)), tx.WriteGrid(ctx, pass.ID)
	})
}

// passPlaces holds an open pass and finds the places named.
func passPlaces(ctx context.Context, tx Tx, a domain.Actor, id uuid.UUID, ordinals []int32) (PassContext, []uuid.UUID, error) {
	if len(ordinals) == 0 || len(ordinals) > maxBatch {
		return PassContext{}, nil, domain.Invalidf("places", "Name 1 to %d places.", maxBatch)
	}
	pass, err := openPass(ctx, tx, id, a)
	if err != nil {
		return pass, nil, err
	}
	found, err := tx.PlacesByOrdinal(ctx, pass.VesselID, ordinals)
	if err != nil {
		return pass, nil, err
	}
	places := make([]uuid.UUID, len(ordinals))
	for k, o := range ordinals {
		p, known := found[o]
		if !known {
			return pass, nil, domain.Invalidf(fmt.Sprintf("places[%d]", k), "The vessel has no place of ordinal %d.", o)
		}
		places[k] = p
	}
	return pass, places, nil
}

// Place reads a place with every reading ever taken there that the actor may see.
func (s *Service) Place(ctx context.Context, a domain.Actor, id uuid.UUID) (Place, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Place{}, err
	}
	return s.store.Place(ctx, a.Practice, id, sees(a))
}

func ids(readings []Reading) []uuid.UUID {
	out := make([]uuid.UUID, len(readings))
	for k, r := range readings {
		out[k] = r.ID
	}
	return out
}

// entered names who entered it; the service itself has no member.
func entered(a domain.Actor) *uuid.UUID {
	if a.Member == uuid.Nil {
		return nil
	}
	return &a.Member
}

// Reading reads one reading, if its job is open to the actor.
func (s *Service) Reading(ctx context.Context, a domain.Actor, id uuid.UUID) (Reading, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Reading{}, err
	}
	return s.store.ReadReading(ctx, a.Practice, id, sees(a))
}
