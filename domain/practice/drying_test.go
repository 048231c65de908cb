package practice_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/practice"
)

// dryingWeekly reads a hull on six days, so many scale units above her dry places, and
// closes each pass.
func (b *bundle) dryingWeekly(s survey, over ...float64) (passes []uuid.UUID) {
	b.t.Helper()
	hand := b.ours.of[domain.Surveyor]
	for k, units := range over {
		id := newID()
		at := time.Date(2026, 4, 2+4*k, 9, 5, 0, 0, time.UTC)
		b.readAt(b.ours, s, 2+4*k, units, func(p *practice.OpenPass) { p.ID = id })
		must[practice.Done](b.t)(b.ClosePass(b.t.Context(), hand, practice.ClosePass{Mutation: newID(), ID: id, Version: 1, At: at.Add(time.Hour)}))
		passes = append(passes, id)
	}
	return passes
}

func gateOf(d practice.Drying, key drying.Key) practice.GateLine {
	return d.Gates[slices.IndexFunc(d.Gates, func(g practice.GateLine) bool { return g.Key == key })]
}

func TestADryingLog(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand, principal := b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	ctx := t.Context()
	passes := b.dryingWeekly(s, 24, 20.6, 18.1, 16, 14.3, 12.9)
	open := b.readAt(b.ours, s, 27, 12, func(p *practice.OpenPass) { p.ID = newID() })
	b.clock.pass(30 * 24 * time.Hour)
	set := practice.SetDryingCourse{Mutation: newID(), Job: s.job, Course: practice.DryingCourse{
		BeganOn: ptr(time.Date(2026, 4, 2, 0, 0, 0, 0, time.UTC)), WallMm: ptr(int16(8)), TentPlace: "shed 2", OutdoorsPlace: "the quay", TargetTenths: ptr(int32(80)),
	}}
	_, err := b.SetDryingCourse(ctx, hand, set)
	want(t, err, domain.Invalid, "targetBecause")
	set.Course.TargetBecause = "the coating’s maker asks for it"
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SetDryingCourse(ctx, hand, set) })
	set.Mutation = newID()
	_, err = b.SetDryingCourse(ctx, hand, set)
	want(t, err, domain.Conflict)

	air := practice.RecordAir{Mutation: newID(), Job: s.job, Place: "shed 2", Source: "a logger"}
	for k := range 48 {
		air.At = append(air.At, time.Date(2026, 4, 3+k/3, 8*(k%3), 0, 0, 0, time.UTC))
		air.AirDecidegrees, air.HumidityPermille = append(air.AirDecidegrees, 200), append(air.HumidityPermille, 600)
	}
	if done := thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordAir(ctx, hand, air) }); done.Kept != 48 {
		t.Errorf("kept %d records of the air, sent 48", done.Kept)
	}

	d := must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	if len(d.Series.Visits) != 6 || len(d.Series.Common) != 8 || d.Fit.Fit == nil || d.Fit.Band == nil {
		t.Fatalf("six visits of eight places carry a course and a band: %d visits, %d places, %+v", len(d.Series.Visits), len(d.Series.Common), d.Fit)
	}
	if !slices.Equal(d.Series.Level, []float64{24, 20.6, 18.1, 16, 14.3, 12.9}) {
		t.Errorf("levels %v", d.Series.Level)
	}
	for k, p := range d.Passes {
		if in := k < len(passes); p.In != in || (p.Why == "") != in {
			t.Errorf("pass %d: in the series %v, left out because %q", k, p.In, p.Why)
		}
		if p.ID == open && p.Why != "not closed yet" {
			t.Errorf("the open pass is left out because %q", p.Why)
		}
	}
	// Magnus: 20 °C and 60 % have a dew point of 12.0 °C.
	if d.Tent == nil || d.Tent.N != 48 || d.Tent.DewPoint < 11.95 || d.Tent.DewPoint > 12.05 || d.Tent.Floor != 0.6 {
		t.Errorf("the tent: %+v", d.Tent)
	}
	if d.Physics == nil || d.Physics.Floor < 0.599 || d.Physics.Floor > 0.601 {
		t.Errorf("physics: %+v", d.Physics)
	}
	if d.Title != "Coating gates, none met yet" || len(d.Gates) != 9 || len(d.Reasons) != 8 {
		t.Errorf("%q, %d gates, %d patterns", d.Title, len(d.Gates), len(d.Reasons))
	}
	_, err = b.SetGateRule(ctx, principal, practice.SetGateRule{Mutation: newID(), Rule: practice.GateRule{Gate: "surface temperature", Least: ptr(15.0), Because: "the sheet of the coating in stock"}})
	want(t, err, domain.Internal)
	d = must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	if g := gateOf(d, drying.SkinWarm); g.RuleVersion != 1 || *g.Least != 15 || !strings.Contains(g.Tag, "the sheet of the coating in stock") {
		t.Errorf("the practice’s own figure: %+v", g)
	}
	_, err = b.Drying(ctx, b.theirs.of[domain.Surveyor], s.job)
	want(t, err, domain.NotFound)
}

