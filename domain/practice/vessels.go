package practice

import (
	"context"
	"encoding/json"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/figure"
)

// Vessel is one hull, for as long as the practice knows her. Lengths are millimetres.
type Vessel struct {
	ID                uuid.UUID
	Name              string
	Kind              string // in words: fin-keel sloop
	Builder           string
	Model             string
	YardNumber        string
	MouldedYear       *int16
	HullNumberAsRead  string
	HullNumberWhere   string
	HullNumberAltered bool
	Registry          string
	OfficialNumber    string
	SailNumber        string
	LoaMm             *int32
	HullLengthMm      *int32
	LwlMm             *int32
	BeamMm            *int32
	DraughtMm         *int32
	DisplacementKg    *int32
	UnderbodyAreaM2   *float64
	Water             string // salt, brackish, fresh, or empty
	MonthsAfloat      *int16
	Notes             string
	CreatedAt         time.Time
	Version           int32
}

// VesselLine is a vessel as lists and other things name one.
type VesselLine struct {
	ID          uuid.UUID
	Name        string
	Kind        string
	LoaMm       *int32
	MouldedYear *int16
	HullNumber  string
	Figure      json.RawMessage // of her hull, for a silhouette
	Yard        string          // where she stands ashore now
	LiftedAt    *time.Time      // nil while afloat or unknown
	TimeZone    string
	LastPassAt  *time.Time
	FoundAs     string // the name or number by which a search found her
}

// Element is a part of a vessel with axes of its own.
type Element struct {
	ID        uuid.UUID
	VesselID  uuid.UUID
	Kind      string
	Name      string
	Figure    json.RawMessage
	BootTopMm *int32
	Version   int32
}

// Datum is the physical mark that rows and stations are measured from.
type Datum struct {
	ID           uuid.UUID
	ElementID    uuid.UUID
	DatumVersion int32
	Mark         string
	OffsetMm     *int32 // to the painted waterline
	Note         string
	ValidFrom    *time.Time
}

// Layer is construction, coating or what lies behind, as an outline on an element.
type Layer struct {
	ID        uuid.UUID
	ElementID uuid.UUID
	Kind      string // construction, coating, behind
	What      string
	Side      *string
	Outline   json.RawMessage // [[along mm, down mm], …]; empty: the whole element
	Detail    json.RawMessage
	HowKnown  string
	ValidFrom *time.Time
	ValidTo   *time.Time
	Version   int32
}

// Event is something that happened to a vessel, never a lift or a launch.
type Event struct {
	ID        uuid.UUID
	Kind      string
	What      string
	FromOn    time.Time // first and last day it may have been
	ToOn      time.Time
	AsWritten string
	Source    string
}

// VesselParts says what of a vessel a reader wants beside herself.
type VesselParts struct {
	FormerNames, Elements, Plans, Events, Spells, People, Jobs, Reports, Recommendations, Reinspections, Photos, History bool

	Gate bool      // of the history: what may be said of its passes
	Now  time.Time // what is due is due on a day; the use case sets it
}

// VesselPage is a vessel with the parts that were asked for.
type VesselPage struct {
	Vessel
	FormerNames []string
	Elements    []Element
	Datums      []Datum
	Layers      []Layer
	Plans       []Plan
	Events      []Event
	People      []PartyRole
	Spells      []Spell
	Jobs        []JobLine
	Reports     []ReportLine
	Photos      []Photo

	Recommendations []Recommendation
	States          []RecommendationState // of all of them, oldest first
	Reinspections   []Reinspection

	History History
}

// VesselReader reads vessels.
type VesselReader interface {
	Vessel(ctx context.Context, practice, id uuid.UUID, want VesselParts, who Sees) (VesselPage, error)
	Vessels(ctx context.Context, practice uuid.UUID, search string, page Page, who Sees) ([]VesselLine, error)
	Plan(ctx context.Context, practice, id uuid.UUID, who Sees) (Plan, error)
	ElementPage(ctx context.Context, practice, id uuid.UUID, who Sees) (Element, []Datum, []Layer, error)
}

