package practice_test

import (
	"slices"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestAnOldReportIsQuotedUnlessItsContextProvesOtherwise(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	paper := b.opening(b.ours, s)
	paper.Source, paper.Surface = "typed from paper", ""
	_, err := b.OpenPass(t.Context(), hand, paper)
	want(t, err, domain.Invalid, "quoted")
	paper.Mutation, paper.Surface, paper.DrySurface = newID(), "bare gelcoat", "bare gelcoat"
	_, err = b.OpenPass(t.Context(), hand, paper)
	want(t, err, domain.Internal)
	lost := b.readAt(b.ours, s, 9, 8, func(p *practice.OpenPass) {
		p.ID, p.Source, p.Quoted, p.Hand, p.Instrument, p.Scale, p.InstrumentAsWritten, p.HandAsWritten = newID(), "typed from paper", true, nil, nil, nil, "capacitance meter", "J. Sarne"
	})
	b.readAt(b.ours, s, 12, 8, func(p *practice.OpenPass) { p.ID = newID() })
	h := must[practice.History](t)(b.History(t.Context(), hand, s.vessel, nil))
	p := h.Passes[slices.IndexFunc(h.Passes, func(p practice.HistoryPass) bool { return p.ID == lost })]
	var codes []string
	for _, w := range p.LostContext {
		codes = append(codes, w.Code)
	}
	if p.Standing != practice.Quoted || !slices.Equal(codes, []string{"instrument", "scale", "hand"}) {
		t.Errorf("stands %s, lost %v", p.Standing, codes)
	}
}

func TestUnlikeGridsAreMatchedWithinTheirPositionErrors(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, hand, office := t.Context(), b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	words := practice.AddPlaces{Mutation: newID(), Element: s.element}
	// Two are told within reach of stations 1 and 3 of port, one lies 3 m off the grid.
	for k, along := range []int32{560, 1700, 5200} {
		words.IDs = append(words.IDs, newID())
		words.Labels, words.Sides = append(words.Labels, "old "+string(rune('1'+k))), append(words.Sides, "port")
		words.Along, words.Down, words.Errors = append(words.Along, along), append(words.Down, 400), append(words.Errors, 200)
	}
	_, err := b.AddPlaces(ctx, office, words)
	want(t, err, domain.Invalid, "errors[0]")
	words.Mutation, words.Errors = newID(), []int32{400, 400, 400}
	done := must[practice.Done](t)(b.AddPlaces(ctx, office, words))
	plan := practice.AddPlan{Mutation: newID(), ID: newID(), Vessel: s.vessel, Places: done.Repeats, DryChangeReason: "an old report names none"}
	must[practice.Done](t)(b.AddPlan(ctx, office, plan))
	old := b.opening(b.ours, s)
	old.ID, old.Plan, old.Quoted, old.Source, old.Hand, old.Instrument, old.Scale = newID(), plan.ID, true, "typed from paper", nil, nil, nil
	old.BeganAt = time.Date(2026, 4, 3, 9, 0, 0, 0, time.UTC)
	must[practice.Done](t)(b.OpenPass(ctx, hand, old))
	tenths := map[int32]int16{}
	for _, o := range done.Repeats {
		tenths[o] = 200
	}
	must[practice.Done](t)(b.AddReadings(ctx, hand, batch(old.ID, tenths)))
	b.readAt(b.ours, s, 8, 10)
	h := must[practice.History](t)(b.History(ctx, hand, s.vessel, nil))
	// Rayleigh's law: 2.4477 times the root of 400 mm and 50 mm squared and added is 986 mm.
	if m := h.Passes[0].Matched; m == nil || m.Comparable != 2 || m.Of != 3 || m.WithinMm != 986 {
		t.Errorf("matched %+v", m)
	}
	if h.Passes[1].Matched != nil || h.Axis.Errors[len(h.Axis.Errors)-1] != 400 {
		t.Errorf("the pass held: %+v; doubts %v", h.Passes[1].Matched, h.Axis.Errors)
	}
}
