package practice_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// placesAt is one new place on the survey's hull.
func placesAt(s survey, label, side string, along, down int32) practice.AddPlaces {
	return practice.AddPlaces{
		Mutation: newID(), Element: s.element, IDs: []uuid.UUID{newID()}, Labels: []string{label}, Sides: []string{side}, Along: []int32{along}, Down: []int32{down},
	}
}

func TestPlacesKeepTheirOrdinalAndLabelForEver(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office := b.ours.of[domain.Office]
	in := placesAt(s, "9/1", "port", 9000, 300)
	done := thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddPlaces(ctx, office, in) })
	if fmt.Sprint(done.Repeats) != "[17]" {
		t.Errorf("ordinals %v, want 17 after the 16 that are there", done.Repeats)
	}
	_, err := b.AddPlaces(t.Context(), office, placesAt(s, "9/1", "port", 9500, 300))
	want(t, err, domain.Conflict, "labels")
	_, err = b.AddPlaces(t.Context(), office, placesAt(s, "9/1", "starboard", 9000, 300)) // the other side has labels of its own
	want(t, err, domain.Internal)
}

func TestANewPlaceBesideAnOldOneAsks(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel") // 1/1 port lies at 500 along, 400 above
	office := b.ours.of[domain.Office]
	near := placesAt(s, "1/1a", "port", 560, -460)
	_, err := b.AddPlaces(t.Context(), office, near)
	want(t, err, domain.Invalid, "along[0]")
	_, err = b.AddPlaces(t.Context(), office, placesAt(s, "1/1b", "starboard", 560, -560)) // 160 mm away
	want(t, err, domain.Internal)
	near.BesideOld = true
	_, err = b.AddPlaces(t.Context(), office, near)
	want(t, err, domain.Internal)
}

func TestPlacesAddedAtOnceGetOrdinalsOfTheirOwn(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	var all sync.WaitGroup
	for k := range int32(6) {
		all.Go(func() {
			if _, err := b.AddPlaces(t.Context(), b.ours.of[domain.Office], placesAt(s, fmt.Sprintf("9/%d", k), "port", 9000, 400*k)); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if n := value[int](b, `select count(distinct ordinal) from places where vessel_id = $1 and ordinal between 1 and 22`, s.vessel); n != 22 {
		t.Errorf("%d ordinals of 22", n)
	}
}

func TestPlacesThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	office := b.ours.of[domain.Office]
	for field, change := range map[string]func(*practice.AddPlaces){
		"sides[0]":  func(p *practice.AddPlaces) { p.Sides[0] = "left" },
		"labels[0]": func(p *practice.AddPlaces) { p.Labels[0] = " " },
		"labels":    func(p *practice.AddPlaces) { p.Labels[0] = "a label of more than twenty letters" },
		"ids[0]":    func(p *practice.AddPlaces) { p.IDs[0] = uuid.New() },
		"along[0]":  func(p *practice.AddPlaces) { p.Along[0] = 300_000 },
		"down":      func(p *practice.AddPlaces) { p.Down = nil },
		"stations":  func(p *practice.AddPlaces) { p.Stations = []int32{1, 2} },
		"ids":       func(p *practice.AddPlaces) { p.IDs = nil },
	} {
		in := placesAt(s, "9/1", "port", 9000, 300)
		change(&in)
		_, err := b.AddPlaces(t.Context(), office, in)
		want(t, err, domain.Invalid, field)
	}
	theirs := placesAt(b.survey(b.theirs, "Fulmar"), "9/1", "port", 9000, 300)
	_, err := b.AddPlaces(t.Context(), office, theirs)
	want(t, err, domain.NotFound)
}

func TestAPlanSaysWhyItsDryPlacesDiffer(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel") // dry: 1, 2, 5, 6, 9, 10, 13, 14
	hand := b.ours.of[domain.Surveyor]
	plan := practice.AddPlan{Mutation: newID(), ID: newID(), Vessel: s.vessel, Places: []int32{1, 2, 5, 6, 9, 10, 3, 4}, Dry: []int32{1, 2, 5, 6, 9, 10}, Targeted: []int32{4}}
	_, err := b.AddPlan(t.Context(), hand, plan)
	want(t, err, domain.Invalid, "dryChangeReason")
	plan.DryChangeReason = "the topsides aft were painted"
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddPlan(ctx, hand, plan) })
	kept := must[practice.Plan](t)(b.Plan(t.Context(), hand, plan.ID))
	if kept.PlanVersion != 2 || fmt.Sprint(kept.Places, kept.Dry, kept.Targeted) != "[1 2 5 6 9 10 3 4] [1 2 5 6 9 10] [4]" || kept.DryChangeReason != plan.DryChangeReason {
		t.Errorf("%+v", kept)
	}
	for field, change := range map[string]func(*practice.AddPlan){
		"places[1]":   func(p *practice.AddPlan) { p.Places[1] = 1 },
		"places[0]":   func(p *practice.AddPlan) { p.Places[0] = 99 },
		"places":      func(p *practice.AddPlan) { p.Places = nil },
		"dry[0]":      func(p *practice.AddPlan) { p.Dry = []int32{13} },
		"targeted[0]": func(p *practice.AddPlan) { p.Targeted = []int32{13} },
	} {
		bad := practice.AddPlan{Mutation: newID(), ID: newID(), Vessel: s.vessel, Places: []int32{1, 2, 5}, Dry: []int32{1}, DryChangeReason: "x"}
		change(&bad)
		_, err := b.AddPlan(t.Context(), hand, bad)
		want(t, err, domain.Invalid, field)
	}
	_, err = b.Plan(t.Context(), b.theirs.of[domain.Surveyor], plan.ID)
	want(t, err, domain.NotFound)
}
