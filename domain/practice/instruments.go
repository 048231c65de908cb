package practice

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Instrument is an instrument of the practice, always named in full.
type Instrument struct {
	ID          uuid.UUID
	Name        string
	Model       string
	Serial      string
	Kind        string // capacitance, pins, hammer …
	Sensing     string // deep, shallow, pins, or empty
	ZeroReset   bool
	BatteryNote string
	BoughtOn    *time.Time
	RetiredOn   *time.Time
	Version     int32
	Scales      []Scale
	BlockChecks []InstrumentBlockCheck
}

// Scale says where an instrument ends and how finely it is read, in tenths of its unit.
type Scale struct {
	ID            uuid.UUID
	Instrument    uuid.UUID
	Name          string
	Mode          string
	LowTenths     int32
	HighTenths    int32
	StepTenths    int32
	TimberPercent bool
}

// InstrumentBlockCheck is a reading on a reference block in one of its passes.
type InstrumentBlockCheck struct {
	Block       string
	Moment      string
	ValueTenths int32
	At          time.Time
	Scale       uuid.UUID
}

// InstrumentReader reads instruments.
type InstrumentReader interface {
	Instrument(ctx context.Context, practice, id uuid.UUID, withChecks bool) (Instrument, error)
	Instruments(ctx context.Context, practice uuid.UUID, page Page) ([]Instrument, error)
}

// InstrumentWriter writes instruments.
type InstrumentWriter interface {
	InsertInstrument(ctx context.Context, i Instrument) error
	Instrument(ctx context.Context, id uuid.UUID) (Instrument, error)
	UpdateInstrument(ctx context.Context, i Instrument) error
	InsertScale(ctx context.Context, s Scale) error
	Scale(ctx context.Context, id uuid.UUID) (Scale, error)
}

// Instrument reads one instrument, with the block checks of its passes if asked for.
func (s *Service) Instrument(ctx context.Context, a domain.Actor, id uuid.UUID, withChecks bool) (Instrument, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Instrument{}, err
	}
	return s.store.Instrument(ctx, a.Practice, id, withChecks)
}

// Instruments lists a page of instruments by name, with their scales.
func (s *Service) Instruments(ctx context.Context, a domain.Actor, page Page) ([]Instrument, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	return s.store.Instruments(ctx, a.Practice, page)
}

// AddInstrument is a new instrument.
type AddInstrument struct {
	Mutation   uuid.UUID `json:"-"`
	Instrument Instrument
}

// AddInstrument adds an instrument; its scales follow with AddScale.
func (s *Service) AddInstrument(ctx context.Context, a domain.Actor, in AddInstrument) (Done, error) {
	return s.write(ctx, &a, domain.WriteTools, "addInstrument", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Instrument.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Instrument.Name) == "" {
			return Done{}, domain.Invalidf("name", "Name the instrument in full, such as Skerrow deep No. 2.")
		}
		return touched(ref(domain.ThingInstrument, in.Instrument.ID)), tx.InsertInstrument(ctx, in.Instrument)
	})
}

// EditInstrument is a change to an instrument; nil leaves a field as it is.
type EditInstrument struct {
	Mutation    uuid.UUID `json:"-"`
	ID          uuid.UUID
	Version     int32
	Name        *string
	Serial      *string `json:",omitempty"`
	BatteryNote *string
	RetiredOn   *time.Time
	InUse       bool `json:",omitempty"` // takes a retirement back
}

// EditInstrument changes an instrument's name, serial number or note, retires it or takes
// that back. What it read stays its own.
func (s *Service) EditInstrument(ctx context.Context, a domain.Actor, in EditInstrument) (Done, error) {
	return s.write(ctx, &a, domain.WriteTools, "editInstrument", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		i, err := tx.Instrument(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if err := in.apply(&i); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingInstrument, i.ID)), tx.UpdateInstrument(ctx, i)
	})
}

func (in EditInstrument) apply(i *Instrument) error {
	i.Version = in.Version
	set(&i.Name, in.Name)
	set(&i.Serial, in.Serial)
	set(&i.BatteryNote, in.BatteryNote)
	setPtr(&i.RetiredOn, in.RetiredOn)
	switch {
	case in.InUse && in.RetiredOn != nil:
		return domain.Invalidf("retiredOn", "It is either retired on a day or in use.")
	case in.InUse:
		i.RetiredOn = nil
	case i.RetiredOn != nil && i.BoughtOn != nil && i.RetiredOn.Before(*i.BoughtOn):
		return domain.Invalidf("retiredOn", "It was retired before it was bought, on %s.", i.BoughtOn.Format("2 January 2006"))
	}
	i.Name, i.Serial = strings.TrimSpace(i.Name), strings.TrimSpace(i.Serial)
	if i.Name == "" {
		return domain.Invalidf("name", "Name the instrument in full, such as Skerrow deep No. 2.")
	}
	return nil
}

// AddScale is a new scale of an instrument.
type AddScale struct {
	Mutation uuid.UUID `json:"-"`
	Scale    Scale
}

// AddScale adds a scale. Its limits do not change afterwards: readings were checked against them.
func (s *Service) AddScale(ctx context.Context, a domain.Actor, in AddScale) (Done, error) {
	return s.write(ctx, &a, domain.WriteTools, "addScale", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Scale.ID); err != nil {
			return Done{}, err
		}
		if in.Scale.LowTenths >= in.Scale.HighTenths {
			return Done{}, domain.Invalidf("highTenths", "The upper end of the scale must lie above the lower one.")
		}
		if _, err := tx.Instrument(ctx, in.Scale.Instrument); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingInstrument, in.Scale.Instrument), ref(domain.ThingScale, in.Scale.ID)), tx.InsertScale(ctx, in.Scale)
	})
}
