package practice

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/report"
)

// The trade notes, section 3: what two instruments of different depth would see of 10 mm
// skin, inner face sealed, D = 1e-12 m²/s, fully wet start, perfectly dry air. What days
// ashore would explain is reckoned from the same figures.
func TestSignalIsThatOfTheTradesTable(t *testing.T) {
	t.Parallel()
	for days, want := range map[float64]map[string]float64{
		0: {"deep": 1, "shallow": 1}, 1: {"deep": 0.94, "shallow": 0.85}, 7: {"deep": 0.86, "shallow": 0.68},
		21: {"deep": 0.77, "shallow": 0.53}, 60: {"deep": 0.64, "shallow": 0.39}, 240: {"deep": 0.40, "shallow": 0.22},
	} {
		for sensing, share := range want {
			if got := signal(sensing, days); math.Abs(got-share) > 0.0101 {
				t.Errorf("%s after %g days: %.3f, want %.2f", sensing, days, got, share)
			}
		}
	}
}

// Section 6: a count of zero in windows of 100 × 100 mm, a square grid, and how many visits
// the word trend takes.
func TestWhatWasNotSeenIsThatOfTheTradesExamples(t *testing.T) {
	t.Parallel()
	pass := HistoryPass{PassContext: PassContext{ID: uuid.New(), VisitID: uuid.New()}}
	for windows, want := range map[int]float64{12: 25, 20: 15} {
		h := History{}
		for range windows {
			h.Windows = append(h.Windows, WindowAt{VisitID: pass.VisitID, WidthMm: 100, HeightMm: 100})
		}
		u := h.unseen(&pass)
		if u.Windows != windows || u.BoundPerM2 == nil || math.Round(*u.BoundPerM2) != want {
			t.Errorf("%d windows: %+v, want up to %g to the square metre", windows, u, want)
		}
		if text := u.Statements[1].Said.Text(); u.Statements[1].Code != "windows-seen" {
			t.Errorf("it says %q", text)
		}
	}
	for _, every := range []int32{150, 300, 1000} {
		h := History{}
		for k := range int32(16) {
			h.Axis.IDs, h.Axis.Sides = append(h.Axis.IDs, uuid.New()), append(h.Axis.Sides, "port")
			h.Axis.Labels = append(h.Axis.Labels, fmt.Sprint(k))
			h.Axis.Along, h.Axis.Down = append(h.Axis.Along, every*(k%4)), append(h.Axis.Down, every*(k/4+1))
		}
		p := pass
		p.Taken, p.Flags = make(Column, 16), make(Column, 16)
		u := h.unseen(&p)
		// Both are rounded up to the next millimetre: a flaw said to be met is met.
		if d := float64(u.Smallest) - 1.12*float64(every); d < -0.02*float64(every) || d > 0.02*float64(every)+1 {
			t.Errorf("nine times in ten: off by %.1f mm", d)
		}
		if d := float64(u.Certain) - math.Sqrt2*float64(every); d < 0 || d > 1 {
			t.Errorf("a grid of %d mm meets %d mm nine times in ten and %d mm surely; want 1.12 and 1.41 of it", every, u.Smallest, u.Certain)
		}
	}
	if n := course.VisitsForTrend(1 - gateRate); n != 5 {
		t.Errorf("the word trend takes %d visits, want 5", n)
	}
}

