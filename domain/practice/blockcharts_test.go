package practice_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// checked opens a pass with the instrument and reads its low block before and after.
func (b *bundle) checked(h house, s survey, instrument, scale uuid.UUID, at time.Time, before, after int32) {
	b.t.Helper()
	hand := h.of[domain.Surveyor]
	pass := newID()
	must[practice.Done](b.t)(b.OpenPass(b.t.Context(), hand, practice.OpenPass{
		Mutation: newID(), ID: pass, Visit: s.visit, Element: s.element, Plan: s.plan, Hand: &hand.Member, Instrument: &instrument, Scale: &scale,
		Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", Source: "metered", BeganAt: at,
	}))
	for moment, v := range map[string]int32{"before": before, "after": after} {
		must[practice.Done](b.t)(b.RecordBlockCheck(b.t.Context(), hand, practice.RecordBlockCheck{
			Mutation: newID(), Check: practice.BlockCheck{ID: newID(), PassID: pass, Block: "low", Moment: moment, ValueTenths: v, At: at},
		}))
	}
}

func TestABlockChartNamesWhatStandsOut(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
	chart := func() practice.BlockChart {
		charts := must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), b.ours.of[domain.Guest], instrument)).Charts
		if len(charts) != 1 {
			t.Fatalf("%d charts, want one of the low block", len(charts))
		}
		return charts[0]
	}
	at := func(k int) time.Time { return time.Date(2024, 1, 5, 9, 0, 0, 0, time.UTC).AddDate(0, k, 0) }
	b.checked(b.ours, s, instrument, scale, at(0), 120, 120)
	if c := chart(); c.Settled != 0 || !strings.Contains(c.Says[0].Text(), "one pass was checked") {
		t.Errorf("one pass says %v", c.Says)
	}
	for k, v := range []int32{122, 119, 121, 120, 118, 121, 120} { // the first eight set the limits
		b.checked(b.ours, s, instrument, scale, at(k+1), v, v)
	}
	c := chart()
	// Mean 12.0125; moving ranges .2 .3 .2 .1 .2 .3 .1, their mean 0.2 over d₂ = 1.128 gives
	// 0.1773, three of them 0.532: NIST/SEMATECH e-Handbook 6.3.2.2 by hand.
	near(t, "centre line", c.Mean, 12.0125, 1e-9)
	near(t, "upper limit", c.Points[0].Upper, 12.0125+0.532, 0.001)
	if c.Settled != 8 || c.Points[3].Out || !strings.Contains(c.Says[0].Text(), "no check of 8 passes stands out") || !strings.Contains(c.Says[1].Text(), "provisional") {
		t.Errorf("eight passes say %v", c.Says)
	}
	b.checked(b.ours, s, instrument, scale, at(8), 135, 135)
	b.checked(b.ours, s, instrument, scale, at(9), 136, 150)
	c = chart()
	if !c.Points[8].Out || !c.Points[9].Out || !c.Points[9].Drifting || c.Points[9].Moved {
		t.Errorf("the last points are %+v and %+v", c.Points[8], c.Points[9])
	}
	near(t, "the last point", c.Points[9].Value, 14.3, 1e-9)
	near(t, "its shift", *c.Points[9].Shift, 1.4, 1e-9)
	if !strings.Contains(c.Says[0].Text(), "5 Sep 2024 and 5 Oct 2024") || !strings.Contains(c.Says[1].Text(), "drifted") {
		t.Errorf("ten passes say %v", c.Says)
	}
	// With s_r measured the move within the last pass is told: 0.34 units of it allow 0.94.
	kit := b.threeHands(b.ours, instrument, scale)
	for k := range kit.Tenths {
		kit.Tenths[k] = 200 + 20*int32(k/3) + []int32{-3, 0, 3}[k%3]
	}
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Surveyor], kit))
	if c = chart(); !c.Points[9].Moved || c.Points[8].Moved || !strings.Contains(c.Says[0].Text(), "moved within the pass of 5 Oct 2024") {
		t.Errorf("with s_r known it says %v", c.Says)
	}
}
