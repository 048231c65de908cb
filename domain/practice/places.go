package practice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// maxPlaces is the most places that one call may add.
const maxPlaces = 400

// besideWithin is how near, in millimetres, a new place may come to an old one before
// the service asks whether it is the same spot.
const besideWithin = 100

// PlaceAt is a place as its writer sees it.
type PlaceAt struct {
	ID        uuid.UUID
	Ordinal   int32
	ElementID uuid.UUID
	Label     string
	Side      string
	AlongMm   int32
	DownMm    int32
}

// PlaceWriter writes places and plans.
type PlaceWriter interface {
	// LockVessel holds a vessel's ordinals and plan versions until the transaction ends.
	LockVessel(ctx context.Context, vessel uuid.UUID) error
	PlacesOfVessel(ctx context.Context, vessel uuid.UUID) ([]PlaceAt, error)
	InsertPlaces(ctx context.Context, vessel uuid.UUID, in AddPlaces, ordinals []int32) error
	NewestPlan(ctx context.Context, vessel uuid.UUID) (plan Plan, found bool, err error)
	InsertPlan(ctx context.Context, in AddPlan, places []uuid.UUID, by *uuid.UUID, now time.Time) error
}

// AddPlaces is new places in columns of one length.
type AddPlaces struct {
	Mutation  uuid.UUID `json:"-"`
	Element   uuid.UUID
	IDs       []uuid.UUID
	Labels    []string
	Sides     []string
	Along     []int32
	Down      []int32
	Stations  []int32 // nil, or Null where not numbered
	Rows      []int32
	Errors    []int32  // mm of doubt in each position, of places told in words; nil where they were measured
	ToldAs    []string `json:",omitempty"` // the words, as written; empty where it was measured
	BesideOld bool     // a place within 100 mm of an old one is meant
}

// AddPlaces adds places. Labels and ordinals are for ever; Done.Repeats lists the
// ordinals given, in the order of the ids.
func (s *Service) AddPlaces(ctx context.Context, a domain.Actor, in AddPlaces) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addPlaces", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(); err != nil {
			return Done{}, err
		}
		e, err := tx.Element(ctx, in.Element)
		if err != nil {
			return Done{}, err
		}
		if err := tx.LockVessel(ctx, e.VesselID); err != nil {
			return Done{}, err
		}
		old, err := tx.PlacesOfVessel(ctx, e.VesselID)
		if err != nil {
			return Done{}, err
		}
		if err := in.beside(old); err != nil {
			return Done{}, err
		}
		ordinals := make([]int32, len(in.IDs))
		for k := range ordinals {
			ordinals[k] = int32(len(old) + k + 1)
		}
		if err := tx.InsertPlaces(ctx, e.VesselID, in, ordinals); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingVessel, e.VesselID), ref(domain.ThingElement, e.ID))
		done.Kept, done.Repeats = len(ordinals), ordinals
		return done, nil
	})
}

func (in AddPlaces) check() error {
	n := len(in.IDs)
	if n == 0 || n > maxPlaces {
		return domain.Invalidf("ids", "Add 1 to %d places at a time.", maxPlaces)
	}
	for field, has := range map[string]int{"labels": len(in.Labels), "sides": len(in.Sides), "along": len(in.Along), "down": len(in.Down)} {
		if has != n {
			return domain.Invalidf(field, "This column has %d slots, the ids have %d.", has, n)
		}
	}
	if (in.Stations != nil && len(in.Stations) != n) || (in.Rows != nil && len(in.Rows) != n) {
		return domain.Invalidf("stations", "Stations and rows have as many slots as the ids, or are left out.")
	}
	if in.Errors != nil && len(in.Errors) != n {
		return domain.Invalidf("errors", "Doubts of position have as many slots as the ids, or are left out.")
	}
	if in.ToldAs != nil && len(in.ToldAs) != n {
		return domain.Invalidf("toldAs", "Words have as many slots as the ids, or are left out.")
	}
	for k, mm := range in.Errors {
		if mm != 0 && (mm < leastDoubt || mm > mostDoubt) {
			return domain.Invalidf(fmt.Sprintf("errors[%d]", k), "How far off a place may lie is %d to %d mm: of one told in words usually %d to %d (common practice, no source); one that was measured has 0.", leastDoubt, mostDoubt, leastWordError, mostWordError)
		}
	}
	for k, words := range in.ToldAs {
		if strings.TrimSpace(words) != "" && (in.Errors == nil || in.Errors[k] == 0) {
			return domain.Invalidf(fmt.Sprintf("errors[%d]", k), "Estimate how far off a place told in words may lie: usually %d to %d mm (common practice, no source).", leastWordError, mostWordError)
		}
	}
	for k := range n {
		if err := newID(fmt.Sprintf("ids[%d]", k), in.IDs[k]); err != nil {
			return err
		}
		if strings.TrimSpace(in.Labels[k]) == "" {
			return domain.Invalidf(fmt.Sprintf("labels[%d]", k), "A place needs a label, such as 13/3.")
		}
		if in.Sides[k] != "port" && in.Sides[k] != "starboard" && in.Sides[k] != "centre" {
			return domain.Invalidf(fmt.Sprintf("sides[%d]", k), "The side is port, starboard or centre.")
		}
		if abs(in.Along[k]) > 200_000 || abs(in.Down[k]) > 50_000 {
			return domain.Invalidf(fmt.Sprintf("along[%d]", k), "Positions are whole millimetres; this one lies off any hull.")
		}
	}
	return nil
}