// VesselWriter writes vessels.
type VesselWriter interface {
	InsertVessel(ctx context.Context, v Vessel, now time.Time) error
	Vessel(ctx context.Context, id uuid.UUID) (Vessel, error)
	UpdateVessel(ctx context.Context, v Vessel) error
	InsertVesselName(ctx context.Context, id, vessel uuid.UUID, kind, name string) error
	InsertElement(ctx context.Context, e Element) error
	Element(ctx context.Context, id uuid.UUID) (Element, error)
	UpdateElement(ctx context.Context, e Element) error
	InsertDatum(ctx context.Context, d Datum) error
	InsertLayer(ctx context.Context, l Layer) error
	EndLayer(ctx context.Context, id uuid.UUID, version int32, on time.Time) (element uuid.UUID, err error)
	InsertEvent(ctx context.Context, vessel uuid.UUID, e Event) error
}

// Vessel reads a vessel with the parts asked for, in one trip. against names the pass
// that her history is held against; nil takes the newest.
func (s *Service) Vessel(ctx context.Context, a domain.Actor, id uuid.UUID, want VesselParts, against *uuid.UUID) (VesselPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return VesselPage{}, err
	}
	want.Now = s.instant()
	page, err := s.store.Vessel(ctx, a.Practice, id, want, sees(a))
	if err == nil {
		err = s.address(ctx, page.Photos)
	}
	if err != nil || !want.History {
		return page, err
	}
	if !want.Gate {
		return page, s.stood(a, &page.History, id, against)
	}
	return page, s.gated(a, &page.History, id, against)
}

// Vessels lists a page of vessels by name; search looks through every name she ever had
// and every number.
func (s *Service) Vessels(ctx context.Context, a domain.Actor, search string, page Page) ([]VesselLine, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	if len(search) > 100 {
		return nil, domain.Invalidf("search", "Look for at most 100 letters.")
	}
	return s.store.Vessels(ctx, a.Practice, strings.TrimSpace(search), page, sees(a))
}

// Element reads an element with its newest datum and its layers.
func (s *Service) Element(ctx context.Context, a domain.Actor, id uuid.UUID) (Element, []Datum, []Layer, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Element{}, nil, nil, err
	}
	return s.store.ElementPage(ctx, a.Practice, id, sees(a))
}

// AddVessel is a new vessel.
type AddVessel struct {
	Mutation    uuid.UUID `json:"-"`
	Vessel      Vessel
	FormerNames []string
}

// AddVessel adds a vessel. Her hull number is kept exactly as read and never refused.
func (s *Service) AddVessel(ctx context.Context, a domain.Actor, in AddVessel) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addVessel", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Vessel.ID); err != nil {
			return Done{}, err
		}
		if err := in.Vessel.check(); err != nil {
			return Done{}, err
		}
		if err := tx.InsertVessel(ctx, in.Vessel, s.instant()); err != nil {
			return Done{}, err
		}
		for _, name := range in.FormerNames {
			if err := tx.InsertVesselName(ctx, uuid.Must(uuid.NewV7()), in.Vessel.ID, "former name", name); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingVessel, in.Vessel.ID)), nil
	})
}

func (v Vessel) check() error {
	if strings.TrimSpace(v.Name) == "" {
		return domain.Invalidf("name", "Give her a name, or write “unnamed” and the hull number.")
	}
	for field, mm := range map[string]*int32{"loaMm": v.LoaMm, "hullLengthMm": v.HullLengthMm, "lwlMm": v.LwlMm, "beamMm": v.BeamMm, "draughtMm": v.DraughtMm} {
		if mm != nil && (*mm < 100 || *mm > 200_000) {
			return domain.Invalidf(field, "Lengths are millimetres, between 100 and 200 000.")
		}
	}
	return nil
}