// A plan that was read in part says so: silence about a place is never taken for a reading.
func TestSilenceAboutAPlaceIsSaid(t *testing.T) {
	t.Parallel()
	plan := uuid.New()
	places := func(read int) (h History, p HistoryPass) {
		h.Plans = []PlanLine{{ID: plan}}
		p = HistoryPass{PassContext: PassContext{ID: uuid.New(), VisitID: uuid.New(), PlanID: plan, State: "closed"}}
		for k := range 20 {
			h.Axis.IDs, h.Axis.Sides, h.Axis.Labels = append(h.Axis.IDs, uuid.New()), append(h.Axis.Sides, "port"), append(h.Axis.Labels, fmt.Sprint(k))
			h.Axis.Along, h.Axis.Down = append(h.Axis.Along, 0), append(h.Axis.Down, 0)
			h.Plans[0].Places = append(h.Plans[0].Places, int32(k+1))
			p.Taken, p.Flags = append(p.Taken, Null), append(p.Flags, 0)
			if k < read {
				p.Taken[k] = 400
			}
		}
		return h, p
	}
	for name, c := range map[string]struct {
		read   int
		change func(*History, *HistoryPass)
		codes  []string
		says   string
	}{
		"all read":                {20, func(*History, *HistoryPass) {}, []string{"not-reached", "nothing-bared"}, "Every place of the plan was reached."},
		"read in part":            {12, func(*History, *HistoryPass) {}, []string{"silent", "nothing-bared"}, "8 places of the plan with neither a reading nor a reason"},
		"still being read":        {12, func(_ *History, p *HistoryPass) { p.State = "open" }, []string{"still-to-read", "nothing-bared"}, "8 places of the plan still to be read."},
		"the rest not reached":    {19, func(h *History, p *HistoryPass) { h.Gaps = []GapAt{{PassID: p.ID, Ordinal: 20, Reason: "prop pad"}} }, []string{"not-reached", "nothing-bared"}, "Not reached: 1 place (prop pad)."},
		"one aimed at is planned": {20, func(_ *History, p *HistoryPass) { p.Flags[3] = FlagTargeted }, []string{"not-reached", "nothing-bared"}, "Every place of the plan was reached."},
		"one read off the plan":   {20, func(h *History, p *HistoryPass) { h.Plans[0].Places, p.Taken[3] = h.Plans[0].Places[:19], Null }, []string{"silent", "nothing-bared"}, "1 place of the plan"},
		"quoted from old papers":  {20, func(_ *History, p *HistoryPass) { p.LostContext = []Warning{{Code: "hand"}} }, []string{"not-reached", "bared-unknown"}, "Every place"},
	} {
		h, p := places(c.read)
		c.change(&h, &p)
		u := h.unseen(&p)
		var codes []string
		for _, s := range u.Statements {
			codes = append(codes, s.Code)
		}
		if !slices.Equal(codes, c.codes) || !strings.Contains(u.Statements[0].Said.Text(), c.says) {
			t.Errorf("%s: it says %v, first %q", name, codes, u.Statements[0].Said.Text())
		}
	}
}

// Where a lift is dated by a month, what days ashore explain spans what its first and its
// last day would; two passes of one time ashore count from one lift, whichever it was.
func TestARangeOfDaysAshoreIsReckonedWithBothEnds(t *testing.T) {
	t.Parallel()
	air := int16(200)
	on := func(month time.Month, day int) time.Time { return time.Date(2024, month, day, 10, 0, 0, 0, time.UTC) }
	pass := func(lift time.Time, precision string, at time.Time) *HistoryPass {
		return &HistoryPass{PassContext: PassContext{LiftedAt: &lift, DatePrecision: precision, TimeZone: "Etc/UTC", BeganAt: at, VisitAt: at, Sensing: "deep", AirDecidegrees: &air}}
	}
	band := func(before, after *HistoryPass) Band {
		c := &comparing{before: before, after: after}
		b := c.expectedAshore(20)
		if b == nil {
			t.Fatal("days ashore explain nothing")
		}
		return *b
	}
	after := pass(on(10, 1), "day", on(10, 29)) // 28 days
	first, last := band(pass(on(5, 1), "day", on(6, 10)), after), band(pass(on(5, 31), "day", on(6, 10)), after)
	ranged := band(pass(on(5, 1), "month", on(6, 10)), after)
	if ranged.Low > min(first.Low, last.Low)+1e-9 || ranged.High < max(first.High, last.High)-1e-9 {
		t.Errorf("%v does not hold %v and %v", ranged, first, last)
	}
	if !(ranged.High-ranged.Low > first.High-first.Low && ranged.High-ranged.Low > last.High-last.Low) {
		t.Errorf("the range %v is no wider than its ends %v, %v", ranged, first, last)
	}
	lift := on(5, 1)
	one := band(pass(lift, "month", on(6, 10)), pass(lift, "month", on(7, 8)))
	if one.High > 1e-9 { // later in one time ashore is never wetter, whenever in May she was lifted
		t.Errorf("of one time ashore a month foresees %v", one)
	}
	c := &comparing{before: pass(on(5, 1), "month", on(6, 10)), after: after}
	if text := c.ashore(20).Text; !strings.HasPrefix(text, "10 to 40 days ashore, then 28: ") {
		t.Errorf("it says %q", text)
	}
	soon := (&History{}).surelyTooSoon(PassContext{}, Ashore{Least: 0, Most: 1})
	if soon != "" {
		t.Errorf("nothing is known of her laminate, and she was read too soon: %q", soon)
	}
}

