package simulate_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/simulate"
)

func TestBeyondTheScaleIsFlaggedAndNeverANumber(t *testing.T) {
	t.Parallel()
	h, m := sloop(t), simulate.DeepSensing("deep")
	h.Causes = []simulate.Cause{simulate.ConductiveCoating(simulate.Everywhere(), 200)}
	for _, r := range read(t, h, pass("2021-11-01", m))[0].Read {
		for _, p := range r.Placements {
			if p.Limit != measure.Above || p.Tenths != 1000 {
				t.Fatalf("wrote %+v on a scale that ends at 100", p)
			}
		}
	}
	h.Causes = []simulate.Cause{simulate.ConductiveCoating(simulate.Everywhere(), -200)}
	if v, ok := read(t, h, pass("2021-11-01", m))[0].Read[0].Median(); !ok || v.Limit != measure.Below {
		t.Errorf("got %+v far below the scale", v)
	}
}

func TestBlocksShowADriftingInstrument(t *testing.T) {
	t.Parallel()
	p := pass("2021-11-01", simulate.DeepSensing("deep"))
	p.Drift = 8
	blocks := read(t, sloop(t), p)[0].Blocks
	if len(blocks) != 3 {
		t.Fatalf("%d block checks, want before, midway and after", len(blocks))
	}
	if rise := blocks[2].High.Tenths - blocks[0].High.Tenths; rise < 50 || rise > 110 {
		t.Errorf("the high block rose by %.1f units over a drift of 8", float64(rise)/10)
	}
	p.Hand = simulate.Careless()
	if s := read(t, sloop(t), p)[0]; len(s.Blocks) != 0 || s.Context != nil {
		t.Errorf("a hand that leaves them out brought %d block checks and the context %+v", len(s.Blocks), s.Context)
	}
}

func TestACarelessHandScattersMore(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	spread := func(hand simulate.Hand) (sum float64) {
		p := pass("2021-11-01", simulate.ShallowSensing("shallow"))
		p.Hand = hand
		for _, r := range read(t, h, p)[0].Read {
			v, _ := r.Median()
			sum += math.Abs(v.At.Units() - r.Truth)
		}
		return sum
	}
	if a, b := spread(simulate.Careful()), spread(simulate.Careless()); b < 1.5*a {
		t.Errorf("careful errors add up to %.1f, careless to %.1f", a, b)
	}
}

func TestWithoutNoiseWhatIsReadIsTheTruth(t *testing.T) {
	t.Parallel()
	m := simulate.ShallowSensing("shallow")
	m.Placement = 0
	p := pass("2021-11-01", m)
	p.Hand = simulate.Hand{}
	for _, r := range read(t, sloop(t), p)[0].Read {
		if v, _ := r.Median(); math.Abs(v.At.Units()-r.Truth) > 0.0501 {
			t.Fatalf("place %d: read %v of %v", r.Place, v.At.Units(), r.Truth)
		}
	}
}

// sd is the standard deviation of what was read less the truth, over the grid.
func sd(s simulate.Sheet) float64 {
	var sum, square, n float64
	for _, r := range s.Read {
		if v, ok := r.Median(); ok && r.Occasion == 1 {
			x := v.At.Units() - r.Truth
			sum, square, n = sum+x, square+x*x, n+1
		}
	}
	return math.Sqrt((square - sum*sum/n) / (n - 1))
}

// What the arithmetic does not assume can be had: a place's own error on a visit, and
// an instrument whose factor is off.
func TestOutsideTheAssumptions(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	p := pass("2021-11-01", simulate.ShallowSensing("shallow"))
	p.Hand, p.Placements = simulate.Hand{}, 1
	plain := sd(read(t, h, p)[0])
	if want := p.Instrument.Placement; plain < 0.7*want || plain > 1.3*want {
		t.Errorf("scatter %.2f, instrument's %.2f", plain, want)
	}
	p.PlaceByVisit = 3
	if got, want := sd(read(t, h, p)[0]), math.Hypot(3, p.Instrument.Placement); got < 0.7*want || got > 1.3*want {
		t.Errorf("place × visit scatter of 3 came out as %.2f", got)
	}
	p.PlaceByVisit, p.Gain, p.Instrument.Placement = 0, 1.2, 0
	for _, r := range read(t, h, p)[0].Read {
		if v, _ := r.Median(); v.Limit == measure.Exact && math.Abs(v.At.Units()-1.2*r.Truth) > 0.0501 {
			t.Fatalf("factor 1.2 made %v of %v", v.At.Units(), r.Truth)
		}
	}
}

func TestAPassIsTakenInOrder(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	p := pass("2021-11-01", simulate.DeepSensing("deep"))
	p.NotReached, p.Repeats = 0.2, 0.1
	s := read(t, h, p)[0]
	var dry, missed, again int
	grid := false
	for _, r := range s.Read {
		switch {
		case r.Occasion == 2:
			again++
		case h.Places[r.Place].Dry:
			dry++
			if grid {
				t.Fatal("a baseline place was read after the grid had begun")
			}
		default:
			grid = true
		}
		if r.NotReached {
			missed++
			if len(r.Placements) > 0 {
				t.Fatal("a place not reached has readings")
			}
		} else if len(r.Placements) != 3 {
			t.Fatalf("%d placements, want 3", len(r.Placements))
		}
	}
	if dry < 6 || missed == 0 || again < 3 {
		t.Errorf("%d baseline places, %d not reached, %d repeats", dry, missed, again)
	}
	if a := s.Context.Ashore; a < 30 || a > 32 {
		t.Errorf("%v days ashore between 1 October and 1 November", a)
	}
}

func TestMedianGoesByOrderAndKeepsLimits(t *testing.T) {
	t.Parallel()
	exact := func(x int32) simulate.Placement { return simulate.Placement{Tenths: x} }
	over := simulate.Placement{Tenths: 1000, Limit: measure.Above}
	for name, c := range map[string]struct {
		placements []simulate.Placement
		want       measure.Value
	}{
		"three numbers":             {[]simulate.Placement{exact(300), exact(100), exact(200)}, measure.Value{At: 400}},
		"two numbers meet half-way": {[]simulate.Placement{exact(101), exact(100)}, measure.Value{At: 201}},
		"one beyond the scale":      {[]simulate.Placement{over, exact(100), exact(200)}, measure.Value{At: 400}},
		"two beyond the scale":      {[]simulate.Placement{over, exact(1000), over}, measure.Value{At: 2000, Limit: measure.Above}},
		"half-way to the end":       {[]simulate.Placement{exact(900), over}, measure.Value{At: 1900, Limit: measure.Range, Low: 1800, High: 2000}},
	} {
		got, ok := simulate.Reading{Placements: c.placements}.Median()
		if !ok || got != c.want {
			t.Errorf("%s: got %+v, want %+v", name, got, c.want)
		}
	}
}
