package practice_test

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// underbody is a survey with 96 places below the water, 12 stations by four rows on
// either side, and a plan over them and the eight dry ones.
type underbody struct {
	survey
	along, down []int32 // by ordinal less one
	sides       []string
}

func (b *bundle) underbody(h house, name string) underbody {
	b.t.Helper()
	u := underbody{survey: b.survey(h, name)}
	office := h.of[domain.Office]
	in := practice.AddPlaces{Mutation: newID(), Element: u.element, BesideOld: true}
	u.along, u.down, u.sides = make([]int32, len(u.places)), make([]int32, len(u.places)), make([]string, len(u.places))
	for station := int32(1); station <= 12; station++ {
		for row := int32(1); row <= 4; row++ {
			for _, side := range []string{"port", "starboard"} {
				in.IDs, in.Sides = append(in.IDs, newID()), append(in.Sides, side)
				in.Labels = append(in.Labels, "u"+string(rune('a'+station))+string(rune('0'+row)))
				in.Stations, in.Rows = append(in.Stations, station), append(in.Rows, row)
				in.Along, in.Down = append(in.Along, 250+station*500), append(in.Down, row*300-150)
			}
		}
	}
	u.along, u.down, u.sides = append(u.along, in.Along...), append(u.down, in.Down...), append(u.sides, in.Sides...)
	must[practice.Done](b.t)(b.AddPlaces(b.t.Context(), office, in))
	u.plan = newID()
	plan := practice.AddPlan{Mutation: newID(), ID: u.plan, Vessel: u.vessel, DryChangeReason: "laid out"}
	for k := range u.along {
		if dry := k < len(u.places) && k%4 < 2; dry || k >= len(u.places) {
			plan.Places = append(plan.Places, int32(k+1))
			if dry {
				plan.Dry = append(plan.Dry, int32(k+1))
			}
		}
	}
	must[practice.Done](b.t)(b.AddPlan(b.t.Context(), office, plan))
	return u
}

// read makes a pass: dry places near 12 units, the underbody near 22 and more in a field,
// each place a little of its own.
func (b *bundle) read(h house, u underbody, over func(side string, along, down int32) float64, change ...func(*practice.OpenPass)) uuid.UUID {
	b.t.Helper()
	in := b.opening(h, u.survey)
	in.Plan = u.plan
	for _, c := range change {
		c(&in)
	}
	hand := h.of[domain.Surveyor]
	must[practice.Done](b.t)(b.OpenPass(b.t.Context(), hand, in))
	tenths := map[int32]int16{}
	for k := range u.along {
		own := float64((k*7919+13)%11)/10 - 0.5
		switch {
		case k >= len(u.places):
			tenths[int32(k+1)] = int16(10 * (22 + own + over(u.sides[k], u.along[k], u.down[k])))
		case k%4 < 2:
			tenths[int32(k+1)] = int16(10 * (12 + own))
		}
	}
	must[practice.Done](b.t)(b.AddReadings(b.t.Context(), hand, batch(in.ID, tenths)))
	return in.ID
}

// field is a rectangle on the port side, 9 units over the rest.
func field(side string, along, down int32) float64 {
	if side == "port" && along > 2500 && along < 4500 && down > 200 && down < 1000 {
		return 9
	}
	return 0
}

func level(string, int32, int32) float64 { return 0 }

// fieldOrdinals are the places inside it.
func (u underbody) fieldOrdinals() (out []int32) {
	for k := len(u.places); k < len(u.along); k++ {
		if field(u.sides[k], u.along[k], u.down[k]) > 0 {
			out = append(out, int32(k+1))
		}
	}
	return out
}

func (b *bundle) causes(a domain.Actor, in practice.CauseAsk) practice.Causes {
	b.t.Helper()
	return must[practice.Causes](b.t)(b.Causes(b.t.Context(), a, in))
}