// Section 6: a rank trend cannot pass 5 % before five visits (least p 0.33 at 3, 0.083 at 4,
// 0.017 at 5). Of a history that is passes of like standing, one a visit, which may be told.
func TestATrendTakesFiveVisitsThatCount(t *testing.T) {
	t.Parallel()
	job := uuid.New()
	rising := func(n int, change ...func(k int, p *HistoryPass)) *Course {
		h := History{Axis: Axis{IDs: make([]uuid.UUID, 6), Down: Column{300, 300, 300, 300, 300, 300}}}
		for k := range n {
			p := HistoryPass{PassContext: PassContext{ID: uuid.New(), VisitID: uuid.New(), JobID: job, BeganAt: time.Date(2016+k, 10, 4, 9, 0, 0, 0, time.UTC)}, Standing: Same}
			p.Taken, p.Flags, p.Contrasts = make(Column, 6), make(Column, 6), make(Column, 6)
			for i := range p.Contrasts {
				p.Contrasts[i] = int32(200 + 60*k + i)
			}
			if k == n-1 {
				p.Standing = Reference
			}
			for _, c := range change {
				c(k, &p)
			}
			h.Passes = append(h.Passes, p)
		}
		return h.course(n - 1)
	}
	second := func(do func(*HistoryPass)) func(int, *HistoryPass) {
		return func(k int, p *HistoryPass) {
			if k == 1 {
				do(p)
			}
		}
	}
	one := uuid.New()
	for name, c := range map[string]struct {
		course *Course
		visits int
		code   string
	}{
		"two":                               {rising(2), 2, "too-few-visits"},
		"four that rise":                    {rising(4), 4, "too-few-visits"},
		"five that rise":                    {rising(5), 5, "course-shown"},
		"six, of which one is unlike":       {rising(6, second(func(p *HistoryPass) { p.Standing = Unlike })), 5, "course-shown"},
		"five, of which one is unlike":      {rising(5, second(func(p *HistoryPass) { p.Standing = Unlike })), 4, "too-few-visits"},
		"five, of which one lost it":        {rising(5, second(func(p *HistoryPass) { p.Lost = []Warning{{"frost", "."}} })), 4, "too-few-visits"},
		"five, of which one was lowered":    {rising(5, second(func(p *HistoryPass) { p.Lowered = &Lowered{Standing: Unlike} })), 4, "too-few-visits"},
		"five, of which one is not told of": {rising(5, second(func(p *HistoryPass) { p.JobID, p.Cite = uuid.New(), "this client only" })), 4, "too-few-visits"},
		"five passes at four visits": {rising(5, func(k int, p *HistoryPass) {
			if k == 1 || k == 2 {
				p.VisitID = one
			}
		}), 4, "too-few-visits"},
		"five up and down": {rising(5, func(k int, p *HistoryPass) {
			for i := range p.Contrasts {
				p.Contrasts[i] = int32(200 + 60*(k%2) + k + i)
			}
		}), 5, "no-course-shown"},
	} {
		if c.course == nil || len(c.course.Visits) != c.visits || c.course.Statements[0].Code != c.code || c.course.Trend.Trend != (c.code == "course-shown") {
			t.Errorf("%s: %+v", name, c.course)
		}
	}
}

