package practice_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

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

// A visit from an old report is known to the day, the month or the year, and stands for it.
func TestAnOldVisitIsDatedAsFarAsItIsKnown(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, office, hand := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	old := func(precision string) practice.PlanVisit {
		return practice.PlanVisit{
			Mutation: newID(), ID: newID(), Job: s.job, Kind: "meter visit", TimeZone: "Europe/Dublin", DatePrecision: precision,
			From: time.Date(2019, 5, 17, 12, 0, 0, 0, time.UTC), To: time.Date(2019, 5, 17, 13, 0, 0, 0, time.UTC),
			DateAsWritten: "after the " + precision + "'s race", DaysAshoreAsWritten: "some weeks",
		}
	}
	for precision, span := range map[string][2]string{"day": {"2019-05-17", "2019-05-18"}, "month": {"2019-05-01", "2019-06-01"}, "year": {"2019-01-01", "2020-01-01"}} {
		v := old(precision)
		must[practice.Done](t)(b.PlanVisit(ctx, office, v))
		must[practice.Done](t)(b.PlanVisit(ctx, office, v)) // sent again
		page := must[practice.VisitPage](t)(b.Visit(ctx, office, v.ID, practice.VisitParts{}))
		zone := practice.Zone("Europe/Dublin")
		if from, to := page.From.In(zone).Format(time.DateOnly), page.To.In(zone).Format(time.DateOnly); from != span[0] || to != span[1] {
			t.Errorf("%s: %s to %s, want %v", precision, from, to, span)
		}
		if _, known := page.DaysAshore(); known || page.State != "done" || page.Known != precision || page.AsWritten != v.DateAsWritten || page.Ashore != "some weeks" {
			t.Errorf("%s: %+v", precision, page.VisitLine)
		}
		pass := b.opening(b.ours, s)
		pass.ID, pass.Visit, pass.Source, pass.Quoted, pass.Hand, pass.Instrument, pass.Scale, pass.BeganAt = newID(), v.ID, "typed from paper", true, nil, nil, nil, page.From
		must[practice.Done](t)(b.OpenPass(ctx, hand, pass))
		must[practice.Done](t)(b.EditVisit(ctx, office, practice.EditVisit{Mutation: newID(), ID: v.ID, Version: page.Version, Note: ptr("her book was found")}))
		h := must[practice.History](t)(b.History(ctx, hand, s.vessel, nil))
		k := slices.IndexFunc(h.Passes, func(p practice.HistoryPass) bool { return p.ID == pass.ID })
		if p := h.Passes[k]; p.VisitPrecision != precision || p.VisitAsWritten != v.DateAsWritten || !slices.Contains(warnings(p.LostContext), "days-ashore") {
			t.Errorf("%s: the pass is of %s (%s), lost %v", precision, p.VisitPrecision, p.VisitAsWritten, warnings(p.LostContext))
		}
	}
	for field, bad := range map[string]func(*practice.PlanVisit){
		"datePrecision": func(v *practice.PlanVisit) { v.DatePrecision = "decade" },
		"from":          func(v *practice.PlanVisit) { v.From, v.To = v.From.AddDate(20, 0, 0), v.To.AddDate(20, 0, 0) },
	} {
		v := old("month")
		bad(&v)
		_, err := b.PlanVisit(ctx, office, v)
		want(t, err, domain.Invalid, field)
	}
}

