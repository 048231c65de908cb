package practice

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/where"
	"boottop.example/practice/domain/report"
)

// rowAxis is one row of places on the port side, half a metre apart, a metre down the skin.
func rowAxis(n int) (a Axis) {
	for k := range n {
		a.IDs, a.Labels, a.Elements, a.Sides = append(a.IDs, uuid.New()), append(a.Labels, "x"), append(a.Elements, uuid.Nil), append(a.Sides, "port")
		a.Stations, a.Rows, a.Along, a.Down = append(a.Stations, int32(k)), append(a.Rows, 1), append(a.Along, int32(500*k)), append(a.Down, 1000)
	}
	return a
}

// A place that two passes could not reach is one place.
func TestAPlaceIsLeftOutOnce(t *testing.T) {
	t.Parallel()
	deep, shallow := uuid.New(), uuid.New()
	src := Sources{
		History: History{Axis: rowAxis(3)},
		Gaps:    []GapAt{{deep, 1, "prop pad"}, {shallow, 1, "prop pad"}, {shallow, 2, "prop pad"}},
		Entries: []EntryAt{{PassID: deep, Ordinal: 3, VoidReason: "pad not flat"}, {PassID: shallow, Ordinal: 3, VoidReason: "pad not flat"}},
	}
	l := limitsInput("", src, nil)
	if want := []report.Reason{{N: 2, Why: "prop pad"}}; !slices.Equal(l.Unreached, want) {
		t.Errorf("not reached %v, want %v", l.Unreached, want)
	}
	if want := []report.Reason{{N: 1, Why: "pad not flat"}}; !slices.Equal(l.Void, want) {
		t.Errorf("void %v, want %v", l.Void, want)
	}
}

func TestWindowsAreScrapedToWhatEachWas(t *testing.T) {
	t.Parallel()
	w := windowsInput([]Bared{{WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}, {WidthMm: 100, HeightMm: 100, BaredTo: "laminate"}, {WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}})
	if w.To != "scraped to gelcoat or laminate for the eye" {
		t.Errorf("said: %s", w.To)
	}
}

// A finding of none seen is no finding of blisters; one that counts some is.
func TestNoneSeenIsNoBlister(t *testing.T) {
	t.Parallel()
	w := &witness{}
	none := json.RawMessage(`{"count": 0, "widthMm": 500, "heightMm": 500}`)
	if got := w.signsOf(CauseFinding{Kind: "blisters", Measured: none}, nil); len(got) > 0 {
		t.Errorf("none were seen, and the ledger says %v", got)
	}
	if countsBlisters(Found{Kind: "blisters", Measured: none}) || !countsBlisters(Found{Kind: "blisters", Measured: json.RawMessage(`{"count": 3}`)}) || !countsBlisters(Found{Kind: "Blisters"}) {
		t.Error("a count of none is no blister, and of some is")
	}
	if got := w.signsOf(CauseFinding{Kind: "blisters", Measured: json.RawMessage(`{"count": 3, "pH": 9}`)}, nil); slices.Contains(got, cause.LiquidNeutral) {
		t.Errorf("alkaline liquid is called %v", got)
	}
}

// What is not known to read high or low is said to do neither.
func TestAFindingClaimsNoReading(t *testing.T) {
	t.Parallel()
	w := &witness{}
	unread := &patch{z: math.NaN(), found: true}
	for kind, never := range map[string][]cause.SignCode{
		"dull note": {cause.DullHigh, cause.DullHighSandwich, cause.DullLow}, "crack pattern": {cause.CracksWet}, "blisters": {cause.BlistersLow},
	} {
		for _, p := range []*patch{nil, unread} {
			for _, sign := range w.signsOf(CauseFinding{Kind: kind}, p) {
				if slices.Contains(never, sign) {
					t.Errorf("%s where nothing was read: %s", kind, sign)
				}
			}
		}
	}
	if got := w.signsOf(CauseFinding{Kind: "dull note"}, &patch{z: 1}); !slices.Equal(got, []cause.SignCode{cause.DullLow}) {
		t.Errorf("a dull note where it reads low: %v", got)
	}
	if got := w.signsOf(CauseFinding{Kind: "dull note"}, &patch{z: 3}); !slices.Equal(got, []cause.SignCode{cause.DullHigh}) {
		t.Errorf("a dull note where it reads high: %v", got)
	}
}