func TestAGateIsSignedWithEvidence(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	ctx, hand, trainee := t.Context(), b.ours.of[domain.Surveyor], b.ours.of[domain.Trainee]
	day := b.clock.now()
	sign := practice.SignGate{Mutation: newID(), ID: newID(), Job: s.job, Gate: "plastic sheet", MetOn: day, Evidence: "port 9, 36 hours, nothing under it"}
	_, err := b.SignGate(ctx, trainee, sign)
	want(t, err, domain.Forbidden)
	for field, change := range map[string]func(*practice.SignGate){
		"evidence": func(in *practice.SignGate) { in.Evidence = " " },
		"gate":     func(in *practice.SignGate) { in.Gate = "above the dry baseline" },
		"metOn":    func(in *practice.SignGate) { in.MetOn = day.Add(72 * time.Hour) },
	} {
		in := sign
		in.Mutation = newID()
		change(&in)
		_, err := b.SignGate(ctx, hand, in)
		want(t, err, domain.Invalid, field)
	}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SignGate(ctx, hand, sign) })
	d := must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	g := gateOf(d, drying.PlasticFilm)
	if g.Signature == nil || g.Signature.ByName != "The surveyor" || g.Signature.Evidence != sign.Evidence || g.Signature.Shown != "nothing recorded: Nothing recorded." {
		t.Errorf("the signature: %+v", g.Signature)
	}
	if d.Title != "Coating gates: 1 of 8 met, the last on "+day.Format("2 January 2006") {
		t.Errorf("title %q", d.Title)
	}
	b.clock.pass(time.Hour)
	wash := practice.RecordWash{Mutation: newID(), Wash: practice.Wash{ID: newID(), JobID: s.job, At: b.clock.now(), How: "hot", PhTenths: ptr(int16(45))}}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordWash(ctx, trainee, wash) })
	d = must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	if g := gateOf(d, drying.PlasticFilm); g.Signature != nil || g.OpenBecause == "" {
		t.Errorf("a wash after it opens it again: %+v", g)
	}
	if g := gateOf(d, drying.WashWater); g.Verdict != drying.NotMet {
		t.Errorf("water of pH 4.5: %s", g.Verdict)
	}
	b.clock.pass(time.Hour)
	again := sign
	again.Mutation, again.ID = newID(), newID()
	must[practice.Done](t)(b.SignGate(ctx, hand, again))
	again.Mutation, again.ID, again.Reopen, again.Evidence = newID(), newID(), true, "drops seen at the edge"
	b.clock.pass(time.Hour)
	must[practice.Done](t)(b.SignGate(ctx, hand, again))
	d = must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	if g := gateOf(d, drying.PlasticFilm); g.Signature != nil || !strings.Contains(g.OpenBecause, "drops seen at the edge") {
		t.Errorf("opened again by hand: %+v", g)
	}
	if n := value[int](b, `select count(*) from gate_signatures where practice_id = $1`, b.ours.id); n != 3 {
		t.Errorf("%d lines kept of the gate, want all 3", n)
	}
}