// measured keeps a kit of sixteen spots, each read three times 0.3 apart: s_r is 0.3.
func (b *bundle) measured(hand domain.Actor, instrument, scale uuid.UUID) {
	b.t.Helper()
	kit := b.kit(b.ours, instrument, scale)
	kit.Spots, kit.Repeats = 16, 3
	for k := range int32(48) {
		kit.Tenths = append(kit.Tenths, 150+k/3*10+k%3*3)
	}
	must[practice.Done](b.t)(b.RecordRepeatKit(b.t.Context(), hand, kit))
}

func entryIn(t *testing.T, m practice.Matter, c cause.Code) cause.Entry {
	t.Helper()
	k := slices.IndexFunc(m.Ledger.Entries, func(e cause.Entry) bool { return e.Cause.Code == c })
	if k < 0 {
		t.Fatalf("%s has no line for %s", m.Title, c)
	}
	return m.Ledger.Entries[k]
}

func signs(list []cause.Line) (out []cause.SignCode) {
	for _, x := range list {
		out = append(out, x.Sign)
	}
	return out
}

func (b *bundle) layer(h house, u underbody, kind, what, side string, outline string) {
	b.t.Helper()
	l := practice.Layer{ID: newID(), ElementID: u.element, Kind: kind, What: what, HowKnown: "measured inside", Outline: json.RawMessage(outline)}
	if side != "" {
		l.Side = &side
	}
	must[practice.Done](b.t)(b.AddLayer(b.t.Context(), h.of[domain.Office], practice.AddLayer{Mutation: newID(), Layer: l}))
}

func TestAFieldOverATankPointsBehind(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	b.layer(b.ours, u, "behind", "water tank", "port", `[[2500,200],[4500,200],[4500,1000],[2500,1000]]`)
	b.layer(b.ours, u, "construction", "single skin, mat", "", `[]`)
	pass := b.read(b.ours, u, field)
	c := b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	if c.Pass.ID != pass || len(c.Matters) != 2 {
		t.Fatalf("drawn from %s, %d matters", c.Pass.ID, len(c.Matters))
	}
	large, patch := c.Matters[0], c.Matters[1]
	if e := large.Ledger.Live()[0]; e.Cause.Code != cause.OrdinaryAbsorption || e.State != cause.PointTowards {
		t.Errorf("at large first stands %s, %s", e.Cause.Code, e.State)
	}
	if !slices.Equal(patch.Places, u.fieldOrdinals()) {
		t.Errorf("the patch is %v, the field %v", patch.Places, u.fieldOrdinals())
	}
	e := patch.Ledger.Live()[0]
	if e.Cause.Code != cause.SomethingBehind || e.State != cause.PointTowards {
		t.Errorf("first stands %s, %s", e.Cause.Code, e.State)
	}
	for _, s := range []cause.SignCode{cause.StraightEdges, cause.OverBehind, cause.OneSide} {
		if !slices.Contains(signs(e.For), s) {
			t.Errorf("%s is not among %v", s, signs(e.For))
		}
	}
	if wet := entryIn(t, patch, cause.WetCore); !slices.Contains(signs(wet.Against), cause.SingleSkin) {
		t.Errorf("single skin does not speak against a wet core: %v", signs(wet.Against))
	}
	for _, m := range c.Matters {
		for _, s := range m.Says {
			if w := report.Lint(s.Text()); len(w) > 0 {
				t.Errorf("%q: %+v", s.Text(), w)
			}
		}
	}
}

func TestALevelHullHasNoPatch(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	b.read(b.ours, u, level)
	c := b.causes(b.ours.of[domain.Surveyor], practice.CauseAsk{Vessel: u.vessel})
	if len(c.Matters) != 1 {
		t.Fatalf("%d matters: %s", len(c.Matters), c.Matters[1].Title)
	}
	if e := c.Matters[0].Ledger.Live()[0]; e.Cause.Code != cause.OrdinaryAbsorption || !slices.Contains(signs(e.For), cause.NoPatch) {
		t.Errorf("first stands %s by %v", e.Cause.Code, signs(e.For))
	}
}