// A visit that is known to a month belongs to its time ashore all the same: days ashore are
// then a range, wherever they enter, and the pass stays quoted for want of its day.
func TestAnOldVisitInItsTimeAshoreHasARangeOfDays(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, office, hand := t.Context(), b.ours.of[domain.Office], b.ours.of[domain.Surveyor]
	lift, launch := time.Date(2019, 5, 2, 9, 0, 0, 0, time.UTC), time.Date(2019, 9, 1, 9, 0, 0, 0, time.UTC)
	spell := practice.AddSpell{Mutation: newID(), ID: newID(), Vessel: s.vessel, TimeZone: "Etc/UTC", ActualLift: &lift, ActualLaunch: &launch, DatePrecision: "day"}
	must[practice.Done](t)(b.AddSpell(ctx, office, spell))
	v := practice.PlanVisit{
		Mutation: newID(), ID: newID(), Job: s.job, Spell: &spell.ID, Kind: "meter visit", TimeZone: "Etc/UTC", DatePrecision: "month",
		From: time.Date(2019, 6, 17, 12, 0, 0, 0, time.UTC), To: time.Date(2019, 6, 17, 13, 0, 0, 0, time.UTC), DateAsWritten: "June 2019",
	}
	must[practice.Done](t)(b.PlanVisit(ctx, office, v))
	page := must[practice.VisitPage](t)(b.Visit(ctx, office, v.ID, practice.VisitParts{}))
	want := practice.Ashore{Least: 30, Most: 59}
	if got, ok := page.AshoreRange(); !ok || got != want {
		t.Errorf("the visit: %v, %t", got, ok)
	}
	if days, ok := page.DaysAshore(); ok {
		t.Errorf("a month gives %d days ashore", days)
	}
	pass := b.opening(b.ours, s)
	pass.ID, pass.Visit, pass.Source, pass.Quoted, pass.BeganAt = newID(), v.ID, "typed from paper", true, page.From
	must[practice.Done](t)(b.OpenPass(ctx, hand, pass))
	h := must[practice.History](t)(b.History(ctx, hand, s.vessel, nil))
	p := h.Passes[slices.IndexFunc(h.Passes, func(p practice.HistoryPass) bool { return p.ID == pass.ID })]
	if got, ok := p.Ashore(); !ok || got != want {
		t.Errorf("the pass: %v, %t", got, ok)
	}
	if _, _, ok := p.DaysAshore(); ok {
		t.Error("the pass counts days from the first of the month")
	}
	if lost := warnings(p.LostContext); slices.Contains(lost, "days-ashore") || !slices.Contains(lost, "visit-date") {
		t.Errorf("lost %v", lost)
	}
}

// What an old report calls a place is kept as written, with how far off it may lie.
func TestAPlaceToldInWordsKeepsThem(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, office := t.Context(), b.ours.of[domain.Office]
	told := practice.AddPlaces{
		Mutation: newID(), Element: s.element, IDs: []uuid.UUID{newID()}, Labels: []string{"paper 1"}, Sides: []string{"port"}, Along: []int32{2000}, Down: []int32{100},
		ToldAs: []string{"port side, two metres from the stern, a hand below the waterline"},
	}
	_, err := b.AddPlaces(ctx, office, told)
	want(t, err, domain.Invalid, "errors[0]")
	told.Mutation, told.Errors = newID(), []int32{600}
	must[practice.Done](t)(b.AddPlaces(ctx, office, told))
	if p := must[practice.Place](t)(b.Place(ctx, office, told.IDs[0])); p.ToldAs != told.ToldAs[0] || p.PositionErrorMm != 600 {
		t.Errorf("%+v", p)
	}
	told.Mutation, told.IDs, told.ToldAs = newID(), []uuid.UUID{newID()}, []string{"a", "b"}
	_, err = b.AddPlaces(ctx, office, told)
	want(t, err, domain.Invalid, "toldAs")
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
		words.Along, words.Down, words.Errors = append(words.Along, along), append(words.Down, 400), append(words.Errors, 20)
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
	for _, p := range h.Passes[0].Matched.Pairs {
		if p.ApartMm > h.Passes[0].Matched.WithinMm || h.Axis.Sides[p.Place] != h.Axis.Sides[p.Held] || h.Passes[1].Taken[p.Held] == practice.Null {
			t.Errorf("paired %+v", p)
		}
	}
	if n := len(h.Passes[0].Matched.Pairs); n != 2 {
		t.Errorf("%d pairs are listed", n)
	}
	if h.Passes[1].Matched != nil || h.Axis.Errors[len(h.Axis.Errors)-1] != 400 {
		t.Errorf("the pass held: %+v; doubts %v", h.Passes[1].Matched, h.Axis.Errors)
	}
}