func TestAReboundBelongsToItsWash(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Knot")
	ctx, hand := t.Context(), b.ours.of[domain.Surveyor]
	at := b.clock.now()
	wash := practice.Wash{ID: newID(), JobID: s.job, At: at, How: "fresh", ConductivityTenths: ptr(int32(810)), SupplyTenths: ptr(int32(800)), VolumeUl: ptr(int32(10_000)), AreaMm2: ptr(int32(1250))}
	must[practice.Done](t)(b.RecordWash(ctx, hand, practice.RecordWash{Mutation: newID(), Wash: wash}))
	r := practice.Rebound{ID: newID(), JobID: s.job, After: "wash", WashID: &wash.ID, BeganAt: at.Add(time.Hour), ReadAt: at.Add(49 * time.Hour), ScaleID: s.scale}
	for k := range int32(8) {
		r.Places, r.BeforeTenths, r.AfterTenths = append(r.Places, k+1), append(r.BeforeTenths, 200), append(r.AfterTenths, 230+k)
	}
	record := func(change func(*practice.Rebound)) error {
		in := r
		in.Places, in.AfterTenths = slices.Clone(r.Places), slices.Clone(r.AfterTenths)
		change(&in)
		_, err := b.RecordRebound(ctx, hand, practice.RecordRebound{Mutation: newID(), Rebound: in})
		return err
	}
	want(t, record(func(r *practice.Rebound) { r.JobID = other.job }), domain.NotFound)
	want(t, record(func(r *practice.Rebound) { r.BeganAt = at.Add(-time.Hour) }), domain.Invalid, "beganAt")
	want(t, record(func(r *practice.Rebound) { r.ReadAt = at }), domain.Invalid, "readAt")
	want(t, record(func(r *practice.Rebound) { r.WashID = nil }), domain.Invalid, "wash")
	want(t, record(func(r *practice.Rebound) { r.Places[1] = 1 }), domain.Invalid, "places[1]")
	want(t, record(func(r *practice.Rebound) { r.AfterTenths[3] = 30_000 }), domain.Invalid, "afterTenths[3]")
	want(t, record(func(*practice.Rebound) {}), domain.Internal)
	d := must[practice.Drying](t)(b.Drying(ctx, hand, s.job))
	if len(d.Rebounds) != 1 || d.Rebounds[0].Hours() != 48 || len(d.Rebounds[0].Places) != 8 || d.Rebounds[0].AfterTenths[7] != 237 {
		t.Fatalf("the rebound as kept: %+v", d.Rebounds)
	}
	// ISO 8502-9 (from memory): 10 mL on 1250 mm² make 4 mg/m² of each µS/cm.
	if e := d.Washes[0].Measured().Salts(); e == nil || e.Value < 3.999 || e.Value > 4.001 {
		t.Errorf("salts of a rise of 1 µS/cm: %+v", e)
	}
	wet := practice.RecordWash{Mutation: newID(), Wash: practice.Wash{ID: newID(), JobID: s.job, At: at, How: "hot", VolumeUl: ptr(int32(10_000))}}
	_, err := b.RecordWash(ctx, hand, wet)
	want(t, err, domain.Invalid, "areaMm2")
}

func TestADryingLogIsForThoseWhoseJobItIs(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	guest := b.ours.of[domain.Guest]
	_, err := b.Drying(t.Context(), guest, s.job)
	want(t, err, domain.NotFound)
	wash := practice.RecordWash{Mutation: newID(), Wash: practice.Wash{ID: newID(), JobID: s.job, At: b.clock.now(), How: "hot"}}
	_, err = b.RecordWash(t.Context(), guest, wash)
	want(t, err, domain.NotFound)
	b.let(guest, s.job)
	must[practice.Done](t)(b.RecordWash(t.Context(), guest, wash))
	must[practice.Drying](t)(b.Drying(t.Context(), guest, s.job))
}