func TestContextExcludesArtefacts(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	pass := b.read(b.ours, u, field)
	state := func(of cause.Code) cause.State {
		return entryIn(t, b.causes(hand, practice.CauseAsk{Vessel: u.vessel}).Matters[1], of).State
	}
	for _, c := range []cause.Code{cause.Instrument, cause.Condensation, cause.Hand} {
		if state(c) == cause.Excluded {
			t.Errorf("%s is excluded by nothing", c)
		}
	}
	at := time.Date(2026, 4, 8, 9, 5, 0, 0, time.UTC)
	for moment, tenths := range map[string]int32{"before": 120, "after": 122} {
		must[practice.Done](t)(b.RecordBlockCheck(t.Context(), hand, practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: moment, ValueTenths: tenths, At: at}}))
	}
	must[practice.Done](t)(b.RecordCondition(t.Context(), hand, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
		ID: newID(), VisitID: u.visit, At: at, AirDecidegrees: ptr[int16](200), HumidityPermille: ptr[int16](600), SkinPortDecidegrees: ptr[int16](190), // dew point 12.0: 20 °C, 60 % [S27]
	}}))
	again := batch(pass, map[int32]int16{20: 223, 30: 221, 40: 224})
	again.Occasions = []int32{2, 2, 2}
	for k, o := range again.Ordinals { // what was read first
		again.Placements[k] = []int16{value[int16](b, `select (r.value / 2)::smallint from readings r join places p on p.practice_id = r.practice_id and p.id = r.place_id where r.pass_id = $1 and p.ordinal = $2 and r.occasion = 1`, pass, o)}
	}
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, again))
	for _, c := range []cause.Code{cause.Instrument, cause.Hand} { // until s_r is known neither block nor repeats say anything
		e := entryIn(t, b.causes(hand, practice.CauseAsk{Vessel: u.vessel}).Matters[1], c)
		if e.State == cause.Excluded || len(e.Unsaid) != 1 {
			t.Errorf("unmeasured, %s is %s, not said %v", c, e.State, signs(e.Unsaid))
		}
	}
	b.measured(hand, u.instrument, u.scale)
	for _, c := range []cause.Code{cause.Instrument, cause.Condensation, cause.Hand} {
		if got := state(c); got != cause.Excluded {
			t.Errorf("%s is %s", c, got)
		}
	}
}

func TestACheckIsMadeAndTakenBack(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	b.read(b.ours, u, field)
	in := practice.RecordCauseCheck{Mutation: newID(), ID: newID(), Visit: u.visit, Outcome: "inside-nothing", Places: u.fieldOrdinals()[:2], Note: "soles up"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordCauseCheck(ctx, hand, in) })
	c := b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	if e := entryIn(t, c.Matters[1], cause.SomethingBehind); e.State == cause.Excluded || !e.Against[len(e.Against)-1].Shuts {
		t.Errorf("one look excludes what the readings point towards: %s by %v", e.State, signs(e.Against))
	}
	drawn := in
	drawn.Mutation, drawn.ID, drawn.Outcome = newID(), newID(), "nothing-in-records"
	must[practice.Done](t)(b.RecordCauseCheck(t.Context(), hand, drawn))
	c = b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	if e := entryIn(t, c.Matters[1], cause.SomethingBehind); e.State != cause.Excluded {
		t.Errorf("with nothing behind it is %s", e.State)
	}
	if e := entryIn(t, c.Matters[0], cause.SomethingBehind); e.State == cause.Excluded {
		t.Error("a check at two places speaks of the hull at large")
	}
	if len(c.Checks) != 2 || c.Checks[0].ByName != "The surveyor" {
		t.Errorf("made: %+v", c.Checks)
	}
	out := practice.WithdrawCauseCheck{Mutation: newID(), ID: in.ID, Reason: "it was the other side"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.WithdrawCauseCheck(ctx, hand, out) })
	c = b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	if e := entryIn(t, c.Matters[1], cause.SomethingBehind); e.State == cause.Excluded || c.Checks[0].WithdrawnReason == "" {
		t.Errorf("taken back it still counts: %s %+v", e.State, c.Checks)
	}
	out.Mutation = newID()
	_, err := b.WithdrawCauseCheck(t.Context(), hand, out)
	want(t, err, domain.Conflict)
	for field, change := range map[string]func(*practice.RecordCauseCheck){
		"outcome":   func(r *practice.RecordCauseCheck) { r.Outcome = string(cause.StraightEdges) }, // no check yields it
		"places[0]": func(r *practice.RecordCauseCheck) { r.Places = []int32{9999} },
		"id":        func(r *practice.RecordCauseCheck) { r.ID = uuid.New() },
	} {
		bad := in
		bad.Mutation, bad.ID = newID(), newID()
		change(&bad)
		_, err := b.RecordCauseCheck(t.Context(), hand, bad)
		want(t, err, domain.Invalid, field)
	}
	other := b.survey(b.ours, "Knot")
	finding := practice.Finding{ID: newID(), VisitID: other.visit, Kind: "weep", Sure: "seen"}
	must[practice.Done](t)(b.RecordFinding(t.Context(), hand, practice.RecordFinding{Mutation: newID(), Finding: finding}))
	foreign := in
	foreign.Mutation, foreign.ID, foreign.Finding = newID(), newID(), &finding.ID
	_, err = b.RecordCauseCheck(t.Context(), hand, foreign)
	want(t, err, domain.Invalid, "finding")
}

