package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Finding is something seen, heard, smelt or opened.
type Finding struct {
	ID        uuid.UUID
	VisitID   uuid.UUID
	ElementID *uuid.UUID
	Kind      string
	Sure      string // seen, indicated or suspected
	Text      string
	Measured  json.RawMessage
	LookAgain bool
	CreatedAt time.Time
	Version   int32
	Places    []int32 // ordinals
}

// Window is a scrape window: a bared patch of known area. Lengths are millimetres.
type Window struct {
	ID           uuid.UUID
	VisitID      uuid.UUID
	ElementID    uuid.UUID
	Side         string
	AlongMm      int32
	DownMm       int32
	WidthMm      int32
	HeightMm     int32
	BaredTo      string
	BlistersSeen int32
	MadeGood     string
}

// FindingReader reads findings.
type FindingReader interface {
	Finding(ctx context.Context, practice, id uuid.UUID, who Sees) (Finding, error)
}

// FindingWriter writes findings and scrape windows.
type FindingWriter interface {
	InsertFinding(ctx context.Context, f Finding, places []uuid.UUID, by *uuid.UUID, now time.Time) error
	InsertWindow(ctx context.Context, w Window) error
	// FindingVisit finds the visit that a finding was made in.
	FindingVisit(ctx context.Context, finding uuid.UUID) (visit uuid.UUID, err error)
}

// Finding reads one finding.
func (s *Service) Finding(ctx context.Context, a domain.Actor, id uuid.UUID) (Finding, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Finding{}, err
	}
	return s.store.Finding(ctx, a.Practice, id, sees(a))
}

// RecordFinding is something found in a visit, at places or on an element.
type RecordFinding struct {
	Mutation uuid.UUID `json:"-"`
	Finding  Finding
}

// RecordFinding keeps what was seen, heard, smelt or opened.
func (s *Service) RecordFinding(ctx context.Context, a domain.Actor, in RecordFinding) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordFinding", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		f := in.Finding
		if err := f.check(); err != nil {
			return Done{}, err
		}
		v, err := attended(ctx, tx, a, f.VisitID)
		if err != nil {
			return Done{}, err
		}
		if err := elementOf(ctx, tx, f.ElementID, v.VesselID); err != nil {
			return Done{}, err
		}
		places, err := placesAt(ctx, tx, v.VesselID, f.Places)
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingFinding, f.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID))
		return done, tx.InsertFinding(ctx, f, places, entered(a), s.instant())
	})
}

func (f *Finding) check() error {
	if err := newID("id", f.ID); err != nil {
		return err
	}
	if f.Kind = strings.TrimSpace(f.Kind); f.Kind == "" || len(f.Kind) > 100 {
		return domain.Invalidf("kind", "Say in a few words what it is: blister, crack, dull note, weep.")
	}
	if len(f.Text) > 8000 {
		return domain.Invalidf("text", "Keep a finding to 8000 letters. Split it, or put the rest into the report.")
	}
	if len(f.Measured) == 0 || string(f.Measured) == "null" {
		f.Measured = json.RawMessage(`{}`)
	}
	if !strings.HasPrefix(strings.TrimSpace(string(f.Measured)), "{") || len(f.Measured) > 8000 {
		return domain.Invalidf("measured", "Measurements are an object of names and values.")
	}
	return nil
}

// elementOf refuses a part of another vessel.
func elementOf(ctx context.Context, tx Tx, element *uuid.UUID, vessel uuid.UUID) error {
	if element == nil {
		return nil
	}
	e, err := tx.Element(ctx, *element)
	if err == nil && e.VesselID != vessel {
		err = domain.Invalidf("element", "This element belongs to another vessel.")
	}
	return err
}

// placesAt finds places of a vessel by their ordinals; each must be there.
func placesAt(ctx context.Context, tx Tx, vessel uuid.UUID, ordinals []int32) ([]uuid.UUID, error) {
	if len(ordinals) == 0 {
		return nil, nil
	}
	if len(ordinals) > maxBatch {
		return nil, domain.Invalidf("places", "Name at most %d places.", maxBatch)
	}
	found, err := tx.PlacesByOrdinal(ctx, vessel, ordinals)
	if err != nil {
		return nil, err
	}
	out := make([]uuid.UUID, len(ordinals))
	for k, o := range ordinals {
		id, known := found[o]
		if !known {
			return nil, domain.Invalidf(fmt.Sprintf("places[%d]", k), "The vessel has no place of ordinal %d.", o)
		}
		out[k] = id
	}
	return out, nil
}

// RecordWindow is a scrape window of a visit.
type RecordWindow struct {
	Mutation uuid.UUID `json:"-"`
	Window   Window
}

// RecordWindow keeps a scrape window: what was bared, where, and what was seen there.
func (s *Service) RecordWindow(ctx context.Context, a domain.Actor, in RecordWindow) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordWindow", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		w := in.Window
		if err := newID("id", w.ID); err != nil {
			return Done{}, err
		}
		if w.WidthMm > 5000 || w.HeightMm > 5000 {
			return Done{}, domain.Invalidf("widthMm", "A window is at most 5 m across. Width and height are millimetres.")
		}
		v, err := attended(ctx, tx, a, w.VisitID)
		if err != nil {
			return Done{}, err
		}
		if err := elementOf(ctx, tx, &w.ElementID, v.VesselID); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingWindow, w.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID)), tx.InsertWindow(ctx, w)
	})
}