// A patch is judged by its places that were read, never by another's figures.
func TestAPatchIsJudgedByWhatWasRead(t *testing.T) {
	t.Parallel()
	s := &skin{slots: []int{0, 5, 6}, at: map[int]int{0: 0, 5: 1, 6: 2}, mirror: []int{-1, -1, -1}, left: where.Left{Residual: []float64{-40, 9, 10}, Z: []float64{-8, 3, 3.2}}}
	w := &witness{skin: s}
	p := patch{slots: []int{5, 6, 7, 8}}
	if !w.even(p) {
		t.Error("places 5 and 6 stand evenly; that of slot 0 is not theirs")
	}
}

// Changed places that touch only by way of one that went the other way are two areas.
func TestAreasAreOfOneSign(t *testing.T) {
	t.Parallel()
	axis := rowAxis(3)
	for k := range 3 { // a second row gives the grid its spacing down
		axis.IDs, axis.Labels, axis.Elements, axis.Sides = append(axis.IDs, uuid.New()), append(axis.Labels, "y"), append(axis.Elements, uuid.Nil), append(axis.Sides, "port")
		axis.Stations, axis.Rows, axis.Along, axis.Down = append(axis.Stations, int32(k)), append(axis.Rows, 2), append(axis.Along, int32(500*k)), append(axis.Down, 1300)
	}
	p := &HistoryPass{Grid: Grid{Taken: make(Column, 6), Flags: make(Column, 6)}}
	yes := int32(change.Changed)
	c := &comparing{h: &History{Axis: axis}, before: p, after: p, slots: []int{0, 1, 2}, gate: &Gate{
		Verdicts: Column{yes, yes, yes, Null, Null, Null}, Differences: Column{100, -100, 120, Null, Null, Null},
	}}
	if got := c.changedAreas(); len(got) != 3 {
		t.Errorf("%d areas: %v", len(got), got)
	}
}

// A course is of places whose coating stayed, and drying of places read on the pass's surface.
func TestACourseIsOfLikePlaces(t *testing.T) {
	t.Parallel()
	day := func(d int) time.Time { return time.Date(2020+d, 10, 1, 0, 0, 0, 0, time.UTC) }
	since := day(1).AddDate(0, 6, 0)
	h := &History{Axis: rowAxis(4), Layers: []drawn{{Layer: Layer{Kind: "coating", ValidFrom: &since}, corners: [][2]int32{{-100, 500}, {700, 500}, {700, 1500}, {-100, 1500}}}}}
	var passes []*HistoryPass
	for d := range 3 {
		passes = append(passes, &HistoryPass{PassContext: PassContext{BeganAt: day(d)}, Grid: Grid{Flags: make(Column, 4)}, Contrasts: Column{100, 100, 100, 100}})
	}
	if got := h.common(passes); !slices.Equal(got, []int{2, 3}) {
		t.Errorf("common places %v; the first two were coated after the second visit", got)
	}
	other := &DryingPass{HistoryPass: &HistoryPass{Grid: Grid{Flags: Column{FlagOtherSurface}}, Contrasts: Column{100}}}
	if got := other.underbody(h.Axis, 0); !math.IsNaN(got) {
		t.Errorf("read on another surface, and in the series with %g", got)
	}
}

// Air noted in the open at a visit is not the tent's.
func TestTheTentIsNotTheOpen(t *testing.T) {
	t.Parallel()
	no, yes := false, true
	d := &Drying{Began: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), Moments: []SkinRecord{{At: time.Date(2026, 1, 8, 12, 0, 0, 0, time.UTC), AirDecidegrees: 120, HumidityPermille: 600, Indoors: &no}}}
	if got := d.atVisits(); got != nil {
		t.Errorf("a visit in the open gave the tent %v", got)
	}
	d.Moments[0].Indoors = &yes
	if d.atVisits() == nil {
		t.Error("a visit under cover tells of its air")
	}
}

// A dry place read on another surface is no part of the baseline, nor an underbody place so
// read of what the baseline is held against.
func TestTheBaselineIsOfOneSurface(t *testing.T) {
	t.Parallel()
	axis, top := rowAxis(0), int32(70)
	p := &HistoryPass{PassContext: PassContext{BootTopMm: &top, DrySurface: "bare gelcoat", StepTenths: 1}}
	add := func(side string, down, value, flags int32) {
		axis.IDs, axis.Labels, axis.Elements, axis.Sides = append(axis.IDs, uuid.New()), append(axis.Labels, "x"), append(axis.Elements, uuid.Nil), append(axis.Sides, side)
		axis.Along, axis.Down = append(axis.Along, int32(500*len(axis.IDs))), append(axis.Down, down)
		p.Taken, p.Flags = append(p.Taken, value), append(p.Flags, flags)
	}
	for k := range int32(6) {
		add([]string{"port", "starboard"}[k%2], -600, 200+2*k, FlagDry)
	}
	add("port", -600, 900, FlagDry|FlagOtherSurface)
	for k := range int32(12) {
		add("port", 800, 500+2*k, 0)
	}
	b := p.baseline(axis)
	if b.N != 6 || len(b.LeftOut) != 1 || !b.Valid() {
		t.Errorf("%d places, left out %v, reasons %v", b.N, b.LeftOut, b.Reasons)
	}
}