// EditVessel is a change to a vessel; nil leaves a field as it is.
type EditVessel struct {
	Mutation          uuid.UUID `json:"-"`
	ID                uuid.UUID
	Version           int32
	Name              *string
	Kind              *string
	Builder           *string
	Model             *string
	YardNumber        *string
	MouldedYear       *int16
	HullNumberAsRead  *string
	HullNumberWhere   *string
	HullNumberAltered *bool
	Registry          *string
	OfficialNumber    *string
	SailNumber        *string
	LoaMm             *int32
	HullLengthMm      *int32
	LwlMm             *int32
	BeamMm            *int32
	DraughtMm         *int32
	DisplacementKg    *int32
	UnderbodyAreaM2   *float64
	Water             *string
	MonthsAfloat      *int16
	Notes             *string
}

// EditVessel changes a vessel. A new name leaves the one before as a former name.
func (s *Service) EditVessel(ctx context.Context, a domain.Actor, in EditVessel) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "editVessel", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		v, err := tx.Vessel(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		before := v.Name
		in.apply(&v)
		if err := v.check(); err != nil {
			return Done{}, err
		}
		if err := tx.UpdateVessel(ctx, v); err != nil {
			return Done{}, err
		}
		if before != v.Name {
			if err := tx.InsertVesselName(ctx, uuid.Must(uuid.NewV7()), v.ID, "former name", before); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingVessel, v.ID)), nil
	})
}

func (in EditVessel) apply(v *Vessel) {
	v.Version = in.Version
	set(&v.Name, in.Name)
	set(&v.Kind, in.Kind)
	set(&v.Builder, in.Builder)
	set(&v.Model, in.Model)
	set(&v.YardNumber, in.YardNumber)
	setPtr(&v.MouldedYear, in.MouldedYear)
	set(&v.HullNumberAsRead, in.HullNumberAsRead)
	set(&v.HullNumberWhere, in.HullNumberWhere)
	set(&v.HullNumberAltered, in.HullNumberAltered)
	set(&v.Registry, in.Registry)
	set(&v.OfficialNumber, in.OfficialNumber)
	set(&v.SailNumber, in.SailNumber)
	setPtr(&v.LoaMm, in.LoaMm)
	setPtr(&v.HullLengthMm, in.HullLengthMm)
	setPtr(&v.LwlMm, in.LwlMm)
	setPtr(&v.BeamMm, in.BeamMm)
	setPtr(&v.DraughtMm, in.DraughtMm)
	setPtr(&v.DisplacementKg, in.DisplacementKg)
	setPtr(&v.UnderbodyAreaM2, in.UnderbodyAreaM2)
	set(&v.Water, in.Water)
	setPtr(&v.MonthsAfloat, in.MonthsAfloat)
	set(&v.Notes, in.Notes)
}

// AddElement is a new part of a vessel.
type AddElement struct {
	Mutation uuid.UUID `json:"-"`
	Element  Element
}

// AddElement adds a part of a vessel with axes of its own. A figure that cannot be
// drawn is refused with what is wrong in it.
func (s *Service) AddElement(ctx context.Context, a domain.Actor, in AddElement) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addElement", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Element.ID); err != nil {
			return Done{}, err
		}
		if err := checkFigure(in.Element.Figure); err != nil {
			return Done{}, err
		}
		if _, err := tx.Vessel(ctx, in.Element.VesselID); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingElement, in.Element.ID), ref(domain.ThingVessel, in.Element.VesselID)), tx.InsertElement(ctx, in.Element)
	})
}

// EditElement is a change to an element; nil leaves a field as it is.
type EditElement struct {
	Mutation  uuid.UUID `json:"-"`
	ID        uuid.UUID
	Version   int32
	Name      *string
	Figure    json.RawMessage
	BootTopMm *int32
}