func TestAJudgementStandsBesideAndMovesNothing(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	b.read(b.ours, u, field)
	before := b.causes(hand, practice.CauseAsk{Vessel: u.vessel}).Matters[1]
	in := practice.JudgeCause{Mutation: newID(), ID: newID(), Visit: u.visit, Cause: string(cause.SomethingBehind), Judges: "disagrees", Reason: "the locker there is empty", Places: u.fieldOrdinals()}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.JudgeCause(ctx, hand, in) })
	own := practice.JudgeCause{Mutation: newID(), ID: newID(), Visit: u.visit, Cause: "an old repair", Judges: "adds", Reason: "colour of the gelcoat", Places: u.fieldOrdinals()}
	must[practice.Done](t)(b.JudgeCause(t.Context(), hand, own))
	c := b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	after := c.Matters[1]
	if len(after.Judgements) != 2 || after.Judgements[0].ByName != "The surveyor" || after.Judgements[1].Cause != "an old repair" {
		t.Errorf("judgements %+v", after.Judgements)
	}
	if len(c.Matters[0].Judgements) != 0 {
		t.Error("it stands at the hull at large too")
	}
	if a, z := states(before), states(after); !slices.Equal(a, z) {
		t.Errorf("it moved the ledger from %v to %v", a, z)
	}
	for field, change := range map[string]func(*practice.JudgeCause){
		"judges": func(j *practice.JudgeCause) { j.Judges = "doubts" },
		"cause":  func(j *practice.JudgeCause) { j.Cause = "a hunch" },
		"reason": func(j *practice.JudgeCause) { j.Reason = " " },
	} {
		bad := in
		bad.Mutation, bad.ID = newID(), newID()
		change(&bad)
		_, err := b.JudgeCause(t.Context(), hand, bad)
		want(t, err, domain.Invalid, field)
	}
	for _, role := range []domain.Role{domain.Trainee, domain.Office, domain.Guest} {
		in.Mutation, in.ID = newID(), newID()
		_, err := b.JudgeCause(t.Context(), b.ours.of[role], in)
		want(t, err, domain.Forbidden)
	}
}

func states(m practice.Matter) (out []string) {
	for _, e := range m.Ledger.Entries {
		out = append(out, string(e.Cause.Code)+" "+string(e.State))
	}
	return out
}

