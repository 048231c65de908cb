package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/finding"
	"boottop.example/practice/domain/report"
)

// Finding is something seen, heard, smelt or opened. It lies at places, or inside an
// outline drawn on the skin, or both.
type Finding struct {
	ID        uuid.UUID
	VisitID   uuid.UUID
	ElementID *uuid.UUID
	Form      string // of finding.Forms: what Measured holds; empty: as the surveyor put it
	Kind      string // of a form: its own word
	Sure      string // seen, indicated or suspected
	Text      string
	Measured  json.RawMessage
	Side      *string         // of the outline
	Outline   json.RawMessage // [[along mm, down mm], …]
	OtherFace *uuid.UUID      // the same spot found from the other face of the skin
	AgainOf   *uuid.UUID      // the earlier finding that this one looked at again
	LookAgain bool
	CreatedAt time.Time
	Version   int32
	Places    []int32 // ordinals
}

// Measurements says what was measured of it and what follows, in words.
func (f Finding) Measurements() (facts, derived []report.Fact) {
	return finding.Facts(f.Form, f.Measured)
}

// AgainLine is a spot of a vessel to be looked at again.
type AgainLine struct {
	Finding
	JobID    uuid.UUID
	FromAt   time.Time // of the visit that found it
	TimeZone string
	Photos   int32 // pinned to it
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
	// LookAgain lists what was marked to be looked at again and was not since.
	LookAgain(ctx context.Context, practice, vessel uuid.UUID, who Sees) ([]AgainLine, error)
}

// FindingWriter writes findings and scrape windows.
type FindingWriter interface {
	InsertFinding(ctx context.Context, f Finding, places []uuid.UUID, by *uuid.UUID, now time.Time) error
	// FindingToEdit reads a finding that the actor may see, holding it; issued tells
	// whether a report of its job was issued.
	FindingToEdit(ctx context.Context, id uuid.UUID, who Sees) (f Finding, issued bool, err error)
	UpdateFinding(ctx context.Context, f Finding, places []uuid.UUID) error
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

// LookAgain lists what earlier visits marked to be looked at again, newest first. One
// that a later finding looked at is answered, unless that one asks for another look.
func (s *Service) LookAgain(ctx context.Context, a domain.Actor, vessel uuid.UUID) ([]AgainLine, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	return s.store.LookAgain(ctx, a.Practice, vessel, sees(a))
}

// FindingForms lists what belongs to each kind of finding, for whoever draws its form.
func (s *Service) FindingForms(_ context.Context, a domain.Actor) ([]finding.Form, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	return finding.Forms(), nil
}

// RecordFinding is something found in a visit, at places, in an outline or on an element.
type RecordFinding struct {
	Mutation uuid.UUID `json:"-"`
	Finding  Finding
	Unasked  *Unasked `json:",omitempty"`
}

// RecordFinding keeps what was seen, heard, smelt or opened.
func (s *Service) RecordFinding(ctx context.Context, a domain.Actor, in RecordFinding) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordFinding", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		f := in.Finding
		if err := newID("id", f.ID); err != nil {
			return Done{}, err
		}
		v, places, err := f.settle(ctx, tx, a)
		if err != nil {
			return Done{}, err
		}
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingFinding, f.ID), f.needs(), in.Unasked}); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingFinding, f.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID))
		return done, tx.InsertFinding(ctx, f, places, entered(a), s.instant())
	})
}

// EditFinding puts a finding as it should have been, all of it.
type EditFinding struct {
	Mutation uuid.UUID `json:"-"`
	Finding  Finding   // its visit stays
}

// EditFinding changes a finding of a job whose report was not issued yet.
func (s *Service) EditFinding(ctx context.Context, a domain.Actor, in EditFinding) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "editFinding", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		f := in.Finding
		kept, issued, err := tx.FindingToEdit(ctx, f.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if issued {
			return Done{}, domain.Conflictf("A report that holds this finding was issued. Write an addendum, or a new finding.")
		}
		f.VisitID = kept.VisitID
		v, places, err := f.settle(ctx, tx, a)
		if err != nil {
			return Done{}, err
		}
		before := kept.needs()
		anew := slices.DeleteFunc(f.needs(), func(what string) bool { return slices.Contains(before, what) })
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingFinding, f.ID), anew, nil}); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingFinding, f.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID)), tx.UpdateFinding(ctx, f, places)
	})
}