// Drying is counted by the hour while hours are known, and what the instrument senses by the
// figures: a deep one has most of its signal after three weeks at 11 °C, a shallow one after
// two hundred days has not.
func TestDryingReachedFollowsTheHours(t *testing.T) {
	t.Parallel()
	lift, air := time.Date(2026, 5, 1, 23, 0, 0, 0, time.UTC), int16(110)
	pass := func(after time.Duration, sensing string) HistoryPass {
		return HistoryPass{PassContext: PassContext{LiftedAt: &lift, DatePrecision: "instant", TimeZone: "UTC", BeganAt: lift.Add(after), Sensing: sensing, AirDecidegrees: &air}}
	}
	night := dryingReached(pass(10*time.Hour, "deep"))
	if night == nil || night.Hours == nil || *night.Hours != 10 {
		t.Fatalf("ten hours over midnight: %+v", night)
	}
	// 0.954·√(D t): D at 11 °C is 0.594 of that at 20 °C (40 kJ/mol); 0.3 and 3e-12 m²/s, 36 000 s.
	if math.Abs(night.LowMM-0.0764) > 0.001 || math.Abs(night.HighMM-0.2416) > 0.002 {
		t.Errorf("reached %.4f to %.4f mm", night.LowMM, night.HighMM)
	}
	if deep := dryingReached(pass(21*24*time.Hour, "deep")); deep.Left <= 0.5 || deep.Hours != nil {
		t.Errorf("deep after three weeks: %+v", deep)
	}
	if shallow := dryingReached(pass(200*24*time.Hour, "shallow")); shallow.Left > 0.5 {
		t.Errorf("shallow after two hundred days: %+v", shallow)
	}
}

// What met the end of the scale, or was written as a range, is printed as a bound or not at all.
func TestABoundIsNoFigure(t *testing.T) {
	t.Parallel()
	axis := rowAxis(2)
	then := HistoryPass{Grid: Grid{Taken: Column{500, 500}, Flags: Column{FlagAbove, 0}}, Contrasts: Column{300, 300}}
	now := HistoryPass{Grid: Grid{Taken: Column{500, 700}, Flags: Column{FlagAbove, FlagAbove}}, Contrasts: Column{300, 500}}
	g := &Gate{Verdicts: Column{int32(change.CannotTell), int32(change.Changed)}, Differences: Column{0, 200}, Whys: []string{"at-scale-end", ""}}
	in := report.ComparisonInput{Standing: report.Same, Least: new(float64), Places: []report.PlaceChangeInput{placeChange(g, 0, now, then, axis), placeChange(g, 1, now, then, axis)}}
	got := report.Build(report.Input{Compared: []report.ComparisonInput{in}}).Changes[0].Places
	if got[0].By != "" || got[0].Then != "over +15.0" || got[0].Now != "over +15.0" {
		t.Errorf("two readings beyond the scale: %+v", got[0])
	}
	if got[1].By != "over +10.0" || got[1].Then != "+15.0" || got[1].Now != "over +25.0" {
		t.Errorf("a change to beyond the scale: %+v", got[1])
	}
	c := &comparing{h: &History{Axis: axis}, before: &now, after: &now}
	if why := c.unfit(0, FlagRange); why != "range" || !strings.Contains(placeUntold(why).Text, "range") {
		t.Errorf("a range is subtracted: %q", why)
	}
	if v, _ := then.value(0); v.Limit != measure.Above {
		t.Error("the flag is lost")
	}
}

// A wash between the day on which a gate was met and the day on which somebody signed it
// opens the gate.
func TestAWashAfterTheDayOpensTheGate(t *testing.T) {
	t.Parallel()
	on := func(d, h int) time.Time { return time.Date(2026, 3, d, h, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		washed time.Time
		open   bool
	}{{on(1, 9), false}, {on(3, 9), true}, {on(6, 9), true}} {
		g := GateLine{Gate: drying.Gate{Rule: drying.Rule{Key: drying.Stable}}}
		g.signed([]GateSignature{{Gate: string(drying.Stable), MetOn: on(1, 0), At: on(5, 12)}}, []Wash{{At: c.washed}}, time.UTC)
		if open := g.Signature == nil; open != c.open {
			t.Errorf("met on the 1st, signed on the 5th, washed on %s: open %v", c.washed.Format(time.DateOnly), open)
		}
	}
}