// Design section 2: a buyer's job, then an owner's job; what may not be told is left out
// and counted, and a restricted job is read by those it names.
func TestWhatMayNotBeToldIsLeftOut(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand, office := b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	buyer, owner := b.party(b.ours, "A buyer"), b.party(b.ours, "An owner")
	b.exec(`update jobs set client_id = $2 where id = $1`, u.job, buyer)
	b.read(b.ours, u, field)
	weep := practice.Finding{ID: newID(), VisitID: u.visit, ElementID: &u.element, Kind: "dull note", Sure: "seen", Places: u.fieldOrdinals()[:1]}
	must[practice.Done](t)(b.RecordFinding(t.Context(), hand, practice.RecordFinding{Mutation: newID(), Finding: weep}))

	later := u
	later.job, later.visit = newID(), newID()
	job := newJob(u.vessel)
	job.ID, job.Lead, job.Client = later.job, &hand.Member, &owner
	must[practice.Done](t)(b.AddJob(t.Context(), office, job))
	visit := u.planned(later.visit, hand.Member)
	visit.Job, visit.From, visit.To = later.job, visit.From.AddDate(0, 0, 10), visit.To.AddDate(0, 0, 10)
	must[practice.Done](t)(b.PlanVisit(t.Context(), office, visit))
	b.read(b.ours, later, field, func(p *practice.OpenPass) { p.BeganAt = p.BeganAt.AddDate(0, 0, 10) })

	heard := func(in practice.CauseAsk, a domain.Actor) (bool, int) {
		c := b.causes(a, in)
		is := slices.ContainsFunc(c.Matters, func(m practice.Matter) bool {
			return slices.ContainsFunc(m.Ledger.Entries, func(e cause.Entry) bool { return slices.Contains(signs(e.For), cause.DullHigh) })
		})
		return is, c.LeftOut
	}
	if is, left := heard(practice.CauseAsk{Vessel: u.vessel}, hand); !is || left != 0 {
		t.Errorf("the surveyor is told: %t, %d left out", is, left)
	}
	if is, left := heard(practice.CauseAsk{Vessel: u.vessel, ForClient: true}, hand); is || left != 2 { // the pass and the finding
		t.Errorf("the owner is told of the buyer's job: %t, %d left out", is, left)
	}
	b.exec(`update jobs set cite = 'vessel history without names', cite_agreed_on = '2026-04-01' where id = $1`, u.job)
	if is, left := heard(practice.CauseAsk{Vessel: u.vessel, ForClient: true}, hand); !is || left != 0 {
		t.Errorf("agreed to, the owner is told: %t, %d left out", is, left)
	}
	b.exec(`update jobs set restricted = true where id = $1`, u.job)
	if is, _ := heard(practice.CauseAsk{Vessel: u.vessel}, b.ours.of[domain.Principal]); is {
		t.Error("a restricted job is read by one whom it does not name")
	}
}