// EditElement changes an element's name, figure or boot-top.
func (s *Service) EditElement(ctx context.Context, a domain.Actor, in EditElement) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "editElement", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := checkFigure(in.Figure); err != nil {
			return Done{}, err
		}
		e, err := tx.Element(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		e.Version = in.Version
		set(&e.Name, in.Name)
		setPtr(&e.BootTopMm, in.BootTopMm)
		if in.Figure != nil {
			e.Figure = in.Figure
		}
		return touched(ref(domain.ThingElement, e.ID), ref(domain.ThingVessel, e.VesselID)), tx.UpdateElement(ctx, e)
	})
}

// checkFigure refuses dimensions that no figure can be drawn from.
func checkFigure(raw json.RawMessage) error {
	if raw == nil {
		return nil
	}
	if _, err := figure.Parse(raw); err != nil {
		return &domain.Fault{Kind: domain.Invalid, Field: "figure", Text: "No figure can be drawn from these dimensions: " + err.Error(), Err: err}
	}
	return nil
}

// AddDatum is a new version of an element's datum.
type AddDatum struct {
	Mutation uuid.UUID `json:"-"`
	Datum    Datum
}

// AddDatum adds a new version of the mark that an element is measured from; places keep
// id and label.
func (s *Service) AddDatum(ctx context.Context, a domain.Actor, in AddDatum) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addDatum", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Datum.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Datum.Mark) == "" {
			return Done{}, domain.Invalidf("mark", "Name the physical mark: stern post, sheer, a moulded line. Painted lines move.")
		}
		e, err := tx.Element(ctx, in.Datum.ElementID)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingElement, e.ID), ref(domain.ThingVessel, e.VesselID)), tx.InsertDatum(ctx, in.Datum)
	})
}

// AddLayer is a new layer of an element.
type AddLayer struct {
	Mutation uuid.UUID `json:"-"`
	Layer    Layer
}

// AddLayer adds construction, a coating or what lies behind.
func (s *Service) AddLayer(ctx context.Context, a domain.Actor, in AddLayer) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addLayer", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Layer.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Layer.What) == "" {
			return Done{}, domain.Invalidf("what", "Say what it is: water tank, epoxy barrier coat, single skin.")
		}
		if err := in.Layer.checkOutline(); err != nil {
			return Done{}, err
		}
		e, err := tx.Element(ctx, in.Layer.ElementID)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingElement, e.ID), ref(domain.ThingVessel, e.VesselID)), tx.InsertLayer(ctx, in.Layer)
	})
}

func (l *Layer) checkOutline() (err error) {
	if len(l.Detail) == 0 {
		l.Detail = json.RawMessage(`{}`)
	}
	l.Outline, err = outline(l.Outline)
	return err
}

// EndLayer ends a layer on a day.
type EndLayer struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	On       time.Time
}

// EndLayer ends a layer: a tank removed, a coating taken off. What was said of it before stays.
func (s *Service) EndLayer(ctx context.Context, a domain.Actor, in EndLayer) (done Done, err error) {
	return s.write(ctx, &a, domain.WriteVessel, "endLayer", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		element, err := tx.EndLayer(ctx, in.ID, in.Version, in.On)
		return touched(ref(domain.ThingElement, element), ref(domain.ThingLayer, in.ID)), err
	})
}

// AddEvent is something that happened to a vessel.
type AddEvent struct {
	Mutation uuid.UUID `json:"-"`
	Vessel   uuid.UUID
	Event    Event
}

// AddEvent adds something that happened to a vessel.
func (s *Service) AddEvent(ctx context.Context, a domain.Actor, in AddEvent) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addEvent", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Event.ID); err != nil {
			return Done{}, err
		}
		if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingEvent, in.Event.ID), ref(domain.ThingVessel, in.Vessel)), tx.InsertEvent(ctx, in.Vessel, in.Event)
	})
}
