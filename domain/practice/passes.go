package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// PassContext is a pass with everything that says what its numbers are worth. Nil is
// not known; nothing is guessed. Temperatures are tenths of a degree Celsius, humidity
// parts in a thousand, scale limits tenths of a scale unit.
type PassContext struct {
	ID                       uuid.UUID
	VisitID                  uuid.UUID
	VisitKind                string
	JobID                    uuid.UUID
	JobNumber                string
	ClientID                 *uuid.UUID
	Cite                     string
	Restricted               bool
	VesselID                 uuid.UUID
	ElementID                uuid.UUID
	BootTopMm                *int32
	PlanID                   uuid.UUID
	VisitAt                  time.Time
	TimeZone                 string
	LiftedAt                 *time.Time
	DatePrecision            string
	DaysAshoreAsWritten      string
	VisitPrecision           string // how far its visit's date is known: instant, day, month or year
	VisitAsWritten           string
	HandID                   *uuid.UUID
	HandName                 string
	HandAsWritten            string
	InstrumentID             *uuid.UUID
	InstrumentName           string
	InstrumentModel          string
	InstrumentSerial         string
	Sensing                  string
	HasZeroReset             bool
	InstrumentAsWritten      string
	ScaleID                  *uuid.UUID
	ScaleName                string
	ScaleMode                string
	LowTenths                int32
	HighTenths               int32
	StepTenths               int32
	TimberPercent            bool
	Face                     string
	Surface                  string
	DrySurface               string
	HoursSinceWash           *int16
	HoursSinceHeatOff        *int16
	Heated                   *bool
	Rain                     string
	SaltWiped                *bool
	ZeroReset                *bool
	Battery                  string
	Source                   string
	Quoted                   bool
	State                    string
	BeganAt                  time.Time
	ClosedAt                 *time.Time
	Note                     string
	Version                  int32
	AirDecidegrees           *int16
	HumidityPermille         *int16
	SkinPortDecidegrees      *int16
	SkinStarboardDecidegrees *int16
}

// BlockCheck is a reading on a reference block, before, midway or after a pass.
type BlockCheck struct {
	ID          uuid.UUID
	Block       string // low, high or air
	Moment      string // before, midway or after
	ValueTenths int32
	At          time.Time
	PassID      uuid.UUID
}

// Plan says which places are read, in which order, and which of them are dry.
type Plan struct {
	ID              uuid.UUID
	PlanVersion     int32
	Kind            string
	Note            string
	DryChangeReason string
	CreatedAt       time.Time
	Places          []int32 // ordinals in order of reading
	Dry             []int32
	Targeted        []int32 // over an anomaly: kept out of averages
}

// Entry is what stands in the grid at one place.
type Entry struct {
	Ordinal    int32
	ID         uuid.UUID
	Value      int32   // twentieths of a scale unit
	Placements []int16 // tenths, as read
	AsWritten  string
	Surface    string
}

// NotReached is a place that could not be read, and why.
type NotReached struct {
	ID      uuid.UUID
	Ordinal int32
	Reason  string
}

// PassPage is a pass with its plan and all that was entered.
type PassPage struct {
	HistoryPass
	Axis       Axis
	Plan       Plan
	Entries    []Entry
	NotReached []NotReached
}

// Sees says whom a read is for, where restricted jobs and guests are concerned.
type Sees struct {
	Member uuid.UUID
	Guest  bool // sees only the jobs he or she was let into
	Self   bool // the service itself sees all
}

func sees(a domain.Actor) Sees {
	return Sees{Member: a.Member, Guest: a.OnlyGuest(), Self: a.Means == domain.BySelf}
}

// PassReader reads passes.
type PassReader interface {
	Pass(ctx context.Context, practice, id uuid.UUID, who Sees) (PassPage, error)
	Place(ctx context.Context, practice, id uuid.UUID, who Sees) (Place, error)
	ReadReading(ctx context.Context, practice, id uuid.UUID, who Sees) (Reading, error)
}

// PassWriter writes passes.
type PassWriter interface {
	// PassContext reads a pass that the actor may see.
	PassContext(ctx context.Context, id uuid.UUID, who Sees) (PassContext, error)
	// LockPass holds the pass until the transaction ends and tells its state of this moment.
	LockPass(ctx context.Context, id uuid.UUID) (state string, err error)
	// VisitVessel finds the vessel of a visit that the actor may see.
	VisitVessel(ctx context.Context, visit uuid.UUID, who Sees) (vessel uuid.UUID, err error)
	// VesselOf finds the vessel of an element, and that of a plan.
	VesselOf(ctx context.Context, element, plan uuid.UUID) (byElement, byPlan uuid.UUID, err error)
	ScaleInstrument(ctx context.Context, scale uuid.UUID) (instrument uuid.UUID, err error)
	InsertPass(ctx context.Context, p OpenPass) error
	UpdatePass(ctx context.Context, p PassContext) error
	ClosePass(ctx context.Context, id uuid.UUID, version int32, at time.Time) error
	InsertBlockCheck(ctx context.Context, c BlockCheck) error
}

// Pass reads one pass with its plan and all that was entered.
func (s *Service) Pass(ctx context.Context, a domain.Actor, id uuid.UUID) (PassPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return PassPage{}, err
	}
	page, err := s.store.Pass(ctx, a.Practice, id, sees(a))
	if err != nil {
		return PassPage{}, err
	}
	page.judge(page.Axis)
	return page, nil
}

