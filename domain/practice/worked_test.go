package practice

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/course"
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
		if math.Abs(float64(u.Smallest)/float64(every)-1.12) > 0.02 || math.Abs(float64(u.Certain)/float64(every)-1.41) > 0.01 {
			t.Errorf("a grid of %d mm meets %d mm nine times in ten and %d mm surely; want 1.12 and 1.41 of it", every, u.Smallest, u.Certain)
		}
	}
	if n := course.VisitsForTrend(1 - gateRate); n != 5 {
		t.Errorf("the word trend takes %d visits, want 5", n)
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
	if text := c.ashore(20).Text; text[:37] != "Between 10 and 40 days ashore, then 2" {
		t.Errorf("it says %q", text)
	}
	soon := (&History{}).surelyTooSoon(PassContext{}, Ashore{Least: 0, Most: 1})
	if soon != "" {
		t.Errorf("nothing is known of her laminate, and she was read too soon: %q", soon)
	}
}