// beside asks where a new place lies within 100 mm of an old one: is it the same spot?
func (in AddPlaces) beside(old []PlaceAt) error {
	if in.BesideOld {
		return nil
	}
	for k := range in.IDs {
		if in.Errors != nil && in.Errors[k] > 0 { // told in words, it cannot say whether it is the same spot
			continue
		}
		for _, o := range old {
			if o.ElementID == in.Element && o.Side == in.Sides[k] &&
				math.Hypot(float64(o.AlongMm-in.Along[k]), float64(o.DownMm-in.Down[k])) < besideWithin {
				return domain.Invalidf(fmt.Sprintf("along[%d]", k),
					"Place %s would lie within %d mm of the old place %s %s. Use the old one, or say besideOld if it is meant.",
					in.Labels[k], besideWithin, o.Side, o.Label)
			}
		}
	}
	return nil
}

// AddPlan is a new version of a vessel's plan.
type AddPlan struct {
	Mutation        uuid.UUID `json:"-"`
	ID              uuid.UUID
	Vessel          uuid.UUID
	Places          []int32 // ordinals in order of reading
	Dry             []int32
	Targeted        []int32
	Note            string
	DryChangeReason string
}

// AddPlan adds a new version of the plan. Where its dry places differ from the version
// before it needs a reason, which is shown wherever the figures are.
func (s *Service) AddPlan(ctx context.Context, a domain.Actor, in AddPlan) (Done, error) {
	return s.write(ctx, &a, domain.WriteVessel, "addPlan", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := tx.LockVessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		old, err := tx.PlacesOfVessel(ctx, in.Vessel)
		if err != nil {
			return Done{}, err
		}
		places, err := in.places(old)
		if err != nil {
			return Done{}, err
		}
		before, found, err := tx.NewestPlan(ctx, in.Vessel)
		if err != nil {
			return Done{}, err
		}
		if found && strings.TrimSpace(in.DryChangeReason) == "" && !sameSet(before.Dry, in.Dry) {
			return Done{}, domain.Invalidf("dryChangeReason", "The dry places differ from version %d of the plan. Say why: the reason is shown wherever the figures are.", before.PlanVersion)
		}
		return touched(ref(domain.ThingPlan, in.ID), ref(domain.ThingVessel, in.Vessel)), tx.InsertPlan(ctx, in, places, entered(a), s.instant())
	})
}

// places finds the places of the plan and refuses what does not fit together.
func (in AddPlan) places(old []PlaceAt) ([]uuid.UUID, error) {
	if len(in.Places) == 0 || len(in.Places) > 2000 {
		return nil, domain.Invalidf("places", "A plan has 1 to 2000 places.")
	}
	of := make(map[int32]uuid.UUID, len(old))
	for _, o := range old {
		of[o.Ordinal] = o.ID
	}
	out := make([]uuid.UUID, len(in.Places))
	seen := map[int32]bool{}
	for k, o := range in.Places {
		id, known := of[o]
		if !known {
			return nil, domain.Invalidf(fmt.Sprintf("places[%d]", k), "The vessel has no place of ordinal %d.", o)
		}
		if seen[o] {
			return nil, domain.Invalidf(fmt.Sprintf("places[%d]", k), "Ordinal %d stands twice in the plan.", o)
		}
		seen[o], out[k] = true, id
	}
	for field, list := range map[string][]int32{"dry": in.Dry, "targeted": in.Targeted} {
		for k, o := range list {
			if !seen[o] {
				return nil, domain.Invalidf(fmt.Sprintf("%s[%d]", field, k), "Ordinal %d is not among the plan's places.", o)
			}
		}
	}
	return out, nil
}

func sameSet(a, b []int32) bool {
	x, y := slices.Clone(a), slices.Clone(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// Plan reads one version of a plan.
func (s *Service) Plan(ctx context.Context, a domain.Actor, id uuid.UUID) (Plan, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Plan{}, err
	}
	return s.store.Plan(ctx, a.Practice, id, sees(a))
}