// Trade notes: reservoir, "deep stays put, locally, while neighbours and the mirror
// station fall"; normal drying, "shallow falls first, deep follows slowly". Of change the
// ledger says what the gate answers: nothing until the practice measured its scatter.
func TestTwoDepthsAtTwoVisits(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand, office := b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	shallow, scale := newID(), newID()
	must[practice.Done](t)(b.AddInstrument(t.Context(), office, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: shallow, Name: "Skerrow shallow No. 1", Kind: "capacitance", Sensing: "shallow"}}))
	must[practice.Done](t)(b.AddScale(t.Context(), office, practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: scale, Instrument: shallow, Name: "A", LowTenths: 0, HighTenths: 1000, StepTenths: 1}}))
	with := func(p *practice.OpenPass) { p.Instrument, p.Scale = &shallow, &scale }
	fall := func(by float64, but func(string, int32, int32) float64) func(string, int32, int32) float64 {
		return func(side string, along, down int32) float64 {
			if but(side, along, down) > 0 {
				return 9
			}
			return -by
		}
	}
	visit := func(days int) (underbody, func(*practice.OpenPass)) {
		later := u
		later.visit = newID()
		v := u.planned(later.visit, hand.Member)
		v.From, v.To = v.From.AddDate(0, 0, days), v.To.AddDate(0, 0, days)
		must[practice.Done](t)(b.PlanVisit(t.Context(), office, v))
		return later, func(p *practice.OpenPass) { p.BeganAt = p.BeganAt.AddDate(0, 0, days) }
	}
	both := func(u underbody, deep, shallow func(string, int32, int32) float64, day func(*practice.OpenPass)) {
		for _, pass := range []uuid.UUID{b.read(b.ours, u, deep, day), b.read(b.ours, u, shallow, day, with)} {
			must[practice.Done](t)(b.ClosePass(t.Context(), hand, practice.ClosePass{Mutation: newID(), ID: pass, Version: 1, At: time.Date(2026, 5, 20, 9, 0, 0, 0, time.UTC)}))
		}
	}
	both(u, field, level, func(*practice.OpenPass) {})
	later, day := visit(14)
	both(later, fall(4, field), fall(7, level), day)

	c := b.causes(hand, practice.CauseAsk{Vessel: u.vessel})
	for k := len(u.places); k < len(u.along); k++ {
		if got := c.Depths.Patterns[k]; got != cause.CannotTell {
			t.Errorf("unmeasured, place %d went %s", k+1, got)
		}
	}
	e := entryIn(t, c.Matters[1], cause.SomethingBehind)
	if got := signs(e.Unsaid); !slices.Contains(got, cause.DeepStays) || slices.Contains(signs(e.For), cause.DeepStays) {
		t.Errorf("unmeasured, not said is %v, said %v", got, signs(e.For))
	}
	if c.Depths.Withheld == "" || c.Depths.Withheld != e.Unsaid[slices.Index(signs(e.Unsaid), cause.DeepStays)].Detail {
		t.Errorf("the reason is %q", c.Depths.Withheld)
	}

	b.measured(hand, u.instrument, u.scale)
	b.measured(hand, shallow, scale)
	next, soon := visit(16) // within the week of the second: like pairs of both
	both(next, fall(4, field), fall(7, level), soon)
	first := b.causes(hand, practice.CauseAsk{Vessel: u.vessel}).Pass.ID
	if held := value[uuid.UUID](b, `select visit_id from passes where id = $1`, first); held != next.visit {
		t.Fatal("it is not drawn from the newest visit")
	}
	second := value[uuid.UUID](b, `select id from passes where visit_id = $1 and scale_id = $2`, later.visit, u.scale)
	c = b.causes(hand, practice.CauseAsk{Vessel: u.vessel, Pass: &second})
	inField := u.fieldOrdinals()
	for k := len(u.places); k < len(u.along); k++ {
		wanted := cause.NormalDrying
		if slices.Contains(inField, int32(k+1)) {
			wanted = cause.BehindOrStored
		}
		if got := c.Depths.Patterns[k]; got != wanted {
			t.Errorf("place %d went %s, want %s", k+1, got, wanted)
		}
	}
	if !strings.Contains(c.Depths.Says.Text(), "as ordinary drying goes") {
		t.Errorf("said: %s", c.Depths.Says.Text())
	}
	if e := entryIn(t, c.Matters[1], cause.SomethingBehind); !slices.Contains(signs(e.For), cause.DeepStays) || !slices.Contains(signs(e.For), cause.DeepOnly) {
		t.Errorf("for something behind speak %v", signs(e.For))
	}
}

func TestNothingMeteredHasNoLedger(t *testing.T) {
	t.Parallel()
	b := setup(t)
	u := b.underbody(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	if c := b.causes(hand, practice.CauseAsk{Vessel: u.vessel}); len(c.Matters) != 0 || c.Pass.ID != uuid.Nil {
		t.Errorf("%+v", c)
	}
	_, err := b.Causes(t.Context(), hand, practice.CauseAsk{Vessel: u.vessel, Pass: ptr(newID())})
	want(t, err, domain.NotFound)
}
