package practice_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// opening is a pass of a survey, not yet opened.
func (b *bundle) opening(h house, s survey) practice.OpenPass {
	hand := h.of[domain.Surveyor].Member
	return practice.OpenPass{
		Mutation: newID(), ID: newID(), Visit: s.visit, Element: s.element, Plan: s.plan, Hand: &hand, Instrument: &s.instrument, Scale: &s.scale,
		Face: "outside", Surface: "bare gelcoat", DrySurface: "bare gelcoat", Source: "metered", BeganAt: time.Date(2026, 4, 8, 9, 5, 0, 0, time.UTC),
	}
}

func TestAPassStatesItsContextOrIsQuoted(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	in := b.opening(b.ours, s)
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.OpenPass(ctx, hand, in) })
	for name, change := range map[string]func(*practice.OpenPass){
		"no hand":       func(p *practice.OpenPass) { p.Hand = nil },
		"no instrument": func(p *practice.OpenPass) { p.Instrument = nil },
		"no scale":      func(p *practice.OpenPass) { p.Scale = nil },
	} {
		p := b.opening(b.ours, s)
		change(&p)
		_, err := b.OpenPass(t.Context(), hand, p)
		t.Log(name)
		want(t, err, domain.Invalid, "instrument")
	}
	old := b.opening(b.ours, s)
	old.Quoted, old.Hand, old.Instrument, old.Scale, old.InstrumentAsWritten = true, nil, nil, nil, "a meter"
	_, err := b.OpenPass(t.Context(), hand, old)
	want(t, err, domain.Internal)
	// Of an old report the end of the scale is not known unless it is written.
	low := batch(old.ID, map[int32]int16{1: 0, 2: 0})
	low.Placements, low.Written = [][]int16{nil, nil}, []string{"<5", "<"}
	_, err = b.AddReadings(t.Context(), hand, low)
	want(t, err, domain.Invalid, "placements[1]")
	low.Mutation, low.Written = newID(), []string{"<5", "<6,5"}
	_, err = b.AddReadings(t.Context(), hand, low)
	want(t, err, domain.Internal)
	page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, old.ID))
	if page.Taken.At(0) != 100 || page.Taken.At(1) != 130 || page.Baseline.Valid() || len(page.Missing) != 1 || page.Missing[0].Code != "quoted" {
		t.Errorf("%v %+v %+v", page.Taken, page.Baseline, page.Missing)
	}
}

func TestAPassBelongsToOneVessel(t *testing.T) {
	t.Parallel()
	b := setup(t)
	one, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
	hand := b.ours.of[domain.Surveyor]
	for field, change := range map[string]func(*practice.OpenPass){
		"plan":  func(p *practice.OpenPass) { p.Plan = other.plan },
		"scale": func(p *practice.OpenPass) { p.Scale = &other.scale },
	} {
		p := b.opening(b.ours, one)
		change(&p)
		_, err := b.OpenPass(t.Context(), hand, p)
		want(t, err, domain.Invalid, field)
	}
	p := b.opening(b.ours, one)
	p.Element = other.element
	_, err := b.OpenPass(t.Context(), hand, p)
	want(t, err, domain.Invalid, "plan")
	theirs := b.survey(b.theirs, "Fulmar")
	for name, change := range map[string]func(*practice.OpenPass){
		"visit": func(p *practice.OpenPass) { p.Visit = theirs.visit }, "element": func(p *practice.OpenPass) { p.Element = theirs.element },
		"plan": func(p *practice.OpenPass) { p.Plan = theirs.plan }, "scale": func(p *practice.OpenPass) { p.Scale = &theirs.scale },
		"hand": func(p *practice.OpenPass) { p.Hand = ptr(b.theirs.of[domain.Surveyor].Member) },
	} {
		unknown := b.opening(b.ours, one)
		change(&unknown)
		_, err := b.OpenPass(t.Context(), hand, unknown)
		t.Log(name)
		want(t, err, domain.NotFound)
	}
}

func TestAPassIsEditedUntilItIsClosed(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	edit := practice.EditPass{Mutation: newID(), ID: pass, Version: 1, HoursSinceWash: ptr[int16](50), Rain: ptr("none")}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditPass(ctx, hand, edit) })
	edit.Mutation = newID()
	_, err := b.EditPass(t.Context(), hand, edit)
	want(t, err, domain.Conflict)
	_, err = b.EditPass(t.Context(), hand, practice.EditPass{Mutation: newID(), ID: pass, Version: 2, Rain: ptr("cats")})
	want(t, err, domain.Invalid, "rain")
	close := practice.ClosePass{Mutation: newID(), ID: pass, Version: 2, At: b.clock.now()}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ClosePass(ctx, hand, close) })
	page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if page.State != "closed" || *page.HoursSinceWash != 50 || page.Rain != "none" || page.Version != 3 {
		t.Errorf("%+v", page.PassContext)
	}
	for _, err := range []error{
		second(b.EditPass(t.Context(), hand, practice.EditPass{Mutation: newID(), ID: pass, Version: 3, Note: ptr("x")})),
		second(b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120}))),
		second(b.RecordBlockCheck(t.Context(), hand, practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: "after", At: b.clock.now()}})),
		second(b.ClosePass(t.Context(), hand, practice.ClosePass{Mutation: newID(), ID: pass, Version: 3, At: b.clock.now()})),
		second(b.MarkFollowUp(t.Context(), hand, practice.MarkFollowUp{Mutation: newID(), Pass: pass, Ordinals: []int32{1}, On: true})),
	} {
		want(t, err, domain.Conflict)
	}
}

func second[T any](_ T, err error) error { return err }

// What the context lacks is said with the pass, and comes off the list as it is given.
func TestWhatIsMissingIsSaid(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	missing := func() []string {
		page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
		var codes []string
		for _, w := range page.Missing {
			codes = append(codes, w.Code)
		}
		return codes
	}
	if got := missing(); !slices.Equal(got, []string{"block-before", "air", "skin", "wash", "rain"}) {
		t.Errorf("missing %v", got)
	}
	for _, moment := range []string{"before", "after"} {
		check := practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: moment, ValueTenths: 100, At: b.clock.now()}}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordBlockCheck(ctx, hand, check) })
	}
	must[practice.Done](t)(b.RecordCondition(t.Context(), hand, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
		ID: newID(), VisitID: s.visit, At: b.clock.now(), AirDecidegrees: ptr[int16](20), HumidityPermille: ptr[int16](800), SkinPortDecidegrees: ptr[int16](-1), SkinStarboardDecidegrees: ptr[int16](3),
	}}))
	must[practice.Done](t)(b.EditPass(t.Context(), hand, practice.EditPass{Mutation: newID(), ID: pass, Version: 1, HoursSinceWash: ptr[int16](50), Rain: ptr("none")}))
	if got := missing(); !slices.Equal(got, []string{"frost"}) {
		t.Errorf("missing %v, want the frost alone", got)
	}
	_, err := b.RecordBlockCheck(t.Context(), hand, practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: "before", ValueTenths: 1001, At: b.clock.now()}})
	want(t, err, domain.Invalid, "valueTenths")
	_, err = b.RecordBlockCheck(t.Context(), hand, practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: uuid.New(), PassID: pass, Block: "low", Moment: "before", At: b.clock.now()}})
	want(t, err, domain.Invalid, "id")
}
