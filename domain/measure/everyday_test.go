package measure_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/salt"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
)

// limited is a value of the scale as everyday.json writes it.
type limited struct {
	Limit         string
	At, Low, High measure.Twentieth
}

func (l limited) value() measure.Value {
	limits := map[string]measure.Limit{"": measure.Exact, "below": measure.Below, "above": measure.Above, "range": measure.Range}
	return measure.Value{At: l.At, Limit: limits[l.Limit], Low: l.Low, High: l.High}
}

// everyday is testdata/measure/everyday.json: what the client computes without the service,
// worked a second time in plain Python. The client's twins in web/src/measure read it too.
type everyday struct {
	Placements []struct {
		Tenths     []int32
		Twentieths measure.Twentieth
	}
	Written []struct {
		limited
		Bounds [2]*float64
	}
	Medians []struct {
		Values    []limited
		Fortieths [2]*order.Fortieth
	}
	Contrasts struct {
		MedianFortieths order.Fortieth
		Cases           []struct {
			limited
			Fortieths [2]*order.Fortieth
		}
	}
	Air []struct {
		Air, Surface                                        unit.Celsius
		RH                                                  unit.Humidity
		Off                                                 air.Sensors
		DewPoint, Absolute, AtSurface, Margin, Lower, Upper float64
		FrostPoint                                          *float64
		Standing                                            air.Standing
		Notes                                               []string
	}
	Drying []struct {
		Course []struct {
			Days unit.Days
			At   unit.Celsius
		}
		Wall                               unit.Millimetres
		EquivalentDays, Low, Typical, High float64
		Notes                              []string
	}
	Grids []struct {
		Along, Down, Pad, Flaw     unit.Millimetres
		Chance, NineInTen, Certain float64
	}
	ZeroCounts []struct{ Area, Level, Upper float64 }
	Counts     []struct {
		First, Second   int
		Area1, Area2, P float64
	}
	Salt []struct {
		salt.Patch
		Value, Lower, Upper float64
	}
}

func loadEveryday(t *testing.T) (e everyday) {
	t.Helper()
	b, err := os.ReadFile("../../testdata/measure/everyday.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &e); err != nil {
		t.Fatal(err)
	}
	return e
}

// near fails unless got lies within so much of want.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// isEnd tells whether an end is the one wanted, where nil stands for an open one.
func isEnd(got float64, want *float64) bool {
	if want == nil {
		return math.IsInf(got, 0)
	}
	return got == *want
}

func TestEverydayReadings(t *testing.T) {
	t.Parallel()
	e := loadEveryday(t)
	for _, c := range e.Placements {
		var r simulate.Reading
		for _, x := range c.Tenths {
			r.Placements = append(r.Placements, simulate.Placement{Tenths: x})
		}
		if v, _ := r.Median(); v.At != c.Twentieths {
			t.Errorf("%v: median %d twentieths, want %d", c.Tenths, v.At, c.Twentieths)
		}
	}
	for _, c := range e.Written {
		low, high := c.value().Bounds()
		if !isEnd(low, c.Bounds[0]) || !isEnd(high, c.Bounds[1]) {
			t.Errorf("%+v: bounds %v, %v", c.limited, low, high)
		}
	}
	same := func(s order.Span, want [2]*order.Fortieth) bool {
		low, high := order.OpenLow, order.OpenHigh
		if want[0] != nil {
			low = *want[0]
		}
		if want[1] != nil {
			high = *want[1]
		}
		return s == order.Span{Low: low, High: high}
	}
	for _, c := range e.Medians {
		var vs []measure.Value
		for _, v := range c.Values {
			vs = append(vs, v.value())
		}
		if s, err := order.MedianOf(vs); err != nil || !same(s, c.Fortieths) {
			t.Errorf("%+v: median %+v, %v", c.Values, s, err)
		}
	}
	dry := order.Span{Low: e.Contrasts.MedianFortieths, High: e.Contrasts.MedianFortieths}
	for _, c := range e.Contrasts.Cases {
		if s := order.SpanOf(c.value()).Minus(dry); !same(s, c.Fortieths) {
			t.Errorf("%+v: contrast %+v", c.limited, s)
		}
	}
}