// OpenPass is a new pass in a visit.
type OpenPass struct {
	Mutation            uuid.UUID `json:"-"`
	ID                  uuid.UUID
	Visit               uuid.UUID
	Element             uuid.UUID
	Plan                uuid.UUID
	Hand                *uuid.UUID
	Instrument          *uuid.UUID
	Scale               *uuid.UUID
	InstrumentAsWritten string
	HandAsWritten       string
	Face                string
	Surface             string
	DrySurface          string
	HoursSinceWash      *int16
	HoursSinceHeatOff   *int16
	Heated              *bool
	Rain                string
	SaltWiped           *bool
	ZeroReset           *bool
	Battery             string
	Source              string
	Quoted              bool
	BeganAt             time.Time
	Note                string
	Unasked             *Unasked `json:",omitempty"`
}

// OpenPass opens a pass. A pass whose context did not survive says so with Quoted;
// any other names its hand, instrument and scale.
func (s *Service) OpenPass(ctx context.Context, a domain.Actor, in OpenPass) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "openPass", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if !in.Quoted && (in.Hand == nil || in.Instrument == nil || in.Scale == nil) {
			return Done{}, domain.Invalidf("instrument", "Name the hand, the instrument and its scale, or mark the pass as quoted from an old report.")
		}
		v, err := attended(ctx, tx, a, in.Visit)
		if err != nil {
			return Done{}, err
		}
		vessel := v.VesselID
		if in.Face == "inside" && !in.Quoted {
			if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingPass, in.ID), []string{"board and survey"}, in.Unasked}); err != nil {
				return Done{}, err
			}
		}
		byElement, byPlan, err := tx.VesselOf(ctx, in.Element, in.Plan)
		if err != nil {
			return Done{}, err
		}
		if byElement != vessel || byPlan != vessel {
			return Done{}, domain.Invalidf("plan", "The visit, the element and the plan must belong to one vessel.")
		}
		if in.Scale != nil {
			of, err := tx.ScaleInstrument(ctx, *in.Scale)
			if err != nil {
				return Done{}, err
			}
			if in.Instrument == nil || of != *in.Instrument {
				return Done{}, domain.Invalidf("scale", "This scale belongs to another instrument.")
			}
		}
		if err := tx.InsertPass(ctx, in); err != nil {
			return Done{}, err
		}
		if err := provesItself(ctx, tx, in, a); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, in.ID), ref(domain.ThingVisit, in.Visit), ref(domain.ThingVessel, vessel)), tx.WriteGrid(ctx, in.ID)
	})
}

// EditPass adds to an open pass's context; nil leaves a field as it is.
type EditPass struct {
	Mutation          uuid.UUID `json:"-"`
	ID                uuid.UUID
	Version           int32
	Surface           *string
	DrySurface        *string
	HoursSinceWash    *int16
	HoursSinceHeatOff *int16
	Heated            *bool
	Rain              *string
	SaltWiped         *bool
	ZeroReset         *bool
	Battery           *string
	Note              *string
}

// EditPass adds to an open pass's context.
func (s *Service) EditPass(ctx context.Context, a domain.Actor, in EditPass) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "editPass", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, err := openPass(ctx, tx, in.ID, a)
		if err != nil {
			return Done{}, err
		}
		p.Version = in.Version
		set(&p.Surface, in.Surface)
		set(&p.DrySurface, in.DrySurface)
		set(&p.Rain, in.Rain)
		set(&p.Battery, in.Battery)
		set(&p.Note, in.Note)
		setPtr(&p.HoursSinceWash, in.HoursSinceWash)
		setPtr(&p.HoursSinceHeatOff, in.HoursSinceHeatOff)
		setPtr(&p.Heated, in.Heated)
		setPtr(&p.SaltWiped, in.SaltWiped)
		setPtr(&p.ZeroReset, in.ZeroReset)
		return touched(ref(domain.ThingPass, p.ID), ref(domain.ThingVessel, p.VesselID)), tx.UpdatePass(ctx, p)
	})
}

// openPass reads a pass that is still open, holding it until the transaction ends.
func openPass(ctx context.Context, tx Tx, id uuid.UUID, a domain.Actor) (PassContext, error) {
	p, err := tx.PassContext(ctx, id, sees(a))
	if err != nil {
		return p, err
	}
	if p.State, err = tx.LockPass(ctx, id); err != nil {
		return p, err
	}
	if p.State != "open" {
		return p, domain.Conflictf("This pass is %s. Correct or replace single readings, or open a new pass.", p.State)
	}
	return p, nil
}

// RecordBlockCheck is a reading on a reference block.
type RecordBlockCheck struct {
	Mutation uuid.UUID `json:"-"`
	Check    BlockCheck
}

// RecordBlockCheck keeps a reading on a reference block, before, midway or after a pass.
func (s *Service) RecordBlockCheck(ctx context.Context, a domain.Actor, in RecordBlockCheck) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordBlockCheck", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Check.ID); err != nil {
			return Done{}, err
		}
		p, err := openPass(ctx, tx, in.Check.PassID, a)
		if err != nil {
			return Done{}, err
		}
		if v := in.Check.ValueTenths; p.ScaleID != nil && (v < p.LowTenths || v > p.HighTenths) {
			return Done{}, beyond("valueTenths", p)
		}
		return touched(ref(domain.ThingPass, p.ID), ref(domain.ThingVessel, p.VesselID)), tx.InsertBlockCheck(ctx, in.Check)
	})
}

// ClosePass says that a pass's surveyor is done with it.
type ClosePass struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	At       time.Time
}

// ClosePass closes a pass. What its context still lacks stays said with it.
func (s *Service) ClosePass(ctx context.Context, a domain.Actor, in ClosePass) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "closePass", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, err := openPass(ctx, tx, in.ID, a)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPass, p.ID), ref(domain.ThingVessel, p.VesselID)), tx.ClosePass(ctx, in.ID, in.Version, in.At)
	})
}

// setPtr changes a field that may be unknown where the input names it.
func setPtr[T any](field **T, to *T) {
	if to != nil {
		*field = to
	}
}
