package report_test

import (
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/report"
)

// That no change is shown is no proof that there is none: no sentence says so.
func TestNoSentenceSaysThatNothingChanged(t *testing.T) {
	t.Parallel()
	for _, s := range []report.Sentence{report.AreasChanged(nil), report.ChangedAt(nil), report.AtLarge(report.NoChange, "October 2023")} {
		if text := s.Text(); !strings.Contains(text, "shown") {
			t.Errorf("says that nothing changed: %s", text)
		}
	}
}

// What a count leaves open stands beside the look, and neither says more than was written down.
func TestAnEmptyWindowSaysNoMoreThanTheLook(t *testing.T) {
	t.Parallel()
	if got := report.WindowsSeen(0.12, 0, 24.96, "", false).Text(); strings.Contains(got, "was not looked over") {
		t.Errorf("says that nobody looked, where nothing was written down: %s", got)
	}
	in := report.Input{Windows: &report.WindowsInput{Count: 12, M2: 0.12, BoundPerM2: 24.96}, Look: "wet, just after the lift", BlistersFound: true}
	if got := report.Join(report.Build(in).InShort); strings.Contains(got, "none larger seen") {
		t.Errorf("the report holds a finding of blisters, and this says: %s", got)
	}
}

// A range is drawn as it was written: its middle was never read (figure.Reading).
func TestARangeIsDrawnAsWritten(t *testing.T) {
	t.Parallel()
	v := measure.Value{At: 350, Limit: measure.Range, Low: 300, High: 400}
	if got := report.Figure(v); got != "15–20" {
		t.Errorf("drawn as %q", got)
	}
	above := 6.5
	r := report.Build(report.Input{Today: []report.PassInput{{
		Baseline: &report.BaselineInput{Places: 8, Median: 11, Scatter: 1}, Readings: []report.ReadingInput{{Place: "port 1/1", Value: v, Contrast: &above}},
	}}})
	if got := r.Passes[0].Readings[0].Contrast; got != "about +6.5" {
		t.Errorf("its contrast is %q", got)
	}
}

// A density is never written as nothing where something was counted: 1 in 5 m² is 0.2 to the
// square metre, 0.005 to 1.1 (Garwood: 0.0253 and 5.572 over 5, from tables).
func TestASmallDensityKeepsItsFigures(t *testing.T) {
	t.Parallel()
	if got := report.CountedDensity(1, 5, 0.2, 0.0253/5, 5.572/5).Is; got != "1 in 5.0\u00a0m²: 0.2 to the square metre (0.0 to 1.2, 95\u00a0% confidence)" {
		t.Error(got)
	}
	if got := report.CountedDensity(6, 0.01, 600, 220.2, 1305.9).Is; !strings.Contains(got, "600 to the square metre (220 to 1306,") {
		t.Error(got)
	}
	for m2, want := range map[float64]string{0.0025: "0.0025", 0.012: "0.012", 0.12: "0.12", 0.23: "0.23", 1: "1.0", 23: "23"} {
		if got := report.SquareMetres(m2); got != want+"\u00a0m²" {
			t.Errorf("%g m² is written %s", m2, got)
		}
	}
}

// A chance too small for its decimals is not written as none.
func TestASmallChanceIsNotNone(t *testing.T) {
	t.Parallel()
	if got := report.CourseShown(true, 9, 40, 5.5e-6).Text(); !strings.Contains(got, "fewer than 0.1 of a hundred") {
		t.Error(got)
	}
	if got := report.CourseShown(true, 5, 40, 2.0/120).Text(); !strings.Contains(got, "about 1.7 of a hundred") {
		t.Error(got)
	}
}

// The first rebound against the last is one difference: nothing is said of the cycles
// between, and no difference shown is no proof of the same height.
func TestTwoReboundsAreNoCourse(t *testing.T) {
	t.Parallel()
	e := measure.Estimate{Value: 1.2, Lower: -0.3, Upper: 2.6}
	if got := report.ReboundSays(drying.ReboundFalling, e, 4).Text(); strings.Contains(got, "cycle to cycle") {
		t.Error(got)
	}
	if got := report.ReboundSays(drying.ReboundSame, e, 4).Text(); strings.Contains(got, "to the same height*") || !strings.Contains(got, "−0.3 to 2.6") {
		t.Error(got)
	}
}

// What the instrument senses is as she came out only while the figures say so.
func TestWhatIsSensedFollowsFromTheFigures(t *testing.T) {
	t.Parallel()
	const most = "most of what the instrument senses is as she came out"
	for left, want := range map[float64]bool{0.64: true, 0.5: false, 0.31: false} {
		in := report.Input{Limits: report.LimitsInput{Drying: &report.DryingInput{Days: 240, Air: 20, LowMM: 2.4, HighMM: 7.5, Left: left}}}
		if got := report.Join(report.Build(in).Limits); strings.Contains(got, most) != want {
			t.Errorf("with %g of the signal left: %s", left, got)
		}
	}
	hours := 8
	in := report.Input{Limits: report.LimitsInput{Drying: &report.DryingInput{Hours: &hours, Air: 11, LowMM: 0.07, HighMM: 0.22, Left: 0.9}}}
	if got := report.Join(report.Build(in).Limits); !strings.Contains(got, "In 8 hours at") {
		t.Error(got)
	}
}

// A day in a yard is told as the yard counts days: half past nine in the evening by UTC on
// the 13th is half past ten in the morning of the 14th at UTC+13.
func TestADayIsTheYards(t *testing.T) {
	t.Parallel()
	at, yard := time.Date(2026, 10, 13, 21, 30, 0, 0, time.UTC), time.FixedZone("yard", 13*3600)
	above := 3.0
	r := report.Build(report.Input{
		Zone:     time.UTC,
		Today:    []report.PassInput{{At: at, Zone: yard, Above: &above, Baseline: &report.BaselineInput{Places: 8}}},
		Earlier:  []report.VisitInput{{At: at, Zone: yard}},
		Compared: []report.ComparisonInput{{Since: at, Zone: yard, Standing: report.Unlike}},
	})
	for what, got := range map[string]string{"pass": r.Passes[0].On, "visit": r.Visits[0].On, "comparison": r.Changes[0].Since} {
		if !strings.HasPrefix(got, "14 Oct") {
			t.Errorf("%s: %s", what, got)
		}
	}
	if got := report.Join(r.InShort); !strings.Contains(got, "On 14 October 2026") {
		t.Error(got)
	}
}
