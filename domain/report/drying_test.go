package report

import (
	"math"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/course"
)

// dryingCatalogue calls every sentence of the drying log with every verdict it can meet.
func dryingCatalogue() (list []Sentence) {
	e := measure.Estimate{Value: 4.2, Lower: 1.1, Upper: 7.3, N: 12}
	two := 2.0
	list = append(list, DryingCourseSays(drying.Course{}, 3))
	for _, m := range []course.Motion{course.Moving, course.Slower, course.Stalled, course.MotionOpen} {
		list = append(list, DryingCourseSays(drying.Course{Motion: &course.Stall{Motion: m, Observed: e, Expected: e}}, 6))
	}
	inf := math.Inf(1)
	for _, b := range []course.Band{{Earliest: 30, Latest: 90}, {Earliest: 30, Latest: inf}, {Earliest: inf, Latest: inf}} {
		list = append(list, DryingBand(12, "the coating’s maker asks for it", b))
	}
	air := drying.Climate{Temperature: 19, Humidity: 42}
	list = append(list, DryingPhysics(drying.Physics{Wall: 9, Floor: 0.42, Half: measure.Estimate{Value: 90, Lower: 30, Upper: 300}, Depth: e}, air),
		DryingPhysics(drying.Physics{Wall: 9, Floor: 1, Half: measure.Estimate{Value: inf}}, air))
	for _, r := range []drying.Rebounds{drying.ReboundFalling, drying.ReboundSame, drying.ReboundNone, drying.ReboundCannot} {
		list = append(list, ReboundSays(r, e, 3))
	}
	for _, r := range drying.Reasons(drying.Evidence{}) {
		for _, p := range []drying.Points{drying.Towards, drying.Against, drying.Unknown} {
			r.Points, r.Figure, r.Side = p, e, "port"
			list = append(list, StallEvidence(r, &air), StallEvidence(r, nil), Say(ToDo, StallPattern(r.Pattern)+"."), Say(ToDo, StallCheck(r.Pattern)+"."))
		}
	}
	for _, g := range drying.Gates(drying.Rules(), drying.Records{}) {
		list = append(list, GateEvidence(g, ""), Say(Caution, GateName(g.Key)+"; "+GateAsks(g.Rule)+"; "+g.Tag+"."))
		for _, v := range []drying.Verdict{drying.Met, drying.NotMet, drying.CannotTell, drying.Recorded} {
			for _, why := range []string{"", "condensed", "too few visits", "too close", "air not noted", "unlike air", "washed since", "not measured", "other delay"} {
				g.Verdict, g.Why, g.Figure, g.Beside = v, why, e, &two
				list = append(list, GateEvidence(g, "3 Nov 2026"))
			}
		}
	}
	on := time.Date(2026, 11, 3, 0, 0, 0, 0, time.UTC)
	for met := range 9 {
		list = append(list, Say(Agreed, GateSheetTitle(met, 8, &on)+"."))
	}
	for _, c := range DryingCautions() {
		list = append(list, Say(Caution, c))
	}
	return list
}

func TestTheDryingLogSaysNoMoreThanItMay(t *testing.T) {
	t.Parallel()
	for _, s := range dryingCatalogue() {
		text := s.Text()
		if w := Lint(text); len(w) > 0 {
			t.Errorf("our own sentence says too much (%s): %s", w[0].Found, text)
		}
		if strings.Contains(strings.ToLower(text), "ready") {
			t.Errorf("whoever coats decides, and this says: %s", text)
		}
		if s.Claim == "" || !strings.HasSuffix(text, ".") || strings.Contains(text, "  ") || strings.Contains(text, "*") || strings.Contains(text, "NaN") {
			t.Errorf("not a sentence: %q", text)
		}
	}
}

func TestTheSheetIsTitledByWhatWasMet(t *testing.T) {
	t.Parallel()
	on := time.Date(2026, 11, 3, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		met  int
		want string
	}{{0, "Coating gates, none met yet"}, {5, "Coating gates: 5 of 8 met, the last on 3 November 2026"}, {8, "Coating gates met on 3 November 2026"}} {
		if got := GateSheetTitle(c.met, 8, &on); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