// needs lists the permissions without which it cannot have been made.
func (f Finding) needs() []string {
	if f.Form == "" && f.Kind == "core sample" {
		return []string{finding.ToDrill}
	}
	return finding.Consents(f.Form, f.Measured)
}

// settle checks a finding and everything that it names: all of one vessel.
func (f *Finding) settle(ctx context.Context, tx Tx, a domain.Actor) (Visit, []uuid.UUID, error) {
	if err := f.check(); err != nil {
		return Visit{}, nil, err
	}
	v, err := attended(ctx, tx, a, f.VisitID)
	if err != nil {
		return v, nil, err
	}
	if err := elementOf(ctx, tx, f.ElementID, v.VesselID); err != nil {
		return v, nil, err
	}
	for _, other := range []*uuid.UUID{f.OtherFace, f.AgainOf} {
		if other != nil && *other == f.ID {
			return v, nil, domain.Invalidf("id", "A finding is not linked to itself.")
		}
		if err := findingOf(ctx, tx, a, other, v.VesselID); err != nil {
			return v, nil, err
		}
	}
	places, err := placesAt(ctx, tx, v.VesselID, f.Places)
	return v, places, err
}

func (f *Finding) check() error {
	if len(f.Text) > 8000 {
		return domain.Invalidf("text", "Keep a finding to 8000 letters. Split it, or put the rest into the report.")
	}
	if err := f.checkMeasured(); err != nil {
		return err
	}
	if f.Kind = strings.TrimSpace(f.Kind); f.Kind == "" || len(f.Kind) > 100 {
		return domain.Invalidf("kind", "Say in a few words what it is: old repair, drip, bulge.")
	}
	var err error
	if f.Outline, err = outline(f.Outline); err != nil {
		return err
	}
	if (string(f.Outline) != "[]") != (f.Side != nil) {
		return domain.Invalidf("side", "An outline lies on one side: port, starboard or centre. Without one there is no side.")
	}
	return nil
}

// checkMeasured holds what was measured against the form, and takes the form's own word
// for the kind. Without a form the figures are as an old report or another hand wrote them.
func (f *Finding) checkMeasured() error {
	if len(f.Measured) == 0 || string(f.Measured) == "null" {
		f.Measured = json.RawMessage(`{}`)
	}
	if !strings.HasPrefix(strings.TrimSpace(string(f.Measured)), "{") || len(f.Measured) > 8000 {
		return domain.Invalidf("measured", "Measurements are an object of names and values.")
	}
	if f.Form == "" {
		return nil
	}
	form, known := finding.FormOf(f.Form)
	if !known {
		return domain.Invalidf("form", "There is no form %q. Leave it out, and say the kind in words.", f.Form)
	}
	var err error
	if f.Measured, err = form.Check(f.Measured); err != nil {
		return err
	}
	f.Kind = finding.Name(f.Form, f.Measured)
	return nil
}

// outline takes the corners of a shape on the skin, in whole millimetres.
func outline(raw json.RawMessage) (json.RawMessage, error) {
	if len(raw) == 0 || string(raw) == "null" {
		return json.RawMessage(`[]`), nil
	}
	var points [][2]int32
	if err := json.Unmarshal(raw, &points); err != nil || len(points) > 200 {
		return nil, domain.Invalidf("outline", "An outline is up to 200 points [along, down] in whole millimetres.")
	}
	return json.Marshal(points)
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
	Unasked  *Unasked `json:",omitempty"`
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
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingWindow, w.ID), []string{"scrape"}, in.Unasked}); err != nil {
			return Done{}, err
		}
		if err := elementOf(ctx, tx, &w.ElementID, v.VesselID); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingWindow, w.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID)), tx.InsertWindow(ctx, w)
	})
}