func TestEverydayAir(t *testing.T) {
	t.Parallel()
	for _, c := range loadEveryday(t).Air {
		dew, err := air.DewPoint(c.Air, c.RH)
		if err != nil {
			t.Fatal(err)
		}
		water, _ := air.Absolute(c.Air, c.RH)
		damp, _ := air.AtSurface(c.Air, c.RH, c.Surface)
		m, err := air.Margin(c.Air, c.RH, c.Surface, c.Off)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "dew point", float64(dew), c.DewPoint, 1e-7)
		near(t, "water in the air", water, c.Absolute, 1e-7)
		near(t, "humidity at the surface", float64(damp), c.AtSurface, 1e-6)
		near(t, "margin", m.Value, c.Margin, 1e-7)
		near(t, "least margin", m.Lower, c.Lower, 1e-7)
		near(t, "greatest margin", m.Upper, c.Upper, 1e-7)
		if got := air.Compare(m, air.LeastMargin); got != c.Standing || !slices.Equal(codes(m.Notes), c.Notes) {
			t.Errorf("%v °C, %v %%: %s, notes %v", c.Air, c.RH, got, codes(m.Notes))
		}
		frost, err := air.FrostPoint(c.Air, c.RH)
		if (err == nil) != (c.FrostPoint != nil) {
			t.Errorf("%v °C, %v %%: frost point %v, %v", c.Air, c.RH, frost, err)
		} else if err == nil {
			near(t, "frost point", float64(frost), *c.FrostPoint, 1e-7)
		}
	}
}

func codes(notes []measure.Note) []string {
	cs := []string{}
	for _, n := range notes {
		cs = append(cs, n.Code)
	}
	return cs
}

func TestEverydayDrying(t *testing.T) {
	t.Parallel()
	d := diffusion.PolyesterLaminate()
	for _, c := range loadEveryday(t).Drying {
		var course []diffusion.Stretch
		for _, s := range c.Course {
			course = append(course, diffusion.Stretch{Days: s.Days, At: s.At})
		}
		days, err := diffusion.EquivalentDays(course, d.ActivationEnergy)
		if err != nil {
			t.Fatal(err)
		}
		e, err := diffusion.DryingDepth(course, c.Wall, d)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "equivalent days", float64(days), c.EquivalentDays, 1e-8)
		near(t, "slow end", e.Lower, c.Low, 1e-7)
		near(t, "typical", e.Value, c.Typical, 1e-7)
		near(t, "fast end", e.Upper, c.High, 1e-7)
		if !slices.Equal(codes(e.Notes), c.Notes) {
			t.Errorf("%v: notes %v, want %v", c.Course, codes(e.Notes), c.Notes)
		}
	}
}

func TestEverydayCoverage(t *testing.T) {
	t.Parallel()
	e := loadEveryday(t)
	for _, c := range e.Grids { // the reckoning beside it integrates numerically, to five digits
		g := coverage.Grid{Along: c.Along, Down: c.Down, Pad: c.Pad}
		p, err := g.Chance(c.Flaw)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := g.Smallest(0.9)
		certain, _ := g.Certain()
		near(t, "chance", p, c.Chance, 1e-5)
		near(t, "nine in ten", float64(d), c.NineInTen, 0.02)
		near(t, "certain", float64(certain), c.Certain, 1e-6)
	}
	for _, c := range e.ZeroCounts {
		b, err := coverage.None(c.Area, c.Level)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "bound behind zero", b.Upper, c.Upper, 1e-6)
	}
	for _, c := range e.Counts {
		got, err := coverage.Compare(c.First, c.Area1, c.Second, c.Area2, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "counts side by side", got.P, c.P, 1e-8)
	}
}

func TestEverydaySalt(t *testing.T) {
	t.Parallel()
	for _, c := range loadEveryday(t).Salt {
		e, err := salt.MassPerArea(c.Patch)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "salt", e.Value, c.Value, 1e-9)
		near(t, "least", e.Lower, c.Lower, 1e-9)
		near(t, "most", e.Upper, c.Upper, 1e-9)
	}
}
