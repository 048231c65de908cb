package baseline_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/measure/internal/check"
)

type reading struct {
	Tenths  int32
	Limit   string
	Side    string
	Above   *int32
	Surface string
}

func (r reading) value() measure.Value {
	return measure.Value{
		At:    measure.FromTenths(r.Tenths),
		Limit: map[string]measure.Limit{"": measure.Exact, "below": measure.Below, "above": measure.Above}[r.Limit],
	}
}

// testdata/measure/baseline.json is read by the client's twin too.
func TestWorkedCasesOfTheBaseline(t *testing.T) {
	t.Parallel()
	var f struct {
		Cases []struct {
			Name     string
			Settings struct {
				Least       int
				Clear       int32
				Share, Step float64
				Surface     string
			}
			Dry, Under []reading
			Want       struct {
				MedianFortieths, ContrastFortieths *int32
				Scatter                            *float64
				Reasons                            []string
				LeftOut                            [][2]any
			}
		}
	}
	check.Load(t, "baseline.json", &f)
	for _, c := range f.Cases {
		var dry []baseline.Place
		for _, r := range c.Dry {
			p := baseline.Place{Value: r.value(), Surface: r.Surface, Side: map[string]baseline.Side{"port": baseline.Port, "starboard": baseline.Starboard}[r.Side]}
			if p.AboveNone = r.Above == nil; !p.AboveNone {
				p.Above = *r.Above
			}
			dry = append(dry, p)
		}
		var under []measure.Value
		for _, r := range c.Under {
			under = append(under, r.value())
		}
		s := baseline.Defaults()
		s.Least, s.Clear, s.Share, s.Step, s.Surface = c.Settings.Least, c.Settings.Clear, c.Settings.Share, c.Settings.Step, c.Settings.Surface
		b := mustOf(t, dry, under, s)

		reasons, left := []string{}, [][2]any{}
		for _, r := range b.Reasons {
			reasons = append(reasons, r.Why.String())
		}
		for _, l := range b.LeftOut {
			left = append(left, [2]any{float64(l.Index), l.Why.String()})
		}
		if fmt.Sprint(reasons, left) != fmt.Sprint(c.Want.Reasons, c.Want.LeftOut) {
			t.Errorf("%s: %v, left out %v; want %v, %v", c.Name, reasons, left, c.Want.Reasons, c.Want.LeftOut)
		}
		if w := c.Want.MedianFortieths; w != nil && (!b.Median.Exact() || int32(b.Median.Low) != *w) {
			t.Errorf("%s: median %v, want %d", c.Name, b.Median, *w)
		}
		if w := c.Want.Scatter; w != nil && math.Abs(b.Scatter-*w) > 1e-9 {
			t.Errorf("%s: scatter %v, want %v", c.Name, b.Scatter, *w)
		}
		if w := c.Want.ContrastFortieths; w != nil && (!b.Contrast.Exact() || int32(b.Contrast.Low) != *w) {
			t.Errorf("%s: contrast %v, want %d", c.Name, b.Contrast, *w)
		}
	}
}

// The interval of a contrast holds the doubt of the dry level: it covers what it
// states, however the dry places are distributed.
func TestContrastsCoverTheTrueOne(t *testing.T) {
	t.Parallel()
	for i, p := range check.Populations() {
		for _, n := range []int{6, 12, 40} {
			scale := map[string]float64{"normal": 1, "skewed": 4, "tied": 1}[p.Name]
			trial := func(r *rand.Rand) (ok bool, stated float64) {
				var dry []baseline.Place
				for j, x := range p.Fill(r, n) {
					dry = append(dry, baseline.Place{Value: measure.Value{At: measure.Twentieth(math.Round(x * scale * 20))}, Side: baseline.Side(1 + j%2), Above: 300})
				}
				b, err := baseline.Of(dry, []measure.Value{{At: 4000}}, baseline.Defaults())
				if err != nil || !b.Valid() {
					t.Errorf("%v %v", err, b.Reasons)
				}
				c, _ := b.Of(measure.Value{At: 4000})
				truth := 200 - p.Median*scale
				// Rounding to a twentieth moves the truth by half of one.
				return c.Estimate.Lower <= truth+0.025 && truth-0.025 <= c.Estimate.Upper, c.Estimate.Level
			}
			_, stated := trial(rand.New(rand.NewPCG(1, 1)))
			seen := check.Share(uint64(700+10*i+n), func(r *rand.Rand) bool { ok, _ := trial(r); return ok })
			check.AtLeast(t, fmt.Sprintf("contrast, %s, n = %d", p.Name, n), seen, stated)
		}
	}
}