// A report says for how long a boat had been out as far as lift and visit are dated, or as an
// old report has it, on its page's table and wherever its words take it.
func TestAReportSaysDaysAshoreAsFarAsTheyAreKnown(t *testing.T) {
	t.Parallel()
	job, client := uuid.New(), uuid.New()
	on := func(month time.Month, day, hour int) time.Time {
		return time.Date(2019, month, day, hour, 0, 0, 0, time.UTC)
	}
	lift := on(5, 2, 9)
	pass := func(at time.Time, precision, known string) HistoryPass {
		return HistoryPass{PassContext: PassContext{
			ID: uuid.New(), VisitID: uuid.New(), JobID: uuid.New(), Cite: "vessel history without names", LiftedAt: &lift, DatePrecision: precision, TimeZone: "Etc/UTC", BeganAt: at, VisitAt: at, VisitPrecision: known,
		}}
	}
	today := pass(time.Date(2026, 10, 14, 9, 0, 0, 0, time.UTC), "month", "instant")
	today.JobID, today.LiftedAt = job, new(time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC))
	written := pass(on(6, 1, 0), "day", "year")
	written.LiftedAt, written.DaysAshoreAsWritten, written.Quoted = nil, "some weeks", true
	unknown := written
	unknown.DaysAshoreAsWritten = ""
	dated := unknown
	dated.Quoted = false
	for want, old := range map[string]HistoryPass{
		"30 to 59 days ashore":   pass(on(6, 1, 0), "day", "month"),
		"1 to 60 days ashore":    pass(on(6, 1, 0), "month", "month"),
		"21 days ashore":         pass(on(5, 23, 9), "day", "instant"),
		"50 hours ashore":        pass(on(5, 4, 11), "instant", "instant"),
		"2 days ashore":          pass(on(5, 4, 11), "day", "instant"), // the hour of the lift is not known
		"“some weeks” ashore":    written,
		"days ashore not stated": unknown, // by the old paper
		"days ashore not known":  dated,
		"0 to 243 days ashore":   pass(on(1, 1, 0), "day", "year"),
	} {
		built, _ := assemble(Report{JobID: job}, Sources{History: History{Passes: []HistoryPass{old, today}}, Facts: ReportFacts{TimeZone: "Etc/UTC", ClientID: &client}}, report.Issue{Draft: true}, today.BeganAt)
		if len(built.Visits) != 1 || built.Visits[0].Ashore != want {
			t.Errorf("the visit's line is %+v, want %q", built.Visits, want)
		}
		if built.Passes[0].Ashore != "14 to 43 days ashore" {
			t.Errorf("today's pass stood %q", built.Passes[0].Ashore)
		}
	}
}

// The brief says it in the same words.
func TestABriefSaysARangeOfDaysAsTheReportDoes(t *testing.T) {
	t.Parallel()
	on := func(month time.Month, day int) time.Time { return time.Date(2019, month, day, 9, 0, 0, 0, time.UTC) }
	held := HistoryPass{PassContext: PassContext{LiftedAt: new(on(5, 2)), DatePrecision: "day", TimeZone: "Etc/UTC", BeganAt: on(6, 1), VisitAt: on(6, 1), VisitPrecision: "month"}}
	next := VisitLine{State: "planned", From: on(9, 20), Lift: new(on(9, 1)), Precision: "day", LiftZone: "Etc/UTC"}
	for want, visit := range map[string]*VisitLine{
		"Days ashore: 30 to 59 last time.": nil,
		"Days ashore: 30 to 59 last time, 19 at this visit: known to a range, so that what drying explains is reckoned with both ends and more is taken.": &next,
	} {
		if got := (&Brief{Visit: visit}).days(&held); got != want {
			t.Errorf("it says %q, want %q", got, want)
		}
	}
}

// Where the dry places of a pass are others than those of the plan before, the reason stands
// with the baseline's figures, of today's pass and of the earlier one.
func TestAReportSaysThatDryPlacesWereChanged(t *testing.T) {
	t.Parallel()
	job := uuid.New()
	plan := PlanLine{PlanVersion: 2, DryChangeReason: "the topsides aft were painted"}
	pass := func(year int) HistoryPass {
		at := time.Date(year, 10, 14, 9, 0, 0, 0, time.UTC)
		return HistoryPass{PassContext: PassContext{ID: uuid.New(), JobID: uuid.New(), Cite: "named", BeganAt: at, VisitAt: at}, Plan: plan}
	}
	old, today := pass(2023), pass(2026)
	today.JobID = job
	built, _ := assemble(Report{JobID: job}, Sources{History: History{Passes: []HistoryPass{old, today}}, Facts: ReportFacts{TimeZone: "Etc/UTC"}}, report.Issue{Draft: true}, today.BeganAt)
	const said = "dry places differ from the plan before: the topsides aft were painted"
	if !slices.ContainsFunc(built.Taken, func(f report.Fact) bool { return f.Name == "baseline" && strings.HasSuffix(f.Is, said) }) {
		t.Errorf("how it was read: %+v", built.Taken)
	}
	if len(built.Visits) != 1 || !strings.HasSuffix(built.Visits[0].Why, said) {
		t.Errorf("the earlier visit: %+v", built.Visits)
	}
}
